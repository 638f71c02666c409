//! What people and lists write reaches every page as text: never as HTML, never as a broken address.

use tally::{Draft, What};

use crate::program::{PROGRAM, Place, demo_file};
use crate::yard::{Phone, Running, id, percent};

const SCRIPT: &str = "\"'><script>alert(1)</script>";
/// As HTML says it.
const SHOWN: &str = "<script>alert(1)</script>";
const ESCAPED: &str = "&lt;script&gt;alert(1)&lt;/script&gt;";

/// A mark with everything that an address could trip over; it fits no order, and came in with another copy of the job.
const ODD_MARK: &str = "A/B?c=%41&d#<script>alert(1)</script>\"' ü";

/// A job in which everything that can be written is a script.
fn written_full(place: &Place) -> Running {
    let path = place.path("demo.tallyard");
    let mut job = store::Job::open(&path).unwrap();
    let (id_of_odd, device) = (store::fresh_id(), job.writer().unwrap());
    let what = What::Counted {
        mark: ODD_MARK.into(),
        pile: None,
        quantity: 3,
        replaces: Vec::new(),
        how: tally::How::Piece,
    };
    job.append(Draft {
        id: id_of_odd,
        device,
        at: 1,
        who: SCRIPT.into(),
        what,
    })
    .unwrap();

    let yard = Running::open(PROGRAM, &path);
    let phone = yard.joined(&format!("Eve {SCRIPT}"));
    let demo = std::fs::read_to_string(demo_file("order.toml")).unwrap();
    let order = demo
        .replace("Osprey Island school garden house", "House '''")
        .replace(
            "name = \"House '''\"",
            &format!("name = '''House {SCRIPT}'''"),
        );
    let list = format!(
        "qty,code,description,load\n2,{0},Ridge tube {0},Load {0}\n1,x,{0},\n{0},,,\n",
        csv(SCRIPT)
    );
    let done = |answer: crate::yard::Answer| assert_eq!(answer.status, 303, "{}", answer.text());
    done(phone.post("/order", &[("id", &id(1)), ("toml", &order)]));
    done(phone.upload(
        &id(2),
        &format!("{SCRIPT}.csv").replace('"', "%22"),
        list.as_bytes(),
    ));
    done(phone.post("/note", &[("id", &id(3)), ("words", SCRIPT)]));
    done(phone.post(
        "/note",
        &[("id", &id(4)), ("mark", "P1"), ("words", SCRIPT)],
    ));
    done(phone.post(
        "/count/P1",
        &[("id", &id(5)), ("quantity", "1"), ("pile", SCRIPT)],
    ));
    done(phone.post(
        "/condition/P1",
        &[
            ("id", &id(6)),
            ("quantity", "1"),
            ("condition", "bent"),
            ("words", SCRIPT),
        ],
    ));
    done(phone.post("/shipment", &[("id", &id(7)), ("shipment", SCRIPT)]));
    let load = ("shipment", SCRIPT);
    let freight = ["carrier", "bill", "carrier_number", "units_are"].map(|name| (name, SCRIPT));
    let form_id = id(8);
    done(phone.post(
        "/freight",
        &[&[("id", form_id.as_str()), load][..], &freight].concat(),
    ));
    done(phone.post(
        "/delivery",
        &[
            ("id", &id(9)),
            load,
            ("outcome", "clear"),
            ("note", SCRIPT),
            ("seal", SCRIPT),
            ("on", "2026-11-25"),
        ],
    ));
    let rule = ("rule", "us-motor.claim");
    done(phone.post(
        "/done",
        &[
            ("id", &id(10)),
            load,
            rule,
            ("on", "2026-11-25"),
            ("words", SCRIPT),
        ],
    ));
    done(phone.post(
        "/agreed",
        &[
            ("id", &id(11)),
            load,
            rule,
            ("unit", "days"),
            ("amount", "9"),
            ("words", SCRIPT),
        ],
    ));
    yard
}

fn csv(text: &str) -> String {
    format!("\"{}\"", text.replace('"', "\"\""))
}

