//! Words that somebody wrote for the delivery receipt themselves: what is empty in them, and what is missing.

/// What is wrong with words for a receipt.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum WordTrouble {
    /// A phrase that says nothing was harmed or missing, and so is no exception.
    Empty {
        /// As it was written.
        phrase: String,
    },
    /// There is no number.
    NoCount,
    /// No kind of unit.
    NoUnit,
    /// No kind of harm, and nothing short or over.
    NoHarm,
    /// Harm, but not where.
    NoPlace,
}

use crate::receipt_note::{HarmKind, UnitKind};
use crate::rule::Sure;
use crate::tailgate::Cited;

/// Why an empty phrase is no exception.
pub const EMPTY_PHRASE: Cited = Cited {
    says: "A note such as \"subject to inspection\" is not accepted as an exception: state count, unit, kind and place of \
           harm. That others of the sort are as empty is our own reading.",
    source: "secondary accounts of receiving practice",
    sure: Sure::SecondHand,
};

/// Beginnings of empty phrases: what follows "subject to" within three words.
const SUBJECT_TO: [&str; 9] = [
    "inspection",
    "count",
    "check",
    "checking",
    "counting",
    "verification",
    "examination",
    "recount",
    "unpacking",
];

/// Empty by themselves. Words are compared, so case and stops do not matter.
const EMPTY: [&str; 17] = [
    "said to contain",
    "stc",
    "pending inspection",
    "pending count",
    "not inspected",
    "not checked",
    "not counted",
    "unchecked",
    "uninspected",
    "contents unknown",
    "condition unknown",
    "possible damage",
    "possibly damaged",
    "may be damaged",
    "might be damaged",
    "damaged freight",
    "received as is",
];

/// Numbers that are written out.
const NUMBERS: [&str; 22] = [
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
    "twenty",
    "both",
    "all",
];

/// Units beside those that have a name in [`UnitKind`].
const UNITS: [&str; 18] = [
    "skid", "skids", "box", "boxes", "case", "cases", "package", "packages", "reel", "reels",
    "tube", "tubes", "bow", "bows", "unit", "units", "pail", "pails",
];

/// Harm beside what has a name in [`HarmKind`]. "Damaged" is not among them: it says that something is wrong, not what.
const HARMS: [&str; 26] = [
    "split",
    "cracked",
    "punctured",
    "holed",
    "hole",
    "ripped",
    "cut",
    "kinked",
    "twisted",
    "soaked",
    "stained",
    "opened",
    "collapsed",
    "leaking",
    "smashed",
    "snapped",
    "buckled",
    "creased",
    "rusty",
    "scraped",
    "missing",
    "loose",
    "shifted",
    "overturned",
    "burst",
    "flattened",
];

/// Nothing harmed, but the number is not right: that needs no place.
const AMISS: [&str; 8] = [
    "short",
    "shortage",
    "over",
    "overage",
    "undelivered",
    "refused",
    "missing",
    "astray",
];

/// Where on a unit.
const PLACES: [&str; 34] = [
    "side",
    "sides",
    "end",
    "ends",
    "corner",
    "corners",
    "top",
    "bottom",
    "edge",
    "edges",
    "lid",
    "base",
    "middle",
    "centre",
    "center",
    "front",
    "back",
    "rear",
    "left",
    "right",
    "inside",
    "outside",
    "panel",
    "strap",
    "straps",
    "wrap",
    "upper",
    "lower",
    "north",
    "south",
    "east",
    "west",
    "face",
    "throughout",
];

/// The words that the check goes by, for a page that does it where the yard computer is out of reach.
#[derive(Clone, Copy, Debug)]
pub struct WordLists {
    /// What makes "subject to" an empty phrase.
    pub subject_to: &'static [&'static str],
    /// Empty by themselves.
    pub empty: &'static [&'static str],
    /// Numbers that are written out.
    pub numbers: &'static [&'static str],
    /// Units beside those of [`UnitKind`].
    pub units: &'static [&'static str],
    /// Harm beside that of [`HarmKind`].
    pub harms: &'static [&'static str],
    /// A number that is not right.
    pub amiss: &'static [&'static str],
    /// Where on a unit.
    pub places: &'static [&'static str],
}

