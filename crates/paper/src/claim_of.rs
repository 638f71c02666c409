//! The claim to the carrier, taken from how a job stands.

use claim::Act;
use tally::{Picture, Shot, Standing};

use crate::carrier_claim::{CarrierClaim, ClaimCost, ClaimLine, Document, DocumentKind};
use crate::claimed::claimed_of;
use crate::letter::{Carriage, Missing};
use crate::letter_facts::{LetterFacts, Reader, carriage_of};

/// Returns the claim for a shipment to its carrier; `None` without an order that can be built.
///
/// What is in it is what [`claimed_of`] says. A document goes along where a picture of it was taken.
pub fn claim_of(
    standing: &Standing,
    shipment: &str,
    facts: &LetterFacts<'_>,
) -> Option<CarrierClaim> {
    let carriage = carriage_of(standing, shipment, facts.zone);
    let mut letter = facts.letter(standing, Reader::Carrier(&carriage), &[Act::Claim])?;
    let affairs = &standing.state.affairs;
    let claimed = claimed_of(standing, shipment, facts.zone);
    let lines: Vec<ClaimLine> = (claimed.lines.iter())
        .map(|line| ClaimLine {
            mark: line.mark.mark.clone(),
            description: line.mark.description.clone(),
            damaged: line.damaged,
            kind: line.kind.clone(),
            quantity: line.quantity,
            each: line.each,
            price_from: (line.each)
                .map(|_| affairs.written("price-source", None).to_owned())
                .unwrap_or_default(),
        })
        .collect();
    letter.remarks.extend(claimed.remarks);
    letter.also_missing(claimed.open.into_iter().map(Missing::from));
    let costs = claimed.costs.into_iter().map(|(words, sum)| ClaimCost {
        words: words.to_owned(),
        sum,
    });
    let shown: Vec<&str> = lines.iter().map(|line| line.mark.as_str()).collect();
    let photos = facts.photos(standing, Some(shipment), &shown);
    Some(CarrierClaim {
        happened: happened(&carriage, &lines),
        documents: documents(standing, &carriage),
        costs: costs.collect(),
        kept: affairs.written("kept", Some(shipment)).to_owned(),
        letter,
        carriage,
        lines,
        photos,
    })
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

/// What supports a claim: attached is what a picture was taken of.
fn documents(standing: &Standing, carriage: &Carriage) -> Vec<Document> {
    let asked = standing.state.claim_papers(Some(&carriage.shipment));
    (asked.iter())
        .filter_map(|asked| {
            let (kind, number) = match asked.shot {
                Shot::BillOfLading => (DocumentKind::BillOfLading, carriage.bill.as_str()),
                Shot::FreightBill => (DocumentKind::FreightBill, carriage.carrier_number.as_str()),
                Shot::Invoice => (DocumentKind::ProofOfValue, ""),
                Shot::Receipt => (DocumentKind::Receipt, ""),
                Shot::Inspection => (DocumentKind::Inspection, ""),
                _ => return None,
            };
            Some(Document {
                kind,
                attached: !asked.taken.is_empty(),
                words: document_words(number, &asked.taken),
            })
        })
        .collect()
}

/// "SF-20417; 2 pictures, SHA-256 begins 01064c08…".
fn document_words(number: &str, taken: &[&Picture]) -> String {
    let digests: Vec<String> = (taken.iter())
        .map(|picture| picture.photo.to_string().chars().take(16).collect())
        .collect();
    let pictures = match digests.len() {
        0 => String::new(),
        1 => format!("picture, SHA-256 begins {}", digests.concat()),
        n => format!("{n} pictures, SHA-256 begin {}", digests.join(", ")),
    };
    let parts = [number, &pictures]
        .into_iter()
        .filter(|part| !part.is_empty());
    parts.collect::<Vec<_>>().join("; ")
}
