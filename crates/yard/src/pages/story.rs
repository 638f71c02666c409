//! What most likely happened, as pages say it: a story in plain words, how sure it is, and the look that settles it.

use maud::{Markup, html};
use tally::{Cause, CauseKind, Check, Explanation, MarkDifference, Matter, Shows, Standing, Story};

use super::state::Tone;
use crate::address;

/// One matter as a card: its story, how sure it is, and the look that would settle it.
pub(crate) fn card(standing: &Standing, matter: &Matter) -> Markup {
    html! {
        article.matter id=(anchor(matter)) {
            h3 {
                span.mark { (matter.marks.join(" and ")) } " "
                (state(matter))
            }
            ul.causes {
                @for cause in &matter.best.causes {
                    li { span.n { (cause.quantity.abs()) } span { (beside_its_number(cause)) } }
                }
            }
            (numbers(standing, matter))
            p.sure {
                @match &matter.other {
                    Some(other) if matter.nearly_level => {
                        (Tone::Wait.says("two stories are nearly level"))
                        (sentence(&format!("{}{}: {}", odds(matter), against(matter), in_words(other))))
                    }
                    _ => (sentence(&how_sure(matter))),
                }
            }
            @if let Some(check) = &matter.check { (look(standing, matter, check)) }
        }
    }
}

/// A cause in words, which do not begin with the number that stands large beside them.
fn beside_its_number(cause: &Cause) -> String {
    let words = cause.in_words();
    let number = format!("{} ", cause.quantity.abs());
    sentence(words.strip_prefix(&number).unwrap_or(&words))
}

/// The look that settles a matter, as the thing to do, and what it costs.
fn look(standing: &Standing, matter: &Matter, check: &Check) -> Markup {
    let (what, how) = what_and_how(&check.words);
    html! {
        p { a.button.main href=(look_at(standing, matter, check)) { (frame::capitalised(what)) } }
        @if let Some(how) = how { p { (sentence(how)) } }
        p.soft { (frame::capitalised(&minutes(check.seconds))) ". " (settles(matter, check)) }
    }
}

/// A look as a button.
pub(crate) fn button(standing: &Standing, matter: &Matter, check: &Check) -> Markup {
    let (what, _) = what_and_how(&check.words);
    html! { a.button href=(look_at(standing, matter, check)) { (frame::capitalised(what)) } }
}

/// "measure any 3 in pile C (its length with a tape)" as what to do and how; several looks in one stay as they are.
fn what_and_how(words: &str) -> (&str, Option<&str>) {
    let parts = words
        .strip_suffix(')')
        .and_then(|words| words.split_once(" ("));
    match parts {
        Some((what, how)) if !how.contains(" (") => (what, Some(how)),
        _ => (words, None),
    }
}

/// What the story goes by: the numbers of each mark, with the way to its page.
fn numbers(standing: &Standing, matter: &Matter) -> Markup {
    let marks = |mark: &String| standing.difference.as_ref()?.mark(mark);
    html! {
        ul.numbers {
            @for mark in matter.marks.iter().filter_map(marks) {
                li {
                    a.show href=(address::count(&mark.mark)) { span.mark { (mark.mark) } }
                    span { (said(mark)) }
                }
            }
        }
    }
}

fn said(mark: &MarkDifference) -> String {
    let listed = mark.listed.map(|n| format!(", {n} listed"));
    let counted = match mark.on_hand.is_counted() {
        true => format!(", {} counted", mark.on_hand.counted),
        false => ", not counted yet".into(),
    };
    let coming = (mark.coming > 0).then(|| format!(", {} to come", mark.coming));
    let (listed, coming) = (listed.unwrap_or_default(), coming.unwrap_or_default());
    format!("{} needed{listed}{counted}{coming}", mark.needed)
}

