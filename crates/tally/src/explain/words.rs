//! Causes in the words of a crew.

use crate::explain::cause::{Cause, CauseKind};
use crate::explain::check::pile_name;

impl Cause {
    /// "2 R1 lie in pile C and were counted as S1".
    pub fn in_words(&self) -> String {
        let (n, mark) = (self.quantity.abs(), &self.mark);
        let other = self.other_mark.as_deref().unwrap_or("something else");
        let (are, were) = match n {
            1 => ("is", "was"),
            _ => ("are", "were"),
        };
        let in_pile = match &self.pile {
            Some(pile) => format!(" in {}", pile_name(pile)),
            None => String::new(),
        };
        let few_or_many = if self.quantity < 0 { "few" } else { "many" };
        let row = self.row.as_deref().unwrap_or("a row");
        let share = self.sub_kit.as_deref().unwrap_or("another bag");
        let later = self.shipment.as_deref().unwrap_or("a later shipment");
        match self.kind {
            CauseKind::CountedAsLookAlike => match n {
                1 if self.pile.is_some() => {
                    format!("1 {mark} lies{in_pile} and was counted as {other}")
                }
                _ if self.pile.is_some() => {
                    format!("{n} {mark} lie{in_pile} and were counted as {other}")
                }
                _ => format!("{n} {mark} {were} counted as {other}"),
            },
            CauseKind::SentLookAlike => format!("the sender packed {n} {other} instead of {mark}"),
            CauseKind::BundleAsOne => {
                format!(
                    "whole bundles of {mark}{in_pile} were counted as one piece each: {n} more lie there"
                )
            }
            CauseKind::CountedTwice => format!("{n} {mark}{in_pile} {were} counted twice"),
            CauseKind::Miscounted => format!("the count of {mark} came out {n} too {few_or_many}"),
            CauseKind::PileNotCounted => match &self.pile {
                Some(_) => format!("{n} {mark} {are}{in_pile}, which was not counted yet"),
                None => format!("{n} {mark} of {share} {are} there and {were} not counted yet"),
            },
            CauseKind::InAnotherBag => match &self.sub_kit {
                Some(share) => {
                    format!("{n} {mark} {were} packed with {share}, which was not counted yet")
                }
                None => format!(
                    "{n} {mark} {were} packed in another sub-kit's bag, where nobody looked for {mark}"
                ),
            },
            CauseKind::WrongSent => {
                format!(
                    "{n} pieces that are labelled {mark} are something else: {n} {mark} {are} short"
                )
            }
            CauseKind::DamagedNotCounted => {
                format!("{n} {mark} {are} not fit for use, {were} set aside and not counted")
            }
            CauseKind::LeftForLater => format!("{n} {mark} {were} left for {later}"),
            CauseKind::WeighingDoubt => {
                format!("the weighing of {mark} came out {n} too {few_or_many}")
            }
            CauseKind::LooksDiffer => {
                format!("of two looks at {mark}{in_pile} the first was {n} too {few_or_many}")
            }
            CauseKind::FewerSpares => {
                format!("{n} {mark} fewer than usual {were} packed as spares")
            }
            CauseKind::Short => {
                let spares = match self.spares {
                    0 => String::new(),
                    1 => " (and 1 spare)".into(),
                    n => format!(" (and {n} spares)"),
                };
                format!("{n} {mark} {are} short{spares}")
            }
            CauseKind::Extra => format!("{n} {mark} too many came"),
            CauseKind::RowMisread => match &self.other_mark {
                Some(other) => format!("{row} of the list means {other}, not {mark} ({n} pieces)"),
                None => format!(
                    "{row} of the list, read as none of this order, means {mark} ({n} pieces)"
                ),
            },
            CauseKind::RowTwice => format!("{row} of the list has {n} {mark} a second time"),
            CauseKind::ListTwice => {
                format!("{row} is a list that stands here already: its {n} pieces count twice")
            }
            CauseKind::RowForTwoUses => {
                format!("the list leaves out the {n} {mark} for {share}; they were packed")
            }
            CauseKind::PackedForOneUse => {
                format!(
                    "list and packer left out the {n} {mark} for {share}: {n} {mark} {are} short"
                )
            }
            CauseKind::ListTypo => format!("the list has {n} {mark} too {few_or_many}, by a slip"),
            CauseKind::PackedByList => {
                format!("the list has {n} {mark} too {few_or_many}, and the sender packed by it")
            }
            CauseKind::ListForOtherOrder => {
                format!(
                    "the list has {n} {mark} too {few_or_many}, for it was made for another order"
                )
            }
            CauseKind::SentForOtherOrder => {
                format!(
                    "{n} {mark} too {few_or_many} came, for list and kit were made for another order"
                )
            }
        }
    }
}
