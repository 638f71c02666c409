//! What a line leaves to the row above: dittos, and a description that is not written again.

use crate::grid::Line;
use crate::table::columns::Columns;
use crate::table::ditto::{as_above, is_ditto};
use crate::table::line_kind::unnumbered;
use crate::table::quantity;

/// The line with what its dittos stand for, without the number that only counts the lines; nothing when it has
/// neither.
pub fn filled(line: &Line, before: Option<&[String]>, columns: &Columns) -> Option<Line> {
    let plain = if columns.numbered {
        unnumbered(line)
    } else {
        None
    };
    let line = plain.as_ref().unwrap_or(line);
    let mut filled: Option<Line> = None;
    let named: [Option<usize>; 7] = [
        columns.quantity,
        columns.unit,
        columns.code,
        columns.sub_kit,
        columns.shipment,
        columns.pack,
        Some(columns.description).filter(|_| columns.quantity.is_some()),
    ];
    let details = columns.details.iter().map(|(column, _)| *column);
    for column in named.into_iter().flatten().chain(details) {
        let (cell, above) = (
            line.cell(column),
            before.and_then(|cells| cells.get(column)),
        );
        let Some(above) = above.filter(|above| !above.is_empty() && !cell.is_empty()) else {
            continue;
        };
        let stands = if column == columns.description {
            as_above(cell, above)
        } else {
            is_ditto(cell).then(|| above.clone())
        };
        if let Some(text) = stands {
            filled.get_or_insert_with(|| line.clone()).cells[column] = text;
        }
    }
    if columns.quantity.is_some() {
        fill_description(line, before, columns, &mut filled);
    }
    filled.or(plain)
}

/// A row whose description is left out because it is that of the row above: it has a count, and something else
/// that tells it from a sum.
fn fill_description(
    line: &Line,
    before: Option<&[String]>,
    columns: &Columns,
    filled: &mut Option<Line>,
) {
    let above = before.and_then(|cells| cells.get(columns.description));
    let Some(above) = above.filter(|above| !above.is_empty()) else {
        return;
    };
    let says = |column: usize| line.cell(column).contains(char::is_alphanumeric);
    // Another code is another thing, whatever the words above are.
    let code_above = columns.code.and_then(|code| before?.get(code));
    let other = |code: usize| says(code) && code_above.is_none_or(|above| above != line.cell(code));
    let ditto = columns.code.is_some_and(|code| is_ditto(line.cell(code)));
    if columns.code.is_some_and(other) && !ditto {
        return;
    }
    let tells =
        columns.code.is_some_and(says) || columns.details.iter().any(|(column, _)| says(*column));
    if line.cell(columns.description).is_empty() && has_count(line, columns) && tells {
        let filled = filled.get_or_insert_with(|| line.clone());
        if filled.cells.len() <= columns.description {
            filled.cells.resize(columns.description + 1, String::new());
        }
        filled.cells[columns.description] = above.clone();
    }
}

/// Whether the column of quantities holds one.
pub fn has_count(line: &Line, columns: &Columns) -> bool {
    columns
        .quantity
        .is_some_and(|c| quantity::read(line.cell(c), "").is_some())
}
