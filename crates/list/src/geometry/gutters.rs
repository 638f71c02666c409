//! The columns of a table by the gaps that run down it, and by the borders drawn in it.

use std::ops::Range;

use super::cells::{self, Space};
use super::lines::{Piece, TextLine, median};

/// Columns from the left.
#[derive(Clone, Debug, Default)]
pub struct Columns {
    /// Left and right of what stands in each.
    spans: Vec<[f32; 2]>,
    /// Where borders are drawn, from the left.
    drawn: Vec<f32>,
}

impl Columns {
    /// Returns how many; at least one.
    pub fn len(&self) -> usize {
        self.spans.len()
    }

    /// Returns the column at a place: gaps are shared between their neighbours.
    pub fn at(&self, x: f32) -> usize {
        let inner = self.spans.windows(2);
        inner
            .take_while(|pair| x >= f32::midpoint(pair[0][1], pair[1][0]))
            .count()
    }

    /// Returns the left of what stands in a column.
    pub fn left(&self, column: usize) -> f32 {
        self.spans.get(column).map_or(f32::MAX, |span| span[0])
    }

    /// Returns its right.
    pub fn right(&self, column: usize) -> f32 {
        self.spans.get(column).map_or(f32::MIN, |span| span[1])
    }

    /// Returns the columns that a stretch lies over.
    pub fn overlapping(&self, left: f32, right: f32) -> Range<usize> {
        let first = self.spans.partition_point(|span| span[1] <= left);
        let end = self.spans.partition_point(|span| span[0] < right);
        first..end.max(first)
    }

    /// Whether a border is drawn between two places.
    pub fn drawn_between(&self, left: f32, right: f32) -> bool {
        self.drawn
            .iter()
            .any(|x| left <= *x + 0.5 && *x <= right + 0.5)
    }
}

