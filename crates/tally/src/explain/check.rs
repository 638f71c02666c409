//! The look that tells two stories apart at least effort, or confirms one.
//!
//! Seconds are values of ours, for one person with gloves, tools at hand; those of a reading come from `tell`.

use std::collections::BTreeSet;

use crate::explain::Story;
use crate::explain::cause::{Cause, CauseKind};
use crate::explain::facts::Facts;
use crate::explain::shows::{Shows, seen};

/// A look that tells the likeliest story from the next, or confirms it.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// What to do: "measure any 3 in pile C".
    pub words: String,
    /// The mark that it is about.
    pub mark: String,
    /// The pile to look at, where one is.
    pub pile: Option<String>,
    /// How long it takes; a design value of ours.
    pub seconds: f64,
    /// The chance that what comes out tells the two stories apart: none where both say the same of it. Where there is no
    /// other story, that it shows whether the one is so.
    pub settles: f64,
    /// What it shows.
    pub shows: Shows,
    /// Where one has to go for it. What several looks have in common is done once.
    pub errands: Vec<Errand>,
}

/// A walk, a call, a reading.
#[derive(Debug, Clone, PartialEq)]
pub struct Errand {
    /// What it is for: looks for which one has to do the same have the same words here.
    pub to: String,
    /// How long it takes.
    pub seconds: f64,
}

impl Errand {
    /// Errands without those that are there already.
    pub(crate) fn once(all: impl Iterator<Item = Self>) -> Vec<Self> {
        let mut found: Vec<Self> = Vec::new();
        for errand in all {
            match found.iter_mut().find(|known| known.to == errand.to) {
                Some(known) => known.seconds = known.seconds.max(errand.seconds),
                None => found.push(errand),
            }
        }
        found
    }
}

impl Check {
    fn new(words: String, mark: &str, pile: Option<String>, seconds: f64, settles: f64) -> Self {
        let to = match words.starts_with(ASKING) {
            true => ASKING.trim_end().to_owned(),
            false => words.clone(),
        };
        Self {
            words,
            mark: mark.into(),
            pile,
            seconds,
            settles,
            shows: Shows::WhetherSo,
            errands: vec![Errand { to, seconds }],
        }
    }
}

/// Every question to the sender begins so, and one call asks them all.
const ASKING: &str = "ask the sender ";

/// A check is good enough that tells as often as this.
const GOOD: f64 = 0.95;
/// To walk to a pile.
const WALK: f64 = 30.0;
/// To count one piece.
const COUNT: f64 = 1.5;
/// To find a bag and open it.
const OPEN: f64 = 120.0;
/// To look through a bag that was opened before.
const LOOK_THROUGH: f64 = 60.0;
/// So many bags are looked through before anything is claimed.
const MOST_BAGS: usize = 3;
/// To look at a row of the list.
const READ: f64 = 30.0;
/// To ask the sender.
const ASK: f64 = 600.0;
/// How often a count is right, a row is read aright, a sender answers aright, a reading is.
const RIGHT: [f64; 4] = [0.97, 0.96, 0.95, 0.98];

/// The check of a matter. Whatever hides a shortage is looked for by itself; else the quickest look that tells the best
/// story from the next is enough.
pub(crate) fn check(facts: &Facts, best: &Story, other: Option<&Story>) -> Option<Check> {
    let hiding = best.causes.iter().filter(|cause| cause.hides_a_shortage());
    let looks: Vec<Check> = hiding
        .map(|cause| look(facts, cause, best, other))
        .collect();
    if let Some(all) = together(looks) {
        return Some(all);
    }
    let none = Vec::new();
    let others = other.map_or(&none, |story| &story.causes);
    let differ = (best.causes.iter().filter(|cause| !others.contains(cause)))
        .chain(others.iter().filter(|cause| !best.causes.contains(cause)));
    let mut differ: Vec<&Cause> = differ.collect();
    // That something is short shows when nothing else is so.
    if !differ.iter().all(|cause| is_what_is_left(cause)) {
        differ.retain(|cause| !is_what_is_left(cause));
    }
    let mut looks: Vec<Check> = (differ.into_iter())
        .map(|cause| look(facts, cause, best, other))
        .collect();
    looks.sort_by(|a, b| a.seconds.total_cmp(&b.seconds));
    let good = looks.iter().find(|look| look.settles >= GOOD);
    let most = looks.iter().map(|look| look.settles).fold(0.0, f64::max);
    (good.or_else(|| looks.iter().find(|look| look.settles >= most))).cloned()
}

