//! What the letters take from how a job stands, and what has to be said beside it.

use claim::{Act, Due, Rule, RuleSets};
use tally::{
    About, Answer, Condition, Conditioned, ListedRow, MarkDifference, Measured, Outcome, Picture,
    Point, Standing,
};

use crate::letter::{self, Carriage, Letter, Missing, Party, Source};
use crate::of_standing::order_line;
use crate::osd::{SenderWords, Sighting};
use crate::photos::Photo;

/// What a letter says that does not follow from how a job stands, and how what follows is written.
pub struct LetterFacts<'a> {
    /// Who writes.
    pub from: Party,
    /// To whom; an empty name is taken from the job: the shipment's carrier, or the sender.
    pub to: Party,
    /// The day of the letter, as it should be read.
    pub date: String,
    /// The writer's own number for it; may be empty.
    pub reference: String,
    /// What else is missing before it may be called complete.
    pub missing: Vec<Missing>,
    /// Further remarks.
    pub remarks: Vec<String>,
    /// The head of the job's log; may be empty.
    pub log_head: String,
    /// What is due for the shipment, by the rules that hold and the terms that were agreed.
    pub dates: &'a [Due<'a>],
    /// Writes a time of the log as people at the site read it.
    pub local: &'a dyn Fn(i64) -> String,
    /// What was read of a piece, in words; empty if that says nothing.
    pub read: &'a dyn Fn(&Measured) -> String,
    /// A picture or its small copy; nothing where this copy of the job does not hold it.
    pub picture: &'a dyn Fn(&Picture) -> Option<Vec<u8>>,
}

/// Whom a letter goes to.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Reader<'a> {
    /// The carrier of a shipment.
    Carrier(&'a Carriage),
    /// The sender of the order.
    Sender,
}

impl LetterFacts<'_> {
    /// Head and foot of a letter about these acts; `None` without an order that can be built.
    pub(crate) fn letter(
        &self,
        standing: &Standing,
        reader: Reader<'_>,
        acts: &[Act],
    ) -> Option<Letter> {
        let ordered = standing.ordered()?;
        let order = &ordered.order;
        let mut to = self.to.clone();
        if to.name.trim().is_empty() {
            to.name = match reader {
                Reader::Carrier(carriage) => carriage.carrier.clone(),
                Reader::Sender => order.sender.clone().unwrap_or_default(),
            };
        }
        let due = self.dates.iter().filter(|due| acts.contains(&due.rule.act));
        Some(Letter {
            job: order.name.clone(),
            order: order_line(ordered),
            order_number: order.number.clone().unwrap_or_default(),
            site: order.site.clone().unwrap_or_default(),
            from: self.from.clone(),
            to,
            date: self.date.clone(),
            reference: self.reference.clone(),
            missing: self.missing.clone(),
            due: due.map(due_in_words).collect(),
            sources: self.sources(acts),
            remarks: self.remarks.clone(),
            log_head: self.log_head.clone(),
        })
    }

    /// What a letter about these acts rests on: the rules that are due, or else every rule there is for them.
    fn sources(&self, acts: &[Act]) -> Vec<Source> {
        let due: Vec<&Rule> = (self.dates.iter().map(|due| due.rule))
            .filter(|rule| acts.contains(&rule.act))
            .collect();
        let all = || {
            let sets = RuleSets::built_in().sets();
            let of_us = sets
                .iter()
                .filter(|set| DEFAULT_SETS.contains(&set.id.as_str()));
            of_us.flat_map(|set| &set.rules)
        };
        let mut rules: Vec<&Rule> = if due.is_empty() {
            all().filter(|rule| acts.contains(&rule.act)).collect()
        } else {
            due
        };
        // One carrier's terms that somebody saw are no source for another's.
        rules.retain(|rule| !rule.sample);
        let mut sources: Vec<Source> = Vec::new();
        for rule in rules {
            let source = source(rule);
            if sources.iter().all(|known| known.cite != source.cite) {
                sources.push(source);
            }
        }
        sources
    }

    /// The pictures that show one of these marks, and those of the shipment that show no mark.
    pub(crate) fn photos(
        &self,
        standing: &Standing,
        shipment: Option<&str>,
        marks: &[&str],
    ) -> Vec<Photo> {
        let belongs = |picture: &&Picture| match (&picture.mark, &picture.shipment) {
            (Some(mark), _) => marks.contains(&mark.as_str()),
            (None, Some(of)) => shipment == Some(of.as_str()),
            (None, None) => false,
        };
        (standing.state.pictures.iter().filter(belongs))
            .map(|picture| self.photo(picture))
            .collect()
    }

    fn photo(&self, picture: &Picture) -> Photo {
        let shot = picture.shot.in_words();
        Photo {
            bytes: (self.picture)(picture).unwrap_or_default(),
            mark: picture.mark.clone().unwrap_or_default(),
            shows: match picture.words.trim() {
                "" => shot.to_owned(),
                words => format!("{shot}: {words}"),
            },
            who: picture.who.clone(),
            when: (self.local)(picture.at),
            digest: picture.photo.to_string(),
        }
    }

    /// What was measured of pieces that were held to be of this mark.
    pub(crate) fn readings(&self, standing: &Standing, mark: &str) -> Vec<String> {
        let of_mark = |measured: &&Measured| measured.mark.as_deref() == Some(mark);
        (standing.state.measured.iter().filter(of_mark))
            .filter_map(|measured| {
                let words = (self.read)(measured);
                let when = (self.local)(measured.at);
                (!words.is_empty()).then(|| format!("{words} ({}, {when})", measured.who))
            })
            .collect()
    }

    pub(crate) fn sighting(&self, seen: &Conditioned) -> Sighting {
        Sighting {
            pieces: Some(seen.quantity),
            condition: seen.condition.in_words().into(),
            words: seen.words.clone(),
            who: seen.who.clone(),
            when: (self.local)(seen.at),
        }
    }

    /// What the other side answered to a point, with the day it was written down.
    pub(crate) fn answers(&self, standing: &Standing, about: About, of: &str) -> Vec<String> {
        let points = &standing.state.affairs.points;
        let seen = points.get(&Point::of(about, of));
        (seen.iter().flat_map(|seen| &seen.answers))
            .map(|seen| {
                let words = match seen.words.trim() {
                    "" => String::new(),
                    words => format!(", “{words}”"),
                };
                let when = (self.local)(seen.at);
                format!("{}{words} ({when})", answer_in_words(&seen.answer))
            })
            .collect()
    }
}

