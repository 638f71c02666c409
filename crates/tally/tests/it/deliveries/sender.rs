//! The sender: what the list says, and what is packed.

use std::collections::{BTreeMap, BTreeSet};

use frame::{Part, PartsList};
use tally::Ordered;

use super::alike::alike;
use super::habits::{Habits, Lot, lots, rows, uses};
use super::hands::Meant;
use super::houses::House;
use super::planted::{Kind, Plan, Planted};
use super::random::Draws;

/// What left the sender.
pub struct Sent {
    pub rows: Vec<Meant>,
    pub lots: Vec<Lot>,
    /// What the packer took too few of, and too many: so that the books can be closed.
    pub left_out: BTreeMap<String, i64>,
    pub added: BTreeMap<String, i64>,
    /// Bags that nobody will have opened yet.
    pub closed: BTreeSet<String>,
    /// So many rows that the program reads wrongly by itself stay so: nobody looked.
    pub misread: usize,
    /// Every part that list or packer went by.
    pub parts: BTreeMap<String, Part>,
}

impl Sent {
    /// The list and the load for a house.
    pub fn draw(house: &House, habits: &Habits, plan: &mut Plan, draws: &mut Draws) -> Self {
        let other = other_order(house, plan, draws);
        let own = &house.ordered.parts;
        let listed_for = other.as_ref().map_or(own, |(_, other)| &other.parts);
        let packed_for = match &other {
            Some((Kind::SentForOther, other)) => &other.parts,
            _ => own,
        };
        let lines = own.lines.iter().chain(&listed_for.lines);
        let parts = lines.map(|line| (line.part.mark.0.clone(), line.part.clone()));
        let mut sent = Self {
            rows: rows(listed_for, habits),
            lots: lots(packed_for, habits),
            left_out: BTreeMap::new(),
            added: BTreeMap::new(),
            closed: BTreeSet::new(),
            misread: 0,
            parts: parts.collect(),
        };
        if packed_for != own {
            sent.books_of_other(own, habits);
        }
        for _ in 0..plan.of_kind(Kind::RowForTwoUses) {
            sent.one_use_listed(own, Kind::RowForTwoUses, plan, draws);
        }
        for _ in 0..plan.of_kind(Kind::PackedForOneUse) {
            sent.one_use_listed(own, Kind::PackedForOneUse, plan, draws);
        }
        for _ in 0..plan.of_kind(Kind::RowMisread) {
            match draws.percent(50) {
                true => sent.row_with_the_wrong_words(plan, draws),
                false => sent.misread += 1,
            }
        }
        for _ in 0..plan.of_kind(Kind::SentLookAlike) {
            sent.look_alike(plan, draws);
        }
        for _ in 0..plan.of_kind(Kind::InAnotherBag) {
            sent.in_another_bag(plan, draws);
        }
        for _ in 0..plan.of_kind(Kind::LeftForLater) {
            sent.left_for_later(habits, plan, draws);
        }
        for _ in 0..plan.of_kind(Kind::Short) {
            sent.short(own, plan, draws);
        }
        for _ in 0..plan.of_kind(Kind::Extra) {
            sent.extra(own, plan, draws);
        }
        sent.rows.retain(|row| row.quantity > 0);
        sent.lots.retain(|lot| lot.quantity > 0);
        sent
    }

    /// The kit was packed for another order: what that makes too few and too many.
    fn books_of_other(&mut self, own: &PartsList, habits: &Habits) {
        let mut packed: BTreeMap<String, i64> = BTreeMap::new();
        for lot in &self.lots {
            *packed.entry(lot.mark.clone()).or_default() += lot.quantity;
        }
        for lot in lots(own, habits) {
            *packed.entry(lot.mark).or_default() -= lot.quantity;
        }
        for (mark, over) in packed {
            match over {
                ..0 => self.left_out.insert(mark, -over),
                0 => None,
                1.. => self.added.insert(mark, over),
            };
        }
    }

    /// A mark has several uses, and the list has a row for all but one of them.
    fn one_use_listed(&mut self, own: &PartsList, kind: Kind, plan: &mut Plan, draws: &mut Draws) {
        let uses = own.lines.iter().flat_map(|line| {
            let uses = uses(line);
            let some = if uses.len() > 1 { uses } else { Vec::new() };
            some.into_iter()
                .map(|(bag, n)| (line.part.mark.0.clone(), bag, n))
        });
        let places: Vec<(String, String, i64)> = uses
            .filter(|(mark, bag, n)| {
                let row = self
                    .rows
                    .iter()
                    .find(|row| row.mark == *mark && on(row, bag));
                let lot = self
                    .lots
                    .iter()
                    .find(|lot| lot.mark == *mark && lot.bag == *bag);
                row.is_some_and(|row| row.quantity >= *n)
                    && lot.is_some_and(|lot| lot.quantity >= *n)
            })
            .collect();
        let marks = |place: &(String, String, i64)| vec![place.0.clone()];
        let Some((mark, bag, n)) = plan.place(&places, marks, draws) else {
            return;
        };
        let row = self
            .rows
            .iter_mut()
            .find(|row| row.mark == mark && on(row, &bag));
        row.expect("it was found").quantity -= n;
        if kind == Kind::PackedForOneUse {
            let lot = self
                .lots
                .iter_mut()
                .find(|lot| lot.mark == mark && lot.bag == bag);
            lot.expect("it was found").quantity -= n;
            *self.left_out.entry(mark.clone()).or_default() += n;
        }
        plan.planted.push(Planted::new(kind, &mark, n));
    }

