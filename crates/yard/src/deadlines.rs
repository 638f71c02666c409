//! What must be done by when for each shipment of a job: the log's facts, held against the rules.

use claim::{
    Agreed, Calendar, CalendarFile, Date, Due, Facts, NoMoment, Party, RuleSets, State, Zone,
};
use tally::Standing;

/// What is known of one shipment, for the rules.
#[derive(Clone, Debug)]
pub struct Deadlines {
    /// The shipment.
    pub shipment: String,
    /// What the log says of it.
    pub facts: Facts,
    /// The terms that somebody entered.
    pub terms: Vec<Agreed>,
}

impl Deadlines {
    /// Returns what is known of every shipment, those that were handed over first.
    pub fn of(standing: &Standing, zone: &Zone, today: Date) -> Vec<Self> {
        let affairs = &standing.state.affairs;
        let mut names: Vec<&String> = standing.shipments.keys().collect();
        names.sort_by_key(|name| !affairs.deliveries.contains_key(*name));
        let of = |name: &String| Self {
            shipment: name.clone(),
            facts: claim::facts_of(&standing.state, name, zone, today),
            terms: claim::terms_of(affairs, name),
        };
        names.into_iter().map(of).collect()
    }

    /// Returns what must be done, what is open first, the earliest day first.
    pub fn due(&self, today: Date) -> Vec<Due<'_>> {
        claim::due(RuleSets::built_in(), &self.facts, &self.terms, today)
    }
}

/// The next day on which the receiver must have done something: of which shipment, and what.
pub(crate) fn nearest(all: &[Deadlines], today: Date) -> Option<(&str, Due<'_>)> {
    let open = all.iter().flat_map(|of| {
        let due = of.due(today).into_iter();
        due.map(|due| (of.shipment.as_str(), due))
    });
    open.filter(|(_, due)| due.rule.by == Party::Receiver && due.state == State::Open)
        .filter(|(_, due)| due.date.is_some())
        .min_by_key(|(_, due)| due.date)
}

/// Returns a calendar file of what is due for these shipments; it may have no entry.
pub fn calendar(
    job: &str,
    all: &[Deadlines],
    today: Date,
    made_at: i64,
    sequence: u64,
) -> Result<CalendarFile, NoMoment> {
    let calendar = Calendar {
        job,
        made_at,
        sequence,
    };
    let shipments: Vec<(&str, Vec<Due<'_>>)> = (all.iter())
        .map(|of| (of.shipment.as_str(), of.due(today)))
        .collect();
    calendar.file(&shipments)
}
