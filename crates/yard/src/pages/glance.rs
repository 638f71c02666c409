//! The job at a glance: what fits and what does not, in words with numbers, and what to do next.

use axum::Extension;
use axum::extract::State;
use maud::{Markup, html};
use tally::{Difference, Explanation, Standing, Verdict};

use super::layout::{self, Way};
use super::state::{Tone, count};
use super::{again, answer, due, points, story, tailgate};
use crate::access::Holder;
use crate::deadlines::{self, Deadlines};
use crate::reply::{Reply, page_reply};
use crate::serve::Yard;
use crate::{address, clock};

pub(crate) async fn show(State(yard): State<Yard>, Extension(holder): Extension<Holder>) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let outlook = yard.outlook(&standing);
    let content = html! {
        h1 { "The job at a glance" }
        @if let Some(readiness) = &outlook.readiness { (answer::on_the_glance(readiness)) }
        (points::on_the_glance(&standing))
        (at_the_gate(&standing))
        (steps(&standing))
        (next_day(&standing))
        @if let Some(difference) = &standing.difference {
            (figures(difference, standing.explanation()))
            @if let Some(said) = again::differing(&difference.marks) {
                div.note.short { p { (said) ". A third look settles each: " a href="/count" { "Count" } " shows where." } }
            }
            @if let Some(explanation) = standing.explanation() { (story::brief(&standing, explanation, 3)) }
        }
        (before_the_bands(&standing))
        (shipments(&standing))
        (notes(&standing))
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Glance,
        "At a glance",
        content,
    )))
}

/// The first thing that is still to be done, where there is one.
fn steps(standing: &Standing) -> Markup {
    match standing.order.as_deref() {
        None => html! {
            div.note { p { "There is no order yet. " a href="/order" { "Say what was bought" } ", and Tallyard works out every part it should have." } }
        },
        Some(Err(why)) => html! {
            div.note.short { p { "The order cannot be used: " (why) } p { a href="/order" { "Mend the order" } } }
        },
        Some(Ok(ordered)) => html! {
            p {
                (ordered.family.title) ", " (ordered.frame.length.tape(ordered.frame.system)) " long, "
                (ordered.frame.bows) " bows. It needs " strong { (ordered.parts.pieces()) " pieces" } " of "
                (ordered.parts.lines.len()) " marks, " (format!("{:.0} kg", ordered.parts.mass().to_kilograms()))
                " (" (format!("{:.0} lb", ordered.parts.mass().to_pounds())) ") without crates."
            }
            @if standing.lists.is_empty() {
                div.note { p { "No packing list yet. " a href="/list" { "Bring in the packing list" } " to hold it against the order." } }
            }
            @for list in &standing.lists {
                @for trouble in &list.troubles {
                    div.note.short role="alert" {
                        p { strong { "This list may be for another house: " } (trouble) "." }
                        p { a href="/list" { "Look at the list" } " before anything is counted." }
                    }
                }
            }
        },
    }
}

/// The way to the page for the ten minutes at the truck, as long as a shipment is awaited or its hand-over is not
/// written down.
fn at_the_gate(standing: &Standing) -> Markup {
    let awaited = tailgate::awaited(standing);
    let all_kept = !standing.shipments.is_empty();
    html! {
        @match awaited.as_slice() {
            [] if all_kept => {},
            [one] => p { a.button href=(address::tailgate(one)) { "The truck is here: before the driver leaves" } },
            _ => p { a.button href="/tailgate" { "The truck is here: before the driver leaves" } },
        }
    }
}

/// The next day by which something must be done, in one line.
fn next_day(standing: &Standing) -> Markup {
    let affairs = &standing.state.affairs;
    let (today, _) = clock::at_site(affairs, store::now());
    let all = Deadlines::of(standing, &clock::site_zone(affairs), today);
    let known = !affairs.deliveries.is_empty();
    html! {
        @match deadlines::nearest(&all, today) {
            Some((shipment, due)) if known => p.next-day {
                (Tone::Wait.says(&due::left_in_words(&due)))
                (due.rule.title) ", " (shipment) ". " a href="/dates" { "What must be done by when" }
            },
            _ if known => p { a href="/dates" { "What must be done by when" } },
            _ => {},
        }
    }
}

/// What is to be done while the load is still as it came, and what proves the damage.
fn before_the_bands(standing: &Standing) -> Markup {
    let wrong = standing.state.proofs_missing();
    let begun = !standing.state.marks.is_empty();
    html! {
        @if standing.ordered().is_some() && !begun {
            div.note.wait {
                p { strong { "Before a band is cut: " } "photograph all four sides, the top and the labels, and look through what looks alike." }
                p.row { a.button href="/photos" { "Photos" } a.button href="/look-alikes" { "What looks alike" } }
            }
        }
        @if wrong > 0 {
            div.note.wait {
                p { strong { (count(wrong as i64, "photo", "photos")) " of what is wrong still to be taken. " } "Before the pieces are moved." }
                p { a.button href="/photos#wrong" { "Take them" } }
            }
        }
    }
}

