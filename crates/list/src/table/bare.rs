//! A table with nothing above its columns.

use super::{At, Reading};
use crate::grid::Line;
use crate::row::Why;
use crate::table::columns::{Columns, columns};
use crate::table::counted::count;
use crate::table::header;
use crate::table::line_kind::{are_numbered, is_section, is_total, unnumbered};
use crate::table::notes::is_note;
use crate::table::struck::is_struck;

impl Reading {
    /// Reads it; the first line with a quantity ends the header.
    pub(super) fn without_heading(&mut self, lines: &mut [Line], here: &mut At<'_>) {
        let is_table_line =
            |line: &Line| !header::is_entry(line) && !is_struck(line) && !is_note(&line.text());
        let likely: Vec<Line> = lines
            .iter()
            .filter(|line| is_table_line(line))
            .cloned()
            .collect();
        let found = columns(None, &likely);
        let numbered = found
            .as_ref()
            .is_some_and(|columns| columns.quantity.is_none())
            && are_numbered(&likely);
        let counts = |line: &Line, columns: &Columns| {
            let plain = if numbered { unnumbered(line) } else { None };
            count(plain.as_ref().unwrap_or(line), columns)
                .is_some_and(|counted| counted.quantity.is_some())
        };
        let first = found.as_ref().and_then(|columns| {
            lines
                .iter()
                .position(|line| is_table_line(line) && !is_total(line) && counts(line, columns))
        });
        let Some((columns, mut first)) = found.zip(first) else {
            for line in lines {
                self.above(line, here.sheet, Why::NoTable);
            }
            return;
        };
        // The line just above may head the first section; a title names the paper or the order.
        if first > 0 && is_section(&lines[first - 1], lines.get(first)) {
            let text = lines[first - 1].text();
            let lower = text.to_lowercase();
            let title = [
                "packing", "list", "order", "gothic", "house", "shipped", "kit for", "went on",
                "ferry",
            ]
            .iter()
            .any(|word| lower.contains(word));
            first -= usize::from(!title && !text.contains(|c: char| c.is_ascii_digit()));
        }
        for line in &lines[..first] {
            self.above(line, here.sheet, Why::Header);
        }
        let columns = Columns {
            numbered,
            ..columns
        };
        self.body(&mut lines[first..], &columns, here);
    }
}
