//! Members laid along lines of the house: at the bows' stations, along the house, in the end walls.

use measure::Length;

use crate::across::Across;
use crate::expand::{BOTH_ENDS, BOTH_SIDES, END_NAMES, FRONT, LEFT, NOTHING, Raising, SIDE_NAMES};
use crate::graph::{Member, Path, Point};
use crate::meet::Index;
use crate::profile::Profile;
use crate::rule_file::{ArchFile, LevelFile, MemberFile, PostFile, StrutFile, UprightFile};
use crate::where_file::Spot;

/// Uprights at a spacing end where they would be shorter than this, unless the family says otherwise.
const LEAST_UPRIGHT: Length = Length::inches(12);

impl Raising<'_> {
    pub(crate) fn place_members(&mut self) {
        let family = self.family;
        // Bows begin where posts end, so that posts go first wherever the file has them.
        for (rule, member) in family.members.iter().enumerate() {
            if let (Some(post), Some(part)) = (&member.post, &member.part) {
                self.place_posts(rule, member, post, part);
            }
        }
        for (rule, member) in family.members.iter().enumerate() {
            if member.post.is_some() {
                continue;
            } else if member.bow.is_some() {
                self.place_bows(rule, member);
            } else if let Some(spot) = &member.along {
                self.place_along(rule, member, spot);
            } else if let Some(spot) = &member.across {
                self.place_across(rule, member, spot);
            } else if let Some(strut) = &member.strut {
                self.place_struts(rule, member, strut);
            } else if let Some(roles) = &member.follow {
                self.place_following(rule, member, roles);
            } else {
                for end in BOTH_ENDS {
                    self.place_at_end(rule, member, end);
                }
            }
        }
        self.index = Index::of(&self.members);
    }

    fn add(&mut self, rule: usize, name: String, path: Path, on: Option<usize>) {
        if self.is_full() {
            return;
        }
        if path.length() < NOTHING {
            self.troubles
                .push(format!("member `{name}` has no length where it would lie"));
            return;
        }
        let role = self.family.members[rule].role.clone();
        self.members.push(Member {
            role,
            name,
            path,
            on,
            rule,
        });
    }

    fn place_posts(&mut self, rule: usize, member: &MemberFile, post: &PostFile, part: &str) {
        let Some(stock) = self.stock_length(part) else {
            return;
        };
        let mut stood: Vec<(i64, usize)> = self
            .its_sides(member)
            .flat_map(|side| {
                let bows = self.its_bows(rule, side);
                bows.into_iter().map(move |bow| (bow, side))
            })
            .collect();
        stood.sort_unstable();
        // Of several heights of posts, those that are not ordered need not fit the profile that is.
        if stood.is_empty() {
            return;
        }
        let long = post.long.map_or(stock, Length::to_metres);
        if long > stock + NOTHING {
            self.troubles.push(format!(
                "member `{}` is {long:.3} m long, and part `{part}` has only {stock:.3} m",
                member.role
            ));
            return;
        }
        let Some((top, up)) = post_line(&self.profile, post.above_ground.to_metres()) else {
            self.troubles.push(format!(
                "member `{}` stands {} above the ground, higher than the profile is straight; {POST_HINT}",
                member.role,
                post.above_ground.tape(self.order.system)
            ));
            return;
        };
        let bottom = Across {
            x: top.x - up.x * long,
            z: top.z - up.z * long,
        };
        for (bow, side) in stood {
            if !self.is_free(rule, bow, side) {
                continue;
            }
            let y = self.stations[bow as usize];
            let point = |at: Across| {
                let Across { x, z } = mirrored(at, side);
                Point { x, y, z }
            };
            let path = Path::Straight(point(bottom), point(top));
            let name = format!("{}, bow {}, {}", member.role, bow + 1, SIDE_NAMES[side]);
            self.add(rule, name, path, None);
        }
    }

    fn place_bows(&mut self, rule: usize, member: &MemberFile) {
        for bow in self.its_bows(rule, LEFT) {
            if !self.is_free(rule, bow, LEFT) {
                continue;
            }
            let y = self.stations[bow as usize];
            let [left, right] = BOTH_SIDES.map(|side| self.foot(y, side));
            let path = Path::Arch {
                y,
                from: left,
                to: self.profile.length() - right,
            };
            self.add(rule, format!("{} {}", member.role, bow + 1), path, None);
        }
    }

    /// How far along the profile a bow begins: where its post ends, or on the ground.
    pub(crate) fn foot(&self, y: f64, side: usize) -> f64 {
        let post = (self.members.iter())
            .filter(|m| self.family.members[m.rule].post.is_some())
            .find_map(|m| match m.path {
                Path::Straight(_, top) if top.y == y && (top.x > 0.0) == (side != LEFT) => {
                    Some(top.z)
                }
                _ => None,
            });
        post.and_then(|top| self.profile.along_height(top))
            .unwrap_or(0.0)
    }

    fn place_along(&mut self, rule: usize, member: &MemberFile, spot: &Spot) {
        let sides: Vec<usize> = (self.its_sides(member))
            .filter(|side| self.order.holds(&member.when, FRONT, *side))
            .collect();
        if sides.is_empty() {
            return;
        }
        let (at, _) = self.across(spot, &member.role);
        for side in sides {
            if in_the_middle(at.x) && side != LEFT && member.sides.has(LEFT) {
                continue;
            }
            let Across { x, z } = mirrored(at, side);
            let path = Path::Straight(
                Point { x, y: 0.0, z },
                Point {
                    x,
                    y: self.length,
                    z,
                },
            );
            self.add(
                rule,
                format!("{}{}", member.role, side_words(x, side)),
                path,
                None,
            );
        }
    }

    fn place_across(&mut self, rule: usize, member: &MemberFile, spot: &Spot) {
        let bows = self.its_bows(rule, LEFT);
        if bows.is_empty() {
            return;
        }
        let (at, _) = self.across(spot, &member.role);
        for bow in bows {
            let y = self.stations[bow as usize];
            let path = Path::Straight(
                Point {
                    x: at.x,
                    y,
                    z: at.z,
                },
                Point {
                    x: -at.x,
                    y,
                    z: at.z,
                },
            );
            self.add(
                rule,
                format!("{}, bow {}", member.role, bow + 1),
                path,
                None,
            );
        }
    }

    fn place_struts(&mut self, rule: usize, member: &MemberFile, strut: &StrutFile) {
        let stood: Vec<(usize, Vec<i64>)> = (self.its_sides(member))
            .map(|side| (side, self.its_bows(rule, side)))
            .filter(|(_, bows)| !bows.is_empty())
            .collect();
        if stood.is_empty() {
            return;
        }
        let (from, _) = self.across(&strut.from.at, &member.role);
        let (to, _) = self.across(&strut.to.at, &member.role);
        let once = in_the_middle(from.x) && in_the_middle(to.x);
        for (side, bows) in stood {
            if once && side != LEFT {
                continue;
            }
            for bow in bows {
                let inward = if 2 * bow <= self.order.bays { 1 } else { -1 };
                let station = |on: i64| {
                    let bow = usize::try_from(bow + inward * on).ok()?;
                    self.stations.get(bow).copied()
                };
                let (Some(a), Some(b)) = (station(strut.from.bow), station(strut.to.bow)) else {
                    self.troubles.push(format!(
                        "member `{}` reaches past the end of a house of {} bays",
                        member.role, self.order.bays
                    ));
                    continue;
                };
                let point = |at: Across, y: f64| {
                    let Across { x, z } = mirrored(at, side);
                    Point { x, y, z }
                };
                let path = Path::Straight(point(from, a), point(to, b));
                let name = format!("{}, bow {}", member.role, bow + 1);
                let side = if once {
                    String::new()
                } else {
                    format!(", {}", SIDE_NAMES[side])
                };
                self.add(rule, name + &side, path, None);
            }
        }
    }

    fn place_at_end(&mut self, rule: usize, member: &MemberFile, end: usize) {
        if let Some(uprights) = &member.upright {
            self.place_uprights(rule, member, uprights, end);
        }
        if let Some(level) = &member.level {
            self.place_level(rule, member, level, end);
        }
        if let Some(arch) = &member.arch
            && self.order.holds(&member.when, end, LEFT)
        {
            self.place_arch(rule, member, arch, end);
        }
    }

    fn place_uprights(
        &mut self,
        rule: usize,
        member: &MemberFile,
        uprights: &UprightFile,
        end: usize,
    ) {
        if !(self.its_sides(member)).any(|side| self.order.holds(&member.when, end, side)) {
            return;
        }
        let y = self.end_y(end);
        let foot = match (member.from_height, member.below_ground) {
            (Some(from), _) => from.to_metres(),
            (None, below) => -below.unwrap_or_default().to_metres(),
        };
        let stand = self.where_uprights_stand(uprights, foot);
        for x in &stand {
            let under = self.profile.height_at(x.to_metres());
            let top = match member.to_height {
                Some(height) => under.map(|under| under.min(height.to_metres())),
                None => under,
            };
            let Some(top) = top.filter(|top| *top > foot.max(0.0) + NOTHING) else {
                self.troubles
                    .push(format!("member `{}` stands outside the house", member.role));
                continue;
            };
            for side in self.its_sides(member) {
                let middle = in_the_middle(x.to_metres());
                let twice = middle && side != LEFT && member.sides.has(LEFT);
                if twice || !self.order.holds(&member.when, end, side) {
                    continue;
                }
                let at = Across {
                    x: -x.to_metres(),
                    z: top,
                };
                let Across { x: across, z } = mirrored(at, side);
                let path = Path::Straight(
                    Point {
                        x: across,
                        y,
                        z: foot,
                    },
                    Point { x: across, y, z },
                );
                let mut name = format!("{}, {}", member.role, END_NAMES[end]);
                if stand.len() > 1 {
                    name += &format!(", {} from the middle", x.tape(self.order.system));
                }
                self.add(rule, name + &side_words(across, side), path, None);
            }
        }
    }

    /// Distances from the middle.
    fn where_uprights_stand(&self, uprights: &UprightFile, foot: f64) -> Vec<Length> {
        match uprights {
            UprightFile::List(list) => list.clone(),
            UprightFile::Spaced(spaced) => {
                let least = spaced.least_height.unwrap_or(LEAST_UPRIGHT).to_metres();
                let half = self.profile_file.width.to_metres() / 2.0;
                (0..)
                    .map(|i| spaced.start + spaced.every * i)
                    .take_while(|x| x.to_metres() < half - NOTHING)
                    .take_while(|x| {
                        let top = self.profile.height_at(x.to_metres());
                        top.is_some_and(|top| top - foot.max(0.0) >= least)
                    })
                    .collect()
            }
        }
    }

    fn place_level(&mut self, rule: usize, member: &MemberFile, level: &LevelFile, end: usize) {
        let (y, z) = (self.end_y(end), level.height.to_metres());
        let name = format!("{}, {}", member.role, END_NAMES[end]);
        let reach = match level.reach {
            Some(reach) => reach.to_metres(),
            None => {
                let height = Spot::Height {
                    height: level.height,
                };
                -self.across(&height, &member.role).0.x
            }
        };
        let Some(from) = level.from.map(Length::to_metres) else {
            if self.order.holds(&member.when, end, LEFT) {
                let path = Path::Straight(Point { x: -reach, y, z }, Point { x: reach, y, z });
                self.add(rule, name, path, None);
            }
            return;
        };
        for side in self.its_sides(member) {
            if self.order.holds(&member.when, end, side) {
                let sign = if side == LEFT { -1.0 } else { 1.0 };
                let path = Path::Straight(
                    Point {
                        x: sign * from,
                        y,
                        z,
                    },
                    Point {
                        x: sign * reach,
                        y,
                        z,
                    },
                );
                self.add(rule, format!("{name}, {}", SIDE_NAMES[side]), path, None);
            }
        }
    }

    fn place_arch(&mut self, rule: usize, member: &MemberFile, arch: &ArchFile, end: usize) {
        let y = self.end_y(end);
        let from = self.along_profile(&arch.from, &member.role);
        let bow = self.members.iter().position(|m| {
            self.family.members[m.rule].bow.is_some()
                && matches!(m.path, Path::Arch { y: at, .. } if at == y)
        });
        let path = Path::Arch {
            y,
            from,
            to: self.profile.length() - from,
        };
        let name = format!("{}, {}", member.role, END_NAMES[end]);
        self.add(rule, name, path, bow);
    }

    fn place_following(&mut self, rule: usize, member: &MemberFile, roles: &[String]) {
        // Only what was there before; what is added here is followed by later rules.
        for index in 0..self.members.len() {
            if self.is_full() {
                return;
            }
            let followed = &self.members[index];
            if !roles.contains(&followed.role) {
                continue;
            }
            let mut path = followed.path;
            let start = path.at(&self.profile, 0.0);
            let (end, side) = (self.end_of(start.y), usize::from(start.x > 0.0));
            let has_side = in_the_middle(start.x) || member.sides.has(side);
            if !has_side || !self.order.holds(&member.when, end, side) {
                continue;
            }
            if let (Path::Straight(_, top), Some(height)) = (&mut path, member.to_height) {
                top.z = top.z.min(height.to_metres());
            }
            let name = format!("{} on {}", member.role, followed.name);
            self.add(rule, name, path, Some(index));
        }
    }
}

