//! What a sender's system says of a line beyond its words: pallets and cartons, item numbers, lots.

use std::collections::BTreeSet;

use list::despatch::{Despatch, HandlingUnit, SentLine, Whose};
use maud::{Markup, html};

/// The most numbers of one kind that are shown beside a row.
const SHOWN: usize = 6;

/// The numbers of a line, for whoever stands before the pallet.
pub(crate) fn line(read: &list::PackingList, sent: &SentLine) -> Markup {
    let item = &sent.item;
    let of = |whose: Whose| -> Vec<&str> {
        let ids = item.ids.iter().filter(|id| id.whose == whose);
        ids.map(|id| id.value.as_str()).collect()
    };
    let lots = item.lots.iter().map(|lot| match lot.expires.is_empty() {
        true => lot.number.clone(),
        false => format!("{}, expires {}", lot.number, lot.expires),
    });
    let lots: Vec<String> = lots.collect();
    let lots: Vec<&str> = lots.iter().map(String::as_str).collect();
    let serials: Vec<&str> = item.serials.iter().map(String::as_str).collect();
    let units = (read.despatch.as_deref()).map_or_else(Vec::new, |whole| units(whole, sent));
    let units: Vec<&str> = units.iter().map(String::as_str).collect();
    html! {
        span.said {
            (some("on", &units))
            (some("GTIN", &of(Whose::Standard)))
            (some("your number", &of(Whose::Buyer)))
            (some("maker's number", &of(Whose::Manufacturer)))
            (some("lot", &lots))
            (some("serial", &serials))
            @for note in sent.reasons.iter().chain(&sent.notes).take(SHOWN) { (note) ". " }
        }
    }
}

fn some(what: &str, values: &[&str]) -> Markup {
    let more = values.len().saturating_sub(SHOWN);
    html! {
        @if !values.is_empty() {
            (what) " " (values[..values.len() - more].join(", ")) @if more > 0 { " and " (more) " more" } ". "
        }
    }
}

/// The pallets and cartons that a line is in, each with what it stands on.
fn units(whole: &Despatch, sent: &SentLine) -> Vec<String> {
    let Some(notice) = whole.notices.get(sent.notice) else {
        return Vec::new();
    };
    let name = |unit: &HandlingUnit| match (&unit.sscc, unit.type_name.as_str()) {
        (Some(sscc), "") => format!("SSCC {sscc}"),
        (Some(sscc), kind) => format!("{kind} SSCC {sscc}"),
        (None, "") => unit.id.clone(),
        (None, kind) => format!("{kind} {}", unit.id),
    };
    let mut all = Vec::new();
    for first in &sent.units {
        let (mut at, mut known, mut names) = (Some(*first), BTreeSet::new(), Vec::new());
        while let Some(unit) = at
            .filter(|at| known.insert(*at))
            .and_then(|at| notice.units.get(at))
        {
            names.push(name(unit));
            at = unit.parent;
        }
        all.push(names.join(" in "));
    }
    all.retain(|name| !name.trim().is_empty());
    all
}
