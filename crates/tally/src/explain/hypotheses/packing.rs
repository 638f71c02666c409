//! What may have gone wrong at the packer's: what came.

use crate::explain::cause::{Cause, CauseKind};
use crate::explain::hypotheses::{Gathering, Hypothesis};
use crate::explain::numbers::{Key, Side};
use crate::explain::priors;

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
        self.other_bag(place);
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
        self.found.extend(some);
        self.found.push(whole);
        self.found.extend(bundles);
    }

    fn extra(&mut self, place: usize) {
        let counted = self.facts.mark(place).on_hand.counted;
        for chance in [priors::EXTRA, priors::EXTRA_MANY] {
            let cause = Cause::of(CauseKind::Extra, self.name(place), 1);
            let effects = vec![((place, Side::Yard), 1)];
            self.found
                .push(Hypothesis::of_some(cause, effects, counted, chance));
        }
    }

    /// A share of the kit whose bag holds it not, but the bag of another, which nobody has counted.
    fn other_bag(&mut self, place: usize) {
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
    }

    /// It may come with a shipment that has not arrived, though the list has it now, or has it not at all. `base`: how
    /// many should be here.
    fn left_for_later(&mut self, place: usize, base: i64) {
        let facts = self.facts;
        let shipment = facts.expected.first().map(|name| (*name).to_owned());
        let cause = |n: i64| Cause {
            shipment: shipment.clone(),
            ..Cause::of(CauseKind::LeftForLater, self.name(place), n)
        };
        let unlisted = self
            .deviating(place, Side::List)
            .is_some_and(|number| number.off < 0);
        let effects = |n: i64, unlisted: bool| -> Vec<(Key, i64)> {
            let yard = ((place, Side::Yard), -n);
            let list = unlisted.then_some(((place, Side::List), -n));
            [yard].into_iter().chain(list).collect()
        };
        let mut found = Vec::new();
        for unlisted in [false, true].into_iter().take(1 + usize::from(unlisted)) {
            if shipment.is_none() {
                let effects = effects(base, unlisted);
                found.push(Hypothesis::of_all(
                    cause(base),
                    effects,
                    priors::LEFT_UNSAID,
                ));
                continue;
            }
            let whole = |n| Hypothesis::of_all(cause(n), effects(n, unlisted), priors::LEFT_WHOLE);
            found.push(whole(base));
            for share in facts.shares(place) {
                found.push(whole(share.quantity).of_share(&share.name));
            }
            let some = effects(1, unlisted);
            found.push(Hypothesis::of_some(cause(1), some, base, priors::LEFT_SOME));
        }
        self.found.extend(found);
    }
}
