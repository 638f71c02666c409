//! At the pile: ways of counting, second looks, piles, and telling a piece by what is read of it.

use measure::{Length, Mass};
use tally::{Agreement, How, State, What};

use crate::program::{PROGRAM, Place};
use crate::yard::{Phone, Running, id, percent};

fn opened() -> (Place, Running) {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    (place, yard)
}

/// The last event, as it stands on disk.
fn last(yard: &Running) -> What {
    yard.log().pop().unwrap().what
}

fn counted(yard: &Running) -> (i64, How) {
    match last(yard) {
        What::Counted { quantity, how, .. } => (quantity, how),
        other => panic!("{other:?}"),
    }
}

fn kept(phone: &Phone, path: &str, fields: &[(&str, &str)]) {
    let answer = phone.post(path, fields);
    assert_eq!(answer.status, 303, "{}", answer.text());
}

#[test]
fn bundles_that_stay_closed_are_counted_as_their_labels_say() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    let form = [
        ("id", id(1)),
        ("by", "bundle".into()),
        ("bundles", "5".into()),
        ("of", "5".into()),
        ("rest", "1".into()),
        ("closed", "yes".into()),
    ];
    let form: Vec<(&str, &str)> = form.iter().map(|(k, v)| (*k, v.as_str())).collect();
    kept(&phone, "/count/K1", &form);
    let (quantity, how) = counted(&yard);
    assert_eq!((quantity, how.unopened()), (26, 25));
    let page = phone.get("/count/K1").text();
    assert!(page.contains("25 of them in closed bundles"), "{page}");
    assert!(page.contains("5 closed bundles of 5 and 1"), "{page}");
}

/// 26 plates of 100 g each, weighed with a sample of 10 on a scale that reads to a gram: by hand the sum.
#[test]
fn a_bag_is_counted_by_weight() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    let id = id(1);
    let form = [
        ("id", id.as_str()),
        ("by", "weight"),
        ("sample", "10"),
        ("sample_mass", "1 kg"),
        ("bag_mass", "2650 g"),
        ("tare", "50 g"),
        ("step", "1 g"),
        ("inside", "yes"),
    ];
    kept(&phone, "/count/K1", &form);
    let (quantity, how) = counted(&yard);
    assert_eq!(quantity, 26);
    let How::Weight { weighing } = &how else {
        panic!("{how:?}")
    };
    assert_eq!(weighing.bag, Mass::grams(2650));
    assert!(phone.get("/count/K1").text().contains("by weight"));
}

#[test]
fn what_a_weighing_lacks_is_said() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    let before = yard.log().len();
    for (sample, bag, says) in [
        ("1 kg", "none", "What the bag weighs was not read"),
        ("", "2 kg", "What the sample weighs was not read"),
        ("1 kg", "1 g", "bag"),
    ] {
        let answer = phone.post(
            "/count/K1",
            &[
                ("id", &id(1)),
                ("by", "weight"),
                ("sample", "10"),
                ("sample_mass", sample),
                ("bag_mass", bag),
                ("step", "1 g"),
            ],
        );
        assert_eq!(answer.status, 422);
        assert!(answer.text().contains(says), "{}", answer.text());
    }
    assert_eq!(yard.log().len(), before);
}

/// Two coils of 250 ft: 37 wires of 6 ft 8 in from each, for 37 × 80 in is 2960 of its 3000 in.
#[test]
fn a_coil_is_counted_by_length() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    let id = id(1);
    let form = [
        ("id", id.as_str()),
        ("by", "length"),
        ("coils", "2"),
        ("coil", "250 ft"),
        ("left", "0"),
    ];
    kept(&phone, "/count/W1", &form);
    let (quantity, how) = counted(&yard);
    assert_eq!(quantity, 74);
    let How::Length { coils, piece } = how else {
        panic!("{how:?}")
    };
    assert_eq!((coils.each, piece), (Length::feet(250), Length::inches(80)));
}

