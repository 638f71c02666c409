//! The search: piles are put down one after the other, then a few near each other are taken up and put down anew, again
//! and again.

use super::pile::Pile;
use super::polygon::Point;
use super::prices::{Cover, Prices};
use super::site::Site;
use super::spots::{Candidate, RATHER_THAN_NOWHERE, halves};

/// How often piles are taken up, for one pile and at most.
const ROUNDS: (usize, usize) = (150, 6_000);
/// The most piles that are taken up at once.
const MOST_TAKEN: usize = 5;
/// How much worse a plan may get for a while, as a share of what it costs, at first.
const WARM: f64 = 0.002;
/// One spot in so many is overlooked, so that the same piles do not always land on the same spots.
const OVERLOOKED: u64 = 12;
/// Rectangles that overlap by less do not, in metres.
const NEAR: f64 = 1e-4;

/// A plan while it is made: the spot of each pile, by its index among the pile's spots.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Lie {
    pub spots: Vec<Option<usize>>,
}

/// What a search works on: piles that are free to lie anywhere, with their spots.
pub(super) struct Seek<'a> {
    spots: &'a [Vec<Candidate>],
    /// Middles of the points of the lattice.
    points: Vec<Point>,
    /// By pile: half sides with half an aisle, along the house and across it.
    halves: Vec<[Point; 2]>,
    nowhere: Vec<f64>,
}

/// A box on the ground: its middle and half its sides.
type Box = (Point, Point);

impl<'a> Seek<'a> {
    pub(super) fn new(site: &Site, piles: &[Pile], spots: &'a [Vec<Candidate>]) -> Self {
        Self {
            spots,
            points: (0..site.walk.len()).map(|i| site.walk.point(i)).collect(),
            halves: (piles.iter())
                .map(|pile| [false, true].map(|across| halves(pile, across, site.aisle)))
                .collect(),
            nowhere: piles.iter().map(|p| p.mass * RATHER_THAN_NOWHERE).collect(),
        }
    }

    /// What a plan costs, flaws and all.
    pub(super) fn cost(&self, lie: &Lie) -> f64 {
        (0..self.spots.len()).map(|p| self.cost_of(lie, p)).sum()
    }

    fn cost_of(&self, lie: &Lie, pile: usize) -> f64 {
        match lie.spots[pile] {
            Some(spot) => self.spots[pile][spot].cost,
            None => self.nowhere[pile],
        }
    }

    fn boxed(&self, pile: usize, spot: &Candidate) -> Box {
        (
            self.points[spot.point as usize],
            self.halves[pile][usize::from(spot.across)],
        )
    }

    fn boxes(&self, lie: &Lie) -> Vec<Option<Box>> {
        (lie.spots.iter().enumerate())
            .map(|(p, spot)| spot.map(|spot| self.boxed(p, &self.spots[p][spot])))
            .collect()
    }

    /// Puts piles down in an order, each at its cheapest free spot; with prices, at that which is cheapest by them.
    pub(super) fn put_down(&self, order: &[usize], prices: Option<(&Prices, &[Cover])>) -> Lie {
        let mut lie = Lie {
            spots: vec![None; self.spots.len()],
        };
        let mut boxes: Vec<Option<Box>> = vec![None; self.spots.len()];
        for pile in order {
            let free = (self.spots[*pile].iter().enumerate())
                .filter(|(_, spot)| is_free(&boxes, self.boxed(*pile, spot)));
            let found = match prices {
                None => free.map(|(i, _)| i).next(),
                Some((prices, covers)) => free
                    .map(|(i, spot)| (i, spot.cost + prices.of(spot, &covers[*pile])))
                    .min_by(|a, b| a.1.total_cmp(&b.1))
                    .map(|(i, _)| i),
            };
            lie.spots[*pile] = found;
            boxes[*pile] = found.map(|spot| self.boxed(*pile, &self.spots[*pile][spot]));
        }
        lie
    }

