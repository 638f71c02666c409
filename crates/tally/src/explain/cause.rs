//! What may have happened, as one of the causes of a story.

/// What kind of thing happened.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CauseKind {
    /// Pieces of [`Cause::mark`] lie in a pile of [`Cause::other_mark`] and were counted as that.
    CountedAsLookAlike,
    /// The sender picked [`Cause::other_mark`] instead of [`Cause::mark`].
    SentLookAlike,
    /// Whole bundles were counted as one piece each.
    BundleAsOne,
    /// The same pieces were counted twice.
    CountedTwice,
    /// A plain slip of a count piece by piece.
    Miscounted,
    /// A share of the kit lies there and was not counted.
    PileNotCounted,
    /// It was packed in the bag of another share of the kit: one that was not counted, or, where none is named, one that
    /// was, and where nobody looked for it.
    InAnotherBag,
    /// Damaged pieces were set aside and not counted.
    DamagedNotCounted,
    /// Pieces that somebody saw to be another part than their label says were not counted: of what it says they are short.
    WrongSent,
    /// The sender left it for a later shipment.
    LeftForLater,
    /// The weighing is off, within its bounds.
    WeighingDoubt,
    /// Two looks at a pile differ, and the one that does not stand was right.
    LooksDiffer,
    /// The sender packed fewer spares than usual; the house has enough.
    FewerSpares,
    /// Pieces are missing, and nothing else explains it.
    Short,
    /// Pieces are too many, and nothing else explains it.
    Extra,
    /// A row of the list was read onto [`Cause::mark`] and means [`Cause::other_mark`], or the other way round where
    /// `other_mark` is none: the row was read onto nothing.
    RowMisread,
    /// A row of the list stands there twice.
    RowTwice,
    /// A whole list was brought in twice, as two files: all its pieces.
    ListTwice,
    /// The list has one use of the mark and leaves out another; what was packed is right.
    RowForTwoUses,
    /// The list has one use of the mark and leaves out another, and so did the packer.
    PackedForOneUse,
    /// A slip of the list alone.
    ListTypo,
    /// A wrong number on the list, and packed so.
    PackedByList,
    /// The list was made for another size or option; what was packed is right.
    ListForOtherOrder,
    /// List and kit were made for another size or option.
    SentForOtherOrder,
}

/// One thing that happened, with how many pieces it explains.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cause {
    /// What kind of thing.
    pub kind: CauseKind,
    /// Pieces. Below zero where a list, a weighing or a count has that many too few ([`CauseKind::ListTypo`],
    /// [`CauseKind::PackedByList`], [`CauseKind::WeighingDoubt`], [`CauseKind::LooksDiffer`], [`CauseKind::Miscounted`],
    /// [`CauseKind::ListForOtherOrder`], [`CauseKind::SentForOtherOrder`]); never zero.
    pub quantity: i64,
    /// As many spares besides that did not come either ([`CauseKind::Short`]): the house does not need them.
    pub spares: i64,
    /// The mark that it happened to.
    pub mark: String,
    /// The mark that it was taken for; it need not be one of the order.
    pub other_mark: Option<String>,
    /// The pile that it lies in; none where piles have no names.
    pub pile: Option<String>,
    /// The row of the list, such as "row 14"; the list, where it is the whole of it.
    pub row: Option<String>,
    /// The share of the kit; the use, where one is left out.
    pub sub_kit: Option<String>,
    /// The shipment; "Load 2 or Load 3" where it may be any of them.
    pub shipment: Option<String>,
}

impl Cause {
    /// A cause of which only mark and pieces are known.
    pub(crate) fn of(kind: CauseKind, mark: &str, quantity: i64) -> Self {
        Self {
            kind,
            quantity,
            spares: 0,
            mark: mark.into(),
            other_mark: None,
            pile: None,
            row: None,
            sub_kit: None,
            shipment: None,
        }
    }

    /// How many pieces of a mark did not come, if this is what happened; below zero where so many came too many.
    pub fn missing(&self, mark: &str) -> i64 {
        let (is_it, is_other) = (self.mark == mark, self.other_mark.as_deref() == Some(mark));
        match self.kind {
            CauseKind::Short | CauseKind::PackedForOneUse | CauseKind::WrongSent if is_it => {
                self.quantity
            }
            CauseKind::Extra if is_it => -self.quantity,
            CauseKind::PackedByList | CauseKind::SentForOtherOrder if is_it => -self.quantity,
            CauseKind::SentLookAlike if is_it => self.quantity,
            CauseKind::SentLookAlike if is_other => -self.quantity,
            _ => 0,
        }
    }

    /// Whether it says that pieces which were not counted are there, or will come: where it is wrong, they are short.
    pub fn hides_a_shortage(&self) -> bool {
        match self.kind {
            CauseKind::CountedAsLookAlike
            | CauseKind::BundleAsOne
            | CauseKind::PileNotCounted
            | CauseKind::InAnotherBag
            | CauseKind::DamagedNotCounted
            | CauseKind::LeftForLater => true,
            CauseKind::WeighingDoubt | CauseKind::LooksDiffer | CauseKind::Miscounted => {
                self.quantity < 0
            }
            _ => false,
        }
    }
}
