//! The ground as it is planned on: checked, in metres, and in the plane of the house to come.
//!
//! All is turned into that plane: `x` across from the middle of the house, `y` along it from its front, so that piles that
//! lie along or across the house have upright sides, and a place in the house is a place on the ground.

use frame::Frame;
use measure::{Grid, Length, System};
use tally::{Ground, Patch, Spot};

use super::fits::{covered_near, drop_fits, house_fits, not_too_fine};
use super::polygon::{NEAR, Point, Polygon, Rect};
use super::trouble::GroundTrouble;
use super::walk::Walk;

/// What is kept free round the house for ladders and for people who carry: ours, no source.
pub const MARGIN: f64 = 1.0;
/// How far into the ground the way behind a gate is kept free: ours, no source.
pub const GATEWAY: f64 = 3.0;
/// How far round the drop nothing lies, so that the load can be opened: ours, no source.
pub const ROUND_DROP: f64 = 1.5;
/// A gate whose posts are farther from the edge than this was measured wrong.
const OFF_EDGE: f64 = 1.0;
/// The plan looks so far round house, drop and cover, and no farther.
const LOOK_ROUND: f64 = 30.0;
/// Hardly any ground, in square metres.
const EMPTY: f64 = 0.01;

/// A checked ground with the house on it.
#[derive(Clone, Debug)]
pub struct Site {
    /// How people read lengths here.
    pub system: System,
    /// Between two piles, in metres.
    pub aisle: f64,
    /// Where the truck puts the load down.
    pub(super) drop: Point,
    pub(super) outline: Polygon,
    /// Posts of the corners: front left, front right, back right, back left.
    pub(super) corners: [Point; 4],
    pub(super) gates: Vec<[Point; 2]>,
    /// Where nothing lies.
    pub(super) kept: Vec<Area>,
    pub(super) covered: Vec<Area>,
    pub(super) shade: Vec<Area>,
    pub(super) slopes: Vec<Sloping>,
    pub(super) walk: Walk,
    /// The middle of the front, on the ground as it was given.
    front: Point,
    /// Of the house's long side there, in radians counter-clockwise from the right.
    turn: f64,
}

/// Why nothing lies somewhere, or what the place is good for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum AreaKind {
    House,
    Drop,
    Gateway,
    Truck,
    Obstacle,
    Covered,
    Shade,
}

/// A part of the ground.
#[derive(Clone, Debug)]
pub(super) struct Area {
    pub kind: AreaKind,
    pub outline: Polygon,
    /// With its article, for a sentence: "the apple tree".
    pub says: String,
}

/// A part that slopes.
#[derive(Clone, Debug)]
pub(super) struct Sloping {
    pub outline: Polygon,
    /// The rise over the level distance.
    pub rise: f64,
}

