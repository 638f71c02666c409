//! Counts that waited in a phone while it was out of reach: what the phone says of them, and what becomes of them.

use tally::{Event, What};

use crate::program::{PROGRAM, Place};
use crate::yard::{Answer, Phone, Running, encoded, id, percent};

const FORM: (&str, &str) = ("content-type", "application/x-www-form-urlencoded");

/// Sends a form as the phone's queue does, with what it says beside it.
fn sent(phone: &Phone, path: &str, says: &[(&str, &str)], fields: &[(&str, &str)]) -> Answer {
    let headers = [&[FORM], says].concat();
    let body = encoded(fields).into_bytes();
    phone.send("POST", path, &headers, body).unwrap()
}

fn last(yard: &Running) -> Event {
    yard.log().pop().unwrap()
}

#[test]
fn a_form_that_waited_keeps_its_time_and_its_name() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let phone = yard.joined("Ada");
    let name = percent("Zoë Ünal");
    let now = store::now();
    let hours_ago = now - 5 * 3_600_000;
    let count = |n: u64, at: i64, who: &str| {
        let (id, at) = (id(n), at.to_string());
        let says = [
            ("tallyard-id", id.as_str()),
            ("tallyard-at", &at),
            ("tallyard-who", who),
        ];
        let answer = sent(
            &phone,
            "/count/P1",
            &says,
            &[("id", &id), ("quantity", "3")],
        );
        // Our own answer says so, which no other network's front door can.
        assert_eq!(
            (answer.status, answer.header("tallyard-kept")),
            (204, Some(id.as_str()))
        );
        last(&yard)
    };
    let event = count(1, hours_ago, &name);
    assert_eq!((event.at, event.who.as_str()), (hours_ago, "Zoë Ünal"));
    // A clock that cannot be right and a name that is none: the yard's own clock, the name the phone joined under.
    for (n, at, who) in [
        (2, 0, ""),
        (3, now + 3 * 86_400_000, "%00"),
        (4, -1, "%FF"),
        (5, 1_000_000_000_000, &"x".repeat(81)),
    ] {
        let event = count(n, at, who);
        assert!((now..now + 600_000).contains(&event.at), "{event:?}");
        assert_eq!(event.who, "Ada");
    }
    // The same form again adds nothing, and is kept all the same.
    let before = yard.log().len();
    assert_eq!(count(1, hours_ago, &name).id.to_string(), id(5));
    assert_eq!(yard.log().len(), before);
}

#[test]
fn a_form_that_cannot_be_taken_is_refused_in_our_own_name() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let phone = yard.joined("Ada");
    let (first, before) = (id(1), yard.log().len());
    let says = [("tallyard-id", first.as_str())];
    for (path, quantity, status) in [
        ("/count/P1", "-3", 422),
        ("/count/P1", "three", 422),
        ("/count/NO-SUCH", "3", 404),
    ] {
        let answer = sent(
            &phone,
            path,
            &says,
            &[("id", &first), ("quantity", quantity)],
        );
        assert_eq!(answer.status, status, "{path} {quantity}");
        assert_eq!(answer.header("tallyard-refused"), Some(first.as_str()));
        assert!(answer.text().contains("That did not work"));
    }
    // Whoever has not joined, and what is of another job, is told so; neither is a reason to throw a count away.
    let stranger = sent(
        &yard.stranger(),
        "/count/P1",
        &says,
        &[("id", &first), ("quantity", "3")],
    );
    assert_eq!(
        (stranger.status, stranger.header("tallyard-refused")),
        (403, None)
    );
    let other = [
        ("tallyard-id", first.as_str()),
        ("tallyard-job", "00000000-0000-7000-8000-00000000abcd"),
    ];
    let elsewhere = sent(
        &phone,
        "/count/P1",
        &other,
        &[("id", &first), ("quantity", "3")],
    );
    assert_eq!(
        (elsewhere.status, elsewhere.header("tallyard-refused")),
        (409, None)
    );
    assert!(elsewhere.text().contains("another job"));
    assert_eq!(yard.log().len(), before);
}

/// Ada counts the pile anew from a page that she has had since before Noor counted there.
#[test]
fn a_count_anew_leaves_what_came_after_its_page() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let (ada, noor) = (yard.joined("Ada"), yard.joined("Noor"));
    let pile = ("pile", "by the gate");
    ada.post("/count/X3", &[("id", &id(1)), ("quantity", "4"), pile]);
    let page = ada.get("/count/X3").text();
    let (_, from) = page.split_once("name=\"knew\" value=\"").unwrap();
    let knew = from.split('"').next().unwrap();
    noor.post("/count/X3", &[("id", &id(2)), ("quantity", "7"), pile]);
    // Her own, also from out of reach.
    ada.post("/count/X3", &[("id", &id(3)), ("quantity", "1"), pile]);
    let anew = [
        ("id", &*id(4)),
        ("quantity", "9"),
        pile,
        ("how", "anew"),
        ("knew", knew),
    ];
    for _ in 0..2 {
        assert_eq!(ada.post("/count/X3", &anew).status, 303);
    }
    let What::Counted { replaces, .. } = last(&yard).what else {
        panic!("{:?}", last(&yard))
    };
    assert_eq!(
        replaces.iter().map(ToString::to_string).collect::<Vec<_>>(),
        [id(1), id(3)]
    );
    let state = tally::State::fold(&yard.log());
    assert_eq!(state.on_hand("X3").counted, 7 + 9);
}
