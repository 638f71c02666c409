use claim::{Content, Known, KnownLine, Paper, Wrong};
use serde::Serialize;

use crate::letter::{Carriage, Missing, Party, add_missing, count_missing, known_line, missing_by};
use crate::photos::{self, Photo};
use crate::print::{PaperError, Print};
use crate::template::Template;
use crate::typeset::typeset_with_photos;

/// Over, short and damaged: what a job should have got, what came, and in what state; for the
/// sender, the carrier and the file. Texts stand as they are to be read; an empty text of a thing
/// to be filled in by hand becomes a blank line.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct OsdPaper {
    /// The job's name; on every page.
    pub job: String,
    /// The order in a line: family, dimensions, options.
    pub order: String,
    /// Where the goods were delivered.
    pub site: String,
    /// Who packed and sent the goods.
    pub sender: String,
    /// Who received the goods and writes this.
    pub receiver: Party,
    /// The names of the rule sets that hold, by which is said what is missing; none: nobody has said.
    pub rules: Vec<String>,
    /// The time zone that every time is in; left out where it is empty.
    pub zone: String,
    /// When the count was handed in, as it should be read.
    pub handed_in: String,
    /// The units that lengths on this paper are in: `feet and inches`.
    pub units: String,
    /// All shipments of the order, those to come among them.
    pub shipments: Vec<Shipment>,
    /// Fewer than needed, in no other shipment, explained by nothing else.
    pub short: Vec<OsdRow>,
    /// More than needed, explained by nothing else.
    pub over: Vec<OsdRow>,
    /// Differs in the count, and something likelier than a fault of anybody's explains it: called neither short nor over
    /// before somebody looked.
    pub explained: Vec<OsdRow>,
    /// Here, and harmed.
    pub damaged: Vec<OsdRow>,
    /// Here in place of something else.
    pub wrong: Vec<OsdRow>,
    /// Promised in another shipment: not short.
    pub to_come: Vec<OsdRow>,
    /// Nobody has counted these yet: nothing is claimed about them.
    pub uncounted: Vec<OsdRow>,
    /// How it was counted.
    pub countings: Vec<Counting>,
    /// What is known of the carriage of each shipment that came.
    pub carriages: Vec<Carriage>,
    /// Where damaged goods and their packing are kept, and in what state; empty if nobody said.
    pub kept: String,
    /// What must be known before this may be called complete, beside what the rules find missing from it
    /// (`claim::missing`), which is added when it is made.
    pub missing: Vec<Missing>,
    /// Further remarks.
    pub notes: Vec<String>,
    /// The head of the job's log when this was made: whoever has this paper can tell a log that was changed since.
    /// Left out where it is empty.
    pub log_head: String,
    /// Photos.
    #[serde(skip)]
    pub photos: Vec<Photo>,
}

/// One delivery of the order.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Shipment {
    /// What the site calls it: `first ferry load`.
    pub name: String,
    /// The packing list that belongs to it.
    pub packing_list: String,
    /// Whether it is here.
    pub arrived: bool,
    /// When it came, or is to come.
    pub when: String,
    /// The carrier; empty if unknown.
    pub carrier: String,
    /// The carrier's freight bill number; empty if unknown.
    pub freight_bill: String,
    /// Pallets, crates and bundles as counted at the truck, which is another count than that of
    /// the pieces in them; empty if unknown.
    pub handling_units: String,
}

/// One mark in one of the tables.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct OsdRow {
    /// The piece mark.
    pub mark: String,
    /// What it is, in words.
    pub description: String,
    /// What is counted, if it is not single pieces: `rolls`.
    pub unit: String,
    /// How many the building needs.
    pub needed: Option<i64>,
    /// How many the packing lists say.
    pub listed: Option<i64>,
    /// How many were counted.
    pub counted: Option<i64>,
    /// How many of those are fit to use.
    pub good: Option<i64>,
    /// How many are short, over, damaged, wrong, to come or to be counted; never negative.
    pub amount: i64,
    /// The difference in words.
    pub says: String,
    /// The likeliest cause, in words; empty where there is nothing to explain.
    pub cause: String,
    /// The check that would settle it, in words; may be empty.
    pub check: String,
    /// What the packing list calls it, where that is something else.
    pub sender: Option<SenderWords>,
    /// The shipment it came in or is to come in; empty if that says nothing.
    pub shipment: String,
    /// What people saw: damage first of all.
    pub seen: Vec<Sighting>,
}

/// The sender's own words for a mark.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct SenderWords {
    /// The sender's code.
    pub code: String,
    /// The sender's description.
    pub description: String,
    /// Where it stands: `list 1, row 14`.
    pub place: String,
}

/// What someone saw.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Sighting {
    /// How many it was seen on; not negative.
    pub pieces: Option<i64>,
    /// The condition in a word or two: `bent`.
    pub condition: String,
    /// What the person said of it.
    pub words: String,
    /// Who.
    pub who: String,
    /// When, as it should be read.
    pub when: String,
}

/// One round of counting.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Counting {
    /// Who counted.
    pub who: String,
    /// When, as it should be read.
    pub when: String,
    /// What and how: `piles A to D, each piece by hand, twice`.
    pub how: String,
}

