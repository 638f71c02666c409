//! The open points: what is still to be made good or answered, who sees to it, when it is looked at next.

use axum::Extension;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use maud::{Markup, html};
use serde::Deserialize;
use tally::{About, OpenPoint, Point, PointStage, Standing};

use super::layout::{self, Way};
use super::point_forms as forms;
use super::state::{Tone, count};
use super::story;
use crate::access::Holder;
use crate::reply::{Failure, Reply, page_reply};
use crate::serve::Yard;
use crate::{address, clock};

#[derive(Deserialize, Default)]
#[serde(default)]
pub(crate) struct Asked {
    about: String,
    of: String,
    /// An event that was just taken in, to be said and to be taken back.
    done: String,
}

/// Every point, what is overdue first.
pub(crate) async fn show(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Query(asked): Query<Asked>,
) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let today = today(&standing);
    let (open, rest): (Vec<OpenPoint>, Vec<OpenPoint>) =
        (standing.points().into_iter()).partition(|point| point.stage.is_open());
    let content = html! {
        h1 { "Open points" }
        (forms::done(&standing, &asked.done))
        div data-live="points" {
            (closed(&standing, open.len()))
            (overdue(&open, &today))
            @if open.is_empty() {
                div.note.good { p { (Tone::Good.says("Nothing is open")) "What differs, what the carrier handed over otherwise than whole, and what you add yourself stands here until it is made good or closed." } }
            } @else {
                p { "What is still to be made good or answered. Touch one to say who sees to it, what was answered, or that it is done." }
                ul.points { @for point in in_turn(&open, &today) { (row(point, &today)) } }
            }
            @if !rest.is_empty() {
                details {
                    summary { "Made good or closed" span.soft { "\u{a0}· " (rest.len()) } }
                    ul.points { @for point in &rest { (row(point, &today)) } }
                }
            }
        }
        details {
            summary { "Add a point" }
            (forms::new_point())
        }
        @if standing.state.affairs.closed.is_none() {
            details {
                summary { "Close the job" }
                @match open.len() {
                    0 => p { "Nothing is open." },
                    n => p { strong { (count(n as i64, "point is open and stays so", "points are open and stay so")) "." } " They stand here and on the glance until each is made good or closed." },
                }
                (forms::close_job())
            }
        }
        p.row { a.button href="/difference" { "The difference" } a.button href="/prices" { "Prices" } a.button href="/papers" { "Papers" } }
    };
    Ok(page(&standing, &holder, "Open points", content))
}

/// One point: how it stands, its answers, and the forms that carry it on.
pub(crate) async fn one(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Query(asked): Query<Asked>,
) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let found = about_named(&asked.about).and_then(|about| {
        let point = Point::of(about, &asked.of);
        (standing.points().into_iter()).find(|known| known.point == point)
    });
    let Some(point) = found else {
        return Err(Failure::new(
            StatusCode::NOT_FOUND,
            "There is no such point, or nothing of it is left. Go to the open points and touch one.",
        ));
    };
    let today = today(&standing);
    let content = html! {
        div.count {
            h1 { (point.says) }
            (forms::done(&standing, &asked.done))
            div data-live="point" data-live-says { (how_it_stands(&standing, &point, &today)) }
            (forms::take_up(&point, &holder.who))
            (forms::answer(&standing, &point))
            (forms::close(&point))
            p { a.button href="/points" { "All points" } }
        }
    };
    Ok(page(&standing, &holder, &point.says, content))
}

fn page(
    standing: &Standing,
    holder: &Holder,
    title: &str,
    content: Markup,
) -> axum::response::Response {
    page_reply(layout::page(standing, holder, Way::Points, title, content))
}

