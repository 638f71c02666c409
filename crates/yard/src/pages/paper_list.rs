//! The page of papers: what each is for, to whom it goes and by when, what is missing from it, and how to get it.

use axum::Extension;
use axum::extract::State;
use maud::{Markup, html};
use tally::{Digest, Standing};

use super::layout::{self, Way};
use super::state::{Tone, count};
use super::{bundle, due};
use crate::access::Holder;
use crate::deadlines::{self, Deadlines};
use crate::letters::{self, Letter, LetterKind};
use crate::papers::PaperOf;
use crate::reply::{Reply, page_reply};
use crate::serve::Yard;
use crate::{address, clock};

pub(crate) async fn show(State(yard): State<Yard>, Extension(holder): Extension<Holder>) -> Reply {
    let (standing, log_head) = yard.at_desk(|desk| Ok((desk.standing()?, desk.head()?)))?;
    let bundle = bundle::offer(&yard)?;
    let content = html! {
        h1 { "Papers" }
        @if standing.ordered().is_none() {
            div.note { p { "Papers need an order. " a href="/order" { "Say what was bought" } " first." } }
            (bundle)
        } @else {
            (now(&standing))
            p.row { a.button.main href="/letters" { "What the papers say" } }
            (to_the_carrier(&standing, log_head))
            (to_the_sender(&standing, log_head))
            (bundle)
            (open_formats(&standing))
            (for_the_build())
        }
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Papers,
        "Papers",
        content,
    )))
}

/// What is to be done before anything is sent, and the paper of what was found.
fn now(standing: &Standing) -> Markup {
    let open = (standing.difference.as_ref()).map_or(0, |difference| difference.not_counted());
    let matters = standing
        .explanation()
        .map_or(&[][..], |known| &known.matters);
    let looks = matters
        .iter()
        .filter(|matter| matter.check.is_some())
        .count();
    let affairs = &standing.state.affairs;
    let (today, _) = clock::at_site(affairs, store::now());
    let all = Deadlines::of(standing, &clock::site_zone(affairs), today);
    html! {
        h2 { "Now" }
        @if let Some((shipment, next)) = deadlines::nearest(&all, today) {
            p { (Tone::Wait.says(&due::left_in_words(&next))) (next.rule.title) @if !shipment.is_empty() { ", " (shipment) } ". " a href="/dates" { "What must be done by when" } "." }
        } @else {
            p { a.show href="/dates" { "What must be done by when" } }
        }
        @if open > 0 { p { (Tone::Open.says(&format!("{} not counted yet", count(open as i64, "mark is", "marks are")))) "Papers say so, and claim nothing about them." } }
        @if looks > 0 { p { (Tone::Wait.says(&count(looks as i64, "look to make first", "looks to make first"))) "A look costs minutes; a letter that is wrong costs weeks. " a href="/difference" { "The difference, explained" } "." } }
        article.paper {
            h3 { "Over, short and damaged" }
            p { "What the order needs, what the list says, what was counted, and what was wrong with it. For the sender and the carrier alike. It is no claim, and stops no clock." }
            (sheets("over-short-damaged", "/papers/osd.pdf", ""))
        }
    }
}

fn to_the_carrier(standing: &Standing, log_head: Digest) -> Markup {
    let shipments = letters::shipments(standing);
    html! {
        h2 { "To the carrier" }
        p.soft { "No legal advice. Each paper names what it rests on; the carrier's own terms say what a claim needs and by when: ask them." }
        @for shipment in &shipments {
            @if shipments.len() > 1 { h3 { (shipment) } }
            (letter(standing, log_head, LetterKind::Concealed, claim::Paper::HiddenHarm, "concealed-damage", shipment))
            (letter(standing, log_head, LetterKind::Claim, claim::Paper::Claim, "carrier-claim", shipment))
        }
        p.row { a.button href="/prices" { "Prices" } a.button href="/tailgate" { "What the receipt says" } a.button href="/photos" { "Photos" } }
    }
}

fn to_the_sender(standing: &Standing, log_head: Digest) -> Markup {
    html! {
        h2 { "To the sender" }
        (letter(standing, log_head, LetterKind::Notice, claim::Paper::ToSender, "sender-notice", ""))
        (letter(standing, log_head, LetterKind::Replacement, claim::Paper::Replacement, "replacement-order", ""))
        (letter(standing, log_head, LetterKind::Returns, claim::Paper::Return, "return-list", ""))
        p.row { a.button href="/points" { "Open points and their answers" } }
    }
}

/// A letter: what it is, by when, what is missing from it.
fn letter(
    standing: &Standing,
    log_head: Digest,
    kind: LetterKind,
    is: claim::Paper,
    file: &str,
    shipment: &str,
) -> Markup {
    let of = PaperOf {
        standing,
        job: None,
        log_head,
        sheet: paper::Sheet::Letter,
        told: false,
        made: store::now(),
    };
    let letter = kind.of(&of, shipment);
    html! {
        article.paper {
            h3 { (is.title()) }
            p { (is.what_it_is()) }
            @match &letter {
                None => p { (Tone::Good.says("Nothing to say in it")) "By what was counted and seen so far." },
                Some(letter) => {
                    (by_when(letter))
                    (lacks(letter))
                    (sheets(is.title(), &format!("/papers/{file}.pdf"), shipment))
                }
            }
        }
    }
}

