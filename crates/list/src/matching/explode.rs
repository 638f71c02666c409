//! A row that stands for several marks: a sub-kit by its name, a thing with what it lists, a left and a right.
//!
//! What such a row brings is read off the order or off its own words, never seen. So it always says so, and a kit is
//! to be opened and counted.

use std::collections::BTreeMap;

use frame::{Mark, PartsList};

use crate::matching::contents::{contents, left_and_right};
use crate::matching::evidence::Reason;
use crate::matching::words::words;
use crate::row::Row;
use crate::table::hands::hands;

/// A sub-kit of the order: what the sender packs under one name.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Kit {
    /// Its name, such as "end walls".
    pub name: String,
    /// Its marks, each with the pieces of the whole order that come in it, spares and all.
    pub holds: Vec<(Mark, i64)>,
}

impl Kit {
    /// The sub-kits of an order, as its parts list packs them: spares lie with the share that needs the part first.
    pub fn all(parts: &PartsList) -> Vec<Self> {
        let mut kits: Vec<Self> = Vec::new();
        for line in &parts.lines {
            let spares = line.supplied - line.quantity;
            for (index, (name, needed)) in line.sub_kits().into_iter().enumerate() {
                let pieces = if index == 0 { needed + spares } else { needed };
                let held = (line.part.mark.clone(), pieces);
                match kits.iter_mut().find(|kit| kit.name == name) {
                    Some(kit) => kit.holds.push(held),
                    None => kits.push(Self {
                        name: name.to_owned(),
                        holds: vec![held],
                    }),
                }
            }
        }
        kits
    }
}

/// A row that stands for several marks.
#[derive(Clone, Debug, PartialEq)]
pub struct Exploded {
    /// Each mark with its pieces, over the whole row.
    pub holds: Vec<(Mark, i64)>,
    /// From 0 (sure) to 1. Judged, not fitted.
    pub doubt: f64,
    /// Why, the sentence to show first.
    pub reasons: Vec<Reason>,
    /// How it came to stand for them.
    pub by: By,
}

/// How a row came to stand for several marks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum By {
    /// It names a sub-kit of the order.
    Name,
    /// It lists what it holds, beside the thing itself where that is one.
    Content(Option<Mark>),
    /// It is a left and a right.
    Hand,
}

/// What the order says is in a kit is a promise of the sender's own plan: as likely as not to be short of something.
const DOUBT_OF_A_KIT: f64 = 0.5;
/// The row itself says what it holds.
const DOUBT_OF_A_CONTENT: f64 = 0.15;
/// Some of what the row says it holds was not understood.
const DOUBT_OF_A_PART_CONTENT: f64 = 0.5;
/// Left and right by their own counts, or as the order needs them.
const DOUBT_OF_HANDS: f64 = 0.1;
/// Left and right by halves.
const DOUBT_OF_HALVES: f64 = 0.5;

/// Returns the rows that stand for several marks, by their index; the other rows are then matched without them, and
/// [`settle`] holds each against those.
///
/// `left_out` says which rows are not to be looked at; `which` says the one part that words mean, or nothing.
pub fn explode(
    rows: &[Row],
    kits: &[Kit],
    left_out: &dyn Fn(&Row) -> bool,
    which: &dyn Fn(&str) -> Option<Mark>,
) -> BTreeMap<usize, Exploded> {
    let mut all = by_name(rows, kits, left_out);
    for (index, row) in rows.iter().enumerate() {
        if all.contains_key(&index) || left_out(row) {
            continue;
        }
        if let Some(found) = by_content(row, which).or_else(|| by_hand(row, kits, which)) {
            all.insert(index, found);
        }
    }
    all
}

/// Holds a row that stands for several marks against the other rows, so that nothing counts twice. A kit whose things
/// have rows of their own is a heading with a count, and brings nothing by itself; where only some have, those are left
/// to their rows.
///
/// `listed` has the pieces that the other rows bring of each mark.
pub fn settle(mut exploded: Exploded, kits: &[Kit], listed: &BTreeMap<Mark, i64>) -> Exploded {
    let itself = match &exploded.by {
        By::Content(itself) => itself.clone(),
        By::Name | By::Hand => None,
    };
    // With its share the mark would be there more often than the order has it: it is the same pieces twice.
    let twice = |(mark, pieces): &(Mark, i64)| {
        let other = listed.get(mark).copied().unwrap_or(0);
        let needed = needed(kits, mark);
        let too_many = if needed > 0 {
            other + pieces > needed
        } else {
            other >= *pieces
        };
        other > 0 && too_many && itself.as_ref() != Some(mark)
    };
    let all = exploded.holds.len();
    let own: Vec<String> = (exploded.holds.iter())
        .filter(|held| twice(held))
        .map(|(mark, _)| mark.to_string())
        .collect();
    if own.is_empty() || exploded.by == By::Hand {
        return exploded;
    }
    let words = if exploded.by == By::Name && own.len() * 2 >= all {
        exploded.holds.clear();
        format!(
            "{} of its {all} marks have rows of their own: taken as a heading, which brings nothing by itself",
            own.len()
        )
    } else {
        exploded.holds.retain(|held| !twice(held));
        let own = own.join(", ");
        format!("not counted here, rows of their own bring them: {own}")
    };
    exploded.doubt = exploded.doubt.max(DOUBT_OF_A_KIT);
    exploded.reasons.insert(0, reason(words));
    exploded
}

