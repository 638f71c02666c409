//! Lists from where the comma is the decimal mark: "1,5 m", "12,00", "1.200". Told for the whole list by what can only
//! be read one way, then written with a point, so that all that comes after reads one kind of number.

use crate::grid::{Place, Sheets, Warning};
use crate::limits;
use crate::table::column_words::{Role, role};

/// A number in a text: where it stands, and what its marks can mean.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Number {
    from: usize,
    to: usize,
    form: Form,
}

/// What the marks in a number can mean.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Form {
    /// "1,5", "0,125", "1.200,50": a decimal comma.
    Comma,
    /// "1.5", "1,200.50": a decimal point.
    Point,
    /// "1,200": thousands or decimals.
    EitherComma,
    /// "1.200": thousands or decimals.
    EitherPoint,
    /// "1.234.567": thousands, where the comma is the decimal mark.
    PointThousands,
    /// No mark, or a date, a number of a paragraph, or the like.
    Other,
}

/// Rewrites the numbers of a list that has a decimal comma. What stays unclear is said at its row.
pub fn normalise(sheets: &mut Sheets) {
    let (mut commas, mut points) = (0, 0);
    for line in sheets.sheets.iter().flat_map(|sheet| &sheet.lines) {
        for cell in &line.cells {
            if !cell.contains(',') && !cell.contains('.') {
                continue;
            }
            for number in numbers(cell) {
                match number.form {
                    // "marks 1,2" is no number; one that fills its cell or has a unit is.
                    Form::Comma if is_measured(cell, number) => commas += 1,
                    Form::Point if is_measured(cell, number) => points += 1,
                    _ => {}
                }
            }
        }
    }
    if commas == 0 {
        return;
    }
    if points * 4 > commas {
        if points < commas * 4 {
            let what = "numbers are written with a decimal point in some places and with a decimal comma in others; check each";
            sheets.warnings.push(whole(what));
        }
        return;
    }
    rewrite(sheets);
    sheets.warnings.push(whole(
        "numbers are written with a decimal comma and were read so: 1,5 is one and a half, 1.200 is one thousand two hundred",
    ));
}

fn whole(what: &str) -> Warning {
    Warning {
        at: None,
        what: what.to_owned(),
    }
}

fn rewrite(sheets: &mut Sheets) {
    for sheet in &mut sheets.sheets {
        let mut codes: Vec<usize> = Vec::new();
        for line in &mut sheet.lines {
            let at = Place::of(&sheet.name, line);
            let is_code = |text: &str| role(text) == Some(Role::Code);
            let found: Vec<usize> = line
                .filled()
                .filter(|(_, text)| is_code(text))
                .map(|(column, _)| column)
                .collect();
            if !found.is_empty() {
                codes = found;
            }
            for (column, cell) in line.cells.iter_mut().enumerate() {
                if codes.contains(&column) || !cell.contains([',', '.']) {
                    continue;
                }
                let (text, unclear) = with_points(cell);
                if let Some(number) = unclear
                    && sheets.warnings.len() < limits::MAX_READING_WARNINGS
                {
                    let what = format!(
                        "{number:?} may be decimals or thousands; it was read as decimals, as the rest of the list is"
                    );
                    sheets.warnings.push(Warning {
                        at: Some(at.clone()),
                        what,
                    });
                }
                *cell = text;
            }
        }
    }
}

/// The text with its numbers written with a decimal point; and one that could be meant otherwise.
fn with_points(cell: &str) -> (String, Option<String>) {
    let mut text = String::with_capacity(cell.len());
    let (mut done, mut unclear) = (0, None);
    for number in numbers(cell) {
        let written = &cell[number.from..number.to];
        let read = match number.form {
            Form::Comma => written.replace('.', "").replace(',', "."),
            Form::PointThousands => written.replace('.', ""),
            Form::EitherPoint if is_measured(cell, number) => written.replace('.', ""),
            Form::EitherComma if is_measured(cell, number) => {
                unclear = Some(written.to_owned());
                written.replace(',', ".")
            }
            _ => continue,
        };
        text.push_str(&cell[done..number.from]);
        text.push_str(&read);
        done = number.to;
    }
    text.push_str(&cell[done..]);
    (text, unclear)
}

