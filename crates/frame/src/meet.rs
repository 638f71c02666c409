//! Which members meet at a point of the house, and which joint of the family holds them.

use std::collections::BTreeMap;

use crate::expand::{LEFT, NOTHING, Raising};
use crate::family::Family;
use crate::graph::{Member, Path, Point};
use crate::place::POST_GIVES;
use crate::rule_file::{self, JointFile};

/// Axes that pass each other by no more than this meet, in metres: a saw stop's grid.
pub(crate) const TOUCH: f64 = 0.0016;

/// How members come to a joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Meeting {
    Splice,
    Peak,
    Foot,
    Fastening,
    End,
}

/// The family's roles as numbers, so that joints are found without comparing words.
pub(crate) struct Roles<'a> {
    names: Vec<&'a str>,
    of_rule: Vec<usize>,
    joints: Vec<JointRoles>,
}

struct JointRoles {
    between: Option<[Vec<usize>; 2]>,
    splice: Vec<usize>,
    peak: Vec<usize>,
    foot: Vec<usize>,
    fasten: Vec<usize>,
    ends: Vec<usize>,
}

impl<'a> Roles<'a> {
    pub(crate) fn of(family: &'a Family) -> Self {
        let mut names: Vec<&str> = family.members.iter().map(|m| m.role.as_str()).collect();
        names.sort_unstable();
        names.dedup();
        let number = |role: &str| names.binary_search(&role).ok();
        let known = |roles: &[String]| -> Vec<usize> {
            roles.iter().filter_map(|role| number(role)).collect()
        };
        let numbers = |roles: &Option<rule_file::Roles>| {
            roles.iter().flat_map(|roles| known(&roles.0)).collect()
        };
        let joints = (family.joints.iter())
            .map(|joint: &JointFile| JointRoles {
                between: (joint.between.as_ref())
                    .map(|sides| sides.each_ref().map(|roles| known(&roles.0))),
                splice: numbers(&joint.splice),
                peak: numbers(&joint.peak),
                foot: numbers(&joint.foot),
                fasten: numbers(&joint.fasten),
                ends: numbers(&joint.ends),
            })
            .collect();
        let of_rule = (family.members.iter())
            .filter_map(|m| number(&m.role))
            .collect();
        Self {
            names,
            of_rule,
            joints,
        }
    }

    fn of_member(&self, member: &Member) -> usize {
        self.of_rule[member.rule]
    }

    /// Whether any joint is about the ends, the foot and so on of a role.
    fn about(&self, joint: usize, meeting: Meeting) -> &[usize] {
        let joint = &self.joints[joint];
        match meeting {
            Meeting::Splice => &joint.splice,
            Meeting::Peak => &joint.peak,
            Meeting::Foot => &joint.foot,
            Meeting::Fastening => &joint.fasten,
            Meeting::End => &joint.ends,
        }
    }

    fn count(&self) -> usize {
        self.joints.len()
    }

    fn name(&self, role: usize) -> &'a str {
        self.names[role]
    }
}

/// Members by where along the house they stand; those that run along it by themselves.
#[derive(Default)]
pub(crate) struct Index {
    planes: BTreeMap<i64, Vec<usize>>,
    lengthwise: Vec<usize>,
}

impl Index {
    pub(crate) fn of(members: &[Member]) -> Self {
        let mut index = Self::default();
        for (i, member) in members.iter().enumerate() {
            let plane = match member.path {
                Path::Arch { y, .. } => Some(y),
                Path::Straight(a, b) => (a.y == b.y).then_some(a.y),
            };
            match plane {
                Some(y) => index.planes.entry(plane_of(y)).or_default().push(i),
                None => index.lengthwise.push(i),
            }
        }
        index
    }

    fn near(&self, y: f64) -> impl Iterator<Item = usize> {
        // Two ways to compute one place may round to either neighbour.
        let plane = plane_of(y);
        let in_plane = self.planes.range(plane - 1..=plane + 1);
        let in_plane = in_plane.flat_map(|(_, members)| members);
        in_plane.chain(&self.lengthwise).copied()
    }
}

/// Nanometres along the house, of which every bow stands at a whole count. In micrometres a sixteenth of an inch would
/// be a half one, and two ways to compute one place might round apart.
fn plane_of(y: f64) -> i64 {
    (y * 1e9).round() as i64
}