/// The look that shows whether a cause is so, with what it tells of two stories.
fn look(facts: &Facts, cause: &Cause, best: &Story, other: Option<&Story>) -> Check {
    let mut look = look_for(facts, cause);
    let differs = other.is_some_and(|other| seen(cause, best) != seen(cause, other));
    look.shows = match cause.kind {
        _ if differs => Shows::WhichOfTwo,
        _ if is_what_is_left(cause) => Shows::WhetherOff,
        _ => Shows::WhetherSo,
    };
    if other.is_some() && !differs {
        look.settles = 0.0;
    }
    look
}

/// Whether it is what is said where nothing else is.
fn is_what_is_left(cause: &Cause) -> bool {
    matches!(
        cause.kind,
        CauseKind::Short | CauseKind::Extra | CauseKind::FewerSpares
    )
}

/// Several checks as one, one after the other; what is asked of the sender is asked in one call.
fn together(checks: Vec<Check>) -> Option<Check> {
    let mut checks = checks.into_iter();
    let mut all = checks.next()?;
    let (mut asked, mut words) = (Vec::new(), Vec::new());
    let mut say = |said: &str| match said.strip_prefix(ASKING) {
        Some(question) => asked.push(question.to_owned()),
        None => words.push(said.to_owned()),
    };
    say(&all.words);
    let mut known = vec![all.words.clone()];
    for check in checks {
        if known.contains(&check.words) {
            continue;
        }
        say(&check.words);
        // One that tells the two apart is enough to tell them apart.
        (all.shows, all.settles) = match (all.shows, check.shows) {
            (a, b) if a == b => (a, all.settles * check.settles),
            (Shows::WhichOfTwo, _) => (all.shows, all.settles),
            _ => (check.shows, check.settles),
        };
        all.errands.extend(check.errands);
        known.push(check.words);
    }
    if known.len() > 1 {
        let asked: Vec<&str> = (asked.iter())
            .map(|words| {
                words
                    .split_once(" (")
                    .map_or(words.as_str(), |(what, _)| what)
            })
            .collect();
        let call = (!asked.is_empty()).then(|| format!("{ASKING}{}", asked.join(", and ")));
        all.words = words
            .into_iter()
            .chain(call)
            .collect::<Vec<_>>()
            .join("; then ");
    }
    all.errands = Errand::once(all.errands.into_iter());
    all.seconds = all.errands.iter().map(|errand| errand.seconds).sum();
    Some(all)
}

