//! A family and a settled order become a frame in space.

use std::collections::BTreeMap;

use measure::Length;

use crate::across::Across;
use crate::family::{Family, FamilyError};
use crate::family_file::ProfileFile;
use crate::family_place::{At, Fault};
use crate::graph::{Cut, Frame, Hung, Joint, JointKind, Member, MemberRule, Package, Piece};
use crate::meet::{Index, Roles};
use crate::order::{Order, Refusal};
use crate::part::{Mark, Part, SubKit};
use crate::part_file::Spare;
use crate::profile::Profile;
use crate::resolve::{Derived, resolve};
use crate::settle::Settled;
use crate::where_file::Spot;
use crate::why;

/// Why an order did not become a frame.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ExpandError {
    /// The order cannot be built.
    #[error(transparent)]
    Refused(#[from] Refusal),
    /// The family cannot be used, or not for this order.
    #[error(transparent)]
    Family(#[from] FamilyError),
}

pub(crate) const FRONT: usize = 0;
pub(crate) const BOTH_ENDS: [usize; 2] = [FRONT, 1];
pub(crate) const LEFT: usize = 0;
pub(crate) const BOTH_SIDES: [usize; 2] = [LEFT, 1];
pub(crate) const END_NAMES: [&str; 2] = ["front", "back"];
pub(crate) const SIDE_NAMES: [&str; 2] = ["left", "right"];

/// Shortest difference that matters, in metres; far below a saw's kerf.
pub(crate) const NOTHING: f64 = 1e-6;

/// Half of the sixteenth of an inch that a saw stop is set to, in metres: nobody cuts off less, and no piece is shorter.
pub(crate) const SAW: f64 = 0.000_793_75;

/// The most members, pieces and joints together; the largest house has some ten thousand.
const MOST_PLACES: usize = 200_000;
/// The most looks at whether one member lies where another should be held; sidewall-30 of 192 ft takes forty thousand.
const MOST_LOOKS: usize = 4_000_000;
/// The most troubles that are said at once.
const MOST_TROUBLES: usize = 100;
/// The most that a kit may weigh, in micrograms: 1000 t, far over any load, and far inside what a mass can hold.
const MOST_MASS: i128 = 1_000_000_000_000_000;

/// Expands an order into its frame: members, the pieces they are cut into, joints, film and doors.
pub fn expand(order: &Order, family: &Family) -> Result<Frame, ExpandError> {
    let settled = order.settle(family)?;
    let mut raised = Raising::new(family, &settled)?;
    for step in Raising::STEPS {
        // A house that is too large, or wrong all over, is refused all the same.
        if raised.is_full() || raised.troubles.len() > MOST_TROUBLES {
            break;
        }
        step(&mut raised);
    }
    raised.finish(order)
}

/// The frame while it grows; what does not fit is said once, at the end.
///
/// Its steps stand in files of their own: `place` (members), `pieces`, `leftover`, `join`, `hang` (film, doors).
pub(crate) struct Raising<'a> {
    pub family: &'a Family,
    pub order: &'a Settled,
    pub profile_file: &'a ProfileFile,
    pub profile: Profile,
    pub length: f64,
    pub stations: Vec<f64>,
    pub roles: Roles<'a>,
    pub index: Index,
    pub members: Vec<Member>,
    pub pieces: Vec<Piece>,
    pub cuts: Vec<Cut>,
    pub joints: Vec<Joint>,
    pub hung: Vec<Hung>,
    pub derived: Derived,
    pub troubles: Vec<Fault>,
    /// Looks at whether a member lies where another should be held.
    pub looks: usize,
}

impl<'a> Raising<'a> {
    const STEPS: [fn(&mut Self); 9] = [
        Self::place_members,
        Self::cut_bows,
        Self::cut_lines,
        Self::share_leftovers,
        Self::join_crossings,
        Self::join_feet,
        Self::fasten_lines,
        Self::hang_skins,
        Self::hang_fittings,
    ];

