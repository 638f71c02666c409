//! Whether a family file agrees with itself: whatever it names is there, and each place is said once.
//!
//! This file has the size, what can be chosen, the steps and the parts; `family_check_profile` has the
//! profile, `family_check_rules` the rules that place parts, `family_measures` the measures.

use std::collections::BTreeSet;

use crate::expand::feet_inch;
use crate::family::Family;
use crate::family_file::{LinkFile, When};
use crate::family_measures::{HOUSE_LENGTH, KERF};
use crate::family_place::{At, Fault};
use crate::where_file::Spot;

/// Far more than any house; what goes beyond is a slip of the pen, and would fill the memory.
const MOST_BAYS: i64 = 1_000;
const MOST_RULES: usize = 500;

/// Each disagreement with where it stands; none when the file can be used.
pub(crate) fn faults(family: &Family) -> Vec<Fault> {
    let mut check = Check {
        family,
        said: Vec::new(),
    };
    check.counts_of_rules();
    if !check.said.is_empty() {
        return check.said;
    }
    check.size();
    check.cutting();
    check.profiles();
    check.options();
    check.stages();
    check.parts();
    check.packages();
    check.members();
    check.joints();
    check.skins();
    check.fittings();
    check.said
}

pub(crate) struct Check<'a> {
    pub family: &'a Family,
    said: Vec<Fault>,
}

