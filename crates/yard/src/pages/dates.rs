//! What must be done by when: each act with its day, whose rule it is, and what missing it costs.

use axum::Extension;
use axum::extract::{Query, State};
use axum::http::header;
use axum::response::IntoResponse;
use claim::{Date, Due, Harm, Rule, RuleSets, Start, Zone};
use maud::{Markup, html};
use serde::Deserialize;
use tally::{Outcome, Standing};

use super::days_off;
use super::due::{self, Place};
use super::layout::{self, Way};
use super::rules_said;
use super::state::{Tone, count};
use crate::access::Holder;
use crate::deadlines::{self, Deadlines};
use crate::reply::{Failure, Reply, page_reply};
use crate::serve::Yard;
use crate::{address, clock};

pub(crate) async fn show(State(yard): State<Yard>, Extension(holder): Extension<Holder>) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let affairs = &standing.state.affairs;
    let zone = clock::site_zone(affairs);
    let (today, _) = clock::at_site(affairs, store::now());
    let all = Deadlines::of(&standing, &zone, today);
    let content = html! {
        h1 { "What must be done by when" }
        @if let Some((shipment, due)) = deadlines::nearest(&all, today) { (next(shipment, &due)) }
        p { (claim::NO_ADVICE) }
        @if all.is_empty() {
            div.note { p { "No shipment is known yet. " a href="/tailgate" { "When the truck is here" } ", say what was handed over; the days run from then." } }
        }
        @for (at, of) in all.iter().enumerate() { (shipment(&standing, at, of, today)) }
        (site(&standing, &zone))
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Glance,
        "What must be done by when",
        content,
    )))
}

fn next(shipment: &str, due: &Due<'_>) -> Markup {
    html! {
        div.next-due {
            (due::when(due))
            p { strong { (due.rule.title) } ", to " (due.rule.to.words()) ". " (shipment) "." }
        }
    }
}

fn shipment(standing: &Standing, at: usize, of: &Deadlines, today: Date) -> Markup {
    let name = of.shipment.as_str();
    let delivery = standing.state.affairs.deliveries.get(name);
    let taken = delivery.is_some_and(|delivery| delivery.outcome != Outcome::Refused);
    let (rules, not_said) = rules_said::in_words(standing, name);
    let all = of.due(today);
    let (open, rest): (Vec<_>, Vec<_>) =
        (all.iter()).partition(|due| due.date.is_some() && due.is_open());
    let (done, rest): (Vec<_>, Vec<_>) = rest.into_iter().partition(|due| !due.is_open());
    let (waits, no_day): (Vec<_>, Vec<_>) = rest
        .into_iter()
        .partition(|due| matches!(due.state, claim::State::Waits(_)));
    let place = |n: usize| Place {
        key: format!("{at}-{n}"),
        standing,
        shipment: name,
        today,
    };
    let mut n = 0;
    let mut item = |due: &Due<'_>| {
        n += 1;
        due::item(&place(n), due)
    };
    html! {
        section.dates {
            h2 id={ "of-" (address::segment(name)) } { (name) }
            @match delivery {
                Some(delivery) if delivery.outcome == Outcome::Refused => p {
                    (Tone::Wait.says(&format!("Refused on {}.", clock::day_said(&delivery.on)))) "No day runs from a delivery until it is delivered. " a href=(address::tailgate(name)) { "The hand-over" }
                },
                Some(delivery) => p { (frame::capitalised(delivery.outcome.in_words())) " on " (clock::day_said(&delivery.on)) ". " a href=(address::tailgate(name)) { "The hand-over" } },
                None => p { (Tone::Wait.says("Not handed over yet.")) "Most days run from the hand-over. " a href=(address::tailgate(name)) { "Before the driver leaves" } },
            }
            @for odd in claim::odd_days(&of.facts, today) {
                p { (Tone::Short.says(&odd)) "Every day that follows from it would be wrong. " a href=(address::tailgate(name)) { "Put it right" } }
            }
            p {
                "Rules: " (rules) ". "
                @if let Some(not_said) = not_said { strong { (not_said) } " " }
                a href={ (address::tailgate(name)) "#freight" } { @if not_said.is_none() { "Choose others" } @else { "Choose those that hold" } }
            }
            @if !open.is_empty() { p { a.button href={ "/dates.ics?shipment=" (address::segment(name)) } { "Put these into your calendar" } @if !no_day.is_empty() || !waits.is_empty() { " " span.soft { "What has no day yet is not in that file: " (count((no_day.len() + waits.len()) as i64, "act", "acts")) " below." } } } }
            ul.dues { @for due in &open { (item(due)) } }
            @if taken {
                @if !no_day.is_empty() {
                    h3 { "Soon, without a date" }
                    ul.dues { @for due in &no_day { (item(due)) } }
                }
                (days(&place(0), &waits, of))
            } @else {
                details {
                    summary { "What will be to do" span.unseen { " for " (name) } }
                    ul.dues { @for due in &no_day { (item(due)) } }
                    (days(&place(0), &waits, of))
                }
                (never_came(&place(0), of))
            }
            @for agreed in claim::unknown_terms(RuleSets::built_in(), &of.terms) {
                p { (Tone::Open.says("Terms for a rule that is not known here")) (agreed.rule) ": " (agreed.words) }
            }
            @if !done.is_empty() {
                details { summary { "Done: " (done.len()) } ul.dues { @for due in &done { (item(due)) } } }
            }
        }
    }
}

