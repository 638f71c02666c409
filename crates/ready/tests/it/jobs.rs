//! Jobs for the tests: an order, and lists and events as each test needs them.

use std::collections::BTreeMap;

use jiff::civil::{Date, date};
use tally::{
    Answer, Answered, Condition, CrewDay, Digest, Draft, Event, EventId, Expected, How, Known,
    Point, Standing, WaySaid, WayStands, What, Worked,
};

pub const ORDER: &str = include_str!("../../../../demo/order.toml");
pub const LIST: &str = include_str!("../../../../demo/packing-list.csv");

/// Thursday 3 December 2026: the day on which most tests ask.
pub const TODAY: Date = date(2026, 12, 3);

/// Events and documents, as a job file holds them.
#[derive(Default, Clone)]
pub struct Job {
    pub events: Vec<Event>,
    pub documents: BTreeMap<Digest, Vec<u8>>,
}

impl Job {
    /// A job with an order and nothing else.
    pub fn of(order: &str) -> Self {
        let mut job = Self::default();
        job.says(What::OrderSet {
            toml: order.into(),
            family: None,
        });
        job
    }

    /// The demo's order with its list; its first load is here.
    pub fn demo() -> Self {
        let mut job = Self::of(ORDER);
        job.list(LIST);
        job.arrives("Load 1");
        job
    }

    pub fn says(&mut self, what: What) -> EventId {
        self.says_by("Ines", what)
    }

    pub fn says_by(&mut self, who: &str, what: What) -> EventId {
        let at = self.events.len() as i64 + 1;
        self.push(at, who, what)
    }

    fn says_at(&mut self, at: i64, what: What) -> EventId {
        self.push(at, "Ines", what)
    }

    fn push(&mut self, at: i64, who: &str, what: What) -> EventId {
        let seq = self.events.len() as u64 + 1;
        let id: EventId = format!("{seq:032x}").parse().expect("an id");
        let draft = Draft {
            id,
            device: "phone-1".into(),
            at,
            who: who.into(),
            what,
        };
        self.events
            .push(draft.numbered(seq).expect("within the limits"));
        id
    }

    pub fn list(&mut self, csv: &str) {
        let digest = Digest::of(csv.as_bytes());
        self.documents.insert(digest, csv.into());
        self.says(What::ListAdded {
            digest,
            name: "list.csv".into(),
            shipment: None,
        });
    }

    pub fn arrives(&mut self, shipment: &str) {
        self.says(What::ShipmentArrived {
            shipment: shipment.into(),
        });
    }

    pub fn due(&mut self, shipment: &str, due: Option<&str>) {
        self.says(What::ShipmentNamed {
            shipment: shipment.into(),
            due: due.map(String::from),
        });
    }

    pub fn expected(&mut self, shipment: &str, earliest: Option<&str>, latest: Option<&str>) {
        self.says(What::Expected(Expected {
            shipment: shipment.into(),
            earliest: earliest.map(String::from),
            latest: latest.map(String::from),
            words: String::new(),
        }));
    }

    pub fn counts(&mut self, mark: &str, quantity: i64) -> EventId {
        self.counts_how(mark, quantity, How::Piece)
    }

    pub fn counts_how(&mut self, mark: &str, quantity: i64, how: How) -> EventId {
        self.says(What::Counted {
            mark: mark.into(),
            pile: None,
            quantity,
            replaces: Vec::new(),
            how,
        })
    }

    /// A second look at a count by somebody else.
    pub fn counts_again(&mut self, mark: &str, quantity: i64, checks: EventId) {
        self.says_by(
            "Tomasz",
            What::CountedAgain {
                mark: mark.into(),
                pile: None,
                quantity,
                checks: vec![checks],
                how: How::Piece,
            },
        );
    }

    pub fn unfit(&mut self, mark: &str, quantity: i64) {
        self.says(What::Conditioned {
            mark: mark.into(),
            quantity,
            condition: Condition::Bent,
            words: String::new(),
        });
    }

    pub fn sends(
        &mut self,
        about: tally::About,
        mark: &str,
        quantity: i64,
        on: Option<&str>,
        shipment: Option<&str>,
    ) {
        self.says(What::Answered(Answered {
            point: Point::of(about, mark),
            answer: Answer::Sends {
                quantity,
                on: on.map(String::from),
                shipment: shipment.map(String::from),
            },
            words: String::new(),
        }));
    }

    pub fn way(&mut self, mark: &str, key: &str, quantity: i64, stands: WayStands) {
        self.way_on(TODAY, mark, key, quantity, stands);
    }

    /// The same, said on a day at noon.
    pub fn way_on(&mut self, day: Date, mark: &str, key: &str, quantity: i64, stands: WayStands) {
        let noon = jiff::tz::Offset::UTC.to_timestamp(day.at(12, 0, 0, 0));
        let at = noon.expect("a day").as_millisecond();
        self.says_at(
            at,
            What::WaySaid(WaySaid {
                mark: mark.into(),
                way: key.into(),
                quantity,
                stands,
                words: String::new(),
            }),
        );
    }

    pub fn crew(&mut self, day: &str, people: i64, hours: i64, called: bool) {
        self.says(What::CrewDay(CrewDay {
            day: day.into(),
            people,
            minutes: hours * 60,
            called,
            words: String::new(),
        }));
    }

    pub fn done(&mut self, stage: &str) {
        self.says(What::Worked(Worked {
            stage: stage.into(),
            person_minutes: None,
            done: true,
        }));
    }

    pub fn standing(&self) -> Standing {
        let document = |digest: &Digest| self.documents.get(digest).cloned().ok_or("gone".into());
        Standing::of(&self.events, document, &mut Known::default())
    }

    /// Counts just what is needed of every mark that does not come later.
    pub fn counts_all_here(&mut self) {
        self.counts_all_here_but("");
    }

    /// The same, but for one mark.
    pub fn counts_all_here_but(&mut self, but: &str) {
        let standing = self.standing();
        let difference = standing.difference.expect("an order");
        for mark in &difference.marks {
            let here = mark.needed - mark.coming;
            if here > 0 && mark.mark != but {
                self.counts(&mark.mark, here);
            }
        }
    }
}
