//! Lines that are no rows whatever numbers they hold: addresses, telephone numbers, terms, signatures, weights.
//! Common practice, no source.

use crate::matching::describe::describe;
use crate::table::in_line::{split, split_end};
use crate::table::trailing::trailing;

/// Words that begin such a line.
const STARTS: [&str; 47] = [
    "note",
    "notes",
    "n.b.",
    "nb",
    "please",
    "thank",
    "thanks",
    "important",
    "attention",
    "attn",
    "warning",
    "caution",
    "remark",
    "remarks",
    "signature",
    "signed",
    "packed by",
    "checked by",
    "received by",
    "loaded by",
    "picked by",
    "counted by",
    "prepared by",
    "shipped by",
    "inspected by",
    "bill of lading",
    "p.o. box",
    "po box",
    "ship to",
    "sold to",
    "bill to",
    "ship via",
    "f.o.b",
    "tel",
    "telephone",
    "phone",
    "fax",
    "email",
    "e-mail",
    "dear",
    "regards",
    "kind regards",
    "sincerely",
    "cheers",
    "subject to",
    "end of",
    "all claims",
];

/// Words that begin such a line when a colon, a number sign or "no" follows.
const ENTRIES: [&str; 20] = [
    "carrier", "driver", "trailer", "seal", "terms", "freight", "pro", "bol", "b/l", "cell",
    "mobile", "order", "invoice", "po", "p.o.", "weight", "date", "via", "tracking", "claims",
];

/// The last word of a street. In an address all words begin large.
const STREETS: [&str; 17] = [
    "road", "rd", "street", "st", "avenue", "ave", "lane", "ln", "drive", "highway", "hwy",
    "route", "rte", "blvd", "crescent", "quay", "way",
];

/// Whether a line says something beside the table. `text` is all of it.
pub fn is_note(text: &str) -> bool {
    if text.len() > 300 {
        return false;
    }
    let lower = text.to_lowercase();
    let bare = lower.trim_start_matches(['*', '-', '=', '#', '>', '•', ' ', '_']);
    let ruled = lower.starts_with("***") || lower.starts_with("---") || lower.starts_with("===");
    let word_ends = |rest: &str| !rest.starts_with(|c: char| c.is_alphanumeric());
    let starts = |word: &str| bare.strip_prefix(word).is_some_and(word_ends);
    let is_entry = |word: &str| {
        bare.strip_prefix(word).is_some_and(|rest| {
            let rest = rest.trim_start();
            let numbered = ["no ", "no.", "no:", "nr", "number", "#", ":"];
            numbered.iter().any(|sign| rest.starts_with(sign)) && !is_size(rest)
                || (word == "order" && rest.starts_with(|c: char| c.is_ascii_digit()))
        })
    };
    ruled
        || STARTS.iter().any(|word| starts(word))
        || ENTRIES.iter().any(|word| is_entry(word))
        || is_net(bare)
        || is_weight(&lower)
        || is_address(text)
        || has_contact(&lower) && !counts_a_thing(text, &lower)
}

/// A line with a count and a thing is a row, though a code of it may look like a telephone number: "26 x 117-1250 hex
/// bolt". One that asks to be called is none.
fn counts_a_thing(text: &str, lower: &str) -> bool {
    const CALLS: [&str; 7] = ["call", "phone", "tel", "text", "cell", "fax", "mail"];
    let mut words = lower.split(|c: char| !c.is_alphabetic());
    if words.any(|word| CALLS.contains(&word)) {
        return false;
    }
    let whole = text.replace(" | ", ", ");
    let counted = split(&whole).or_else(|| trailing(&whole));
    counted.is_some_and(|(_, thing)| describe(thing).noun.is_some())
}

/// "#2 square bit - 4": a size with the thing and its count.
fn is_size(rest: &str) -> bool {
    let size = rest.strip_prefix('#').is_some_and(|rest| {
        let digits = rest
            .find(|c: char| !c.is_ascii_digit())
            .unwrap_or(rest.len());
        (1..=2).contains(&digits) && rest[digits..].starts_with(' ')
    });
    size && split_end(rest).is_some_and(|(count, _)| count.doubt.is_none())
}

