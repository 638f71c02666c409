//! Events: facts that someone saw, never changed afterwards.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};
use uuid::Uuid;

use crate::digest::Digest;
use crate::freight::{Delivery, Freight};
use crate::ground::{Ground, PileSpot, StakesRead};
use crate::how::How;
use crate::plans::{CrewDay, Expected, ToolsSeen, WaySaid, Worked};
use crate::points::{Answered, JobClosed, PointClosed, PointKept};
use crate::rules::{self, Refusal};
use crate::terms::{Agreed, DayOff, Done, Priced, Written};

/// Identifies an event. Made once, where the event was seen (a phone out of reach makes it too),
/// and kept through every copy and every retry. We make UUIDs of version 7; others are read.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Serialize, Deserialize)]
#[serde(transparent)]
pub struct EventId(pub Uuid);

impl fmt::Display for EventId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl FromStr for EventId {
    type Err = uuid::Error;

    fn from_str(text: &str) -> Result<Self, uuid::Error> {
        text.parse().map(Self)
    }
}

/// One fact in the log.
///
/// `device` and `seq` are its slot: no two events of one device share a number. `seq` is one more
/// than the highest number that the writing copy of the log had seen (a Lamport clock), so an
/// event always comes after those its writer knew of, whatever the phones' clocks say. Gaps are
/// usual.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Event {
    /// See [`EventId`].
    pub id: EventId,
    /// The device that wrote it; at most [`MAX_NAME`](crate::MAX_NAME) characters.
    pub device: String,
    /// Its number, from 1.
    pub seq: u64,
    /// When it was seen, by the writer's clock: milliseconds since 1970-01-01 UTC. For people
    /// to read; nothing is ordered by it.
    pub at: i64,
    /// Who saw it, as they call themselves.
    pub who: String,
    /// What was seen.
    pub what: What,
}

impl Event {
    /// Returns the key by which events are ordered everywhere: the number, then the id.
    pub fn order(&self) -> (u64, EventId) {
        (self.seq, self.id)
    }
}

/// An event that has no number yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Draft {
    /// See [`Event::id`].
    pub id: EventId,
    /// See [`Event::device`].
    pub device: String,
    /// See [`Event::at`].
    pub at: i64,
    /// See [`Event::who`].
    pub who: String,
    /// See [`Event::what`].
    pub what: What,
}

impl Draft {
    /// Returns the event with its number, or why it cannot stand in a log.
    pub fn numbered(self, seq: u64) -> Result<Event, Refusal> {
        let Self {
            id,
            device,
            at,
            who,
            what,
        } = self;
        let event = Event {
            id,
            device,
            seq,
            at,
            who,
            what,
        };
        rules::check(&event)?;
        Ok(event)
    }
}

