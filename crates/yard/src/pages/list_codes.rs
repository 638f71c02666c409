//! What senders' codes stand for: learned in this job, taken along to the next.

use axum::extract::State;
use axum::http::header;
use axum::response::IntoResponse;
use maud::{Markup, html};
use tally::Standing;

use super::state::{Tone, count};
use crate::reply::{Failure, Reply};
use crate::serve::Yard;

/// The codes as a file.
pub(crate) async fn file(State(yard): State<Yard>) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let all = tokio::task::block_in_place(|| standing.codes());
    if all.iter().all(|codes| codes.by_code.is_empty()) {
        return Err(Failure::new(
            axum::http::StatusCode::NOT_FOUND,
            "No codes are known yet: a list must say who sent it, and have codes of the sender's own.",
        ));
    }
    let all: Vec<&list::Codes> = all.iter().collect();
    let headers = [
        (header::CONTENT_TYPE, "text/csv; charset=utf-8"),
        (
            header::CONTENT_DISPOSITION,
            "attachment; filename=\"codes.csv\"",
        ),
    ];
    Ok((headers, list::write_codes(&all)).into_response())
}

pub(crate) fn panel(standing: &Standing) -> Markup {
    let unclear: Vec<(&str, &String, Vec<&String>)> = (standing.lists.iter())
        .filter_map(|list| Some((list.sender.as_deref()?, list.codes.as_deref()?)))
        .flat_map(|(sender, codes)| {
            let several = codes.unclear.iter();
            several.map(move |(code, means)| (sender, code, means.iter().collect()))
        })
        .collect();
    html! {
        details id="codes" open[!standing.state.codes.is_empty() || !unclear.is_empty()] {
            summary { "The senders' codes" }
            p { "What a sender's codes stood for is learned from rows that a person put right and rows whose words are sure. The sender's next list is then matched by them, in this job and in others." }
            @for (sender, code, means) in &unclear {
                p { (Tone::Wait.says("not learned")) "Code " (code) " of " (sender) " stood for several things: " @for (i, it) in means.iter().enumerate() { @if i > 0 { "; " } (it) } "." }
            }
            @if !standing.state.codes.is_empty() {
                ul.log {
                    @for seen in &standing.state.codes {
                        li {
                            div { (seen.name) span.said { "brought in by " (seen.who) } }
                            form.inline method="post" action="/list/undo" {
                                input type="hidden" name="id" value=(store::fresh_id());
                                input type="hidden" name="event" value=(seen.event);
                                button type="submit" { "Set aside" span.unseen { ": " (seen.name) } }
                            }
                        }
                    }
                }
            }
            div.row {
                @if standing.lists.iter().any(|list| list.sender.is_some()) {
                    a.button href="/list/codes.csv" download="codes.csv" { "Take the codes along (CSV)" }
                } @else {
                    p.soft { "No list in use says who sent it yet." }
                }
            }
            form method="post" action="/list/codes" enctype="multipart/form-data" {
                input type="hidden" name="id" value=(store::fresh_id());
                label for="codes-file" { "Codes of an earlier job (CSV)" }
                div.row {
                    input type="file" id="codes-file" name="codes" accept=".csv,text/csv" required;
                    button type="submit" { "Take them in" }
                }
            }
            @if let (false, Some(n)) = (standing.lists.is_empty(), known(standing)) {
                p.soft { (count(n as i64, "code was", "codes were")) " known when these lists were matched." }
            }
        }
    }
}

fn known(standing: &Standing) -> Option<usize> {
    let codes = standing.lists.iter().filter_map(|list| list.codes.as_ref());
    codes
        .map(|codes| codes.by_code.len())
        .max()
        .filter(|n| *n > 0)
}
