//! From a set of events to what stands now.

use std::collections::{BTreeMap, BTreeSet};

use crate::affairs::Affairs;
use crate::digest::Digest;
use crate::event::{Event, EventId, What};
use crate::evidence::{Measured, Picture};
use crate::freight::Outcome;
use crate::lists_seen::{CodesSeen, ListSeen, Overruling, Writings};
use crate::on_hand::{Again, Conditioned, Count, OnHand, Seen};
use crate::plans::Plans;
use crate::points::{Answer, Answered};
use crate::shipment::Spellings;

/// What stands, after all that was said. The same set of events gives the same state.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct State {
    /// The order, where one was set.
    pub order: Option<OrderSeen>,
    /// The packing lists in use, in the order in which they came in.
    pub lists: Vec<ListSeen>,
    /// What people said of single rows, by list and row key.
    pub overrulings: BTreeMap<(Digest, String), Overruling>,
    /// Files of what codes stood for in earlier jobs, in the order in which they came in.
    pub codes: Vec<CodesSeen>,
    /// What was seen, by mark.
    pub marks: BTreeMap<String, Seen>,
    /// Where the piles lie, by their names.
    pub places: BTreeMap<String, String>,
    /// The pieces that were measured to find out what they are, in the order of the log.
    pub measured: Vec<Measured>,
    /// The pictures that stand, in the order of the log.
    pub pictures: Vec<Picture>,
    /// The notes that stand, in the order of the log.
    pub notes: Vec<Note>,
    /// The shipments spoken of, by their names as first spelled; see [`State::shipment`].
    pub shipments: BTreeMap<String, Shipment>,
    /// Freight and hand-over, terms, costs, what was done, open points.
    pub affairs: Affairs,
    /// Days with a crew, where things lie, ways round what is short, what of the build is done.
    pub plans: Plans,
    /// How many events a newer build wrote, whose meaning is not known here.
    pub unknown: usize,
    /// The highest number of an event in the log; 0 before there is one. A page says by it what it could show.
    pub upto: u64,
    pub(crate) spellings: Spellings,
    pub(crate) writings: Writings,
    fates: BTreeMap<EventId, Fate>,
}

/// The order as last set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OrderSeen {
    /// The event.
    pub event: EventId,
    /// The order as TOML.
    pub toml: String,
    /// The document that holds its family, where that is none that comes with the program.
    pub family: Option<Digest>,
}

/// A note that stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Note {
    /// The event.
    pub event: EventId,
    /// When, in milliseconds since 1970-01-01 UTC.
    pub at: i64,
    /// Who wrote it.
    pub who: String,
    /// The mark, or `None` for the whole job.
    pub mark: Option<String>,
    /// In the person's words.
    pub words: String,
}

/// What is known of a shipment.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Shipment {
    /// The day it is promised for (`YYYY-MM-DD`), as last said.
    pub due: Option<String>,
    /// Its arrival as first said; `None` while it is on the way.
    pub arrived: Option<Arrival>,
}

/// An arrival.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Arrival {
    /// The event.
    pub event: EventId,
    /// When, in milliseconds since 1970-01-01 UTC.
    pub at: i64,
    /// Who said so.
    pub who: String,
}

/// What became of an event.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fate {
    /// It stands.
    Stands,
    /// It does not stand: the last event that stands and names it.
    Void {
        /// The count that took its place, or the correction.
        by: EventId,
    },
}

impl State {
    /// Returns what stands after these events; their order and repetitions do not matter.
    pub fn fold(events: &[Event]) -> Self {
        let log = in_order(events);
        let mut state = Self {
            writings: Writings::of(&log),
            fates: fates(&log),
            upto: log.last().map_or(0, |event| event.seq),
            ..Self::default()
        };
        for event in log {
            if state.fate(event.id) == Some(Fate::Stands) {
                state.evolve(event);
            }
        }
        state
    }