#[test]
fn no_text_becomes_html() {
    let place = Place::with_demo_job();
    let yard = written_full(&place);
    let phone = yard.joined("Ada");
    // Each page with how often it must at least show the text, so that a page that leaves it out is no pass.
    for (path, least) in [
        // the job's name, two notes with their writer, and the shipment
        ("/", 6),
        // the job's name, in the heading and in the order file
        ("/order", 2),
        ("/order/P1", 1),
        // the job's name, a code, two descriptions, a shipment, a row set aside; the file's name ends at its slash
        ("/list", 6),
        ("/count", 1),
        // the job's name, the pile in three places, the note and the condition with their writers
        ("/count/P1", 8),
        ("/difference", 3),
        // the job's name, and the shipment of a letter
        ("/papers", 1),
        ("/points", 1),
        ("/prices", 1),
        ("/phones", 2),
        // the job's name, the shipment, carrier, bill, number, units, words and seal
        (&format!("/tailgate?shipment={}", percent(SCRIPT)), 16),
        // a row and the words that it makes
        (
            &format!(
                "/tailgate?make=1&r1-of={0}&r1-harmed=2&r1-place={0}",
                percent(SCRIPT)
            ),
            5,
        ),
        // the shipment, what was done, what was agreed
        ("/dates", 6),
    ] {
        let answer = phone.get(path);
        let page = answer.text();
        assert_eq!(answer.status, 200, "{path}");
        assert!(!page.contains(SHOWN), "{path}");
        assert!(
            page.matches(ESCAPED).count() >= least,
            "{path}: {}",
            page.matches(ESCAPED).count()
        );
        // Nor does it end an attribute early: every quote of it is written as a reference.
        assert!(!page.contains("\"'>"), "{path}");
    }
}

#[test]
fn nor_in_what_did_not_work() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let phone = yard.joined("Ada");
    let answers = [
        phone.post("/order", &[("id", &id(1)), ("toml", SCRIPT)]),
        phone.post(
            "/order",
            &[
                ("id", &id(1)),
                (
                    "toml",
                    &format!("name = 'x'\nfamily = '''{SCRIPT}'''\nlength = '1'"),
                ),
            ],
        ),
        phone.upload(&id(2), &SCRIPT.replace('"', "%22"), SCRIPT.as_bytes()),
        phone.post(
            "/list/row",
            &[
                ("id", &id(3)),
                ("list", &"0".repeat(64)),
                ("row", SCRIPT),
                ("mark", SCRIPT),
            ],
        ),
        phone.post("/count/P1", &[("id", SCRIPT), ("quantity", SCRIPT)]),
        phone.post(
            &format!("/count/{}", percent(SCRIPT)),
            &[("id", &id(4)), ("quantity", "1")],
        ),
        phone.post(
            "/undo",
            &[("id", &id(5)), ("event", &id(6)), ("back", SCRIPT)],
        ),
        phone.get(&format!("/order/{}", percent(SCRIPT))),
        phone.get(&format!("/count/P1?done={}", percent(SCRIPT))),
        phone.get(&format!("/join?code={}", percent(SCRIPT))),
        yard.stranger()
            .post("/join", &[("code", SCRIPT), ("who", SCRIPT)]),
        yard.stranger().post(
            "/join",
            &[("code", yard.said("join_code")), ("who", &SCRIPT.repeat(9))],
        ),
        phone.get(&format!("/{}", percent(SCRIPT))),
    ];
    for answer in answers {
        assert!(!answer.text().contains("<script>"), "{}", answer.text());
        assert!(!answer.text().contains("\"'>"), "{}", answer.text());
    }
}

/// Whatever a page calls a mark, its link leads to that mark and can be followed.
#[test]
fn links_to_odd_marks_can_be_followed() {
    let place = Place::with_demo_job();
    let yard = written_full(&place);
    let phone = yard.joined("Ada");
    let page = phone.get("/difference").text();
    let link = format!("href=\"/count/{}\"", path_segment(ODD_MARK));
    assert!(page.contains(&link), "{link}\n{page}");
    // The mark is none of this order, so its page says so, but what was counted is shown and can be taken back.
    let one = phone.get(&format!("/count/{}", percent(ODD_MARK)));
    assert_eq!(one.status, 200, "{}", one.text());
    assert!(
        one.text().contains("no part of this order"),
        "{}",
        one.text()
    );
    take_back(&phone, &one.text());
    assert!(!phone.get("/difference").text().contains(&link));
}

/// Presses the first "Take back" of a page.
fn take_back(phone: &Phone, page: &str) {
    let form = page
        .split("action=\"/undo\"")
        .nth(1)
        .expect("a way to take it back");
    let value = |name: &str| {
        let field = form
            .split(&format!("name=\"{name}\" value=\""))
            .nth(1)
            .unwrap();
        field.split('"').next().unwrap().to_string()
    };
    let (form_id, event) = (value("id"), value("event"));
    let answer = phone.post(
        "/undo",
        &[("id", &form_id), ("event", &event), ("back", ODD_MARK)],
    );
    assert_eq!(answer.status, 303, "{}", answer.text());
    let back = answer.header("location").unwrap().to_string();
    assert_eq!(
        back,
        format!("/count/{}?done={form_id}", path_segment(ODD_MARK))
    );
}

/// One segment of a path as RFC 3986 (S) has it: unreserved letters plain, every other byte as %XX.
fn path_segment(text: &str) -> String {
    text.bytes()
        .map(|b| match b {
            b'0'..=b'9' | b'a'..=b'z' | b'A'..=b'Z' | b'-' | b'.' | b'_' | b'~' => {
                char::from(b).to_string()
            }
            _ => format!("%{b:02X}"),
        })
        .collect()
}
