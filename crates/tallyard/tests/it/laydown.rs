//! Where everything lies: on its page, moved by hand, and on the command line.

use serde_json::{Value, json};

use crate::browser::join;
use crate::driver::Browser;
use crate::program::{PROGRAM, Place};
use crate::schema;
use crate::yard::{Running, id};

/// A garden by its lengths, as the form asks for them.
fn garden() -> Vec<(&'static str, &'static str)> {
    vec![
        ("across", "80 ft"),
        ("deep", "105"),
        ("house_left", "34 ft"),
        ("house_front", "33 ft 6 in"),
        ("house_runs", "back"),
        ("drop_left", "16 ft"),
        ("drop_front", "12 ft"),
        ("gate_left", "10 ft"),
        ("gate_wide", "12 ft"),
        ("truck_left", "8 ft"),
        ("truck_front", "0"),
        ("truck_wide", "18 ft"),
        ("truck_deep", "18 ft"),
        ("covered_left", "3 ft"),
        ("covered_front", "27 ft"),
        ("covered_wide", "17 ft"),
        ("covered_deep", "20 ft"),
        ("covered_words", "shed roof"),
    ]
}

fn with_ground() -> (Place, Running) {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    give_ground(&yard);
    (place, yard)
}

/// Gives the garden by its lengths.
pub fn give_ground(yard: &Running) {
    let form_id = id(900);
    let mut form = garden();
    form.push(("id", &form_id));
    let phone = yard.joined("Ines");
    assert_eq!(phone.post("/ground", &form).status, 303);
}

#[test]
fn a_ground_by_its_lengths_gives_every_pile_a_place() {
    let (place, yard) = with_ground();
    let page = yard.joined("Noor").get("/laydown").text();
    for words in [
        "to carry",
        "left of the front left stake",
        "shed roof: under cover",
        "from the top",
    ] {
        assert!(page.contains(words), "{words}");
    }
    assert!(!page.contains("lies nowhere"));
    let said = place.json(&["laydown", "demo.tallyard", "--svg", "plan.svg", "--json"]);
    schema::check("laydown", &said);
    let piles = said["piles"].as_array().unwrap();
    assert!(piles.len() >= 6 && piles.iter().all(|pile| pile["place"].is_object()));
    assert!(said["least_kg_m"].as_f64().unwrap() <= said["carry_kg_m"].as_f64().unwrap());
    let svg = std::fs::read_to_string(place.path("plan.svg")).unwrap();
    assert_eq!(svg.matches("data-pile=").count(), piles.len());
    let words = place.ok(&["laydown", "demo.tallyard"]);
    assert!(
        words.contains("from the top: ") && words.contains("tapes: "),
        "{words}"
    );
}

#[test]
fn what_is_wrong_with_a_ground_is_said_and_nothing_is_kept() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let phone = yard.joined("Ines");
    let before = yard.log().len();
    let with = |changes: &[(&'static str, &'static str)], n: u64| {
        let form_id = id(n);
        let mut form: Vec<(&str, &str)> = garden();
        for (name, value) in changes {
            form.retain(|(known, _)| known != name);
            form.push((name, value));
        }
        form.push(("id", &form_id));
        let answer = phone.post("/ground", &form);
        assert_eq!(answer.status, 422);
        answer.text()
    };
    assert!(with(&[("house_left", "70 ft")], 901).contains("The house does not lie on the ground"));
    assert!(with(&[("drop_left", "wide")], 902).contains("The drop from the left"));
    assert!(
        with(&[("drop_left", "40 ft"), ("drop_front", "50 ft")], 903)
            .contains("where the house will stand")
    );
    assert!(with(&[("text", "edge: 0 x 0; 5 x 0")], 904).contains("no line “house: …”"));
    assert!(with(&[("text", "edge: 0 x 0; 5, 0")], 905).contains("line 1"));
    assert_eq!(yard.log().len(), before);
}

#[test]
fn without_an_order_or_a_ground_the_pages_say_what_to_do() {
    let place = Place::with_demo_files();
    let yard = Running::open(PROGRAM, &place.path("new.tallyard"));
    let phone = yard.joined("Ines");
    for path in ["/ground", "/laydown"] {
        assert!(
            phone.get(path).text().contains("Say what was bought"),
            "{path}"
        );
    }
    let order = std::fs::read_to_string(place.path("order.toml")).unwrap();
    let form_id = id(906);
    assert_eq!(
        phone
            .post("/order", &[("id", &form_id), ("toml", &order)])
            .status,
        303
    );
    assert!(phone.get("/laydown").text().contains("Give the ground"));
    assert!(
        phone
            .get("/ground")
            .text()
            .contains("Stand before one edge")
    );
}

