//! The answer: go, go as far as, or wait; and its edges.

use ready::{Call, CallIs, Readiness, chance_in_words};

use crate::jobs::{Job, ORDER, TODAY};

fn ready(job: &Job) -> Readiness {
    Readiness::of(&job.standing(), TODAY).expect("an order")
}

fn call(job: &Job) -> Call {
    ready(job).call.expect("an answer")
}

/// The demo with both loads here and all counted, and a crew for a Saturday.
fn well() -> Job {
    let mut job = Job::demo();
    job.arrives("Load 2");
    job.counts_all_here();
    job.crew("2026-12-12", 8, 8, true);
    job
}

#[test]
fn no_order_no_answer() {
    assert!(Readiness::of(&Job::default().standing(), TODAY).is_none());
    let job = Job::of("family = \"none that there is\"");
    assert!(Readiness::of(&job.standing(), TODAY).is_none());
}

#[test]
fn everything_counted_is_go() {
    let call = call(&well());
    assert_eq!(call.is, CallIs::Go, "{call:?}");
    assert!(call.chance >= 0.9, "{call:?}");
    assert!(call.says.starts_with("Go: "), "{}", call.says);
}

#[test]
fn nothing_counted_and_no_list_is_wait() {
    let mut job = Job::of(ORDER);
    job.crew("2026-12-12", 8, 8, true);
    let call = call(&job);
    assert_eq!(call.is, CallIs::Wait);
    assert_eq!(
        call.says,
        "Wait: nothing is counted yet, so nobody can say what is there."
    );
    assert!(call.chance < 1e-9, "{call:?}");
    // Nobody can say, so no chance is said.
    assert_eq!(call.chance_says, "");
    assert!(call.would_change[0].starts_with("Count first"), "{call:?}");
}

/// All counted but X2, of which 0 to 26 were found; what is said of so few is never better than of more.
#[test]
fn more_pieces_are_never_worse() {
    let mut before: Option<ready::HowFar> = None;
    for found in [0, 1, 2, 13, 25, 26] {
        let mut job = Job::demo();
        job.arrives("Load 2");
        job.counts_all_here_but("X2");
        job.counts("X2", found);
        job.crew("2026-12-12", 8, 8, true);
        let ready = ready(&job);
        let at = ready.build.marks.iter().position(|mark| mark == "X2");
        let at = at.expect("X2");
        // An explanation may say that they lie in another bag: nobody counted them there.
        assert_eq!(ready.supplies.here()[at], found);
        assert_eq!(ready.here.all(), found >= 26, "{found}");
        let call = ready.call.clone().expect("an answer");
        let names_it = |says: &String| says.contains("X2");
        if call.is != CallIs::Go {
            assert!(call.why.iter().any(names_it), "{found}: {call:?}");
            assert!(call.would_change.iter().any(names_it), "{found}: {call:?}");
        }
        if let Some(before) = before {
            assert!(ready.here.compare(&before).is_ge(), "{found}");
        }
        before = Some(ready.here);
    }
}

/// 27 counted, one bent, 26 needed: enough, unless the count is one too many. That is said, and no bow is left out for it.
#[test]
fn a_doubt_about_a_count_is_named() {
    let mut job = Job::demo();
    job.arrives("Load 2");
    job.counts_all_here_but("B1");
    job.counts("B1", 27);
    job.unfit("B1", 1);
    job.crew("2026-12-12", 8, 8, true);
    let call = call(&job);
    let names_it = |says: &String| says.contains("B1") && says.to_lowercase().contains("count");
    assert!(call.is != CallIs::Go, "{call:?}");
    assert!(call.why.iter().any(names_it), "{call:?}");
    assert!(call.would_change.iter().any(names_it), "{call:?}");
    assert!(
        !call.why.iter().any(|says| says.starts_with("Leave out")),
        "{call:?}"
    );
    assert!(call.far.is_none_or(|far| far.left_out.is_empty()));
}

/// Of 17 half bows eight bows are made; some of the others may be left out, and the rest wait.
#[test]
fn bows_that_wait_are_said() {
    let mut job = Job::demo();
    job.arrives("Load 2");
    job.counts_all_here_but("B1");
    job.counts("B1", 17);
    job.crew("2026-12-12", 8, 8, true);
    let call = call(&job);
    assert!(
        call.why.iter().any(|says| says.ends_with(" for parts.")),
        "{call:?}"
    );
    assert!(!call.why.iter().any(|says| says.contains("and bow ")));
    // The answer is one sentence that can be read out.
    assert!(call.says.contains("8 of 13 of “bows"), "{}", call.says);
    assert!(call.says.len() < 200, "{}", call.says);
}

/// All bows can stand, and purlins go to the sixth: the stage is named before the bow.
#[test]
fn a_part_of_a_stage_is_not_the_whole() {
    let mut job = Job::demo();
    job.arrives("Load 2");
    job.counts_all_here_but("R1");
    job.counts("R1", 8);
    job.crew("2026-12-12", 8, 8, true);
    let call = call(&job);
    assert!(!call.says.starts_with("Go as far as bow"), "{}", call.says);
}

