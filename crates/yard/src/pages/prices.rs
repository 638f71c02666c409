//! Prices and other costs: what a claim's sum is made of.

use std::collections::BTreeMap;

use axum::Extension;
use axum::extract::{Query, State};
use maud::{Markup, html};
use paper::{Claimed, ClaimedLine};
use serde::Deserialize;
use tally::{Currency, MarkDifference, Money, Standing};

use super::layout::{self, Way};
use super::state::{Tone, count};
use crate::access::Holder;
use crate::reply::{Reply, page_reply};
use crate::serve::Yard;
use crate::{address, clock, letters};

#[derive(Deserialize, Default)]
#[serde(default)]
pub(crate) struct Asked {
    /// The currency that was chosen, before the first price says it.
    currency: String,
}

pub(crate) async fn show(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Query(asked): Query<Asked>,
) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let chosen = asked
        .currency
        .parse()
        .ok()
        .filter(|_| !is_priced(&standing));
    let currency = chosen.unwrap_or_else(|| currency(&standing));
    let content = html! {
        h1 { "Prices" }
        @match &standing.difference {
            None => div.note { p { "There are no marks before there is an order. " a href="/order" { "Say what was bought" } " first." } },
            Some(difference) => {
                p { "What one piece costs by the invoice or the order. A claim to a carrier names a sum, and this is what it is made of." }
                (in_what(&standing, currency))
                @let zone = clock::site_zone(&standing.state.affairs);
                @let shipments = letters::shipments(&standing);
                @let claims: Vec<(&String, Claimed<'_>)> = shipments.iter().map(|name| (name, paper::claimed_of(&standing, name, &zone))).collect();
                div data-live="sum" data-live-says { @for (shipment, claimed) in &claims { (sum(shipment, claimed)) } }
                @for (shipment, claimed) in &claims { (claim(&standing, shipment, claimed, currency)) }
                @let of_carriers: Vec<&str> = claims.iter().flat_map(|(_, claimed)| &claimed.lines).map(|line| line.mark.mark.as_str()).collect();
                (other_costs(&standing, currency))
                @let others: Vec<&MarkDifference> = difference.marks.iter().filter(|mark| !of_carriers.contains(&mark.mark.as_str())).collect();
                p.soft { "What is short or wrong is asked of the sender, who sends or credits it: it is in no carrier's sum unless somebody says that it was in a unit that did not come. " a href="/difference" { "The difference, explained" } "." }
                details {
                    summary { "Every other mark" span.soft { "\u{a0}· " (others.len()) } }
                    table.fold {
                        thead { tr { th { "Mark" } th { "What it is" } th { "Price of one" } } }
                        tbody {
                            @for mark in others {
                                tr {
                                    th scope="row" { span.mark { (mark.mark) } }
                                    td.wide { (mark.description) }
                                    td.wide { (price(&standing, &mark.mark, currency)) }
                                }
                            }
                        }
                    }
                }
                p.row { a.button href="/papers" { "Papers" } a.button href="/points" { "Open points" } }
            }
        }
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Points,
        "Prices",
        content,
    )))
}

/// The currency of the job: that of its first price or cost, or the dollar.
pub(crate) fn currency(standing: &Standing) -> Currency {
    let affairs = &standing.state.affairs;
    let first = affairs.prices.values().chain(affairs.costs.values()).next();
    first.map_or(Currency::USD, |money| money.currency)
}

fn is_priced(standing: &Standing) -> bool {
    let affairs = &standing.state.affairs;
    !affairs.prices.is_empty() || !affairs.costs.is_empty()
}

/// In which currency prices are; it is chosen before the first one.
fn in_what(standing: &Standing, currency: Currency) -> Markup {
    html! {
        @if is_priced(standing) {
            p { "All sums are in " strong { (currency) } ". To change that, take every price out first." }
        } @else {
            form.row method="get" action="/prices" {
                div {
                    label for="currency" { "Currency, by its three letters" }
                    input.mark-field type="text" id="currency" name="currency" value=(currency) maxlength="3" pattern="[A-Za-z]{3}" required autocomplete="off";
                }
                button type="submit" { "In this one" }
            }
        }
    }
}

