//! Whether a family file agrees with itself: whatever it names is there, and each place is said once.

use std::collections::BTreeSet;

use measure::Length;

use crate::expand::feet_inch;
use crate::family::{Family, FollowsFile, JointFile, MemberFile, Spot, When};
use crate::family_measures::{APART, HOUSE_LENGTH, IN_THE_HOUSE, MAY_BE_NOTHING};

/// Far more than any house; what goes beyond is a slip of the pen, and would fill the memory.
const MOST_BAYS: i64 = 1_000;
const MOST_RULES: usize = 500;

/// Each disagreement in words; none when the file can be used.
pub(crate) fn troubles(family: &Family) -> Vec<String> {
    let mut check = Check {
        family,
        said: Vec::new(),
    };
    check.counts_of_rules();
    if !check.said.is_empty() {
        return check.said;
    }
    check.size();
    check.profile();
    check.options();
    check.stages();
    check.parts();
    check.members();
    check.joints();
    check.skins_and_fittings();
    check.said
}

pub(crate) struct Check<'a> {
    pub family: &'a Family,
    said: Vec<String>,
}

impl Check<'_> {
    pub(crate) fn say(&mut self, what: String) {
        self.said.push(what);
    }

    fn counts_of_rules(&mut self) {
        let family = self.family;
        let counts = [
            ("option", family.options.len()),
            ("exclusion", family.exclusions.len()),
            ("stage", family.stages.len()),
            ("part", family.parts.len()),
            ("member", family.members.len()),
            ("joint", family.joints.len()),
            ("skin", family.skins.len()),
            ("fitting", family.fittings.len()),
        ];
        for (what, count) in counts {
            if count > MOST_RULES {
                self.say(format!(
                    "there are {count} `{what}` tables; at most {MOST_RULES} are read"
                ));
            }
        }
    }

    fn size(&mut self) {
        let size = &self.family.size;
        if size.bow_spacing.is_empty() {
            self.say("size: `bow_spacing` lists no spacing".into());
        }
        for spacing in &size.bow_spacing {
            self.measures("size", "bow_spacing", Some(*spacing), HOUSE_LENGTH);
            let nanometres = spacing.as_nanometres().max(1);
            let most_bays = size.most_length.as_nanometres() / nanometres;
            if most_bays > MOST_BAYS {
                self.say(format!(
                    "size: `most_length` would be {most_bays} bays of {}; a house has at most {MOST_BAYS}",
                    feet_inch(*spacing)
                ));
            }
        }
        self.measures(
            "size",
            "least_length",
            Some(size.least_length),
            HOUSE_LENGTH,
        );
        self.measures("size", "most_length", Some(size.most_length), HOUSE_LENGTH);
        if size.most_length < size.least_length {
            self.say("size: `least_length` is over `most_length`".into());
        }
    }

    fn profile(&mut self) {
        let mut names = BTreeSet::new();
        for link in &self.family.profile.half {
            let said = [
                link.straight.is_some(),
                link.arc.is_some(),
                link.follows.is_some(),
            ];
            if said.iter().filter(|is_said| **is_said).count() != 1 {
                self.say(format!(
                    "profile: `{}` needs either `straight` or `arc`, or else `follows`",
                    link.name
                ));
            }
            let is_straight =
                link.straight.is_some() || link.follows == Some(FollowsFile::Straight);
            if is_straight && link.turn.is_some() {
                self.say(format!(
                    "profile: `{}` is straight, and has no `turn`",
                    link.name
                ));
            }
            if !names.insert(&link.name) {
                self.say(format!("profile: `{}` is there twice", link.name));
            }
        }
    }

    fn options(&mut self) {
        let mut keys = BTreeSet::from(["bow_spacing"]);
        for option in &self.family.options {
            if option.choices.is_empty() {
                self.say(format!("option `{}`: no choices", option.key));
            }
            if !keys.insert(&option.key) {
                self.say(format!("option `{}` is there twice", option.key));
            }
        }
        for exclusion in &self.family.exclusions {
            let whose = format!("exclusion ({})", exclusion.why);
            if exclusion.together.is_empty() {
                self.say(format!("{whose}: `together` names nothing"));
            }
            self.when(&exclusion.together, &whose);
        }
    }

    fn when(&mut self, when: &When, whose: &str) {
        for (key, wanted) in when {
            let spacings: Vec<String>;
            let choices = if key == "bow_spacing" {
                spacings = self
                    .family
                    .size
                    .bow_spacing
                    .iter()
                    .map(|s| feet_inch(*s))
                    .collect();
                &spacings
            } else if let Some(option) = self.family.options.iter().find(|o| o.key == *key) {
                &option.choices
            } else {
                self.say(format!("{whose}: there is no option `{key}`"));
                continue;
            };
            let known = |text: &str| {
                let same_length = |choice: &String| {
                    key == "bow_spacing" && Length::read(text, None) == Length::read(choice, None)
                };
                choices
                    .iter()
                    .any(|choice| choice == text || same_length(choice))
            };
            for unknown in wanted.choices().filter(|text| !known(text)) {
                self.say(format!(
                    "{whose}: `{key}` has no choice `{unknown}`; it has: {}",
                    choices.join(", ")
                ));
            }
        }
    }

    /// What runs the whole house cannot hang on what each end chooses for itself.
    fn not_by_end(&mut self, when: &When, whose: &str) {
        if self.family.is_by_end(when) {
            self.say(format!(
                "{whose} runs the whole house, and its `when` asks for what each end has for itself"
            ));
        }
    }

    fn stages(&mut self) {
        let mut before = BTreeSet::new();
        for stage in &self.family.stages {
            for follows in &stage.follows {
                if !before.contains(follows) {
                    self.say(format!(
                        "stage `{}` follows `{follows}`, which is not above it",
                        stage.name
                    ));
                }
            }
            if !before.insert(&stage.name) {
                self.say(format!("stage `{}` is there twice", stage.name));
            }
        }
    }

    fn parts(&mut self) {
        let mut marks = BTreeSet::new();
        for part in &self.family.parts {
            if !marks.insert(&part.mark) {
                self.say(format!("part `{}` is there twice", part.mark));
            }
            let kinds = [
                part.tube.is_some(),
                part.channel.is_some(),
                part.wire.is_some(),
                part.film.is_some(),
                part.fastener.is_some(),
            ];
            if kinds.iter().filter(|k| **k).count() > 1 {
                self.say(format!(
                    "part `{}`: only one of tube, channel, wire, film, fastener can be what it is",
                    part.mark
                ));
            }
            self.measures_of(part);
            let heavy = part.tube.is_some() || part.channel.is_some() || part.film.is_some();
            if part.mass.is_none() && !heavy {
                self.say(format!(
                    "part `{}` needs a `mass`, since none follows from a section",
                    part.mark
                ));
            }
        }
    }

    fn part(&mut self, mark: &str, whose: &str) {
        if self.family.part_file(mark).is_none() {
            self.say(format!("{whose}: there is no part `{mark}`"));
        }
    }

    fn stage(&mut self, stage: &str, whose: &str) {
        if !self.family.stages().any(|s| s == stage) {
            self.say(format!("{whose}: there is no stage `{stage}`"));
        }
    }

    fn spot(&mut self, spot: &Spot, whose: &str) {
        match spot {
            Spot::Word(word) if word != "peak" => {
                self.say(format!(
                    "{whose}: `{word}` is no place; write \"peak\", a height, or a share of a link"
                ));
            }
            Spot::Share { of, share } => {
                if !self.family.profile.half.iter().any(|l| l.name == *of) {
                    self.say(format!("{whose}: the profile has no link `{of}`"));
                }
                if !(0.0..=1.0).contains(share) {
                    self.say(format!("{whose}: the share {share} is not from 0 to 1"));
                }
            }
            _ => {}
        }
    }

    fn members(&mut self) {
        let mut above: BTreeSet<&str> = BTreeSet::new();
        for member in &self.family.members {
            let whose = format!("member `{}`", member.role);
            if !above.insert(&member.role) {
                self.say(format!(
                    "{whose} is there twice; give the other a role of its own"
                ));
            }
            let places = placements(member);
            if places != 1 {
                self.say(format!(
                    "{whose} needs one of post, bow, along, upright, level, arch, follow; it has {places}"
                ));
            }
            self.stage(&member.stage, &whose);
            self.when(&member.when, &whose);
            match (&member.part, &member.bow) {
                (Some(part), None) => self.part(part, &whose),
                (None, Some(bow)) => {
                    for piece in &bow.half {
                        self.part(&piece.part, &whose);
                        self.spot(&piece.to, &whose);
                    }
                    if !matches!(bow.half.last().map(|p| &p.to), Some(Spot::Word(word)) if word == "peak")
                    {
                        self.say(format!(
                            "{whose}: the last piece of the half must go to the peak"
                        ));
                    }
                }
                _ => self.say(format!("{whose} needs a `part`, or, as a bow, its pieces")),
            }
            self.measures_where(member, &whose);
            let by_end =
                member.upright.is_some() || member.level.is_some() || member.arch.is_some();
            if !by_end {
                self.not_by_end(&member.when, &whose);
            }
            if let Some(spot) = &member.along {
                self.spot(spot, &whose);
            }
            if let Some(arch) = &member.arch {
                self.spot(&arch.from, &whose);
            }
            for role in member.follow.iter().flatten() {
                if !above.contains(role.as_str()) || *role == member.role {
                    self.say(format!(
                        "{whose} follows `{role}`, which is no member above it"
                    ));
                }
            }
        }
    }

    fn role(&mut self, role: &str, whose: &str) {
        if !self.family.members.iter().any(|m| m.role == role) {
            self.say(format!("{whose}: there is no member `{role}`"));
        }
    }

    fn joints(&mut self) {
        let mut held = BTreeSet::new();
        for joint in &self.family.joints {
            let whose = format!("joint `{}`", joint.says);
            let kinds = [
                joint.between.is_some(),
                joint.splice.is_some(),
                joint.foot.is_some(),
                joint.fasten.is_some(),
            ];
            if kinds.iter().filter(|k| **k).count() != 1 {
                self.say(format!(
                    "{whose} needs one of between, splice, foot, fasten"
                ));
            }
            if joint.fasten.is_some() && joint.every.is_none() {
                self.say(format!("{whose} needs `every`"));
            }
            self.measures(&whose, "every", joint.every, APART);
            for meeting in meetings(joint) {
                if !held.insert(meeting.clone()) {
                    self.say(format!("{whose}: {meeting} is said twice"));
                }
            }
            let roles = (joint.between.iter().flatten())
                .chain(&joint.splice)
                .chain(joint.foot.iter().flatten())
                .chain(joint.fasten.iter().flatten());
            for role in roles {
                self.role(role, &whose);
            }
            self.counts(&joint.hardware, &whose);
            self.stage(&joint.stage, &whose);
        }
    }

    fn counts(&mut self, parts: &std::collections::BTreeMap<String, i64>, whose: &str) {
        for (mark, count) in parts {
            self.part(mark, whose);
            if !(1..=10_000).contains(count) {
                self.say(format!(
                    "{whose}: {count} of `{mark}` is not from 1 to 10000"
                ));
            }
        }
    }

    fn skins_and_fittings(&mut self) {
        for skin in &self.family.skins {
            let whose = format!("skin `{}`", skin.role);
            self.part(&skin.part, &whose);
            self.stage(&skin.stage, &whose);
            self.when(&skin.when, &whose);
            if skin.over.is_some() == skin.end.is_some() {
                self.say(format!("{whose} needs either `over` or `end`"));
            }
            if let Some(over) = &skin.over {
                self.spot(&over.from, &whose);
                self.not_by_end(&skin.when, &whose);
                self.measures(&whose, "grip", Some(over.grip), MAY_BE_NOTHING);
                self.measures(
                    &whose,
                    "end_allowance",
                    Some(over.end_allowance),
                    MAY_BE_NOTHING,
                );
                for roll in &skin.roll_widths {
                    self.measures(&whose, "roll_widths", Some(*roll), IN_THE_HOUSE);
                }
                if skin.roll_widths.is_empty() {
                    self.say(format!(
                        "{whose} needs `roll_widths`, the widths that are sold"
                    ));
                }
            }
            let grip = skin.end.as_ref().map(|film| film.grip);
            self.measures(&whose, "grip", grip, MAY_BE_NOTHING);
            if self
                .family
                .part_file(&skin.part)
                .is_some_and(|p| p.film.is_none())
            {
                self.say(format!("{whose}: part `{}` is no film", skin.part));
            }
        }
        for fitting in &self.family.fittings {
            let whose = format!("fitting `{}`", fitting.role);
            self.counts(&fitting.parts, &whose);
            self.stage(&fitting.stage, &whose);
            self.when(&fitting.when, &whose);
        }
    }
}

/// Every meeting that a joint holds, in words.
fn meetings(joint: &JointFile) -> Vec<String> {
    let between = joint.between.iter().map(|[a, b]| {
        let (first, second) = if a <= b { (a, b) } else { (b, a) };
        format!("what is between `{first}` and `{second}`")
    });
    let splice = joint
        .splice
        .iter()
        .map(|role| format!("the splice of `{role}`"));
    let foot = joint
        .foot
        .iter()
        .flatten()
        .map(|role| format!("the foot of `{role}`"));
    let fasten = joint
        .fasten
        .iter()
        .flatten()
        .map(|role| format!("the fastening of `{role}`"));
    between.chain(splice).chain(foot).chain(fasten).collect()
}

fn placements(member: &MemberFile) -> usize {
    [
        member.post.is_some(),
        member.bow.is_some(),
        member.along.is_some(),
        member.upright.is_some(),
        member.level.is_some(),
        member.arch.is_some(),
        member.follow.is_some(),
    ]
    .iter()
    .filter(|p| **p)
    .count()
}
