//! Can the build start, and how far will it get: the answer on top, then the days, what is still to come, and each stage.

use axum::Extension;
use axum::extract::{Query, State};
use claim::Date;
use maud::{Markup, html};
use ready::{HowFar, Readiness, StageReach, Stop};
use serde::Deserialize;
use tally::Standing;

use super::layout::{self, Way};
use super::lit::{self, Shows};
use super::ready_days as days;
use super::state::Tone;
use super::{answer, ready_coming as coming};
use crate::access::Holder;
use crate::address;
use crate::reply::{Reply, page_reply};
use crate::serve::Yard;

#[derive(Deserialize, Default)]
#[serde(default)]
pub(crate) struct Asked {
    /// What the drawing shows: what can be built, or else what cannot.
    shows: Shows,
}

pub(crate) async fn show(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Query(asked): Query<Asked>,
) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let outlook = yard.outlook(&standing);
    let content = match &outlook.readiness {
        None => html! {
            h1 { "Can the build start?" }
            div.note { p { "That follows from the order. " a href="/order" { "Say what was bought" } " first." } }
        },
        Some(readiness) => html! {
            h1 { "Can the build start?" }
            @match &readiness.call {
                Some(call) => {
                    div data-live="answer" data-live-says { (answer::large(&standing, readiness, call)) }
                    div data-live="reasons" { (answer::reasons(&standing, call)) }
                },
                None => div.note { p { "There is no answer for this order yet." } },
            }
            (ways_on())
            section id="days" {
                h2 { "Days on which a crew could build" }
                div data-live="days" { (days::table(&standing, readiness)) }
                (days::add(outlook.today))
            }
            section id="coming" {
                h2 { "What is still to come" }
                div data-live="coming" { (coming::said(&standing, &readiness.supplies)) }
                (coming::forms(&standing))
            }
            section id="far" {
                h2 { "How far, stage by stage" }
                div data-live="far" { (far(&standing, readiness, outlook.today, asked.shows)) }
            }
            section data-live="chances" { (days::chances(readiness)) }
        },
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Ready,
        "Can the build start?",
        content,
    )))
}

/// Where all that belongs to the build is found.
fn ways_on() -> Markup {
    html! {
        nav.row.no-print aria-label="The build" {
            a.button.main href="/stages" { "Stages: who, how long" }
            a.button href="/ways" { "Ways round what is short" }
            a.button href="/laydown" { "Where everything lies" }
            a.button href="/tools" { "Tools" }
            a.button href="/stakes" { "Setting out" }
            a.button href="/unloading" { "Unloading" }
            a.button href="/lifting" { "Lifting" }
            a.button href="/papers/build-day.pdf" { "The folder for the day" }
        }
    }
}

/// How far the build gets with the pieces that the answer counts on, so that both leave out the same bows; else with
/// what is likeliest there: on the day of the answer, or now.
fn far(standing: &Standing, readiness: &Readiness, today: Date, shows: Shows) -> Markup {
    let far = readiness.far(today);
    let when = match readiness.planned() {
        Some(day) => format!("on {}", claim::day_in_words(day.day)),
        None => "today".into(),
    };
    let counts_on = readiness
        .call
        .as_ref()
        .is_some_and(|call| call.far.is_some());
    html! {
        p { @if counts_on { "With the pieces that the answer counts on " (when) "." } @else { "With what is more likely than not here " (when) "." } @if counted_only(readiness, far) { " With only what somebody counted it gets as far." } @else { " With only what somebody counted it gets less far." } }
        (left_out(far))
        ol.far { @for reach in &far.stages { (stage(standing, readiness, reach)) } }
        (drawing(readiness, far, shows))
    }
}

fn counted_only(readiness: &Readiness, far: &HowFar) -> bool {
    let done = |far: &HowFar| far.stages.iter().map(|stage| stage.done).sum::<usize>();
    done(&readiness.counted) >= done(far)
}

/// Which bows are left out for now, with what to mind.
fn left_out(far: &HowFar) -> Markup {
    let later = match far.left_out.len() {
        1 => "It is set in later. ",
        _ => "They are set in later. ",
    };
    html! {
        @if !far.left_out.is_empty() {
            div.note.wait { p { strong { "Leave out " (ready::bows_in_words(&far.left_out)) " for now. " } (later) (ready::LEAVE_OUT) } }
        }
    }
}

