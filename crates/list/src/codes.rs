//! What a sender's codes have stood for: learned from rows that were sure or that a person decided.

use std::collections::BTreeMap;

/// What one code stood for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Learned {
    /// Our description of the part, so that another order finds the same thing under another mark.
    pub means: String,
    /// A person said so; otherwise a row that was sure.
    pub by_a_person: bool,
}

/// The codes of one sender.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Codes {
    /// Who sends, as their lists write it.
    pub sender: String,
    /// Each code, bare, with what it stood for.
    pub by_code: BTreeMap<String, Learned>,
}

impl Codes {
    /// Returns what a code stood for; `code` bare, as [`crate::evidence::bare_code`] makes it.
    pub(crate) fn stood_for(&self, code: &str) -> Option<&Learned> {
        self.by_code.get(code).filter(|_| !code.is_empty())
    }
}
