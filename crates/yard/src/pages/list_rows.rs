//! The rows of a packing list: what each was understood as, and the way to put it right.

use maud::{Markup, html};
use tally::{CarriedFrom, ListStanding, Standing};

use super::list_sent;
use super::list_strip;
use super::list_window::{self, Asked, MOST, Shown};
use super::state::{Tone, count};
use crate::address;

/// Doubt above this is shown as something to look at.
pub(crate) const UNSURE: f64 = 0.05;

/// A long list's other rows lie in a fold, so that the first of the page is there at once.
const MOST_UNFOLDED: usize = 60;

type Pair<'a> = (&'a list::Row, Option<&'a list::Matched>);

/// Whether a person should look at a row, and why in a few words is said beside it.
fn asks_for_a_look(list: &ListStanding, (row, matched): Pair<'_>) -> bool {
    let unsure = matched.is_some_and(|m| {
        !m.overruled && (m.doubt > UNSURE || (m.mark.is_none() && m.holds.is_empty()))
    });
    let carried = list.carried.get(&row.key).is_some_and(|from| from.look);
    unsure || carried || row.doubt.is_some() || row.quantity.is_none()
}

fn pairs<'a>(list: &'a ListStanding, read: &'a list::PackingList) -> Vec<Pair<'a>> {
    let mut of_row = vec![None; read.rows.len()];
    for matched in list.matched.iter() {
        if let Some(place) = of_row.get_mut(matched.row) {
            *place = Some(matched);
        }
    }
    read.rows.iter().zip(of_row).collect()
}

/// The rows that a person should look at.
pub(crate) fn to_look_at<'a>(list: &'a ListStanding, read: &'a list::PackingList) -> Vec<Pair<'a>> {
    let mut all = pairs(list, read);
    all.retain(|pair| asks_for_a_look(list, *pair));
    all
}

/// The ways to the rows of all lists, where some are to be looked at and others not.
pub(crate) fn which(standing: &Standing, shown: Shown) -> Markup {
    let (mut look, mut all) = (0, 0);
    for list in &standing.lists {
        if let Ok(read) = list.read.as_ref() {
            look += to_look_at(list, read).len();
            all += read.rows.len();
        }
    }
    let way = |to: Shown, path: &str, words: String| {
        html! { a.button href=(path) aria-current=[(shown == to).then_some("true")] { (words) } }
    };
    html! {
        @if (1..all).contains(&look) {
            nav.row.which.no-print aria-label="Which rows" {
                (way(Shown::First, "/list", "Doubts first".into()))
                (way(Shown::Look, "/list?rows=look", format!("Only doubts ({look})")))
                (way(Shown::All, "/list?rows=all", format!("In order ({all})")))
            }
        }
    }
}

pub(crate) fn rows(
    standing: &Standing,
    list: &ListStanding,
    read: &list::PackingList,
    asked: &Asked,
) -> Markup {
    let mut all = pairs(list, read);
    let doubted = |pair: &Pair<'_>| asks_for_a_look(list, *pair);
    let look = all.iter().filter(|pair| doubted(pair)).count();
    let others = all.len() - look;
    // Where the doubtful end and the others begin, in the order of the page.
    let turn = match asked.shown() {
        Shown::All => 0,
        Shown::Look => {
            all.retain(doubted);
            look
        }
        Shown::First => {
            // A stable order: each kind as it stands in the list.
            all.sort_by_key(|pair| !doubted(pair));
            look
        }
    };
    let in_order: Vec<&list::Row> = all.iter().map(|(row, _)| *row).collect();
    let from = asked.from(&list.seen.digest, &in_order);
    let on_page = &all[from..(from + MOST).min(all.len())];
    let (first, then) = on_page.split_at(turn.saturating_sub(from).min(on_page.len()));
    let ways = list_window::ways(asked.shown(), &list.seen, from, all.len());
    let named = if look == 0 || asked.shown() == Shown::All {
        "All rows"
    } else {
        "The other rows"
    };
    html! {
        (ways)
        (table(standing, list, first, if others == 0 { "All rows" } else { "To look at" }))
        // Those to look at are at hand; the others lie in a fold, unless they are what was asked for.
        @if asked.shown() == Shown::First && from == 0 && !asked.is_for(&list.seen.digest) && then.len() > MOST_UNFOLDED {
            details {
                summary { (named) ", " (others) }
                (table(standing, list, then, named))
            }
        } @else { (table(standing, list, then, named)) }
        @if asked.shown() == Shown::Look { p.soft { (count(others as i64, "other row is", "other rows are")) " not shown." } }
        (ways)
    }
}

