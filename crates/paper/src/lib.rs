//! Papers to print, to sign and to hand over, as tagged PDF that can be kept for good (PDF/A-2a and PDF/UA-1 at once).
//!
//! - [`osd`]: what was over, short and damaged in a job, for the sender and the carrier;
//! - [`damage_notice`]: notice of concealed damage, to the carrier;
//! - [`carrier_claim`]: the claim for loss and damage, to the carrier;
//! - [`sender_notice`]: notice of what is short, over and wrong, to the sender;
//! - [`replacement_order`]: what the sender is to send, in the sender's own row names;
//! - [`return_list`]: what came over or wrong, and what becomes of it;
//! - [`tally_sheet`]: a sheet to count on for people without a phone;
//! - [`drawings`]: the house to build from, read off its graph;
//! - [`tell_apart`]: what is taken for each other, in true size, to lay pieces on;
//! - [`labels`]: labels for the piles, with a code that opens the count page;
//! - [`build_day`]: the folder that a crew builds from, go or no-go on top.
//!
//! A paper is plain data (an [`OsdPaper`], a [`TallySheet`]) and a [`Print`], which says how and
//! when. The look stands in `templates/*.typ`; the data reaches a template only as JSON values, so
//! no description can ever be read as markup.
//!
//! **Invariants.** No clock, no network, no disk, no fonts of the machine: the same paper and the
//! same print give the same bytes. Nothing in a paper depends on colour.

mod answers;
mod build_day;
mod build_day_ground;
mod build_day_of;
mod build_day_people;
mod carrier_claim;
mod claim_of;
mod claimed;
mod concealed;
mod concealed_of;
mod drawings;
mod fastener_shape;
mod fastener_sizes;
mod headline;
mod label_stock;
mod labels;
mod letter;
mod letter_facts;
mod money;
mod notice_of;
mod of_shipment;
mod of_standing;
mod osd;
mod osd_of;
mod photos;
mod print;
mod replacement;
mod replacement_of;
mod returns;
mod returns_of;
mod said;
mod screw;
mod sender_notice;
mod shape;
mod tally_sheet;
mod tell_apart;
mod tell_apart_of;
mod template;
mod text;
mod typeset;

pub use answers::answer_in_words;
pub use build_day::{
    BuildDay, CallSign, Contact, DayCall, LiftRow, LiftingSheet, MeasureRow, PileCard, PileLabel,
    PointRow, SettingOutSheet, StageCard, StagePart, StageState, StagingSheet, StakeRow, ToolRow,
    UnloadingSheet, UnloadingStep, build_day,
};
pub use build_day_of::{build_day_of, stage_drawing};
pub use carrier_claim::{
    CarrierClaim, ClaimCost, ClaimLine, Document, DocumentKind, carrier_claim,
};
pub use claim_of::claim_of;
pub use claimed::{Claimed, ClaimedLine, Open, claimed_of};
pub use concealed::{DamageNotice, Harm, damage_notice};
pub use concealed_of::{concealed_of, hidden_open};
pub use drawings::{Cut, Drawing, Drawings, drawings};
pub use label_stock::LabelStock;
pub use labels::{Label, Labels, labels};
pub use letter::{Carriage, Due, Letter, Missing, Party, Source};
pub use letter_facts::LetterFacts;
pub use notice_of::notice_of;
pub use of_standing::{drawings_of, tally_sheet_of};
pub use osd::{Counting, OsdPaper, OsdRow, SenderWords, Shipment, Sighting, osd};
pub use osd_of::osd_of;
pub use photos::{MOST_PHOTOS, Photo};
pub use print::{Moment, PaperError, Print, Sheet};
pub use replacement::{ReplacementOrder, ReplacementRow, replacement_order};
pub use replacement_of::replacement_of;
pub use returns::{ReturnList, ReturnRow, return_list};
pub use returns_of::returns_of;
pub use said::{FIELDS, Field, NO_CARRIER, cost_field, harmed_field, hidden_field, lost_field};
pub use sender_notice::{NoticeRow, SenderNotice, sender_notice};
pub use shape::{Head, Shape, Thread, Tip};
pub use tally_sheet::{TallyGroup, TallyRow, TallySheet, tally_sheet};
pub use tell_apart::{CardGroup, CardPiece, LookAlike, TellApartCard, tell_apart};
pub use tell_apart_of::{tell_apart_card, tell_apart_of};
pub use text::FIELD_CHARS;
