//! Piles of an order: like with like, what is taken for each other apart, what is needed first on top.

use std::collections::BTreeMap;

use frame::{Frame, Line, Part, PartsList, Section};
use measure::System;

use super::pile::{Pile, PileKind, PileMark};
use super::pile_sizes::{self as sizes, Stack};
use super::polygon::Point;
use super::site::said;
use crate::Build;

/// What weighs more than this is no hardware for a bin: ours.
const HEAVY_FOR_A_BIN: f64 = 1.6;
/// What is longer is not: ours.
const LONG_FOR_A_BIN: f64 = 0.7;
/// The shorter of two marks in a pile is at least this share of the longer, unless it is only a few pieces that lie on
/// top: ours.
const LIKE_LENGTH: f64 = 0.6;
/// So many are a few: ours.
const FEW: i64 = 4;
/// By eye two sections are one when they differ by less, in metres; and two lengths when they differ by a smaller share or
/// by less: ours.
const LOOKS_ALIKE: (f64, f64, f64) = (0.004, 0.06, 0.15);

/// The piles of an order, in the order in which the build first needs them. They follow from the order alone, not from what
/// was counted, so that a pile keeps its name: plain numbers, for the piles of those who count go by letters.
pub fn piles(list: &PartsList, frame: &Frame, build: &Build) -> Vec<Pile> {
    let stage_of = |name: &str| build.stages.iter().position(|stage| stage.name == name);
    let lots: Vec<Lot> = (list.lines.iter())
        .filter(|line| line.supplied.max(line.quantity) > 0)
        .flat_map(|line| lots(line, &stage_of))
        .collect();
    let mut groups: Vec<Vec<Lot>> = Vec::new();
    for lot in lots {
        match groups.iter_mut().find(|group| joins(group, &lot)) {
            Some(group) => group.push(lot),
            None => groups.push(vec![lot]),
        }
    }
    for group in &mut groups {
        group.sort_by(|a, b| {
            let first = |lot: &Lot| lot.stages.first().copied().unwrap_or(usize::MAX);
            // What is short lies on what is long.
            first(a)
                .cmp(&first(b))
                .then(a.size[0].total_cmp(&b.size[0]))
        });
    }
    // The table last of those that a stage needs first: it serves them all.
    groups.sort_by_key(|group| {
        let first = group.iter().filter_map(|lot| lot.stages.first().copied());
        (first.min(), group[0].kind)
    });
    (groups.iter().enumerate())
        .map(|(i, group)| pile((i + 1).to_string(), group, frame))
        .collect()
}

/// Pieces of one mark that lie in one pile.
struct Lot<'a> {
    line: &'a Line,
    kind: PileKind,
    pieces: i64,
    /// The share of the mark that this is.
    share: f64,
    size: [f64; 3],
    stages: Vec<usize>,
}

/// The pieces of a mark; in several lots where they would make a pile too wide.
fn lots<'a>(line: &'a Line, stage_of: &dyn Fn(&str) -> Option<usize>) -> Vec<Lot<'a>> {
    let kind = kind(&line.part);
    let size = sizes::piece(&line.part, kind);
    let pieces = line.supplied.max(line.quantity);
    let most = match kind {
        PileKind::Table => pieces,
        _ => sizes::most_pieces(size, kind),
    };
    let count = (pieces as u64).div_ceil(most.max(1) as u64).max(1) as i64;
    let mut stages: Vec<usize> = (line.stages().iter())
        .filter(|(_, quantity)| *quantity > 0)
        .filter_map(|(stage, _)| stage_of(stage))
        .collect();
    stages.sort_unstable();
    (0..count)
        .map(|i| {
            let here = pieces * (i + 1) / count - pieces * i / count;
            Lot {
                line,
                kind,
                pieces: here,
                share: here as f64 / pieces as f64,
                size,
                stages: stages.clone(),
            }
        })
        .collect()
}

