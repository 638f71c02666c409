//! What the sender answered that they send, mark by mark.

use crate::fold::State;
use crate::points::About;

/// What the sender answered that they send of a mark.
#[derive(Default)]
pub(crate) struct Sent {
    /// On its way, for what is short.
    pub for_short: i64,
    /// On its way, for what is unfit.
    pub for_unfit: i64,
    /// Here, for what is unfit.
    pub replaced: i64,
    /// The shipments that are on their way.
    pub with: Vec<String>,
}

impl Sent {
    pub fn of(mark: &str, state: &State) -> Self {
        let mut sent = Self::default();
        for sends in state.affairs.sends(mark) {
            let arrived = sends.shipment.is_some_and(|name| state.is_here(name));
            let here = arrived || sends.settled;
            let sum = match (sends.about, here) {
                (About::Unfit, true) => &mut sent.replaced,
                (About::Unfit, false) => &mut sent.for_unfit,
                (_, false) => &mut sent.for_short,
                // What is here was counted.
                (_, true) => continue,
            };
            *sum = sum.saturating_add(sends.quantity);
            if !here {
                let name = sends.shipment.unwrap_or(BY_THE_SENDER);
                if !sent.with.iter().any(|known| known == name) {
                    sent.with.push(name.to_owned());
                }
            }
        }
        sent
    }
}

/// What comes as the sender said, in a shipment that has no name yet.
const BY_THE_SENDER: &str = "what the sender is sending";
