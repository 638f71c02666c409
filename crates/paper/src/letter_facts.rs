//! What the letters take from how a job stands, and what has to be said beside it.

use std::collections::BTreeSet;

use claim::{Act, Due, Rule, RuleSets, Zone};
use tally::{
    About, Condition, Conditioned, MarkDifference, Measured, Outcome, Picture, Point, Standing,
};

use crate::answers::answer_in_words;
use crate::letter::{self, Carriage, Letter, Party, Source};
use crate::of_standing::order_line;
use crate::osd::{SenderWords, Sighting};
use crate::photos::Photo;

/// What a letter needs beside the log: when it is made, the rules that hold, and how what is in the log is written.
pub struct LetterFacts<'a> {
    /// The day of the letter, as it should be read.
    pub date: String,
    /// The head of the job's log; may be empty.
    pub log_head: String,
    /// The names of the rule sets that hold for what the letter is about.
    pub sets: &'a BTreeSet<String>,
    /// What is due for it, by those rules and the terms that were agreed.
    pub dates: &'a [Due<'a>],
    /// The time zone of the site: every time on a paper is in it.
    pub zone: &'a Zone,
    /// What was read of a piece, in words; empty if that says nothing.
    pub read: &'a dyn Fn(&Measured) -> String,
    /// A picture or its small copy; nothing where this copy of the job does not hold it.
    pub picture: &'a dyn Fn(&Picture) -> Option<Vec<u8>>,
}

/// What harms a piece.
pub(crate) const HARM: [Condition; 3] = [Condition::Damaged, Condition::Bent, Condition::Wet];

/// Harm by which a piece is lost to the building. A wet tube dries.
pub(crate) const UNFIT: [Condition; 2] = [Condition::Damaged, Condition::Bent];

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
        let affairs = &standing.state.affairs;
        let written = |field: &str| affairs.written(field, None).to_owned();
        let to = match reader {
            Reader::Carrier(carriage) => {
                let of_carrier =
                    |field: &str| affairs.written(field, Some(&carriage.shipment)).to_owned();
                Party {
                    name: carriage.carrier.clone(),
                    address: of_carrier("carrier-address"),
                    contact: of_carrier("carrier-contact"),
                }
            }
            Reader::Sender => Party {
                name: order.sender.clone().unwrap_or_default(),
                address: written("sender-address"),
                contact: written("sender-contact"),
            },
        };
        let due = self.dates.iter().filter(|due| acts.contains(&due.rule.act));
        Some(Letter {
            job: order.name.clone(),
            order: order_line(ordered),
            order_number: order.number.clone().unwrap_or_default(),
            site: order.site.clone().unwrap_or_default(),
            from: writer(standing),
            to,
            date: self.date.clone(),
            reference: written("reference"),
            missing: Vec::new(),
            due: due.map(due_in_words).collect(),
            sources: self.sources(acts),
            remarks: Vec::new(),
            zone: self.zone.name().to_owned(),
            rules: self.sets.iter().cloned().collect(),
            log_head: self.log_head.clone(),
        })
    }

    /// What a letter about these acts rests on: the rules that are due, or else every rule for them in the sets that hold.
    fn sources(&self, acts: &[Act]) -> Vec<Source> {
        let due: Vec<&Rule> = (self.dates.iter().map(|due| due.rule))
            .filter(|rule| acts.contains(&rule.act))
            .collect();
        let all = || {
            let sets = RuleSets::built_in().sets().iter();
            (sets.filter(|set| self.sets.contains(&set.id))).flat_map(|set| &set.rules)
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
            when: self.local(picture.at),
            digest: picture.photo.to_string(),
        }
    }

    /// What was measured of pieces that were held to be of this mark.
    pub(crate) fn readings(&self, standing: &Standing, mark: &str) -> Vec<String> {
        let of_mark = |measured: &&Measured| measured.mark.as_deref() == Some(mark);
        (standing.state.measured.iter().filter(of_mark))
            .filter_map(|measured| {
                let words = (self.read)(measured);
                let when = self.local(measured.at);
                (!words.is_empty()).then(|| format!("{words} ({}, {when})", measured.who))
            })
            .collect()
    }

    /// A time of the log as people at the site read it.
    pub(crate) fn local(&self, at: i64) -> String {
        at_site(self.zone, at)
    }

    pub(crate) fn sighting(&self, seen: &Conditioned) -> Sighting {
        Sighting {
            pieces: Some(seen.quantity),
            condition: seen.condition.in_words().into(),
            words: seen.words.clone(),
            who: seen.who.clone(),
            when: self.local(seen.at),
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
                let when = self.local(seen.at);
                format!("{}{words} ({when})", answer_in_words(&seen.answer, "you"))
            })
            .collect()
    }
}

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

/// A time of the log as people at the site read it: `6 Mar 2026, 10:05`. A paper may be read years on.
pub(crate) fn at_site(zone: &Zone, at: i64) -> String {
    match zone.at(at) {
        Ok((day, time)) => format!("{}, {}", day.strftime("%-d %b %Y"), time.strftime("%H:%M")),
        Err(_) => "at no time".into(),
    }
}

/// Who writes, as somebody said.
pub(crate) fn writer(standing: &Standing) -> Party {
    let written = |field| standing.state.affairs.written(field, None).to_owned();
    Party {
        name: written("from-name"),
        address: written("from-address"),
        contact: written("from-contact"),
    }
}

/// What is known of the carriage of a shipment.
pub(crate) fn carriage_of(standing: &Standing, shipment: &str, zone: &Zone) -> Carriage {
    let affairs = &standing.state.affairs;
    let freight = affairs.freight.get(shipment).cloned().unwrap_or_default();
    let delivery = affairs.deliveries.get(shipment);
    let arrival = (standing.state.shipments.get(shipment)).and_then(|s| s.arrived.as_ref());
    let delivered = match (delivery, arrival) {
        (Some(delivery), _) => match &delivery.time {
            Some(time) => format!("{} {time}", delivery.on),
            None => delivery.on.clone(),
        },
        (None, Some(arrival)) => at_site(zone, arrival.at),
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