fn kind(part: &Part) -> PileKind {
    let small = part.unit_mass.to_kilograms() < HEAVY_FOR_A_BIN
        && part.length.is_none_or(|l| l.to_metres() < LONG_FOR_A_BIN);
    match &part.section {
        Some(Section::Film { .. } | Section::Cloth { .. }) => PileKind::Rolls,
        Some(Section::Timber { .. }) => PileKind::Timber,
        Some(Section::Fastener { .. }) => PileKind::Table,
        _ if small => PileKind::Table,
        Some(_) if part.bend.is_some() => PileKind::Bows,
        Some(_) => PileKind::Long,
        None => PileKind::Large,
    }
}

/// Whether a lot goes to those of a pile.
fn joins(group: &[Lot], lot: &Lot) -> bool {
    let first = &group[0];
    if first.kind != lot.kind {
        return false;
    }
    if lot.kind == PileKind::Table {
        return true;
    }
    let near_stage = |other: &Lot| match (other.stages.first(), lot.stages.first()) {
        (Some(a), Some(b)) => a.abs_diff(*b) <= 1,
        (a, b) => a == b,
    };
    let like_length = |other: &Lot| {
        let (short, long) = order(other.size[0], lot.size[0]);
        let on_top = |lot: &Lot| lot.pieces <= FEW && lot.size[0] == short;
        short >= LIKE_LENGTH * long || on_top(lot) || on_top(other)
    };
    let fits = {
        let stacks = group.iter().chain([lot]).map(stack_of);
        stacks.map(|stack| stack.height).sum::<f64>() <= sizes::most_high(lot.kind)
    };
    // Rolls, doors and fans tell themselves apart; bows of two shapes do not lie in one another.
    let rolls = matches!(lot.kind, PileKind::Rolls | PileKind::Large);
    let apart = |other: &Lot| {
        other.line.part.mark != lot.line.part.mark
            && (rolls || !alike(&other.line.part, &lot.line.part))
    };
    lot.kind != PileKind::Bows
        && fits
        && group
            .iter()
            .all(|other| apart(other) && near_stage(other) && (rolls || like_length(other)))
}

/// Whether two parts are taken for each other by eye: sections and lengths that hardly differ.
fn alike(one: &Part, other: &Part) -> bool {
    let (section, share, length) = LOOKS_ALIKE;
    let across = |part: &Part| sizes::piece(part, PileKind::Long)[1];
    let lengths = [one, other].map(|part| part.length.map_or(0.0, |l| l.to_metres()));
    let off = (lengths[0] - lengths[1]).abs();
    (across(one) - across(other)).abs() < section
        && (off < length || off < share * lengths[0].max(lengths[1]))
}

fn order(a: f64, b: f64) -> (f64, f64) {
    (a.min(b), a.max(b))
}

fn stack_of(lot: &Lot) -> Stack {
    sizes::stack(lot.size, lot.pieces, lot.kind)
}

fn pile(name: String, lots: &[Lot], frame: &Frame) -> Pile {
    let kind = lots[0].kind;
    let [length, width, height] = match kind {
        PileKind::Table => {
            let bins: usize = lots.iter().map(|lot| lot.line.sub_kits().len()).sum();
            let [length, width] = sizes::tables(bins);
            [length, width, sizes::TABLE_HIGH]
        }
        _ => {
            let stacks: Vec<Stack> = lots.iter().map(stack_of).collect();
            let most = |of: fn(&Stack) -> f64| stacks.iter().map(of).fold(0.0, f64::max);
            let high: f64 = stacks.iter().map(|stack| stack.height).sum();
            [most(|s| s.length), most(|s| s.width), high + sizes::BEARER]
        }
    };
    let mut stages: Vec<usize> = lots.iter().flat_map(|lot| lot.stages.clone()).collect();
    stages.sort_unstable();
    stages.dedup();
    let (length, width) = (length.max(width), length.min(width));
    let dunnage = (kind != PileKind::Table).then(|| sizes::dunnage(length));
    Pile {
        says: says(lots),
        from_top: lots.iter().flat_map(marks).collect(),
        length,
        width,
        height,
        mass: (lots.iter())
            .map(|lot| lot.line.part.unit_mass.to_kilograms() * lot.pieces as f64)
            .sum(),
        stages,
        under_cover: matches!(kind, PileKind::Rolls | PileKind::Table),
        dunnage,
        goes: goes(lots, frame),
        care: care(kind, length, frame.system),
        name,
        kind,
    }
}

