//! How much a row's words speak for a part, clue by clue.
//!
//! Each clue weighs the logarithm (in nats) of how much likelier these words are when the row is this part than when
//! it is something else. The numbers below are set by judgement, from how lists are written, and were changed by hand where the
//! labelled tuning rows (1 415, docs/matching.md) showed them wrong; no programme fitted them. 3 nats are odds of 20 to 1, 1 nat is 2.7 to 1.

use std::collections::{BTreeMap, BTreeSet};

use measure::{Grid, Length, System};

use crate::matching::describe::{Fact, Said, describe};
use crate::matching::ends::Ends;
use crate::matching::nouns::{Concept, Kind, Noun};
use crate::matching::part_facts::PartFacts;
use crate::row::Row;

/// A match must have this much for it, or the row matches nothing: any one part is an unlikely guess.
pub const PRICE_OF_A_MATCH: f64 = 3.0;

/// A clue of this weight or less plainly contradicts the match.
pub const CONTRADICTS: f64 = -3.0;

const CODE_IS_MARK: f64 = 9.5;
const CODE_IS_OTHER_MARK: f64 = -3.0;
const CODE_LEARNED: f64 = 5.0;
const CODE_LEARNED_OF_A_PERSON: f64 = 6.5;
const CODE_LEARNED_OF_ANOTHER: f64 = -3.0;
const NOUN_SAME: f64 = 6.0;
const NOUN_AKIN: f64 = 4.5;
const NOUN_AKIN_BESIDE: f64 = 0.0;
const NOUN_WIDER: f64 = 2.0;
const NOUN_AMBIGUOUS: f64 = 2.5;
const NOUN_SIBLING: f64 = -4.0;
const NOUN_OTHER: f64 = -6.0;
const LENGTH_SAME: f64 = 3.0;
/// Within what the writer may have rounded: half an inch where no fraction is written, an inch in whole feet.
const LENGTH_ROUNDED: f64 = 1.2;
const LENGTH_NEAR: f64 = -1.0;
const LENGTH_OTHER: f64 = -12.0;
const ACROSS_SAME: f64 = 1.5;
const ACROSS_OTHER: f64 = -5.0;
const GAUGE_SAME: f64 = 1.0;
const GAUGE_OTHER: f64 = -2.5;
const ENDS_SAME: f64 = 2.5;
const ENDS_OTHER: f64 = -4.0;
const SWAGE_UNSAID: f64 = -0.3;
const FINISH_SAME: f64 = 0.4;
const FINISH_OTHER: f64 = -1.0;
const SIZE_SAME: f64 = 2.0;
const SIZE_OTHER: f64 = -6.0;
const SHEET_SAME: f64 = 2.0;
const SHEET_OTHER: f64 = -7.0;
const THICKNESS_SAME: f64 = 1.0;
const THICKNESS_OTHER: f64 = -2.5;
const FITS_SAME: f64 = 1.5;
const FITS_OTHER: f64 = -4.0;
const SIDES_SAME: f64 = 3.0;
const SIDES_OTHER: f64 = -5.0;
const PERCENT_SAME: f64 = 1.5;
const PERCENT_OTHER: f64 = -6.0;
/// "HB" for a hex bolt, where nothing else names the thing.
const SERVES: f64 = 1.5;
const INITIALS: f64 = 3.5;
const NOUN_ONLY: f64 = 4.5;
const NOUN_STRANGER: f64 = -9.0;
const OPPOSITE: f64 = -3.5;
const WORDS_MOST: f64 = 2.5;
const WORDS_MOST_ALONE: f64 = 4.0;

/// Words that an engine was less sure of than this are still read as if it had been so: it says low numbers of words
/// that it has right.
const LEAST_SURE: f64 = 0.3;

/// Words that deny each other when one is said of the row and the other of the part.
const OPPOSITES: [(&str, &str); 8] = [
    ("inner", "outer"),
    ("big", "small"),
    ("single", "double"),
    ("left", "right"),
    ("upper", "lower"),
    ("top", "bottom"),
    ("hip", "base"),
    ("main", "end"),
];

/// Which of the opposites a set of words holds, two bits for each pair.
pub fn said_sides(words: &BTreeSet<String>) -> u16 {
    let bit = |word: &str| u16::from(words.contains(word));
    let pairs = OPPOSITES.iter().enumerate();
    pairs.fold(0, |sides, (index, (one, other))| {
        sides | (bit(one) | bit(other) << 1) << (2 * index)
    })
}

