//! Skins and fittings: film over the house, its ends, its sides and the ground; doors and what else hangs on a place.

use std::collections::BTreeMap;
use std::sync::Arc;

use measure::{Grid, Length};

use crate::expand::{BOTH_ENDS, BOTH_SIDES, END_NAMES, FRONT, LEFT, Raising, SIDE_NAMES};
use crate::family_place::At;
use crate::graph::{Hung, Path, Point};
use crate::part::{Mark, SubKit};
use crate::resolve::whole_inch;
use crate::skin_file::{
    Bays, EdgeFile, EndSkinFile, FittingFile, GroundSkinFile, OverFile, SideSkinFile, SkinFile,
};
use crate::why;

/// The most strips that the ground is covered with.
const MOST_STRIPS: i64 = 1_000;

/// One sheet before it hangs.
struct Sheet {
    name: String,
    /// Across the roll, as needed.
    across: f64,
    /// Along the roll.
    long: f64,
    at: Point,
    outline: Vec<Point>,
    /// Why it is as wide and long as that.
    why: String,
}

impl Raising<'_> {
    pub(crate) fn hang_skins(&mut self) {
        let family = self.family;
        for skin in &family.skins {
            if let Some(over) = &skin.over
                && self.order.holds(&skin.when, FRONT, LEFT)
            {
                self.hang_cover(skin, over);
            }
            for end in BOTH_ENDS {
                if let Some(film) = &skin.end
                    && self.order.holds(&skin.when, end, LEFT)
                {
                    self.hang_end(skin, film, end);
                }
            }
            for side in BOTH_SIDES {
                if let Some(file) = &skin.side {
                    self.hang_side(skin, file, side);
                }
            }
            if let Some(ground) = &skin.ground
                && self.order.holds(&skin.when, FRONT, LEFT)
            {
                self.lay_ground(skin, ground);
            }
        }
    }

    fn skin_at(&self, skin: &SkinFile) -> At {
        let mut skins = self.family.skins.iter();
        let index = skins.position(|other| std::ptr::eq(other, skin));
        index.map_or(At::nowhere(), |index| At::rule("skin", index))
    }

    /// One sheet over the whole house, from the lowest line on the left to the lowest on the right.
    fn hang_cover(&mut self, skin: &SkinFile, over: &OverFile) {
        let at = self.skin_at(skin);
        let lines = BOTH_SIDES.map(|side| {
            let reach = (over.reaching.iter()).find(|r| self.order.holds(&r.when, FRONT, side));
            match reach {
                Some(reach) => (self.along_profile(&reach.from, &at, &skin.role), reach.wrap),
                None => (self.along_profile(&over.from, &at, &skin.role), over.grip),
            }
        });
        let [(left, left_more), (right, right_more)] = lines;
        let arc = self.profile.length() - left - right;
        let edge = |y: f64| {
            let arch = Path::Arch {
                y,
                from: left,
                to: self.profile.length() - right,
            };
            arch.points(&self.profile, 0.0, arch.length())
        };
        let mut outline = edge(0.0);
        outline.extend(edge(self.length).into_iter().rev());
        let sheet = Sheet {
            name: skin.role.clone(),
            across: arc + (left_more + right_more).to_metres(),
            long: self.length + 2.0 * over.end_allowance.to_metres(),
            at: Point {
                x: 0.0,
                y: self.length / 2.0,
                z: self.profile_file.height.to_metres(),
            },
            outline,
            why: why::cover(
                arc,
                [left_more, right_more],
                self.order.length,
                over.end_allowance,
                self.order.system,
            ),
        };
        self.hang(skin, sheet);
    }

    /// A sheet for one end wall: its bounding rectangle with a grip all round, trimmed in place.
    fn hang_end(&mut self, skin: &SkinFile, end_skin: &EndSkinFile, end: usize) {
        let grip = 2.0 * end_skin.grip.to_metres();
        let width = self.widest();
        let height = self.profile_file.height.to_metres();
        let arch = Path::Arch {
            y: self.end_y(end),
            from: 0.0,
            to: self.profile.length(),
        };
        let sheet = Sheet {
            name: format!("{}, {}", skin.role, END_NAMES[end]),
            across: width + grip,
            long: height + grip,
            at: Point {
                x: 0.0,
                y: self.end_y(end),
                z: height / 2.0,
            },
            outline: arch.points(&self.profile, 0.0, arch.length()),
            why: why::end_skin(width, height, end_skin.grip, self.order.system),
        };
        self.hang(skin, sheet);
    }

    /// The house at its widest, which of a bow of more than half a circle is over the ground.
    fn widest(&self) -> f64 {
        -2.0 * self.profile.at(self.profile.along_widest()).x
    }

    /// Sheets along one side, over all bays or over the first and the last.
    fn hang_side(&mut self, skin: &SkinFile, file: &SideSkinFile, side: usize) {
        let at = self.skin_at(skin).field("side");
        let low = self.along_profile(&file.from, &at.field("from"), &skin.role);
        let high = self.along_profile(&file.to, &at.field("to"), &skin.role);
        if high <= low {
            let what = format!(
                "skin `{}`: it goes from a place up to one that is not above it",
                skin.role
            );
            self.trouble(at, what);
            return;
        }
        let below = file.wrap.unwrap_or(file.grip);
        let last = self.stations.len() - 1;
        let stretches = match file.bays {
            Bays::All => vec![(0, last, String::new())],
            Bays::Ends => vec![
                (0, 1.min(last), format!(", {}", END_NAMES[0])),
                (last.saturating_sub(1), last, format!(", {}", END_NAMES[1])),
            ],
        };
        for (first, last, which) in stretches {
            let (from, to) = (self.stations[first], self.stations[last]);
            if !self
                .order
                .holds(&skin.when, self.end_of((from + to) / 2.0), side)
            {
                continue;
            }
            let corner = |s: f64, y: f64| {
                let at = self.profile.at(s);
                Point {
                    x: if side == LEFT { at.x } else { -at.x },
                    y,
                    z: at.z,
                }
            };
            let stretch = self.order.stations[last] - self.order.stations[first];
            let sheet = Sheet {
                name: format!("{}, {}{which}", skin.role, SIDE_NAMES[side]),
                across: high - low + (file.grip + below).to_metres(),
                long: to - from + 2.0 * file.end_allowance.to_metres(),
                at: corner((low + high) / 2.0, (from + to) / 2.0),
                outline: vec![
                    corner(low, from),
                    corner(high, from),
                    corner(high, to),
                    corner(low, to),
                ],
                why: why::cover(
                    high - low,
                    [file.grip, below],
                    stretch,
                    file.end_allowance,
                    self.order.system,
                ),
            };
            self.hang(skin, sheet);
        }
    }

    /// Strips along the house, as few as cover the ground with their laps.
    fn lay_ground(&mut self, skin: &SkinFile, ground: &GroundSkinFile) {
        let across = self.profile_file.width.to_metres() + 2.0 * ground.beyond.to_metres();
        let lap = ground.lap.to_metres();
        let strips = |roll: &Length| {
            let more = across - roll.to_metres();
            let step = roll.to_metres() - lap;
            (step > 0.01).then(|| 1 + (more.max(0.0) / step - 1e-9).ceil() as usize)
        };
        // The roll that wastes the least; of two the wider, which has fewer laps.
        let best = (skin.roll_widths.iter())
            .filter_map(|roll| Some((*roll * strips(roll)? as i64, std::cmp::Reverse(*roll))))
            .min();
        let Some((all, std::cmp::Reverse(roll))) = best else {
            let what = format!("skin `{}`: no roll is wider than its lap", skin.role);
            self.trouble(self.skin_at(skin).field("roll_widths"), what);
            return;
        };
        let count = all.as_nanometres() / roll.as_nanometres();
        if count > MOST_STRIPS {
            let what = format!(
                "skin `{}`: it would take {count} strips; at most {MOST_STRIPS} are laid",
                skin.role
            );
            self.trouble(self.skin_at(skin).field("roll_widths"), what);
            return;
        }
        let (half, roll_metres) = (across / 2.0, roll.to_metres());
        for strip in 0..count {
            let left = -half + (roll_metres - lap) * strip as f64;
            let right = (left + roll_metres).min(half);
            let corner = |x: f64, y: f64| Point { x, y, z: 0.0 };
            let sheet = Sheet {
                name: format!("{}, strip {} of {count}", skin.role, strip + 1),
                across: roll_metres,
                long: self.length + 2.0 * ground.end_allowance.to_metres(),
                at: corner((left + right) / 2.0, self.length / 2.0),
                outline: vec![
                    corner(left, 0.0),
                    corner(right, 0.0),
                    corner(right, self.length),
                    corner(left, self.length),
                ],
                why: why::ground(across, roll, ground.lap, count, self.order.system),
            };
            self.hang(skin, sheet);
        }
    }

    /// Hangs a sheet cut from the narrowest roll that is wide enough, or made to measure, and what holds its edge.
    fn hang(&mut self, skin: &SkinFile, sheet: Sheet) {
        let needed = Length::from_metres(sheet.across, Grid::SIXTEENTH).unwrap_or_default();
        let width = if skin.roll_widths.is_empty() {
            Length::from_metres(sheet.across, whole_inch())
        } else {
            let wide_enough = skin.roll_widths.iter().filter(|w| **w >= needed);
            wide_enough.min().copied()
        };
        let Some(width) = width else {
            let widest = skin.roll_widths.iter().max().copied().unwrap_or_default();
            let what = format!(
                "skin `{}`: it must be {} wide, and the widest roll is {}",
                skin.role,
                needed.tape(self.order.system),
                widest.tape(self.order.system)
            );
            self.trouble(self.skin_at(skin).field("roll_widths"), what);
            return;
        };
        self.derived.sheet(&skin.part, width, sheet.long);
        let why = sheet.why.clone() + &why::roll(needed, width, self.order.system);
        self.hung.push(Hung {
            role: skin.role.clone(),
            mark: Mark(skin.part.clone()),
            quantity: 1,
            name: sheet.name.clone(),
            at: sheet.at,
            outline: sheet.outline.clone(),
            stage: skin.stage.clone(),
            sub_kit: SubKit::from(skin.sub_kit.as_str()),
            why: why.into(),
        });
        if let Some(edge) = &skin.edge {
            self.hold_edge(skin, edge, width.to_metres(), &sheet);
        }
    }

    /// What holds the edge of a sheet, at most so far apart all round.
    fn hold_edge(&mut self, skin: &SkinFile, edge: &EdgeFile, width: f64, sheet: &Sheet) {
        let every = edge.every.to_metres();
        let gaps = |side: f64| (side / every - 1e-9).ceil().max(1.0) as i64;
        let around = 2 * (gaps(width) + gaps(sheet.long));
        let why: Arc<str> = why::edge(edge.every, around, self.order.system).into();
        let hung = Placed {
            role: &skin.role,
            name: format!("{}, edge", sheet.name),
            at: sheet.at,
            stage: edge.stage.as_ref().unwrap_or(&skin.stage),
            sub_kit: edge.sub_kit.as_ref().unwrap_or(&skin.sub_kit),
            why,
        };
        self.hang_parts(&edge.hardware, around, hung);
    }

    pub(crate) fn hang_fittings(&mut self) {
        let family = self.family;
        for fitting in &family.fittings {
            match &fitting.on {
                Some(roles) => self.hang_on_members(fitting, roles),
                None => self.hang_on_house(fitting),
            }
        }
    }

    fn hang_on_members(&mut self, fitting: &FittingFile, roles: &[String]) {
        for member in self.indices(|m| roles.contains(&m.role)) {
            let at = self.members[member].path.at(&self.profile, 0.0);
            let side = usize::from(at.x > 0.0);
            let at_its_bows = fitting.bows.is_all()
                || (self.bow_at(at.y)).is_some_and(|bow| fitting.bows.has(bow, self.order.bays));
            if at_its_bows && self.order.holds(&fitting.when, self.end_of(at.y), side) {
                let name = format!("{}, {}", fitting.role, self.members[member].name);
                self.hang_fitting(fitting, name, at);
            }
        }
    }

    /// Once for the house, or once for each end or side that its conditions are about.
    fn hang_on_house(&mut self, fitting: &FittingFile) {
        let by_end = self.family.is_by_end(&fitting.when);
        let by_side = fitting.per_side || self.family.is_by_side(&fitting.when);
        let half = self.profile_file.width.to_metres() / 2.0;
        let ends = BOTH_ENDS.into_iter().take(if by_end { 2 } else { 1 });
        for end in ends {
            for side in BOTH_SIDES.into_iter().take(if by_side { 2 } else { 1 }) {
                if !self.order.holds(&fitting.when, end, side) {
                    continue;
                }
                let mut name = fitting.role.clone();
                if by_end {
                    name += &format!(", {}", END_NAMES[end]);
                }
                if by_side {
                    name += &format!(", {}", SIDE_NAMES[side]);
                }
                let x = match (by_side, side) {
                    (false, _) => 0.0,
                    (true, LEFT) => -half,
                    _ => half,
                };
                // What is no end's own is drawn at none: a blower is no door in the front.
                let y = match by_end {
                    true => self.end_y(end),
                    false => self.length / 2.0,
                };
                let at = Point { x, y, z: 0.0 };
                self.hang_fitting(fitting, name, at);
            }
        }
    }

    fn hang_fitting(&mut self, fitting: &FittingFile, name: String, at: Point) {
        let placed = Placed {
            role: &fitting.role,
            name,
            at,
            stage: &fitting.stage,
            sub_kit: &fitting.sub_kit,
            why: why::fitting(fitting, self.family, self.order).into(),
        };
        self.hang_parts(&fitting.parts, 1, placed);
    }

    fn hang_parts(&mut self, parts: &BTreeMap<String, i64>, times: i64, placed: Placed) {
        for (mark, quantity) in parts {
            if self.is_full() {
                return;
            }
            self.hung.push(Hung {
                role: placed.role.into(),
                mark: Mark(mark.clone()),
                quantity: quantity * times,
                name: placed.name.clone(),
                at: placed.at,
                outline: Vec::new(),
                stage: placed.stage.into(),
                sub_kit: SubKit::from(placed.sub_kit),
                why: placed.why.clone(),
            });
        }
    }
}

/// Where parts hang, and why.
struct Placed<'a> {
    role: &'a str,
    name: String,
    at: Point,
    stage: &'a str,
    sub_kit: &'a str,
    why: Arc<str>,
}
