//! How many pieces of each mark there are, what that rests on, and how likely each number is.

use jiff::civil::Date;

/// What a number of pieces rests on; the surest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rests {
    /// Somebody counted them.
    Counted,
    /// They were weighed: there could be fewer.
    Weighed,
    /// Two looks differ, bundles were taken as labelled, or they lie elsewhere by the likeliest explanation only.
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

impl Rests {
    /// What people read, after a number of pieces.
    pub fn in_words(self) -> &'static str {
        match self {
            Self::Counted => "counted",
            Self::Weighed => "weighed, could be fewer",
            Self::Doubtful => "in doubt",
            Self::Listed => "listed, not counted",
            Self::Promised => "promised, not here",
            Self::WayRound => "by a way round the shortage",
            Self::Unsaid => "on no list, not counted",
        }
    }
}

/// Some pieces of a mark, and how likely each number is.
#[derive(Clone, Debug, PartialEq)]
pub struct Share {
    /// What it rests on.
    pub rests: Rests,
    /// The likeliest number, which is the one that is shown. Below 0 where by the likeliest explanation so many were
    /// counted that are something else.
    pub pieces: i64,
    /// Every number that is at all likely, rising, with its chance; these add up to 1.
    pub odds: Vec<(i64, f64)>,
    /// What brings it (index into [`Supplies::coming`]); nothing: it is here.
    pub with: Option<usize>,
    /// What it rests on, in words, such as "26 listed in Load 1, not counted".
    pub says: String,
}

/// All pieces of a mark.
#[derive(Clone, Debug, PartialEq)]
pub struct Supply {
    /// The mark.
    pub mark: String,
    /// Its shares; they add up, and are taken to be independent of each other but for what they come with. The sum is
    /// never below 0.
    pub shares: Vec<Share>,
    /// So many are built in, in stages that are done: there are at least as many, whatever was counted.
    pub built: i64,
}

/// What kind of thing brings pieces.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ComingIs {
    /// A shipment that is not here.
    Shipment,
    /// What the sender answered that they send, in a shipment that has no name.
    Sent,
    /// A way round a shortage.
    WayRound,
    /// An explanation: nothing comes, but if it holds, pieces are here that were not counted as what they are.
    Story,
}

/// Something that is still to come, or to turn out true.
#[derive(Clone, Debug, PartialEq)]
pub struct Coming {
    /// The shipment, or what else comes.
    pub name: String,
    /// What kind of thing it is.
    pub is: ComingIs,
    /// Days, rising, with the chance that it is here by the morning of that day; before the first 0, after the last as on
    /// the last. Empty: no day is known, and it is never counted on.
    pub here_by: Vec<(Date, f64)>,
    /// What that rests on, in words.
    pub says: String,
}

impl Coming {
    /// The chance that it is here by the morning of a day.
    pub fn by(&self, day: Date) -> f64 {
        let past = self.here_by.partition_point(|(on, _)| *on <= day);
        past.checked_sub(1)
            .map_or(0.0, |last| self.here_by[last].1.clamp(0.0, 1.0))
    }
}

/// All pieces of all marks.
#[derive(Clone, Debug, PartialEq)]
pub struct Supplies {
    /// One a mark, in the order of the parts list.
    pub marks: Vec<Supply>,
    /// What is still to come.
    pub coming: Vec<Coming>,
}

impl Supplies {
    /// By mark, the likeliest number of pieces that are here: counted, or on a list. What only an explanation gives or
    /// takes is not among it, however likely: it weighs in the chances.
    pub fn here(&self) -> Vec<i64> {
        self.likeliest(|share| share.with.is_none())
    }

    /// By mark, the pieces that somebody counted or weighed.
    pub fn counted(&self) -> Vec<i64> {
        self.likeliest(|share| share.with.is_none() && share.rests <= Rests::Doubtful)
    }

    /// By mark, the pieces that are here or more likely than not here by the morning of that day; as in
    /// [`Supplies::here`], without what only an explanation gives or takes.
    pub fn by(&self, day: Date) -> Vec<i64> {
        self.likeliest(|share| match share.with {
            None => true,
            Some(_) if self.is_story(share) => false,
            Some(with) => (self.coming.get(with)).is_some_and(|coming| coming.by(day) > 0.5),
        })
    }

    /// Whether a share is here only if an explanation holds.
    pub(crate) fn is_story(&self, share: &Share) -> bool {
        let coming = share.with.and_then(|with| self.coming.get(with));
        coming.is_some_and(|coming| coming.is == ComingIs::Story)
    }

    /// Whether nobody counted or listed or promised anything: then nothing can be said.
    pub(crate) fn nothing_known(&self) -> bool {
        (self.marks.iter()).all(|supply| {
            let known = supply
                .shares
                .iter()
                .any(|share| share.rests != Rests::Unsaid);
            !known && supply.built == 0
        })
    }

    fn likeliest(&self, takes: impl Fn(&Share) -> bool) -> Vec<i64> {
        let sum = |supply: &Supply| {
            let shares = supply.shares.iter().filter(|share| takes(share));
            let sum = shares.fold(0_i64, |sum, share| sum.saturating_add(share.pieces));
            sum.max(supply.built).max(0)
        };
        self.marks.iter().map(sum).collect()
    }
}
