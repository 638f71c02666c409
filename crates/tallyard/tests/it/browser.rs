//! The whole job in a real browser on a phone-sized page, and what every page owes to whoever uses it.

use std::fs;

use serde_json::{Value, json};

use crate::cli::text_of;
use crate::driver::Browser;
use crate::laydown::give_ground;
use crate::program::{PROGRAM, Place, demo_file};
use crate::tailgate::hand_over;
use crate::yard::Running;

const PHONE: (u32, u32) = (390, 844);
/// The Tab key (WebDriver, 17.4.2).
const TAB: char = '\u{e004}';
const ENTER: char = '\u{e007}';

/// Joins under a name, as whoever scans the QR code does.
pub fn join(browser: &Browser, yard: &Running, who: &str) {
    browser.go(yard.said("join_address"));
    assert_eq!(
        browser.run("return document.querySelector('#code').value"),
        yard.said("join_code")
    );
    browser.fill("#who", who);
    browser.submit("button.main");
    assert_eq!(browser.path(), "/");
}

/// Counts on a mark's page by touching keys, named by their labels or digits, and keeps the count.
fn count(browser: &Browser, address: &str, mark: &str, keys: &[&str]) {
    browser.go(&format!("{address}/count/{mark}"));
    for key in keys {
        let css = match *key {
            "+" => "button[aria-label='One more']".to_string(),
            "−" => "button[aria-label='One fewer']".to_string(),
            "+5" => "button[data-step='5']".to_string(),
            "⌫" => "button[aria-label='Take the last digit off']".to_string(),
            digit => format!("button[data-digit='{digit}']"),
        };
        browser.click(&css);
    }
    browser.submit("form.adding button.main");
    assert!(browser.path().starts_with(&format!("/count/{mark}?done=")));
    assert!(browser.text("[role=status]").contains("Kept."));
}

fn quiet(browser: &Browser) {
    assert_eq!(
        browser.complaints(),
        Vec::<String>::new(),
        "at {}",
        browser.path()
    );
}

