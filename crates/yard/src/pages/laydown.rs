//! Where everything lies: the drawing, the list, and what it costs to put a pile elsewhere.

use axum::Extension;
use axum::extract::{Query, State};
use maud::{Markup, PreEscaped, html};
use measure::{Grid, Length, Mass, System};
use ready::ground::{Laid, MoveCost, Pile, Point, carried_in_words, found, laydown_svg, move_cost};
use serde::Deserialize;
use tally::{Ordered, Standing};

use super::layout::{self, Way};
use super::state::{Tone, count};
use crate::access::Holder;
use crate::ground_text::millimetres;
use crate::laying::Laying;
use crate::reply::{Failure, Reply, page_reply};
use crate::serve::Yard;
use crate::{address, assets};

/// A pile that somebody thinks of putting elsewhere: by how far from where it lies, or to which spot.
#[derive(Deserialize, Default)]
#[serde(default)]
pub(crate) struct Asked {
    pile: String,
    /// "left" or "right" as somebody sees it who stands before the house and looks in.
    sideways: String,
    by_side: String,
    /// "back" or "front".
    lengthways: String,
    by_length: String,
    /// "along", "across", or as it lies.
    lies: String,
    /// What the drawing says instead: whole millimetres and hundredths of a degree.
    x: Option<i64>,
    y: Option<i64>,
    turn: Option<i64>,
}

pub(crate) async fn show(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Query(asked): Query<Asked>,
) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let laying = yard.laying.of(&standing).await?;
    let content = html! {
        h1 { "Where everything lies" }
        @match (standing.ordered(), &laying) {
            (None, _) => div.note { p { "There are no piles before there is an order. " a href="/order" { "Say what was bought" } " first." } },
            (_, None) => div.note { p { "Say what the ground is like, and the piles find their places on it: nothing where the house will stand or the truck swings, film under cover, as little as can be to carry." } p { a.button.main href="/ground" { "Give the ground" } } },
            (_, Some(Err(trouble))) => {
                div.note.short { p { (Tone::Short.says("No plan can be made of this ground")) (frame::capitalised(&trouble.to_string())) "." } p { a.button.main href="/ground" { "Put the ground right" } } }
            }
            (Some(ordered), Some(Ok(laying))) => (laid(&standing, ordered, laying, &asked)?),
        }
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Ready,
        "Where everything lies",
        content,
    )))
}

fn laid(
    standing: &Standing,
    ordered: &Ordered,
    laying: &Laying,
    asked: &Asked,
) -> Result<Markup, Failure> {
    let system = ordered.frame.system;
    let thought = thought(laying, asked, system)?;
    let mut plan = laying.plan.clone();
    if let Some(thought) = &thought {
        plan.piles.retain(|laid| laid.pile != thought.to.pile);
        plan.piles.push(thought.to);
        plan.piles.sort_by_key(|laid| laid.pile);
    }
    Ok(html! {
        @match &thought {
            Some(thought) => (cost(laying, thought, system)),
            None => (sum(laying, system)),
        }
        div.laydown data-laydown data-step=(match system { System::FeetInch => 305, System::Metric => 250 }) {
            (PreEscaped(laydown_svg(&laying.site, &laying.piles, &plan, system)))
        }
        p.soft.no-print { "Drawn to scale. On a screen a pile can be dragged, or reached with Tab and moved with the arrow keys; Enter asks what it costs." }
        p.unseen aria-live="polite" data-laydown-says {}
        (list(ordered, laying, standing))
        div.no-print {
            (moving(laying, asked))
            p.row { a.button href="/ground" { "The ground" } a.button href="/piles" { "Piles and labels" } }
        }
        script type="module" src=(assets::address("laydown.js")) {}
    })
}

/// What the plan carries, how near that is to the least, and what is not as it should be.
fn sum(laying: &Laying, system: System) -> Markup {
    let plan = &laying.plan;
    html! {
        div data-live="laydown" {
            p.total { span.big { (carried_in_words(plan.cost_kg_m, system)) } " to carry, from the truck to the piles and on to the house" }
            p.soft { (frame::capitalised(&plan.least_in_words(system))) "." }
            @for (pile, why) in &plan.unplaced {
                p { (Tone::Short.says(&format!("Place {pile} lies nowhere"))) (frame::capitalised(why)) "." }
            }
            @for fault in &plan.faults { p { (Tone::Wait.says("To be seen to")) (fault) } }
        }
    }
}

/// A place that somebody thinks of, with what it costs.
struct Thought {
    to: Laid,
    cost: MoveCost,
}