/// What is found where a member should be held.
pub(crate) enum Found {
    /// The joint, and the other member.
    Held { kind: usize, other: usize },
    /// A member of this role is there, and no joint says what holds them.
    NoJoint(String),
    /// Nothing is there.
    Nothing,
}

impl Raising<'_> {
    /// Whether a member's axis passes through a point; `s` is where the point is on the profile, if it is on it.
    fn passes(&self, member: usize, point: Point, s: Option<f64>) -> bool {
        match self.members[member].path {
            Path::Straight(a, b) => {
                let line = [b.x - a.x, b.y - a.y, b.z - a.z];
                let to = [point.x - a.x, point.y - a.y, point.z - a.z];
                let squared: f64 = line.iter().map(|u| u * u).sum();
                let dot: f64 = line.iter().zip(to).map(|(u, v)| u * v).sum();
                let share = (dot / squared).clamp(0.0, 1.0);
                let off = line.iter().zip(to).map(|(u, v)| (v - u * share).powi(2));
                // What lies on the leg meets the post in it, which gives a little where the leg is bent.
                let rule = &self.family.members[self.members[member].rule];
                let touch = match rule.post {
                    Some(_) => POST_GIVES + TOUCH,
                    None => TOUCH,
                };
                off.sum::<f64>() <= touch * touch
            }
            Path::Arch { y, from, to } => {
                if (y - point.y).abs() > TOUCH {
                    return false;
                }
                let s = s.unwrap_or_else(|| self.nearest_on_profile(point));
                let at = self.profile.at(s.clamp(from, to));
                (at.x - point.x).hypot(at.z - point.z) <= TOUCH
            }
        }
    }

    /// How far along the whole profile the place at a point's height and side is.
    fn nearest_on_profile(&self, point: Point) -> f64 {
        let left = (self.profile.along_height(point.z)).unwrap_or(self.profile.half_length());
        if point.x > 0.0 {
            self.profile.length() - left
        } else {
            left
        }
    }

    /// What holds a member at a point: the first joint of the family that is between it and a member there.
    pub(crate) fn held(&mut self, member: usize, point: Point, s: Option<f64>) -> Found {
        let mut looks = 0;
        let there: Vec<usize> = (self.index.near(point.y))
            .inspect(|_| looks += 1)
            .filter(|&other| other != member && self.members[other].on != Some(member))
            .filter(|&other| self.passes(other, point, s))
            .collect();
        self.looks += looks;
        let role = self.roles.of_member(&self.members[member]);
        for kind in 0..self.roles.count() {
            let Some([a, b]) = &self.roles.joints[kind].between else {
                continue;
            };
            let (on_a, on_b) = (a.contains(&role), b.contains(&role));
            if !on_a && !on_b {
                continue;
            }
            let other = there.iter().copied().find(|&other| {
                let found = self.roles.of_member(&self.members[other]);
                (on_a && b.contains(&found)) || (on_b && a.contains(&found))
            });
            if let Some(other) = other.filter(|_| self.joint_holds(kind, point)) {
                return Found::Held { kind, other };
            }
        }
        let structural = (there.iter()).find(|&&other| self.members[other].on.is_none());
        match structural {
            Some(&other) => {
                let role = self.roles.of_member(&self.members[other]);
                Found::NoJoint(self.roles.name(role).into())
            }
            None => Found::Nothing,
        }
    }

    /// The joint that the family has for a member's ends, foot, splices or fastenings.
    pub(crate) fn joint_for(&self, meeting: Meeting, member: usize, point: Point) -> Option<usize> {
        let role = self.roles.of_member(&self.members[member]);
        (0..self.roles.count()).find(|&kind| {
            self.roles.about(kind, meeting).contains(&role) && self.joint_holds(kind, point)
        })
    }

    /// Whether a joint's conditions hold at a point, and the point is at one of its bows.
    fn joint_holds(&self, kind: usize, point: Point) -> bool {
        let joint = &self.family.joints[kind];
        let bays = self.order.bays;
        let at_bow = joint.bows.is_all()
            || self
                .bow_at(point.y)
                .is_some_and(|bow| joint.bows.has(bow, bays));
        let side = if point.x > NOTHING { 1 } else { LEFT };
        at_bow && self.order.holds(&joint.when, self.end_of(point.y), side)
    }
}
