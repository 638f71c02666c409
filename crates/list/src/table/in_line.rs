//! The count that stands in one text with its thing: "12 ground posts", "Ground post - 12".

use measure::{Length, gauge};

use crate::matching::describe::describe;
use crate::matching::nouns::Kind;
use crate::table::quantity::{Quantity, read, start};
use crate::table::written;

/// Takes the count out of a line, wherever it stands, and leaves the thing.
pub fn split(line: &str) -> Option<(Quantity, &str)> {
    let (first, last) = (split_start(line), split_end(line));
    // "2 post clamps - 8": the number that begins it may be of the thing.
    if let (Some((first, _)), Some((last, _))) = (&first, &last)
        && first.unit.is_empty()
        && last.doubt.is_none()
        && !line.trim_start().starts_with('(')
    {
        let doubt = format!(
            "{} stands before the thing and {} after it",
            first.pieces, last.pieces
        );
        let (_, thing) = split_end(line)?;
        return Some((last.clone().doubted(doubt), thing));
    }
    first.or(last)
}

/// Takes a quantity off the start of a line: "12 ground posts", "(12) ground posts", "4 bdl x 5 ground post",
/// "a dozen ridge clamps", "10-12 spare clamps".
pub fn split_start(line: &str) -> Option<(Quantity, &str)> {
    let line = line
        .trim()
        .trim_start_matches(['-', '*', '•', '·', '☐', '☑', '✓', '✔', '□'])
        .trim_start();
    let line = line
        .strip_prefix("[ ]")
        .or_else(|| line.strip_prefix("[x]"))
        .unwrap_or(line)
        .trim_start();
    if let Some(found) = written_start(line) {
        return Some(found);
    }
    let opened = line.strip_prefix('(');
    let body = opened.unwrap_or(line);
    if opened.is_none() && is_measure(body) {
        return None;
    }
    let (quantity, rest) = start(body, "")?;
    let rest = match opened {
        Some(_) => rest.trim_start().strip_prefix(')')?,
        None => rest,
    };
    let times = rest
        .strip_prefix(['x', 'X', '×'])
        .filter(|after| after.starts_with(' '));
    let rest = times.unwrap_or(rest);
    let parted = rest.starts_with([' ', '\t', ',', ':', '-', '–', ')']) || opened.is_some();
    let rest = rest
        .trim_start_matches([' ', '\t', ',', ':', '-', '–', '|', 'x', '×'])
        .trim_start();
    (parted && says_something(rest)).then_some((quantity, rest))
}

fn says_something(text: &str) -> bool {
    text.chars().filter(|c| c.is_alphabetic()).count() >= 2
}

/// The most words that a count takes at the start of a line.
const MOST_WORDS: usize = 5;

/// A count that is not plainly written at the start of a line: the longest run of words that is one, where it can be
/// nothing of the thing itself.
fn written_start(line: &str) -> Option<(Quantity, &str)> {
    let mut ends: Vec<usize> = line
        .match_indices(' ')
        .map(|(at, _)| at)
        .take(MOST_WORDS)
        .collect();
    ends.dedup_by_key(|at| *at);
    let first = line.split(' ').next().unwrap_or_default();
    let second = line[first.len()..].trim_start();
    if line.starts_with('(') {
        return None;
    }
    // A cheap first look: a plain number is followed by something that goes on with it, or is no plain number.
    let plain = first.bytes().all(|b| b.is_ascii_digit());
    let goes_on = [
        "of ", "out of ", "now ", "to ", "or ", "and ", "changed ", "+", "&", "->", "→", "=>", "-",
        "–", "(",
    ];
    if plain && !goes_on.iter().any(|word| second.starts_with(word)) {
        return None;
    }
    for end in ends.into_iter().rev() {
        let (head, rest) = (&line[..end], line[end..].trim_start());
        let rest = rest.strip_prefix("of ").unwrap_or(rest);
        let rest = rest.trim_start_matches([':', '-', '–', '|', ' ']);
        if is_plain(head) || !says_something(rest) {
            continue;
        }
        if let Some(read) = written::read(head, "")
            .filter(|read| read.of.is_empty() && stands(head, read, rest, line))
        {
            let word = head.bytes().all(|b| b.is_ascii_alphabetic());
            let read = if word && read.doubt.is_none() {
                read.doubted(format!("{head:?} was taken as the count"))
            } else {
                read
            };
            return Some((read, rest));
        }
    }
    None
}