    fn new(family: &'a Family, order: &'a Settled) -> Result<Self, FamilyError> {
        let profile_file = family.profile_for(order).ok_or_else(|| {
            FamilyError::Content(vec!["no `profile` holds for the order's options".into()])
        })?;
        Ok(Self {
            profile_file,
            profile: profile_file.solve()?,
            length: order.length.to_metres(),
            stations: order.stations.iter().map(|s| s.to_metres()).collect(),
            roles: Roles::of(family),
            index: Index::default(),
            family,
            order,
            members: Vec::new(),
            pieces: Vec::new(),
            cuts: Vec::new(),
            joints: Vec::new(),
            hung: Vec::new(),
            derived: Derived::default(),
            troubles: Vec::new(),
            looks: 0,
        })
    }

    /// Whether there is as much as a house may have; nothing is added from then on.
    pub(crate) fn is_full(&self) -> bool {
        self.places() >= MOST_PLACES || self.looks >= MOST_LOOKS
    }

    fn places(&self) -> usize {
        self.members.len() + self.pieces.len() + self.joints.len() + self.hung.len()
    }

    /// Says what does not fit, and which line of the family file it is about.
    /// Each is said once, however many places have it.
    pub(crate) fn trouble(&mut self, at: At, what: String) {
        if !self.troubles.iter().any(|trouble| trouble.what == what) {
            self.troubles.push(Fault { at, what });
        }
    }

    pub(crate) fn end_y(&self, end: usize) -> f64 {
        if end == FRONT { 0.0 } else { self.length }
    }

    /// Which end a place along the house is nearer to.
    pub(crate) fn end_of(&self, y: f64) -> usize {
        usize::from(y > self.length / 2.0)
    }

    /// The bow that stands at a place along the house.
    pub(crate) fn bow_at(&self, y: f64) -> Option<i64> {
        let found = self.stations.partition_point(|s| *s < y - NOTHING);
        (self.stations.get(found))
            .filter(|s| (**s - y).abs() <= NOTHING)
            .map(|_| found as i64)
    }

    pub(crate) fn indices(&self, holds: impl Fn(&Member) -> bool) -> Vec<usize> {
        (0..self.members.len())
            .filter(|&i| holds(&self.members[i]))
            .collect()
    }

    /// How far along the left half of the profile a place of it lies.
    pub(crate) fn along_profile(&mut self, spot: &Spot, at: &At, whose: &str) -> f64 {
        let found = match spot {
            Spot::Word(_) => Some(self.profile.half_length()),
            Spot::Share { of, share } => self.profile.along_link(of, *share),
            Spot::Along { of, along } => self.profile.along_link_for(of, along.to_metres()),
            Spot::Height { height } | Spot::Point { height, .. } => {
                self.profile.along_height(height.to_metres())
            }
            Spot::Aside { x } => self.profile.along_aside(x.to_metres()),
        };
        found.unwrap_or_else(|| {
            let what = match spot {
                Spot::Height { .. } | Spot::Point { .. } => "its height is above the peak",
                Spot::Aside { .. } => "it is further from the middle than the feet; a place on a belly is given by its height",
                _ => "its place is past the end of its link",
            };
            self.trouble(at.clone(), format!("`{whose}`: {what}"));
            0.0
        })
    }

    /// A place across the house on its left half.
    pub(crate) fn across(&mut self, spot: &Spot, rule: usize) -> Across {
        if let Spot::Point { x, height } = spot {
            return Across {
                x: -x.to_metres(),
                z: height.to_metres(),
            };
        }
        let whose = &self.family.members[rule].role;
        let s = self.along_profile(spot, &At::role(rule), whose);
        self.profile.at(s)
    }

