//! Figures as people say them and as engines misread them, made plain before measures are looked for.
//!
//! "Twelve foot five and a half" becomes "12 foot 5-1/2", "l0 ft 6 ln" becomes "10 ft 6 in". Whatever is written shorter
//! is filled up with spaces, so that every place in the text stays where it was.

use crate::table::number::{ONES, TENS};

/// Returns the text, as long as it was, with figures for number words and for what an engine took for letters.
pub fn as_figures(text: &str) -> String {
    let mut plain = text.to_owned();
    misread(&mut plain);
    commas(&mut plain);
    let found = words(&plain);
    number_words(&mut plain, &found);
    for (from, to) in words(&plain) {
        let word = plain[from..to].to_ascii_lowercase();
        let followed = |next: &str| plain[to..].to_ascii_lowercase().starts_with(next);
        if ["bow", "hoop", "arch", "rafter", "rib"].contains(&word.trim_end_matches('s'))
            && let Some(half) = plain[..from].trim_end().strip_suffix("1/2")
            && !half.ends_with(|c: char| {
                c.is_ascii_digit()
                    || "-/. ".contains(c) && half.trim_end().ends_with(|c: char| c.is_ascii_digit())
            })
        {
            // "1/2 bows": no bow is half an inch across.
            let at = half.len();
            put(&mut plain, (at, at + 3), "hf");
        } else if word == "s" && plain[..from].ends_with(['\'', '’']) {
            // "2 by 6's": more than one, and no feet.
            let mark = plain[..from].chars().next_back().map_or(0, char::len_utf8);
            let number = plain[..from - mark].ends_with(|c: char| c.is_ascii_digit());
            if number {
                put(&mut plain, (from - mark, to), "");
            }
        } else if word == "footer" || word == "footers" {
            put(&mut plain, (from, to), "foot");
        } else if word == "r" && followed("/up") {
            put(&mut plain, (from, to + 3), "rup");
        } else if word == "e" && followed("/w") {
            put(&mut plain, (from, to + 2), "ew");
        } else if (word == "no" || word == "number") && is_number_next(&plain[to..]) {
            let dot = usize::from(plain[to..].starts_with('.'));
            put(&mut plain, (from, to + dot), "#");
        }
    }
    plain
}

fn is_number_next(rest: &str) -> bool {
    let rest = rest.strip_prefix('.').unwrap_or(rest).trim_start();
    let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
    (1..=2).contains(&digits)
}

/// Replaces a span by something no longer, and fills up with spaces.
fn put(text: &mut String, (from, to): (usize, usize), by: &str) {
    let filled = format!("{by:<width$}", width = to - from);
    if filled.len() == to - from {
        text.replace_range(from..to, &filled);
    }
}

/// Runs of ASCII letters.
fn words(text: &str) -> Vec<(usize, usize)> {
    let bytes = text.as_bytes();
    let mut found = Vec::new();
    let mut at = 0;
    while at < bytes.len() {
        let len = bytes[at..]
            .iter()
            .take_while(|b| b.is_ascii_alphabetic())
            .count();
        if len > 0 {
            found.push((at, at + len));
        }
        at += len.max(1);
    }
    found
}

