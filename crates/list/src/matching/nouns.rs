//! What parts are called: the synonym table, and which noun of a description is its head.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use serde::Deserialize;

use crate::matching::words::{Word, mend, normal, words, written_short};

/// What a part is made of, as far as its noun tells.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Kind {
    /// Tube and pipe.
    Tube,
    /// Channel, strip and extrusion.
    Channel,
    /// Wire.
    Wire,
    /// Film and cloth.
    Film,
    /// Bolts, screws, nuts, washers.
    Fastener,
    /// Clamps, brackets, plates.
    Fitting,
    /// Lumber.
    Board,
    /// Things that come as a set.
    Set,
    /// Cloth, net, screen.
    Cloth,
    /// What is no part of a house: papers, tools, freight.
    Stranger,
}

/// A concept of the synonym table; its number there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Concept(usize);

impl Concept {
    /// The head word, such as "ground post".
    pub fn head(self) -> &'static str {
        &TABLE.concepts[self.0].head
    }

    /// What such parts are made of.
    pub fn kind(self) -> Kind {
        TABLE.concepts[self.0].kind
    }

    /// Whether `self` is a kind of `wide`, such as "end-wall film" of "film".
    pub fn is_under(self, wide: Concept) -> bool {
        self.above().any(|concept| concept == wide)
    }

    /// The wider concepts, from the nearest.
    pub fn above(self) -> impl Iterator<Item = Concept> {
        let next = |concept: &Concept| TABLE.concepts[concept.0].under;
        // The table is a few levels deep; the bound keeps a slip in it (a ring) from hanging.
        std::iter::successors(next(&self), next).take(4)
    }

    /// Whether some families make both of the same part.
    pub fn is_akin(self, other: Concept) -> bool {
        TABLE.concepts[self.0].akin.contains(&other) || TABLE.concepts[other.0].akin.contains(&self)
    }
}

/// The noun that a description says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Noun {
    /// What it may mean; one concept unless the word is ambiguous.
    pub may_mean: Vec<Concept>,
    /// Whether the word is one of those that must never decide alone.
    pub ambiguous: bool,
    /// The words as the table has them.
    pub words: String,
    /// Bytes of the description that it covers, from and to.
    pub span: (usize, usize),
    /// What it is said to be for: what later phrases name.
    pub serves: Vec<Concept>,
}

/// Returns the head noun of a description whose words (without those of measures) are given.
pub fn head_noun(text: &str, found: &[Known]) -> Option<Noun> {
    let (phrases, only_for) = phrases(text, found);
    let mut noun = head_of(&phrases, only_for)?;
    let later = phrases.iter().skip(1).flatten();
    noun.serves = later
        .filter(|other| !other.ambiguous)
        .filter_map(|other| other.may_mean.first().copied())
        .collect();
    Some(marked(noun, found))
}

fn head_of(phrases: &[Vec<Noun>], only_for: Option<(usize, usize)>) -> Option<Noun> {
    let first = phrases.first()?;
    let kind = |noun: &Noun| noun.may_mean[0].kind();
    if let Some(stranger) = first.iter().find(|noun| kind(noun) == Kind::Stranger) {
        // "Snap clamps, hose": a word of the house beside it, and nothing is sure.
        let of_a_house =
            |noun: &Noun| kind(noun) != Kind::Stranger && apart(noun.span, stranger.span);
        return Some(Noun {
            ambiguous: first.iter().any(of_a_house),
            ..stranger.clone()
        });
    }
    if let Some(span) = only_for {
        return Some(unnamed(span, phrases));
    }
    if let Some(pair) = read_together(first, phrases) {
        return Some(pair);
    }
    let mut head = first.last()?.clone();
    // "hinges single door": lists that sort by thing name the fitting first, and then what it is for.
    if matches!(
        kind(&head),
        Kind::Set | Kind::Tube | Kind::Channel | Kind::Film
    ) && let Some(fitting) = first
        .iter()
        .find(|noun| matches!(kind(noun), Kind::Fitting | Kind::Fastener))
    {
        head = fitting.clone();
    }
    // "ridge tube", "end wall poly cover": the last word is wide, an earlier one says which.
    let earlier = first.iter().rev().skip(1);
    let later = phrases.iter().skip(1).flatten();
    for other in earlier.chain(later) {
        if narrows(other, &head) {
            head = Noun {
                ambiguous: false,
                ..other.clone()
            };
            break;
        }
    }
    Some(head)
}

