//! The piles: what lies in each, where it is, and the labels that open its count page.

use axum::Extension;
use axum::extract::State;
use maud::{Markup, html};
use tally::{Agreement, Ordered, PileSeen, Standing};

use super::layout::{self, Way};
use super::state::Tone;
use crate::access::Holder;
use crate::address;
use crate::reply::{Reply, page_reply};
use crate::serve::Yard;

/// A pile of one mark: the mark, and what stands in it.
pub(crate) fn of_job(standing: &Standing) -> Vec<(&str, PileSeen)> {
    let named = |pile: &PileSeen| pile.pile.is_some();
    let mut piles: Vec<(&str, PileSeen)> = (standing.state.marks.iter())
        .flat_map(|(mark, seen)| {
            let piles = seen.piles().into_iter().filter(named);
            piles.map(move |pile| (mark.as_str(), pile))
        })
        .collect();
    piles.sort_by(|(mark, pile), (other, beside)| (&pile.pile, mark).cmp(&(&beside.pile, other)));
    piles
}

pub(crate) async fn show(State(yard): State<Yard>, Extension(holder): Extension<Holder>) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let content = html! {
        h1 { "Piles" }
        p { "A pile gets its name when something is counted in it. Its label carries a code that opens the count page with a phone's own camera." }
        @match standing.ordered() {
            Some(ordered) => (table(&standing, ordered)),
            None => div.note { p { "There are no marks before there is an order. " a href="/order" { "Say what was bought" } "." } },
        }
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Count,
        "Piles",
        content,
    )))
}

fn table(standing: &Standing, ordered: &Ordered) -> Markup {
    let piles = of_job(standing);
    html! {
        @if piles.is_empty() {
            div.note { p { "No pile has a name yet. Open “Pile” on a count page and give it one, such as A or North 2." } }
        } @else {
            p.row {
                a.button.main href="/piles/labels" { "Print labels" }
            }
            table.fold {
                caption { "Each pile with what stands in it" }
                thead { tr { th { "Pile" } th { "Mark" } th.num { "Pieces" } th { "Where it lies" } } }
                tbody {
                    @for (mark, pile) in &piles {
                        @let name = pile.pile.as_deref().unwrap_or_default();
                        tr {
                            th scope="row" { (name) }
                            td data-label="Mark" {
                                a.show href=(address::count_at(mark, name)) { span.mark { (mark) } }
                                @if let Some(line) = ordered.parts.line(mark) { span.said { (line.part.noun) } }
                            }
                            td.num.big data-label="Pieces" { (pile.stands) @if pile.agreement == Agreement::Differ { (Tone::Short.says("counts differ")) } }
                            td data-label="Where it lies" { (place(standing, name)) }
                        }
                    }
                }
            }
        }
    }
}

fn place(standing: &Standing, pile: &str) -> Markup {
    let place = standing.state.places.get(pile);
    html! {
        form.row method="post" action="/pile" data-keep={ "Where pile " (pile) " lies" } {
            input type="hidden" name="id" value=(store::fresh_id());
            input type="hidden" name="pile" value=(pile);
            input type="text" name="place" maxlength="255" value=[place] required
                aria-label={ "Where pile " (pile) " lies" } placeholder="such as north fence, on the pallet";
            button type="submit" { "Keep" }
        }
    }
}
