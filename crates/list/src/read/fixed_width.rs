//! Text whose columns are set by position: an empty cell stays empty, and numbers may stand at the right of theirs.

use std::ops::Range;

/// How many lines are looked at to find the columns.
const SAMPLE_LINES: usize = 2_000;

/// Lines longer than this are running text.
const MAX_WIDTH: usize = 1_000;

/// Lines that must agree on where the gaps are.
const LEAST_LINES: usize = 3;

/// Where the columns of a text stand, in characters from the left.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FixedColumns {
    columns: Vec<Range<usize>>,
}

/// Words that no two spaces part, where they stand in the line, in characters.
struct Chunk<'a> {
    at: Range<usize>,
    text: &'a str,
}

impl FixedColumns {
    /// Finds the columns: those of a line of dashes under the heading, or else the gaps of two spaces that all lines
    /// with the usual count of cells have in common.
    pub fn of(text: &str) -> Option<Self> {
        let lines = || {
            text.split('\n')
                .filter(|line| line.len() <= MAX_WIDTH)
                .take(SAMPLE_LINES)
        };
        if text
            .split('\n')
            .take(SAMPLE_LINES)
            .any(|line| line.contains('\t'))
        {
            return None;
        }
        if let Some(columns) = lines().find_map(underlines) {
            return Some(Self { columns });
        }
        let counts: Vec<usize> = lines().map(|line| chunks(line).len()).collect();
        let usual = usual(&counts)?;
        let voters: Vec<&str> = lines()
            .zip(&counts)
            .filter(|(line, count)| **count >= usual && !is_rule(line))
            .map(|(line, _)| line)
            .collect();
        let columns = between_gaps(&voters);
        // Fewer columns than cells: the gaps do not stand below each other, so they are no columns.
        (columns.len() >= usual && voters.len() >= LEAST_LINES).then_some(Self { columns })
    }

    /// Cuts one line. A line of a single run of words is one cell, wherever it ends.
    pub fn cells<'a>(&self, line: &'a str) -> Vec<&'a str> {
        let found = chunks(line);
        let mut cells = vec![""; self.columns.len()];
        let single = found.len() == 1;
        for chunk in found {
            let first = self.column_of(chunk.at.start, chunk.at.end);
            let last = self.column_of(chunk.at.end - 1, chunk.at.end);
            if single || first >= last {
                put(&mut cells, first, chunk.text, line);
            } else {
                self.split(&chunk, first, last, &mut cells, line);
            }
        }
        cells
    }

    /// The column that a position lies in or, between two, the one that begins nearest after or ends nearest before.
    fn column_of(&self, position: usize, end: usize) -> usize {
        let after = self
            .columns
            .partition_point(|column| column.end <= position);
        let Some(column) = self.columns.get(after) else {
            return self.columns.len() - 1;
        };
        if position >= column.start || after == 0 {
            return after;
        }
        // In a gap: words that reach into the next column belong to it.
        if end > column.start {
            after
        } else {
            let before = position.saturating_sub(self.columns[after - 1].end);
            let ahead = column.start.saturating_sub(end);
            if before <= ahead { after - 1 } else { after }
        }
    }

    /// Words that reach over several columns are cut at the spaces that lie in the gaps; where there is none, they
    /// stay with the column in which they begin.
    fn split<'a>(
        &self,
        chunk: &Chunk<'a>,
        first: usize,
        last: usize,
        cells: &mut [&'a str],
        line: &'a str,
    ) {
        let mut rest = chunk.text;
        let mut at = chunk.at.start;
        let mut column = first;
        for next in first + 1..=last {
            let gap = self.columns[next - 1].end..self.columns[next].start + 1;
            let space = rest.char_indices().enumerate().find(|(index, (_, c))| {
                *c == ' ' && (gap.contains(&(at + index)) || gap.contains(&(at + index + 1)))
            });
            let Some((index, (byte, _))) = space else {
                continue;
            };
            put(cells, column, &rest[..byte], line);
            rest = &rest[byte + 1..];
            at += index + 1;
            column = next;
        }
        put(cells, column, rest, line);
    }
}