/// Returns the over, short and damaged paper as a PDF.
///
/// # Errors
/// [`PaperError::Print`] and [`PaperError::Row`] name the field that cannot be;
/// [`PaperError::TooMuch`] if no one could read it.
pub fn osd(paper: &OsdPaper, print: &Print) -> Result<Vec<u8>, PaperError> {
    for (table, rows) in paper.tables() {
        check_rows(table, rows)?;
    }
    for (index, carriage) in paper.carriages.iter().enumerate() {
        carriage.check(index)?;
    }
    let mut paper = paper.clone();
    let missing = paper.lacking();
    add_missing(&mut paper.missing, missing);
    let photos = std::mem::take(&mut paper.photos);
    typeset_with_photos(Template::Osd, &paper, &photos, print)
}

impl OsdPaper {
    fn tables(&self) -> [(&'static str, &[OsdRow]); 7] {
        [
            ("short", &self.short),
            ("over", &self.over),
            ("explained", &self.explained),
            ("damaged", &self.damaged),
            ("wrong", &self.wrong),
            ("to_come", &self.to_come),
            ("uncounted", &self.uncounted),
        ]
    }
}

impl OsdPaper {
    /// What the rules find missing, shipment by shipment.
    fn lacking(&self) -> Vec<Missing> {
        let known = Known {
            from: self.receiver.name.clone(),
            contact: self.receiver.reach(),
            day: !self.handed_in.trim().is_empty(),
            kept: (!self.kept.trim().is_empty()).then_some(true),
            lines: self.known_lines(),
            ..Known::default()
        };
        let nothing_wrong = known.lines.is_empty();
        let of = |known: &Known| -> Vec<claim::Missing> {
            let missing = missing_by(&self.rules, Paper::Osd, known);
            // A count that found nothing wrong is a whole paper too, and harms nothing that would be kept or shown.
            let asked = |what| !(nothing_wrong && matches!(what, Content::Lines | Content::Kept));
            (missing.into_iter()).filter(|m| asked(m.what)).collect()
        };
        let mut all = Vec::new();
        match self.carriages.as_slice() {
            [] => add_missing(&mut all, of(&known).into_iter().map(Missing::from)),
            [one] => {
                let missing = of(&one.known_with(known));
                add_missing(&mut all, missing.into_iter().map(Missing::from));
            }
            several => {
                for carriage in several {
                    let missing = of(&carriage.known_with(known.clone()));
                    add_missing(
                        &mut all,
                        missing.into_iter().map(|m| of_shipment(m, carriage)),
                    );
                }
            }
        }
        add_missing(&mut all, count_missing(self.uncounted.len()));
        all
    }

    fn known_lines(&self) -> Vec<KnownLine> {
        let told = [
            (Wrong::Short, &self.short),
            (Wrong::Over, &self.over),
            (Wrong::Damaged, &self.damaged),
            (Wrong::OtherPart, &self.wrong),
        ];
        let lines = told.into_iter().flat_map(|(wrong, rows)| {
            rows.iter().map(move |row| KnownLine {
                harm: (row.seen.iter().map(|seen| seen.condition.as_str())).collect(),
                photos: photos::of_mark(&self.photos, &row.mark),
                ..known_line(&row.mark, wrong, row.amount)
            })
        });
        lines.collect()
    }
}

/// What is missing of one shipment among several says of which, unless it is the same for all.
fn of_shipment(missing: claim::Missing, carriage: &Carriage) -> Missing {
    let of_carriage = matches!(
        missing.what,
        Content::BillOfLading
            | Content::FreightBill
            | Content::Delivered
            | Content::Units
            | Content::Seals
            | Content::ReceiptNote
    );
    let mut missing = Missing::from(missing);
    if of_carriage {
        missing.what = format!("{} ({})", missing.what, carriage.shipment);
    }
    missing
}

impl SenderWords {
    /// Code and description in one; empty where there is neither.
    pub(crate) fn any(&self) -> String {
        format!("{}{}", self.code, self.description)
    }
}

fn check_rows(table: &'static str, rows: &[OsdRow]) -> Result<(), PaperError> {
    for (index, row) in rows.iter().enumerate() {
        let numbers = [
            ("needed", row.needed),
            ("listed", row.listed),
            ("counted", row.counted),
            ("good", row.good),
            ("amount", Some(row.amount)),
        ];
        let seen = row.seen.iter().map(|sighting| ("seen", sighting.pieces));
        for (field, number) in numbers.into_iter().chain(seen) {
            check_count(table, index, &row.mark, field, number)?;
        }
    }
    Ok(())
}

/// Refuses a count that cannot be. The bound keeps the sum over every row of a paper exact.
pub(crate) fn check_count(
    table: &'static str,
    index: usize,
    mark: &str,
    field: &'static str,
    number: Option<i64>,
) -> Result<(), PaperError> {
    match number {
        Some(found) if !(0..=999_999_999).contains(&found) => Err(PaperError::Row {
            table,
            row: index + 1,
            mark: mark.chars().take(64).collect(),
            field,
            found,
            wanted: "a count from 0 to 999 999 999",
        }),
        _ => Ok(()),
    }
}
