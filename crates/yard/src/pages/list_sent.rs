//! What a sender's system says of a line beyond its words: pallets and cartons, item numbers, lots.

use maud::{Markup, html};
use tally::ListStanding;

pub(crate) fn line(_list: &ListStanding, sent: &list::despatch::SentLine) -> Markup {
    html! { span.said { "line " (sent.id) " of the data. " } }
}
