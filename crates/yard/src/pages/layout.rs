//! The frame around every page: the job's name, the ways through it, and who holds the phone.

use maud::{DOCTYPE, Markup, html};
use tally::Standing;

use crate::access::Holder;

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
    Papers,
    /// Reached from the top of every page, not one of the ways.
    Phones,
}

const WAYS: [(Way, &str, &str); 8] = [
    (Way::Glance, "/", "Glance"),
    (Way::Order, "/order", "Order"),
    (Way::List, "/list", "List"),
    (Way::Count, "/count", "Count"),
    (Way::Tell, "/tell", "Tell"),
    (Way::Photos, "/photos", "Photos"),
    (Way::Difference, "/difference", "Difference"),
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
    document(
        title,
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
            main id="content" { (content) }
            footer {
                "Tallyard goes by what people saw. The sender's instructions, local codes and licensed practice come first."
            }
        },
    )
}

/// A page outside the job: joining, and what did not work.
pub(crate) fn bare(title: &str, content: Markup) -> Markup {
    document(title, html! { main id="content" { (content) } })
}

fn document(title: &str, body: Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) " · Tallyard" }
                link rel="stylesheet" href="/assets/style.css";
                link rel="icon" href="/assets/mark.svg" type="image/svg+xml";
            }
            body {
                a.skip href="#content" { "To the content" }
                (body)
            }
        }
    }
}
