//! Where a pile may lie: spots of the lattice, along the house or across it, with what each costs.

use std::f64::consts::FRAC_PI_2;

use super::carry::Carry;
use super::pile::Pile;
use super::polygon::{NEAR, Point, Polygon, Rect, Side};
use super::site::{Area, AreaKind, Site};

/// Nothing round lies on steeper ground if it can lie elsewhere: 1 in 10, ours.
pub const STEEP: f64 = 0.1;
/// How many metres farther each kilogram is rather carried than that a pile lies so; ours.
const RATHER: [(Flaw, f64); 3] = [
    (Flaw::Sun, 300.0),
    (Flaw::Open, 200.0),
    (Flaw::Steep, 100.0),
];
/// The same for a pile that lies nowhere.
pub(super) const RATHER_THAN_NOWHERE: f64 = 10_000.0;

/// What is not as it should be, without being forbidden.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Flaw {
    /// It should lie under cover, and lies in the open and the sun.
    Sun,
    /// It should lie under cover, and lies in the shade.
    Open,
    /// It lies on steep ground.
    Steep,
}

/// A spot for a pile.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Candidate {
    /// The point of the lattice.
    pub point: u32,
    /// Whether it lies across the house rather than along it.
    pub across: bool,
    /// In kilogram-metres, with what its flaws are counted as.
    pub cost: f64,
    /// Of that, what its flaws are counted as.
    pub flaws: f64,
}

/// How a pile lies at a point: along the house unless `across`.
pub(super) fn lying(pile: &Pile, at: Point, across: bool) -> Rect {
    Rect {
        at,
        long: pile.length,
        wide: pile.width,
        turn: if across { 0.0 } else { FRAC_PI_2 },
    }
}

/// Half its sides across and along the house, with half an aisle round it.
pub(super) fn halves(pile: &Pile, across: bool, aisle: f64) -> Point {
    let (x, y) = match across {
        true => (pile.length, pile.width),
        false => (pile.width, pile.length),
    };
    Point::new((x + aisle) / 2.0, (y + aisle) / 2.0)
}

/// Every spot at which each pile may lie, the cheapest first; `taken` are those of piles that a person put somewhere.
pub(super) fn candidates(
    site: &Site,
    piles: &[Pile],
    carry: &Carry,
    taken: &[Rect],
) -> Vec<Vec<Candidate>> {
    let room = Room::of(site);
    let taken: Vec<Rect> = (taken.iter())
        .map(|rect| rect.grown(site.aisle / 2.0))
        .collect();
    (piles.iter().zip(&carry.at))
        .map(|(pile, carry)| room.spots_of(site, pile, carry, &taken))
        .collect()
}

/// How much room is round each point of the lattice.
struct Room {
    /// From the point to the nearest edge that a pile may not cross; nothing where no pile has its middle.
    clear: Vec<Option<f64>>,
}

impl Room {
    fn of(site: &Site) -> Self {
        let edges: Vec<Side> = (site.outline.sides())
            .chain(site.kept.iter().flat_map(|area| area.outline.sides()))
            .collect();
        let clear = (0..site.walk.len())
            .map(|i| {
                let point = site.walk.point(i);
                let free = site.outline.contains(point)
                    && !site.kept.iter().any(|area| area.outline.contains(point));
                free.then(|| {
                    let away = edges.iter().map(|edge| edge.distance(point));
                    away.fold(f64::INFINITY, f64::min)
                })
            })
            .collect();
        Self { clear }
    }

    fn spots_of(&self, site: &Site, pile: &Pile, carry: &[f64], taken: &[Rect]) -> Vec<Candidate> {
        let mut spots = Vec::new();
        let reach = pile.length.hypot(pile.width) / 2.0;
        for (i, clear) in self.clear.iter().enumerate() {
            let Some(clear) = clear.filter(|c| *c > pile.width / 2.0 - NEAR) else {
                continue;
            };
            if !carry[i].is_finite() {
                continue;
            }
            for across in [false, true] {
                let rect = lying(pile, site.walk.point(i), across);
                let lies = clear >= reach || broken(site, &rect).is_none();
                let grown = rect.grown(site.aisle / 2.0);
                if !lies || taken.iter().any(|other| other.overlaps(&grown)) {
                    continue;
                }
                let flaws = flaws_cost(pile, &flaws(site, pile, &rect));
                spots.push(Candidate {
                    point: i as u32,
                    across,
                    cost: carry[i] + flaws,
                    flaws,
                });
            }
        }
        spots.sort_by(|a, b| {
            (a.cost.total_cmp(&b.cost)).then((a.point, a.across).cmp(&(b.point, b.across)))
        });
        spots
    }
}

/// What forbids a rectangle to lie where it lies; nothing where it may.
pub(super) fn broken(site: &Site, rect: &Rect) -> Option<String> {
    let shape = rect.polygon();
    let outline = &site.outline;
    if !outline.holds(&shape) {
        return Some("it reaches over the edge of the ground".into());
    }
    let blocks = |area: &&Area| area.outline.overlaps(&shape);
    (site.kept.iter().find(blocks)).map(|area| match area.kind {
        AreaKind::House => {
            "it lies where the house will stand, or in the way of work round it".into()
        }
        AreaKind::Drop => "it lies where the truck puts the load down".into(),
        _ => format!("it lies on {}", area.says),
    })
}

/// What is not as it should be.
pub(super) fn flaws(site: &Site, pile: &Pile, rect: &Rect) -> Vec<Flaw> {
    let steep = (site.slopes.iter())
        .any(|slope| slope.rise > STEEP && slope.outline.overlaps(&rect.polygon()));
    let mut flaws = Vec::new();
    if steep {
        flaws.push(Flaw::Steep);
    }
    if pile.under_cover {
        let within = |areas: &[Area]| {
            let shape: Polygon = rect.polygon();
            areas
                .iter()
                .any(|area| area.outline.contains(rect.at) && area.outline.holds(&shape))
        };
        match (within(&site.covered), within(&site.shade)) {
            (true, _) => {}
            (false, true) => flaws.push(Flaw::Open),
            (false, false) => flaws.push(Flaw::Sun),
        }
    }
    flaws
}

fn flaws_cost(pile: &Pile, flaws: &[Flaw]) -> f64 {
    (flaws.iter())
        .filter_map(|flaw| RATHER.iter().find(|(known, _)| known == flaw))
        .map(|(_, metres)| metres * pile.mass)
        .sum()
}

impl Flaw {
    /// After the pile's name.
    pub(super) fn in_words(self) -> &'static str {
        match self {
            Flaw::Sun => {
                "should lie under cover, and lies in the open: cover it, keep it out of the sun"
            }
            Flaw::Open => "should lie under cover, and lies in the open, in the shade: cover it",
            Flaw::Steep => "lies on steep ground: block it well, or level the place",
        }
    }
}
