//! A family and a settled order become a frame in space.

use std::collections::BTreeMap;

use measure::{Grid, Length};

use crate::cut::{self, Stock};
use crate::family::{Family, FamilyError, JointFile, MemberFile, Spot};
use crate::graph::{Frame, Hung, Joint, JointKind, Member, Path, Piece, Point};
use crate::order::{Order, Refusal, Settled};
use crate::part::{Mark, SubKit};
use crate::profile::Profile;
use crate::resolve::{Derived, resolve, whole_inch};

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

const FRONT: usize = 0;
const END_NAMES: [&str; 2] = ["front", "back"];
const SIDE_NAMES: [&str; 2] = ["left", "right"];

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
struct Raising<'a> {
    family: &'a Family,
    order: &'a Settled,
    profile: Profile,
    length: f64,
    members: Vec<Member>,
    pieces: Vec<Piece>,
    joints: Vec<Joint>,
    hung: Vec<Hung>,
    derived: Derived,
    troubles: Vec<String>,
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

    // ------------------------------------------------------------------ members

    fn place_members(&mut self) {
        let family = self.family;
        for (rule, member) in family.members.iter().enumerate() {
            if member.post.is_some() || member.bow.is_some() {
                self.place_at_stations(rule, member);
            } else if let Some(spot) = &member.along {
                self.place_along(rule, member, spot);
            } else if let Some(roles) = &member.follow {
                self.place_following(rule, member, roles);
            } else {
                for end in [FRONT, 1] {
                    if self.order.holds(&member.when, end) {
                        self.place_at_end(rule, member, end);
                    }
                }
            }
        }
    }

    fn add(&mut self, rule: usize, name: String, path: Path, on: Option<usize>) {
        let role = self.family.members[rule].role.clone();
        self.members.push(Member {
            role,
            name,
            path,
            on,
            rule,
        });
    }

    fn station(&self, bow: i64) -> f64 {
        (self.order.bow_spacing * bow).to_metres()
    }

    fn place_at_stations(&mut self, rule: usize, member: &MemberFile) {
        if !self.order.holds(&member.when, FRONT) {
            return;
        }
        let foot = self.post_top();
        for bow in 0..=self.order.bays {
            let y = self.station(bow);
            match (&member.post, &member.part) {
                (Some(post), Some(part)) => {
                    let long = self.stock_length(part);
                    let top = post.above_ground.to_metres();
                    for (side, x) in self.both_sides(self.profile.at(0.0).x) {
                        let path = Path::Straight(
                            Point {
                                x,
                                y,
                                z: top - long,
                            },
                            Point { x, y, z: top },
                        );
                        self.add(
                            rule,
                            format!("{}, bow {}, {side}", member.role, bow + 1),
                            path,
                            None,
                        );
                    }
                }
                _ => {
                    let path = Path::Arch {
                        y,
                        from: foot,
                        to: self.profile.length() - foot,
                    };
                    self.add(rule, format!("{} {}", member.role, bow + 1), path, None);
                }
            }
        }
    }

    /// How far along the profile the posts end and the bows begin.
    fn post_top(&self) -> f64 {
        (self.family.members.iter())
            .filter_map(|m| m.post.as_ref())
            .find_map(|post| self.profile.along_height(post.above_ground.to_metres()))
            .unwrap_or(0.0)
    }

    fn both_sides(&self, x: f64) -> [(&'static str, f64); 2] {
        [(SIDE_NAMES[0], -x.abs()), (SIDE_NAMES[1], x.abs())]
    }

    fn along_profile(&mut self, spot: &Spot, whose: &str) -> f64 {
        let found = match spot {
            Spot::Word(_) => Some(self.profile.half_length()),
            Spot::Share { of, share } => self.profile.along_link(of, *share),
            Spot::Height { height } => self.profile.along_height(height.to_metres()),
        };
        found.unwrap_or_else(|| {
            self.troubles
                .push(format!("member `{whose}`: its height is above the peak"));
            0.0
        })
    }

    fn place_along(&mut self, rule: usize, member: &MemberFile, spot: &Spot) {
        if !self.order.holds(&member.when, FRONT) {
            return;
        }
        let s = self.along_profile(spot, &member.role);
        let at = self.profile.at(s);
        let end = self.length;
        let line =
            |x: f64| Path::Straight(Point { x, y: 0.0, z: at.z }, Point { x, y: end, z: at.z });
        if matches!(spot, Spot::Word(_)) {
            let path = line(0.0);
            self.add(rule, member.role.clone(), path, None);
            return;
        }
        for (side, x) in self.both_sides(at.x) {
            let path = line(x);
            self.add(rule, format!("{}, {side}", member.role), path, None);
        }
    }

    fn end_y(&self, end: usize) -> f64 {
        if end == FRONT { 0.0 } else { self.length }
    }

    fn place_at_end(&mut self, rule: usize, member: &MemberFile, end: usize) {
        let y = self.end_y(end);
        let named = |what: &str| format!("{}, {}{what}", member.role, END_NAMES[end]);
        for x in member.upright.iter().flatten() {
            let Some(top) = self.profile.height_at(x.to_metres()) else {
                self.troubles
                    .push(format!("member `{}` stands outside the house", member.role));
                continue;
            };
            for (side, x) in self.both_sides(x.to_metres()) {
                let path = Path::Straight(Point { x, y, z: 0.0 }, Point { x, y, z: top });
                self.add(rule, named(&format!(", {side}")), path, None);
            }
        }
        if let Some(level) = &member.level {
            let (x, z) = (level.reach.to_metres(), level.height.to_metres());
            let path = Path::Straight(Point { x: -x, y, z }, Point { x, y, z });
            self.add(rule, named(""), path, None);
        }
        if let Some(arch) = &member.arch {
            let from = self.along_profile(&arch.from, &member.role);
            let path = Path::Arch {
                y,
                from,
                to: self.profile.length() - from,
            };
            let bow = self.members.iter().position(|m| {
                self.family.members[m.rule].bow.is_some()
                    && matches!(m.path, Path::Arch { y: at, .. } if at == y)
            });
            self.add(rule, named(""), path, bow);
        }
    }

    fn place_following(&mut self, rule: usize, member: &MemberFile, roles: &[String]) {
        if !self.order.holds(&member.when, FRONT) {
            return;
        }
        for index in 0..self.members.len() {
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

    // ------------------------------------------------------------------ pieces

    fn stock_length(&mut self, part: &str) -> f64 {
        let length = self.family.part_file(part).and_then(|p| p.length);
        length.map_or_else(
            || {
                self.troubles
                    .push(format!("part `{part}` needs a `length` where it is used"));
                0.0
            },
            Length::to_metres,
        )
    }

    /// Bows are cut at named points of the profile; the pieces' lengths follow.
    fn cut_bows(&mut self) {
        let family = self.family;
        for (rule, member) in family.members.iter().enumerate() {
            let Some(bow) = &member.bow else { continue };
            let foot = self.post_top();
            let mut cuts: Vec<(Mark, f64, f64)> = Vec::new();
            let mut from = foot;
            for piece in &bow.half {
                let to = self.along_profile(&piece.to, &member.role);
                if to <= from {
                    self.troubles.push(format!(
                        "member `{}`: piece `{}` has no length",
                        member.role, piece.part
                    ));
                }
                let swage = family
                    .part_file(&piece.part)
                    .map_or(Length::ZERO, |p| p.swage());
                self.derived
                    .length(&piece.part, to - from + swage.to_metres());
                cuts.push((Mark(piece.part.clone()), from, to));
                from = to;
            }
            let bows: Vec<usize> = (0..self.members.len())
                .filter(|i| self.members[*i].rule == rule)
                .collect();
            for member in bows {
                self.cut_bow(member, foot, &cuts);
            }
        }
    }

    fn cut_bow(&mut self, member: usize, foot: f64, cuts: &[(Mark, f64, f64)]) {
        let whole = self.profile.length();
        let name = self.members[member].name.clone();
        for (side, side_name) in SIDE_NAMES.iter().enumerate() {
            for (i, (mark, from, to)) in cuts.iter().enumerate() {
                let (from, to) = if side == 0 {
                    (*from, *to)
                } else {
                    (whole - to, whole - from)
                };
                let which = if cuts.len() > 1 {
                    format!(", piece {} from the foot", i + 1)
                } else {
                    String::new()
                };
                self.pieces.push(Piece {
                    mark: mark.clone(),
                    member,
                    from: from - foot,
                    to: to - foot,
                    cut_to: None,
                    name: format!("{name}, {side_name}{which}"),
                });
            }
        }
        let inner = cuts.iter().map(|(_, _, to)| *to).collect::<Vec<_>>();
        for to in &inner {
            self.join(
                Meeting::Splice,
                member,
                Some(member),
                *to - foot,
                name.clone(),
            );
            if *to < whole / 2.0 - 1e-9 {
                self.join(
                    Meeting::Splice,
                    member,
                    Some(member),
                    whole - to - foot,
                    name.clone(),
                );
            }
        }
    }

    /// All other members are cut from stock, in lines or one piece each.
    fn cut_lines(&mut self) {
        for member in 0..self.members.len() {
            let rule = &self.family.members[self.members[member].rule];
            let Some(part) = &rule.part else { continue };
            let length = self.members[member].path.length();
            if rule.level.is_some() {
                self.derived.length(part, length);
                self.whole(member, part, length, None);
            } else if rule.post.is_some() {
                self.whole(member, part, length, None);
            } else if rule.upright.is_some() {
                let stock = self.stock_length(part);
                if length > stock + 1e-6 {
                    self.troubles.push(format!(
                        "member `{}` is {length:.3} m long, and part `{part}` has only {stock:.3} m",
                        self.members[member].name
                    ));
                }
                let cut_to = (length < stock - 1e-6).then_some(length);
                self.whole(member, part, length, cut_to);
            } else {
                self.line(member, part, rule.lap, length);
            }
        }
    }

    fn whole(&mut self, member: usize, part: &str, length: f64, cut_to: Option<f64>) {
        let name = self.members[member].name.clone();
        self.pieces.push(Piece {
            mark: Mark(part.into()),
            member,
            from: 0.0,
            to: length,
            cut_to: cut_to.and_then(|m| Length::from_metres(m, Grid::SIXTEENTH)),
            name,
        });
    }

    fn line(&mut self, member: usize, part: &str, lap: Option<Length>, length: f64) {
        let swage = self
            .family
            .part_file(part)
            .map_or(Length::ZERO, |p| p.swage());
        let stock = Stock {
            overall: self.stock_length(part),
            overlap: lap.unwrap_or(swage).to_metres(),
            swaged: lap.is_none() && swage > Length::ZERO,
        };
        let Some(runs) = cut::line(length, stock) else {
            self.troubles
                .push(format!("part `{part}` is no longer than what it laps"));
            return;
        };
        let name = self.members[member].name.clone();
        let count = runs.len();
        for (i, run) in runs.iter().enumerate() {
            self.pieces.push(Piece {
                mark: Mark(part.into()),
                member,
                from: run.from,
                to: run.to,
                cut_to: run
                    .cut_to
                    .and_then(|m| Length::from_metres(m, Grid::SIXTEENTH)),
                name: format!("{name}, piece {} of {count}", i + 1),
            });
            if i > 0 {
                self.join(
                    Meeting::Splice,
                    member,
                    Some(member),
                    run.from,
                    format!("{name}, splice {i}"),
                );
            }
        }
    }

    // ------------------------------------------------------------------ joints

    fn join(
        &mut self,
        meeting: Meeting,
        member: usize,
        other: Option<usize>,
        along: f64,
        name: String,
    ) {
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
            None if meeting == Meeting::Crossing => {
                let other = other_role.unwrap_or("the ground");
                self.troubles.push(format!(
                    "member `{role}` meets `{other}`, and no joint says what holds them"
                ));
            }
            // Lines of channel and wire lie piece to piece with nothing between them.
            None => {}
        }
    }

    /// Where members cross: bows in posts, lines over bows or posts, uprights under end bows, headers on jambs.
    fn join_crossings(&mut self) {
        let family = self.family;
        let of = |member: &Member| &family.members[member.rule];
        let bows: Vec<usize> = self.indices(|m| of(m).bow.is_some());
        let posts: Vec<usize> = self.indices(|m| of(m).post.is_some());
        let foot = self.post_top();
        let foot_height = self.profile.at(foot).z;

        for (i, &bow) in bows.iter().enumerate() {
            for (side, &post) in posts.iter().skip(2 * i).take(2).enumerate() {
                let along = if side == 0 {
                    0.0
                } else {
                    self.members[bow].path.length()
                };
                let name = format!("{}, {}", self.members[bow].name, SIDE_NAMES[side]);
                self.join(Meeting::Crossing, bow, Some(post), along, name);
            }
        }
        for line in self.indices(|m| of(m).along.is_some()) {
            let Path::Straight(start, _) = self.members[line].path else {
                continue;
            };
            let on_posts = start.z < foot_height;
            for bow in 0..bows.len() {
                let other = match (on_posts, start.x > 0.0) {
                    (false, _) => bows.get(bow),
                    (true, right) => posts.get(2 * bow + usize::from(right)),
                };
                let name = format!("{}, bow {}", self.members[line].name, bow + 1);
                let y = self.station(bow as i64);
                self.join(Meeting::Crossing, line, other.copied(), y, name);
            }
        }
        for upright in self.indices(|m| of(m).upright.is_some()) {
            let end = self.members[upright].path.at(&self.profile, 0.0).y;
            let bow = if end == 0.0 {
                bows.first()
            } else {
                bows.last()
            };
            let (length, name) = (
                self.members[upright].path.length(),
                self.members[upright].name.clone(),
            );
            self.join(Meeting::Crossing, upright, bow.copied(), length, name);
        }
        for level in self.indices(|m| of(m).level.is_some()) {
            let length = self.members[level].path.length();
            for along in [0.0, length] {
                let at = self.members[level].path.at(&self.profile, along);
                let jamb = self
                    .indices(|m| of(m).upright.is_some())
                    .into_iter()
                    .find(|&u| {
                        let foot = self.members[u].path.at(&self.profile, 0.0);
                        (foot.x - at.x).abs() < 1e-6 && foot.y == at.y
                    });
                let name = self.members[level].name.clone();
                self.join(Meeting::Crossing, level, jamb, along, name);
            }
        }
    }

    fn indices(&self, holds: impl Fn(&Member) -> bool) -> Vec<usize> {
        (0..self.members.len())
            .filter(|&i| holds(&self.members[i]))
            .collect()
    }

    fn join_feet(&mut self) {
        for upright in self.indices(|m| self.family.members[m.rule].upright.is_some()) {
            let name = format!("{}, foot", self.members[upright].name);
            self.join(Meeting::Foot, upright, None, 0.0, name);
        }
    }

    fn fasten_lines(&mut self) {
        let family = self.family;
        for rule in &family.joints {
            let (Some(roles), Some(every)) = (&rule.fasten, rule.every) else {
                continue;
            };
            for line in self.indices(|m| roles.contains(&m.role)) {
                let length = self.members[line].path.length();
                let gaps = (length / every.to_metres() - 1e-9).ceil().max(1.0) as usize;
                let (on, name) = (self.members[line].on, self.members[line].name.clone());
                for i in 0..=gaps {
                    let along = length * i as f64 / gaps as f64;
                    self.join(
                        Meeting::Fastening,
                        line,
                        on,
                        along,
                        format!("{name}, fastening {}", i + 1),
                    );
                }
            }
        }
    }

    // ------------------------------------------------------------------ film and doors

    fn hang_skins(&mut self) {
        let family = self.family;
        for skin in &family.skins {
            let hung = |name: String, outline: Vec<Point>| Hung {
                role: skin.role.clone(),
                mark: Mark(skin.part.clone()),
                quantity: 1,
                name,
                outline,
                stage: skin.stage.clone(),
                sub_kit: SubKit::from(skin.sub_kit.as_str()),
            };
            if let Some(over) = &skin.over {
                if !self.order.holds(&skin.when, FRONT) {
                    continue;
                }
                let from = self.along_profile(&over.from, &skin.role);
                let across = self.profile.length() - 2.0 * from + 2.0 * over.grip.to_metres();
                let Some(roll) = skin
                    .roll_widths
                    .iter()
                    .copied()
                    .filter(|w| w.to_metres() >= across)
                    .min()
                else {
                    self.troubles.push(format!(
                        "skin `{}`: no roll is {across:.2} m wide",
                        skin.role
                    ));
                    continue;
                };
                self.derived.film(
                    &skin.part,
                    roll,
                    self.length + 2.0 * over.end_allowance.to_metres(),
                );
                let edge = |y: f64| Path::Arch {
                    y,
                    from,
                    to: self.profile.length() - from,
                };
                let mut outline = edge(0.0).points(&self.profile, 0.0, edge(0.0).length());
                outline.extend(
                    edge(self.length)
                        .points(&self.profile, 0.0, edge(0.0).length())
                        .into_iter()
                        .rev(),
                );
                self.hung.push(hung(skin.role.clone(), outline));
            }
            if let Some(film) = &skin.end {
                let grip = 2.0 * film.grip.to_metres();
                let width = family.profile.width.to_metres() + grip;
                let height = family.profile.height.to_metres() + grip;
                for end in [FRONT, 1] {
                    if self.order.holds(&skin.when, end) {
                        let width = Length::from_metres(width, whole_inch()).unwrap_or_default();
                        self.derived.film(&skin.part, width, height);
                        let arch = Path::Arch {
                            y: self.end_y(end),
                            from: 0.0,
                            to: self.profile.length(),
                        };
                        let outline = arch.points(&self.profile, 0.0, arch.length());
                        self.hung
                            .push(hung(format!("{}, {}", skin.role, END_NAMES[end]), outline));
                    }
                }
            }
        }
    }

    fn hang_fittings(&mut self) {
        for fitting in &self.family.fittings {
            let by_end = (fitting.when.keys()).any(|key| {
                self.family
                    .options
                    .iter()
                    .any(|o| o.key == *key && o.each_end)
            });
            for end in if by_end {
                &[FRONT, 1][..]
            } else {
                &[FRONT][..]
            } {
                if !self.order.holds(&fitting.when, *end) {
                    continue;
                }
                let name = if by_end {
                    format!("{}, {}", fitting.role, END_NAMES[*end])
                } else {
                    fitting.role.clone()
                };
                for (mark, quantity) in &fitting.parts {
                    self.hung.push(Hung {
                        role: fitting.role.clone(),
                        mark: Mark(mark.clone()),
                        quantity: *quantity,
                        name: name.clone(),
                        outline: Vec::new(),
                        stage: fitting.stage.clone(),
                        sub_kit: SubKit::from(fitting.sub_kit.as_str()),
                    });
                }
            }
        }
    }

    // ------------------------------------------------------------------ the frame

    fn finish(mut self, order: &Order) -> Result<Frame, ExpandError> {
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
        let mut used: BTreeMap<&Mark, ()> = BTreeMap::new();
        used.extend(self.pieces.iter().map(|p| (&p.mark, ())));
        used.extend(self.hung.iter().map(|h| (&h.mark, ())));
        for joint in &self.joints {
            used.extend(
                joint_kinds[joint.kind]
                    .hardware
                    .iter()
                    .map(|(mark, _)| (mark, ())),
            );
        }
        let parts = (self.family.parts.iter())
            .filter(|p| used.contains_key(&p.mark()))
            .filter_map(|p| {
                resolve(p, &self.derived, self.order.system)
                    .map_err(|e| self.troubles.push(e))
                    .ok()
            })
            .collect();
        if !self.troubles.is_empty() {
            self.troubles.dedup();
            return Err(FamilyError::Content(self.troubles).into());
        }
        Ok(Frame {
            title: order.name.clone(),
            length: self.order.length,
            width: self.family.profile.width,
            height: self.family.profile.height,
            bow_spacing: self.order.bow_spacing,
            bows: self.order.bays + 1,
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
}

/// How members come to a joint.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Meeting {
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