/// "Lug for tie bar": a thing that is not known by name, of which only what it is for is understood. It is some fitting.
fn unnamed(span: (usize, usize), phrases: &[Vec<Noun>]) -> Noun {
    let fitting = Noun {
        may_mean: TABLE.fitting.iter().copied().collect(),
        ambiguous: false,
        words: "fitting".to_owned(),
        span,
        serves: Vec::new(),
    };
    let first = std::slice::from_ref(&fitting);
    read_together(first, phrases).map_or(
        Noun {
            ambiguous: true,
            ..fitting.clone()
        },
        |pair| Noun {
            ambiguous: true,
            ..pair
        },
    )
}

/// "Lock channel, double": a word elsewhere in the description makes the thing a narrower one.
fn marked(noun: Noun, found: &[Known]) -> Noun {
    let says = |word: &String| {
        let all = found.iter().flat_map(|known| &known.means);
        all.into_iter().any(|said| said.text == *word)
    };
    let mark = TABLE.marked.iter().find(|mark| {
        noun.may_mean
            .iter()
            .any(|meant| mark.things.contains(meant))
            && mark.by.iter().any(says)
    });
    match mark {
        Some(mark) => Noun {
            may_mean: vec![mark.means],
            ..noun
        },
        None => noun,
    }
}

fn apart(one: (usize, usize), other: (usize, usize)) -> bool {
    one.1 <= other.0 || other.1 <= one.0
}

/// A thing of the first phrase that is for another: "clamp for ridge tube", "CLAMP, RIDGE", "ridge tube clamp".
fn read_together(first: &[Noun], phrases: &[Vec<Noun>]) -> Option<Noun> {
    // Of a word with several meanings the table names the likeliest first.
    let is = |noun: &Noun, concepts: &[Concept]| {
        noun.may_mean
            .first()
            .is_some_and(|meant| concepts.contains(meant))
    };
    let surely = |noun: &Noun, concepts: &[Concept]| {
        noun.may_mean.iter().all(|meant| concepts.contains(meant))
    };
    TABLE.pairs.iter().find_map(|pair| {
        let thing = first.iter().find(|noun| surely(noun, &pair.things))?;
        let other = phrases
            .iter()
            .flatten()
            .find(|noun| apart(noun.span, thing.span) && is(noun, &pair.of))?;
        let (from, to) = (
            thing.span.0.min(other.span.0),
            thing.span.1.max(other.span.1),
        );
        Some(Noun {
            may_mean: vec![pair.means],
            ambiguous: false,
            words: format!("{} {}", other.words, thing.words),
            span: (from, to),
            serves: Vec::new(),
        })
    })
}

/// Returns the concept of a head word or of any of its synonyms.
pub fn concept(name: &str) -> Option<Concept> {
    if let Some(at) = TABLE.concepts.iter().position(|entry| entry.head == name) {
        return Some(Concept(at));
    }
    let found = as_known(words(name));
    head_noun(name, &found)
        .filter(|noun| !noun.ambiguous)
        .and_then(|noun| noun.may_mean.first().copied())
}

fn narrows(other: &Noun, head: &Noun) -> bool {
    let [concept] = other.may_mean[..] else {
        return false;
    };
    if head.ambiguous {
        return !other.ambiguous && head.may_mean.contains(&concept);
    }
    head.may_mean.iter().all(|wide| concept.is_under(*wide))
}

