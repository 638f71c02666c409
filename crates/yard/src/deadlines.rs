//! What must be done by when for each shipment of a job: the log's facts, held against the rules.

use claim::{Agreed, Calendar, Date, Due, Facts, NoMoment, Party, RuleSets, State, Zone};
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

/// Whether it is only what another carrier's terms say, while somebody has entered the terms that hold for the same act.
pub(crate) fn is_set_aside(due: &Due<'_>, all: &[Due<'_>]) -> bool {
    let known = |other: &Due<'_>| other.rule.act == due.rule.act && other.agreed.is_some();
    due.rule.sample && due.agreed.is_none() && all.iter().any(known)
}

/// The next day on which the receiver must have done something: of which shipment, and what.
pub(crate) fn nearest(all: &[Deadlines], today: Date) -> Option<(&str, Due<'_>)> {
    let open = all.iter().flat_map(|of| {
        let all = of.due(today);
        let told: Vec<Due<'_>> = (all.iter())
            .filter(|due| !is_set_aside(due, &all))
            .cloned()
            .collect();
        told.into_iter().map(|due| (of.shipment.as_str(), due))
    });
    open.filter(|(_, due)| due.rule.by == Party::Receiver && due.state == State::Open)
        .filter(|(_, due)| due.date.is_some())
        .min_by_key(|(_, due)| due.date)
}

/// Returns a calendar file of what is due for these shipments; nothing when nothing has a day yet.
pub fn calendar(
    job: &str,
    all: &[Deadlines],
    today: Date,
    made_at: i64,
    sequence: u64,
) -> Result<Option<String>, NoMoment> {
    let mut whole: Option<String> = None;
    for of in all {
        let calendar = Calendar {
            job,
            shipment: &of.shipment,
            made_at,
            sequence,
        };
        let text = calendar.file(&of.due(today))?.text;
        whole = match whole {
            _ if !text.contains(FIRST) => whole,
            None => Some(text),
            Some(before) => Some(joined(before, &text)),
        };
    }
    Ok(whole)
}

/// How an event begins, and how a calendar ends.
const FIRST: &str = "BEGIN:VEVENT\r\n";
const END: &str = "END:VCALENDAR\r\n";

/// One calendar with the events of two.
fn joined(before: String, more: &str) -> String {
    let events = more.find(FIRST).zip(more.rfind(END));
    let events = events
        .and_then(|(from, to)| more.get(from..to))
        .unwrap_or("");
    match before.strip_suffix(END) {
        Some(head) => format!("{head}{events}{END}"),
        None => before,
    }
}