/// A clue for or against a match, in words.
#[derive(Clone, Debug, PartialEq)]
pub struct Reason {
    /// In nats: more than nothing speaks for the match, less against it, nothing says that it is unsaid.
    pub weight: f64,
    /// Such as "length 10 ft 6-1/2 in agrees".
    pub words: String,
}

/// What a row says, ready to be compared.
#[derive(Clone, Debug)]
pub struct RowFacts {
    /// What the description and the details say.
    pub said: Said,
    /// The code, bare.
    pub code: String,
    /// Which of the opposites it says, see [`said_sides`].
    pub sides: u16,
    /// How surely its words were read, from 0 to 1; 1 for what was typed.
    pub sure: f64,
    /// The end of its field cut a number off.
    pub is_cut: bool,
    /// The part that its code has stood for before, and whether a person said so.
    pub learned: Option<(usize, bool)>,
}

impl RowFacts {
    /// Reads a row's words.
    pub fn new(says: &str, code: &str) -> Self {
        let said = describe(says);
        let sides = said_sides(&said.words);
        let code = bare_code(code);
        Self {
            said,
            code,
            sides,
            sure: 1.0,
            is_cut: false,
            learned: None,
        }
    }

    /// Reads a row of a list: its words (as far as they are whole), its code, and how surely they were recognised.
    pub fn of_row(row: &Row, says: &str) -> Self {
        let sure = row.seen.as_ref().map_or(1.0, |seen| {
            let worst = seen.sure.iter().copied().fold(1.0_f32, f32::min);
            f64::from(worst).clamp(LEAST_SURE, 1.0)
        });
        Self {
            sure,
            is_cut: says.len() < row.says().len(),
            ..Self::new(says, &row.code)
        }
    }
}

/// What must be known of all parts together to weigh a clue for one.
#[derive(Clone, Debug, Default)]
pub struct Order {
    /// Which part has a bare code for its mark.
    pub by_code: BTreeMap<String, usize>,
    /// What the parts are.
    pub concepts: BTreeSet<Concept>,
    /// How many of these lie under a wider one.
    narrower: BTreeMap<Concept, usize>,
    rarity: BTreeMap<String, f64>,
    /// Outside diameters of the tubes of each concept, and of the wider ones.
    outside: BTreeMap<Concept, Vec<Length>>,
}

impl Order {
    /// Takes the parts together.
    pub fn new(parts: &[PartFacts]) -> Self {
        let mut having: BTreeMap<String, f64> = BTreeMap::new();
        for word in parts.iter().flat_map(|part| &part.words) {
            *having.entry(word.clone()).or_default() += 1.0;
        }
        let all = parts.len() as f64;
        let rare = |(word, n): (String, f64)| (word, (all / n).ln().max(0.0));
        let codes = parts.iter().enumerate();
        let concepts: BTreeSet<Concept> = parts.iter().filter_map(|part| part.concept).collect();
        let mut narrower = BTreeMap::new();
        for wide in concepts.iter().flat_map(|concept| concept.above()) {
            *narrower.entry(wide).or_default() += 1;
        }
        let mut outside: BTreeMap<Concept, Vec<Length>> = BTreeMap::new();
        for part in parts {
            if let (Some(concept), Some(size)) = (part.concept, part.outside) {
                for concept in std::iter::once(concept).chain(concept.above()) {
                    outside.entry(concept).or_default().push(size);
                }
            }
        }
        Self {
            by_code: codes
                .map(|(index, part)| (part.code.clone(), index))
                .collect(),
            concepts,
            narrower,
            outside,
            rarity: having.into_iter().map(rare).collect(),
        }
    }

    /// Whether all the order's parts of a wide concept are of one narrower one: its only nut is the lock nut.
    fn only_under(&self, wide: Concept) -> bool {
        !self.concepts.contains(&wide) && self.narrower.get(&wide) == Some(&1)
    }

    /// How rare a word is among the parts: the logarithm of how few have it.
    fn rarity(&self, word: &str) -> f64 {
        self.rarity.get(word).copied().unwrap_or(0.0)
    }
}

/// A code without case, spaces and joints: "r-1" is R1.
pub fn bare_code(code: &str) -> String {
    code.chars()
        .filter(|c| c.is_alphanumeric())
        .flat_map(char::to_uppercase)
        .take(64)
        .collect()
}

