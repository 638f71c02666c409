//! The straight-wall house sidewall-30: every two choices together, and whole parts lists worked by hand.

mod by_hand;
mod choices;

use std::collections::BTreeSet;
use std::sync::OnceLock;

use frame::{Family, Frame, Order, PartsList, expand};

use crate::house::order;

fn family() -> &'static Family {
    static READ: OnceLock<Family> = OnceLock::new();
    READ.get_or_init(|| Family::named("sidewall-30").unwrap_or_else(|e| panic!("{e}")))
}

fn sidewall(size: &str, tables: &str) -> Order {
    order(&format!(
        "name = \"a test house\"\nfamily = \"sidewall-30\"\n{size}\n{tables}"
    ))
}

fn raised(order: &Order) -> Frame {
    expand(order, family()).unwrap_or_else(|e| panic!("{e}"))
}

fn listed(order: &Order) -> PartsList {
    PartsList::of(&raised(order))
}

/// The largest house with every option that goes together; the bench of the issue expands it.
const LARGEST: &str = include_str!("../../benches/largest.toml");

/// 96 ft with nearly everything: sides of 6 ft, webbed trusses, five lines in light tube, braces, boards, two films.
const NEARLY_ALL: &str = r#"
[options]
side = "6 ft"
truss = "webbed trusses"
purlins = "5 lines"
purlin_tube = "lighter"
corner_braces = "four"
wind_braces = "four"
base = "board"
anchors = "at every fourth bow"
layers = "two"
shade = "30 percent"
ground_cover = "woven"
[front]
door = "double"
shutter = "one"
[back]
door = "single"
fan = "one"
[left]
roll_up = "hand crank"
wind_panels = "both ends"
screen = "one"
"#;

/// Every place says where it is, and two places of one use have different words.
#[test]
fn no_two_places_of_a_use_have_the_same_words() {
    for order in [order(LARGEST), sidewall("length = \"96 ft\"", NEARLY_ALL)] {
        for line in listed(&order).lines {
            let mut seen = BTreeSet::new();
            for place in &line.places {
                let words = (&place.role, &place.name);
                assert!(seen.insert(words), "{}: {words:?} twice", line.part.mark);
            }
        }
    }
}

/// What the program says of a place is true of it, and plain English.
#[test]
fn rules_in_words() {
    let list = listed(&order(LARGEST));
    let why = |mark: &str, role: &str| {
        let places = &list.line(mark).unwrap().places;
        places.iter().find(|p| p.role == role).unwrap().why.clone()
    };
    for (mark, role, wanted) in [
        (
            "V3",
            "king post",
            "one at each bow but the end bows, from 9 ft 4 in above the ground in the middle to the peak; V3 is made \
             to that length",
        ),
        (
            "V1",
            "outer web",
            "one on both sides at each bow but the end bows, from 4 ft from the middle and 9 ft 4 in above the \
             ground to 8 ft from the middle; V1 is made to that length",
        ),
        (
            "X5",
            "outer web on the tie",
            "wherever an outer web meets a tie: 1 of N1, 1 of N3, 1 of X5",
        ),
        (
            "E1",
            "earth anchor at a bow between",
            "on each ground post at every 4th bow between the end bows: 1 of E1, 1 of E2, 1 of N1, 1 of N3",
        ),
    ] {
        assert_eq!(&*why(mark, role), wanted);
    }
}
