//! The plan: where each pile lies, what carrying costs, and how far that is from the best that could be.

use std::collections::BTreeMap;

use measure::System;
use tally::PileSpot;

use super::carry::{Carry, carried, carried_in_words};
use super::pile::Pile;
use super::polygon::{Point, Rect};
use super::prices::{self, Cover};
use super::seek::{Lie, Seek};
use super::site::{Site, said};
use super::spots::{self, Candidate, lying};

/// What the pages, the command and the papers begin the search with, so that all show one plan: any number does, so long as
/// it is always the same.
pub const SEED: u64 = 1;

/// Where everything lies.
#[derive(Clone, Debug, PartialEq)]
pub struct Laydown {
    /// Piles that lie somewhere, in the order of the piles.
    pub piles: Vec<Laid>,
    /// What is carried in all, in kilogram-metres.
    pub cost_kg_m: f64,
    /// No plan on the same lattice of spots, with as much under cover and the same piles put by hand, carries less.
    pub bound_kg_m: f64,
    /// Piles for which there is no room, with why.
    pub unplaced: Vec<(String, String)>,
    /// What is not as it should be, in sentences.
    pub faults: Vec<String>,
}

/// A pile on the ground.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Laid {
    /// Which (by index).
    pub pile: usize,
    /// Its middle on the ground as it was given, in metres.
    pub at: Point,
    /// Its long side there, in radians counter-clockwise from the right, from nought to half a turn.
    pub turn: f64,
    /// What carrying it costs, in kilogram-metres; nought where a person put it out of reach.
    pub carry_kg_m: f64,
    /// Whether a person put it there.
    pub by_hand: bool,
}

/// What it changes to put a pile elsewhere.
#[derive(Clone, Debug, PartialEq)]
pub struct MoveCost {
    /// What is carried more, in kilogram-metres; less than nothing where it is less.
    pub change_kg_m: f64,
    /// That as a share of the whole plan.
    pub share: f64,
    /// The rules that it breaks there, and what is not as it should be, in sentences.
    pub faults: Vec<String>,
}

impl Laydown {
    /// How far the plan is above the bound, as a share of the bound.
    pub fn gap(&self) -> f64 {
        match self.bound_kg_m > 0.0 {
            true => (self.cost_kg_m / self.bound_kg_m - 1.0).max(0.0),
            false => 0.0,
        }
    }

    /// How near the plan is to the least, in words: the one claim that page, paper and command make.
    pub fn least_in_words(&self, system: System) -> String {
        let near = match self.gap() {
            gap if gap < 0.001 => "within 0.1 % of the least".to_owned(),
            gap => format!("at most {:.1} % above the least", gap * 100.0),
        };
        format!(
            "no plan on the same spots, with as much under cover, carries less than {}; this one is {near}",
            carried_in_words(self.bound_kg_m, system)
        )
    }
}

/// Plans where the piles lie. Those that a person put somewhere stay there; the others lie along the house or across it,
/// an aisle apart. The same seed gives the same plan.
pub fn lay_out(
    site: &Site,
    piles: &[Pile],
    put: &BTreeMap<String, PileSpot>,
    seed: u64,
) -> Laydown {
    let (fixed, free): (Vec<usize>, Vec<usize>) =
        (0..piles.len()).partition(|p| by_hand(site, &piles[*p], put).is_some());
    let fixed: Vec<(usize, Rect)> = (fixed.into_iter())
        .filter_map(|p| Some((p, by_hand(site, &piles[p], put)?)))
        .collect();
    let loose: Vec<Pile> = free.iter().map(|p| piles[*p].clone()).collect();
    let taken: Vec<Rect> = fixed.iter().map(|(_, rect)| *rect).collect();
    let carry = Carry::of(site, &loose);
    let spots = spots::candidates(site, &loose, &carry, &taken);
    let seek = Seek::new(site, &loose, &spots);
    let mut heaviest: Vec<usize> = (0..loose.len()).collect();
    heaviest.sort_by(|a, b| loose[*b].mass.total_cmp(&loose[*a].mass));
    let simple = seek.put_down(&heaviest, None);
    let bound = prices::bound(site, &loose, &spots, seek.cost(&simple));
    let covers: Vec<Cover> = loose.iter().map(|pile| Cover::of(site, pile)).collect();
    let start = [
        seek.put_down(&bound.order, None),
        seek.put_down(&bound.order, Some((&bound.prices, &covers))),
        seek.put_down(&heaviest, Some((&bound.prices, &covers))),
    ]
    .into_iter()
    .fold(simple, |best, other| {
        match seek.cost(&other) < seek.cost(&best) {
            true => other,
            false => best,
        }
    });
    let lie = seek.better(start, bound.least, seed);
    let flaws = seek.cost(&lie) - carried_in_all(&spots, &lie);
    let least = bound.least - flaws;
    written(site, piles, &fixed, &free, &spots, &lie, least)
}

