//! What the letters share: who writes to whom, the shipment they are about, what is missing from them, and where what
//! they rest on is written.

use claim::{Known, KnownLine, Wrong};
use serde::Serialize;

use crate::osd::check_count;
use crate::print::PaperError;

/// The head and foot of a letter. Texts stand as they are to be read; an empty text of a thing to be filled in by hand
/// becomes a blank line.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Letter {
    /// The job's name; on every page.
    pub job: String,
    /// The order in a line: number, family, dimensions, options.
    pub order: String,
    /// The number of the order, by which the sender finds it; empty if unknown.
    pub order_number: String,
    /// Where the goods were delivered.
    pub site: String,
    /// Who writes.
    pub from: Party,
    /// To whom.
    pub to: Party,
    /// The day of the letter, as it should be read.
    pub date: String,
    /// The writer's own number for it; empty if there is none.
    pub reference: String,
    /// What must be added before this may be called complete, beside what the rules for such a paper find missing from
    /// it (`claim::missing`), which is added when it is made.
    pub missing: Vec<Missing>,
    /// By when this is to be done, as the rules and the terms have it.
    pub due: Vec<Due>,
    /// The names of the rule sets that hold, by which is said what is missing; none: nobody has said.
    pub rules: Vec<String>,
    /// What this rests on.
    pub sources: Vec<Source>,
    /// Further remarks.
    pub remarks: Vec<String>,
    /// The time zone that every time is in; left out where it is empty.
    pub zone: String,
    /// The head of the job's log when this was made. Left out where it is empty.
    pub log_head: String,
}

/// Somebody who writes or is written to.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Party {
    /// The name.
    pub name: String,
    /// The address, line by line.
    pub address: String,
    /// Telephone, mail, the person to ask for; may be empty.
    pub contact: String,
}

/// Something that is missing from a paper.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Missing {
    /// What: `the number of the bill of lading`.
    pub what: String,
    /// Why it is asked for, or where it is to be found; may be empty.
    pub why: String,
    /// Without it the paper is not complete; otherwise it is only better with it.
    pub must: bool,
    /// Where it is asked for; may be empty.
    pub source: String,
}

/// A day by which something is to be done.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Due {
    /// What is to be done.
    pub what: String,
    /// By when, in words; a time that no source gives as a date says so: `in a reasonable time`.
    pub by: String,
    /// Whose rule it is: law, the carrier's terms, custom, the user's own contract.
    pub rule: String,
}

/// Where something is written, and how surely that is known.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Source {
    /// What it says, in our words.
    pub says: String,
    /// Where: `49 CFR 370.3(b)`.
    pub cite: String,
    /// How it is known: `seen in a reprint`, `from memory; check it`.
    pub known: String,
}

/// What is known of a shipment's carriage and hand-over.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Carriage {
    /// What the site calls the shipment: `first ferry load`.
    pub shipment: String,
    /// The carrier that delivered.
    pub carrier: String,
    /// The number of the bill of lading.
    pub bill: String,
    /// The carrier's own number for the freight.
    pub carrier_number: String,
    /// The day of the bill of lading.
    pub billed_on: String,
    /// When it was handed over at the site.
    pub delivered: String,
    /// Handling units on the freight bill.
    pub units_billed: Option<i64>,
    /// What they are: `2 crates, 1 bundle`.
    pub units_are: String,
    /// Handling units that were counted off the truck.
    pub units_counted: Option<i64>,
    /// What was done: `taken, with a note on the receipt`.
    pub handed_over: String,
    /// The words on the delivery receipt; empty: signed with nothing written; nothing: not known.
    pub receipt_note: Option<String>,
    /// Whether the driver signed them; nothing: not known.
    pub driver_signed: Option<bool>,
    /// Seals by number and state.
    pub seals: String,
}

impl Missing {
    /// Something without which a paper is not complete, and why it is asked for.
    pub fn of(what: impl Into<String>, why: impl Into<String>) -> Self {
        Self {
            what: what.into(),
            why: why.into(),
            must: true,
            source: String::new(),
        }
    }
}

