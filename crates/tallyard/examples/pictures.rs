//! Takes a picture of each page of the demo job, on a phone and on a desk, into a folder.
//!
//! `./pictures` at the root builds the program and runs this.

#![allow(
    clippy::unwrap_used,
    reason = "a picture that cannot be taken is to stop it there"
)]

#[path = "../tests/it/driver.rs"]
#[allow(dead_code, reason = "the browser tests use the rest")]
mod driver;
#[path = "../tests/it/yard.rs"]
#[allow(dead_code, reason = "the tests use the rest")]
mod yard;

use std::fs;
use std::path::Path;
use std::process::Command;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;

use driver::Browser;
use yard::Running;

/// Each page's name, address, and what is done there before the picture is taken.
const PAGES: [(&str, &str, &str); 30] = [
    ("glance", "/", ""),
    ("order", "/order", ""),
    (
        "order-lit",
        "/order?lit=R1",
        "document.querySelector('.drawing').scrollIntoView()",
    ),
    (
        "order-turned",
        "/order",
        "document.querySelector('[data-turn=\"1\"]').click()",
    ),
    (
        "order-step",
        "/order?view=front-left",
        "const steps = document.querySelector('[data-light-stage]'); steps.value = 'purlins'; \
         steps.dispatchEvent(new Event('change')); document.querySelector('.drawing').scrollIntoView()",
    ),
    ("drawings", "/drawings", ""),
    (
        "drawings-joints",
        "/drawings",
        "document.querySelector('.details').scrollIntoView()",
    ),
    ("why", "/order/R1", ""),
    ("list", "/list", ""),
    ("count", "/count", ""),
    ("count-one", "/count/R1", ""),
    (
        "count-kept",
        "/count/B1",
        "document.querySelector('ul.log').scrollIntoView({block: 'center'})",
    ),
    ("difference", "/difference", ""),
    (
        "count-ways",
        "/count/N1",
        "document.querySelectorAll('details').forEach(d => d.open = true); \
         document.querySelector('[name=bundles]').scrollIntoView()",
    ),
    (
        "count-again",
        "/count/B1/again?pile=B%2C%20along%20the%20hedge",
        "",
    ),
    ("tell", "/tell", ""),
    (
        "tell-told",
        "/tell?seen=%5B%7B%22read%22%3A%22kind%22%2C%22is%22%3A%22round_tube%22%7D%2C%7B%22read%22%3A%22end%22%2C%22end%22%3A%22one%22%2C%22is%22%3A%22swaged%22%7D%2C%7B%22read%22%3A%22bend%22%2C%22is%22%3A%22straight%22%7D%5D",
        "",
    ),
    ("look-alikes", "/look-alikes", ""),
    ("photos", "/photos", ""),
    ("piles", "/piles", ""),
    ("tailgate", "/tailgate?shipment=Load%202", ""),
    ("dates", "/dates", ""),
    ("points", "/points", ""),
    ("prices", "/prices", ""),
    ("papers", "/papers", ""),
    ("phones", "/phones", ""),
    (
        "phones-joined",
        "/phones",
        "document.querySelector('#in').scrollIntoView()",
    ),
    (
        "phones-ask",
        "/phones",
        "document.querySelector('.log.phones a.button')?.click()",
    ),
    ("trust", "/trust", ""),
    (
        "trust-open",
        "/trust",
        "document.querySelectorAll('details').forEach(d => d.open = true)",
    ),
];

fn main() {
    let arguments: Vec<String> = std::env::args().collect();
    let (program, folder, order) = match arguments.as_slice() {
        [_, program, folder] => (program, folder, None),
        [_, program, folder, order] => (program, folder, Some(Path::new(order))),
        _ => panic!("usage: pictures PROGRAM FOLDER [ORDER]"),
    };
    fs::create_dir_all(folder).unwrap();
    let place = tempfile::TempDir::new().unwrap();
    for (width, height) in [(390, 844), (1280, 800)] {
        let job = place.path().join(format!("{width}.tallyard"));
        let yard = match order {
            // Another house, to look at its drawings.
            Some(order) => Running::open_with(program, &job, &[Path::new("--order"), order]),
            None => {
                let laid = Command::new(program)
                    .args(["demo", "--lay"])
                    .arg(&job)
                    .status()
                    .unwrap();
                assert!(laid.success());
                Running::open(program, &job)
            }
        };
        let browser = Browser::open(width, height);
        let take = |name: &str| {
            let png = browser.ask("/screenshot", None);
            let png = STANDARD.decode(png.as_str().unwrap()).unwrap();
            fs::write(Path::new(folder).join(format!("{name}-{width}.png")), png).unwrap();
        };
        browser.go(yard.said("join_address"));
        take("join");
        browser.fill("#who", "Ines");
        browser.submit("button.main");
        if order.is_none() {
            yard.joined("Tomasz");
        }
        let of_order = |path: &str| path.starts_with("/order") || path == "/drawings";
        for (name, path, act) in PAGES {
            if order.is_some() && !of_order(path) {
                continue;
            }
            browser.go(&format!("{}{path}", yard.said("address")));
            browser.run(act);
            take(name);
        }
        assert_eq!(browser.complaints(), Vec::<String>::new());
    }
}
