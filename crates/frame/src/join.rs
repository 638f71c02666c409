//! Joints: where members cross, stand on the ground, or are fastened along a line.

use crate::expand::{NOTHING, Raising, SIDE_NAMES};
use crate::family::JointFile;
use crate::graph::{Joint, Member, Path};

/// How members come to a joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Meeting {
    Crossing,
    Splice,
    Foot,
    Fastening,
}

impl Meeting {
    fn is(self, joint: &JointFile, role: &str, other: Option<&str>) -> bool {
        let holds = |roles: &Option<Vec<String>>| roles.iter().flatten().any(|r| r == role);
        match self {
            Meeting::Crossing => (joint.between.as_ref()).is_some_and(|[a, b]| {
                (a == role && other == Some(b)) || (b == role && other == Some(a))
            }),
            Meeting::Splice => joint.splice.as_deref() == Some(role),
            Meeting::Foot => holds(&joint.foot),
            Meeting::Fastening => holds(&joint.fasten),
        }
    }
}

impl Raising<'_> {
    pub(crate) fn join(
        &mut self,
        meeting: Meeting,
        member: usize,
        other: Option<usize>,
        along: f64,
        name: String,
    ) {
        if self.is_full() {
            return;
        }
        let role = &self.members[member].role;
        let other_role = other.map(|o| self.members[o].role.as_str());
        let kind = self
            .family
            .joints
            .iter()
            .position(|j| meeting.is(j, role, other_role));
        match kind {
            Some(kind) => {
                let at = self.members[member].path.at(&self.profile, along);
                self.joints.push(Joint {
                    kind,
                    member,
                    other,
                    at,
                    name,
                });
            }
            None if meeting == Meeting::Crossing => self.troubles.push(match other_role {
                Some(other) => {
                    format!("member `{role}` meets `{other}`, and no joint says what holds them")
                }
                None => {
                    format!("member `{role}` ends or crosses where there is nothing to hold it")
                }
            }),
            // Lines of channel and wire lie piece to piece with nothing between them.
            None => {}
        }
    }

    /// Where members cross: bows in posts, lines over bows or posts, uprights under end bows, headers on jambs.
    pub(crate) fn join_crossings(&mut self) {
        let family = self.family;
        let of = |member: &Member| &family.members[member.rule];
        let bows = self.indices(|m| of(m).bow.is_some());
        let posts = self.indices(|m| of(m).post.is_some());
        let uprights = self.indices(|m| of(m).upright.is_some());

        self.join_bows_and_posts(&bows, &posts);
        for line in self.indices(|m| of(m).along.is_some()) {
            self.join_line(line, &bows, &posts);
        }
        for &upright in &uprights {
            let end = self.members[upright].path.at(&self.profile, 0.0).y;
            let bow = if end == 0.0 {
                bows.first()
            } else {
                bows.last()
            };
            let length = self.members[upright].path.length();
            let name = format!("{}, top", self.members[upright].name);
            self.join(Meeting::Crossing, upright, bow.copied(), length, name);
        }
        for level in self.indices(|m| of(m).level.is_some()) {
            let length = self.members[level].path.length();
            for (along, side) in [0.0, length].into_iter().zip(SIDE_NAMES) {
                let at = self.members[level].path.at(&self.profile, along);
                let jamb = uprights.iter().copied().find(|&u| {
                    let path = &self.members[u].path;
                    let (foot, length) = (path.at(&self.profile, 0.0), path.length());
                    (foot.x - at.x).abs() < NOTHING && foot.y == at.y && at.z <= length + NOTHING
                });
                let name = format!("{}, {side}", self.members[level].name);
                self.join(Meeting::Crossing, level, jamb, along, name);
            }
        }
    }

    /// Every bow stands in its two posts, which were placed bow by bow, left then right.
    fn join_bows_and_posts(&mut self, bows: &[usize], posts: &[usize]) {
        for (&bow, pair) in bows.iter().zip(posts.chunks(2)) {
            let ends = [0.0, self.members[bow].path.length()];
            for ((&post, along), side) in pair.iter().zip(ends).zip(SIDE_NAMES) {
                let name = format!("{}, {side}", self.members[bow].name);
                self.join(Meeting::Crossing, bow, Some(post), along, name);
            }
        }
    }

    /// A line along the house meets every bow, or, below the bows, the posts of its side.
    fn join_line(&mut self, line: usize, bows: &[usize], posts: &[usize]) {
        let Path::Straight(start, _) = self.members[line].path else {
            return;
        };
        let on_posts = start.z < self.profile.at(self.post_top()).z;
        for bow in 0..bows.len() {
            let other = if on_posts {
                posts.get(2 * bow + usize::from(start.x > 0.0))
            } else {
                bows.get(bow)
            };
            let name = format!("{}, bow {}", self.members[line].name, bow + 1);
            let y = self.station(bow as i64);
            self.join(Meeting::Crossing, line, other.copied(), y, name);
        }
    }

    pub(crate) fn join_feet(&mut self) {
        for upright in self.indices(|m| self.family.members[m.rule].upright.is_some()) {
            let name = format!("{}, foot", self.members[upright].name);
            self.join(Meeting::Foot, upright, None, 0.0, name);
        }
    }

    /// Fastenings along a line: one at either end, and between them as few as keep to the greatest gap.
    pub(crate) fn fasten_lines(&mut self) {
        let family = self.family;
        for rule in &family.joints {
            let (Some(roles), Some(every)) = (&rule.fasten, rule.every) else {
                continue;
            };
            for line in self.indices(|m| roles.contains(&m.role)) {
                if self.is_full() {
                    return;
                }
                let length = self.members[line].path.length();
                let gaps = (length / every.to_metres() - NOTHING).ceil().max(1.0) as usize;
                let name = self.members[line].name.clone();
                for i in 0..=gaps {
                    let along = length * i as f64 / gaps as f64;
                    let place = format!("{name}, fastening {} of {}", i + 1, gaps + 1);
                    self.join(
                        Meeting::Fastening,
                        line,
                        self.under(line, along),
                        along,
                        place,
                    );
                }
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
        let x = self.profile.at(s).x;
        let post = self.members.iter().position(|m| {
            let stands_there = |foot: crate::graph::Point| foot.y == y && foot.x * x > 0.0;
            self.family.members[m.rule].post.is_some()
                && stands_there(m.path.at(&self.profile, 0.0))
        });
        post.or(Some(on))
    }
}
