//! What a look that is proposed tells, what is said of the order that a list was made for, and of spares.

use tally::{Digest, Explanation, Ordered, What};

use crate::job::{Job, ORDER};

fn explained(job: &Job) -> Explanation {
    (job.standing().explanation())
        .expect("the job has an order")
        .clone()
}

fn of_length(length: &str) -> String {
    ORDER.replace("length = \"48 ft\"", &format!("length = \"{length}\""))
}

/// A job with the order of another length, and a list.
fn with_list(order: String, list: &[u8]) -> Job {
    let mut job = Job::default();
    job.says(What::OrderSet {
        toml: order,
        family: None,
    });
    let digest = Digest::of(list);
    job.documents.insert(digest, list.to_vec());
    job.says(What::ListAdded {
        digest,
        name: "packing-list.csv".into(),
        shipment: None,
    });
    job
}

/// The demo's list says in its head that it is for 24 × 48; bows stand every 4 ft.
#[test]
fn a_list_is_for_the_size_that_its_head_says_however_far() {
    const LIST: &[u8] = include_bytes!("../../../../demo/packing-list.csv");
    for ours in ["72 ft", "96 ft", "24 ft"] {
        let said = explained(&with_list(of_length(ours), LIST));
        let other = said.other_order.expect("another order");
        assert_eq!(other.change, "length = 48 ft", "{ours}");
        // What the list has wrong against 48 ft it has wrong there, too.
        let against_its_own = with_list(ORDER.into(), LIST).standing();
        let off = |mark: &&tally::MarkDifference| {
            (mark.listed).is_some_and(|n| n < mark.needed || n > mark.supplied)
        };
        let difference = against_its_own.difference.expect("an order");
        let wrong: Vec<&str> = (difference.marks.iter())
            .filter(off)
            .map(|mark| mark.mark.as_str())
            .collect();
        assert_eq!(other.misfits, wrong, "{ours}");
        assert_eq!(other.but_for().is_empty(), wrong.is_empty());
    }
}

/// A list without a head for a house of 24 bays, where 12 were ordered.
#[test]
fn the_bows_of_a_list_tell_its_length() {
    let far = Ordered::read(&of_length("96 ft")).expect("a house of 96 ft");
    let list = list_of(&far, |_, n| n);
    let said = explained(&with_list(ORDER.into(), list.as_bytes()));
    let other = said.other_order.expect("another order");
    assert_eq!(
        (other.change.as_str(), other.but_for().as_str()),
        ("length = 96 ft", "")
    );
    let slip = list_of(&far, |mark, n| if mark == "K1" { n + 3 } else { n });
    let said = explained(&with_list(ORDER.into(), slip.as_bytes()));
    let other = said.other_order.expect("another order");
    assert_eq!(
        (other.change.as_str(), other.but_for().as_str()),
        ("length = 96 ft", " but for K1")
    );
}

/// A list of what an order needs, mark by mark; `other` changes a number.
fn list_of(of: &Ordered, other: impl Fn(&str, i64) -> i64) -> String {
    let rows = of.parts.lines.iter().map(|line| {
        let mark = &line.part.mark.0;
        let words = line.part.description.replace('"', "");
        format!("{mark},{},ea,\"{words}\"\n", other(mark, line.quantity))
    });
    "Code,Qty,Unit,Description\n".to_owned() + &rows.collect::<String>()
}