impl From<claim::Missing> for Missing {
    fn from(missing: claim::Missing) -> Self {
        let source = match missing.sure {
            // A paper that is about how sure things are does not say "from memory" of what nobody wrote down.
            claim::Sure::Memory if missing.source.contains("no source") => missing.source.into(),
            sure => format!("{}; {}", missing.source, sure.words()),
        };
        Self {
            what: missing.words,
            why: String::new(),
            must: missing.must,
            source,
        }
    }
}

impl Letter {
    /// Adds what is missing; says nothing twice, and what must be there first.
    pub(crate) fn also_missing(&mut self, found: impl IntoIterator<Item = Missing>) {
        add_missing(&mut self.missing, found);
    }

    /// What the head says, as the rules for a paper ask.
    pub(crate) fn known(&self) -> Known {
        Known {
            from: self.from.name.clone(),
            contact: self.from.reach(),
            day: !self.date.trim().is_empty(),
            order: self.order_number.clone(),
            ..Known::default()
        }
    }
}

/// The count of so many marks, where it is missing. A paper is whole without it, and says less.
pub(crate) fn count_missing(marks: usize) -> Option<Missing> {
    let what = match marks {
        0 => return None,
        1 => "the count of 1 mark".to_owned(),
        n => format!("the count of {n} marks"),
    };
    Some(Missing {
        must: false,
        ..Missing::of(what, "what is not counted is not spoken of here")
    })
}

/// Adds what is missing; says nothing twice, and what must be there first.
/// What the rules that hold find missing from a paper.
pub(crate) fn missing_by(
    rules: &[String],
    paper: claim::Paper,
    known: &claim::Known,
) -> Vec<claim::Missing> {
    let rules: Vec<&str> = rules.iter().map(String::as_str).collect();
    match rules.is_empty() {
        true => claim::missing(paper, known),
        false => claim::missing_under(paper, known, &rules),
    }
}

pub(crate) fn add_missing(all: &mut Vec<Missing>, found: impl IntoIterator<Item = Missing>) {
    for missing in found {
        if all.iter().all(|known| known.what != missing.what) {
            all.push(missing);
        }
    }
    all.sort_by_key(|missing| !missing.must);
}

impl Party {
    /// How to reach them; empty if nothing says it.
    pub(crate) fn reach(&self) -> String {
        let said = [&self.contact, &self.address];
        let said = said.into_iter().find(|text| !text.trim().is_empty());
        said.cloned().unwrap_or_default()
    }
}

impl Carriage {
    /// Adds what is known of the carriage.
    pub(crate) fn known_with(&self, known: Known) -> Known {
        let units = |units: Option<i64>| units.and_then(|n| u32::try_from(n).ok());
        Known {
            carrier: self.carrier.clone(),
            bill_of_lading: self.bill.clone(),
            freight_bill: self.carrier_number.clone(),
            delivered: !self.delivered.trim().is_empty(),
            units_billed: units(self.units_billed),
            units_received: units(self.units_counted),
            receipt_note: self.receipt_note.clone(),
            seals: self.seals.clone(),
            ..known
        }
    }

    /// Refuses units that cannot be.
    pub(crate) fn check(&self, index: usize) -> Result<(), PaperError> {
        for (field, units) in [
            ("units_billed", self.units_billed),
            ("units_counted", self.units_counted),
        ] {
            check_count("carriage", index, &self.shipment, field, units)?;
        }
        Ok(())
    }
}

/// One thing that is wrong, with no more said of it than which and how many.
pub(crate) fn known_line(mark: &str, wrong: Wrong, quantity: i64) -> KnownLine {
    KnownLine {
        mark: mark.to_owned(),
        wrong,
        quantity: u64::try_from(quantity).unwrap_or(0),
        senders_words: String::new(),
        harm: String::new(),
        photos: 0,
        reading: String::new(),
        priced: false,
    }
}