#[test]
fn the_whole_job() {
    let place = Place::new();
    let yard = Running::open(PROGRAM, &place.path("garden.tallyard"));
    let address = yard.said("address");
    let browser = Browser::open(PHONE.0, PHONE.1);
    join(&browser, &yard, "Ada Quill");

    // The order.
    browser.go(&format!("{address}/order"));
    let order = fs::read_to_string(demo_file("order.toml")).unwrap();
    browser.run(&format!(
        "document.querySelector('#toml').value = {}",
        json!(order)
    ));
    browser.submit("form:has(#toml) button[type=submit]");
    assert_eq!(browser.text("h1"), "Gothic house, 24 ft wide");
    quiet(&browser);

    // A mark lit in the drawing: its pieces and no others.
    browser.click("button.light[data-mark=R1]");
    browser.wait(
        "the light",
        "return document.querySelector('svg.frame .lit')?.dataset.mark === 'R1'",
    );
    let lit = browser
        .run("return [...document.querySelectorAll('svg.frame .lit')].map(s => s.dataset.mark)");
    assert!(
        lit.as_array().unwrap().iter().all(|mark| mark == "R1")
            && !lit.as_array().unwrap().is_empty()
    );
    let drawn = browser.run("return document.querySelectorAll('svg.frame [data-mark=R1]').length");
    assert_eq!(json!(lit.as_array().unwrap().len()), drawn);
    assert!(browser.text("[data-lit-says]").starts_with("R1 is lit"));
    // Seen from the next corner it is still lit.
    browser.click("[data-turn='1']");
    browser.wait(
        "the next corner",
        "return document.querySelector('[data-from]').textContent === 'From the front left corner' && \
         document.querySelectorAll('svg.frame .lit[data-mark=R1]').length > 0",
    );
    browser.click("button.light[data-mark=R1]");
    browser.wait(
        "the dark",
        "return !document.querySelector('svg.frame .lit')",
    );
    // A step of the build, and one piece by the address that the table of places has.
    let lit_marks = "return [...new Set([...document.querySelectorAll('svg.frame .lit')].map(s => s.dataset.mark))]";
    browser.run(
        "const steps = document.querySelector('[data-light-stage]'); steps.value = 'posts'; \
         steps.dispatchEvent(new Event('change'))",
    );
    assert_eq!(browser.run(lit_marks), json!(["P1"]));
    browser.go(&format!("{address}/order/R1"));
    browser.click("a.show");
    browser.wait(
        "the piece",
        "return document.querySelector('svg.frame .lit') !== null",
    );
    assert_eq!(browser.run(lit_marks), json!(["R1"]));
    assert!(browser.text("[data-lit-says]").starts_with("R1 · ridge"));

    // The list, and one match put right: the peak plates are said to be stud clamps.
    browser.go(&format!("{address}/list"));
    browser.fill(
        "#file",
        demo_file("packing-list.xlsx")
            .canonicalize()
            .unwrap()
            .to_str()
            .unwrap(),
    );
    browser.submit("form[action='/list'] button.main");
    assert_eq!(
        browser.run("return document.querySelectorAll('form[action=\"/list/row\"]').length"),
        29
    );
    let row = "tr[id$='row-2013']";
    assert!(
        browser.text(row).contains("Peak plate"),
        "{}",
        browser.text(row)
    );
    browser.run("document.querySelectorAll('tr details').forEach(d => d.open = true)");
    let field = format!("{row} input[name=mark]");
    browser.clear(&field);
    browser.fill(&field, "X3");
    browser.submit(&format!("{row} button"));
    assert!(
        browser.text(row).contains("said by a person") && browser.text(row).contains("X3"),
        "{}",
        browser.text(row)
    );
    quiet(&browser);

    // The first ferry is here.
    browser.go(address);
    browser.submit("form[action='/shipment']:has([value='Load 1']) button");
    assert!(browser.text("main").contains("Load 1 has arrived"));

    // Three marks counted by touch, one of them in two goes, and one count taken back.
    count(&browser, address, "P1", &["2", "6"]);
    count(&browser, address, "B1", &["2", "5", "+", "+", "−"]);
    count(&browser, address, "R1", &["1", "5", "⌫", "2"]);
    count(&browser, address, "R1", &["+5", "−", "−"]);
    assert_eq!(browser.text(".sofar .n"), "15");
    browser.submit(".note.good form[action='/undo'] button");
    assert_eq!(browser.text(".sofar .n"), "12");

    // One bent bow.
    browser.go(&format!("{address}/count/B1"));
    browser.click("details:has(form[action='/condition/B1']) summary");
    browser.click("label:has(input[value=bent])");
    browser.fill("#seen", "kinked at the swaged end");
    browser.submit("form[action='/condition/B1'] button");
    assert!(browser.text("ul.log").contains("kinked at the swaged end"));
    quiet(&browser);

    // The paper, fetched with the browser's cookie, says what was counted and what is wrong.
    browser.go(&format!("{address}/papers"));
    let link = browser
        .run("return document.querySelector('a[href^=\"/papers/osd.pdf\"]').getAttribute('href')");
    let pdf = fetched(&browser, link.as_str().unwrap());
    fs::write(place.path("osd.pdf"), pdf).unwrap();
    let paper = text_of(&place.path("osd.pdf"));
    // Needed, listed, counted, good, and how many are short or damaged. R1 was counted 12, then 3 that were taken back.
    assert_eq!(figures(&paper, "R1"), [15, 15, 12, 12, 3]);
    assert_eq!(figures(&paper, "B1"), [26, 26, 26, 25, 1]);
    for text in [
        "Osprey Island school garden house",
        "Ada Quill",
        "1 bent: “kinked at the swaged end” — Ada Quill",
    ] {
        assert!(paper.contains(text), "{text}\n{paper}");
    }
    quiet(&browser);
}

