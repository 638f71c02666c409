//! What stands between the people of a job: freight and hand-over, terms, costs, what was done, open points.

use std::collections::BTreeMap;

use crate::event::{Event, What};
use crate::freight::{Delivery, Freight};
use crate::money::Money;
use crate::points::{About, Answer, AnswerSeen, ClosedSeen, Point, PointSeen};
use crate::shipment::Spellings;
use crate::terms::{Act, Agreed, DaysOff};

/// What stands of freight, terms, costs and points.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Affairs {
    /// What the carrier's papers say, by shipment as first spelled.
    pub freight: BTreeMap<String, Freight>,
    /// How each shipment was handed over, by shipment as first spelled.
    pub deliveries: BTreeMap<String, Delivery>,
    /// Every word on a hand-over and who said it, in the order of the log; the last one stands.
    hand_overs: BTreeMap<String, Vec<(String, Delivery)>>,
    /// The time zone of the site (IANA name), where it was said.
    pub zone: Option<String>,
    /// Terms that go before a rule's own; one for a rule and shipment.
    pub agreed: Vec<Agreed>,
    /// What was done, in the order of the log.
    pub done: Vec<Act>,
    /// Days off that correct a list of holidays, and whether nobody works on each, with what it is called.
    pub days_off: BTreeMap<(DaysOff, String), (bool, String)>,
    /// What papers say that nothing else in the log holds, by field and shipment.
    pub written: BTreeMap<(String, Option<String>), String>,
    /// What one piece of a mark costs.
    pub prices: BTreeMap<String, Money>,
    /// Other costs, by what they are for.
    pub costs: BTreeMap<String, Money>,
    /// What was said of points.
    pub points: BTreeMap<Point, PointSeen>,
    /// The job, closed by a person.
    pub closed: Option<ClosedSeen>,
}

impl Affairs {
    /// Takes in what an event says of these; leaves every other event alone.
    pub(crate) fn evolve(&mut self, event: &Event, spellings: &mut Spellings) {
        match &event.what {
            What::FreightSaid(freight) => {
                let shipment = spellings.of(&freight.shipment);
                let freight = Freight {
                    shipment: shipment.clone(),
                    ..freight.clone()
                };
                self.freight.insert(shipment, freight);
            }
            What::Delivered(delivery) => {
                let shipment = spellings.of(&delivery.shipment);
                let delivery = Delivery {
                    shipment: shipment.clone(),
                    ..delivery.clone()
                };
                let said = self.hand_overs.entry(shipment.clone()).or_default();
                said.push((event.who.clone(), delivery.clone()));
                self.deliveries.insert(shipment, delivery);
            }
            What::ZoneSet { zone } => self.zone = Some(zone.clone()),
            What::Agreed(agreed) => {
                let agreed = Agreed {
                    shipment: agreed.shipment.as_deref().map(|name| spellings.of(name)),
                    ..agreed.clone()
                };
                let same =
                    |old: &Agreed| old.rule == agreed.rule && old.shipment == agreed.shipment;
                self.agreed.retain(|old| !same(old));
                if agreed.by.is_some() {
                    self.agreed.push(agreed);
                }
            }
            What::Done(done) => {
                let mut done = done.clone();
                done.shipment = done.shipment.as_deref().map(|name| spellings.of(name));
                self.done.push(Act {
                    event: event.id,
                    who: event.who.clone(),
                    done,
                });
            }
            What::DayOff(day) => {
                let of = (day.list, day.day.clone());
                self.days_off.insert(of, (day.off, day.words.clone()));
            }
            What::Written(written) => {
                let shipment = written.shipment.as_deref().map(|name| spellings.of(name));
                let of = (written.field.clone(), shipment);
                match written.words.trim().is_empty() {
                    true => self.written.remove(&of),
                    false => self.written.insert(of, written.words.clone()),
                };
            }
            What::Priced(priced) => {
                let (book, of) = match &priced.mark {
                    Some(mark) => (&mut self.prices, mark),
                    None => (&mut self.costs, &priced.words),
                };
                match priced.each {
                    Some(each) => book.insert(of.clone(), each),
                    None => book.remove(of),
                };
            }
            What::PointKept(kept) => {
                let seen = self.points.entry(kept.point.clone()).or_default();
                seen.owner = kept.owner.clone();
                seen.next = kept.next.clone();
                seen.words = kept.words.clone();
                // Whoever takes a point up again opens it.
                seen.closed = None;
            }
            What::Answered(answered) => {
                let mut answer = answered.answer.clone();
                if let Answer::Sends { shipment, .. } = &mut answer {
                    *shipment = shipment.as_deref().map(|name| spellings.of(name));
                }
                let seen = self.points.entry(answered.point.clone()).or_default();
                seen.answers.push(AnswerSeen {
                    event: event.id,
                    at: event.at,
                    who: event.who.clone(),
                    answer,
                    words: answered.words.clone(),
                });
            }
            What::PointClosed(closed) => {
                let seen = self.points.entry(closed.point.clone()).or_default();
                seen.closed = Some(closed_seen(event, closed.pieces, &closed.words));
            }
            What::JobClosed(closed) => self.closed = Some(closed_seen(event, None, &closed.words)),
            _ => {}
        }
    }

    /// What was said of a shipment's hand-over before the word that stands, and by whom.
    pub fn earlier_hand_overs(&self, shipment: &str) -> &[(String, Delivery)] {
        match self.hand_overs.get(shipment).map(Vec::as_slice) {
            Some([earlier @ .., _last]) => earlier,
            _ => &[],
        }
    }

    /// What a paper says under a field: for the shipment, or for every one; empty where nobody said.
    pub fn written(&self, field: &str, shipment: Option<&str>) -> &str {
        let of = |shipment: Option<&str>| {
            self.written
                .get(&(field.to_owned(), shipment.map(str::to_owned)))
        };
        let own = shipment.and_then(|shipment| of(Some(shipment)));
        own.or_else(|| of(None)).map_or("", String::as_str)
    }

    /// What the sender says that they send of a mark: for what, how many, in which shipment.
    pub(crate) fn sends<'a>(&'a self, mark: &'a str) -> impl Iterator<Item = Sends<'a>> + 'a {
        let of_mark = (self.points.iter())
            .filter(move |(point, _)| point.of == mark && point.about.is_of_a_mark());
        of_mark.flat_map(|(point, seen)| {
            (seen.standing_answers().iter()).filter_map(|answer| match &answer.answer {
                Answer::Sends {
                    quantity, shipment, ..
                } => Some(Sends {
                    about: point.about,
                    quantity: *quantity,
                    shipment: shipment.as_deref(),
                    settled: seen.closed.is_some(),
                }),
                _ => None,
            })
        })
    }
}

/// Pieces that the sender says they send.
pub(crate) struct Sends<'a> {
    /// What they make good.
    pub about: About,
    /// Pieces.
    pub quantity: i64,
    /// The shipment they come in, where it has a name.
    pub shipment: Option<&'a str>,
    /// Whether a person closed the point: nothing is waited for any more.
    pub settled: bool,
}

fn closed_seen(event: &Event, pieces: Option<i64>, words: &str) -> ClosedSeen {
    ClosedSeen {
        event: event.id,
        at: event.at,
        who: event.who.clone(),
        pieces,
        words: words.to_owned(),
    }
}
