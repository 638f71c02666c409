//! What meets at a joint, in space around it, and the directions that show it best.

use super::line::thickness;
use super::svg::Spot;
use crate::graph::{Frame, Joint, Path, Piece, Point};
use crate::part::{End, Section};

type Vector = [f64; 3];

/// Two directions whose cosine is greater than this, less than 10° apart, go on from each other.
const IN_LINE: f64 = 0.985;

/// One piece near the joint; places in metres from the joint.
pub(super) struct Limb {
    pub axis: Vec<Vector>,
    /// Whether it goes on past either end of what is drawn.
    pub goes_on: [bool; 2],
    pub round: bool,
    /// Channel and boards, which lie outside so that film can lie on them.
    flat: bool,
    pub wall: f64,
    /// Half its thickness away from what it lies on, and half its width.
    pub half_out: f64,
    pub half_side: f64,
    /// Away from what it lies on.
    pub out: Vector,
    pub swage: Option<Swage>,
    /// Mark and noun, said once.
    pub label: Option<String>,
}

/// From where to where a swage reaches into its neighbour.
pub(super) struct Swage {
    pub from: Vector,
    pub to: Vector,
    /// Whether it is at an end of the whole line.
    ends_line: bool,
}

/// A joint in space.
pub(super) struct Scene {
    pub limbs: Vec<Limb>,
    /// How far from the joint the members are drawn.
    pub reach: f64,
    /// Whether the joint stands on the ground.
    pub on_ground: bool,
    along: Vector,
    other_along: Option<Vector>,
    out: Vector,
    lies_on: bool,
    member: usize,
    other: Option<usize>,
}

/// A direction to look from, with what to call it.
pub(super) struct Sight {
    to_eye: Vector,
    right: Vector,
    up: Vector,
    pub says: String,
}

impl Scene {
    /// The joint with what meets there; nothing when no piece does.
    pub(super) fn of(frame: &Frame, joint: &Joint) -> Option<Self> {
        let other = joint.other.filter(|other| *other != joint.member);
        let thick = |member: usize| {
            (frame.pieces.iter().filter(|p| p.member == member))
                .filter_map(|p| thickness(frame.parts.iter().find(|part| part.mark == p.mark)?))
                .fold(0.0, f64::max)
        };
        let thickest = thick(joint.member).max(other.map_or(0.0, thick));
        let reach = (3.5 * thickest).max(0.1);
        let along = direction(frame, joint.member, joint.at, reach);
        let other_along = other.map(|other| direction(frame, other, joint.at, reach));
        let out = outward(frame, joint, along, other_along);
        let mut limbs = limbs_of(frame, joint.member, joint.at, reach, out);
        let mut others = other.map_or(Vec::new(), |other| {
            limbs_of(frame, other, joint.at, reach, out)
        });
        if limbs.is_empty() {
            return None;
        }
        let crosses = other_along.is_some_and(|o| dot(o, along).abs() < IN_LINE);
        // Where a channel runs on past what it follows, it still lies on what is there.
        let follows = frame.members[joint.member].on.is_some();
        let lies_on = other.is_some() && follows && !crosses;
        if other.is_none() || lies_on || crosses {
            // At the end of a line a swage has no neighbour to go into.
            for limb in limbs.iter_mut().chain(&mut others) {
                limb.swage = limb.swage.take().filter(|swage| !swage.ends_line);
            }
        }
        let half = |limbs: &[Limb]| limbs.iter().map(|l| l.half_out).fold(0.0, f64::max);
        let apart = half(&limbs) + half(&others);
        if lies_on || crosses {
            let outside = lies_on || limbs[0].flat;
            let by = if outside { apart } else { -apart };
            limbs.iter_mut().for_each(|limb| limb.shift(times(out, by)));
        }
        limbs.append(&mut others);
        let mut said: Vec<String> = Vec::new();
        for limb in &mut limbs {
            match &limb.label {
                Some(label) if said.contains(label) => limb.label = None,
                Some(label) => said.push(label.clone()),
                None => {}
            }
        }
        Some(Self {
            limbs,
            reach,
            on_ground: joint.other.is_none() && joint.at.z.abs() < 0.05,
            along,
            other_along,
            out,
            lies_on,
            member: joint.member,
            other,
        })
    }

    /// One direction where all lies in a line; two where members cross or lie on each other.
    pub(super) fn sights(&self, frame: &Frame) -> Vec<Sight> {
        let role = |member: usize| frame.members[member].role.clone();
        let end_on = || Sight::from(self.along, format!("seen along the {}", role(self.member)));
        match (self.other, self.other_along) {
            (Some(_), _) if self.lies_on => {
                let aside = cross(self.along, self.out);
                vec![Sight::from(aside, "seen from the side".into()), end_on()]
            }
            (Some(other), Some(along)) if dot(along, self.along).abs() < IN_LINE => {
                let says = format!("seen square to {} and {}", role(self.member), role(other));
                vec![Sight::towards(self.out, says), end_on()]
            }
            _ => vec![Sight::towards(self.out, "seen from outside".into())],
        }
    }

