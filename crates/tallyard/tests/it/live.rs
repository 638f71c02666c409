//! What one counts, the others see.

use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::{Duration, Instant};

use crate::program::{PROGRAM, Place};
use crate::walker::Walker;
use crate::yard::{Running, id};

#[test]
fn what_one_counts_the_others_see_within_a_second() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let ada = Walker::joins(&yard, "Ada");
    let noor = yard.joined("Noor");
    ada.go("/count/X3");
    ada.browser.run("document.querySelector('#quantity').value = 12; document.querySelector('#quantity').focus()");
    // Over the relay the stream is there once it has carried its first word.
    std::thread::sleep(Duration::from_millis(500));
    let mut slowest = Duration::ZERO;
    for n in 1..=10u64 {
        let begun = Instant::now();
        noor.post("/count/X3", &[("id", &id(n)), ("quantity", "7")]);
        let says = format!(
            "return document.querySelector('.sofar .n').textContent === '{}'",
            7 * n
        );
        ada.browser.wait("the others' count", &says);
        slowest = slowest.max(begun.elapsed());
    }
    println!("seen by the others after at most {slowest:?}");
    assert!(slowest < Duration::from_secs(1), "{slowest:?}");
    // What is typed stays, and the focus; it is said once to whoever cannot see.
    let kept = "const n = document.querySelector('#quantity'); return n.value === '12' && n === document.activeElement";
    assert_eq!(ada.browser.run(kept), true);
    let said = ada
        .browser
        .run("return document.querySelector('[data-live-said]').textContent");
    assert!(
        said.as_str().unwrap().starts_with("Now: 70 counted so far"),
        "{said}"
    );
    let knew = ada.browser.run(
        "return document.querySelector('input[name=knew]').value === document.body.dataset.upto",
    );
    assert_eq!(knew, true);
    // The yard stops in time although a page listens.
    let begun = Instant::now();
    assert!(yard.stop().success());
    assert!(
        begun.elapsed() < Duration::from_secs(3),
        "{:?}",
        begun.elapsed()
    );
}

/// A page's stream, held open as a browser does; what it has said so far.
fn stream(yard: &Running, cookie: &str) -> (TcpStream, String) {
    let mut stream = TcpStream::connect(yard.said("listening")).unwrap();
    let asks = format!("GET /live HTTP/1.1\r\nHost: yard\r\nCookie: {cookie}\r\n\r\n");
    stream.write_all(asks.as_bytes()).unwrap();
    let mut said = String::new();
    let mut buffer = [0; 4096];
    while !said.contains("data:") && !said.contains("</html>") {
        let read = stream.read(&mut buffer).unwrap();
        assert_ne!(read, 0, "{said}");
        said.push_str(&String::from_utf8_lossy(&buffer[..read]));
    }
    (stream, said)
}

#[test]
fn there_are_places_for_so_many_pages_and_they_come_free() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let phone = yard.joined("Ada");
    let cookie = phone.cookie.clone().unwrap();
    let mut open = Vec::new();
    for _ in 0..40 {
        let (stream, said) = stream(&yard, &cookie);
        let highest = yard.log().iter().map(|event| event.seq).max().unwrap();
        assert!(
            said.contains("text/event-stream") && said.contains(&format!("data: {highest}\n")),
            "{said}"
        );
        open.push(stream);
    }
    let full = stream(&yard, &cookie).1;
    assert!(
        full.starts_with("HTTP/1.1 503") && full.contains("every ten seconds"),
        "{full}"
    );
    // One goes; at the next count the yard notices.
    open.pop();
    let begun = Instant::now();
    let mut n = 0;
    while !stream(&yard, &cookie).1.starts_with("HTTP/1.1 200") {
        n += 1;
        phone.post("/count/X3", &[("id", &id(n)), ("quantity", "1")]);
        assert!(
            begun.elapsed() < Duration::from_secs(20),
            "no place comes free"
        );
    }
    let begun = Instant::now();
    assert!(yard.stop().success());
    assert!(
        begun.elapsed() < Duration::from_secs(3),
        "{:?}",
        begun.elapsed()
    );
}

#[test]
fn a_stream_that_hears_nothing_new_says_that_it_is_there() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let (mut stream, _) = stream(&yard, &yard.joined("Ada").cookie.unwrap());
    let begun = Instant::now();
    let read = stream.read(&mut [0; 256]).unwrap();
    assert!(read > 0);
    // A phone takes a stream for dead that is silent for 25 s (live.js).
    assert!(
        begun.elapsed() < Duration::from_secs(20),
        "{:?}",
        begun.elapsed()
    );
}

/// A page that gets no stream asks every ten seconds.
#[test]
fn without_a_stream_a_page_asks() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let noor = yard.joined("Noor");
    let cookie = noor.cookie.clone().unwrap();
    let _all: Vec<_> = (0..40).map(|_| stream(&yard, &cookie)).collect();
    let ada = Walker::joins(&yard, "Ada");
    ada.go("/count/X3");
    std::thread::sleep(Duration::from_secs(1));
    noor.post("/count/X3", &[("id", &id(1)), ("quantity", "7")]);
    let begun = Instant::now();
    ada.browser.wait(
        "the others' count",
        "return document.querySelector('.sofar .n').textContent === '7'",
    );
    assert!(
        begun.elapsed() < Duration::from_secs(15),
        "{:?}",
        begun.elapsed()
    );
}
