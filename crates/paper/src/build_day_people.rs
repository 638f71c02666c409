//! Who is to be reached on a build day, and what is still open.

use claim::day_in_words;
use tally::{OpenPoint, Standing};

use crate::answers::answer_in_words;
use crate::build_day::{Contact, PointRow};

/// Who to reach: what the papers say of sender and carriers, and lines for whom only the site knows.
pub(crate) fn contacts(standing: &Standing) -> Vec<Contact> {
    let affairs = &standing.state.affairs;
    let written = |field: &str, shipment| affairs.written(field, shipment).trim().to_owned();
    let sender = standing
        .ordered()
        .and_then(|ordered| ordered.order.sender.clone());
    let who = |name: &str, role: &str| match name.trim() {
        "" => frame::capitalised(role),
        name => format!("{}: {name}", frame::capitalised(role)),
    };
    let mut contacts = vec![
        by_hand("In an emergency"),
        by_hand("Nearest doctor, and where the first-aid kit is"),
        by_hand("Who marks buried lines"),
        Contact {
            who: who(&written("from-name", None), "who leads the build"),
            reach: written("from-contact", None),
        },
        Contact {
            who: who(&sender.unwrap_or_default(), "the sender"),
            reach: written("sender-contact", None),
        },
    ];
    for shipment in standing.state.shipments.keys() {
        let carrier = affairs.freight.get(shipment).map(|f| f.carrier.clone());
        let carrier = carrier.unwrap_or_default();
        let reach = written("carrier-contact", Some(shipment));
        if !carrier.is_empty() || !reach.is_empty() {
            contacts.push(Contact {
                who: who(&carrier, &format!("carrier of {shipment}")),
                reach,
            });
        }
    }
    contacts
}

fn by_hand(who: &str) -> Contact {
    Contact {
        who: who.into(),
        reach: String::new(),
    }
}

/// The points that are open, with who sees to each.
pub(crate) fn points(standing: &Standing) -> Vec<PointRow> {
    let points = standing.points().into_iter();
    points
        .filter(|point| point.stage.is_open())
        .map(row)
        .collect()
}

fn row(point: OpenPoint) -> PointRow {
    let day = (point.seen.next.as_deref())
        .map(|day| (day.parse()).map_or_else(|_| day.to_owned(), day_in_words));
    let words = point.seen.words.trim();
    let next = match (day, words) {
        (Some(day), "") => day,
        (Some(day), words) => format!("{day}: {words}"),
        (None, words) => words.to_owned(),
    };
    let answers = point.seen.standing_answers().iter();
    let answers = answers.map(|seen| answer_in_words(&seen.answer, "they"));
    let said: Vec<String> = std::iter::once(next)
        .filter(|next| !next.is_empty())
        .chain(answers)
        .collect();
    PointRow {
        says: point.says,
        stands: point.stage.in_words().into(),
        owner: point.seen.owner,
        next: said.join("; "),
    }
}
