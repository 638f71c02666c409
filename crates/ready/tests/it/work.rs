//! What the steps of a build take, against what was published of such houses and sums by hand.

use ready::{PaceRests, SENDER_FIRST, StageWork, hours, tools_needed};
use tally::{Plans, WorkSeen};

use crate::houses::{House, fitted_out, garden, round, sidewall};

fn person_hours(works: &[StageWork]) -> [f64; 2] {
    let sum = |pace: usize| {
        works
            .iter()
            .map(|w| w.person_minutes.unwrap()[pace] / 60.0)
            .sum()
    };
    [sum(0), sum(1)]
}

fn planned(house: &House) -> Vec<StageWork> {
    house.works(&Plans::default())
}

/// "Construction Tips" handout (S2): two people with good construction skills put up a 30 by 96 ft house in 75 to 100
/// hours, in about a week, all materials on site: of both together, as one week is some 80 hours of two. Our rates per
/// step have no source and are set to hold this; how wide the range may be is ours. The handout does not say how its house
/// was fitted out, so a bare house and one with purlins and doors must both hold it.
#[test]
fn all_steps_together_hold_the_published_hours_of_such_a_house() {
    for house in [sidewall(), fitted_out()] {
        let [quick, slow] = person_hours(&planned(&house));
        assert!(quick <= 75.0 && slow >= 100.0, "{quick} to {slow} hours");
        let middle = (quick * slow).sqrt();
        assert!((65.0..=125.0).contains(&middle), "{middle}");
        assert!(slow / quick < 2.6, "{quick} to {slow} hours say nothing");
    }
}

/// A step is a known kind of work in all our families, with someone to do it and something to be careful of.
#[test]
fn every_step_of_our_families_is_known_work() {
    for house in [sidewall(), fitted_out(), garden(), round()] {
        for work in planned(&house) {
            let [quick, slow] = work.person_minutes.unwrap();
            assert!(quick < slow || work.is_nothing(), "{work:?}");
            assert_eq!(work.rests, PaceRests::OurRates);
            if !work.is_nothing() {
                assert!(1 <= work.people[0] && work.people[0] <= work.people[1]);
                assert!(!work.tools.is_empty() && !work.wear.is_empty());
                assert!(
                    work.tools
                        .iter()
                        .all(|t| 1 <= t.quantity && t.quantity <= t.useful)
                );
                assert!(work.sources[0].starts_with("People: "));
            }
            assert_eq!(work.cautions.last().unwrap(), SENDER_FIRST);
        }
    }
}

/// University of Vermont, High Tunnels, p. 44 (S): houses 20 ft and wider take at least 3 people to set a bow.
#[test]
fn wide_bows_take_three() {
    let fewest = |house: House| planned(&house)[house.stage("bows up")].people[0];
    assert_eq!(
        [fewest(sidewall()), fewest(garden()), fewest(round())],
        [3, 3, 2]
    );
}

/// From memory (M), a setting: at least one puller to each 20 to 25 ft, one or two inside, never fewer than four.
/// 96 / 25 → 4 and 1 inside; 24 / 25 → 1 and 1 inside, so four.
#[test]
fn film_takes_people_by_the_length_of_the_house() {
    let film = |house: House| planned(&house)[house.stage("film")].clone();
    let (long, short) = (film(sidewall()), film(round()));
    assert_eq!([long.people[0], short.people[0]], [5, 4]);
    // The wind for film is a setting, and it is said that nobody publishes one.
    let says = long.weather.unwrap();
    assert!(says.contains("No wind limit was found published"), "{says}");
    assert!(says.contains("5 mph") && says.contains("10 mph"), "{says}");
    // 5 mph are 8.05 km/h, 10 are 16.1.
    let says = short.weather.unwrap();
    assert!(
        says.contains("8 km/h") && says.contains("16 km/h"),
        "{says}"
    );
    // The short names of sources are told.
    let sources = planned(&sidewall())[sidewall().stage("bows up")]
        .sources
        .join("\n");
    assert!(
        sources.contains("Vermont: University of Vermont, High Tunnels, page 44."),
        "{sources}"
    );
    assert!(
        sources.contains("M: from memory, not checked."),
        "{sources}"
    );
    assert!(!sources.contains("Washington"), "{sources}");
    let calm = planned(&sidewall())
        .iter()
        .filter(|w| w.weather.is_some())
        .count();
    assert_eq!(calm, 1);
}

