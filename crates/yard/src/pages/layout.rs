//! The frame around every page: the job's name, the ways through it, and who holds the phone.

use maud::{DOCTYPE, Markup, html};
use tally::Standing;

use super::state::Tone;
use crate::access::Holder;
use crate::assets;

/// A page's place among the ways.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Way {
    Glance,
    Order,
    List,
    Count,
    Tell,
    Photos,
    Difference,
    Ready,
    Papers,
    /// Reached from the glance, the difference and the papers.
    Points,
    /// Reached from the top of every page, not one of the ways.
    Phones,
}

const WAYS: [(Way, &str, &str); 9] = [
    (Way::Glance, "/", "Glance"),
    (Way::Order, "/order", "Order"),
    (Way::List, "/list", "List"),
    (Way::Count, "/count", "Count"),
    (Way::Tell, "/tell", "Tell"),
    (Way::Photos, "/photos", "Photos"),
    (Way::Difference, "/difference", "Difference"),
    (Way::Ready, "/ready", "Ready"),
    (Way::Papers, "/papers", "Papers"),
];

/// A page of the job.
pub(crate) fn page(
    standing: &Standing,
    holder: &Holder,
    way: Way,
    title: &str,
    content: Markup,
) -> Markup {
    let job = standing
        .ordered()
        .map_or("A job without an order", |ordered| &ordered.order.name);
    let told = Told {
        job: holder.job.to_string(),
        who: &holder.who,
        for_reading: holder.for_reading,
        upto: standing.state.upto,
    };
    document(
        title,
        Some(told),
        html! {
            header.top {
                a.who href="/phones" aria-current=[(way == Way::Phones).then_some("page")] { "Phones · " (holder.who) }
                a.job href="/" { (job) }
                nav.ways aria-label="The job" {
                    @for (known, path, name) in WAYS {
                        a href=(path) aria-current=[(known == way).then_some("page")] { (name) }
                    }
                }
            }
            @if holder.for_reading { (for_reading()) }
            (waiting())
            main id="content" data-live=[whole(way).then_some("content")] { (content) }
            footer {
                "Tallyard goes by what people saw. The sender's instructions, local codes and licensed practice come first."
            }
        },
    )
}

/// A page outside the job: joining, and what did not work.
pub(crate) fn bare(title: &str, content: Markup) -> Markup {
    document(
        title,
        None,
        html! { (waiting()) main id="content" { (content) } },
    )
}

/// Whether a page's whole content may be swapped when others count; others mark what may (`live.js`).
fn whole(way: Way) -> bool {
    matches!(way, Way::Glance | Way::Difference)
}

/// What a page tells its modules: of which job it is, who holds the phone, and the highest number in the log.
struct Told<'a> {
    job: String,
    who: &'a str,
    upto: u64,
    for_reading: bool,
}

/// Why the pages of a copy for reading have no forms: the style sheet leaves out whatever writes.
fn for_reading() -> Markup {
    html! {
        div.note.reading role="note" {
            p { (Tone::Open.says("A copy for reading")) "It shows the job as it stood when it was copied or bundled. Nothing can be written to it, so these pages have no forms." }
        }
    }
}

/// Where `phone.js` says what waits in the phone, and `worker.js` that the page is a copy.
fn waiting() -> Markup {
    html! {
        p.note.wait data-as-it-was hidden {}
        aside.waiting.no-print data-waiting="" aria-label="What waits in this phone" hidden {
            div data-waiting-held {
                p aria-live="polite" { span.state.wait { (Tone::Wait.shape()) span data-waiting-says {} } }
                p data-waiting-join hidden { a.button href="/join" { "Join again" } }
                details { summary { "What waits" } ul.held data-waiting-list {} }
            }
            div data-refused hidden {
                p role="alert" { (Tone::Short.says("Not taken by the yard computer. It is kept here until you put it away.")) }
                ul.held data-refused-list {}
            }
        }
        p.unseen aria-live="polite" data-live-said {}
    }
}

fn document(title: &str, told: Option<Told<'_>>, body: Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) " · Tallyard" }
                link rel="stylesheet" href=(assets::address("style.css"));
                // What `phone.js` imports, so that a slow network is not asked twice in turn.
                @for module in ["keeping.js", "sending.js", "along.js", "live.js"] {
                    link rel="modulepreload" href=(assets::address(module));
                }
                link rel="icon" href=(assets::address("mark.svg")) type="image/svg+xml";
            }
            body data-job=[told.as_ref().map(|told| &told.job)] data-who=[told.as_ref().map(|told| told.who)]
                data-upto=[told.as_ref().map(|told| told.upto)]
                data-for-reading[told.as_ref().is_some_and(|told| told.for_reading)] {
                a.skip href="#content" { "To the content" }
                (body)
                script type="module" src=(assets::address("phone.js")) {}
            }
        }
    }
}
