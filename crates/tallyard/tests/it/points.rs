//! Open points and prices over HTTP: taken up, answered, closed; a sum that is exact; nothing open is forgotten.

use serde_json::{Value, json};

use crate::program::{PROGRAM, Place};
use crate::schema;
use crate::yard::{Phone, Running, id};

/// What `tallyard points` says of a point, while the yard is open.
fn point(place: &Place, about: &str, of: &str) -> Value {
    let said = place.json(&["points", "demo.tallyard", "--json"]);
    schema::check("points", &said);
    let points = said["points"].as_array().unwrap();
    let is_it = |point: &&Value| point["about"] == about && point["of"] == of;
    points.iter().find(is_it).cloned().unwrap_or_default()
}

fn says(phone: &Phone, path: &str, words: &str) -> bool {
    let answer = phone.get(path);
    assert_eq!(answer.status, 200, "{path}");
    answer.text().contains(words)
}

const X2: [(&str, &str); 2] = [("about", "short"), ("of", "X2")];

fn with<'a>(n: &'a str, more: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    [&[("id", n)], &X2[..], more].concat()
}

#[test]
fn a_point_is_taken_up_answered_and_closed() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let phone = yard.joined("Ada");
    assert_eq!(point(&place, "short", "X2")["stage"], "open");

    // Somebody sees to it; the day has passed long since, so it is said on top and on the glance.
    let late = "was to be looked at by now";
    assert!(!says(&phone, "/points", late) && !says(&phone, "/", late));
    let first = id(1);
    let taken = with(
        &first,
        &[
            ("owner", "Noor"),
            ("next", "2020-02-29"),
            ("words", "call the sender"),
        ],
    );
    let events = yard.log().len();
    for _ in 0..2 {
        let answer = phone.post("/point/take", &taken);
        assert_eq!(answer.status, 303, "{}", answer.text());
    }
    assert_eq!(
        yard.log().len(),
        events + 1,
        "a form sent twice is one event"
    );
    assert!(says(&phone, "/points", late) && says(&phone, "/", late));
    let page = phone.get("/point?about=short&of=X2").text();
    for words in ["X2: 2 short", "Noor", "Sat 29 Feb 2020", "call the sender"] {
        assert!(page.contains(words), "{words}\n{page}");
    }

    // The sender sends both: it is no longer short, and the point is promised, not gone.
    let second = id(2);
    let sends = with(
        &second,
        &[
            ("is", "sends"),
            ("quantity", "2"),
            ("on", "2026-12-01"),
            ("shipment", "Load 3"),
        ],
    );
    assert_eq!(phone.post("/point/answer", &sends).status, 303);
    let promised = point(&place, "short", "X2");
    assert_eq!(
        [&promised["stage"], &promised["open"], &promised["owner"]],
        [&json!("promised"), &json!(true), &json!("Noor")]
    );
    assert_eq!(promised["answers"][0]["quantity"], 2);
    assert_eq!(promised["answers"][0]["shipment"], "Load 3");
    assert!(says(&phone, "/", "Load 3 is on its way"));
    let words = place.ok(&["points", "demo.tallyard"]);
    assert!(
        words.contains("answered: they send 2 on Tue 1 Dec 2026, in Load 3"),
        "{words}"
    );

    // The answer is taken back, and it is short again.
    let third = id(3);
    let undo = [("id", &*third), ("event", &second), ("to", "/points")];
    let answer = phone.post("/undo", &undo);
    let back = format!("/points?done={third}");
    assert_eq!(answer.header("location"), Some(back.as_str()));
    assert_eq!(point(&place, "short", "X2")["stage"], "open");

    // One credited is not enough for two; with the other it is answered, and a person closes it.
    for (n, stage) in [(4, "open"), (5, "answered")] {
        let one = id(n);
        let credits = with(
            &one,
            &[("is", "credits"), ("quantity", "1"), ("sum", "3,15")],
        );
        assert_eq!(phone.post("/point/answer", &credits).status, 303);
        assert_eq!(point(&place, "short", "X2")["stage"], stage);
    }
    let credited = point(&place, "short", "X2");
    let sum = json!({"minor": 315, "currency": "USD"});
    assert_eq!(credited["answers"][1]["sum"], sum);
    let sixth = id(6);
    let close = with(&sixth, &[("words", "credited in full")]);
    assert_eq!(phone.post("/point/close", &close).status, 303);
    let closed = point(&place, "short", "X2");
    assert_eq!(
        [&closed["stage"], &closed["open"]],
        [&json!("closed"), &json!(false)]
    );
    assert_eq!(closed["closed"]["words"], "credited in full");
    assert!(!says(&phone, "/points", late), "what is closed is not late");
}

