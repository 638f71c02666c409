//! What may have gone wrong in the yard: the count.

use crate::explain::background::Alike;
use crate::explain::cause::{Cause, CauseKind};
use crate::explain::facts::{CountedOf, MeasuredOf};
use crate::explain::hypotheses::{Gathering, Hypothesis};
use crate::explain::numbers::{Key, Side};
use crate::explain::priors::{self, Chance, in_millionths};
use crate::explain::programme::Cost;
use crate::how::How;
use crate::looks::{Agreement, PileSeen};
use crate::on_hand::Count;

/// So many look-alikes of a mark are looked at.
const MOST_ALIKE: usize = 12;

/// So many pieces have a cost of their own each, where some of a pile were measured; more cost as the last.
const MOST_STEPS: i64 = 64;

impl Gathering<'_> {
    /// What may have gone wrong in the count of a mark.
    pub(super) fn yard(&mut self, place: usize) {
        let Some(&number) = self.deviating(place, Side::Yard) else {
            return;
        };
        let Some(seen) = self.facts.seen(place) else {
            return;
        };
        let piles = seen.piles();
        self.look_alikes(place);
        if number.off < 0 {
            self.bundles_as_one(place, &piles);
            self.shares_not_counted(place);
            self.piles_not_counted(place);
            self.unfit_not_counted(place);
            self.strangers(place, number.off);
        } else {
            self.counted_twice(place, &seen.counts);
            self.bundles_twice(place, &piles);
        }
        for pile in &piles {
            self.doubt(place, pile, number.off);
        }
        self.miscounted(place, &piles, &seen.counts, number.off);
    }

    /// A slip of one or two in a count piece by piece that nobody else has checked.
    fn miscounted(&mut self, place: usize, piles: &[PileSeen], counts: &[Count], off: i64) {
        let checked = |pile: &Option<String>| {
            let mut agreed = piles.iter().filter(|p| p.agreement == Agreement::Agreed);
            agreed.any(|agreed| agreed.pile == *pile)
        };
        let pieces: i64 = (counts.iter())
            .filter(|count| count.how == How::Piece && !checked(&count.pile))
            .map(|count| count.quantity)
            .sum();
        if pieces < priors::MISCOUNT_FROM {
            return;
        }
        let happens = priors::MISCOUNT.happens;
        let chance = Chance {
            happens: happens.min(priors::MISCOUNT_A_PIECE * pieces as f64),
            ..priors::MISCOUNT
        };
        let sign = off.signum();
        let cause = Cause {
            pile: only_pile(piles),
            ..Cause::of(CauseKind::Miscounted, self.name(place), sign)
        };
        let effects = vec![((place, Side::Yard), sign)];
        self.found
            .push(Hypothesis::of_some(cause, effects, 2, chance));
    }

    /// What was counted as a mark that is no part of this order is what this one lacks, or was sent in its place.
    fn strangers(&mut self, place: usize, off: i64) {
        let facts = self.facts;
        for stranger in facts.strangers() {
            let key = (stranger.place, Side::Yard);
            let Some(number) = self.numbers.get(&key) else {
                continue;
            };
            let (counted, most) = (number.off, number.off.min(-off));
            let ways = [
                (CauseKind::CountedAsLookAlike, 1.0),
                (CauseKind::SentLookAlike, priors::STRANGE_SENT),
            ];
            for (kind, share) in ways {
                let cause = |n| Cause {
                    other_mark: Some(stranger.mark.to_owned()),
                    pile: stranger.pile.clone(),
                    ..Cause::of(kind, self.name(place), n)
                };
                let effects = |n: i64| vec![((place, Side::Yard), -n), (key, n)];
                let some = priors::STRANGE_SOME.times(share);
                let mut found = vec![Hypothesis::of_some(cause(1), effects(1), most, some)];
                if counted == most && counted > 1 {
                    let all = priors::STRANGE_WHOLE.times(share);
                    found.push(Hypothesis::of_all(cause(counted), effects(counted), all));
                }
                let one_way = format!("called {}", stranger.mark);
                self.found
                    .extend(found.into_iter().map(|way| way.of_share(&one_way)));
            }
        }
    }

    /// Pieces of one mark among those of another: of the mark at hand among others where it has too few, and of others
    /// among it where it has too many. The other end must be off the other way, or have room: spares, or no count.
    fn look_alikes(&mut self, place: usize) {
        let facts = self.facts;
        let few = self.number(place, Side::Yard).is_some_and(|n| n.off < 0);
        let mut alike: Vec<(bool, &Alike)> = (facts.back.alike[place].iter())
            .filter_map(|alike| Some((self.other_end(alike.other, !few)?, alike)))
            .collect();
        // Those that are off come first, then the likest.
        alike.sort_by(|a, b| b.0.cmp(&a.0).then(b.1.by_eye.total_cmp(&a.1.by_eye)));
        for (is_off, alike) in alike.into_iter().take(MOST_ALIKE) {
            match (few, is_off) {
                (true, _) => self.mixed(place, alike.other, alike),
                // Where both ends are off, the pair is taken when its short end comes up.
                (false, true) => {}
                (false, false) => self.mixed(alike.other, place, alike),
            }
        }
    }

    /// Whether a mark is off by too few (or too many), so that it can be the other end of a pair; nothing where it is not
    /// and has no room either.
    fn other_end(&self, place: usize, few: bool) -> Option<bool> {
        let Some(number) = self.number(place, Side::Yard) else {
            // What was not counted at all may have been counted as another, but has no pile of its own.
            return few.then_some(false);
        };
        if number.deviates() {
            return (few == (number.off < 0)).then_some(true);
        }
        let room = match few {
            true => number.off + number.spares + number.to_come,
            false => number.up - number.off,
        };
        (room > 0).then_some(false)
    }

    /// Pieces `of` one mark lie among those of another: counted so, or sent so.
    fn mixed(&mut self, of: usize, among: usize, alike: &Alike) {
        let facts = self.facts;
        let Some(seen) = facts.seen(among).filter(|seen| !seen.counts.is_empty()) else {
            return;
        };
        let should_be = match self.number(of, Side::Yard) {
            Some(number) => number.base + number.up,
            None => facts.mark(of).expected(),
        };
        let mut effects: Vec<(Key, i64)> = vec![((among, Side::Yard), 1)];
        if self.number(of, Side::Yard).is_some() {
            effects.push(((of, Side::Yard), -1));
        }
        let piles = seen.piles();
        let all: i64 = piles.iter().map(|pile| pile.stands).sum();
        let happens = priors::MIXED + priors::MIXED_BY_EYE * alike.by_eye;
        for pile in piles.iter().filter(|pile| pile.stands > 0) {
            // Where there are several piles, it is likelier in the greater one.
            let share = pile.stands as f64 / all.max(1) as f64;
            let chance = Chance {
                happens: happens * share,
                more: priors::MIXED_MORE,
            };
            let measured = facts.measured(among, of, &pile.pile);
            let most = should_be.min(pile.stands - measured.as_called);
            // Either who counted mixed them up or who packed, not both.
            let one_way = format!("{among} in {}", pile.pile.as_deref().unwrap_or_default());
            let cause = |kind| Cause {
                other_mark: Some(facts.mark(among).mark.clone()),
                pile: pile.pile.clone(),
                ..Cause::of(kind, &facts.mark(of).mark, 1)
            };
            if most > 0 {
                let seen_wrong = facts.mark(among).on_hand.wrong > 0;
                let chance = if seen_wrong {
                    priors::WRONG_SEEN
                } else {
                    chance
                };
                let (first, further) = updated(chance, measured, pile.stands, most);
                self.found.push(Hypothesis {
                    cause: cause(CauseKind::CountedAsLookAlike),
                    effects: effects.clone(),
                    most,
                    first,
                    further,
                    share: Some(one_way.to_lowercase()),
                });
            }
            let most = should_be.min(pile.stands - measured.as_other);
            if most > 0 {
                let cause = cause(CauseKind::SentLookAlike);
                let chance = match facts.mark(of).on_hand.wrong > 0 {
                    true => priors::WRONG_SEEN,
                    false => chance.times(priors::SENT_SHARE),
                };
                let sent = Hypothesis::of_some(cause, effects.clone(), most, chance);
                let mut sent = sent.of_share(&one_way);
                // What was sent instead is what it is called.
                let against = -priors::MEASURED_WRONG.ln() * measured.as_other as f64;
                sent.first += in_millionths(against);
                self.found.push(sent);
            }
        }
    }

    fn bundles_as_one(&mut self, place: usize, piles: &[PileSeen]) {
        let facts = self.facts;
        let Some(number) = self.number(place, Side::Yard) else {
            return;
        };
        let should_be = number.base + number.up;
        // Beside whole bundles, what was counted as single pieces may be more of them.
        let by_piece = |count: &Count| match count.how {
            How::Bundle { rest, .. } => rest,
            _ => count.quantity,
        };
        let seen = facts.seen(place).map(|seen| seen.counts.as_slice());
        let by_piece: i64 = seen.unwrap_or_default().iter().map(by_piece).sum();
        for size in facts.bundles(place) {
            let cause = Cause {
                pile: only_pile(piles),
                ..Cause::of(CauseKind::BundleAsOne, self.name(place), size - 1)
            };
            let most = by_piece.min(should_be / size);
            let effects = vec![((place, Side::Yard), -(size - 1))];
            let chance = priors::BUNDLE_AS_ONE;
            self.found
                .push(Hypothesis::of_some(cause, effects, most, chance));
        }
    }

    fn bundles_twice(&mut self, place: usize, piles: &[PileSeen]) {
        let Some(counted) = self.facts.seen(place).map(|seen| seen.on_hand().counted) else {
            return;
        };
        for size in self.facts.bundles(place) {
            let cause = Cause {
                pile: only_pile(piles),
                ..Cause::of(CauseKind::CountedTwice, self.name(place), size)
            };
            let effects = vec![((place, Side::Yard), size)];
            let most = counted / size / 2;
            let chance = priors::BUNDLE_TWICE;
            self.found
                .push(Hypothesis::of_some(cause, effects, most, chance));
        }
    }

    /// Two counts of as many pieces may be one.
    fn counted_twice(&mut self, place: usize, counts: &[Count]) {
        for (nth, count) in counts.iter().enumerate().filter(|(_, c)| c.quantity > 0) {
            let same = |before: &&Count| before.quantity == count.quantity;
            let Some(before) = counts[..nth].iter().rev().find(same) else {
                continue;
            };
            let by_two_in_one_place = before.who != count.who && before.pile == count.pile;
            let chance = match by_two_in_one_place {
                true => priors::TWICE_BY_TWO,
                false => priors::TWICE,
            };
            let cause = Cause {
                pile: count.pile.clone(),
                ..Cause::of(CauseKind::CountedTwice, self.name(place), count.quantity)
            };
            let effects = vec![((place, Side::Yard), count.quantity)];
            self.found.push(Hypothesis::of_all(cause, effects, chance));
        }
    }

    /// A share of the kit that was not counted.
    fn shares_not_counted(&mut self, place: usize) {
        let facts = self.facts;
        let only = facts.only_share_not_counted(place);
        for share in facts.shares(place).into_iter().chain(only) {
            let chance = match facts.counted_of(&share.name, place) {
                CountedOf::None => priors::SHARE_NOT_COUNTED,
                CountedOf::Some => priors::SHARE_OF_SOME,
                CountedOf::Most => priors::SHARE_OF_MOST,
            };
            let cause = Cause {
                sub_kit: Some(share.name.clone()),
                ..Cause::of(CauseKind::PileNotCounted, self.name(place), share.quantity)
            };
            let effects = vec![((place, Side::Yard), -share.quantity)];
            self.found
                .push(Hypothesis::of_all(cause, effects, chance).of_share(&share.name));
        }
    }

    /// A pile that has a name and a place, and of which nobody has counted anything.
    fn piles_not_counted(&mut self, place: usize) {
        let base = self
            .number(place, Side::Yard)
            .map_or(0, |number| number.base);
        for pile in &self.facts.named_uncounted {
            let cause = Cause {
                pile: Some((*pile).to_owned()),
                ..Cause::of(CauseKind::PileNotCounted, self.name(place), 1)
            };
            let effects = vec![((place, Side::Yard), -1)];
            let found = Hypothesis::of_some(cause, effects, base, priors::NAMED_PILE);
            self.found.push(found);
        }
    }

    /// What is not fit for use was set aside: what is damaged is there all the same, and what is another part than its label
    /// says is not.
    fn unfit_not_counted(&mut self, place: usize) {
        let on_hand = &self.facts.mark(place).on_hand;
        let ways = [
            (CauseKind::DamagedNotCounted, on_hand.damaged + on_hand.bent),
            (CauseKind::WrongSent, on_hand.wrong),
        ];
        for (kind, unfit) in ways.into_iter().filter(|(_, unfit)| *unfit > 0) {
            let cause = |n| Cause::of(kind, self.name(place), n);
            let effects = |n: i64| vec![((place, Side::Yard), -n)];
            let all = Hypothesis::of_all(cause(unfit), effects(unfit), priors::UNFIT_NOT_COUNTED);
            let chance = priors::SOME_UNFIT_NOT_COUNTED;
            let some = Hypothesis::of_some(cause(1), effects(1), unfit, chance);
            let ways = [all, some].map(|way| way.of_share(&format!("{kind:?}")));
            self.found.extend(ways);
        }
    }

    /// A pile that was weighed, or at which looks differ.
    fn doubt(&mut self, place: usize, pile: &PileSeen, off: i64) {
        let (most, sign) = match off < 0 {
            true => (pile.most - pile.stands, -1),
            false => (pile.stands - pile.least, 1),
        };
        if most <= 0 {
            return;
        }
        let differ = pile.agreement == Agreement::Differ;
        let (kind, chance, each) = match differ {
            true => (CauseKind::LooksDiffer, priors::FIRST_LOOK_WRONG, 0.0),
            false => {
                let each = priors::WEIGHING_BOUND / most as f64;
                (CauseKind::WeighingDoubt, priors::WEIGHING_OFF, each)
            }
        };
        let cause = Cause {
            pile: pile.pile.clone(),
            ..Cause::of(kind, self.name(place), sign)
        };
        let effects = vec![((place, Side::Yard), sign)];
        let mut doubt = Hypothesis::of_some(cause, effects, most, chance);
        doubt.further = vec![(most, in_millionths(each))];
        self.found.push(doubt);
    }
}