/// The likeliest causes for the glance: at most so many matters, each with its look.
pub(crate) fn brief(standing: &Standing, explanation: &Explanation, most: usize) -> Markup {
    let (shown, rest) = explanation
        .matters
        .split_at(explanation.matters.len().min(most));
    html! {
        @if !shown.is_empty() {
            h2 { "What most likely happened" }
            @for matter in shown {
                div.note.(state_tone(matter).class()) {
                    p { strong { (sentence(&in_words(&matter.best))) } " " (frame::capitalised(&surely(matter))) "." }
                    @if let Some(check) = &matter.check {
                        p { (button(standing, matter, check)) " " span.soft { (minutes(check.seconds)) } }
                    }
                }
            }
            p { a.show href="/difference" {
                @match rest.len() {
                    0 => "The difference, explained",
                    1 => "One more, and the difference explained",
                    n => { (n) " more, and the difference explained" },
                }
            } }
        }
    }
}

/// Where a matter's card stands on the page of the difference.
pub(crate) fn anchor(matter: &Matter) -> String {
    let marks: Vec<String> = (matter.marks.iter())
        .map(|mark| address::segment(mark))
        .collect();
    format!("matter-{}", marks.join("-"))
}

/// How things stand by the likeliest story, in a few words.
fn state(matter: &Matter) -> Markup {
    let causes = &matter.best.causes;
    let sum = |of: fn(i64) -> i64| -> i64 {
        (matter.marks.iter())
            .map(|mark| of(causes.iter().map(|cause| cause.missing(mark)).sum()))
            .sum()
    };
    let (short, over) = (sum(|n| n.max(0)), sum(|n| (-n).max(0)));
    html! {
        @if short > 0 { (Tone::Short.says(&format!("{short} short"))) }
        @if over > 0 { (Tone::Over.says(&format!("{over} over"))) }
        @if short == 0 && over == 0 { (Tone::Wait.says(not_short(causes))) }
    }
}

fn state_tone(matter: &Matter) -> Tone {
    let missing = |sign: i64| {
        let causes = matter.best.causes.iter();
        causes
            .flat_map(|cause| matter.marks.iter().map(move |mark| cause.missing(mark)))
            .any(|n| n.signum() == sign)
    };
    match (missing(1), missing(-1)) {
        (true, _) => Tone::Short,
        (false, true) => Tone::Over,
        (false, false) => Tone::Wait,
    }
}

/// What is said where nothing of it is short or over, if the story is right.
fn not_short(causes: &[Cause]) -> &'static str {
    match causes.iter().any(Cause::hides_a_shortage) {
        true => "not short, if this is so",
        false if causes.iter().all(|cause| is_of_the_list(cause.kind)) => "only the list is wrong",
        false => "nothing short",
    }
}

fn is_of_the_list(kind: CauseKind) -> bool {
    use CauseKind as Kind;
    matches!(
        kind,
        Kind::RowMisread
            | Kind::RowTwice
            | Kind::ListTwice
            | Kind::RowForTwoUses
            | Kind::ListTypo
            | Kind::ListForOtherOrder
    )
}

/// A story in words: "2 R1 lie in pile C and were counted as S1; 1 X2 is short".
pub fn in_words(story: &Story) -> String {
    let causes: Vec<String> = story.causes.iter().map(Cause::in_words).collect();
    causes.join("; ")
}

/// How sure the likeliest story of a matter is, and what stands against it: "likely, about 9 to 1 against: the sender
/// packed 2 S1 instead of R1".
pub fn how_sure(matter: &Matter) -> String {
    match &matter.other {
        None => surely(matter),
        Some(other) => format!("{}{}: {}", surely(matter), against(matter), in_words(other)),
    }
}

/// The same without what stands against it.
fn surely(matter: &Matter) -> String {
    let word = match matter.odds {
        _ if matter.other.is_none() => {
            return "nothing else that we know to happen fits these numbers".into();
        }
        _ if matter.nearly_level => "nearly level with the next",
        odds if odds < 20.0 => "likely",
        odds if odds < 100.0 => "very likely",
        _ => "almost surely",
    };
    format!("{word}, {}", odds(matter))
}