    /// The clerk took the text of a look-alike.
    fn row_with_the_wrong_words(&mut self, plan: &mut Plan, draws: &mut Draws) {
        let mut places = Vec::new();
        for (place, row) in self
            .rows
            .iter()
            .enumerate()
            .filter(|(_, row)| row.quantity > 0)
        {
            for other in self.look_alikes_of(&row.mark) {
                places.push((place, other));
            }
        }
        let rows = self.rows.clone();
        let marks =
            |(place, other): &(usize, String)| vec![rows[*place].mark.clone(), other.clone()];
        if let Some((place, other)) = plan.place(&places, marks, draws) {
            let row = &mut self.rows[place];
            row.says = other.clone();
            let planted = Planted::new(Kind::RowMisread, &row.mark, row.quantity);
            plan.planted.push(planted.with(&other));
        }
    }

    /// The packer reached into the wrong bin.
    fn look_alike(&mut self, plan: &mut Plan, draws: &mut Draws) {
        let mut places = Vec::new();
        for place in self.packed_now() {
            for other in self.look_alikes_of(&self.lots[place].mark) {
                places.push((place, other));
            }
        }
        let lots = self.lots.clone();
        let marks =
            |(place, other): &(usize, String)| vec![lots[*place].mark.clone(), other.clone()];
        let Some((place, other)) = plan.place(&places, marks, draws) else {
            return;
        };
        let wanted = lots[place].clone();
        let n = some_of(wanted.quantity, draws);
        self.lots[place].quantity -= n;
        self.lots.push(Lot {
            mark: other.clone(),
            quantity: n,
            ..wanted.clone()
        });
        *self.left_out.entry(wanted.mark.clone()).or_default() += n;
        *self.added.entry(other.clone()).or_default() += n;
        let planted = Planted::new(Kind::SentLookAlike, &wanted.mark, n);
        plan.planted.push(planted.with(&other));
    }

    /// Pieces went into the bag of a share that has none of them.
    fn in_another_bag(&mut self, plan: &mut Plan, draws: &mut Draws) {
        let mut places = Vec::new();
        let bags: BTreeSet<(String, u8)> = (self.lots.iter())
            .map(|lot| (lot.bag.clone(), lot.load))
            .collect();
        for place in self.packed_now() {
            let lot = &self.lots[place];
            let own: BTreeSet<&str> = (self.lots.iter())
                .filter(|other| other.mark == lot.mark)
                .map(|other| other.bag.as_str())
                .collect();
            for (bag, _) in bags
                .iter()
                .filter(|(bag, load)| *load == 1 && !own.contains(bag.as_str()))
            {
                places.push((place, bag.clone()));
            }
        }
        // Nobody loses a bow in a bag of screws.
        places.retain(|(place, _)| is_small(&self.parts[&self.lots[*place].mark]));
        let lots = self.lots.clone();
        let marks = |(place, _): &(usize, String)| vec![lots[*place].mark.clone()];
        let Some((place, bag)) = plan.place(&places, marks, draws) else {
            return;
        };
        // Some pieces in a bag that is opened, where nobody looks for them; or all of them in one that stays closed.
        let closed = draws.percent(50);
        let n = match closed {
            true => lots[place].quantity,
            false => some_of(lots[place].quantity, draws),
        };
        if closed {
            self.closed.insert(bag.clone());
        }
        self.lots[place].quantity -= n;
        self.lots.push(Lot {
            bag: bag.clone(),
            quantity: n,
            strays: true,
            ..lots[place].clone()
        });
        let planted = Planted::new(Kind::InAnotherBag, &lots[place].mark, n);
        plan.planted.push(planted.at(&bag));
    }

    /// They did not fit on the first load.
    fn left_for_later(&mut self, habits: &Habits, plan: &mut Plan, draws: &mut Draws) {
        if !habits.two_loads {
            return;
        }
        let lots = self.lots.clone();
        let marks = |place: &usize| vec![lots[*place].mark.clone()];
        let Some(place) = plan.place(&self.packed_now(), marks, draws) else {
            return;
        };
        let n = some_of(lots[place].quantity, draws);
        self.lots[place].quantity -= n;
        self.lots.push(Lot {
            load: 2,
            quantity: n,
            ..lots[place].clone()
        });
        plan.planted
            .push(Planted::new(Kind::LeftForLater, &lots[place].mark, n));
    }