    /// Returns what became of an event; `None` when it is not in the log.
    pub fn fate(&self, event: EventId) -> Option<Fate> {
        self.fates.get(&event).copied()
    }

    /// Returns the pieces of a mark on the site; nothing at all of a mark that nobody spoke of.
    pub fn on_hand(&self, mark: &str) -> OnHand {
        self.marks.get(mark).map(Seen::on_hand).unwrap_or_default()
    }

    /// Returns what is known of a shipment, whichever way its name is spelled: letter case and spaces do not matter.
    pub fn shipment(&self, name: &str) -> Option<&Shipment> {
        self.shipments.get(self.spellings.known(name)?)
    }

    /// Returns whether a shipment has arrived.
    pub(crate) fn is_here(&self, name: &str) -> bool {
        self.shipment(name)
            .is_some_and(|shipment| shipment.arrived.is_some())
    }

    /// A shipment that a carrier's paper or an answer names is expected; one that was taken off the truck is here.
    fn hear_of_shipment(&mut self, event: &Event) {
        let (named, taken) = match &event.what {
            What::FreightSaid(freight) => (&freight.shipment, false),
            What::Delivered(delivery) => (&delivery.shipment, delivery.outcome != Outcome::Refused),
            What::Answered(Answered {
                answer:
                    Answer::Sends {
                        shipment: Some(shipment),
                        ..
                    },
                ..
            }) => (shipment, false),
            _ => return,
        };
        let name = self.spellings.of(named);
        let shipment = self.shipments.entry(name).or_default();
        if taken {
            shipment.arrived.get_or_insert(Arrival {
                event: event.id,
                at: event.at,
                who: event.who.clone(),
            });
        }
    }

    /// Takes in one event that stands, after all that come before it. Events are facts: there is
    /// nothing to check and nothing to refuse.
    fn evolve(&mut self, event: &Event) {
        let &Event { id, at, seq, .. } = event;
        let who = || event.who.clone();
        let device = || event.device.clone();
        match event.what.clone() {
            What::OrderSet { toml, family } => {
                self.order = Some(OrderSeen {
                    event: id,
                    toml,
                    family,
                });
            }
            What::ListAdded { .. }
            | What::ListCorrected { .. }
            | What::ListSentBy { .. }
            | What::ListDropped { .. }
            | What::CodesTaken { .. }
            | What::Overruled { .. } => self.hear_of_list(event),
            What::Counted {
                mark,
                pile,
                quantity,
                replaces: _,
                how,
            } => {
                let count = Count {
                    event: id,
                    seq,
                    at,
                    who: who(),
                    device: device(),
                    pile,
                    quantity,
                    how,
                };
                self.marks.entry(mark).or_default().counts.push(count);
            }
            What::CountedAgain {
                mark,
                pile,
                quantity,
                checks,
                how,
            } => {
                let again = Again {
                    event: id,
                    at,
                    who: who(),
                    pile,
                    quantity,
                    checks: checks.into_iter().collect(),
                    how,
                };
                self.marks.entry(mark).or_default().again.push(again);
            }
            What::PilePlaced { pile, place } => {
                self.places.insert(pile, place);
            }
            What::Measured {
                mark,
                pile,
                readings,
            } => self.measured.push(Measured {
                event: id,
                at,
                who: who(),
                mark,
                pile,
                readings,
            }),
            What::Photographed {
                photo,
                shot,
                shipment,
                mark,
                of,
                words,
            } => self.pictures.push(Picture {
                event: id,
                at,
                who: who(),
                photo,
                shot,
                shipment: shipment.map(|name| self.spellings.of(&name)),
                mark,
                of,
                words,
            }),
            What::Conditioned {
                mark,
                quantity,
                condition,
                words,
            } => {
                let (who, device) = (who(), device());
                let seen = Conditioned {
                    event: id,
                    at,
                    who,
                    device,
                    condition,
                    quantity,
                    words,
                };
                self.marks.entry(mark).or_default().conditions.push(seen);
            }
            What::Noted { mark, words } => {
                self.notes.push(Note {
                    event: id,
                    at,
                    who: who(),
                    mark,
                    words,
                });
            }
            What::ShipmentArrived { shipment } => {
                let arrival = Arrival {
                    event: id,
                    at,
                    who: who(),
                };
                let name = self.spellings.of(&shipment);
                let shipment = self.shipments.entry(name).or_default();
                shipment.arrived.get_or_insert(arrival);
            }
            What::ShipmentNamed { shipment, due } => {
                let name = self.spellings.of(&shipment);
                self.shipments.entry(name).or_default().due = due;
            }
            What::FreightSaid(_)
            | What::Delivered(_)
            | What::ZoneSet { .. }
            | What::Agreed(_)
            | What::Done(_)
            | What::DayOff(_)
            | What::Written(_)
            | What::Priced(_)
            | What::PointKept(_)
            | What::Answered(_)
            | What::PointClosed(_)
            | What::JobClosed(_) => {
                self.affairs.evolve(event, &mut self.spellings);
                self.hear_of_shipment(event);
            }
            What::GroundSet(_)
            | What::PilePut(_)
            | What::StakesRead(_)
            | What::CrewDay(_)
            | What::WaySaid(_)
            | What::Worked(_)
            | What::ToolsSeen(_) => self.plans.evolve(event, &mut self.spellings),
            What::Expected(expected) => {
                self.plans.evolve(event, &mut self.spellings);
                let name = self.spellings.of(&expected.shipment);
                self.shipments.entry(name).or_default();
            }
            What::Corrected { .. } => {}
            What::Other { .. } => self.unknown += 1,
        }
    }
}

