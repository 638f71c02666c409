//! How likely each stage can be started and completed by a day, exactly, from how likely each number of pieces is.

/// How likely a stage has its pieces.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StageChance {
    /// That all stages which it follows have all their pieces, and at least one of its own units has its.
    pub start: f64,
    /// That it and all stages which it follows have all their pieces.
    pub complete: f64,
}
