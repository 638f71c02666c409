//! What a profile is asked to be, and why there may be none.

use std::f64::consts::PI;

/// A measure of a link: told, or following from the width and the height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Ask {
    /// So many metres, or radians.
    Given(f64),
    /// What is left for it when the chain has to end at the peak.
    Follows,
}

/// The shape of a link.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shape {
    /// A straight of a length.
    Straight(Ask),
    /// An arc that bends towards the middle, by at most a half circle.
    Arc {
        /// Of the axis.
        radius: Ask,
        /// Angle at its centre.
        turn: Ask,
    },
}

/// One link of the half profile, from the ground up.
#[derive(Clone, Debug, PartialEq)]
pub struct AskedLink {
    /// Such as "side" or "roof"; troubles are told with it.
    pub name: String,
    /// Straight or arc.
    pub shape: Shape,
    /// How far the chain turns where this link starts, towards the middle when over nothing and outward when under.
    /// Without one the link goes on where the last one headed, and the first starts upright.
    pub kink: Option<Ask>,
}

impl AskedLink {
    /// A straight that goes on where the last link headed.
    pub fn straight(name: impl Into<String>, length: Ask) -> Self {
        Self {
            name: name.into(),
            shape: Shape::Straight(length),
            kink: None,
        }
    }

    /// An arc that goes on where the last link headed, and whose turn follows.
    pub fn arc(name: impl Into<String>, radius: Ask) -> Self {
        let turn = Ask::Follows;
        Self {
            name: name.into(),
            shape: Shape::Arc { radius, turn },
            kink: None,
        }
    }

    /// The same link, starting with a kink.
    pub fn kinked(self, kink: Ask) -> Self {
        Self {
            kink: Some(kink),
            ..self
        }
    }

    /// The same link, an arc of a given turn; a straight has none, and stays as it is.
    pub fn turning(self, radians: f64) -> Self {
        let shape = match self.shape {
            Shape::Arc { radius, .. } => Shape::Arc {
                radius,
                turn: Ask::Given(radians),
            },
            straight => straight,
        };
        Self { shape, ..self }
    }
}

/// How the two halves meet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Peak {
    /// At whatever angle follows, as at the ridge of a gothic house.
    #[default]
    Pointed,
    /// Level, so that the bow goes over the middle without a kink.
    Smooth,
}

