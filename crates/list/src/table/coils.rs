//! Counts of coils, rolls and cut lengths, with how long each is. Common practice, no source.

use measure::{Grid, Length, System};

use crate::table::quantity::{Quantity, plain, start};
use crate::table::units::unit_word;

/// "2 coils of 250 ft", "2 x 250 ft", "500 ft in 2 coils": a coil or a cut length is one piece.
pub fn long(cell: &str) -> Option<Quantity> {
    if let Some((whole, len)) = Length::read_start(cell, None) {
        let rest = cell[len..].trim_start_matches([' ', ',', '(', '/', '=', '-']);
        let rest = rest
            .strip_prefix("in ")
            .unwrap_or(rest)
            .trim_end_matches(')');
        let coils = plain(rest, "").filter(|coils| coils.pieces > 0 && is_coil(&coils.unit))?;
        return Some(Quantity {
            of: share(whole, coils.pieces),
            ..coils
        });
    }
    let (coils, rest) =
        start(cell, "").filter(|(coils, _)| coils.pieces > 0 && coils.doubt.is_none())?;
    let rest = rest.trim_start();
    let joints = [
        "of ", "x ", "x", "X", "×", "@", "at ", ",", "(", "/", "=", "-",
    ];
    let joint = joints.iter().find(|joint| rest.starts_with(**joint));
    if joint.is_none() && !is_coil(&coils.unit) {
        return None;
    }
    let rest = rest[joint.map_or(0, |joint| joint.len())..].trim_start();
    let (length, len) = Length::read_start(rest, None)?;
    let said = &rest[..len];
    let tail = rest[len..]
        .trim_matches([' ', ')', '.', '/'])
        .to_ascii_lowercase();
    let each = match tail.as_str() {
        "" | "long" | "coil" | "coils" | "roll" | "rolls" | "lengths" | "lgths" => {
            matches!(joint, Some(&("of " | "x " | "x" | "X" | "×" | "@" | "at ")))
        }
        "each" | "ea" | "per coil" | "per roll" => true,
        "total" | "in all" | "in total" => {
            return Some(Quantity {
                of: share(length, coils.pieces),
                ..coils
            });
        }
        _ => return None,
    };
    let read = Quantity {
        of: said.to_owned(),
        ..coils
    };
    let doubt = format!("{said} was taken as the length of each");
    Some(if each || read.pieces == 1 {
        read
    } else {
        read.doubted(doubt)
    })
}

fn is_coil(unit: &str) -> bool {
    matches!(
        unit,
        "coil" | "coils" | "roll" | "rolls" | "rl" | "rls" | "lengths" | "lgths" | "length"
    )
}

/// How long each is, as the unit "rl 250ft" says it.
pub fn length_of(unit: &str) -> Option<&str> {
    let (word, rest) = unit_word(unit);
    let said = rest.trim_matches([' ', '(', ')', '/', '@']);
    let said = said.strip_prefix("of ").unwrap_or(said);
    let whole = Length::read_start(said, None).is_some_and(|(_, len)| len == said.len());
    (is_coil(&word) && whole).then_some(said)
}

fn share(whole: Length, pieces: i64) -> String {
    let each = Length::nanometres(whole.as_nanometres() / pieces.max(1));
    each.write(System::FeetInch, Grid::SIXTEENTH)
}