    /// Fewer than the house needs; the spares are gone as well.
    fn short(&mut self, own: &PartsList, plan: &mut Plan, draws: &mut Draws) {
        let lots = self.lots.clone();
        let packed = |mark: &str| -> i64 {
            let of = lots.iter().filter(|lot| lot.mark == mark);
            of.map(|lot| lot.quantity).sum()
        };
        let spare = |mark: &str| packed(mark) - own.line(mark).map_or(0, |line| line.quantity);
        let places: Vec<usize> = (self.packed_now().into_iter())
            .filter(|place| lots[*place].quantity > spare(&lots[*place].mark).max(0))
            .collect();
        let marks = |place: &usize| vec![lots[*place].mark.clone()];
        let Some(place) = plan.place(&places, marks, draws) else {
            return;
        };
        let mark = &lots[place].mark;
        let spare = spare(mark).max(0);
        let n = some_of(lots[place].quantity - spare, draws);
        self.lots[place].quantity -= n + spare;
        *self.left_out.entry(mark.clone()).or_default() += n + spare;
        plan.planted.push(Planted::new(Kind::Short, mark, n));
    }

    /// More than the house needs and spares would make.
    fn extra(&mut self, own: &PartsList, plan: &mut Plan, draws: &mut Draws) {
        let lots = self.lots.clone();
        let marks = |place: &usize| vec![lots[*place].mark.clone()];
        let Some(place) = plan.place(&self.packed_now(), marks, draws) else {
            return;
        };
        let mark = &lots[place].mark;
        let of = lots.iter().filter(|lot| lot.mark == *mark);
        let packed: i64 = of.map(|lot| lot.quantity).sum();
        let unused = own
            .line(mark)
            .map_or(0, |line| line.supplied - packed)
            .max(0);
        let n = draws.within(1, 6);
        self.lots[place].quantity += unused + n;
        *self.added.entry(mark.clone()).or_default() += unused + n;
        plan.planted.push(Planted::new(Kind::Extra, mark, n));
    }

    /// The lots of the first load.
    fn packed_now(&self) -> Vec<usize> {
        let lots = self.lots.iter().enumerate();
        lots.filter(|(_, lot)| lot.load == 1 && lot.quantity > 0 && !lot.strays)
            .map(|(place, _)| place)
            .collect()
    }

    /// The look-alikes that come in the first load as well.
    fn look_alikes_of(&self, mark: &str) -> Vec<String> {
        let marks: BTreeSet<&str> = (self.lots.iter())
            .filter(|lot| lot.load == 1)
            .map(|lot| lot.mark.as_str())
            .collect();
        let all = marks
            .into_iter()
            .filter(|m| alike(&self.parts[mark], &self.parts[*m]));
        all.map(str::to_owned).collect()
    }
}

/// Another order, where the list is to be made for one.
fn other_order(house: &House, plan: &mut Plan, draws: &mut Draws) -> Option<(Kind, Ordered)> {
    let kinds = [Kind::ListForOther, Kind::SentForOther];
    let kind = kinds.into_iter().find(|kind| plan.of_kind(*kind) > 0)?;
    let quantities = |ordered: &Ordered| -> Vec<(String, i64)> {
        let lines = ordered.parts.lines.iter();
        lines
            .map(|line| (line.part.mark.0.clone(), line.quantity))
            .collect()
    };
    // Some of them cannot be built, and some need just the same.
    for _ in 0..20 {
        let toml = draws.one_of(&house.near)?;
        let Ok(other) = Ordered::read(&toml) else {
            continue;
        };
        if quantities(&other) != quantities(&house.ordered) {
            let mut planted = Planted::new(kind, "", 0);
            planted.marks.clear();
            planted.order = Some(toml);
            plan.planted.push(planted);
            return Some((kind, other));
        }
    }
    None
}

fn on(row: &Meant, bag: &str) -> bool {
    row.sub_kit.is_empty() || row.sub_kit == bag
}

/// What goes into a bag, and is not carried by itself.
pub fn is_small(part: &Part) -> bool {
    part.length.is_none_or(|length| length.to_inches() < 36.0)
        && part.unit_mass.to_kilograms() < 3.0
}

/// Mostly a few, now and then a good share.
pub fn some_of(quantity: i64, draws: &mut Draws) -> i64 {
    let few = draws.within(1, 4);
    let share = draws.within(1, (quantity / 3).max(1));
    let n = if draws.percent(70) { few } else { share };
    n.clamp(1, quantity.max(1))
}