/// Pieces that the whole order has of a mark; 0 where that is not known.
fn needed(kits: &[Kit], mark: &Mark) -> i64 {
    let all = kits.iter().flat_map(|kit| &kit.holds);
    all.filter(|(held, _)| held == mark).map(|(_, n)| n).sum()
}

fn reason(words: String) -> Reason {
    Reason { weight: 0.0, words }
}

/// "End wall kit, 2 sets": rows that give the name of a sub-kit and the word that makes it one, and nothing else. All
/// that name the same one bring it together, each by its count; what follows later is a share too.
fn by_name(
    rows: &[Row],
    kits: &[Kit],
    left_out: &dyn Fn(&Row) -> bool,
) -> BTreeMap<usize, Exploded> {
    let mut naming: BTreeMap<usize, Vec<(usize, i64)>> = BTreeMap::new();
    let mut wholes: BTreeMap<usize, i64> = BTreeMap::new();
    for (index, row) in rows.iter().enumerate() {
        let Some(pieces) = row.quantity.filter(|n| (0..=MOST_KITS).contains(n)) else {
            continue;
        };
        let Some(kit) = named(&row.description, &row.unit, kits).filter(|_| !left_out(row)) else {
            continue;
        };
        let later = row.backordered.unwrap_or(0).clamp(0, MOST_KITS);
        let ordered = row.ordered.unwrap_or(0).clamp(0, MOST_KITS);
        naming.entry(kit).or_default().push((index, pieces));
        *wholes.entry(kit).or_default() += ordered.max(pieces + later);
    }
    let mut found = BTreeMap::new();
    for (kit, naming) in naming {
        let whole = wholes.get(&kit).copied().unwrap_or(0).max(1);
        let mut before = 0;
        for (row, pieces) in naming {
            let up_to =
                |n: i64, kits: i64| (i128::from(n) * i128::from(kits) / i128::from(whole)) as i64;
            // What is not here brings nothing, and opening it is not asked for.
            let here = kits[kit].holds.iter().filter(|_| pieces > 0);
            let holds: Vec<(Mark, i64)> = here
                .map(|(mark, n)| (mark.clone(), up_to(*n, before + pieces) - up_to(*n, before)))
                .collect();
            before += pieces;
            let so_many = match (pieces, whole) {
                (1, 1) => String::new(),
                (n, all) if n == all => format!("; the {n} together are taken for all of it"),
                (n, all) => format!("; {n} of {all} are taken for that share of it"),
            };
            let name = &kits[kit].name;
            let later = rows[row].backordered.unwrap_or(0);
            let words = if pieces == 0 && later > 0 {
                format!("nothing of {name} comes with this list: {later} to follow")
            } else if pieces == 0 {
                format!("nothing of {name} comes with this list")
            } else {
                format!(
                    "this row stands for {} marks by what the order needs for {name}: open it and count{so_many}; \
                 should another list name it too, it is the same one unless you see two",
                    holds.len()
                )
            };
            let reasons = vec![reason(words)];
            let (doubt, by) = (DOUBT_OF_A_KIT, By::Name);
            found.insert(
                row,
                Exploded {
                    holds,
                    doubt,
                    reasons,
                    by,
                },
            );
        }
    }
    found
}

/// More kits than this in one row are no kits.
const MOST_KITS: i64 = 1_000;

/// Words that make a name that of a kit.
const KIT_WORDS: [&str; 12] = [
    "kit", "set", "package", "pkg", "pack", "bundle", "assembly", "crate", "box", "subkit",
    "carton", "pallet",
];
/// Words that say nothing of which kit it is.
const FILLERS: [&str; 14] = [
    "for", "the", "of", "complete", "full", "all", "part", "house", "ea", "each", "pc", "sub", "a",
    "ft",
];