/// What was seen or said.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(tag = "kind", content = "body", rename_all = "snake_case")]
pub enum What {
    /// The order, whole; the last one stands.
    OrderSet {
        /// The order as TOML.
        toml: String,
        /// The document that holds its family, where that is none that comes with the program.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        family: Option<Digest>,
    },
    /// A packing list came in; its bytes are a document of the job.
    ListAdded {
        /// The document.
        digest: Digest,
        /// The file's name.
        name: String,
        /// The shipment it came with, where known.
        shipment: Option<String>,
    },
    /// The sender sent a list again with changes. The new list takes the place of the old one, whose shipment it keeps;
    /// what people said of the old one's rows is carried over.
    ListCorrected {
        /// The list that it corrects.
        old: Digest,
        /// The new document.
        digest: Digest,
        /// The file's name.
        name: String,
    },
    /// Who sent a list that does not say so itself; the last word stands.
    ListSentBy {
        /// The list.
        list: Digest,
        /// The sender.
        sender: String,
    },
    /// What senders' codes stood for in earlier jobs; the file is a document of the job.
    CodesTaken {
        /// The document.
        digest: Digest,
        /// The file's name.
        name: String,
    },
    /// A packing list is set aside; the document stays.
    ListDropped {
        /// The document.
        digest: Digest,
    },
    /// A person says what a row of a list is; the last word on the row stands.
    Overruled {
        /// The list.
        list: Digest,
        /// The row's key within the list.
        row: String,
        /// The mark it is, or `None`: it is none of ours.
        mark: Option<String>,
        /// What the row said, so that it can be shown, and found again, where a later reading gives it another key.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        words: Option<String>,
    },
    /// Pieces of a mark counted. Counts of a mark add up; a count that puts others right names
    /// them in `replaces`.
    Counted {
        /// The part's mark.
        mark: String,
        /// The pile they lie in, where one was named.
        pile: Option<String>,
        /// Pieces.
        quantity: i64,
        /// Counts that this one takes the place of.
        replaces: Vec<EventId>,
        /// How the number was come by.
        #[serde(default, skip_serializing_if = "How::is_by_piece")]
        how: How,
    },
    /// The same pieces counted once more, by somebody who did not see the first number. It adds no pieces: it is held
    /// against the counts that it checks, and two looks that agree settle the number.
    CountedAgain {
        /// The part's mark.
        mark: String,
        /// The pile they lie in, where one was named.
        pile: Option<String>,
        /// Pieces.
        quantity: i64,
        /// The counts that it checks; together they are the first look.
        checks: Vec<EventId>,
        /// How the number was come by.
        #[serde(default, skip_serializing_if = "How::is_by_piece")]
        how: How,
    },
    /// Where a pile lies, in words; the last word stands.
    PilePlaced {
        /// The pile.
        pile: String,
        /// The place, such as "north fence, on the pallet".
        place: String,
    },
    /// One piece was measured to find out what it is.
    Measured {
        /// The mark that it was held to be afterwards, or `None`: none of this order.
        mark: Option<String>,
        /// The pile it lay in, where one was named.
        pile: Option<String>,
        /// What was read.
        readings: Vec<tell::Reading>,
    },
    /// A picture was taken; its bytes are a document of the job.
    Photographed {
        /// The document.
        photo: Digest,
        /// What it shows, for the claim's sake.
        shot: Shot,
        /// The shipment, where it shows one as it came.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        shipment: Option<String>,
        /// The part's mark, where it shows one.
        mark: Option<String>,
        /// The condition that it proves, where it does.
        of: Option<EventId>,
        /// In the person's words; may be empty.
        words: String,
    },
    /// Pieces of a mark that are not as they should be. These add up too.
    Conditioned {
        /// The part's mark.
        mark: String,
        /// Pieces, at least one.
        quantity: i64,
        /// What is wrong with them.
        condition: Condition,
        /// In the person's words; may be empty.
        words: String,
    },
    /// A note, on a mark or on the job.
    Noted {
        /// The part's mark, or `None` for the whole job.
        mark: Option<String>,
        /// In the person's words.
        words: String,
    },
    /// A shipment is on the site.
    ShipmentArrived {
        /// The shipment's name.
        shipment: String,
    },
    /// A shipment is expected.
    ShipmentNamed {
        /// The shipment's name.
        shipment: String,
        /// The day it is promised for (`YYYY-MM-DD`), where known.
        due: Option<String>,
    },
    /// What the carrier's papers say of a shipment.
    FreightSaid(Freight),
    /// How a shipment was handed over at the truck.
    Delivered(Delivery),
    /// The time zone of the site; the last word stands.
    ZoneSet {
        /// The zone, as the IANA database names it.
        zone: String,
    },
    /// Terms that go before a rule's own.
    Agreed(Agreed),
    /// Something that a rule asks for was done.
    Done(Done),
    /// A day on which nobody works, or works after all.
    DayOff(DayOff),
    /// What a paper says that nothing else in the log holds.
    Written(Written),
    /// What something costs.
    Priced(Priced),
    /// A person sees to a point.
    PointKept(PointKept),
    /// What the sender or the carrier answered to a point.
    Answered(Answered),
    /// A point is closed.
    PointClosed(PointClosed),
    /// The job is closed.
    JobClosed(JobClosed),
    /// The ground, whole.
    GroundSet(Ground),
    /// A person puts a pile somewhere.
    PilePut(PileSpot),
    /// What was measured of the corner stakes.
    StakesRead(StakesRead),
    /// A day on which a crew could build.
    CrewDay(CrewDay),
    /// Between which days a shipment will come.
    Expected(Expected),
    /// How a way round a shortage stands.
    WaySaid(WaySaid),
    /// Work on a stage of the build.
    Worked(Worked),
    /// Tools that are here.
    ToolsSeen(ToolsSeen),
    /// These events do not stand. A correction of a correction lets them stand again.
    Corrected {
        /// The events.
        of: Vec<EventId>,
        /// Why, in the person's words; may be empty.
        why: String,
    },
    /// What a newer build wrote. Kept and passed on, and without effect here.
    #[serde(skip)]
    Other {
        /// The wire version it was written in.
        v: u32,
        /// The kind.
        kind: String,
        /// The body, the very JSON text.
        body: String,
    },
}

/// What a picture shows, as a claim asks for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Shot {
    /// The first side of the load or crate, before a band is cut.
    SideOne,
    /// The second side.
    SideTwo,
    /// The third side.
    SideThree,
    /// The fourth side.
    SideFour,
    /// The load from above.
    Top,
    /// Its labels and marks.
    Labels,
    /// While it is unloaded and opened.
    Unloading,
    /// How it was packed.
    Packing,
    /// The damage, from far enough away to see which piece it is.
    Far,
    /// The damage near, with something of known size beside it.
    Near,
    /// The bill of lading.
    BillOfLading,
    /// The carrier's freight bill, paid.
    FreightBill,
    /// The delivery receipt, as it was signed.
    Receipt,
    /// The sender's invoice, or another proof of value.
    Invoice,
    /// The carrier's inspection report, or that none was to be.
    Inspection,
    /// Anything else.
    #[serde(other)]
    Other,
}

/// How a piece is not as it should be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Condition {
    /// Broken, dented, torn, cut.
    Damaged,
    /// Out of its shape.
    Bent,
    /// Wet, or once wet; said for the carrier's sake, the piece itself may serve.
    Wet,
    /// Not the part it is labelled as.
    Wrong,
}

impl Condition {
    /// Returns the word that people read.
    pub fn in_words(self) -> &'static str {
        match self {
            Self::Damaged => "damaged",
            Self::Bent => "bent",
            Self::Wet => "wet",
            Self::Wrong => "wrong part",
        }
    }
}