/// One stage: a bar with its words, and what stops it.
fn stage(standing: &Standing, readiness: &Readiness, reach: &StageReach) -> Markup {
    let stages = &readiness.build.stages;
    let name = stages
        .get(reach.stage)
        .map_or("", |stage| stage.name.as_str());
    let is_done = standing
        .state
        .plans
        .worked
        .get(name)
        .is_some_and(|seen| seen.done);
    let tone = match (reach.done, reach.units) {
        (done, units) if done >= units => Tone::Good,
        (0, _) => Tone::Short,
        _ => Tone::Wait,
    };
    let short = short_of(reach);
    let waits: Vec<&str> = (reach.stops.iter())
        .filter_map(|stop| match stop {
            Stop::Before(stage) => Some(stages.get(*stage)?.name.as_str()),
            Stop::Short { .. } => None,
        })
        .collect();
    html! {
        li {
            p.stage-name {
                a href=(address::stage(name)) { (frame::capitalised(name)) }
                @if is_done { (Tone::Good.says("built")) }
                @else { (tone.says(&so_many(reach))) }
                @if let Some(bow) = reach.through_bow.filter(|bow| reach.done < reach.units && *bow < readiness.build.bows) { span { "through bow " (bow) } }
            }
            (bar(reach.done, reach.units))
            @if !is_done && !short.is_empty() {
                ul.stops {
                    @for (mark, needed, there) in short {
                        @if let Some(mark) = readiness.build.marks.get(mark) {
                            li {
                                a href=(address::ways_of(mark)) { span.mark { (mark) } }
                                (needed) " needed so far, " (there) " there "
                                a href=(address::count(mark)) { "count" span.unseen { " " (mark) } } " "
                                span.waits data-waits-for=(address::count(mark)) {}
                            }
                        }
                    }
                }
            }
            @if !is_done && !waits.is_empty() { p.soft { "Comes after " (waits.join(" and ")) ", which is not done then." } }
        }
    }
}

fn so_many(reach: &StageReach) -> String {
    match (reach.done, reach.units) {
        (0, 0) => "nothing to place".into(),
        (done, units) if done >= units && units == 1 => "can be done".into(),
        (done, units) if done >= units => format!("all {units} can be done"),
        (0, _) => "not yet".into(),
        (done, units) => format!("{done} of {units}"),
    }
}

fn short_of(reach: &StageReach) -> Vec<(usize, i64, i64)> {
    (reach.stops.iter())
        .filter_map(|stop| match stop {
            Stop::Short {
                mark,
                needed,
                there,
            } => Some((*mark, *needed, *there)),
            Stop::Before(_) => None,
        })
        .collect()
}

/// How much of a stage can be done, as a length beside the words.
fn bar(done: usize, units: usize) -> Markup {
    let share = match units {
        0 => 100.0,
        _ => 100.0 * done as f64 / units as f64,
    };
    html! {
        svg.bar viewBox="0 0 100 4" preserveAspectRatio="none" aria-hidden="true" {
            rect.all x="0" y="0" width="100" height="4" {}
            rect.done x="0" y="0" width=(format!("{share:.1}")) height="4" {}
        }
    }
}

/// The house with what can be built lit, or else what cannot.
fn drawing(readiness: &Readiness, far: &HowFar, shows: Shows) -> Markup {
    let (lit, all) = (lit::pieces(readiness, far, shows).len(), {
        let [can, cannot] = [Shows::Can, Shows::Cannot];
        lit::pieces(readiness, far, can).len() + lit::pieces(readiness, far, cannot).len()
    });
    let says = match shows {
        Shows::Can => format!("Lit: what can be built, {lit} of {all} pieces of the frame."),
        Shows::Cannot => {
            format!("Lit: what cannot be built yet, {lit} of {all} pieces of the frame.")
        }
    };
    html! {
        figure.lit {
            img src=(lit::address_of(readiness, far, shows)) alt=(says) width="1000" height="700" loading="lazy";
            figcaption { (says) }
        }
        p.row.no-print {
            a.button href="/ready?shows=can#far" aria-current=[(shows == Shows::Can).then_some("true")] { "Light what can be built" }
            a.button href="/ready?shows=cannot#far" aria-current=[(shows == Shows::Cannot).then_some("true")] { "Light what cannot yet" }
        }
    }
}