    /// How far under the joint the ground is drawn, in metres.
    pub(super) fn ground(&self, sight: &Sight) -> f64 {
        sight.seen([0.0; 3]).v
    }

    /// What meets, in words.
    pub(super) fn names(&self, frame: &Frame) -> String {
        let role = |member: usize| frame.members[member].role.as_str();
        match self.other {
            Some(other) => format!("{} and {}", role(self.member), role(other)),
            None if self.on_ground => format!("{} on the ground", role(self.member)),
            None => format!("two pieces of the {}", role(self.member)),
        }
    }
}

impl Sight {
    /// Looked at along a line, from the end that lies outside of the house or before it.
    fn from(line: Vector, says: String) -> Self {
        let forward = line[1] > 0.3 || (line[1].abs() <= 0.3 && line[0] < 0.0);
        Self::towards(times(line, if forward { -1.0 } else { 1.0 }), says)
    }

    fn towards(to_eye: Vector, says: String) -> Self {
        let to_eye = unit(to_eye);
        let world_up = match to_eye[2].abs() < 0.9 {
            true => [0.0, 0.0, 1.0],
            // From above, what runs along the house lies level, its front at the left.
            false => [-1.0, 0.0, 0.0],
        };
        let right = unit(cross(world_up, to_eye));
        let up = cross(to_eye, right);
        Self {
            to_eye,
            right,
            up,
            says,
        }
    }

    /// A place on the sheet, in metres.
    pub(super) fn seen(&self, p: Vector) -> Spot {
        Spot::new(dot(p, self.right), -dot(p, self.up))
    }

    /// How near a limb lies to the eye.
    pub(super) fn depth(&self, limb: &Limb) -> f64 {
        let sum: f64 = limb.axis.iter().map(|p| dot(*p, self.to_eye)).sum();
        sum / limb.axis.len() as f64
    }

    /// Half of how thick a limb looks.
    pub(super) fn half(&self, limb: &Limb) -> f64 {
        match dot(self.to_eye, limb.out).abs() > 0.7 {
            true => limb.half_side,
            false => limb.half_out,
        }
    }
}

impl Limb {
    fn shift(&mut self, by: Vector) {
        let swage = (self.swage.iter_mut()).flat_map(|swage| [&mut swage.from, &mut swage.to]);
        for place in self.axis.iter_mut().chain(swage) {
            *place = plus(*place, by);
        }
    }
}

/// Whether a joint lies at an end of its member.
pub(super) fn at_end(frame: &Frame, joint: &Joint) -> bool {
    let length = frame.members[joint.member].path.length();
    let here = nearest_along(frame, joint.member, joint.at);
    here < 0.1 || here > length - 0.1
}

fn limbs_of(frame: &Frame, member: usize, at: Point, reach: f64, out: Vector) -> Vec<Limb> {
    let here = nearest_along(frame, member, at);
    let near = |piece: &Piece| piece.from < here + reach - 1e-6 && piece.to > here - reach + 1e-6;
    (frame.pieces.iter())
        .filter(|piece| piece.member == member && near(piece))
        .map(|piece| limb(frame, piece, at, (here - reach, here + reach), out))
        .collect()
}

fn limb(frame: &Frame, piece: &Piece, at: Point, window: (f64, f64), out: Vector) -> Limb {
    const STEPS: usize = 12;
    let path = &frame.members[piece.member].path;
    let (from, to) = (piece.from.max(window.0), piece.to.min(window.1));
    let place = |s: f64| from_joint(path.at(&frame.profile, s), at);
    let axis = (0..=STEPS)
        .map(|i| place(from + (to - from) * i as f64 / STEPS as f64))
        .collect();
    let part = frame.parts.iter().find(|p| p.mark == piece.mark);
    let section = part.and_then(|p| p.section.as_ref());
    let (round, wall, half_out, half_side) = match section {
        Some(Section::Tube { outside, wall, .. }) => {
            let half = outside.to_metres() / 2.0;
            (true, wall.to_metres(), half, half)
        }
        Some(Section::Box {
            width, depth, wall, ..
        }) => (
            false,
            wall.to_metres(),
            depth.to_metres() / 2.0,
            width.to_metres() / 2.0,
        ),
        // A board lies with its narrow side to what it is bolted to.
        Some(Section::Channel { width, depth, .. }) => {
            (false, 0.0, depth.to_metres() / 2.0, width.to_metres() / 2.0)
        }
        Some(Section::Timber { width, depth, .. }) => {
            (false, 0.0, width.to_metres() / 2.0, depth.to_metres() / 2.0)
        }
        Some(Section::Wire { diameter }) => {
            let half = diameter.to_metres() / 2.0;
            (true, half, half, half)
        }
        _ => (false, 0.0, 0.01, 0.01),
    };
    let swage = swage(frame, piece, window, part.and_then(|p| p.ends), &place);
    Limb {
        axis,
        goes_on: [piece.from < from - 1e-6, piece.to > to + 1e-6],
        round,
        flat: matches!(
            section,
            Some(Section::Channel { .. } | Section::Timber { .. })
        ),
        wall,
        half_out,
        half_side,
        out,
        swage,
        label: part.map(|p| format!("{} {}", p.mark, p.noun)),
    }
}

