//! The words of a line into the columns of its table.

use super::gutters::Columns;
use super::lines::{Piece, TextLine, median};
use crate::grid::Line;

/// What stands in one column of a line.
#[derive(Clone, Debug, Default)]
pub struct Cell<'a> {
    /// From left to right, line after line.
    pub pieces: Vec<Piece<'a>>,
    /// They stand at some angle, so that their places do not tell whether they touch.
    pub apart: bool,
}

impl Cell<'_> {
    /// Returns what it says. Words that touch are one, as a program may have set them in pieces.
    pub fn text(&self) -> String {
        let mut text = String::new();
        let mut last: Option<&Piece<'_>> = None;
        for piece in &self.pieces {
            let gap = last.map_or(0.0, |last| piece.place[0] - last.place[2]);
            let below = last.is_some_and(|last| piece.place[1] > last.waist());
            let joins = |c: char| c.is_alphanumeric();
            let code = text
                .strip_suffix('-')
                .is_some_and(|text| text.ends_with(joins));
            if below && text.ends_with('\u{ad}') {
                text.pop();
            } else if below && code && piece.text.starts_with(joins) {
                // A code or a size was broken at its hyphen: GP- over 60.
            } else if last.is_some()
                && (self.apart || below || gap > 0.1 * piece.height().min(2.0 * piece.letter()))
            {
                text.push(' ');
            }
            text.push_str(piece.text);
            last = Some(piece);
        }
        // A soft hyphen that broke no line says nothing.
        text.replace('\u{ad}', "")
    }
}

/// How wide a space is, as a share of a line's height.
#[derive(Clone, Copy, Debug)]
pub struct Space(f32);

impl Space {
    /// Finds it: the gap between words that is most frequent and no wider than a letter and a quarter.
    pub fn of(lines: &[TextLine<'_>]) -> Self {
        let gaps = |line: &TextLine<'_>| -> Vec<f32> {
            let pairs = line.pieces.windows(2);
            pairs
                .map(|pair| (pair[1].place[0] - pair[0].place[2]) / line.height())
                .collect()
        };
        let letters = lines.iter().flat_map(|line| {
            line.pieces
                .iter()
                .map(|piece| piece.letter() / line.height())
        });
        let letter = median(letters).unwrap_or(0.5).clamp(0.05, 2.0);
        const STEPS: usize = 24;
        let step = letter * 1.3 / STEPS as f32;
        let mut counts = [0_u32; STEPS];
        for gap in lines.iter().flat_map(gaps) {
            // A gap of no width is within a word.
            let at = gap / step;
            if at >= 2.0 && (at as usize) < STEPS {
                counts[at as usize] += 1;
            }
        }
        let near = |at: usize| {
            counts[at.saturating_sub(1)..(at + 2).min(STEPS)]
                .iter()
                .sum::<u32>()
        };
        let best = (0..STEPS).rev().max_by_key(|at| near(*at)).unwrap_or(0);
        if near(best) < 6 {
            return Self(letter * 0.55);
        }
        Self((best as f32 + 0.5) * step)
    }

    /// Returns its width in a line of this height.
    pub fn width(self, height: f32) -> f32 {
        self.0 * height
    }
}

/// Splits a line where the gap is clearly wider than a space; each part is a stretch of its words.
pub fn runs<'l, 'a>(line: &'l TextLine<'a>, space: Space) -> Vec<&'l [Piece<'a>]> {
    let far = space.width(line.height()) * 1.8;
    let mut runs = Vec::new();
    let mut start = 0;
    let mut right = f32::MIN;
    for (index, piece) in line.pieces.iter().enumerate() {
        if index > start && piece.place[0] - right > far {
            runs.push(&line.pieces[start..index]);
            start = index;
        }
        right = right.max(piece.place[2]);
    }
    runs.push(&line.pieces[start..]);
    runs
}

/// Returns each run as a cell: a line that stands in no table.
pub fn of_runs<'a>(line: &TextLine<'a>, space: Space) -> Vec<Cell<'a>> {
    let runs = runs(line, space).into_iter();
    let cells = runs.map(|run| Cell {
        pieces: run.to_vec(),
        apart: false,
    });
    cells.collect()
}

/// Returns the cells as the reader of tables takes them, to ask it what kind of line this is.
pub fn as_line(cells: &[Cell<'_>]) -> Line {
    Line {
        cells: cells.iter().map(Cell::text).collect(),
        ..Line::default()
    }
}

/// Puts each word into its column.
///
/// A text that runs on over a gap between columns stays in the column where it began: words that follow at the
/// distance of a space are taken apart only where this line, too, leaves the gap free.
pub fn of_columns<'a>(line: &TextLine<'a>, columns: &Columns, space: Space) -> Vec<Cell<'a>> {
    let mut cells = vec![Cell::default(); columns.len()];
    let near = space.width(line.height()) * 1.5;
    let slack = space.width(line.height()) * 0.25;
    let mut last: Option<(usize, f32)> = None;
    for piece in &line.pieces {
        let mut column = columns.at(piece.middle());
        if let Some((before, right)) = last
            && column != before
            && piece.place[0] - right < near
        {
            let free = right <= columns.right(before) + slack
                && piece.place[0] >= columns.left(column) - slack;
            // A border that is drawn parts words however near they stand.
            let parted = columns.drawn_between(right, piece.place[0]);
            if !free && !parted {
                column = before;
            }
        }
        cells[column].pieces.push(piece.clone());
        let right = last
            .map_or(f32::MIN, |(_, right)| right)
            .max(piece.place[2]);
        last = Some((column, right));
    }
    cells
}

/// Puts the words above the columns into them: a run goes to the column that it covers most of; one that stands over
/// several columns is taken word by word.
pub fn of_heading<'a>(line: &TextLine<'a>, columns: &Columns, space: Space) -> Vec<Cell<'a>> {
    let mut cells = vec![Cell::default(); columns.len()];
    for run in runs(line, space) {
        let [left, right] = span(run);
        let over = columns.overlapping(left, right);
        if over.len() <= 1 {
            let column = over.start.min(columns.len() - 1);
            let column = if over.is_empty() {
                columns.at(f32::midpoint(left, right))
            } else {
                column
            };
            cells[column].pieces.extend(run.iter().cloned());
            continue;
        }
        for piece in run {
            let [left, _, right, _] = piece.place;
            let shared = |column: &usize| {
                right.min(columns.right(*column)) - left.max(columns.left(*column))
            };
            let best = over.clone().max_by(|a, b| shared(a).total_cmp(&shared(b)));
            let column = best
                .filter(|column| shared(column) > 0.0)
                .unwrap_or_else(|| columns.at(piece.middle()));
            cells[column].pieces.push(piece.clone());
        }
    }
    cells
}

/// Returns left and right of some words.
pub fn span(pieces: &[Piece<'_>]) -> [f32; 2] {
    pieces
        .iter()
        .fold([f32::MAX, f32::MIN], |[left, right], piece| {
            [left.min(piece.place[0]), right.max(piece.place[2])]
        })
}
