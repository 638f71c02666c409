//! What is sent now and what is to follow, in one cell. Common practice, no source.

use crate::table::number::{number, plain_digits};
use crate::table::quantity::Quantity;

/// A longer text is no count.
const LONGEST: usize = 60;

/// What a cell says of this shipment and of what follows: "20 (6 B/O)", "20, 6 to follow", "B/O".
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct ToFollow {
    /// Sent now, where it is said.
    pub now: Option<i64>,
    /// Sent later, where it is said.
    pub later: Option<i64>,
}

/// Reads a cell that has a word of what follows later.
pub fn to_follow(cell: &str) -> Option<ToFollow> {
    const LATER: [&str; 14] = [
        "backordered",
        "back ordered",
        "back-ordered",
        "backorder",
        "back order",
        "back-order",
        "b/ordered",
        "b/o",
        "to follow",
        "to come",
        "outstanding",
        "balance",
        "bal.",
        "bo",
    ];
    if cell.is_empty() || cell.len() > LONGEST {
        return None;
    }
    let lower = plain_digits(cell).to_ascii_lowercase();
    let (at, word) = LATER
        .iter()
        .find_map(|word| Some((lower.find(word)?, *word)))?;
    let rest = format!("{} {}", &lower[..at], &lower[at + word.len()..]);
    let mut numbers = Vec::new();
    let split = |c: char| !c.is_alphanumeric() && c != ',' && c != '.';
    for token in rest.split(split) {
        match token.trim_matches([',', '.']) {
            "" | "shipped" | "sent" | "ea" | "pcs" | "pc" | "each" | "on" | "now" | "qty"
            | "and" | "item" | "still" | "is" => {}
            token => numbers.push(number(token).filter(|(_, rest)| rest.is_empty())?.0),
        }
    }
    match numbers[..] {
        [] => Some(ToFollow::default()),
        [later] => Some(ToFollow {
            now: None,
            later: Some(later),
        }),
        [now, later] => Some(ToFollow {
            now: Some(now),
            later: Some(later),
        }),
        _ => None,
    }
}

pub fn later(cell: &str, unit: &str) -> Option<Quantity> {
    let said = to_follow(cell)?;
    let read = Quantity {
        pieces: said.now.unwrap_or(0),
        unit: unit.trim().to_lowercase(),
        ..Quantity::default()
    };
    let doubt = format!("{cell:?} was taken as none now");
    Some(if said.now.is_some() {
        read
    } else {
        read.doubted(doubt)
    })
}
