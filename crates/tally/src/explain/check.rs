//! The look that tells two stories apart.

/// A look that tells the likeliest story from the next, or confirms it.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// What to do: "measure any 3 in pile C".
    pub words: String,
    /// The mark that it is about.
    pub mark: String,
    /// The pile to look at, where one is.
    pub pile: Option<String>,
    /// How long it takes; a design value of ours.
    pub seconds: f64,
    /// The chance that it tells the two apart.
    pub settles: f64,
}
