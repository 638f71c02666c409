//! What is known for a paper, and what is missing from it, in words.

use crate::contents::{Asked, Content, Paper};
use crate::of_log::WHILE_NOT_SAID;
use crate::rule::Sure;

/// What is known for a paper.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Known {
    /// Who sends the paper.
    pub from: String,
    /// How to reach them.
    pub contact: String,
    /// The carrier's name.
    pub carrier: String,
    /// The sender's name.
    pub sender: String,
    /// The day the paper was written is known.
    pub day: bool,
    /// The bill of lading's number.
    pub bill_of_lading: String,
    /// The carrier's number.
    pub freight_bill: String,
    /// The order's number.
    pub order: String,
    /// The day of delivery is known.
    pub delivered: bool,
    /// The day the harm was found is known.
    pub found: bool,
    /// Units billed.
    pub units_billed: Option<u32>,
    /// Units received.
    pub units_received: Option<u32>,
    /// The numbers of the seals and how they were, or that there were none.
    pub seals: String,
    /// The words on the receipt; `None` while nobody said, empty if it was signed clear.
    pub receipt_note: Option<String>,
    /// What is wrong.
    pub lines: Vec<KnownLine>,
    /// The paper says that the carrier is liable.
    pub holds_liable: bool,
    /// A sum is stated as a whole, so that no line needs a price.
    pub sum_stated: bool,
    /// Documents that go with it.
    pub with_bill_of_lading: bool,
    /// The paid freight bill goes with it.
    pub with_freight_bill: bool,
    /// The invoice, or another proof of value, goes with it.
    pub with_proof_of_value: bool,
    /// The signed receipt goes with it.
    pub with_receipt: bool,
    /// An inspection report, a waiver or own findings go with it.
    pub with_inspection: bool,
    /// The paper asks the carrier to inspect.
    pub asks_to_inspect: bool,
    /// Whether goods and packing were kept as found.
    pub kept: Option<bool>,
    /// What the sender is asked for.
    pub wish: String,
    /// Where to send it.
    pub send_to: String,
    /// By when it is needed.
    pub needed_by: bool,
    /// The number of the sender's consent to a return.
    pub return_consent: String,
    /// Where goods lie.
    pub lies_at: String,
}

/// One thing that is wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KnownLine {
    /// The part's mark, or its words where it has none.
    pub mark: String,
    /// What is wrong.
    pub wrong: Wrong,
    /// How many.
    pub quantity: u64,
    /// The sender's own words for the part; empty if not known.
    pub senders_words: String,
    /// The kind of harm; empty if not said.
    pub harm: String,
    /// How many photos show it.
    pub photos: u32,
    /// What was read of it; empty if nothing was.
    pub reading: String,
    /// Its price is known.
    pub priced: bool,
}

/// What is wrong with a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Wrong {
    /// Fewer came than were to.
    Short,
    /// More came.
    Over,
    /// Harmed.
    Damaged,
    /// Another part came in its place.
    OtherPart,
}

/// What is missing from a paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Missing {
    /// What it is about.
    pub what: Content,
    /// In words: "the bill of lading's number".
    pub words: String,
    /// Without it the paper is not complete.
    pub must: bool,
    /// Where that is written.
    pub source: &'static str,
    /// How surely that is known.
    pub sure: Sure,
}

/// The most marks that are named in one sentence.
const MOST_NAMED: usize = 6;

/// Returns what is missing from a paper while nobody has said which rules hold.
pub fn missing(paper: Paper, known: &Known) -> Vec<Missing> {
    missing_under(paper, known, &WHILE_NOT_SAID)
}

/// Returns what is missing from a paper where these rule sets hold: what must be there first. Nothing that must be there
/// is missing from a complete paper.
pub fn missing_under(paper: Paper, known: &Known, sets: &[&str]) -> Vec<Missing> {
    let mut all: Vec<Missing> = paper
        .asks(sets)
        .iter()
        .filter_map(|asked| words(paper, asked.what, known).map(|words| said(asked, words)))
        .collect();
    all.sort_by_key(|m| !m.must);
    all
}

fn said(asked: &Asked, words: String) -> Missing {
    Missing {
        what: asked.what,
        words,
        must: asked.must,
        source: asked.source,
        sure: asked.sure,
    }
}

