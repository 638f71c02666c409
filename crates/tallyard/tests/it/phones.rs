//! Phones: handed on by a tap, shut out at the table and let in again, a new code, and how many there may be.

use crate::driver::Browser;
use crate::program::{PROGRAM, Place};
use crate::yard::{Answer, Phone, Running, id};

fn opened() -> (Place, Running) {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    (place, yard)
}

fn counts(phone: &Phone, n: u64) -> Answer {
    phone.post("/count/P1", &[("id", &id(n)), ("quantity", "1")])
}

/// The page Phones, reached by a link on another page.
fn phones_from(phone: &Phone, path: &str) -> String {
    let from = format!("{}{path}", phone.address);
    let answer = phone.send("GET", "/phones", &[("referer", &from)], Vec::new());
    answer.unwrap().text()
}

/// The id by which the page Phones asks about a phone.
fn device_of(page: &str, name: &str) -> String {
    let after = page
        .split(&format!("<strong>{name}</strong>"))
        .nth(1)
        .unwrap();
    let mark = ["shut-out?device=", "name=\"device\" value=\""];
    let at = mark
        .iter()
        .filter_map(|mark| Some(after.find(mark)? + mark.len()))
        .min();
    after[at.unwrap()..].split('"').next().unwrap().to_string()
}

#[test]
fn a_phone_is_handed_on_and_what_was_written_keeps_its_name() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    counts(&phone, 1);
    let page = phones_from(
        &phone,
        "/count/P1?done=00000000-0000-7000-8000-000000000001",
    );
    for who in ["Noor", "Ines", "Tomasz"] {
        let button = format!("<button type=\"submit\" name=\"who\" value=\"{who}\">{who}</button>");
        assert!(page.contains(&button), "{button}\n{page}");
    }
    assert!(!page.contains("value=\"Ada\""), "she holds it already");
    assert!(page.contains("name=\"back\" value=\"/count/P1\""), "{page}");
    let given = phone.post("/phones/name", &[("who", "Ines"), ("back", "/count/P1")]);
    assert_eq!(
        (given.status, given.header("location")),
        (303, Some("/count/P1"))
    );
    counts(&phone, 2);
    let log = yard.log();
    let last = &log[log.len() - 2..];
    assert_eq!([&*last[0].who, &*last[1].who], ["Ada", "Ines"]);
    assert_eq!(last[0].device, last[1].device);
    // A name that nobody had before, and now everybody can take.
    phone.post("/phones/name", &[("who", " Lena ")]);
    assert!(phone.get("/").text().contains("Phones · Lena"));
    assert!(
        yard.joined("Ben")
            .get("/phones")
            .text()
            .contains("value=\"Lena\"")
    );
    for bad in ["", "  ", "a\nb", &"x".repeat(81)] {
        let answer = phone.post("/phones/name", &[("who", bad)]);
        assert_eq!(answer.status, 422, "{bad:?}");
    }
}

#[test]
fn the_way_back_leads_nowhere_else() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    for elsewhere in [
        "https://evil.example/",
        "//evil.example",
        "/\\evil.example",
        "evil",
        "",
        "/a\r\nset-cookie: x=y",
        &format!("/{}", "x".repeat(600)),
    ] {
        let given = phone.post("/phones/name", &[("who", "Ines"), ("back", elsewhere)]);
        assert_eq!(
            (given.status, given.header("location")),
            (303, Some("/")),
            "{elsewhere:?}"
        );
    }
    for from in ["/phones", "/join?code=x", "/trust"] {
        let page = phones_from(&phone, from);
        assert!(page.contains("name=\"back\" value=\"/\""), "{from}");
    }
    let evil = [("referer", "http://evil.example/count/P1")];
    let page = phone
        .send("GET", "/phones", &evil, Vec::new())
        .unwrap()
        .text();
    assert!(page.contains("name=\"back\" value=\"/\""), "{page}");
}

#[test]
fn a_phone_is_shut_out_and_let_in_again() {
    let (_place, yard) = opened();
    let (ada, ben) = (yard.joined("Ada"), yard.joined("Ben"));
    counts(&ben, 1);
    counts(&ben, 2);
    let page = ada.get("/phones").text();
    let device = device_of(&page, "Ben");
    let row = page.split("<strong>Ben</strong>").nth(1).unwrap();
    assert!(row[..200].contains("2 entries"), "{row}");

    let asks = ada.get(&format!("/phones/shut-out?device={device}")).text();
    assert!(
        asks.contains("Shut out Ben’s phone?") && asks.contains("2 entries stay"),
        "{asks}"
    );
    assert_eq!(counts(&ben, 3).status, 303, "to be asked shuts out nobody");
    let before = yard.log();
    let out = ada.post("/phones/shut-out", &[("device", &device)]);
    assert_eq!(
        (out.status, out.header("location")),
        (303, Some("/phones#out"))
    );

    let refused = counts(&ben, 4);
    assert_eq!(refused.status, 403);
    for says in [
        "This phone was shut out at the table",
        "this was not kept",
        "let Ben’s phone in again",
    ] {
        assert!(
            refused
                .text()
                .replace('\'', "’")
                .replace("&#39;", "’")
                .contains(says),
            "{says}\n{}",
            refused.text()
        );
    }
    assert_eq!(ben.get("/count/P1").status, 303);
    assert_eq!(
        yard.log(),
        before,
        "what it wrote stays, and nothing is added"
    );
    let page = ada.get("/phones").text();
    let row = page.split("id=\"out\"").nth(1).unwrap();
    assert!(
        row.contains("shut out by Ada, ") && row.contains("3 entries"),
        "{row}"
    );

    // The same secret opens again, and the form that was refused can be sent.
    let again = ada.post("/phones/let-in", &[("device", &device)]);
    assert_eq!(again.status, 303);
    assert_eq!(counts(&ben, 4).status, 303);
    assert_eq!(yard.log().len(), before.len() + 1);
}

