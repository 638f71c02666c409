//! Text into cells: comma, semicolon, tab or bar between them, drawn tables, or columns set apart by runs of spaces.

use csv::{ReaderBuilder, StringRecord, Terminator};

use crate::error::Refusal;
use crate::grid::Sheets;
use crate::read::fixed_width::{FixedColumns, is_rule};
use crate::read::gather::Gatherer;
use crate::read::pasted::{without_quoting, without_signatures};
use crate::read::pipes;
use crate::row::Why;

/// How the cells of a line are told apart.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Cut {
    At(u8),
    Drawn,
    Columns(FixedColumns),
    Spaces,
}

/// How many lines are looked at to tell how the cells are cut.
const SAMPLE_LINES: usize = 400;

/// A quoted cell with more line ends than this is an inch mark that was never closed.
const MAX_LINES_IN_CELL: usize = 20;

/// Reads decoded text, whose lines end with `\n`.
pub fn read(text: &str) -> Result<Sheets, Refusal> {
    let mut gatherer = Gatherer::default();
    let plain = without_quoting(text);
    let (body, below) = without_signatures(text, &plain);
    read_into(&body, 0, &mut gatherer)?;
    for (number, line) in below {
        gatherer.aside(number, line, Why::Signature)?;
    }
    gatherer.finish()
}

/// Reads text into lines that are numbered on from `first`; returns how many lines it has.
pub fn read_into(text: &str, first: usize, out: &mut Gatherer) -> Result<usize, Refusal> {
    match how_cut(text) {
        Cut::Spaces => {
            let lines = text.split('\n').enumerate();
            for (index, line) in lines.filter(|(_, line)| !is_rule(line)) {
                out.line(first + index + 1, split_spaces(line))?;
            }
        }
        Cut::Columns(columns) => {
            let lines = text.split('\n').enumerate();
            for (index, line) in lines.filter(|(_, line)| !is_rule(line)) {
                out.line(first + index + 1, columns.cells(line).into_iter())?;
            }
        }
        Cut::Drawn => pipes::read(text, first, out)?,
        Cut::At(delimiter) => {
            let quoting = !is_runaway(text, delimiter);
            if !quoting {
                out.warn(
                    "a quotation mark is never closed; quotation marks were read as inch marks",
                );
            }
            by_delimiter(text, delimiter, quoting, first, out)?;
        }
    }
    Ok(text.split('\n').count())
}

/// Whether a quotation mark is opened and not closed within a few lines.
fn is_runaway(text: &str, delimiter: u8) -> bool {
    if !text.contains('"') {
        return false;
    }
    let mut reader = reader(text, delimiter, true);
    let mut record = StringRecord::new();
    while reader.read_record(&mut record).is_ok_and(|more| more) {
        if record
            .as_slice()
            .matches('\n')
            .take(MAX_LINES_IN_CELL + 1)
            .count()
            > MAX_LINES_IN_CELL
        {
            return true;
        }
    }
    false
}

fn reader(text: &str, delimiter: u8, quoting: bool) -> csv::Reader<&[u8]> {
    ReaderBuilder::new()
        .delimiter(delimiter)
        .has_headers(false)
        .flexible(true)
        .quoting(quoting)
        .terminator(Terminator::Any(b'\n'))
        .from_reader(text.as_bytes())
}

fn by_delimiter(
    text: &str,
    delimiter: u8,
    quoting: bool,
    first: usize,
    out: &mut Gatherer,
) -> Result<(), Refusal> {
    let mut reader = reader(text, delimiter, quoting);
    let mut record = StringRecord::new();
    // A spreadsheet shows a record with line ends inside as one row, so those do not count as rows.
    let mut lines_inside = 0;
    while reader.read_record(&mut record).is_ok_and(|more| more) {
        let end = reader.position().line() as usize;
        let ended_by_line_end =
            text.as_bytes().get(reader.position().byte() as usize - 1) == Some(&b'\n');
        lines_inside += record.as_slice().matches('\n').count();
        let number = end - usize::from(ended_by_line_end) - lines_inside;
        out.line(first + number, record.iter())?;
    }
    Ok(())
}