fn words(paper: Paper, what: Content, known: &Known) -> Option<String> {
    let text = |text: &str, words: &str| text.trim().is_empty().then(|| words.to_owned());
    let flag = |there: bool, words: &str| (!there).then(|| words.to_owned());
    match what {
        Content::From => from(known),
        Content::Addressee if matches!(paper, Paper::HiddenHarm | Paper::Claim) => {
            text(&known.carrier, "the carrier's name")
        }
        Content::Addressee => text(&known.sender, "the sender's name"),
        Content::Day => flag(known.day, "the day on which it was written"),
        Content::Shipment => flag(
            !known.bill_of_lading.trim().is_empty() || !known.freight_bill.trim().is_empty(),
            "what identifies the shipment: the bill of lading's number, or the carrier's own",
        ),
        Content::BillOfLading => text(&known.bill_of_lading, "the bill of lading's number"),
        Content::FreightBill => text(
            &known.freight_bill,
            "the carrier's own number, on its freight bill",
        ),
        Content::Order => text(&known.order, "the order's number"),
        Content::Delivered => flag(known.delivered, "the day of delivery"),
        Content::Found => flag(known.found, "the day on which the harm was found"),
        Content::Units => units(known),
        Content::Seals => text(
            &known.seals,
            "the numbers of the seals and how they were, or that there were none",
        ),
        Content::ReceiptNote => flag(
            known.receipt_note.is_some(),
            "the words on the delivery receipt, or that it was signed with nothing written",
        ),
        Content::Lines => no_lines(known),
        Content::SendersWords => {
            let lines = lines(known, |l| {
                l.wrong != Wrong::Over && l.senders_words.trim().is_empty()
            });
            lines.map(|marks| format!("the sender's own words for {marks}"))
        }
        Content::Harm => {
            let lines = lines(known, |l| {
                l.wrong == Wrong::Damaged && l.harm.trim().is_empty()
            });
            lines.map(|marks| format!("what happened to {marks}: bent, broken, crushed"))
        }
        Content::Photos => {
            let shown = |l: &KnownLine| matches!(l.wrong, Wrong::Damaged | Wrong::OtherPart);
            let lines = lines(known, |l| shown(l) && l.photos == 0);
            lines.map(|marks| format!("a photo of {marks}"))
        }
        Content::Readings => {
            let lines = lines(known, |l| {
                l.wrong == Wrong::OtherPart && l.reading.trim().is_empty()
            });
            lines.map(|marks| format!("what was measured of {marks}"))
        }
        Content::Liability => flag(
            known.holds_liable,
            "the statement that the carrier is liable",
        ),
        Content::Sum => sum(known),
        Content::CopyOfBill => flag(known.with_bill_of_lading, "a copy of the bill of lading"),
        Content::CopyOfFreightBill => {
            flag(known.with_freight_bill, "a copy of the paid freight bill")
        }
        Content::ProofOfValue => flag(
            known.with_proof_of_value,
            "the invoice, or another proof of value",
        ),
        Content::CopyOfReceipt => flag(known.with_receipt, "a copy of the signed delivery receipt"),
        Content::InspectionReport => flag(
            known.with_inspection,
            "the carrier's inspection report, its written waiver, or your own findings",
        ),
        Content::AskToInspect => flag(
            known.asks_to_inspect,
            "the request that the carrier inspect",
        ),
        Content::Kept => flag(
            known.kept.is_some(),
            "whether goods and packing were kept as they were found",
        ),
        Content::Wish => text(
            &known.wish,
            "what the sender is asked to do: send, credit or collect",
        ),
        Content::SendTo => send_to(known),
        Content::ReturnConsent => text(
            &known.return_consent,
            "the sender's consent to the return, with its number",
        ),
        Content::WhereItLies => text(&known.lies_at, "where the goods lie, to be collected"),
    }
}

fn from(known: &Known) -> Option<String> {
    match (
        known.from.trim().is_empty(),
        known.contact.trim().is_empty(),
    ) {
        (true, _) => Some("who sends it, and how to reach them".into()),
        (false, true) => Some("how to reach whoever sends it".into()),
        (false, false) => None,
    }
}

fn units(known: &Known) -> Option<String> {
    match (known.units_billed, known.units_received) {
        (Some(_), Some(_)) => None,
        (None, Some(_)) => Some("how many pallets, crates and bundles the bill says".into()),
        (Some(_), None) => Some("how many pallets, crates and bundles came off the truck".into()),
        (None, None) => {
            Some("how many pallets, crates and bundles the bill says, and how many came".into())
        }
    }
}

fn no_lines(known: &Known) -> Option<String> {
    if known.lines.is_empty() {
        return Some("what is wrong: which part, how many".into());
    }
    lines(known, |l| l.quantity == 0).map(|marks| format!("how many of {marks}"))
}

/// A sum can be determined where each line has a price. What is over costs the carrier nothing.
fn sum(known: &Known) -> Option<String> {
    if known.sum_stated {
        return None;
    }
    if !known.lines.iter().any(|l| l.wrong != Wrong::Over) {
        return Some("a stated or determinable sum".into());
    }
    lines(known, |l| l.wrong != Wrong::Over && !l.priced)
        .map(|marks| format!("a stated or determinable sum: price of {marks} not said"))
}

fn send_to(known: &Known) -> Option<String> {
    match (known.send_to.trim().is_empty(), known.needed_by) {
        (true, false) => Some("where to send it, and by when it is needed".into()),
        (true, true) => Some("where to send it".into()),
        (false, false) => Some("by when it is needed".into()),
        (false, true) => None,
    }
}

/// The marks of the lines that a thing is missing from, each once: "C2, R1 and B3".
fn lines(known: &Known, lacks: impl Fn(&KnownLine) -> bool) -> Option<String> {
    let mut marks: Vec<&str> = Vec::new();
    for line in known.lines.iter().filter(|l| lacks(l)) {
        if !marks.contains(&line.mark.as_str()) {
            marks.push(&line.mark);
        }
    }
    let more = marks.len().saturating_sub(MOST_NAMED);
    marks.truncate(MOST_NAMED);
    match (more, marks.split_last()) {
        (_, None) => None,
        (0, Some((last, []))) => Some((*last).into()),
        (0, Some((last, first))) => Some(format!("{} and {last}", first.join(", "))),
        (more, _) => Some(format!("{} and {more} more", marks.join(", "))),
    }
}