fn how_it_stands(standing: &Standing, point: &OpenPoint, today: &str) -> Markup {
    let seen = &point.seen;
    let is_of_a_mark = point.point.about.is_of_a_mark();
    html! {
        p { (state(point, today)) @if let Some(n) = point.pieces { (count(n, "piece", "pieces")) "." } }
        @if let Some(said) = look_first(standing, &point.point) { (said) }
        dl.facts {
            dt { "Who sees to it" } dd { @if seen.owner.is_empty() { "nobody yet" } @else { (seen.owner) } }
            dt { "Looked at next" } dd { @match &seen.next { Some(day) => (clock::day_said(day)), None => "no day said" } }
            @if !seen.words.is_empty() { dt { "To be done" } dd { (seen.words) } }
        }
        @if let Some(closed) = &seen.closed {
            div.note.good {
                p { strong { "Closed" } " by " (closed.who) ", " (clock::local(closed.at)) @if !closed.words.is_empty() { ": " (closed.words) } "." }
                (forms::take_back(closed.event, "Open it again", "Opened again"))
            }
        }
        @if !seen.answers.is_empty() {
            h2 { "What was answered" }
            ul.log {
                @for answer in &seen.answers {
                    li {
                        span {
                            strong { (frame::capitalised(&paper::answer_in_words(&answer.answer, "they"))) }
                            @if !answer.words.is_empty() { ": " (answer.words) }
                            span.said { (answer.who) ", " (clock::local(answer.at)) }
                        }
                        (forms::take_back(answer.event, "Take back", "An answer taken back"))
                    }
                }
            }
        }
        @if is_of_a_mark { p { a.show href=(address::count(&point.point.of)) { "What was counted of " (point.point.of) } } }
    }
}

/// A story that is likelier than what the point says, so that nobody writes to the sender before looking.
fn look_first(standing: &Standing, point: &Point) -> Option<Markup> {
    let explanation = standing.explanation()?;
    let matter = explanation.matter(&point.of)?;
    let left = match point.about {
        About::Short => explanation.short(&point.of),
        About::Over => explanation.over(&point.of),
        _ => return None,
    };
    let check = matter.check.as_ref().filter(|_| left == 0)?;
    Some(html! {
        div.note.wait {
            p { strong { "Look first. " } (story::sentence(&story::in_words(&matter.best))) " " (story::sentence(&story::how_sure(matter))) }
            p { (story::button(standing, matter, check)) }
        }
    })
}

fn row(point: &OpenPoint, today: &str) -> Markup {
    let seen = &point.seen;
    html! {
        li {
            a href=(address::point(about_name(point.point.about), &point.point.of)) {
                strong { (point.says) }
                span { (state(point, today)) }
                small {
                    @if seen.owner.is_empty() { "nobody sees to it yet" } @else { (seen.owner) }
                    @if let Some(day) = &seen.next { ", next on " (clock::day_said(day)) }
                    @if let Some(last) = seen.answers.last() { ". Last answer: " (paper::answer_in_words(&last.answer, "they")) }
                    @if !seen.words.is_empty() { ". To be done: " (seen.words) }
                }
            }
        }
    }
}

/// How far a point has come, and whether its day has passed.
fn state(point: &OpenPoint, today: &str) -> Markup {
    let tone = match point.stage {
        PointStage::Open => Tone::Open,
        PointStage::Promised => Tone::Wait,
        PointStage::Answered => Tone::Wait,
        PointStage::MadeGood | PointStage::Closed => Tone::Good,
    };
    html! {
        (tone.says(point.stage.in_words()))
        @if is_overdue(point, today) { (Tone::Short.says("its day has passed")) }
    }
}

fn is_overdue(point: &OpenPoint, today: &str) -> bool {
    // Days are written so that their order is that of their letters.
    let next = point.seen.next.as_deref();
    point.stage.is_open() && next.is_some_and(|day| day < today)
}

