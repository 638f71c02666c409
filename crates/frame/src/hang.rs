//! Skins and fittings: film over the house and the ends, doors.

use measure::Length;

use crate::expand::{BOTH_ENDS, END_NAMES, FRONT, Raising};
use crate::family::{EndFilmFile, FittingFile, OverFile, SkinFile};
use crate::graph::{Hung, Point};
use crate::part::{Mark, SubKit};
use crate::resolve::whole_inch;

impl Raising<'_> {
    pub(crate) fn hang_skins(&mut self) {
        let family = self.family;
        for skin in &family.skins {
            if let Some(over) = &skin.over
                && self.order.holds(&skin.when, FRONT)
            {
                self.hang_cover(skin, over);
            }
            for end in BOTH_ENDS {
                if let Some(film) = &skin.end
                    && self.order.holds(&skin.when, end)
                {
                    self.hang_end_film(skin, film, end);
                }
            }
        }
    }

    /// One sheet over the whole house, of the narrowest roll that reaches over the arc with its grips.
    fn hang_cover(&mut self, skin: &SkinFile, over: &OverFile) {
        let from = self.along_profile(&over.from, &skin.role);
        let across = self.profile.length() - 2.0 * from + 2.0 * over.grip.to_metres();
        let wide_enough = skin.roll_widths.iter().filter(|w| w.to_metres() >= across);
        let Some(roll) = wide_enough.min() else {
            self.troubles.push(format!(
                "skin `{}`: no roll is {across:.2} m wide",
                skin.role
            ));
            return;
        };
        let long = self.length + 2.0 * over.end_allowance.to_metres();
        self.derived.film(&skin.part, *roll, long);
        let edge = |y: f64| {
            let arch = self.arch(y, from);
            arch.points(&self.profile, 0.0, arch.length())
        };
        let mut outline = edge(0.0);
        outline.extend(edge(self.length).into_iter().rev());
        let at = Point {
            x: 0.0,
            y: self.length / 2.0,
            z: self.family.profile.height.to_metres(),
        };
        self.hung.push(film(skin, skin.role.clone(), at, outline));
    }

    /// A sheet for one end wall: its bounding rectangle with a grip all round, trimmed in place.
    fn hang_end_film(&mut self, skin: &SkinFile, end_film: &EndFilmFile, end: usize) {
        let grip = 2.0 * end_film.grip.to_metres();
        let width = self.family.profile.width.to_metres() + grip;
        let height = self.family.profile.height.to_metres();
        let width = Length::from_metres(width, whole_inch()).unwrap_or_default();
        self.derived.film(&skin.part, width, height + grip);
        let arch = self.arch(self.end_y(end), 0.0);
        let outline = arch.points(&self.profile, 0.0, arch.length());
        let at = Point {
            x: 0.0,
            y: self.end_y(end),
            z: height / 2.0,
        };
        let name = format!("{}, {}", skin.role, END_NAMES[end]);
        self.hung.push(film(skin, name, at, outline));
    }

    pub(crate) fn hang_fittings(&mut self) {
        let family = self.family;
        for fitting in &family.fittings {
            if !family.is_by_end(&fitting.when) {
                if self.order.holds(&fitting.when, FRONT) {
                    self.hang_fitting(fitting, fitting.role.clone(), FRONT);
                }
                continue;
            }
            for end in BOTH_ENDS {
                if self.order.holds(&fitting.when, end) {
                    let name = format!("{}, {}", fitting.role, END_NAMES[end]);
                    self.hang_fitting(fitting, name, end);
                }
            }
        }
    }

    fn hang_fitting(&mut self, fitting: &FittingFile, name: String, end: usize) {
        for (mark, quantity) in &fitting.parts {
            self.hung.push(Hung {
                role: fitting.role.clone(),
                mark: Mark(mark.clone()),
                quantity: *quantity,
                name: name.clone(),
                at: Point {
                    x: 0.0,
                    y: self.end_y(end),
                    z: 0.0,
                },
                outline: Vec::new(),
                stage: fitting.stage.clone(),
                sub_kit: SubKit::from(fitting.sub_kit.as_str()),
            });
        }
    }
}

fn film(skin: &SkinFile, name: String, at: Point, outline: Vec<Point>) -> Hung {
    Hung {
        role: skin.role.clone(),
        mark: Mark(skin.part.clone()),
        quantity: 1,
        name,
        at,
        outline,
        stage: skin.stage.clone(),
        sub_kit: SubKit::from(skin.sub_kit.as_str()),
    }
}