/// Returns the set of these events in the order of the log. Should two differ under one id, which
/// only a forger brings about, the lesser stands, so that the state is still one.
fn in_order(events: &[Event]) -> Vec<&Event> {
    let mut set: BTreeMap<EventId, &Event> = BTreeMap::new();
    for event in events {
        set.entry(event.id)
            .and_modify(|kept| *kept = (*kept).min(event))
            .or_insert(event);
    }
    let mut log: Vec<&Event> = set.into_values().collect();
    log.sort_by_key(|event| event.order());
    log
}

/// Returns what becomes of each event. One is void when an event that stands *and comes later in
/// the order* names it. So there are no circles, and going from the last to the first, each
/// event's fate is settled by the time it is reached. A count that takes another's place takes
/// also that of those which the other had replaced: whoever counts anew counts all that lies there.
fn fates(log: &[&Event]) -> BTreeMap<EventId, Fate> {
    let known: BTreeMap<EventId, &Event> = log.iter().map(|event| (event.id, *event)).collect();
    let mut fates = BTreeMap::new();
    let mut replaced: BTreeSet<EventId> = BTreeSet::new();
    for event in log.iter().rev() {
        if *fates.entry(event.id).or_insert(Fate::Stands) != Fate::Stands {
            continue;
        }
        let before = |by: &Event, named: &[EventId]| -> Vec<&Event> {
            let known = named.iter().filter_map(|id| known.get(id).copied());
            known.filter(|of| of.order() < by.order()).collect()
        };
        let mut taken_out = before(event, names(&event.what));
        while let Some(of) = taken_out.pop() {
            fates.entry(of.id).or_insert(Fate::Void { by: event.id });
            let takes_its_place = matches!(event.what, What::Counted { .. });
            if takes_its_place && replaced.insert(of.id) {
                taken_out.extend(before(of, replaces(&of.what)));
            }
        }
    }
    fates
}

/// Returns the counts whose place this one takes.
fn replaces(what: &What) -> &[EventId] {
    match what {
        What::Counted { replaces, .. } => replaces,
        _ => &[],
    }
}

/// Returns the events that this one takes out.
fn names(what: &What) -> &[EventId] {
    match what {
        What::Counted { replaces, .. } => replaces,
        What::Corrected { of, .. } => of,
        _ => &[],
    }
}
