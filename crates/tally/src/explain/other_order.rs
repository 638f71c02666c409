//! Whether the list, and perhaps the kit, was made for another order: gone through from outside, one near order after the
//! other, each with the cheapest story of what it leaves. Those that cannot win are skipped by a bound from below.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

use measure::Length;

use crate::explain::cause::{Cause, CauseKind};
use crate::explain::check::{Check, ask_the_sender};
use crate::explain::component::{Component, Draft};
use crate::explain::facts::Facts;
use crate::explain::near_order::NearOrder;
use crate::explain::numbers::{Key, Number, Side, promise};
use crate::explain::priors::{self, Chance};
use crate::explain::programme::Cost;
use crate::explain::shows::Shows;
use crate::explain::{Matter, OtherOrder, Story, odds};
use crate::list_standing::ListStanding;

/// So many bays longer or shorter a house is that a list's numbers may tell of.
const MOST_BAYS: i64 = 200;

/// So many lengths are tried that a list's numbers tell of.
const MOST_LENGTHS: usize = 2;

/// The likeliest order that the list was made for, with what is then left to explain.
pub(crate) struct Likeliest {
    pub components: Vec<Component>,
    /// Another order than the one at hand, and the matter that it makes.
    pub other: Option<(OtherOrder, Matter)>,
    /// What all of it costs.
    pub cost: Cost,
}

/// One way in which list and kit may have been made for another order.
struct Way<'a> {
    near: &'a NearOrder,
    packed_so: bool,
    numbers: BTreeMap<Key, Number>,
    prior: Cost,
    /// It costs no less than this.
    bound: Cost,
}

/// Finds the order that list and kit were most likely made for.
pub(crate) fn likeliest(facts: &Facts, numbers: &BTreeMap<Key, Number>) -> Likeliest {
    let ours = solved(facts, Draft::all(facts, numbers));
    let our_cost: Cost = ours.iter().map(Component::cost).sum();
    let mut best: Option<(Way, Vec<Component>, Cost)> = None;
    let candidates = candidates(facts, numbers);
    for way in ways(facts, numbers, &candidates) {
        let to_beat = best.as_ref().map_or(our_cost, |best| best.2);
        if way.bound >= to_beat {
            break;
        }
        let drafts = Draft::all(facts, &way.numbers);
        let bound = way.prior + drafts.iter().map(Draft::bound).sum::<Cost>();
        if bound >= to_beat {
            continue;
        }
        let components = solved(facts, drafts);
        let left: Cost = components.iter().map(Component::cost).sum();
        debug_assert!(bound.max(way.bound) <= way.prior + left, "from below");
        if way.prior + left < to_beat {
            let cost = way.prior + left;
            best = Some((way, components, cost));
        }
    }
    match best {
        None => Likeliest {
            components: ours,
            other: None,
            cost: our_cost,
        },
        Some((way, components, cost)) => Likeliest {
            other: Some(told(facts, numbers, &way, &ours, our_cost - cost)),
            cost,
            components,
        },
    }
}

fn solved(facts: &Facts, drafts: Vec<Draft>) -> Vec<Component> {
    drafts
        .into_iter()
        .map(|draft| draft.solved(facts))
        .collect()
}

/// The orders that a list may have been made for: those near the one at hand, what the heads of lists say, and the
/// lengths that what is listed would be right for.
fn candidates<'a>(facts: &Facts<'a>, numbers: &BTreeMap<Key, Number>) -> Vec<Cow<'a, NearOrder>> {
    let is_off = |key: &Key, number: &Number| key.1 == Side::List && number.deviates();
    if !numbers.iter().any(|(key, number)| is_off(key, number)) {
        return Vec::new();
    }
    let near = facts.ordered.near();
    let mut sizes = said_sizes(facts);
    sizes.extend(counted_out(facts, numbers, near));
    let is_new = |[length, spacing]: &[Length; 2]| {
        let is_it = |one: &NearOrder| one.length == *length && one.spacing == *spacing;
        !near.iter().any(is_it)
    };
    let sizes = sizes.into_iter().filter(is_new);
    let further = NearOrder::of_sizes(facts.ordered, sizes);
    let near = near.iter().map(Cow::Borrowed);
    near.chain(further.into_iter().map(Cow::Owned)).collect()
}

/// The lengths and spacings that the heads of lists name, where they are at odds with the order.
fn said_sizes(facts: &Facts) -> BTreeSet<[Length; 2]> {
    let frame = &facts.ordered.frame;
    let of_list = |list: &ListStanding| {
        let header = &list.read.as_ref().as_ref().ok()?.header;
        let fits = header.width.is_none_or(|width| width == frame.width);
        let size = [
            header.length.unwrap_or(frame.length),
            header.spacing.unwrap_or(frame.bow_spacing),
        ];
        (!list.troubles.is_empty() && fits).then_some(size)
    };
    facts.standing.lists.iter().filter_map(of_list).collect()
}