/// The demo by hand: 13 bows of two halves, 26 posts and legs, 5 ridge tubes under 13 bows with 4 splices, two doors.
/// Rates as `work.toml` has them.
#[test]
fn a_step_adds_up_by_hand() {
    let house = garden();
    let works = planned(&house);
    let minutes = |stage: &str| works[house.stage(stage)].person_minutes.unwrap();
    for (stage, by_hand) in [
        ("setting out", [90.0 + 26.0 * 1.5, 240.0 + 26.0 * 4.0]),
        ("posts", [20.0 + 26.0 * 10.0, 40.0 + 26.0 * 22.0]),
        (
            "bows on the ground",
            [26.0 * 3.0 + 13.0 * 2.5, 26.0 * 7.0 + 13.0 * 6.0],
        ),
        (
            "bows up",
            [13.0 * 10.0 + 26.0 * 2.0, 13.0 * 24.0 + 26.0 * 5.0],
        ),
        ("ridge", [5.0 * 8.0 + 17.0 * 4.0, 5.0 * 16.0 + 17.0 * 10.0]),
        ("doors", [2.0 * 15.0, 2.0 * 40.0]),
    ] {
        for (found, by_hand) in minutes(stage).iter().zip(by_hand) {
            assert!(
                (found - by_hand).abs() < 1e-9,
                "{stage}: {found}, by hand {by_hand}"
            );
        }
    }
}

#[test]
fn what_a_house_has_not_takes_nobody_and_nothing() {
    let house = sidewall();
    let works = planned(&house);
    let fans = &works[house.stage("fans")];
    assert!(fans.is_nothing() && fans.tools.is_empty());
    assert_eq!(fans.says, "This house has nothing of it.");
    assert_eq!(hours(fans, 3), Some([0.0; 2]));
    // Setting out has no parts and is work all the same.
    assert!(!works[house.stage("setting out")].is_nothing());
}

#[test]
fn work_of_a_kind_that_nobody_knows_has_no_hours() {
    let mut house = garden();
    let ridge = house.stage("ridge");
    house.build.stages[ridge].work = "weaving".into();
    let work = &planned(&house)[ridge];
    assert_eq!(
        (work.person_minutes, work.rests),
        (None, PaceRests::Unknown)
    );
    assert_eq!(hours(work, 4), None);
    assert!(work.says.contains("do not know"));
    // Written one way or the other it is the same kind.
    for name in ["Roll-up sides", "roll_up side", "SIDES"] {
        house.build.stages[ridge].work = name.into();
        assert!(planned(&house)[ridge].says.contains("roll bars"), "{name}");
    }
}

#[test]
fn more_people_never_take_longer_and_too_few_cannot() {
    for work in planned(&fitted_out()) {
        let [fewest, most] = work.people;
        assert_eq!(
            hours(&work, fewest.saturating_sub(1)),
            None,
            "{}",
            work.name
        );
        let mut before = [f64::INFINITY; 2];
        for people in fewest.max(1)..=most + 20 {
            let now = hours(&work, people).unwrap();
            assert!(now[0] <= before[0] && now[1] <= before[1], "{}", work.name);
            if people > most.max(1) {
                assert_eq!(now, before, "{}: more than are of use", work.name);
            }
            before = now;
        }
    }
}

fn worked(stage: &str, person_minutes: i64, whole: bool, done: bool) -> Plans {
    let seen = WorkSeen {
        person_minutes,
        whole,
        done,
        event: None,
    };
    Plans {
        worked: [(stage.into(), seen)].into(),
        ..Plans::default()
    }
}

