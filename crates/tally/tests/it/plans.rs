//! Plans and ground: their wire form, their limits, and what stands of them.

use tally::{
    Corner, CrewDay, Event, Expected, Ground, HouseSpot, Patch, PileSpot, Slope, Spot,
    StakeReading, StakesRead, State, ToolsSeen, WaySaid, WayStands, What, Worked,
};

use crate::job::Job;
use crate::samples::{corrected, event};

fn spot(x: i64, y: i64) -> Spot {
    Spot { x, y }
}

fn square(size: i64) -> Vec<Spot> {
    vec![spot(0, 0), spot(size, 0), spot(size, size), spot(0, size)]
}

fn ground() -> Ground {
    Ground {
        outline: square(30_000),
        house: HouseSpot {
            front: spot(10_000, 5_000),
            towards: 9_000,
        },
        drop: spot(2_000, 2_000),
        gates: vec![[spot(0, 1_000), spot(0, 5_000)]],
        truck: vec![],
        obstacles: vec![Patch {
            outline: square(800),
            words: "apple tree".into(),
        }],
        covered: vec![],
        shade: vec![],
        slopes: vec![Slope {
            outline: square(9_000),
            rise: 40,
        }],
        aisle: 900,
        truck_bed: 1_200,
        reach: 400,
    }
}

fn day(people: i64) -> What {
    What::CrewDay(CrewDay {
        day: "2026-04-11".into(),
        people,
        minutes: 480,
        called: true,
        words: String::new(),
    })
}

fn worked(person_minutes: Option<i64>, done: bool) -> What {
    What::Worked(Worked {
        stage: "posts".into(),
        person_minutes,
        done,
    })
}

/// Each kind as it is written for ever.
#[test]
fn frozen_bytes() {
    let reading = StakeReading {
        from: Corner::FrontLeft,
        to: Corner::BackRight,
        length: 15_849_600_000,
        rise: None,
    };
    let bodies = [
        (
            What::PilePut(PileSpot {
                pile: "B".into(),
                at: Some(spot(1, -2)),
                turn: 9_000,
            }),
            r#""kind":"pile_put","body":{"pile":"B","at":{"x":1,"y":-2},"turn":9000}"#,
        ),
        (
            What::StakesRead(StakesRead {
                readings: vec![reading],
            }),
            r#""kind":"stakes_read","body":{"readings":[{"from":"front_left","to":"back_right","length":15849600000}]}"#,
        ),
        (
            day(8),
            r#""kind":"crew_day","body":{"day":"2026-04-11","people":8,"minutes":480,"called":true,"words":""}"#,
        ),
        (
            What::Expected(Expected {
                shipment: "Load 2".into(),
                earliest: None,
                latest: Some("2026-04-10".into()),
                words: "the ferry".into(),
            }),
            r#""kind":"expected","body":{"shipment":"Load 2","earliest":null,"latest":"2026-04-10","words":"the ferry"}"#,
        ),
        (
            What::WaySaid(WaySaid {
                mark: "R1".into(),
                way: "ask:join".into(),
                quantity: 2,
                stands: WayStands::Allowed,
                words: String::new(),
            }),
            r#""kind":"way_said","body":{"mark":"R1","way":"ask:join","quantity":2,"stands":"allowed","words":""}"#,
        ),
        (
            worked(Some(240), true),
            r#""kind":"worked","body":{"stage":"posts","person_minutes":240,"done":true}"#,
        ),
        (
            What::ToolsSeen(ToolsSeen {
                tool: "post driver".into(),
                quantity: 2,
            }),
            r#""kind":"tools_seen","body":{"tool":"post driver","quantity":2}"#,
        ),
    ];
    for (what, body) in bodies {
        let event = event(1, what);
        let text = event.write().expect("written");
        assert!(text.ends_with(&format!("{body}}}")), "{text}");
        assert_eq!(Event::read(&text).expect("read"), event);
    }
    let event = event(1, What::GroundSet(ground()));
    let text = event.write().expect("written");
    assert!(
        text.contains(
            r#""house":{"front":{"x":10000,"y":5000},"towards":9000},"drop":{"x":2000,"y":2000}"#
        ),
        "{text}"
    );
    assert_eq!(Event::read(&text).expect("read"), event);
}

