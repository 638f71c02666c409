//! Words into lines of text.

use super::{Page, Word};

/// A word of a line.
#[derive(Clone, Debug)]
pub struct Piece<'a> {
    /// What it says.
    pub text: &'a str,
    /// Left, top, right, bottom once the page stands level.
    pub place: [f32; 4],
    /// The same on the page as it came.
    pub on_page: [f32; 4],
    /// How sure it was recognised.
    pub sure: f32,
    /// A line is drawn through it.
    pub struck: bool,
}

impl<'a> Piece<'a> {
    /// A word as it stands.
    pub fn of(word: &'a Word) -> Self {
        Self {
            text: word.text.trim(),
            place: word.place,
            on_page: word.place,
            sure: word.sure,
            struck: word.struck,
        }
    }

    /// Returns its height, never zero.
    pub fn height(&self) -> f32 {
        (self.place[3] - self.place[1]).max(0.01)
    }

    /// Returns the middle between left and right.
    pub fn middle(&self) -> f32 {
        f32::midpoint(self.place[0], self.place[2])
    }

    /// Returns the middle between top and bottom.
    pub fn waist(&self) -> f32 {
        f32::midpoint(self.place[1], self.place[3])
    }

    /// Returns the width of one of its letters.
    pub fn letter(&self) -> f32 {
        (self.place[2] - self.place[0]) / self.text.chars().count().max(1) as f32
    }
}

/// Words beside each other, from the left.
#[derive(Clone, Debug)]
pub struct TextLine<'a> {
    /// Which page, from 0.
    pub page: usize,
    /// Its words.
    pub pieces: Vec<Piece<'a>>,
    /// Top of its ordinary words.
    pub top: f32,
    /// Their bottom.
    pub bottom: f32,
}

impl TextLine<'_> {
    /// Returns the height of its ordinary words, never zero.
    pub fn height(&self) -> f32 {
        (self.bottom - self.top).max(0.01)
    }

    /// Returns all that it says.
    pub fn text(&self) -> String {
        let texts: Vec<&str> = self.pieces.iter().map(|piece| piece.text).collect();
        texts.join(" ")
    }
}

/// Takes the words that say something; those that stand nowhere come second.
pub fn pieces(page: &Page) -> (Vec<Piece<'_>>, Vec<Piece<'_>>) {
    let words = page
        .words
        .iter()
        .filter(|word| !word.text.trim().is_empty());
    words.map(Piece::of).partition(|piece| {
        let [left, top, right, bottom] = piece.place;
        // Beyond a million points nothing is a page, and small numbers are lost beside it.
        piece.place.iter().all(|at| at.abs() < 1.0e6) && left <= right && top <= bottom
    })
}

/// Parts large words that lie across rows from the others: COPY, DRAFT, set over the page as a mark.
///
/// A title is as large, but nothing lies on it.
pub fn across_rows(pieces: Vec<Piece<'_>>) -> (Vec<Piece<'_>>, Vec<Piece<'_>>) {
    /// A page of more large words is a page of large print.
    const MOST: usize = 12;
    let Some(usual) = median(pieces.iter().map(Piece::height)) else {
        return (pieces, Vec::new());
    };
    let is_large = |piece: &Piece<'_>| piece.height() > 2.2 * usual;
    if pieces.iter().filter(|piece| is_large(piece)).count() > MOST {
        return (pieces, Vec::new());
    }
    let mut across: Vec<bool> = pieces
        .iter()
        .map(|large| is_large(large) && lies_across(large, &pieces, usual))
        .collect();
    // Its other words may lie beside the rows.
    let found: Vec<[f32; 4]> = (pieces.iter().zip(&across))
        .filter(|(_, across)| **across)
        .map(|(piece, _)| piece.place)
        .collect();
    for (piece, across) in pieces.iter().zip(&mut across) {
        let level = |other: &[f32; 4]| (other[1]..other[3]).contains(&piece.waist());
        *across |= is_large(piece) && found.iter().any(level);
    }
    let mut across = across.into_iter();
    pieces
        .into_iter()
        .partition(|_| !across.next().unwrap_or(false))
}

/// Whether words of two rows or more lie on a large one.
fn lies_across(large: &Piece<'_>, pieces: &[Piece<'_>], usual: f32) -> bool {
    let [left, top, right, bottom] = large.place;
    let on_it = pieces.iter().filter(|piece| {
        piece.height() < 1.7 * usual
            && (top..bottom).contains(&piece.waist())
            && piece.place[0] < right
            && left < piece.place[2]
    });
    let (high, low) = on_it.fold((f32::MAX, f32::MIN), |(high, low), piece| {
        (high.min(piece.waist()), low.max(piece.waist()))
    });
    low - high > 0.9 * usual
}