/// The demo's B1 lies in one pile, counted 20 and 6, one of them bent: it would stop the first day.
#[test]
fn a_second_look_does_not_show_the_first_and_a_third_settles_it() {
    let (_place, yard) = opened();
    let ada = yard.joined("Ada");
    let page = ada.get("/count/B1").text();
    assert!(page.contains("would stop the first day"), "{page}");
    let pile = "B, along the hedge";
    let blind = format!("/count/B1/again?pile={}", percent(pile));
    assert!(page.contains("/count/B1/again?pile=B%2C%20along%20the%20hedge"));
    let page = ada.get(&blind).text();
    for number in ["26", "20", "should be here"] {
        assert!(
            !text_of(&page).contains(number),
            "{number} stands on the blind page"
        );
    }
    let look = |phone: &Phone, n: u64, quantity: &str| {
        let id = id(n);
        let form = [
            ("id", id.as_str()),
            ("how", "again"),
            ("pile", pile),
            ("quantity", quantity),
        ];
        kept(phone, "/count/B1", &form);
        ada.get("/count/B1").text()
    };
    let page = look(&ada, 1, "25");
    assert!(page.contains("Counts differ") && page.contains("A third look settles it"));
    let page = look(&yard.joined("Ben"), 2, "25");
    assert!(page.contains("Two looks agree"), "{page}");
    let state = State::fold(&yard.log());
    let seen = &state.marks["B1"].piles()[0];
    assert_eq!((seen.stands, seen.agreement), (25, Agreement::Agreed));
    assert_eq!(state.on_hand("B1").counted, 25);
}

/// What a person sees of a page's main part.
fn text_of(page: &str) -> String {
    let main = page.split("<main").nth(1).unwrap();
    let mut text = String::new();
    let mut inside = false;
    for letter in main.chars() {
        match letter {
            '<' => inside = true,
            '>' => inside = false,
            letter if !inside => text.push(letter),
            _ => {}
        }
    }
    text
}

#[test]
fn nobody_looks_again_at_what_nobody_counted() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    assert_eq!(phone.get("/count/K1/again").status, 404);
    let form = [
        ("id", id(1)),
        ("how", "again".into()),
        ("quantity", "3".into()),
    ];
    let form: Vec<(&str, &str)> = form.iter().map(|(k, v)| (*k, v.as_str())).collect();
    let answer = phone.post("/count/K1", &form);
    assert_eq!(answer.status, 422);
    assert!(answer.text().contains("nobody has counted K1 there yet"));
}

#[test]
fn a_pile_says_where_it_lies_and_its_label_opens_it() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    let (pile, id) = ("D, by the shed", id(1));
    let form = [
        ("id", id.as_str()),
        ("pile", pile),
        ("place", "north <fence>"),
    ];
    kept(&phone, "/pile", &form);
    let page = phone.get("/piles").text();
    assert!(page.contains("north &lt;fence&gt;"), "{page}");
    let page = phone
        .get(&format!("/count/C1?pile={}", percent(pile)))
        .text();
    assert!(page.contains("value=\"D, by the shed\""), "{page}");
    for path in [
        "/papers/labels.pdf?stock=letter-10&of=piles&start=3&copies=1&told=0",
        "/papers/labels.pdf?stock=roll-62&of=marks&start=1&copies=1",
        "/papers/tell-apart.pdf?sheet=a4",
    ] {
        let answer = phone.get(path);
        assert_eq!(answer.status, 200, "{path}");
        assert!(answer.body.starts_with(b"%PDF-"), "{path}");
    }
    let refused = phone.get("/papers/labels.pdf?stock=letter-10&of=piles&start=99");
    assert_eq!(refused.status, 422);
    assert!(refused.text().contains("start"), "{}", refused.text());
}

