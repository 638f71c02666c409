//! Gauge numbers, and the three thicknesses that each may mean.
//!
//! "14 gauge" is 0.083 in on a tube, 0.0747 in on plain sheet and 0.0785 in on galvanized sheet, so a gauge
//! says nothing without its column, and a thickness does not say the gauge.

use crate::cursor::Cursor;
use crate::number::Number;
use crate::{Length, Sure, Tolerance};

/// A gauge number, 1 to 50. The larger the number, the thinner the metal.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Gauge(u8);

/// Which table a gauge number is looked up in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Column {
    /// Plain sheet, the Manufacturers' Standard gauge.
    Sheet,
    /// Galvanized sheet: plain sheet and its zinc.
    GalvanizedSheet,
    /// Tube and strip: the Birmingham wire gauge. The chart does not say so, but its values are those that a
    /// public engineering library gives for that gauge.
    Tube,
}

impl Column {
    /// All three.
    pub const ALL: [Column; 3] = [Column::Sheet, Column::GalvanizedSheet, Column::Tube];
}

/// One gauge of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Row {
    /// The gauge number.
    pub gauge: Gauge,
    /// Thickness of plain sheet.
    pub sheet: Length,
    /// Thickness of galvanized sheet.
    pub galvanized: Length,
    /// Wall of tube, thickness of strip.
    pub tube: Length,
    /// How sure the three are.
    pub sure: Sure,
}

/// The table, from one public trade chart (S2t); its 10, 16, 18 and 20 ga sheet values were repeated in others.
pub const TABLE: [Row; 11] = [
    row(10, 1345, 1382, 1340),
    row(11, 1196, 1233, 1200),
    row(12, 1046, 1084, 1090),
    row(13, 897, 934, 950),
    row(14, 747, 785, 830),
    row(15, 673, 710, 720),
    row(16, 598, 635, 650),
    row(17, 538, 575, 580),
    row(18, 478, 516, 490),
    row(19, 418, 456, 420),
    row(20, 359, 396, 350),
];

/// Thicknesses in 1/10 000 in.
const fn row(gauge: u8, sheet: i64, galvanized: i64, tube: i64) -> Row {
    Row {
        gauge: Gauge(gauge),
        sheet: Length::ten_thousandths(sheet),
        galvanized: Length::ten_thousandths(galvanized),
        tube: Length::ten_thousandths(tube),
        sure: Sure::TradePage,
    }
}

/// Pounds per square foot of plain sheet, for each inch of its thickness: the basis of the sheet gauge (S2).
/// It is 2.5 % above what steel weighs, by custom.
pub const SHEET_BASIS: f64 = 41.82;

impl Gauge {
    /// A gauge number; nothing when it is not 1 to 50.
    pub fn new(number: u8) -> Option<Self> {
        (1..=50).contains(&number).then_some(Self(number))
    }

    /// The number.
    pub const fn number(self) -> u8 {
        self.0
    }

    /// The thickness that the gauge means in a column, and how sure that is; nothing beyond the table.
    pub fn thickness(self, column: Column) -> Option<(Length, Sure)> {
        let row = TABLE.iter().find(|row| row.gauge == self)?;
        Some((row.thickness(column), row.sure))
    }
}

impl Row {
    /// The thickness in a column.
    pub const fn thickness(&self, column: Column) -> Length {
        match column {
            Column::Sheet => self.sheet,
            Column::GalvanizedSheet => self.galvanized,
            Column::Tube => self.tube,
        }
    }
}

/// Every gauge and column that a measured thickness may be, thickest first; often more than one.
pub fn may_be(thickness: Length, tolerance: Tolerance) -> Vec<(Gauge, Column)> {
    let mut found: Vec<(Length, Gauge, Column)> = TABLE
        .iter()
        .flat_map(|row| Column::ALL.map(|column| (row.thickness(column), row.gauge, column)))
        .filter(|&(nominal, ..)| tolerance.holds(nominal, thickness))
        .collect();
    found.sort_by_key(|&(nominal, ..)| std::cmp::Reverse(nominal));
    found
        .into_iter()
        .map(|(_, gauge, column)| (gauge, column))
        .collect()
}

/// Reads a gauge at the start of `text`, and how many bytes it took, leading spaces counted in: `16 ga`,
/// `16ga.`, `16-gauge`, `#16 ga`, `14GA`. The word must stand; a number alone is no gauge.
pub fn read_start(text: &str) -> Option<(Gauge, usize)> {
    let mut cursor = Cursor::new(text);
    cursor.eat_spaces();
    if cursor.eat('#') {
        cursor.eat_spaces();
    }
    let number = Number::read_whole(&mut cursor)?;
    if !cursor.eat_spaces() {
        cursor.eat('-');
    }
    match cursor.eat_word(5)?.as_str() {
        "ga" => {
            cursor.eat('.');
        }
        "gauge" => {}
        _ => return None,
    }
    if cursor.next_is(char::is_numeric) {
        return None;
    }
    let gauge = Gauge::new(u8::try_from(number).ok()?)?;
    Some((gauge, cursor.at()))
}
