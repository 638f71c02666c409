//! From where the house is looked at.

use super::svg::Spot;
use crate::graph::Point;

const COS_30: f64 = 0.866_025_403_784_438_6;
const SIN_30: f64 = 0.5;

/// A corner that the isometric is drawn from. Left and right are those of someone who stands before the front.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum View {
    /// From before the front, to its right.
    #[default]
    FrontRight,
    /// From before the front, to its left.
    FrontLeft,
    /// From behind the back, on the house's left side.
    BackLeft,
    /// From behind the back, on the house's right side.
    BackRight,
}

impl View {
    /// All four, in the order of a walk around the house.
    pub const ALL: [View; 4] = [
        View::FrontRight,
        View::FrontLeft,
        View::BackLeft,
        View::BackRight,
    ];

    /// What people call it.
    pub fn says(self) -> &'static str {
        match self {
            View::FrontRight => "front right corner",
            View::FrontLeft => "front left corner",
            View::BackLeft => "back left corner",
            View::BackRight => "back right corner",
        }
    }

    /// One word for addresses and keys; never changes.
    pub fn key(self) -> &'static str {
        match self {
            View::FrontRight => "front-right",
            View::FrontLeft => "front-left",
            View::BackLeft => "back-left",
            View::BackRight => "back-right",
        }
    }

    /// The view of a key.
    pub fn named(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|view| view.key() == key)
    }

    /// The house turned about the vertical so that the corner looked from lies at great x and small y.
    pub(super) fn turned(self, p: Point) -> Point {
        let (x, y) = match self {
            View::FrontRight => (p.x, p.y),
            View::FrontLeft => (-p.y, p.x),
            View::BackLeft => (-p.x, -p.y),
            View::BackRight => (p.y, -p.x),
        };
        Point { x, y, z: p.z }
    }
}

/// Isometric projection of a turned point: x goes right and down at 30°, y right and up at 30°, z up.
pub(super) fn project(p: Point, scale: f64) -> Spot {
    Spot {
        u: (p.x + p.y) * COS_30 * scale,
        v: ((p.x - p.y) * SIN_30 - p.z) * scale,
    }
}

/// How near a turned point is to the eye, in metres along the line of sight.
pub(super) fn nearness(p: Point) -> f64 {
    (p.x - p.y + p.z) / 3.0_f64.sqrt()
}
