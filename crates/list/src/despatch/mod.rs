//! What a sender's system sends as data: UBL Despatch Advice and X12 856 ship notice, whole.
//!
//! `read` tells by content whether a file is one of these (`sniff`), and reads it: `ubl.rs` and those beside it
//! from the tree of `xml.rs`, `x12.rs` and those beside it from the segments of `x12_segments.rs`. Both make the same
//! [`Despatch`]; `to_list.rs` makes rows of it. Nothing of it is followed, opened or sent anywhere.

mod decimal;
pub mod identifiers;
mod odd;
mod sniff;
mod to_list;
mod ubl;
mod ubl_line;
mod ubl_shipment;
mod ubl_units;
pub mod units;
mod units_x12;
mod x12;
mod x12_item;
mod x12_loops;
mod x12_parts;
mod x12_segments;
mod x12_tree;
mod x12_words;
mod xml;

pub use decimal::{Amount, Decimal};

use std::collections::BTreeMap;
use std::fmt;

use crate::error::Refusal;
use crate::grid::{Place, Warning};

/// The file whole: one notice or several, and all their lines.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Despatch {
    /// Which kind of data it is.
    pub format: Format,
    /// The notices, in the file's order; nearly always one.
    pub notices: Vec<Notice>,
    /// The lines of all notices, in the file's order.
    pub lines: Vec<SentLine>,
    /// What is odd about it and was read all the same.
    pub warnings: Vec<Warning>,
}

/// Kinds of data.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Format {
    /// OASIS UBL 2.x DespatchAdvice.
    #[default]
    Ubl,
    /// ASC X12 856 ship notice/manifest.
    X12,
}

impl Format {
    /// Returns its name for people.
    pub fn name(self) -> &'static str {
        match self {
            Format::Ubl => "UBL despatch advice",
            Format::X12 => "X12 856 ship notice",
        }
    }
}

/// One despatch advice or ship notice, without its lines. Texts are as the file writes them and empty where it says
/// nothing; dates are `2026-03-04`, times `14:45` or `14:45:30` as far as they could be read, else as written.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Notice {
    /// Its own number: UBL's ID, BSN02.
    pub id: String,
    /// Number of its transaction set, ST02; empty in UBL.
    pub set: String,
    /// Its universally unique id.
    pub uuid: String,
    /// The version of the standard that it says it follows, such as `2.1` or `004010`.
    pub version: String,
    /// The profile and the customization that it names, and the structure code of an 856.
    pub profiles: Vec<String>,
    /// When it was issued.
    pub issue_date: String,
    /// At what time.
    pub issue_time: String,
    /// What type of notice, as a code.
    pub type_code: String,
    /// Its purpose (856: 00 original) or status.
    pub purpose_code: String,
    /// What is written to people.
    pub notes: Vec<String>,
    /// How the shipment is to be handled, and what else is said of it.
    pub instructions: Vec<String>,
    /// The orders that it names as a whole.
    pub orders: Vec<OrderReference>,
    /// Everyone it names.
    pub parties: Vec<Party>,
    /// Dates of the shipment.
    pub dates: Vec<Dated>,
    /// Bill of lading, carrier's number, packing list and the like.
    pub references: Vec<Reference>,
    /// Weights, volumes, measures of the whole.
    pub measures: Vec<Measured>,
    /// How many packages of which kind.
    pub packages: Vec<Packed>,
    /// Carriers and routing, in words.
    pub carriers: Vec<String>,
    /// Vehicles, containers and seals.
    pub equipment: Vec<Equipment>,
    /// Pallets, cartons and other handling units; each knows the one that it stands in or on.
    pub units: Vec<HandlingUnit>,
    /// The first unit of each number.
    by_number: BTreeMap<String, usize>,
    /// Where it begins.
    pub at: Spot,
}

/// An order that is named.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct OrderReference {
    /// The buyer's number of it.
    pub id: String,
    /// The seller's number of it.
    pub sales_id: String,
    /// Release or universally unique id.
    pub further: String,
    /// Its date.
    pub date: String,
}

