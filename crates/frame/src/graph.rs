//! The graph: members and joints in space, the pieces that members are cut into, skins and fittings.
//!
//! `x` is across the house from the middle, left negative; `y` along it from the front end bow; `z` over the
//! ground. All in metres. Left and right are those of someone who stands before the front and looks in; bows,
//! pieces, splices and fastenings are counted from the front, those across the house from the left.

use std::sync::Arc;

use measure::{Length, Mass, System};

use crate::part::{Mark, Part, SubKit};
use crate::part_file::Spare;
use crate::profile::Profile;

/// A point in space, in metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Across, from the middle.
    pub x: f64,
    /// Along, from the front end bow.
    pub y: f64,
    /// Over the ground.
    pub z: f64,
}

/// The line that a member's axis follows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Path {
    /// From one point straight to another.
    Straight(Point, Point),
    /// Along the profile at `y`, from one length along it to another.
    Arch {
        /// Where along the house.
        y: f64,
        /// Length along the profile at the start.
        from: f64,
        /// Length along the profile at the end.
        to: f64,
    },
}

impl Path {
    /// Length of the line.
    pub fn length(&self) -> f64 {
        match self {
            Path::Straight(a, b) => {
                let flat = (b.x - a.x).hypot(b.y - a.y);
                flat.hypot(b.z - a.z)
            }
            Path::Arch { from, to, .. } => to - from,
        }
    }

    /// The point `s` metres along the line.
    pub fn at(&self, profile: &Profile, s: f64) -> Point {
        match self {
            Path::Straight(a, b) => {
                let length = self.length();
                let share = if length > 0.0 { s / length } else { 0.0 };
                Point {
                    x: a.x + (b.x - a.x) * share,
                    y: a.y + (b.y - a.y) * share,
                    z: a.z + (b.z - a.z) * share,
                }
            }
            Path::Arch { y, from, .. } => {
                let across = profile.at(from + s);
                Point {
                    x: across.x,
                    y: *y,
                    z: across.z,
                }
            }
        }
    }

    /// Points that draw the stretch from `from` to `to`: its ends if straight, else one at least every 30 cm.
    pub fn points(&self, profile: &Profile, from: f64, to: f64) -> Vec<Point> {
        let steps = match self {
            Path::Straight(..) => 1,
            Path::Arch { .. } => ((to - from) / 0.3).ceil().max(1.0) as usize,
        };
        let step = (to - from) / steps as f64;
        (0..=steps)
            .map(|i| self.at(profile, from + step * i as f64))
            .collect()
    }
}

/// A line of the structure.
#[derive(Clone, Debug, PartialEq)]
pub struct Member {
    /// Its use in the house, such as "hip rail".
    pub role: String,
    /// Which one it is, such as "hip rail, left".
    pub name: String,
    /// Where its axis runs.
    pub path: Path,
    /// The member that it lies on, if it follows another (by index).
    pub on: Option<usize>,
    pub(crate) rule: usize,
}

/// Where members meet; brings its hardware.
#[derive(Clone, Debug, PartialEq)]
pub struct Joint {
    /// Which of the family's joints it is (by index).
    pub kind: usize,
    /// The member (by index).
    pub member: usize,
    /// The other member; the same one where two pieces of a member meet, none where it meets the ground.
    pub other: Option<usize>,
    /// Where.
    pub at: Point,
    /// The place in words, such as "bow 3, left".
    pub name: String,
}

/// One placed instance of a part along a member.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// What it is.
    pub mark: Mark,
    /// The member that it is a piece of (by index).
    pub member: usize,
    /// Metres along the member where it begins to show; a swage reaches on into its neighbour.
    pub from: f64,
    /// Metres along the member where it ends.
    pub to: f64,
    /// The length it is cut to in the yard, when shorter than it comes.
    pub cut_to: Option<Length>,
    /// The piece whose leftover it is cut from (by index), when it needs no piece of its own.
    pub left_from: Option<usize>,
    /// The place in words, such as "ridge, piece 2 of 5".
    pub name: String,
}

/// A part that hangs on a place rather than along a line: film, doors.
#[derive(Clone, Debug, PartialEq)]
pub struct Hung {
    /// Its use.
    pub role: String,
    /// What it is.
    pub mark: Mark,
    /// How many hang there.
    pub quantity: i64,
    /// The place in words.
    pub name: String,
    /// Where it hangs: the middle of a film, the threshold of a door.
    pub at: Point,
    /// Corners, to draw it; closed. Empty where there is nothing to draw.
    pub outline: Vec<Point>,
    /// The step of the build.
    pub stage: String,
    /// The share of the kit that it comes in.
    pub sub_kit: SubKit,
    /// The rule in words.
    pub why: Arc<str>,
}

