//! How many of what a line says: from its columns, or from its words where it has none.

use std::borrow::Cow;

use measure::Length;

use crate::grid::Line;
use crate::matching::describe::describe;
use crate::table::columns::Columns;
use crate::table::in_line::split;
use crate::table::number::number as number_at_start;
use crate::table::packs::unit_of;
use crate::table::quantity::{self, Quantity};
use crate::table::trailing::trailing;
use crate::table::units::{self, Counts, unit_counts};

/// A count and its thing.
pub struct Counted {
    /// How many; nothing when it cannot be read.
    pub quantity: Option<Quantity>,
    /// As written; where packs have a column of their own, with both numbers.
    pub written: String,
    /// What it is.
    pub description: String,
}

/// Returns the count and the thing, when the line is a row.
pub fn count(line: &Line, columns: &Columns) -> Option<Counted> {
    let description = match bare_words(line.cell(columns.description)) {
        "" => own_code(line, columns)?,
        words => words,
    };
    let Some(column) = columns.quantity else {
        return count_in_words(line, columns);
    };
    let written = &*with_the_next(line, column, columns);
    let unit = columns.unit.map_or("", |c| line.cell(c));
    let mut quantity = quantity::read(written, unit);
    let has_code = columns.code.is_some_and(|c| !line.cell(c).is_empty());
    let is_number = |c: usize| quantity::plain(line.cell(c), "").is_some();
    let numbered = columns.line_number.is_some_and(is_number);
    let named = has_code || numbered || units::is_unit(unit);
    if quantity.is_none() && written.is_empty() {
        quantity = all_to_follow(line, columns);
    }
    let waits = to_come(line, columns).is_some();
    // Without a number it is still a row when something of it is to follow, when it has a quantity's words ("as req'd")
    // or a code of its own.
    if quantity.is_none() && !named && !waits && (written.is_empty() || line.filled().count() < 2) {
        return None;
    }
    let mut written = written.to_owned();
    if line.seen.is_some() && quantity.is_none() {
        quantity = misread(&written, unit);
    }
    if let Some(read) = quantity.take() {
        let (read, forms) = with_packs(read, written, line, columns);
        written = forms;
        quantity = Some(in_lengths(read, description));
    }
    Some(Counted {
        quantity,
        written,
        description: description.to_owned(),
    })
}

/// The code of a row that says how many and has no words: it is what the row is called by. In a sum no code stands.
fn own_code<'a>(line: &'a Line, columns: &Columns) -> Option<&'a str> {
    let code = line.cell(columns.code?);
    let plain = quantity::plain(line.cell(columns.quantity?), "");
    let is_code = code.len() <= 24
        && !code.contains(' ')
        && code.contains(|c: char| c.is_ascii_digit())
        && (code.len() >= 3 || code.contains(char::is_alphabetic));
    (is_code && plain.is_some()).then_some(code)
}

/// "4 bdl x" whose 5 stands in the next cell, below no word of its own.
fn with_the_next<'a>(line: &'a Line, column: usize, columns: &Columns) -> Cow<'a, str> {
    let (written, next) = (line.cell(column), line.cell(column + 1));
    let goes_on = written.ends_with([' ', 'x', 'X', '×', '@', '*']) || written.ends_with(" of");
    let counts = written.starts_with(|c: char| c.is_ascii_digit());
    let number = !next.is_empty() && next.bytes().all(|b| b.is_ascii_digit());
    if goes_on && counts && number && !columns.names(column + 1) {
        Cow::Owned(format!("{written} {next}"))
    } else {
        Cow::Borrowed(written)
    }
}

/// Nothing under "shipped" and a count under "to follow": none came. Said only where the two make up the order.
fn all_to_follow(line: &Line, columns: &Columns) -> Option<Quantity> {
    let later = to_come(line, columns)?;
    let ordered = columns.ordered.filter(|c| Some(*c) != columns.quantity);
    let ordered = ordered.and_then(|c| quantity::plain(line.cell(c), ""));
    let all = ordered.is_none_or(|ordered| ordered.pieces == later);
    let doubt = format!("no count is shipped and {later} are to follow: taken as none now");
    all.then(|| Quantity::default().doubted(doubt))
}

/// What the column of that says is to follow, where it is more than nothing.
fn to_come(line: &Line, columns: &Columns) -> Option<i64> {
    let column = columns
        .backordered
        .filter(|c| Some(*c) != columns.quantity)?;
    let later = quantity::plain(line.cell(column), "")?.pieces;
    (later > 0).then_some(later)
}

/// The words after the sign that begins a point of a list, before the dots that lead to the next column.
fn bare_words(text: &str) -> &str {
    let signs = ['•', '·', '▪', '◦', '●', '‣', '☐', '☑', '□', ' '];
    let text = text.trim_start_matches(signs);
    let led = text.trim_end_matches(['.', '…', '_', ' ']);
    let leads = text.ends_with("...") || text.ends_with("…") || text.ends_with("___");
    if leads { led } else { text }
}