/// The rule sets whose rules are named where nobody has said which hold: between states by road, and a sale there.
const DEFAULT_SETS: [&str; 2] = ["us-motor", "ucc"];

fn due_in_words(due: &Due<'_>) -> letter::Due {
    let rule = due.rule;
    let whose = match due.agreed {
        Some(agreed) => format!("agreed: {}", agreed.words),
        None => format!(
            "{}: {} ({}){}",
            rule.basis.words(),
            rule.source,
            rule.sure.words(),
            after("; ", &rule.check)
        ),
    };
    letter::Due {
        what: rule.title.clone(),
        by: due.when(),
        rule: whose,
    }
}

fn source(rule: &Rule) -> Source {
    Source {
        says: rule.asks.join("; "),
        cite: rule.source.clone(),
        known: format!(
            "{}{}{}",
            rule.sure.words(),
            after("; ", &rule.check),
            after(". ", rule.less_sure.trim_end_matches('.'))
        ),
    }
}

fn after(before: &str, words: &str) -> String {
    if words.is_empty() {
        String::new()
    } else {
        format!("{before}{words}")
    }
}

fn answer_in_words(answer: &Answer) -> String {
    match answer {
        Answer::Sends {
            quantity,
            on,
            shipment,
        } => {
            let on = on.as_deref().map(|day| format!(" on {day}"));
            let with = shipment.as_deref().map(|name| format!(" with {name}"));
            format!(
                "sends {quantity}{}{}",
                on.unwrap_or_default(),
                with.unwrap_or_default()
            )
        }
        Answer::Credits { sum: Some(sum), .. } => format!("credits {sum}"),
        Answer::Credits { quantity, .. } => format!("credits {quantity}"),
        Answer::Refuses => "refuses".into(),
        Answer::Keep => "may be kept".into(),
        Answer::Return => "is to go back".into(),
        Answer::Asks => "asks for something first".into(),
        Answer::Other => "answered in another way".into(),
    }
}