/// A lot as it is listed: one entry, or on the table one a bin.
fn marks(lot: &Lot) -> Vec<PileMark> {
    let stage = lot.stages.first().copied().unwrap_or_default();
    let mark = |pieces: i64, bin: Option<String>| PileMark {
        mark: lot.line.part.mark.0.clone(),
        pieces,
        stage,
        bin,
    };
    if lot.kind != PileKind::Table {
        return vec![mark(lot.pieces, None)];
    }
    // Spares come with the share of the kit that needs the part first.
    let spares = lot.pieces - lot.line.quantity;
    (lot.line.sub_kits().iter().enumerate())
        .map(|(i, (sub_kit, needed))| {
            let spares = if i == 0 { spares } else { 0 };
            mark(needed + spares, Some((*sub_kit).to_owned()))
        })
        .collect()
}

/// Where it all is carried to: what goes to one place is added up.
fn goes(lots: &[Lot], frame: &Frame) -> Vec<(Point, f64)> {
    let half = frame.width.to_metres() / 2.0;
    let length = frame.length.to_metres();
    let mut sums: BTreeMap<(i64, i64), f64> = BTreeMap::new();
    for lot in lots {
        let one = lot.line.part.unit_mass.to_kilograms() * lot.share;
        for place in lot.line.places.iter().filter(|place| place.quantity > 0) {
            let (x, y) = (place.at.x.clamp(-half, half), place.at.y.clamp(0.0, length));
            let to = ((x * 100.0).round() as i64, (y * 100.0).round() as i64);
            *sums.entry(to).or_default() += one * place.quantity as f64;
        }
    }
    (sums.into_iter())
        .map(|((x, y), mass)| (Point::new(x as f64 / 100.0, y as f64 / 100.0), mass))
        .collect()
}

/// "Half bow", or "Door header, single; Door header, double".
fn says(lots: &[Lot]) -> String {
    if lots[0].kind == PileKind::Table {
        return "Hardware, in bins".into();
    }
    let mut words: Vec<String> = Vec::new();
    for lot in lots {
        let noun = frame::capitalised(&lot.line.part.noun);
        if !words.contains(&noun) {
            words.push(noun);
        }
    }
    words.join(", ")
}

fn care(kind: PileKind, length: f64, system: System) -> Vec<String> {
    let bearers = sizes::dunnage(length);
    let on = format!(
        "Off the ground, on {} timbers {} apart.",
        bearers.bearers,
        said(bearers.apart, system)
    );
    let blocked = "Block it on both sides so that nothing rolls.";
    let dry = "Covered but aired: galvanized tube that stays wet in the bundle gets white rust.";
    let words: &[&str] = match kind {
        PileKind::Long => &[blocked, dry],
        PileKind::Bows => &["Flat, all the same way round.", dry],
        PileKind::Timber => {
            &["Flat, stickers between the layers over the timbers, a cover on top."]
        }
        PileKind::Large => &["Flat; weigh it down or tie it, wind takes it."],
        PileKind::Rolls => {
            &["In its wrap until the day, lying, dry, in the shade; nothing sharp under it."]
        }
        PileKind::Table => &["A bin for each bag of the kit, its mark in front."],
    };
    let mut care: Vec<String> = match kind {
        PileKind::Table => Vec::new(),
        _ => vec![on],
    };
    care.extend(words.iter().map(|words| (*words).to_owned()));
    care
}
