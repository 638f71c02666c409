//! Joints: where members cross, stand on the ground, end, or are fastened along a line.

use crate::expand::{NOTHING, Raising, SIDE_NAMES};
use crate::family_place::At;
use crate::graph::{Joint, Member, Path, Point};
use crate::meet::{Found, Meeting, TOUCH};
use crate::where_file::Spot;

/// What a member may find where it should be held.
#[derive(Clone, Copy, PartialEq)]
enum Must {
    /// Something must be there, and a joint between them.
    BeHeld,
    /// Where a joint is, it counts; where none is, nothing is amiss.
    MayBeHeld,
}

impl Raising<'_> {
    fn add_joint(
        &mut self,
        kind: usize,
        member: usize,
        other: Option<usize>,
        along: f64,
        name: String,
    ) {
        if self.is_full() {
            return;
        }
        let at = self.members[member].path.at(&self.profile, along);
        self.joints.push(Joint {
            kind,
            member,
            other,
            at,
            name,
        });
    }

    /// A joint of a member by itself, or with a piece of its own; without one the family has none for it.
    pub(crate) fn join(
        &mut self,
        meeting: Meeting,
        member: usize,
        other: Option<usize>,
        along: f64,
        name: String,
    ) {
        let at = self.members[member].path.at(&self.profile, along);
        let kind = self.joint_for(meeting, member, at);
        // Halves that meet at the peak are held as any two pieces, unless the family says otherwise.
        let kind = kind.or_else(|| match meeting {
            Meeting::Peak => self.joint_for(Meeting::Splice, member, at),
            _ => None,
        });
        if let Some(kind) = kind {
            self.add_joint(kind, member, other, along, name);
        }
    }

    /// Holds a member at a place by what is there.
    fn hold(
        &mut self,
        member: usize,
        along: f64,
        s: Option<f64>,
        must: Must,
        name: String,
    ) -> bool {
        // What is too much for a house is said at the end, and not one member at a time.
        if self.is_full() {
            return true;
        }
        let at = self.members[member].path.at(&self.profile, along);
        let found = self.held(member, at, s);
        let role = &self.members[member].role;
        let trouble = match (found, must) {
            (Found::Held { kind, other }, _) => {
                if self.is_joined(other, member, at) {
                    return true;
                }
                self.add_joint(kind, member, Some(other), along, name);
                return true;
            }
            (_, Must::MayBeHeld) => return false,
            (Found::NoJoint(other), _) => {
                format!("member `{role}` meets `{other}`, and no joint says what holds them")
            }
            (Found::Nothing, _) => {
                let trouble =
                    format!("member `{role}` ends or crosses where there is nothing to hold it");
                // One place will do: the others are mostly the same at the next bow.
                if (self.troubles.iter()).any(|said| said.what.starts_with(&trouble)) {
                    return false;
                }
                format!("{trouble}: {name}")
            }
        };
        self.trouble(At::role(self.members[member].rule), trouble);
        false
    }

    /// Whether a member that ends at a place has been held there already by another: two ends that meet, such as a post's
    /// top and the end of the rail on it, are one joint, though each looks for what holds it.
    fn is_joined(&self, member: usize, to: usize, at: Point) -> bool {
        let path = self.members[member].path;
        let near =
            |place: Point| (place.x - at.x).hypot(place.y - at.y).hypot(place.z - at.z) <= TOUCH;
        let ends = [0.0, path.length()].map(|along| path.at(&self.profile, along));
        ends.into_iter().any(near)
            && (self.joints.iter())
                .any(|joint| joint.member == member && joint.other == Some(to) && near(joint.at))
    }

    /// Where members meet: bows and posts, lines over bows or posts, uprights, levels, ties and struts.
    pub(crate) fn join_crossings(&mut self) {
        let family = self.family;
        let of = |member: &Member| &family.members[member.rule];
        for bow in self.indices(|m| of(m).bow.is_some()) {
            self.hold_bow(bow);
        }
        for line in self.indices(|m| of(m).along.is_some() && !of(m).loose) {
            self.hold_line(line);
        }
        for upright in self.indices(|m| of(m).upright.is_some()) {
            self.hold_upright(upright);
        }
        for level in self.indices(|m| of(m).level.is_some()) {
            self.hold_level(level);
        }
        for tie in self.indices(|m| of(m).across.is_some() || of(m).strut.is_some()) {
            let length = self.members[tie].path.length();
            let ends = match of(&self.members[tie]).across {
                Some(_) => SIDE_NAMES,
                None => ["one end", "other end"],
            };
            for (along, end) in [0.0, length].into_iter().zip(ends) {
                let name = format!("{}, {end}", self.members[tie].name);
                self.hold(tie, along, None, Must::BeHeld, name);
            }
        }
    }

    /// A bow stands in its posts, or on the ground.
    fn hold_bow(&mut self, bow: usize) {
        let Path::Arch { from, to, .. } = self.members[bow].path else {
            return;
        };
        for ((along, s), side) in [(0.0, from), (to - from, to)].into_iter().zip(SIDE_NAMES) {
            let name = format!("{}, {side}", self.members[bow].name);
            let at = self.members[bow].path.at(&self.profile, along);
            let foot = self.joint_for(Meeting::Foot, bow, at);
            let must = match foot {
                Some(_) => Must::MayBeHeld,
                None => Must::BeHeld,
            };
            if !self.hold(bow, along, Some(s), must, name.clone())
                && let Some(kind) = foot
            {
                self.add_joint(kind, bow, None, along, name);
            }
        }
    }

    /// A line along the house is held at every bow: by the bow, its post, or, off the profile, by what may be there.
    fn hold_line(&mut self, line: usize) {
        let Path::Straight(start, _) = self.members[line].path else {
            return;
        };
        let spot = self.family.members[self.members[line].rule].along.clone();
        let s = spot.filter(|spot| !matches!(spot, Spot::Point { .. }));
        let whose = self.members[line].role.clone();
        let at = At::member(self.members[line].rule).field("along");
        let s = s
            .map(|spot| self.along_profile(&spot, &at, &whose))
            .map(|s| {
                if start.x > NOTHING {
                    self.profile.length() - s
                } else {
                    s
                }
            });
        let must = match s {
            Some(_) => Must::BeHeld,
            None => Must::MayBeHeld,
        };
        let mut held = false;
        for bow in 0..self.stations.len() {
            let name = format!("{}, bow {}", self.members[line].name, bow + 1);
            held |= self.hold(line, self.stations[bow], s, must, name);
        }
        if !held && must == Must::MayBeHeld {
            let what =
                format!("member `{whose}` ends or crosses where there is nothing to hold it");
            self.trouble(at, what);
        }
    }

    fn hold_upright(&mut self, upright: usize) {
        let length = self.members[upright].path.length();
        let name = self.members[upright].name.clone();
        let rule = &self.family.members[self.members[upright].rule];
        let top = match rule.loose {
            true => Must::MayBeHeld,
            false => Must::BeHeld,
        };
        self.hold(upright, length, None, top, format!("{name}, top"));
        if rule.from_height.is_some() {
            self.hold(upright, 0.0, None, Must::BeHeld, format!("{name}, foot"));
        }
    }

    /// A level piece is held at both ends unless it is loose, and where it crosses uprights, if the family says by
    /// what. An upright that begins or ends on it is no crossing: it is held there already.
    fn hold_level(&mut self, level: usize) {
        let (path, name) = (self.members[level].path, self.members[level].name.clone());
        let length = path.length();
        let must = match self.family.members[self.members[level].rule].loose {
            true => Must::MayBeHeld,
            false => Must::BeHeld,
        };
        for (along, side) in [0.0, length].into_iter().zip(SIDE_NAMES) {
            self.hold(level, along, None, must, format!("{name}, {side}"));
        }
        let (start, end) = (path.at(&self.profile, 0.0), path.at(&self.profile, length));
        // An upright that begins or ends on the piece is held there by its own foot or top.
        let crossed = self.indices(|m| {
            let foot = m.path.at(&self.profile, 0.0);
            let top = m.path.at(&self.profile, m.path.length());
            self.family.members[m.rule].upright.is_some()
                && foot.z < start.z - TOUCH
                && top.z > start.z + TOUCH
                && foot.y == start.y
                && foot.x > start.x.min(end.x) + NOTHING
                && foot.x < start.x.max(end.x) - NOTHING
        });
        for upright in crossed {
            let x = self.members[upright].path.at(&self.profile, 0.0).x;
            let name = format!("{name} on {}", self.members[upright].name);
            self.hold(level, (x - start.x).abs(), None, Must::MayBeHeld, name);
        }
    }

    pub(crate) fn join_feet(&mut self) {
        let family = self.family;
        let on_ground = |member: &Member| {
            let rule = &family.members[member.rule];
            rule.upright.is_some() && rule.from_height.is_none()
        };
        for upright in self.indices(on_ground) {
            let name = format!("{}, foot", self.members[upright].name);
            let below = family.members[self.members[upright].rule].below_ground;
            let ground = below.unwrap_or_default().to_metres();
            self.join(Meeting::Foot, upright, None, ground, name);
        }
        for post in self.indices(|m| family.members[m.rule].post.is_some()) {
            let name = format!("{}, foot", self.members[post].name);
            self.join(Meeting::Foot, post, None, 0.0, name);
        }
    }

    /// What is fastened along a line, and what is at its two ends. Fastenings: one at either end, and between them
    /// as few as keep to the greatest gap.
    pub(crate) fn fasten_lines(&mut self) {
        for line in 0..self.members.len() {
            if self.is_full() {
                return;
            }
            let length = self.members[line].path.length();
            let name = self.members[line].name.clone();
            let start = self.members[line].path.at(&self.profile, 0.0);
            let every = self
                .joint_for(Meeting::Fastening, line, start)
                .and_then(|kind| Some((kind, self.family.joints[kind].every?)));
            if let Some((kind, every)) = every {
                let gaps = (length / every.to_metres() - NOTHING).ceil().max(1.0) as usize;
                for i in 0..=gaps {
                    let along = length * i as f64 / gaps as f64;
                    let place = format!("{name}, fastening {} of {}", i + 1, gaps + 1);
                    self.add_joint(kind, line, self.under(line, along), along, place);
                }
            }
            for (along, which) in [(0.0, "one end"), (length, "other end")] {
                self.join(Meeting::End, line, None, along, format!("{name}, {which}"));
            }
        }
    }

    /// The member that a line lies on at a place: what it follows, or, of a line that follows a bow on down past
    /// its foot, the post.
    fn under(&self, line: usize, along: f64) -> Option<usize> {
        let on = self.members[line].on?;
        let (Path::Arch { from: start, .. }, Path::Arch { y, from, to }) =
            (self.members[line].path, self.members[on].path)
        else {
            return Some(on);
        };
        let s = start + along;
        if (from - NOTHING..=to + NOTHING).contains(&s) {
            return Some(on);
        }
        let side = usize::from(self.profile.at(s).x > 0.0);
        self.post_at(y, side).or(Some(on))
    }
}