/// What cannot be is refused with its field.
#[test]
fn nonsense_is_refused() {
    let changed = |change: fn(&mut Ground)| {
        let mut ground = ground();
        change(&mut ground);
        What::GroundSet(ground)
    };
    let read = |length, rise| {
        What::StakesRead(StakesRead {
            readings: vec![StakeReading {
                from: Corner::FrontLeft,
                to: Corner::FrontRight,
                length,
                rise,
            }],
        })
    };
    for (what, field) in [
        (changed(|g| g.outline.truncate(2)), "outline"),
        (changed(|g| g.outline = vec![spot(0, 0); 101]), "outline"),
        (changed(|g| g.outline[0].x = 2_000_001), "outline"),
        (changed(|g| g.house.towards = 36_001), "house"),
        (changed(|g| g.drop.y = i64::MIN), "drop"),
        (changed(|g| g.gates[0][1].x = i64::MAX), "gates"),
        (
            changed(|g| g.obstacles[0].words = "a\nb".into()),
            "obstacles",
        ),
        (changed(|g| g.slopes[0].rise = 1_001), "rise"),
        (changed(|g| g.aisle = -1), "aisle"),
        (changed(|g| g.truck_bed = 5_001), "truck_bed"),
        (changed(|g| g.reach = 2_001), "reach"),
        (read(0, None), "length"),
        (read(1, Some(i64::MIN)), "rise"),
        (day(-1), "people"),
        (worked(Some(-1), false), "person_minutes"),
        (
            What::Expected(Expected {
                shipment: "Load 2".into(),
                earliest: Some("Friday".into()),
                latest: None,
                words: String::new(),
            }),
            "earliest",
        ),
    ] {
        let refused = tally::say(what).expect_err(field).to_string();
        assert!(refused.starts_with(field), "{field}: {refused}");
    }
    tally::say(What::GroundSet(ground())).expect("the ground as it is can stand");
}

/// A kind of way, corner or patch that a newer build wrote does not stop the reading.
#[test]
fn a_newer_word_is_read() {
    let way = What::WaySaid(WaySaid {
        mark: "R1".into(),
        way: "buy".into(),
        quantity: 2,
        stands: WayStands::Meant,
        words: String::new(),
    });
    let text = event(1, way).write().expect("written");
    let newer = text.replacen("\"meant\"", "\"dreamt\"", 1);
    let read = Event::read(&newer).expect("read");
    assert!(matches!(&read.what, What::WaySaid(way) if way.stands == WayStands::Other));
}

#[test]
fn the_last_word_stands_and_work_adds_up() {
    let mut job = Job::default();
    job.says(day(8)); // 1
    job.says(day(6));
    job.says(worked(Some(100), false));
    job.says(worked(Some(140), true));
    job.says(What::Expected(Expected {
        shipment: "load  2".into(),
        earliest: None,
        latest: None,
        words: String::new(),
    })); // 5
    job.says(What::PilePut(PileSpot {
        pile: "B".into(),
        at: Some(spot(1, 2)),
        turn: 0,
    }));
    let state = State::fold(&job.events);
    assert_eq!(state.plans.days["2026-04-11"].people, 6);
    let posts = &state.plans.worked["posts"];
    assert_eq!(
        (posts.person_minutes, posts.whole, posts.done),
        (240, true, true)
    );
    assert!(state.plans.expected.contains_key("load 2"));
    assert!(
        state.shipments.contains_key("load 2"),
        "what is expected is a shipment"
    );
    assert_eq!(state.plans.spots["B"].at, Some(spot(1, 2)));

    // Work whose minutes nobody said leaves the sum a lower bound.
    job.says(worked(None, true));
    assert!(!State::fold(&job.events).plans.worked["posts"].whole);
    // A pile goes back to where the plan puts it; a day is taken back; what was corrected never was.
    job.says(What::PilePut(PileSpot {
        pile: "B".into(),
        at: None,
        turn: 0,
    }));
    job.says(day(0));
    job.says(corrected(&[3, 4, 7]));
    let state = State::fold(&job.events);
    assert!(state.plans.spots.is_empty() && state.plans.days.is_empty());
    assert!(state.plans.worked.is_empty());
}
