//! The difference, explained: from the half-counted demo to a bundle that was downloaded, in a real browser.

use std::fs;
use std::process::Command;

use measure::{Grid, System};
use serde_json::Value;
use tally::Ordered;
use tell::Reading;

use crate::browser::{fetched, join};
use crate::cli::text_of;
use crate::driver::Browser;
use crate::program::{PROGRAM, Place};
use crate::tell_afar::DEMO;
use crate::yard::Running;

const CARD: &str = "[id='matter-R1-S1']";
const PILE: &str = "C, on the pallet";

/// The matter of a mark, as the command line has it, while the yard is open.
fn matter(place: &Place, mark: &str) -> Option<Value> {
    let said = place.json(&["difference", "demo.tallyard", "--json"]);
    let matters = said["explanation"]["matters"].as_array().unwrap();
    let is_of = |matter: &&Value| matter["marks"].as_array().unwrap().contains(&mark.into());
    matters.iter().find(is_of).cloned()
}

#[test]
fn from_a_story_to_a_bundle() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let address = yard.said("address").to_string();
    let browser = Browser::open(390, 844);
    join(&browser, &yard, "Ada Quill");
    let glance = browser.text("main");
    assert!(glance.contains("2 R1 lie in pile C"), "{glance}");

    // The story, how sure it is, and the look that settles it.
    browser.go(&format!("{address}/difference"));
    let card = browser.text(CARD);
    for words in [
        "R1 lie in pile C, on the pallet and were counted as S1.",
        "15 needed, 15 listed, 13 counted",
        "against",
        "not short, if this is so",
    ] {
        assert!(card.contains(words), "{words}\n{card}");
    }
    let before = matter(&place, "R1").unwrap();
    assert_eq!(
        before["likeliest"]["causes"][0]["kind"],
        "counted_as_look_alike"
    );

    // The look leads to the page that tells a piece of that pile; the piece in hand is an R1.
    browser.click(&format!("{CARD} a.main"));
    browser.wait("the page", "return location.pathname === '/tell'");
    assert!(
        browser
            .text("main")
            .contains(&format!("A piece of pile {PILE}"))
    );
    tell(&browser, "R1");
    browser.submit("form[action='/measured'] button");
    let after = matter(&place, "R1").unwrap();
    assert!(
        after["odds"].as_f64() > before["odds"].as_f64(),
        "a piece that was found makes the story likelier: {before} {after}"
    );
    browser.go(&format!("{address}/difference"));
    assert_ne!(browser.text(CARD), card, "the story follows what was read");

    // Both are put where they belong, and that story is over.
    let pile = "C%2C%20on%20the%20pallet";
    browser.go(&format!("{address}/count/R1?pile={pile}"));
    browser.run("document.querySelector('#quantity').value = 2");
    browser.submit("form.adding button.main");
    browser.go(&format!("{address}/count/S1?pile={pile}"));
    browser.run("const form = document.querySelector('form.adding'); form.elements.quantity.value = 8; form.querySelector('[name=how][value=anew]').checked = true");
    browser.submit("form.adding button.main");
    assert_eq!(matter(&place, "R1"), None);
    browser.go(&format!("{address}/difference"));
    let gone = format!("return document.querySelector(\"{CARD}\") === null");
    assert_eq!(browser.run(&gone), true);

    // The sender promises what is short: the point stays, as promised.
    browser.go(&format!("{address}/points"));
    browser.click("a[href='/point?about=short&of=X2']");
    browser.wait("the point", "return location.pathname === '/point'");
    browser.click("details:has(form.answer-of) > summary");
    browser.click("label:has(input[value=sends])");
    browser.fill("#shipment", "Load 3");
    browser.submit("form.answer-of button.main");
    assert!(
        browser.text("main").contains("promised"),
        "{}",
        browser.text("main")
    );

    // A price for the bent bow, and the claim that asks for it.
    browser.go(&format!("{address}/prices"));
    let form = "form[action='/price']:has(input[name=mark][value=B1])";
    browser.fill(&format!("{form} input[name=each]"), "48.50");
    browser.submit(&format!("{form} button"));
    assert!(browser.text(".total").contains("USD 48.50"));
    browser.go(&format!("{address}/papers"));
    let link = browser.run("return document.querySelector('a[href^=\"/papers/carrier-claim.pdf\"]').getAttribute('href')");
    fs::write(
        place.path("claim.pdf"),
        fetched(&browser, link.as_str().unwrap()),
    )
    .unwrap();
    let claim = text_of(&place.path("claim.pdf"));
    for words in ["Osprey Island school garden house", "B1", "48.50"] {
        assert!(claim.contains(words), "{words}\n{claim}");
    }
    assert_eq!(browser.complaints(), Vec::<String>::new());

    // The bundle, checked by a program that is none of ours.
    fs::write(place.path("b.zip"), fetched(&browser, "/papers/bundle.zip")).unwrap();
    let file = fs::File::open(place.path("b.zip")).unwrap();
    let folder = place.path("unpacked");
    zip::ZipArchive::new(file)
        .unwrap()
        .extract(&folder)
        .unwrap();
    let checked = Command::new("sha256sum")
        .args(["--check", "--strict", "SHA256SUMS"])
        .current_dir(&folder)
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&checked.stdout);
    assert!(checked.status.success(), "{said}");
    for paper in ["carrier-claim", "sender-notice", "over-short-damaged"] {
        assert!(said.contains(&format!("papers/{paper}.pdf: OK")), "{said}");
    }
    // The same program finds it when the claim is another.
    fs::write(folder.join("papers/carrier-claim.pdf"), "%PDF").unwrap();
    let checked = Command::new("sha256sum")
        .args(["--check", "--strict", "SHA256SUMS"])
        .current_dir(&folder)
        .output()
        .unwrap();
    assert!(!checked.status.success());
}

