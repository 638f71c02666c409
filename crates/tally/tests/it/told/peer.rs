//! The peer: a column of minus signs, which is what most tools print. It knows what the list has for loads that are not
//! here, and nothing else.

use std::collections::BTreeMap;

use tally::Standing;

/// What it would tell the sender is short: needed, minus counted, minus what is listed for later. What nobody counted
/// it does not claim.
pub fn claims(standing: &Standing) -> BTreeMap<String, i64> {
    let difference = standing.difference.as_ref().expect("the job has an order");
    let is_here = |shipment: &String| standing.shipments.get(shipment) == Some(&true);
    let mut claims = BTreeMap::new();
    for mark in difference
        .marks
        .iter()
        .filter(|mark| mark.on_hand.is_counted())
    {
        let later: i64 = (mark.rows.iter())
            .filter(|row| {
                row.shipment
                    .as_ref()
                    .is_some_and(|shipment| !is_here(shipment))
            })
            .map(|row| row.quantity)
            .sum();
        let short = mark.needed - mark.on_hand.counted - later;
        if short > 0 {
            claims.insert(mark.mark.clone(), short);
        }
    }
    claims
}
