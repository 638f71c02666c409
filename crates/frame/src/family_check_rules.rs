//! Whether the rules that place parts agree with the rest of the family file.

use std::collections::{BTreeMap, BTreeSet};

use crate::family_check::Check;
use crate::family_check_profile::MOST_LINKS;
use crate::family_measures::{APART, IN_THE_HOUSE, MAY_BE_NOTHING};
use crate::family_place::At;
use crate::pieces::OVER;
use crate::rule_file::{JointFile, MemberFile, Over, Roles};
use crate::skin_file::{FittingFile, SkinFile};
use crate::where_file::{Bows, Every, FromEnd, InnerEvery, Sides};

/// What "rest" leaves is found among all rules of a role at every bow.
const MOST_OF_ONE_ROLE: usize = 40;

impl Check<'_> {
    pub(crate) fn members(&mut self) {
        let family = self.family;
        let mut above: BTreeMap<&str, bool> = BTreeMap::new();
        let mut rules: BTreeMap<&str, usize> = BTreeMap::new();
        for (i, member) in family.members.iter().enumerate() {
            let at = At::table("member").nth(i);
            let whose = format!("member `{}`", member.role);
            let conditional =
                !member.when.is_empty() || !member.bows.is_all() || member.sides != Sides::Both;
            let before = above.insert(&member.role, conditional);
            if before.is_some_and(|before| !before || !conditional) {
                self.say(
                    &at.field("role"),
                    format!(
                        "{whose} is there twice; give the other a role of its own, or both a `when`, `bows` or `sides`"
                    ),
                );
            }
            let rules = rules.entry(&member.role).or_default();
            *rules += 1;
            if *rules == MOST_OF_ONE_ROLE + 1 {
                self.say(
                    &at.field("role"),
                    format!("{whose} has more than {MOST_OF_ONE_ROLE} rules; give some a role of their own"),
                );
            }
            let places = placements(member);
            if places != 1 {
                self.say(
                    &at,
                    format!(
                        "{whose} needs one of post, bow, along, across, strut, upright, level, arch, follow; it has \
                         {places}"
                    ),
                );
            }
            self.stage(&member.stage, &at, &whose);
            self.when(&member.when, &at, &whose);
            self.bows(&member.bows, &at, &whose);
            if member.bows.is_rest() && before.is_none() {
                self.say(
                    &at.field("bows"),
                    format!(
                        "{whose}: \"rest\" is what other rules for this role leave, and there is none above it"
                    ),
                );
            }
            match (&member.part, &member.bow) {
                (Some(part), None) => self.part(part, &at.field("part"), &whose),
                (None, Some(_)) => self.bow(member, &at, &whose),
                (Some(_), Some(_)) => self.say(
                    &at.field("part"),
                    format!("{whose} is a bow: each piece of its `half` names its part, and there is no `part` beside"),
                ),
                (None, None) => self.say(
                    &at.field("role"),
                    format!("{whose} needs a `part`, or, as a bow, its pieces"),
                ),
            }
            if let Some(extension) = &member.extension {
                self.part(extension, &at.field("extension"), &whose);
            }
            self.measures_where(member, &at, &whose);
            self.where_it_lies(member, &at, &whose);
            for role in member.follow.iter().flatten() {
                if !above.contains_key(role.as_str()) || *role == member.role {
                    self.say(
                        &at.field("follow"),
                        format!("{whose} follows `{role}`, which is no member above it"),
                    );
                }
            }
        }
    }

    fn bow(&mut self, member: &MemberFile, at: &At, whose: &str) {
        let Some(bow) = &member.bow else { return };
        let at = at.field("bow").field("half");
        if bow.half.len() > MOST_LINKS {
            self.say(
                &at,
                format!(
                    "{whose}: there are {} pieces in the half; at most {MOST_LINKS} are read",
                    bow.half.len()
                ),
            );
            return;
        }
        for (i, piece) in bow.half.iter().enumerate() {
            let at = at.nth(i);
            self.part(&piece.part, &at.field("part"), whose);
            let last = i + 1 == bow.half.len();
            if !(last && piece.to.is_word(OVER)) {
                self.spot_on_profile(&piece.to, &at.field("to"), whose);
            }
        }
        let reaches = (bow.half.last())
            .is_some_and(|piece| piece.to.is_word("peak") || piece.to.is_word(OVER));
        if !reaches {
            self.say(
                &at,
                format!("{whose}: the last piece of the half must go to the peak, or \"{OVER}\""),
            );
        }
    }

    /// The place itself, and whether what it depends on is the same wherever the member is.
    fn where_it_lies(&mut self, member: &MemberFile, at: &At, whose: &str) {
        if let Some(spot) = &member.along {
            self.spot(spot, &at.field("along"), whose);
            self.not_by_end(&member.when, at, whose);
        }
        if let Some(spot) = &member.across {
            self.spot_on_profile(spot, &at.field("across"), whose);
        }
        if let Some(strut) = &member.strut {
            for (field, end) in [("from", &strut.from), ("to", &strut.to)] {
                let at = at.field("strut").field(field);
                self.spot(&end.at, &at.field("at"), whose);
                if !(0..=100).contains(&end.bow) {
                    self.say(
                        &at.field("bow"),
                        format!("{whose}: `bow` must be from 0 to 100 bows on"),
                    );
                }
            }
        }
        if let Some(arch) = &member.arch {
            self.spot_on_profile(&arch.from, &at.field("arch").field("from"), whose);
        }
        let both_sides_at_once = member.bow.is_some()
            || member.across.is_some()
            || member.arch.is_some()
            || (member.level.as_ref()).is_some_and(|level| level.from.is_none());
        if both_sides_at_once && self.family.is_by_side(&member.when) {
            self.say(
                &at.field("when"),
                format!(
                    "{whose} is for both sides at once, and its `when` asks for what each side has for itself"
                ),
            );
        }
        if both_sides_at_once && member.sides != Sides::Both {
            self.say(
                &at.field("sides"),
                format!("{whose} is for both sides at once, so that it has no `sides`"),
            );
        }
        let at_bows = member.post.is_some()
            || member.bow.is_some()
            || member.across.is_some()
            || member.strut.is_some();
        // To say "all" of what has no bows is to expect one at each.
        if !at_bows && member.bows != Bows::All {
            self.say(
                &at.field("bows"),
                format!("{whose} does not stand at bows, so that it has no `bows`"),
            );
        }
        let over_bays = (member.arch.as_ref()).is_some_and(|arch| arch.over == Over::Bays);
        let whole_house = member.post.is_some() || member.bow.is_some() || over_bays;
        if whole_house && self.family.is_by_end(&member.when) {
            self.not_by_end(&member.when, at, whose);
        }
    }

    fn bows(&mut self, bows: &Bows, at: &At, whose: &str) {
        let counts: &[i64] = match bows {
            Bows::List(list) if list.is_empty() => &[0],
            Bows::List(list) => list,
            Bows::FromEnd(FromEnd { from_end }) => &[from_end.saturating_add(1)],
            Bows::Every(Every { every, from }) => &[*every, *from],
            Bows::InnerEvery(InnerEvery { inner_every }) => &[*inner_every],
            Bows::All | Bows::Word(_) => &[],
        };
        if counts.len() > 1_000 || counts.iter().any(|count| !(1..=1_000).contains(count)) {
            self.say(
                &at.field("bows"),
                format!("{whose}: bows are counted from 1 to 1000"),
            );
        }
    }

    fn not_the_rest(&mut self, bows: &Bows, at: &At, whose: &str) {
        if bows.is_rest() {
            self.say(
                &at.field("bows"),
                format!("{whose}: only a member's bows can be \"rest\""),
            );
        }
    }

    pub(crate) fn joints(&mut self) {
        let family = self.family;
        let mut held = BTreeSet::new();
        for (i, joint) in family.joints.iter().enumerate() {
            let at = At::table("joint").nth(i);
            let whose = format!("joint `{}`", joint.says);
            let kinds = [
                joint.between.is_some(),
                joint.splice.is_some(),
                joint.peak.is_some(),
                joint.foot.is_some(),
                joint.fasten.is_some(),
                joint.ends.is_some(),
            ];
            if kinds.iter().filter(|k| **k).count() != 1 {
                self.say(
                    &at,
                    format!("{whose} needs one of between, splice, peak, foot, fasten, ends"),
                );
            }
            if joint.fasten.is_some() && joint.every.is_none() {
                self.say(&at, format!("{whose} needs `every`"));
            }
            self.measures(&at.field("every"), &whose, "every", joint.every, APART);
            self.when(&joint.when, &at, &whose);
            self.bows(&joint.bows, &at, &whose);
            self.not_the_rest(&joint.bows, &at, &whose);
            // What holds at once for everything leaves nothing to a later rule.
            for meeting in meetings(joint) {
                if held.contains(&meeting) {
                    self.say(&at, format!("{whose}: {meeting} is said twice"));
                }
                if joint.when.is_empty() && joint.bows.is_all() {
                    held.insert(meeting);
                }
            }
            for (field, roles) in roles_of(joint) {
                for role in roles {
                    self.role(role, &at.field(field), &whose);
                }
            }
            self.counts(&joint.hardware, &at.field("hardware"), &whose);
            self.stage(&joint.stage, &at, &whose);
        }
    }

    fn counts(&mut self, parts: &BTreeMap<String, i64>, at: &At, whose: &str) {
        for (mark, count) in parts {
            let at = at.field(mark);
            self.part(mark, &at, whose);
            if !(1..=10_000).contains(count) {
                self.say(
                    &at,
                    format!("{whose}: {count} of `{mark}` is not from 1 to 10000"),
                );
            }
        }
    }

    pub(crate) fn skins(&mut self) {
        let family = self.family;
        for (i, skin) in family.skins.iter().enumerate() {
            let at = At::table("skin").nth(i);
            let whose = format!("skin `{}`", skin.role);
            self.part(&skin.part, &at.field("part"), &whose);
            self.stage(&skin.stage, &at, &whose);
            self.when(&skin.when, &at, &whose);
            let kinds = [
                skin.over.is_some(),
                skin.end.is_some(),
                skin.side.is_some(),
                skin.ground.is_some(),
            ];
            if kinds.iter().filter(|k| **k).count() != 1 {
                self.say(&at, format!("{whose} needs one of over, end, side, ground"));
            }
            let sheet = (family.part_file(&skin.part))
                .is_some_and(|part| part.film.is_none() && part.cloth.is_none());
            if sheet {
                self.say(
                    &at.field("part"),
                    format!("{whose}: part `{}` is no film and no cloth", skin.part),
                );
            }
            for (i, roll) in skin.roll_widths.iter().enumerate() {
                let at = at.field("roll_widths").nth(i);
                self.measures(&at, &whose, "roll_widths", Some(*roll), IN_THE_HOUSE);
            }
            let rolled = skin.over.is_some() || skin.ground.is_some();
            if rolled && skin.roll_widths.is_empty() {
                self.say(
                    &at,
                    format!("{whose} needs `roll_widths`, the widths that are sold"),
                );
            }
            self.sheet(skin, &at, &whose);
            if let Some(edge) = &skin.edge {
                let at = at.field("edge");
                self.measures(&at.field("every"), &whose, "every", Some(edge.every), APART);
                self.counts(&edge.hardware, &at.field("hardware"), &whose);
                if let Some(stage) = &edge.stage {
                    self.stage(stage, &at, &whose);
                }
            }
        }
    }

    /// The measures of a sheet, and its lines.
    fn sheet(&mut self, skin: &SkinFile, at: &At, whose: &str) {
        if let Some(over) = &skin.over {
            let at = at.field("over");
            self.spot_on_profile(&over.from, &at.field("from"), whose);
            self.not_by_place(&skin.when, &at, whose);
            for (field, length) in [("grip", over.grip), ("end_allowance", over.end_allowance)] {
                self.measures(&at.field(field), whose, field, Some(length), MAY_BE_NOTHING);
            }
            for (i, reach) in over.reaching.iter().enumerate() {
                let at = at.field("reaching").nth(i);
                self.when(&reach.when, &at, whose);
                self.spot_on_profile(&reach.from, &at.field("from"), whose);
                self.measures(
                    &at.field("wrap"),
                    whose,
                    "wrap",
                    Some(reach.wrap),
                    MAY_BE_NOTHING,
                );
            }
        }
        if let Some(end) = &skin.end {
            let at = at.field("end").field("grip");
            self.measures(&at, whose, "grip", Some(end.grip), MAY_BE_NOTHING);
        }
        if let Some(side) = &skin.side {
            let at = at.field("side");
            self.spot_on_profile(&side.from, &at.field("from"), whose);
            self.spot_on_profile(&side.to, &at.field("to"), whose);
            let lengths = [
                ("grip", Some(side.grip)),
                ("wrap", side.wrap),
                ("end_allowance", Some(side.end_allowance)),
            ];
            for (field, length) in lengths {
                self.measures(&at.field(field), whose, field, length, MAY_BE_NOTHING);
            }
        }
        if let Some(ground) = &skin.ground {
            let at = at.field("ground");
            self.not_by_place(&skin.when, &at, whose);
            let lengths = [
                ("beyond", ground.beyond),
                ("lap", ground.lap),
                ("end_allowance", ground.end_allowance),
            ];
            for (field, length) in lengths {
                self.measures(&at.field(field), whose, field, Some(length), MAY_BE_NOTHING);
            }
        }
    }

    pub(crate) fn fittings(&mut self) {
        let family = self.family;
        for (i, fitting) in family.fittings.iter().enumerate() {
            let at = At::table("fitting").nth(i);
            let whose = format!("fitting `{}`", fitting.role);
            self.counts(&fitting.parts, &at.field("parts"), &whose);
            self.stage(&fitting.stage, &at, &whose);
            self.when(&fitting.when, &at, &whose);
            self.fitting_place(fitting, &at, &whose);
        }
    }

    fn fitting_place(&mut self, fitting: &FittingFile, at: &At, whose: &str) {
        for role in fitting.on.iter().flatten() {
            self.role(role, &at.field("on"), whose);
        }
        self.bows(&fitting.bows, at, whose);
        self.not_the_rest(&fitting.bows, at, whose);
        if fitting.on.is_none() && !fitting.bows.is_all() {
            self.say(
                &at.field("bows"),
                format!("{whose}: `bows` is only for what hangs `on` members"),
            );
        }
    }
}

