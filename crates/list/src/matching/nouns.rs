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
}

/// Returns the head noun of a description whose words (without those of measures) are given.
pub fn head_noun(text: &str, found: &[Word]) -> Option<Noun> {
    let phrases = phrases(text, found);
    let first = phrases.first()?;
    let kind = |noun: &Noun| noun.may_mean[0].kind();
    if let Some(stranger) = first.iter().find(|noun| kind(noun) == Kind::Stranger) {
        return Some(stranger.clone());
    }
    if let Some(pair) = read_together(first, &phrases) {
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
        })
    })
}

/// Returns the concept of a head word or of any of its synonyms.
pub fn concept(name: &str) -> Option<Concept> {
    if let Some(at) = TABLE.concepts.iter().position(|entry| entry.head == name) {
        return Some(Concept(at));
    }
    let found = words(name);
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
fn phrases(text: &str, found: &[Word]) -> Vec<Vec<Noun>> {
    let split = split_phrases(text, found);
    let mut all: Vec<Vec<Noun>> = Vec::new();
    for (index, phrase) in split.iter().enumerate() {
        let mut nouns = nouns_in(phrase).0;
        if all.is_empty() {
            let next = split.get(index + 1);
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
        if !nouns.is_empty() {
            all.push(nouns);
        }
    }
    all
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

fn split_phrases(text: &str, found: &[Word]) -> Vec<Vec<Word>> {
    const BREAKERS: [&str; 21] = [
        "for", "of", "to", "at", "on", "and", "from", "or", "f", "that", "which", "where", "by",
        "in", "under", "over", "above", "between", "inside", "goe", "the",
    ];
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
    let mut phrases = vec![Vec::new()];
    let mut end = 0;
    let mut beside = false;
    for word in found {
        let between = &text[end.min(word.start)..word.start];
        let broken = between.contains([',', ';', '(', ')', '|', '/', ':', '+', '&', '–', '—'])
            || between.contains(" - ");
        if (broken || BREAKERS.contains(&word.text.as_str()))
            && phrases.last().is_some_and(|p| !p.is_empty())
        {
            phrases.push(Vec::new());
        }
        beside = (beside && !broken) || BESIDE.contains(&word.text.as_str());
        let said_already = phrases.iter().any(|phrase| !phrase.is_empty());
        let is_left_out = BREAKERS.contains(&word.text.as_str()) || beside && said_already;
        if !is_left_out && let Some(phrase) = phrases.last_mut() {
            phrase.extend(expanded(word));
        }
        end = word.end;
    }
    phrases.retain(|phrase| !phrase.is_empty());
    phrases
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
    let Some(right) = mended.or_else(|| first_letter_misread(&word.text)) else {
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
    let known = |text: &str| TABLE.known.contains(text) && text.len() > 2;
    (3..word.len().saturating_sub(2))
        .filter_map(|at| word.split_at_checked(at))
        .find(|(one, other)| known(one) && known(other))
}

/// Returns the words of a description as the table knows them, for comparing with another description.
pub fn plain_words(found: &[Word]) -> BTreeSet<String> {
    found
        .iter()
        .flat_map(expanded)
        .map(|word| word.text)
        .filter(|word| word.len() > 1)
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

struct Table {
    concepts: Vec<Entry>,
    pairs: Vec<Pair>,
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
        let mut phrases: BTreeMap<String, Vec<Phrase>> = BTreeMap::new();
        let mut add = |text: &str, may_mean: Vec<Concept>, ambiguous: bool| {
            let words: Vec<String> = text.split([' ', '-']).map(normal).collect();
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
        let short = file
            .short
            .iter()
            .map(|(word, long)| (normal(word), long.clone()))
            .collect();
        Self {
            concepts,
            pairs,
            phrases,
            short,
            known,
            by_initial,
        }
    }
}
