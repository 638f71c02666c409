//! The synonym table of `data/nouns.toml`, made ready for looking words up.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use serde::Deserialize;

use crate::matching::nouns::known_words::sound;
use crate::matching::nouns::{Concept, Kind};
use crate::matching::words::normal;

pub(super) static TABLE: LazyLock<Table> = LazyLock::new(Table::built_in);

pub(super) struct Pair {
    pub(super) things: Vec<Concept>,
    pub(super) of: Vec<Concept>,
    pub(super) means: Concept,
}

pub(super) struct Marked {
    pub(super) things: Vec<Concept>,
    pub(super) by: Vec<String>,
    pub(super) means: Concept,
}

pub(super) struct Table {
    pub(super) concepts: Vec<Entry>,
    pub(super) pairs: Vec<Pair>,
    pub(super) marked: Vec<Marked>,
    /// What a thing is that is known only by what it is for.
    pub(super) fitting: Option<Concept>,
    /// Last words of the names of what joins two things: "clamp", "bracket".
    pub(super) joins: BTreeSet<String>,
    pub(super) by_sound: BTreeMap<String, Vec<String>>,
    /// By first word, longest phrase first.
    pub(super) phrases: BTreeMap<String, Vec<Phrase>>,
    pub(super) short: BTreeMap<String, String>,
    pub(super) known: BTreeSet<String>,
    pub(super) by_initial: BTreeMap<char, Vec<String>>,
}

pub(super) struct Entry {
    pub(super) head: String,
    pub(super) kind: Kind,
    pub(super) under: Option<Concept>,
    pub(super) akin: Vec<Concept>,
}

pub(super) struct Phrase {
    pub(super) words: Vec<String>,
    pub(super) may_mean: Vec<Concept>,
    pub(super) ambiguous: bool,
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
        let file: File = toml::from_str(include_str!("../../../data/nouns.toml"))
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
