//! Pictures from a phone: kept as they came, shown small, passed on without their place, and hostile ones refused.

use tally::{Digest, How, Shot, What};

use crate::browser::join;
use crate::driver::Browser;
use crate::program::{PROGRAM, Place};
use crate::relay::Air;
use crate::walker::Walker;
use crate::yard::{Answer, Phone, Running, id};

/// Pictures made by tests/fixtures/make.py of the crate `photo` (our own; with Pillow and piexif): one with a place in
/// its EXIF, and one that has to be turned.
const WITH_PLACE: &[u8] = include_bytes!("../../../photo/tests/fixtures/place.jpg");
const TURNED: &[u8] = include_bytes!("../../../photo/tests/fixtures/turned-6.jpg");
const FOUR_INKS: &[u8] = include_bytes!("../../../photo/tests/fixtures/four-inks.jpg");
const HEIC: &[u8] = include_bytes!("../../../photo/tests/fixtures/place.heic");

fn opened() -> (Place, Running) {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    (place, yard)
}

fn sends(phone: &Phone, n: u64, shot: &str, picture: &[u8]) -> Answer {
    phone.photograph("/photo", &[("id", &id(n)), ("shot", shot)], picture)
}

fn holds(bytes: &[u8], part: &[u8]) -> bool {
    bytes.windows(part.len()).any(|window| window == part)
}

#[test]
fn a_picture_is_kept_as_it_came_and_passed_on_without_its_place() {
    let (place, yard) = opened();
    let phone = yard.joined("Ada");
    let (first, load) = (id(1), "Load 1");
    let fields = [
        ("id", first.as_str()),
        ("shot", "side_two"),
        ("shipment", load),
    ];
    let answer = phone.photograph("/photo", &fields, WITH_PLACE);
    assert_eq!(answer.status, 303, "{}", answer.text());
    let digest = Digest::of(WITH_PLACE);
    let What::Photographed { photo, shot, .. } = yard.log().pop().unwrap().what else {
        panic!("no picture in the log")
    };
    assert_eq!((photo, shot), (digest, Shot::SideTwo));
    let job = store::Job::open(&place.path("demo.tallyard")).unwrap();
    assert_eq!(job.document(&digest).unwrap().as_deref(), Some(WITH_PLACE));

    let passed_on = phone.get(&format!("/photo/{digest}"));
    assert_eq!(passed_on.header("content-type"), Some("image/jpeg"));
    assert!(holds(WITH_PLACE, b"Exif"), "the sample tells its place");
    assert!(!photo::look(&passed_on.body).unwrap().place);
    assert!(photo::look(WITH_PLACE).unwrap().place);
    let whole = phone.get(&format!("/photo/{digest}?whole=1"));
    assert_eq!(whole.body, WITH_PLACE);
    let small = phone.get(&format!("/photo/{digest}/small"));
    assert!(photo::look(&small.body).unwrap().shown.width <= 480);
    let page = phone.get("/photos").text();
    assert!(page.contains("1 taken"), "{page}");
    assert!(page.contains(&format!("/photo/{digest}/small")));
}

/// Sent twice, as a phone does that heard no answer: one event, one document.
#[test]
fn a_picture_sent_twice_is_one() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    for _ in 0..2 {
        assert_eq!(sends(&phone, 1, "top", TURNED).status, 303);
    }
    let pictures = (yard.log().into_iter())
        .filter(|event| matches!(event.what, What::Photographed { .. }))
        .count();
    assert_eq!(pictures, 1);
}

#[test]
fn a_picture_that_cannot_be_shown_is_kept_and_says_so() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    assert_eq!(sends(&phone, 1, "labels", HEIC).status, 303);
    let digest = Digest::of(HEIC);
    let refused = phone.get(&format!("/photo/{digest}"));
    assert_eq!(refused.status, 422);
    assert!(refused.text().contains("?whole=1"), "{}", refused.text());
    assert_eq!(phone.get(&format!("/photo/{digest}?whole=1")).body, HEIC);
}

#[test]
fn hostile_pictures_are_refused_and_nothing_is_written() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    let before = yard.log().len();
    let cut = &WITH_PLACE[..WITH_PLACE.len() / 2];
    let svg = b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>";
    for (picture, says) in [
        (&b""[..], "Take a picture"),
        (&svg[..], "not kept"),
        (b"%PDF-1.7", "not kept"),
        (cut, "not kept"),
    ] {
        let answer = sends(&phone, 1, "top", picture);
        assert_eq!(answer.status, 422);
        assert!(answer.text().contains(says), "{}", answer.text());
    }
    let big = vec![0xff; 33 << 20];
    assert_eq!(sends(&phone, 1, "top", &big).status, 413);
    assert_eq!(yard.log().len(), before);
    // No other document of the job is given out as a picture.
    let list = (yard.log().into_iter()).find_map(|event| match event.what {
        What::ListAdded { digest, .. } => Some(digest),
        _ => None,
    });
    let list = list.expect("the demo has a list");
    for path in [
        format!("/photo/{list}"),
        format!("/photo/{list}/small"),
        "/photo/none".into(),
    ] {
        assert_eq!(phone.get(&path).status, 404, "{path}");
    }
}

