//! Words for the delivery receipt and about them: made here, and by `receipt.js` out of reach in the same words.

use claim::{HarmKind, ReceiptNote, Seal, SealState, SeenAtTruck, UnitKind, WordTrouble};
use maud::{Markup, html};
use serde_json::json;

use super::harm_rows::{self, Row};
use super::state::Tone;

/// How a seal was, as the forms call it.
pub(crate) const SEALS: [(SealState, &str); 3] = [
    (SealState::Whole, "whole"),
    (SealState::Broken, "broken"),
    (SealState::Missing, "missing"),
];

/// What was seen at the truck, as far as it goes onto the receipt.
pub(crate) struct AtTruck {
    pub rows: Vec<Row>,
    pub counted: Option<u32>,
    pub billed: Option<u32>,
    pub seal: Option<Seal>,
}

impl AtTruck {
    /// The words for the receipt. What is short or over of all units is said where no row says of which kind.
    pub fn words(&self) -> ReceiptNote {
        let mut seen = harm_rows::seen(&self.rows);
        let told = seen
            .iter()
            .any(|row| matches!((row.billed, row.received), (Some(b), Some(r)) if b != r));
        let differs =
            self.billed.is_some() && self.counted.is_some() && self.billed != self.counted;
        if (differs && !told) || seen.is_empty() && self.counted.is_some() {
            let all = SeenAtTruck {
                unit: UnitKind::Other("unit".into()),
                billed: self.billed,
                received: self.counted,
                ..SeenAtTruck::default()
            };
            seen.insert(0, all);
        }
        claim::receipt_note(&seen, self.seal.as_ref())
    }
}

/// A seal of a number and a state, where a state was said.
pub(crate) fn seal(number: &str, state: &str) -> Option<Seal> {
    let (state, _) = SEALS.into_iter().find(|(_, name)| *name == state)?;
    Some(Seal {
        number: number.trim().into(),
        state,
    })
}

/// A seal as the log holds it: "4417 whole".
pub(crate) fn seal_kept(number: &str, state: &str) -> String {
    format!("{} {state}", number.trim()).trim().into()
}

/// Number and state of a seal out of the log.
pub(crate) fn seal_read(kept: &str) -> (&str, &str) {
    let states = SEALS.iter().map(|(_, name)| *name);
    let state = states
        .into_iter()
        .find(|state| kept.ends_with(state))
        .unwrap_or("");
    (kept.strip_suffix(state).unwrap_or(kept).trim(), state)
}

/// Units counted against the bill, in big numerals.
pub(crate) fn against(counted: Option<u32>, billed: Option<u32>) -> Markup {
    let (tone, number, says) = match (counted, billed) {
        (None, None) => (Tone::Open, String::new(), "Not counted yet".into()),
        (None, Some(billed)) => (Tone::Open, String::new(), format!("The bill says {billed}")),
        (Some(n), None) => (
            Tone::Open,
            n.to_string(),
            "off the truck; what does the bill say?".into(),
        ),
        (Some(n), Some(billed)) if n < billed => (
            Tone::Short,
            format!("{n} of {billed}"),
            format!("{} short", billed - n),
        ),
        (Some(n), Some(billed)) if n > billed => (
            Tone::Over,
            format!("{n} of {billed}"),
            format!("{} over", n - billed),
        ),
        (Some(n), Some(billed)) => (
            Tone::Good,
            format!("{n} of {billed}"),
            "as the bill says".into(),
        ),
    };
    html! {
        @if !number.is_empty() { span.n { (number) } }
        (tone.says(&says))
    }
}

/// What is empty in somebody's words for the receipt, and what is missing from them.
pub(crate) fn troubles(note: &str) -> Markup {
    let troubles = match note.trim() {
        "" => Vec::new(),
        note => claim::check_words(note),
    };
    html! {
        @if !troubles.is_empty() {
            ul.troubles { @for trouble in &troubles { li { (trouble.words()) } } }
        }
    }
}

/// The words that `receipt.js` goes by, as JSON.
pub(crate) fn data() -> String {
    let lists = claim::word_lists();
    let units: Vec<[String; 2]> = UnitKind::ALL
        .iter()
        .map(|unit| [unit.words(1), unit.words(2)])
        .collect();
    let harms: Vec<&str> = HarmKind::ALL.iter().map(HarmKind::words).collect();
    let empty = WordTrouble::Empty {
        phrase: "{}".into(),
    };
    json!({
        "units": units,
        "harms": harms,
        "subjectTo": lists.subject_to,
        "empty": lists.empty,
        "numbers": lists.numbers,
        "moreUnits": lists.units,
        "moreHarms": lists.harms,
        "amiss": lists.amiss,
        "places": lists.places,
        "says": {
            "empty": empty.words(),
            "noCount": WordTrouble::NoCount.words(),
            "noUnit": WordTrouble::NoUnit.words(),
            "noHarm": WordTrouble::NoHarm.words(),
            "noPlace": WordTrouble::NoPlace.words(),
        },
    })
    .to_string()
}
