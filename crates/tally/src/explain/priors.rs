//! How likely each thing is to happen before anything is known: every figure that an explanation leans on.
//!
//! Marks: **ours** a value of ours, judged, with no source; **practice** the kind of slip is common practice in receiving
//! and its figure is ours. No published rates of such slips for kit buildings were found. What matters is their order and
//! that each stands in one place; a check settles what they cannot.
//!
//! A chance is that the thing happens to a mark (a pair of marks, a row, a share of the kit) in one delivery. Where it
//! happens, one piece is concerned with a chance of `1 − more`, two with `(1 − more)·more`, and so on. The cost of
//! a thing is the logarithm of the odds against it, in millionths of a nat.
//!
//! # The count
//!
//! | what | chance | more | from |
//! | --- | --- | --- | --- |
//! | pieces counted as their look-alike | [`MIXED`] + [`MIXED_BY_EYE`] × by eye | 0.9 | practice; by eye: `tell` |
//! | a bundle counted as one piece | 5 % | 0.5 | practice |
//! | a bundle counted twice | 2 % | 0.3 | practice |
//! | counted twice, equal counts of two people in one place | 15 % | | practice |
//! | counted twice, equal counts otherwise | 4 % | | practice |
//! | the share of a sub-kit not counted: none, some, most of its other marks counted | 25 %, 12 %, 5 % | | ours |
//! | they lie in a pile that was given a place, and of which nothing was counted | 15 % | 0.97 | ours |
//! | pieces not fit for use set aside and not counted: all, some | 25 %, 10 % | 0.7 | practice |
//! | a weighing off within its bounds | 45 % | two nats at the bound | ours |
//! | of looks that differ the first is wrong | 49 % | even | ours |
//! | a count piece by piece of 20 or more is off by one or two | 0.015 % a piece, 1.5 % at most | 0.3 | practice |
//! | a mark counted that is no part of the order is what another lacks: just so many, some | 20 %, 8 % | , 0.9 | ours |
//!
//! # The packer
//!
//! | what | chance | more | from |
//! | --- | --- | --- | --- |
//! | the look-alike packed instead | [`SENT_SHARE`] of the above | 0.9 | practice |
//! | a share, or some small pieces, in the bag of another, which is not counted | 2 %, 1 % | , 0.9 | practice |
//! | the same in one that was opened, where nobody looked for them | 1.2 %, 0.6 % | , 0.9 | practice |
//! | of that, once somebody has looked a second time | a tenth | | ours |
//! | the look-alike sent, or lying among them, where pieces were seen to be another part than their label says | 40 % | 0.9 | ours |
//! | pieces seen to be another part than their label says not counted: all, some | 25 %, 10 % | 0.7 | practice |
//! | a mark that is no part of the order sent instead: just so many, some | 10 %, 4 % | , 0.9 | ours |
//! | left for a shipment that is expected, though listed: a whole share, some | 2 %, 1 % | 0.9 | practice |
//! | not listed, and left for a shipment that no list tells of: a whole share, some | 15 %, 5 % | 0.9 | practice |
//! | left for a shipment that nobody spoke of: a whole line | 0.6 % | | ours |
//! | short: some, many, a whole line, whole bundles | 4 %, 1 %, 1 %, 1 % | 0.7, 0.97, , 0.3 | practice |
//! | too many: some, many | 1.5 %, 0.4 % | 0.6, 0.97 | practice |
//! | fewer spares than usual | 30 % | 0.95 | practice |
//!
//! # The list
//!
//! | what | chance | more | from |
//! | --- | --- | --- | --- |
//! | a row read onto the wrong mark | by the doubt of the match | | `list` |
//! | a row read as nothing that has just what a mark lacks | 5 % | | ours |
//! | a row read surely, or by a person, onto a mark that has too many, and just what another lacks | 1 % | | ours |
//! | a row there twice | 2 % | | practice |
//! | of two lists that say all the same, one is the other once more | 20 % | | ours |
//! | one use left out: on the list alone, packed so | 4 %, 2 % | | practice |
//! | a slip of the list alone: small, any, a line left out | 2 %, 0.5 %, 2 % | 0.7, 0.99 | practice |
//! | a wrong list packed by: small, any, a line left out | 1 %, 0.3 %, 1 % | 0.7, 0.99 | practice |
//! | the list for another size or option, the heading says so | 30 % | | practice |
//! | the same where the heading says nothing, one of all near orders | 2 % | | ours |
//! | and the kit packed so too | half of it | | ours |