/// "Net 30", "net 30 days".
fn is_net(lower: &str) -> bool {
    let days = lower.strip_prefix("net ").map(str::trim_start);
    days.is_some_and(|days| {
        days.starts_with(|c: char| c.is_ascii_digit())
            && !days.contains("lb")
            && !days.contains("kg")
    })
}

/// "Gross weight 4,200 lb", "wt 1 905 kg": a weight that is of nothing.
fn is_weight(lower: &str) -> bool {
    let words: Vec<&str> = lower
        .split(|c: char| !c.is_alphabetic())
        .filter(|w| !w.is_empty())
        .collect();
    let weighs = words
        .iter()
        .any(|word| matches!(*word, "weight" | "wt" | "wgt" | "gross" | "tare" | "net"));
    let unit = words
        .iter()
        .any(|word| matches!(*word, "lb" | "lbs" | "kg" | "kgs" | "pounds" | "tons"));
    let other = words.iter().any(|word| {
        !matches!(
            *word,
            "weight"
                | "wt"
                | "wgt"
                | "gross"
                | "tare"
                | "net"
                | "lb"
                | "lbs"
                | "kg"
                | "kgs"
                | "pounds"
                | "tons"
                | "total"
                | "approx"
                | "shipping"
                | "ship"
                | "shipment"
                | "of"
                | "the"
                | "load"
                | "est"
                | "estimated"
                | "about"
                | "is"
                | "pallet"
                | "pallets"
                | "all"
        )
    });
    weighs && unit && !other
}

/// "12 Harbour Road", "PO Box 9": a number, words that begin large, the last of a street.
fn is_address(text: &str) -> bool {
    let line = text.split([',', '|']).next().unwrap_or_default().trim();
    let mut words = line.split_whitespace();
    let numbered = words.next().is_some_and(|first| {
        (1..=6).contains(&first.len())
            && first.starts_with(|c: char| c.is_ascii_digit())
            && first.chars().all(char::is_alphanumeric)
    });
    let rest: Vec<&str> = words.collect();
    let large = |word: &&str| word.starts_with(|c: char| c.is_uppercase() || c.is_ascii_digit());
    let Some(last) = rest.last() else {
        return false;
    };
    let street = STREETS.contains(&last.trim_end_matches('.').to_lowercase().as_str());
    numbered && rest.len() >= 2 && street && rest.iter().all(large) && describe(line).noun.is_none()
}

/// A telephone number, an address of the mail or the web.
fn has_contact(lower: &str) -> bool {
    if lower.contains("http://") || lower.contains("https://") || lower.contains("www.") {
        return true;
    }
    let mail = lower.match_indices('@').any(|(at, _)| {
        let before = lower[..at].ends_with(|c: char| c.is_alphanumeric());
        let host: &str = lower[at + 1..]
            .split_whitespace()
            .next()
            .unwrap_or_default();
        before && host.starts_with(char::is_alphabetic) && host.contains('.')
    });
    mail || has_telephone(lower)
}

/// Groups of digits as telephones have them: 555-0142, (555) 555-0142, +44 20 7946 0000. A code may be, too.
fn has_telephone(lower: &str) -> bool {
    let mut rest = lower;
    while let Some(at) = rest.find(|c: char| c.is_ascii_digit() || c == '+') {
        let run = &rest[at..];
        let len = run
            .find(|c: char| !c.is_ascii_digit() && !matches!(c, '-' | '.' | ' ' | '(' | ')' | '+'))
            .unwrap_or(run.len());
        let run = run[..len.max(1)].trim_end_matches([' ', '-', '.', '(', ')']);
        let groups: Vec<usize> = run
            .split(|c: char| !c.is_ascii_digit())
            .map(str::len)
            .filter(|len| *len > 0)
            .collect();
        let local = matches!(groups[..], [3, 4] | [3, 3, 4] | [1, 3, 3, 4]) && run.contains('-');
        let abroad = run.starts_with('+') && groups.iter().sum::<usize>() >= 9;
        if local || abroad {
            return true;
        }
        rest = &rest[at + len.max(1)..];
    }
    false
}