/// A swage reaches on from where its piece begins to show; the first end of a bow's piece is the lower one.
fn swage(
    frame: &Frame,
    piece: &Piece,
    window: (f64, f64),
    ends: Option<[End; 2]>,
    place: &impl Fn(f64) -> Vector,
) -> Option<Swage> {
    let whole = frame.members[piece.member].path.length();
    let mirrored = match frame.members[piece.member].path {
        Path::Arch { from, .. } => {
            from + (piece.from + piece.to) / 2.0 > frame.profile.half_length()
        }
        Path::Straight(..) => false,
    };
    let [mut first, mut last] = ends?;
    if mirrored {
        std::mem::swap(&mut first, &mut last);
    }
    let inside = |s: f64| s > window.0 && s < window.1;
    for (end, s, inward) in [(first, piece.from, 0.001), (last, piece.to, -0.001)] {
        if let End::Swaged(over) = end
            && inside(s)
        {
            let (mouth, within) = (place(s), place(s + inward));
            let way = unit(plus(mouth, times(within, -1.0)));
            let long = over.to_metres().min(window.1 - window.0);
            return Some(Swage {
                from: mouth,
                to: plus(mouth, times(way, long)),
                ends_line: s < 1e-6 || s > whole - 1e-6,
            });
        }
    }
    None
}

/// The direction of a member near a place: from before it to after it.
fn direction(frame: &Frame, member: usize, at: Point, reach: f64) -> Vector {
    let path = &frame.members[member].path;
    let here = nearest_along(frame, member, at);
    let place = |s: f64| path.at(&frame.profile, s.clamp(0.0, path.length()));
    unit(from_joint(place(here + reach), place(here - reach)))
}

/// How far along a member the place nearest to a point lies.
fn nearest_along(frame: &Frame, member: usize, at: Point) -> f64 {
    let path = &frame.members[member].path;
    let length = path.length();
    let off = |s: f64| {
        let gone = from_joint(path.at(&frame.profile, s), at);
        dot(gone, gone)
    };
    const STEPS: usize = 400;
    let step = length / STEPS as f64;
    let nearest = (0..=STEPS)
        .map(|i| i as f64 * step)
        .min_by(|a, b| off(*a).total_cmp(&off(*b)))
        .unwrap_or(0.0);
    let (mut low, mut high) = ((nearest - step).max(0.0), (nearest + step).min(length));
    for _ in 0..60 {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        match off(a) < off(b) {
            true => high = b,
            false => low = a,
        }
    }
    (low + high) / 2.0
}

/// Square to the members and away from the house: over the roof, beside the wall, before the end.
fn outward(frame: &Frame, joint: &Joint, along: Vector, other: Option<Vector>) -> Vector {
    let at = joint.at;
    let length = frame.length.to_metres();
    let ahead = if at.y > length / 2.0 { 1.0 } else { -1.0 };
    let normal =
        (other.map(|other| cross(along, other))).filter(|n| dot(*n, *n) > 1.0 - IN_LINE * IN_LINE);
    if let Some(normal) = normal {
        let away = [at.x, 0.0, at.z / 2.0];
        let side = dot(normal, away);
        let back = match side.abs() > 1e-6 {
            true => side < 0.0,
            false => normal[1] * ahead < 0.0,
        };
        return unit(times(normal, if back { -1.0 } else { 1.0 }));
    }
    // All in one line: what runs along the house lies outside of it, what stands in an end before that end.
    let away = match along[1].abs() > 0.5 {
        true => [at.x, 0.0, (at.z / 2.0).max(0.01)],
        false => [0.0, ahead, 0.0],
    };
    let square = plus(away, times(along, -dot(away, along)));
    match dot(square, square) > 1e-9 {
        true => unit(square),
        false => unit(cross(along, [1.0, 0.3, 0.0])),
    }
}

fn from_joint(p: Point, at: Point) -> Vector {
    [p.x - at.x, p.y - at.y, p.z - at.z]
}

fn dot(a: Vector, b: Vector) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: Vector, b: Vector) -> Vector {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

fn plus(a: Vector, b: Vector) -> Vector {
    [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}

fn times(a: Vector, by: f64) -> Vector {
    a.map(|value| value * by)
}

fn unit(a: Vector) -> Vector {
    let length = dot(a, a).sqrt();
    match length > 1e-12 {
        true => times(a, 1.0 / length),
        false => [0.0, 0.0, 1.0],
    }
}