fn table(standing: &Standing, list: &ListStanding, rows: &[Pair<'_>], says: &str) -> Markup {
    let Ok(read) = list.read.as_ref() else {
        return html! {};
    };
    html! {
        @if !rows.is_empty() {
            table.fold.rows {
                caption { (says) }
                thead { tr { th { "Row" } th.num { "Quantity" } th { "The sender's words" } th { "Understood as" } } }
                tbody { @for pair in rows { (one(standing, list, read, *pair)) } }
            }
        }
    }
}

fn one(
    standing: &Standing,
    list: &ListStanding,
    read: &list::PackingList,
    (row, matched): Pair<'_>,
) -> Markup {
    let digest = list.seen.digest.to_string();
    html! {
        tr id=(address::list_row_anchor(&digest, &row.at.to_string())) {
            th scope="row" { (row.at) }
            td.num.big data-label="Quantity" { @match row.quantity { Some(n) => (n), None => { "? " (row.written) } } }
            td.wide {
                @if let Some(seen) = &row.seen {
                    @let (src, (wide, high)) = (address::list_strip(&digest, &row.key.to_string()), list_strip::size(seen.strip));
                    // On a phone the strip is wider than the page: it can be moved to and fro there, or opened by itself.
                    a.strip href=(src) { img src=(src) width=(wide) height=(high) alt={ "The row on the picture, read as: " (row.quantity.map_or_else(|| row.written.clone(), |n| n.to_string())) " " (list::words_of(row)) } loading="lazy"; }
                }
                (row.says())
                span.said {
                    @if !row.code.is_empty() { "code " (row.code) ". " }
                    @if !row.sub_kit.is_empty() { "under " (row.sub_kit) ". " }
                    @if !row.shipment.is_empty() { (row.shipment) ". " }
                    @if row.quantity.is_some() && row.written.chars().any(char::is_alphabetic) { "written " (row.written) ". " }
                    @if let Some(n) = row.backordered.filter(|n| *n > 0) { (n) " to follow. " }
                }
                @if let Some(doubt) = &row.doubt { span.said { (Tone::Wait.says("look")) (doubt) "." } }
                @if let Some(sent) = &row.sent { (list_sent::line(read, sent)) }
            }
            td.wide {
                @match matched {
                    None => { span.soft { "not matched yet" } }
                    Some(matched) => {
                        (understood(standing, matched))
                        @if let Some(from) = list.carried.get(&row.key) { (carried(from)) }
                        (why(&digest, row, matched, list.carried.get(&row.key).is_some_and(|from| from.look)))
                    }
                }
            }
        }
    }
}

fn understood(standing: &Standing, matched: &list::Matched) -> Markup {
    let part = |mark: &str| standing.ordered()?.parts.line(mark).map(|line| &line.part);
    let sure = 100.0 * (1.0 - matched.doubt);
    let (tone, words) = match (&matched.mark, matched.overruled) {
        (Some(_), true) => (Tone::Good, "said by a person".to_string()),
        (None, true) => (Tone::Wait, "no part of this order, said by a person".into()),
        (None, false) if !matched.holds.is_empty() => (
            if matched.doubt > UNSURE {
                Tone::Wait
            } else {
                Tone::Good
            },
            format!(
                "a kit row, {:.0} %: open it and count",
                sure.min(99.9).floor()
            ),
        ),
        (None, false) => (Tone::Short, "matches nothing".into()),
        (Some(_), false) if matched.doubt > 0.3 => (Tone::Short, format!("a guess, {sure:.0} %")),
        (Some(_), false) if matched.doubt > UNSURE => (Tone::Wait, format!("likely, {sure:.0} %")),
        (Some(_), false) => (
            Tone::Good,
            format!("almost surely, {:.0} %", sure.min(99.9).floor()),
        ),
    };
    html! {
        @if let Some(part) = matched.mark.as_ref().and_then(|mark| part(&mark.0)) {
            a.mark href=(address::count(&part.mark.0)) { (part.mark) } " " (part.description) br;
        }
        @if !matched.holds.is_empty() {
            ul.holds {
                @for (mark, pieces) in &matched.holds {
                    li { (pieces) " × " a.mark href=(address::count(&mark.0)) { (mark) } @if let Some(part) = part(&mark.0) { " " (part.description) } }
                }
            }
        }
        (tone.says(&words))
    }
}

/// Where a person's word came from that was not said of this very row.
fn carried(from: &CarriedFrom) -> Markup {
    html! {
        p.carried {
            @if from.look { (Tone::Wait.says("look once")) }
            "Carried over from " @if let Some(at) = &from.at { (at) " of " } (from.list) ", where " (from.who) " said it"
            @if from.look { " of: “" (from.of) "”. Put it right, or say it again to confirm" }
            "."
        }
    }
}

/// The reasons, and the way to put it right; open where there is something to look at.
fn why(digest: &str, row: &list::Row, matched: &list::Matched, look: bool) -> Markup {
    let nothing = matched.mark.is_none() && matched.holds.is_empty();
    let unclear = look || (!matched.overruled && (nothing || matched.doubt > UNSURE));
    html! {
        details open[unclear] {
            summary { "Why, or put it right" span.unseen { ": " (row.at) } }
            @if !matched.reasons.is_empty() { ul { @for reason in &matched.reasons { li { (reason.words) } } } }
            @if !matched.runners_up.is_empty() {
                p.soft { "Next likely: " @for (i, (mark, chance)) in matched.runners_up.iter().enumerate() { @if i > 0 { ", " } (mark) " (" (format!("{:.1}", 100.0 * chance)) " %)" } }
            }
            (putting_right(digest, row, matched))
        }
    }
}

fn putting_right(digest: &str, row: &list::Row, matched: &list::Matched) -> Markup {
    let now = matched
        .mark
        .as_ref()
        .map(|m| m.0.as_str())
        .unwrap_or_default();
    html! {
        form.row method="post" action="/list/row" {
            input type="hidden" name="id" value=(store::fresh_id());
            input type="hidden" name="list" value=(digest);
            input type="hidden" name="row" value=(row.key);
            input.mark-field type="text" name="mark" list="marks" value=(now) maxlength="80" aria-label={ "The mark that " (row.at) " is; empty for none of this order" } autocomplete="off";
            button type="submit" { "Put right" span.unseen { ": " (row.at) } }
        }
    }
}

/// The lines that are no rows, each with the reason: with the rows they are all lines of the file.
pub(crate) fn set_aside(read: &list::PackingList) -> Markup {
    html! {
        @if !read.set_aside.is_empty() {
            details {
                summary { (count(read.set_aside.len() as i64, "line", "lines")) " set aside, with the reason" }
                table.fold.rows {
                    thead { tr { th { "Row" } th { "Text" } th { "Why" } } }
                    tbody { @for row in read.set_aside.iter().take(MOST) { tr { th scope="row" { (row.at) } td.wide { @if row.why == list::Why::Struck { s { (row.text) } } @else { (row.text) } } td.wide { (row.why) } } } }
                }
                @if read.set_aside.len() > MOST { p.soft { "And " (read.set_aside.len() - MOST) " more, as they stand in the file." } }
            }
        }
    }
}