fn thought(laying: &Laying, asked: &Asked, system: System) -> Result<Option<Thought>, Failure> {
    let name = asked.pile.trim();
    if name.is_empty() {
        return Ok(None);
    }
    let no_such = || Failure::refused(format!("There is no place “{name}”."));
    let pile = (laying.piles.iter().position(|pile| pile.name == name)).ok_or_else(no_such)?;
    let here = laying.plan.piles.iter().find(|laid| laid.pile == pile);
    let site = &laying.site;
    let (at, turn) = match (asked.x, asked.y) {
        (Some(x), Some(y)) => {
            let most = tally::MAX_AWAY;
            let metres = |mm: i64| mm.clamp(-most, most) as f64 / 1_000.0;
            let hundredths = asked.turn.unwrap_or(0).clamp(-36_000, 36_000) as f64;
            let turn = (hundredths / 100.0).to_radians();
            (Point::new(metres(x), metres(y)), turn)
        }
        _ => {
            let here = here.ok_or_else(|| {
                Failure::refused(format!(
                    "Place {name} lies nowhere yet; drag it on the drawing."
                ))
            })?;
            let by = |what: &str, text: &str, back: bool| {
                let text = if text.trim().is_empty() { "0" } else { text };
                let by = millimetres(what, text, system)
                    .map_err(|why| Failure::refused(format!("{why}.")))?;
                let by = by.clamp(-tally::MAX_AWAY, tally::MAX_AWAY) as f64 / 1_000.0;
                Ok::<f64, Failure>(if back { -by } else { by })
            };
            let from = site.to_house(here.at);
            let right = by("Sideways", &asked.by_side, asked.sideways == "left")?;
            let back = by("Lengthways", &asked.by_length, asked.lengthways == "front")?;
            let to = site.to_ground(Point::new(from.x + right, from.y + back));
            let turn = match asked.lies.as_str() {
                "along" => site.turn_to_ground(std::f64::consts::FRAC_PI_2),
                "across" => site.turn_to_ground(0.0),
                _ => here.turn,
            };
            (to, turn)
        }
    };
    let cost = move_cost(site, &laying.piles, &laying.plan, pile, at, turn);
    let to = Laid {
        pile,
        at,
        turn,
        carry_kg_m: 0.0,
        by_hand: true,
    };
    Ok(Some(Thought { to, cost }))
}

/// What it changes to put the pile there; it is kept only when somebody says so.
fn cost(laying: &Laying, thought: &Thought, system: System) -> Markup {
    let (pile, to, cost) = (&laying.piles[thought.to.pile], &thought.to, &thought.cost);
    let there = found(&laying.site, pile, to);
    let says = match cost.change_kg_m {
        change if !change.is_finite() => "nobody can walk there".to_owned(),
        change if change.abs() < 0.5 => "as much to carry as before".to_owned(),
        change => format!(
            "{} {} to carry, {:.1} % of all",
            carried_in_words(change.abs(), system),
            if change > 0.0 { "more" } else { "less" },
            cost.share.abs() * 100.0
        ),
    };
    let tone = match (cost.faults.is_empty(), cost.change_kg_m > 0.5) {
        (false, _) => Tone::Short,
        (true, true) => Tone::Wait,
        (true, false) => Tone::Good,
    };
    let (x, y) = (
        (to.at.x * 1_000.0).round() as i64,
        (to.at.y * 1_000.0).round() as i64,
    );
    let turn = (to.turn.to_degrees() * 100.0).round() as i64;
    html! {
        div.note.(tone.class()) role="status" {
            p { (tone.says(&format!("Place {}: {says}", pile.name))) }
            p { "There it is " (there.corner) ", " (there.lies) "." }
            @for fault in &cost.faults { p { (fault) } }
            div.row {
                form method="post" action="/laydown/put" data-keep={ "Place " (pile.name) " put elsewhere" } {
                    input type="hidden" name="id" value=(store::fresh_id());
                    input type="hidden" name="pile" value=(pile.name);
                    input type="hidden" name="x" value=(x);
                    input type="hidden" name="y" value=(y);
                    input type="hidden" name="turn" value=(turn);
                    button.main type="submit" { "Keep it there" }
                }
                a.button href="/laydown" { "Leave it where it was" }
            }
        }
    }
}