impl Check<'_> {
    pub(crate) fn say(&mut self, at: &At, what: String) {
        self.said.push(Fault {
            at: at.clone(),
            what,
        });
    }

    fn counts_of_rules(&mut self) {
        let family = self.family;
        let counts = [
            ("profile", family.profile.0.len()),
            ("option", family.options.len()),
            ("exclusion", family.exclusions.len()),
            ("need", family.needs.len()),
            ("stage", family.stages.len()),
            ("part", family.parts.len()),
            ("package", family.packages.len()),
            ("member", family.members.len()),
            ("joint", family.joints.len()),
            ("skin", family.skins.len()),
            ("fitting", family.fittings.len()),
        ];
        for (what, count) in counts {
            if count > MOST_RULES {
                self.say(
                    &At::table(what),
                    format!("there are {count} `{what}` tables; at most {MOST_RULES} are read"),
                );
            }
        }
    }

    fn size(&mut self) {
        let size = &self.family.size;
        let at = At::table("size");
        let spacings = at.field("bow_spacing");
        if size.bow_spacing.is_empty() {
            self.say(&spacings, "size: `bow_spacing` lists no spacing".into());
        }
        for (i, spacing) in size.bow_spacing.iter().enumerate() {
            let at = spacings.nth(i);
            self.measures(&at, "size", "bow_spacing", Some(*spacing), HOUSE_LENGTH);
            let nanometres = spacing.as_nanometres().max(1);
            let most_bays = size.most_length.as_nanometres() / nanometres;
            if most_bays > MOST_BAYS {
                self.say(
                    &at,
                    format!(
                        "size: `most_length` would be {most_bays} bays of {}; a house has at most {MOST_BAYS}",
                        feet_inch(*spacing)
                    ),
                );
            }
        }
        for (field, length) in [
            ("least_length", size.least_length),
            ("most_length", size.most_length),
        ] {
            self.measures(&at.field(field), "size", field, Some(length), HOUSE_LENGTH);
        }
        if size.most_length < size.least_length {
            self.say(
                &at.field("least_length"),
                "size: `least_length` is over `most_length`".into(),
            );
        }
    }

    fn cutting(&mut self) {
        let at = At::table("cutting").field("kerf");
        self.measures(&at, "cutting", "kerf", self.family.cutting.kerf, KERF);
    }

    fn options(&mut self) {
        let family = self.family;
        let mut keys = BTreeSet::from(["bow_spacing"]);
        for (i, option) in family.options.iter().enumerate() {
            let at = At::table("option").nth(i);
            if option.choices.is_empty() {
                self.say(
                    &at.field("choices"),
                    format!("option `{}`: no choices", option.key),
                );
            }
            if option.each_end && option.each_side {
                self.say(
                    &at,
                    format!(
                        "option `{}` cannot be chosen both by end and by side",
                        option.key
                    ),
                );
            }
            if !keys.insert(&option.key) {
                self.say(
                    &at.field("key"),
                    format!("option `{}` is there twice", option.key),
                );
            }
        }
        for (i, exclusion) in family.exclusions.iter().enumerate() {
            let at = At::table("exclusion").nth(i).field("together");
            let whose = format!("exclusion ({})", exclusion.why);
            self.condition(&exclusion.together, &at, &whose, "together");
        }
        for (i, need) in family.needs.iter().enumerate() {
            let at = At::table("need").nth(i);
            let whose = format!("need ({})", need.why);
            self.condition(&need.when, &at.field("when"), &whose, "when");
            self.condition(&need.needs, &at.field("needs"), &whose, "needs");
        }
    }

    fn condition(&mut self, when: &When, at: &At, whose: &str, field: &str) {
        if when.is_empty() {
            self.say(at, format!("{whose}: `{field}` names nothing"));
        }
        self.each_choice(when, at, whose);
    }

    /// Whether a `when` names options and choices that are there.
    pub(crate) fn when(&mut self, when: &When, at: &At, whose: &str) {
        self.each_choice(when, &at.field("when"), whose);
    }

    fn each_choice(&mut self, when: &When, at: &At, whose: &str) {
        for (key, wanted) in when {
            let at = at.field(key);
            let Some(choices) = self.choices_of(key) else {
                let keys: Vec<&str> = self.family.options.iter().map(|o| o.key.as_str()).collect();
                let there = if keys.is_empty() {
                    "only bow_spacing".into()
                } else {
                    keys.join(", ")
                };
                self.say(
                    &at,
                    format!("{whose}: there is no option `{key}`; there is {there}"),
                );
                continue;
            };
            let same_length = |choice: &String, text: &str| {
                key == "bow_spacing"
                    && measure::Length::read(text, None) == measure::Length::read(choice, None)
            };
            let known = |text: &str| {
                (choices.iter()).any(|choice| choice == text || same_length(choice, text))
            };
            for unknown in wanted.choices().filter(|text| !known(text)) {
                self.say(
                    &at,
                    format!(
                        "{whose}: `{key}` has no choice `{unknown}`; it has: {}",
                        choices.join(", ")
                    ),
                );
            }
        }
    }

    fn choices_of(&self, key: &str) -> Option<Vec<String>> {
        if key == "bow_spacing" {
            let spacings = self.family.size.bow_spacing.iter();
            return Some(spacings.map(|s| feet_inch(*s)).collect());
        }
        let option = self.family.options.iter().find(|o| o.key == key);
        option.map(|o| o.choices.clone())
    }

    /// What is there once for the whole house cannot hang on what each end or side chooses for itself.
    pub(crate) fn not_by_place(&mut self, when: &When, at: &At, whose: &str) {
        self.not_by_end(when, at, whose);
        if self.family.is_by_side(when) {
            self.say(
                &at.field("when"),
                format!(
                    "{whose} is for both sides at once, and its `when` asks for what each side has for itself"
                ),
            );
        }
    }

    /// What runs the whole house cannot hang on what each end chooses for itself.
    pub(crate) fn not_by_end(&mut self, when: &When, at: &At, whose: &str) {
        if self.family.is_by_end(when) {
            self.say(
                &at.field("when"),
                format!(
                    "{whose} runs the whole house, and its `when` asks for what each end has for itself"
                ),
            );
        }
    }

    fn stages(&mut self) {
        let family = self.family;
        let mut before = BTreeSet::new();
        for (i, stage) in family.stages.iter().enumerate() {
            let at = At::table("stage").nth(i);
            for follows in &stage.follows {
                if !before.contains(follows) {
                    self.say(
                        &at.field("follows"),
                        format!(
                            "stage `{}` follows `{follows}`, which is not above it",
                            stage.name
                        ),
                    );
                }
            }
            if !before.insert(&stage.name) {
                self.say(
                    &at.field("name"),
                    format!("stage `{}` is there twice", stage.name),
                );
            }
        }
    }

    fn parts(&mut self) {
        let family = self.family;
        let mut marks = BTreeSet::new();
        for (i, part) in family.parts.iter().enumerate() {
            let at = At::table("part").nth(i);
            let whose = format!("part `{}`", part.mark);
            if !marks.insert(&part.mark) {
                self.say(&at.field("mark"), format!("{whose} is there twice"));
            }
            let kinds = [
                part.tube.is_some(),
                part.square.is_some(),
                part.timber.is_some(),
                part.channel.is_some(),
                part.cloth.is_some(),
                part.wire.is_some(),
                part.film.is_some(),
                part.fastener.is_some(),
            ];
            if kinds.iter().filter(|k| **k).count() > 1 {
                self.say(
                    &at,
                    format!(
                        "{whose}: only one of tube, box, timber, channel, cloth, wire, film, fastener can be what it is"
                    ),
                );
            }
            self.measures_of(part, &at);
            let follows = kinds[..5].contains(&true) || part.film.is_some();
            if part.mass.is_none() && !follows {
                self.say(
                    &at,
                    format!("{whose} needs a `mass`, since none follows from a section"),
                );
            }
        }
    }

    fn packages(&mut self) {
        let family = self.family;
        let mut packed = BTreeSet::new();
        for (i, package) in family.packages.iter().enumerate() {
            let at = At::table("package").nth(i);
            let whose = format!("package `{}`", package.says);
            for sub_kit in &package.sub_kits {
                let known = (family.members.iter().map(|m| &m.sub_kit))
                    .chain(family.joints.iter().map(|j| &j.sub_kit))
                    .chain(family.skins.iter().map(|s| &s.sub_kit))
                    .chain(
                        family
                            .skins
                            .iter()
                            .filter_map(|s| s.edge.as_ref()?.sub_kit.as_ref()),
                    )
                    .chain(family.fittings.iter().map(|f| &f.sub_kit));
                if !known.into_iter().any(|known| known == sub_kit) {
                    self.say(
                        &at.field("sub_kits"),
                        format!("{whose}: nothing comes with a sub-kit `{sub_kit}`"),
                    );
                }
                if !packed.insert(sub_kit) {
                    self.say(
                        &at.field("sub_kits"),
                        format!("{whose}: sub-kit `{sub_kit}` is packed twice"),
                    );
                }
            }
        }
    }

    pub(crate) fn part(&mut self, mark: &str, at: &At, whose: &str) {
        if self.family.part_file(mark).is_none() {
            let marks: Vec<&str> = self.family.parts.iter().map(|p| p.mark.as_str()).collect();
            self.say(
                at,
                format!(
                    "{whose}: there is no part `{mark}`; there is {}",
                    marks.join(", ")
                ),
            );
        }
    }

    pub(crate) fn stage(&mut self, stage: &str, at: &At, whose: &str) {
        if !self.family.stages().any(|s| s == stage) {
            let stages: Vec<&str> = self.family.stages().collect();
            self.say(
                &at.field("stage"),
                format!(
                    "{whose}: there is no stage `{stage}`; there is {}",
                    stages.join(", ")
                ),
            );
        }
    }

    pub(crate) fn role(&mut self, role: &str, at: &At, whose: &str) {
        if !self.family.members.iter().any(|m| m.role == role) {
            let roles: BTreeSet<&str> = self
                .family
                .members
                .iter()
                .map(|m| m.role.as_str())
                .collect();
            let roles: Vec<&str> = roles.into_iter().collect();
            self.say(
                at,
                format!(
                    "{whose}: there is no member `{role}`; there is {}",
                    roles.join(", ")
                ),
            );
        }
    }

    /// A place on the profile.
    pub(crate) fn spot_on_profile(&mut self, spot: &Spot, at: &At, whose: &str) {
        if matches!(spot, Spot::Point { .. }) {
            self.say(
                at,
                format!("{whose}: a point off the profile cannot be meant here"),
            );
        }
        self.spot(spot, at, whose);
    }

    pub(crate) fn spot(&mut self, spot: &Spot, at: &At, whose: &str) {
        match spot {
            Spot::Word(word) if word != "peak" => self.say(
                at,
                format!(
                    "{whose}: `{word}` is no place; write \"peak\", a height, a share of a link, a length along one, \
                     or a distance from the middle"
                ),
            ),
            Spot::Share { of, share } => {
                self.link(of, at, whose);
                if !(0.0..=1.0).contains(share) {
                    self.say(at, format!("{whose}: the share {share} is not from 0 to 1"));
                }
            }
            Spot::Along { of, .. } => self.link(of, at, whose),
            _ => {}
        }
        self.measures_of_spot(spot, at, whose);
    }

    /// A link that each profile has.
    fn link(&mut self, name: &str, at: &At, whose: &str) {
        let family = self.family;
        for profile in &family.profile.0 {
            if !profile.half.iter().any(|l| l.name == name) {
                let names = |links: &[LinkFile]| {
                    let names: Vec<&str> = links.iter().map(|l| l.name.as_str()).collect();
                    names.join(", ")
                };
                self.say(
                    at,
                    format!(
                        "{whose}: the profile has no link `{name}`; it has {}",
                        names(&profile.half)
                    ),
                );
                return;
            }
        }
    }
}
