//! Where a member stands: at a bow, along the house, or from one bow to another.

use frame::{Frame, Path, Point};

/// Nearer than this is at the same place, in metres; far below what a tape reads.
const NEAR: f64 = 1e-4;

/// Farther from the middle than this is on a side, in metres.
const MIDDLE: f64 = 0.01;

/// How a member lies in the house.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Stands {
    /// Across the house at a bow (from 1).
    At(usize),
    /// Across the house between two bows.
    Between(usize),
    /// Level, from the front towards the back.
    Along,
    /// Askew, from one bow to another: it stiffens the bays that it goes over.
    Askew,
}

/// Where each bow stands along the house, in metres.
pub(super) struct Stations(Vec<f64>);

impl Stations {
    pub fn of(frame: &Frame) -> Self {
        Self(frame.stations.iter().map(|s| s.to_metres()).collect())
    }

    pub fn count(&self) -> usize {
        self.0.len()
    }

    /// The bow (from 1) at a place along the house.
    pub fn at(&self, y: f64) -> Option<usize> {
        let near = (self.0.iter()).position(|station| (station - y).abs() <= NEAR);
        near.map(|index| index + 1)
    }

    /// The bow (from 1) that is nearest; both where two are as near.
    pub fn nearest(&self, y: f64) -> impl Iterator<Item = usize> {
        let away = move |station: &f64| (station - y).abs();
        let least = self.0.iter().map(away).fold(f64::INFINITY, f64::min);
        let stations = self.0.iter().enumerate();
        stations
            .filter(move |(_, station)| away(station) <= least + NEAR)
            .map(|(index, _)| index + 1)
    }

    /// The first and the last bow that a stretch reaches; the two around it where it reaches none.
    pub fn reached(&self, from: f64, to: f64) -> [usize; 2] {
        let first = self.0.partition_point(|station| *station < from - NEAR);
        let after = self.0.partition_point(|station| *station <= to + NEAR);
        let last = self.0.len().max(1);
        match first < after {
            true => [first + 1, after],
            false => [first.clamp(1, last), (first + 1).clamp(1, last)],
        }
    }

    /// The bows of all bays that a stretch goes over, also where it goes over a part of one only.
    pub fn around(&self, from: f64, to: f64) -> [usize; 2] {
        let last = self.0.len().max(1);
        let first = self.0.partition_point(|station| *station <= from + NEAR);
        let after = self.0.partition_point(|station| *station < to - NEAR);
        [first.clamp(1, last), (after + 1).clamp(1, last)]
    }

    pub fn stands(&self, path: &Path) -> Stands {
        match path {
            Path::Arch { y, .. } => self.across(*y),
            Path::Straight(a, b) if (a.y - b.y).abs() <= NEAR => self.across(a.y),
            Path::Straight(a, b) if (a.x - b.x).abs() <= NEAR && (a.z - b.z).abs() <= NEAR => {
                Stands::Along
            }
            Path::Straight(..) => Stands::Askew,
        }
    }

    fn across(&self, y: f64) -> Stands {
        match self.at(y) {
            Some(bow) => Stands::At(bow),
            None => Stands::Between(self.reached(y, y)[0]),
        }
    }
}

/// On which sides of the house some points are; in the middle is on both.
pub(super) fn sides(points: &[Point]) -> [bool; 2] {
    let left = points.iter().any(|p| p.x < -MIDDLE);
    let right = points.iter().any(|p| p.x > MIDDLE);
    match (left, right) {
        (false, false) => [true, true],
        both => both.into(),
    }
}
