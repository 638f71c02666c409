//! Whether the measures of a family file are ones that a house could have.

use std::ops::RangeInclusive;

use measure::{Length, Mass};

use crate::expand::feet_inch;
use crate::family::{MemberFile, PartFile};
use crate::family_check::Check;
use crate::part::End;

pub(crate) const HOUSE_LENGTH: RangeInclusive<Length> =
    Length::inches(1)..=Length::millimetres(1_000_000);
pub(crate) const SMALL: RangeInclusive<Length> =
    Length::nanometres(1)..=Length::millimetres(10_000);
pub(crate) const IN_THE_HOUSE: RangeInclusive<Length> =
    Length::nanometres(1)..=Length::millimetres(100_000);
pub(crate) const MAY_BE_NOTHING: RangeInclusive<Length> =
    Length::ZERO..=Length::millimetres(100_000);
/// Fastenings nearer to each other than an inch are none.
pub(crate) const APART: RangeInclusive<Length> = Length::inches(1)..=Length::millimetres(100_000);

impl Check<'_> {
    /// Says so unless a measure is left out or one that a house could have.
    pub(crate) fn measures(
        &mut self,
        whose: &str,
        field: &str,
        measure: Option<Length>,
        range: RangeInclusive<Length>,
    ) {
        if measure.is_some_and(|measure| !range.contains(&measure)) {
            let least = match *range.start() {
                Length::ZERO => "nothing".into(),
                least if least < Length::inches(1) => "more than nothing".into(),
                least => feet_inch(least),
            };
            self.say(format!(
                "{whose}: `{field}` must be from {least} to {} m",
                range.end().to_metres()
            ));
        }
    }

    pub(crate) fn measures_of(&mut self, part: &PartFile) {
        let whose = format!("part `{}`", part.mark);
        if let Some(tube) = &part.tube {
            self.measures(&whose, "outside", Some(tube.outside), SMALL);
            self.measures(&whose, "wall", Some(tube.wall), SMALL);
            if tube.wall.to_metres() * 2.0 >= tube.outside.to_metres() {
                self.say(format!("{whose}: the wall leaves the tube no inside"));
            }
        }
        if let Some(channel) = &part.channel {
            self.measures(&whose, "width", Some(channel.width), SMALL);
            self.measures(&whose, "depth", Some(channel.depth), SMALL);
            self.measures(&whose, "strip", Some(channel.strip), SMALL);
            self.measures(&whose, "thickness", Some(channel.thickness), SMALL);
        }
        self.measures(&whose, "wire", part.wire, SMALL);
        self.measures(&whose, "film", part.film, SMALL);
        let diameter = part.fastener.as_ref().map(|f| f.diameter);
        self.measures(&whose, "diameter", diameter, SMALL);
        self.measures(&whose, "length", part.length, IN_THE_HOUSE);
        for end in part.ends.iter().flatten() {
            if let End::Swaged(over) = end {
                self.measures(&whose, "ends", Some(*over), SMALL);
            }
        }
        if part.mass.is_some_and(|mass| mass <= Mass::ZERO) {
            self.say(format!("{whose}: its `mass` must be more than nothing"));
        }
    }

    pub(crate) fn measures_where(&mut self, member: &MemberFile, whose: &str) {
        if let Some(post) = &member.post {
            let above = post.above_ground;
            self.measures(whose, "above_ground", Some(above), IN_THE_HOUSE);
            let links = self.family.profile.half.iter();
            let leg = links.map_while(|link| link.straight).map(Length::to_metres);
            if above.to_metres() > leg.sum::<f64>() + 1e-9 {
                self.say(format!(
                    "{whose} stands {} above the ground, higher than the profile is straight",
                    feet_inch(above)
                ));
            }
        }
        for x in member.upright.iter().flatten() {
            self.measures(whose, "upright", Some(*x), MAY_BE_NOTHING);
        }
        if let Some(level) = &member.level {
            self.measures(whose, "reach", Some(level.reach), IN_THE_HOUSE);
            self.measures(whose, "height", Some(level.height), MAY_BE_NOTHING);
        }
        self.measures(whose, "to_height", member.to_height, IN_THE_HOUSE);
        self.measures(whose, "lap", member.lap, MAY_BE_NOTHING);
    }
}
