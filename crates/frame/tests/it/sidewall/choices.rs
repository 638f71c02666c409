//! Every choice of sidewall-30 with every other: it is built, or refused for a reason and with a nearest order.

use std::collections::BTreeSet;

use frame::{ExpandError, Frame, Order, expand};

use super::{LARGEST, family, listed, sidewall};
use crate::house::order;

/// One choice of the order: its table (none for the spacing), its key, and what is chosen.
#[derive(Clone, Copy, PartialEq)]
struct Pick<'a> {
    table: &'a str,
    key: &'a str,
    choice: &'a str,
}

/// Every choice of the house, of either end, of either side.
fn picks() -> Vec<Pick<'static>> {
    let mut picks: Vec<Pick> = ["4 ft", "5 ft", "6 ft"]
        .map(|choice| Pick {
            table: "",
            key: "bow_spacing",
            choice,
        })
        .into();
    for option in family().choices() {
        for table in option.tables() {
            picks.extend(option.choices.iter().map(|choice| Pick {
                table,
                key: &option.key,
                choice,
            }));
        }
    }
    picks
}

fn pick(order: &mut Order, pick: Pick) {
    let table = match pick.table {
        "" => {
            order.bow_spacing = Some(pick.choice.into());
            return;
        }
        "options" => &mut order.options,
        "front" => &mut order.front,
        "back" => &mut order.back,
        "left" => &mut order.left,
        _ => &mut order.right,
    };
    table.insert(pick.key.into(), pick.choice.into());
}

/// What does not go together, said once more and apart from the file.
fn goes_together(order: &Order) -> bool {
    let house = |key: &str| order.options.get(key).map(String::as_str);
    let spacing = order.bow_spacing.as_deref().unwrap_or("4 ft");
    let one_line = house("purlins").is_none_or(|lines| lines == "1 line");
    let loose_truss = house("truss").is_none_or(|truss| truss == "ties on every second bow");
    let lighter = house("purlin_tube") == Some("lighter");
    let two = house("layers") == Some("two");
    let shade = house("shade").is_some_and(|shade| shade != "none");
    let house_alone = !(spacing == "6 ft" && (loose_truss || lighter))
        && !(one_line && (spacing != "4 ft" || lighter || shade))
        && !(two && house("end_hold") == Some("snap clamps"));
    let ends = [&order.front, &order.back].iter().all(|end| {
        let has = |key: &str| end.get(key).is_some_and(|choice| choice != "none");
        let open = end.get("wall").is_some_and(|wall| wall == "open");
        let double = end.get("door").is_some_and(|door| door == "double");
        !(open && (two || has("door") || has("fan") || has("shutter")))
            && !(has("fan") && (has("shutter") || double))
    });
    let sides = [&order.left, &order.right].iter().all(|side| {
        let has = |key: &str| side.get(key).is_some_and(|choice| choice != "none");
        has("roll_up") || !(has("wind_panels") || has("screen"))
    });
    house_alone && ends && sides
}

/// Pieces have a length, what is cut comes out of as few whole ones as can be, and nothing is joined twice.
fn sound(frame: &Frame) {
    assert!(frame.pieces.iter().all(|p| p.to - p.from > 1e-6));
    assert!(frame.cuts.iter().all(|cut| cut.proven), "{:?}", frame.cuts);
    let mut joined = BTreeSet::new();
    for joint in &frame.joints {
        let other = joint.other.unwrap_or(usize::MAX);
        let pair = (joint.member.min(other), joint.member.max(other));
        let micrometres = [joint.at.x, joint.at.y, joint.at.z].map(|m| (m * 1e6).round() as i64);
        assert!(joined.insert((pair, micrometres)), "{} twice", joint.name);
    }
}

/// Expands an order; refused or not as it should be, and then with a nearest order that can be built.
fn expands_or_says_why(order: &Order) -> bool {
    match (expand(order, family()), goes_together(order)) {
        (Ok(frame), true) => {
            sound(&frame);
            true
        }
        (Err(ExpandError::Refused(refusal)), false) => {
            assert!(
                refusal.troubles.iter().all(|t| t.what.contains(": ")),
                "{refusal}"
            );
            let (changes, nearest) = refusal
                .nearest
                .first()
                .unwrap_or_else(|| panic!("{refusal}"));
            assert!(!changes.is_empty() && goes_together(nearest), "{refusal}");
            if let Err(e) = expand(nearest, family()) {
                panic!("{e}\n{nearest:?}");
            }
            false
        }
        (Ok(_), false) => panic!("must be refused: {order:?}"),
        (Err(e), _) => panic!("{e}\n{order:?}"),
    }
}

