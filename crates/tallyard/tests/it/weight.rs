//! What a phone with little to spare has to fetch and to wait for.

use std::time::{Duration, Instant};

use crate::driver::Browser;
use crate::program::{PROGRAM, Place};
use crate::relay::Relay;
use crate::walker::{Walker, counts_of};
use crate::yard::{PATIENCE, Running};

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