/// Adds clues up, and puts them in words when someone wants to read them.
struct Sum {
    /// How surely the row was read.
    sure: f64,
    weight: f64,
    reasons: Option<Vec<Reason>>,
}

impl Sum {
    /// A clue that was misread with some chance says nothing with that chance.
    fn add(&mut self, weight: f64, words: impl FnOnce() -> String) {
        let weight = if self.sure < 1.0 {
            (self.sure * weight.exp() + (1.0 - self.sure)).ln()
        } else {
            weight
        };
        self.weight += weight;
        if let Some(reasons) = &mut self.reasons {
            reasons.push(Reason {
                weight,
                words: words(),
            });
        }
    }
}

/// Returns how much the row speaks for the part, which is one of the order's.
pub fn weight(row: &RowFacts, part: &PartFacts, order: &Order) -> f64 {
    let mut sum = Sum {
        sure: row.sure,
        weight: 0.0,
        reasons: None,
    };
    weigh(&mut sum, row, part, order);
    sum.weight
}

/// Returns the same with each clue in words, what weighs most first.
pub fn reasons(row: &RowFacts, part: &PartFacts, order: &Order) -> Vec<Reason> {
    let mut sum = Sum {
        sure: row.sure,
        weight: 0.0,
        reasons: Some(Vec::new()),
    };
    weigh(&mut sum, row, part, order);
    let mut reasons = sum.reasons.unwrap_or_default();
    reasons.sort_by(|a, b| b.weight.abs().total_cmp(&a.weight.abs()));
    reasons
}

fn weigh(sum: &mut Sum, row: &RowFacts, part: &PartFacts, order: &Order) {
    code(sum, row, part, order);
    noun(sum, &row.said, part, order);
    if part.is_fastener {
        fastener(sum, &row.said, part);
    } else if part.is_sheet {
        film(sum, &row.said, part);
    } else {
        long_thing(sum, &row.said, part);
    }
    if let (Some(said), Some(has)) = (&row.said.finish, part.finish) {
        let (value, same) = (said.value, said.value == has);
        sum.add(if same { FINISH_SAME } else { FINISH_OTHER }, || {
            format!("finish {value} {}", agrees(same))
        });
    }
    serves(sum, &row.said, part, order);
    other_words(sum, row, part, order);
}

fn agrees(same: bool) -> &'static str {
    if same { "agrees" } else { "differs" }
}

fn code(sum: &mut Sum, row: &RowFacts, part: &PartFacts, order: &Order) {
    if row.code.is_empty() {
        return;
    }
    let this = order.by_code.get(&part.code).copied();
    if let Some((learned, by_a_person)) = row.learned
        && !order.by_code.contains_key(&row.code)
    {
        let who = if by_a_person {
            "as a person said"
        } else {
            "as on an earlier list"
        };
        let (weight, verb) = match (Some(learned) == this, by_a_person) {
            (true, true) => (CODE_LEARNED_OF_A_PERSON, "is"),
            (true, false) => (CODE_LEARNED, "is"),
            (false, _) => (CODE_LEARNED_OF_ANOTHER, "is not"),
        };
        let code = &row.code;
        sum.add(weight, || {
            format!("this sender's code {code} {verb} {}, {who}", part.mark)
        });
        return;
    }
    if row.code == part.code {
        sum.add(CODE_IS_MARK, || {
            format!("its code is the mark {}", part.mark)
        });
    } else if order.by_code.contains_key(&row.code) {
        sum.add(CODE_IS_OTHER_MARK, || {
            format!("its code {} is the mark of another part", row.code)
        });
    }
}

