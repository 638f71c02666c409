//! What each paper must contain, and why.

use crate::rule::Sure;

/// A paper that goes to somebody.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Paper {
    /// What was over, short and damaged.
    Osd,
    /// To the carrier: harm that could not be seen at delivery.
    HiddenHarm,
    /// To the carrier: the claim.
    Claim,
    /// To the sender: what is short, over or wrong.
    ToSender,
    /// To the sender: what is to be sent again.
    Replacement,
    /// To the sender: what goes back.
    Return,
}

/// Something that a paper must contain, or is better for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Asked {
    /// What it is.
    pub what: Content,
    /// Without it the paper is not complete; otherwise it is only better with it.
    pub must: bool,
    /// Where that is written.
    pub source: &'static str,
    /// How surely that is known.
    pub sure: Sure,
}

/// What a paper may contain.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Content {
    /// Who sends the paper, and how to reach them.
    From,
    /// To whom it goes.
    Addressee,
    /// The day it was written.
    Day,
    /// The bill of lading's number.
    BillOfLading,
    /// The carrier's own number for the shipment, on its freight bill.
    FreightBill,
    /// The order's number.
    Order,
    /// The day of delivery.
    Delivered,
    /// The day the harm was found.
    Found,
    /// Units at the truck: billed and received.
    Units,
    /// The numbers of the seals, and how they were.
    Seals,
    /// The words on the delivery receipt.
    ReceiptNote,
    /// Each line says what is wrong with how many of which part.
    Lines,
    /// Each line has the sender's own words for its part.
    SendersWords,
    /// Each harmed line says the kind of harm.
    Harm,
    /// Each harmed or wrong line has a photo.
    Photos,
    /// Each wrong line says what was read of the part.
    Readings,
    /// The carrier is held liable.
    Liability,
    /// A stated or determinable sum.
    Sum,
    /// The bill of lading itself.
    CopyOfBill,
    /// The paid freight bill.
    CopyOfFreightBill,
    /// The invoice, or another proof of value.
    ProofOfValue,
    /// The delivery receipt as signed.
    CopyOfReceipt,
    /// The carrier's inspection report, its waiver, or your own findings.
    InspectionReport,
    /// The carrier is asked to inspect.
    AskToInspect,
    /// Whether goods and packing were kept as found.
    Kept,
    /// What the sender is asked to do: send, credit, collect.
    Wish,
    /// Where to, and by when it is needed.
    SendTo,
    /// The sender's consent to the return, and its number.
    ReturnConsent,
    /// Where goods lie, to be collected.
    WhereItLies,
}

const fn must(what: Content, source: &'static str, sure: Sure) -> Asked {
    Asked {
        what,
        must: true,
        source,
        sure,
    }
}

const fn better(what: Content, source: &'static str, sure: Sure) -> Asked {
    Asked {
        what,
        must: false,
        source,
        sure,
    }
}

const CLAIM_RULE: &str = "49 CFR 370.3(b)";
const CLAIM_SUPPORT: &str = "49 CFR 370.7";
const HIDDEN_ITEM: &str = "NMFC item 300135";
const FEDERAL: &str = "41 CFR 101-40.701 to .707 (old rules for federal property)";
const SELLER: &str = "UCC 2-607(3)(a); CISG 39(1)";
const USE: &str = "common practice, no source";

const OSD: [Asked; 12] = [
    must(Content::From, USE, Sure::Memory),
    must(Content::Day, USE, Sure::Memory),
    must(Content::Delivered, FEDERAL, Sure::Seen),
    must(Content::BillOfLading, USE, Sure::Memory),
    must(Content::Units, FEDERAL, Sure::Seen),
    must(Content::ReceiptNote, FEDERAL, Sure::Seen),
    must(Content::Lines, FEDERAL, Sure::Seen),
    must(Content::Harm, FEDERAL, Sure::Seen),
    better(Content::Photos, FEDERAL, Sure::Seen),
    better(Content::FreightBill, USE, Sure::Memory),
    better(Content::Seals, FEDERAL, Sure::Seen),
    better(Content::Kept, FEDERAL, Sure::Seen),
];

const HIDDEN_HARM: [Asked; 13] = [
    must(Content::From, USE, Sure::Memory),
    must(Content::Addressee, HIDDEN_ITEM, Sure::Seen),
    must(Content::Day, USE, Sure::Memory),
    must(Content::BillOfLading, USE, Sure::Memory),
    better(Content::FreightBill, USE, Sure::Memory),
    must(Content::Delivered, HIDDEN_ITEM, Sure::Seen),
    must(Content::Found, HIDDEN_ITEM, Sure::Seen),
    must(Content::Lines, HIDDEN_ITEM, Sure::Seen),
    must(Content::Harm, USE, Sure::Memory),
    must(Content::AskToInspect, HIDDEN_ITEM, Sure::Seen),
    better(Content::Kept, HIDDEN_ITEM, Sure::Seen),
    better(Content::ReceiptNote, USE, Sure::Memory),
    better(Content::Photos, USE, Sure::Memory),
];