/// Letters within figures and figures within letters, where an engine reads them so: "1O", "l2", "sp1ice", "6 ln".
fn misread(text: &mut String) {
    let bytes = text.as_bytes();
    let mut mended = bytes.to_vec();
    let mut at = 0;
    while at < bytes.len() {
        let is_run = |b: &u8| b.is_ascii_alphanumeric() || *b == b'|';
        let len = bytes[at..].iter().take_while(|b| is_run(b)).count();
        let run = &bytes[at..at + len];
        let digits = run.iter().filter(|b| b.is_ascii_digit()).count();
        let inner = run
            .len()
            .checked_sub(1)
            .and_then(|last| run.get(1..last))
            .unwrap_or(&[]);
        if digits > 0
            && run
                .iter()
                .all(|b| b.is_ascii_digit() || b"OolI|".contains(b))
        {
            for byte in &mut mended[at..at + len] {
                *byte = match *byte {
                    b'O' | b'o' => b'0',
                    b'l' | b'I' | b'|' => b'1',
                    other => other,
                };
            }
        } else if digits == 1 && run.len() >= 4 && inner.iter().any(u8::is_ascii_digit) {
            for byte in &mut mended[at..at + len] {
                *byte = match *byte {
                    b'0' => b'o',
                    b'1' => b'l',
                    b'5' => b's',
                    b'8' => b'b',
                    other => other,
                };
            }
        } else if digits == 0 && len >= 3 && run.contains(&b'|') {
            mended[at..at + len]
                .iter_mut()
                .filter(|b| **b == b'|')
                .for_each(|b| *b = b'l');
        }
        let after_number = bytes[..at].iter().rev().find(|b| **b != b' ');
        if after_number.is_some_and(u8::is_ascii_digit) {
            match run {
                b"ln" | b"1n" | b"lN" => mended[at..at + len].copy_from_slice(b"in"),
                b"fl" | b"f1" => mended[at..at + len].copy_from_slice(b"ft"),
                _ => {}
            }
        }
        at += len.max(1);
    }
    if let Ok(mended) = String::from_utf8(mended) {
        *text = mended;
    }
}

/// A decimal comma becomes a point ("33,4", "3,213 m"); a thousands comma goes ("3,213 mm"), and so does the space of
/// "3 213 mm".
fn commas(text: &mut String) {
    let bytes = text.as_bytes().to_vec();
    let digits_from = |from: usize| {
        let rest = bytes.get(from..).unwrap_or_default();
        rest.iter().take_while(|b| b.is_ascii_digit()).count()
    };
    let mut at = 0;
    while at < bytes.len() {
        let whole = digits_from(at);
        let parts = digits_from(at + whole + 1);
        let sign = bytes.get(at + whole).copied();
        if whole == 0 || parts == 0 || !matches!(sign, Some(b',' | b' ')) {
            at += whole.max(1);
            continue;
        }
        let end = at + whole + 1 + parts;
        let rest = text[end..].trim_start().to_ascii_lowercase();
        let is_unit = |unit: &str| {
            rest.strip_prefix(unit)
                .is_some_and(|rest| !rest.starts_with(|c: char| c.is_ascii_alphanumeric()))
        };
        let thousands = parts == 3 && whole <= 2 && bytes[at] != b'0' && !is_unit("m");
        let mends = match sign {
            Some(b',') => true,
            _ => thousands && is_unit("mm"),
        };
        if mends && thousands {
            let number = format!(" {}{}", &text[at..at + whole], &text[at + whole + 1..end]);
            text.replace_range(at..end, &number);
        } else if mends && parts <= 3 {
            text.replace_range(at + whole..at + whole + 1, ".");
        }
        at = end;
    }
}

