//! A description into phrases, and the nouns of each.

use crate::matching::nouns::Noun;
use crate::matching::nouns::known_words::Known;
use crate::matching::nouns::table::TABLE;
use crate::matching::words::Word;

/// Nouns phrase by phrase; phrases without a noun are left out. A phrase turned round ("post, ground") comes first.
///
/// Where the first words are not known and those that are stand after a "for", the bytes of the first words come too.
pub(super) fn phrases(text: &str, found: &[Known]) -> (Vec<Vec<Noun>>, Option<(usize, usize)>) {
    let split = split_phrases(text, found);
    let mut all: Vec<Vec<Noun>> = Vec::new();
    let mut only_for = None;
    for (
        index,
        Phrased {
            words: phrase,
            seam,
        },
    ) in split.iter().enumerate()
    {
        let mut nouns = nouns_in(phrase).0;
        if all.is_empty() {
            let next = split.get(index + 1);
            let next = next
                .filter(|next| next.seam != Seam::Clause)
                .map(|next| &next.words);
            let straight = || next.and_then(|next| turned(phrase, next));
            let turned_round = || {
                next.and_then(|next| turned(next, phrase))
                    .or_else(straight)
                    .or_else(|| turned_within(phrase))
            };
            // "Door header, single": what is named in two words already is not turned round.
            let narrow = nouns.last().is_some_and(|noun| noun.words.contains(' '));
            nouns.extend(if narrow { straight() } else { turned_round() });
        }
        if all.is_empty() && !nouns.is_empty() && index == 1 && *seam == Seam::For {
            let unknown = |word: &Word| word.text.len() > 2 && !TABLE.known.contains(&word.text);
            let first = &split[0].words;
            only_for =
                (first.last().filter(|word| unknown(word))).map(|word| (word.start, word.end));
        }
        if !nouns.is_empty() {
            all.push(nouns);
        }
    }
    (all, only_for)
}

/// "Post, ground" says ground post: a noun across the seam when the second phrase is put before the first.
fn turned(second: &[Word], first: &[Word]) -> Option<Noun> {
    across_the_seam(second, first).map(|(noun, _)| noun)
}

/// The noun that covers the end of one run of words and the start of the next, and where in the first run it begins.
fn across_the_seam(before: &[Word], after: &[Word]) -> Option<(Noun, usize)> {
    if before.len() > 4 || after.len() > 3 {
        return None;
    }
    let joined: Vec<Word> = before.iter().chain(after).cloned().collect();
    let (nouns, reach) = nouns_in(&joined);
    let mut found = nouns.into_iter().zip(reach);
    let (noun, (from, _)) =
        found.find(|(_, (from, to))| *from < before.len() && *to > before.len())?;
    Some((noun, from))
}

/// "CLAMP RIDGE", "POST GROUND": the same without a comma, as systems that sort by thing write it.
fn turned_within(phrase: &[Word]) -> Option<Noun> {
    let (first, rest) = phrase.split_first()?;
    let longest = rest.len().min(3);
    (1..=longest)
        .rev()
        .filter_map(|n| across_the_seam(&rest[..n], std::slice::from_ref(first)))
        // "Door header, single" is no single door: every word up to the first must be of the noun.
        .find_map(|(noun, from)| (from == 0).then_some(noun))
}

/// What stands between a phrase and the one before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Seam {
    /// A comma or its like.
    Comma,
    /// A word that says what the thing is for.
    For,
    /// A word that begins a clause: nothing of it is turned round.
    Clause,
}

struct Phrased {
    words: Vec<Word>,
    seam: Seam,
}

pub(super) const BREAKERS: [&str; 21] = [
    "for", "of", "to", "at", "on", "and", "from", "or", "f", "that", "which", "where", "by", "in",
    "under", "over", "above", "between", "inside", "goe", "the",
];

/// "Screw-in anchor", "clip on": the small word is of the word before it.
const TAKES_A_SMALL_WORD: [&str; 10] = [
    "screw", "drive", "driven", "clip", "snap", "clamp", "push", "slip", "roll", "bolt",
];

