//! Words of a description as the table knows them: short forms written out, slips of pen, ear and engine mended.

use std::collections::BTreeSet;

use crate::matching::nouns::phrases::BREAKERS;
use crate::matching::nouns::table::TABLE;
use crate::matching::words::{Word, mend, written_short};

/// A word of a description, and what the table takes it for.
#[derive(Clone, Debug)]
pub struct Known {
    /// As it stands.
    pub word: Word,
    /// Short forms written out, misspellings mended; the word itself where the table has nothing like it.
    pub means: Vec<Word>,
}

impl Known {
    /// Whether the table has nothing like it.
    pub fn is_unknown(&self) -> bool {
        let known = |word: &Word| {
            TABLE.known.contains(&word.text) || BREAKERS.contains(&word.text.as_str())
        };
        !self.means.iter().all(known)
    }
}

/// Looks all words of a description up.
pub fn as_known(found: Vec<Word>) -> Vec<Known> {
    let mut all: Vec<Known> = Vec::with_capacity(found.len());
    let mut end = usize::MAX;
    for (index, word) in found.iter().enumerate() {
        // "X-conn": the letter is a cross where a word follows close by.
        let is_cross = word.text == "x"
            && word.start != end
            && found.get(index + 1).is_some_and(|next| {
                next.start == word.end + 1
                    && ["conn", "conns", "connector", "clamp", "brace", "tie"]
                        .contains(&next.text.as_str())
            });
        let means = if is_cross {
            vec![Word {
                text: "cross".to_owned(),
                ..word.clone()
            }]
        } else if word.text == "std" && !names_a_stud(&found, index) {
            vec![Word {
                text: "standard".to_owned(),
                ..word.clone()
            }]
        } else {
            expanded(word)
        };
        end = word.end;
        all.push(Known {
            word: word.clone(),
            means,
        });
    }
    all
}

/// "STD" is a stud beside an end wall, and standard at the head of anything else.
fn names_a_stud(found: &[Word], index: usize) -> bool {
    const WALLS: [&str; 10] = [
        "ew", "endwall", "end", "gable", "gbl", "wall", "jamb", "tube", "tb", "pipe",
    ];
    let beside = [index.checked_sub(1), Some(index + 1)];
    let near = |at: Option<usize>| {
        at.and_then(|at| found.get(at))
            .is_some_and(|word| WALLS.contains(&word.text.as_str()))
    };
    index > 0 || found.len() == 1 || beside.into_iter().any(near)
}

/// A word as the table knows it: short forms written out, misspellings mended.
fn expanded(word: &Word) -> Vec<Word> {
    let with = |text: &str| Word {
        text: text.to_owned(),
        ..word.clone()
    };
    if let Some(long) = TABLE.short.get(&word.text) {
        return long.split(' ').map(with).collect();
    }
    if TABLE.known.contains(word.text.as_str()) {
        return vec![word.clone()];
    }
    let initial = word.text.chars().next().unwrap_or(' ');
    let near = TABLE
        .by_initial
        .get(&initial)
        .map_or(&[][..], Vec::as_slice);
    if let Some(meant) = one_letter_misread(&word.text) {
        return expanded(&with(&meant));
    }
    // Letters that engines take for one another.
    for (seen, meant) in [
        ("rn", "m"),
        ("cl", "d"),
        ("vv", "w"),
        ("li", "h"),
        ("ii", "u"),
    ] {
        let other = word.text.replacen(seen, meant, 1);
        if other != word.text && TABLE.known.contains(&other) {
            return expanded(&with(&other));
        }
    }
    let mended = mend(&word.text, near.iter().map(String::as_str))
        .or_else(|| written_short(&word.text, near.iter().map(String::as_str)));
    // What was mended may itself be a word run together, such as "endwal".
    let mended = mended.or_else(|| first_letter_misread(&word.text));
    let Some(right) = mended.or_else(|| sounds_alike(&word.text)) else {
        let halves = run_together(&word.text);
        return halves.map_or_else(
            || vec![word.clone()],
            |(one, other)| {
                [one, other]
                    .iter()
                    .flat_map(|half| expanded(&with(half)))
                    .collect()
            },
        );
    };
    match TABLE.short.get(right) {
        Some(long) => long.split(' ').map(with).collect(),
        None => vec![with(right)],
    }
}

