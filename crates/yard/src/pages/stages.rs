//! The stages of the build, a card each: what goes where, who does it in how long, with which tools, and with what care.

use axum::Extension;
use axum::extract::State;
use frame::PartsList;
use maud::{Markup, html};
use ready::{HowFar, PaceRests, Readiness, StageWork};
use tally::{Ordered, Standing};

use super::layout::{self, Way};
use super::state::{Tone, count};
use crate::access::Holder;
use crate::address;
use crate::reply::{Reply, page_reply};
use crate::serve::Yard;

pub(crate) async fn show(State(yard): State<Yard>, Extension(holder): Extension<Holder>) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let outlook = yard.outlook(&standing);
    let content = match (standing.ordered(), &outlook.readiness) {
        (Some(ordered), Some(readiness)) => {
            cards(&standing, ordered, readiness, readiness.far(outlook.today))
        }
        _ => html! {
            h1 { "Stages of the build" }
            div.note { p { "They follow from the order. " a href="/order" { "Say what was bought" } " first." } }
        },
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Ready,
        "Stages of the build",
        content,
    )))
}

fn cards(standing: &Standing, ordered: &Ordered, readiness: &Readiness, far: &HowFar) -> Markup {
    let people = people(readiness);
    html! {
        h1 { "Stages of the build" }
        p { "Hours are ranges, from a quick pace to a slow one, for " (count(people as i64, "person", "people")) ". " (ready::SENDER_FIRST) }
        p.row.no-print { a.button href="/ready" { "Can it start?" } a.button href="/tools" { "Tools" } a.button href="/ways" { "Ways round what is short" } }
        @for work in &readiness.works { (card(standing, ordered, readiness, far, work, people)) }
    }
}

/// How many people hours are told for: those of the day of the answer, else a crew of eight.
fn people(readiness: &Readiness) -> usize {
    let planned = readiness.planned().map(|day| day.people);
    planned
        .and_then(|people| usize::try_from(people).ok())
        .filter(|people| *people > 0)
        .unwrap_or(8)
}

fn card(
    standing: &Standing,
    ordered: &Ordered,
    readiness: &Readiness,
    far: &HowFar,
    work: &StageWork,
    people: usize,
) -> Markup {
    let name = work.name.as_str();
    let key = address::segment(name);
    let follows: Vec<&str> = (readiness.build.stages.get(work.stage).into_iter())
        .flat_map(|stage| &stage.follows)
        .filter_map(|at| Some(readiness.build.stages.get(*at)?.name.as_str()))
        .collect();
    let parts = parts_of(&ordered.parts, name);
    html! {
        article.stage id=(key) {
            h2 { span.n { (work.stage + 1) } (frame::capitalised(name)) }
            div data-live={ "stage-" (key) } {
                p { (state(far, work, readiness.build.bows)) @if !follows.is_empty() { "After " (follows.join(", ")) "." } }
                p { (work.says) }
                dl.facts {
                    dt { "People" } dd { (who(work)) }
                    dt { "Hours" } dd { (hours(work, people)) }
                    @if let Some(weather) = &work.weather { dt { "Weather" } dd { (weather) } }
                    @if !work.tools.is_empty() { dt { "Tools" } dd { (tools(work)) } }
                    @if !work.wear.is_empty() { dt { "Wear" } dd { (frame::capitalised(&work.wear.join(", "))) } }
                }
                p.source { (rests(work.rests)) }
                @if !work.cautions.is_empty() {
                    div.note.wait { ul.cautions { @for caution in &work.cautions { li { (caution) } } } }
                }
            }
            @if !parts.is_empty() {
                details {
                    summary { "What it needs, and where that lies (" (count(parts.len() as i64, "mark", "marks")) ")" }
                    figure.lit {
                        img src=(address::stage_drawing(name)) alt={ "The house with all for " (name) " lit" } width="1000" height="700" loading="lazy";
                    }
                    table.fold.parts data-live={ "parts-" (key) } {
                        thead { tr { th { "Mark" } th { "What it is" } th.num { "Needed" } th { "Where it lies" } } }
                        tbody { @for (mark, says, needed) in &parts { (part(standing, mark, says, *needed)) } }
                    }
                }
            }
            @if !work.sources.is_empty() {
                details { summary { "Where this comes from" } ul.source { @for source in &work.sources { li { (source) } } } }
            }
            (record(standing, work, &key))
        }
    }
}

fn state(far: &HowFar, work: &StageWork, bows: usize) -> Markup {
    let reach = far.stages.iter().find(|reach| reach.stage == work.stage);
    html! {
        @match reach {
            _ if work.done => (Tone::Good.says("built")),
            _ if work.is_nothing() => (Tone::Open.says("nothing of it in this house")),
            Some(reach) if reach.done >= reach.units => (Tone::Good.says("its parts are there")),
            Some(reach) if reach.done > 0 => {
                (Tone::Wait.says(&format!("parts for {} of {}", reach.done, reach.units)))
                @if let Some(bow) = reach.through_bow.filter(|bow| *bow < bows) { "Through bow " (bow) ". " }
            },
            _ => (Tone::Short.says("it cannot be done with what is there")),
        }
    }
}

