//! What may be wrong with the list, or with the way it was read.

use std::collections::BTreeSet;

use crate::explain::cause::{Cause, CauseKind};
use crate::explain::hypotheses::packing::{any_of, left};
use crate::explain::hypotheses::{Gathering, Hypothesis};
use crate::explain::numbers::{Key, Number, Side};
use crate::explain::priors::{self, Chance};

impl Gathering<'_> {
    /// What may be wrong with what the lists say of a mark.
    pub(super) fn listing(&mut self, place: usize) {
        let Some(&number) = self.deviating(place, Side::List) else {
            return;
        };
        let sign = number.off.signum();
        // A number on the yard that is off the same way may be so for the same reason.
        let yard = self.deviating(place, Side::Yard);
        let packed_so = yard.is_some_and(|yard| yard.off.signum() == sign);
        self.slips(place, sign, packed_so);
        if sign > 0 {
            self.rows_twice(place);
        } else {
            self.uses_left_out(place, packed_so);
            self.comes_with_another_list(place);
        }
    }

    /// A wrong number, on the list alone or packed so too.
    fn slips(&mut self, place: usize, sign: i64, packed_so: bool) {
        let mark = self.facts.mark(place);
        let listed = mark.listed.unwrap_or(0);
        let Some(number) = self.number(place, Side::List) else {
            return;
        };
        let most = match sign > 0 {
            true => listed,
            false => number.base + number.up,
        };
        let (left_out, base) = (listed == 0, number.base);
        let ways = [
            (
                CauseKind::ListTypo,
                [priors::TYPO, priors::TYPO_ANY, priors::LINE_UNLISTED],
            ),
            (
                CauseKind::PackedByList,
                [
                    priors::PACKED_BY,
                    priors::PACKED_BY_ANY,
                    priors::LINE_UNPACKED,
                ],
            ),
        ];
        for (kind, [small, any, line]) in ways.into_iter().take(1 + usize::from(packed_so)) {
            let cause = |n: i64| Cause::of(kind, &mark.mark, sign * n);
            let effects = |n: i64| sides(place, sign * n, kind == CauseKind::PackedByList);
            for chance in [small, any] {
                let way = Hypothesis::of_some(cause(1), effects(1), most, chance);
                self.found.push(way.of_share("a slip"));
            }
            if left_out && base > 0 {
                let way = Hypothesis::of_all(cause(base), effects(base), line);
                self.found.push(way.of_share("a slip"));
            }
        }
    }

    /// A row that says what another says of the same mark.
    fn rows_twice(&mut self, place: usize) {
        let mark = self.facts.mark(place);
        let mut seen: BTreeSet<i64> = BTreeSet::new();
        for row in mark.rows.iter().filter(|row| row.quantity > 0) {
            if seen.insert(row.quantity) {
                continue;
            }
            let cause = Cause {
                row: Some(row.stands.clone()),
                ..Cause::of(CauseKind::RowTwice, &mark.mark, row.quantity)
            };
            let effects = sides(place, row.quantity, false);
            self.found
                .push(Hypothesis::of_all(cause, effects, priors::ROW_TWICE));
        }
    }

    /// The list has a mark for one use and forgets another, or for one share of the kit and not for another.
    fn uses_left_out(&mut self, place: usize, packed_so: bool) {
        let facts = self.facts;
        let mark = facts.mark(place);
        let row = match mark.rows.as_slice() {
            [one] => Some(one.stands.clone()),
            _ => None,
        };
        let mut known: BTreeSet<i64> = BTreeSet::new();
        let (uses, shares) = (&facts.back.uses[place], &facts.back.shares[place]);
        let several = [shares, uses]
            .into_iter()
            .filter(|several| several.len() > 1);
        for (name, quantity) in several.flatten() {
            if !known.insert(*quantity) {
                continue;
            }
            let ways = [
                (CauseKind::RowForTwoUses, priors::USE_UNLISTED),
                (CauseKind::PackedForOneUse, priors::USE_UNPACKED),
            ];
            for (kind, chance) in ways.into_iter().take(1 + usize::from(packed_so)) {
                let cause = Cause {
                    row: row.clone(),
                    sub_kit: Some(name.clone()),
                    ..Cause::of(kind, &mark.mark, *quantity)
                };
                let both = kind == CauseKind::PackedForOneUse;
                let effects = sides(place, -quantity, both);
                let found = Hypothesis::of_all(cause, effects, chance);
                self.found.push(found.of_share(&format!("list: {name}")));
            }
        }
    }

    /// What nobody has counted and the lists lack may stand on the list of a shipment that is expected. Of what was
    /// counted see the packing.
    fn comes_with_another_list(&mut self, place: usize) {
        let facts = self.facts;
        let shipment = any_of(&facts.unlisted);
        let (Some(number), Some(shipment)) = (self.number(place, Side::List), shipment) else {
            return;
        };
        if self.number(place, Side::Yard).is_some() {
            return;
        }
        let chances = [priors::UNLISTED_WHOLE, priors::UNLISTED_SOME];
        let effects = |place, n: i64| sides(place, -n, false);
        let found = left(facts, place, number.base, Some(&shipment), chances, effects);
        self.found.extend(found);
    }

    /// Rows that may be another mark than they were read as.
    pub(super) fn rows(&mut self) {
        let facts = self.facts;
        for (nth, row) in facts.doubtful.iter().enumerate() {
            let lacks = |place: usize| {
                self.deviating(place, Side::List)
                    .is_some_and(|number| number.off < 0)
            };
            let has_too_many = (row.mark).is_some_and(|place| {
                self.deviating(place, Side::List)
                    .is_some_and(|number| number.off > 0)
            });
            let mut others: Vec<(usize, f64)> = (row.others.iter().copied())
                .filter(|(place, _)| has_too_many || lacks(*place))
                .collect();
            // What has just what a mark lacks, and was read as nothing, or as a mark that now has too many.
            if row.mark.is_none() || has_too_many {
                let happens = match row.mark {
                    None => priors::UNREAD_ROW.happens,
                    Some(_) => priors::SURE_ROW.happens,
                };
                let lacking = (self.numbers.iter())
                    .filter(|((_, side), _)| *side == Side::List)
                    .filter(|(_, number)| number.deviates() && fills(number, row.quantity));
                for ((place, _), _) in lacking {
                    if others.iter().all(|(known, _)| known != place) {
                        others.push((*place, happens));
                    }
                }
            }
            for (place, share) in others {
                let mut effects: Vec<(Key, i64)> = Vec::new();
                let (mark, other_mark) = match row.mark {
                    Some(read_as) => {
                        effects.push(((read_as, Side::List), row.quantity));
                        (read_as, Some(facts.mark(place).mark.clone()))
                    }
                    // It can be one mark only.
                    None => {
                        effects.push(((facts.place_of_row(nth), Side::List), 1));
                        (place, None)
                    }
                };
                effects.push(((place, Side::List), -row.quantity));
                effects.retain(|(key, _)| self.numbers.contains_key(key));
                let cause = Cause {
                    other_mark,
                    row: Some(row.at.clone()),
                    ..Cause::of(CauseKind::RowMisread, &facts.mark(mark).mark, row.quantity)
                };
                let chance = Chance {
                    happens: share / (1.0 + share),
                    more: 0.0,
                };
                let found = Hypothesis::of_all(cause, effects, chance);
                self.found.push(found.of_share(&format!("row: {}", row.at)));
            }
        }
    }
}

/// Whether so many are just what a number lacks, with spares or without.
fn fills(number: &Number, quantity: i64) -> bool {
    (-number.off..=number.up - number.off).contains(&quantity)
}

/// What the list has too many, and where it was packed so, the yard too.
fn sides(place: usize, n: i64, packed_so: bool) -> Vec<(Key, i64)> {
    let yard = packed_so.then_some(((place, Side::Yard), n));
    [((place, Side::List), n)].into_iter().chain(yard).collect()
}
