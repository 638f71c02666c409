//! Everything that is still to come, each thing once, with the days on which it may.

use std::collections::BTreeMap;

use jiff::civil::Date;
use jiff::tz::Offset;
use tally::{Answer, Standing, State};

use crate::assumed::{FREIGHT_TAKES, WAY_TAKES};
use crate::coming::{BusinessDays, Said, arrival, day_in_words, read_day};
use crate::supply::{Coming, ComingIs};
use crate::ways::FREIGHT_KEY;

/// What is still to come, made as it is first asked for.
pub(super) struct Comings<'a> {
    state: &'a State,
    business: BusinessDays,
    today: Date,
    all: Vec<Coming>,
    known: BTreeMap<Key, usize>,
}

/// What tells one thing that comes from every other.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
enum Key {
    Shipment(String),
    Sent(Option<Date>),
    WayRound(Option<Date>),
}

impl<'a> Comings<'a> {
    pub fn of(standing: &'a Standing, today: Date) -> Self {
        let mut comings = Self {
            state: &standing.state,
            business: BusinessDays::of(&standing.state.affairs),
            today,
            all: Vec::new(),
            known: BTreeMap::new(),
        };
        // A shipment that brings no mark of ours is shown as well.
        for (name, here) in &standing.shipments {
            if !here {
                comings.shipment(name);
            }
        }
        comings
    }

    /// Whether a shipment is still to come, for which pieces may have been left.
    pub fn expects_more(&self) -> bool {
        self.all
            .iter()
            .any(|coming| coming.is == ComingIs::Shipment)
    }

    pub fn into_all(self) -> Vec<Coming> {
        self.all
    }

    /// A shipment that is not here.
    pub fn shipment(&mut self, name: &str) -> usize {
        let of = |book: &BTreeMap<String, tally::Expected>| {
            let expected = book.get(name)?;
            let day = |text: &Option<String>| text.as_deref().and_then(read_day);
            Some((day(&expected.earliest), day(&expected.latest)))
        };
        let (earliest, latest) = of(&self.state.plans.expected).unwrap_or_default();
        let due = (self.state.shipment(name)).and_then(|shipment| shipment.due.as_deref());
        let said = Said {
            due: due.and_then(read_day),
            earliest,
            latest,
            sent: sent_on(self.state, name),
        };
        self.add(
            Key::Shipment(name.into()),
            name.into(),
            ComingIs::Shipment,
            said,
        )
    }

    /// What the sender answered that they send, without a shipment's name.
    pub fn sent(&mut self, on: Option<&str>) -> usize {
        let sent = on.and_then(read_day);
        let name = match sent {
            Some(day) => format!("what the sender sends on {}", day_in_words(day)),
            None => "what the sender is sending".into(),
        };
        let said = Said {
            sent,
            ..Said::default()
        };
        self.add(Key::Sent(sent), name, ComingIs::Sent, said)
    }

    /// A way round a shortage that will be gone since it was said (in milliseconds since 1970). Each may come to nothing
    /// by itself; those that are ready on one morning are shown as one.
    pub fn way_round(&mut self, key: &str, said: i64) -> usize {
        let takes = match key == FREIGHT_KEY {
            true => FREIGHT_TAKES,
            false => WAY_TAKES,
        };
        // Of a clock that is ahead, and of a moment that is none, today is taken.
        let said = jiff::Timestamp::from_millisecond(said);
        let said = said.map_or(self.today, |at| Offset::UTC.to_datetime(at).date());
        let said = said.min(self.today);
        let ready = (self.business.after(said)).nth(takes.saturating_sub(1));
        let ready = ready.and_then(|day| day.tomorrow().ok());
        *(self.known.entry(Key::WayRound(ready))).or_insert_with(|| {
            self.all.push(Coming {
                name: "ways round shortages".into(),
                is: ComingIs::WayRound,
                here_by: ready.into_iter().map(|day| (day, 1.0)).collect(),
                says: match takes {
                    1 => "a business day is taken for them".into(),
                    days => format!("{days} business days are taken for them"),
                },
            });
            self.all.len() - 1
        })
    }

    /// An explanation that holds with a chance.
    pub fn story(&mut self, name: String, chance: f64, says: String) -> usize {
        self.all.push(Coming {
            name,
            is: ComingIs::Story,
            here_by: vec![(Date::MIN, chance)],
            says,
        });
        self.all.len() - 1
    }

    fn add(&mut self, key: Key, name: String, is: ComingIs, said: Said) -> usize {
        *self.known.entry(key).or_insert_with(|| {
            let (here_by, says) = arrival(said, &self.business, self.today);
            self.all.push(Coming {
                name,
                is,
                here_by,
                says,
            });
            self.all.len() - 1
        })
    }
}

/// The latest day on which the sender says that something of a shipment is sent.
fn sent_on(state: &State, name: &str) -> Option<Date> {
    (state.affairs.points.values())
        .flat_map(|seen| seen.standing_answers())
        .filter_map(|answer| match &answer.answer {
            Answer::Sends {
                on: Some(on),
                shipment: Some(shipment),
                ..
            } if shipment == name => read_day(on),
            _ => None,
        })
        .max()
}