/// Whether a number fills its cell, or a unit or a sign of size follows or stands before it.
fn is_measured(cell: &str, number: Number) -> bool {
    const UNITS: [&str; 30] = [
        "m", "mm", "cm", "km", "kg", "g", "t", "l", "lfm", "m2", "m²", "stk", "stck", "stück",
        "st", "pcs", "pc", "ea", "pce", "pièces", "pièce", "pces", "stuks", "eur", "€", "ft", "in",
        "mtr", "meter", "metre",
    ];
    let before = cell[..number.from].trim_end();
    let after = cell[number.to..].trim_start();
    let word_end = after
        .find(|c: char| !c.is_alphanumeric() && c != '€' && c != '²')
        .unwrap_or(after.len());
    let word = after[..word_end].to_lowercase();
    let alone = before.is_empty() && after.is_empty();
    let times = |text: &str, at_end: bool| {
        let sign = if at_end {
            text.chars().next_back()
        } else {
            text.chars().next()
        };
        sign.is_some_and(|c| matches!(c, 'x' | 'X' | '×' | 'Ø' | 'ø' | '*'))
    };
    alone || UNITS.contains(&word.as_str()) || times(before, true) || times(after, false)
}

/// The numbers of a text. Letters right before make them part of a code, as in "M8,5".
fn numbers(text: &str) -> Vec<Number> {
    let bytes = text.as_bytes();
    let mut found = Vec::new();
    let mut at = 0;
    while at < bytes.len() {
        if !bytes[at].is_ascii_digit() {
            at += 1;
            continue;
        }
        let from = at;
        while at < bytes.len()
            && (bytes[at].is_ascii_digit()
                || (matches!(bytes[at], b',' | b'.')
                    && bytes.get(at + 1).is_some_and(u8::is_ascii_digit)))
        {
            at += 1;
        }
        let joined = text[..from]
            .ends_with(|c: char| c.is_alphabetic() || matches!(c, '/' | '-' | '_') && from > 1);
        let goes_on = bytes
            .get(at)
            .is_some_and(|b| matches!(b, b'/' | b'-' | b'_'))
            && bytes.get(at + 1).is_some_and(u8::is_ascii_alphanumeric);
        let form = if joined || goes_on {
            Form::Other
        } else {
            form(&text[from..at])
        };
        found.push(Number { from, to: at, form });
    }
    found
}

fn form(number: &str) -> Form {
    let commas = number.matches(',').count();
    let points = number.matches('.').count();
    let groups: Vec<&str> = number.split([',', '.']).collect();
    let (first, last) = (
        groups.first().map_or(0, |g| g.len()),
        groups.last().map_or(0, |g| g.len()),
    );
    let thousands = |groups: &[&str]| {
        groups
            .first()
            .is_some_and(|g| (1..=3).contains(&g.len()) && *g != "0")
            && groups[1..].iter().all(|g| g.len() == 3)
    };
    let can_part_thousands = last == 3 && first <= 3 && !number.starts_with('0');
    match (commas, points) {
        (1, 0) if can_part_thousands => Form::EitherComma,
        (1, 0) => Form::Comma,
        (0, 1) if can_part_thousands => Form::EitherPoint,
        (0, 1) => Form::Point,
        (1, _)
            if number.rfind(',') > number.rfind('.') && thousands(&groups[..groups.len() - 1]) =>
        {
            Form::Comma
        }
        (_, 1)
            if number.rfind('.') > number.rfind(',') && thousands(&groups[..groups.len() - 1]) =>
        {
            Form::Point
        }
        (0, _) if points >= 2 && thousands(&groups) => Form::PointThousands,
        _ => Form::Other,
    }
}
