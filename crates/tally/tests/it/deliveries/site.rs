//! The yard: what lies in which pile, and what people counted there.

use std::collections::{BTreeMap, BTreeSet};

use frame::Part;
use tally::{Condition, How};

use super::alike::alike;
use super::habits::Lot;
use super::planted::{Kind, Plan, Planted};
use super::random::Draws;
use super::sender::{Sent, is_small, some_of};

/// Pieces of one mark in one pile, as they truly lie there.
#[derive(Debug, Clone, PartialEq)]
pub struct Heap {
    pub pile: String,
    pub mark: String,
    pub pieces: i64,
    /// In a bag whose label does not name them: nobody looks for them there.
    pub strays: bool,
    /// Of these, so many were set aside as damaged before anybody counted.
    pub aside: i64,
}

/// What people wrote down of one mark at one pile.
#[derive(Debug, Clone, PartialEq)]
pub struct Note {
    pub pile: String,
    pub mark: String,
    pub counted: i64,
    /// Pieces in a bundle.
    pub ties: i64,
    /// Whether they are counted by the bundle.
    pub by_the_bundle: bool,
    /// Somebody else counted the same.
    pub again: bool,
}

/// The yard of one delivery.
pub struct Site {
    pub heaps: Vec<Heap>,
    pub notes: Vec<Note>,
    pub conditions: Vec<(String, i64, Condition)>,
    /// Piles that nobody counted.
    pub left: BTreeSet<String>,
}

impl Site {
    /// Unloads what is here, and counts it.
    pub fn draw(sent: &Sent, plan: &mut Plan, draws: &mut Draws) -> Self {
        let parts = &sent.parts;
        let mut site = Self {
            heaps: heaps(&sent.lots, parts, draws),
            notes: Vec::new(),
            conditions: Vec::new(),
            left: BTreeSet::new(),
        };
        for bag in &sent.closed {
            let pile = format!("bag {bag}");
            let marks = site.also_elsewhere(&pile);
            site.leave(&pile, marks, plan);
        }
        for _ in 0..plan.of_kind(Kind::DamagedAside) {
            site.damaged(Kind::DamagedAside, plan, draws);
        }
        for _ in 0..plan.of_kind(Kind::DamagedNoted) {
            site.damaged(Kind::DamagedNoted, plan, draws);
        }
        for _ in 0..plan.of_kind(Kind::PileNotCounted) {
            site.leave_a_pile(plan, draws);
        }
        site.count(parts, draws);
        for _ in 0..plan.of_kind(Kind::CountedAsLookAlike) {
            site.count_as_look_alike(parts, plan, draws);
        }
        for _ in 0..plan.of_kind(Kind::BundleAsOne) {
            site.count_a_bundle(Kind::BundleAsOne, plan, draws);
        }
        for _ in 0..plan.of_kind(Kind::CountedTwice) {
            site.count_a_bundle(Kind::CountedTwice, plan, draws);
        }
        site
    }

    fn damaged(&mut self, kind: Kind, plan: &mut Plan, draws: &mut Draws) {
        let whole = |heap: &Heap| heap.pieces > 0 && !heap.strays && heap.aside == 0;
        let places: Vec<usize> = (0..self.heaps.len())
            .filter(|p| whole(&self.heaps[*p]))
            .collect();
        let heaps = self.heaps.clone();
        let marks = |place: &usize| vec![heaps[*place].mark.clone()];
        let Some(place) = plan.place(&places, marks, draws) else {
            return;
        };
        let heap = &mut self.heaps[place];
        let n = some_of(heap.pieces, draws);
        let bent = if draws.percent(50) {
            Condition::Bent
        } else {
            Condition::Damaged
        };
        // Half of what is set aside is written down as damaged, and still not counted.
        if kind == Kind::DamagedNoted || draws.percent(50) {
            self.conditions.push((heap.mark.clone(), n, bent));
        }
        if kind == Kind::DamagedAside {
            heap.aside = n;
        }
        plan.planted
            .push(Planted::new(kind, &heap.mark, n).at(&heap.pile));
    }

