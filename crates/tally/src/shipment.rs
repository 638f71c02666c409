//! Shipments by name. People and lists spell one name in several ways.

use std::collections::BTreeMap;

use crate::rules::MAX_NAME;

/// The shipment of what a list says is to follow, without saying when.
pub const BACK_ORDER: &str = "the back order";

/// How each shipment is spelled for people: as it was first. "Load 1", "load 1 " and "LOAD 1" are one shipment.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Spellings(BTreeMap<String, String>);

impl Spellings {
    /// Returns the spelling that stands for a name; a name that is new becomes one.
    pub fn of(&mut self, name: &str) -> String {
        let tidy = tidy(name);
        let spelling = self.0.entry(tidy.to_lowercase()).or_insert(tidy);
        spelling.clone()
    }

    /// Returns the spelling that stands for a name, where the name is known.
    pub fn known(&self, name: &str) -> Option<&str> {
        self.0.get(&tidy(name).to_lowercase()).map(String::as_str)
    }
}

/// The name as one line with single spaces; empty when nothing of it can be seen. It is cut to what an event can
/// hold: a list may write more, and its arrival must still be something that a person can say.
fn tidy(name: &str) -> String {
    let visible: String = name
        .chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    let words: Vec<&str> = visible.split_whitespace().collect();
    let cut: String = words.join(" ").chars().take(MAX_NAME).collect();
    cut.trim_end().to_owned()
}