/// Digits and gaps: a number that ends is followed by the thing, whose own may come next.
fn is_plain(head: &str) -> bool {
    head.bytes()
        .all(|b| b.is_ascii_digit() || matches!(b, b' ' | b',' | b'.'))
}

/// Whether a run of words at the start of a line is a count and nothing of the thing.
fn stands(head: &str, read: &Quantity, rest: &str, line: &str) -> bool {
    // Words after a number in words that make it a part of the thing: "one end swaged", "two post clamp".
    const OF_THE_THING: [&str; 26] = [
        "end", "ends", "hole", "holes", "way", "piece", "part", "side", "sides", "sided", "ply",
        "post", "bolt", "inch", "foot", "in", "ft", "mil", "ga", "gauge", "leg", "prong", "half",
        "size", "row", "wing",
    ];
    if !head.contains(|c: char| c.is_alphanumeric())
        || rest.starts_with(['x', '×', '/', '"', '\'']) && !rest.starts_with("x ")
    {
        return false;
    }
    let next = rest
        .split(|c: char| !c.is_alphanumeric())
        .next()
        .unwrap_or_default()
        .to_lowercase();
    let in_words = head
        .bytes()
        .all(|b| b.is_ascii_alphabetic() || b == b' ' || b == b'-');
    if in_words {
        // "Pair of hinges", but "gross weight" and "pair hinges" could be anything.
        let unit_alone = read.doubt.is_some();
        let of = line[head.len()..].trim_start().starts_with("of ");
        return !OF_THE_THING.contains(&next.as_str()) && (!unit_alone || of);
    }
    // "10-24 machine screws" is a thread, "2 - 1/2 in bolts" a size.
    let is_range = head.contains(['-', '–']) || head.contains(" to ");
    let fastener = || {
        describe(line)
            .noun
            .and_then(|noun| noun.may_mean.first().map(|c| c.kind()))
            == Some(Kind::Fastener)
    };
    let measured = is_range && (is_measure(rest) || rest.starts_with(|c: char| c.is_ascii_digit()));
    let digits: Vec<i64> = head
        .split(|c: char| !c.is_ascii_digit())
        .filter_map(|digits| digits.parse().ok())
        .collect();
    let near = !matches!(digits[..], [low, high] if is_range && high >= 2 * low);
    !(measured || is_range && (fastener() || !near || head.contains('/')))
}

/// Takes a quantity off the end of a line: "Ground post - 12", "ground post x 12", "ground post (12 ea)", "qty 12".
pub fn split_end(line: &str) -> Option<(Quantity, &str)> {
    let line = line.trim().trim_end_matches(['.', ';']);
    let (body, closed) = match line.strip_suffix(')') {
        Some(inner) => (inner, true),
        None => (line, false),
    };
    const OPENERS: [&str; 14] = [
        "qty:",
        "qty.",
        "qty",
        "quantity:",
        "quantity",
        " x ",
        " × ",
        " - ",
        " – ",
        ": ",
        "= ",
        "(",
        " ~",
        " approx ",
    ];
    let lower = body.to_ascii_lowercase();
    let mut places: Vec<(usize, &str)> = OPENERS
        .iter()
        .filter(|opener| !closed || opener.contains('(') || opener.contains('q'))
        .flat_map(|opener| lower.match_indices(opener).map(|(at, _)| (at, *opener)))
        .collect();
    places.sort_unstable_by_key(|(at, opener)| (*at, std::cmp::Reverse(opener.len())));
    // The whole of the count: "lock channel - 4 bdl x 10" has it after the dash.
    places
        .into_iter()
        .rev()
        .take(8)
        .rev()
        .find_map(|(at, opener)| tail(body, at, opener))
        .or_else(|| bare_sum(line))
}

