//! To take or to refuse: what each means and where that is from, and what was done.

use claim::{Choice, Cited};
use maud::{Markup, html};
use tally::{Delivery, Outcome};

use super::tailgate_words;
use crate::clock;
use crate::forms::delivery::OUTCOMES;

/// The name of an outcome in the forms.
pub(crate) fn name(outcome: Outcome) -> &'static str {
    OUTCOMES
        .into_iter()
        .find(|(known, _)| *known == outcome)
        .map_or("", |(_, name)| name)
}

/// The choices, each with what it means.
pub(crate) fn choices(chosen: &str, sets: &[&str]) -> Markup {
    html! {
        fieldset.outcomes {
            legend.unseen { "What is done with it" }
            @for (outcome, name) in OUTCOMES {
                @let (title, means) = said(outcome, sets);
                div.outcome {
                    label { input type="radio" name="outcome" value=(name) required checked[name == chosen]; span { (title) } }
                    details {
                        summary { "What that means" span.unseen { ": " (title) } }
                        ul { @for cited in &means { (sourced(cited)) } }
                    }
                }
            }
        }
    }
}

fn said(outcome: Outcome, sets: &[&str]) -> (&'static str, Vec<Cited>) {
    let choice = match outcome {
        Outcome::SignedClear => Choice::SignClear,
        Outcome::Refused | Outcome::RefusedInPart => Choice::Refuse,
        _ => Choice::TakeWithNote,
    };
    let title = match outcome {
        Outcome::RefusedInPart => "Refuse some units, take the rest",
        _ => choice.title(),
    };
    (title, choice.means(sets))
}

/// All that is to be done in the ten minutes, with where it is from.
pub(crate) fn checklist() -> Markup {
    html! {
        details {
            summary { "The whole list for these ten minutes, and where it is from" }
            ol { @for cited in &claim::TEN_MINUTES { (sourced(cited)) } }
            p { "An empty phrase: " (claim::EMPTY_PHRASE.says) " " (source(&claim::EMPTY_PHRASE)) }
        }
    }
}

fn sourced(cited: &Cited) -> Markup {
    html! { li { (cited.says) " " (source(cited)) } }
}

fn source(cited: &Cited) -> Markup {
    html! { span.source { "(" (cited.source) "; " (cited.sure.words()) ")" } }
}

/// "taken, with a note on the receipt, on Thu 26 Nov 2026 at 14:05; 4 of 5 units; the driver signed the words".
pub(crate) fn kept_in_words(kept: &Delivery, billed: Option<i64>) -> String {
    let mut words = format!(
        "{}, on {}",
        kept.outcome.in_words(),
        clock::day_said(&kept.on)
    );
    if let Some(time) = &kept.time {
        words += &format!(" at {time}");
    }
    match (kept.units, billed) {
        (Some(n), Some(billed)) => words += &format!("; {n} of {billed} units"),
        (Some(n), None) => words += &format!("; {}", super::state::count(n, "unit", "units")),
        (None, _) => words += "; units not counted",
    }
    words += match kept.driver_signed {
        Some(true) => "; the driver signed the words",
        Some(false) => "; the driver would not sign the words",
        None => "",
    };
    if !kept.seals.is_empty() {
        let (number, state) = tailgate_words::seal_read(&kept.seals);
        words += &format!("; seal {}", format!("{number} {state}").trim());
    }
    words + "."
}