/// A line such as "12 ground posts", whatever its cells. One that names a thing with numbers, none of which is clearly
/// the count ("lock channel 8 ft, 4 bdl of 10, minus 2"), is a row without a quantity, for a person to fill in.
fn count_in_words(line: &Line, columns: &Columns) -> Option<Counted> {
    // What is to follow is no count of what is here.
    let apart = [columns.line_number, columns.backordered];
    let says = |(column, _): &(usize, &str)| !apart.contains(&Some(*column));
    let texts: Vec<&str> = line.filled().filter(says).map(|(_, text)| text).collect();
    let whole = texts.join(", ");
    let whole = bare_words(&whole).to_owned();
    // A mark has no letters, so that it would say nothing; the word for it is read as the mark is.
    let ditto = ["\" ", "” ", "〃", ",, "]
        .iter()
        .find_map(|mark| whole.strip_prefix(mark))
        .map(|rest| format!("ditto {}", rest.trim_start()));
    let whole = ditto.unwrap_or(whole);
    if let Some((quantity, description)) = split(&whole).or_else(|| trailing(&whole)) {
        let written = whole.replacen(description, "", 1);
        let written = written.trim_matches([' ', ',', '(', ')', ':', '-', '–', '|']);
        return Some(Counted {
            written: written.to_owned(),
            description: description.to_owned(),
            quantity: Some(quantity),
        });
    }
    let numbered = whole.contains(|c: char| c.is_ascii_digit()) && !whole.starts_with('(');
    let names_a_thing = numbered && describe(&whole).noun.is_some_and(|noun| !noun.ambiguous);
    names_a_thing.then(|| Counted {
        written: String::new(),
        description: whole,
        quantity: None,
    })
}

/// Brings in what columns of packs say.
fn with_packs(
    read: Quantity,
    written: String,
    line: &Line,
    columns: &Columns,
) -> (Quantity, String) {
    let number = |column: Option<usize>| {
        let read = quantity::read(line.cell(column?), "")?;
        (read.pieces > 0).then_some(read.pieces)
    };
    let Some(pack) = number(columns.pack) else {
        // A column of bundles alone counts no pieces.
        let only_packs = columns.packs.is_some() && columns.packs == columns.quantity;
        let doubt = "these are packs; how many pieces one holds is not said";
        return (
            if only_packs && read.pieces > 0 {
                read.doubted(doubt)
            } else {
                read
            },
            written,
        );
    };
    let is_packs = columns.packs == columns.quantity;
    if let Some(packs) = number(columns.packs).filter(|_| !is_packs) {
        let all = packs.saturating_mul(pack);
        let forms = format!("{written} ({packs} × {pack})");
        let doubt = format!(
            "{} are said, and {packs} packs of {pack}, which are {all}",
            read.pieces
        );
        return (
            if all == read.pieces {
                read
            } else {
                read.doubted(doubt)
            },
            forms,
        );
    }
    let forms = format!("{written} × {pack}");
    let Some(all) = read
        .pieces
        .checked_mul(pack)
        .filter(|n| n.abs() <= crate::table::number::MOST)
    else {
        return (read, written);
    };
    let each = |doubt: Option<String>| Quantity {
        pieces: all,
        doubt,
        ..read.clone()
    };
    // "3 bx/100" beside a column of packs has been multiplied out.
    let multiplied = |(packs, _): (i64, &str)| packs.checked_mul(pack) == Some(read.pieces);
    let done = pack > 1 && number_at_start(&written).is_some_and(multiplied);
    if done || unit_of(&read.unit).is_some() {
        return (read, written);
    }
    match unit_counts(&read.unit) {
        Some(Counts::Container) => (each(None), forms),
        _ if is_packs => (each(read.doubt.clone()), forms),
        _ if pack == 1 || read.pieces == 0 => (read, written),
        // "20 ea" in packs of 5 are twenty.
        Some(Counts::Pieces) if !read.unit.is_empty() => (read, written),
        Some(Counts::Pieces) if columns.whole_packs => {
            let doubt = format!(
                "{} was taken as all pieces, in packs of {pack}; it may be so many packs",
                read.pieces
            );
            (read.doubted(doubt), forms)
        }
        Some(Counts::Pieces) => {
            let doubt = format!(
                "{} was taken as packs of {pack}; it may be all pieces",
                read.pieces
            );
            (each(None).doubted(doubt), forms)
        }
        _ => (read, written),
    }
}

/// "500 ft" of a cable in coils of 250 ft are two coils.
fn in_lengths(read: Quantity, description: &str) -> Quantity {
    if unit_counts(&read.unit) != Some(Counts::Measure) || read.pieces <= 0 {
        return read;
    }
    let whole = Length::read(&format!("{} {}", read.pieces, feet(&read.unit)), None).ok();
    let each = describe(description)
        .length
        .map(|fact| fact.value.as_nanometres());
    let (Some(whole), Some(each)) = (whole.map(Length::as_nanometres), each) else {
        return read;
    };
    if each <= 0 || whole % each != 0 {
        return read;
    }
    let pieces = whole / each;
    let doubt = format!(
        "{} {} was taken as {pieces} lengths",
        read.pieces, read.unit
    );
    Quantity {
        pieces,
        doubt: Some(doubt),
        ..read
    }
}

fn feet(unit: &str) -> &str {
    match unit.trim_end_matches('.') {
        "lf" | "lft" | "lin" | "foot" | "feet" => "ft",
        "mtr" | "mtrs" | "metre" | "metres" | "meter" | "meters" => "m",
        unit => unit,
    }
}

/// What an engine makes of digits: O for 0, l and I for 1, S for 5, B for 8. At least one digit was read as such.
fn misread(written: &str, unit: &str) -> Option<Quantity> {
    if written.len() > 6 || !written.contains(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let likely = |c: char| match c {
        'O' | 'o' | 'Q' => '0',
        'l' | 'I' | '|' | 'i' => '1',
        'S' | 's' => '5',
        'B' => '8',
        'Z' | 'z' => '2',
        _ => c,
    };
    let digits: String = written.chars().map(likely).collect();
    let read = quantity::plain(&digits, unit)?;
    Some(read.doubted(format!("{written:?} on the picture was taken as {digits}")))
}
