//! What parts are called: the synonym table, and which noun of a description is its head.

mod known_words;
mod phrases;
mod table;

use serde::Deserialize;

pub use crate::matching::nouns::known_words::{Known, as_known, plain_words};
use crate::matching::nouns::phrases::phrases;
use crate::matching::nouns::table::TABLE;
use crate::matching::words::words;

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
        let mut all = found.iter().flat_map(|known| &known.means);
        all.any(|said| said.text == *word)
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