/// What to do about a post that would have to be bent.
pub(crate) const POST_HINT: &str =
    "let the profile begin with a straight link as high as that, or the post end on the ground";

/// Where a post on the left ends, and the way up it points: along the profile's leg, or upright where it ends on the
/// ground. Nothing where the profile is not straight as far up as that.
pub(crate) fn post_line(profile: &Profile, above_ground: f64) -> Option<(Across, Across)> {
    let foot = profile.at(0.0);
    let s = profile.along_height(above_ground)?;
    let top = profile.at(s);
    let (dx, dz) = (top.x - foot.x, top.z - foot.z);
    let chord = dx.hypot(dz);
    if chord < NOTHING {
        return Some((foot, Across { x: 0.0, z: 1.0 }));
    }
    // An arc is longer than its chord.
    let straight = s - chord < NOTHING;
    let up = Across {
        x: dx / chord,
        z: dz / chord,
    };
    straight.then_some((top, up))
}

pub(crate) fn in_the_middle(x: f64) -> bool {
    x.abs() < NOTHING
}

/// A place of the left half on the side wanted.
pub(crate) fn mirrored(at: Across, side: usize) -> Across {
    let x = match (in_the_middle(at.x), side) {
        (true, _) => 0.0,
        (_, LEFT) => at.x,
        _ => -at.x,
    };
    Across { x, z: at.z }
}

fn side_words(x: f64, side: usize) -> String {
    match in_the_middle(x) {
        true => String::new(),
        false => format!(", {}", SIDE_NAMES[side]),
    }
}
