//! A due act in sentences.

use crate::due::{Due, State};
use crate::facts::Term;
use crate::reach::{Reached, day_in_words};
use crate::rule::{Force, Party, Period};

/// What is to be known of the day, beside it.
pub(crate) fn notes(due: &Due<'_>, reached: Option<Reached>) -> Vec<String> {
    let mut notes = Vec::new();
    if let Some(agreed) = due.agreed {
        let by_rule = match due.by_rule {
            Some(day) => format!(" The rule itself would say {}.", day_in_words(day)),
            None => format!(" The rule itself says {}.", due.rule.period),
        };
        notes.push(format!(
            "Your terms go before the rule: {}.{by_rule}",
            agreed.words.trim_end_matches('.')
        ));
        let earlier = due
            .date
            .zip(due.by_rule)
            .is_some_and(|(date, floor)| date < floor);
        if earlier && !due.rule.floor.is_empty() {
            notes.push(format!(
                "That is earlier than {} from {}, and {} lets no carrier set less for shipments that it covers. Keep to \
                 the earlier day all the same, and ask somebody who knows whether it holds.",
                due.rule.period,
                due.rule.starts.words(),
                due.rule.floor
            ));
        }
    }
    if due.rule.sample && due.agreed.is_none() {
        notes.push("One carrier's terms that we saw; yours may differ.".into());
    }
    notes.extend(reached.into_iter().flat_map(|r| r.notes));
    notes
}

impl Due<'_> {
    /// Returns by when, in words.
    pub fn when(&self) -> String {
        let own = self
            .own_target
            .map(|day| format!("Your own target: {}", day_in_words(day)));
        match self.state {
            State::Done { day, late: false } => format!("Done on {}.", day_in_words(day)),
            State::Done { day, late: true } => format!(
                "Done on {}, after its day{}.",
                day_in_words(day),
                self.its_day()
            ),
            State::NoDay => {
                let own = own.map_or_else(
                    || "Set a day of your own.".into(),
                    |own| format!("{own}{}.", self.left_in_words()),
                );
                format!(
                    "Within a reasonable time from {}: no date can be given. {own}",
                    self.starts.words()
                )
            }
            State::Waits(start) if start.comes_later() => {
                format!("{} from {}.", self.period(), start.words())
            }
            State::Waits(start) => format!(
                "{} from {}; that day must be said first.",
                self.period(),
                start.words()
            ),
            State::Passed => format!(
                "The last day was {}{}.",
                self.last_day(),
                self.left_in_words()
            ),
            State::Open if self.date.is_none() => "No day can be worked out.".into(),
            State::Open => {
                let own = own.map_or_else(String::new, |own| format!(" {own}."));
                format!("By {}{}.{own}", self.last_day(), self.left_in_words())
            }
        }
    }

    /// Returns how long there is, in words: the contract's term, or the rule's.
    pub fn period(&self) -> String {
        match self.agreed.map(|a| a.term) {
            Some(Term::Day(day)) => format!("until {}", day_in_words(day)),
            Some(Term::Period(period)) => period.to_string(),
            None => self.rule.period.to_string(),
        }
    }

    /// Returns the whole of it: what, to whom, by when, from what, and what missing it costs.
    pub fn says(&self) -> String {
        let who = match (self.rule.by, self.rule.to) {
            (Party::Receiver, to) => format!(" (to {})", to.words()),
            (by, _) => format!(" (by {})", by.words()),
        };
        let mut all = format!("{}{who}. {}", self.rule.title, self.when());
        if let State::Done { .. } = self.state {
            return all;
        }
        let from = match (self.start_day, self.agreed.map(|a| a.term)) {
            (_, Some(Term::Day(_))) | (None, _) => String::new(),
            (Some(day), _) if self.rule.period == Period::AtTheStart => {
                format!(" At {}, {}.", self.starts.words(), day_in_words(day))
            }
            (Some(day), _) => format!(
                " {} from {}, {}.",
                self.period(),
                self.starts.words(),
                day_in_words(day)
            ),
        };
        let cost = match self.rule.force {
            Force::HardLimit | Force::ShiftsEvidence => "Missing it",
            Force::TimeToAsk => "If they do not",
        };
        all.push_str(&format!("{from} {cost}: {}", self.rule.missing_it));
        for note in &self.notes {
            all.push(' ');
            all.push_str(note);
        }
        all
    }

    fn its_day(&self) -> String {
        self.date
            .map_or_else(String::new, |day| format!(", {}", day_in_words(day)))
    }

    fn last_day(&self) -> String {
        self.date.map_or_else(String::new, day_in_words)
    }

    fn left_in_words(&self) -> String {
        match self.days_left {
            None => String::new(),
            Some(0) => " (today)".into(),
            Some(1) => " (1 day left)".into(),
            Some(-1) => " (1 day ago)".into(),
            Some(left) if left > 0 => format!(" ({left} days left)"),
            Some(left) => format!(" ({} days ago)", left.unsigned_abs()),
        }
    }
}