    fn finish(mut self, order: &Order) -> Result<Frame, ExpandError> {
        if self.places() >= MOST_PLACES {
            self.trouble(
                At::nowhere(),
                format!("the house would have more than {MOST_PLACES} places"),
            );
        }
        if self.looks >= MOST_LOOKS {
            self.trouble(
                At::nowhere(),
                "too many members lie side by side to find which of them hold each other".into(),
            );
        }
        let joint_kinds: Vec<JointKind> = (self.family.joints.iter())
            .map(|j| JointKind {
                says: j.says.clone(),
                hardware: j
                    .hardware
                    .iter()
                    .map(|(mark, count)| (Mark(mark.clone()), *count))
                    .collect(),
                stage: j.stage.clone(),
                sub_kit: SubKit::from(j.sub_kit.as_str()),
                why: why::joint(j, self.order).into(),
            })
            .collect();
        let (parts, spares) = self.used_parts(&joint_kinds);
        if !self.troubles.is_empty() {
            let more = self.troubles.len().saturating_sub(MOST_TROUBLES);
            if more > 0 {
                self.troubles.truncate(MOST_TROUBLES);
                self.trouble(At::nowhere(), format!("and {more} more"));
            }
            return Err(self.family.faulty(&self.troubles).into());
        }
        let member_rules = (self.family.members.iter())
            .map(|m| MemberRule {
                stage: m.stage.clone(),
                sub_kit: SubKit::from(m.sub_kit.as_str()),
                why: why::member(m, self.family, self.order).into(),
            })
            .collect();
        let packages = (self.family.packages.iter())
            .map(|package| Package {
                says: package.says.clone(),
                mass: package.mass.unwrap_or_default(),
                sub_kits: package.sub_kits.clone(),
            })
            .collect();
        Ok(Frame {
            title: order.name.clone(),
            length: self.order.length,
            width: self.profile_file.width,
            height: self.profile_file.height,
            bow_spacing: self.order.bow_spacing,
            bows: self.order.bays + 1,
            stations: self.order.stations.clone(),
            system: self.order.system,
            profile: self.profile,
            members: self.members,
            joints: self.joints,
            pieces: self.pieces,
            cuts: self.cuts,
            hung: self.hung,
            parts,
            spares,
            packages,
            member_rules,
            joint_kinds,
            stages: self.family.stages().map(String::from).collect(),
            steps: self.family.steps(),
        })
    }

    /// Every part that has a place, lengths and masses settled, with its spares; what cannot be settled is said.
    fn used_parts(&mut self, joint_kinds: &[JointKind]) -> (Vec<Part>, Vec<Spare>) {
        let mut used: BTreeMap<&Mark, i128> = BTreeMap::new();
        let of_joints = (self.joints.iter())
            .flat_map(|joint| &joint_kinds[joint.kind].hardware)
            .map(|(mark, count)| (mark, *count));
        let places = (self.pieces.iter().map(|p| (&p.mark, p.quantity())))
            .chain(self.hung.iter().map(|h| (&h.mark, h.quantity)))
            .chain(of_joints);
        for (mark, count) in places {
            *used.entry(mark).or_default() += i128::from(count);
        }
        let (mut parts, mut spares) = (Vec::new(), Vec::new());
        let mut mass = 0;
        for file in &self.family.parts {
            let Some(count) = used.get(&file.mark()) else {
                continue;
            };
            match resolve(file, &self.derived, self.order.system) {
                Ok(part) => {
                    mass += count * i128::from(part.unit_mass.as_micrograms());
                    parts.push(part);
                    spares.push(file.spare.unwrap_or_default());
                }
                Err(what) => self.troubles.push(Fault {
                    at: self.family.part_at(&file.mark),
                    what,
                }),
            }
        }
        if mass > MOST_MASS {
            self.trouble(
                At::nowhere(),
                "the kit would weigh over 1000 t; a mass or a measure must be wrong".into(),
            );
        }
        (parts, spares)
    }
}

/// A length as messages write it.
pub(crate) fn feet_inch(length: Length) -> String {
    length.tape(measure::System::FeetInch)
}
