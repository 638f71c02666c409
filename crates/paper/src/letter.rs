//! What the letters share: who writes to whom, the shipment they are about, what is missing from them, and where what
//! they rest on is written.

use serde::Serialize;

/// The head and foot of a letter. Texts stand as they are to be read; an empty text of a thing to be filled in by hand
/// becomes a blank line.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Letter {
    /// The job's name; on every page.
    pub job: String,
    /// The order in a line: number, family, dimensions, options.
    pub order: String,
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
    /// What must be known or added before this may be called complete. What the paper can see for itself (a blank in
    /// its own head, a line without a price) is added when it is made.
    pub missing: Vec<Missing>,
    /// By when this is to be done, as the rules and the terms have it.
    pub due: Vec<Due>,
    /// What this rests on.
    pub sources: Vec<Source>,
    /// Further remarks.
    pub remarks: Vec<String>,
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
    /// Handling units on the freight bill, and what they are: `3: 2 crates, 1 bundle`.
    pub units_billed: String,
    /// Handling units that were counted off the truck.
    pub units_counted: String,
    /// What was done: `taken, with a note on the receipt`.
    pub handed_over: String,
    /// The words on the delivery receipt.
    pub receipt_note: String,
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

impl Letter {
    /// Adds what the paper itself can be seen to lack; says nothing twice.
    pub(crate) fn also_missing(&mut self, found: impl IntoIterator<Item = Missing>) {
        for missing in found {
            if self.missing.iter().all(|known| known.what != missing.what) {
                self.missing.push(missing);
            }
        }
    }

    /// Which blanks there are in the head.
    pub(crate) fn blanks(&self, to: &'static str) -> Vec<Missing> {
        blanks([
            (
                &self.from.name,
                "who writes",
                "a letter that nobody sent binds nobody",
            ),
            (&self.from.address, "the writer's address", "for the answer"),
            (
                &self.to.name,
                to,
                "telling one is not telling the other: this letter is for one reader",
            ),
            (
                &self.date,
                "the day of the letter",
                "periods are counted by days",
            ),
        ])
    }
}

impl Carriage {
    /// Which blanks there are in what names the shipment to the carrier.
    pub(crate) fn blanks(&self) -> Vec<Missing> {
        let mut missing = blanks([
            (&self.carrier, "the carrier", "stands on the freight bill"),
            (
                &self.delivered,
                "the day of delivery",
                "periods start there",
            ),
        ]);
        if self.bill.trim().is_empty() && self.carrier_number.trim().is_empty() {
            missing.push(Missing::of(
                "the number of the bill of lading, or the carrier's own number",
                "by it the carrier finds the shipment",
            ));
        }
        missing
    }
}

/// Those texts that are empty, with what they are and why they matter.
pub(crate) fn blanks<const N: usize>(texts: [(&String, &str, &str); N]) -> Vec<Missing> {
    (texts.into_iter())
        .filter(|(text, ..)| text.trim().is_empty())
        .map(|(_, what, why)| Missing::of(what, why))
        .collect()
}
