//! A real browser with a relay of its own between it and the yard, so that it can walk out of reach.

use std::collections::BTreeMap;
use std::time::{Duration, Instant};

use tally::{Event, What};

use crate::driver::{Browser, Trusts};
use crate::relay::Relay;
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
    pub fn joins_at(yard: &Running, who: &str, host: &str, more: &[&str]) -> Self {
        let mut air = Relay::to(yard.said("address"));
        air.address = air.address.replace("127.0.0.1", host);
        let browser = Browser::open_with(390, 844, more, Trusts::Anyone);
        let walker = Self { browser, air };
        walker.joins_again(yard, who);
        walker
    }

    /// Scans the code of a yard.
    pub fn joins_again(&self, yard: &Running, who: &str) {
        self.go(&format!("/join?code={}", yard.said("join_code")));
        self.browser.fill("#who", who);
        self.browser.submit("button.main");
        assert_eq!(self.browser.path(), "/");
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
    pub fn counts(&self, quantity: usize, waiting: usize) {
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
    pub fn waits(&self, n: usize) {
        let says =
            format!("return document.querySelector('[data-waiting]').dataset.waiting === '{n}'");
        self.browser.wait(&format!("{n} waiting"), &says);
    }

    pub fn counted(&self) -> String {
        self.browser.text(".sofar .n")
    }
}

/// The counts of a mark in the log, by who counted.
pub fn counts_of(log: &[Event], mark: &str) -> BTreeMap<String, Vec<i64>> {
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
