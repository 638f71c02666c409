//! The parts list, read off the frame: every part with its quantity, its uses and its places.

use std::sync::Arc;

use measure::{Length, Mass, System};

use crate::graph::{Cut, Frame, Package, Point};
use crate::part::{Mark, Part, SubKit};

/// One place that needs a part.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// What it is used as there: a member's role, a joint's words, a fitting.
    pub role: String,
    /// Where, in words.
    pub name: String,
    /// How many are needed there; none where it is cut from a leftover.
    pub quantity: i64,
    /// The length it is cut to in the yard, when shorter than it comes.
    pub cut_to: Option<Length>,
    /// The place whose leftover it is cut from.
    pub left_from: Option<String>,
    /// The rule that puts it there, in words.
    pub why: Arc<str>,
    /// The step of the build that needs it.
    pub stage: String,
    /// The share of the kit that it should come in.
    pub sub_kit: SubKit,
    /// Where in space; the middle of a piece.
    pub at: Point,
    /// Which piece of the frame it is (by index), if it is one.
    pub piece: Option<usize>,
}

/// One part with all its places.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// The part.
    pub part: Part,
    /// How many the house needs: the sum over its places.
    pub quantity: i64,
    /// How many the sender packs: what is needed, and spares.
    pub supplied: i64,
    /// How the pieces that are cut in the yard come out of whole ones, if any are cut.
    pub cut: Option<Cut>,
    /// Each place, in the order of the frame.
    pub places: Vec<Place>,
}

impl Line {
    /// How many each use needs, in the order in which they come up.
    pub fn uses(&self) -> Vec<(&str, i64)> {
        sums(self.places.iter().map(|p| (p.role.as_str(), p.quantity)))
    }

    /// The rules that put them to a use, in words; mostly one.
    pub fn rules(&self, role: &str) -> Vec<&str> {
        let mut rules: Vec<&str> = Vec::new();
        for place in self.places.iter().filter(|place| place.role == role) {
            if !rules.contains(&&*place.why) {
                rules.push(&place.why);
            }
        }
        rules
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

    /// "needed 212, supplied 250: 38 spare"; nothing where none is spare.
    pub fn spares_in_words(&self) -> Option<String> {
        let spare = self.supplied - self.quantity;
        (spare > 0).then(|| {
            format!(
                "needed {}, supplied {}: {spare} spare",
                self.quantity, self.supplied
            )
        })
    }

    /// "6 are cut from 4 whole ones, 3 ft 2 in left over"; nothing where none is cut.
    pub fn cut_in_words(&self, system: System) -> Option<String> {
        let cut = self.cut.as_ref()?;
        let unproven = match cut.proven {
            true => "",
            false => "; fewer might do, the search was cut short",
        };
        Some(format!(
            "{} cut from {} whole, {} left over{unproven}",
            cut.pieces,
            cut.stock,
            cut.waste.tape(system)
        ))
    }

    /// Mass of all that are needed.
    pub fn mass(&self) -> Mass {
        self.part.unit_mass * self.quantity
    }

    /// Mass of all that are packed, spares and all.
    pub fn mass_supplied(&self) -> Mass {
        self.part.unit_mass * self.supplied
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
    /// What the parts come in, with what each weighs full; none where the family does not say.
    pub packed: Vec<Packed>,
}

/// A crate, a bundle or a roll as it goes over the carrier's scale.
#[derive(Clone, Debug, PartialEq)]
pub struct Packed {
    /// What it is.
    pub says: String,
    /// Mass of what is in it, spares and all.
    pub contents: Mass,
    /// Mass with the package itself.
    pub gross: Mass,
}

/// What each package weighs full. Spares come with the share of the kit that needs the part first.
fn packed(lines: &[Line], packages: &[Package]) -> Vec<Packed> {
    (packages.iter())
        .map(|package| {
            let contents: Mass = (lines.iter())
                .flat_map(|line| {
                    let spares = line.supplied - line.quantity;
                    let shares = line.sub_kits().into_iter().enumerate();
                    shares.map(move |(i, (sub_kit, needed))| {
                        let count = if i == 0 { needed + spares } else { needed };
                        (sub_kit, line.part.unit_mass * count)
                    })
                })
                .filter(|(sub_kit, _)| package.sub_kits.iter().any(|s| s == sub_kit))
                .map(|(_, mass)| mass)
                .sum();
            Packed {
                says: package.says.clone(),
                contents,
                gross: contents + package.mass,
            }
        })
        .collect()
}

impl PartsList {
    /// Reads the parts list off a frame.
    pub fn of(frame: &Frame) -> Self {
        let mut lines: Vec<Line> = (frame.parts.iter())
            .map(|part| Line {
                part: part.clone(),
                quantity: 0,
                supplied: 0,
                cut: frame.cuts.iter().find(|cut| cut.mark == part.mark).cloned(),
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
        for (index, piece) in frame.pieces.iter().enumerate() {
            let member = &frame.members[piece.member];
            let (stage, sub_kit) = frame.belongs(piece.member);
            let place = Place {
                role: member.role.clone(),
                name: piece.name.clone(),
                quantity: piece.quantity(),
                cut_to: piece.cut_to,
                left_from: (piece.left_from)
                    .and_then(|from| frame.pieces.get(from))
                    .map(|from| from.name.clone()),
                why: frame.why(piece.member),
                stage: stage.into(),
                sub_kit: sub_kit.clone(),
                at: member
                    .path
                    .at(&frame.profile, (piece.from + piece.to) / 2.0),
                piece: Some(index),
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
                    left_from: None,
                    why: kind.why.clone(),
                    stage: kind.stage.clone(),
                    sub_kit: kind.sub_kit.clone(),
                    at: joint.at,
                    piece: None,
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
                left_from: None,
                why: hung.why.clone(),
                stage: hung.stage.clone(),
                sub_kit: hung.sub_kit.clone(),
                at: hung.at,
                piece: None,
            };
            need(&hung.mark, place);
        }
        for (line, spare) in lines.iter_mut().zip(&frame.spares) {
            line.supplied = spare.supplied(line.quantity);
        }
        Self {
            packed: packed(&lines, &frame.packages),
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

    /// Mass of the whole shipment as it goes over the carrier's scale: parts with spares, and what they come in.
    pub fn gross(&self) -> Mass {
        let parts: Mass = self.lines.iter().map(Line::mass_supplied).sum();
        let empty: Mass = (self.packed.iter()).map(|p| p.gross - p.contents).sum();
        parts + empty
    }

    /// Mass of what is needed.
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