fn noun(sum: &mut Sum, said: &Said, part: &PartFacts, order: &Order) {
    let (Some(noun), Some(is)) = (&said.noun, part.concept) else {
        if let (None, Some(initials), Some(is)) = (&said.noun, &said.initials, part.concept)
            && is_initials(initials, is.head())
        {
            sum.add(INITIALS, || {
                format!("\"{initials}\" may be short for {}", is.head())
            });
        } else if said.noun.is_none() {
            sum.add(0.0, || "what it is was not understood".to_owned());
        }
        return;
    };
    let words = &noun.words;
    if noun
        .may_mean
        .iter()
        .any(|meant| meant.kind() == Kind::Stranger)
    {
        sum.add(NOUN_STRANGER, || {
            format!("\"{words}\" is no part of a house")
        });
        return;
    }
    if noun.ambiguous && calls_it(noun, part) {
        sum.add(NOUN_SAME, || format!("it is called {words}"));
        return;
    }
    if noun.ambiguous {
        let may = noun
            .may_mean
            .iter()
            .any(|concept| *concept == is || is.is_under(*concept));
        if may {
            sum.add(NOUN_AMBIGUOUS, || {
                format!("\"{words}\" may mean {} or something else", is.head())
            });
        } else {
            sum.add(NOUN_SIBLING, || {
                format!("\"{words}\" does not mean {}", is.head())
            });
        }
        return;
    }
    let Some(&concept) = noun.may_mean.first() else {
        return;
    };
    let weight = nearness(concept, is, order);
    sum.add(weight, || match weight {
        w if w == NOUN_SAME => format!("it is called {words}"),
        w if w > 0.0 => format!("\"{words}\" may stand for {}", is.head()),
        _ => format!("\"{words}\" is not {}", is.head()),
    });
}

fn is_initials(short: &str, long: &str) -> bool {
    let firsts = long
        .split([' ', '-'])
        .filter_map(|word| word.chars().next());
    short.len() > 1 && firsts.eq(short.chars())
}

/// Whether a word of several meanings is the family's own for the part, in the first of them.
pub fn calls_it(noun: &Noun, part: &PartFacts) -> bool {
    noun.words == part.noun && noun.may_mean.first().copied() == part.concept
}

fn nearness(said: Concept, is: Concept, order: &Order) -> f64 {
    if said == is {
        NOUN_SAME
    } else if is.is_under(said) && order.only_under(said) {
        NOUN_ONLY
    } else if said.is_akin(is) {
        // An order that has the very thing means it; one that has not makes both of the same part.
        if order.concepts.contains(&said) {
            NOUN_AKIN_BESIDE
        } else {
            NOUN_AKIN
        }
    } else if is.is_under(said) || said.is_under(is) {
        NOUN_WIDER
    } else if said.kind() == is.kind() {
        NOUN_SIBLING
    } else {
        NOUN_OTHER
    }
}

fn long_thing(sum: &mut Sum, said: &Said, part: &PartFacts) {
    if let (Some(said), Some(has)) = (&said.sides, &part.timber) {
        let same = has.iter().any(|has| {
            let near = |at: usize| (said[at] - has[at]).as_nanometres().abs() <= 1_600_000;
            near(0) && near(1)
        });
        sum.add(if same { SIDES_SAME } else { SIDES_OTHER }, || {
            format!(
                "{} by {} {}",
                inches(said[0]),
                inches(said[1]),
                agrees(same)
            )
        });
    }
    let apart = said
        .or_apart
        .filter(|(feet, name)| part.length == Some(*feet) && part.called == Some(*name));
    if let Some((feet, name)) = apart {
        sum.add(LENGTH_SAME, || compared("length", feet, feet, true));
        sum.add(ACROSS_SAME, || format!("diameter {} agrees", inches(name)));
    } else if let Some(fact) = &said.length
        && let Some(has) = part.length
    {
        let (slack, said) = (said.slack.as_nanometres(), fact);
        let off = (said.value - has).as_nanometres().abs();
        let near = Length::sixty_fourths(32)
            .as_nanometres()
            .max(has.as_nanometres() / 200);
        let rounded = rounding(said.value);
        let weight = match off {
            off if off <= Length::sixty_fourths(4).as_nanometres() + slack => LENGTH_SAME,
            off if off <= rounded.as_nanometres() => LENGTH_ROUNDED,
            off if off <= near + slack => LENGTH_NEAR,
            _ => LENGTH_OTHER,
        };
        sum.add(weight, || compared("length", said.value, has, weight > 0.0));
    }
    if let Some(value) = &said.across
        && let Some(outside) = part.outside
    {
        let slack = 300_000 + said.across_slack.as_nanometres();
        let close = |od: Length| (od - outside).as_nanometres().abs() <= slack;
        let same = part.called == Some(value.value) || said.may_measure.iter().any(|od| close(*od));
        let (weight, value) = (if same { ACROSS_SAME } else { ACROSS_OTHER }, value.value);
        sum.add(weight, || {
            format!("diameter {} {}", inches(value), agrees(same))
        });
    }
    if let (Some(said), Some(has)) = (&said.gauge, part.gauge) {
        let same = said.value == has;
        sum.add(if same { GAUGE_SAME } else { GAUGE_OTHER }, || {
            format!("{} ga {}", said.value, agrees(same))
        });
    }
    if let (Some(said), Some(has)) = (&said.wall, part.wall) {
        let same = (said.value - has).as_nanometres().abs() <= 130_000;
        sum.add(if same { GAUGE_SAME } else { GAUGE_OTHER }, || {
            format!("wall {} in {}", said.value.to_inches(), agrees(same))
        });
    }
    ends(sum, said, part);
    fits(sum, said, part);
}

