//! The demo's plans: two Saturdays on which people could build, when the second load is expected, and the schoolyard.

use claim::Date;
use tally::{CrewDay, Expected, Ground, HouseSpot, Patch, Slope, Spot, What};

/// What is planned in the demo, reckoned from the day on which it is laid.
pub fn plans(today: Date) -> Vec<(&'static str, What)> {
    let saturday = coming_saturday(today);
    let day = |after: i32| days_after(saturday, after).to_string();
    vec![
        (
            "Noor",
            What::Expected(Expected {
                shipment: "Load 2".into(),
                earliest: Some(day(-2)),
                latest: Some(day(3)),
                words: "the ferry office, by telephone".into(),
            }),
        ),
        (
            "Noor",
            What::CrewDay(CrewDay {
                day: day(0),
                people: 8,
                minutes: 8 * 60,
                called: false,
                words: "parents and the upper class".into(),
            }),
        ),
        (
            "Noor",
            What::CrewDay(CrewDay {
                day: day(7),
                people: 6,
                minutes: 8 * 60,
                called: false,
                words: "without the upper class".into(),
            }),
        ),
        ("Tomasz", What::GroundSet(schoolyard())),
    ]
}

/// The first Saturday after a day.
fn coming_saturday(today: Date) -> Date {
    let days_to_go = 6 - i32::from(today.weekday().to_sunday_zero_offset());
    days_after(today, if days_to_go == 0 { 7 } else { days_to_go })
}

/// A day some days before or after another; at the end of the calendar that day itself.
fn days_after(day: Date, after: i32) -> Date {
    let step = |from: Date| match after {
        0.. => from.tomorrow(),
        _ => from.yesterday(),
    };
    (0..after.abs()).fold(day, |at, _| step(at).unwrap_or(at))
}

/// The lower garden of the school, 42 m by 30 m: a gate to the ferry road, a tree, a shed with a roof beside it, and a
/// corner that slopes.
fn schoolyard() -> Ground {
    let patch = |words: &str, corners: &[(i64, i64)]| Patch {
        outline: outline(corners),
        words: words.into(),
    };
    let crown = [
        (18, 25),
        (20, 25),
        (21, 26),
        (21, 28),
        (20, 29),
        (18, 29),
        (17, 28),
        (17, 26),
    ];
    Ground {
        outline: outline(&[(0, 0), (42, 0), (42, 24), (34, 30), (0, 30)]),
        house: HouseSpot {
            front: spot((23, 17)),
            towards: 0,
        },
        drop: spot((11, 6)),
        gates: vec![[spot((0, 4)), spot((0, 8))]],
        truck: vec![patch(
            "where the ferry truck turns",
            &[(0, 3), (10, 3), (10, 9), (0, 9)],
        )],
        obstacles: vec![
            patch("apple tree", &crown),
            patch("garden shed", &[(1, 23), (6, 23), (6, 28), (1, 28)]),
        ],
        covered: vec![patch(
            "roof beside the shed",
            &[(6, 23), (12, 23), (12, 28), (6, 28)],
        )],
        shade: vec![patch(
            "north of the shed",
            &[(1, 28), (12, 28), (12, 30), (1, 30)],
        )],
        slopes: vec![Slope {
            outline: outline(&[(28, 0), (42, 0), (42, 8), (28, 8)]),
            rise: 60,
        }],
        aisle: 900,
        truck_bed: 1_200,
        reach: 400,
    }
}

fn outline(corners: &[(i64, i64)]) -> Vec<Spot> {
    corners.iter().copied().map(spot).collect()
}

/// A spot whose numbers are metres.
fn spot((x, y): (i64, i64)) -> Spot {
    Spot {
        x: x * 1_000,
        y: y * 1_000,
    }
}
