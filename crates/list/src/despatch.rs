//! What a sender's system sends as data: UBL Despatch Advice and X12 856 ship notice, whole.

use crate::error::Refusal;
use crate::grid::Warning;
use crate::row::PackingList;

/// A despatch advice or ship notice.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Despatch {
    /// Its own number.
    pub id: String,
    /// Its lines, in the file's order.
    pub lines: Vec<SentLine>,
    /// What is odd about it and was read all the same.
    pub warnings: Vec<Warning>,
}

/// One line of it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SentLine {
    /// Its number in the file.
    pub id: String,
}

/// Reads the file when it is one of these kinds of data; nothing when it is none of them.
pub fn read(_bytes: &[u8]) -> Option<Result<Despatch, Refusal>> {
    None
}

impl From<Despatch> for PackingList {
    fn from(despatch: Despatch) -> Self {
        Self {
            warnings: despatch.warnings.clone(),
            despatch: Some(Box::new(despatch)),
            ..Self::default()
        }
    }
}