/// Nouns phrase by phrase; phrases without a noun are left out. A phrase turned round ("post, ground") comes first.
///
/// Where the first words are not known and those that are stand after a "for", the bytes of the first words come too.
fn phrases(text: &str, found: &[Known]) -> (Vec<Vec<Noun>>, Option<(usize, usize)>) {
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

const BREAKERS: [&str; 21] = [
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
                let said = known.means.iter().map(|word| word.text.as_str());
                said.into_iter().any(|said| TABLE.joins.contains(said))
            };
            let said_before = found[..index].iter().any(is_fitting);
            let rest = found[index + 1..].iter().take(3);
            let until = rest.take_while(|known| {
                let between = &text[word.end..known.word.start];
                !between.contains([',', ';', '(', '|'])
            });
            !said_before && until.into_iter().any(is_fitting)
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
        let said = known.means.iter().map(|word| word.text.as_str());
        said.into_iter().any(|said| LAYERS.contains(&said))
    };
    found[index].word.text == "inside" && found.get(index + 1).is_some_and(layer)
}

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
fn sound(word: &str) -> String {
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

/// Two known words of three letters and more without the space between them.
fn run_together(word: &str) -> Option<(&str, &str)> {
    let known = |text: &str| {
        text.len() > 2
            && (TABLE.known.contains(text) || text.len() > 6 && run_together(text).is_some())
    };
    let small = |text: &str| BREAKERS.contains(&text) && text.len() > 1;
    (2..word.len().saturating_sub(1))
        .filter_map(|at| word.split_at_checked(at))
        .find(|(one, other)| {
            (known(one) || small(one) && other.len() > 4) && known(other)
                || known(one) && one.len() > 4 && small(other)
        })
}

/// Returns the words of a description as the table knows them, for comparing with another description.
pub fn plain_words(found: &[Known]) -> BTreeSet<String> {
    let all = found.iter().flat_map(|known| &known.means);
    all.map(|word| &word.text)
        .filter(|word| word.len() > 1)
        .cloned()
        .collect()
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

static TABLE: LazyLock<Table> = LazyLock::new(Table::built_in);

struct Pair {
    things: Vec<Concept>,
    of: Vec<Concept>,
    means: Concept,
}

struct Marked {
    things: Vec<Concept>,
    by: Vec<String>,
    means: Concept,
}

struct Table {
    concepts: Vec<Entry>,
    pairs: Vec<Pair>,
    marked: Vec<Marked>,
    /// What a thing is that is known only by what it is for.
    fitting: Option<Concept>,
    /// Last words of the names of what joins two things: "clamp", "bracket".
    joins: BTreeSet<String>,
    by_sound: BTreeMap<String, Vec<String>>,
    /// By first word, longest phrase first.
    phrases: BTreeMap<String, Vec<Phrase>>,
    short: BTreeMap<String, String>,
    known: BTreeSet<String>,
    by_initial: BTreeMap<char, Vec<String>>,
}

struct Entry {
    head: String,
    kind: Kind,
    under: Option<Concept>,
    akin: Vec<Concept>,
}

struct Phrase {
    words: Vec<String>,
    may_mean: Vec<Concept>,
    ambiguous: bool,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    plain: BTreeSet<String>,
    short: BTreeMap<String, String>,
    noun: Vec<NounRow>,
    pair: Vec<PairRow>,
    marked: Vec<MarkedRow>,
    ambiguous: Vec<AmbiguousRow>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PairRow {
    thing: Vec<String>,
    of: Vec<String>,
    means: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct MarkedRow {
    thing: Vec<String>,
    by: Vec<String>,
    means: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct NounRow {
    head: String,
    kind: Kind,
    under: Option<String>,
    #[serde(default)]
    akin: Vec<String>,
    words: Vec<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct AmbiguousRow {
    word: String,
    may_mean: Vec<String>,
}

/// Whether any of these is a part of some house.
fn concepts_of(meant: &[Concept], all: &[Entry]) -> bool {
    meant
        .iter()
        .any(|concept| all[concept.0].kind != Kind::Stranger)
}

impl Table {
    fn built_in() -> Self {
        let file: File = toml::from_str(include_str!("../../data/nouns.toml"))
            .expect("a test reads the built-in table");
        let numbers: BTreeMap<&str, Concept> = file
            .noun
            .iter()
            .enumerate()
            .map(|(n, row)| (row.head.as_str(), Concept(n)))
            .collect();
        let by_head = |head: &String| {
            *numbers
                .get(head.as_str())
                .expect("a test follows every reference of the table")
        };
        let concepts = file.noun.iter().map(|row| Entry {
            head: row.head.clone(),
            kind: row.kind,
            under: row.under.as_ref().map(by_head),
            akin: row.akin.iter().map(by_head).collect(),
        });
        let concepts: Vec<Entry> = concepts.collect();
        let pairs = file.pair.iter().map(|row| Pair {
            things: row.thing.iter().map(by_head).collect(),
            of: row.of.iter().map(by_head).collect(),
            means: by_head(&row.means),
        });
        let pairs = pairs.collect();
        let marked = file.marked.iter().map(|row| Marked {
            things: row.thing.iter().map(by_head).collect(),
            by: row.by.clone(),
            means: by_head(&row.means),
        });
        let marked = marked.collect();
        let mut phrases: BTreeMap<String, Vec<Phrase>> = BTreeMap::new();
        let mut add = |text: &str, may_mean: Vec<Concept>, ambiguous: bool| {
            // Small words are left out of descriptions too.
            let words = text.split([' ', '-']).filter(|word| *word != "to");
            let words: Vec<String> = words.map(normal).collect();
            let entries = phrases.entry(words[0].clone()).or_default();
            if entries.iter().all(|entry| entry.words != words) {
                entries.push(Phrase {
                    words,
                    may_mean,
                    ambiguous,
                });
            }
        };
        // First come, first kept: a word that must not decide alone stays so though it is also a head word.
        for row in &file.ambiguous {
            add(&row.word, row.may_mean.iter().map(by_head).collect(), true);
        }
        for row in &file.noun {
            for text in row.words.iter().chain([&row.head]) {
                add(text, vec![by_head(&row.head)], false);
            }
        }
        for entries in phrases.values_mut() {
            entries.sort_by_key(|entry| std::cmp::Reverse(entry.words.len()));
        }
        let in_phrases = phrases
            .values()
            .flatten()
            .flat_map(|entry| entry.words.iter().cloned());
        let known: BTreeSet<String> = in_phrases
            .chain(file.short.keys().map(|word| normal(word)))
            .chain(file.plain.iter().cloned())
            .collect();
        // Short abbreviations are no words to be misspelled: "clmap" is clamp, not the abbreviation "clmp".
        let mut by_initial: BTreeMap<char, Vec<String>> = BTreeMap::new();
        let is_abbreviation = |word: &String| file.short.contains_key(word) && word.len() < 6;
        // Nothing is taken for a slip of a stranger's name: "folded" is no folder.
        let of_a_house = |word: &&String| {
            let here = |entry: &Phrase| {
                entry.words.contains(*word) && concepts_of(&entry.may_mean, &concepts)
            };
            phrases.values().flatten().any(here) || file.short.contains_key(*word)
        };
        for word in known
            .iter()
            .filter(|word| !is_abbreviation(word))
            .filter(|word| file.plain.contains(*word) || of_a_house(word))
        {
            by_initial
                .entry(word.chars().next().unwrap_or(' '))
                .or_default()
                .push(word.clone());
        }
        let mut by_sound: BTreeMap<String, Vec<String>> = BTreeMap::new();
        for word in by_initial.values().flatten().filter(|word| word.len() > 3) {
            by_sound.entry(sound(word)).or_default().push(word.clone());
        }
        let fitting = numbers.get("clamp").copied();
        let joins = [
            "clamp",
            "bracket",
            "connector",
            "clip",
            "coupler",
            "strap",
            "saddle",
        ];
        let joins = joins.map(str::to_owned).into_iter().collect();
        let short = file
            .short
            .iter()
            .map(|(word, long)| (normal(word), long.clone()))
            .collect();
        Self {
            concepts,
            pairs,
            marked,
            fitting,
            joins,
            by_sound,
            phrases,
            short,
            known,
            by_initial,
        }
    }
}
