//! What goes before a rule, what was done about it, days from which a period runs, and the time zone they are days of.

use axum::extract::State;
use axum::{Extension, Form};
use claim::{Start, Zone, start_name};
use serde::Deserialize;
use tally::{Agreed, By, DayOff, DaysOff, Done, EventId, What};

use super::{append, filled, refused, whole};
use crate::access::Holder;
use crate::reply::{Failure, Reply, see};
use crate::serve::Yard;

const DATES: &str = "/dates";

#[derive(Deserialize)]
pub(crate) struct WasDone {
    id: EventId,
    rule: String,
    #[serde(default)]
    shipment: String,
    #[serde(default)]
    on: String,
    #[serde(default)]
    words: String,
}

/// Something was done, or a day from which a period runs is said.
pub(crate) async fn done(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<WasDone>,
) -> Reply {
    let done = Done {
        rule: known(&form.rule)?.into(),
        shipment: filled(&form.shipment).map(String::from),
        on: form.on.trim().into(),
        words: form.words.trim().into(),
    };
    let what = tally::say(What::Done(done)).map_err(refused)?;
    append(&yard, holder, form.id, what)?;
    Ok(see(DATES))
}

/// The name of a rule or of a day, where there is one of that name.
fn known(name: &str) -> Result<&str, Failure> {
    let name = name.trim();
    claim::is_known(name).then_some(name).ok_or_else(|| {
        Failure::refused(
            "There is no rule of that name. Open the page again and choose one that is there.",
        )
    })
}

#[derive(Deserialize)]
pub(crate) struct Terms {
    id: EventId,
    rule: String,
    #[serde(default)]
    shipment: String,
    /// Whether it binds, or is a day that somebody set for themselves.
    #[serde(default)]
    binds: String,
    #[serde(default)]
    unit: String,
    #[serde(default)]
    day: String,
    #[serde(default)]
    amount: String,
    /// What the period starts at; empty: what the rule's own starts at.
    #[serde(default)]
    starts: String,
    #[serde(default)]
    words: String,
}

/// A person's own terms for a rule, or that they hold no longer.
pub(crate) async fn agreed(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<Terms>,
) -> Reply {
    let rule = known(&form.rule)?;
    let agreed = Agreed {
        rule: match form.binds.as_str() {
            "own" => claim::own_target(rule),
            _ => rule.into(),
        },
        shipment: filled(&form.shipment).map(String::from),
        by: form.by()?,
        starts: form.starts()?,
        words: form.words.trim().into(),
    };
    let what = tally::say(What::Agreed(agreed)).map_err(refused)?;
    append(&yard, holder, form.id, what)?;
    Ok(see(DATES))
}

impl Terms {
    fn starts(&self) -> Result<Option<String>, Failure> {
        let Some(name) = filled(&self.starts) else {
            return Ok(None);
        };
        let known = Start::ALL.into_iter().map(start_name);
        known.into_iter().find(|known| *known == name).map_or_else(
            || {
                Err(Failure::refused(
                    "No period starts at a day of that name. Open the page again and choose one that is there.",
                ))
            },
            |name| Ok(Some(name.into())),
        )
    }

    fn by(&self) -> Result<Option<By>, Failure> {
        let amount = || whole("how many", &self.amount);
        Ok(Some(match self.unit.as_str() {
            "none" => return Ok(None),
            "day" => By::Day(self.day.trim().into()),
            "hours" => By::Hours(amount()?),
            "days" => By::Days(amount()?),
            "business days" => By::BusinessDays(amount()?),
            "months" => By::Months(amount()?),
            "years" => By::Years(amount()?),
            _ => {
                return Err(Failure::refused(
                    "Say a day, or how many hours, days, business days, months or years there are.",
                ));
            }
        }))
    }
}

#[derive(Deserialize)]
pub(crate) struct OfSite {
    id: EventId,
    #[serde(default)]
    zone: String,
}

/// The time zone of the site.
pub(crate) async fn zone(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<OfSite>,
) -> Reply {
    let zone = Zone::named(form.zone.trim())
        .map_err(|why| Failure::refused(format!("{}.", frame::capitalised(&why.to_string()))))?;
    let zone = zone.name().to_owned();
    append(&yard, holder, form.id, What::ZoneSet { zone })?;
    Ok(see(DATES))
}

#[derive(Deserialize)]
pub(crate) struct OneDay {
    id: EventId,
    #[serde(default)]
    list: String,
    #[serde(default)]
    day: String,
    /// Whether nobody works on it: "yes" or "no".
    #[serde(default)]
    off: String,
    #[serde(default)]
    words: String,
}

/// A day is put on a list of holidays, or taken off it.
pub(crate) async fn day_off(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<OneDay>,
) -> Reply {
    let list = match form.list.as_str() {
        "business" => DaysOff::Business,
        "public" => DaysOff::Public,
        _ => {
            return Err(Failure::refused(
                "Say whose day off it is: the carrier's, or a public holiday.",
            ));
        }
    };
    let off = match form.off.as_str() {
        "yes" => true,
        "no" => false,
        _ => return Err(Failure::refused("Say whether the day is off.")),
    };
    let day = DayOff {
        list,
        day: form.day.trim().into(),
        off,
        words: form.words.trim().into(),
    };
    let what = tally::say(What::DayOff(day)).map_err(refused)?;
    append(&yard, holder, form.id, what)?;
    Ok(see(DATES))
}