fn who(work: &StageWork) -> String {
    match work.people {
        [_, 0] => "none".into(),
        [fewest, most] if fewest == most => count(fewest as i64, "person", "people"),
        [fewest, most] => format!("{fewest} at least; up to {most} are of use"),
    }
}

/// The hours of a crew, from a quick pace to a slow one.
fn hours(work: &StageWork, people: usize) -> String {
    let worked = match work.worked {
        0 => String::new(),
        minutes => format!(
            "; {} person-hours worked so far",
            tenths(minutes as f64 / 60.0)
        ),
    };
    let hours = match ready::hours(work, people) {
        Some([quick, slow]) if tenths(quick) == tenths(slow) => format!("{} h", tenths(slow)),
        Some([quick, slow]) => format!("{} to {} h", tenths(quick), tenths(slow)),
        None if work.person_minutes.is_none() => "not told: this kind of work is not known".into(),
        None => format!("it takes {} at least", work.people[0]),
    };
    format!("{hours}{worked}")
}

fn tenths(hours: f64) -> String {
    match hours {
        h if h < 0.1 => "under 0.1".into(),
        h if h < 10.0 => format!("{h:.1}"),
        h => format!("{h:.0}"),
    }
}

fn rests(rests: PaceRests) -> &'static str {
    match rests {
        PaceRests::OurRates => "Hours: our own rates, no source.",
        PaceRests::CrewsPace => {
            "Hours: our own rates, no source, times the pace that this crew recorded."
        }
        PaceRests::Recorded => "Hours: as this crew recorded them.",
        PaceRests::Unknown => "Hours: not known, no source.",
    }
}

fn tools(work: &StageWork) -> String {
    let tools: Vec<String> = (work.tools.iter())
        .map(|need| match (need.quantity, need.useful) {
            (few, many) if few >= many => format!("{few} × {}", need.tool),
            (few, many) => format!("{few} × {}, of use up to {many}", need.tool),
        })
        .collect();
    tools.join(", ")
}

/// The marks of a stage, with what each is and how many it needs.
fn parts_of<'a>(parts: &'a PartsList, stage: &str) -> Vec<(&'a str, &'a str, i64)> {
    (parts.lines.iter())
        .map(|line| {
            let places = line.places.iter().filter(|place| place.stage == stage);
            let needed = places.map(|place| place.quantity).sum();
            (
                line.part.mark.0.as_str(),
                line.part.description.as_str(),
                needed,
            )
        })
        .filter(|(_, _, needed)| *needed > 0)
        .collect()
}

fn part(standing: &Standing, mark: &str, says: &str, needed: i64) -> Markup {
    let piles = (standing.state.marks.get(mark)).map_or_else(Vec::new, |seen| seen.piles());
    let lies: Vec<String> = (piles.iter())
        .map(|pile| match &pile.pile {
            Some(name) => format!("{} in {name}", pile.stands),
            None => format!("{} counted, no pile said", pile.stands),
        })
        .collect();
    html! {
        tr {
            th scope="row" { a.mark href=(address::count(mark)) { (mark) } }
            td.wide { (says) }
            td.num.big data-label="Needed" { (needed) }
            td.wide {
                @if lies.is_empty() { span.soft { "not counted yet" } } @else { (lies.join("; ")) }
                " " span.waits data-waits-for=(address::count(mark)) {}
            }
        }
    }
}

/// Says what was worked, or that the stage is done; takes the last word back.
fn record(standing: &Standing, work: &StageWork, key: &str) -> Markup {
    let seen = standing.state.plans.worked.get(&work.name);
    let last = seen.and_then(|seen| seen.event);
    let field = |name: &str| format!("{key}-{name}");
    html! {
        details.no-print {
            summary { "Record work" span.unseen { ": " (work.name) } }
            form method="post" action="/worked" data-keep={ "Work: " (work.name) } {
                input type="hidden" name="id" value=(store::fresh_id());
                input type="hidden" name="stage" value=(work.name);
                div.pair {
                    div { label for=(field("people")) { "People" } input type="number" id=(field("people")) name="people" min="1" max="1000" inputmode="numeric"; }
                    div { label for=(field("hours")) { "Hours each" } input type="text" id=(field("hours")) name="hours" inputmode="decimal" maxlength="10" autocomplete="off"; }
                }
                div.chips { label { input type="checkbox" name="done" value="yes" checked[work.done]; "It is done" } }
                p.soft { "What your own crew takes goes before our rates from then on." }
                p { button type="submit" { "Keep it" span.unseen { ": " (work.name) } } }
            }
        }
        div data-live={ "undo-" (key) } {
            @if let Some(event) = last {
                form.inline method="post" action="/undo" data-keep={ "Undo: work on " (work.name) } {
                    input type="hidden" name="id" value=(store::fresh_id());
                    input type="hidden" name="event" value=(event);
                    input type="hidden" name="to" value="/stages";
                    button type="submit" { "Undo the last record" span.unseen { ": " (work.name) } }
                }
            }
        }
    }
}