/// The look that shows whether a cause is so.
fn look_for(facts: &Facts, cause: &Cause) -> Check {
    let [counted, read, asked, _] = RIGHT;
    let mark = &cause.mark;
    let look = |words: String, seconds: f64, settles: f64| {
        Check::new(words, mark, cause.pile.clone(), seconds, settles)
    };
    let on_hand = facts
        .back
        .place
        .get(mark)
        .map_or(0, |place| facts.mark(*place).on_hand.counted);
    let count_again = |what: String| {
        let pieces = (on_hand + cause.quantity.abs()) as f64;
        look(
            format!("count {what} again"),
            WALK + COUNT * pieces,
            counted,
        )
    };
    let share = cause.sub_kit.as_deref().unwrap_or("another sub-kit");
    match cause.kind {
        CauseKind::CountedAsLookAlike | CauseKind::SentLookAlike => measure_some(facts, cause),
        CauseKind::WrongSent => look(
            format!("look at the pieces labelled {mark} that were found to be something else"),
            WALK,
            counted,
        ),
        CauseKind::BundleAsOne
        | CauseKind::CountedTwice
        | CauseKind::Miscounted
        | CauseKind::LooksDiffer => count_again(the_pieces(cause)),
        CauseKind::WeighingDoubt => {
            let pieces = (on_hand + cause.quantity.abs()) as f64;
            let words = format!("count {} one by one", the_pieces(cause));
            look(words, WALK + COUNT * pieces, counted)
        }
        CauseKind::Short | CauseKind::Extra | CauseKind::FewerSpares => {
            count_again(the_pieces(cause))
        }
        CauseKind::PileNotCounted if cause.pile.is_some() => look(
            format!("count {}", the_pieces(cause)),
            WALK + COUNT * cause.quantity as f64,
            counted,
        ),
        CauseKind::InAnotherBag if cause.sub_kit.is_none() => look_through(facts, cause),
        CauseKind::PileNotCounted | CauseKind::InAnotherBag => look(
            format!("open the bag of {share} and count the {mark} in it"),
            OPEN + COUNT * cause.quantity as f64,
            counted,
        ),
        CauseKind::DamagedNotCounted => look(
            format!("count the {mark} that were set aside as not fit for use"),
            WALK + COUNT * cause.quantity as f64,
            counted,
        ),
        CauseKind::RowMisread | CauseKind::RowTwice => {
            let row = cause.row.as_deref().unwrap_or("the rows");
            look(format!("look at {row} of the list again"), READ, read)
        }
        CauseKind::ListTwice => {
            let list = cause.row.as_deref().unwrap_or("the list");
            let words =
                format!("look whether {list} is a list that stands here already, and take it away");
            look(words, READ, read)
        }
        CauseKind::LeftForLater => {
            let (come, them) = match cause.quantity {
                1 => ("comes", "it"),
                _ => ("come", "them"),
            };
            let what = format!("{ASKING}whether {} {mark} {come}", cause.quantity);
            let words = match &cause.shipment {
                Some(load) => format!("{what} with {load} (or wait for {load} and count {them})"),
                None => format!("{what} in a later shipment"),
            };
            look(words, ASK, asked)
        }
        CauseKind::RowForTwoUses | CauseKind::PackedForOneUse => {
            let words = format!("ask the sender whether {mark} for {share} were packed");
            look(words, ASK, asked)
        }
        CauseKind::PackedByList => look(format!("{ASKING}how many {mark} were packed"), ASK, asked),
        CauseKind::ListTypo => {
            let listed = (facts.back.place.get(mark)).and_then(|place| facts.mark(*place).listed);
            let words = match listed {
                Some(listed) => {
                    format!("ask the sender whether {listed} {mark} on the list is right")
                }
                None => format!("ask the sender how many {mark} were packed"),
            };
            look(words, ASK, asked)
        }
        CauseKind::ListForOtherOrder | CauseKind::SentForOtherOrder => ask_the_sender(mark, ""),
    }
}

/// Asks which order the list was made for.
pub(crate) fn ask_the_sender(mark: &str, change: &str) -> Check {
    let which = match change {
        "" => String::new(),
        change => format!(": {change}?"),
    };
    let words = format!("{ASKING}which order the list was made for{which}");
    Check::new(words, mark, None, ASK, RIGHT[2])
}

/// Through the bags that were opened, and where nobody looked for it.
fn look_through(facts: &Facts, cause: &Cause) -> Check {
    let mark = &cause.mark;
    let place = facts.back.place.get(mark);
    let all = place.map_or_else(Vec::new, |place| facts.opened_shares(*place));
    let some = &all[..all.len().min(MOST_BAGS)];
    let words = match some {
        [] => format!("look through the other bags: {mark} may lie there"),
        [one] => format!("look through the opened bag of {one}: {mark} may lie there"),
        [first @ .., last] => format!(
            "look through the opened bags of {} and {last}: {mark} may lie there",
            first.join(", ")
        ),
    };
    let seen = some.len() as f64 / all.len().max(1) as f64;
    let seconds = WALK + LOOK_THROUGH * some.len().max(1) as f64;
    Check::new(words, mark, None, seconds, RIGHT[0] * seen)
}