/// Somebody named in the notice.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Party {
    /// In what role, in plain words: "ship from", "delivery customer".
    pub role: String,
    /// The role as the file's code or element.
    pub role_code: String,
    /// Name.
    pub name: String,
    /// Numbers, each with the scheme that it is of.
    pub ids: Vec<Id>,
    /// Address, a line each.
    pub address: Vec<String>,
    /// Persons, telephones and the like.
    pub contacts: Vec<String>,
}

/// A number of something or somebody.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Id {
    /// What kind of number: UBL's element, N104.
    pub kind: String,
    /// Which scheme: UBL's schemeID, N103; empty when it gives none.
    pub scheme: String,
    /// What the scheme is, in plain words; empty when it is not known here.
    pub means: String,
    /// The number.
    pub value: String,
}

/// A date with what it is of.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Dated {
    /// The file's code or element.
    pub qualifier: String,
    /// In plain words; empty when the code is not known here.
    pub meaning: String,
    /// The date.
    pub date: String,
    /// The time, where one is given.
    pub time: String,
}

/// A number that something else goes by.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Reference {
    /// The file's code or element.
    pub qualifier: String,
    /// In plain words; empty when the code is not known here.
    pub meaning: String,
    /// The number.
    pub value: String,
    /// What stands beside it.
    pub note: String,
}

/// An amount with what it measures.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Measured {
    /// The file's code or element.
    pub qualifier: String,
    /// In plain words; empty when the code is not known here.
    pub meaning: String,
    /// How much.
    pub amount: Amount,
}

/// Loads or packages of one kind.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Packed {
    /// How many of them.
    pub count: Option<Decimal>,
    /// How much is in each.
    pub each: Option<Amount>,
    /// Inner packages in each, where the file tells them apart.
    pub inner: Option<Decimal>,
    /// The package's code.
    pub code: String,
    /// What the code means; empty when it is not known here.
    pub means: String,
    /// Weights and sizes.
    pub measures: Vec<Measured>,
    /// Numbers on them, such as serial numbers of labels and lots.
    pub references: Vec<Reference>,
    /// What stands beside it.
    pub note: String,
}

/// A vehicle, a container, a seal.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Equipment {
    /// What, in plain words or the file's code.
    pub kind: String,
    /// Its number or plate.
    pub id: String,
    /// The seal on it.
    pub seal: String,
}

/// A pallet, a carton, a crate: what is handled as one.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct HandlingUnit {
    /// Its number as the file has it.
    pub id: String,
    /// Its SSCC, 18 digits, when it has one; a wrong check digit is a warning.
    pub sscc: Option<String>,
    /// Index of the unit that it stands in or on.
    pub parent: Option<usize>,
    /// The level: `T`, `P` and the like of X12, the element of UBL.
    pub level: String,
    /// Its kind as a code.
    pub type_code: String,
    /// Its kind in words; empty when the code is not known here.
    pub type_name: String,
    /// What is written on it.
    pub marks: Vec<String>,
    /// Numbers that it goes by.
    pub references: Vec<Reference>,
    /// Weights and sizes.
    pub measures: Vec<Measured>,
    /// What it is packed as.
    pub packed: Vec<Packed>,
    /// Notes, handling instructions, remarks of damage.
    pub notes: Vec<String>,
    /// Where it stands in the file.
    pub at: Spot,
}

/// One line of a notice.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SentLine {
    /// Which of [`Despatch::notices`].
    pub notice: usize,
    /// Its number in the file; for an 856 that numbers no lines, that of its HL.
    pub id: String,
    /// Index of the line that it is a part of: UBL's sub-line, X12's SLN.
    pub part_of: Option<usize>,
    /// Its number may be for each of what it is a part of, or for all: an SLN does not say which (from memory).
    pub each_or_all: bool,
    /// Indices of the handling units that it is in.
    pub units: Vec<usize>,
    /// Its status as a code.
    pub status: String,
    /// The order that it is of.
    pub order: OrderReference,
    /// The line of that order, the buyer's number.
    pub order_line: String,
    /// The line of that order, the seller's number.
    pub sales_order_line: String,
    /// Sent in this shipment.
    pub delivered: Option<Amount>,
    /// Ordered.
    pub ordered: Option<Amount>,
    /// To come later.
    pub backorder: Option<Amount>,
    /// Ordered and not sent; whether it will follow is in the reasons.
    pub outstanding: Option<Amount>,
    /// Sent above what was ordered.
    pub oversupply: Option<Amount>,
    /// Sent so far with all shipments.
    pub to_date: Option<Amount>,
    /// Why it is less or more.
    pub reasons: Vec<String>,
    /// The thing.
    pub item: Item,
    /// How it is packed.
    pub packed: Vec<Packed>,
    /// Numbers that it goes by.
    pub references: Vec<Reference>,
    /// Dates of its own.
    pub dates: Vec<Dated>,
    /// What is written to people.
    pub notes: Vec<String>,
    /// Where it stands in the file.
    pub at: Spot,
}