/// From the first look to a mark: every question is the one that the page asks next, answered as an R1 would.
#[test]
fn a_ridge_tube_is_told_by_what_is_read_of_it() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    let mut seen: Vec<serde_json::Value> = Vec::new();
    let page = loop {
        let text = serde_json::to_string(&seen).unwrap();
        let page = phone.get(&format!("/tell?seen={}", percent(&text))).text();
        if page.contains("/measured") || seen.len() > 8 {
            break page;
        }
        seen.push(as_r1(&page));
    };
    assert!(page.contains("Count R1"), "{}", text_of(&page));
    assert!(seen.len() <= 6, "{seen:?}");
    let text = serde_json::to_string(&seen).unwrap();
    let id = id(1);
    let form = [
        ("id", id.as_str()),
        ("seen", &text),
        ("mark", "R1"),
        ("pile", "C"),
    ];
    kept(&phone, "/measured", &form);
    let What::Measured { mark, readings, .. } = last(&yard) else {
        panic!("not kept")
    };
    assert_eq!((mark.as_deref(), readings.len()), (Some("R1"), seen.len()));
}

/// What an R1 of the demo shows, for the question that stands first on the page: a straight round tube of 1.315 in,
/// 10 ft 6-1/2 in long, one end swaged, galvanized.
fn as_r1(page: &str) -> serde_json::Value {
    let main = page.split("class=\"next-reading\"").nth(1).unwrap();
    let asked = &main[..main.find("</section>").unwrap()];
    let shows = |reading: &str| {
        asked.contains(&format!("value=\"{{&quot;read&quot;:&quot;{reading}&quot;"))
    };
    let size = |of: &str| asked.contains(&format!("name=\"size\" value=\"{of}\""));
    let tape = serde_json::json!({"tool": "tape", "marks": "inch", "class": "handbook_44"});
    let caliper = serde_json::json!({"tool": "caliper", "marks": "inch"});
    let of = |size: &str, inches: f64, with: &serde_json::Value| {
        let nanometres = (inches * 25_400_000.0).round() as i64;
        serde_json::json!({"read": "size", "of": size, "nanometres": nanometres, "with": with})
    };
    match () {
        () if shows("kind") => serde_json::json!({"read": "kind", "is": "round_tube"}),
        () if shows("end")
            && asked.contains(
                "value=\"{&quot;read&quot;:&quot;end&quot;,&quot;end&quot;:&quot;one",
            ) =>
        {
            serde_json::json!({"read": "end", "end": "one", "is": "swaged"})
        }
        () if shows("end") => serde_json::json!({"read": "end", "end": "other", "is": "plain"}),
        () if shows("bend") => serde_json::json!({"read": "bend", "is": "straight"}),
        () if shows("coating") => serde_json::json!({"read": "coating", "is": "galvanized"}),
        () if shows("looks") => serde_json::json!({"read": "looks", "like": "ridge"}),
        () if size("length") => of("length", 126.5, &tape),
        () if size("across") && asked.contains("caliper") => of("across", 1.315, &caliper),
        () if size("across") => of("across", 1.3125, &tape),
        () => panic!(
            "an unforeseen question: {}",
            text_of(&format!("<main{asked}"))
        ),
    }
}

#[test]
fn broken_readings_are_refused_in_words() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    for (path, says) in [
        ("/tell?seen=%5B", "could not be read again"),
        (
            "/tell?size=length&tool=tape&value=ten",
            "The size was not read",
        ),
        ("/tell?size=holes&value=x", "whole number"),
        ("/tell?add=nonsense", "could not be read again"),
    ] {
        let answer = phone.get(path);
        assert_eq!(answer.status, 422, "{path}");
        assert!(answer.text().contains(says), "{path}: {}", answer.text());
    }
    // What a newer program wrote is carried along and weighs nothing.
    let answer = phone.get("/tell?seen=%5B%7B%22read%22%3A%22glow%22%7D%5D");
    assert_eq!(answer.status, 200);
}
