//! Phones in real browsers that walk out of reach and come back.

use std::time::Instant;

use tally::{Event, State, What};

use crate::program::{PROGRAM, Place};
use crate::relay::Air;
use crate::walker::{Walker, counts_of};
use crate::yard::{PATIENCE, Running};

#[test]
fn two_count_one_mark_and_one_walks_out_of_reach() {
    let place = Place::with_demo_job();
    let job = place.path("demo.tallyard");
    let yard = Running::open(PROGRAM, &job);
    let before = yard.log().len();
    let (ada, noor) = (Walker::joins(&yard, "Ada"), Walker::joins(&yard, "Noor"));
    noor.go("/count/X3");
    ada.go("/count/X3");
    ada.takes_along();

    // Ada walks off and counts: 1, 2, 3 ... 50. Halfway the page is loaded again, and once more while nobody says
    // that nothing gets through.
    ada.air.set(Air::Gone);
    let left = store::now();
    for n in 1..=20 {
        ada.counts(n, n);
    }
    ada.go("/count/X3");
    let banner = ada.browser.text("[data-as-it-was]");
    assert!(
        banner.starts_with("Out of reach of the yard computer: this page is as it was at ")
            && banner
                .trim_end_matches('.')
                .split(' ')
                .next_back()
                .unwrap()
                .len()
                == "14:02".len(),
        "{banner}"
    );
    ada.waits(20);
    assert!(
        ada.browser
            .text("[data-waiting-says]")
            .starts_with("20 wait in this phone. They go")
    );
    assert_eq!(
        ada.browser.text("[data-waits-for]"),
        format!("and {} of yours waiting", (1..=20).sum::<i32>())
    );

    // Meanwhile Noor counts the same, in reach, and the yard's computer loses power.
    for _ in 0..3 {
        noor.browser
            .run("document.querySelector('#quantity').value = 100");
        noor.browser.submit("form.adding button.main");
    }
    yard.kill();
    let yard = Running::open(PROGRAM, &job);
    noor.air.lead_to(yard.said("address"));
    ada.air.lead_to(yard.said("address"));
    for n in 21..=35 {
        ada.counts(n, n);
    }
    ada.air.set(Air::Silent);
    ada.go("/count/X3");
    ada.waits(35);
    for n in 36..=50 {
        ada.counts(n, n);
    }
    let mid = store::now();

    // She comes back where her phone is heard and hears nothing, then into reach; in the middle of it all the power
    // goes again.
    let sum = |log: &[Event]| counts_of(log, "X3").get("Ada").map_or(0, Vec::len);
    ada.air.set(Air::OneWay);
    let begun = Instant::now();
    while sum(&yard.log()) == 0 {
        assert!(begun.elapsed() < PATIENCE, "nothing is heard");
    }
    assert_ne!(
        ada.browser
            .run("return document.querySelector('[data-waiting]').dataset.waiting"),
        "0"
    );
    ada.air.set(Air::Clear);
    while sum(&yard.log()) < 8 {
        assert!(begun.elapsed() < PATIENCE, "nothing comes in");
    }
    yard.kill();
    let yard = Running::open(PROGRAM, &job);
    for walker in [&ada, &noor] {
        walker.air.lead_to(yard.said("address"));
    }
    ada.waits(0);

    // Nothing is lost, nothing is double, and each is where and when it was counted.
    let log = yard.log();
    assert_eq!(log.len(), before + 53);
    let counts = counts_of(&log, "X3");
    assert_eq!(
        counts["Ada"],
        (1..=50).collect::<Vec<i64>>(),
        "in the order of counting"
    );
    assert_eq!(counts["Noor"], [100, 100, 100]);
    let hers: Vec<i64> = log
        .iter()
        .filter(|event| event.who == "Ada")
        .map(|event| event.at)
        .collect();
    let hers = &hers[hers.len() - 50..];
    assert!(
        hers.is_sorted() && hers[0] >= left && hers[49] <= mid,
        "{left} {hers:?} {mid}"
    );
    // Both pages and the file say the same.
    let all = (1..=50).sum::<i64>() + 300;
    assert_eq!(State::fold(&log).on_hand("X3").counted, all);
    for walker in [&ada, &noor] {
        let says = format!("return document.querySelector('.sofar .n').textContent === '{all}'");
        walker.browser.wait("the sum", &says);
        walker.go("/count/X3");
        assert_eq!(walker.counted(), all.to_string());
    }
    assert!(
        !ada.browser
            .run("return document.querySelector('[data-waits-for]').textContent")
            .as_str()
            .unwrap()
            .contains("waiting")
    );
}

