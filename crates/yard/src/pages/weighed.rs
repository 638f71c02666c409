//! What a weighing says against the number that should be here, and what would decide it.

use maud::{Markup, html};
use tally::{How, MarkDifference, Seen};

/// Each weighing that stands of a mark, in words.
pub(crate) fn said(mark: &MarkDifference, seen: &Seen) -> Markup {
    html! {
        @for count in &seen.counts {
            @if let How::Weight { weighing } = &count.how && let Ok(weighed) = weighing.weigh() {
                // What others counted is taken off what should be here.
                @let needed = (mark.expected() - (mark.on_hand.counted - count.quantity)).max(0);
                div.note.wait[!weighed.against(needed).is_decided()] {
                    p {
                        strong { "By weight: " (weighed.least) " to " (weighed.most) } ", 95 times of 100. Of the "
                        (needed) " that should be here it " strong { (weighed.against(needed)) } "."
                    }
                    @if !weighed.against(needed).is_decided() && let Ok(to_decide) = weighing.sample_to_decide(needed) {
                        p { (frame::capitalised(&to_decide.to_string())) "." }
                    }
                    @if weighed.odd {
                        p { strong { "No whole number of pieces goes well with these weights. " } "Is something else in the bag, or the empty bag's weight wrong?" }
                    }
                }
            }
        }
    }
}
