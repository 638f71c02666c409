//! The claim to the carrier, taken from how a job stands.

use claim::Act;
use tally::{Condition, Conditioned, MarkDifference, Money, Standing};

use crate::carrier_claim::{CarrierClaim, ClaimCost, ClaimLine, Document, DocumentKind};
use crate::concealed_of::kinds;
use crate::letter::Carriage;
use crate::letter_facts::{LetterFacts, Reader, carriage_of, conditions, may_be_of, short};
use crate::money::Sum;

/// Harm by which a piece is lost to the building. A wet tube dries.
const UNFIT: [Condition; 2] = [Condition::Damaged, Condition::Bent];

/// Returns the claim for a shipment to its carrier; `None` without an order that can be built.
///
/// Pieces that came unfit are in it. Pieces that did not come are in it only where fewer units came off the truck than
/// the bill has: otherwise nothing says that the carrier ever had them, and they are for the sender to answer. Which
/// documents go along, and where damaged goods are kept, only a person can say.
pub fn claim_of(
    standing: &Standing,
    shipment: &str,
    facts: &LetterFacts<'_>,
) -> Option<CarrierClaim> {
    let difference = standing.difference.as_ref()?;
    let carriage = carriage_of(standing, shipment, facts.local);
    let mut letter = facts.letter(standing, Reader::Carrier(&carriage), &[Act::Claim])?;
    let marks = || (difference.marks.iter()).filter(|mark| may_be_of(mark, shipment));
    let mut lines: Vec<ClaimLine> = marks()
        .filter_map(|mark| damaged_line(standing, mark))
        .collect();
    let lost: Vec<ClaimLine> = marks()
        .filter_map(|mark| lost_line(standing, mark))
        .collect();
    if units_are_short(&carriage) {
        lines.extend(lost);
    } else if !lost.is_empty() {
        letter.remarks.push(
            "What is short in the count is not claimed here: nothing says that the carrier had it. It is in the notice \
             to the sender."
                .into(),
        );
    }
    let shown: Vec<&str> = lines.iter().map(|line| line.mark.as_str()).collect();
    let photos = facts.photos(standing, Some(shipment), &shown);
    let costs = (standing.state.affairs.costs.iter()).map(|(words, sum)| ClaimCost {
        words: words.clone(),
        sum: Sum::from(*sum),
    });
    Some(CarrierClaim {
        happened: happened(&carriage, &lines),
        documents: documents(&carriage),
        costs: costs.collect(),
        letter,
        carriage,
        lines,
        kept: String::new(),
        photos,
    })
}

fn damaged_line(standing: &Standing, mark: &MarkDifference) -> Option<ClaimLine> {
    let seen: Vec<&Conditioned> = conditions(standing, &mark.mark, &UNFIT).collect();
    let quantity = seen.iter().map(|seen| seen.quantity).sum();
    (quantity > 0).then(|| line(standing, mark, true, kinds(&seen), quantity))
}

fn lost_line(standing: &Standing, mark: &MarkDifference) -> Option<ClaimLine> {
    let quantity = short(standing, mark);
    (quantity > 0).then(|| line(standing, mark, false, "did not come".into(), quantity))
}

fn line(
    standing: &Standing,
    mark: &MarkDifference,
    damaged: bool,
    kind: String,
    quantity: i64,
) -> ClaimLine {
    ClaimLine {
        mark: mark.mark.clone(),
        description: mark.description.clone(),
        damaged,
        kind,
        quantity,
        each: (standing.state.affairs.prices.get(&mark.mark)).map(|price| Sum::from(*price)),
        price_from: String::new(),
    }
}

fn units_are_short(carriage: &Carriage) -> bool {
    let units = carriage.units_billed.zip(carriage.units_counted);
    units.is_some_and(|(billed, counted)| counted < billed)
}

/// What happened, from what is known.
fn happened(carriage: &Carriage, lines: &[ClaimLine]) -> String {
    let mut said = Vec::new();
    if let Some((billed, counted)) = carriage.units_billed.zip(carriage.units_counted) {
        said.push(format!(
            "{counted} of {billed} handling units came off the truck."
        ));
    }
    let pieces = |damaged: bool| -> i64 {
        (lines.iter().filter(|line| line.damaged == damaged))
            .map(|line| line.quantity)
            .sum()
    };
    match pieces(true) {
        0 => {}
        1 => said.push("1 piece came unfit for use.".into()),
        n => said.push(format!("{n} pieces came unfit for use.")),
    }
    match pieces(false) {
        0 => {}
        1 => said.push("1 piece did not come.".into()),
        n => said.push(format!("{n} pieces did not come.")),
    }
    said.join(" ")
}

/// What supports a claim; none of it is attached before a person says so.
fn documents(carriage: &Carriage) -> Vec<Document> {
    let of = |kind, words: &str| Document {
        kind,
        attached: false,
        words: words.to_owned(),
    };
    vec![
        of(DocumentKind::BillOfLading, &carriage.bill),
        of(DocumentKind::FreightBill, &carriage.carrier_number),
    ]
}

impl From<Money> for Sum {
    fn from(money: Money) -> Self {
        Self {
            minor: money.minor,
            currency: money.currency.letters().to_owned(),
            // A currency has a few digits.
            digits: u8::try_from(money.currency.digits()).unwrap_or(0),
        }
    }
}