/// A frame in space, with its parts resolved.
#[derive(Clone, Debug, PartialEq)]
pub struct Frame {
    /// The order's name for people.
    pub title: String,
    /// The solved profile.
    pub profile: Profile,
    /// Centre to centre of the end bows.
    pub length: Length,
    /// Width, post centre to post centre.
    pub width: Length,
    /// Height at the peak.
    pub height: Length,
    /// Centre to centre of the bows.
    pub bow_spacing: Length,
    /// How many bows stand.
    pub bows: i64,
    /// Where each bow stands along the house, from the front end bow; exact. All bays are `bow_spacing` long but
    /// where the house is no whole number of bays.
    pub stations: Vec<Length>,
    /// In which units people read it.
    pub system: System,
    /// The lines of the structure.
    pub members: Vec<Member>,
    /// Where they meet.
    pub joints: Vec<Joint>,
    /// What they are cut into.
    pub pieces: Vec<Piece>,
    /// Per mark that is cut in the yard: from how many whole pieces, and what is wasted.
    pub cuts: Vec<Cut>,
    /// Film, doors.
    pub hung: Vec<Hung>,
    /// Every part that is used, lengths settled, in the family's order.
    pub parts: Vec<Part>,
    /// Per part: what is packed beyond what is needed.
    pub(crate) spares: Vec<Spare>,
    /// What the parts come in.
    pub packages: Vec<Package>,
    /// Per member rule.
    pub(crate) member_rules: Vec<MemberRule>,
    /// Per joint kind.
    pub(crate) joint_kinds: Vec<JointKind>,
    /// Names of the stages, in the order of the build.
    pub stages: Vec<String>,
    /// Per stage: the stages that it follows (by index), and what kind of work it is.
    pub steps: Vec<Step>,
}

/// How a stage stands among the others.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// The stages that it follows (by index).
    pub follows: Vec<usize>,
    /// What is done, by the name of a kind of work that `ready` knows.
    pub work: String,
    /// Whether it is work alone: nothing of the family, ordered or not, is needed for it.
    pub bare: bool,
}

/// What a kind of joint brings.
#[derive(Clone, Debug, PartialEq)]
pub struct JointKind {
    /// What it is, in words.
    pub says: String,
    /// Hardware of one such joint.
    pub hardware: Vec<(Mark, i64)>,
    /// The step of the build.
    pub stage: String,
    /// The bag that it comes in.
    pub sub_kit: SubKit,
    /// The rule in words.
    pub why: Arc<str>,
}

/// What goes for all members of one rule of the family.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct MemberRule {
    pub stage: String,
    pub sub_kit: SubKit,
    /// The rule in words.
    pub why: Arc<str>,
}

/// Pieces of one mark that are cut in the yard.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// The mark.
    pub mark: Mark,
    /// How many pieces are cut.
    pub pieces: usize,
    /// From how many whole ones.
    pub stock: usize,
    /// What is left of those, kerfs and cut-off swages with it.
    pub waste: Length,
    /// Whether no fewer whole ones would do; else the search gave up before it knew.
    pub proven: bool,
}

/// Something that parts come in, such as a crate.
#[derive(Clone, Debug, PartialEq)]
pub struct Package {
    /// What it is.
    pub says: String,
    /// Its own mass, empty.
    pub mass: Mass,
    /// The shares of the kit that come in it.
    pub sub_kits: Vec<String>,
}

impl Piece {
    /// How many whole pieces it takes: one, or none where it is cut from another's leftover.
    pub fn quantity(&self) -> i64 {
        i64::from(self.left_from.is_none())
    }
}

impl Frame {
    /// Which step of the build a member belongs to, and in which share of the kit it comes.
    pub fn belongs(&self, member: usize) -> (&str, &SubKit) {
        let rule = &self.member_rules[self.members[member].rule];
        (&rule.stage, &rule.sub_kit)
    }

    /// The rule that puts a member there, in words.
    pub(crate) fn why(&self, member: usize) -> Arc<str> {
        self.member_rules[self.members[member].rule].why.clone()
    }

    /// What a joint of this kind brings.
    pub fn joint_kind(&self, joint: &Joint) -> &JointKind {
        &self.joint_kinds[joint.kind]
    }
}
