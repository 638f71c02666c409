//! Kilogram-metres: what is carried from the truck's drop to a pile and from the pile to its places in the house.

use measure::System;

use super::pile::Pile;
use super::polygon::Point;
use super::site::Site;

/// Places in the house are taken together at spots no farther apart than this, each shared among the four around it.
const NODES_APART: f64 = 2.5;
/// The most spots across the house, and along it.
const MOST_NODES: (usize, usize) = (5, 16);

/// What each pile costs at each point of the site's lattice.
pub(super) struct Carry {
    /// By pile, then by point; infinite where nobody comes.
    pub at: Vec<Vec<f64>>,
}

impl Carry {
    pub(super) fn of(site: &Site, piles: &[Pile]) -> Self {
        let nodes = Nodes::of(site);
        let shares: Vec<Vec<f64>> = piles.iter().map(|pile| nodes.shares(pile)).collect();
        let from_drop = site.walk.field(site.drop);
        let mut at: Vec<Vec<f64>> = (piles.iter())
            .map(|pile| from_drop.far.iter().map(|far| far * pile.mass).collect())
            .collect();
        for (n, node) in nodes.spots.iter().enumerate() {
            if shares.iter().all(|share| share[n] == 0.0) {
                continue;
            }
            let field = site.walk.field(*node);
            for (costs, share) in at.iter_mut().zip(&shares) {
                if share[n] > 0.0 {
                    for (cost, far) in costs.iter_mut().zip(&field.far) {
                        *cost += share[n] * far;
                    }
                }
            }
        }
        Self { at }
    }
}

/// What one pile costs somewhere, in kilogram-metres; infinite where nobody comes.
pub(super) fn carried(site: &Site, pile: &Pile, at: Point) -> f64 {
    let nodes = Nodes::of(site);
    let field = site.walk.field(at);
    let on: f64 = (nodes.spots.iter().zip(nodes.shares(pile)))
        .filter(|(_, share)| *share > 0.0)
        .map(|(node, share)| share * field.at(*node))
        .sum();
    on + pile.mass * field.at(site.drop)
}

/// Spots of the house that stand for the places around them.
struct Nodes {
    spots: Vec<Point>,
    across: usize,
    along: usize,
    low: Point,
    step: Point,
}

impl Nodes {
    fn of(site: &Site) -> Self {
        let [low, _, high, _] = site.corners;
        let spans = |metres: f64, most: usize| {
            ((metres / NODES_APART).ceil().max(1.0) as usize).min(most - 1)
        };
        let (across, along) = (
            spans(high.x - low.x, MOST_NODES.0),
            spans(high.y - low.y, MOST_NODES.1),
        );
        let step = Point::new(
            (high.x - low.x) / across as f64,
            (high.y - low.y) / along as f64,
        );
        let spots = (0..=along)
            .flat_map(|j| (0..=across).map(move |i| (i, j)))
            .map(|(i, j)| Point::new(low.x + i as f64 * step.x, low.y + j as f64 * step.y))
            .collect();
        Self {
            spots,
            across: across + 1,
            along: along + 1,
            low,
            step,
        }
    }

    /// How many kilograms of a pile go to each spot.
    fn shares(&self, pile: &Pile) -> Vec<f64> {
        let mut shares = vec![0.0; self.spots.len()];
        for (to, mass) in &pile.goes {
            let place = |off: f64, step: f64, count: usize| {
                let at = (off / step.max(1e-9)).clamp(0.0, (count - 1) as f64);
                let first = (at.floor() as usize).min(count - 2);
                (first, at - first as f64)
            };
            let (i, u) = place(to.x - self.low.x, self.step.x, self.across);
            let (j, v) = place(to.y - self.low.y, self.step.y, self.along);
            for (i, u) in [(i, 1.0 - u), (i + 1, u)] {
                for (j, v) in [(j, 1.0 - v), (j + 1, v)] {
                    shares[j * self.across + i] += mass * u * v;
                }
            }
        }
        shares
    }
}

/// "11 145 kg·m", or for who reads feet and pounds "80 612 lb·ft".
pub fn carried_in_words(kg_m: f64, system: System) -> String {
    let (value, unit) = match system {
        System::Metric => (kg_m, "kg·m"),
        System::FeetInch => (kg_m / (0.453_592_37 * 0.3048), "lb·ft"),
    };
    let digits = format!("{:.0}", value.abs());
    let first = digits.len() % 3;
    let mut words = String::from(if value < -0.5 { "-" } else { "" });
    for (i, digit) in digits.chars().enumerate() {
        // Thousands apart, with a space that does not break.
        if i > 0 && i % 3 == first {
            words.push('\u{a0}');
        }
        words.push(digit);
    }
    format!("{words} {unit}")
}
