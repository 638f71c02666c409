//! A family and a settled order become a frame in space.

use std::collections::BTreeSet;

use measure::Length;

use crate::family::{Family, FamilyError, Spot};
use crate::graph::{Frame, Hung, Joint, JointKind, Member, Path, Piece};
use crate::order::{Order, Refusal, Settled};
use crate::part::{Mark, Part, SubKit};
use crate::profile::Profile;
use crate::resolve::{Derived, resolve};

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
pub(crate) const END_NAMES: [&str; 2] = ["front", "back"];
pub(crate) const SIDE_NAMES: [&str; 2] = ["left", "right"];

/// Shortest difference that matters, in metres; far below a saw's kerf.
pub(crate) const NOTHING: f64 = 1e-6;

/// The most members, pieces and joints together; the largest house has a few thousand.
const MOST_PLACES: usize = 200_000;
/// The most that a kit may weigh, in micrograms: 1000 t, far over any load, and far inside what a mass can hold.
const MOST_MASS: i128 = 1_000_000_000_000_000;

/// Expands an order into its frame: members, the pieces they are cut into, joints, film and doors.
pub fn expand(order: &Order, family: &Family) -> Result<Frame, ExpandError> {
    let settled = order.settle(family)?;
    let mut raised = Raising::new(family, &settled)?;
    raised.place_members();
    raised.cut_bows();
    raised.cut_lines();
    raised.join_crossings();
    raised.join_feet();
    raised.fasten_lines();
    raised.hang_skins();
    raised.hang_fittings();
    raised.finish(order)
}

/// The frame while it grows; what does not fit is said once, at the end.
///
/// Its steps stand in files of their own: `place` (members), `pieces`, `join`, `hang` (film and doors).
pub(crate) struct Raising<'a> {
    pub family: &'a Family,
    pub order: &'a Settled,
    pub profile: Profile,
    pub length: f64,
    pub members: Vec<Member>,
    pub pieces: Vec<Piece>,
    pub joints: Vec<Joint>,
    pub hung: Vec<Hung>,
    pub derived: Derived,
    pub troubles: Vec<String>,
}

impl<'a> Raising<'a> {
    fn new(family: &'a Family, order: &'a Settled) -> Result<Self, FamilyError> {
        Ok(Self {
            profile: family.solve_profile()?,
            length: order.length.to_metres(),
            family,
            order,
            members: Vec::new(),
            pieces: Vec::new(),
            joints: Vec::new(),
            hung: Vec::new(),
            derived: Derived::default(),
            troubles: Vec::new(),
        })
    }

    /// Whether there are as many places as a house may have; nothing is added from then on.
    pub(crate) fn is_full(&self) -> bool {
        self.members.len() + self.pieces.len() + self.joints.len() >= MOST_PLACES
    }

    pub(crate) fn station(&self, bow: i64) -> f64 {
        (self.order.bow_spacing * bow).to_metres()
    }

    pub(crate) fn end_y(&self, end: usize) -> f64 {
        if end == FRONT { 0.0 } else { self.length }
    }

    pub(crate) fn indices(&self, holds: impl Fn(&Member) -> bool) -> Vec<usize> {
        (0..self.members.len())
            .filter(|&i| holds(&self.members[i]))
            .collect()
    }

    /// How far along the profile the posts end and the bows begin.
    pub(crate) fn post_top(&self) -> f64 {
        (self.family.members.iter())
            .filter_map(|m| m.post.as_ref())
            .find_map(|post| self.profile.along_height(post.above_ground.to_metres()))
            .unwrap_or(0.0)
    }

    pub(crate) fn along_profile(&mut self, spot: &Spot, whose: &str) -> f64 {
        let found = match spot {
            Spot::Word(_) => Some(self.profile.half_length()),
            Spot::Share { of, share } => self.profile.along_link(of, *share),
            Spot::Height { height } => self.profile.along_height(height.to_metres()),
        };
        found.unwrap_or_else(|| {
            self.troubles
                .push(format!("`{whose}`: its height is above the peak"));
            0.0
        })
    }

    /// The whole profile at `y`, from a place on its left half to the same place on the right.
    pub(crate) fn arch(&self, y: f64, from: f64) -> Path {
        Path::Arch {
            y,
            from,
            to: self.profile.length() - from,
        }
    }

    fn finish(mut self, order: &Order) -> Result<Frame, ExpandError> {
        if self.is_full() {
            self.troubles.push(format!(
                "the house would have more than {MOST_PLACES} places"
            ));
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
            })
            .collect();
        let parts = self.used_parts(&joint_kinds);
        if !self.troubles.is_empty() {
            let mut said = BTreeSet::new();
            self.troubles.retain(|trouble| said.insert(trouble.clone()));
            return Err(FamilyError::Content(self.troubles).into());
        }
        Ok(Frame {
            title: order.name.clone(),
            length: self.order.length,
            width: self.family.profile.width,
            height: self.family.profile.height,
            bow_spacing: self.order.bow_spacing,
            bows: self.order.bays + 1,
            stations: (0..=self.order.bays)
                .map(|bow| self.order.bow_spacing * bow)
                .collect(),
            system: self.order.system,
            profile: self.profile,
            members: self.members,
            joints: self.joints,
            pieces: self.pieces,
            hung: self.hung,
            parts,
            member_rules: (self.family.members.iter())
                .map(|m| (m.stage.clone(), SubKit::from(m.sub_kit.as_str())))
                .collect(),
            joint_kinds,
            stages: self.family.stages().map(String::from).collect(),
        })
    }

    /// Every part that has a place, lengths and masses settled; what cannot be settled is said.
    fn used_parts(&mut self, joint_kinds: &[JointKind]) -> Vec<Part> {
        let mut used: std::collections::BTreeMap<&Mark, i128> = std::collections::BTreeMap::new();
        let of_joints = (self.joints.iter())
            .flat_map(|joint| &joint_kinds[joint.kind].hardware)
            .map(|(mark, count)| (mark, *count));
        let places = (self.pieces.iter().map(|p| (&p.mark, 1)))
            .chain(self.hung.iter().map(|h| (&h.mark, h.quantity)))
            .chain(of_joints);
        for (mark, count) in places {
            *used.entry(mark).or_default() += i128::from(count);
        }
        let mut parts = Vec::new();
        let mut mass = 0;
        for file in &self.family.parts {
            let Some(count) = used.get(&file.mark()) else {
                continue;
            };
            match resolve(file, &self.derived, self.order.system) {
                Ok(part) => {
                    mass += count * i128::from(part.unit_mass.as_micrograms());
                    parts.push(part);
                }
                Err(e) => self.troubles.push(e),
            }
        }
        if mass > MOST_MASS {
            self.troubles
                .push("the kit would weigh over 1000 t; a mass or a measure must be wrong".into());
        }
        parts
    }
}

/// A length as messages write it.
pub(crate) fn feet_inch(length: Length) -> String {
    length.tape(measure::System::FeetInch)
}