/// How far a length in whole inches or whole feet may have been rounded.
fn rounding(said: Length) -> Length {
    let whole = |one: Length| said.as_nanometres() % one.as_nanometres() == 0;
    if said < Length::feet(4) {
        Length::ZERO
    } else if whole(Length::feet(1)) {
        Length::inches(1)
    } else if whole(Length::inches(1)) {
        Length::sixty_fourths(36)
    } else {
        Length::ZERO
    }
}

fn ends(sum: &mut Sum, said: &Said, part: &PartFacts) {
    let Some(has) = part.ends else { return };
    let name = |ends: Ends| match ends {
        Ends::Plain => "plain ends",
        Ends::OneSwaged => "one end swaged",
        Ends::BothSwaged => "both ends swaged",
        Ends::Flattened => "flattened ends",
    };
    match said.ends.as_ref().map(|fact: &Fact<Ends>| fact.value) {
        Some(said) if said == has => sum.add(ENDS_SAME, || format!("{} agrees", name(said))),
        Some(said) => sum.add(ENDS_OTHER, || {
            format!("the list says {}, the part has {}", name(said), name(has))
        }),
        None if has == Ends::Plain => sum.add(0.0, || "ends not said".to_owned()),
        None => sum.add(SWAGE_UNSAID, || {
            format!("ends not said; the part has {}", name(has))
        }),
    }
}

fn fastener(sum: &mut Sum, said: &Said, part: &PartFacts) {
    if let (Some(said), Some(has)) = (&said.size, &part.size) {
        let (same, value) = (said.value == *has, said.value.as_str());
        sum.add(if same { SIZE_SAME } else { SIZE_OTHER }, || {
            format!("size {value} {}", agrees(same))
        });
    }
    match (&said.length, part.length) {
        (Some(said), Some(has)) => {
            // Fasteners are sold in steps of 1/4 in; 1 mm lets a metric writing of an inch size through.
            let same = (said.value - has).as_nanometres().abs() <= 1_000_000;
            let weight = if same { LENGTH_SAME } else { LENGTH_OTHER };
            sum.add(weight, || compared("length", said.value, has, same));
        }
        (None, Some(_)) => sum.add(0.0, || "length not said".to_owned()),
        _ => {}
    }
}

fn film(sum: &mut Sum, said: &Said, part: &PartFacts) {
    if let (Some(said), Some(has)) = (&said.thickness, part.thickness) {
        let same = (said.value - has).as_nanometres().abs() <= 6_000;
        let mil = said.value.to_inches() * 1_000.0;
        sum.add(
            if same {
                THICKNESS_SAME
            } else {
                THICKNESS_OTHER
            },
            || format!("{mil:.0} mil {}", agrees(same)),
        );
    }
    if let (Some(said), Some(has)) = (&said.percent, &part.said.percent) {
        let (same, value) = (said.value == has.value, said.value);
        sum.add(if same { PERCENT_SAME } else { PERCENT_OTHER }, || {
            format!("{value} % {}", agrees(same))
        });
    }
    let said = [&said.width, &said.length].map(|fact| fact.as_ref().map(|fact| fact.value));
    let has = [part.width, part.length];
    // Film is written either way round; the better reading counts.
    let turned = [said[1], said[0]];
    let fit = |said: &[Option<Length>; 2]| {
        let both = said
            .iter()
            .zip(&has)
            .filter_map(|(said, has)| said.zip(*has));
        both.map(|(said, has)| sheet(said, has)).sum::<f64>()
    };
    let best = if fit(&turned) > fit(&said) {
        turned
    } else {
        said
    };
    for (what, (said, has)) in ["width", "length"].iter().zip(best.iter().zip(&has)) {
        if let Some((said, has)) = said.zip(*has) {
            let weight = sheet(said, has);
            sum.add(weight, || compared(what, said, has, weight > 0.0));
        }
    }
}