/// The thing that a line is of.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Item {
    /// Its name.
    pub name: String,
    /// What else describes it.
    pub descriptions: Vec<String>,
    /// Its numbers.
    pub ids: Vec<ItemId>,
    /// Lots and batches.
    pub lots: Vec<Lot>,
    /// Serial numbers.
    pub serials: Vec<String>,
    /// Properties by their names.
    pub properties: Vec<(String, String)>,
    /// Sizes and weights.
    pub measures: Vec<Measured>,
}

/// A number of a thing.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ItemId {
    /// Whose number it is.
    pub whose: Whose,
    /// X12's qualifier or UBL's element.
    pub qualifier: String,
    /// UBL's schemeID; empty when it gives none.
    pub scheme: String,
    /// The number.
    pub value: String,
}

/// Whose number a thing goes by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Whose {
    /// The seller's.
    Seller,
    /// The buyer's.
    Buyer,
    /// The manufacturer's.
    Manufacturer,
    /// GS1's, the same for everybody.
    Standard,
    /// Of a catalogue.
    Catalogue,
    /// Of somebody else, or it is not said whose.
    #[default]
    Other,
}

/// A lot or batch.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Lot {
    /// Its number.
    pub number: String,
    /// The day on which it expires.
    pub expires: String,
}

/// Where something stands in the file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Spot {
    /// Line of the file, from 1.
    pub line: u32,
    /// Character of the line, from 1.
    pub column: u32,
    /// Number of the segment in its transaction set, ST being 1; nothing in XML.
    pub segment: Option<u32>,
}

impl fmt::Display for Spot {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(segment) = self.segment {
            write!(f, "segment {segment}, ")?;
        }
        write!(f, "line {}, column {}", self.line, self.column)
    }
}

impl Notice {
    /// Returns the handling unit that has a number.
    pub fn unit(&self, number: &str) -> Option<usize> {
        self.by_number.get(number).copied()
    }

    /// Takes in a handling unit, and returns its index.
    fn take_in(&mut self, unit: HandlingUnit) -> usize {
        let index = self.units.len();
        if !unit.id.is_empty() {
            self.by_number.entry(unit.id.clone()).or_insert(index);
        }
        self.units.push(unit);
        index
    }

    /// Returns what it is called, by its number or that of its set.
    pub fn name(&self) -> String {
        match self.id.is_empty() {
            false => format!("notice {}", self.id),
            true => format!("set {}", self.set),
        }
    }
}

impl Despatch {
    /// Returns where a line stands: its number among all lines, and its notice where there are several.
    pub fn place(&self, line: usize) -> Place {
        let notice = self
            .lines
            .get(line)
            .and_then(|line| self.notices.get(line.notice));
        let named = notice.filter(|_| self.notices.len() > 1);
        Place {
            sheet: named.map_or_else(String::new, Notice::name),
            row: u32::try_from(line + 1).unwrap_or(u32::MAX),
        }
    }
}

/// Reads the file when it is one of these kinds of data; nothing when it is none of them. A document of the same
/// kinds that is no despatch advice is refused by its name.
///
/// Memory: the file decoded, and at most [`crate::limits::MAX_DATA_ELEMENTS`] elements or as many segments.
pub fn read(bytes: &[u8]) -> Option<Result<Despatch, Refusal>> {
    sniff::what_is(bytes).map(|found| match found {
        sniff::Found::Ubl(text) => ubl::read(&text),
        sniff::Found::X12(text) => x12::read(&text),
        sniff::Found::Refused(why) => Err(why),
    })
}
