//! The lists that were set aside, and the way back for each.

use maud::{Markup, html};
use tally::Standing;

/// Each with a button: what people said of its rows holds again when it is taken up.
pub(crate) fn panel(standing: &Standing) -> Markup {
    html! {
        @if standing.state.lists_aside().next().is_some() {
            h2 id="aside" { "Set aside" }
            ul.log {
                @for list in standing.state.lists_aside() {
                    li {
                        div { (list.name) @if let Some(shipment) = &list.shipment { span.soft { " · " (shipment) } } }
                        form.inline method="post" action="/list/again" {
                            input type="hidden" name="id" value=(store::fresh_id());
                            input type="hidden" name="list" value=(list.digest);
                            button type="submit" { "Take it up again" span.unseen { ": " (list.name) } }
                        }
                    }
                }
            }
        }
    }
}