/// Every pile: what it is, how it lies, and where a person finds it with a tape.
fn list(ordered: &Ordered, laying: &Laying, standing: &Standing) -> Markup {
    let system = ordered.frame.system;
    html! {
        h2 { "The places" }
        p.soft { "Left, right, before and behind as somebody sees it who stands before the front of the house and looks in; to the corner nearest to the stake. What the build needs first lies on top." }
        table.fold {
            caption { (count(laying.piles.len() as i64, "place", "places")) ", in the order in which the build needs them" }
            thead { tr { th { "Place" } th { "What, from the top" } th.num { "Mass" } th { "Size" } th { "Where" } th { "How" } } }
            tbody {
                @for (i, pile) in laying.piles.iter().enumerate() {
                    @let laid = laying.plan.piles.iter().find(|laid| laid.pile == i);
                    tr data-row=(pile.name) {
                        th scope="row" { span.ringed { (pile.name) } }
                        td.wide data-label="What" { strong { (pile.says) } (marks(pile)) }
                        td.num data-label="Mass" { (mass(pile, system)) }
                        td data-label="Size" { (size(pile, system)) }
                        td.wide data-label="Where" { (place(laying, standing, pile, laid)) }
                        td.wide data-label="How" { @for words in &pile.care { span.said { (words) } } }
                    }
                }
            }
        }
    }
}

/// The marks of a pile; those in bins by the bag that they came in.
fn marks(pile: &Pile) -> Markup {
    let mut bins: Vec<&str> = Vec::new();
    for bin in pile.from_top.iter().filter_map(|mark| mark.bin.as_deref()) {
        if !bins.contains(&bin) {
            bins.push(bin);
        }
    }
    let of = |bin: Option<&str>| {
        let marks = pile
            .from_top
            .iter()
            .filter(move |m| m.bin.as_deref() == bin);
        html! { @for (i, mark) in marks.enumerate() { @if i > 0 { ", " } a.show href=(address::count(&mark.mark)) { (mark.mark) } "\u{a0}×\u{a0}" (mark.pieces) } }
    };
    html! {
        @if bins.is_empty() { span.said { (of(None)) } }
        @for bin in bins { span.said { (frame::capitalised(bin)) ": " (of(Some(bin))) } }
    }
}

fn mass(pile: &Pile, system: System) -> String {
    Mass::from_kilograms(pile.mass).map_or_else(String::new, |mass| mass.write(system, 0))
}

fn size(pile: &Pile, system: System) -> String {
    let grid = match system {
        System::FeetInch => Grid::inch_fraction(1),
        System::Metric => Some(Grid::CENTIMETRE),
    };
    let said = |metres: f64| {
        let length = grid.and_then(|grid| Some((Length::from_metres(metres, grid)?, grid)));
        length.map_or_else(String::new, |(length, grid)| length.write(system, grid))
    };
    format!(
        "{} by {}, {} high",
        said(pile.length),
        said(pile.width),
        said(pile.height)
    )
}

fn place(laying: &Laying, standing: &Standing, pile: &Pile, laid: Option<&Laid>) -> Markup {
    let Some(laid) = laid else {
        return html! { (Tone::Short.says("nowhere yet")) };
    };
    let there = found(&laying.site, pile, laid);
    html! {
        span.said { (frame::capitalised(&there.corner)) }
        span.said { (there.lies) "; tapes: " (there.tapes) }
        @if laid.by_hand && standing.state.plans.spots.contains_key(&pile.name) {
            form.inline.no-print method="post" action="/laydown/put" data-keep={ "Place " (pile.name) ": the plan chooses again" } {
                input type="hidden" name="id" value=(store::fresh_id());
                input type="hidden" name="pile" value=(pile.name);
                span.said { "Put there by hand." }
                button type="submit" { "Let the plan choose again" }
            }
        }
    }
}

/// The same by words, for whoever does not drag.
fn moving(laying: &Laying, asked: &Asked) -> Markup {
    html! {
        h2 { "Put it elsewhere" }
        form method="get" action="/laydown" {
            label for="pile" { "Place" }
            select id="pile" name="pile" { @for pile in &laying.piles { option value=(pile.name) selected[pile.name == asked.pile] { (pile.name) " · " (pile.says) } } }
            div.three {
                div { label for="by_side" { "Sideways by" } input type="text" id="by_side" name="by_side" maxlength="40" value="0" autocomplete="off"; }
                div { label for="sideways" { "To the" } select id="sideways" name="sideways" { option value="left" { "left" } option value="right" { "right" } } }
            }
            div.three {
                div { label for="by_length" { "Along the house by" } input type="text" id="by_length" name="by_length" maxlength="40" value="0" autocomplete="off"; }
                div { label for="lengthways" { "To the" } select id="lengthways" name="lengthways" { option value="back" { "back" } option value="front" { "front" } } }
            }
            label for="lies" { "Its long side" }
            select id="lies" name="lies" { option value="" { "as it lies" } option value="along" { "along the house" } option value="across" { "across the house" } }
            p { button.main type="submit" { "What would it cost?" } }
        }
    }
}
