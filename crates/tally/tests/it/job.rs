//! A job for the tests: the demo's order, and lists and events as each test needs them.

use std::collections::BTreeMap;

use tally::{Condition, Digest, Event, Known, MarkDifference, Ordered, Standing, What};

use crate::samples::event;

pub const ORDER: &str = include_str!("../../../../demo/order.toml");

/// The demo's order with all that follows from it.
pub fn ordered() -> Ordered {
    Ordered::read(ORDER).expect("the demo's order can be built")
}

/// Events and documents, as a job file holds them.
#[derive(Default)]
pub struct Job {
    pub events: Vec<Event>,
    pub documents: BTreeMap<Digest, Vec<u8>>,
}

impl Job {
    /// A job with the demo's order and nothing else.
    pub fn ordered() -> Self {
        let mut job = Self::default();
        job.says(What::OrderSet {
            toml: ORDER.into(),
            family: None,
        });
        job
    }

    pub fn says(&mut self, what: What) {
        let seq = self.events.len() as u64 + 1;
        self.events.push(event(seq, what));
    }

    /// Brings in a list.
    pub fn list(&mut self, csv: &str, shipment: Option<&str>) -> Digest {
        let digest = Digest::of(csv.as_bytes());
        self.documents.insert(digest, csv.into());
        self.says(What::ListAdded {
            digest,
            name: "list.csv".into(),
            shipment: shipment.map(String::from),
        });
        digest
    }

    pub fn counts(&mut self, mark: &str, quantity: i64) {
        self.says(crate::samples::counted(mark, quantity, &[]));
    }

    pub fn arrives(&mut self, shipment: &str) {
        self.says(arrived(shipment));
    }

    pub fn standing(&self) -> Standing {
        let document = |digest: &Digest| self.documents.get(digest).cloned().ok_or("gone".into());
        Standing::of(&self.events, document, &mut Known::default())
    }

    /// The line of a mark in the difference.
    pub fn mark(&self, mark: &str) -> MarkDifference {
        let difference = self.standing().difference.expect("the job has an order");
        difference
            .mark(mark)
            .expect("a mark of the demo's order")
            .clone()
    }

    /// What is said of a mark.
    pub fn says_of(&self, mark: &str) -> String {
        words(&self.mark(mark))
    }
}

pub fn words(mark: &MarkDifference) -> String {
    let words: Vec<String> = mark.verdicts.iter().map(|v| v.in_words()).collect();
    words.join("; ")
}

pub fn arrived(shipment: &str) -> What {
    What::ShipmentArrived {
        shipment: shipment.into(),
    }
}

pub fn conditioned(mark: &str, quantity: i64, condition: Condition) -> What {
    What::Conditioned {
        mark: mark.into(),
        quantity,
        condition,
        words: String::new(),
    }
}