/// Splits at tabs and at runs of two or more spaces; the indent of a line is no cell.
fn split_spaces(line: &str) -> impl Iterator<Item = &str> {
    line.trim()
        .split(['\t', '\u{a0}'])
        .flat_map(|part| part.split("  "))
        .map(str::trim)
        .filter(|cell| !cell.is_empty())
}

/// Weighs each way of cutting by how many lines agree on the count of cells, and takes the best.
fn how_cut(text: &str) -> Cut {
    let end = text
        .match_indices('\n')
        .nth(SAMPLE_LINES)
        .map_or(text.len(), |(at, _)| at);
    let sample = &text[..end];
    if is_drawn(sample) {
        return Cut::Drawn;
    }
    let as_said = is_items(sample);
    let spaced = agreement(sample.lines().map(|line| split_spaces(line).count())) * 0.9;
    let mut best = (Cut::Spaces, spaced);
    // A comma may be one of a number or a text, a tab hardly.
    for (delimiter, weight) in [(b'\t', 1.3), (b';', 1.2), (b'|', 1.2), (b',', 1.0)] {
        let counts = reader(sample, delimiter, true)
            .into_records()
            .map_while(Result::ok)
            .map(|record| record.len());
        if delimiter == b',' && as_said {
            continue;
        }
        let score = agreement(counts) * weight;
        if score > best.1 {
            best = (Cut::At(delimiter), score);
        }
    }
    match best.0 {
        Cut::Spaces => FixedColumns::of(text).map_or(Cut::Spaces, Cut::Columns),
        other => other,
    }
}

/// Whether most lines that say a number are items of a written list ("- 12 x ground post, 5 ft"), whose commas part
/// phrases; or each comma has a space after it and there is one in a line at most.
fn is_items(sample: &str) -> bool {
    let numbered = || {
        sample
            .lines()
            .filter(|line| line.contains(|c: char| c.is_ascii_digit()))
    };
    let bulleted = |line: &&str| {
        let mut start = line.trim_start().chars();
        matches!(start.next(), Some('-' | '*' | '•' | '·' | '–')) && start.next() == Some(' ')
    };
    let all = numbered().count();
    if all > 0 && numbered().filter(bulleted).count() * 10 >= all * 6 {
        return true;
    }
    let commas = sample.matches(',').count();
    let most = sample.lines().map(|line| line.matches(',').count()).max();
    most == Some(1) && sample.matches(", ").count() == commas
}

/// Whether bars are drawn at the start of many lines.
fn is_drawn(sample: &str) -> bool {
    let (mut drawn, mut all) = (0, 0);
    for line in sample
        .lines()
        .map(str::trim)
        .filter(|line| !line.is_empty())
    {
        all += 1;
        let bars = line
            .chars()
            .filter(|c| matches!(c, '|' | '│' | '┃' | '║'))
            .count();
        drawn +=
            usize::from((line.starts_with(['|', '│', '┃', '║']) && bars >= 2) || is_rule(line));
    }
    drawn >= 3 && drawn * 10 >= all * 4 && sample.contains(['|', '│', '┃', '║'])
}

/// Share of lines with the commonest count of cells (of two or more), squared, times a little for more columns.
fn agreement(counts: impl Iterator<Item = usize>) -> f64 {
    let mut tally = std::collections::BTreeMap::<usize, usize>::new();
    let mut lines = 0;
    for count in counts.filter(|count| *count > 0) {
        *tally.entry(count).or_default() += 1;
        lines += 1;
    }
    let several = tally.range(2..).max_by_key(|(_, times)| **times);
    several.map_or(0.0, |(columns, times)| {
        let share = *times as f64 / f64::from(lines.max(1));
        // Commas in a third of the lines are those of a text.
        let share = if share < 0.4 { 0.0 } else { share };
        share * share * (1.0 + *columns as f64).ln()
    })
}
