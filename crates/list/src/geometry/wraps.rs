//! A row whose texts take several lines is one row again, where the page shows it: by rules drawn between rows, by
//! lines that stand closer than rows do, or because the next word would not have fitted on the line above.
//!
//! What the page does not show stays a line of its own; the reader of tables may still join it by its words.

use super::Page;
use super::cells::{self, Cell};
use super::gutters::Columns;
use super::lines::median;
use crate::table::line_kind::is_total;
use crate::table::quantity;

/// A line of a table in its columns.
#[derive(Clone, Debug)]
pub struct Row<'a> {
    /// A cell for each column.
    pub cells: Vec<Cell<'a>>,
    /// Which page, from 0.
    pub page: usize,
    /// Top of its words.
    pub top: f32,
    /// Their bottom.
    pub bottom: f32,
}

impl Row<'_> {
    fn height(&self) -> f32 {
        (self.bottom - self.top).max(0.01)
    }

    fn filled(&self) -> impl Iterator<Item = usize> {
        let cells = self.cells.iter().enumerate();
        cells
            .filter(|(_, cell)| !cell.pieces.is_empty())
            .map(|(column, _)| column)
    }
}

/// What is known of a table's rows.
struct Table<'t> {
    /// Columns of numbers and codes: each row has some, no further line of a row has any.
    keys: Vec<bool>,
    /// The column that says what a thing is: the widest text.
    text: usize,
    /// A gap below this is one within a row.
    tight: Option<f32>,
    columns: &'t Columns,
    /// Rules that run over most of the table, by page: top of each, from the top.
    level: Vec<Vec<f32>>,
    /// Rules stand between most rows.
    ruled: bool,
}

/// Joins the lines of a row.
pub fn join<'a>(rows: Vec<Row<'a>>, columns: &Columns, pages: &[Page]) -> Vec<Row<'a>> {
    let Some(table) = Table::of(&rows, columns, pages) else {
        return rows;
    };
    if let Some(goes) = table.bands(&rows) {
        return gather(rows, &goes);
    }
    // Where each line goes: to itself, or to the row at that place.
    let mut goes: Vec<usize> = (0..rows.len()).collect();
    let mut at = 0;
    while at < rows.len() {
        if table.is_row(&rows[at]) {
            at += 1;
            continue;
        }
        let end = (at..rows.len())
            .find(|next| table.is_row(&rows[*next]) || rows[*next].page != rows[at].page)
            .unwrap_or(rows.len());
        let same = |row: &usize| rows[*row].page == rows[at].page && table.is_row(&rows[*row]);
        let above = at.checked_sub(1).filter(same);
        let below = Some(end).filter(|row| *row < rows.len()).filter(same);
        table.share(&rows, at..end, above, below, &mut goes);
        at = end.max(at + 1);
    }
    gather(rows, &goes)
}

/// Puts each line into the row that it goes to, in the order from the top.
fn gather<'a>(rows: Vec<Row<'a>>, goes: &[usize]) -> Vec<Row<'a>> {
    let mut joined: Vec<Option<Row<'a>>> = (0..rows.len()).map(|_| None).collect();
    for (index, row) in rows.into_iter().enumerate() {
        match &mut joined[goes[index]] {
            Some(whole) => {
                for (cell, more) in whole.cells.iter_mut().zip(row.cells) {
                    cell.pieces.extend(more.pieces);
                }
                whole.bottom = whole.bottom.max(row.bottom);
            }
            empty => *empty = Some(row),
        }
    }
    joined.into_iter().flatten().collect()
}

