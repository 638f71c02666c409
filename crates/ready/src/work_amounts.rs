//! What a step brings to do, counted off the frame: pieces, joints, metres, film.

use std::collections::{BTreeMap, BTreeSet};

use frame::{Frame, Hung, PartsList, Section};

use crate::work_file::Unit;

/// How much of everything a step brings.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Amounts {
    posts: f64,
    bows: f64,
    pieces: f64,
    joints: f64,
    fittings: f64,
    ends: f64,
    metres: f64,
    square_metres: f64,
}

impl Amounts {
    /// Counts a stage.
    pub(crate) fn of(frame: &Frame, list: &PartsList, stage: &str) -> Self {
        let mut amounts = Amounts {
            posts: posts(frame) as f64,
            bows: frame.bows as f64,
            ..Amounts::default()
        };
        amounts.count_pieces(frame, stage);
        let joints = frame.joints.iter().map(|joint| frame.joint_kind(joint));
        amounts.joints = joints
            .filter(|kind| kind.stage == stage && !kind.hardware.is_empty())
            .count() as f64;
        amounts.count_hung(frame, list, stage);
        amounts
    }

    fn count_pieces(&mut self, frame: &Frame, stage: &str) {
        let of_an_end = frame.bow_spacing.to_metres() / 2.0;
        let length = frame.length.to_metres();
        let mut ends = BTreeSet::new();
        for piece in &frame.pieces {
            if frame.belongs(piece.member).0 != stage {
                continue;
            }
            self.pieces += 1.0;
            self.metres += piece.to - piece.from;
            let path = &frame.members[piece.member].path;
            let y = path.at(&frame.profile, (piece.from + piece.to) / 2.0).y;
            match y {
                y if y < of_an_end => ends.insert("front"),
                y if y > length - of_an_end => ends.insert("back"),
                _ => false,
            };
        }
        self.ends = ends.len() as f64;
    }

    /// Film by its area, what holds its edge as joints, all else as fittings.
    fn count_hung(&mut self, frame: &Frame, list: &PartsList, stage: &str) {
        let of_stage = || frame.hung.iter().filter(|hung| hung.stage == stage);
        // An edge may be held in another step than its sheet.
        let edges: BTreeSet<String> = (frame.hung.iter())
            .filter(|hung| area(list, hung).is_some())
            .map(|hung| format!("{}, edge", hung.name))
            .collect();
        let mut places: BTreeMap<&str, i64> = BTreeMap::new();
        for hung in of_stage() {
            match area(list, hung) {
                Some(square_metres) => self.square_metres += square_metres,
                None => {
                    let times = places.entry(&hung.name).or_insert(hung.quantity);
                    *times = hung.quantity.min(*times);
                }
            }
        }
        for (place, times) in places {
            match edges.contains(place) {
                true => self.joints += times as f64,
                false => self.fittings += 1.0,
            }
        }
    }

    /// How many of a unit.
    pub(crate) fn in_units(&self, unit: Unit) -> f64 {
        match unit {
            Unit::Once => 1.0,
            Unit::Post => self.posts,
            Unit::Bow => self.bows,
            Unit::Piece => self.pieces,
            Unit::Joint => self.joints,
            Unit::Fitting => self.fittings,
            Unit::End => self.ends,
            Unit::Metre => self.metres,
            Unit::SquareMetre => self.square_metres,
        }
    }

    /// Whether the stage has no parts.
    pub(crate) fn is_empty(&self) -> bool {
        [self.pieces, self.joints, self.fittings, self.square_metres] == [0.0; 4]
    }
}

/// Ground posts; where the family does not call them so, one to each leg of a bow.
fn posts(frame: &Frame) -> i64 {
    let called = frame.pieces.iter().filter(|piece| {
        let part = frame.parts.iter().find(|part| part.mark == piece.mark);
        part.is_some_and(|part| part.noun == "ground post")
    });
    match called.count() {
        0 => 2 * frame.bows,
        posts => posts as i64,
    }
}

/// The area of film or cloth, in square metres; none of anything else.
fn area(list: &PartsList, hung: &Hung) -> Option<f64> {
    let part = &list.line(&hung.mark.0)?.part;
    match part.section {
        Some(Section::Film { .. } | Section::Cloth { .. }) => {
            Some(part.width?.to_metres() * part.length?.to_metres() * hung.quantity as f64)
        }
        _ => None,
    }
}
