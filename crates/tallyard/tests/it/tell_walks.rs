//! A phone out of reach that tells a part and keeps what was read of it.

use std::time::Instant;

use measure::{Grid, Length, System};
use serde_json::{Value, json};
use tally::{Ordered, What};
use tell::Reading;

use crate::program::{PROGRAM, Place};
use crate::relay::Air;
use crate::tell_afar::DEMO;
use crate::walker::Walker;
use crate::yard::{PATIENCE, Running};

/// All that stands on the page, part by part: names, classes, texts and what the forms hold, but for what each page has
/// of its own: fresh ids, the tables, and which machine says that it reckoned.
const STANDS: &str = "const page = document.querySelector('[data-tell]').cloneNode(true);
    page.querySelectorAll('template, script, [data-kept], [data-why], input[name=id], details > p.soft').forEach((part) => part.remove());
    const query = (a) => a.href ? a.pathname + JSON.stringify([...new URL(a.href).searchParams].filter(([, value]) => value).sort()) : '';
    return [...page.querySelectorAll('*')].map((part) => [part.localName, part.className,
      ...['name', 'value', 'placeholder'].map((of) => part.getAttribute(of) ?? ''),
      part.getAttribute('data-keep') ?? '', query(part), part.children.length ? '' : part.textContent.trim()]);";

fn click(walker: &Walker, what: &str, script: &str) {
    let clicked = walker.browser.run(&format!(
        "const found = {script}; found?.click(); return Boolean(found)"
    ));
    assert_eq!(clicked, true, "{what}");
}

/// As the page ends it.
fn sentence(words: &str) -> String {
    match words.ends_with(['.', '?', '!']) {
        true => words.into(),
        false => format!("{words}."),
    }
}