impl<'t> Table<'t> {
    fn of(rows: &[Row<'_>], columns: &'t Columns, pages: &[Page]) -> Option<Self> {
        let width = columns.len();
        let mut full: Vec<&Row<'_>> = rows
            .iter()
            .filter(|row| row.filled().count() >= 2)
            .collect();
        // Where every number stands between the lines of its text, no line has two cells.
        let split = full.len() * 4 < rows.len();
        if split {
            full = rows.iter().collect();
        }
        let texts = |column: usize| {
            full.iter()
                .map(move |row| row.cells[column].text())
                .filter(|text| !text.is_empty())
        };
        let is_key = |column: usize| {
            let (mut filled, mut short) = (0, 0);
            for text in texts(column).take(300) {
                filled += 1;
                let digit = text.contains(|c: char| c.is_ascii_digit());
                short += usize::from(
                    digit && text.chars().count() <= 12 && text.split(' ').count() <= 2,
                );
            }
            (filled * 2 >= full.len().min(300) || split && filled > 1)
                && short * 10 >= filled * 7
                && filled > 0
        };
        let keys: Vec<bool> = (0..width).map(is_key).collect();
        let letters = |column: &usize| {
            let counts = texts(*column).take(300);
            counts
                .map(|text| text.chars().filter(|c| c.is_alphabetic()).count())
                .sum::<usize>()
        };
        let text = (0..width)
            .filter(|column| !keys[*column])
            .max_by_key(letters)?;
        if !keys.contains(&true) {
            return None;
        }
        let mut table = Self {
            keys,
            text,
            tight: None,
            columns,
            level: pages.iter().map(|page| over(page, columns)).collect(),
            ruled: false,
        };
        table.tight = table.tight(rows);
        let pairs = rows.windows(2).filter(|pair| {
            pair[0].page == pair[1].page && table.is_row(&pair[0]) && table.is_row(&pair[1])
        });
        let (between, parted) = pairs.fold((0, 0), |(between, parted), pair| {
            (
                between + 1,
                parted + usize::from(table.rule_between(&pair[0], &pair[1])),
            )
        });
        table.ruled = parted * 10 >= between * 8 && table.level.iter().any(|rules| rules.len() > 3);
        Some(table)
    }

    /// A row has a number or a code; a sum is a line of its own, too.
    fn is_row(&self, row: &Row<'_>) -> bool {
        let line = cells::as_line(&row.cells);
        row.filled().any(|column| self.keys[column]) || is_total(&line)
    }

    /// Finds the gap that tells lines of one row from rows: less than what is between two rows of one line each, or,
    /// where there are none, between the two sizes of gaps that there are.
    fn tight(&self, rows: &[Row<'_>]) -> Option<f32> {
        let pairs = || rows.windows(2).filter(|pair| pair[0].page == pair[1].page);
        let gap = |pair: &[Row<'_>]| pair[1].top - pair[0].bottom;
        let height = median(rows.iter().map(Row::height))?;
        let plain = pairs().filter(|pair| self.is_row(&pair[0]) && self.is_row(&pair[1]));
        let mut between: Vec<f32> = plain.map(gap).collect();
        if between.len() >= 3 {
            between.sort_by(f32::total_cmp);
            // A fifth of the way up: a section's space above some rows does not count.
            return Some(between[between.len() / 5] - 0.12 * height);
        }
        let mut all: Vec<f32> = pairs().map(gap).collect();
        all.sort_by(f32::total_cmp);
        let (low, high) = (all.get(all.len() / 5)?, all.get(all.len() * 4 / 5)?);
        (high - low > 0.2 * height).then(|| f32::midpoint(*low, *high))
    }

    fn rule_between(&self, above: &Row<'_>, below: &Row<'_>) -> bool {
        let (from, to) = (
            f32::midpoint(above.top, above.bottom),
            f32::midpoint(below.top, below.bottom),
        );
        self.level.get(above.page).is_some_and(|rules| {
            let first = rules.partition_point(|y| *y <= from);
            rules.get(first).is_some_and(|y| *y < to)
        })
    }

    /// Where rules part the rows, all lines between two rules are one row. They part rows, not groups of rows, when
    /// hardly any stretch between them has two numbers in the column that has most.
    fn bands(&self, rows: &[Row<'_>]) -> Option<Vec<usize>> {
        let numbers = |column: &usize| {
            let texts = rows.iter().map(|row| row.cells[*column].text());
            texts.filter(|text| is_number(text)).count()
        };
        let counted = (0..self.keys.len())
            .filter(|c| self.keys[*c])
            .max_by_key(numbers)?;
        let mut goes: Vec<usize> = (0..rows.len()).collect();
        let (mut bands, mut several, mut longest) = (0, 0, 0);
        let mut start = 0;
        while start < rows.len() {
            let end = (start + 1..rows.len())
                .find(|at| {
                    rows[*at].page != rows[start].page
                        || self.rule_between(&rows[at - 1], &rows[*at])
                })
                .unwrap_or(rows.len());
            let held = &rows[start..end];
            let numbers = held
                .iter()
                .filter(|row| is_number(&row.cells[counted].text()));
            let numbers = numbers.count();
            if numbers > 0 && self.framed(&rows[start], &rows[end - 1]) {
                bands += 1;
                several += usize::from(numbers > 1);
                longest = longest.max(end - start);
                goes[start..end].fill(start);
            }
            start = end;
        }
        let parted = bands >= 3 && several * 10 <= bands && longest <= 12;
        parted.then_some(goes)
    }

    /// Whether rules run above the first and below the last of some lines.
    fn framed(&self, first: &Row<'_>, last: &Row<'_>) -> bool {
        self.level.get(first.page).is_some_and(|rules| {
            rules.first().is_some_and(|y| *y < first.bottom)
                && rules.last().is_some_and(|y| *y > last.top)
        })
    }

    /// Shares lines without a number between the row above and the row below them.
    fn share(
        &self,
        rows: &[Row<'_>],
        loose: std::ops::Range<usize>,
        above: Option<usize>,
        below: Option<usize>,
        goes: &mut [usize],
    ) {
        // From the row above downwards as far as it goes, then from the row below upwards.
        let down = above.map_or(0, |row| self.reach(rows, row, loose.clone()));
        let up = below.map_or(0, |row| self.reach(rows, row, loose.clone().rev()));
        let (start, end) = (loose.start, loose.end);
        let count = end - start;
        let lacks = |row: Option<usize>| {
            row.is_some_and(|row| rows[row].cells[self.text].pieces.is_empty())
        };
        // Both may claim a line: the widest gap among them parts the rows; where all are alike, a row that lacks its
        // text has lines above and below, and otherwise a row begins with its first line.
        let down = if down + up <= count {
            down
        } else {
            self.parting(rows, start..end, above, below)
                .unwrap_or(match (lacks(above), lacks(below)) {
                    (true, true) => count / 2,
                    (false, true) => 0,
                    _ => count,
                })
                .clamp(count - up, down)
        };
        let up = up.min(count - down);
        if let Some(row) = above {
            let row = goes[row];
            goes[start..start + down].fill(row);
        }
        // The row below takes the place of the first of its lines, so that they stay in order.
        if let Some(row) = below
            && up > 0
        {
            goes[end - up..=row].fill(end - up);
        }
    }

    /// Counts the lines that go with a row, one after the other away from it.
    fn reach(&self, rows: &[Row<'_>], row: usize, away: impl Iterator<Item = usize>) -> usize {
        let mut last = row;
        let mut count = 0;
        for at in away {
            if !self.goes_with(rows, last, at, row) {
                break;
            }
            last = at;
            count += 1;
        }
        count
    }

    /// Whether a line is of the same row as the line beside it, `last`.
    fn goes_with(&self, rows: &[Row<'_>], last: usize, at: usize, row: usize) -> bool {
        let (upper, lower) = if last < at { (last, at) } else { (at, last) };
        let (above, below) = (&rows[upper], &rows[lower]);
        if self.rule_between(above, below) {
            return false;
        }
        if self.ruled {
            return true;
        }
        let size = rows[at].height() / rows[row].height();
        // A further line of a text has no words in columns that the row leaves empty, but for its own text.
        let beside = rows[at]
            .filled()
            .all(|column| column == self.text || !rows[row].cells[column].pieces.is_empty());
        if !(0.7..1.3).contains(&size) || !beside {
            return false;
        }
        let gap = below.top - above.bottom;
        if self.tight.is_some_and(|tight| gap < tight) {
            return true;
        }
        // The gap says nothing: was there no room left above, and is it close?
        last < at && gap < 0.9 * below.height() && self.had_no_room(above, below)
    }

    /// Whether the first word of a text's line would not have fitted on the line above it.
    fn had_no_room(&self, above: &Row<'_>, below: &Row<'_>) -> bool {
        let (over, under) = (
            &above.cells[self.text].pieces,
            &below.cells[self.text].pieces,
        );
        let only = below.filled().eq([self.text]);
        let (Some(first), Some(_)) = (under.first(), over.first()) else {
            return false;
        };
        let [left, right] = cells::span(over);
        let level = (left - first.place[0]).abs() < 0.5 * below.height();
        let word = first.place[2] - first.place[0];
        only && level && self.text > 0 && right + word > self.columns.right(self.text)
    }

    /// Returns how many loose lines stand above the widest gap, if one is clearly the widest.
    fn parting(
        &self,
        rows: &[Row<'_>],
        loose: std::ops::Range<usize>,
        above: Option<usize>,
        below: Option<usize>,
    ) -> Option<usize> {
        let (first, last) = (above?, below?);
        let gaps: Vec<f32> = (first..last)
            .map(|at| rows[at + 1].top - rows[at].bottom)
            .collect();
        let widest = (0..gaps.len()).max_by(|a, b| gaps[*a].total_cmp(&gaps[*b]))?;
        let clear = gaps.iter().enumerate().all(|(at, gap)| {
            at == widest || gaps[widest] - gap > 0.12 * rows[loose.start].height()
        });
        clear.then_some(widest)
    }
}

fn is_number(text: &str) -> bool {
    quantity::read(text, "").is_some()
}

/// Returns the heights of rules that run over at least half of the table's width.
fn over(page: &Page, columns: &Columns) -> Vec<f32> {
    let (left, right) = (columns.left(0), columns.right(columns.len() - 1));
    let mut pieces: Vec<(f32, f32)> = super::level::rules(page)
        .into_iter()
        .filter(|[from, top, to, bottom]| to - from > 3.0 * (bottom - top))
        .map(|[from, top, to, bottom]| {
            let within = to.min(right) - from.max(left);
            (f32::midpoint(top, bottom), within.max(0.0))
        })
        .collect();
    pieces.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut rules: Vec<(f32, f32)> = Vec::new();
    for (y, length) in pieces {
        match rules.last_mut() {
            Some((at, sum)) if y - *at < 1.5 => *sum += length,
            _ => rules.push((y, length)),
        }
    }
    rules.retain(|(_, length)| *length >= 0.5 * (right - left));
    rules.into_iter().map(|(y, _)| y).collect()
}