#[test]
fn what_cannot_be_taken_is_shown_and_kept() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let ada = Walker::joins(&yard, "Ada");
    ada.go("/count/X3");
    ada.takes_along();
    ada.air.set(Air::Gone);
    // A page from elsewhere, or a script gone wrong: more than an event can hold. The field's own limits are lifted.
    ada.browser
        .run("document.querySelector('form.adding').noValidate = true");
    ada.counts(1_000_001, 1);
    ada.counts(5, 2);
    ada.air.set(Air::Clear);
    ada.waits(0);
    let shown = ada.browser.text("[data-refused]");
    for said in [
        "Not taken by the yard computer",
        "Count of X3",
        "1000001",
        "from 0 to 1000000",
    ] {
        assert!(shown.contains(said), "{said}\n{shown}");
    }
    // The one after it went through; the refused one stays, also when the page is loaded again, until it is put away.
    let refused = "return document.querySelectorAll('[data-refused-list] li').length";
    assert_eq!(counts_of(&yard.log(), "X3")["Ada"], [5]);
    ada.go("/count/X3");
    ada.browser
        .wait("the refused one", &format!("{refused} === 1"));
    ada.browser
        .click("[data-refused-list] button[aria-label^='Put away']");
    ada.browser
        .wait("it is put away", &format!("{refused} === 0"));
    assert_eq!(
        yard.log().iter().filter(|event| event.who == "Ada").count(),
        1
    );
}

#[test]
fn what_waits_can_be_taken_back() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let ada = Walker::joins(&yard, "Ada");
    ada.go("/count/X3");
    ada.takes_along();
    ada.air.set(Air::Gone);
    for n in 1..=3 {
        ada.counts(n, n);
    }
    ada.browser.click("[data-waiting-held] summary");
    // The first was tried, so the yard may have it: it is taken back by an event. The last was not: it goes.
    ada.browser
        .click("[data-waiting-list] li:nth-of-type(3) button");
    ada.waits(2);
    ada.browser
        .click("[data-waiting-list] li:nth-of-type(1) button");
    ada.waits(3);
    ada.air.set(Air::Clear);
    ada.waits(0);
    let log = yard.log();
    assert_eq!(counts_of(&log, "X3")["Ada"], [1, 2]);
    assert_eq!(State::fold(&log).on_hand("X3").counted, 2);
}

#[test]
fn a_phone_that_is_shut_out_keeps_what_waits() {
    let place = Place::with_demo_job();
    let job = place.path("demo.tallyard");
    let yard = Running::open(PROGRAM, &job);
    let ada = Walker::joins(&yard, "Ada");
    ada.go("/count/X3");
    ada.takes_along();
    ada.air.set(Air::Gone);
    ada.counts(4, 1);
    let mut file = store::Job::open(&job).unwrap();
    let device = file
        .devices()
        .unwrap()
        .into_iter()
        .find(|device| device.name == "Ada")
        .unwrap();
    assert!(file.revoke_device(&device.id, true).unwrap());
    ada.air.set(Air::Clear);
    let says = "return document.querySelector('[data-waiting-says]').textContent.includes('no longer knows')";
    ada.browser.wait("the word", says);
    assert_eq!(counts_of(&yard.log(), "X3").get("Ada"), None);
    // It is shown the way in, which also says what waits, and nothing of the job can be read any more.
    ada.go("/count/X3");
    assert_eq!(ada.browser.path(), "/join");
    ada.waits(1);
    let forgotten = "const done = arguments[0]; caches.has('pages').then(done)";
    let begun = Instant::now();
    while ada.browser.run_until_called(forgotten) != false {
        assert!(begun.elapsed() < PATIENCE, "the pages are still there");
    }
    // Once it has joined again it goes, under the name it was counted by.
    ada.joins_again(&yard, "Ines");
    ada.waits(0);
    assert_eq!(counts_of(&yard.log(), "X3")["Ada"], [4]);
}