use crate::explain::programme::Cost;

/// A chance that something happens, and that one more piece is concerned.
#[derive(Debug, Clone, Copy)]
pub struct Chance {
    /// That it happens at all.
    pub happens: f64,
    /// That, where so many pieces are concerned, one more is; 0 where how many is known.
    pub more: f64,
}

const fn chance(happens: f64, more: f64) -> Chance {
    Chance { happens, more }
}

impl Chance {
    /// What the first piece costs.
    pub fn first(self) -> Cost {
        let happens = self.happens.clamp(1e-12, 0.999);
        in_millionths((1.0 - happens).ln() - (happens * (1.0 - self.more)).ln()).max(LEAST_COST)
    }

    /// What each further piece costs.
    pub fn each(self) -> Cost {
        in_millionths(-self.more.max(1e-12).ln())
    }

    /// The same, so many times as likely.
    pub fn times(self, factor: f64) -> Self {
        chance(self.happens * factor, self.more)
    }
}

/// By how much dearer than a slip of the list by so many pieces it is that the sender packed by it, too.
pub(crate) fn packed_by(pieces: i64) -> Cost {
    let cost = |chance: Chance| chance.first() + (pieces - 1) * chance.each();
    let least = |small, any| cost(small).min(cost(any));
    (least(PACKED_BY, PACKED_BY_ANY) - least(TYPO, TYPO_ANY)).max(0)
}

/// Nats as whole millionths.
pub fn in_millionths(nats: f64) -> Cost {
    (nats * 1e6).round() as Cost
}

/// Whatever is more likely than not costs this, so that nothing is said that explains nothing.
pub const LEAST_COST: Cost = 10_000;

/// That two marks which look alike got mixed up in the count, however they look.
pub const MIXED: f64 = 0.03;
/// What is added, in shares of how often the eye takes one for the other.
pub const MIXED_BY_EYE: f64 = 0.4;
/// Where one piece was taken for another, the next is too.
pub const MIXED_MORE: f64 = 0.9;
/// How often the packer mixes them up for each time that it happens in the yard: packers handle them every day.
pub const SENT_SHARE: f64 = 0.15;
/// What a piece that was measured says for the other of two marks has to be so many times likelier to be counted.
pub const MEASURED_APART: f64 = 20.0;
/// How likely a piece of one mark is measured and taken for the other.
pub const MEASURED_WRONG: f64 = 1e-3;
/// A bundle counted as one piece.
pub const BUNDLE_AS_ONE: Chance = chance(0.05, 0.5);
/// A bundle counted twice.
pub const BUNDLE_TWICE: Chance = chance(0.02, 0.3);
/// Equal counts by two people in one place are one count twice.
pub const TWICE_BY_TWO: Chance = chance(0.15, 0.0);
/// Equal counts otherwise are.
pub const TWICE: Chance = chance(0.04, 0.0);
/// A share not counted of a sub-kit of which nothing else was counted.
pub const SHARE_NOT_COUNTED: Chance = chance(0.25, 0.0);
/// Of which some was.
pub const SHARE_OF_SOME: Chance = chance(0.12, 0.0);
/// Of which most was.
pub const SHARE_OF_MOST: Chance = chance(0.05, 0.0);
/// Pieces of a mark lie in a pile that was given a place and not counted.
pub const NAMED_PILE: Chance = chance(0.15, 0.97);
/// All pieces that are not fit for use were set aside and not counted.
pub const UNFIT_NOT_COUNTED: Chance = chance(0.25, 0.0);
/// Some of them were.
pub const SOME_UNFIT_NOT_COUNTED: Chance = chance(0.10, 0.7);
/// A weighing is off.
pub const WEIGHING_OFF: Chance = chance(0.45, 0.0);
/// What the bound of a weighing costs, in nats: it is a limit at 95 %, two spreads out.
pub const WEIGHING_BOUND: f64 = 2.0;
/// The first of looks that differ is wrong.
pub const FIRST_LOOK_WRONG: Chance = chance(0.49, 0.0);

