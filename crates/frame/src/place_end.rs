//! Members laid in an end wall: uprights, level pieces, and what follows an end bow.

use measure::Length;

use crate::across::Across;
use crate::expand::{END_NAMES, LEFT, NOTHING, Raising, SIDE_NAMES};
use crate::family_place::At;
use crate::graph::{Path, Point};
use crate::place::{in_the_middle, mirrored, side_words};
use crate::rule_file::{ArchFile, LevelFile, MemberFile, Over, UprightFile};
use crate::where_file::Spot;

/// Uprights at a spacing end where they would be shorter than this, unless the family says otherwise.
const LEAST_UPRIGHT: Length = Length::inches(12);

impl Raising<'_> {
    pub(crate) fn place_at_end(&mut self, rule: usize, member: &MemberFile, end: usize) {
        if let Some(uprights) = &member.upright {
            self.place_uprights(rule, member, uprights, end);
        }
        if let Some(level) = &member.level {
            self.place_level(rule, member, level, end);
        }
        if let Some(arch) = &member.arch
            && arch.over == Over::EndBows
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
                self.trouble(
                    At::role(rule),
                    format!("member `{}` stands outside the house", member.role),
                );
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
                -self.across(&height, rule).x
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
        let from = self.along_profile(&arch.from, &At::member(rule).field("arch"), &member.role);
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
}
