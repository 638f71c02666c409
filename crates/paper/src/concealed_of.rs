//! The notice of concealed damage, taken from how a job stands.

use claim::Act;
use tally::{Condition, Conditioned, Standing};

use crate::concealed::{DamageNotice, Harm};
use crate::letter_facts::{LetterFacts, Reader, carriage_of, conditions, may_be_of};

/// What a carrier can have done to a piece.
pub(crate) const HARM: [Condition; 3] = [Condition::Damaged, Condition::Bent, Condition::Wet];

/// Returns the notice of concealed damage for a shipment; `None` without an order that can be built.
///
/// Every harm that people saw is in it, but nothing that is short: whether a piece was in a closed crate nobody knows
/// who was not there when it was packed. What only a person can say (why it could not be seen, where it is kept, whether
/// the carrier was told before) is left open.
pub fn concealed_of(
    standing: &Standing,
    shipment: &str,
    facts: &LetterFacts<'_>,
) -> Option<DamageNotice> {
    let difference = standing.difference.as_ref()?;
    let carriage = carriage_of(standing, shipment, facts.local);
    let acts = [Act::NoticeOfHiddenHarm, Act::Inspection];
    let letter = facts.letter(standing, Reader::Carrier(&carriage), &acts)?;
    let harmed = || (difference.marks.iter()).filter(|mark| may_be_of(mark, shipment));
    let harm: Vec<Harm> = harmed()
        .filter_map(|mark| {
            let seen: Vec<&Conditioned> = conditions(standing, &mark.mark, &HARM).collect();
            (!seen.is_empty()).then(|| Harm {
                mark: mark.mark.clone(),
                description: mark.description.clone(),
                kind: kinds(&seen),
                quantity: seen.iter().map(|seen| seen.quantity).sum(),
                seen: seen.iter().map(|seen| facts.sighting(seen)).collect(),
            })
        })
        .collect();
    let first = harmed()
        .flat_map(|mark| conditions(standing, &mark.mark, &HARM))
        .min_by_key(|seen| seen.at);
    let marks: Vec<&str> = harm.iter().map(|harm| harm.mark.as_str()).collect();
    let photos = facts.photos(standing, Some(shipment), &marks);
    Some(DamageNotice {
        letter,
        carriage,
        found_on: first.map(|seen| (facts.local)(seen.at)).unwrap_or_default(),
        found_by: first.map(|seen| seen.who.clone()).unwrap_or_default(),
        harm,
        photos,
        ..DamageNotice::default()
    })
}

/// The conditions in words, each once.
pub(crate) fn kinds(seen: &[&Conditioned]) -> String {
    let mut kinds: Vec<&str> = Vec::new();
    for seen in seen {
        if !kinds.contains(&seen.condition.in_words()) {
            kinds.push(seen.condition.in_words());
        }
    }
    kinds.join(", ")
}