    /// Makes a plan better until the rounds are over or it costs no more than `least`.
    pub(super) fn better(&self, start: Lie, least: f64, seed: u64) -> Lie {
        let count = self.spots.len();
        let rounds = (ROUNDS.0 * count).min(ROUNDS.1);
        let mut dice = Dice(seed);
        let mut lie = start;
        let mut boxes = self.boxes(&lie);
        let mut cost = self.cost(&lie);
        let mut best = (cost, lie.clone());
        for round in 0..rounds {
            if best.0 <= least * (1.0 + 1e-9) {
                break;
            }
            let taken = self.taken_up(&boxes, &mut dice);
            let before: Vec<Option<usize>> = taken.iter().map(|p| lie.spots[*p]).collect();
            let was: f64 = taken.iter().map(|p| self.cost_of(&lie, *p)).sum();
            for pile in &taken {
                (lie.spots[*pile], boxes[*pile]) = (None, None);
            }
            for pile in &taken {
                let found = self.cheapest(&boxes, *pile, &mut dice);
                lie.spots[*pile] = found;
                boxes[*pile] = found.map(|spot| self.boxed(*pile, &self.spots[*pile][spot]));
            }
            let is: f64 = taken.iter().map(|p| self.cost_of(&lie, *p)).sum();
            let left = 1.0 - round as f64 / rounds as f64;
            let allowed = WARM * left * left * best.0 * dice.share();
            if is - was < allowed {
                cost += is - was;
                if cost < best.0 - 1e-6 {
                    best = (cost, lie.clone());
                }
            } else {
                for (pile, spot) in taken.iter().zip(before) {
                    lie.spots[*pile] = spot;
                    boxes[*pile] = spot.map(|spot| self.boxed(*pile, &self.spots[*pile][spot]));
                }
            }
        }
        best.1
    }

    /// The cheapest free spot, now and then overlooking one.
    fn cheapest(&self, boxes: &[Option<Box>], pile: usize, dice: &mut Dice) -> Option<usize> {
        let mut last = None;
        for (i, spot) in self.spots[pile].iter().enumerate() {
            if is_free(boxes, self.boxed(pile, spot)) {
                last = Some(i);
                if !dice.next().is_multiple_of(OVERLOOKED) {
                    break;
                }
            }
        }
        last
    }

    /// A pile and some of those nearest to it, in no order; piles that lie nowhere come first.
    fn taken_up(&self, boxes: &[Option<Box>], dice: &mut Dice) -> Vec<usize> {
        let count = boxes.len();
        let first = dice.below(count);
        let many = (1 + dice.below(MOST_TAKEN)).min(count);
        let middle = boxes[first].map(|b| b.0);
        let mut others: Vec<(f64, usize)> = (0..count)
            .filter(|p| *p != first)
            .map(|p| match (middle, boxes[p]) {
                (Some(a), Some((b, _))) => (a.to(b) * (0.5 + dice.share()), p),
                _ => (dice.share() * 5.0, p),
            })
            .collect();
        others.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut taken: Vec<usize> = (others.iter().take(many - 1).map(|(_, p)| *p))
            .chain([first])
            .collect();
        for i in (1..taken.len()).rev() {
            taken.swap(i, dice.below(i + 1));
        }
        taken.sort_by_key(|p| boxes[*p].is_some());
        taken
    }
}

fn is_free(boxes: &[Option<Box>], (at, half): Box) -> bool {
    boxes.iter().flatten().all(|(other, wide)| {
        (at.x - other.x).abs() > half.x + wide.x - NEAR
            || (at.y - other.y).abs() > half.y + wide.y - NEAR
    })
}

/// Numbers that look thrown, from a seed: splitmix64, after Steele, Lea and Flood, "Fast splittable pseudorandom number
/// generators" (2014).
pub(super) struct Dice(pub u64);

impl Dice {
    pub(super) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A whole number under `count`.
    pub(super) fn below(&mut self, count: usize) -> usize {
        (self.next() % count.max(1) as u64) as usize
    }

    /// From nought to one.
    pub(super) fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }
}
