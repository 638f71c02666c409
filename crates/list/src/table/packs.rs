//! Counts of packs and of what is in each. Common practice, no source.

use crate::table::number::{MOST, number};
use crate::table::quantity::{Quantity, plain, start};
use crate::table::units::{Counts, unit_counts, unit_word};

/// "3 bags (25/bag)", "3 bags, 25 ea", "5/pk, 4 pk", "set of 4", "2 boxes of 4 bags of 25".
pub fn packed(cell: &str) -> Option<Quantity> {
    if let Some((each, _, rest)) = in_each(cell) {
        let rest = rest.trim_start_matches([' ', ',', ';', 'x', '×', '@']);
        let (packs, rest) = start(rest, "")?;
        let is_pack = unit_counts(&packs.unit) == Some(Counts::Container) || packs.unit.is_empty();
        return (is_pack && rest.trim().is_empty())
            .then(|| times(packs.pieces, each, packs.unit))?;
    }
    let (unit, rest) = unit_word(cell);
    if unit_counts(&unit) == Some(Counts::Container) && !unit.is_empty() {
        let (each, rest) = number(rest.trim_start().strip_prefix("of ")?.trim_start())?;
        return rest.trim().is_empty().then(|| times(1, each, unit))?;
    }
    let (packs, rest) = start(cell, "")?;
    if unit_counts(&packs.unit) != Some(Counts::Container) || rest.trim().is_empty() {
        return None;
    }
    let in_brackets = rest.trim_start().starts_with('(');
    let inner = rest
        .trim()
        .trim_start_matches(['(', ',', ';', '@', '=', '-', '/', 'x', '×', ' ']);
    let inner = inner
        .strip_prefix("of ")
        .unwrap_or(inner)
        .trim_end_matches([')', ' ']);
    if let Some((each, _, "")) = in_each(inner) {
        return times(packs.pieces, each, packs.unit);
    }
    let (n, said) = number(inner)?;
    match said.trim().to_ascii_lowercase().trim_end_matches('.') {
        "ea" | "each" | "apiece" => times(packs.pieces, n, packs.unit),
        "pc" | "pcs" | "pieces" | "total" | "in all" | "pcs total" | "ea total" | "altogether" => {
            Some(Quantity {
                pieces: n,
                unit: packs.unit,
                ..Quantity::default()
            })
        }
        // A bare number in brackets is their sum where it can be, otherwise what is in each.
        "" if in_brackets && packs.pieces > 0 && n > packs.pieces && n % packs.pieces == 0 => {
            let doubt = Some(format!(
                "{n} was taken as all in {} {}",
                packs.pieces, packs.unit
            ));
            Some(Quantity {
                pieces: n,
                unit: packs.unit,
                doubt,
                of: String::new(),
            })
        }
        "" if in_brackets => {
            let doubt = format!("{n} was taken as in each {}", packs.unit);
            times(packs.pieces, n, packs.unit).map(|read| read.doubted(doubt))
        }
        _ => {
            let inside = plain(inner, "")
                .or_else(|| packed(inner))
                .filter(|inside| inside.doubt.is_none())?;
            let nested = unit_counts(&inside.unit) == Some(Counts::Container);
            nested.then(|| times(packs.pieces, inside.pieces, packs.unit))?
        }
    }
}

fn times(packs: i64, each: i64, unit: String) -> Option<Quantity> {
    let pieces = packs
        .checked_mul(each)
        .filter(|n| (0..=MOST).contains(n) && each > 0)?;
    Some(Quantity {
        pieces,
        unit,
        ..Quantity::default()
    })
}

/// "25/bag", "25 per bag", "25 ea per bag", "25 to a box": how many, in what, and what follows.
fn in_each(text: &str) -> Option<(i64, String, &str)> {
    let (each, rest) = number(text)?;
    let (pieces, after) = unit_word(rest);
    let rest = if unit_counts(&pieces) == Some(Counts::Pieces) {
        after
    } else {
        rest
    };
    let rest = rest.trim_start();
    let per = ["/", "per ", "to a ", "to the ", "in a ", "in each ", "a "];
    let rest = per.iter().find_map(|per| rest.strip_prefix(per))?;
    let (unit, after) = unit_word(rest);
    (unit_counts(&unit) == Some(Counts::Container)).then_some((each, unit, after))
}

/// A unit that says how many pieces it holds.
pub struct UnitOf {
    /// How many.
    pub each: i64,
    /// "bx of 100"; the number of "bx/100" might also be that of a price.
    clear: bool,
}

impl UnitOf {
    /// What stays unclear when so many of the unit are said.
    pub fn doubt(&self, packs: i64, unit: &str) -> Option<String> {
        let each = self.each;
        let taken = || format!("{packs} {unit} was taken as {packs} with {each} in each");
        (!self.clear).then(taken)
    }
}

/// "bx/100", "bdl of 5", "set of 4", "box (100)", "25/bag", as a column of units says them.
pub fn unit_of(unit: &str) -> Option<UnitOf> {
    if let Some((each, _, "")) = in_each(unit) {
        return (each > 0).then_some(UnitOf { each, clear: true });
    }
    let (word, rest) = unit_word(unit);
    if word.is_empty() || unit_counts(&word) != Some(Counts::Container) {
        return None;
    }
    let rest = rest.trim();
    let of = ["of ", "@", "x ", "×"]
        .iter()
        .find_map(|of| rest.strip_prefix(of));
    let inner = of.unwrap_or_else(|| rest.trim_start_matches(['/', '(', ',', '-', ' ']));
    let (each, rest) = number(inner.trim_start())?;
    let (pieces, rest) = unit_word(rest);
    let ends = matches!(rest.trim(), "" | ")");
    let fits = each > 0 && ends && unit_counts(&pieces) == Some(Counts::Pieces);
    let clear = of.is_some() || !pieces.is_empty();
    fits.then_some(UnitOf { each, clear })
}
