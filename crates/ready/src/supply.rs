//! How many pieces of each mark there are, what that rests on, and how likely each number is.

use jiff::civil::Date;

/// What a number of pieces rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rests {
    /// Somebody counted them.
    Counted,
    /// They were weighed: there could be fewer.
    Weighed,
    /// Two looks differ, or bundles were taken as labelled.
    Doubtful,
    /// A list has them, in a shipment that is here; nobody counted.
    Listed,
    /// They come in a shipment that is not here yet.
    Promised,
    /// They come by a way round the shortage that was allowed or needs nobody's leave.
    WayRound,
    /// No list has them and nobody counted.
    Unsaid,
}

/// Some pieces of a mark, and how likely each number is.
#[derive(Clone, Debug, PartialEq)]
pub struct Share {
    /// What it rests on.
    pub rests: Rests,
    /// The likeliest number, which is the one that is shown.
    pub pieces: i64,
    /// Every number that is at all likely, rising, with its chance; these add up to 1.
    pub odds: Vec<(i64, f64)>,
    /// What brings it (index into [`Supplies::coming`]); nothing: it is here.
    pub with: Option<usize>,
}

/// All pieces of a mark.
#[derive(Clone, Debug, PartialEq)]
pub struct Supply {
    /// The mark.
    pub mark: String,
    /// Its shares; they add up, and are taken to be independent of each other.
    pub shares: Vec<Share>,
}

/// Something that is still to come.
#[derive(Clone, Debug, PartialEq)]
pub struct Coming {
    /// The shipment, or what else comes.
    pub name: String,
    /// Days, rising, with the chance that it is here by the morning of that day; before the first 0, after the last as on
    /// the last.
    pub here_by: Vec<(Date, f64)>,
    /// What that rests on, in words.
    pub says: String,
}

/// All pieces of all marks.
#[derive(Clone, Debug, PartialEq)]
pub struct Supplies {
    /// One a mark, in the order of the parts list.
    pub marks: Vec<Supply>,
    /// What is still to come.
    pub coming: Vec<Coming>,
}
