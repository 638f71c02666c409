//! The answer for whoever calls the crew: go, go as far as, or wait; what it rests on, and what would change it.

/// What the answer is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CallIs {
    /// All that the crew can do in its hours has its pieces.
    Go,
    /// A good part of it has.
    GoAsFar,
    /// Too little has.
    Wait,
}

/// The answer for a day.
#[derive(Clone, Debug, PartialEq)]
pub struct Call {
    /// Go, go as far as, or wait.
    pub is: CallIs,
    /// One sentence, such as "Go as far as bow 14."
    pub says: String,
    /// Why, a sentence each.
    pub why: Vec<String>,
    /// The chance that the pieces for what it says are there; of a wait, for the whole day's work.
    pub chance: f64,
    /// The same in words, such as "almost sure, 97 %".
    pub chance_says: String,
    /// What it rests on, such as "B1: 26 listed, not counted".
    pub rests_on: Vec<String>,
    /// What would change it, the most first.
    pub would_change: Vec<String>,
}
