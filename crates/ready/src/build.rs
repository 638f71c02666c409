//! The build as a graph: stages, and in each the units that can be done one by one, with what they need and follow.

/// A build, read off a frame and its parts list.
#[derive(Clone, Debug, PartialEq)]
pub struct Build {
    /// The stages, in the order of the build.
    pub stages: Vec<BuildStage>,
    /// What can be done one by one; each comes after all that it follows.
    pub units: Vec<Unit>,
    /// The marks, in the order of the parts list.
    pub marks: Vec<String>,
    /// How many bows stand.
    pub bows: usize,
}

/// A stage of the build.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BuildStage {
    /// Its name in the family.
    pub name: String,
    /// The stages that it follows (by index).
    pub follows: Vec<usize>,
    /// The kind of work, by its name in `work.toml`.
    pub work: String,
}

/// A share of a stage that is done as one: a post, a bow, a piece of a purlin, a door.
#[derive(Clone, Debug, PartialEq)]
pub struct Unit {
    /// Its stage (by index).
    pub stage: usize,
    /// In words, such as "bow 14" or "ridge, piece 2 of 5".
    pub name: String,
    /// The first and the last bow that it stands at or reaches, from 1 at the front; they may be one.
    pub bows: [usize; 2],
    /// How many of which mark (by index) it needs.
    pub needs: Vec<(usize, i64)>,
    /// The units that come before it (by index).
    pub after: Vec<usize>,
    /// The pieces of the frame that it places (by index), to light them in a drawing.
    pub pieces: Vec<usize>,
}
