//! What the log says of a shipment, as the rules need it.
//!
//! The log has a place for few of the days from which a period runs. The others are acts that were done, under names of
//! our own, and this file is the one place that says which:
//!
//! | in the log | here |
//! | --- | --- |
//! | `Freight::rules`: names of sets, a space between | the sets that hold |
//! | `Delivery::on`, `time`, unless all was refused | [`Start::Delivery`], and the moment where the time is known |
//! | `Freight::billed_on` | [`Start::BillOfLading`] |
//! | a shipment's `due` | [`Start::AgreedDelivery`] |
//! | the first condition written down on or after the delivery | [`Start::Found`] |
//! | `Done` of the rule `day.found`, `day.claim-received`, … ([`start_name`]) | that start; goes before what was read off |
//! | `Done` of a rule, such as `us-motor.claim` | the rule's act |
//! | a hand-over with words on its receipt | [`Act::NoteOnReceipt`] |
//! | `DayOff` of a list | a day more, or one fewer, on that list of holidays |
//! | `Agreed` of a rule | a contract's term |
//! | `Agreed` of `own:` and a rule ([`own_target`]) | a day that somebody set for themselves |

use std::collections::BTreeSet;

use jiff::civil::{Date, DateTime, Time};
use serde::Deserialize;
use serde::de::IntoDeserializer;
use serde::de::value::{Error as Unknown, StrDeserializer};
use tally::{Affairs, By, DaysOff, Delivery, Outcome, State};

use crate::arrival::{Arrival, Zone};
use crate::facts::{Agreed, Binds, Done, Facts, Term};
use crate::holidays::Holidays;
use crate::rule::{Act, Harm, Period, RuleSet, Start, Unit};
use crate::rules::RuleSets;

/// The sets that are shown while nobody has said which hold: a truck within the United States, and a sale there.
pub const WHILE_NOT_SAID: [&str; 2] = ["us-motor", "ucc"];

/// What stands before the name of a rule where a day is somebody's own target.
const OWN: &str = "own:";

/// Returns the name under which a day that somebody set for themselves stands in the log.
pub fn own_target(rule: &str) -> String {
    format!("{OWN}{rule}")
}

/// Returns the name under which the day of a start stands in the log as something done.
pub fn start_name(start: Start) -> &'static str {
    match start {
        Start::Delivery => "day.delivery",
        Start::Found => "day.found",
        Start::BillOfLading => "day.bill-of-lading",
        Start::TakenOver => "day.taken-over",
        Start::AgreedDelivery => "day.agreed-delivery",
        Start::ShouldHaveCome => "day.should-have-come",
        Start::AtDisposal => "day.at-disposal",
        Start::InspectionAsked => "day.inspection-asked",
        Start::ClaimReceived => "day.claim-received",
        Start::ClaimRefused => "day.claim-refused",
    }
}

/// The sets that hold for a shipment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sets<'a> {
    /// Their names, those for its carriage first.
    pub names: Vec<&'a str>,
    /// Somebody said how it travels; otherwise the set for that is taken for granted.
    pub carriage_said: bool,
    /// Somebody said how it was bought; otherwise the set for that is taken for granted.
    pub sale_said: bool,
}

impl<'a> Sets<'a> {
    /// Returns the sets that are taken for granted while nobody has said which hold.
    pub fn not_said(&self) -> Vec<&'a str> {
        (self.names.iter().copied())
            .filter(|id| match is_sale(id) {
                true => !self.sale_said,
                false => !self.carriage_said,
            })
            .collect()
    }

    /// Returns which sets are taken for granted, as a sentence; nothing when somebody said both.
    pub fn not_said_in_words(&self) -> Option<&'static str> {
        match (self.carriage_said, self.sale_said) {
            (true, true) => None,
            (false, true) => Some(
                "Nobody has said how it travels; the rules for a truck within the United States are taken for granted.",
            ),
            (true, false) => Some(
                "Nobody has said how it was bought; the rules for a sale within the United States are taken for granted.",
            ),
            (false, false) => Some(
                "Nobody has said how it travels or was bought; the rules for a truck and a sale within the United States \
                 are taken for granted.",
            ),
        }
    }
}