const SIZES: [(&str, &str); 5] = [
    ("24 ft", "short last bay"),
    ("26 ft 1 in", "short last bay"),
    ("50 ft 7 in", "equal bays"),
    ("51 ft 7 in", "short last bay"),
    ("31 ft", "equal bays"),
];

/// A house at 4 ft that asks for nothing, and one at 6 ft with what that needs.
const PLAIN: &str = "";
const SIX: &str = "[options]\ntruss = \"ties on every bow\"\npurlins = \"3 lines\"";

/// Each two choices in a house, in sizes that take turns; how many were built and how many refused.
fn every_two(spacing: &str, tables: &str) -> (usize, usize) {
    let picks = picks();
    let (mut built, mut refused) = (0, 0);
    for (i, first) in picks.iter().enumerate() {
        for (j, second) in picks.iter().enumerate().skip(i) {
            let same = (first.table, first.key) == (second.table, second.key);
            if same && i != j {
                continue;
            }
            let (length, uneven) = SIZES[(i + j) % SIZES.len()];
            let mut order = sidewall(
                &format!(
                    "length = \"{length}\"\nuneven = \"{uneven}\"\nbow_spacing = \"{spacing}\""
                ),
                tables,
            );
            pick(&mut order, *first);
            pick(&mut order, *second);
            match expands_or_says_why(&order) {
                true => built += 1,
                false => refused += 1,
            }
        }
    }
    (built, refused)
}

#[test]
fn every_two_choices_of_a_plain_house() {
    let (built, refused) = every_two("4 ft", PLAIN);
    assert!(built > 1_000 && refused > 100, "{built} {refused}");
}

#[test]
fn every_two_choices_at_6_ft() {
    let (built, refused) = every_two("6 ft", SIX);
    assert!(built > 1_000 && refused > 100, "{built} {refused}");
}

/// Each choice alone in the longest house, plain and with nearly everything, whole bays and uneven ones.
#[test]
fn every_choice_of_the_longest_house() {
    for (i, one) in picks().into_iter().enumerate() {
        let uneven = ["equal bays", "short last bay"][i % 2];
        let mut plain = sidewall(
            &format!("length = \"192 ft\"\nuneven = \"{uneven}\""),
            PLAIN,
        );
        pick(&mut plain, one);
        expands_or_says_why(&plain);
        let mut full = order(LARGEST);
        full.uneven = Some(uneven.into());
        pick(&mut full, one);
        expands_or_says_why(&full);
        full.length = "191 ft 5 in".into();
        expands_or_says_why(&full);
    }
}

/// No choice is there for nothing: beside an order without it, the parts list is another one.
#[test]
fn every_choice_changes_the_house() {
    let rolled = "[left]\nroll_up = \"hand crank\"\n[right]\nroll_up = \"hand crank\"";
    let bases = [PLAIN, SIX, rolled].map(|tables| sidewall("length = \"60 ft\"", tables));
    for one in picks() {
        let changes = bases.iter().any(|base| {
            let mut with = base.clone();
            pick(&mut with, one);
            goes_together(&with) && quantities(&with) != quantities(base)
        });
        let is_default = match one.key {
            "bow_spacing" => one.choice == "4 ft",
            key => (family().choices().iter()).any(|o| o.key == key && o.choices[0] == one.choice),
        };
        assert!(changes || is_default, "{} {}", one.key, one.choice);
    }
}

fn quantities(order: &Order) -> Vec<(String, i64)> {
    (listed(order).lines.iter())
        .map(|line| (line.part.description.clone(), line.quantity))
        .collect()
}

/// Random choices in houses of any length to a sixteenth of an inch, with a small generator of our own.
#[test]
fn random_choices_at_random_lengths() {
    let picks = picks();
    let mut state = 11_u64;
    let mut next = |below: usize| {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as usize % below
    };
    let mut built = 0;
    while built < 150 {
        let inches = (24 * 192 + next(168 * 192 + 1)) as f64 / 16.0;
        // No last bay may be shorter than a foot, whatever the spacing.
        let long_enough = |spacing: f64| inches % spacing == 0.0 || inches % spacing >= 12.0;
        let short = next(2) == 1 && [48.0, 60.0, 72.0].into_iter().all(long_enough);
        let uneven = ["equal bays", "short last bay"][usize::from(short)];
        let mut order = sidewall(
            &format!("length = \"{inches} in\"\nuneven = \"{uneven}\""),
            PLAIN,
        );
        for one in &picks {
            if next(5) == 0 {
                pick(&mut order, *one);
            }
        }
        if goes_together(&order) {
            sound(&expand(&order, family()).unwrap_or_else(|e| panic!("{e}\n{order:?}")));
            built += 1;
        }
    }
}
