//! What was said, held against what truly happened.

use std::collections::BTreeMap;

use frame::PartsList;
use tally::{Cause, CauseKind, Explanation, MarkDifference, Matter, Ordered, Standing, Verdict};

use crate::deliveries::planted::{Kind, Planted, Truth};

/// How one planted error was told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Told {
    /// In the likeliest stories.
    pub best: bool,
    /// There, or in the runners-up.
    pub top_two: bool,
    /// In the likeliest, with the right number of pieces.
    pub number: bool,
}

/// Whether a number of a mark is off, so that there is something to explain. What nobody has counted yet is not.
pub fn shows(mark: &MarkDifference) -> bool {
    mark.verdicts.iter().any(|verdict| {
        matches!(
            verdict,
            Verdict::Short(_)
                | Verdict::ShortBetween { .. }
                | Verdict::CouldBeShort(_)
                | Verdict::Over(_)
                | Verdict::ListShort(_)
                | Verdict::ListOver(_)
        )
    })
}

/// The marks that a planted error touched and that show it. None: other errors or spares make the numbers fit, and
/// nobody could find it in them. A list for another order shows as one thing.
pub fn seen(planted: &Planted, standing: &Standing) -> Vec<String> {
    let difference = standing.difference.as_ref().expect("there is an order");
    let shown = |mark: &str| difference.mark(mark).is_some_and(shows);
    if planted.order.is_some() {
        let shown = difference.marks.iter().filter(|mark| shows(mark));
        return shown.map(|mark| mark.mark.clone()).collect();
    }
    if planted.kind == Kind::DamagedNoted {
        return Vec::new();
    }
    let own = planted.marks.iter().map(|(mark, _)| mark);
    let all = own.chain(&planted.other);
    all.filter(|mark| shown(mark)).cloned().collect()
}

/// How a planted error was told; `seen` are the marks that show it.
pub fn told(planted: &Planted, seen: &[String], by: &Explanation) -> Told {
    if let Some(order) = &planted.order {
        let told = of_other_order(planted.kind, order, by);
        return Told {
            best: told,
            top_two: told,
            number: told,
        };
    }
    let best: Vec<&Cause> = best(by).collect();
    let second = by.matters.iter().flat_map(|matter| &matter.other);
    let mut both = best.clone();
    both.extend(second.flat_map(|story| &story.causes));
    Told {
        best: all_marks(planted, seen, &best, false),
        top_two: all_marks(planted, seen, &both, false),
        number: all_marks(planted, seen, &best, true),
    }
}

/// The causes of the likeliest stories.
pub fn best(of: &Explanation) -> impl Iterator<Item = &Cause> {
    of.matters.iter().flat_map(|matter| &matter.best.causes)
}

/// A bag that was not counted must be told for each mark in it that shows; others have one mark.
fn all_marks(planted: &Planted, seen: &[String], causes: &[&Cause], number: bool) -> bool {
    let of_one = |(mark, n): &(String, i64)| {
        let says =
            |cause: &&Cause| is_it(planted, mark, cause) && (!number || cause.quantity.abs() == *n);
        causes.iter().any(says)
    };
    let pile = planted.kind == Kind::PileNotCounted;
    let mut marks = planted
        .marks
        .iter()
        .filter(|(mark, _)| !pile || seen.contains(mark));
    marks.all(of_one)
}

/// Whether a cause says what was planted. A pair is a pair, whichever of the two is named first: the numbers alone
/// say which way round it was.
fn is_it(planted: &Planted, mark: &str, cause: &Cause) -> bool {
    let pair = |kind| {
        let (one, other) = (cause.mark.as_str(), cause.other_mark.as_deref());
        let (a, b) = (mark, planted.other.as_deref());
        cause.kind == kind && ((one == a && other == b) || (Some(one) == b && other == Some(a)))
    };
    let alone = |kind| cause.kind == kind && cause.mark == mark;
    match planted.kind {
        Kind::CountedAsLookAlike => pair(CauseKind::CountedAsLookAlike),
        Kind::SentLookAlike => pair(CauseKind::SentLookAlike),
        Kind::RowMisread => pair(CauseKind::RowMisread),
        Kind::BundleAsOne => alone(CauseKind::BundleAsOne),
        Kind::CountedTwice => alone(CauseKind::CountedTwice),
        Kind::PileNotCounted => alone(CauseKind::PileNotCounted),
        Kind::DamagedAside => alone(CauseKind::DamagedNotCounted),
        Kind::RowForTwoUses => alone(CauseKind::RowForTwoUses),
        Kind::PackedForOneUse => alone(CauseKind::PackedForOneUse),
        // That a bag was not counted and holds them says the same, where it is named.
        Kind::InAnotherBag => {
            let bag = planted.pile.as_ref().map(|bag| format!("bag {bag}"));
            let in_it = alone(CauseKind::PileNotCounted) && bag.is_some() && cause.pile == bag;
            alone(CauseKind::InAnotherBag) || in_it
        }
        Kind::LeftForLater => alone(CauseKind::LeftForLater),
        Kind::Short => alone(CauseKind::Short),
        Kind::Extra => alone(CauseKind::Extra),
        Kind::DamagedNoted | Kind::ListForOther | Kind::SentForOther => false,
    }
}