/// Handing the phone on: the pages of the one before go, what they counted stays, and goes under their name.
#[test]
fn leaving_takes_the_pages_and_leaves_what_waits() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let ada = Walker::joins(&yard, "Ada");
    ada.go("/count/X3");
    ada.takes_along();
    ada.air.set(Air::Gone);
    ada.counts(6, 1);
    ada.air.set(Air::Clear);
    // The yard is in reach for the one request that leaves, and what waits is not sent before it.
    let leave = "const done = arguments[0]; window.stop(); \
         fetch('/leave', {method: 'POST', redirect: 'manual'}).then(() => done(true))";
    ada.browser.run_until_called(leave);
    ada.go("/");
    assert_eq!(ada.browser.path(), "/join");
    let forgotten = "const done = arguments[0]; caches.has('pages').then(done)";
    let begun = Instant::now();
    while ada.browser.run_until_called(forgotten) != false {
        assert!(begun.elapsed() < PATIENCE, "the pages are still there");
    }
    ada.air.set(Air::Gone);
    ada.go("/count/X3");
    assert_eq!(ada.browser.text("h1"), "Out of reach");
    ada.air.set(Air::Clear);
    ada.joins_again(&yard, "Noor");
    ada.waits(0);
    assert_eq!(counts_of(&yard.log(), "X3")["Ada"], [6]);
    // The pages that are taken along now are made out to who holds the phone.
    ada.takes_along();
    ada.air.set(Air::Gone);
    ada.go("/count/P1");
    assert_eq!(ada.browser.text("header .who"), "Phones · Noor");
}

/// By plain http from another computer there is no worker and there are no locks; a page that is open keeps what is
/// counted all the same, and through a page that is loaded anew.
#[test]
fn plain_http_keeps_counts_too() {
    let place = Place::with_demo_job();
    let job = place.path("demo.tallyard");
    let yard = Running::open(PROGRAM, &job);
    let named = "--host-resolver-rules=MAP yard.test 127.0.0.1";
    let ada = Walker::joins_at(&yard, "Ada", "yard.test", &[named]);
    ada.go("/count/X3");
    let has = "return [isSecureContext, 'serviceWorker' in navigator, 'locks' in navigator]";
    assert_eq!(
        ada.browser.run(has),
        serde_json::json!([false, false, false])
    );
    ada.air.set(Air::Gone);
    for n in 1..=3 {
        ada.counts(n, n);
    }
    yard.kill();
    let yard = Running::open(PROGRAM, &job);
    ada.air.lead_to(yard.said("address"));
    ada.air.set(Air::Clear);
    ada.go("/count/P1");
    ada.waits(0);
    assert_eq!(counts_of(&yard.log(), "X3")["Ada"], [1, 2, 3]);
}

/// Two pages of one phone, and both send: what the other has sent is not sent again, or adds nothing.
#[test]
fn two_pages_of_one_phone_add_nothing_twice() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let ada = Walker::joins(&yard, "Ada");
    ada.go("/count/X3");
    ada.takes_along();
    ada.browser.run("window.open(location.href)");
    ada.air.set(Air::Gone);
    for n in 1..=10 {
        ada.counts(n, n);
    }
    ada.air.set(Air::Clear);
    ada.browser.run("window.open(location.href)");
    ada.waits(0);
    assert_eq!(
        counts_of(&yard.log(), "X3")["Ada"],
        (1..=10).collect::<Vec<i64>>()
    );
}

