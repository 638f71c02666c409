//! One act that must be done by a day: the day in big numerals, where it is from, and the forms beside it.

use claim::{Binds, Date, Due, Force, Start, State};
use maud::{Markup, html};
use tally::{Act, Standing};

use super::state::{Tone, count};
use crate::clock;

/// Where an act stands on the page.
pub(crate) struct Place<'a> {
    /// What keeps the fields of its forms apart from those of others.
    pub key: String,
    pub standing: &'a Standing,
    pub shipment: &'a str,
    pub today: Date,
}

/// By when, in big numerals and in words.
pub(crate) fn when(due: &Due<'_>) -> Markup {
    let by = due.date.or(due.own_target);
    let day = by.map(|day| day.strftime("%A %-d %b %Y").to_string());
    let (tone, number, says) = match (due.state, due.days_left) {
        (State::Done { day, late }, _) => {
            let on = format!("done on {}", claim::day_in_words(day));
            (
                Tone::Good,
                String::new(),
                if late {
                    format!("{on}, after its day")
                } else {
                    on
                },
            )
        }
        (State::NoDay, None) => (Tone::Wait, String::new(), "within a reasonable time".into()),
        (State::Waits(_), _) | (_, None) => (Tone::Open, String::new(), "no day yet".into()),
        (_, Some(0)) => (Tone::Short, "today".into(), String::new()),
        (_, Some(left)) if left < 0 => (Tone::Short, number(-left), count_word(-left, "ago")),
        (_, Some(left)) => (
            if left <= 7 { Tone::Short } else { Tone::Wait },
            number(left),
            count_word(left, "left"),
        ),
    };
    html! {
        p.due-when.(tone.class()) {
            (tone.shape())
            @if !number.is_empty() { span.n { (number) } " " }
            span { (says) @if let Some(day) = &day { @if !says.is_empty() { ", " } (day) } }
        }
    }
}

fn number(days: i32) -> String {
    days.to_string()
}

fn count_word(days: i32, word: &str) -> String {
    format!("{} {word}", if days == 1 { "day" } else { "days" })
}

/// "In 3 days, Thu 3 Dec 2026".
pub(crate) fn left_in_words(due: &Due<'_>) -> String {
    let day = due.date.map_or_else(String::new, claim::day_in_words);
    match due.days_left {
        Some(0) => format!("Today, {day}"),
        Some(1) => format!("Tomorrow, {day}"),
        Some(left) => format!("In {left} days, {day}"),
        None => day,
    }
}

/// An act as a row of the page.
pub(crate) fn item(place: &Place<'_>, due: &Due<'_>) -> Markup {
    let rule = due.rule;
    let who = match rule.by {
        claim::Party::Receiver => format!("by you, to {}", rule.to.words()),
        by => format!("by {}", by.words()),
    };
    let cost = match rule.force {
        Force::TimeToAsk => "If they do not",
        _ => "Missing it",
    };
    html! {
        li.due id=[(due.round == 0).then(|| format!("due-{}", place.key))] {
            (when(due))
            h3 { (rule.title) }
            p { (who) ". " strong { (standing(due)) } }
            @if due.date.is_some() && let Some(own) = due.own_target { p { "Your own target: " strong { (claim::day_in_words(own)) } } }
            p { (cost) ": " (rule.missing_it) }
            @for note in &due.notes { p { (note) } }
            p.source { (frame::capitalised(&rule.source)) ". " (frame::capitalised(rule.sure.words())) "; " (rule.basis.words()) ". " @if !rule.check.is_empty() { strong { (frame::capitalised(&rule.check)) "." } } }
            details {
                summary { "What it asks, done, own terms" span.unseen { ": " (rule.title) } }
                @if !rule.asks.is_empty() { ul { @for asks in &rule.asks { li { (asks) } } } }
                p { (frame::capitalised(&due.period())) " from " (due.starts.words()) @if let Some(day) = due.start_day { ", " (claim::day_in_words(day)) } "." }
                @if !rule.less_sure.is_empty() { p.source { "Less sure: " (rule.less_sure) } }
                (taken_back(place, &rule.id))
                @if due.is_open() { (say_done(place, &rule.id)) }
                (terms(place, due))
            }
        }
    }
}

/// How a day stands: hard, shifting the proof, or one's own.
fn standing(due: &Due<'_>) -> String {
    let force = match due.rule.force {
        Force::HardLimit => "Hard limit: after that the right is gone",
        Force::ShiftsEvidence => "After that the proof is yours",
        Force::TimeToAsk => "After that, ask them",
    };
    let own = match (due.date, due.own_target, due.agreed) {
        (None, Some(_), _) => "; the day is your own target and binds nobody",
        (_, _, Some(_)) => "; the day is from your terms",
        _ => "",
    };
    let strictest = if due.strictest {
        "; the earliest of several days for this"
    } else {
        ""
    };
    format!("{force}{own}{strictest}.")
}

fn say_done(place: &Place<'_>, rule: &str) -> Markup {
    let key = &place.key;
    html! {
        form method="post" action="/done" data-keep="Done" {
            input type="hidden" name="id" value=(store::fresh_id());
            input type="hidden" name="rule" value=(rule);
            input type="hidden" name="shipment" value=(place.shipment);
            div.two {
                div { label for={ "done-" (key) } { "Done on" } input type="date" id={ "done-" (key) } name="on" value=(place.today) required; }
                div { label for={ "how-" (key) } { "How" } input type="text" id={ "how-" (key) } name="words" maxlength="2000" placeholder="such as by e-mail to the claims desk" autocomplete="off"; }
            }
            p { button type="submit" { "Keep that it is done" } }
        }
    }
}

