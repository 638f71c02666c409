//! What must be done by when: rules, what is known of a shipment, and what was agreed, into days.

use jiff::civil::Date;

use crate::days::last_day;
use crate::facts::{Agreed, Binds, Facts, Term};
use crate::reach::{Reached, reach};
use crate::rule::{Act, Harm, Party, Period, Rule, Start, Unit};
use crate::rules::RuleSets;

/// Nothing here is more than this.
pub const NO_ADVICE: &str = "This is not legal advice. It names the source of each rule and how surely we know it; \
    your contract, the carrier's terms and whoever is licensed to advise you go before it.";

/// The most rounds of an act that falls due again and again.
const MOST_ROUNDS: u32 = 100;

/// One act, and by when.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Due<'a> {
    /// The rule that asks for it.
    pub rule: &'a Rule,
    /// Which time it falls due; 0 is the first.
    pub round: u32,
    /// The last day in time. None where the law gives no number, or the day from which it runs is not known.
    pub date: Option<Date>,
    /// The last moment, where it is hours that count and the moment of delivery is known: ms since 1970-01-01 UTC.
    pub until: Option<i64>,
    /// From what it runs.
    pub starts: Start,
    /// Which day that was.
    pub start_day: Option<Date>,
    /// How it stands.
    pub state: State,
    /// How many days are left: 0 on the last day, less than none after it. By `date`, or else by `own_target`.
    pub days_left: Option<i32>,
    /// The contract's term that went before the rule, if one did.
    pub agreed: Option<&'a Agreed>,
    /// The day that the rule itself gives, where the contract's term went before it.
    pub by_rule: Option<Date>,
    /// The day that you set for yourself. It binds nobody.
    pub own_target: Option<Date>,
    /// Of several days for the same act, this is the earliest.
    pub strictest: bool,
    /// What else is to be known of the day, a sentence each.
    pub notes: Vec<String>,
}

/// How an act stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    /// To be done by its day.
    Open,
    /// To be done within a reasonable time, which has no day.
    NoDay,
    /// The day from which it runs is not known.
    Waits(Start),
    /// Done.
    Done {
        /// When.
        day: Date,
        /// After its day.
        late: bool,
    },
    /// Its day has gone by, and nobody said that it was done.
    Passed,
}

/// Returns what must be done for a shipment: what is still to be done first, the earliest day first.
///
/// Terms that were seen with one carrier are told until you say what yours are for the same act.
/// Of several terms for one rule, the last holds. Terms that name no rule are found with [`unknown_terms`].
pub fn due<'a>(
    sets: &'a RuleSets,
    facts: &Facts,
    agreed: &'a [Agreed],
    today: Date,
) -> Vec<Due<'a>> {
    let mut all: Vec<Due<'a>> = sets
        .sets()
        .iter()
        .filter(|set| facts.sets.contains(&set.id))
        .flat_map(|set| &set.rules)
        .filter(|rule| holds(rule, facts) && !known_better(rule, sets, agreed))
        .flat_map(|rule| rounds(rule, facts, agreed, today))
        .collect();
    mark_strictest(&mut all);
    all.sort_by_key(|d| (d.rank(), d.date.or(d.own_target).unwrap_or(Date::MAX)));
    all
}

/// Returns the terms that name no rule of the sets.
pub fn unknown_terms<'a>(sets: &RuleSets, agreed: &'a [Agreed]) -> Vec<&'a Agreed> {
    agreed
        .iter()
        .filter(|a| sets.rule(&a.rule).is_none())
        .collect()
}

/// Rules about goods that came late or not at all are told only when that is so.
fn holds(rule: &Rule, facts: &Facts) -> bool {
    if rule.harm.is_empty() {
        return true;
    }
    if facts.harm.is_empty() {
        return rule
            .harm
            .iter()
            .any(|h| matches!(h, Harm::Seen | Harm::Hidden));
    }
    rule.harm.iter().any(|h| facts.harm.contains(h))
}

/// Another carrier's terms are of no use beside those of your own.
fn known_better(rule: &Rule, sets: &RuleSets, agreed: &[Agreed]) -> bool {
    let own = |a: &Agreed| a.binds == Binds::Contract && a.rule == rule.id;
    let same_act = |a: &Agreed| {
        let other = sets.rule(&a.rule);
        a.binds == Binds::Contract && other.is_some_and(|o| o.act == rule.act && o.to == rule.to)
    };
    rule.sample && !agreed.iter().any(own) && agreed.iter().any(same_act)
}

fn rounds<'a>(rule: &'a Rule, facts: &Facts, agreed: &'a [Agreed], today: Date) -> Vec<Due<'a>> {
    let first = first_round(rule, facts, agreed);
    let (Some(every), Some(date)) = (rule.repeats_every, first.date) else {
        let met = first_done(facts, |act| {
            act == rule.act || rule.also_met_by.contains(&act)
        });
        return vec![settled(first, met, today)];
    };
    let ended = first_done(facts, |act| rule.also_met_by.contains(&act));
    let mut each: Vec<Date> = facts
        .done
        .iter()
        .filter(|d| d.act == rule.act)
        .map(|d| d.day)
        .collect();
    each.sort();
    let mut all: Vec<Due<'a>> = Vec::new();
    let mut day = date;
    for round in 0..MOST_ROUNDS {
        let next = last_day(day, every, Unit::CalendarDays, &facts.holidays).map(|c| c.last);
        let before_next = |d: Date| next.as_ref().map_or(true, |next| d < *next);
        let mut due = first.clone();
        due.round = round;
        due.date = Some(day);
        if round > 0 {
            due.notes.clear();
        }
        let end = ended.filter(|end| before_next(*end));
        let met = taken_for(day, before_next, &mut each)
            .into_iter()
            .chain(end)
            .min();
        let due = settled(due, met, today);
        let over = due.state == State::Open || end.is_some();
        all.push(due);
        match next {
            Ok(next) if !over => day = next,
            _ => break,
        }
    }
    only_the_last_passed(all)
}