/// Two orders that need the same are one.
fn of_other_order(kind: Kind, order: &str, by: &Explanation) -> bool {
    let Some(found) = &by.other_order else {
        return false;
    };
    let meant = Ordered::read(order).expect("it was built before");
    let family = meant.family.clone();
    let said = Ordered::of(found.order.clone(), family).expect("an order that can be built");
    found.packed_so == (kind == Kind::SentForOther) && needs(&said.parts) == needs(&meant.parts)
}

fn needs(parts: &PartsList) -> BTreeMap<&str, i64> {
    let lines = parts.lines.iter().filter(|line| line.quantity > 0);
    lines
        .map(|line| (line.part.mark.0.as_str(), line.quantity))
        .collect()
}

/// Causes of the likeliest stories that nobody planted. Fewer spares are a habit of the sender's and no error, and a
/// whole wrong list is judged by itself.
pub fn made_up<'a>(by: &'a Explanation, truth: &'a Truth) -> impl Iterator<Item = &'a Cause> {
    best(by).filter(|cause| {
        let planted = truth.planted.iter().any(|planted| {
            let mut marks = planted.marks.iter();
            marks.any(|(mark, _)| is_it(planted, mark, cause))
        });
        let apart = [
            CauseKind::FewerSpares,
            CauseKind::ListForOtherOrder,
            CauseKind::SentForOtherOrder,
        ];
        !planted && !apart.contains(&cause.kind)
    })
}

/// What one side would send to the sender as short, against what the sender owes.
#[derive(Debug, Clone, Copy, Default)]
pub struct Claims {
    pub claimed: i64,
    pub marks: i64,
    pub false_pieces: i64,
    pub false_marks: i64,
    pub missed_pieces: i64,
    pub missed_marks: i64,
}

impl Claims {
    /// One mark more.
    pub fn add(&mut self, claim: i64, owed: i64) {
        self.claimed += claim;
        self.marks += i64::from(claim > 0);
        self.false_pieces += (claim - owed).max(0);
        self.false_marks += i64::from(claim > 0 && owed == 0);
        self.missed_pieces += (owed - claim).max(0);
        self.missed_marks += i64::from(owed > 0 && claim == 0);
    }
}

/// How a true shortage fares that the likeliest stories do not call short, or not wholly.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hidden {
    /// It is called short.
    No,
    /// Every number of the mark fits: nothing on the site shows it.
    InNoNumber,
    /// Nobody has counted the mark yet, or its load is not here: nothing on the site can show it.
    NotCounted,
    /// It is taken for something else, and a look is proposed that touches it.
    WithACheck,
    /// It is taken for something else, and nothing is proposed.
    Silently,
}

pub fn hidden(mark: &MarkDifference, truth: &Truth, by: &Explanation) -> Hidden {
    let owed = truth.owed(&mark.mark);
    if by.short(&mark.mark) >= owed {
        return Hidden::No;
    }
    if !mark.on_hand.is_counted() {
        return Hidden::NotCounted;
    }
    if !shows(mark) {
        return Hidden::InNoNumber;
    }
    match by
        .matters
        .iter()
        .any(|matter| touches(matter, &mark.mark, truth))
    {
        true => Hidden::WithACheck,
        false => Hidden::Silently,
    }
}

/// Whether the look that a matter proposes is at the mark, at a pile of it, or at what was named in its place.
fn touches(matter: &Matter, mark: &str, truth: &Truth) -> bool {
    let Some(check) = &matter.check else {
        return false;
    };
    let named = matter.best.causes.iter().any(|cause| {
        let of_mark = cause.mark == mark || cause.other_mark.as_deref() == Some(mark);
        let looked_at = cause.mark == check.mark || cause.other_mark.as_ref() == Some(&check.mark);
        of_mark && looked_at
    });
    let pile = check.pile.as_deref();
    // Several looks may be joined in one.
    let mut words = check.words.split(|c: char| !c.is_alphanumeric());
    let said = words.any(|word| word == mark);
    check.mark == mark
        || said
        || named
        || pile.is_some_and(|pile| truth.piles_of(mark).contains(pile))
}
