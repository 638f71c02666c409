//! The rule sets that come with the program.

use std::sync::LazyLock;

use crate::rule::{Rule, RuleSet};
use crate::rule_file::{RuleFault, read_rules};

/// The files under `rules/`, with their names.
const FILES: [(&str, &str); 7] = [
    ("us-motor.toml", include_str!("../rules/us-motor.toml")),
    ("ucc.toml", include_str!("../rules/ucc.toml")),
    ("cisg.toml", include_str!("../rules/cisg.toml")),
    ("cmr.toml", include_str!("../rules/cmr.toml")),
    ("sea.toml", include_str!("../rules/sea.toml")),
    ("air.toml", include_str!("../rules/air.toml")),
    ("rail.toml", include_str!("../rules/rail.toml")),
];

static BUILT_IN: LazyLock<RuleSets> = LazyLock::new(|| {
    RuleSets::read(&FILES).expect("the rule files that come with the program are read by a test")
});

/// Rule sets, each name once.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RuleSets {
    sets: Vec<RuleSet>,
}

impl RuleSets {
    /// Returns the sets that come with the program.
    pub fn built_in() -> &'static Self {
        &BUILT_IN
    }

    /// Reads sets out of files, each a name and its text. All that is wrong comes back at once.
    pub fn read(files: &[(&str, &str)]) -> Result<Self, Vec<RuleFault>> {
        let mut sets: Vec<RuleSet> = Vec::new();
        let mut faults = Vec::new();
        for (file, text) in files {
            match read_rules(file, text) {
                Ok(set) if sets.iter().any(|s| s.id == set.id) => {
                    let why = format!("\"{}\" is the name of another file's set", set.id);
                    faults.push(RuleFault::of_file(file, "set", &why));
                }
                Ok(set) => sets.push(set),
                Err(more) => faults.extend(more),
            }
        }
        if faults.is_empty() {
            Ok(Self { sets })
        } else {
            Err(faults)
        }
    }

    /// Returns every set.
    pub fn sets(&self) -> &[RuleSet] {
        &self.sets
    }

    /// Returns the set of this name.
    pub fn set(&self, id: &str) -> Option<&RuleSet> {
        self.sets.iter().find(|s| s.id == id)
    }

    /// Returns the rule of this whole name, such as `us-motor.claim`.
    pub fn rule(&self, id: &str) -> Option<&Rule> {
        self.sets.iter().flat_map(|s| &s.rules).find(|r| r.id == id)
    }
}