/// What was done for a round: all that was done by its day, or else the first thing after it and before the next
/// round. That one came late, and is not the next round's as well.
fn taken_for(day: Date, before_next: impl Fn(Date) -> bool, each: &mut Vec<Date>) -> Option<Date> {
    let in_time = each.iter().take_while(|d| **d <= day).count();
    let taken = match (in_time, each.first()) {
        (0, Some(late)) if before_next(*late) => 1,
        _ => in_time,
    };
    each.drain(..taken).next()
}

/// The day, before it is asked whether the act was done.
fn first_round<'a>(rule: &'a Rule, facts: &Facts, agreed: &'a [Agreed]) -> Due<'a> {
    let term = |binds: Binds| {
        agreed
            .iter()
            .rfind(|a| a.rule == rule.id && a.binds == binds)
    };
    let contract = term(Binds::Contract);
    let own = term(Binds::OwnTarget);
    let starts = contract.and_then(|a| a.starts).unwrap_or(rule.starts);
    let by_rule = day_of(rule.starts, Term::Period(rule.period), facts);
    let reached = match contract {
        Some(contract) => day_of(starts, contract.term, facts),
        None => by_rule.clone(),
    };
    let own_target = own.and_then(|own| {
        let starts = own.starts.unwrap_or(rule.starts);
        day_of(starts, own.term, facts).and_then(|r| r.date)
    });
    let state = match (
        &reached,
        contract.map_or(Term::Period(rule.period), |c| c.term),
    ) {
        (_, Term::Period(Period::Reasonable)) => State::NoDay,
        (None, _) => State::Waits(starts),
        (Some(_), _) => State::Open,
    };
    let by_rule = contract.and(by_rule).and_then(|r| r.date);
    let mut due = Due {
        rule,
        round: 0,
        date: reached.as_ref().and_then(|r| r.date),
        until: reached.as_ref().and_then(|r| r.until),
        starts,
        start_day: facts.day(starts),
        state,
        days_left: None,
        agreed: contract,
        by_rule,
        own_target,
        strictest: false,
        notes: Vec::new(),
    };
    due.notes = crate::due_words::notes(&due, reached);
    due
}

fn day_of(starts: Start, term: Term, facts: &Facts) -> Option<Reached> {
    match term {
        Term::Day(day) => Some(Reached {
            date: Some(day),
            ..Reached::default()
        }),
        Term::Period(period) => facts
            .day(starts)
            .map(|day| reach(starts, day, period, facts)),
    }
}

fn first_done(facts: &Facts, which: impl Fn(Act) -> bool) -> Option<Date> {
    facts
        .done
        .iter()
        .filter(|d| which(d.act))
        .map(|d| d.day)
        .min()
}

fn settled<'a>(mut due: Due<'a>, met: Option<Date>, today: Date) -> Due<'a> {
    let by = due.date.or(due.own_target);
    due.days_left = by
        .and_then(|by| today.until(by).ok())
        .map(|span| span.get_days());
    due.state = match (met, due.date) {
        (Some(day), by) => State::Done {
            day,
            late: by.is_some_and(|by| day > by),
        },
        (None, Some(by)) if by < today => State::Passed,
        (None, _) => due.state,
    };
    due
}

/// Of the rounds that went by without the act, the last one is kept, and says how many went before it.
fn only_the_last_passed(all: Vec<Due<'_>>) -> Vec<Due<'_>> {
    let passed = all.iter().filter(|d| d.state == State::Passed).count();
    let last = all.iter().rposition(|d| d.state == State::Passed);
    let mut kept = Vec::new();
    for (at, mut due) in all.into_iter().enumerate() {
        if due.state == State::Passed && Some(at) != last {
            continue;
        }
        if due.state == State::Passed && passed > 1 {
            due.notes
                .push(format!("{} earlier days went by without it.", passed - 1));
        }
        kept.push(due);
    }
    kept
}

fn mark_strictest(all: &mut [Due<'_>]) {
    for at in 0..all.len() {
        let Some(due) = all.get(at) else { continue };
        let Some(date) = due.date else { continue };
        let same = |d: &&Due<'_>| {
            d.rule.act == due.rule.act && d.rule.id != due.rule.id && d.date.is_some()
        };
        let others = all.iter().filter(same).count();
        let earliest = all.iter().filter(same).all(|d| d.date >= Some(date));
        if let Some(due) = all.get_mut(at) {
            due.strictest = others > 0 && earliest;
        }
    }
}

impl Due<'_> {
    /// Acts of the receiver that have a day first, gone by or not, then those of others, then what has no day, what
    /// waits, and what is done.
    fn rank(&self) -> u8 {
        match self.state {
            State::Open | State::Passed if self.rule.by == Party::Receiver => 0,
            State::Open | State::Passed => 1,
            State::NoDay => 2,
            State::Waits(_) => 3,
            State::Done { .. } => 4,
        }
    }

    /// Whether the act is still to be done.
    pub fn is_open(&self) -> bool {
        !matches!(self.state, State::Done { .. })
    }
}