#[test]
fn the_command_takes_a_ground_file_and_names_what_is_wrong_with_it() {
    let place = Place::with_demo_files();
    let ground = |drop: Value| {
        let spot = |x: i64, y: i64| json!({"x": x, "y": y});
        json!({
            "outline": [spot(0, 0), spot(24_000, 0), spot(24_000, 32_000), spot(0, 32_000)],
            "house": {"front": spot(14_000, 10_000), "towards": 9_000},
            "drop": drop, "aisle": 900, "truck_bed": 1_200, "reach": 400,
        })
    };
    let right = ground(json!({"x": 5_000, "y": 4_000}));
    schema::check("ground", &right);
    place.write("ground.json", right.to_string());
    let said = place.json(&["laydown", "order.toml", "--ground", "ground.json", "--json"]);
    schema::check("laydown", &said);
    // No roof: film and hardware are said to lie in the open.
    assert!(
        said["faults"]
            .to_string()
            .contains("should lie under cover")
    );
    place.write(
        "wrong.json",
        ground(json!({"x": 5_000, "y": 40_000})).to_string(),
    );
    place.refuses(
        &["laydown", "order.toml", "--ground", "wrong.json"],
        "wrong.json: the truck's drop lies outside the ground; put it on free ground, outside the house to come",
    );
    place.refuses(
        &["laydown", "order.toml"],
        "order.toml: it says nothing of the ground; give it by --ground",
    );
}

#[test]
fn a_pile_is_moved_by_keys_its_cost_is_said_and_it_is_kept() {
    let (_place, yard) = with_ground();
    let address = yard.said("address");
    let browser = Browser::open(1280, 800);
    join(&browser, &yard, "Noor");
    browser.go(&format!("{address}/laydown"));
    // Ten steps to the right with the arrow keys, then Enter: the page says what it costs, and nothing is kept yet.
    browser.run(
        "const pile = document.querySelector('[data-pile=\"2\"]'); pile.focus(); \
         const press = key => pile.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true })); \
         for (let i = 0; i < 10; i++) press('ArrowLeft'); press('Enter');",
    );
    browser.wait(
        "the cost",
        "return document.querySelector('[role=status]') !== null",
    );
    let cost = browser.text("[role=status]");
    assert!(
        cost.contains("Place 2:") && cost.contains("to carry"),
        "{cost}"
    );
    let put = |yard: &Running| {
        yard.log()
            .iter()
            .filter(|e| format!("{:?}", e.what).starts_with("PilePut"))
            .count()
    };
    assert_eq!(put(&yard), 0);
    browser.submit("[role=status] button.main");
    assert_eq!((put(&yard), browser.path().as_str()), (1, "/laydown"));
    assert!(browser.text("main").contains("Put there by hand."));
    browser.submit("tr[data-row=\"2\"] form button");
    assert!(!browser.text("main").contains("Put there by hand."));
    // The same by words, with no script.
    let asked = yard.joined("Ines").get(
        "/laydown?pile=2&sideways=right&by_side=40+ft&lengthways=back&by_length=20+ft&lies=across",
    );
    assert!(
        asked.text().contains("where the house will stand"),
        "on the house"
    );
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn the_ground_is_changed_on_its_drawing() {
    let (_place, yard) = with_ground();
    let browser = Browser::open(390, 844);
    join(&browser, &yard, "Noor");
    browser.go(&format!("{}/ground", yard.said("address")));
    let lines = "return document.querySelector('[data-ground-text]').value";
    let before = browser.run(lines);
    assert!(
        before
            .as_str()
            .unwrap()
            .contains("covered (shed roof): 3 ft x 27 ft"),
        "{before}"
    );
    browser.run(
        "document.querySelector('[data-add]').click(); \
         const handle = document.querySelector('.ground-editor .handle:last-of-type'); \
         handle.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowUp', bubbles: true }));",
    );
    let after = browser.run(lines);
    assert!(after.as_str().unwrap().contains("obstacle: "), "{after}");
    browser.submit("form:has([data-ground-text]) button.main");
    assert_eq!(browser.path(), "/laydown");
    assert!(browser.text("svg.laydown").contains("in the way"));
    assert_eq!(browser.complaints(), Vec::<String>::new());
}