/// Film is cut with a margin, and lists round it: within half a percent it is the same, within 3 % it may be.
fn sheet(said: Length, has: Length) -> f64 {
    let off = (said - has).as_nanometres().abs();
    let inch = Length::inches(1).as_nanometres();
    match off {
        off if off <= inch.max(has.as_nanometres() / 200) => SHEET_SAME,
        off if off <= has.as_nanometres() / 33 => 0.0,
        _ => SHEET_OTHER,
    }
}

/// "Clips for the roll bar": what a fitting fits must be what such parts of the order measure.
fn serves(sum: &mut Sum, said: &Said, part: &PartFacts, order: &Order) {
    let Some(noun) = said.noun.as_ref().filter(|_| said.fits.is_empty()) else {
        return;
    };
    if part.said.fits.is_empty() {
        return;
    }
    let of = |meant: &Concept| order.outside.get(meant).map(|sizes| (meant.head(), sizes));
    for (name, sizes) in noun.serves.iter().filter_map(of) {
        let same = sizes.iter().any(|size| {
            let close = |has: &Length| (*has - *size).as_nanometres().abs() <= 600_000;
            part.fits.iter().any(close)
        });
        sum.add(if same { SERVES } else { -SERVES }, || {
            let fits = if same { "fits" } else { "does not fit" };
            format!("it {fits} the {name}")
        });
    }
}

fn fits(sum: &mut Sum, said: &Said, part: &PartFacts) {
    if said.fits.is_empty() || part.fits.is_empty() {
        return;
    }
    // 0.6 mm let "48 mm" through for 1.900 in, 1/16 in a plate of 152 mm for one of 6 in.
    let close = |has: &Length, size: &Length| {
        let near = if *size < Length::inches(3) {
            600_000
        } else {
            size.as_nanometres() / 100 + 100_000
        };
        (*has - *size).as_nanometres().abs() <= near
    };
    let fits = |size: &Length| part.fits.iter().any(|has| close(has, size));
    let same = said.fits.iter().all(fits);
    sum.add(if same { FITS_SAME } else { FITS_OTHER }, || {
        format!("what it fits {}", agrees(same))
    });
}

/// Words that the noun has not used up: a rare word in common speaks for the part, an opposite against it.
fn other_words(sum: &mut Sum, row: &RowFacts, part: &PartFacts, order: &Order) {
    let said = &row.said;
    let (one, other) = (row.sides, part.sides);
    for (index, pair) in OPPOSITES.iter().enumerate() {
        let here = |sides: u16| (sides >> (2 * index)) & 0b11;
        // Only one of the two is said, and only the other is so.
        if let (1, 2) | (2, 1) = (here(one), here(other)) {
            let (first, second) = if here(one) == 1 {
                *pair
            } else {
                (pair.1, pair.0)
            };
            sum.add(OPPOSITE, || {
                format!("the list says {first}, the part is {second}")
            });
        }
    }
    let in_noun = |word: &str| {
        said.noun
            .as_ref()
            .is_some_and(|noun| noun.words.split(' ').any(|used| used == word))
    };
    let shared: Vec<&String> = said
        .words
        .intersection(&part.words)
        .filter(|word| !in_noun(word))
        .collect();
    let worth: f64 = shared.iter().map(|word| order.rarity(word)).sum();
    if worth > 0.0 {
        // Where the thing was not understood, its other words are all that is known of it.
        let weight = if said.noun.is_none() {
            worth.min(WORDS_MOST_ALONE)
        } else {
            (worth * 0.5).min(WORDS_MOST)
        };
        sum.add(weight, || {
            let words: Vec<&str> = shared.iter().map(|word| word.as_str()).collect();
            format!("in common: {}", words.join(", "))
        });
    }
}

fn compared(what: &str, said: Length, has: Length, same: bool) -> String {
    let write = |length: Length| length.write(System::FeetInch, Grid::SIXTEENTH);
    if same {
        format!("{what} {} agrees", write(said))
    } else {
        format!(
            "{what} {} in the list, {} of the part",
            write(said),
            write(has)
        )
    }
}

fn inches(length: Length) -> String {
    length.write(System::FeetInch, Grid::SIXTEENTH)
}