/// A form with a file in it waits as any other: here the list page's own, marked for it.
#[test]
fn a_file_waits_as_well() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let ada = Walker::joins(&yard, "Ada");
    ada.go("/list");
    ada.takes_along();
    ada.browser
        .run("document.querySelector('form:has(#file)').dataset.keep = 'A list'");
    ada.air.set(Air::Gone);
    let content = "Code,Qty,Description\nX3,8,Cross connector for the second house\n";
    place.write("another.csv", content);
    ada.browser
        .fill("#file", place.path("another.csv").to_str().unwrap());
    ada.browser.click("form:has(#file) button.main");
    ada.waits(1);
    assert!(
        ada.browser
            .text("[data-waiting-held]")
            .contains("What waits")
    );
    // The page, and with it the file that was chosen, is gone; the phone has it.
    std::fs::remove_file(place.path("another.csv")).unwrap();
    ada.go("/count");
    ada.waits(1);
    ada.air.set(Air::Clear);
    ada.waits(0);
    let job = store::Job::open(&place.path("demo.tallyard")).unwrap();
    let added = yard.log().into_iter().find_map(|event| match event.what {
        What::ListAdded { digest, name, .. } if name == "another.csv" => Some(digest),
        _ => None,
    });
    assert_eq!(
        job.document(&added.unwrap()).unwrap().unwrap(),
        content.as_bytes()
    );
}

/// The yard's computer opens another job under the same address: what was seen at the first is not put into it.
#[test]
fn what_waits_for_one_job_does_not_go_into_another() {
    let place = Place::with_demo_job();
    let (job, other) = (place.path("demo.tallyard"), place.path("other.tallyard"));
    let yard = Running::open(PROGRAM, &job);
    let ada = Walker::joins(&yard, "Ada");
    ada.go("/count/X3");
    ada.takes_along();
    ada.air.set(Air::Gone);
    ada.counts(4, 1);
    yard.kill();
    place.ok(&["demo", "--lay", "other.tallyard"]);
    let yard = Running::open(PROGRAM, &other);
    let before = yard.log().len();
    ada.air.lead_to(yard.said("address"));
    ada.air.set(Air::Clear);
    ada.joins_again(&yard, "Ada");
    ada.waits(1);
    let says = ada.browser.text("[data-waiting-says]");
    assert_eq!(says, "1 seen at another job waits for that job's yard.");
    ada.go("/count/X3");
    ada.waits(1);
    let beside = "return document.querySelector('[data-waits-for]').textContent";
    assert_eq!(ada.browser.run(beside), "");
    assert_eq!(yard.log().len(), before);
    yard.kill();
    let yard = Running::open(PROGRAM, &job);
    ada.air.lead_to(yard.said("address"));
    ada.joins_again(&yard, "Ada");
    ada.waits(0);
    assert_eq!(counts_of(&yard.log(), "X3")["Ada"], [4]);
}

/// A copy of a page whose parts are not swapped says so when the yard is back, and leads to the page as it is now.
#[test]
fn a_copy_leads_to_the_page_as_it_is_now() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let ada = Walker::joins(&yard, "Ada");
    ada.takes_along();
    // Once more with the worker in between, which keeps what is visited.
    ada.go("/order");
    ada.go("/order");
    ada.air.set(Air::Gone);
    ada.go("/order");
    let banner = "return document.querySelector('[data-as-it-was]').textContent";
    let out = ada.browser.run(banner);
    assert!(out.as_str().unwrap().starts_with("Out of reach"), "{out}");
    ada.air.set(Air::Clear);
    ada.browser.wait(
        "the word",
        &format!("{banner}.startsWith('The yard computer is in reach again')"),
    );
    ada.browser.click("[data-as-it-was] a");
    ada.browser.wait(
        "the page",
        "return document.querySelector('[data-as-it-was]').hidden",
    );
}