#[test]
fn nothing_open_is_forgotten_when_the_job_is_closed() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let phone = yard.joined("Ada");
    // A point of a person's own stands beside those that the difference opens.
    let new = [
        ("id", &*id(1)),
        ("about", "other"),
        ("of", "The ferry's insurance wants a copy"),
    ];
    assert_eq!(phone.post("/point/take", &new).status, 303);
    let all = place.json(&["points", "demo.tallyard", "--json"]);
    let open = all["points"].as_array().unwrap().len();
    assert_eq!(open, 6, "R1, X2, C2, S1, B1 and her own: {all}");
    assert!(says(&phone, "/points", "6 points are open and stay so"));

    let second = id(2);
    let close = [("id", &*second), ("words", "built as far as it goes")];
    assert_eq!(phone.post("/close", &close).status, 303);
    for path in ["/", "/points"] {
        assert!(says(&phone, path, "This job is closed"), "{path}");
    }
    assert!(says(&phone, "/", "6 points are still open"));
    assert!(
        says(&phone, "/points", "The ferry&#39;s insurance")
            || says(&phone, "/points", "The ferry's insurance")
    );
    let words = place.ok(&["points", "demo.tallyard"]);
    assert!(words.starts_with("the job is closed, by Ada, "), "{words}");
    assert_eq!(words.matches("nobody sees to it yet").count(), 6, "{words}");

    let undo = [("id", &*id(3)), ("event", &second), ("to", "/points")];
    assert_eq!(phone.post("/undo", &undo).status, 303);
    assert!(!says(&phone, "/", "This job is closed"));
}

#[test]
fn what_cannot_be_is_refused_with_the_reason() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let phone = yard.joined("Ada");
    let before = yard.log().len();
    let one = id(1);
    let refused = |path: &str, fields: &[(&str, &str)], why: &str| {
        let answer = phone.post(path, fields);
        assert!(
            (400..500).contains(&answer.status) && answer.text().contains(why),
            "{path} {fields:?} {}: {}",
            answer.status,
            answer.text()
        );
    };
    let answer = |more: &[(&'static str, &'static str)], why: &str| {
        refused("/point/answer", &with(&one, more), why);
    };
    answer(&[("is", "sends")], "how many pieces they send");
    answer(&[("is", "sends"), ("quantity", "two")], "no whole number");
    answer(&[("is", "sends"), ("quantity", "0")], "from 1 to 1000000");
    answer(
        &[("is", "sends"), ("quantity", "1"), ("on", "29.2.2027")],
        "written as 2026-03-31",
    );
    answer(
        &[("is", "sends"), ("quantity", "1"), ("on", "2027-02-29")],
        "written as 2026-03-31",
    );
    answer(&[("is", "credits")], "or the sum");
    answer(
        &[("is", "credits"), ("sum", "12.345")],
        "more digits behind the point",
    );
    answer(&[("is", "credits"), ("sum", "a lot")], "no sum of money");
    answer(
        &[("is", "credits"), ("sum", "1"), ("currency", "dollars")],
        "three letters",
    );
    answer(&[("is", "shrugs")], "one of the six");
    let of = |about: &'static str, of: &'static str| {
        [("id", id(1)), ("about", about.into()), ("of", of.into())]
    };
    for (about, name, why) in [
        ("short", "Q9", "no such mark"),
        ("weather", "X2", "no kind of point"),
        ("carrier", "Load 99", "no shipment of this name"),
        ("other", "", "empty"),
    ] {
        let fields = of(about, name);
        let fields: Vec<(&str, &str)> = fields.iter().map(|(k, v)| (*k, v.as_str())).collect();
        refused("/point/take", &fields, why);
    }
    let price = |mark: &'static str, each: &'static str, currency: &'static str, why: &str| {
        let fields = [
            ("id", &*one),
            ("mark", mark),
            ("each", each),
            ("currency", currency),
        ];
        refused("/price", &fields, why);
    };
    price("X2", "1.005", "USD", "more digits");
    price("X2", "-1", "USD", "no sum of money");
    price("X2", "1", "US$", "three letters");
    price("Q9", "1", "USD", "no such mark");
    refused(
        "/price",
        &[("id", &one), ("each", "1"), ("currency", "USD")],
        "words is empty",
    );
    assert_eq!(phone.get("/point?about=short&of=Q9").status, 404);
    assert_eq!(yard.log().len(), before, "nothing was written");
}