/// What stands between the odds and the other story.
fn against(matter: &Matter) -> &'static str {
    match matter.odds < LEVEL {
        true => "; the other",
        false => " against",
    }
}

/// Odds that are written 1.0 are none.
const LEVEL: f64 = 1.05;

/// "about 9 to 1".
fn odds(matter: &Matter) -> String {
    match matter.odds {
        odds if odds < LEVEL => "as likely as not".into(),
        odds if odds < 3.0 => format!("about {odds:.1} to 1"),
        odds if odds < 20.0 => format!("about {odds:.0} to 1"),
        odds if odds < 1000.0 => format!("about {:.0} to 1", (odds / 10.0).round() * 10.0),
        _ => "more than 1000 to 1".into(),
    }
}

/// "about 3 minutes", "about 2 hours".
pub fn minutes(seconds: f64) -> String {
    match (seconds / 60.0).ceil() {
        minutes if minutes <= 1.0 => "about a minute".into(),
        minutes if minutes <= 90.0 => format!("about {minutes:.0} minutes"),
        minutes if minutes <= 8.0 * 60.0 => format!("about {:.0} hours", minutes / 60.0),
        _ => "more than a day's work".into(),
    }
}

/// What a look shows, and how often.
fn settles(matter: &Matter, check: &Check) -> String {
    let what = check.shows.in_words();
    if matter.other.is_some() && check.shows != Shows::WhichOfTwo {
        return format!("It {what}; it does not tell the two apart.");
    }
    match (check.settles * 20.0).round() as i64 {
        ..=0 => format!("It seldom {what}."),
        20.. => format!("It {what}."),
        n if n % 2 == 0 => format!("It {what} {} times in 10.", n / 2),
        n => format!("It {what} {n} times in 20."),
    }
}

/// The page on which a look is made.
pub(crate) fn look_at(standing: &Standing, matter: &Matter, check: &Check) -> String {
    use CauseKind as Kind;
    let stories = std::iter::once(&matter.best).chain(&matter.other);
    let kinds: Vec<Kind> = (stories.clone())
        .flat_map(|story| &story.causes)
        .map(|cause| cause.kind)
        .collect();
    let has = |wanted: &[Kind]| wanted.iter().any(|kind| kinds.contains(kind));
    let pile = check.pile.as_deref();
    if pile.is_none()
        && let Some(row) = stories
            .flat_map(|story| &story.causes)
            .find_map(|cause| cause.row.as_deref())
    {
        return list_row(standing, row);
    }
    if has(&[Kind::CountedAsLookAlike, Kind::SentLookAlike]) && pile.is_some() {
        return address::tell_at(pile.unwrap_or_default());
    }
    let seen = standing.state.marks.get(&check.mark);
    let piles = seen.map_or_else(Vec::new, |seen| seen.piles());
    match (&piles[..], pile) {
        // Where there is one pile, that is the one.
        ([only], None) => address::again(&check.mark, only.pile.as_deref()),
        (_, None) => address::count(&check.mark),
        (piles, Some(_)) if piles.iter().any(|there| there.pile.as_deref() == pile) => {
            address::again(&check.mark, pile)
        }
        (_, Some(pile)) => address::count_at(&check.mark, pile),
    }
}

/// The row of a list, where it can be said what it is.
fn list_row(standing: &Standing, row: &str) -> String {
    let of = |list: &&tally::ListStanding| list.rows.iter().any(|listed| listed.stands == row);
    match standing.lists.iter().find(of) {
        Some(list) => address::list_row(&list.seen.digest.to_string(), row),
        None => "/list".into(),
    }
}

/// Words as a sentence.
pub(crate) fn sentence(words: &str) -> String {
    format!("{}.", frame::capitalised(words.trim_end_matches('.')))
}