/// What was said to be done under a name, each with the button that takes it back.
pub(crate) fn taken_back(place: &Place<'_>, rule: &str) -> Markup {
    let of_this = |act: &&Act| {
        act.done.rule == rule
            && act
                .done
                .shipment
                .as_deref()
                .is_none_or(|of| of == place.shipment)
    };
    html! {
        @for act in place.standing.state.affairs.done.iter().filter(of_this) {
            form method="post" action="/undo" data-keep="Take back" {
                input type="hidden" name="id" value=(store::fresh_id());
                input type="hidden" name="event" value=(act.event);
                input type="hidden" name="to" value="/dates";
                p {
                    "Said by " (act.who) ": " (clock::day_said(&act.done.on)) @if !act.done.words.is_empty() { ", " (act.done.words) } ". "
                    button type="submit" { "Take it back" }
                }
            }
        }
    }
}

/// The form that says a day from which periods run.
pub(crate) fn say_day(place: &Place<'_>, start: Start, known: Option<Date>) -> Markup {
    let name = claim::start_name(start);
    let key = format!("{}-{}", place.key, name.replace('.', "-"));
    html! {
        form.row method="post" action="/done" data-keep=(frame::capitalised(start.words())) {
            input type="hidden" name="id" value=(store::fresh_id());
            input type="hidden" name="rule" value=(name);
            input type="hidden" name="shipment" value=(place.shipment);
            div { label for=(key) { (frame::capitalised(start.words())) } input type="date" id=(key) name="on" value=[known] required; }
            button type="submit" { "Keep the day" }
        }
    }
}

/// The terms that go before a rule, or a day of one's own; those that are there can be taken back.
fn terms(place: &Place<'_>, due: &Due<'_>) -> Markup {
    let (key, rule) = (&place.key, &due.rule.id);
    let own = claim::own_target(rule);
    let mine: Vec<(&tally::Agreed, Binds)> = (place.standing.state.affairs.agreed.iter())
        .filter(|agreed| {
            agreed
                .shipment
                .as_deref()
                .is_none_or(|of| of == place.shipment)
        })
        .filter_map(|agreed| match &agreed.rule {
            name if name == rule => Some((agreed, Binds::Contract)),
            name if *name == own => Some((agreed, Binds::OwnTarget)),
            _ => None,
        })
        .collect();
    html! {
        @for (agreed, binds) in mine {
            form method="post" action="/agreed" data-keep="Take terms back" {
                input type="hidden" name="id" value=(store::fresh_id());
                input type="hidden" name="rule" value=(rule);
                @if binds == Binds::OwnTarget { input type="hidden" name="binds" value="own"; }
                @if let Some(shipment) = &agreed.shipment { input type="hidden" name="shipment" value=(shipment); }
                input type="hidden" name="unit" value="none";
                p {
                    @if binds == Binds::OwnTarget { "Your own target: " } @else { "Your terms: " }
                    strong { (by_in_words(agreed)) (starts_in_words(agreed)) } @if !agreed.words.is_empty() { ", " (agreed.words) } ". "
                    button type="submit" { "Take it back" }
                }
            }
        }
        details {
            summary { "Own terms or a day of your own" span.unseen { ": " (due.rule.title) } }
            form method="post" action="/agreed" data-keep="Own terms" {
                input type="hidden" name="id" value=(store::fresh_id());
                input type="hidden" name="rule" value=(rule);
                input type="hidden" name="shipment" value=(place.shipment);
                fieldset {
                    legend.unseen { "Whether it binds" }
                    div.chips {
                        label { input type="radio" name="binds" value="contract" checked; "The terms say so" }
                        label { input type="radio" name="binds" value="own"; "My own target" }
                    }
                }
                div.two {
                    div {
                        label for={ "unit-" (key) } { "How it is said" }
                        select id={ "unit-" (key) } name="unit" {
                            option value="day" { "until a day" }
                            option value="hours" { "hours" }
                            option value="days" { "calendar days" }
                            option value="business days" { "business days" }
                            option value="months" { "months" }
                            option value="years" { "years" }
                        }
                    }
                    div { label for={ "amount-" (key) } { "How many of them" } input type="number" id={ "amount-" (key) } name="amount" min="0" max="100000" step="1" inputmode="numeric"; }
                    div { label for={ "day-" (key) } { "Or the day" } input type="date" id={ "day-" (key) } name="day"; }
                    div {
                        label for={ "starts-" (key) } { "From which day they run" }
                        select id={ "starts-" (key) } name="starts" {
                            option value="" { "as the rule says: " (due.rule.starts.words()) }
                            @for start in Start::ALL { @if start != due.rule.starts { option value=(claim::start_name(start)) { (start.words()) } } }
                        }
                    }
                    div { label for={ "where-" (key) } { "Where it says so" } input type="text" id={ "where-" (key) } name="words" maxlength="2000" placeholder="such as bill of lading, section 3" autocomplete="off"; }
                }
                p { button type="submit" { "Keep these terms" } }
            }
        }
    }
}

fn starts_in_words(agreed: &tally::Agreed) -> String {
    let named = |start: &Start| Some(claim::start_name(*start)) == agreed.starts.as_deref();
    let start = Start::ALL.into_iter().find(named);
    start.map_or_else(String::new, |start| format!(" from {}", start.words()))
}

fn by_in_words(agreed: &tally::Agreed) -> String {
    use tally::By;
    match &agreed.by {
        None => String::new(),
        Some(By::Day(day)) => format!("until {}", clock::day_said(day)),
        Some(By::Hours(n)) => count(*n, "hour", "hours"),
        Some(By::Days(n)) => count(*n, "calendar day", "calendar days"),
        Some(By::BusinessDays(n)) => count(*n, "business day", "business days"),
        Some(By::Months(n)) => count(*n, "month", "months"),
        Some(By::Years(n)) => count(*n, "year", "years"),
    }
}
