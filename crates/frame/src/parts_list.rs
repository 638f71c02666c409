//! The parts list, read off the frame: every part with its quantity, its uses and its places.

use measure::{Length, Mass};

use crate::graph::{Frame, Point};
use crate::part::{Mark, Part, SubKit};

/// One place that needs a part.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// What it is used as there: a member's role, a joint's words, a fitting.
    pub role: String,
    /// Where, in words.
    pub name: String,
    /// How many are needed there.
    pub quantity: i64,
    /// The length it is cut to in the yard, when shorter than it comes.
    pub cut_to: Option<Length>,
    /// The step of the build that needs it.
    pub stage: String,
    /// The share of the kit that it should come in.
    pub sub_kit: SubKit,
    /// Where in space; the middle of a piece.
    pub at: Point,
}

/// One part with all its places.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// The part.
    pub part: Part,
    /// How many the house needs: the sum over its places.
    pub quantity: i64,
    /// Each place, in the order of the frame.
    pub places: Vec<Place>,
}

impl Line {
    /// How many each use needs, in the order in which they come up.
    pub fn uses(&self) -> Vec<(&str, i64)> {
        sums(self.places.iter().map(|p| (p.role.as_str(), p.quantity)))
    }

    /// How many should come in each share of the kit.
    pub fn sub_kits(&self) -> Vec<(&str, i64)> {
        sums(
            self.places
                .iter()
                .map(|p| (p.sub_kit.0.as_str(), p.quantity)),
        )
    }

    /// How many each step of the build needs.
    pub fn stages(&self) -> Vec<(&str, i64)> {
        sums(self.places.iter().map(|p| (p.stage.as_str(), p.quantity)))
    }

    /// Mass of all of them.
    pub fn mass(&self) -> Mass {
        self.part.unit_mass * self.quantity
    }
}

fn sums<'a>(pairs: impl Iterator<Item = (&'a str, i64)>) -> Vec<(&'a str, i64)> {
    let mut sums: Vec<(&str, i64)> = Vec::new();
    for (name, quantity) in pairs {
        match sums.iter_mut().find(|(known, _)| *known == name) {
            Some((_, sum)) => *sum += quantity,
            None => sums.push((name, quantity)),
        }
    }
    sums
}

/// Every part that a frame needs.
#[derive(Clone, Debug, PartialEq)]
pub struct PartsList {
    /// One line a part, in the family's order.
    pub lines: Vec<Line>,
    /// Names of the stages, in the order of the build.
    pub stages: Vec<String>,
}

impl PartsList {
    /// Reads the parts list off a frame.
    pub fn of(frame: &Frame) -> Self {
        let mut lines: Vec<Line> = (frame.parts.iter())
            .map(|part| Line {
                part: part.clone(),
                quantity: 0,
                places: Vec::new(),
            })
            .collect();
        let index: std::collections::BTreeMap<&Mark, usize> = frame
            .parts
            .iter()
            .enumerate()
            .map(|(i, part)| (&part.mark, i))
            .collect();
        let mut need = |mark: &Mark, place: Place| {
            if let Some(line) = index.get(mark).and_then(|i| lines.get_mut(*i)) {
                line.quantity += place.quantity;
                line.places.push(place);
            }
        };
        for piece in &frame.pieces {
            let member = &frame.members[piece.member];
            let (stage, sub_kit) = frame.belongs(piece.member);
            let place = Place {
                role: member.role.clone(),
                name: piece.name.clone(),
                quantity: 1,
                cut_to: piece.cut_to,
                stage: stage.into(),
                sub_kit: sub_kit.clone(),
                at: member
                    .path
                    .at(&frame.profile, (piece.from + piece.to) / 2.0),
            };
            need(&piece.mark, place);
        }
        for joint in &frame.joints {
            let kind = frame.joint_kind(joint);
            for (mark, quantity) in &kind.hardware {
                let place = Place {
                    role: kind.says.clone(),
                    name: joint.name.clone(),
                    quantity: *quantity,
                    cut_to: None,
                    stage: kind.stage.clone(),
                    sub_kit: kind.sub_kit.clone(),
                    at: joint.at,
                };
                need(mark, place);
            }
        }
        for hung in &frame.hung {
            let place = Place {
                role: hung.role.clone(),
                name: hung.name.clone(),
                quantity: hung.quantity,
                cut_to: None,
                stage: hung.stage.clone(),
                sub_kit: hung.sub_kit.clone(),
                at: hung.at,
            };
            need(&hung.mark, place);
        }
        Self {
            lines,
            stages: frame.stages.clone(),
        }
    }

    /// The line of a mark.
    pub fn line(&self, mark: &str) -> Option<&Line> {
        self.lines.iter().find(|l| l.part.mark.0 == mark)
    }

    /// Every mark, in the family's order.
    pub fn marks(&self) -> Vec<&str> {
        self.lines.iter().map(|l| l.part.mark.0.as_str()).collect()
    }

    /// Pieces in all.
    pub fn pieces(&self) -> i64 {
        self.lines.iter().map(|l| l.quantity).sum()
    }

    /// Mass in all.
    pub fn mass(&self) -> Mass {
        self.lines.iter().map(Line::mass).sum()
    }

    /// The first step of the build that needs a line's part.
    pub fn first_stage<'a>(&'a self, line: &'a Line) -> &'a str {
        (self.stages.iter().map(String::as_str))
            .find(|stage| line.places.iter().any(|p| p.stage == *stage))
            .unwrap_or_default()
    }
}
