//! Tables drawn with bars: `a | b`, Markdown, and boxes of `+---+`.

use crate::error::Refusal;
use crate::read::fixed_width::is_rule;
use crate::read::gather::Gatherer;

/// What parts the cells of a drawn row.
const BARS: [char; 4] = ['|', '│', '┃', '║'];

/// A row of a box is drawn over no more lines than this.
const MOST_LINES_OF_A_ROW: usize = 6;

/// Reads lines whose cells stand between bars; others are one cell.
pub fn read(text: &str, first: usize, out: &mut Gatherer) -> Result<(), Refusal> {
    if rules_between_all(text) {
        return boxes(text, first, out);
    }
    for (index, line) in text.split('\n').enumerate() {
        if !is_rule(line) {
            out.line(first + index + 1, cells(line).iter().map(String::as_str))?;
        }
    }
    Ok(())
}

/// The cells of a line, without the bars at its ends. A bar after a backslash is one of the text.
pub fn cells(line: &str) -> Vec<String> {
    let line = line.trim();
    let is_bar = |c: char| BARS.contains(&c);
    if !line.contains(is_bar) {
        return vec![line.to_owned()];
    }
    let inner = line.strip_prefix(is_bar).unwrap_or(line);
    let mut cells = vec![String::new()];
    let mut escaped = false;
    for c in inner.chars() {
        if is_bar(c) && !escaped {
            cells.push(String::new());
        } else if let Some(cell) = cells.last_mut() {
            if is_bar(c) {
                cell.pop();
            }
            cell.push(c);
        }
        escaped = c == '\\';
    }
    if line.ends_with(is_bar) && cells.last().is_some_and(String::is_empty) {
        cells.pop();
    }
    cells
}

/// Whether each row of the table has a rule under it, so that one row may be several lines.
fn rules_between_all(text: &str) -> bool {
    let (mut rules, mut groups, mut longest, mut length) = (0, 0, 0, 0);
    for line in text
        .split('\n')
        .map(str::trim)
        .filter(|line| is_rule(line) || line.starts_with(BARS))
    {
        if is_rule(line) {
            rules += 1;
            groups += usize::from(length > 0);
            longest = longest.max(length);
            length = 0;
        } else {
            length += 1;
        }
    }
    rules >= 4 && groups >= 3 && (2..=MOST_LINES_OF_A_ROW).contains(&longest)
}

/// Joins the lines between two rules, cell by cell.
fn boxes(text: &str, first: usize, out: &mut Gatherer) -> Result<(), Refusal> {
    let mut row: Option<(usize, Vec<String>)> = None;
    let close = |row: &mut Option<(usize, Vec<String>)>, out: &mut Gatherer| match row.take() {
        Some((number, cells)) => out.line(number, cells.iter().map(String::as_str)),
        None => Ok(()),
    };
    for (index, line) in text.split('\n').enumerate() {
        let drawn = line.trim_start().starts_with(BARS);
        if !drawn || is_rule(line) {
            close(&mut row, out)?;
            if !is_rule(line) {
                out.line(first + index + 1, [line].into_iter())?;
            }
            continue;
        }
        let (_, joined) = row.get_or_insert((first + index + 1, Vec::new()));
        for (column, cell) in cells(line).iter().enumerate() {
            if joined.len() <= column {
                joined.push(String::new());
            }
            if !joined[column].is_empty() {
                joined[column].push(' ');
            }
            joined[column].push_str(cell.trim());
        }
    }
    close(&mut row, out)
}