    /// A pile is overlooked of which some marks lie elsewhere too. Those that lie only there are not counted at all,
    /// which everybody sees.
    fn leave_a_pile(&mut self, plan: &mut Plan, draws: &mut Draws) {
        let piles: BTreeSet<&str> = self.heaps.iter().map(|heap| heap.pile.as_str()).collect();
        let places: Vec<(String, Vec<(String, i64)>)> = (piles.into_iter())
            .filter(|pile| !self.left.contains(*pile))
            .map(|pile| (pile.to_owned(), self.also_elsewhere(pile)))
            .filter(|(_, marks)| !marks.is_empty())
            .collect();
        let marks = |place: &(String, Vec<(String, i64)>)| -> Vec<String> {
            place.1.iter().map(|(mark, _)| mark.clone()).collect()
        };
        if let Some((pile, marks)) = plan.place(&places, marks, draws) {
            self.leave(&pile, marks, plan);
        }
    }

    /// The marks of a pile that lie in another as well, with their pieces in this one.
    fn also_elsewhere(&self, pile: &str) -> Vec<(String, i64)> {
        let counted = |heap: &&Heap| !heap.strays && !self.left.contains(&heap.pile);
        let here = self
            .heaps
            .iter()
            .filter(|heap| heap.pile == pile && !heap.strays);
        here.filter(|heap| {
            let mut others = self.heaps.iter().filter(counted);
            others.any(|other| other.mark == heap.mark && other.pile != pile)
        })
        .map(|heap| (heap.mark.clone(), heap.pieces))
        .collect()
    }

    fn leave(&mut self, pile: &str, marks: Vec<(String, i64)>, plan: &mut Plan) {
        if self.left.insert(pile.to_owned()) && !marks.is_empty() {
            let mut planted = Planted::new(Kind::PileNotCounted, "", 0).at(pile);
            planted.marks = marks;
            plan.planted.push(planted);
        }
    }

    /// Every pile that is not left, as it should be done.
    fn count(&mut self, parts: &BTreeMap<String, Part>, draws: &mut Draws) {
        let by_the_bundle = draws.percent(60);
        for heap in &self.heaps {
            if self.left.contains(&heap.pile) || heap.strays {
                continue;
            }
            let counted = heap.pieces - heap.aside;
            let ties = bundle(&parts[&heap.mark], draws);
            self.notes.push(Note {
                pile: heap.pile.clone(),
                mark: heap.mark.clone(),
                counted,
                ties,
                by_the_bundle: by_the_bundle && counted >= 2 * ties,
                again: draws.percent(15),
            });
        }
    }

    /// Some of a mark are called by the name of another.
    fn count_as_look_alike(
        &mut self,
        parts: &BTreeMap<String, Part>,
        plan: &mut Plan,
        draws: &mut Draws,
    ) {
        let marks: BTreeSet<String> = self.notes.iter().map(|note| note.mark.clone()).collect();
        let mut places: Vec<(usize, String)> = Vec::new();
        for (place, note) in self
            .notes
            .iter()
            .enumerate()
            .filter(|(_, note)| note.counted > 0)
        {
            let others = marks
                .iter()
                .filter(|m| alike(&parts[&note.mark], &parts[*m]));
            places.extend(others.map(|other| (place, other.clone())));
        }
        let notes = self.notes.clone();
        let touched =
            |(place, other): &(usize, String)| vec![notes[*place].mark.clone(), other.clone()];
        let Some((place, other)) = plan.place(&places, touched, draws) else {
            return;
        };
        let note = &mut self.notes[place];
        let n = some_of(note.counted, draws);
        note.counted -= n;
        (note.by_the_bundle, note.again) = (false, false);
        let (pile, mark) = (note.pile.clone(), note.mark.clone());
        // Now and then the stray ones were carried to the other's pile first.
        let others = self.notes.iter().filter(|note| note.mark == other);
        let other_pile = others.map(|note| note.pile.clone()).next();
        let carried = draws.percent(50).then_some(other_pile).flatten();
        let at = carried.unwrap_or(pile.clone());
        if at != pile {
            self.carry(&mark, n, &pile, &at);
        }
        match self
            .notes
            .iter_mut()
            .find(|note| note.mark == other && note.pile == at)
        {
            Some(note) => {
                note.counted += n;
                (note.by_the_bundle, note.again) = (false, false);
            }
            None => self.notes.push(Note {
                pile: at.clone(),
                mark: other.clone(),
                counted: n,
                ties: 1,
                by_the_bundle: false,
                again: false,
            }),
        }
        plan.planted.push(
            Planted::new(Kind::CountedAsLookAlike, &mark, n)
                .with(&other)
                .at(&at),
        );
    }

