//! What is acknowledged is kept, once: retries, undoing, kills, stops, and two servers on one job.

use std::collections::BTreeSet;
use std::net::TcpStream;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, Instant};

use tally::State;

use crate::program::{PROGRAM, Place};
use crate::yard::{PATIENCE, Phone, Running, id};

fn opened() -> (Place, Running) {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    (place, yard)
}

fn counted(yard: &Running, mark: &str) -> i64 {
    State::fold(&yard.log()).on_hand(mark).counted
}

fn count(phone: &Phone, n: u64, mark: &str, quantity: &str) {
    let answer = phone.post(
        &format!("/count/{mark}"),
        &[("id", &id(n)), ("quantity", quantity)],
    );
    assert_eq!(answer.status, 303, "{}", answer.text());
    assert_eq!(
        answer.header("location").unwrap(),
        format!("/count/{mark}?done={}", id(n))
    );
}

#[test]
fn a_form_sent_twice_is_one_event() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    let before = yard.log().len();
    let twice = |path: &str, fields: &[(&str, &str)]| {
        let log = yard.log().len();
        for time in ["first", "second"] {
            let answer = phone.post(path, fields);
            assert_eq!(
                answer.status,
                303,
                "{path}, the {time} time: {}",
                answer.text()
            );
        }
        assert_eq!(yard.log().len(), log + 1, "{path}");
    };
    let (a, b) = (id(1), id(2));
    twice("/count/L1", &[("id", &a), ("quantity", "7")]);
    assert_eq!(counted(&yard, "L1"), 7);
    // Counting anew replaces what stood; the retry must not replace itself.
    twice(
        "/count/L1",
        &[("id", &b), ("quantity", "9"), ("how", "anew")],
    );
    assert_eq!(counted(&yard, "L1"), 9);
    twice(
        "/condition/L1",
        &[
            ("id", &id(3)),
            ("quantity", "2"),
            ("condition", "wet"),
            ("words", "rain"),
        ],
    );
    twice(
        "/note",
        &[("id", &id(4)), ("mark", "L1"), ("words", "on the lawn")],
    );
    twice("/shipment", &[("id", &id(5)), ("shipment", "Load 2")]);
    twice("/undo", &[("id", &id(6)), ("event", &b), ("back", "L1")]);
    assert_eq!(counted(&yard, "L1"), 7, "the first count stands again");
    assert_eq!(yard.log().len(), before + 6);
}

/// The same id with something else to say is no retry.
#[test]
fn an_id_is_not_taken_for_something_else() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    count(&phone, 1, "L1", "7");
    let answer = phone.post("/count/L1", &[("id", &id(1)), ("quantity", "8")]);
    assert_eq!(answer.status, 422);
    assert_eq!(counted(&yard, "L1"), 7);
}

#[test]
fn undo_and_undo_of_undo() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    let undo = |n, of| {
        phone.post(
            "/undo",
            &[("id", &id(n)), ("event", &id(of)), ("back", "L1")],
        )
    };
    count(&phone, 1, "L1", "7");
    assert!(phone.get("/count/L1").text().contains("7</strong> counted"));
    assert_eq!(undo(2, 1).status, 303);
    assert_eq!(counted(&yard, "L1"), 0);
    // The page after undoing offers to undo that.
    let page = phone.get(&format!("/count/L1?done={}", id(2))).text();
    assert!(
        page.contains(&format!("name=\"event\" value=\"{}\"", id(2))),
        "{page}"
    );
    assert_eq!(undo(3, 2).status, 303);
    assert_eq!(counted(&yard, "L1"), 7);
    // What no longer stands cannot be taken back again under a new id.
    assert_eq!(undo(4, 2).status, 422);
    assert_eq!(undo(5, 999).status, 422);
    assert_eq!(counted(&yard, "L1"), 7);
}

#[test]
fn counts_say_who_and_on_which_phone() {
    let (_place, yard) = opened();
    let (ada, ben) = (yard.joined("Ada"), yard.joined("Ben"));
    count(&ada, 1, "L1", "3");
    count(&ben, 2, "L1", "4");
    assert_eq!(counted(&yard, "L1"), 7);
    let log = yard.log();
    let of = |n: u64| log.iter().find(|e| e.id.to_string() == id(n)).unwrap();
    assert_eq!([of(1).who.as_str(), of(2).who.as_str()], ["Ada", "Ben"]);
    assert_ne!(of(1).device, of(2).device);
    let page = ben.get("/count/L1").text();
    assert!(page.contains("Ada") && page.contains("Ben"));
}

