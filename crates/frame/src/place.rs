//! Members laid along lines of the house: at the bows' stations, along the house, over its bays.

use measure::Length;

use crate::across::Across;
use crate::expand::{BOTH_ENDS, BOTH_SIDES, FRONT, LEFT, NOTHING, Raising, SIDE_NAMES};
use crate::family_place::At;
use crate::graph::{Member, Path, Point};
use crate::meet::Index;
use crate::profile::Profile;
use crate::rule_file::{ArchFile, MemberFile, Over, PostFile, StrutFile, Towards};
use crate::where_file::Spot;
use crate::why;

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
            } else if let Some(arch) = (member.arch.as_ref()).filter(|a| a.over == Over::Bays) {
                self.place_over_bays(rule, member, arch);
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

    pub(crate) fn add(&mut self, rule: usize, name: String, path: Path, on: Option<usize>) {
        if self.is_full() {
            return;
        }
        if path.length() < NOTHING {
            self.trouble(
                At::role(rule),
                format!("member `{name}` has no length where it would lie"),
            );
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
            let [long, stock] = [long, stock].map(|metres| why::tape(metres, self.order.system));
            let what = format!(
                "member `{}` is {long} long, and part `{part}` has only {stock}",
                member.role
            );
            self.trouble(At::member(rule).field("post").field("long"), what);
            return;
        }
        let Some((top, up)) = post_line(&self.profile, post.above_ground.to_metres()) else {
            let what = format!(
                "member `{}` stands {} above the ground, higher than the profile is straight; {POST_HINT}",
                member.role,
                post.above_ground.tape(self.order.system)
            );
            let at = At::member(rule).field("post").field("above_ground");
            self.trouble(at, what);
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
            if self.is_on_a_post(rule, side, bow) {
                continue;
            }
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
        let post = self.post_at(y, side).map(|post| self.members[post].path);
        let top = post.map(|path| path.at(&self.profile, path.length()).z);
        top.and_then(|top| self.profile.along_height(top))
            .unwrap_or(0.0)
    }

    fn place_along(&mut self, rule: usize, member: &MemberFile, spot: &Spot) {
        let sides: Vec<usize> = (self.its_sides(member))
            .filter(|side| self.order.holds(&member.when, FRONT, *side))
            .collect();
        if sides.is_empty() {
            return;
        }
        let at = self.across(spot, rule);
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
        let at = self.across(spot, rule);
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
        let from = self.across(&strut.from.at, rule);
        let to = self.across(&strut.to.at, rule);
        let once = in_the_middle(from.x) && in_the_middle(to.x);
        for (side, bows) in stood {
            if once && side != LEFT {
                continue;
            }
            for bow in bows {
                let inward = match strut.towards {
                    Towards::Middle if 2 * bow > self.order.bays => -1,
                    _ => 1,
                };
                let station = |on: i64| {
                    let bow = usize::try_from(bow + inward * on).ok()?;
                    self.stations.get(bow).copied()
                };
                let (Some(a), Some(b)) = (station(strut.from.bow), station(strut.to.bow)) else {
                    // Towards the back, the last bows have no bay to go over.
                    if strut.towards == Towards::Back {
                        continue;
                    }
                    let what = format!(
                        "member `{}` reaches past the end of a house of {} bays",
                        member.role, self.order.bays
                    );
                    self.trouble(At::member(rule).field("strut"), what);
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

    /// Over the house half way along each bay.
    fn place_over_bays(&mut self, rule: usize, member: &MemberFile, arch: &ArchFile) {
        if !self.order.holds(&member.when, FRONT, LEFT) {
            return;
        }
        let at = At::member(rule).field("arch");
        let from = self.along_profile(&arch.from, &at, &member.role);
        let to = self.profile.length() - from;
        for bay in 1..self.stations.len() {
            let y = (self.stations[bay - 1] + self.stations[bay]) / 2.0;
            let name = format!("{}, bay {bay}", member.role);
            self.add(rule, name, Path::Arch { y, from, to }, None);
        }
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
            let stands = &self.family.members[followed.rule];
            if let Path::Straight(foot, top) = &mut path {
                if let Some(height) = member.to_height {
                    top.z = top.z.min(height.to_metres());
                }
                // What is on an upright does not go into the ground with it.
                if stands.upright.is_some() {
                    let from = member.from_height.unwrap_or_default().to_metres();
                    foot.z = foot.z.max(from).min(top.z);
                }
            }
            let name = format!("{} on {}", member.role, followed.name);
            self.add(rule, name, path, Some(index));
        }
    }
}

/// What to do about a post that would have to be bent.
pub(crate) const POST_HINT: &str =
    "let the profile begin with a straight link as high as that, or the post end on the ground";

/// How far a leg may bend away from the straight post that it stands in, in metres: an inch, of which there is that much
/// room between the tubes and in the ground (a design value of our own).
pub(crate) const POST_GIVES: f64 = 0.0254;

/// Where a post on the left ends, and the way up it points: along the profile's leg, or upright where it ends on the
/// ground. Nothing where the profile bends away from it by more than it gives.
pub(crate) fn post_line(profile: &Profile, above_ground: f64) -> Option<(Across, Across)> {
    let foot = profile.at(0.0);
    let s = profile.along_height(above_ground)?;
    let top = profile.at(s);
    let (dx, dz) = (top.x - foot.x, top.z - foot.z);
    let chord = dx.hypot(dz);
    if chord < NOTHING {
        return Some((foot, Across { x: 0.0, z: 1.0 }));
    }
    // What the leg bends over the post's length, a tube that stands in it gives.
    let gives = profile.bend(0.0, s).is_ok_and(|leg| leg.rise <= POST_GIVES);
    let up = Across {
        x: dx / chord,
        z: dz / chord,
    };
    gives.then_some((top, up))
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

pub(crate) fn side_words(x: f64, side: usize) -> String {
    match in_the_middle(x) {
        true => String::new(),
        false => format!(", {}", SIDE_NAMES[side]),
    }
}
