//! The tally of tools: what the stages that are left need, and what is here.

use axum::Extension;
use axum::extract::State;
use maud::{Markup, html};
use ready::ToolTally;
use tally::Standing;

use super::layout::{self, Way};
use super::state::{Tone, count};
use crate::access::Holder;
use crate::reply::{Reply, page_reply};
use crate::serve::Yard;

pub(crate) async fn show(State(yard): State<Yard>, Extension(holder): Extension<Holder>) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let outlook = yard.outlook(&standing);
    let readiness = outlook.readiness.as_ref();
    let works = readiness.map_or(&[][..], |readiness| &readiness.works);
    let needed = ready::tools_needed(works);
    let names: Vec<&str> = works.iter().map(|work| work.name.as_str()).collect();
    let content = html! {
        h1 { "Tools" }
        @if needed.is_empty() {
            div.note { p { "No stage that is left needs a tool that we know of." } }
        } @else {
            p { "What the stages that are left need: as many as the stage that needs most, for tools go from one stage to the next. " (ready::SENDER_FIRST) }
            div data-live="lacking" data-live-says { (lacking(&standing, &needed)) }
            ul.tools { @for (at, tool) in needed.iter().enumerate() { (row(&standing, at, tool, &names)) } }
        }
        (others(&standing, &needed))
        p.row { a.button href="/stages" { "Stages" } a.button href="/ready" { "Can it start?" } }
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Ready,
        "Tools",
        content,
    )))
}

fn lacking(standing: &Standing, needed: &[ToolTally]) -> Markup {
    let here = |tool: &ToolTally| standing.state.plans.tools.get(&tool.tool).copied();
    let unseen = needed.iter().filter(|tool| here(tool).is_none()).count();
    let few = needed
        .iter()
        .filter(|tool| here(tool).is_some_and(|n| n < tool.quantity))
        .count();
    html! {
        p {
            @if few > 0 { (Tone::Short.says(&count(few as i64, "tool is too few", "tools are too few"))) }
            @if unseen > 0 { (Tone::Open.says(&count(unseen as i64, "tool not counted yet", "tools not counted yet"))) }
            @if few == 0 && unseen == 0 { (Tone::Good.says("every tool is here")) }
        }
    }
}

fn row(standing: &Standing, at: usize, tool: &ToolTally, names: &[&str]) -> Markup {
    let here = standing.state.plans.tools.get(&tool.tool).copied();
    let stages: Vec<&str> = (tool.stages.iter())
        .filter_map(|stage| names.get(*stage).copied())
        .collect();
    let field = format!("tool-{at}");
    html! {
        li {
            div {
                strong { (frame::capitalised(&tool.tool)) }
                span.said {
                    (tool.quantity) " needed"
                    @if tool.useful > tool.quantity { ", up to " (tool.useful) " of use" }
                    ": " (stages.join(", "))
                }
                div data-live={ "state-" (field) } {
                    @match here {
                        None => (Tone::Open.says("not counted yet")),
                        Some(n) if n < tool.quantity => (Tone::Short.says(&format!("{} too few", tool.quantity - n))),
                        Some(n) if n < tool.useful => (Tone::Good.says("enough to work")),
                        Some(_) => (Tone::Good.says("enough")),
                    }
                }
            }
            form method="post" action="/tool" data-keep={ "Tools: " (tool.tool) } {
                input type="hidden" name="id" value=(store::fresh_id());
                input type="hidden" name="tool" value=(tool.tool);
                label for=(field) { "Here" span.unseen { ": " (tool.tool) } }
                input type="number" id=(field) name="quantity" min="0" max="1000000" inputmode="numeric" required value=[here];
                button type="submit" { "Keep" span.unseen { ": " (tool.tool) } }
            }
        }
    }
}

/// Tools that somebody wrote down and no stage asks for, and one more.
fn others(standing: &Standing, needed: &[ToolTally]) -> Markup {
    let asked = |name: &String| needed.iter().any(|tool| tool.tool == *name);
    let others = (standing.state.plans.tools.iter()).filter(|(name, n)| !asked(name) && **n > 0);
    html! {
        h2 { "Other tools" }
        ul data-live="others" { @for (name, quantity) in others { li { (quantity) " × " (name) } } }
        details {
            summary { "Add a tool" }
            form method="post" action="/tool" data-keep="A tool" {
                input type="hidden" name="id" value=(store::fresh_id());
                label for="tool" { "Tool" }
                input type="text" id="tool" name="tool" maxlength="80" required autocomplete="off";
                label for="quantity" { "How many" }
                input.mark-field type="number" id="quantity" name="quantity" min="0" max="1000000" inputmode="numeric" required;
                p { button type="submit" { "Add it" } }
            }
        }
    }
}
