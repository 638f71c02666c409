//! A unit while it grows.

use std::collections::BTreeMap;

use super::{Gap, Unit};

/// A unit while it grows, with what decides what it follows.
#[derive(Debug)]
pub(super) struct Draft {
    pub stage: usize,
    pub name: String,
    pub bows: [usize; 2],
    /// Whether it is on the left and on the right of the house; what is in the middle is on both.
    pub sides: [bool; 2],
    pub needs: BTreeMap<usize, i64>,
    pub pieces: Vec<usize>,
    /// The members that it places, wholly or a piece of.
    pub members: Vec<usize>,
    /// Whether it runs along the house.
    pub along: bool,
    /// Whether it is a skin: something with an outline.
    pub skin: bool,
    /// Whether it holds the skins of its stage, and comes after them.
    pub holds: bool,
}

impl Draft {
    pub fn new(stage: usize, name: String, bows: [usize; 2], sides: [bool; 2]) -> Self {
        Self {
            stage,
            name,
            bows,
            sides,
            needs: BTreeMap::new(),
            pieces: Vec::new(),
            members: Vec::new(),
            along: false,
            skin: false,
            holds: false,
        }
    }

    pub fn need(&mut self, mark: usize, pieces: i64) {
        *self.needs.entry(mark).or_default() += pieces;
    }

    /// Whether both stand at one bow, on one side, or reach it.
    pub fn meets(&self, other: &Self) -> bool {
        let side = |side: usize| self.sides[side] && other.sides[side];
        self.bows[0] <= other.bows[1] && other.bows[0] <= self.bows[1] && (side(0) || side(1))
    }

    pub fn unit(self, after: Vec<usize>, gap: Gap) -> Unit {
        Unit {
            stage: self.stage,
            name: self.name,
            bows: self.bows,
            needs: self.needs.into_iter().filter(|(_, n)| *n != 0).collect(),
            after,
            pieces: self.pieces,
            gap,
        }
    }
}