/// The five numbers at the end of a mark's first line in the tables of the paper.
fn figures(paper: &str, mark: &str) -> Vec<i64> {
    let starts = |line: &&str| line.split_whitespace().next() == Some(mark);
    let line = paper
        .lines()
        .find(starts)
        .unwrap_or_else(|| panic!("no {mark}\n{paper}"));
    let mut last: Vec<i64> = line
        .split_whitespace()
        .rev()
        .map_while(|word| word.parse().ok())
        .take(5)
        .collect();
    last.reverse();
    last
}

/// What a path of the yard holds, as this browser may read it.
pub fn fetched(browser: &Browser, path: &str) -> Vec<u8> {
    let script = format!(
        "const done = arguments[0]; \
         fetch({}).then(r => r.arrayBuffer()).then(b => done([...new Uint8Array(b)]), e => done(String(e)))",
        json!(path)
    );
    let bytes = browser.run_until_called(&script);
    bytes
        .as_array()
        .unwrap_or_else(|| panic!("{bytes}"))
        .iter()
        .map(|b| b.as_u64().unwrap() as u8)
        .collect()
}

pub const PAGES: [&str; 43] = [
    "/join?code=x",
    "/trust",
    "/",
    "/order",
    "/order?lit=R1",
    "/order/R1",
    "/list",
    "/list?rows=look",
    "/list?rows=all",
    "/count",
    "/count/P1",
    "/count/B1",
    "/count/N1",
    "/count/B1/again?pile=B%2C%20along%20the%20hedge",
    "/tell",
    "/tell?seen=%5B%7B%22read%22%3A%22kind%22%2C%22is%22%3A%22round_tube%22%7D%5D",
    "/look-alikes",
    "/piles",
    "/piles/labels",
    "/photos",
    "/tailgate",
    "/tailgate?shipment=Load%201",
    "/tailgate?make=1&note=subject+to+count&r1-unit=crate&r1-harm=wet",
    "/dates",
    "/ready",
    "/ready?shows=cannot",
    "/ways",
    "/stages",
    "/tools",
    "/difference",
    "/points",
    "/point?about=short&of=R1",
    "/prices",
    "/letters",
    "/stakes",
    "/stakes?tape=50+ft&along=2+ft&across=-6+in&tops=level",
    "/lifting",
    "/unloading",
    "/papers",
    "/phones",
    "/ground",
    "/laydown",
    "/laydown?pile=2&by_side=10",
];

/// What a script finds wrong, at each page and with everything on it unfolded.
fn on_every_page(width: u32, height: u32, finds: &str) -> Vec<String> {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let browser = Browser::open(width, height);
    join(&browser, &yard, "Ada");
    give_ground(&yard);
    hand_over(&yard, "Load 1", "2026-11-25", "1 carton short");
    let mut found = Vec::new();
    for path in PAGES {
        browser.go(&format!("{}{path}", yard.said("address")));
        browser.run("document.querySelectorAll('details').forEach(d => d.open = true)");
        let wrong = browser.run(&format!("return (() => {{ {finds} }})()"));
        let Value::Array(wrong) = wrong else {
            panic!("{path}: {wrong}")
        };
        found.extend(
            wrong
                .iter()
                .map(|what| format!("{path} at {width}: {what}")),
        );
        quiet(&browser);
    }
    found
}

#[test]
fn no_page_is_wider_than_the_window() {
    let wide = "const most = innerWidth; \
                if (document.documentElement.scrollWidth <= most) return []; \
                return [...document.querySelectorAll('body *')] \
                  .filter(e => e.getBoundingClientRect().right > most + 1) \
                  .map(e => e.outerHTML.slice(0, 120)).concat(['page ' + document.documentElement.scrollWidth])";
    for (width, height) in [PHONE, (360, 640), (1280, 800)] {
        assert_eq!(on_every_page(width, height, wide), Vec::<String>::new());
    }
}