/// The one sub-kit that a description names, by its index. `unit` may bring the word that makes it a kit.
fn named(description: &str, unit: &str, kits: &[Kit]) -> Option<usize> {
    if description.len() > 60 {
        return None;
    }
    let is_kit_word = |word: &str| KIT_WORDS.contains(&word);
    let found = words(description);
    let unit_says = words(unit).iter().any(|word| is_kit_word(&word.text));
    if !unit_says && !found.iter().any(|word| is_kit_word(&word.text)) {
        return None;
    }
    let said: String = (found.iter())
        .map(|word| word.text.as_str())
        .filter(|word| !is_kit_word(word) && !FILLERS.contains(word))
        .collect();
    let name =
        |kit: &Kit| -> String { words(&kit.name).into_iter().map(|word| word.text).collect() };
    let mut fitting = (0..kits.len()).filter(|kit| !said.is_empty() && name(&kits[*kit]) == said);
    let one = fitting.next()?;
    fitting.next().is_none().then_some(one)
}

/// "Bow set: 2 half bows + 1 peak plate": what it lists, times the count.
fn by_content(row: &Row, which: &dyn Fn(&str) -> Option<Mark>) -> Option<Exploded> {
    let times = row.quantity.filter(|n| *n >= 0)?;
    let says = row.says();
    let content = contents(&says)?;
    let mut holds: Vec<(Mark, i64)> = Vec::new();
    let mut put = |mark: Mark, pieces: i64| match holds.iter_mut().find(|(held, _)| *held == mark) {
        Some((_, held)) => *held = held.saturating_add(pieces),
        None => holds.push((mark, pieces)),
    };
    // "Hinge, incl. 4 bolts" is a hinge and bolts; "bow set: ..." is a name for what follows.
    let itself = (content.is_a_thing).then(|| which(content.head)).flatten();
    if let Some(mark) = &itself {
        put(mark.clone(), times);
    }
    let mut unknown = Vec::new();
    let mut known = 0;
    for (pieces, thing) in content.things {
        match which(thing) {
            Some(mark) => {
                known += 1;
                put(mark, pieces.saturating_mul(times));
            }
            None => unknown.push(thing.to_owned()),
        }
    }
    if known == 0 {
        return None;
    }
    let list: Vec<String> = holds
        .iter()
        .map(|(mark, n)| format!("{n} {mark}"))
        .collect();
    let mut reasons = vec![reason(format!(
        "by what the row says that it holds: {}",
        list.join(", ")
    ))];
    let doubt = if unknown.is_empty() {
        DOUBT_OF_A_CONTENT
    } else {
        reasons.insert(
            0,
            reason(format!(
                "it also holds what was not understood: {}",
                unknown.join(", ")
            )),
        );
        DOUBT_OF_A_PART_CONTENT
    };
    let by = By::Content(itself);
    Some(Exploded {
        holds,
        doubt,
        reasons,
        by,
    })
}

/// "Brace L/R, 4 ea": both hands, by their own counts, as the order needs them, or by halves.
fn by_hand(row: &Row, kits: &[Kit], which: &dyn Fn(&str) -> Option<Mark>) -> Option<Exploded> {
    let pieces = row.quantity.filter(|n| *n > 0)?;
    let counted = hands(&row.written);
    let (left, right) = left_and_right(&row.says()).or_else(|| {
        counted.map(|_| {
            ["left", "right"]
                .map(|side| format!("{side} {}", row.says()))
                .into()
        })
    })?;
    let (left, right) = (which(&left)?, which(&right)?);
    if left == right {
        return None;
    }
    let (l, r) = (needed(kits, &left), needed(kits, &right));
    let (l, r, doubt, how) = match counted {
        Some(both) if both.left + both.right == pieces => (
            both.left,
            both.right,
            DOUBT_OF_HANDS,
            "as the row counts them",
        ),
        _ if (pieces, pieces) == (l, r) => (
            pieces,
            pieces,
            DOUBT_OF_HANDS,
            "so many of each, as the order has",
        ),
        _ if pieces == l + r => (l, r, DOUBT_OF_HANDS, "so many together, as the order has"),
        _ if pieces % 2 == 0 => (
            pieces / 2,
            pieces / 2,
            DOUBT_OF_HALVES,
            "half of each; it may mean so many of each",
        ),
        _ => return None,
    };
    let words = format!("left and right in one row: {l} {left} and {r} {right}, {how}");
    Some(Exploded {
        holds: vec![(left, l), (right, r)],
        doubt,
        reasons: vec![reason(words)],
        by: By::Hand,
    })
}
