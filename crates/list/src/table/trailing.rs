//! A count that ends a line and that no sign sets apart: "Lock nut x78", "Stud clamp, 26", "Hinge 8 each",
//! "Peak plate ..... 52", "Peak plate 26". Common practice, no source.

use crate::matching::describe::describe;
use crate::table::quantity::{Quantity, read};
use crate::table::units::{Counts, unit_counts};

/// Words whose number is their own: "No. 12", "box of 500", "size 8", "bag 3".
const OWN_NUMBER: [&str; 57] = [
    "x", "×", "no", "nr", "number", "size", "type", "model", "part", "fig", "bag", "box", "page",
    "level", "grade", "bay", "kit", "sch", "schedule", "load", "order", "item", "rev", "of", "to",
    "and", "or", "per", "by", "at", "in", "class", "step", "row", "for", "ft", "feet", "foot",
    "inch", "inches", "mm", "cm", "m", "ga", "gauge", "mil", "od", "lb", "lbs", "kg", "+", "&",
    "minus", "plus", "less", "about", "approx",
];

/// Takes the count off the end of a line that names a thing, and leaves the thing.
pub fn trailing(line: &str) -> Option<(Quantity, &str)> {
    let line = line.trim().trim_end_matches(['.', ';', ' ']);
    if let Some(found) = after_leader(line) {
        return Some(found);
    }
    let (before, last) = cut_word(line)?;
    if !last.starts_with(|c: char| c.is_ascii_digit()) && unit_of_pieces(last) {
        let (thing, number) = cut_word(before)?;
        return count_of(thing, number, &format!("{number} {last}"));
    }
    count_of(before, last, last)
}

/// The last word and what stands before it.
fn cut_word(text: &str) -> Option<(&str, &str)> {
    let (before, last) = text.trim_end().rsplit_once(' ')?;
    Some((before.trim_end(), last))
}

fn unit_of_pieces(word: &str) -> bool {
    let word = word.to_lowercase();
    // A word that may as well be one of the thing, or a measure, is no unit here.
    let plain = !matches!(
        word.as_str(),
        "c" | "m" | "no" | "lg" | "lin" | "bar" | "bars" | "tube" | "tubes" | "strip" | "strips"
    );
    plain && !matches!(unit_counts(&word), None | Some(Counts::Measure))
}

/// The count after a row of dots.
fn after_leader(line: &str) -> Option<(Quantity, &str)> {
    let at = line.rfind(['.', '…', '_', '·'])?;
    let sign = line[at..].chars().next()?;
    let thing = line[..at].trim_end_matches([sign, ' ']);
    let dots = line[thing.len()..at].chars().filter(|c| *c == sign).count() + 1;
    let number = line[at + sign.len_utf8()..].trim();
    let enough = dots >= 3 || sign == '…';
    let read = enough.then(|| read(number, ""))??;
    names_a_thing(thing).then_some((read, thing))
}

fn count_of<'a>(thing: &'a str, number: &str, said: &str) -> Option<(Quantity, &'a str)> {
    let times = number.strip_prefix(['x', 'X', '×']);
    let digits = times.unwrap_or(number);
    let short = (1..=4).contains(&digits.len()) && digits.bytes().all(|b| b.is_ascii_digit());
    if !short || digits.starts_with('0') {
        return None;
    }
    let set_apart = thing.ends_with([',', ';', ')']);
    let bare = thing.trim_end_matches([',', ';', ':', '-', '–', ' ']);
    let last = bare.rsplit(' ').next()?;
    let word = last.trim_end_matches('.').to_lowercase();
    // "5/16 x 3" and "8 ft 6": the number goes on with a measure.
    let after_measure = last.ends_with(|c: char| c.is_ascii_digit() || "\"'½¼¾″′".contains(c));
    if OWN_NUMBER.contains(&word.as_str()) || after_measure && (!set_apart || times.is_some()) {
        return None;
    }
    let unit_said = said.len() > number.len();
    let year = digits.len() == 4 && (digits.starts_with("19") || digits.starts_with("20"));
    if !names_a_thing(bare) || year && !unit_said && times.is_none() {
        return None;
    }
    let read = read(said.trim_start_matches(['x', 'X', '×']), "")?;
    let sure = set_apart || unit_said || times.is_some();
    let doubt = format!("the {digits} that ends the line was taken as the count");
    Some((if sure { read } else { read.doubted(doubt) }, bare))
}

fn names_a_thing(text: &str) -> bool {
    describe(text).noun.is_some_and(|noun| !noun.ambiguous)
}
