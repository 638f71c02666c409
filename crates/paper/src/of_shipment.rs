//! Which shipment harmed pieces came with, as far as lists and days say.

use claim::{Date, Zone};
use tally::{Condition, Conditioned, ListedRow, MarkDifference, Outcome, Standing};

use crate::letter_facts::conditions;

/// The shipments that harmed pieces may have come with.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum CameWith<'a> {
    /// This one and no other.
    One(&'a str),
    /// Any of these.
    AnyOf(Vec<&'a str>),
}

impl CameWith<'_> {
    pub fn may_be(&self, shipment: &str) -> bool {
        match self {
            Self::One(name) => *name == shipment,
            Self::AnyOf(names) => names.contains(&shipment),
        }
    }
}

/// The shipments that are here, and the day on which each came, where that is known. One that was refused went back.
pub(crate) fn here<'a>(standing: &'a Standing, zone: &Zone) -> Vec<(&'a str, Option<Date>)> {
    let deliveries = &standing.state.affairs.deliveries;
    (standing.shipments.iter())
        .filter_map(|(name, arrived)| {
            let delivery = deliveries.get(name);
            let taken = delivery.map(|delivery| delivery.outcome != Outcome::Refused);
            if !taken.unwrap_or(*arrived) {
                return None;
            }
            let arrival = (standing.state.shipments.get(name)).and_then(|s| s.arrived.as_ref());
            let day = match (delivery, arrival) {
                (Some(delivery), _) => delivery.on.parse().ok(),
                (None, Some(arrival)) => zone.at(arrival.at).ok().map(|(day, _)| day),
                (None, None) => None,
            };
            Some((name.as_str(), day))
        })
        .collect()
}

/// Returns which shipment pieces of a mark came with that were seen in a bad state: one of those that are here, that the
/// lists have the mark in, and that came no later than the harm was seen.
pub(crate) fn came_with<'a>(
    standing: &'a Standing,
    zone: &Zone,
    mark: &MarkDifference,
    seen: &Conditioned,
) -> CameWith<'a> {
    let listed = |(name, _): &(&str, Option<Date>)| may_be_of(mark, name);
    let here: Vec<_> = here(standing, zone).into_iter().filter(listed).collect();
    let seen_on = zone.at(seen.at).ok().map(|(day, _)| day);
    let was_here = |day: &Option<Date>| day.zip(seen_on).is_none_or(|(came, seen)| came <= seen);
    let names = |mut all: Vec<(&'a str, Option<Date>)>| match all.as_slice() {
        [(name, _)] => CameWith::One(name),
        _ => CameWith::AnyOf(all.drain(..).map(|(name, _)| name).collect()),
    };
    let by_then: Vec<_> = (here.iter().copied())
        .filter(|(_, day)| was_here(day))
        .collect();
    match by_then.is_empty() {
        // Written down before anything is said to have come: the days say nothing.
        true => names(here),
        false => names(by_then),
    }
}

/// The harm of a mark that came with this shipment for sure, and that of which it is not known.
pub(crate) fn harm_of<'a>(
    standing: &'a Standing,
    zone: &Zone,
    mark: &MarkDifference,
    shipment: &str,
    of: &'a [Condition],
) -> (Vec<&'a Conditioned>, Vec<&'a Conditioned>) {
    let mut known = Vec::new();
    let mut open = Vec::new();
    for seen in conditions(standing, &mark.mark, of) {
        let with = came_with(standing, zone, mark, seen);
        match with {
            CameWith::One(name) if name == shipment => known.push(seen),
            _ if with.may_be(shipment) => open.push(seen),
            _ => {}
        }
    }
    (known, open)
}

/// Whether pieces of a mark may have come with a shipment: a row says so, or no row says anything of shipments.
pub(crate) fn may_be_of(mark: &MarkDifference, shipment: &str) -> bool {
    let says = |row: &&ListedRow| row.shipment.is_some();
    let mut rows = mark.rows.iter().filter(says).peekable();
    rows.peek().is_none() || rows.any(|row| row.shipment.as_deref() == Some(shipment))
}
