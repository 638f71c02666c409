//! The days on which a crew could build: each with its answer, the chance of each stage, and the forms that change it.

use claim::Date;
use maud::{Markup, html};
use ready::{DayOutlook, Readiness};
use tally::Standing;

use super::answer::{self, hours, percent, tone};
use super::state::{Tone, count};

/// Days whose chances are shown side by side, at the most.
const MOST_BESIDE: usize = 6;

/// Every day that is looked at; each that a person planned with what can be done about it.
pub(crate) fn table(standing: &Standing, readiness: &Readiness) -> Markup {
    html! {
        @if readiness.days.is_empty() {
            div.note { p { "No day is planned. Say below when how many people could come, and each day gets its own answer." } }
        } @else {
            table.fold.days {
                thead { tr { th { "Day" } th { "Answer" } th.num { "People" } th.num { "Hours" } th.num { "Chance" } th {} } }
                tbody { @for (at, day) in readiness.days.iter().enumerate() { (row(standing, at, day)) } }
            }
        }
    }
}

fn row(standing: &Standing, at: usize, day: &DayOutlook) -> Markup {
    let words = (standing.state.plans.days.get(&day.day.to_string()))
        .map_or("", |planned| planned.words.as_str());
    html! {
        tr {
            th scope="row" {
                (claim::day_in_words(day.day))
                span.said {
                    @match (day.planned, day.called) {
                        (_, true) => (Tone::Good.says("they are called")),
                        (true, false) => (Tone::Open.says("not called")),
                        (false, false) => "not planned, for comparison",
                    }
                    (words)
                }
            }
            td.wide { (answer::line(&day.call)) }
            td.num data-label="People" { (day.people) }
            td.num data-label="Hours" { (hours(day.minutes)) }
            td.num data-label="Chance" { (percent(day.call.chance)) }
            td.wide {
                @if day.planned {
                    div.row {
                        (call_them(day, words))
                        (take_back(day))
                    }
                    details {
                        summary { "Change" span.unseen { " " (claim::day_in_words(day.day)) } }
                        (form(&format!("day-{at}"), Some(day), words, None))
                    }
                }
            }
        }
    }
}

fn hidden(day: &DayOutlook) -> Markup {
    html! {
        input type="hidden" name="id" value=(store::fresh_id());
        input type="hidden" name="day" value=(day.day);
    }
}

/// Says that they were told to come, or that they are not coming after all.
fn call_them(day: &DayOutlook, words: &str) -> Markup {
    let said = claim::day_in_words(day.day);
    html! {
        form.inline method="post" action="/crew-day" data-keep={ "Crew of " (said) } {
            (hidden(day))
            input type="hidden" name="people" value=(day.people);
            input type="hidden" name="hours" value=(hours(day.minutes));
            input type="hidden" name="words" value=(words);
            @if day.called { button type="submit" { "Say: called off" span.unseen { ": " (said) } } }
            @else {
                input type="hidden" name="called" value="yes";
                button type="submit" { "Say: they are called" span.unseen { ": " (said) } }
            }
        }
    }
}

fn take_back(day: &DayOutlook) -> Markup {
    let said = claim::day_in_words(day.day);
    html! {
        form.inline method="post" action="/crew-day" data-keep={ "No crew on " (said) } {
            (hidden(day))
            input type="hidden" name="people" value="0";
            button type="submit" { "Take the day out" span.unseen { ": " (said) } }
        }
    }
}

/// Adds a day.
pub(crate) fn add(today: Date) -> Markup {
    html! {
        details id="add" {
            summary { "Add a day" }
            (form("add-day", None, "", Some(today)))
        }
    }
}

/// Who comes on a day, and for how long. A day that stands keeps its date.
fn form(key: &str, day: Option<&DayOutlook>, words: &str, from: Option<Date>) -> Markup {
    let field = |name: &str| format!("{key}-{name}");
    let people = day.map_or(8, |day| day.people);
    let each = day.map_or_else(|| "8".into(), |day| hours(day.minutes));
    html! {
        form method="post" action="/crew-day" data-keep="Crew of a day" {
            @match day {
                Some(day) => (hidden(day)),
                None => {
                    input type="hidden" name="id" value=(store::fresh_id());
                    label for=(field("day")) { "Day" }
                    input type="date" id=(field("day")) name="day" min=[from] required;
                },
            }
            div.pair {
                div { label for=(field("people")) { "People" } input type="number" id=(field("people")) name="people" min="1" max="1000" inputmode="numeric" value=(people) required; }
                div { label for=(field("hours")) { "Hours each" } input type="text" id=(field("hours")) name="hours" inputmode="decimal" maxlength="10" value=(each) required autocomplete="off"; }
            }
            div.chips {
                label { input type="checkbox" name="called" value="yes" checked[day.is_some_and(|day| day.called)]; "They are called" }
            }
            label for=(field("words")) { "Who, or on what terms (may be left empty)" }
            input type="text" id=(field("words")) name="words" value=(words) maxlength="2000" autocomplete="off";
            p { button type="submit" { @if day.is_some() { "Keep it so" } @else { "Add the day" } } }
        }
    }
}

/// The chance that each stage has its pieces, day by day.
pub(crate) fn chances(readiness: &Readiness) -> Markup {
    let days = &readiness.days[..readiness.days.len().min(MOST_BESIDE)];
    html! {
        @if !days.is_empty() {
            h2 { "The chance of each stage, day by day" }
            p { "That all its pieces, and all those of the stages before it, are there by that morning. In small: that it can at least be begun." }
            div.scroll {
                table.fold.chances {
                    thead { tr { th { "Stage" } @for day in days { th.num { (short_day(day.day)) } } } }
                    tbody {
                        @for (at, stage) in readiness.build.stages.iter().enumerate() {
                            tr {
                                th scope="row" { (frame::capitalised(&stage.name)) }
                                @for day in days {
                                    td.num data-label=(short_day(day.day)) {
                                        @if let Some(chance) = day.chances.get(at) {
                                            (tone(chance.complete).says(&percent(chance.complete)))
                                            @if percent(chance.start) != percent(chance.complete) { span.said { "begun " (percent(chance.start)) } }
                                        }
                                    }
                                }
                            }
                        }
                    }
                }
            }
            @if readiness.days.len() > days.len() { p.soft { "The first " (count(days.len() as i64, "day", "days")) " of " (readiness.days.len()) "." } }
        }
    }
}

/// A day in a column's head: "Sat 5 Dec".
fn short_day(day: Date) -> String {
    day.strftime("%a %-d %b").to_string()
}