/// Why no profile has the asked width, height and links.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NoProfile {
    /// Nothing was asked for.
    #[error("the profile has no links")]
    NoLinks,
    /// A measure that is nothing, negative, or no length that a house could have.
    #[error("`{0}` must be longer than nothing and not over {MOST_METRES} m")]
    NotPositive(String),
    /// A given turn that is no turn of a bow's arc.
    #[error("`{0}` must turn by more than 0 and by at most 180 degrees")]
    NotATurn(String),
    /// A given kink that would lead the bow back along itself.
    #[error("`{0}` must kink by less than 180 degrees to either side")]
    NotAKink(String),
    /// More is open than the ends of the chain settle.
    #[error(
        "the profile leaves {} measures open ({}), and only {follow} follow from its width, height and peak",
        open.len(),
        open.join(", ")
    )]
    TooOpen {
        /// What was not given.
        open: Vec<String>,
        /// How many can follow.
        follow: usize,
    },
    /// As much is open as could follow, but the ends of the chain do not settle it.
    #[error("width, height and peak do not settle {}: more than one measure of them would do", open.join(" and "))]
    NotSettled {
        /// What was not given.
        open: Vec<String>,
    },
    /// The circles meet, but only by bending outward or by sinking towards the middle.
    #[error(
        "arcs of {shoulder:.3} m and {roof:.3} m meet a peak {height:.3} m high over a half width of \
         {half_width:.3} m only by bending the wrong way"
    )]
    ArcsBendWrong {
        /// Radius of the last arc but one.
        shoulder: f64,
        /// Radius of the last arc.
        roof: f64,
        /// Height asked for.
        height: f64,
        /// Half of the width asked for.
        half_width: f64,
    },
    /// The circles do not reach each other.
    #[error(
        "arcs of {shoulder:.3} m and {roof:.3} m do not meet a peak {height:.3} m high over a half width of \
         {half_width:.3} m: the roof's circle misses it by {miss:.3} m"
    )]
    ArcsDoNotMeet {
        /// Radius of the last arc but one.
        shoulder: f64,
        /// Radius of the last arc.
        roof: f64,
        /// Height asked for.
        height: f64,
        /// Half of the width asked for.
        half_width: f64,
        /// How far apart the circles stay.
        miss: f64,
    },
    /// Whatever the open measures are, the chain does not reach the peak.
    #[error(
        "whatever {} may be, the profile misses a peak {height:.3} m high over a half width of {half_width:.3} m, by \
         {miss:.3} m at the least",
        open.join(" and ")
    )]
    DoesNotReach {
        /// What was not given.
        open: Vec<String>,
        /// Height asked for.
        height: f64,
        /// Half of the width asked for.
        half_width: f64,
        /// How far off the chain stays.
        miss: f64,
    },
    /// So much is given that the height follows, and is another one.
    #[error(
        "{link} that starts {from:.3} m up ends {reached:.3} m up, at the middle of a half width of \
         {half_width:.3} m; the height asked for is {height:.3} m, so it misses by {:.3} m",
        (height - reached).abs()
    )]
    MissesHeight {
        /// The last link and its measure.
        link: String,
        /// How high the last link starts.
        from: f64,
        /// How high it ends.
        reached: f64,
        /// Height asked for.
        height: f64,
        /// Half of the width asked for.
        half_width: f64,
    },
    /// So much is given that the chain does not come to the middle.
    #[error(
        "{link} ends {reached:.3} m up and {:.3} m from the middle; asked for are a height of {height:.3} m and a half \
         width of {half_width:.3} m",
        short.abs()
    )]
    MissesMiddle {
        /// The last link and its measure.
        link: String,
        /// How high it ends.
        reached: f64,
        /// How far it ends before the middle, or past it when under nothing.
        short: f64,
        /// Height asked for.
        height: f64,
        /// Half of the width asked for.
        half_width: f64,
    },
    /// All turns and kinks are given, and do not bring the chain level.
    #[error(
        "all turns are given, and leave the profile {degrees:.3} degrees off level at its smooth peak"
    )]
    PeakNotSmooth {
        /// How steep the chain still is.
        degrees: f64,
    },
    /// The chain closes only with an extent that cannot be.
    #[error(
        "`{name}` would need a {what} of {metres:.3} m for a peak {height:.3} m high over a half width of \
         {half_width:.3} m"
    )]
    ExtentCannotBe {
        /// Of the link.
        name: String,
        /// Length or radius.
        what: &'static str,
        /// What it would have to be.
        metres: f64,
        /// Height asked for.
        height: f64,
        /// Half of the width asked for.
        half_width: f64,
    },
    /// The chain closes only with an arc that bends outward, or too far.
    #[error(
        "`{name}` would have to turn by {degrees:.3} degrees for a peak {height:.3} m high over a half width of \
         {half_width:.3} m; an arc turns towards the middle, by at most 180"
    )]
    TurnCannotBe {
        /// Of the link.
        name: String,
        /// What it would have to be.
        degrees: f64,
        /// Height asked for.
        height: f64,
        /// Half of the width asked for.
        half_width: f64,
    },
    /// The chain closes only by going down on its way to the peak.
    #[error(
        "`{name}` would sink, heading {degrees:.3} degrees over the level, to meet a peak {height:.3} m high over a \
         half width of {half_width:.3} m"
    )]
    Sinks {
        /// Of the link.
        name: String,
        /// Where it heads at its worst.
        degrees: f64,
        /// Height asked for.
        height: f64,
        /// Half of the width asked for.
        half_width: f64,
    },
    /// The chain passes the middle and comes back.
    #[error(
        "`{name}` would reach {past:.3} m past the middle of a half width of {half_width:.3} m"
    )]
    PassesMiddle {
        /// Of the link.
        name: String,
        /// How far.
        past: f64,
        /// Half of the width asked for.
        half_width: f64,
    },
}

/// The largest measure of a profile; a roof's radius may be far longer than the house is wide.
pub(crate) const MOST_METRES: f64 = 1_000.0;

/// Refuses measures that no house could have, before anything is computed with them.
pub(crate) fn must_be_possible(
    width: f64,
    height: f64,
    links: &[AskedLink],
) -> Result<(), NoProfile> {
    let length = |name: &str, metres: f64| {
        let possible = metres > 0.0 && metres <= MOST_METRES;
        possible
            .then_some(())
            .ok_or_else(|| NoProfile::NotPositive(name.into()))
    };
    for link in links {
        let (extent, turn) = match link.shape {
            Shape::Straight(length) => (length, Ask::Follows),
            Shape::Arc { radius, turn } => (radius, turn),
        };
        if let Ask::Given(metres) = extent {
            length(&link.name, metres)?;
        }
        if let Ask::Given(turn) = turn
            && (turn.is_nan() || turn <= 0.0 || turn > PI)
        {
            return Err(NoProfile::NotATurn(link.name.clone()));
        }
        if let Some(Ask::Given(kink)) = link.kink
            && (kink.is_nan() || kink.abs() >= PI)
        {
            return Err(NoProfile::NotAKink(link.name.clone()));
        }
    }
    length("width", width)?;
    length("height", height)?;
    if links.is_empty() {
        return Err(NoProfile::NoLinks);
    }
    Ok(())
}