/// "half bows 13 + 13": a sum is no measure, so that it may stand at the end without anything before it.
fn bare_sum(line: &str) -> Option<(Quantity, &str)> {
    let of_a_sum = |c: char| c.is_ascii_digit() || matches!(c, '+' | ' ');
    let rest = line.trim_end_matches(of_a_sum);
    let sum = line[rest.len()..].trim();
    let plain = sum.starts_with(|c: char| c.is_ascii_digit()) && sum.contains('+');
    let after_a_word = rest.ends_with(char::is_alphabetic) && line[rest.len()..].starts_with(' ');
    if !plain || !after_a_word || !says_something(rest) {
        return None;
    }
    let read = read(sum, "")?;
    Some((read.doubted(format!("{sum:?} was taken as a sum")), rest))
}

/// The count that stands after one opener.
fn tail<'a>(body: &'a str, at: usize, opener: &str) -> Option<(Quantity, &'a str)> {
    // How sure the number is belongs to it.
    let said_with = matches!(opener, " ~" | " approx ");
    let from = if said_with { at + 1 } else { at + opener.len() };
    let number = body[from..].trim();
    // "tube x 5 ft" and "bolt 5/16 x 3": the last number may be a measure. A bare "x 3" after a number is.
    let measure_before = opener.trim() == "x"
        && body[..at]
            .trim_end()
            .ends_with(|c: char| c.is_ascii_digit() || "\"'½¼¾".contains(c));
    if is_measure(number) && !is_dashed_range(number) || measure_before {
        return None;
    }
    let quantity = read(number, "")?;
    let rest = body[..at]
        .trim_end_matches([' ', ',', ';', '-', '–', '(', ':'])
        .trim();
    says_something(rest).then_some((quantity, rest))
}

/// "10-12", which looks like "1-1/2" to one that looks only for the dash.
fn is_dashed_range(text: &str) -> bool {
    let mut ends = text.split(['-', '–']);
    let digits = |end: Option<&str>| {
        end.is_some_and(|end| {
            (1..=4).contains(&end.len()) && end.bytes().all(|b| b.is_ascii_digit())
        })
    };
    digits(ends.next()) && digits(ends.next()) && ends.next().is_none()
}

/// Whether a text that begins with a number begins with a measure: a length, a gauge, a size with a fraction.
fn is_measure(text: &str) -> bool {
    let digits = text
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(text.len());
    let after = &text[digits..];
    let spaced = after.trim_start();
    let fraction = |t: &str| {
        let top = t.find(|c: char| !c.is_ascii_digit()).unwrap_or(t.len());
        top > 0
            && t[top..].starts_with('/')
            && t[top + 1..].starts_with(|c: char| c.is_ascii_digit())
    };
    let whole: u32 = text[..digits].parse().unwrap_or(u32::MAX);
    let word = spaced
        .find(|c: char| !c.is_alphabetic())
        .map_or(spaced, |end| &spaced[..end]);
    let lumber = matches!(whole, 2 | 4) && {
        let next = spaced.trim_start_matches(['x', 'X', '×', ' ']);
        let n = next
            .find(|c: char| !c.is_ascii_digit())
            .unwrap_or(next.len());
        next.len() < spaced.len()
            && matches!(&next[..n], "4" | "6" | "8" | "10" | "12")
            && !next[n..].trim_start().starts_with(['e', 'p'])
    };
    // A quantity with a unit that is also one of length: "12 lengths" is read by its own reader, "12 ft" is a length.
    (after.starts_with(['/', '.', '"', '\'', '½', '¼', '¾', '⅛', '⅜', '⅝', '⅞']) && digits > 0)
        || (after.starts_with('-') && after[1..].starts_with(|c: char| c.is_ascii_digit()))
        || Length::read_start(text, None).is_some()
        || gauge::read_start(text).is_some()
        || matches!(word.to_lowercase().as_str(), "mil" | "mils" | "gage")
        || (fraction(spaced) && whole <= 3)
        || lumber
}