/// The lengths beyond the near ones that several marks are listed for. What is needed of a mark at each bow or along each
/// bay grows by the same with every bay, so that a number tells how many bays there are.
fn counted_out(
    facts: &Facts,
    numbers: &BTreeMap<Key, Number>,
    near: &[NearOrder],
) -> Vec<[Length; 2]> {
    let (frame, ours) = (&facts.ordered.frame, facts.ordered.needs());
    let longer = |bays: i64| {
        let length = frame.length + frame.bow_spacing * bays;
        let is_it = |one: &&NearOrder| one.length == length && one.spacing == frame.bow_spacing;
        near.iter().find(is_it)
    };
    let (Some(one), Some(two)) = (longer(1), longer(2)) else {
        return Vec::new();
    };
    let mut votes: BTreeMap<i64, usize> = BTreeMap::new();
    let off = (numbers.iter()).filter(|((_, side), _)| *side == Side::List);
    for ((place, _), number) in off.filter(|(_, number)| number.deviates()) {
        let needed = ours[*place][0];
        let step = one.needs[*place][0] - needed;
        let is_linear = step > 0 && two.needs[*place][0] - needed == 2 * step;
        if is_linear && number.off % step == 0 && (number.off / step).abs() <= MOST_BAYS {
            *votes.entry(number.off / step).or_default() += 1;
        }
    }
    let mut votes: Vec<(i64, usize)> = votes.into_iter().filter(|(_, n)| *n > 1).collect();
    votes.sort_by_key(|(bays, n)| (std::cmp::Reverse(*n), bays.abs()));
    (votes.into_iter().take(MOST_LENGTHS))
        .map(|(bays, _)| [frame.length + frame.bow_spacing * bays, frame.bow_spacing])
        .collect()
}

/// Every way that could be, the one that may cost least first.
fn ways<'a>(
    facts: &Facts,
    numbers: &BTreeMap<Key, Number>,
    near: &'a [Cow<NearOrder>],
) -> Vec<Way<'a>> {
    let ours = facts.ordered.needs();
    let misread = least_of_rows(facts);
    let mut found = Vec::new();
    for one in near {
        let said = says_so(facts, one);
        let happens = match said {
            true => priors::OTHER_ORDER_SAID,
            false => priors::OTHER_ORDER / near.len().max(1) as f64,
        };
        for (packed_so, share) in [(false, 1.0 - priors::PACKED_SO), (true, priors::PACKED_SO)] {
            let Some(numbers) = against(facts, numbers, ours, one, packed_so) else {
                continue;
            };
            let chance = Chance {
                happens: happens * share,
                more: 0.0,
            };
            let prior = chance.first();
            found.push(Way {
                near: one,
                packed_so,
                bound: prior + bound(&numbers, &misread),
                numbers,
                prior,
            });
        }
    }
    found.sort_by_key(|way| way.bound);
    found
}

/// Whether the heading of a list is at odds with the order at hand and names this one.
fn says_so(facts: &Facts, near: &NearOrder) -> bool {
    let width = facts.ordered.frame.width;
    facts.standing.lists.iter().any(|list| {
        let Ok(read) = list.read.as_ref() else {
            return false;
        };
        let header = &read.header;
        let fits = |said: Option<Length>, is| said.is_none_or(|said| said == is);
        !list.troubles.is_empty()
            && (header.length.is_some() || header.spacing.is_some())
            && fits(header.width, width)
            && fits(header.length, near.length)
            && fits(header.spacing, near.spacing)
    })
}

/// The numbers held against another order: those of the list, and where it was packed so, those of the yard too. Nothing
/// where no number changes.
fn against(
    facts: &Facts,
    numbers: &BTreeMap<Key, Number>,
    ours: &[[i64; 2]],
    near: &NearOrder,
    packed_so: bool,
) -> Option<BTreeMap<Key, Number>> {
    let changed: Vec<usize> = (0..ours.len())
        .filter(|place| ours[*place] != near.needs[*place])
        .collect();
    let side = if packed_so { Side::Yard } else { Side::List };
    let counts = |place: &usize| numbers.contains_key(&(*place, side));
    if !changed.iter().any(counts) {
        return None;
    }
    let mut numbers = numbers.clone();
    for place in changed {
        let (mark, needs) = (facts.mark(place), near.needs[place]);
        let promise = promise(mark, needs[0], &facts.standing.state);
        let mut set = |side, number| match number {
            Some(number) => numbers.insert((place, side), number),
            None => numbers.remove(&(place, side)),
        };
        set(
            Side::List,
            Number::listed(mark, &promise, needs, facts.whole),
        );
        if packed_so {
            set(Side::Yard, Number::counted(mark, &promise, needs));
        }
    }
    Some(numbers)
}

