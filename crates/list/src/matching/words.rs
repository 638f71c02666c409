//! Descriptions into plain words: no case, no plural, no accents of punctuation; misspellings mended.

/// A word of a description, normalised, and where it stood.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Word {
    /// Lower case, singular.
    pub text: String,
    /// Bytes from the start of the description to its first letter.
    pub start: usize,
    /// Bytes to just after its last letter.
    pub end: usize,
}

/// Returns the runs of letters as normalised words.
///
/// Letters that belong to a number ("10ft", "5x", "#12") are left to the readers of measures.
pub fn words(text: &str) -> Vec<Word> {
    let mut found = Vec::new();
    let mut start = None;
    let mut before = ' ';
    for (at, c) in text.char_indices().chain([(text.len(), ' ')]) {
        match (start, c.is_alphabetic()) {
            (None, true) if !before.is_ascii_digit() => start = Some(at),
            (Some(from), false) => {
                found.push(Word {
                    text: normal(&text[from..at]),
                    start: from,
                    end: at,
                });
                start = None;
            }
            _ => {}
        }
        if start.is_some() || !c.is_alphabetic() {
            before = c;
        }
    }
    found
}

/// Returns a word in lower case and singular: "Posts" and "post" are one word.
pub fn normal(word: &str) -> String {
    let lower = word.to_lowercase();
    let stem = |cut: &str, add: &str| lower.strip_suffix(cut).map(|stem| format!("{stem}{add}"));
    if lower.len() <= 3 || lower.ends_with("ss") || lower.ends_with("us") || lower.ends_with("is") {
        return lower;
    }
    stem("halves", "half")
        .or_else(|| stem("ies", "y").filter(|word| word.len() > 2))
        .or_else(|| stem("ches", "ch"))
        .or_else(|| stem("shes", "sh"))
        .or_else(|| stem("xes", "x"))
        .or_else(|| stem("sses", "ss"))
        .or_else(|| stem("s", ""))
        .unwrap_or(lower)
}

/// Returns the one known word that this is a misspelling of: one slip (or a swap of two letters) in five letters or
/// more, two slips in nine or more, one missing letter in four, with the first letter right. Two known words equally
/// near give nothing.
pub fn mend<'a>(word: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let letters = word.chars().count();
    let allowed = match letters {
        ..4 => return None,
        4..9 => 1,
        _ => 2,
    };
    let mut best: Option<(usize, &str)> = None;
    let mut tied = false;
    for candidate in known {
        let near_length = candidate.len().abs_diff(word.len()) <= allowed;
        let too_short = candidate.len() < 4 || (letters == 4 && candidate.len() != 5);
        if too_short || !near_length || candidate.chars().next() != word.chars().next() {
            continue;
        }
        let slips = strsim::osa_distance(word, candidate);
        if slips > allowed || best.is_some_and(|(fewest, _)| slips > fewest) {
            continue;
        }
        // Of two equally near, letters changed places sooner than one was left out.
        let as_long = |other: &str| other.len() == word.len();
        match best.filter(|(fewest, other)| slips == *fewest && *other != candidate) {
            Some((_, other)) if as_long(other) && !as_long(candidate) => continue,
            Some((_, other)) => tied = as_long(other) == as_long(candidate),
            None => tied = false,
        }
        best = Some((slips, candidate));
    }
    best.filter(|_| !tied).map(|(_, candidate)| candidate)
}

/// Returns the one known word that this is a short form of: three letters and more, the first of them right, the others
/// in their order, and no vowel but those of the word's start: "chnl" is channel, "brkt" bracket. The word with the fewest
/// letters left out is taken; two alike give nothing.
pub fn written_short<'a>(word: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let letters = word.chars().count();
    if letters < 3 {
        return None;
    }
    let vowels = |text: &str| text.chars().filter(|c| "aeiou".contains(*c)).count();
    let is_start = |candidate: &str| letters >= 4 && candidate.starts_with(word);
    let mut best: Option<(usize, &str)> = None;
    let mut tied = false;
    for candidate in known {
        let left_out = candidate.len().saturating_sub(word.len());
        // "Flm" leaves out one letter; a longer word with one letter less is a slip.
        let least = if letters == 3 { 1 } else { 2 };
        let fits = (least..=6).contains(&left_out)
            && candidate.as_bytes().first() == word.as_bytes().first()
            && (is_start(candidate)
                || (vowels(word) <= usize::from(word.starts_with(|c| "aeiou".contains(c)))
                    && in_order(word, candidate)
                    && ends_alike(word, candidate)));
        if !fits || best.is_some_and(|(fewest, _)| left_out > fewest) {
            continue;
        }
        tied = best.is_some_and(|(fewest, other)| left_out == fewest && other != candidate);
        best = Some((left_out, candidate));
    }
    best.filter(|_| !tied).map(|(_, candidate)| candidate)
}

fn in_order(short: &str, long: &str) -> bool {
    let mut rest = long.chars();
    short.chars().all(|c| rest.any(|other| other == c))
}

/// A short form keeps the last consonant.
fn ends_alike(short: &str, long: &str) -> bool {
    let consonant = long.chars().rev().find(|c| !"aeiou".contains(*c));
    consonant == short.chars().next_back()
}