/// The three that 370.3(b) asks for are what identifies the shipment, the liability and the sum.
const CLAIM: [Asked; 15] = [
    must(Content::From, USE, Sure::Memory),
    must(Content::Addressee, "49 CFR 370.3(a)", Sure::Seen),
    must(Content::Day, USE, Sure::Memory),
    must(Content::BillOfLading, CLAIM_RULE, Sure::Seen),
    better(Content::FreightBill, CLAIM_RULE, Sure::Seen),
    must(Content::Delivered, USE, Sure::Memory),
    must(Content::Liability, CLAIM_RULE, Sure::Seen),
    must(Content::Lines, USE, Sure::Memory),
    must(Content::Sum, CLAIM_RULE, Sure::Seen),
    better(Content::CopyOfBill, CLAIM_SUPPORT, Sure::Memory),
    better(Content::CopyOfFreightBill, CLAIM_SUPPORT, Sure::Memory),
    better(Content::ProofOfValue, CLAIM_SUPPORT, Sure::Memory),
    better(Content::CopyOfReceipt, FEDERAL, Sure::Seen),
    better(Content::InspectionReport, FEDERAL, Sure::Seen),
    better(Content::Photos, FEDERAL, Sure::Seen),
];

const TO_SENDER: [Asked; 10] = [
    must(Content::From, USE, Sure::Memory),
    must(Content::Addressee, SELLER, Sure::Seen),
    must(Content::Day, USE, Sure::Memory),
    must(Content::Order, USE, Sure::Memory),
    must(Content::Lines, SELLER, Sure::Seen),
    must(Content::SendersWords, USE, Sure::Memory),
    better(Content::Harm, "CISG 39(1)", Sure::Seen),
    better(Content::Readings, USE, Sure::Memory),
    better(Content::Photos, USE, Sure::Memory),
    better(Content::Wish, USE, Sure::Memory),
];

const REPLACEMENT: [Asked; 7] = [
    must(Content::From, USE, Sure::Memory),
    must(Content::Addressee, USE, Sure::Memory),
    must(Content::Day, USE, Sure::Memory),
    must(Content::Order, USE, Sure::Memory),
    must(Content::Lines, USE, Sure::Memory),
    must(Content::SendersWords, USE, Sure::Memory),
    must(Content::SendTo, USE, Sure::Memory),
];

const RETURN: [Asked; 8] = [
    must(Content::From, USE, Sure::Memory),
    must(Content::Addressee, USE, Sure::Memory),
    must(Content::Day, USE, Sure::Memory),
    must(Content::Order, USE, Sure::Memory),
    must(Content::Lines, USE, Sure::Memory),
    better(Content::SendersWords, USE, Sure::Memory),
    must(Content::WhereItLies, USE, Sure::Memory),
    better(
        Content::ReturnConsent,
        "UCC 2-602, 2-603: held for the seller, whose instructions are followed",
        Sure::Seen,
    ),
];

impl Paper {
    /// Every paper.
    pub const ALL: [Self; 6] = [
        Self::Osd,
        Self::HiddenHarm,
        Self::Claim,
        Self::ToSender,
        Self::Replacement,
        Self::Return,
    ];

    /// Returns what the paper must contain, and what it is better for, in the order in which it is asked.
    pub fn asks(self) -> &'static [Asked] {
        match self {
            Paper::Osd => &OSD,
            Paper::HiddenHarm => &HIDDEN_HARM,
            Paper::Claim => &CLAIM,
            Paper::ToSender => &TO_SENDER,
            Paper::Replacement => &REPLACEMENT,
            Paper::Return => &RETURN,
        }
    }

    /// Returns the paper's name.
    pub fn title(self) -> &'static str {
        match self {
            Paper::Osd => "Over, short and damaged",
            Paper::HiddenHarm => "Notice of concealed damage to the carrier",
            Paper::Claim => "Claim to the carrier",
            Paper::ToSender => "Notice to the sender: short, over or wrong",
            Paper::Replacement => "Replacement order",
            Paper::Return => "Return list",
        }
    }

    /// Returns what the paper is, and what it is not.
    pub fn what_it_is(self) -> &'static str {
        match self {
            Paper::Osd => {
                "What was over, short and damaged, for everybody. It is no claim, and stops no clock."
            }
            Paper::HiddenHarm => {
                "Tells the carrier of harm that could not be seen at delivery, and asks for an inspection. It is no claim, \
                 and does not stop the clock for one."
            }
            Paper::Claim => {
                "The claim by which the carrier is asked to pay. A notice to the carrier is none to the sender."
            }
            Paper::ToSender => {
                "Tells the sender what is wrong. A notice to the sender is none to the carrier."
            }
            Paper::Replacement => "Asks the sender for what is missing, in the sender's own names.",
            Paper::Return => "What goes back, and where it lies until then.",
        }
    }
}