/// Answers what the page asks as a piece of a mark would have it answered, until it is told.
fn tell(browser: &Browser, mark: &str) {
    let ordered = Ordered::read(DEMO).unwrap();
    let kit = ordered.kit();
    let part = &ordered.parts.line(mark).unwrap().part;
    let mut seen: Vec<Reading> = Vec::new();
    while let Some(next) = kit.next(&seen) {
        assert!(seen.len() < 9, "{seen:?}");
        let reading = next.asked.of_part(part).unwrap();
        browser.run("window.beforeSubmit = true");
        match &reading {
            Reading::Size {
                nanometres, with, ..
            } => {
                let length = measure::Length::nanometres(*nanometres);
                let text = match with {
                    tell::Tool::Caliper { .. } => length.caliper(System::FeetInch),
                    _ => length.write(System::FeetInch, Grid::SIXTEENTH),
                };
                browser.fill(".next-reading input[name=value]", &text);
                browser.click(".next-reading button.main");
            }
            look => {
                let value = serde_json::json!(serde_json::to_string(look).unwrap());
                browser.run(&format!(
                    "[...document.querySelectorAll('.next-reading button')].find((b) => b.value === {value}).click()"
                ));
            }
        }
        seen.push(reading);
        let words = serde_json::json!(kit.answer(&seen).words);
        browser.wait(
            "the answer",
            &format!("return document.querySelector('.answer p.big')?.textContent.startsWith({words}) === true"),
        );
    }
}

/// What the command line says first is what most likely happened.
#[test]
fn the_command_line_tells_the_stories() {
    let place = Place::with_demo_job();
    let words = place.ok(&["difference", "demo.tallyard"]);
    assert!(words.starts_with("what most likely happened\n"), "{words}");
    for line in [
        "  2 X2 are short",
        "  2 R1 lie in pile C, on the pallet and were counted as S1",
    ] {
        assert!(words.lines().any(|said| said == line), "{line}\n{words}");
    }
    // Only what nothing else explains is called short.
    let said = place.json(&["difference", "demo.tallyard", "--json"]);
    let of = |mark: &str| -> Vec<i64> {
        let marks = said["marks"].as_array().unwrap();
        let found = marks.iter().find(|known| known["mark"] == mark).unwrap();
        ["short", "likely_short", "over", "likely_over"]
            .map(|field| found[field].as_i64().unwrap())
            .to_vec()
    };
    assert_eq!(of("X2"), [2, 2, 0, 0]);
    assert_eq!(of("R1"), [2, 0, 0, 0]);
    assert_eq!(of("S1"), [0, 0, 2, 0]);
    assert_eq!(of("C2"), [0, 0, 2, 2]);
}

/// Before there is an order, before anything is counted.
#[test]
fn there_is_a_word_where_there_is_nothing_to_tell() {
    let place = Place::with_demo_files();
    let yard = Running::open(PROGRAM, &place.path("bare.tallyard"));
    let phone = yard.joined("Ada");
    let says = |path: &str, words: &str| {
        let page = phone.get(path).text();
        assert!(page.contains(words), "{path} {words}\n{page}");
    };
    says("/difference", "nothing to compare yet");
    says("/points", "Nothing is open");
    says("/prices", "no marks before there is an order");
    says("/papers", "Papers need an order");
    let order = fs::read_to_string(place.path("order.toml")).unwrap();
    let id = crate::yard::id(1);
    assert_eq!(
        phone
            .post("/order", &[("id", &id), ("toml", &order)])
            .status,
        303
    );
    says("/difference", "Nothing is counted yet");
    says("/papers", "Nothing is counted yet, so nothing was received");
    assert_eq!(phone.get("/papers/carrier-claim.pdf").status, 422);
    assert_eq!(phone.get("/papers/received.xml").status, 422);
}
