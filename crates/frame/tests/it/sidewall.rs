//! The straight-wall house sidewall-30: every two choices together, and whole parts lists worked by hand.

use std::collections::BTreeSet;
use std::sync::OnceLock;

use frame::{ExpandError, Family, Frame, Order, PartsList, expand};

use crate::house::{order, quantity};

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
const LARGEST: &str = r#"
name = "the largest straight-wall house"
family = "sidewall-30"
length = "192 ft"
bow_spacing = "4 ft"
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
shade = "50 percent"
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
[right]
roll_up = "hand crank"
wind_panels = "both ends"
screen = "one"
"#;

// ---------------------------------------------------------------- every two choices together

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

/// Expands an order; refused or not as it should be, and then with a nearest order that can be built.
fn expands_or_says_why(order: &Order) -> bool {
    match (expand(order, family()), goes_together(order)) {
        (Ok(frame), true) => {
            assert!(
                frame.pieces.iter().all(|p| p.to - p.from > 1e-6),
                "{order:?}"
            );
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
    ("24 ft 1 in", "short last bay"),
    ("50 ft 7 in", "equal bays"),
    ("50 ft 7 in", "short last bay"),
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

#[test]
fn quick() {
    let frame = raised(&order(LARGEST));
    let list = PartsList::of(&frame);
    println!(
        "{} members {} joints {} pieces",
        frame.members.len(),
        frame.joints.len(),
        frame.pieces.len()
    );
    for l in &list.lines {
        println!(
            "{:4} {:5} {:5} {}",
            l.part.mark, l.quantity, l.supplied, l.part.description
        );
    }
    for c in &frame.cuts {
        println!("{c:?}");
    }
    for p in &list.packed {
        println!(
            "{} {} {}",
            p.says,
            p.contents.to_kilograms(),
            p.gross.to_kilograms()
        );
    }
    let t = std::time::Instant::now();
    for _ in 0..20 {
        std::hint::black_box(expand(&order(LARGEST), family()).unwrap());
    }
    println!("expand {:?}", t.elapsed() / 20);
    let _ = (quantity(&list, "P1"), BTreeSet::from([1]));
    let _: Option<ExpandError> = None;
}