/// Number words where a measure is meant: a unit, "by" or a fraction stands beside them. "Two hole strap" stays.
fn number_words(text: &mut String, found: &[(usize, usize)]) {
    let lower = text.to_ascii_lowercase();
    let word = |index: usize| found.get(index).map_or("", |(from, to)| &lower[*from..*to]);
    let close = |index: usize| {
        index > 0
            && found
                .get(index)
                .is_some_and(|(from, _)| matches!(&lower[found[index - 1].1..*from], " " | "-"))
    };
    let mut index = 0;
    while index < found.len() {
        let (number, used) = spoken(index, &word, &close);
        if used == 0 {
            if let Some((number, used)) = inch_and(index, &word) {
                put(text, (found[index].0, found[index + used - 1].1), &number);
                index += used;
                continue;
            }
            // "10 and a half ft"
            let half = word(index) == "and" && word(index + 1) == "a" && word(index + 2) == "half";
            let (from, to) = (found[index].0, found.get(index + 2).map_or(0, |w| w.1));
            if half
                && lower[..from]
                    .trim_end()
                    .ends_with(|c: char| c.is_ascii_digit())
            {
                let from = lower[..from].trim_end().len();
                put(text, (from, to), "-1/2");
                index += 2;
            }
            index += 1;
            continue;
        }
        // "Twelve five and a half": feet and inches, as they are called out.
        let (inches, more) = spoken(index + used, &word, &close);
        let feet: Option<u32> = number.parse().ok().filter(|feet| (3..=60).contains(feet));
        let below: Option<u32> = inches.split('-').next().and_then(|n| n.parse().ok());
        let after = word(index + used + more);
        if let (Some(feet), Some(0..12), true) = (feet, below, close(index + used))
            && !["foot", "feet", "ft", "hole", "gauge", "by"].contains(&after)
        {
            let (from, to) = (found[index].0, found[index + used + more - 1].1);
            put(
                text,
                (from, to),
                &format!("{feet}'{}", inches.replace('-', " ")),
            );
            index += used + more;
            continue;
        }
        let (from, to) = (found[index].0, found[index + used - 1].1);
        let next = word(index + used);
        let before = index.checked_sub(1).map_or("", word);
        let unit = [
            "foot", "feet", "ft", "footer", "footers", "inch", "inches", "in", "by", "percent",
            "mil", "gauge",
        ];
        let measured = number.contains('/')
            || unit.contains(&next)
            || ["foot", "feet", "by", "number", "no"].contains(&before);
        if measured {
            put(text, (from, to), &number);
        }
        index += used;
    }
}

/// "Inch and three eighths", and how many words that takes.
fn inch_and<'a>(start: usize, word: &impl Fn(usize) -> &'a str) -> Option<(String, usize)> {
    if word(start) != "inch" || word(start + 1) != "and" {
        return None;
    }
    let top = match word(start + 2) {
        "a" | "an" => 1,
        text => ONES.iter().position(|known| *known == text)?,
    };
    let below = match word(start + 3).trim_end_matches('s') {
        "half" => 2,
        "quarter" => 4,
        "eighth" | "eight" => 8,
        "sixteenth" | "sixteen" => 16,
        _ => return None,
    };
    Some((format!("1-{top}/{below} in"), 4))
}

/// The number that starts at a word, in figures, and how many words it takes.
fn spoken<'a>(
    start: usize,
    word: &impl Fn(usize) -> &'a str,
    close: &impl Fn(usize) -> bool,
) -> (String, usize) {
    let small = |text: &str| ONES.iter().position(|known| *known == text);
    let tens = |text: &str| {
        TENS.iter()
            .position(|known| *known == text)
            .map(|n| 20 + 10 * n)
    };
    let parts = |text: &str| match text.trim_end_matches('s') {
        "half" => Some(2),
        "quarter" => Some(4),
        "eighth" => Some(8),
        "sixteenth" => Some(16),
        _ => None,
    };
    let (whole, mut used) = match (tens(word(start)), small(word(start))) {
        (Some(n), _) => match small(word(start + 1)) {
            Some(one) if (1..10).contains(&one) && close(start + 1) => (n + one, 2),
            _ => (n, 1),
        },
        (None, Some(n)) => (n, 1),
        (None, None) => return (String::new(), 0),
    };
    if close(start + used)
        && let Some(below) = parts(word(start + used))
    {
        return (format!("{whole}/{below}"), used + 1);
    }
    if word(start + used) == "and" {
        let (top, at) = match word(start + used + 1) {
            "a" => (Some(1), start + used + 2),
            text => (small(text), start + used + 2),
        };
        if let (Some(top), Some(below)) = (top, parts(word(at))) {
            used = at + 1 - start;
            return (format!("{whole}-{top}/{below}"), used);
        }
    }
    (whole.to_string(), used)
}