/// Whole pictures that cannot be made small here are kept all the same: CMYK as cameras never write it, and noise whose
/// small copy is too big to be kept beside it.
#[test]
fn a_picture_that_is_not_shown_small_is_kept() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    assert_eq!(sends(&phone, 1, "top", FOUR_INKS).status, 303);
    let digest = Digest::of(FOUR_INKS);
    let small = phone.get(&format!("/photo/{digest}/small"));
    assert_eq!(small.header("content-type"), Some("image/svg+xml"));
    let whole = phone.get(&format!("/photo/{digest}?whole=1"));
    assert_eq!(whole.body, FOUR_INKS);
}

/// What is photographed must be a mark of the order, and a count from a photo needs one that stands in the log.
#[test]
fn what_is_not_there_is_not_photographed() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    let before = yard.log().len();
    let answer = phone.photograph("/count/NOSUCH/photo", &[("id", &id(1))], TURNED);
    assert_eq!(answer.status, 404);
    let (id, photo) = (id(2), Digest::of(b"nobody took it").to_string());
    let form = [
        ("id", id.as_str()),
        ("by", "photo"),
        ("photo", &photo),
        ("rings", "1,2,3"),
    ];
    assert_eq!(phone.post("/count/P1", &form).status, 422);
    assert_eq!(yard.log().len(), before);
}

/// Each load of the demo is photographed as it came.
#[test]
fn each_shipment_has_its_own_pictures() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    let page = phone.get("/photos").text();
    assert!(page.contains("Load 1 as it came: 8 to take"), "{page}");
    let id = id(1);
    let fields = [("id", id.as_str()), ("shot", "top"), ("shipment", "Load 1")];
    assert_eq!(phone.photograph("/photo", &fields, TURNED).status, 303);
    let page = phone.get("/photos").text();
    assert!(page.contains("Load 1 as it came: 7 to take"), "{page}");
    assert!(page.contains("Load 2 as it came: 8 to take"), "{page}");
}

/// A picture of what is wrong, asked for once the condition was said.
#[test]
fn what_is_wrong_asks_for_its_pictures() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    let page = phone.get("/photos").text();
    let of = page
        .split("name=\"of\" value=\"")
        .nth(1)
        .and_then(|rest| rest.split('"').next())
        .expect("the demo has a bent bow");
    let fields = [
        ("id", id(1)),
        ("shot", "near".into()),
        ("mark", "B1".into()),
        ("of", of.to_owned()),
    ];
    let fields: Vec<(&str, &str)> = fields.iter().map(|(k, v)| (*k, v.as_str())).collect();
    assert_eq!(phone.photograph("/photo", &fields, TURNED).status, 303);
    let state = tally::State::fold(&yard.log());
    assert_eq!(state.proofs_missing(), 1, "far is still to be taken");
}

/// From a picture of tube ends to a count: the proposal stands on the page, the rings that come back are the count.
#[test]
fn rings_are_a_proposal_and_the_count_keeps_them() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    let answer = phone.photograph("/count/P1/photo", &[("id", &id(1))], TURNED);
    assert_eq!(answer.status, 303, "{}", answer.text());
    let rings = answer.header("location").unwrap().to_owned();
    let page = phone.get(&rings).text();
    assert!(page.contains("data-rings="), "{page}");
    assert!(page.contains("These rings are a proposal"));
    let photo = Digest::of(TURNED).to_string();
    let id = id(2);
    let form = [
        ("id", id.as_str()),
        ("by", "photo"),
        ("photo", &photo),
        ("rings", "100,200,50 300,200,50"),
    ];
    assert_eq!(phone.post("/count/P1", &form).status, 303);
    let What::Counted { quantity, how, .. } = yard.log().pop().unwrap().what else {
        panic!("not counted")
    };
    let How::Photo { rings, .. } = how else {
        panic!("not from a photo")
    };
    assert_eq!((quantity, rings.len()), (2, 2));
    for rings in ["1,2", "a,b,c", "1,2,3,4"] {
        let id = crate::yard::id(3);
        let form = [
            ("id", id.as_str()),
            ("by", "photo"),
            ("photo", &photo),
            ("rings", rings),
        ];
        let answer = phone.post("/count/P1", &form);
        assert_eq!(answer.status, 422);
        assert!(answer.text().contains("The rings were not read"));
    }
}