/// Kills the server while phones count, again and again on one job; each id that a phone was told is kept stays.
#[test]
fn kill_under_a_stream_of_counts_loses_no_acknowledged_one() {
    let place = Place::with_demo_job();
    let job = place.path("demo.tallyard");
    let next = AtomicU64::new(1);
    let mut told: BTreeSet<String> = BTreeSet::new();
    let mut cookies: Vec<Option<String>> = Vec::new();
    for round in 0..5_usize {
        let yard = Running::open(PROGRAM, &job);
        // The phones joined once, in the first round: their cookies outlive the server.
        if cookies.is_empty() {
            cookies = ["Ada", "Ben"].map(|who| yard.joined(who).cookie).into();
        }
        let acknowledged = AtomicU64::new(0);
        let enough = 10 + 17 * round as u64;
        let phones: Vec<Phone> = cookies
            .iter()
            .map(|cookie| yard.showing(cookie.clone()))
            .collect();
        let heard: Vec<String> = std::thread::scope(|scope| {
            let streams: Vec<_> = phones
                .iter()
                .map(|phone| scope.spawn(|| stream(phone, &next, &acknowledged)))
                .collect();
            let begun = Instant::now();
            while acknowledged.load(Ordering::Relaxed) < enough {
                assert!(begun.elapsed() < PATIENCE, "the counts come to a stop");
                std::thread::yield_now();
            }
            yard.kill();
            streams
                .into_iter()
                .flat_map(|stream| stream.join().unwrap())
                .collect()
        });
        assert!(heard.len() as u64 >= enough);
        told.extend(heard);
        let log = store::Job::open(&job).unwrap().events().unwrap();
        assert!(log.unread.is_empty());
        let kept: BTreeSet<String> = log
            .events
            .iter()
            .map(|event| event.id.to_string())
            .collect();
        let lost: Vec<&String> = told.difference(&kept).collect();
        assert!(lost.is_empty(), "round {round}: lost {lost:?}");
    }
}

/// Counts until the server is gone; returns what was acknowledged.
fn stream(phone: &Phone, next: &AtomicU64, acknowledged: &AtomicU64) -> Vec<String> {
    let mut told = Vec::new();
    loop {
        let id = id(next.fetch_add(1, Ordering::Relaxed));
        match phone.try_post("/count/L1", &[("id", &id), ("quantity", "1")]) {
            Ok(answer) => {
                assert_eq!(answer.status, 303);
                told.push(id);
                acknowledged.fetch_add(1, Ordering::Relaxed);
            }
            Err(_) => return told,
        }
    }
}

/// Ctrl-C ends it at once although phones keep connections open, one of them silent from the start.
#[test]
fn it_stops_when_told_to_and_keeps_what_was_counted() {
    let (place, yard) = opened();
    let phone = yard.joined("Ada");
    count(&phone, 1, "L1", "7");
    let silent = TcpStream::connect(yard.said("listening")).unwrap();
    let mut half = TcpStream::connect(yard.said("listening")).unwrap();
    std::io::Write::write_all(&mut half, b"GET / HTTP/1.1\r\nHost: ").unwrap();
    assert!(yard.stop().success());
    drop((silent, half));
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    assert_eq!(counted(&yard, "L1"), 7);
    // The phone needs not join again.
    let page = yard.showing(phone.cookie).get("/count/L1");
    assert!(page.status == 200 && page.text().contains("7</strong> counted"));
}

#[test]
fn two_servers_on_one_job_file_agree() {
    let (place, one) = opened();
    let two = Running::open(PROGRAM, &place.path("demo.tallyard"));
    assert_eq!(one.said("join_code"), two.said("join_code"));
    let before = one.log().len();
    let at_one = one.joined("Ada");
    let at_two = two.showing(at_one.cookie.clone());
    std::thread::scope(|scope| {
        scope.spawn(|| (1..=30).for_each(|n| count(&at_one, n, "L1", "1")));
        scope.spawn(|| (101..=130).for_each(|n| count(&at_two, n, "L1", "1")));
    });
    assert_eq!(one.log().len(), before + 60);
    for phone in [&at_one, &at_two] {
        let page = phone.get("/count/L1").text();
        assert!(page.contains("<span class=\"n\">60</span>"), "{page}");
    }
    // A retry that reaches the other server is still a retry.
    count(&at_two, 1, "L1", "1");
    assert_eq!(counted(&two, "L1"), 60);
}

/// Twenty phones at once, for three seconds; `cargo bench -p tallyard --bench load` does it for a minute.
#[test]
fn many_phones_count_at_once() {
    let place = Place::with_demo_job();
    let load = crate::load::run(
        PROGRAM,
        &place.path("demo.tallyard"),
        Duration::from_secs(3),
    );
    println!("{load}");
    assert_eq!(load.times.len(), 140);
    assert!(
        load.times.iter().max().unwrap() < &Duration::from_secs(3),
        "{load}"
    );
}
