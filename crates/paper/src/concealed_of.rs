//! The notice of concealed damage, taken from how a job stands.

use claim::{Act, Date, Zone};
use tally::{Conditioned, Delivery, MarkDifference, Outcome, Standing};

use crate::claimed::Open;
use crate::concealed::{DamageNotice, Harm};
use crate::letter::Missing;
use crate::letter_facts::{HARM, LetterFacts, Reader, carriage_of};
use crate::of_shipment::harm_of;
use crate::said::hidden_field;

/// Returns the notice of concealed damage for a shipment; `None` without an order that can be built, and before the
/// shipment was handed over.
///
/// In it is harm of this shipment that was seen after the hand-over and that the receipt does not name. Where that is
/// not sure a person must say, and until then it stands among what is missing. Nothing that is short is in it: whether
/// a piece was in a closed crate nobody knows who was not there when it was packed.
pub fn concealed_of(
    standing: &Standing,
    shipment: &str,
    facts: &LetterFacts<'_>,
) -> Option<DamageNotice> {
    let difference = standing.difference.as_ref()?;
    let affairs = &standing.state.affairs;
    let delivery = affairs.deliveries.get(shipment).filter(was_taken)?;
    let carriage = carriage_of(standing, shipment, facts.zone);
    let acts = [Act::NoticeOfHiddenHarm, Act::Inspection];
    let mut letter = facts.letter(standing, Reader::Carrier(&carriage), &acts)?;
    let mut harm = Vec::new();
    let mut found: Vec<&Conditioned> = Vec::new();
    for mark in &difference.marks {
        let of_mark = HarmSeen::of(standing, facts.zone, delivery, mark);
        if !of_mark.hidden.is_empty() {
            harm.push(Harm {
                mark: mark.mark.clone(),
                description: mark.description.clone(),
                kind: kinds(&of_mark.hidden),
                quantity: (of_mark.hidden.iter())
                    .fold(0, |sum, seen| i64::saturating_add(sum, seen.quantity)),
                seen: (of_mark.hidden.iter())
                    .map(|seen| facts.sighting(seen))
                    .collect(),
            });
        }
        letter.also_missing(of_mark.question(mark).map(Missing::from));
        found.extend(of_mark.hidden);
    }
    let first = found.into_iter().min_by_key(|seen| seen.at);
    let marks: Vec<&str> = harm.iter().map(|harm| harm.mark.as_str()).collect();
    let photos = facts.photos(standing, Some(shipment), &marks);
    let written = |field| affairs.written(field, Some(shipment)).to_owned();
    Some(DamageNotice {
        letter,
        carriage,
        found_on: first.map(|seen| facts.local(seen.at)).unwrap_or_default(),
        found_by: first.map(|seen| seen.who.clone()).unwrap_or_default(),
        hidden_by: written("hidden-by"),
        harm,
        kept: written("kept"),
        told_before: written("told-before"),
        photos,
    })
}

/// The harm of a mark, by whether it could be seen when the shipment was handed over.
struct HarmSeen<'a> {
    /// It could not.
    hidden: Vec<&'a Conditioned>,
    /// Nobody knows before a person says so; and why.
    doubtful: Vec<(&'a Conditioned, &'static str)>,
}

impl<'a> HarmSeen<'a> {
    fn of(standing: &'a Standing, zone: &Zone, delivery: &Delivery, mark: &MarkDifference) -> Self {
        let shipment = delivery.shipment.as_str();
        let (known, open) = harm_of(standing, zone, mark, shipment, &HARM);
        let mut all = Self {
            hidden: Vec::new(),
            doubtful: Vec::new(),
        };
        let field = hidden_field(&mark.mark);
        match standing
            .state
            .affairs
            .written(&field, Some(shipment))
            .trim()
        {
            "yes" => {
                all.hidden = known.into_iter().chain(open).collect();
                return all;
            }
            "no" => return all,
            _ => {}
        }
        for seen in known {
            match doubt(delivery, zone, &mark.mark, seen) {
                Seen::After => all.hidden.push(seen),
                Seen::Doubtful(why) => all.doubtful.push((seen, why)),
                Seen::Before => {}
            }
        }
        let other = "it may have come with another shipment";
        all.doubtful
            .extend(open.into_iter().map(|seen| (seen, other)));
        all
    }

    fn question(&self, mark: &MarkDifference) -> Option<Open> {
        let (_, why) = self.doubtful.first()?;
        let seen: Vec<&Conditioned> = self.doubtful.iter().map(|(seen, _)| *seen).collect();
        let pieces = (seen.iter()).fold(0, |sum, seen| i64::saturating_add(sum, seen.quantity));
        Some(Open {
            field: hidden_field(&mark.mark),
            asks: format!(
                "whether harm of {} ({pieces} {}) came with this shipment and could not be seen at the hand-over",
                mark.mark,
                kinds(&seen)
            ),
            why: (*why).into(),
        })
    }
}

/// Returns what a person must say before the notice of concealed damage for a shipment is whole.
pub fn hidden_open(standing: &Standing, shipment: &str, zone: &Zone) -> Vec<Open> {
    let deliveries = &standing.state.affairs.deliveries;
    let marks = (standing.difference.iter()).flat_map(|difference| &difference.marks);
    (deliveries.get(shipment).filter(was_taken).into_iter())
        .flat_map(|delivery| {
            let question = move |mark| HarmSeen::of(standing, zone, delivery, mark).question(mark);
            marks.clone().filter_map(question)
        })
        .collect()
}

fn was_taken(delivery: &&Delivery) -> bool {
    delivery.outcome != Outcome::Refused
}

/// When harm was seen, held against the hand-over.
enum Seen {
    Before,
    After,
    Doubtful(&'static str),
}

fn doubt(delivery: &Delivery, zone: &Zone, mark: &str, seen: &Conditioned) -> Seen {
    if names(&delivery.receipt_note, mark) {
        return Seen::Before;
    }
    let on = delivery.on.parse::<Date>().ok().zip(zone.at(seen.at).ok());
    let Some((handed_over, (day, time))) = on else {
        return Seen::Doubtful("the day of one of the two is not clear");
    };
    if day < handed_over {
        return Seen::Before;
    }
    if day == handed_over {
        // "09:15" as the log has it; times of the day so written are in order.
        let time = time.strftime("%H:%M").to_string();
        match &delivery.time {
            None => {
                return Seen::Doubtful(
                    "it was seen on the day of the hand-over, and the hour of that is not said",
                );
            }
            Some(at) if time < *at => return Seen::Before,
            Some(_) => {}
        }
    }
    if names(&delivery.receipt_note, seen.condition.in_words()) {
        return Seen::Doubtful("the receipt tells of such harm, and does not say of which mark");
    }
    Seen::After
}

/// Whether a text has the word.
fn names(text: &str, word: &str) -> bool {
    let (text, word) = (text.to_lowercase(), word.to_lowercase());
    let ends = |c: Option<char>| !c.is_some_and(char::is_alphanumeric);
    text.match_indices(&word).any(|(at, found)| {
        ends(text[..at].chars().next_back()) && ends(text[at + found.len()..].chars().next())
    })
}

/// The conditions in words, each once.
pub(crate) fn kinds(seen: &[&Conditioned]) -> String {
    let mut kinds: Vec<&str> = Vec::new();
    for seen in seen {
        if !kinds.contains(&seen.condition.in_words()) {
            kinds.push(seen.condition.in_words());
        }
    }
    kinds.join(", ")
}
