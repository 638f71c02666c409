//! How things stand, said by a word and a shape as well as a colour.

use maud::{Markup, PreEscaped, html};
use tally::{MarkDifference, Verdict};

/// A way to stand, with its shape and colour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Tone {
    /// A full disc: it fits.
    Good,
    /// A triangle pointing down: short or unfit.
    Short,
    /// A triangle pointing up: over.
    Over,
    /// A half disc: it comes, or is not done yet.
    Wait,
    /// A ring: nobody has counted.
    Open,
}

impl Tone {
    pub fn class(self) -> &'static str {
        match self {
            Tone::Good => "good",
            Tone::Short => "short",
            Tone::Over => "over",
            Tone::Wait => "wait",
            Tone::Open => "soft",
        }
    }

    /// The shape; decoration beside the word.
    pub fn shape(self) -> Markup {
        let d = match self {
            Tone::Good => "M10 1a9 9 0 1 0 .01 0z",
            Tone::Short => "M1 3h18L10 19z",
            Tone::Over => "M1 17h18L10 1z",
            Tone::Wait => "M10 1a9 9 0 1 0 .01 0zM10 3.4v13.2a6.6 6.6 0 0 0 0-13.2z",
            Tone::Open => "M10 1a9 9 0 1 0 .01 0zM10 4a6 6 0 1 1-.01 0z",
        };
        PreEscaped(format!(
            "<svg viewBox=\"0 0 20 20\" aria-hidden=\"true\"><path fill=\"currentColor\" fill-rule=\"evenodd\" d=\"{d}\"/></svg>"
        ))
    }

    /// The word with its shape.
    pub fn says(self, words: &str) -> Markup {
        html! { span.state.(self.class()) { (self.shape()) span { (words) } } }
    }
}

/// The tone that a verdict is said in.
fn tone(verdict: &Verdict) -> Tone {
    match verdict {
        Verdict::NotCounted(_) => Tone::Open,
        Verdict::Fits => Tone::Good,
        Verdict::Short(_)
        | Verdict::ShortBetween { .. }
        | Verdict::Unfit(_)
        | Verdict::LooksDiffer(_)
        | Verdict::Overdrawn => Tone::Short,
        Verdict::Over(_) => Tone::Over,
        Verdict::Wet(_)
        | Verdict::Comes { .. }
        | Verdict::CouldBeShort(_)
        | Verdict::Early(_)
        | Verdict::ListShort(_)
        | Verdict::ListOver(_)
        | Verdict::ListUnclear(_) => Tone::Wait,
    }
}

/// All verdicts of a mark.
pub(crate) fn verdicts(mark: &MarkDifference) -> Markup {
    html! {
        @for said in &mark.verdicts { (tone(said).says(&said.in_words())) }
    }
}

/// One piece or several, in words.
pub(crate) fn count(n: i64, one: &str, many: &str) -> String {
    if n == 1 {
        format!("1 {one}")
    } else {
        format!("{n} {many}")
    }
}
