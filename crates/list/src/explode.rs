//! A row that stands for several marks: a kit, a set, a left and a right.

use frame::Mark;

/// A sub-kit of the order: what the sender packs under one name.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Kit {
    /// Its name, such as "end wall".
    pub name: String,
    /// Its marks, each with the pieces that one such kit holds.
    pub holds: Vec<(Mark, i64)>,
}