/// Of each mark, half of what it costs at least that a row was misread: the row concerns two marks.
fn least_of_rows(facts: &Facts) -> BTreeMap<usize, Cost> {
    let mut least: BTreeMap<usize, Cost> = BTreeMap::new();
    for row in &facts.doubtful {
        for (place, share) in &row.others {
            let chance = Chance {
                happens: share / (1.0 + share),
                more: 0.0,
            };
            for place in row.mark.iter().chain([place]) {
                let known = least.entry(*place).or_insert(Cost::MAX);
                *known = (*known).min(chance.first() / 2);
            }
        }
    }
    least
}

/// What explaining a number of a list costs at least, row misread or not: the cheapest thing that can be wrong with a
/// list, halved where it explains a number of the yard too.
fn least_of_list() -> Cost {
    let alone = [
        priors::TYPO,
        priors::TYPO_ANY,
        priors::LINE_UNLISTED,
        priors::ROW_TWICE,
        priors::USE_UNLISTED,
        priors::UNREAD_ROW,
    ];
    let halved = [
        priors::UNLISTED_WHOLE,
        priors::UNLISTED_SOME,
        priors::LEFT_UNSAID,
        priors::PACKED_BY,
        priors::PACKED_BY_ANY,
        priors::LINE_UNPACKED,
        priors::USE_UNPACKED,
        priors::SURE_ROW,
    ];
    let alone = alone.map(|chance| chance.first());
    let halved = halved.map(|chance| chance.first() / 2);
    alone.into_iter().chain(halved).min().unwrap_or(0)
}

/// What explaining these numbers costs at least: each number of a list that is off needs something that touches it, and
/// nothing touches more than two. Those of the yard are left out.
fn bound(numbers: &BTreeMap<Key, Number>, misread: &BTreeMap<usize, Cost>) -> Cost {
    let least = least_of_list();
    let off = numbers.iter().filter(|((_, side), _)| *side == Side::List);
    (off.filter(|(_, number)| number.deviates()))
        .map(|((place, _), _)| {
            let by_row = misread.get(place).copied().unwrap_or(Cost::MAX);
            least.min(by_row)
        })
        .sum()
}

/// The marks of which the list has another number than that order needs, too.
fn misfits(facts: &Facts, numbers: &BTreeMap<Key, Number>) -> Vec<String> {
    let off = (numbers.iter()).filter(|((_, side), _)| *side == Side::List);
    (off.filter(|(_, number)| number.deviates()))
        .map(|((place, _), _)| facts.mark(*place).mark.clone())
        .collect()
}

/// The other order, and the matter that it makes.
fn told(
    facts: &Facts,
    numbers: &BTreeMap<Key, Number>,
    way: &Way,
    ours: &[Component],
    cheaper: Cost,
) -> (OtherOrder, Matter) {
    let needs = facts.ordered.needs();
    let mut causes = Vec::new();
    let mut places = BTreeSet::new();
    for (place, [is, would_be]) in needs
        .iter()
        .zip(&way.near.needs)
        .enumerate()
        .map(|(place, (is, would_be))| (place, [is[0], would_be[0]]))
    {
        let has = |side| numbers.contains_key(&(place, side));
        if is == would_be || !(has(Side::List) || has(Side::Yard) && way.packed_so) {
            continue;
        }
        let kind = match way.packed_so && has(Side::Yard) {
            true => CauseKind::SentForOtherOrder,
            false => CauseKind::ListForOtherOrder,
        };
        places.insert(place);
        causes.push(Cause::of(kind, &facts.mark(place).mark, would_be - is));
    }
    causes.sort();
    let rivals: Vec<Cause> = ours.iter().flat_map(|c| c.causes_of(&places)).collect();
    let odds = odds(cheaper);
    let marks: Vec<String> = (places.iter())
        .map(|place| facts.mark(*place).mark.clone())
        .collect();
    let matter = Matter {
        check: marks.first().map(|mark| Check {
            shows: Shows::WhichOfTwo,
            ..ask_the_sender(mark, &way.near.change)
        }),
        marks,
        best: Story {
            causes,
            cost: way.prior,
        },
        other: Some(Story {
            causes: rivals,
            cost: way.prior + cheaper,
        }),
        odds,
        nearly_level: odds < crate::explain::NEARLY_LEVEL,
    };
    let other = OtherOrder {
        change: way.near.change.clone(),
        order: way.near.order.clone(),
        packed_so: way.packed_so,
        misfits: misfits(facts, &way.numbers),
        odds,
    };
    (other, matter)
}
