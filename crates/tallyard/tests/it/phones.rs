//! Phones in real browsers that walk out of reach and come back.

use std::collections::BTreeMap;
use std::time::{Duration, Instant};

use tally::{Event, State, What};

use crate::driver::Browser;
use crate::program::{PROGRAM, Place};
use crate::relay::{Air, Relay};
use crate::yard::{PATIENCE, Running};

/// A browser that joined through a relay of its own.
pub struct Walker {
    pub browser: Browser,
    pub air: Relay,
}

impl Walker {
    pub fn joins(yard: &Running, who: &str) -> Self {
        let air = Relay::to(yard.said("address"));
        let browser = Browser::open(390, 844);
        browser.go(&format!(
            "{}/join?code={}",
            air.address,
            yard.said("join_code")
        ));
        browser.fill("#who", who);
        browser.submit("button.main");
        assert_eq!(browser.path(), "/");
        Self { browser, air }
    }

    pub fn go(&self, path: &str) {
        self.browser.go(&format!("{}{path}", self.air.address));
    }

    /// Waits until the pages are taken along.
    pub fn takes_along(&self) {
        let there = "const done = arguments[0]; caches.match('/take-along').then(found => done(Boolean(found)))";
        let begun = Instant::now();
        while self.browser.run_until_called(there) != true {
            assert!(begun.elapsed() < PATIENCE, "nothing is taken along");
            std::thread::sleep(Duration::from_millis(50));
        }
    }

    /// Counts on the page that is open, out of reach.
    fn counts(&self, quantity: usize, waiting: usize) {
        self.browser.run(&format!(
            "document.querySelector('#quantity').value = {quantity}"
        ));
        self.browser.click("form.adding button.main");
        self.waits(waiting);
        self.browser.wait(
            "the button",
            "return !document.querySelector('form.adding button.main').disabled",
        );
    }

    /// Waits until the page says that so many wait.
    fn waits(&self, n: usize) {
        let says =
            format!("return document.querySelector('[data-waiting]').dataset.waiting === '{n}'");
        self.browser.wait(&format!("{n} waiting"), &says);
    }

    fn counted(&self) -> String {
        self.browser.text(".sofar .n")
    }
}

/// The counts of a mark in the log, by who counted.
fn counts_of(log: &[Event], mark: &str) -> BTreeMap<String, Vec<i64>> {
    let mut counts: BTreeMap<String, Vec<i64>> = BTreeMap::new();
    for event in log {
        if let What::Counted {
            mark: of, quantity, ..
        } = &event.what
            && of == mark
        {
            counts.entry(event.who.clone()).or_default().push(*quantity);
        }
    }
    counts
}

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
        "it must be from",
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
    assert!(file.revoke_device(&device.id).unwrap());
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
    ada.go(&format!("/join?code={}", yard.said("join_code")));
    ada.browser.fill("#who", "Ines");
    ada.browser.submit("button.main");
    ada.waits(0);
    assert_eq!(counts_of(&yard.log(), "X3")["Ada"], [4]);
}