/// The plan that comes of putting piles down as they are listed, each at the free spot nearest to the drop: what people do
/// who unload without a plan. The same rules hold. To compare with.
pub fn first_fit(site: &Site, piles: &[Pile]) -> Laydown {
    let from_drop = site.walk.field(site.drop);
    in_list_order(site, piles, |spot| from_drop.far[spot.point as usize])
}

/// The plan that comes of putting piles down in rows as they are listed, from the front of the ground to its back. The same
/// rules hold. To compare with.
pub fn by_list_order(site: &Site, piles: &[Pile]) -> Laydown {
    in_list_order(site, piles, |spot| f64::from(spot.point))
}

fn in_list_order(site: &Site, piles: &[Pile], near: impl Fn(&Candidate) -> f64) -> Laydown {
    let carry = Carry::of(site, piles);
    let mut spots = spots::candidates(site, piles, &carry, &[]);
    for spots in &mut spots {
        // What should lie under cover is put there first, here too.
        spots.sort_by(|a, b| (a.flaws.total_cmp(&b.flaws)).then(near(a).total_cmp(&near(b))));
    }
    let order: Vec<usize> = (0..piles.len()).collect();
    let lie = Seek::new(site, piles, &spots).put_down(&order, None);
    written(site, piles, &[], &order, &spots, &lie, 0.0)
}

/// What it changes to put a pile elsewhere: its middle and its long side on the ground as it was given.
pub fn move_cost(
    site: &Site,
    piles: &[Pile],
    plan: &Laydown,
    pile: usize,
    to: Point,
    turn: f64,
) -> MoveCost {
    let here = plan.piles.iter().find(|laid| laid.pile == pile);
    let is = carried(site, &piles[pile], site.to_house(to));
    let change_kg_m = is - here.map_or(0.0, |laid| laid.carry_kg_m);
    let moved = Laid {
        pile,
        at: to,
        turn,
        carry_kg_m: is,
        by_hand: true,
    };
    let others = plan.piles.iter().filter(|laid| laid.pile != pile);
    MoveCost {
        change_kg_m,
        share: change_kg_m / plan.cost_kg_m.max(1e-9),
        faults: faults(site, piles, &moved, others),
    }
}

/// Where a person put a pile, in the plane of the house.
fn by_hand(site: &Site, pile: &Pile, put: &BTreeMap<String, PileSpot>) -> Option<Rect> {
    let spot = put.get(&pile.name)?;
    let at = spot.at?;
    let turn = (spot.turn as f64 / 100.0).to_radians();
    let at = Point::new(at.x as f64 / 1_000.0, at.y as f64 / 1_000.0);
    Some(Rect {
        turn: site.turn_to_house(turn),
        ..lying(pile, site.to_house(at), false)
    })
}

fn carried_in_all(spots: &[Vec<Candidate>], lie: &Lie) -> f64 {
    (spots.iter().zip(&lie.spots))
        .filter_map(|(spots, spot)| Some(&spots[(*spot)?]))
        .map(|spot| spot.cost - spot.flaws)
        .sum()
}