/// As few pieces of the pile as show, nineteen times of twenty, whether any of another mark are among them.
fn measure_some(facts: &Facts, cause: &Cause) -> Check {
    let called = cause.other_mark.as_ref().unwrap_or(&cause.mark);
    let place = |mark: &str| facts.back.place.get(mark).copied();
    if place(called).is_none() {
        let words = format!(
            "{called} is no part of this order: look whether {} are {}",
            the_called(called, cause),
            cause.mark
        );
        return Check::new(words, called, cause.pile.clone(), WALK + READ, RIGHT[3]);
    }
    let pair = place(&cause.mark).zip(place(called));
    let apart = pair.and_then(|(of, called)| facts.back.pair(of, called)?.apart.clone());
    let pile = (pair.and_then(|(_, called)| facts.seen(called))).and_then(|seen| {
        seen.piles()
            .into_iter()
            .find(|pile| pile.pile == cause.pile)
    });
    let stands = pile.map_or(0, |pile| pile.stands);
    let known = pair.map_or(0, |(of, called)| {
        facts.measured(called, of, &cause.pile).as_called
    });
    let check = |words: String, seconds: f64, settles: f64| {
        Check::new(words, called, cause.pile.clone(), seconds, settles)
    };
    let Some((how, seconds)) = apart else {
        let words = format!(
            "nothing to measure tells {} from {called}: count both again",
            cause.mark
        );
        let pieces = (stands + cause.quantity) as f64;
        return check(words, WALK + COUNT * pieces, 0.5);
    };
    let (pieces, shows) = enough(stands - known, cause.quantity.abs());
    let among = match &cause.pile {
        Some(pile) => format!("in {}", pile_name(pile)),
        None => format!("of the {called}"),
    };
    let more = if known > 0 { " more" } else { "" };
    let words = match how.strip_prefix("Measure ") {
        Some(how) => format!("measure any {pieces}{more} {among} ({how})"),
        None => {
            let how = how.strip_prefix("Look at ").unwrap_or(&how);
            format!("look at any {pieces}{more} {among} ({how})")
        }
    };
    check(words, WALK + seconds * pieces as f64, shows * RIGHT[3])
}

/// The fewest of so many pieces among which at least one of `odd` shows with a chance of 0.95, and that chance: one less
/// C(n−x, k) / C(n, k).
fn enough(pieces: i64, odd: i64) -> (i64, f64) {
    let mut none_shows = 1.0;
    for taken in 0..pieces {
        let left = pieces - taken;
        none_shows *= (left - odd).max(0) as f64 / left as f64;
        if 1.0 - none_shows >= GOOD {
            return (taken + 1, 1.0 - none_shows);
        }
    }
    (pieces.max(1), 1.0)
}

/// The pieces that were called so.
fn the_called(called: &str, cause: &Cause) -> String {
    match &cause.pile {
        Some(pile) => format!("those in {}", pile_name(pile)),
        None => format!("the pieces counted as {called}"),
    }
}

/// The pieces of a cause, as a crew finds them.
fn the_pieces(cause: &Cause) -> String {
    match &cause.pile {
        Some(pile) => format!("the {} in {}", cause.mark, pile_name(pile)),
        None => format!("the {}", cause.mark),
    }
}

/// "pile C", whether it is called "C" or "pile C".
pub(crate) fn pile_name(pile: &str) -> String {
    match pile.to_lowercase().starts_with("pile") {
        true => pile.to_owned(),
        false => format!("pile {pile}"),
    }
}

/// The marks that a story speaks of, beside those at hand.
pub(crate) fn marks_of(story: &Story) -> BTreeSet<&str> {
    (story.causes.iter())
        .flat_map(|cause| [Some(cause.mark.as_str()), cause.other_mark.as_deref()])
        .flatten()
        .collect()
}
