//! Requests that cannot be: each is answered by a page in words with a 4xx status, and nothing is written.

use crate::program::{PROGRAM, Place, demo_file};
use crate::yard::{Answer, Running, id, percent};

struct Refuses {
    _place: Place,
    yard: Running,
    phone: crate::yard::Phone,
}

impl Refuses {
    fn new() -> Self {
        let place = Place::with_demo_job();
        let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
        let phone = yard.joined("Ada");
        Self {
            _place: place,
            yard,
            phone,
        }
    }

    /// Runs a request that is to be refused.
    fn check(&self, what: &str, says: &str, request: impl FnOnce() -> Answer) {
        let before = self.yard.log();
        let answer = request();
        let text = answer.text();
        assert!(
            (400..500).contains(&answer.status),
            "{what}: {} {text}",
            answer.status
        );
        assert!(
            text.contains("<h1>That did not work</h1>"),
            "{what}: {text}"
        );
        assert!(text.contains(says), "{what}: {text}");
        assert_eq!(self.yard.log(), before, "{what}");
    }

    fn post(&self, path: &str, says: &str, fields: &[(&str, &str)]) {
        self.check(&format!("{path} {fields:?}"), says, || {
            self.phone.post(path, fields)
        });
    }
}

#[test]
fn ids_that_are_none() {
    let refuses = Refuses::new();
    for bad in [
        "",
        "1",
        "not-an-id",
        "00000000-0000-7000-8000-00000000000g",
        &"0".repeat(4000),
    ] {
        refuses.post("/count/P1", "", &[("id", bad), ("quantity", "1")]);
        refuses.post(
            "/condition/P1",
            "",
            &[("id", bad), ("quantity", "1"), ("condition", "bent")],
        );
        refuses.post("/note", "", &[("id", bad), ("words", "x")]);
        refuses.post(
            "/undo",
            "",
            &[("id", bad), ("event", &id(1)), ("back", "P1")],
        );
        refuses.post(
            "/undo",
            "",
            &[("id", &id(1)), ("event", bad), ("back", "P1")],
        );
        refuses.post("/shipment", "", &[("id", bad), ("shipment", "Load 2")]);
        refuses.post("/order", "", &[("id", bad), ("toml", "")]);
    }
    refuses.post("/count/P1", "", &[("quantity", "1")]);
    refuses.post("/count/P1", "", &[]);
}

#[test]
fn numbers_that_cannot_be_counted() {
    let refuses = Refuses::new();
    for bad in [
        "-1",
        "1000001",
        "99999999999999999999",
        "1.5",
        "",
        "one",
        "1e3",
        "NaN",
    ] {
        refuses.post("/count/P1", "", &[("id", &id(1)), ("quantity", bad)]);
        refuses.post(
            "/condition/P1",
            "",
            &[("id", &id(1)), ("quantity", bad), ("condition", "bent")],
        );
    }
    refuses.post(
        "/count/P1",
        "must be a whole number from 0 to 1000000",
        &[("id", &id(1)), ("quantity", "-1")],
    );
    refuses.post(
        "/condition/P1",
        "must be from 1",
        &[("id", &id(1)), ("quantity", "0"), ("condition", "bent")],
    );
    refuses.post(
        "/condition/P1",
        "damaged, bent, wet or wrong",
        &[("id", &id(1)), ("quantity", "1"), ("condition", "lost")],
    );
}

#[test]
fn marks_that_the_order_lacks() {
    let refuses = Refuses::new();
    for mark in [
        "Z9",
        "p1",
        " ",
        "P1/",
        "../P1",
        "A/B?c=%&d#<e>\"'+;ü \u{202e}",
        &"x".repeat(500),
    ] {
        let path = percent(mark);
        refuses.post(
            &format!("/count/{path}"),
            "no",
            &[("id", &id(1)), ("quantity", "1")],
        );
        refuses.post(
            &format!("/condition/{path}"),
            "no",
            &[("id", &id(1)), ("quantity", "1"), ("condition", "bent")],
        );
        refuses.check(mark, "no such mark", || {
            refuses.phone.get(&format!("/count/{path}"))
        });
        refuses.check(mark, "no such mark", || {
            refuses.phone.get(&format!("/order/{path}"))
        });
        refuses.post(
            "/note",
            "no",
            &[("id", &id(1)), ("mark", mark), ("words", "x")],
        );
    }
    // Bytes that are no text.
    refuses.check("%FF", "", || refuses.phone.get("/count/%FF"));
}