/// Of a count piece by piece, each piece adds so much to the chance that it is off by one or two.
pub const MISCOUNT_A_PIECE: f64 = 0.000_15;
/// It is off no more often than this.
pub const MISCOUNT: Chance = chance(0.015, 0.3);
/// Fewer pieces are counted at a glance.
pub const MISCOUNT_FROM: i64 = 20;
/// A mark that is no part of the order has just so many as another lacks.
pub const STRANGE_WHOLE: Chance = chance(0.2, 0.0);
/// It has some of what another lacks.
pub const STRANGE_SOME: Chance = chance(0.08, 0.9);
/// How often it was sent instead for each time that it was miscalled in the yard.
pub const STRANGE_SENT: f64 = 0.5;

/// Pieces were seen to be another part than their label says, and look like one that is off.
pub const WRONG_SEEN: Chance = chance(0.4, 0.9);
/// A share in the bag of another.
pub const OTHER_BAG: Chance = chance(0.02, 0.0);
/// Some small pieces in the bag of another.
pub const SOME_IN_OTHER_BAG: Chance = chance(0.01, 0.9);
/// A share in the bag of another that was opened. A line is one small bag, and to put it with the wrong sub-kit is a little
/// easier than not to fill it; whoever looks for it there first claims less that came.
pub const OPENED_BAG: Chance = chance(0.012, 0.0);
/// Some small pieces in one.
pub const SOME_IN_OPENED_BAG: Chance = chance(0.006, 0.9);
/// Of either, so much is left once somebody has looked a second time.
pub const LOOKED_FOR: f64 = 0.1;
/// A whole share left for a shipment that is expected, though the list has it in one that is here.
pub const LEFT_WHOLE: Chance = chance(0.02, 0.0);
/// Some pieces left for it.
pub const LEFT_SOME: Chance = chance(0.01, 0.9);
/// A whole share that no list has comes with a shipment that no list tells of.
pub const UNLISTED_WHOLE: Chance = chance(0.15, 0.0);
/// Some pieces do.
pub const UNLISTED_SOME: Chance = chance(0.05, 0.9);
/// A whole line left for a shipment that nobody spoke of.
pub const LEFT_UNSAID: Chance = chance(0.006, 0.0);
/// A few pieces short.
pub const SHORT: Chance = chance(0.04, 0.7);
/// Any number short.
pub const SHORT_MANY: Chance = chance(0.01, 0.97);
/// A whole line short.
pub const SHORT_WHOLE: Chance = chance(0.01, 0.0);
/// Whole bundles short.
pub const SHORT_BUNDLES: Chance = chance(0.01, 0.3);
/// A few pieces too many.
pub const EXTRA: Chance = chance(0.015, 0.6);
/// Any number too many.
pub const EXTRA_MANY: Chance = chance(0.004, 0.97);
/// Fewer spares than usual.
pub const FEWER_SPARES: Chance = chance(0.3, 0.95);

/// A row that was read as nothing is that mark which lacks just so many.
pub const UNREAD_ROW: Chance = chance(0.05, 0.0);
/// A row that was read surely, or that a person read, and that is another mark, which lacks just so many.
pub const SURE_ROW: Chance = chance(0.01, 0.0);
/// A row stands there twice.
pub const ROW_TWICE: Chance = chance(0.02, 0.0);
/// Of two lists that say all the same, one is the other once more.
pub const LIST_TWICE: Chance = chance(0.2, 0.0);
/// One use left out on the list alone.
pub const USE_UNLISTED: Chance = chance(0.04, 0.0);
/// One use left out, and packed so.
pub const USE_UNPACKED: Chance = chance(0.02, 0.0);
/// A small slip of the list alone.
pub const TYPO: Chance = chance(0.02, 0.7);
/// Any slip of the list alone.
pub const TYPO_ANY: Chance = chance(0.005, 0.99);
/// A line left out on the list alone.
pub const LINE_UNLISTED: Chance = chance(0.02, 0.0);
/// A slightly wrong list, packed by.
pub const PACKED_BY: Chance = chance(0.01, 0.7);
/// Any wrong list, packed by.
pub const PACKED_BY_ANY: Chance = chance(0.003, 0.99);
/// A line left out, and packed so.
pub const LINE_UNPACKED: Chance = chance(0.01, 0.0);
/// The list is for the other order that its heading names.
pub const OTHER_ORDER_SAID: f64 = 0.3;
/// The list is for one of all near orders.
pub const OTHER_ORDER: f64 = 0.02;
/// The kit was packed for it too.
pub const PACKED_SO: f64 = 0.5;