/// The open points, those whose day has passed first, then by day; those without a day last.
fn in_turn<'a>(open: &'a [OpenPoint], today: &str) -> Vec<&'a OpenPoint> {
    let mut points: Vec<&OpenPoint> = open.iter().collect();
    points.sort_by_key(|point| {
        let day = point.seen.next.clone();
        (!is_overdue(point, today), day.is_none(), day)
    });
    points
}

fn overdue(open: &[OpenPoint], today: &str) -> Markup {
    let late = open.iter().filter(|point| is_overdue(point, today)).count();
    html! {
        @if late > 0 {
            div.note.short role="alert" {
                p { (Tone::Short.says(&count(late as i64, "point was to be looked at by now", "points were to be looked at by now"))) }
            }
        }
    }
}

/// That the job is closed, by whom, and what is open all the same.
fn closed(standing: &Standing, open: usize) -> Markup {
    html! {
        @if let Some(closed) = &standing.state.affairs.closed {
            div.note.(if open > 0 { "wait" } else { "good" }) {
                p {
                    strong { "This job is closed" } ", by " (closed.who) ", " (clock::local(closed.at))
                    @if !closed.words.is_empty() { ": " (closed.words) } ". "
                    @match open { 0 => "Nothing is open.", n => { (count(n as i64, "point is", "points are")) " still open." } }
                }
                (forms::take_back(closed.event, "Open the job again", "The job opened again"))
            }
        }
    }
}

/// What the glance says of the points: a closed job, days that have passed, how many are open.
pub(crate) fn on_the_glance(standing: &Standing) -> Markup {
    let today = today(standing);
    let points = standing.points();
    let open: Vec<&OpenPoint> = points
        .iter()
        .filter(|point| point.stage.is_open())
        .collect();
    let late = open.iter().filter(|point| is_overdue(point, &today));
    let late: Vec<&str> = late.map(|point| point.says.as_str()).collect();
    let is_closed = standing.state.affairs.closed.as_ref();
    html! {
        @if let Some(closed) = is_closed {
            div.note.(if open.is_empty() { "good" } else { "wait" }) {
                p {
                    strong { "This job is closed" } " (" (closed.who) ", " (clock::local(closed.at)) "). "
                    @match open.len() { 0 => "Nothing is open.", n => { (count(n as i64, "point is", "points are")) " still open: " a href="/points" { "see them" } "." } }
                }
            }
        }
        @if !late.is_empty() {
            div.note.short role="alert" {
                p { (Tone::Short.says(&count(late.len() as i64, "point was to be looked at by now", "points were to be looked at by now"))) (late[..late.len().min(3)].join("; ")) "." }
                p { a.button href="/points" { "Open points" } }
            }
        } @else if is_closed.is_none() && !open.is_empty() {
            p { a.show href="/points" { (count(open.len() as i64, "open point", "open points")) } }
        }
    }
}

/// Today on the site, as days are written.
fn today(standing: &Standing) -> String {
    let (today, _) = clock::at_site(&standing.state.affairs, store::now());
    today.to_string()
}

/// The pages of the points that are open, for whoever takes pages along.
pub(crate) fn addresses(standing: &Standing) -> impl Iterator<Item = String> {
    let open = standing
        .points()
        .into_iter()
        .filter(|point| point.stage.is_open());
    open.map(|point| address::point(about_name(point.point.about), &point.point.of))
}

/// How an address and a form name what a point is about.
const ABOUT: [(About, &str); 6] = [
    (About::Short, "short"),
    (About::Over, "over"),
    (About::Unfit, "unfit"),
    (About::List, "list"),
    (About::Carrier, "carrier"),
    (About::Other, "other"),
];

pub(crate) fn about_named(name: &str) -> Option<About> {
    ABOUT
        .iter()
        .find(|(_, known)| *known == name)
        .map(|(about, _)| *about)
}

/// What a point is about, in one word.
pub fn about_name(about: About) -> &'static str {
    let known = ABOUT.iter().find(|(known, _)| *known == about);
    known.map_or("unknown", |(_, name)| name)
}
