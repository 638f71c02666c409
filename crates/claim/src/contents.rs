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
    /// What identifies the shipment: the bill of lading's number, or the carrier's.
    Shipment,
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

/// Where something is written, and under which rule set that holds.
struct Cite {
    set: &'static str,
    source: &'static str,
    sure: Sure,
}

/// What a paper asks for, and where that may be written.
struct Row {
    what: Content,
    must: bool,
    cites: &'static [Cite],
}

const fn must(what: Content, cites: &'static [Cite]) -> Row {
    Row {
        what,
        must: true,
        cites,
    }
}

const fn better(what: Content, cites: &'static [Cite]) -> Row {
    Row {
        what,
        must: false,
        cites,
    }
}

const fn seen(set: &'static str, source: &'static str) -> Cite {
    Cite {
        set,
        source,
        sure: Sure::Seen,
    }
}

const MOTOR: &str = "us-motor";
const CLAIM_RULE: &[Cite] = &[seen(MOTOR, "49 CFR 370.3(b)")];
const CLAIM_TO: &[Cite] = &[seen(MOTOR, "49 CFR 370.3(a)")];
const CLAIM_SUPPORT: &[Cite] = &[Cite {
    set: MOTOR,
    source: "49 CFR 370.7",
    sure: Sure::Memory,
}];
const HIDDEN_ITEM: &[Cite] = &[seen(MOTOR, "NMFC item 300135")];
const FEDERAL: &[Cite] = &[seen(
    MOTOR,
    "41 CFR 101-40.701 to .707 (old rules for federal property)",
)];
const SELLER: &[Cite] = &[seen("ucc", "UCC 2-607(3)(a)"), seen("cisg", "CISG 39(1)")];
const KIND: &[Cite] = &[seen("cisg", "CISG 39(1)")];
const GIVEN_BACK: &[Cite] = &[seen(
    "ucc",
    "UCC 2-602, 2-603: held for the seller, whose instructions are followed",
)];
/// Where no set that holds says it.
const USE: &[Cite] = &[];
const COMMON: &str = "common practice, no source";

const OSD: [Row; 12] = [
    must(Content::From, USE),
    must(Content::Day, USE),
    must(Content::Delivered, USE),
    must(Content::BillOfLading, USE),
    must(Content::Units, FEDERAL),
    must(Content::ReceiptNote, FEDERAL),
    must(Content::Lines, FEDERAL),
    must(Content::Harm, FEDERAL),
    better(Content::Photos, FEDERAL),
    better(Content::FreightBill, USE),
    better(Content::Seals, FEDERAL),
    better(Content::Kept, FEDERAL),
];

const HIDDEN_HARM: [Row; 13] = [
    must(Content::From, USE),
    must(Content::Addressee, HIDDEN_ITEM),
    must(Content::Day, USE),
    must(Content::BillOfLading, USE),
    better(Content::FreightBill, USE),
    must(Content::Delivered, USE),
    must(Content::Found, USE),
    must(Content::Lines, USE),
    must(Content::Harm, USE),
    must(Content::AskToInspect, HIDDEN_ITEM),
    better(Content::Kept, HIDDEN_ITEM),
    better(Content::ReceiptNote, USE),
    better(Content::Photos, USE),
];

/// The three that 370.3(b) asks for are what identifies the shipment, the liability and the sum.
const CLAIM: [Row; 16] = [
    must(Content::From, USE),
    must(Content::Addressee, CLAIM_TO),
    must(Content::Day, USE),
    must(Content::Shipment, CLAIM_RULE),
    better(Content::BillOfLading, USE),
    better(Content::FreightBill, USE),
    must(Content::Delivered, USE),
    must(Content::Liability, CLAIM_RULE),
    must(Content::Lines, USE),
    must(Content::Sum, CLAIM_RULE),
    better(Content::CopyOfBill, CLAIM_SUPPORT),
    better(Content::CopyOfFreightBill, CLAIM_SUPPORT),
    better(Content::ProofOfValue, CLAIM_SUPPORT),
    better(Content::CopyOfReceipt, FEDERAL),
    better(Content::InspectionReport, FEDERAL),
    better(Content::Photos, FEDERAL),
];

const TO_SENDER: [Row; 10] = [
    must(Content::From, USE),
    must(Content::Addressee, SELLER),
    must(Content::Day, USE),
    must(Content::Order, USE),
    must(Content::Lines, SELLER),
    must(Content::SendersWords, USE),
    better(Content::Harm, KIND),
    better(Content::Readings, USE),
    better(Content::Photos, USE),
    better(Content::Wish, USE),
];

const REPLACEMENT: [Row; 7] = [
    must(Content::From, USE),
    must(Content::Addressee, USE),
    must(Content::Day, USE),
    must(Content::Order, USE),
    must(Content::Lines, USE),
    must(Content::SendersWords, USE),
    must(Content::SendTo, USE),
];

const RETURN: [Row; 8] = [
    must(Content::From, USE),
    must(Content::Addressee, USE),
    must(Content::Day, USE),
    must(Content::Order, USE),
    must(Content::Lines, USE),
    better(Content::SendersWords, USE),
    must(Content::WhereItLies, USE),
    better(Content::ReturnConsent, GIVEN_BACK),
];

impl Row {
    fn under(&self, sets: &[&str]) -> Asked {
        let cite = self.cites.iter().find(|cite| sets.contains(&cite.set));
        // Elsewhere nothing we know has a notice ask for an inspection; it is no worse for it.
        let must = self.must && (cite.is_some() || self.what != Content::AskToInspect);
        Asked {
            what: self.what,
            must,
            source: cite.map_or(COMMON, |cite| cite.source),
            sure: cite.map_or(Sure::Memory, |cite| cite.sure),
        }
    }
}

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

    /// Returns what the paper must contain, and what it is better for, in the order in which it is asked, where these
    /// rule sets hold. What none of them says is cited as common practice.
    pub fn asks(self, sets: &[&str]) -> Vec<Asked> {
        let rows: &[Row] = match self {
            Paper::Osd => &OSD,
            Paper::HiddenHarm => &HIDDEN_HARM,
            Paper::Claim => &CLAIM,
            Paper::ToSender => &TO_SENDER,
            Paper::Replacement => &REPLACEMENT,
            Paper::Return => &RETURN,
        };
        rows.iter().map(|row| row.under(sets)).collect()
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
