//! Ways round what is short: for each mark what could be done, the cheapest plan of all together, and what to ask the
//! sender first.

use axum::Extension;
use axum::extract::State;
use maud::{Markup, PreEscaped, html};
use ready::{Help, Plan, Readiness, ShortMark, Way as WayRound};
use tally::{Money, Standing, WaySaid, WayStands};

use super::layout::{self, Way};
use super::state::{Tone, count};
use super::{answer, points};
use crate::access::Holder;
use crate::address;
use crate::reply::{Reply, page_reply};
use crate::serve::Yard;

pub(crate) async fn show(State(yard): State<Yard>, Extension(holder): Extension<Holder>) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let outlook = yard.outlook(&standing);
    // The first to ask waits for the programme, and keeps nobody else waiting.
    let help = tokio::task::block_in_place(|| outlook.help());
    let content = match (&outlook.readiness, help) {
        (Some(readiness), Some(help)) => ways(&standing, readiness, help),
        _ => html! {
            h1 { "Ways round what is short" }
            div.note { p { "What is short follows from the order. " a href="/order" { "Say what was bought" } " first." } }
        },
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Ready,
        "Ways round what is short",
        content,
    )))
}

fn ways(standing: &Standing, readiness: &Readiness, help: &Help) -> Markup {
    let when = match readiness.planned() {
        Some(day) => format!("By {}", claim::day_in_words(day.day)),
        None => "From today".into(),
    };
    html! {
        h1 { "Ways round what is short" }
        div data-live="plan" {
            @if help.shorts.is_empty() {
                div.note.good { p { (Tone::Good.says("Nothing is short")) "Every piece that the house needs is here, as far as lists and counts tell." } }
            } @else {
                p { (when) ". Prices, days and risks are our own ranges, no source: hold them against the shops near you. Whatever changes the frame is a question to the sender, and counts only once they said yes." }
                @if let Some(plan) = &help.plan { (plan_card("The cheapest plan", "No plan of these ways costs less.", plan, readiness)) }
                @if let Some(plan) = &help.runner_up { (plan_card("The next best", "No plan that does without one of those ways costs less.", plan, readiness)) }
                @if !help.stuck.is_empty() {
                    div.note.short {
                        p {
                            (Tone::Short.says("No way round"))
                            @for (mark, n) in &help.stuck { (n) " " a href=(address::count(mark)) { (mark) } " " }
                            "can only wait for the sender."
                        }
                    }
                }
            }
        }
        (questions(standing, help))
        @for short in &help.shorts { (mark(standing, readiness, short)) }
        p.row { a.button href="/ready" { "Can it start?" } a.button href="/points" { "Open points" } a.button href="/letters" { "Letters" } }
    }
}

fn plan_card(title: &str, proof: &str, plan: &Plan, readiness: &Readiness) -> Markup {
    html! {
        section.plan {
            h2 { (title) }
            ul { @for line in &plan.says { li { (line) } } }
            dl.facts {
                dt { "Cost" } dd { (range(plan.cost)) }
                dt { "There in" } dd { (days(plan.delay_days)) }
                dt { "May fail" } dd { (risk(plan.risk)) }
                dt { "Gets as far as" } dd { (reached(readiness, &plan.reaches)) }
                @if plan.if_allowed != plan.reaches { dt { "If the sender agrees" } dd { (reached(readiness, &plan.if_allowed)) } }
            }
            @if plan.proven { p.soft { (proof) } } @else { p.soft { "The best that was found; a cheaper one is not ruled out." } }
        }
    }
}

/// How many stages can be done, and which one cannot.
fn reached(readiness: &Readiness, far: &ready::HowFar) -> String {
    let stops = far.stages.iter().find(|reach| reach.done < reach.units);
    let stop = stops.and_then(|reach| {
        let name = &readiness.build.stages.get(reach.stage)?.name;
        Some(match reach.through_bow {
            // With a bow left out, the last bow is reached without all of it.
            Some(bow) if bow < readiness.build.bows => format!("{name}, through bow {bow}"),
            _ if reach.done > 0 => format!("{name}, {} of {}", reach.done, reach.units),
            _ => format!("all before {name}"),
        })
    });
    stop.unwrap_or_else(|| "the whole house".into())
}

/// What to ask the sender, as a text that can be copied or read out.
fn questions(standing: &Standing, help: &Help) -> Markup {
    let text = help.questions.join("\n");
    // About as many letters go into a line on a phone.
    let rows: usize = (help.questions.iter())
        .map(|line| 1 + line.len() / 34)
        .sum();
    let sender = (standing.ordered()).and_then(|ordered| ordered.order.sender.as_deref());
    html! {
        section.questions data-live="questions" {
            @if !help.questions.is_empty() {
                h2 { (ask_shape()) "Ask the sender first" }
                p { "To read out on the telephone, or to copy" @if let Some(sender) = sender { "; to " (sender) } "." }
                textarea.receipt-words readonly rows=(rows.clamp(3, 16)) aria-label="Questions to the sender" { (text) }
                p.row { a.button href="/points" { "Write down what they answer" } a.button href="/letters" { "Put it into a letter" } }
            }
        }
    }
}