/// A gloved finger needs 48 px; a link inside a sentence is exempt, as in WCAG 2.2, 2.5.8 (M).
#[test]
fn what_is_touched_is_high_enough() {
    let low = "const inText = e => e.tagName === 'A' && e.closest('p, li, td') \
                 && e.closest('p, li, td').textContent.trim() !== e.textContent.trim(); \
               return [...document.querySelectorAll('main :is(button, a, summary, select, input, textarea)')] \
                 .filter(e => !['hidden', 'radio', 'checkbox'].includes(e.type) && e.checkVisibility() && !inText(e)) \
                 .filter(e => !(e.type === 'file' && e.labels[0]?.getBoundingClientRect().height >= 48)) \
                 .filter(e => e.getBoundingClientRect().height < 48) \
                 .map(e => e.getBoundingClientRect().height + ' ' + e.outerHTML.slice(0, 120))";
    assert_eq!(on_every_page(PHONE.0, PHONE.1, low), Vec::<String>::new());
}

#[test]
fn pages_can_be_used_without_seeing_them() {
    let unnamed = "const wrong = []; \
        if (document.documentElement.lang !== 'en') wrong.push('no language'); \
        if (!document.title) wrong.push('no title'); \
        if (document.querySelectorAll('h1').length !== 1) wrong.push(document.querySelectorAll('h1').length + ' h1'); \
        if (document.querySelectorAll('main').length !== 1) wrong.push('not one main'); \
        const name = e => (e.labels?.[0]?.textContent ?? '').trim() || e.ariaLabel || e.title || ''; \
        for (const e of document.querySelectorAll('input, select, textarea')) \
          if (e.type !== 'hidden' && !name(e)) wrong.push('no label: ' + e.outerHTML.slice(0, 120)); \
        for (const e of document.querySelectorAll('button, a, summary')) \
          if (!(e.ariaLabel || e.textContent.trim())) wrong.push('no name: ' + e.outerHTML.slice(0, 120)); \
        for (const e of document.querySelectorAll('svg')) { \
          const held = e.closest('[role=img], [role=group]'); \
          if (!e.closest('[aria-hidden=true]') && !(held && (held.ariaLabel || held.querySelector('title')))) \
            wrong.push('no role: ' + e.outerHTML.slice(0, 120)); } \
        for (const e of document.querySelectorAll('img')) if (!e.hasAttribute('alt')) wrong.push('no alt'); \
        const ids = [...document.querySelectorAll('[id]')].map(e => e.id); \
        for (const id of ids) if (ids.indexOf(id) !== ids.lastIndexOf(id)) wrong.push('two of id ' + id); \
        for (const e of document.querySelectorAll('label[for]')) \
          if (!document.getElementById(e.htmlFor)) wrong.push('label for nothing: ' + e.htmlFor); \
        let level = 1; \
        for (const e of document.querySelectorAll('main :is(h1,h2,h3,h4)')) { \
          const now = Number(e.tagName[1]); if (now > level + 1) wrong.push('skips to ' + e.tagName); level = now; } \
        return wrong";
    assert_eq!(
        on_every_page(PHONE.0, PHONE.1, unnamed),
        Vec::<String>::new()
    );
}

#[test]
fn the_keyboard_can_skip_to_the_content() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let browser = Browser::open(PHONE.0, PHONE.1);
    join(&browser, &yard, "Ada");
    browser.press(TAB);
    assert_eq!(
        browser.run("return document.activeElement.className"),
        "skip"
    );
    let seen = browser.run("const r = document.activeElement.getBoundingClientRect(); return r.left >= 0 && r.top >= 0");
    assert_eq!(seen, true, "the link shows while it has the focus");
    browser.press(ENTER);
    browser.wait("the jump", "return location.hash === '#content'");
    browser.press(TAB);
    let inside = "return document.activeElement.closest('main') !== null";
    assert_eq!(browser.run(inside), true, "the next stop is in the content");
}

/// Without script the pages still do the job: the number is typed, and the form is the form.
#[test]
fn the_keypad_is_only_help() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let page = yard.joined("Ada").get("/count/P1").text();
    for part in [
        "data-step=\"-1\" aria-label=\"One fewer\" hidden",
        "<div class=\"keypad\" hidden>",
    ] {
        assert!(page.contains(part), "{part}\n{page}");
    }
    assert!(page.contains("type=\"number\" id=\"quantity\" name=\"quantity\""));
}
