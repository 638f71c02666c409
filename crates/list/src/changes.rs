//! What changed from one reading of a list to its corrected one.

use crate::row::PackingList;

/// One change, by the index of its row in the old list, the new one, or both.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Change {
    /// A row that was not there.
    Added(usize),
    /// A row that is no longer there.
    Gone(usize),
    /// The same thing, another number of pieces.
    Quantity(usize, usize),
    /// The same row in other words.
    Words(usize, usize),
}

/// Holds a corrected list against the one before.
pub fn changes(before: &PackingList, after: &PackingList) -> Vec<Change> {
    let find = |list: &PackingList, key| list.rows.iter().position(|row| row.key == key);
    let mut all = Vec::new();
    for (index, row) in before.rows.iter().enumerate() {
        match find(after, row.key) {
            None => all.push(Change::Gone(index)),
            Some(new) if after.rows[new].quantity != row.quantity => {
                all.push(Change::Quantity(index, new));
            }
            Some(_) => {}
        }
    }
    for (index, row) in after.rows.iter().enumerate() {
        if find(before, row.key).is_none() {
            all.push(Change::Added(index));
        }
    }
    all
}