    fn carry(&mut self, mark: &str, n: i64, from: &str, to: &str) {
        let heap = self
            .heaps
            .iter_mut()
            .find(|heap| heap.mark == mark && heap.pile == from);
        heap.expect("it was counted there").pieces -= n;
        self.heaps.push(Heap {
            pile: to.into(),
            mark: mark.into(),
            pieces: n,
            strays: false,
            aside: 0,
        });
    }

    /// A whole bundle is taken for one piece, or comes up twice.
    fn count_a_bundle(&mut self, kind: Kind, plan: &mut Plan, draws: &mut Draws) {
        let tied = |note: &Note| note.ties > 1 && note.counted >= 2 * note.ties;
        let places: Vec<usize> = (0..self.notes.len())
            .filter(|p| tied(&self.notes[*p]))
            .collect();
        let notes = self.notes.clone();
        let marks = |place: &usize| vec![notes[*place].mark.clone()];
        let Some(place) = plan.place(&places, marks, draws) else {
            return;
        };
        let note = &mut self.notes[place];
        note.again = false;
        let n = match kind {
            Kind::BundleAsOne => note.ties - 1,
            _ => note.ties,
        };
        note.counted += if kind == Kind::BundleAsOne { -n } else { n };
        plan.planted
            .push(Planted::new(kind, &note.mark, n).at(&note.pile));
    }
}

impl Note {
    /// How the number was come by.
    pub fn how(&self) -> How {
        match self.by_the_bundle {
            true => How::Bundle {
                bundles: self.counted / self.ties,
                of: self.ties,
                rest: self.counted % self.ties,
                closed: false,
            },
            false => How::Piece,
        }
    }
}

/// How many of a thing the sender ties or bags together; invented.
fn bundle(part: &Part, draws: &mut Draws) -> i64 {
    let of: &[i64] = match (part.unit_mass.to_kilograms(), part.section.is_some()) {
        (..0.1, _) => &[25, 50, 100],
        (_, true) => &[4, 5, 6, 10],
        _ => &[10, 25],
    };
    of[draws.under(of.len())]
}

/// Small things stay in the bag of their share; what is carried by itself gets a pile with a letter, some marks two,
/// and some look-alikes share one.
fn heaps(lots: &[Lot], parts: &BTreeMap<String, Part>, draws: &mut Draws) -> Vec<Heap> {
    let here = lots.iter().filter(|lot| lot.load == 1);
    let mut heaps: Vec<Heap> = Vec::new();
    let mut loose: BTreeMap<String, i64> = BTreeMap::new();
    for lot in here {
        if is_small(&parts[&lot.mark]) {
            add(
                &mut heaps,
                &format!("bag {}", lot.bag),
                &lot.mark,
                lot.quantity,
                lot.strays,
            );
        } else {
            *loose.entry(lot.mark.clone()).or_default() += lot.quantity;
        }
    }
    let mut letters = ('A'..='Z')
        .map(String::from)
        .chain((1..).map(|n| format!("Z{n}")));
    let mut pile_of: BTreeMap<String, String> = BTreeMap::new();
    for (mark, quantity) in loose {
        let beside = (pile_of.iter()).find(|(other, _)| alike(&parts[&mark], &parts[*other]));
        let beside = beside
            .map(|(_, pile)| pile.clone())
            .filter(|_| draws.percent(40));
        let pile = beside.unwrap_or_else(|| letters.next().expect("there are letters enough"));
        let second = if quantity >= 8 && draws.percent(30) {
            draws.within(2, quantity / 2)
        } else {
            0
        };
        add(&mut heaps, &pile, &mark, quantity - second, false);
        if second > 0 {
            let pile = letters.next().expect("there are letters enough");
            add(&mut heaps, &pile, &mark, second, false);
        }
        pile_of.insert(mark, pile);
    }
    heaps
}

fn add(heaps: &mut Vec<Heap>, pile: &str, mark: &str, pieces: i64, strays: bool) {
    let same = |heap: &&mut Heap| heap.pile == pile && heap.mark == mark && heap.strays == strays;
    match heaps.iter_mut().find(same) {
        Some(heap) => heap.pieces += pieces,
        None => heaps.push(Heap {
            pile: pile.into(),
            mark: mark.into(),
            pieces,
            strays,
            aside: 0,
        }),
    }
}