/// What the day's work does not come to is short all the same.
#[test]
fn later_shortages_are_said() {
    let mut job = Job::demo();
    job.arrives("Load 2");
    job.counts_all_here_but("B1");
    job.counts("B1", 23);
    job.crew("2026-12-12", 4, 2, true);
    let call = call(&job);
    assert_eq!(call.is, CallIs::Go, "{call:?}");
    assert!(
        call.why
            .iter()
            .any(|says| says.starts_with("Later: 3 B1 short for “bows")),
        "{call:?}"
    );
}

/// Two counts may turn the answer: they come before a shortage that a part of the work does not meet.
#[test]
fn what_is_to_be_counted_is_said_first() {
    let mut job = Job::demo();
    job.counts("B1", 25);
    job.crew("2026-12-12", 8, 8, true);
    let call = call(&job);
    assert_eq!(call.is, CallIs::Wait, "{call:?}");
    assert!(
        call.says
            .contains("marks are not counted. Count them first: then likely go"),
        "{}",
        call.says
    );
}

/// The list alone: a chance of 0.92 a line is never enough for a kit of many lines, and counting is what changes it.
#[test]
fn listed_and_not_counted_is_wait_and_says_what_to_count() {
    let mut job = Job::demo();
    job.crew("2026-12-12", 8, 8, true);
    let call = call(&job);
    assert_eq!(call.is, CallIs::Wait, "{call:?}");
    assert!(
        call.rests_on
            .iter()
            .any(|says| says.contains("listed in Load 1, not counted")),
        "{call:?}"
    );
    assert!(call.would_change[0].starts_with("Count "), "{call:?}");
}

/// Four of 26 half bows are bent, so two bows of 13 are missing. What that stops and what goes on without is for
/// `how_far`; film and all behind it need every bow.
#[test]
fn bent_bows_are_go_as_far_as() {
    let mut job = well();
    job.unfit("B1", 4);
    let call = call(&job);
    assert_eq!(call.is, CallIs::GoAsFar, "{call:?}");
    assert!(call.says.starts_with("Go as far as "), "{}", call.says);
    assert!(call.chance >= 0.9, "{call:?}");
    assert!(
        !call.says.contains("film") || call.says.contains("stop before “film”"),
        "{}",
        call.says
    );
    assert!(
        call.why
            .iter()
            .any(|says| says.starts_with("B1: 26 needed, 22 there")),
        "{call:?}"
    );
    assert!(
        call.would_change
            .iter()
            .any(|says| says.contains("4 B1 more")),
        "{call:?}"
    );
}

/// One post of 26 is missing: its bow waits, the others go on. So the answer names where the work ends, not the post at
/// which a hole stays, and says the hole.
#[test]
fn a_hole_is_not_where_the_work_stops() {
    let mut job = well();
    job.unfit("P1", 1);
    let ready = ready(&job);
    let call = ready.call.clone().expect("an answer");
    assert_eq!(call.is, CallIs::GoAsFar, "{call:?}");
    assert!(!call.says.contains("(posts)"), "{}", call.says);
    assert!(
        call.says.contains(", with 25 of 26 of “posts”"),
        "{}",
        call.says
    );
    // Nothing of what can be done lies behind the stage that is named.
    let far = call.far.expect("how far");
    let last = far.stages.iter().rfind(|reach| reach.done > 0);
    let last = &ready.build.stages[last.expect("a stage").stage].name;
    let named = call.says.split(['“', '”', '(', ')']).nth(1);
    let at = |name: &str| ready.build.stages.iter().position(|s| s.name == name);
    assert!(at(named.unwrap_or("")) <= at(last), "{}", call.says);
    assert!(at(named.unwrap_or("")) > at("posts"), "{}", call.says);
}

/// Nothing of the first parts is there: no day's work.
#[test]
fn no_posts_is_wait() {
    let mut job = Job::demo();
    job.counts("P1", 0);
    job.counts_all_here_but("P1");
    job.crew("2026-12-12", 8, 8, true);
    let call = call(&job);
    assert_eq!(call.is, CallIs::Wait, "{call:?}");
    assert!(
        call.says.contains("P1: 26 needed, 0 there"),
        "{}",
        call.says
    );
}

#[test]
fn all_done_is_nothing_to_do() {
    let mut job = well();
    let stages = ready(&job).build.stages;
    for stage in &stages {
        job.done(&stage.name);
    }
    let ready = ready(&job);
    let call = ready.call.clone().expect("an answer");
    assert_eq!((call.is, call.chance), (CallIs::Built, 1.0));
    assert!(call.says.starts_with("Built: "), "{}", call.says);
    assert!(
        (ready.days.iter().flat_map(|day| &day.chances))
            .all(|c| c.complete >= 1.0 && c.start >= 1.0)
    );
}