/// Returns the sets that hold for a shipment. How it travels and how it was bought are two things: where only one was
/// said, the other is that of [`WHILE_NOT_SAID`].
pub fn sets_of<'a>(affairs: &'a Affairs, shipment: &str) -> Sets<'a> {
    let freight = affairs.freight.get(shipment);
    let said: Vec<&str> = freight.map_or_else(Vec::new, |f| f.rules.split(' ').collect());
    let (mut sale, mut carriage): (Vec<&str>, Vec<&str>) = (said.into_iter())
        .filter(|id| RuleSets::built_in().set(id).is_some())
        .partition(|id| is_sale(id));
    let (carriage_said, sale_said) = (!carriage.is_empty(), !sale.is_empty());
    let (sales, ways): (Vec<&str>, Vec<&str>) =
        WHILE_NOT_SAID.into_iter().partition(|id| is_sale(id));
    if !carriage_said {
        carriage = ways;
    }
    if !sale_said {
        sale = sales;
    }
    Sets {
        names: [carriage, sale].concat(),
        carriage_said,
        sale_said,
    }
}

fn is_sale(id: &str) -> bool {
    RuleSets::built_in().set(id).is_some_and(RuleSet::is_sale)
}

/// Returns the first name in a text of names that is no set's.
pub fn unknown_set(names: &str) -> Option<&str> {
    let mut names = names.split_whitespace();
    names.find(|name| RuleSets::built_in().set(name).is_none())
}

/// Whether a name is that of a rule, of an act, or of a day from which a period runs.
pub fn is_known(name: &str) -> bool {
    act_named(name).is_some()
        || Start::ALL
            .into_iter()
            .any(|start| start_name(start) == name)
}

/// Returns what the log says of a shipment, by its name as first spelled; days are those of the site.
pub fn facts_of(state: &State, shipment: &str, zone: &Zone, today: Date) -> Facts {
    let affairs = &state.affairs;
    let hand_over = affairs.deliveries.get(shipment);
    // What was refused whole went back with the driver: from that nothing runs that runs from a delivery.
    let delivery = hand_over.filter(|delivery| delivery.outcome != Outcome::Refused);
    let mut facts = Facts {
        sets: (sets_of(affairs, shipment).names.into_iter())
            .map(String::from)
            .collect(),
        arrival: delivery.and_then(|delivery| arrival(delivery, zone)),
        ..Facts::default()
    };
    // The federal list of the United States is no list of a European carrier's.
    let business = match facts.sets.contains("us-motor") {
        true => Holidays::us_federal(),
        false => Holidays::none(),
    };
    facts.holidays = corrected(business, affairs, DaysOff::Business);
    facts.public_holidays = corrected(Holidays::none(), affairs, DaysOff::Public);
    let read_off = [
        (
            Start::Delivery,
            delivery.and_then(|delivery| day(&delivery.on)),
        ),
        (
            Start::BillOfLading,
            affairs
                .freight
                .get(shipment)
                .and_then(|f| day(f.billed_on.as_deref()?)),
        ),
        (
            Start::AgreedDelivery,
            state
                .shipment(shipment)
                .and_then(|s| day(s.due.as_deref()?)),
        ),
        (Start::Found, first_harm(state, delivery, zone)),
    ];
    facts.days = (read_off.into_iter())
        .filter_map(|(start, day)| Some((start, day?)))
        .collect();
    for act in &affairs.done {
        let done = &act.done;
        let other = done.shipment.as_deref().is_some_and(|of| of != shipment);
        let Some(day) = day(&done.on).filter(|_| !other) else {
            continue;
        };
        match Start::ALL
            .into_iter()
            .find(|start| start_name(*start) == done.rule)
        {
            Some(start) => drop(facts.days.insert(start, day)),
            None => facts
                .done
                .extend(act_named(&done.rule).map(|act| Done { act, day })),
        }
    }
    if let Some(hand_over) = hand_over
        && let Some(day) = day(&hand_over.on)
    {
        if delivery.is_some() {
            facts.done.push(Done {
                act: Act::Delivery,
                day,
            });
        }
        if !hand_over.receipt_note.trim().is_empty() {
            facts.done.push(Done {
                act: Act::NoteOnReceipt,
                day,
            });
        }
    }
    // A claim that was refused was decided: nothing is to be acknowledged or told of it any more.
    if let Some(day) = facts.day(Start::ClaimRefused) {
        facts.done.push(Done {
            act: Act::Decision,
            day,
        });
    }
    facts.harm = harm(&facts, delivery, today);
    facts
}