/// Makes lines of level words, from the top; in each the words from the left.
///
/// A word belongs to the line that it shares half its height with. Words much taller than the page's are placed
/// last: a title must not bind two rows together.
pub fn lines(mut pieces: Vec<Piece<'_>>, page: usize) -> Vec<TextLine<'_>> {
    let usual = median(pieces.iter().map(Piece::height)).unwrap_or(1.0);
    pieces.sort_by(|a, b| a.waist().total_cmp(&b.waist()));
    let (tall, plain): (Vec<_>, Vec<_>) = pieces
        .into_iter()
        .partition(|piece| piece.height() > usual * 1.7);
    let mut lines = Vec::new();
    for piece in plain {
        place(piece, &mut lines, page, 0);
    }
    lines.iter_mut().for_each(settle);
    lines.sort_by(|a, b| a.top.total_cmp(&b.top));
    let below = lines.len();
    for piece in tall {
        let [_, top, _, bottom] = piece.place;
        let first = lines[..below].partition_point(|line: &TextLine<'_>| line.bottom <= top);
        let reached = lines[first..below]
            .iter()
            .take_while(|line| line.top < bottom)
            .filter(|line| (top..bottom).contains(&f32::midpoint(line.top, line.bottom)))
            .count();
        if reached == 1 {
            let within = &mut lines[first..below];
            let held = within
                .iter_mut()
                .find(|line| (top..bottom).contains(&f32::midpoint(line.top, line.bottom)));
            if let Some(line) = held {
                line.pieces.push(piece);
            }
        } else {
            place(piece, &mut lines, page, below);
        }
    }
    lines.iter_mut().for_each(settle);
    lines.sort_by(|a, b| (a.top + a.bottom).total_cmp(&(b.top + b.bottom)));
    lines
}

/// Puts a word into the line that it shares most height with, among those from `from` on, or begins one.
fn place<'a>(piece: Piece<'a>, lines: &mut Vec<TextLine<'a>>, page: usize, from: usize) {
    /// Lines are made from the top, so only the last few can still grow.
    const OPEN: usize = 8;
    let shared = |line: &TextLine<'_>| {
        let both = line.bottom.min(piece.place[3]) - line.top.max(piece.place[1]);
        both / piece.height().min(line.height())
    };
    let open = lines.len().saturating_sub(OPEN).max(from);
    let best = lines[open..]
        .iter_mut()
        .map(|line| (shared(line), line))
        .filter(|(share, _)| *share >= 0.5)
        .max_by(|a, b| a.0.total_cmp(&b.0));
    let Some((_, line)) = best else {
        lines.push(TextLine {
            page,
            top: piece.place[1],
            bottom: piece.place[3],
            pieces: vec![piece],
        });
        return;
    };
    // The line is where its taller words are: a small raised figure does not lift it.
    if piece.height() > line.height() * 1.15 {
        (line.top, line.bottom) = (piece.place[1], piece.place[3]);
    } else if piece.height() > line.height() * 0.85 {
        let n = line.pieces.len().min(8) as f32;
        line.top = (line.top * n + piece.place[1]) / (n + 1.0);
        line.bottom = (line.bottom * n + piece.place[3]) / (n + 1.0);
    }
    line.pieces.push(piece);
}

/// Sorts a finished line and says where it stands.
fn settle(line: &mut TextLine<'_>) {
    line.pieces.sort_by(|a, b| {
        a.place[0]
            .total_cmp(&b.place[0])
            .then(a.waist().total_cmp(&b.waist()))
    });
    let tops = median(line.pieces.iter().map(|piece| piece.place[1]));
    let bottoms = median(line.pieces.iter().map(|piece| piece.place[3]));
    if let Some((top, bottom)) = tops.zip(bottoms) {
        (line.top, line.bottom) = (top, bottom);
    }
}

/// Makes lines of words that stand at any angle: those that follow each other closely, in the order they came.
pub fn stamps(pieces: Vec<Piece<'_>>, page: usize) -> Vec<TextLine<'_>> {
    let mut lines: Vec<TextLine<'_>> = Vec::new();
    for piece in pieces {
        let near = |line: &TextLine<'_>| {
            let Some(last) = line.pieces.last() else {
                return false;
            };
            // A turned word's box is as high as the word is long, so its lesser side is nearer to its size.
            let size = |p: &Piece<'_>| p.height().min((p.place[2] - p.place[0]).max(0.01));
            let reach = size(&piece).max(size(last));
            (0..2).all(|axis| {
                let gap = piece.place[axis].max(last.place[axis])
                    - piece.place[axis + 2].min(last.place[axis + 2]);
                gap <= reach
            })
        };
        match lines.last_mut().filter(|line| near(line)) {
            Some(line) => line.pieces.push(piece),
            None => lines.push(TextLine {
                page,
                top: piece.place[1],
                bottom: piece.place[3],
                pieces: vec![piece],
            }),
        }
    }
    lines
}

/// Returns the middle one of some numbers.
pub fn median(numbers: impl Iterator<Item = f32>) -> Option<f32> {
    let mut numbers: Vec<f32> = numbers.collect();
    let middle = numbers.len() / 2;
    (!numbers.is_empty()).then(|| *numbers.select_nth_unstable_by(middle, f32::total_cmp).1)
}
