//! The two tables of the revised lifting equation: how often, and how well the hands hold.
//!
//! From DHHS (NIOSH) Publication 94-110, tables 5 and 7; S2: read from complete copies that agree, not from the print.

/// How long the lifting goes on, with rest as long after it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Spell {
    /// Up to an hour.
    OneHour,
    /// Up to two hours.
    TwoHours,
    /// Up to eight hours.
    EightHours,
}

/// How well the hands hold the load.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Coupling {
    /// Handles, or a load that the hands close around.
    Good,
    /// Handles that are not quite right, or fingers bent at a right angle under the load.
    Fair,
    /// Loose, slippery, sharp or sagging; a bundle of tubes.
    Poor,
}

/// One row of table 5.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FrequencyRow {
    /// Lifts a minute, and no more.
    pub per_minute: f64,
    /// Per spell (one, two, eight hours): the multiplier with the hands low (under 30 in, 75 cm), and the one above.
    pub multipliers: [[f64; 2]; 3],
}

const fn row(per_minute: f64, one: [f64; 2], two: [f64; 2], eight: [f64; 2]) -> FrequencyRow {
    FrequencyRow {
        per_minute,
        multipliers: [one, two, eight],
    }
}

/// Table 5. More than 15 lifts a minute have no row: nothing may be lifted. Chapter 3 of the manual prints "≤2" for the
/// first row, a misprint of "≤0.2".
pub const FREQUENCY: [FrequencyRow; 17] = [
    row(0.2, [1.00, 1.00], [0.95, 0.95], [0.85, 0.85]),
    row(0.5, [0.97, 0.97], [0.92, 0.92], [0.81, 0.81]),
    row(1.0, [0.94, 0.94], [0.88, 0.88], [0.75, 0.75]),
    row(2.0, [0.91, 0.91], [0.84, 0.84], [0.65, 0.65]),
    row(3.0, [0.88, 0.88], [0.79, 0.79], [0.55, 0.55]),
    row(4.0, [0.84, 0.84], [0.72, 0.72], [0.45, 0.45]),
    row(5.0, [0.80, 0.80], [0.60, 0.60], [0.35, 0.35]),
    row(6.0, [0.75, 0.75], [0.50, 0.50], [0.27, 0.27]),
    row(7.0, [0.70, 0.70], [0.42, 0.42], [0.22, 0.22]),
    row(8.0, [0.60, 0.60], [0.35, 0.35], [0.18, 0.18]),
    row(9.0, [0.52, 0.52], [0.30, 0.30], [0.00, 0.15]),
    row(10.0, [0.45, 0.45], [0.26, 0.26], [0.00, 0.13]),
    row(11.0, [0.41, 0.41], [0.00, 0.23], [0.00, 0.00]),
    row(12.0, [0.37, 0.37], [0.00, 0.21], [0.00, 0.00]),
    row(13.0, [0.00, 0.34], [0.00, 0.00], [0.00, 0.00]),
    row(14.0, [0.00, 0.31], [0.00, 0.00], [0.00, 0.00]),
    row(15.0, [0.00, 0.28], [0.00, 0.00], [0.00, 0.00]),
];

/// The multiplier of table 5; between two rows that of the higher, which is the stricter.
pub fn frequency(per_minute: f64, spell: Spell, low: bool) -> f64 {
    let spell = match spell {
        Spell::OneHour => 0,
        Spell::TwoHours => 1,
        Spell::EightHours => 2,
    };
    (FREQUENCY.iter())
        .find(|row| per_minute <= row.per_minute)
        .map_or(0.0, |row| row.multipliers[spell][usize::from(!low)])
}

/// The multiplier of table 7; `low` is with the hands under 30 in (75 cm).
pub fn coupling(coupling: Coupling, low: bool) -> f64 {
    match (coupling, low) {
        (Coupling::Good, _) | (Coupling::Fair, false) => 1.00,
        (Coupling::Fair, true) => 0.95,
        (Coupling::Poor, _) => 0.90,
    }
}

impl Spell {
    /// What people read.
    pub fn in_words(self) -> &'static str {
        match self {
            Self::OneHour => "up to one hour",
            Self::TwoHours => "up to two hours",
            Self::EightHours => "up to eight hours",
        }
    }
}

impl Coupling {
    /// What people read.
    pub fn in_words(self) -> &'static str {
        match self {
            Self::Good => "good grip: handles, or the hands close around it",
            Self::Fair => "fair grip: fingers bent under it",
            Self::Poor => "poor grip: loose, slippery, sharp or sagging",
        }
    }
}