fn by_when(letter: &Letter) -> Markup {
    let mut days: Vec<&paper::Due> = letter.due().iter().collect();
    days.dedup_by(|a, b| (&a.what, &a.by) == (&b.what, &b.by));
    html! {
        @for due in days.iter().take(2) { p { (due.what.trim_end_matches('.')) ": " strong { (due.by.trim_end_matches('.')) } "." } }
    }
}

/// What is missing before a letter may be called complete.
fn lacks(letter: &Letter) -> Markup {
    let missing = letter.missing();
    let must = missing.iter().filter(|missing| missing.must).count();
    let all = missing.len();
    let says = match must {
        0 => "complete, and better with more".to_string(),
        n => count(
            n as i64,
            "thing is missing from it",
            "things are missing from it",
        ),
    };
    let tone = if must == 0 { Tone::Good } else { Tone::Wait };
    html! {
        @if all == 0 { p { (Tone::Good.says("complete: nothing is missing from it")) } }
        @else {
            details {
                summary { (tone.says(&says)) }
                ul {
                    @for missing in &missing {
                        li {
                            strong { (frame::capitalised(&missing.what)) } @if !missing.must { " (better with it)" }
                            @if !missing.why.is_empty() { ": " (missing.why) }
                            @if !missing.source.is_empty() { span.said { (missing.source) } }
                        }
                    }
                }
                p.soft { "What the job does not know stands on the paper as a line to be filled in by hand. " a href="/letters" { "Say it here" } "." }
            }
        }
    }
}

/// The two sheets that a paper is printed on.
fn sheets(title: &str, path: &str, shipment: &str) -> Markup {
    let of = match shipment {
        "" => String::new(),
        name => format!("&shipment={}", address::segment(name)),
    };
    html! {
        p.row {
            a.button.main href={ (path) "?sheet=letter" (of) } { "Letter" span.unseen { ": " (title) " " (shipment) } }
            a.button href={ (path) "?sheet=a4" (of) } { "A4" span.unseen { ": " (title) " " (shipment) } }
        }
    }
}

/// What was received, for other programs.
fn open_formats(standing: &Standing) -> Markup {
    let counted = (standing.difference.as_ref()).is_some_and(|difference| difference.counted() > 0);
    html! {
        h2 { "What was received, for other programs" }
        @if counted {
            p { "The same numbers as the paper: short, over, damaged, with codes." }
            p.row {
                a.button href="/papers/received.xlsx" download { "Workbook (XLSX)" }
                a.button href="/papers/received.csv" download { "Table (CSV)" }
                a.button href="/papers/received.json" download { "JSON" }
                a.button href="/papers/received.xml" download { "UBL 2.1 receipt advice" }
            }
            details {
                summary { "X12 861, for those who agreed on it" }
                p { "Both ids are agreed between the two who exchange: 2 to 15 capital letters and digits." }
                form.row method="get" action="/papers/received.edi" {
                    div { label for="edi-from" { "Your id" } input.mark-field type="text" id="edi-from" name="from" pattern="[A-Z0-9]{2,15}" maxlength="15" required autocomplete="off"; }
                    div { label for="edi-to" { "Their id" } input.mark-field type="text" id="edi-to" name="to" pattern="[A-Z0-9]{2,15}" maxlength="15" required autocomplete="off"; }
                    div { label for="edi-number" { "Number of the interchange; each has its own" } input.mark-field type="number" id="edi-number" name="interchange" min="1" max="999999999" step="1" inputmode="numeric" required; }
                    div { label { input type="checkbox" name="trial" value="1"; " Only a trial" } }
                    button type="submit" { "Get it" }
                }
            }
        } @else { p { "Nothing is counted yet, so nothing was received." } }
    }
}

fn for_the_build() -> Markup {
    html! {
        h2 { "For the bench and the build" }
        article.paper {
            h3 { "Build-day folder" }
            p { "Go or no-go on top, then a card for each stage, the stakes, where everything lies, who lifts what, labels for the piles, tools and whom to reach. It works in black and white." }
            (sheets("build-day folder", "/papers/build-day.pdf", ""))
        }
        article.paper {
            h3 { "Tally sheet" }
            p { "For counting without a phone. Counts are typed in afterwards on the count pages." }
            (sheets("tally sheet", "/papers/tally-sheet.pdf", ""))
            p { a.show href="/papers/tally-sheet.pdf?sheet=letter&told=1" { "With the numbers that should be there" } }
        }
        article.paper {
            h3 { "Tell-apart card and labels" }
            p { "The card shows what is taken for each other at its true size; lay the piece on it. Labels carry a code that opens a mark's count page." }
            (sheets("tell-apart card", "/papers/tell-apart.pdf", ""))
            p { a.show href="/piles/labels" { "Labels" } }
        }
        article.paper {
            h3 { "Drawings" }
            p { "The house from its corners, in plan and elevation, each bow on the ground, each joint large. " a href="/drawings" { "See them here" } "." }
            (sheets("drawings", "/papers/drawings.pdf", ""))
        }
    }
}
