//! The demo's order as a job: all counted, a crew called for Saturday, the ground said.

use claim::Date;
use paper::BuildDay;
use tally::{
    About, Answer, Answered, CrewDay, Draft, Event, Ground, HouseSpot, How, Known, Patch, Point,
    PointKept, Spot, Standing, ToolsSeen, What, Written,
};

use crate::sample_card;

/// Thursday 3 December 2026.
pub const TODAY: Date = Date::constant(2026, 12, 3);

#[derive(Default)]
pub struct Job {
    events: Vec<Event>,
}

impl Job {
    /// Every mark of an order counted, as many as are packed, but for so many that are missing of some.
    pub fn counted(order: &str, missing: &[(&str, i64)]) -> Self {
        let mut job = Self::default();
        job.says(What::OrderSet {
            toml: order.into(),
            family: None,
        });
        for line in sample_card::parts(order).lines {
            let mark = line.part.mark.0;
            let missing = missing.iter().find(|(of, _)| *of == mark);
            job.says(What::Counted {
                quantity: line.supplied - missing.map_or(0, |(_, n)| *n),
                mark,
                pile: None,
                replaces: Vec::new(),
                how: How::Piece,
            });
        }
        job
    }

    pub fn says(&mut self, what: What) {
        let seq = self.events.len() as u64 + 1;
        let id = format!("00000000-0000-0000-0000-{seq:012}");
        let draft = Draft {
            id: id.parse().expect("an id"),
            device: "phone-1".into(),
            // 2026-12-03 12:00 UTC: `date -u -d '2026-12-03 12:00' +%s`.
            at: 1_796_299_200_000 + 60_000 * seq as i64,
            who: "Noor".into(),
            what,
        };
        self.events.push(draft.numbered(seq).expect("it can be"));
    }

    /// A crew of eight is called for Saturday.
    pub fn calls(&mut self) {
        self.says(What::CrewDay(CrewDay {
            day: "2026-12-05".into(),
            people: 8,
            minutes: 480,
            called: true,
            words: String::new(),
        }));
    }

    /// A level field of 60 by 50 m with the house in its middle, a gate, a drop, a shed and a tree.
    pub fn grounds(&mut self) {
        let spot = |x: i64, y: i64| Spot {
            x: x * 1_000,
            y: y * 1_000,
        };
        let patch = |words: &str, [left, low, right, high]: [i64; 4]| Patch {
            outline: vec![
                spot(left, low),
                spot(right, low),
                spot(right, high),
                spot(left, high),
            ],
            words: words.into(),
        };
        self.says(What::GroundSet(Ground {
            outline: vec![spot(0, 0), spot(60, 0), spot(60, 50), spot(0, 50)],
            house: HouseSpot {
                front: spot(20, 28),
                towards: 0,
            },
            drop: spot(10, 10),
            gates: vec![[spot(0, 4), spot(0, 9)]],
            truck: vec![patch("the truck's way", [0, 4, 6, 9])],
            obstacles: vec![patch("apple tree", [45, 8, 47, 10])],
            covered: vec![patch("the shed", [50, 38, 58, 46])],
            shade: Vec::new(),
            slopes: Vec::new(),
            aisle: 1_200,
            truck_bed: 1_100,
            reach: 400,
        }));
    }

    /// Whom to reach, a point that somebody sees to, and a ladder.
    pub fn affairs(&mut self) {
        for (field, words) in [
            ("from-name", "Noor"),
            ("from-contact", "garden@example.invalid"),
            ("sender-contact", "tech desk, desk@example.invalid"),
        ] {
            self.says(What::Written(Written {
                field: field.into(),
                shipment: None,
                words: words.into(),
            }));
        }
        let point = Point::of(About::Short, "B1");
        self.says(What::PointKept(PointKept {
            point: point.clone(),
            owner: "Tomasz".into(),
            next: Some("2026-12-04".into()),
            words: "ask whether the ferry took them".into(),
        }));
        self.says(What::Answered(Answered {
            point,
            answer: Answer::Asks,
            words: String::new(),
        }));
        self.says(What::ToolsSeen(ToolsSeen {
            tool: "step ladder".into(),
            quantity: 1,
        }));
    }

    pub fn standing(&self) -> Standing {
        Standing::of(&self.events, |_| Err("gone".into()), &mut Known::default())
    }

    pub fn folder(&self) -> BuildDay {
        let standing = self.standing();
        let readiness = ready::Readiness::of(&standing, TODAY).expect("there is an order");
        paper::build_day_of(&standing, &readiness, TODAY).expect("there is an order")
    }
}