impl Site {
    /// Reads a ground for a house.
    ///
    /// # Errors
    /// [`GroundTrouble`] names what is wrong and says what would be right.
    pub fn of(ground: &Ground, frame: &Frame) -> Result<Self, GroundTrouble> {
        not_too_fine(ground)?;
        let turn = (ground.house.towards as f64 / 100.0).to_radians();
        let front = metres(ground.house.front);
        let plane = Plane { front, turn };
        let outline = plane.outline("the edge of the ground", &ground.outline)?;
        let (width, length) = (frame.width.to_metres(), frame.length.to_metres());
        let corners = [(-0.5, 0.0), (0.5, 0.0), (0.5, 1.0), (-0.5, 1.0)]
            .map(|(x, y)| Point::new(x * width, y * length));
        let mut kept = plane.areas(AreaKind::Truck, "the truck's area", &ground.truck)?;
        kept.extend(plane.areas(AreaKind::Obstacle, "obstacle", &ground.obstacles)?);
        house_fits(&outline, &kept, &corners)?;
        let drop = plane.to_house(metres(ground.drop));
        drop_fits(&outline, &kept, &corners, drop, frame.system)?;
        let gates = gates(&plane, &outline, &ground.gates, frame.system)?;
        kept.extend(gates.iter().enumerate().map(|(i, gate)| Area {
            kind: AreaKind::Gateway,
            outline: gateway(&outline, *gate),
            says: match gates.len() {
                1 => "the way behind the gate".into(),
                _ => format!("the way behind gate {}", i + 1),
            },
        }));
        kept.push(Area {
            kind: AreaKind::House,
            outline: house(width, length).grown(MARGIN).polygon(),
            says: "the house to come, with room to work round it".into(),
        });
        kept.push(Area {
            kind: AreaKind::Drop,
            outline: round(drop, ROUND_DROP),
            says: "the truck's drop".into(),
        });
        let covered = plane.areas(AreaKind::Covered, "covered place", &ground.covered)?;
        covered_near(&outline, &covered, &corners, frame.system)?;
        let shade = plane.areas(AreaKind::Shade, "shade", &ground.shade)?;
        let slopes = (ground.slopes.iter().enumerate())
            .map(|(i, slope)| {
                Ok(Sloping {
                    outline: plane.outline(&format!("slope {}", i + 1), &slope.outline)?,
                    rise: slope.rise as f64 / 1_000.0,
                })
            })
            .collect::<Result<Vec<_>, _>>()?;
        let bounds = looked_at(&outline, &corners, drop, &covered);
        let obstacles: Vec<&Polygon> = (kept.iter())
            .filter(|area| area.kind == AreaKind::Obstacle)
            .map(|area| &area.outline)
            .collect();
        let walk = Walk::of(&outline, &obstacles, &slopes, bounds);
        let site = Self {
            system: frame.system,
            aisle: ground.aisle as f64 / 1_000.0,
            drop,
            outline,
            corners,
            gates,
            kept,
            covered,
            shade,
            slopes,
            walk,
            front,
            turn,
        };
        site.reached()?;
        Ok(site)
    }

    /// Whether somebody can carry from the drop to the house.
    fn reached(&self) -> Result<(), GroundTrouble> {
        let from_drop = self.walk.field(self.drop);
        let middle = self.corners[0].plus(self.corners[2].minus(self.corners[0]), 0.5);
        match from_drop.at(middle).is_finite() {
            true => Ok(()),
            false => Err(GroundTrouble::NoWay {
                least: said(2.0 * self.walk.step(), self.system),
            }),
        }
    }

    /// A point of the ground as it was given, in the plane of the house.
    pub fn to_house(&self, point: Point) -> Point {
        self.plane().to_house(point)
    }

    /// A point in the plane of the house, on the ground as it was given.
    pub fn to_ground(&self, point: Point) -> Point {
        let along = Point::towards(self.turn);
        let right = Point::new(along.y, -along.x);
        self.front.plus(right, point.x).plus(along, point.y)
    }

    /// What a turn in the plane of the house is on the ground as it was given, in radians from nought to half a turn.
    pub fn turn_to_ground(&self, turn: f64) -> f64 {
        (turn + self.turn - std::f64::consts::FRAC_PI_2).rem_euclid(std::f64::consts::PI)
    }

    /// The other way round.
    pub fn turn_to_house(&self, turn: f64) -> f64 {
        (turn - self.turn + std::f64::consts::FRAC_PI_2).rem_euclid(std::f64::consts::PI)
    }

    fn plane(&self) -> Plane {
        Plane {
            front: self.front,
            turn: self.turn,
        }
    }
}

/// Where the house's plane lies on the ground.
struct Plane {
    front: Point,
    turn: f64,
}

impl Plane {
    fn to_house(&self, point: Point) -> Point {
        let along = Point::towards(self.turn);
        let right = Point::new(along.y, -along.x);
        let off = point.minus(self.front);
        Point::new(off.dot(right), off.dot(along))
    }

    fn outline(&self, what: &str, spots: &[Spot]) -> Result<Polygon, GroundTrouble> {
        let corners = spots.iter().map(|spot| self.to_house(metres(*spot)));
        let mut corners: Vec<Point> = corners.collect();
        corners.dedup_by(|a, b| a.to(*b) < NEAR);
        // People close an outline by naming its first corner again.
        if corners.len() > 1 && corners[0].to(corners[corners.len() - 1]) < NEAR {
            corners.pop();
        }
        let outline = Polygon::new(corners);
        if let Some(sides) = outline.crossing() {
            let what = what.into();
            return Err(GroundTrouble::Crosses { what, sides });
        }
        match outline.area() > EMPTY {
            true => Ok(outline),
            false => Err(GroundTrouble::Empty { what: what.into() }),
        }
    }