/// Finds the columns under a heading, if there is one. `upright` is where upright borders are drawn through most of
/// the table.
pub fn columns(
    heading: Option<&TextLine<'_>>,
    body: &[&TextLine<'_>],
    upright: &[f32],
    space: Space,
) -> Columns {
    let runs: Vec<Vec<&[Piece<'_>]>> = body.iter().map(|line| cells::runs(line, space)).collect();
    let width = median(body.iter().map(|line| space.width(line.height())))
        .or_else(|| heading.map(|line| space.width(line.height())))
        .unwrap_or(1.0);
    let headings = heading.map_or_else(Vec::new, |line| cells::runs(line, space));
    let heads: Vec<[f32; 2]> = headings.iter().map(|run| cells::span(run)).collect();
    if let Some(columns) = drawn(&runs, upright, width) {
        return columns;
    }
    let mut spans = gaps(&runs, width);
    spans = keep_wide(spans, &headings, width);
    under_headings(&mut spans, &heads);
    split_at(&mut spans, upright, &runs);
    if spans.is_empty() {
        spans.push([0.0, 0.0]);
    }
    Columns {
        spans,
        drawn: upright.to_vec(),
    }
}

/// A table with its outer borders and at least one inner one is divided by these alone.
fn drawn(runs: &[Vec<&[Piece<'_>]>], upright: &[f32], space: f32) -> Option<Columns> {
    let (first, last) = upright.first().zip(upright.last())?;
    let words = || runs.iter().flatten().flat_map(|run| run.iter());
    let inside = |piece: &&Piece<'_>| (*first..*last).contains(&piece.middle());
    let held = words().filter(inside).count();
    if upright.len() < 3 || held * 20 < words().count() * 19 {
        return None;
    }
    let between = upright.windows(2).filter(|pair| pair[1] - pair[0] > space);
    let spans: Vec<[f32; 2]> = between.map(|pair| [pair[0], pair[1]]).collect();
    (spans.len() >= 2).then(|| Columns {
        spans,
        drawn: upright.to_vec(),
    })
}

/// Finds the stretches that words stand in, over all lines of two runs or more. A few lines may run over a gap: notes
/// and totals do.
fn gaps(runs: &[Vec<&[Piece<'_>]>], space: f32) -> Vec<[f32; 2]> {
    let mut table: Vec<&Vec<&[Piece<'_>]>> = runs.iter().filter(|runs| runs.len() >= 2).collect();
    if table.is_empty() {
        table = runs.iter().collect();
    }
    let allowed = if table.len() < 12 {
        0
    } else {
        (table.len() * 6 / 100).max(1)
    };
    // Each word begins and ends; words of one line nearer than half a space are one.
    let mut ends: Vec<(f32, i32)> = Vec::new();
    for line in &table {
        let mut open: Option<[f32; 2]> = None;
        for piece in line.iter().flat_map(|run| run.iter()) {
            let [left, _, right, _] = piece.place;
            match &mut open {
                Some(word) if left - word[1] < space * 0.5 => word[1] = word[1].max(right),
                _ => {
                    if let Some([left, right]) = open.replace([left, right]) {
                        ends.extend([(left, 1), (right, -1)]);
                    }
                }
            }
        }
        if let Some([left, right]) = open {
            ends.extend([(left, 1), (right, -1)]);
        }
    }
    ends.sort_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(&a.1)));
    let mut spans: Vec<[f32; 2]> = Vec::new();
    let (mut depth, mut since) = (0, None);
    for (x, change) in ends {
        depth += change;
        match (depth > allowed as i32, since) {
            (true, None) => since = Some(x),
            (false, Some(left)) => {
                spans.push([left, x]);
                since = None;
            }
            _ => {}
        }
    }
    sparse(&mut spans, &table, space);
    spans
}

/// Adds columns that only a few lines fill: runs that stand wholly between the columns found.
fn sparse(spans: &mut Vec<[f32; 2]>, table: &[&Vec<&[Piece<'_>]>], space: f32) {
    let mut between: Vec<[f32; 2]> = Vec::new();
    for run in table.iter().flat_map(|line| line.iter()) {
        let [left, right] = cells::span(run);
        let apart = spans
            .iter()
            .all(|span| right + space * 0.9 < span[0] || span[1] + space * 0.9 < left);
        if apart {
            between.push([left, right]);
        }
    }
    between.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut joined: Vec<[f32; 2]> = Vec::new();
    for [left, right] in between {
        match joined.last_mut() {
            Some(last) if left <= last[1] + space * 0.5 => last[1] = last[1].max(right),
            _ => joined.push([left, right]),
        }
    }
    spans.extend(joined);
    spans.sort_by(|a, b| a[0].total_cmp(&b[0]));
}

/// Keeps a narrow gap only where two headings stand over its sides, one over each: equal words at the start of
/// descriptions make a gap, too, and so do the words of one heading with the counts and units below them.
fn keep_wide(spans: Vec<[f32; 2]>, heads: &[&[Piece<'_>]], space: f32) -> Vec<[f32; 2]> {
    let with_middle = |head: usize, from: f32, to: f32| {
        let stands = |piece: &Piece<'_>| (from..to).contains(&piece.middle());
        heads[head].iter().any(stands)
    };
    // Over the left side in its middle, or ending there; over the right side in its middle, or beginning there.
    let left_of = |head: usize, from: f32, border: f32| {
        let end = cells::span(heads[head])[1];
        with_middle(head, from, border) || (from < end && end <= border)
    };
    let right_of = |head: usize, border: f32, to: f32| {
        let start = cells::span(heads[head])[0];
        with_middle(head, border, to) || (border <= start && start < to)
    };
    let headed = |from: f32, border: f32, to: f32| {
        (0..heads.len()).any(|left| {
            left_of(left, from, border)
                && (0..heads.len()).any(|right| right != left && right_of(right, border, to))
        })
    };
    let mut kept: Vec<[f32; 2]> = Vec::new();
    for (index, span) in spans.iter().enumerate() {
        let next = spans
            .get(index + 1)
            .map_or(f32::MAX, |next| f32::midpoint(span[1], next[0]));
        let Some(last) = kept.last_mut() else {
            kept.push(*span);
            continue;
        };
        let gap = span[0] - last[1];
        let border = f32::midpoint(last[1], span[0]);
        let parted = gap >= space * 1.6
            || (gap >= space * 0.7 && headed(last[0] - space * 2.0, border, next));
        if parted {
            kept.push(*span);
        } else {
            last[1] = last[1].max(span[1]);
        }
    }
    kept
}

/// Makes columns also where only the heading has words; but a heading beside a column that has none is that one's.
fn under_headings(spans: &mut Vec<[f32; 2]>, heads: &[[f32; 2]]) {
    let meets = |a: &[f32; 2], b: &[f32; 2]| a[0] < b[1] && b[0] < a[1];
    let mut lonely: Vec<[f32; 2]> = heads
        .iter()
        .filter(|head| spans.iter().all(|span| !meets(span, head)))
        .copied()
        .collect();
    for span in spans.iter_mut() {
        if heads.iter().any(|head| meets(span, head)) {
            continue;
        }
        let middle = f32::midpoint(span[0], span[1]);
        let distance = |head: &[f32; 2]| (f32::midpoint(head[0], head[1]) - middle).abs();
        let nearest = (0..lonely.len())
            .min_by(|a, b| distance(&lonely[*a]).total_cmp(&distance(&lonely[*b])));
        // Another heading between the two would say that this one belongs elsewhere.
        let Some(index) = nearest else { continue };
        let head = lonely[index];
        let between = heads.iter().any(|other| {
            let x = f32::midpoint(other[0], other[1]);
            *other != head && x > middle.min(head[0]) && x < middle.max(head[1])
        });
        if !between {
            lonely.remove(index);
        }
    }
    spans.extend(lonely);
    spans.sort_by(|a, b| a[0].total_cmp(&b[0]));
}

/// Divides a column where a border is drawn down it and hardly a word lies over that.
fn split_at(spans: &mut Vec<[f32; 2]>, upright: &[f32], runs: &[Vec<&[Piece<'_>]>]) {
    for x in upright {
        let Some(index) = spans
            .iter()
            .position(|span| span[0] + 1.0 < *x && *x < span[1] - 1.0)
        else {
            continue;
        };
        let words = runs.iter().flatten().flat_map(|run| run.iter());
        let across = words
            .filter(|piece| piece.place[0] + 1.0 < *x && *x < piece.place[2] - 1.0)
            .count();
        if across * 20 <= runs.len() {
            let right = spans[index][1];
            spans[index][1] = *x;
            spans.insert(index + 1, [*x, right]);
        }
    }
}