/// Sums are of whole cents, reckoned by hand: 1 × 19.99 + 1 234.56 = 1 254.55. What is short (X2) is the sender's to make
/// good: nothing says that the carrier had it, and neither the page nor the claim asks for it.
#[test]
fn page_and_claim_name_the_same_exact_sum() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let phone = yard.joined("Ada");
    let price = |n: u64, fields: &[(&str, &str)]| {
        let n = id(n);
        let all = [&[("id", &*n), ("currency", "EUR")], fields].concat();
        let answer = phone.post("/price", &all);
        assert_eq!(answer.status, 303, "{}", answer.text());
    };
    let claim = || {
        let pdf = phone.get("/papers/carrier-claim.pdf?shipment=Load%201");
        assert_eq!(pdf.status, 200, "{}", pdf.text());
        std::fs::write(place.path("claim.pdf"), &pdf.body).unwrap();
        let file = place.path("claim.pdf");
        let text = std::process::Command::new("pdftotext")
            .arg(file)
            .arg("-")
            .output();
        String::from_utf8(text.unwrap().stdout).unwrap()
    };
    assert!(says(&phone, "/prices", "1 mark has no price yet"));
    // The currency is chosen before there is a price; then the prices say it.
    assert!(says(&phone, "/prices?currency=eur", "value=\"EUR\""));
    price(1, &[("mark", "X2"), ("each", "0.10")]);
    price(2, &[("mark", "B1"), ("each", "19,99")]);
    price(
        3,
        &[
            ("words", "freight for the replacement"),
            ("each", "1,234.56"),
        ],
    );
    let page = phone.get("/prices").text();
    assert!(page.contains("EUR 1\u{a0}254.55"), "{page}");
    assert!(!page.contains("no price yet"), "{page}");
    let pdf = claim();
    assert!(
        pdf.contains("EUR 1\u{a0}254.55") || pdf.contains("EUR 1 254.55"),
        "{pdf}"
    );
    // A bent bow that the sender sends anew is asked of the carrier no longer.
    let one = id(7);
    let sends = [
        ("id", &*one),
        ("about", "unfit"),
        ("of", "B1"),
        ("is", "sends"),
        ("quantity", "1"),
    ];
    assert_eq!(phone.post("/point/answer", &sends).status, 303);
    let page = phone.get("/prices").text();
    assert!(
        page.contains("EUR 1\u{a0}234.56") && !page.contains("254.55"),
        "{page}"
    );
    let pdf = claim();
    assert!(
        pdf.contains("EUR 1\u{a0}234.56") || pdf.contains("EUR 1 234.56"),
        "{pdf}"
    );
    // Left empty, a price or a cost is not known again.
    price(5, &[("words", "freight for the replacement"), ("each", "")]);
    assert!(says(&phone, "/prices", "No sum yet"));
}

#[test]
fn what_the_papers_say_is_kept_and_makes_them_complete() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let phone = yard.joined("Ada");
    let mut n = 0;
    let mut writes = |field: &str, shipment: &str, words: &str| {
        n += 1;
        let id = id(n);
        let fields = [
            ("id", &*id),
            ("field", field),
            ("shipment", shipment),
            ("words", words),
        ];
        phone.post("/letters", &fields)
    };
    // The replacement order: all it must have but who writes and by when it is needed.
    let replacement = || {
        let page = phone.get("/papers").text();
        let from = page.find("<h3>Replacement order</h3>").unwrap();
        page[from..].split("</article>").next().unwrap().to_owned()
    };
    assert!(
        replacement().contains("2 things are missing"),
        "{}",
        replacement()
    );
    for (field, words) in [
        ("from-name", "Osprey Island school"),
        ("from-contact", "Noor"),
        ("needed-by", "before the bows are raised"),
    ] {
        assert_eq!(writes(field, "", words).status, 303, "{field}");
    }
    assert!(
        replacement().contains("complete: nothing is missing"),
        "{}",
        replacement()
    );
    assert!(says(&phone, "/letters", "before the bows are raised"));
    let before = yard.log().len();
    for (field, shipment, words, why) in [
        ("from-hame", "", "x", "No paper has this field"),
        ("from-name", "Load 1", "x", "No paper has this field"),
        ("from-name", "", "a\nb", "one line"),
        ("kept", "Load 9", "x", "no shipment of the name"),
        ("harmed B1", "Load 1", "two", "whole number"),
        ("harmed Q9", "Load 1", "2", "No paper has this field"),
        ("hidden B1", "Load 1", "perhaps", "yes or no"),
    ] {
        let answer = writes(field, shipment, words);
        assert!(
            answer.status == 422 && answer.text().contains(why),
            "{field}: {}",
            answer.text()
        );
    }
    assert_eq!(yard.log().len(), before, "nothing was written");
}