/// A short word with one letter that an engine takes for another: "posf", "frack". Longer ones are mended as slips are.
fn one_letter_misread(word: &str) -> Option<String> {
    const TAKEN: [(&str, &str); 12] = [
        ("f", "t"),
        ("t", "f"),
        ("c", "e"),
        ("e", "c"),
        ("h", "b"),
        ("b", "h"),
        ("n", "h"),
        ("i", "l"),
        ("l", "i"),
        ("u", "v"),
        ("a", "o"),
        ("o", "a"),
    ];
    if !(4..=5).contains(&word.len()) || !word.is_ascii() {
        return None;
    }
    let mut found: Option<String> = None;
    for at in 0..word.len() {
        for (seen, meant) in TAKEN {
            if word[at..].starts_with(seen) {
                let other = format!("{}{meant}{}", &word[..at], &word[at + 1..]);
                if TABLE.known.contains(&other) && !TABLE.short.contains_key(&other) {
                    if found.is_some_and(|found| found != other) {
                        return None;
                    }
                    found = Some(other);
                }
            }
        }
    }
    found
}

/// The one known word that is spoken alike: "hetter" is header.
fn sounds_alike(word: &str) -> Option<&'static str> {
    if word.len() < 5 {
        return None;
    }
    let sound = sound(word);
    let [one] = TABLE.by_sound.get(&sound)?.as_slice() else {
        return None;
    };
    (sound.len() > 2 && one.len().abs_diff(word.len()) <= 2).then_some(one.as_str())
}

/// The consonants of a word, those that are spoken alike as one.
pub(super) fn sound(word: &str) -> String {
    let word = word
        .replace("dge", "j")
        .replace("ck", "k")
        .replace("ph", "f")
        .replace("kn", "n")
        .replace("wr", "r")
        .replace("ch", "j");
    let mut sound = String::new();
    for (at, letter) in word.chars().enumerate() {
        let alike = match letter {
            'a' | 'e' | 'i' | 'o' | 'u' | 'y' if at == 0 => 'a',
            'a' | 'e' | 'i' | 'o' | 'u' | 'y' | 'h' | 'w' if at > 0 => continue,
            'c' | 'q' | 'x' => 'k',
            'd' => 't',
            'b' => 'p',
            'v' => 'f',
            'z' => 's',
            'g' => 'j',
            'm' => 'n',
            other => other,
        };
        if !sound.ends_with(alike) {
            sound.push(alike);
        }
    }
    sound
}

/// The one known word that differs in its first letter alone: engines read B for R, and keys lie side by side.
fn first_letter_misread(word: &str) -> Option<&'static str> {
    if word.len() < 6 || !word.is_ascii() {
        return None;
    }
    let all = TABLE.by_initial.values().flatten();
    let mut alike =
        all.filter(|known| known.len() == word.len() && known.get(1..) == Some(&word[1..]));
    let first = alike.next()?;
    alike.next().is_none().then_some(first.as_str())
}

/// A word run together is no longer than this: what is longer is no word at all.
const LONGEST_RUN: usize = 32;

/// Two known words of three letters and more without the space between them; a small word may stand for one of them, and
/// the second may itself be two: "forshadecloth".
fn run_together(word: &str) -> Option<(&str, &str)> {
    let small = |text: &str| text.len() > 1 && BREAKERS.contains(&text);
    let splits = (2..word.len().min(LONGEST_RUN)).filter_map(|at| word.split_at_checked(at));
    splits
        .filter(|_| word.len() <= LONGEST_RUN)
        .find(|(one, other)| {
            let second = is_long_known(other) || two_known(other);
            (is_long_known(one) || small(one) && other.len() > 4) && second
                || is_long_known(one) && one.len() > 4 && small(other)
        })
}

fn is_long_known(text: &str) -> bool {
    text.len() > 2 && TABLE.known.contains(text)
}

fn two_known(text: &str) -> bool {
    let mut splits = (3..text.len()).filter_map(|at| text.split_at_checked(at));
    splits.any(|(one, other)| is_long_known(one) && is_long_known(other))
}

/// Returns the words of a description as the table knows them, for comparing with another description.
pub fn plain_words(found: &[Known]) -> BTreeSet<String> {
    let all = found.iter().flat_map(|known| &known.means);
    all.map(|word| &word.text)
        .filter(|word| word.len() > 1)
        .cloned()
        .collect()
}