/// The roles that a joint names, with the fields that name them.
fn roles_of(joint: &JointFile) -> [(&'static str, Vec<&String>); 6] {
    fn of(roles: &Option<Roles>) -> Vec<&String> {
        roles.iter().flat_map(|roles| &roles.0).collect()
    }
    [
        (
            "between",
            (joint.between.iter().flatten())
                .flat_map(|roles| &roles.0)
                .collect(),
        ),
        ("splice", of(&joint.splice)),
        ("peak", of(&joint.peak)),
        ("foot", of(&joint.foot)),
        ("fasten", of(&joint.fasten)),
        ("ends", of(&joint.ends)),
    ]
}

/// Every meeting that a joint holds, in words.
fn meetings(joint: &JointFile) -> Vec<String> {
    let pairs: BTreeSet<_> = (joint.between.iter())
        .flat_map(|[one, other]| (one.0.iter()).flat_map(|a| other.0.iter().map(move |b| (a, b))))
        .map(|(a, b)| if a <= b { (a, b) } else { (b, a) })
        .collect();
    let between = (pairs.into_iter())
        .map(|(first, second)| format!("what is between `{first}` and `{second}`"));
    let others = roles_of(joint)
        .into_iter()
        .skip(1)
        .flat_map(|(field, roles)| {
            let words = match field {
                "splice" => "the splice of",
                "peak" => "the peak of",
                "foot" => "the foot of",
                "fasten" => "the fastening of",
                _ => "the ends of",
            };
            roles
                .into_iter()
                .map(move |role| format!("{words} `{role}`"))
        });
    between.chain(others).collect()
}

fn placements(member: &MemberFile) -> usize {
    [
        member.post.is_some(),
        member.bow.is_some(),
        member.along.is_some(),
        member.across.is_some(),
        member.strut.is_some(),
        member.upright.is_some(),
        member.level.is_some(),
        member.arch.is_some(),
        member.follow.is_some(),
    ]
    .iter()
    .filter(|p| **p)
    .count()
}
