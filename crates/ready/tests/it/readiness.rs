//! The whole answer for a job.

use ready::{CallIs, Readiness};

use crate::jobs::{Job, TODAY};

/// Prints an answer, to be looked at with `--nocapture`.
pub fn show(title: &str, ready: &Readiness) {
    println!("== {title}");
    for day in &ready.days {
        let call = &day.call;
        println!(
            "{} {} people, {} min{}{}: {}",
            day.day,
            day.people,
            day.minutes,
            if day.planned { ", planned" } else { "" },
            if day.called { ", called" } else { "" },
            call.says
        );
        println!("    {} ({:.4})", call.chance_says, call.chance);
        for (what, lines) in [
            ("why", &call.why),
            ("rests on", &call.rests_on),
            ("would change", &call.would_change),
        ] {
            for line in lines {
                println!("    {what}: {line}");
            }
        }
    }
}

#[test]
fn the_demo_in_its_states() {
    let mut job = Job::demo();
    let ready = Readiness::of(&job.standing(), TODAY).expect("an order");
    show("nothing counted", &ready);
    job.expected("Load 2", Some("2026-12-07"), Some("2026-12-10"));
    job.crew("2026-12-12", 8, 8, false);
    job.counts_all_here();
    let ready = Readiness::of(&job.standing(), TODAY).expect("an order");
    show("all counted that is here", &ready);
    let mut short = job.clone();
    short.unfit("B1", 2);
    let ready = Readiness::of(&short.standing(), TODAY).expect("an order");
    show("two half bows bent", &ready);
    assert_ne!(ready.call.map(|call| call.is), Some(CallIs::Go));
}
