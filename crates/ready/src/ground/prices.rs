//! A bound under every plan: piles that pay for the ground that they cover, and need not keep clear of each other.
//!
//! Each pile with half an aisle round it covers points of the lattice, and no point can be covered twice. Give each point a
//! price; let each pile take its own cheapest spot, price and all, wherever the others lie; take the prices off again once.
//! Whatever the prices are, no plan on the lattice costs less (Lagrange's relaxation of the packing). Prices rise where
//! piles crowd and fall where nobody lies, until the bound no longer rises.

use super::pile::Pile;
use super::site::Site;
use super::spots::{Candidate, RATHER_THAN_NOWHERE, halves};

/// How often prices are set anew.
const ROUNDS: usize = 160;
/// Piles whose edges are this near do not overlap, in metres.
const SHARED: f64 = 1e-3;

/// What comes of it.
pub(super) struct Bound {
    /// No plan on the lattice costs less, flaws and all.
    pub least: f64,
    /// The spot that each pile takes at the prices of the best round, in turn: a start for the search.
    pub order: Vec<usize>,
    /// Price and all, by pile and spot, at the best round's prices: what the start is made with.
    pub prices: Prices,
}

/// Prices of the points, summed so that a rectangle is read off in four.
pub(super) struct Prices {
    columns: usize,
    rows: usize,
    each: Vec<f64>,
    sums: Vec<f64>,
}

/// How far a pile covers, in steps of the lattice to each side, along the house and across it.
pub(super) struct Cover {
    along: (usize, usize),
    across: (usize, usize),
}

impl Cover {
    pub(super) fn of(site: &Site, pile: &Pile) -> Self {
        let steps = |across: bool| {
            let half = halves(pile, across, site.aisle);
            let count =
                |metres: f64| ((metres - SHARED) / site.walk.step()).floor().max(0.0) as usize;
            (count(half.x), count(half.y))
        };
        Self {
            along: steps(false),
            across: steps(true),
        }
    }

    fn steps(&self, across: bool) -> (usize, usize) {
        match across {
            true => self.across,
            false => self.along,
        }
    }
}

impl Prices {
    fn none(site: &Site) -> Self {
        let (columns, rows) = (site.walk.columns(), site.walk.rows());
        Self {
            columns,
            rows,
            each: vec![0.0; columns * rows],
            sums: vec![0.0; (columns + 1) * (rows + 1)],
        }
    }

    /// First and last column and row that a spot covers.
    fn covered(&self, spot: &Candidate, cover: &Cover) -> [usize; 4] {
        let (x, y) = cover.steps(spot.across);
        let point = spot.point as usize;
        let (column, row) = (point % self.columns, point / self.columns);
        [
            column.saturating_sub(x),
            (column + x).min(self.columns - 1),
            row.saturating_sub(y),
            (row + y).min(self.rows - 1),
        ]
    }

    /// What a spot's points cost together.
    pub(super) fn of(&self, spot: &Candidate, cover: &Cover) -> f64 {
        let [left, right, low, high] = self.covered(spot, cover);
        let wide = self.columns + 1;
        let sum = |column: usize, row: usize| self.sums[row * wide + column];
        sum(right + 1, high + 1) - sum(left, high + 1) - sum(right + 1, low) + sum(left, low)
    }

    fn sum_up(&mut self) {
        let wide = self.columns + 1;
        for row in 0..self.rows {
            let mut so_far = 0.0;
            for column in 0..self.columns {
                so_far += self.each[row * self.columns + column];
                self.sums[(row + 1) * wide + column + 1] =
                    self.sums[row * wide + column + 1] + so_far;
            }
        }
    }
}

/// The bound for piles that each have spots, the cheapest first; `known` is what some plan costs.
pub(super) fn bound(site: &Site, piles: &[Pile], spots: &[Vec<Candidate>], known: f64) -> Bound {
    let covers: Vec<Cover> = piles.iter().map(|pile| Cover::of(site, pile)).collect();
    let mut prices = Prices::none(site);
    let mut best = (f64::NEG_INFINITY, prices.each.clone());
    let mut stride = 1.0;
    let mut since = 0;
    for _ in 0..ROUNDS {
        let (least, taken) = at_prices(&prices, piles, spots, &covers);
        if least > best.0 {
            best = (least, prices.each.clone());
            since = 0;
        } else {
            since += 1;
            if since >= 6 {
                // Too far: back to the best prices, in smaller strides.
                stride *= 0.6;
                since = 0;
                prices.each.clone_from(&best.1);
                prices.sum_up();
                continue;
            }
        }
        let mut crowd = vec![-1.0; prices.each.len()];
        for (p, spot) in taken.iter().enumerate() {
            if let Some(spot) = spot {
                let [left, right, low, high] = prices.covered(spot, &covers[p]);
                for row in low..=high {
                    for column in left..=right {
                        crowd[row * prices.columns + column] += 1.0;
                    }
                }
            }
        }
        // A price of nought does not fall, so it is no part of the step.
        let moved =
            (prices.each.iter().zip(&crowd)).filter(|(price, off)| **price > 0.0 || **off > 0.0);
        let square: f64 = moved.map(|(_, off)| off * off).sum();
        if square == 0.0 || known - least < 1e-6 * known.max(1.0) {
            break;
        }
        let step = stride * (known - least).max(0.0) / square;
        for (price, off) in prices.each.iter_mut().zip(&crowd) {
            *price = (*price + step * off).max(0.0);
        }
        prices.sum_up();
    }
    prices.each = best.1;
    prices.sum_up();
    let mut order: Vec<usize> = (0..piles.len()).collect();
    let weight = |p: &usize| {
        let spot = spots[*p].first();
        spot.map_or(0.0, |spot| spot.cost + prices.of(spot, &covers[*p]))
    };
    order.sort_by(|a, b| weight(b).total_cmp(&weight(a)).then(a.cmp(b)));
    Bound {
        least: best.0,
        order,
        prices,
    }
}

/// What all cost together at these prices, each at its own best spot, and which that is.
fn at_prices<'a>(
    prices: &Prices,
    piles: &[Pile],
    spots: &'a [Vec<Candidate>],
    covers: &[Cover],
) -> (f64, Vec<Option<&'a Candidate>>) {
    let mut sum = -prices.each.iter().sum::<f64>();
    let mut taken = Vec::with_capacity(piles.len());
    for (p, pile) in piles.iter().enumerate() {
        let mut least = (pile.mass * RATHER_THAN_NOWHERE, None);
        for spot in &spots[p] {
            // Prices are never less than nought: what follows costs more.
            if spot.cost >= least.0 {
                break;
            }
            let cost = spot.cost + prices.of(spot, &covers[p]);
            if cost < least.0 {
                least = (cost, Some(spot));
            }
        }
        sum += least.0;
        taken.push(least.1);
    }
    (sum, taken)
}
