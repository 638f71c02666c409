//! Every figure that is assumed where nobody counted or nobody said: how late things come, how often words do not hold,
//! and from when on a crew is called.
//!
//! All are **ours**, judged, with no source: no published rates for kit buildings were found. How often the packer and
//! the count err stands in `tally::priors`, with the same mark. Each stands in one place, so that whoever knows better
//! changes it there.

/// From this chance on a crew is called for a day's work: of ten days so called, one at most ends for want of a part.
pub const SURE_ENOUGH: f64 = 0.9;

/// A crew is called for part of a day's work if that is at least this share of it.
pub const WORTH_COMING: f64 = 0.5;

/// By how many business days a shipment comes after the one day that was said for it, and how often. The rest of one in
/// a hundred does not come within what is looked at.
pub const LATE: [(u32, f64); 7] = [
    (0, 0.70),
    (1, 0.12),
    (2, 0.07),
    (3, 0.04),
    (4, 0.02),
    (5, 0.02),
    (10, 0.02),
];

/// Where two days were said, so often it comes between them, evenly over their business days.
pub const WITHIN: f64 = 0.95;

/// Where it does not, it comes within so many business days after the later one, evenly, in four cases of five.
pub const BEYOND: u32 = 5;

/// Of what does not come between the days that were said, so much comes within [`BEYOND`].
pub const BEYOND_COMES: f64 = 0.8;

/// A first day without a last one is taken to leave open so many business days.
pub const OPEN_END: u32 = 10;

/// What is sent on a day comes so many business days later, evenly: part loads between the states of one country.
pub const TRANSIT: [u32; 2] = [3, 7];

/// The most business days over which a coming is spread; of a longer time the last ones count.
pub const MOST_SPREAD: usize = 60;

/// Once this much of a coming's chances lies in days that have gone by, its day is past and nobody knows.
pub const OVERDUE: f64 = 0.97;

/// A way round a shortage that was allowed comes about so often.
pub const ALLOWED_HOLDS: f64 = 0.95;

/// One that somebody means to go, and that needs nobody's leave, does so often.
pub const MEANT_HOLDS: f64 = 0.8;

/// A way round takes so many business days from when it was said, such as a trip to a shop; it is there on the morning after.
pub const WAY_TAKES: usize = 1;

/// The fast freight takes so many.
pub const FREIGHT_TAKES: usize = 2;

/// A row of which the number is not clear is right so often, as read; else nothing of it counts.
pub const UNCLEAR_HOLDS: f64 = 0.7;

/// No explanation is believed more than so, however much likelier it is than the next.
pub const STORY_AT_MOST: f64 = 0.9;

/// Days with a crew that are looked at, at the most.
pub const MOST_CREW_DAYS: usize = 12;

/// Other days that are looked at, at the most.
pub const MOST_OTHER_DAYS: usize = 6;