/// A finger adds a ring and takes one away, the keyboard does the same, and what is left is the count.
#[test]
fn a_finger_mends_the_rings() {
    let (_place, yard) = opened();
    let answer = (yard.joined("Ben")).photograph("/count/P1/photo", &[("id", &id(1))], TURNED);
    let rings = answer.header("location").unwrap().to_owned();
    let browser = Browser::open(390, 844);
    join(&browser, &yard, "Ada");
    browser.go(&format!("{}{rings}", yard.said("address")));
    let drawn = "return document.querySelectorAll('[data-rings] circle').length";
    browser.wait(
        "the rings",
        "return document.querySelector('[data-rings] svg')?.hasAttribute('viewBox') === true",
    );
    browser.run("document.querySelectorAll('[data-rings] circle').forEach(() => document.querySelector('[data-rings] circle').dispatchEvent(new KeyboardEvent('keydown', {key: 'Enter', bubbles: true})))");
    assert_eq!(browser.run(drawn), 0);
    let keep = "return document.querySelector('form.from-photo button.main').disabled";
    assert_eq!(browser.run(keep), true, "no rings are no count");
    let touch = |x: f64, y: f64| {
        browser.run(&format!(
            "const s = document.querySelector('[data-rings] svg'); const b = s.getBoundingClientRect(); \
             s.dispatchEvent(new MouseEvent('click', {{clientX: b.left + {x} * b.width, clientY: b.top + {y} * b.width, bubbles: true}}))"
        ));
    };
    touch(0.2, 0.2);
    touch(0.6, 0.2);
    assert_eq!(browser.run(drawn), 2);
    touch(0.61, 0.21);
    assert_eq!(browser.run(drawn), 1);
    browser.click("[data-back]");
    assert_eq!(browser.run(drawn), 2);
    browser.click("[data-more]");
    browser.run("document.activeElement.dispatchEvent(new KeyboardEvent('keydown', {key: 'ArrowLeft', bubbles: true}))");
    assert_eq!(
        browser.run("return document.querySelector('[data-number]').textContent"),
        "3"
    );
    browser.click("form.from-photo button.main");
    browser.wait(
        "the count",
        "return location.pathname === '/count/P1' && location.search.startsWith('?done=')",
    );
    let What::Counted { quantity, how, .. } = yard.log().pop().unwrap().what else {
        panic!("not counted")
    };
    let How::Photo { rings, .. } = how else {
        panic!("not from a photo")
    };
    let at: Vec<(i32, i32)> = rings.iter().map(|ring| (ring.x, ring.y)).collect();
    assert_eq!(quantity, 3);
    // A browser rounds a touch to whole pixels: some 30 ten-thousandths of the picture's width.
    let near = |(x, y): (i32, i32), to: (i32, i32)| (x - to.0).abs() < 60 && (y - to.1).abs() < 60;
    assert!(
        near(at[0], (2000, 2000)) && near(at[1], (6000, 2000)),
        "{at:?}"
    );
    assert_eq!(at[2].0, 4950, "moved by one step to the left");
}

/// A picture is taken where nothing can be reached, on a page that was taken along, and comes in whole.
#[test]
fn a_photo_waits_as_well() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let ada = Walker::joins(&yard, "Ada");
    ada.takes_along();
    ada.air.set(Air::Gone);
    ada.go("/photos");
    let banner = ada.browser.text("[data-as-it-was]");
    assert!(banner.starts_with("Out of reach"), "{banner}");
    let file = place.path("seen.jpg");
    std::fs::write(&file, TURNED).unwrap();
    // Sent as soon as it is taken: there is no second button to find with gloves on.
    ada.browser.fill("[id^=top-]", file.to_str().unwrap());
    ada.waits(1);
    std::fs::remove_file(&file).unwrap();
    ada.go("/count");
    ada.air.set(Air::Clear);
    ada.waits(0);
    let job = store::Job::open(&place.path("demo.tallyard")).unwrap();
    let taken = yard.log().into_iter().find_map(|event| match event.what {
        What::Photographed {
            photo, shipment, ..
        } => Some((photo, shipment)),
        _ => None,
    });
    let (photo, shipment) = taken.unwrap();
    assert_eq!(job.document(&photo).unwrap().unwrap(), TURNED);
    assert_eq!(shipment.as_deref(), Some("Load 1"));
}
