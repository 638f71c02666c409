//! Prices and other costs: what a claim's sum is made of.

use std::collections::BTreeMap;

use axum::Extension;
use axum::extract::{Query, State};
use maud::{Markup, html};
use serde::Deserialize;
use tally::{Currency, MarkDifference, Money, Standing};

use super::layout::{self, Way};
use super::state::{Tone, count};
use crate::access::Holder;
use crate::address;
use crate::reply::{Reply, page_reply};
use crate::serve::Yard;

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
                p { "What one piece costs by the invoice or the order. A claim names a sum, and this is what it is made of: what came unfit, from carrier or sender, and what is short." }
                (in_what(&standing, currency))
                @let claimed = claimed(&standing);
                div data-live="sum" data-live-says { (sum(&standing, &claimed)) }
                h2 { "To be made good" }
                @if claimed.is_empty() { p { (Tone::Good.says("Nothing")) "By what was counted, and by the likeliest story, nothing is short or unfit." } }
                @else { (claims(&standing, &claimed, currency)) }
                p.soft { "Short are only pieces that no likelier story explains; a look that shows otherwise changes the sum. " a href="/difference" { "The difference, explained" } "." }
                (other_costs(&standing, currency))
                @let others: Vec<&MarkDifference> = difference.marks.iter().filter(|mark| !claimed.iter().any(|of| of.mark.mark == mark.mark)).collect();
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

/// Pieces of a mark that would be claimed.
pub(crate) struct Claimed<'a> {
    pub mark: &'a MarkDifference,
    pub short: i64,
    pub unfit: i64,
}

impl Claimed<'_> {
    fn pieces(&self) -> i64 {
        self.short.saturating_add(self.unfit)
    }

    fn says(&self) -> String {
        match (self.short, self.unfit) {
            (short, 0) => format!("{short} short"),
            (0, unfit) => format!("{unfit} not fit for use"),
            (short, unfit) => format!("{short} short, {unfit} not fit for use"),
        }
    }
}

/// What would be claimed: pieces that the likeliest story calls short, and pieces that cannot be built with.
pub(crate) fn claimed(standing: &Standing) -> Vec<Claimed<'_>> {
    let (Some(difference), Some(explanation)) = (&standing.difference, standing.explanation())
    else {
        return Vec::new();
    };
    (difference.marks.iter())
        .map(|mark| Claimed {
            mark,
            // What the sender sends is made good already.
            short: explanation.short(&mark.mark).min(mark.short()),
            unfit: mark.on_hand.unfit(),
        })
        .filter(|claimed| claimed.pieces() > 0)
        .collect()
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

/// What would be claimed in all, in each currency that prices are in, and what has no price yet.
fn sum(standing: &Standing, claimed: &[Claimed<'_>]) -> Markup {
    let affairs = &standing.state.affairs;
    let priced = claimed.iter().filter_map(|of| {
        let each = affairs.prices.get(&of.mark.mark)?;
        Some(each.times(of.pieces()))
    });
    let mut sums: BTreeMap<Currency, i64> = BTreeMap::new();
    for money in priced.chain(affairs.costs.values().copied()) {
        let sum = sums.entry(money.currency).or_default();
        *sum = sum.saturating_add(money.minor);
    }
    let unpriced: Vec<&str> = (claimed.iter())
        .map(|of| of.mark.mark.as_str())
        .filter(|mark| !affairs.prices.contains_key(*mark))
        .collect();
    html! {
        p.total {
            @if sums.is_empty() { "No sum yet" }
            @for (i, (currency, minor)) in sums.iter().enumerate() {
                @if i > 0 { " and " }
                span.big { (Money { minor: *minor, currency: *currency }) }
            }
            @if !sums.is_empty() { " to be made good" }
        }
        @if !unpriced.is_empty() {
            p { (Tone::Wait.says(&count(unpriced.len() as i64, "mark has no price yet", "marks have no price yet"))) (unpriced.join(", ")) }
        }
        @if sums.len() > 1 {
            p { (Tone::Short.says("Prices are in more than one currency")) "A claim wants one. Write them anew in one of them." }
        }
    }
}

fn claims(standing: &Standing, claimed: &[Claimed<'_>], currency: Currency) -> Markup {
    html! {
        table.fold {
            thead { tr { th { "Mark" } th { "What it is" } th { "Pieces" } th { "Price of one" } th.sum { "Sum" } } }
            tbody {
                @for of in claimed {
                    @let mark = &of.mark.mark;
                    tr {
                        th scope="row" { a.mark href=(address::count(mark)) { (mark) } }
                        td.wide { (of.mark.description) }
                        td.wide { (Tone::Short.says(&of.says())) }
                        td.wide { (price(standing, mark, currency)) }
                        td.sum { @if let Some(each) = standing.state.affairs.prices.get(mark) { (each.times(of.pieces())) } }
                    }
                }
            }
        }
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
