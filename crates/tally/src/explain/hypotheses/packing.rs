//! What may have gone wrong at the packer's: what came.

use std::collections::BTreeSet;

use frame::Section;

use crate::explain::cause::{Cause, CauseKind};
use crate::explain::facts::Facts;
use crate::explain::hypotheses::{Gathering, Hypothesis};
use crate::explain::numbers::{Key, Number, Side};
use crate::explain::priors::{self, Chance};
use crate::on_hand::Seen;

impl Gathering<'_> {
    /// What may have gone wrong in packing a mark that was counted.
    pub(super) fn packing(&mut self, place: usize) {
        let Some(&number) = self.deviating(place, Side::Yard) else {
            return;
        };
        if number.off > 0 {
            self.extra(place);
            return;
        }
        self.short(place, number.base);
        self.other_bag(place, number.base);
        self.left_for_later(place, number.base);
    }

    fn short(&mut self, place: usize, base: i64) {
        let cause = |n| Cause::of(CauseKind::Short, self.name(place), n);
        let effects = |n: i64| vec![((place, Side::Yard), -n)];
        let some = [priors::SHORT, priors::SHORT_MANY]
            .map(|chance| Hypothesis::of_some(cause(1), effects(1), base, chance));
        let whole = Hypothesis::of_all(cause(base), effects(base), priors::SHORT_WHOLE);
        let sizes = self.facts.bundles(place);
        let bundles: Vec<Hypothesis> = (sizes.into_iter())
            .filter(|size| *size < base)
            .map(|size| {
                let chance = priors::SHORT_BUNDLES;
                Hypothesis::of_some(cause(size), effects(size), base / size, chance)
            })
            .collect();
        // All of them are ways of being short, of which one is so.
        let all = some.into_iter().chain([whole]).chain(bundles);
        self.found.extend(all.map(|way| way.of_share("short")));
    }

    fn extra(&mut self, place: usize) {
        let counted = self.facts.mark(place).on_hand.counted;
        for chance in [priors::EXTRA, priors::EXTRA_MANY] {
            let cause = Cause::of(CauseKind::Extra, self.name(place), 1);
            let effects = vec![((place, Side::Yard), 1)];
            let way = Hypothesis::of_some(cause, effects, counted, chance);
            self.found.push(way.of_share("extra"));
        }
    }

    /// A share of the kit whose bag holds it not, but the bag of another, which nobody has counted.
    fn other_bag(&mut self, place: usize, base: i64) {
        let facts = self.facts;
        for share in facts.shares(place) {
            let Some(other) = facts.another_uncounted_share(&share.name, place) else {
                continue;
            };
            let cause = Cause {
                sub_kit: Some(other.to_owned()),
                ..Cause::of(CauseKind::InAnotherBag, self.name(place), share.quantity)
            };
            let effects = vec![((place, Side::Yard), -share.quantity)];
            let found = Hypothesis::of_all(cause, effects, priors::OTHER_BAG);
            self.found.push(found.of_share(&share.name));
        }
        let part = &facts.ordered.parts.lines[place].part;
        let is_small = matches!(part.section, None | Some(Section::Fastener { .. }));
        let own = facts.back.shares[place]
            .first()
            .map_or("", |share| &share.0);
        if let Some(other) = facts
            .another_uncounted_share(own, place)
            .filter(|_| is_small)
        {
            // Nobody loses a tube in a bag of screws.
            let cause = Cause {
                sub_kit: Some(other.to_owned()),
                ..Cause::of(CauseKind::InAnotherBag, self.name(place), 1)
            };
            let effects = vec![((place, Side::Yard), -1)];
            let chance = priors::SOME_IN_OTHER_BAG;
            self.found
                .push(Hypothesis::of_some(cause, effects, base, chance));
        }
        if is_small && !facts.opened_shares(place).is_empty() {
            self.opened_bag(place, base);
        }
    }

    /// In the bag of another share that was opened, where nobody looked for it.
    fn opened_bag(&mut self, place: usize, base: i64) {
        let cause = |n| Cause::of(CauseKind::InAnotherBag, self.name(place), n);
        let effects = |n: i64| vec![((place, Side::Yard), -n)];
        // Who looks a second time, and finds no more, has looked for them.
        let looked = |seen: &Seen| seen.piles().iter().any(|pile| pile.looks.len() > 1);
        let is_looked_for = self.facts.seen(place).is_some_and(looked);
        let factor = if is_looked_for {
            priors::LOOKED_FOR
        } else {
            1.0
        };
        let (whole, some) = (priors::OPENED_BAG, priors::SOME_IN_OPENED_BAG);
        let shares = self.facts.shares(place);
        let wholes: BTreeSet<i64> = (shares.iter().map(|share| share.quantity))
            .chain([base])
            .collect();
        let some = Hypothesis::of_some(cause(1), effects(1), base, some.times(factor));
        let all: Vec<Hypothesis> = (wholes.into_iter().filter(|n| *n > 1))
            .map(|n| Hypothesis::of_all(cause(n), effects(n), whole.times(factor)))
            .chain([some])
            .collect();
        let ways = all.into_iter().map(|way| way.of_share("an opened bag"));
        self.found.extend(ways);
    }

    /// It may come with a shipment that has not arrived: though the list has it now, or because the list of that shipment
    /// is not here. `base`: how many should be here.
    fn left_for_later(&mut self, place: usize, base: i64) {
        let facts = self.facts;
        let lacks = |number: &Number| number.off < 0;
        let unlisted = self.deviating(place, Side::List).is_some_and(lacks);
        let mut found = Vec::new();
        if let Some(shipment) = any_of(&facts.expected) {
            let chances = [priors::LEFT_WHOLE, priors::LEFT_SOME];
            let yard: fn(usize, i64) -> Vec<(Key, i64)> =
                |place, n| vec![((place, Side::Yard), -n)];
            found.extend(left(facts, place, base, Some(&shipment), chances, yard));
        }
        let both: fn(usize, i64) -> Vec<(Key, i64)> =
            |place, n| vec![((place, Side::Yard), -n), ((place, Side::List), -n)];
        if let Some(shipment) = any_of(&facts.unlisted)
            && unlisted
        {
            let chances = [priors::UNLISTED_WHOLE, priors::UNLISTED_SOME];
            found.extend(left(facts, place, base, Some(&shipment), chances, both));
        }
        if facts.expected.is_empty() {
            let cause = Cause::of(CauseKind::LeftForLater, self.name(place), base);
            let effects = match unlisted {
                true => both(place, base),
                false => vec![((place, Side::Yard), -base)],
            };
            found.push(Hypothesis::of_all(cause, effects, priors::LEFT_UNSAID));
        }
        self.found.extend(found);
    }
}