#[test]
fn texts_that_are_empty_or_too_long() {
    let refuses = Refuses::new();
    let (name, words) = ("n".repeat(81), "w".repeat(2001));
    refuses.post(
        "/note",
        "words is empty",
        &[("id", &id(1)), ("words", "  ")],
    );
    refuses.post(
        "/note",
        "at most 2000 fit",
        &[("id", &id(1)), ("words", &words)],
    );
    refuses.post(
        "/count/P1",
        "at most 80 fit",
        &[("id", &id(1)), ("quantity", "1"), ("pile", &name)],
    );
    refuses.post(
        "/count/P1",
        "control character",
        &[("id", &id(1)), ("quantity", "1"), ("pile", "a\u{7}b")],
    );
    refuses.post(
        "/shipment",
        "shipment is empty",
        &[("id", &id(1)), ("shipment", "")],
    );
}

#[test]
fn orders_that_cannot_be_built() {
    let refuses = Refuses::new();
    let demo = std::fs::read_to_string(demo_file("order.toml")).unwrap();
    let odd = demo.replace("48 ft", "50 ft");
    refuses.post(
        "/order",
        "12.50 bays of 4 ft",
        &[("id", &id(1)), ("toml", &odd)],
    );
    refuses.post(
        "/order",
        "length = 52 ft",
        &[("id", &id(1)), ("toml", &odd)],
    );
    refuses.post(
        "/order",
        "cannot be read",
        &[("id", &id(1)), ("toml", "<<<")],
    );
    refuses.post(
        "/order",
        "",
        &[
            ("id", &id(1)),
            ("family", "castle"),
            ("name", "x"),
            ("length", "48 ft"),
        ],
    );
    refuses.post(
        "/order",
        "",
        &[
            ("id", &id(1)),
            ("family", "gothic-24"),
            ("name", "x"),
            ("length", ""),
        ],
    );
}

#[test]
fn lists_and_rows_that_cannot_be() {
    let refuses = Refuses::new();
    for (name, bytes) in [
        ("prose.csv", &b"Dear crew,\nall is well.\n"[..]),
        ("cut.xlsx", b"PK\x03\x04cut"),
        ("noise.bin", &[0, 255, 7]),
    ] {
        refuses.check(name, name, || refuses.phone.upload(&id(1), name, bytes));
    }
    refuses.check("no file", "Choose a file", || {
        refuses.phone.upload(&id(1), "", b"")
    });
    refuses.check("no id", "", || {
        refuses
            .phone
            .upload("nonsense", "list.csv", b"qty,description\n1,post\n")
    });
    refuses.post("/list", "", &[("id", &id(1))]);

    // The demo's list and one of its rows, as the list page's own forms name them.
    let page = refuses.phone.get("/list").text();
    let named = |name: &str| {
        let field = page.split(&format!("name=\"{name}\" value=\"")).nth(1);
        field.unwrap().split('"').next().unwrap().to_string()
    };
    let (list, row, none) = (named("list"), named("row"), "0".repeat(64));
    for (list, row, mark, says) in [
        (list.as_str(), row.as_str(), "Z9", "no mark Z9"),
        (&list, "nonsense", "P1", "no such row"),
        (&none, &row, "P1", "no such list"),
        ("none", &row, "P1", ""),
    ] {
        let fields = [
            ("id", &*id(1)),
            ("list", list),
            ("row", row),
            ("mark", mark),
        ];
        refuses.post("/list/row", says, &fields);
    }
    refuses.post(
        "/list/drop",
        "no such list",
        &[("id", &id(1)), ("list", &none)],
    );
}

/// Wrong methods, wrong kinds of body, and questions that make no sense.
#[test]
fn requests_that_no_page_makes() {
    let refuses = Refuses::new();
    let phone = &refuses.phone;
    for (method, path) in [
        ("PUT", "/count/P1"),
        ("DELETE", "/note"),
        ("POST", "/difference"),
        ("POST", "/none"),
    ] {
        refuses.check(method, "", || {
            phone.send(method, path, &[], Vec::new()).unwrap()
        });
    }
    let json = br#"{"id":"x","quantity":1}"#.to_vec();
    refuses.check("json", "", || {
        phone
            .send(
                "POST",
                "/count/P1",
                &[("content-type", "application/json")],
                json,
            )
            .unwrap()
    });
    refuses.check("told", "", || {
        phone.get("/papers/tally-sheet.pdf?told=many")
    });
    // A link that names an event that is none is just the page.
    assert_eq!(phone.get("/count/P1?done=nonsense").status, 200);
}
