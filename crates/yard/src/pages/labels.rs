//! Labels for piles and marks: what to print, on what, from where on the sheet.

use axum::Extension;
use axum::extract::{Query, State};
use maud::html;
use paper::{Label, LabelStock, Labels, Sheet};
use serde::Deserialize;
use tally::Standing;

use super::layout::{self, Way};
use super::papers::{print, printed};
use super::piles;
use crate::access::Holder;
use crate::address;
use crate::reply::{Reply, page_reply};
use crate::serve::Yard;

pub(crate) async fn show(State(yard): State<Yard>, Extension(holder): Extension<Holder>) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let piles = piles::of_job(&standing);
    let content = html! {
        h1 { "Labels" }
        @if standing.ordered().is_none() {
            div.note { p { "There are no marks before there is an order. " a href="/order" { "Say what was bought" } "." } }
        } @else {
            p { "The code on a label opens its count page with a phone's own camera. Print at 100 %, not “fit to page”." }
            p.soft { "The code holds the address that this computer has now. Have the network give it the same one each day; a phone that is out of reach finds the mark on its Count page." }
            form method="get" action="/papers/labels.pdf" {
                label for="stock" { "Printed on" }
                select id="stock" name="stock" { @for stock in LabelStock::ALL { option value=(stock.key()) { (frame::capitalised(stock.says())) } } }
                label for="of" { "Labels of" }
                select id="of" name="of" {
                    @if !piles.is_empty() { option value="piles" { "all " (piles.len()) " piles" } }
                    option value="marks" { "every mark, for piles that are still to be made" }
                    @for (mark, pile) in &piles {
                        @let pile = pile.pile.as_deref().unwrap_or_default();
                        option value={ "pile:" (mark) ":" (pile) } { "pile " (pile) ", " (mark) }
                    }
                }
                div.three {
                    div { label for="start" { "First label, row by row" } input type="number" id="start" name="start" value="1" min="1" max="30" inputmode="numeric" required; }
                    div { label for="copies" { "Of each" } input type="number" id="copies" name="copies" value="1" min="1" max="50" inputmode="numeric" required; }
                }
                p.soft { "A sheet from which labels were taken is used up by beginning further on." }
                @if let Ok(safe) = yard.safe.as_ref() {
                    fieldset {
                        legend.soft { "The code opens" }
                        div.chips {
                            label { input type="radio" name="at" value="plain" checked; "the plain address" }
                            label { input type="radio" name="at" value="safe"; "the safe address, for phones that trust " (safe.address) }
                        }
                    }
                }
                fieldset {
                    legend.soft { "How many should be there" }
                    div.chips {
                        label { input type="radio" name="told" value="1" checked; "On the label" }
                        label { input type="radio" name="told" value="0"; "Left out, for a blind count" }
                    }
                }
                p { button.main type="submit" { "Labels as a PDF" } }
            }
        }
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Count,
        "Labels",
        content,
    )))
}

#[derive(Deserialize)]
pub(crate) struct Wanted {
    #[serde(default)]
    stock: String,
    #[serde(default)]
    of: String,
    start: Option<usize>,
    copies: Option<usize>,
    told: Option<u8>,
    /// "safe" for the safe address.
    #[serde(default)]
    at: String,
}

pub(crate) async fn pdf(State(yard): State<Yard>, Query(wanted): Query<Wanted>) -> Reply {
    let address = match yard.safe.as_ref() {
        Ok(safe) if wanted.at == "safe" => safe.address.clone(),
        _ => yard.address.clone(),
    };
    printed(&yard, "labels", move |standing| {
        let labels = labels_of(standing, &wanted, &address)?;
        Some(paper::labels(
            &labels,
            &print(standing, Sheet::Letter, store::now()),
        ))
    })
    .await
}

fn labels_of(standing: &Standing, wanted: &Wanted, at: &str) -> Option<Labels> {
    let ordered = standing.ordered()?;
    let piles = piles::of_job(standing);
    let one = wanted
        .of
        .strip_prefix("pile:")
        .and_then(|text| text.split_once(':'));
    let mut places: Vec<(&str, &str)> = match wanted.of.as_str() {
        "marks" => ordered
            .parts
            .lines
            .iter()
            .map(|line| (line.part.mark.0.as_str(), ""))
            .collect(),
        _ => (piles.iter())
            .map(|(mark, pile)| (*mark, pile.pile.as_deref().unwrap_or_default()))
            .collect(),
    };
    if let Some(one) = one {
        places.retain(|place| *place == one);
    }
    let labels = places.into_iter().map(|(mark, pile)| {
        let line = ordered.parts.line(mark);
        let alone = pile.is_empty() || piles.iter().filter(|(of, _)| *of == mark).count() < 2;
        let sub_kits = line.map(|line| line.sub_kits()).unwrap_or_default();
        Label {
            mark: mark.into(),
            description: line.map_or_else(String::new, |line| line.part.description.clone()),
            // Of a mark in several piles nobody knows how many belong in each.
            quantity: (line.filter(|_| wanted.told != Some(0) && alone)).map(|line| line.quantity),
            pile: pile.into(),
            place: standing.state.places.get(pile).cloned().unwrap_or_default(),
            sub_kit: sub_kits
                .iter()
                .map(|(name, _)| *name)
                .collect::<Vec<_>>()
                .join(", "),
            address: match (pile, wanted.told) {
                ("", _) => format!("{at}{}", address::count(mark)),
                // Who counts blind is not to be led by the number on the count page.
                (pile, Some(0)) => format!("{at}{}", address::again(mark, Some(pile))),
                (pile, _) => format!("{at}{}", address::count_at(mark, pile)),
            },
            copies: wanted.copies.unwrap_or(1),
        }
    });
    Some(Labels {
        job: ordered.order.name.clone(),
        stock: LabelStock::of_key(&wanted.stock).unwrap_or(LabelStock::Letter10),
        start: wanted.start.unwrap_or(1),
        labels: labels.collect(),
    })
}