/// "Load 2 or Load 3": nobody knows which of them brings it.
pub(super) fn any_of(shipments: &[&str]) -> Option<String> {
    match shipments {
        [] => None,
        [first @ .., last] if !first.is_empty() => Some(format!("{} or {last}", first.join(", "))),
        [.., one] => Some((*one).to_owned()),
    }
}

/// What comes with a shipment that has not arrived: all of it, a share of the kit, or some pieces.
pub(super) fn left(
    facts: &Facts,
    place: usize,
    base: i64,
    shipment: Option<&str>,
    [whole, some]: [Chance; 2],
    effects: impl Fn(usize, i64) -> Vec<(Key, i64)>,
) -> Vec<Hypothesis> {
    let cause = |n: i64| Cause {
        shipment: shipment.map(String::from),
        ..Cause::of(CauseKind::LeftForLater, &facts.mark(place).mark, n)
    };
    let shares = facts.shares(place);
    let all = Hypothesis::of_all(cause(base), effects(place, base), whole);
    let some = Hypothesis::of_some(cause(1), effects(place, 1), base, some);
    (shares.iter())
        .map(|share| {
            let n = share.quantity;
            Hypothesis::of_all(cause(n), effects(place, n), whole).of_share(&share.name)
        })
        .chain([all, some])
        .collect()
}
