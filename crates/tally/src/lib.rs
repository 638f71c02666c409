//! The tally: what people saw, kept as events that are never changed.
//!
//! [`Event`]s are facts: who, when, on which device, what. A correction is another event. The
//! [`State`] is a fold of the *set* of events, so the order and the repetition of delivery do not
//! matter, and two logs are merged by set union.
//!
//! **Invariant:** this crate never reads a clock, a file or a source of randomness; ids and times
//! are handed in.

mod affairs;
mod by_length;
mod by_weight;
mod decide;
mod difference;
mod digest;
mod event;
mod evidence;
mod explain;
mod fold;
mod freight;
mod ground;
mod how;
mod known_lists;
mod list_standing;
mod listed;
mod lists_seen;
mod looks;
mod money;
mod on_hand;
mod open_points;
mod plans;
mod points;
mod rules;
mod sent;
mod shipment;
mod shots;
mod standing;
mod terms;
mod verdict;
mod wire;

pub use affairs::Affairs;
pub use by_length::{Coils, Cut, LengthRefused};
pub use by_weight::{
    Against, ByWeight, Sample, SampleIs, Scale, Spread, ToDecide, Weighed, WeightRefused,
};
pub use decide::{
    Knew, Shown, condition, correct, count, count_again, measured, note, photographed, place_pile,
    recount, say,
};
pub use difference::{Difference, MarkDifference, difference};
pub use digest::{BadDigest, Digest};
pub use event::{Condition, Draft, Event, EventId, Shot, What};
pub use evidence::{Measured, Picture};
pub use explain::{
    Cause, CauseKind, Check, Errand, Explanation, Matter, NEARLY_LEVEL, OtherOrder, Shows, Story,
    priors, programme, programmes,
};
pub use fold::{Arrival, Fate, Note, OrderSeen, Shipment, State};
pub use freight::{Delivery, Freight, Outcome};
pub use ground::{
    Corner, Ground, HouseSpot, MAX_AWAY, MAX_CORNERS, MAX_PATCHES, Patch, PileSpot, Slope, Spot,
    StakeReading, StakesRead,
};
pub use how::{How, MAX_RINGS, Ring};
pub use list_standing::{CarriedFrom, Corrected, LeftOf, ListStanding};
pub use listed::{Listed, ListedRow};
pub use lists_seen::{CodesSeen, Earlier, ListSeen, Overruling};
pub use looks::{Agreement, Look, PileSeen};
pub use money::{BadMoney, Currency, Money};
pub use on_hand::{Again, Conditioned, Count, OnHand, Seen};
pub use open_points::{OpenPoint, PointStage};
pub use plans::{
    CrewDay, Expected, Plans, ToolsSeen, WaySaid, WaySeen, WayStands, WorkSeen, Worked,
};
pub use points::{
    About, Answer, AnswerSeen, Answered, ClosedSeen, JobClosed, Point, PointClosed, PointKept,
    PointSeen,
};
pub use rules::{
    MAX_AT, MAX_NAME, MAX_QUANTITY, MAX_READINGS, MAX_REFERENCES, MAX_SEQ, MAX_TITLE, MAX_TOML,
    MAX_WORDS, Refusal,
};
pub use shipment::BACK_ORDER;
pub use shots::{Asked, Proof};
pub use standing::{Known, Ordered, Standing};
pub use terms::{Act, Agreed, By, DayOff, DaysOff, Done, Priced, Written};
pub use verdict::Verdict;
pub use wire::{MAX_WIRE, Unread, WIRE_VERSION};