/// What is claimed from a carrier in all, in each currency that prices are in, and what has no price yet.
fn sum(shipment: &str, claimed: &Claimed<'_>) -> Markup {
    let lines = claimed.lines.iter().filter_map(ClaimedLine::sum);
    let mut sums: BTreeMap<Currency, i64> = BTreeMap::new();
    for money in lines.chain(claimed.costs.iter().map(|(_, sum)| *sum)) {
        let sum = sums.entry(money.currency).or_default();
        *sum = sum.saturating_add(money.minor);
    }
    let unpriced: Vec<&str> = (claimed.lines.iter())
        .filter(|line| line.each.is_none())
        .map(|line| line.mark.mark.as_str())
        .collect();
    html! {
        p.total {
            @if sums.is_empty() { "No sum yet" }
            @for (i, (currency, minor)) in sums.iter().enumerate() {
                @if i > 0 { " and " }
                span.big { (Money { minor: *minor, currency: *currency }) }
            }
            " from the carrier" @if !shipment.is_empty() { " of " (shipment) }
        }
        @if !unpriced.is_empty() {
            p { (Tone::Wait.says(&count(unpriced.len() as i64, "mark has no price yet", "marks have no price yet"))) (unpriced.join(", ")) }
        }
        @if sums.len() > 1 {
            p { (Tone::Short.says("Prices are in more than one currency")) "A claim wants one. Write them anew in one of them." }
        }
        @if !claimed.open.is_empty() {
            p { (Tone::Wait.says(&count(claimed.open.len() as i64, "question is open", "questions are open"))) "None of it is in the sum yet. " a href="/letters" { "Say it there" } "." }
        }
    }
}

/// What is claimed from a carrier, line by line.
fn claim(standing: &Standing, shipment: &str, claimed: &Claimed<'_>, currency: Currency) -> Markup {
    html! {
        h2 { "Claimed from the carrier" @if !shipment.is_empty() { " of " (shipment) } }
        @if claimed.lines.is_empty() { p { (Tone::Good.says("Nothing")) "By what was counted and seen." } }
        @else {
            table.fold {
                thead { tr { th { "Mark" } th { "What it is" } th { "Pieces" } th { "Price of one" } th.sum { "Sum" } } }
                tbody {
                    @for line in &claimed.lines {
                        @let mark = &line.mark.mark;
                        tr {
                            th scope="row" { a.mark href=(address::count(mark)) { (mark) } }
                            td.wide { (line.mark.description) }
                            td.wide { (Tone::Short.says(&format!("{} {}", line.quantity, line.kind))) }
                            td.wide { (price(standing, mark, currency)) }
                            td.sum { @if let Some(sum) = line.sum() { (sum) } }
                        }
                    }
                }
            }
        }
        @for (words, sum) in &claimed.costs { p { (words) ": " strong { (sum) } } }
        @for remark in &claimed.remarks { p.soft { (remark) } }
    }
}

/// The price of one piece of a mark, to be kept or, left empty, taken out.
fn price(standing: &Standing, mark: &str, currency: Currency) -> Markup {
    let known = standing.state.affairs.prices.get(mark);
    html! {
        form.row method="post" action="/price" data-keep={ "Price of " (mark) } {
            input type="hidden" name="id" value=(store::fresh_id());
            input type="hidden" name="mark" value=(mark);
            input type="hidden" name="currency" value=(currency);
            input.mark-field type="text" name="each" inputmode="decimal" maxlength="40" autocomplete="off" value=[known.map(plain)] aria-label={ "Price of one " (mark) " in " (currency) "; empty takes it out" };
            button type="submit" { "Keep" }
        }
    }
}

fn other_costs(standing: &Standing, currency: Currency) -> Markup {
    html! {
        h2 { "Other costs" }
        @if standing.state.affairs.costs.is_empty() { p.soft { "None yet, such as freight for the replacement, or a day's wait." } }
        ul.log {
            @for (words, sum) in &standing.state.affairs.costs {
                li {
                    span { (words) ": " strong { (sum) } }
                    form.inline method="post" action="/price" data-keep={ "Taken out: " (words) } {
                        input type="hidden" name="id" value=(store::fresh_id());
                        input type="hidden" name="words" value=(words);
                        input type="hidden" name="currency" value=(currency);
                        input type="hidden" name="each" value="";
                        button type="submit" { "Take out" }
                    }
                }
            }
        }
        form.row method="post" action="/price" data-keep="Another cost" {
            input type="hidden" name="id" value=(store::fresh_id());
            input type="hidden" name="currency" value=(currency);
            div { label for="cost-for" { "What for" } input type="text" id="cost-for" name="words" maxlength="80" required; }
            div { label for="cost" { "Sum in " (currency) } input.mark-field type="text" id="cost" name="each" inputmode="decimal" maxlength="40" required autocomplete="off"; }
            button type="submit" { "Add it" }
        }
    }
}

/// A sum as it is typed: without letters and spaces.
fn plain(money: &Money) -> String {
    let typed = |c: &char| c.is_ascii_digit() || *c == '.';
    money.to_string().chars().filter(typed).collect()
}