fn split_phrases(text: &str, found: &[Known]) -> Vec<Phrased> {
    // What follows these comes with the thing, or says where it is drawn, and does not say what it is.
    const BESIDE: [&str; 8] = [
        "with",
        "w",
        "incl",
        "including",
        "per",
        "as",
        "without",
        "plus",
    ];
    let empty = |seam| Phrased {
        words: Vec::new(),
        seam,
    };
    let mut phrases = vec![empty(Seam::Comma)];
    let mut end = 0;
    let mut beside = false;
    for (index, Known { word, means, .. }) in found.iter().enumerate() {
        let between = &text[end.min(word.start)..word.start];
        let broken = between.contains([',', ';', '(', ')', '|', '/', ':', '+', '&', '–', '—'])
            || between.contains(" - ");
        let breaks = !broken_as_one(text, found, index) && BREAKERS.contains(&word.text.as_str());
        if (broken || breaks) && phrases.last().is_some_and(|p| !p.words.is_empty()) {
            phrases.push(empty(match word.text.as_str() {
                _ if broken => Seam::Comma,
                "for" | "of" | "to" | "on" | "f" => Seam::For,
                "that" | "which" | "where" | "the" | "goe" => Seam::Clause,
                _ => Seam::Comma,
            }));
        }
        beside = (beside && !broken) || BESIDE.contains(&word.text.as_str());
        let said_already = phrases.iter().any(|phrase| !phrase.words.is_empty());
        let is_kept = word.text != "to" && broken_as_one(text, found, index);
        let is_small = BREAKERS.contains(&word.text.as_str()) && !is_kept;
        let is_left_out = is_small || word.text == "x" && means.len() < 2 || beside && said_already;
        if !is_left_out && let Some(phrase) = phrases.last_mut() {
            phrase.words.extend(means.iter().cloned());
        }
        end = word.end;
    }
    phrases.retain(|phrase| !phrase.words.is_empty());
    phrases
}

/// Whether a small word joins what stands about it: "screw-in anchor", "ridge to bow clamp", "inside layer".
fn broken_as_one(text: &str, found: &[Known], index: usize) -> bool {
    if says_inner(found, index) {
        return true;
    }
    let Some(before) = index.checked_sub(1).map(|before| &found[before]) else {
        return false;
    };
    let word = &found[index].word;
    match word.text.as_str() {
        "in" | "on" | "over" => {
            let follows = text[word.end..].trim_start();
            TAKES_A_SMALL_WORD.contains(&before.word.text.as_str())
                && follows.starts_with(char::is_alphabetic)
        }
        "to" => {
            let is_fitting = |known: &Known| {
                let mut said = known.means.iter().map(|word| word.text.as_str());
                said.any(|said| TABLE.joins.contains(said))
            };
            let said_before = found[..index].iter().any(is_fitting);
            let rest = found[index + 1..].iter().take(3);
            let mut until = rest.take_while(|known| {
                let between = &text[word.end..known.word.start];
                !between.contains([',', ';', '(', '|'])
            });
            !said_before && until.any(is_fitting)
        }
        _ => false,
    }
}

/// "Inside layer", where "inside the house" is a place.
fn says_inner(found: &[Known], index: usize) -> bool {
    const LAYERS: [&str; 8] = [
        "layer", "film", "poly", "cover", "skin", "sheet", "plastic", "sheeting",
    ];
    let layer = |known: &Known| {
        let mut said = known.means.iter().map(|word| word.text.as_str());
        said.any(|said| LAYERS.contains(&said))
    };
    found[index].word.text == "inside" && found.get(index + 1).is_some_and(layer)
}

/// The longest table phrases from left to right, and which words each covers.
fn nouns_in(phrase: &[Word]) -> (Vec<Noun>, Vec<(usize, usize)>) {
    let (mut nouns, mut reach) = (Vec::new(), Vec::new());
    let mut at = 0;
    while at < phrase.len() {
        let entry = TABLE
            .phrases
            .get(&phrase[at].text)
            .into_iter()
            .flatten()
            .find(|entry| {
                let here = phrase[at..].iter().map(|word| word.text.as_str());
                here.take(entry.words.len())
                    .eq(entry.words.iter().map(String::as_str))
            });
        let Some(entry) = entry else {
            at += 1;
            continue;
        };
        let last = at + entry.words.len();
        let starts = phrase[at..last]
            .iter()
            .map(|word| word.start)
            .min()
            .unwrap_or(0);
        let ends = phrase[at..last]
            .iter()
            .map(|word| word.end)
            .max()
            .unwrap_or(0);
        nouns.push(Noun {
            may_mean: entry.may_mean.clone(),
            ambiguous: entry.ambiguous,
            words: entry.words.join(" "),
            span: (starts, ends),
            serves: Vec::new(),
        });
        reach.push((at, last));
        at = last;
    }
    (nouns, reach)
}