    fn areas(
        &self,
        kind: AreaKind,
        noun: &str,
        patches: &[Patch],
    ) -> Result<Vec<Area>, GroundTrouble> {
        (patches.iter().enumerate())
            .map(|(i, patch)| {
                let says = match (patch.words.is_empty(), kind) {
                    (false, _) => format!("the {}", patch.words),
                    (true, AreaKind::Truck) => noun.to_owned(),
                    (true, _) => format!("{noun} {}", i + 1),
                };
                Ok(Area {
                    kind,
                    outline: self.outline(&says, &patch.outline)?,
                    says,
                })
            })
            .collect()
    }
}

fn metres(spot: Spot) -> Point {
    Point::new(spot.x as f64 / 1_000.0, spot.y as f64 / 1_000.0)
}

/// A length as it is said of a ground: to the inch or the centimetre.
pub(super) fn said(metres: f64, system: System) -> String {
    let grid = match system {
        System::FeetInch => Grid::inch_fraction(1),
        System::Metric => Some(Grid::CENTIMETRE),
    };
    (grid.and_then(|grid| Some((Length::from_metres(metres, grid)?, grid))))
        .map_or_else(String::new, |(length, grid)| length.write(system, grid))
}

/// The house, post centre to post centre.
fn house(width: f64, length: f64) -> Rect {
    Rect {
        at: Point::new(0.0, length / 2.0),
        long: width,
        wide: length,
        turn: 0.0,
    }
}

fn gates(
    plane: &Plane,
    outline: &Polygon,
    gates: &[[Spot; 2]],
    system: System,
) -> Result<Vec<[Point; 2]>, GroundTrouble> {
    (gates.iter().enumerate())
        .map(|(i, gate)| {
            let gate = gate.map(|post| plane.to_house(metres(post)));
            let off = gate.map(|post| outline.from_edge(post));
            match off.into_iter().fold(0.0, f64::max) {
                off if off > OFF_EDGE => Err(GroundTrouble::Gate {
                    gate: i + 1,
                    away: said(off, system),
                }),
                _ => Ok(gate),
            }
        })
        .collect()
}

/// The way behind a gate, on the side of it that is ground.
fn gateway(outline: &Polygon, gate: [Point; 2]) -> Polygon {
    let along = gate[1].minus(gate[0]);
    let middle = gate[0].plus(along, 0.5);
    let turn = along.y.atan2(along.x);
    let across = Point::towards(turn + std::f64::consts::FRAC_PI_2);
    let way = |side: f64| middle.plus(across, side * GATEWAY / 2.0);
    let at = match outline.contains(way(1.0)) {
        true => way(1.0),
        false => way(-1.0),
    };
    let (long, wide) = (gate[0].to(gate[1]).max(0.1), GATEWAY);
    Rect {
        at,
        long,
        wide,
        turn,
    }
    .polygon()
}

/// A circle, near enough.
fn round(at: Point, radius: f64) -> Polygon {
    let corner = |i: i32| {
        let angle = f64::from(i) * std::f64::consts::TAU / 16.0;
        at.plus(Point::towards(angle), radius)
    };
    Polygon::new((0..16).map(corner).collect())
}

/// The part of the ground that is looked at for spots: round the house, the drop and what is under cover.
fn looked_at(outline: &Polygon, corners: &[Point; 4], drop: Point, covered: &[Area]) -> [Point; 2] {
    let [low, high] = outline.bounds();
    let covered = (covered.iter()).filter(|c| c.outline.overlaps(outline));
    let near = Polygon::new(
        (corners.iter().copied())
            .chain([drop])
            .chain(covered.flat_map(|c| c.outline.corners().to_vec()))
            .collect(),
    );
    let [from, to] = near.bounds();
    [
        Point::new(
            low.x.max(from.x - LOOK_ROUND),
            low.y.max(from.y - LOOK_ROUND),
        ),
        Point::new(high.x.min(to.x + LOOK_ROUND), high.y.min(to.y + LOOK_ROUND)),
    ]
}
