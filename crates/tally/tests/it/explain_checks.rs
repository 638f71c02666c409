//! What a look that is proposed tells, what is said of the order that a list was made for, and of spares.

use tally::{Cause, CauseKind, Check, Digest, Explanation, Ordered, Shows, What};

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

/// The outcome of counting again is the same for what is short and for what comes later; what the sender says is not.
#[test]
fn what_may_come_later_is_asked_for_and_not_counted_again() {
    let mut job = Job::ordered();
    job.says(What::ShipmentNamed {
        shipment: "Load 2".into(),
        due: None,
    });
    job.arrives("Load 1");
    job.counts("X2", 24);
    let said = explained(&job);
    let matter = said.matter("X2").expect("a matter");
    let other = matter.other.as_ref().expect("another story");
    assert_eq!(matter.best.causes[0].in_words(), "2 X2 are short");
    assert_eq!(other.causes[0].kind, CauseKind::LeftForLater);
    let check = matter.check.as_ref().expect("a check");
    assert_eq!(
        check.words,
        "ask the sender whether 2 X2 come with Load 2 (or wait for Load 2 and count them)"
    );
    assert_eq!(check.shows, Shows::WhichOfTwo);
    assert!(check.settles > 0.9);
}

/// One that lies in the pile and was counted twice or not is seen by counting: of the rest a recount tells nothing.
#[test]
fn a_count_again_tells_apart_only_what_a_count_shows() {
    let by_count = |kind| {
        use CauseKind as Kind;
        let shows = [
            Kind::BundleAsOne,
            Kind::CountedTwice,
            Kind::Miscounted,
            Kind::LooksDiffer,
        ];
        shows.contains(&kind) || kind == Kind::WeighingDoubt
    };
    let mut recounts = 0;
    for (mark, quantity) in [
        ("X2", 24),
        ("X2", 27),
        ("C1", 40),
        ("N5", 365),
        ("N5", 380),
        ("B1", 3),
    ] {
        let mut job = Job::ordered();
        job.counts(mark, quantity);
        for matter in explained(&job).matters {
            let check = matter.check.expect("a check");
            if check.words != format!("count the {mark} again") {
                continue;
            }
            recounts += 1;
            let stories = [Some(&matter.best), matter.other.as_ref()];
            let mut causes = stories
                .into_iter()
                .flatten()
                .flat_map(|story| &story.causes);
            let differs = causes.any(|cause| by_count(cause.kind));
            let tells = check.shows == Shows::WhichOfTwo;
            assert!(!tells || differs, "{quantity} {mark}: {:?}", matter.best);
            assert_eq!(tells && check.settles > 0.0, tells);
            if !tells && matter.other.is_some() {
                assert_eq!((check.shows, check.settles), (Shows::WhetherOff, 0.0));
            }
        }
    }
    assert!(recounts > 0);
}

/// A house with spares: what did not come of the spares is not short, and is said apart.
#[test]
fn short_is_what_the_order_needs_and_spares_are_said_apart() {
    let order =
        "name = \"Long shed\"\nfamily = \"sidewall-30\"\nlength = \"96 ft\"\nunits = \"metric\"\n";
    let ordered = Ordered::read(order).expect("a house with side walls");
    let mut spared = 0;
    for line in ordered
        .parts
        .lines
        .iter()
        .filter(|line| line.supplied > line.quantity)
    {
        let mark = line.part.mark.0.as_str();
        for counted in [0, line.quantity / 2, line.quantity - 1] {
            let mut job = Job::default();
            job.says(What::OrderSet {
                toml: order.into(),
                family: None,
            });
            job.counts(mark, counted);
            let said = explained(&job);
            assert!(
                said.short(mark) <= line.quantity - counted,
                "{mark}, {counted} counted"
            );
            let best = said
                .matter(mark)
                .into_iter()
                .flat_map(|matter| &matter.best.causes);
            let best: Vec<&Cause> = best.filter(|cause| cause.mark == mark).collect();
            // Where nothing else is said of the mark, all that the order lacks is short.
            if let [short] = best[..]
                && short.kind == CauseKind::Short
            {
                let (n, spares) = (line.quantity - counted, line.supplied - line.quantity);
                assert_eq!(
                    (short.quantity, short.spares, said.short(mark)),
                    (n, spares, n)
                );
                let are = if n == 1 { "is" } else { "are" };
                let s = if spares == 1 { "" } else { "s" };
                let words = format!("{n} {mark} {are} short (and {spares} spare{s})");
                assert_eq!(short.in_words(), words);
                spared += 1;
            }
        }
    }
    assert!(spared > 0);
}

/// Much is missing and another load is to come: one call asks for all of it, and one piece "comes".
#[test]
fn one_call_to_the_sender_asks_all() {
    let mut job = Job::ordered();
    let needs = |mark: &str, n: i64| {
        if mark == "W1" || mark == "X1" || mark == "P1" {
            0
        } else {
            n
        }
    };
    let list = list_of(&crate::job::ordered(), needs);
    job.list(&list, Some("Load 1"));
    job.arrives("Load 1");
    job.says(What::ShipmentNamed {
        shipment: "Load 2".into(),
        due: None,
    });
    let said = explained(&job);
    let asks: Vec<&Check> = (said.matters.iter())
        .filter_map(|matter| matter.check.as_ref())
        .filter(|check| check.words.starts_with("ask the sender"))
        .collect();
    assert!(asks.len() >= 3);
    let errands = said.errands();
    let calls: Vec<f64> = (errands.iter())
        .filter(|errand| errand.to == "ask the sender")
        .map(|errand| errand.seconds)
        .collect();
    assert_eq!(calls, [asks[0].seconds]);

    let mut one = Job::ordered();
    let needs = |mark: &str, n: i64| if mark == "H1" { 0 } else { n };
    one.list(&list_of(&crate::job::ordered(), needs), Some("Load 1"));
    one.arrives("Load 1");
    one.says(What::ShipmentNamed {
        shipment: "Load 2".into(),
        due: None,
    });
    let said = explained(&one);
    let check = said.matter("H1").and_then(|matter| matter.check.as_ref());
    let needed = one.mark("H1").needed;
    let come = if needed == 1 { "comes" } else { "come" };
    let words = &check.expect("a check").words;
    assert!(
        words.contains(&format!("{needed} H1 {come} with Load 2")),
        "{words}"
    );
}

/// Nobody has counted what the list has wrong: that it was packed so is another story, and the sender knows.
#[test]
fn a_slip_of_a_list_may_have_been_packed_by() {
    let mut job = Job::ordered();
    let slip = |mark: &str, n: i64| if mark == "K1" { n + 9 } else { n };
    job.list(&list_of(&crate::job::ordered(), slip), None);
    let said = explained(&job);
    let matter = said.matter("K1").expect("a matter");
    let other = matter.other.as_ref().expect("another story");
    assert_eq!(
        other.causes[0].in_words(),
        "the list has 9 K1 too many, and the sender packed by it"
    );
    assert!(matter.odds.is_finite() && matter.odds >= 1.0);
    let check = matter.check.as_ref().expect("a check");
    assert_eq!(check.words, "ask the sender how many K1 were packed");
    assert_eq!(check.shows, Shows::WhichOfTwo);
}
