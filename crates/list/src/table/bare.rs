//! A table with nothing above its columns.

use super::{At, Reading};
use crate::grid::Line;
use crate::row::Why;
use crate::table::columns::{Columns, SAMPLE, columns};
use crate::table::counted::count;
use crate::table::header;
use crate::table::line_kind::{
    are_numbered, is_section, is_title, is_total, names_paper, unnumbered,
};
use crate::table::line_numbers::set_apart;
use crate::table::notes::is_note;
use crate::table::struck::is_struck;

impl Reading {
    /// Reads it; the first line with a quantity ends the header.
    pub(super) fn without_heading(&mut self, lines: &mut [Line], here: &mut At<'_>) {
        self.warnings.extend(set_apart(lines));
        let is_table_line =
            |line: &Line| !header::is_entry(line) && !is_struck(line) && !is_note(&line.text());
        let likely: Vec<Line> = lines
            .iter()
            .filter(|line| is_table_line(line))
            .cloned()
            .collect();
        let found = columns(None, &likely).map(|columns| in_words_where_most_are(columns, &likely));
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
        // A thing with numbers of which none is clearly its count is a row for a person to fill in.
        let is_row = |line: &Line| {
            is_table_line(line)
                && !is_total(line)
                && !names_paper(line)
                && count(line, &columns).is_some()
        };
        while first > 0 && columns.quantity.is_none() && is_row(&lines[first - 1]) {
            first -= 1;
        }
        // The line just above may head the first section; a title names the paper or the order.
        if first > 0 && is_section(&lines[first - 1], lines.get(first)) {
            first -= usize::from(!is_title(&lines[first - 1]));
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

/// A list of bare lines in which one has a tab counts in words all the same.
fn in_words_where_most_are(columns: Columns, lines: &[Line]) -> Columns {
    let in_words = Columns {
        quantity: None,
        ..columns.clone()
    };
    let counted = |columns: &Columns| {
        let counts =
            |line: &&Line| count(line, columns).is_some_and(|read| read.quantity.is_some());
        lines.iter().take(SAMPLE).filter(counts).count()
    };
    if columns.quantity.is_some() && counted(&columns) * 2 < counted(&in_words) {
        in_words
    } else {
        columns
    }
}
