//! Members laid along lines of the house: at the bows' stations, along the house, in the end walls.

use crate::expand::{BOTH_ENDS, END_NAMES, FRONT, NOTHING, Raising, SIDE_NAMES};
use crate::family::{MemberFile, PostFile, Spot};
use crate::graph::{Member, Path, Point};

impl Raising<'_> {
    pub(crate) fn place_members(&mut self) {
        let family = self.family;
        for (rule, member) in family.members.iter().enumerate() {
            if let (Some(post), Some(part)) = (&member.post, &member.part) {
                self.place_posts(rule, member, post, part);
            } else if member.bow.is_some() {
                self.place_bows(rule, member);
            } else if let Some(spot) = &member.along {
                self.place_along(rule, member, spot);
            } else if let Some(roles) = &member.follow {
                self.place_following(rule, member, roles);
            } else {
                for end in BOTH_ENDS {
                    if self.order.holds(&member.when, end) {
                        self.place_at_end(rule, member, end);
                    }
                }
            }
        }
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
        if !self.order.holds(&member.when, FRONT) {
            return;
        }
        let top = post.above_ground.to_metres();
        let Some(long) = self.stock_length(part) else {
            return;
        };
        let bottom = top - long;
        let leg = self.profile.at(0.0).x;
        for bow in 0..=self.order.bays {
            let y = self.station(bow);
            for (side, x) in both_sides(leg) {
                let path = Path::Straight(Point { x, y, z: bottom }, Point { x, y, z: top });
                let name = format!("{}, bow {}{side}", member.role, bow + 1);
                self.add(rule, name, path, None);
            }
        }
    }

    fn place_bows(&mut self, rule: usize, member: &MemberFile) {
        if !self.order.holds(&member.when, FRONT) {
            return;
        }
        let foot = self.post_top();
        for bow in 0..=self.order.bays {
            let path = self.arch(self.station(bow), foot);
            self.add(rule, format!("{} {}", member.role, bow + 1), path, None);
        }
    }

    fn place_along(&mut self, rule: usize, member: &MemberFile, spot: &Spot) {
        if !self.order.holds(&member.when, FRONT) {
            return;
        }
        let s = self.along_profile(spot, &member.role);
        let at = self.profile.at(s);
        for (side, x) in both_sides(at.x) {
            let point = |y: f64| Point { x, y, z: at.z };
            let path = Path::Straight(point(0.0), point(self.length));
            self.add(rule, format!("{}{side}", member.role), path, None);
        }
    }

    fn place_at_end(&mut self, rule: usize, member: &MemberFile, end: usize) {
        let y = self.end_y(end);
        let name = format!("{}, {}", member.role, END_NAMES[end]);
        for x in member.upright.iter().flatten() {
            let top = self.profile.height_at(x.to_metres());
            let Some(top) = top.filter(|top| *top > NOTHING) else {
                self.troubles
                    .push(format!("member `{}` stands outside the house", member.role));
                continue;
            };
            for (side, x) in both_sides(x.to_metres()) {
                let path = Path::Straight(Point { x, y, z: 0.0 }, Point { x, y, z: top });
                self.add(rule, format!("{name}{side}"), path, None);
            }
        }
        if let Some(level) = &member.level {
            let (x, z) = (level.reach.to_metres(), level.height.to_metres());
            let path = Path::Straight(Point { x: -x, y, z }, Point { x, y, z });
            self.add(rule, name.clone(), path, None);
        }
        if let Some(arch) = &member.arch {
            let from = self.along_profile(&arch.from, &member.role);
            let bow = self.members.iter().position(|m| {
                self.family.members[m.rule].bow.is_some()
                    && matches!(m.path, Path::Arch { y: at, .. } if at == y)
            });
            self.add(rule, name, self.arch(y, from), bow);
        }
    }

    fn place_following(&mut self, rule: usize, member: &MemberFile, roles: &[String]) {
        if !self.order.holds(&member.when, FRONT) {
            return;
        }
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
            if let (Path::Straight(_, top), Some(height)) = (&mut path, member.to_height) {
                top.z = top.z.min(height.to_metres());
            }
            let name = format!("{} on {}", member.role, followed.name);
            self.add(rule, name, path, Some(index));
        }
    }
}

/// Where a line `x` from the middle lies, left and right, with the words for it; once if it is the middle itself.
fn both_sides(x: f64) -> impl Iterator<Item = (String, f64)> {
    let sides = [(-x.abs(), SIDE_NAMES[0]), (x.abs(), SIDE_NAMES[1])];
    let in_the_middle = x.abs() < NOTHING;
    sides
        .into_iter()
        .take(if in_the_middle { 1 } else { 2 })
        .map(move |(x, side)| match in_the_middle {
            true => (String::new(), 0.0),
            false => (format!(", {side}"), x),
        })
}