/// A crew that took twice the middle of our range for the posts is taken to take twice the middle of the others too, and
/// within half as many powers of it.
#[test]
fn what_a_crew_recorded_goes_before_our_rates() {
    let house = garden();
    let (posts, ridge) = (house.stage("posts"), house.stage("ridge"));
    let ours = planned(&house);
    let middle = |work: &StageWork| {
        let [quick, slow] = work.person_minutes.unwrap();
        ((quick * slow).sqrt(), slow / quick)
    };
    // √(280 × 612) = 413.957
    let took = 828;
    let theirs = house.works(&worked("posts", took, true, true));
    assert_eq!(theirs[posts].person_minutes, Some([828.0; 2]));
    assert_eq!(theirs[posts].rests, PaceRests::Recorded);
    assert_eq!(theirs[ridge].rests, PaceRests::CrewsPace);
    let ((before, wide), (after, narrow)) = (middle(&ours[ridge]), middle(&theirs[ridge]));
    assert!(
        (after / before - 828.0 / 413.957).abs() < 1e-5,
        "{before} {after}"
    );
    assert!((narrow * narrow - wide).abs() < 1e-9, "{wide} {narrow}");
    // What is done is done, and what it follows too.
    assert_eq!(theirs[posts].minutes_left(), Some([0.0; 2]));
    assert!(theirs[house.stage("setting out")].done && !theirs[ridge].done);
    // Nobody is believed to be forty times as slow.
    let forty = house.works(&worked("posts", 40 * 414, true, true));
    assert!((middle(&forty[ridge]).0 / before - 4.0).abs() < 1e-9);
}

#[test]
fn a_record_with_holes_is_no_pace() {
    let house = garden();
    let posts = house.stage("posts");
    let ours = planned(&house);
    for plans in [
        worked("posts", 828, false, true),
        worked("posts", 0, true, true),
        worked("posts", 100, true, false),
        worked("a stage of another house", 828, true, true),
    ] {
        let theirs = house.works(&plans);
        for (theirs, ours) in theirs.iter().zip(&ours) {
            assert_eq!(theirs.person_minutes, ours.person_minutes);
        }
    }
    // What was worked on it counts, but some of it is left until it is said to be done.
    let begun = house.works(&worked("posts", 100, true, false));
    assert_eq!(begun[posts].minutes_left(), Some([180.0, 512.0]));
    let long = house.works(&worked("posts", 1000, true, false));
    assert_eq!(long[posts].minutes_left(), Some([28.0, 61.2]));
}

/// The most that a stage needs, not the sum: tools go on to the next stage.
#[test]
fn tools_are_put_together_over_the_stages() {
    let house = garden();
    let works = planned(&house);
    let tools = tools_needed(&works);
    let drill = tools
        .iter()
        .find(|t| t.tool == "cordless drill and driver")
        .unwrap();
    let uses: Vec<i64> = (works.iter())
        .flat_map(|w| {
            w.tools
                .iter()
                .filter(|t| t.tool == drill.tool)
                .map(|t| t.useful)
        })
        .collect();
    assert_eq!(drill.useful, *uses.iter().max().unwrap());
    assert!(drill.useful < uses.iter().sum());
    assert_eq!(drill.stages.len(), uses.len());
    assert!(drill.stages.contains(&house.stage("channel")));
    // Six at the channel, each with one (the usual bottleneck: Practical Farmers of Iowa, S).
    assert_eq!(drill.useful, 6);
    let names: Vec<&str> = tools.iter().map(|t| t.tool.as_str()).collect();
    assert!(names.is_sorted() && names.windows(2).all(|w| w[0] != w[1]));
    // Once the posts stand nobody needs the driver.
    let later = tools_needed(&house.works(&worked("posts", 400, true, true)));
    assert!(names.contains(&"post driver") && later.iter().all(|t| t.tool != "post driver"));
}
