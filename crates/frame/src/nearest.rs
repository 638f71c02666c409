//! When an order cannot be built: the orders next to it that can.

use std::collections::BTreeSet;

use measure::Length;

use crate::expand::feet_inch;
use crate::family::Family;
use crate::order::Order;
use crate::settle::{Group, Kind, Troubles, keys_of, settle_alone};

/// The orders that can be built with the fewest changes, at most `MOST_NEAREST` of them.
///
/// Each step mends the first trouble in every way there is; all orders of one depth are tried before the next,
/// so the first depth at which any can be built has the fewest changes. Beyond `MOST_CHANGES` nobody would know the
/// order again, and nothing is offered.
pub(crate) fn nearest(
    order: &Order,
    troubles: &Troubles,
    family: &Family,
) -> Vec<(Vec<String>, Order)> {
    const MOST_NEAREST: usize = 4;
    const MOST_TRIED: usize = 2_000;
    const MOST_ASKED: usize = 200_000;
    const MOST_CHANGES: usize = 8;
    type Tried = (Vec<String>, Order, Troubles);

    // A wrong key or choice takes a change of its own, so that beyond this there is nothing to be found.
    let alone = |kind: &Kind| matches!(kind, Kind::Key { .. } | Kind::Choice { .. });
    if troubles.iter().filter(|(kind, _)| alone(kind)).count() > MOST_CHANGES {
        return Vec::new();
    }

    let mut seen = BTreeSet::from([order.clone()]);
    let mut open: Vec<Tried> = vec![(Vec::new(), order.clone(), troubles.clone())];
    // Each try asks for every option and every rule between them.
    let asks = family.options.len() + family.exclusions.len() + family.needs.len();
    let most_tried = MOST_TRIED.min(MOST_ASKED / asks.max(1));
    let mut tried = 0;
    for _ in 0..MOST_CHANGES {
        let mut next: Vec<Tried> = Vec::new();
        let mut found: Vec<(Vec<String>, Order)> = Vec::new();
        for (changes, order, troubles) in open {
            let Some((kind, _)) = troubles.first() else {
                continue;
            };
            for (change, mended) in mends(&order, kind, family) {
                if tried >= most_tried || !seen.insert(mended.clone()) {
                    continue;
                }
                tried += 1;
                let mut changes = changes.clone();
                changes.push(change);
                match settle_alone(&mended, family) {
                    Ok(_) => found.push((changes, mended)),
                    Err(troubles) => next.push((changes, mended, troubles)),
                }
            }
        }
        if !found.is_empty() {
            found.truncate(MOST_NEAREST);
            return found;
        }
        open = next;
    }
    Vec::new()
}

/// Every way to change one thing so that a trouble may go; the likeliest first.
fn mends(order: &Order, kind: &Kind, family: &Family) -> Vec<(String, Order)> {
    let mut found = Vec::new();
    let mut with = |says: String, change: &dyn Fn(&mut Order)| {
        let mut mended = order.clone();
        change(&mut mended);
        found.push((says, mended));
    };
    match kind {
        Kind::Length => {
            for length in whole_lengths(order, family) {
                let text = feet_inch(length);
                with(format!("length = {text}"), &|o| o.length = text.clone());
            }
            spacings(&mut with, family);
            ways(&mut with, family);
        }
        Kind::Uneven => {
            with("without uneven".into(), &|o| o.uneven = None);
            ways(&mut with, family);
        }
        Kind::Spacing => spacings(&mut with, family),
        Kind::Family => with(format!("family = {}", family.name), &|o| {
            o.family.clone_from(&family.name)
        }),
        Kind::Units => with("units = feet".into(), &|o| o.units = None),
        Kind::Key { group, key } => {
            let choice = group.read(order).get(key).cloned().unwrap_or_default();
            let meant = closest(key, keys_of(family, *group));
            if let Some(meant) = meant.filter(|m| !group.read(order).contains_key(*m)) {
                with(format!("{}.{meant} = {choice}", group.name()), &|o| {
                    group.of(o).remove(key);
                    group.of(o).insert(meant.into(), choice.clone());
                });
            }
            with(format!("{} without {key}", group.name()), &|o| {
                group.of(o).remove(key);
            });
        }
        Kind::Choice { group, key } => {
            let said = group.read(order).get(key).cloned().unwrap_or_default();
            let mut sold = choices_of(family, key);
            sold.sort_by_key(|choice| strsim::levenshtein(&said, choice));
            choices(&mut with, *group, key, sold);
        }
        Kind::Together { keys } => {
            for (group, key) in keys {
                if key == "bow_spacing" {
                    spacings(&mut with, family);
                }
                choices(&mut with, *group, key, choices_of(family, key));
            }
        }
    }
    found
}

/// Takes one way to change an order: what it is called, and the change.
type With<'a> = dyn FnMut(String, &dyn Fn(&mut Order)) + 'a;

/// Every spacing that is made.
fn spacings(with: &mut With, family: &Family) {
    for spacing in &family.size.bow_spacing {
        let text = feet_inch(*spacing);
        with(format!("bow_spacing = {text}"), &|o| {
            o.bow_spacing = Some(text.clone())
        });
    }
}

/// Every way to build a length that is no whole number of bays.
fn ways(with: &mut With, family: &Family) {
    for way in &family.size.uneven {
        let name = way.name();
        with(format!("uneven = {name}"), &|o| {
            o.uneven = Some(name.into())
        });
    }
}

/// Each of these choices for an option.
fn choices(with: &mut With, group: Group, key: &str, choices: Vec<String>) {
    for choice in choices {
        with(format!("{}.{key} = {choice}", group.name()), &|o| {
            group.of(o).insert(key.into(), choice.clone());
        });
    }
}

fn choices_of(family: &Family, key: &str) -> Vec<String> {
    (family.options.iter().find(|o| o.key == key))
        .map(|o| o.choices.clone())
        .unwrap_or_default()
}

/// Lengths of whole bays next below and above what the order says, for its spacing, inside the family's range.
fn whole_lengths(order: &Order, family: &Family) -> Vec<Length> {
    let (least, most) = (family.size.least_length, family.size.most_length);
    let spacing = (order
        .bow_spacing
        .as_deref()
        .and_then(|text| Length::read(text, None).ok()))
    .filter(|spacing| family.size.bow_spacing.contains(spacing))
    .or_else(|| family.size.bow_spacing.first().copied());
    let Some(spacing) = spacing else {
        return Vec::new();
    };
    let asked = Length::read(&order.length, None)
        .unwrap_or(least)
        .clamp(least, most);
    let bays = asked.as_nanometres() / spacing.as_nanometres();
    let mut lengths: Vec<Length> = [bays, bays + 1, bays - 1]
        .into_iter()
        .map(|bays| spacing * bays)
        .filter(|length| *length >= least && *length <= most)
        .collect();
    lengths.sort_by_key(|length| (*length - asked).as_nanometres().abs());
    lengths.truncate(2);
    lengths
}

/// The key that a misspelt one most likely meant, if any is near.
fn closest<'a>(key: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    known
        .map(|k| (strsim::damerau_levenshtein(key, k), k))
        .filter(|(distance, k)| *distance <= 2.max(k.len() / 3))
        .min()
        .map(|(_, k)| k)
}