/// The days from which periods run: those that are missing with the form that says them, and those that are known.
fn days(place: &Place<'_>, waits: &[&Due<'_>], of: &Deadlines) -> Markup {
    let waiting = |start: Start| {
        waits
            .iter()
            .filter(move |due| due.state == claim::State::Waits(start))
    };
    let missing: Vec<Start> = (Start::ALL.into_iter())
        .filter(|start| waiting(*start).next().is_some())
        .collect();
    let (later, now): (Vec<Start>, Vec<Start>) =
        missing.into_iter().partition(|start| start.comes_later());
    let asked = |start: Start| {
        html! {
            div.day-wanted {
                p { strong { (frame::capitalised(start.words())) } " is not said yet. From it run:" }
                ul { @for due in waiting(start) { li { (due.rule.title) ": " (due.period()) } } }
                @if start == Start::Delivery { p { a.button href=(address::tailgate(place.shipment)) { "Say how it was handed over" } } }
                @else { (due::say_day(place, start, None)) }
            }
        }
    };
    let known = Start::ALL
        .into_iter()
        .filter_map(|start| Some((start, of.facts.day(start)?)));
    html! {
        @for start in now { (asked(start)) }
        @if !later.is_empty() {
            details {
                summary { "Days that come later" }
                @for start in later { (asked(start)) }
            }
        }
        details {
            summary { "Days these run from" }
            @for (start, day) in known {
                div.day-wanted {
                    p { (frame::capitalised(start.words())) ": " strong { (claim::day_in_words(day)) } }
                    (due::taken_back(place, claim::start_name(start)))
                    @if start != Start::Delivery { (due::say_day(place, start, Some(day))) }
                }
            }
        }
    }
}

/// For a shipment that was not handed over: by which day it should have come, since no rule that is told yet waits for it.
fn never_came(place: &Place<'_>, of: &Deadlines) -> Markup {
    let start = Start::ShouldHaveCome;
    if of.facts.day(start).is_some() {
        return html! {};
    }
    let sets = RuleSets::built_in().sets().iter();
    let rules: Vec<&Rule> = (sets.filter(|set| of.facts.sets.contains(&set.id)))
        .flat_map(|set| &set.rules)
        .filter(|rule| rule.harm.contains(&Harm::NotDelivered) && !rule.sample)
        .collect();
    html! {
        details {
            summary { "It has not come at all" span.unseen { ": " (place.shipment) } }
            p { "Say by which day it should have come, a reasonable time for the way counted in. You have to judge that. Once that day is over, " @if rules.is_empty() { "nothing further runs by the rules known here." } @else { "there is more to do:" } }
            ul { @for rule in rules { li { (rule.title) ": " (rule.period) " from " (rule.starts.words()) } } }
            (due::say_day(place, start, None))
        }
    }
}

/// The site's time zone: whose days these are.
fn site(standing: &Standing, zone: &Zone) -> Markup {
    let said = standing.state.affairs.zone.is_some();
    html! {
        h2 { "Whose days these are" }
        p {
            "Days are those of the site, in the time zone " strong { (zone.name()) } "."
            @if !said { " Nobody has said the site's zone; this is the one of the yard computer." }
            " Business days leave out Saturdays and Sundays, and for a truck within the United States the federal holidays there. A carrier may have a list of its own; public holidays elsewhere have to be said."
        }
        (days_off::of(standing))
        details {
            summary { "Say the site's time zone" }
            form method="post" action="/zone" data-keep="Time zone of the site" {
                input type="hidden" name="id" value=(store::fresh_id());
                label for="zone" { "Time zone" }
                input type="text" id="zone" name="zone" list="zones" maxlength="80" required value=[said.then(|| zone.name())] placeholder="such as America/Halifax" autocomplete="off";
                datalist id="zones" { @for name in Zone::names() { option value=(name) {} } }
                p { button type="submit" { "Keep the time zone" } }
            }
        }
    }
}

#[derive(Deserialize)]
pub(crate) struct Of {
    #[serde(default)]
    shipment: String,
}

/// The days as a calendar file: of one shipment, or of all.
pub(crate) async fn calendar(State(yard): State<Yard>, Query(of): Query<Of>) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let affairs = &standing.state.affairs;
    let now = store::now();
    let (today, _) = clock::at_site(affairs, now);
    let mut all = Deadlines::of(&standing, &clock::site_zone(affairs), today);
    if !of.shipment.is_empty() {
        all.retain(|deadlines| deadlines.shipment == of.shipment);
        if all.is_empty() {
            return Err(Failure::new(
                axum::http::StatusCode::NOT_FOUND,
                "This job has no such shipment.",
            ));
        }
    }
    let job = yard.job.to_string();
    let made = deadlines::calendar(&job, &all, today, now, standing.state.upto);
    let made =
        made.map_err(|why| Failure::refused(format!("The yard computer's clock: {why}.")))?;
    if made.entries == 0 {
        return Err(Failure::refused(
            "Nothing has a day yet. Say first how the shipment was handed over.",
        ));
    }
    let headers = [
        (header::CONTENT_TYPE, "text/calendar; charset=utf-8"),
        (
            header::CONTENT_DISPOSITION,
            "attachment; filename=\"dates.ics\"",
        ),
    ];
    Ok((headers, made.text).into_response())
}