/// What is known of the carriage of a shipment.
pub(crate) fn carriage_of(
    standing: &Standing,
    shipment: &str,
    local: &dyn Fn(i64) -> String,
) -> Carriage {
    let affairs = &standing.state.affairs;
    let freight = affairs.freight.get(shipment).cloned().unwrap_or_default();
    let delivery = affairs.deliveries.get(shipment);
    let arrival = (standing.state.shipments.get(shipment)).and_then(|s| s.arrived.as_ref());
    let delivered = match (delivery, arrival) {
        (Some(delivery), _) => match &delivery.time {
            Some(time) => format!("{} {time}", delivery.on),
            None => delivery.on.clone(),
        },
        (None, Some(arrival)) => local(arrival.at),
        (None, None) => String::new(),
    };
    Carriage {
        shipment: shipment.to_owned(),
        carrier: freight.carrier,
        bill: freight.bill,
        carrier_number: freight.carrier_number,
        billed_on: freight.billed_on.unwrap_or_default(),
        delivered,
        units_billed: freight.units,
        units_are: freight.units_are,
        units_counted: delivery.and_then(|delivery| delivery.units),
        handed_over: delivery.map_or(String::new(), |d| d.outcome.in_words().into()),
        receipt_note: delivery.and_then(|delivery| {
            let note = delivery.receipt_note.trim();
            let is_known = !note.is_empty() || delivery.outcome == Outcome::SignedClear;
            is_known.then(|| note.to_owned())
        }),
        driver_signed: delivery.and_then(|delivery| delivery.driver_signed),
        seals: delivery.map_or(String::new(), |delivery| delivery.seals.clone()),
    }
}

/// Whether pieces of a mark may have come with a shipment: a row says so, or no row says anything of shipments.
pub(crate) fn may_be_of(mark: &MarkDifference, shipment: &str) -> bool {
    let says = |row: &&ListedRow| row.shipment.is_some();
    let mut rows = mark.rows.iter().filter(says).peekable();
    rows.peek().is_none() || rows.any(|row| row.shipment.as_deref() == Some(shipment))
}

/// The sender's own words for a mark: those of its first row, and where each of them stands.
pub(crate) fn sender_words(mark: &MarkDifference) -> Option<SenderWords> {
    mark.rows.first().map(|row| SenderWords {
        code: row.code.clone(),
        description: row.description.clone(),
        place: places(mark),
    })
}

/// Where the rows of a mark stand.
pub(crate) fn places(mark: &MarkDifference) -> String {
    let places: Vec<&str> = mark.rows.iter().map(|row| row.stands.as_str()).collect();
    places.join(", ")
}

/// What was seen of a mark that is one of these conditions.
pub(crate) fn conditions<'a>(
    standing: &'a Standing,
    mark: &str,
    of: &'a [Condition],
) -> impl Iterator<Item = &'a Conditioned> + use<'a> {
    let seen = standing.state.marks.get(mark);
    let conditions = seen.into_iter().flat_map(|seen| &seen.conditions);
    conditions.filter(|seen| of.contains(&seen.condition))
}

/// How many pieces of a mark are missing, and nothing else explains them.
pub(crate) fn short(standing: &Standing, mark: &MarkDifference) -> i64 {
    match standing.explanation() {
        Some(explanation) if mark.on_hand.is_counted() => explanation.short(&mark.mark),
        _ => mark.short(),
    }
}

/// How many pieces of a mark came too many, and nothing else explains them.
pub(crate) fn over(standing: &Standing, mark: &MarkDifference) -> i64 {
    match standing.explanation() {
        Some(explanation) if mark.on_hand.is_counted() => explanation.over(&mark.mark),
        _ => mark.over(),
    }
}

/// The likeliest cause of a mark's difference, and the check that settles it; both may be empty.
pub(crate) fn cause_and_check(standing: &Standing, mark: &str) -> (String, String) {
    let matter = standing.explanation().and_then(|all| all.matter(mark));
    let Some(matter) = matter else {
        return Default::default();
    };
    let about =
        |cause: &&tally::Cause| cause.mark == mark || cause.other_mark.as_deref() == Some(mark);
    let causes = matter.best.causes.iter().filter(about);
    let mut cause = causes
        .map(tally::Cause::in_words)
        .collect::<Vec<_>>()
        .join("; ");
    if !cause.is_empty() && matter.nearly_level {
        cause.push_str(" (another cause is nearly as likely)");
    }
    let check = matter.check.as_ref().map(|check| check.words.clone());
    (cause, check.unwrap_or_default())
}
