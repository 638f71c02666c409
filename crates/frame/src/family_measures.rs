//! Whether the measures of a family file are ones that a house could have.

use std::ops::RangeInclusive;

use measure::{Length, Mass};

use crate::expand::feet_inch;
use crate::family_check::Check;
use crate::family_place::At;
use crate::part::End;
use crate::part_file::PartFile;
use crate::place::{POST_HINT, post_line};
use crate::rule_file::{MemberFile, UprightFile};
use crate::where_file::Spot;

pub(crate) const HOUSE_LENGTH: RangeInclusive<Length> =
    Length::inches(1)..=Length::millimetres(1_000_000);
pub(crate) const SMALL: RangeInclusive<Length> =
    Length::nanometres(1)..=Length::millimetres(10_000);
/// No saw takes more than an inch.
pub(crate) const KERF: RangeInclusive<Length> = Length::ZERO..=Length::millimetres(25);
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
        at: &At,
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
            self.say(
                at,
                format!(
                    "{whose}: `{field}` must be from {least} to {} m",
                    range.end().to_metres()
                ),
            );
        }
    }

    pub(crate) fn measures_of(&mut self, part: &PartFile, at: &At) {
        let whose = format!("part `{}`", part.mark);
        let mut check = |kind: &str, field: &str, length: Option<Length>| {
            let at = at.field(kind);
            let at = if field == kind { at } else { at.field(field) };
            self.measures(&at, &whose, field, length, SMALL);
        };
        if let Some(tube) = &part.tube {
            check("tube", "outside", Some(tube.outside));
            check("tube", "wall", Some(tube.wall));
        }
        if let Some(square) = &part.square {
            check("box", "width", Some(square.width));
            check("box", "depth", square.depth);
            check("box", "wall", Some(square.wall));
        }
        if let Some(timber) = &part.timber {
            check("timber", "width", Some(timber.width));
            check("timber", "depth", Some(timber.depth));
        }
        if let Some(channel) = &part.channel {
            check("channel", "width", Some(channel.width));
            check("channel", "depth", Some(channel.depth));
            check("channel", "strip", Some(channel.strip));
            check("channel", "thickness", Some(channel.thickness));
        }
        check("wire", "wire", part.wire);
        check("film", "film", part.film);
        let diameter = part.fastener.as_ref().map(|f| f.diameter);
        check("fastener", "diameter", diameter);
        for end in part.ends.iter().flatten() {
            if let End::Swaged(over) = end {
                check("ends", "ends", Some(*over));
            }
        }
        let walls = [
            (part.tube.as_ref()).map(|tube| ("tube", tube.wall, tube.outside)),
            (part.square.as_ref()).map(|square| {
                let depth = square.depth.unwrap_or(square.width);
                ("box", square.wall, square.width.min(depth))
            }),
        ];
        for (kind, wall, outside) in walls.into_iter().flatten() {
            if wall.to_metres() * 2.0 >= outside.to_metres() {
                self.say(
                    &at.field(kind).field("wall"),
                    format!("{whose}: the wall leaves the tube no inside"),
                );
            }
        }
        let length = at.field("length");
        self.measures(&length, &whose, "length", part.length, IN_THE_HOUSE);
        if part.mass.is_some_and(|mass| mass <= Mass::ZERO) {
            self.say(
                &at.field("mass"),
                format!("{whose}: its `mass` must be more than nothing"),
            );
        }
        self.spares_of(part, at, &whose);
    }

    fn spares_of(&mut self, part: &PartFile, at: &At, whose: &str) {
        let Some(spare) = part.spare else { return };
        let at = at.field("spare");
        let sane = spare.percent <= 100
            && spare.at_least <= 10_000
            && spare.pack.is_none_or(|pack| (1..=100_000).contains(&pack));
        if !sane {
            self.say(
                &at,
                format!(
                    "{whose}: spares are at most 100 percent, at least at most 10000, in packs of 1 to 100000"
                ),
            );
        }
    }

    pub(crate) fn measures_of_spot(&mut self, spot: &Spot, at: &At, whose: &str) {
        let lengths = match spot {
            Spot::Height { height } => vec![("height", *height)],
            Spot::Aside { x } => vec![("x", *x)],
            Spot::Point { x, height } => vec![("x", *x), ("height", *height)],
            Spot::Along { along, .. } => vec![("along", *along)],
            Spot::Word(_) | Spot::Share { .. } => Vec::new(),
        };
        for (field, length) in lengths {
            self.measures(&at.field(field), whose, field, Some(length), MAY_BE_NOTHING);
        }
    }

    pub(crate) fn measures_where(&mut self, member: &MemberFile, at: &At, whose: &str) {
        if let Some(post) = &member.post {
            self.post_top(post.above_ground, at, whose);
            let at = at.field("post").field("long");
            self.measures(&at, whose, "long", post.long, SMALL);
        }
        if let Some(bow) = &member.bow {
            let at = at.field("bow").field("insert");
            self.measures(&at, whose, "insert", bow.insert, MAY_BE_NOTHING);
        }
        match &member.upright {
            Some(UprightFile::List(list)) => {
                for x in list {
                    let at = at.field("upright");
                    self.measures(&at, whose, "upright", Some(*x), MAY_BE_NOTHING);
                }
            }
            Some(UprightFile::Spaced(spaced)) => {
                let at = at.field("upright");
                self.measures(&at, whose, "every", Some(spaced.every), APART);
                self.measures(&at, whose, "start", Some(spaced.start), MAY_BE_NOTHING);
                let least = spaced.least_height;
                self.measures(&at, whose, "least_height", least, MAY_BE_NOTHING);
            }
            None => {}
        }
        if let Some(level) = &member.level {
            let at = at.field("level");
            self.measures(
                &at.field("reach"),
                whose,
                "reach",
                level.reach,
                IN_THE_HOUSE,
            );
            self.measures(&at.field("from"), whose, "from", level.from, MAY_BE_NOTHING);
            let height = Some(level.height);
            self.measures(&at.field("height"), whose, "height", height, MAY_BE_NOTHING);
            if let (Some(from), Some(reach)) = (level.from, level.reach)
                && from >= reach
            {
                self.say(&at, format!("{whose}: `from` must be less than `reach`"));
            }
        }
        let more = [
            ("to_height", member.to_height, IN_THE_HOUSE),
            ("from_height", member.from_height, MAY_BE_NOTHING),
            ("below_ground", member.below_ground, MAY_BE_NOTHING),
            ("splices_clear", member.splices_clear, MAY_BE_NOTHING),
            ("lap", member.lap, MAY_BE_NOTHING),
        ];
        for (field, length, range) in more {
            self.measures(&at.field(field), whose, field, length, range);
        }
    }

    /// A post ends no higher than every profile is straight and upright.
    fn post_top(&mut self, above: Length, at: &At, whose: &str) {
        let at = at.field("post").field("above_ground");
        self.measures(&at, whose, "above_ground", Some(above), MAY_BE_NOTHING);
        for profile in &self.family.profile.0 {
            let solved = profile.solve().ok();
            // Where there are several profiles, a post may belong to one of them by its own `when`.
            let stands =
                solved.is_none_or(|solved| post_line(&solved, above.to_metres()).is_some());
            if self.family.profile.0.len() == 1 && !stands {
                self.say(
                    &at,
                    format!(
                        "{whose} stands {} above the ground, higher than the profile is straight; {POST_HINT}",
                        feet_inch(above)
                    ),
                );
            }
        }
    }
}