fn figures(difference: &Difference, explanation: Option<&Explanation>) -> Markup {
    let all = difference.marks.len();
    let pieces =
        |of: fn(&tally::MarkDifference) -> i64| difference.marks.iter().map(of).sum::<i64>();
    let fits = difference
        .marks
        .iter()
        .filter(|m| m.on_hand.is_counted() && m.is_well())
        .count();
    let open = difference.not_counted();
    // Only what nothing likelier explains is called short.
    let likely = |of: fn(&Explanation, &str) -> i64| -> (i64, usize) {
        let of =
            |mark: &tally::MarkDifference| explanation.map_or(0, |known| of(known, &mark.mark));
        let each = difference.marks.iter().map(of).filter(|n| *n > 0);
        each.fold((0, 0), |(sum, marks), n| (sum + n, marks + 1))
    };
    let (short, short_marks) = likely(Explanation::short);
    let (over, over_marks) = likely(Explanation::over);
    let unfit = pieces(|m| m.on_hand.unfit());
    let coming = pieces(|m| m.coming);
    let figure = |tone: Tone, n: i64, what: String, path: &str| {
        html! {
            li {
                a href=(path) {
                    span.n.(tone.class()) { (tone.shape()) (n) }
                    span.what { (what) }
                }
            }
        }
    };
    html! {
        ul.figures {
            (figure(Tone::Good, fits as i64, format!("of {all} marks fit"), "/difference"))
            (figure(Tone::Open, open as i64, "marks not counted yet".into(), "/count"))
            (figure(Tone::Short, short, format!("{} short{}", plural(short), of_marks(short_marks)), "/difference"))
            (figure(Tone::Over, over, format!("{} over{}", plural(over), of_marks(over_marks)), "/difference"))
            (figure(Tone::Short, unfit, format!("{} not fit for use", plural(unfit)), "/difference#unfit"))
            (figure(Tone::Wait, coming, format!("{} to come in another shipment", plural(coming)), "/difference#coming"))
        }
    }
}

fn of_marks(n: usize) -> String {
    match n {
        0 => String::new(),
        1 => ", of 1 mark".into(),
        n => format!(", of {n} marks"),
    }
}

fn plural(n: i64) -> &'static str {
    if n == 1 { "piece" } else { "pieces" }
}

fn shipments(standing: &Standing) -> Markup {
    html! {
        @if !standing.shipments.is_empty() {
            h2 { "Shipments" }
            @if came_early(standing) {
                div.note.wait { p { "Pieces were counted that the list has in a shipment nobody has said is here. Is it?" } }
            }
            @for (name, arrived) in &standing.shipments {
                @let seen = standing.state.shipments.get(name);
                form.row method="post" action="/shipment" data-keep="Shipment arrived" {
                    input type="hidden" name="id" value=(store::fresh_id());
                    input type="hidden" name="shipment" value=(name);
                    p {
                        @if *arrived { (Tone::Good.says(&format!("{name} has arrived"))) }
                        @else {
                            (Tone::Wait.says(&format!("{name} is on its way")))
                            @if let Some(due) = seen.and_then(|s| s.due.as_deref()) { span.soft { "due " (due) } }
                        }
                    }
                    @if !arrived { button type="submit" { "It is here" } }
                }
            }
        }
    }
}

fn came_early(standing: &Standing) -> bool {
    (standing.difference.iter())
        .flat_map(|difference| difference.with(|v| matches!(v, Verdict::Early(_))))
        .next()
        .is_some()
}

fn notes(standing: &Standing) -> Markup {
    html! {
        h2 { "Notes" }
        @if standing.state.notes.is_empty() { p.soft { "None yet." } }
        @for note in standing.state.notes.iter().rev() {
            p {
                @if let Some(mark) = &note.mark { a.mark href=(address::count(mark)) { (mark) } " " }
                (note.words) " " span.soft { "· " (note.who) ", " (crate::clock::local(note.at)) }
            }
        }
        form method="post" action="/note" data-keep="Note for the whole job" {
            input type="hidden" name="id" value=(store::fresh_id());
            label for="words" { "Note for the whole job" }
            input type="text" id="words" name="words" maxlength="2000" required;
            p { button type="submit" { "Keep the note" } }
        }
    }
}
