use claim::{Known, KnownLine, Paper, Wrong};
use serde::{Serialize, Serializer};
use tally::Money;

use crate::letter::{Carriage, Letter, Missing, known_line, missing_by};
use crate::money::{self, times, totals};
use crate::osd::check_count;
use crate::photos::{self, Photo};
use crate::print::{PaperError, Print};
use crate::template::Template;
use crate::typeset::typeset_with_photos;

/// A claim for loss and damage to the carrier: identifies the shipment, asserts that the carrier is liable, and demands
/// a stated sum; with the documents that support it.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct CarrierClaim {
    /// Its head and foot; it is written to the carrier.
    #[serde(flatten)]
    pub letter: Letter,
    /// The shipment.
    pub carriage: Carriage,
    /// What happened, in words.
    pub happened: String,
    /// What is claimed, mark by mark.
    pub lines: Vec<ClaimLine>,
    /// Other costs.
    pub costs: Vec<ClaimCost>,
    /// What supports it.
    pub documents: Vec<Document>,
    /// Where damaged goods are kept for the carrier.
    pub kept: String,
    /// Photos.
    #[serde(skip)]
    pub photos: Vec<Photo>,
}

/// One mark of a claim.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct ClaimLine {
    /// The piece mark.
    pub mark: String,
    /// What it is, in words.
    pub description: String,
    /// Whether it came and was damaged; otherwise it did not come.
    pub damaged: bool,
    /// What happened to it, in a word or two: `bent`, `lost`.
    pub kind: String,
    /// How many pieces.
    pub quantity: i64,
    /// What one piece costs, and where that stands; nothing where nobody has said.
    #[serde(serialize_with = "money::read_some")]
    pub each: Option<Money>,
    /// Where the price stands: `invoice 4711`; may be empty.
    pub price_from: String,
}

/// A cost beside the goods.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ClaimCost {
    /// What for: `freight for the replacement`.
    pub words: String,
    /// How much.
    #[serde(serialize_with = "money::read")]
    pub sum: Money,
}

/// Something that supports a claim.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Document {
    /// What it is.
    pub kind: DocumentKind,
    /// Whether it goes along with the claim.
    pub attached: bool,
    /// Its number, or where it is; may be empty.
    pub words: String,
}

/// What a document is.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub enum DocumentKind {
    /// The bill of lading.
    #[default]
    BillOfLading,
    /// The carrier's bill for the carriage, paid.
    FreightBill,
    /// The sender's invoice, or another proof of what the goods were worth.
    ProofOfValue,
    /// The delivery receipt as it was signed.
    Receipt,
    /// The carrier's inspection report, its waiver in writing, or the receiver's own findings.
    Inspection,
    /// Something else.
    Other(String),
}

/// Returns the claim as a PDF. Sums are worked out here, line by line, from quantity and price.
///
/// # Errors
/// [`PaperError::Print`] and [`PaperError::Row`] name the field that cannot be; [`PaperError::TooMuch`] if no one could
/// read it or sums go beyond counting. A photo that cannot be shown is said in the paper, and is no error.
pub fn carrier_claim(claim: &CarrierClaim, print: &Print) -> Result<Vec<u8>, PaperError> {
    claim.carriage.check(0)?;
    let money = Sums::of(claim)?;
    let mut claim = claim.clone();
    claim.name_all_documents();
    let missing = claim.missing_beside(&money);
    claim.letter.also_missing(missing);
    let photos = std::mem::take(&mut claim.photos);
    let paper = WithMoney { claim, money };
    typeset_with_photos(Template::CarrierClaim, &paper, &photos, print)
}

#[derive(Serialize)]
struct WithMoney {
    #[serde(flatten)]
    claim: CarrierClaim,
    money: Sums,
}

/// What the lines come to.
#[derive(Serialize)]
struct Sums {
    /// Of each line; nothing where it has no price.
    #[serde(serialize_with = "money::read_each")]
    amounts: Vec<Option<Money>>,
    /// Of everything that has a price, by currency.
    #[serde(serialize_with = "money::read_all")]
    totals: Vec<Money>,
    /// How many lines have no price.
    unpriced: usize,
    /// Whether that is one sum that anyone can state.
    stated: bool,
}

