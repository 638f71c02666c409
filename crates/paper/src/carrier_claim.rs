use serde::Serialize;

use crate::letter::{Carriage, Letter, Missing, blanks};
use crate::money::{Sum, totals};
use crate::osd::check_count;
use crate::photos::Photo;
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
    /// Lost or damaged, in a word or two.
    pub kind: String,
    /// How many pieces.
    pub quantity: i64,
    /// What one piece costs, and where that stands; nothing where nobody has said.
    pub each: Option<Sum>,
    /// Where the price stands: `invoice 4711`; may be empty.
    pub price_from: String,
}

/// A cost beside the goods.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct ClaimCost {
    /// What for: `freight for the replacement`.
    pub words: String,
    /// How much.
    pub sum: Sum,
}

/// Something that supports a claim.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Document {
    /// What it is: `paid freight bill`.
    pub name: String,
    /// Whether it goes along with the claim.
    pub attached: bool,
    /// Where it is, or why it is asked for; may be empty.
    pub words: String,
}

/// Returns the claim as a PDF. Sums are worked out here, line by line, from quantity and price.
///
/// # Errors
/// [`PaperError::Print`] and [`PaperError::Row`] name the field that cannot be; [`PaperError::TooMuch`] if no one could
/// read it or sums go beyond counting. A photo that cannot be shown is said in the paper, and is no error.
pub fn carrier_claim(claim: &CarrierClaim, print: &Print) -> Result<Vec<u8>, PaperError> {
    let money = Money::of(claim)?;
    let mut claim = claim.clone();
    let lacking = claim.lacking(&money);
    claim.letter.also_missing(lacking);
    let photos = std::mem::take(&mut claim.photos);
    let paper = WithMoney { claim, money };
    typeset_with_photos(Template::CarrierClaim, &paper, &photos, print)
}

#[derive(Serialize)]
struct WithMoney {
    #[serde(flatten)]
    claim: CarrierClaim,
    money: Money,
}

/// What the lines come to.
#[derive(Serialize)]
struct Money {
    /// Of each line; nothing where it has no price.
    amounts: Vec<Option<Sum>>,
    /// Of everything that has a price, by currency.
    totals: Vec<Sum>,
    /// How many lines have no price.
    unpriced: usize,
}

impl Money {
    fn of(claim: &CarrierClaim) -> Result<Self, PaperError> {
        let mut amounts = Vec::new();
        for (index, line) in claim.lines.iter().enumerate() {
            check_count("lines", index, &line.mark, "quantity", Some(line.quantity))?;
            let amount = match &line.each {
                Some(each) => {
                    each.check("lines", index, &line.mark)?;
                    Some(each.times(line.quantity).ok_or_else(too_much)?)
                }
                None => None,
            };
            amounts.push(amount);
        }
        for (index, cost) in claim.costs.iter().enumerate() {
            cost.sum.check("costs", index, &cost.words)?;
        }
        let costs = claim.costs.iter().map(|cost| &cost.sum);
        let totals = totals(amounts.iter().flatten().chain(costs)).ok_or_else(too_much)?;
        let unpriced = amounts.iter().filter(|amount| amount.is_none()).count();
        Ok(Self {
            amounts,
            totals,
            unpriced,
        })
    }

    /// Whether the claim demands one sum that anyone can state.
    fn is_stated(&self) -> bool {
        self.unpriced == 0 && self.totals.len() == 1 && self.totals.iter().all(|sum| sum.minor > 0)
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
    fn lacking(&self, money: &Money) -> Vec<Missing> {
        let mut missing = self.letter.blanks("the carrier that this goes to");
        missing.extend(self.carriage.blanks());
        missing.extend(blanks([(
            &self.happened,
            "what happened",
            "the claim is for that",
        )]));
        if !money.is_stated() {
            let why = match (money.unpriced, money.totals.len()) {
                (0, 0) => "nothing with a price stands in it".to_owned(),
                (0, 1) => "it comes to nothing".to_owned(),
                (0, _) => "the prices are in several currencies".to_owned(),
                (1, _) => "1 line has no price".to_owned(),
                (n, _) => format!("{n} lines have no price"),
            };
            missing.push(Missing::of("the sum that is demanded", why));
        }
        let wanting = self.documents.iter().filter(|document| !document.attached);
        missing.extend(wanting.map(|document| Missing::of(&document.name, &document.words)));
        missing
    }
}