/// The plan as it is told, of the piles that a person put somewhere and of those that are `free`.
fn written(
    site: &Site,
    piles: &[Pile],
    fixed: &[(usize, Rect)],
    free: &[usize],
    spots: &[Vec<Candidate>],
    lie: &Lie,
    least: f64,
) -> Laydown {
    let mut laid: Vec<Laid> = (fixed.iter())
        .map(|(pile, rect)| {
            let carry = carried(site, &piles[*pile], rect.at);
            Laid {
                // Where nobody can walk there is no number; a fault says so.
                carry_kg_m: if carry.is_finite() { carry } else { 0.0 },
                by_hand: true,
                ..laid(site, *pile, rect)
            }
        })
        .collect();
    let by_hand: f64 = laid.iter().map(|l| l.carry_kg_m).sum();
    let mut unplaced = Vec::new();
    for (i, pile) in free.iter().enumerate() {
        match lie.spots[i] {
            Some(spot) => {
                let spot = &spots[i][spot];
                let rect = lying(
                    &piles[*pile],
                    site.walk.point(spot.point as usize),
                    spot.across,
                );
                laid.push(Laid {
                    carry_kg_m: spot.cost - spot.flaws,
                    by_hand: false,
                    ..self::laid(site, *pile, &rect)
                });
            }
            None => unplaced.push((
                piles[*pile].name.clone(),
                no_room(site, &piles[*pile], spots[i].is_empty()),
            )),
        }
    }
    laid.sort_by_key(|l| l.pile);
    let faults = (laid.iter().enumerate())
        .flat_map(|(i, one)| faults(site, piles, one, &laid[..i]))
        .collect();
    Laydown {
        cost_kg_m: laid.iter().map(|l| l.carry_kg_m).sum(),
        bound_kg_m: (least + by_hand).max(0.0),
        piles: laid,
        unplaced,
        faults,
    }
}

fn laid(site: &Site, pile: usize, rect: &Rect) -> Laid {
    Laid {
        pile,
        at: site.to_ground(rect.at),
        turn: site.turn_to_ground(rect.turn),
        carry_kg_m: 0.0,
        by_hand: false,
    }
}

fn no_room(site: &Site, pile: &Pile, nowhere: bool) -> String {
    let size = format!(
        "{} by {}",
        said(pile.length, site.system),
        said(pile.width, site.system)
    );
    match nowhere {
        true => format!("no free place on the ground is {size}"),
        false => format!("the other piles leave no free place of {size}"),
    }
}

/// What is not as it should be with a pile: what it lies on, what it lies too near to, what it lacks.
fn faults<'a>(
    site: &Site,
    piles: &[Pile],
    one: &Laid,
    others: impl IntoIterator<Item = &'a Laid>,
) -> Vec<String> {
    let pile = &piles[one.pile];
    let rect = site.rect(pile, one);
    let mut faults: Vec<String> = (spots::broken(site, &rect).into_iter())
        .map(|words| format!("Place {}: {words}.", pile.name))
        .collect();
    if !carried(site, pile, rect.at).is_finite() {
        faults.push(format!("Place {}: nobody can walk there.", pile.name));
    }
    let near = |other: &&Laid| {
        let theirs = site.rect(&piles[other.pile], other).grown(site.aisle / 2.0);
        theirs.overlaps(&rect.grown(site.aisle / 2.0))
    };
    faults.extend(others.into_iter().filter(near).map(|other| {
        format!(
            "Place {} lies nearer than {} to place {}: nobody can carry between them.",
            pile.name,
            said(site.aisle, site.system),
            piles[other.pile].name
        )
    }));
    faults.extend(
        (spots::flaws(site, pile, &rect).into_iter())
            .map(|flaw| format!("Place {} {}.", pile.name, flaw.in_words())),
    );
    faults
}

impl Site {
    /// A pile as it lies, in the plane of the house.
    pub fn rect(&self, pile: &Pile, laid: &Laid) -> Rect {
        Rect {
            turn: self.turn_to_house(laid.turn),
            ..lying(pile, self.to_house(laid.at), false)
        }
    }
}