/// Ada tells a ridge tube from first look to decision where nothing can be reached, and keeps what she read.
#[test]
fn a_phone_out_of_reach_tells_a_part_and_keeps_what_was_read() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let ada = Walker::joins(&yard, "Ada");
    ada.takes_along();
    ada.browser.complaints();
    ada.air.set(Air::Gone);
    ada.go("/tell?pile=by+the+gate");
    assert!(
        ada.browser
            .text("[data-as-it-was]")
            .starts_with("Out of reach")
    );
    let ordered = Ordered::read(DEMO).unwrap();
    let kit = ordered.kit();
    let line = ordered
        .parts
        .lines
        .iter()
        .find(|line| line.part.mark.0 == "R1")
        .unwrap();
    // What cannot be read leaves the page as it is.
    ada.browser
        .click("[data-tell] > details:last-of-type > summary");
    ada.browser.fill("#any-value", "ten feet");
    ada.browser.click("form:has(#any-value) button");
    ada.browser.wait("the word", "return document.querySelector('[data-why]')?.textContent.includes('10 ft 6 1/2 in') === true");
    let mut seen: Vec<Reading> = Vec::new();
    let here = "return location.pathname + location.search";
    let mut halfway = (Value::Null, Value::Null);
    let begun = Instant::now();
    while let Some(next) = kit.next(&seen) {
        assert!(begun.elapsed() < PATIENCE && seen.len() < 9, "{seen:?}");
        let words = json!(sentence(&next.words));
        ada.browser.wait(
            &next.words,
            &format!("return document.querySelector('h2#next')?.textContent === {words}"),
        );
        let reading = next.asked.of_part(&line.part).unwrap();
        match &reading {
            Reading::Size {
                nanometres, with, ..
            } => {
                let length = Length::nanometres(*nanometres);
                let text = match with {
                    tell::Tool::Caliper { .. } => length.caliper(System::FeetInch),
                    _ => length.write(System::FeetInch, Grid::SIXTEENTH),
                };
                ada.browser.fill(".next-reading input[name=value]", &text);
                ada.browser.click(".next-reading button.main");
            }
            look => {
                let value = json!(serde_json::to_string(look).unwrap());
                click(
                    &ada,
                    "the answer",
                    &format!(
                        "[...document.querySelectorAll('.next-reading button')].find((b) => b.value === {value})"
                    ),
                );
            }
        }
        seen.push(reading);
        let words = json!(sentence(&kit.answer(&seen).words));
        ada.browser.wait(
            "the answer",
            &format!("return document.querySelector('.answer p.big')?.textContent === {words}"),
        );
        if seen.len() == 2 {
            halfway = (ada.browser.run(here), ada.browser.run(STANDS));
        }
    }
    let decided_at = ada.browser.run(here);
    let answer = kit.answer(&seen);
    assert_eq!(answer.mark(), Some(&line.part.mark), "{}", answer.words);
    assert_eq!(
        ada.browser
            .run("return document.querySelectorAll('ul.log li').length"),
        seen.len()
    );
    let decided_afar = ada.browser.run(STANDS);
    // A reading taken out and back again; then the page loaded anew, which goes by its address.
    click(
        &ada,
        "take out",
        "[...document.querySelectorAll('ul.log a')].at(-1)",
    );
    ada.browser.wait(
        "one less",
        &format!(
            "return document.querySelectorAll('[data-tell] ul.log li').length === {}",
            seen.len() - 1
        ),
    );
    ada.browser.run("history.back()");
    let decided = "return document.querySelector('form[action=\"/measured\"]') !== null";
    ada.browser.wait("the answer again", decided);
    ada.browser.run("location.reload()");
    ada.browser.wait("the page anew", "return document.readyState === 'complete' && document.querySelector('form[action=\"/measured\"]') !== null");
    println!(
        "told by {} readings: {}",
        seen.len(),
        ada.browser.text(".answer")
    );
    ada.browser.click("form[action='/measured'] button");
    let waits = |n: usize| {
        format!("return document.querySelector('[data-waiting]').dataset.waiting === '{n}'")
    };
    ada.browser.wait("it waits", &waits(1));
    let kept = "return document.querySelector('[data-kept]')?.textContent.startsWith('Kept in this phone') === true";
    ada.browser.wait("the word", kept);
    // What was decided leads to its count page, which was taken along too.
    let before = yard.log().len();
    ada.browser.click(".row a.button.main");
    ada.browser.wait("the count page", "return location.pathname === '/count/R1' && document.querySelector('form.adding') !== null");
    assert_eq!(ada.browser.path(), "/count/R1?pile=by%20the%20gate");
    ada.air.set(Air::Clear);
    ada.browser.wait("it went", &waits(0));
    let log = yard.log();
    assert_eq!(log.len(), before + 1);
    match &log.last().unwrap().what {
        What::Measured {
            mark,
            pile,
            readings,
        } => {
            assert_eq!(
                (mark.as_deref(), pile.as_deref()),
                (Some("R1"), Some("by the gate"))
            );
            assert_eq!(readings, &seen);
        }
        other => panic!("{other:?}"),
    }
    // In reach again the yard computer answers, with the same page; those after the first carry no tables.
    for (address, afar) in [(halfway.0, halfway.1), (decided_at, decided_afar)] {
        ada.go(address.as_str().unwrap());
        ada.browser.wait(
            "in reach",
            "return document.querySelector('[data-as-it-was]').hidden",
        );
        let here = ada.browser.run(STANDS);
        let (here, afar) = (here.as_array().unwrap(), afar.as_array().unwrap());
        for (here, afar) in here.iter().zip(afar) {
            assert_eq!(here, afar);
        }
        assert_eq!(here.len(), afar.len());
    }
    ada.go("/tell");
    ada.browser.wait(
        "in reach",
        "return document.querySelector('[data-as-it-was]').hidden",
    );
    ada.browser.submit(".next-reading button");
    assert_eq!(
        ada.browser
            .run("return document.querySelector('#tell-tables') === null"),
        true
    );
    let policy = |line: &String| line.contains("Content Security Policy");
    let complaints = ada.browser.complaints();
    assert!(!complaints.iter().any(policy), "{complaints:?}");
}
