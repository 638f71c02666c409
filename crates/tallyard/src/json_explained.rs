//! What most likely happened, as `tallyard difference --json` prints it.

use serde::Serialize;
use tally::{Cause, CauseKind, Explanation, Matter, Story};

#[derive(Serialize)]
pub struct Explained {
    matters: Vec<OneMatter>,
    other_order: Option<OtherOrder>,
    proven: bool,
}

#[derive(Serialize)]
struct OneMatter {
    marks: Vec<String>,
    likeliest: Told,
    next: Option<Told>,
    /// How many times likelier the first is; null without a next.
    odds: Option<f64>,
    nearly_level: bool,
    how_sure: String,
    check: Option<Look>,
}

#[derive(Serialize)]
struct Told {
    says: String,
    cost_nats: f64,
    causes: Vec<OneCause>,
}

#[derive(Serialize)]
struct OneCause {
    kind: &'static str,
    quantity: i64,
    mark: String,
    other_mark: Option<String>,
    pile: Option<String>,
    row: Option<String>,
    sub_kit: Option<String>,
    shipment: Option<String>,
    says: String,
}

#[derive(Serialize)]
struct Look {
    says: String,
    mark: String,
    pile: Option<String>,
    seconds: f64,
    settles: f64,
}

#[derive(Serialize)]
struct OtherOrder {
    change: String,
    packed_so: bool,
    odds: f64,
}

pub fn explained(explanation: &Explanation) -> Explained {
    Explained {
        matters: explanation.matters.iter().map(matter).collect(),
        other_order: explanation.other_order.as_ref().map(|other| OtherOrder {
            change: other.change.clone(),
            packed_so: other.packed_so,
            odds: finite(other.odds),
        }),
        proven: explanation.proven,
    }
}

fn matter(matter: &Matter) -> OneMatter {
    OneMatter {
        marks: matter.marks.clone(),
        likeliest: told(&matter.best),
        next: matter.other.as_ref().map(told),
        odds: matter.other.as_ref().map(|_| finite(matter.odds)),
        nearly_level: matter.nearly_level,
        how_sure: yard::how_sure(matter),
        check: matter.check.as_ref().map(|check| Look {
            says: check.words.clone(),
            mark: check.mark.clone(),
            pile: check.pile.clone(),
            seconds: check.seconds,
            settles: check.settles,
        }),
    }
}

/// JSON has no number for what is beyond all bounds.
fn finite(odds: f64) -> f64 {
    odds.min(f64::MAX)
}

fn told(story: &Story) -> Told {
    Told {
        says: yard::story_in_words(story),
        cost_nats: story.cost as f64 / 1e6,
        causes: story.causes.iter().map(cause).collect(),
    }
}

fn cause(cause: &Cause) -> OneCause {
    OneCause {
        kind: kind(cause.kind),
        quantity: cause.quantity,
        mark: cause.mark.clone(),
        other_mark: cause.other_mark.clone(),
        pile: cause.pile.clone(),
        row: cause.row.clone(),
        sub_kit: cause.sub_kit.clone(),
        shipment: cause.shipment.clone(),
        says: cause.in_words(),
    }
}

fn kind(kind: CauseKind) -> &'static str {
    match kind {
        CauseKind::CountedAsLookAlike => "counted_as_look_alike",
        CauseKind::SentLookAlike => "sent_look_alike",
        CauseKind::BundleAsOne => "bundle_as_one",
        CauseKind::CountedTwice => "counted_twice",
        CauseKind::Miscounted => "miscounted",
        CauseKind::PileNotCounted => "pile_not_counted",
        CauseKind::InAnotherBag => "in_another_bag",
        CauseKind::DamagedNotCounted => "damaged_not_counted",
        CauseKind::WrongSent => "wrong_sent",
        CauseKind::LeftForLater => "left_for_later",
        CauseKind::WeighingDoubt => "weighing_doubt",
        CauseKind::LooksDiffer => "looks_differ",
        CauseKind::FewerSpares => "fewer_spares",
        CauseKind::Short => "short",
        CauseKind::Extra => "extra",
        CauseKind::RowMisread => "row_misread",
        CauseKind::RowTwice => "row_twice",
        CauseKind::ListTwice => "list_twice",
        CauseKind::RowForTwoUses => "row_for_two_uses",
        CauseKind::PackedForOneUse => "packed_for_one_use",
        CauseKind::ListTypo => "list_typo",
        CauseKind::PackedByList => "packed_by_list",
        CauseKind::ListForOtherOrder => "list_for_other_order",
        CauseKind::SentForOtherOrder => "sent_for_other_order",
    }
}