/// Returns the words that [`check_words`] goes by.
pub fn word_lists() -> WordLists {
    WordLists {
        subject_to: &SUBJECT_TO,
        empty: &EMPTY,
        numbers: &NUMBERS,
        units: &UNITS,
        harms: &HARMS,
        amiss: &AMISS,
        places: &PLACES,
    }
}

/// Returns what is wrong with words that somebody wrote for the receipt: empty phrases, then what is missing. It reads
/// English words one by one and understands none of them: it asks, it does not refuse.
pub fn check_words(text: &str) -> Vec<WordTrouble> {
    let words = words_of(text);
    let mut troubles = empty_phrases(&words);
    let has = |known: &[&str]| words.iter().any(|w| known.contains(&w.as_str()));
    let named = |name: &str| words.iter().any(|w| w == name);
    let counted = words.iter().any(|w| w.chars().all(|c| c.is_ascii_digit())) || has(&NUMBERS);
    let unit = has(&UNITS)
        || UnitKind::ALL
            .iter()
            .any(|u| named(&u.words(1)) || named(&u.words(2)));
    let harmed = has(&HARMS) || HarmKind::ALL.iter().any(|h| named(h.words()));
    let amiss = has(&AMISS)
        || contains(&words, "not delivered").is_some()
        || contains(&words, "not received").is_some();
    if !counted {
        troubles.push(WordTrouble::NoCount);
    }
    if !unit {
        troubles.push(WordTrouble::NoUnit);
    }
    if !harmed && !amiss {
        troubles.push(WordTrouble::NoHarm);
    }
    if harmed && !has(&PLACES) && !only_missing(&words) {
        troubles.push(WordTrouble::NoPlace);
    }
    troubles
}

/// "1 carton missing" is a shortage; "strap missing" names its place.
fn only_missing(words: &[String]) -> bool {
    words
        .iter()
        .all(|w| w == "missing" || !HARMS.contains(&w.as_str()))
        && !HarmKind::ALL
            .iter()
            .any(|h| words.iter().any(|w| w == h.words()))
}

fn empty_phrases(words: &[String]) -> Vec<WordTrouble> {
    let mut found = Vec::new();
    for at in 0..words.len() {
        let rest = words.get(at..).unwrap_or_default();
        let subject = matches!(rest, [a, b, ..] if (a == "subject" || a == "subj") && b == "to");
        let end = if subject {
            rest.iter()
                .take(6)
                .position(|w| SUBJECT_TO.contains(&w.as_str()))
                .map(|end| end + 1)
        } else {
            EMPTY.iter().find_map(|phrase| starts_with(rest, phrase))
        };
        if let Some(end) = end {
            let phrase = rest.get(..end).unwrap_or_default().join(" ");
            found.push(WordTrouble::Empty { phrase });
        }
    }
    found
}

fn contains(words: &[String], phrase: &str) -> Option<usize> {
    (0..words.len()).find(|at| starts_with(words.get(*at..).unwrap_or_default(), phrase).is_some())
}

/// How many words the phrase takes up at the beginning, if it stands there.
fn starts_with(words: &[String], phrase: &str) -> Option<usize> {
    let wanted = phrase.split(' ');
    let many = wanted.clone().count();
    let there = words.len() >= many && words.iter().zip(wanted).all(|(a, b)| a == b);
    there.then_some(many)
}

fn words_of(text: &str) -> Vec<String> {
    text.split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .map(str::to_lowercase)
        .collect()
}

impl WordTrouble {
    /// Returns the trouble in words, with what would be right.
    pub fn words(&self) -> String {
        match self {
            WordTrouble::Empty { phrase } => format!(
                "\"{phrase}\" says nothing was short or harmed, and is not taken as an exception. Count now, and write \
                 what you see."
            ),
            WordTrouble::NoCount => "No number: how many of how many?".into(),
            WordTrouble::NoUnit => "Of what: pallets, crates, cartons, bundles?".into(),
            WordTrouble::NoHarm => {
                "What is wrong: bent, broken, crushed, torn, wet; or how many short or over?".into()
            }
            WordTrouble::NoPlace => "Where: which side, end or corner?".into(),
        }
    }
}
