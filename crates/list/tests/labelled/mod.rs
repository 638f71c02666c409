//! Labelled packing lists: each row with the mark that it truly stands for. Read, matched, and told how well.

#![allow(
    clippy::unwrap_used,
    reason = "a labelled set that cannot be read should stop all"
)]

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use frame::{Family, Order, PartsList, expand};
use list::{Against, Matched, PackingList};

/// What a row that is called sure may doubt at most: beyond it the page of the list asks a person to look.
pub const SURE: f64 = 0.05;

/// The files that may be looked at and tuned on, each pair by other writers.
pub const OPEN: [&str; 4] = [
    "tuning-rule.csv",
    "tuning-hand.csv",
    "tuning2-rule.csv",
    "tuning2-hand.csv",
];

/// The files that are only ever measured against.
pub const SEALED: [&str; 2] = ["sealed2-rule.csv", "sealed2-hand.csv"];

/// One packing list of a labelled set.
pub struct Labelled {
    pub id: String,
    pub order: String,
    pub writer: String,
    /// As the sender's file: a heading and the rows.
    pub csv: String,
    /// For each row the true mark, empty for none of the order's parts.
    pub marks: Vec<String>,
}

/// What became of one labelled row.
pub struct Outcome {
    pub list: String,
    pub writer: String,
    pub says: String,
    pub truth: String,
    pub found: String,
    pub doubt: f64,
    /// What was matched, with its reasons; nothing where the line was set aside.
    pub matched: Option<Matched>,
}

impl Outcome {
    pub fn right(&self) -> bool {
        self.truth == self.found
    }
}

pub fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/labelled")
}

/// The lists of one file, by id.
pub fn lists(file: &str) -> Vec<Labelled> {
    let mut reader = csv::Reader::from_path(folder().join(file)).unwrap();
    let mut lists: BTreeMap<String, (Labelled, csv::Writer<Vec<u8>>)> = BTreeMap::new();
    for row in reader.records() {
        let row = row.unwrap();
        let [list, order, writer, qty, unit, code, description, mark] =
            [0, 1, 2, 3, 4, 5, 6, 7].map(|column| &row[column]);
        let (labelled, sheet) = lists.entry(list.to_owned()).or_insert_with(|| {
            let mut sheet = csv::Writer::from_writer(Vec::new());
            sheet
                .write_record(["Item", "Description", "Qty", "Unit"])
                .unwrap();
            let labelled = Labelled {
                id: list.to_owned(),
                order: order.to_owned(),
                writer: writer.to_owned(),
                csv: String::new(),
                marks: Vec::new(),
            };
            (labelled, sheet)
        });
        sheet.write_record([code, description, qty, unit]).unwrap();
        labelled.marks.push(mark.to_owned());
    }
    let whole = |(mut labelled, sheet): (Labelled, csv::Writer<Vec<u8>>)| {
        labelled.csv = String::from_utf8(sheet.into_inner().unwrap()).unwrap();
        labelled
    };
    lists.into_values().map(whole).collect()
}

/// The parts of each order that the lists are of.
pub fn orders(lists: &[Labelled]) -> BTreeMap<String, PartsList> {
    let mut orders = BTreeMap::new();
    for list in lists {
        orders.entry(list.order.clone()).or_insert_with(|| {
            let file = folder().join("orders").join(format!("{}.toml", list.order));
            let order = Order::read(&std::fs::read_to_string(file).unwrap()).unwrap();
            let family = Family::named(&order.family).unwrap();
            PartsList::of(&expand(&order, &family).unwrap())
        });
    }
    orders
}

/// Reads and matches one list, and holds it against the labels. A row that was set aside counts as matched to nothing,
/// surely: nobody is asked about it.
pub fn outcomes(labelled: &Labelled, parts: &PartsList) -> Vec<Outcome> {
    let list = list::read(labelled.csv.as_bytes(), &labelled.id).unwrap();
    let parts: Vec<frame::Part> = parts.lines.iter().map(|line| line.part.clone()).collect();
    let against = Against {
        parts: &parts,
        ..Against::default()
    };
    let matched = list::match_list(&list, &against);
    held_against(labelled, &list, matched)
}

