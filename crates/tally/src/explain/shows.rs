//! What a look shows. Two stories are told apart by it only where they say different things of what comes out.

use crate::explain::Story;
use crate::explain::cause::{Cause, CauseKind};

/// What a look shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shows {
    /// Which of two stories is so: they say different things of what comes out.
    WhichOfTwo,
    /// Whether pieces are really missing or too many, whatever the story.
    WhetherOff,
    /// Whether the likeliest story is so.
    WhetherSo,
}

impl Shows {
    /// What the look does, as words that follow "it".
    pub fn in_words(self) -> &'static str {
        match self {
            Self::WhichOfTwo => "tells the two apart",
            Self::WhetherOff => "shows whether the numbers are really so",
            Self::WhetherSo => "shows whether it is so",
        }
    }
}

/// How many pieces show in the look for a cause, if a story is so: of a recount, as many more than were counted.
pub(crate) fn seen(of: &Cause, story: &Story) -> i64 {
    use CauseKind as Kind;
    let same_pile =
        |cause: &Cause| cause.pile == of.pile || cause.pile.is_none() || of.pile.is_none();
    let shows = |cause: &&Cause| match of.kind {
        Kind::BundleAsOne
        | Kind::CountedTwice
        | Kind::Miscounted
        | Kind::LooksDiffer
        | Kind::WeighingDoubt
        | Kind::Short
        | Kind::Extra
        | Kind::FewerSpares => {
            let by_count = matches!(
                cause.kind,
                Kind::BundleAsOne
                    | Kind::CountedTwice
                    | Kind::Miscounted
                    | Kind::LooksDiffer
                    | Kind::WeighingDoubt
            );
            by_count && cause.mark == of.mark && same_pile(cause)
        }
        Kind::PileNotCounted | Kind::InAnotherBag => {
            let there = matches!(cause.kind, Kind::PileNotCounted | Kind::InAnotherBag);
            there && cause.mark == of.mark && cause.pile == of.pile && cause.sub_kit == of.sub_kit
        }
        Kind::CountedAsLookAlike | Kind::SentLookAlike => {
            cause.kind == Kind::CountedAsLookAlike
                && (&cause.mark, &cause.other_mark) == (&of.mark, &of.other_mark)
                && same_pile(cause)
        }
        Kind::RowMisread | Kind::RowTwice | Kind::ListTwice => {
            (cause.kind, &cause.row) == (of.kind, &of.row)
        }
        // What was packed, and what the list should say.
        Kind::RowForTwoUses | Kind::PackedForOneUse => {
            cause.kind == Kind::PackedForOneUse
                && (&cause.mark, &cause.sub_kit) == (&of.mark, &of.sub_kit)
        }
        Kind::ListTypo => {
            matches!(cause.kind, Kind::ListTypo | Kind::PackedByList) && cause.mark == of.mark
        }
        Kind::ListForOtherOrder | Kind::SentForOtherOrder => matches!(
            cause.kind,
            Kind::ListForOtherOrder | Kind::SentForOtherOrder
        ),
        Kind::PackedByList | Kind::LeftForLater | Kind::DamagedNotCounted | Kind::WrongSent => {
            cause.kind == of.kind && cause.mark == of.mark
        }
    };
    let more = |cause: &Cause| match cause.kind {
        Kind::CountedTwice | Kind::Miscounted | Kind::LooksDiffer | Kind::WeighingDoubt => {
            -cause.quantity
        }
        _ => cause.quantity,
    };
    story.causes.iter().filter(shows).map(more).sum()
}
