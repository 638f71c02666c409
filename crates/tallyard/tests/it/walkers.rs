//! Phones in real browsers that walk out of reach and come back.

use std::collections::BTreeMap;
use std::time::{Duration, Instant};

use tally::{Event, State, What};

use crate::driver::{Browser, Trusts};
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
        Self::joins_at(yard, who, "127.0.0.1", &[])
    }

    /// The same under another name of the yard's computer, with more arguments for the browser.
    fn joins_at(yard: &Running, who: &str, host: &str, more: &[&str]) -> Self {
        let mut air = Relay::to(yard.said("address"));
        air.address = air.address.replace("127.0.0.1", host);
        let browser = Browser::open_with(390, 844, more, Trusts::Anyone);
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
    ada.go(&format!("/join?code={}", yard.said("join_code")));
    ada.browser.fill("#who", "Ines");
    ada.browser.submit("button.main");
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
    ada.go(&format!("/join?code={}", yard.said("join_code")));
    ada.browser.fill("#who", "Noor");
    ada.browser.submit("button.main");
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

/// All that a new phone fetches: joining, the glance, one mark's page, our files, and what is taken along.
#[test]
fn the_first_visit_weighs_little() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let ada = Walker::joins(&yard, "Ada");
    let joined = ada.air.carried();
    ada.go("/count/X3");
    ada.takes_along();
    let all = ada.air.carried();
    println!(
        "first visit: {joined} bytes to join and see the glance, {all} with a mark's page and all pages taken along"
    );
    assert!(all < 150_000, "{all}");
    // What was fetched once is not fetched again, but for the page.
    ada.go("/count/P1");
    ada.browser
        .wait("the page", "return document.readyState === 'complete'");
    println!("a further page: {} bytes", ada.air.carried() - all);
    assert!(ada.air.carried() - all < 12_000);
}

/// Chromium's own preset "Slow 3G" (from memory): 2 s for each answer, 50 kB a second. The browser slows the pages down
/// itself, but not its worker; once that is there, the relay does.
#[test]
fn a_slow_network_can_be_worked_with() {
    const LATENCY: Duration = Duration::from_secs(2);
    const RATE: u32 = 50_000;
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let air = Relay::to(yard.said("address"));
    let browser = Browser::open(390, 844);
    browser.slow(LATENCY.as_millis() as u32, RATE);
    let begun = Instant::now();
    browser.go(&format!(
        "{}/join?code={}",
        air.address,
        yard.said("join_code")
    ));
    browser.fill("#who", "Ada");
    browser.submit("button.main");
    let joined = begun.elapsed();
    browser.slow(0, 0);
    air.slow(LATENCY, RATE.into());
    let ada = Walker { browser, air };
    let begun = Instant::now();
    ada.go("/count/X3");
    let opened = begun.elapsed();
    let begun = Instant::now();
    ada.browser
        .run("document.querySelector('#quantity').value = 3");
    ada.browser.click("form.adding button.main");
    // For seconds nothing seems to happen, so the button is pressed again and again.
    while ada.browser.path() == "/count/X3" {
        let press = "document.querySelector('form.adding button.main')?.click()";
        ada.browser.run(press);
        assert!(
            begun.elapsed() < PATIENCE,
            "the page after the count does not come"
        );
        std::thread::sleep(Duration::from_millis(100));
    }
    ada.browser.wait(
        "the sum",
        "return document.querySelector('.sofar .n').textContent === '3'",
    );
    let counted = begun.elapsed();
    println!(
        "slow 3G: {joined:?} until joined, {opened:?} for a mark's page, {counted:?} until a count is seen in the sum"
    );
    assert!(
        joined < Duration::from_secs(20)
            && opened < Duration::from_secs(8)
            && counted < Duration::from_secs(20)
    );
    assert_eq!(
        counts_of(&yard.log(), "X3")["Ada"],
        [3],
        "many taps, one count"
    );
}