fn held_against(labelled: &Labelled, list: &PackingList, matched: Vec<Matched>) -> Vec<Outcome> {
    let mut by_line: BTreeMap<u32, Matched> = matched
        .into_iter()
        .map(|matched| (list.rows[matched.row].at.row, matched))
        .collect();
    let mut lines = csv::Reader::from_reader(labelled.csv.as_bytes());
    let lines: Vec<csv::StringRecord> = lines.records().map(Result::unwrap).collect();
    let each = labelled.marks.iter().zip(lines).enumerate();
    each.map(|(index, (truth, line))| {
        // The heading is line 1.
        let matched = by_line.remove(&(index as u32 + 2));
        let found = matched.as_ref().and_then(|m| m.mark.clone());
        Outcome {
            list: labelled.id.clone(),
            writer: labelled.writer.clone(),
            says: line.iter().collect::<Vec<_>>().join(" | "),
            truth: truth.clone(),
            found: found.map_or_else(String::new, |mark| mark.0),
            doubt: matched.as_ref().map_or(0.0, |m| m.doubt),
            matched,
        }
    })
    .collect()
}

/// How well a set was matched.
#[derive(Clone, Copy, Debug, Default)]
pub struct Figures {
    pub rows: usize,
    /// Share of rows with the right mark, or rightly none.
    pub right: f64,
    /// Of the rows that were given a mark, the share with the right one.
    pub precision: f64,
    /// Of the rows that are a part of the order, the share with the right mark.
    pub recall: f64,
    /// Share of rows that are called sure, and the share right among these.
    pub sure: f64,
    pub right_of_sure: f64,
    /// Rows called sure and wrong.
    pub sure_and_wrong: usize,
    /// Expected calibration error over ten bins of equal width, and the Brier score of the stated doubt.
    pub calibration_error: f64,
    pub brier: f64,
}

pub fn figures<'a>(outcomes: impl IntoIterator<Item = &'a Outcome>) -> Figures {
    let all: Vec<&Outcome> = outcomes.into_iter().collect();
    let share = |of: &[&&Outcome], is: &dyn Fn(&Outcome) -> bool| {
        of.iter().filter(|o| is(o)).count() as f64 / of.len().max(1) as f64
    };
    let every: Vec<&&Outcome> = all.iter().collect();
    let given: Vec<&&Outcome> = all.iter().filter(|o| !o.found.is_empty()).collect();
    let parts: Vec<&&Outcome> = all.iter().filter(|o| !o.truth.is_empty()).collect();
    let sure: Vec<&&Outcome> = all.iter().filter(|o| o.doubt <= SURE).collect();
    let right = |o: &Outcome| o.right();
    let wrong = |o: &Outcome| f64::from(u8::from(!o.right()));
    let squares: f64 = all.iter().map(|o| (o.doubt - wrong(o)).powi(2)).sum();
    let bins = calibration(all.iter().copied());
    let off: f64 = bins
        .iter()
        .map(|bin| bin.rows as f64 * (bin.stated - bin.seen).abs())
        .sum();
    Figures {
        rows: all.len(),
        right: share(&every, &right),
        precision: share(&given, &right),
        recall: share(&parts, &right),
        sure: sure.len() as f64 / all.len().max(1) as f64,
        right_of_sure: share(&sure, &right),
        sure_and_wrong: sure.iter().filter(|o| !o.right()).count(),
        calibration_error: off / all.len().max(1) as f64,
        brier: squares / all.len().max(1) as f64,
    }
}

/// Rows whose stated doubt lies between two limits.
#[derive(Clone, Copy, Debug)]
pub struct Bin {
    pub from: f64,
    pub to: f64,
    pub rows: usize,
    /// Mean stated doubt.
    pub stated: f64,
    /// Share that is wrong.
    pub seen: f64,
}

/// Limits of the bins: finer where nearly all rows are.
const LIMITS: [f64; 10] = [0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.35, 0.5, 1.0];

pub fn calibration<'a>(outcomes: impl IntoIterator<Item = &'a Outcome>) -> Vec<Bin> {
    let mut bins: Vec<Bin> = Vec::new();
    for (index, to) in LIMITS.iter().enumerate() {
        let from = index.checked_sub(1).map_or(-1.0, |before| LIMITS[before]);
        bins.push(Bin {
            from,
            to: *to,
            rows: 0,
            stated: 0.0,
            seen: 0.0,
        });
    }
    for outcome in outcomes {
        let at = bins
            .iter()
            .position(|bin| outcome.doubt > bin.from && outcome.doubt <= bin.to);
        let bin = &mut bins[at.unwrap_or(LIMITS.len() - 1)];
        bin.rows += 1;
        bin.stated += outcome.doubt;
        bin.seen += f64::from(u8::from(!outcome.right()));
    }
    for bin in &mut bins {
        bin.stated /= bin.rows.max(1) as f64;
        bin.seen /= bin.rows.max(1) as f64;
        bin.from = bin.from.max(0.0);
    }
    bins
}