/// A mark that is short, with every way round it.
fn mark(standing: &Standing, readiness: &Readiness, short: &ShortMark) -> Markup {
    let stage = readiness.build.stages.get(short.stage);
    let says = (standing.ordered())
        .and_then(|ordered| ordered.parts.line(&short.mark))
        .map(|line| line.part.description.as_str());
    html! {
        article.short-mark id=(address::segment(&short.mark)) {
            h2 { span.mark { (short.mark) } ": " (short.missing) " missing" }
            p {
                @if let Some(says) = says { (says) ". " }
                @if let Some(stage) = stage { "First needed for " a href=(address::stage(&stage.name)) { (stage.name) } ". " }
                a href=(address::point(points::about_name(tally::About::Short), &short.mark)) { "The open point" } ". "
                a href=(address::count(&short.mark)) { "Count " (short.mark) } "."
            }
            @if short.ways.is_empty() { p { (Tone::Short.says("no way round is known")) "Ask the sender." } }
            ul.ways-round { @for (at, way) in short.ways.iter().enumerate() { (one(standing, short, way, at)) } }
        }
    }
}

fn one(standing: &Standing, short: &ShortMark, way: &WayRound, at: usize) -> Markup {
    let key = format!("{}-{at}", address::segment(&short.mark));
    let of = (short.mark.clone(), way.key.clone());
    let said = standing.state.plans.ways.get(&of).map(|seen| &seen.said);
    html! {
        li {
            div data-live={ "way-" (key) } {
                p { strong { (frame::capitalised(&way.says)) } }
                p {
                    @if way.ask_sender { (ask_first()) }
                    @if let Some(said) = said { (stands(said)) }
                }
                dl.facts {
                    dt { "Makes good" } dd { (way.pieces.min(short.missing)) " of " (short.missing) }
                    dt { "Cost" } dd { @match way.cost { Some(cost) => (range(cost)), None => "nothing" } }
                    dt { "There in" } dd { (days(way.delay_days)) }
                    dt { "May fail" } dd { (risk(way.risk)) }
                }
                p.source { (way.source) }
            }
            (form(short, way, said, &key))
        }
    }
}

/// That the sender is asked before anything is done: word and shape.
fn ask_first() -> Markup {
    html! { span.state.over { (ask_shape()) span { "ask the sender first" } } }
}

/// A question mark in a square; decoration beside the words.
fn ask_shape() -> Markup {
    PreEscaped(
        "<svg viewBox=\"0 0 20 20\" aria-hidden=\"true\"><path fill=\"currentColor\" fill-rule=\"evenodd\" \
         d=\"M1 1h18v18H1zM6.2 7.4h2.2c0-1 .7-1.6 1.7-1.6 1 0 1.6.6 1.6 1.4 0 .8-.4 1.2-1.3 1.8-1 .7-1.5 1.4-1.4 2.9h2.1c0-.9.3-1.3 1.3-2 1-.7 1.6-1.5 1.6-2.8 0-2-1.6-3.3-3.8-3.3-2.4 0-4 1.4-4 3.6zM8.9 13.6h2.4v2.4H8.9z\"/></svg>"
            .to_owned(),
    )
}

fn stands(said: &WaySaid) -> Markup {
    let (tone, word) = match said.stands {
        WayStands::Meant => (Tone::Wait, "we mean to"),
        WayStands::Asked => (Tone::Wait, "the sender was asked"),
        WayStands::Allowed => (Tone::Good, "the sender allows it"),
        WayStands::Refused => (Tone::Short, "the sender refuses it"),
        WayStands::Dropped => (Tone::Open, "dropped"),
        WayStands::Other => (Tone::Open, "said by a newer program"),
    };
    html! {
        (tone.says(word)) (said.quantity)
        @if !said.words.is_empty() { ": " (said.words) }
    }
}

/// Says how a way stands.
fn form(short: &ShortMark, way: &WayRound, said: Option<&WaySaid>, key: &str) -> Markup {
    const WORDS: [(&str, &str); 5] = [
        ("meant", "We mean to"),
        ("asked", "The sender was asked"),
        ("allowed", "They allow it"),
        ("refused", "They refuse it"),
        ("dropped", "Dropped"),
    ];
    let field = |name: &str| format!("{key}-{name}");
    let most = way.pieces.min(short.missing);
    html! {
        details.no-print {
            summary { "Say how it stands" span.unseen { ": " (short.mark) ", " (way.says) } }
            form method="post" action="/way" data-keep={ "Way round: " (short.mark) } {
                input type="hidden" name="id" value=(store::fresh_id());
                input type="hidden" name="mark" value=(short.mark);
                input type="hidden" name="way" value=(way.key);
                fieldset {
                    legend.unseen { "How it stands" }
                    div.chips {
                        @for (name, words) in WORDS {
                            @if way.ask_sender || !matches!(name, "asked" | "allowed" | "refused") {
                                label { input type="radio" name="stands" value=(name) required; (words) }
                            }
                        }
                    }
                }
                label for=(field("n")) { "Pieces" }
                input.mark-field type="number" id=(field("n")) name="quantity" min="0" max="1000000" inputmode="numeric" required value=(said.map_or(most, |said| said.quantity));
                label for=(field("words")) { "Who said so, or on what terms (may be left empty)" }
                input type="text" id=(field("words")) name="words" maxlength="2000" autocomplete="off" value=[said.map(|said| said.words.as_str())];
                p { button type="submit" { "Keep it so" } }
            }
        }
    }
}

fn range([least, most]: [Money; 2]) -> String {
    match (least, most) {
        (least, most) if least == most => least.to_string(),
        (least, most) => format!("{least} to {most}"),
    }
}

fn days([soonest, latest]: [i64; 2]) -> String {
    match (soonest, latest) {
        (0, 0) => "at once".into(),
        (a, b) if a == b => count(a, "day", "days"),
        (a, b) => format!("{a} to {b} days"),
    }
}

fn risk(chance: f64) -> String {
    match chance {
        p if p <= 0.0 => "hardly".into(),
        p => answer::percent(p),
    }
}
