//! What a row takes from beyond its own count: the kits of its section, what follows later, how surely it was read.

use crate::grid::{Line, Seen};
use crate::row::Row;
use crate::table::columns::Columns;
use crate::table::number::MOST;
use crate::table::quantity::Quantity;
use crate::table::section::Section;
use crate::table::to_follow::to_follow;

/// Words that an engine was less sure of than this are a doubt of the row, and so is a count: a digit too many costs more
/// than a letter. Judged, not fitted.
const SURE_ENOUGH: f32 = 0.75;
const COUNT_SURE_ENOUGH: f32 = 0.8;

/// The count for all kits of a section. Where the heading says that its rows are for one kit, it is multiplied; where
/// it only says how many kits there are, it stands. Both are said.
pub fn for_all_kits(read: Quantity, section: &Section, columns: &Columns) -> Quantity {
    let name = &section.sub_kit;
    let per_kit = section.per_kit || columns.per_kit;
    match section.kits {
        Some(kits) if per_kit => {
            let one = read.pieces;
            match one.checked_mul(kits).filter(|n| n.abs() <= MOST) {
                Some(pieces) => Quantity { pieces, ..read }
                    .doubted(format!("{kits} {name} with {one} in each are {pieces}")),
                None => read,
            }
        }
        Some(kits) => read.doubted(format!(
            "{kits} {name} are said above: this was taken as what is in all, not in each"
        )),
        None if columns.per_kit && name.is_empty() => {
            read.doubted("this is for one kit; how many kits there are is not said")
        }
        None => read,
    }
}

/// The doubt of words that the row does not have and that were taken from the row above.
pub fn carried_from(
    line: &Line,
    read: &Line,
    columns: &Columns,
    above: Option<&Row>,
) -> Option<String> {
    let (own, taken) = (
        line.cell(columns.description),
        read.cell(columns.description),
    );
    let carried = own.is_empty() && !taken.is_empty();
    let row = above.filter(|_| carried)?.at.row;
    Some(format!(
        "the row has no words of its own; words taken from row {row}"
    ))
}

/// "-5" and nothing else: no count, and no word that says that things went back.
pub fn is_below_nought(written: &str) -> bool {
    let number = written.trim().strip_prefix(['-', '−', '–']);
    number.is_some_and(|n| {
        n.starts_with(|c: char| c.is_ascii_digit()) && n.bytes().all(|b| b.is_ascii_digit())
    })
}

/// What follows later by the row's own words, where no column says it.
pub fn later(written: &str, details: &str, ordered: Option<i64>) -> Option<i64> {
    if let Some(said) = to_follow(written) {
        return said.later.or(ordered.filter(|_| said.now.is_none()));
    }
    details
        .split(',')
        .find_map(|part| to_follow(part.trim())?.later)
}

/// The doubt of words that were not read surely off a picture; of the count before all others.
pub fn unsurely(seen: &Seen, count: Option<usize>) -> Option<String> {
    let of_count = count.and_then(|column| seen.sure.get(column).copied());
    if let Some(sure) = of_count.filter(|sure| *sure < COUNT_SURE_ENOUGH) {
        let sure = sure * 100.0;
        return Some(format!(
            "the count was read with {sure:.0} %: look at the strip"
        ));
    }
    let least = seen.sure.iter().copied().fold(1.0_f32, f32::min);
    (least < SURE_ENOUGH).then(|| format!("the words were not read surely, {:.0} %", least * 100.0))
}
