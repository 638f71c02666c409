//! Whether a family file agrees with itself: whatever it names is there, and each place is said once.

use std::collections::BTreeSet;

use crate::family::{Family, MemberFile, Spot, When};

/// Each disagreement in words; none when the file can be used.
pub(crate) fn troubles(family: &Family) -> Vec<String> {
    let mut check = Check {
        family,
        said: Vec::new(),
    };
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

struct Check<'a> {
    family: &'a Family,
    said: Vec<String>,
}

impl Check<'_> {
    fn say(&mut self, what: String) {
        self.said.push(what);
    }

    fn size(&mut self) {
        let size = &self.family.size;
        if size.bow_spacing.is_empty() {
            self.say("size: `bow_spacing` lists no spacing".into());
        }
        if size.bow_spacing.iter().any(|s| *s <= measure::Length::ZERO) {
            self.say("size: a `bow_spacing` must be more than nothing".into());
        }
        if size.least_length <= measure::Length::ZERO || size.most_length < size.least_length {
            self.say(
                "size: `least_length` must be more than nothing and not over `most_length`".into(),
            );
        }
    }

    fn profile(&mut self) {
        let mut names = BTreeSet::new();
        for link in &self.family.profile.half {
            if link.straight.is_some() == link.arc.is_some() {
                self.say(format!(
                    "profile: `{}` needs either `straight` or `arc`",
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
            self.when(
                &exclusion.together,
                &format!("exclusion ({})", exclusion.why),
            );
        }
    }

    fn when(&mut self, when: &When, whose: &str) {
        for (key, wanted) in when {
            if key == "bow_spacing" {
                continue;
            }
            match self.family.options.iter().find(|o| o.key == *key) {
                None => self.say(format!("{whose}: there is no option `{key}`")),
                Some(option) => {
                    if !option.choices.iter().any(|c| wanted.holds(c)) {
                        let choices = option.choices.join(", ");
                        self.say(format!(
                            "{whose}: `{key}` has no such choice; it has: {choices}"
                        ));
                    }
                }
            }
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
            before.insert(&stage.name);
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
            if joint.fasten.is_some()
                && joint
                    .every
                    .is_none_or(|every| every <= measure::Length::ZERO)
            {
                self.say(format!("{whose} needs `every`, more than nothing"));
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
                if skin.roll_widths.is_empty() {
                    self.say(format!(
                        "{whose} needs `roll_widths`, the widths that are sold"
                    ));
                }
            }
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