/// The pile, where there is but one.
fn only_pile(piles: &[PileSeen]) -> Option<String> {
    match piles {
        [one] => one.pile.clone(),
        _ => None,
    }
}

/// What it costs that pieces of another mark are in a pile of so many, after some of it were measured. Whoever measured
/// k of n pieces and found none of x had a chance of C(n−x, k) / C(n, k) for that: with each piece more, it is less.
fn updated(
    chance: Chance,
    measured: MeasuredOf,
    stands: i64,
    most: i64,
) -> (Cost, Vec<(i64, Cost)>) {
    let missed = |nth: i64| {
        let left = (stands - nth).max(1) as f64;
        let hidden = (stands - nth - measured.as_called) as f64;
        // The last pieces that can be hidden are as unlikely as a wrong measurement.
        -(hidden / left).max(priors::MEASURED_WRONG).ln()
    };
    let found = priors::MEASURED_WRONG.ln() * measured.as_other as f64;
    let first = chance.first() + in_millionths(missed(0) + found);
    let further = match measured.as_called {
        0 => vec![(most, chance.each())],
        _ => (1..most.min(MOST_STEPS))
            .map(|nth| (1, chance.each() + in_millionths(missed(nth))))
            .collect(),
    };
    (first.max(priors::LEAST_COST), further)
}