/// Puts words into a cell, after those that are there: both are parts of one line, so what lies between comes too.
fn put<'a>(cells: &mut [&'a str], column: usize, text: &'a str, line: &'a str) {
    let Some(cell) = cells.get_mut(column) else {
        return;
    };
    if cell.is_empty() {
        *cell = text;
        return;
    }
    let start = cell.as_ptr() as usize - line.as_ptr() as usize;
    let end = text.as_ptr() as usize - line.as_ptr() as usize + text.len();
    if let Some(both) = line.get(start..end) {
        *cell = both;
    }
}

/// Whether a line only draws a rule.
pub fn is_rule(line: &str) -> bool {
    let mut drawn = line.chars().filter(|c| !c.is_whitespace());
    let is_drawing = |c| {
        matches!(
            c,
            '-' | '='
                | '_'
                | '+'
                | '|'
                | '*'
                | ':'
                | '~'
                | '─'
                | '═'
                | '━'
                | '—'
                | '–'
                | '┼'
                | '├'
                | '┤'
                | '│'
                | '┌'
                | '┐'
                | '└'
                | '┘'
                | '┬'
                | '┴'
        )
    };
    let first = drawn.next();
    first.is_some_and(is_drawing) && drawn.clone().count() >= 2 && drawn.all(is_drawing)
}

/// The columns under a line such as `----  --------  ---`; two runs or more.
fn underlines(line: &str) -> Option<Vec<Range<usize>>> {
    if !line.contains("--") && !line.contains("==") || !is_rule(line) {
        return None;
    }
    let mut columns: Vec<Range<usize>> = Vec::new();
    for (at, c) in line.chars().enumerate() {
        if !matches!(c, '-' | '=') {
            if c != ' ' {
                return None;
            }
            continue;
        }
        match columns.last_mut() {
            Some(last) if last.end == at => last.end = at + 1,
            _ => columns.push(at..at + 1),
        }
    }
    (columns.len() >= 2).then_some(columns)
}

/// The runs of words of a line, parted by two spaces or more.
fn chunks(line: &str) -> Vec<Chunk<'_>> {
    let mut found: Vec<Chunk<'_>> = Vec::new();
    let mut open: Option<(usize, usize)> = None;
    let mut last = (0, 0);
    for (at, (byte, c)) in line.char_indices().enumerate() {
        if c == ' ' || c == '\u{a0}' || c == '\r' {
            continue;
        }
        if let Some((start, from)) = open
            && at > last.0 + 1
        {
            found.push(Chunk {
                at: start..last.0,
                text: &line[from..last.1],
            });
            open = None;
        }
        open = open.or(Some((at, byte)));
        last = (at + 1, byte + c.len_utf8());
    }
    if let Some((start, from)) = open {
        found.push(Chunk {
            at: start..last.0,
            text: &line[from..last.1],
        });
    }
    found
}

/// The commonest count of cells of two or more; of two equally common, the larger.
fn usual(counts: &[usize]) -> Option<usize> {
    let mut tally = std::collections::BTreeMap::<usize, usize>::new();
    for count in counts.iter().filter(|count| **count >= 2) {
        *tally.entry(*count).or_default() += 1;
    }
    tally
        .into_iter()
        .max_by_key(|(count, times)| (*times, *count))
        .map(|(count, _)| count)
}

/// What lies between the gaps that (nearly) all lines share, two spaces wide or more.
fn between_gaps(lines: &[&str]) -> Vec<Range<usize>> {
    let width = lines
        .iter()
        .map(|line| line.chars().count())
        .max()
        .unwrap_or(0);
    let mut filled = vec![0_usize; width];
    for line in lines {
        for (at, c) in line.chars().enumerate() {
            // A single space between two words is no gap.
            filled[at] += usize::from(c != ' ' && c != '\u{a0}');
        }
    }
    // One line in fifty may break a gap, as a long description does.
    let few = lines.len() / 50;
    let mut columns: Vec<Range<usize>> = Vec::new();
    for (at, count) in filled.iter().enumerate() {
        if *count <= few {
            continue;
        }
        match columns.last_mut() {
            Some(last) if at < last.end + 2 => last.end = at + 1,
            _ => columns.push(at..at + 1),
        }
    }
    columns
}
