//! Codes as a file that goes from one job to the next: CSV with the columns sender, code, means, said by.

use std::collections::BTreeMap;

use crate::codes::{Codes, Learned, sender_key};
use crate::limits::{MAX_CELL_BYTES, MAX_CODES, MAX_CODES_BYTES};
use crate::matching::evidence::bare_code;

/// Why a file is no file of codes; names the line and what would be right.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CodesRefused {
    /// Too big.
    #[error("it has {0} bytes; a file of codes has at most {MAX_CODES_BYTES}")]
    TooLarge(usize),
    /// Not UTF-8.
    #[error("a file of codes is UTF-8 text; this is not, from byte {0}")]
    NotText(usize),
    /// A column is missing.
    #[error("the first line must name the columns sender, code, means and said by; {0} is missing")]
    NoColumn(&'static str),
    /// A cell that must say something is empty or too long.
    #[error("line {line}: {column} is {is}; {right}")]
    Cell {
        /// The line, from 1.
        line: u64,
        /// The column.
        column: &'static str,
        /// What is wrong, such as "empty".
        is: String,
        /// What would be right.
        right: &'static str,
    },
    /// More codes than one sender has.
    #[error("line {0}: that is more than {MAX_CODES} codes")]
    TooMany(u64),
    /// No code at all.
    #[error("it holds no codes")]
    Empty,
}

const COLUMNS: [&str; 4] = ["sender", "code", "means", "said by"];
const PERSON: &str = "a person";
const WORDS: &str = "its words";

/// Writes codes, sender after sender, as they are given. No cell can be taken for a formula by a spreadsheet.
pub fn write_codes(all: &[&Codes]) -> String {
    let mut text = format!("{}\r\n", COLUMNS.join(","));
    for codes in all {
        for (code, learned) in &codes.by_code {
            let by = if learned.by_a_person { PERSON } else { WORDS };
            let cells = [&codes.sender, code, &learned.means, by].map(quoted);
            text.push_str(&cells.join(","));
            text.push_str("\r\n");
        }
    }
    text
}

/// Reads codes, by their sender's key. Also what a spreadsheet made of such a file: with semicolons or tabs.
pub fn read_codes(bytes: &[u8]) -> Result<BTreeMap<String, Codes>, CodesRefused> {
    if bytes.len() > MAX_CODES_BYTES {
        return Err(CodesRefused::TooLarge(bytes.len()));
    }
    let text = std::str::from_utf8(bytes).map_err(|e| CodesRefused::NotText(e.valid_up_to()))?;
    let text = text.trim_start_matches('\u{feff}');
    if text.trim().is_empty() {
        return Err(CodesRefused::Empty);
    }
    let first = text.lines().next().unwrap_or_default();
    let cut = [',', ';', '\t'].into_iter().max_by_key(|cut| {
        // Of several the first: a comma, where none of them is there.
        (first.matches(*cut).count(), *cut == ',')
    });
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(cut.map_or(b',', |cut| cut as u8))
        .flexible(true)
        .has_headers(false)
        .from_reader(text.as_bytes());
    let mut records = reader.records().filter_map(Result::ok);
    let heading = records.next().unwrap_or_default();
    let mut at = [0; 4];
    for (column, name) in at.iter_mut().zip(COLUMNS) {
        let is_it = |cell: &str| cell.trim().eq_ignore_ascii_case(name);
        *column = (heading.iter().position(is_it)).ok_or(CodesRefused::NoColumn(name))?;
    }
    let mut all: BTreeMap<String, Codes> = BTreeMap::new();
    for record in records {
        let line = record.position().map_or(0, csv::Position::line);
        if record.iter().all(|cell| cell.trim().is_empty()) {
            continue;
        }
        let [sender, code, means, by] =
            at.map(|column| unquoted(record.get(column).unwrap_or_default()));
        let bare = bare_code(code);
        let filled = [
            ("sender", sender, "who sent the lists that it stands on"),
            ("code", bare.as_str(), "a code has letters or digits"),
            ("means", means, "our description of the part"),
        ];
        for (column, cell, right) in filled {
            let is = match cell.len() {
                0 => "empty".to_owned(),
                long if long > MAX_CELL_BYTES => format!("{long} bytes long"),
                _ => continue,
            };
            return Err(CodesRefused::Cell {
                line,
                column,
                is,
                right,
            });
        }
        let by_a_person = match by {
            PERSON => true,
            WORDS | "" => false,
            other => {
                return Err(CodesRefused::Cell {
                    line,
                    column: "said by",
                    is: format!("{:?}", other.chars().take(40).collect::<String>()),
                    right: "it is \"a person\" or \"its words\"",
                });
            }
        };
        let codes = all.entry(sender_key(sender)).or_insert_with(|| Codes {
            sender: sender.to_owned(),
            ..Codes::default()
        });
        if codes.by_code.len() >= MAX_CODES {
            return Err(CodesRefused::TooMany(line));
        }
        let means = means.to_owned();
        let one = BTreeMap::from([(bare, Learned { means, by_a_person })]);
        codes.take_in(&Codes {
            by_code: one,
            ..Codes::default()
        });
    }
    match all.is_empty() {
        true => Err(CodesRefused::Empty),
        false => Ok(all),
    }
}

/// A cell in quotation marks. What a spreadsheet would take for a formula gets an apostrophe.
fn quoted(text: &str) -> String {
    let line: Vec<&str> = text
        .split(|c: char| c.is_whitespace() || c.is_control())
        .collect();
    let line = line.join(" ");
    let guard = if starts_formula(line.trim_start()) {
        "'"
    } else {
        ""
    };
    format!("\"{guard}{}\"", line.trim().replace('"', "\"\""))
}

/// The cell without the apostrophe that [`quoted`] gave it.
fn unquoted(cell: &str) -> &str {
    let cell = cell.trim();
    match cell.strip_prefix('\'') {
        Some(rest) if starts_formula(rest) => rest,
        _ => cell,
    }
}

fn starts_formula(text: &str) -> bool {
    text.starts_with(['=', '+', '-', '@', '＝', '＋', '－', '＠'])
}