/// What is done is behind us: the posts are in, though nobody counted one.
#[test]
fn stages_that_are_done_are_behind_us() {
    let mut job = Job::of(ORDER);
    let stages = ready(&job).build.stages;
    let posts = stages
        .iter()
        .position(|stage| stage.name == "posts")
        .expect("posts");
    for stage in &stages[..=posts] {
        job.done(&stage.name);
    }
    let ready = ready(&job);
    assert!((ready.days[0].chances[posts].complete - 1.0).abs() < 1e-12);
}

/// A day that is past is not looked at, and its crew is not asked for.
#[test]
fn a_day_in_the_past_is_no_day() {
    let mut job = well();
    job.crew("2026-12-01", 8, 8, true);
    let ready = ready(&job);
    assert!(ready.days.iter().all(|day| day.day >= TODAY));
    assert_eq!(
        ready.day(TODAY).map(|day| day.day.to_string()),
        Some("2026-12-12".into())
    );
}

#[test]
fn one_person_cannot_raise_bows() {
    let mut job = well();
    for stage in ["setting out", "posts", "bows on the ground"] {
        job.done(stage);
    }
    job.crew("2026-12-12", 1, 8, true);
    let call = call(&job);
    assert_eq!(call.is, CallIs::Wait, "{call:?}");
    assert!(call.says.contains("at the least"), "{}", call.says);
}

#[test]
fn hostile_days_and_crews_break_nothing() {
    for (day, people, minutes) in [
        ("2026-12-12", 1_000, 24 * 60),
        ("2026-12-12", 1, 0),
        ("9999-12-31", 8, 480),
        ("2026-12-03", 8, 1),
    ] {
        let mut job = well();
        job.says(tally::What::CrewDay(tally::CrewDay {
            day: day.into(),
            people,
            minutes,
            called: true,
            words: String::new(),
        }));
        let ready = ready(&job);
        assert!(ready.days.len() < 30);
        assert!(
            ready
                .days
                .iter()
                .all(|day| (0.0..=1.0).contains(&day.call.chance))
        );
    }
    let mut job = well();
    for day in 0..60 {
        let day = format!("2027-{:02}-{:02}", 1 + day / 28, 1 + day % 28);
        job.crew(&day, 4, 8, false);
    }
    assert!(ready(&job).days.len() < 30);
}

/// The called day is answered for; without one the earliest that was planned; without one today.
#[test]
fn the_called_day_is_answered_for() {
    let day = |job: &Job| ready(job).day(TODAY).map(|day| day.day.to_string());
    let mut job = Job::demo();
    assert_eq!(day(&job).as_deref(), Some("2026-12-03"));
    job.crew("2026-12-19", 8, 8, false);
    job.crew("2026-12-12", 8, 8, false);
    assert_eq!(day(&job).as_deref(), Some("2026-12-12"));
    job.crew("2026-12-19", 8, 8, true);
    assert_eq!(day(&job).as_deref(), Some("2026-12-19"));
}

/// The next two Saturdays and the morning after a shipment is due are looked at beside planned days.
#[test]
fn days_worth_a_look_are_looked_at() {
    let mut job = Job::demo();
    job.due("Load 2", Some("2026-12-08"));
    job.crew("2026-12-13", 5, 6, false);
    let days = ready(&job).days;
    let said: Vec<(String, bool, i64)> = (days.iter())
        .map(|day| (day.day.to_string(), day.planned, day.people))
        .collect();
    let expected = [
        ("2026-12-03", false, 5),
        ("2026-12-05", false, 5),
        ("2026-12-09", false, 5),
        ("2026-12-12", false, 5),
        ("2026-12-13", true, 5),
    ];
    let expected: Vec<(String, bool, i64)> = expected
        .map(|(day, planned, people)| (day.to_owned(), planned, people))
        .to_vec();
    assert_eq!(said, expected);
    // A day on which more is here is never worse.
    for two in days.windows(2) {
        for (before, after) in two[0].chances.iter().zip(&two[1].chances) {
            assert!(after.complete >= before.complete - 1e-12);
            assert!(after.start >= before.start - 1e-12);
        }
    }
}

/// Counting the last missing mark turns the answer.
#[test]
fn the_last_count_turns_the_answer() {
    let mut job = Job::demo();
    job.arrives("Load 2");
    job.counts_all_here_but("P1");
    job.crew("2026-12-12", 8, 8, true);
    job.counts("P1", 10);
    let before = call(&job);
    assert_ne!(before.is, CallIs::Go, "{before:?}");
    job.counts("P1", 16);
    let after = call(&job);
    assert_eq!(after.is, CallIs::Go, "{after:?}");
}

#[test]
fn chances_in_words() {
    for (chance, says) in [
        (0.999, "as good as sure, over 99 %"),
        (0.97, "almost sure, 97 %"),
        (0.85, "likely, 85 %"),
        (0.6, "more likely than not, 60 %"),
        (0.3, "less likely than not, 30 %"),
        (0.1, "unlikely, 10 %"),
        (0.0, "next to no chance, under 1 %"),
    ] {
        assert_eq!(chance_in_words(chance), says);
    }
}
