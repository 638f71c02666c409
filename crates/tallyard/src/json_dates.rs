//! What `tallyard dates --json` prints; the shape is promised in docs/schema/dates.json.

use claim::{Date, Due, State, Zone};
use serde::Serialize;
use tally::Standing;
use yard::Deadlines;

#[derive(Serialize)]
pub struct Dates {
    today: String,
    zone: String,
    zone_said: bool,
    no_advice: &'static str,
    shipments: Vec<OfShipment>,
}

#[derive(Serialize)]
struct OfShipment {
    shipment: String,
    delivered: Option<String>,
    rules: Vec<String>,
    rules_said: bool,
    rules_not_said: Vec<String>,
    due: Vec<DueSaid>,
}

#[derive(Serialize)]
struct DueSaid {
    rule: String,
    round: u32,
    title: String,
    act: &'static str,
    by: &'static str,
    to: &'static str,
    state: &'static str,
    date: Option<String>,
    days_left: Option<i32>,
    done_on: Option<String>,
    period: String,
    starts: &'static str,
    start_day: Option<String>,
    force: &'static str,
    basis: &'static str,
    source: String,
    sure: &'static str,
    check: String,
    missing_it: String,
    by_your_terms: bool,
    by_rule: Option<String>,
    own_target: Option<String>,
    strictest: bool,
    notes: Vec<String>,
}

pub fn dates(standing: &Standing, all: &[Deadlines], zone: &Zone, today: Date) -> Dates {
    let affairs = &standing.state.affairs;
    let not_said = |shipment: &str| -> Vec<String> {
        let sets = claim::sets_of(affairs, shipment);
        sets.not_said().into_iter().map(String::from).collect()
    };
    let of = |of: &Deadlines| OfShipment {
        shipment: of.shipment.clone(),
        delivered: affairs
            .deliveries
            .get(&of.shipment)
            .map(|kept| kept.on.clone()),
        rules: of.facts.sets.iter().cloned().collect(),
        rules_said: not_said(&of.shipment).is_empty(),
        rules_not_said: not_said(&of.shipment),
        due: of.due(today).iter().map(due).collect(),
    };
    Dates {
        today: today.to_string(),
        zone: zone.name().into(),
        zone_said: affairs.zone.is_some(),
        no_advice: claim::NO_ADVICE,
        shipments: all.iter().map(of).collect(),
    }
}

fn due(due: &Due<'_>) -> DueSaid {
    let rule = due.rule;
    let text = |day: Option<Date>| day.map(|day| day.to_string());
    let (state, done_on) = match due.state {
        State::Open => ("open", None),
        State::NoDay => ("no_day", None),
        State::Waits(_) => ("waits", None),
        State::Done { day, late: false } => ("done", Some(day)),
        State::Done { day, late: true } => ("done_late", Some(day)),
        State::Passed => ("passed", None),
    };
    DueSaid {
        rule: rule.id.clone(),
        round: due.round,
        title: rule.title.clone(),
        act: rule.act.words(),
        by: rule.by.words(),
        to: rule.to.words(),
        state,
        date: text(due.date),
        days_left: due.days_left,
        done_on: text(done_on),
        period: due.period(),
        starts: due.starts.words(),
        start_day: text(due.start_day),
        force: rule.force.words(),
        basis: rule.basis.words(),
        source: rule.source.clone(),
        sure: rule.sure.words(),
        check: rule.check.clone(),
        missing_it: rule.missing_it.clone(),
        by_your_terms: due.agreed.is_some(),
        by_rule: text(due.by_rule),
        own_target: text(due.own_target),
        strictest: due.strictest,
        notes: due.notes.clone(),
    }
}