/// A list of holidays with the days that somebody put on it, and without those that somebody took off.
fn corrected(list: Holidays, affairs: &Affairs, which: DaysOff) -> Holidays {
    let said = (affairs.days_off.iter()).filter(|((list, _), _)| *list == which);
    said.fold(list, |list, ((_, on), (off, words))| match (day(on), off) {
        (None, _) => list,
        (Some(on), true) if words.trim().is_empty() => list.with(on, "a day off"),
        (Some(on), true) => list.with(on, words),
        (Some(on), false) => list.without(on),
    })
}

/// Returns the terms that somebody entered for a shipment, or for all; those for this one alone come last, and hold.
pub fn terms_of(affairs: &Affairs, shipment: &str) -> Vec<Agreed> {
    let (general, own): (Vec<_>, Vec<_>) = (affairs.agreed.iter())
        .filter(|agreed| agreed.shipment.as_deref().is_none_or(|of| of == shipment))
        .partition(|agreed| agreed.shipment.is_none());
    general.into_iter().chain(own).filter_map(term).collect()
}

fn term(agreed: &tally::Agreed) -> Option<Agreed> {
    let (binds, rule) = match agreed.rule.strip_prefix(OWN) {
        Some(rule) => (Binds::OwnTarget, rule),
        None => (Binds::Contract, agreed.rule.as_str()),
    };
    let of = |amount: i64, unit: Unit| {
        let amount = u32::try_from(amount).ok()?;
        Some(Term::Period(Period::Of {
            amount,
            unit,
            and_days: 0,
        }))
    };
    let term = match agreed.by.as_ref()? {
        By::Day(text) => day(text).map(Term::Day),
        By::Hours(n) => of(*n, Unit::Hours),
        By::Days(n) => of(*n, Unit::CalendarDays),
        By::BusinessDays(n) => of(*n, Unit::BusinessDays),
        By::Months(n) => of(*n, Unit::Months),
        By::Years(n) => of(*n, Unit::Years),
    };
    Some(Agreed {
        rule: rule.into(),
        term: term?,
        starts: (agreed.starts.as_deref()).and_then(|name| {
            Start::ALL
                .into_iter()
                .find(|start| start_name(*start) == name)
        }),
        binds,
        words: agreed.words.clone(),
    })
}

/// Which rules are of use: those for harm that was seen, where a note says so or nothing is known yet; those for hidden
/// harm, which nobody can exclude until all is counted; those for what is late or never came.
fn harm(facts: &Facts, delivery: Option<&Delivery>, today: Date) -> BTreeSet<Harm> {
    let clear = delivery.is_some_and(|delivery| delivery.outcome == Outcome::SignedClear);
    let came = facts.day(Start::Delivery);
    let agreed = facts.day(Start::AgreedDelivery);
    let late = agreed.is_some_and(|agreed| came.unwrap_or(today) > agreed);
    let over = |start| facts.day(start).is_some_and(|day| today > day);
    let gone = came.is_none() && (over(Start::ShouldHaveCome) || over(Start::AgreedDelivery));
    let all = [
        (Harm::Seen, !clear),
        (Harm::Hidden, true),
        (Harm::Late, late),
        (Harm::NotDelivered, gone),
    ];
    (all.into_iter())
        .filter(|(_, is)| *is)
        .map(|(harm, _)| harm)
        .collect()
}

/// The day of the first condition that was written down on or after the delivery. Of which shipment the piece was
/// nobody can say; the earliest day gives the earliest last day.
fn first_harm(state: &State, delivery: Option<&Delivery>, zone: &Zone) -> Option<Date> {
    let from = day(&delivery?.on)?;
    let conditions = state.marks.values().flat_map(|seen| &seen.conditions);
    conditions
        .filter_map(|seen| Some(zone.at(seen.at).ok()?.0))
        .filter(|day| *day >= from)
        .min()
}

/// The moment of delivery, where its time was said. In the hour that a clock set back has twice it is the earlier one.
fn arrival(delivery: &Delivery, zone: &Zone) -> Option<Arrival> {
    let time: Time = delivery.time.as_deref()?.parse().ok()?;
    let ms = zone.moment(DateTime::from_parts(day(&delivery.on)?, time))?;
    Arrival::at(ms, zone, None).ok()
}

/// The act of a rule's whole name, or of the act's own.
fn act_named(name: &str) -> Option<Act> {
    let rule = RuleSets::built_in().rule(name);
    let act: StrDeserializer<'_, Unknown> = name.into_deserializer();
    rule.map_or_else(|| Act::deserialize(act).ok(), |rule| Some(rule.act))
}

fn day(text: &str) -> Option<Date> {
    text.parse().ok()
}