#[test]
fn nobody_shuts_out_the_phone_in_their_hand_or_one_that_is_none() {
    let (_place, yard) = opened();
    let (ada, ben) = (yard.joined("Ada"), yard.joined("Ben"));
    let own = device_of(&ben.get("/phones").text(), "Ada");
    let refused = ada.post("/phones/shut-out", &[("device", &own)]);
    assert_eq!(refused.status, 422);
    assert!(refused.text().contains("the phone in your hand"));
    assert_eq!(ada.get("/").status, 200);
    for path in ["/phones/shut-out", "/phones/let-in"] {
        assert_eq!(ada.post(path, &[("device", "none")]).status, 404, "{path}");
    }
    assert_eq!(ada.get("/phones/shut-out?device=none").status, 404);
    assert_eq!(ada.get("/phones/shut-out").status, 400);
    // The yard's own computer, from which these tests come, joins anew even with a cookie that was shut out.
    ben.post("/phones/shut-out", &[("device", &own)]);
    assert_eq!(ada.get("/").header("location"), Some("/join"));
    assert_eq!(ada.get("/join").status, 200);
}

#[test]
fn a_new_code_takes_the_place_of_the_old_one_and_phones_stay() {
    let (_place, yard) = opened();
    let ada = yard.joined("Ada");
    let old = yard.said("join_code");
    assert_eq!(ada.post("/phones/new-code", &[]).status, 303);
    let late = yard
        .stranger()
        .post("/join", &[("code", old), ("who", "Ben")]);
    assert_eq!(late.status, 403);
    assert!(late.text().contains("it may have been changed"));
    assert_eq!(counts(&ada, 1).status, 303);
    let page = ada.get("/phones").text();
    let shown = page
        .split("<p class=\"code\">")
        .nth(1)
        .unwrap()
        .split('<')
        .next()
        .unwrap();
    assert_ne!(shown.replace('-', ""), old);
    let join = yard
        .stranger()
        .post("/join", &[("code", shown), ("who", "Ben")]);
    assert_eq!(join.status, 303);
}

#[test]
fn wrong_codes_have_to_wait() {
    let (_place, yard) = opened();
    let joins = |code: &str| {
        yard.stranger()
            .post("/join", &[("code", code), ("who", "Mallory")])
    };
    for _ in 0..10 {
        assert_eq!(joins("2222222222").status, 403);
    }
    for code in ["2222222222", yard.said("join_code")] {
        let answer = joins(code);
        assert_eq!(
            (answer.status, answer.header("retry-after")),
            (429, Some("60"))
        );
        assert!(answer.text().contains("Wait a minute"), "{}", answer.text());
        assert_eq!(answer.header("set-cookie"), None);
    }
}

#[test]
fn more_phones_than_a_yard_takes_are_told_what_to_do() {
    let (_place, yard) = opened();
    // Forty, and eight more from the yard's own computer, from which these come.
    let phones: Vec<Phone> = (1..=48)
        .map(|n| yard.joined(&format!("Crew {n}")))
        .collect();
    let form = [("code", yard.said("join_code")), ("who", "One more")];
    let full = yard.stranger().post("/join", &form);
    assert_eq!((full.status, full.header("set-cookie")), (503, None));
    assert!(
        full.text().contains("40 phones have joined")
            && full.text().contains("Hand one of them on")
    );
    assert_eq!(counts(&phones[47], 1).status, 303);
    // One that leaves makes room, and its secret opens nothing any more.
    assert_eq!(
        phones[0].post("/leave", &[]).header("location"),
        Some("/join")
    );
    assert_eq!(counts(&phones[0], 2).status, 403);
    assert_eq!(yard.stranger().post("/join", &form).status, 303);
}

#[test]
fn a_tap_hands_on_and_leads_back() {
    let (_place, yard) = opened();
    let browser = Browser::open(390, 844);
    browser.go(yard.said("join_address"));
    browser.fill("#who", "Ada");
    browser.submit("button.main");
    browser.go(&format!("{}/count/R1", yard.said("address")));
    browser.submit("header .who");
    browser.submit("form.names button[value=Ines]");
    assert_eq!(browser.path(), "/count/R1");
    assert_eq!(browser.text("header .who"), "Phones · Ines");
    // The names are in sight at once, for a gloved thumb.
    browser.submit("header .who");
    let seen = "return [...document.querySelectorAll('form.names button')].every(b => { \
                const r = b.getBoundingClientRect(); return r.top >= 0 && r.bottom <= innerHeight && r.height >= 64; })";
    assert_eq!(browser.run(seen), true);
    browser.fill("#who", "Lena");
    browser.submit("form:has(#who) button");
    assert_eq!(browser.text("header .who"), "Phones · Lena");
    assert_eq!(browser.path(), "/count/R1");

    // Shut out at the table, asked once.
    yard.joined("Ben");
    browser.go(&format!("{}/phones", yard.said("address")));
    browser.submit(".log.phones a.button");
    assert_eq!(browser.text("h1"), "Shut out Ben’s phone?");
    browser.submit("button.main");
    assert!(
        browser
            .text(".log.phones:last-of-type")
            .contains("shut out by Lena")
    );
    assert_eq!(browser.complaints(), Vec::<String>::new());
}