impl Sums {
    fn of(claim: &CarrierClaim) -> Result<Self, PaperError> {
        let mut amounts = Vec::new();
        for (index, line) in claim.lines.iter().enumerate() {
            check_count("lines", index, &line.mark, "quantity", Some(line.quantity))?;
            let amount = match &line.each {
                Some(each) => {
                    money::check(each, "lines", index, &line.mark)?;
                    Some(times(*each, line.quantity).ok_or_else(too_much)?)
                }
                None => None,
            };
            amounts.push(amount);
        }
        for (index, cost) in claim.costs.iter().enumerate() {
            money::check(&cost.sum, "costs", index, &cost.words)?;
        }
        let costs = claim.costs.iter().map(|cost| &cost.sum);
        let totals = totals(amounts.iter().flatten().chain(costs)).ok_or_else(too_much)?;
        let unpriced = amounts.iter().filter(|amount| amount.is_none()).count();
        Ok(Self {
            stated: unpriced == 0 && matches!(totals.as_slice(), [sum] if sum.minor > 0),
            amounts,
            totals,
            unpriced,
        })
    }

    /// What stands against one sum although every line has a price.
    fn trouble(&self) -> Option<Missing> {
        let one = "one sum that is demanded";
        match self.totals.as_slice() {
            _ if self.unpriced > 0 => None,
            [] => None,
            [sum] if sum.minor > 0 => None,
            [_] => Some(Missing::of(one, "it comes to nothing")),
            _ => Some(Missing::of(one, "the prices are in several currencies")),
        }
    }
}

fn too_much() -> PaperError {
    PaperError::TooMuch {
        what: "units of money in one sum",
        found: usize::MAX,
        most: 1_000_000_000_000_000,
    }
}

impl CarrierClaim {
    /// What the rules find missing from it before it may be called complete.
    ///
    /// # Errors
    /// As for [`carrier_claim`], where its sums cannot be worked out.
    pub fn missing(&self) -> Result<Vec<Missing>, PaperError> {
        let mut claim = self.clone();
        claim.name_all_documents();
        Ok(claim.missing_beside(&Sums::of(&claim)?))
    }

    fn missing_beside(&self, money: &Sums) -> Vec<Missing> {
        let missing = missing_by(&self.letter.rules, Paper::Claim, &self.known(money));
        let missing = missing.into_iter().map(Missing::from);
        money.trouble().into_iter().chain(missing).collect()
    }

    fn known(&self, money: &Sums) -> Known {
        let attached = |kind| {
            let of_kind = |document: &&Document| document.kind == kind;
            (self.documents.iter().find(of_kind)).is_some_and(|document| document.attached)
        };
        let lines = self.lines.iter().map(|line| {
            let wrong = if line.damaged {
                Wrong::Damaged
            } else {
                Wrong::Short
            };
            KnownLine {
                harm: line.kind.clone(),
                photos: photos::of_mark(&self.photos, &line.mark),
                priced: line.each.is_some(),
                ..known_line(&line.mark, wrong, line.quantity)
            }
        });
        Known {
            lines: lines.collect(),
            // The template says so in its second part.
            holds_liable: true,
            sum_stated: money.stated,
            with_bill_of_lading: attached(DocumentKind::BillOfLading),
            with_freight_bill: attached(DocumentKind::FreightBill),
            with_proof_of_value: attached(DocumentKind::ProofOfValue),
            with_receipt: attached(DocumentKind::Receipt),
            with_inspection: attached(DocumentKind::Inspection),
            ..self.carriage.known_with(self.letter.known())
        }
    }

    /// Every kind of document that supports a claim, those that nobody spoke of among them.
    fn name_all_documents(&mut self) {
        for kind in DocumentKind::ALL {
            if self.documents.iter().all(|document| document.kind != kind) {
                self.documents.push(Document {
                    kind,
                    ..Document::default()
                });
            }
        }
        // In their own order, and what else there is behind them; the sort keeps equals as they are.
        let place = |document: &Document| {
            DocumentKind::ALL
                .iter()
                .position(|kind| *kind == document.kind)
        };
        self.documents
            .sort_by_key(|document| place(document).unwrap_or(DocumentKind::ALL.len()));
    }
}

impl DocumentKind {
    /// The kinds that a claim is asked for.
    const ALL: [Self; 5] = [
        Self::BillOfLading,
        Self::FreightBill,
        Self::ProofOfValue,
        Self::Receipt,
        Self::Inspection,
    ];

    /// What people read.
    pub fn in_words(&self) -> &str {
        match self {
            Self::BillOfLading => "Bill of lading",
            Self::FreightBill => "Paid freight bill",
            Self::ProofOfValue => "Invoice, or another proof of value",
            Self::Receipt => "Delivery receipt as signed",
            Self::Inspection => "Inspection report, its waiver, or own findings",
            Self::Other(name) => name,
        }
    }
}

impl Serialize for DocumentKind {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.in_words())
    }
}
