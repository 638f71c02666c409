//! What holds of every order of gothic-24; `any_family` has what holds of every family.

use frame::{ExpandError, Family, Order, PartsList, expand};
use proptest::prelude::*;

use crate::house::{gothic, gothic_order, listed, quantity, raised};
use crate::sound::{self, Rules};

/// All orders that gothic-24 can build, but for the words in them: lengths, spacings, purlins, ends.
///
/// There are 1328, so that trying them all says more than trying as many at random.
fn every_order() -> Vec<Order> {
    let ends = [
        "wall = \"open\"",
        "door = \"none\"",
        "door = \"single\"",
        "door = \"double\"",
    ];
    let mut orders = Vec::new();
    for (spacing, purlins) in [(4, "none"), (4, "one each side"), (6, "one each side")] {
        for length in (24..=144).filter(|feet| feet % spacing == 0) {
            for front in ends {
                for back in ends {
                    orders.push(gothic_order(
                        &format!("length = \"{length} ft\"\nbow_spacing = \"{spacing} ft\""),
                        &format!(
                            "[options]\npurlins = \"{purlins}\"\n[front]\n{front}\n[back]\n{back}"
                        ),
                    ));
                }
            }
        }
    }
    orders
}

#[test]
fn every_order_there_is_makes_a_sound_house() {
    let family = gothic();
    let rules = Rules::of(&family);
    let orders = every_order();
    // 4 ft: 31 lengths, with and without purlins; 6 ft: 21. Each with 4 × 4 ends.
    assert_eq!(orders.len(), (2 * 31 + 21) * 16);
    for order in &orders {
        let frame = expand(order, &family).unwrap_or_else(|e| panic!("{}{e}", order.write()));
        sound::check(&frame, &PartsList::of(&frame), &rules);
    }
}

/// What stands at every bow is linear in the bays: q(n + 2) − q(n + 1) = q(n + 1) − q(n), at one bow's worth, while
/// what belongs to the ends does not change.
#[test]
fn what_is_per_bow_is_linear_in_the_bays() {
    let list = |feet: i64| {
        listed(&gothic_order(
            &format!("length = \"{feet} ft\""),
            "[options]\npurlins = \"one each side\"\n[back]\ndoor = \"single\"",
        ))
    };
    // One bow more: two posts, two half bows, a ridge clamp, two cross connectors, two peak plates, bolts and nuts.
    let per_bow = [
        ("P1", 2),
        ("B1", 2),
        ("X1", 1),
        ("X2", 2),
        ("K1", 2),
        ("N1", 2),
        ("N2", 4),
        ("N3", 6),
        ("N4", 6),
    ];
    let at_the_ends = ["S1", "X3", "X4", "H1", "D1", "D2", "D3", "F1", "F2"];
    let lists: Vec<PartsList> = (6..=36).map(|bays| list(4 * bays)).collect();
    for pair in lists.windows(2) {
        for (mark, each) in per_bow {
            assert_eq!(
                quantity(&pair[1], mark) - quantity(&pair[0], mark),
                each,
                "{mark}"
            );
        }
        for mark in at_the_ends {
            assert_eq!(quantity(&pair[1], mark), quantity(&pair[0], mark), "{mark}");
        }
        // A longer house never needs less of anything.
        for line in &pair[0].lines {
            assert!(
                quantity(&pair[1], &line.part.mark.0) >= line.quantity,
                "{}",
                line.part.mark
            );
        }
    }
}

/// Purlins add, and a double door has more leaves than a single one; no option takes away what the bare house needs.
#[test]
fn purlins_only_add() {
    for feet in (24..=144).step_by(4) {
        let size = format!("length = \"{feet} ft\"");
        let (bare, with) = (
            listed(&gothic_order(&size, "")),
            listed(&gothic_order(
                &size,
                "[options]\npurlins = \"one each side\"",
            )),
        );
        for line in &bare.lines {
            assert!(
                quantity(&with, &line.part.mark.0) >= line.quantity,
                "{}",
                line.part.mark
            );
        }
        assert!(with.mass() > bare.mass());
    }
}

fn choice(choices: &'static [&'static str]) -> impl Strategy<Value = Option<String>> {
    proptest::option::of(proptest::sample::select(choices).prop_map(String::from))
}

prop_compose! {
    /// Orders of which some can be built and many cannot.
    fn any_order()(
        length in prop_oneof![
            (20i64..150).prop_map(|feet| format!("{feet} ft")),
            (6i64..37).prop_map(|bays| format!("{} ft", 4 * bays)),
            (0i64..60_000).prop_map(|mm| format!("{mm} mm")),
            ".{0,12}",
        ],
        bow_spacing in choice(&["4 ft", "6 ft", "48 in", "5 ft", "0 ft", "-4 ft", "9 t"]),
        units in choice(&["feet", "metric", "chains"]),
        purlins in choice(&["none", "one each side", "two"]),
        walls in (choice(&["framed", "open", "glass"]), choice(&["framed", "open"])),
        doors in (choice(&["none", "single", "double"]), choice(&["none", "single", "revolving"])),
        (key, value) in ("[a-z]{0,6}", ".{0,6}"),
        odd in any::<bool>(),
    ) -> Order {
        let mut order = gothic_order("length = \"48 ft\"", "");
        (order.length, order.bow_spacing, order.units) = (length, bow_spacing, units);
        order.options.extend(purlins.map(|p| ("purlins".into(), p)));
        order.front.extend(walls.0.map(|w| ("wall".into(), w)));
        order.back.extend(walls.1.map(|w| ("wall".into(), w)));
        order.front.extend(doors.0.map(|d| ("door".into(), d)));
        order.back.extend(doors.1.map(|d| ("door".into(), d)));
        if odd {
            order.front.insert(key, value);
        }
        order
    }
}

fn family() -> &'static Family {
    static FAMILY: std::sync::LazyLock<Family> = std::sync::LazyLock::new(gothic);
    &FAMILY
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2_000))]

    /// A random order is built, or refused with orders that can be; written and read back it fares the same.
    #[test]
    fn a_random_order_is_built_or_refused_with_reasons(order in any_order()) {
        let found = expand(&order, family());
        match &found {
            Ok(frame) => prop_assert!(!frame.pieces.is_empty()),
            Err(ExpandError::Refused(refusal)) => {
                prop_assert!(!refusal.troubles.is_empty());
                prop_assert!(!refusal.nearest.is_empty(), "{refusal}");
                for (changes, offered) in &refusal.nearest {
                    prop_assert!(offered.settle(family()).is_ok(), "{changes:?}");
                }
            }
            Err(other) => prop_assert!(false, "{other}"),
        }
        let back = Order::read(&order.write()).unwrap();
        prop_assert_eq!(&back, &order);
        prop_assert_eq!(expand(&back, family()), found);
    }

    /// No text makes the readers panic.
    #[test]
    fn any_text_is_read_or_refused(text in "[\\[\\]{}=\"'.,#a-z0-9 \n\\\\-]{0,200}") {
        let _ = Order::read(&text);
        let _ = Family::read(&text);
    }
}

/// The front and the back are the same wall: an order turned round needs the same parts.
#[test]
fn turned_round_it_needs_the_same() {
    for order in every_order().iter().step_by(23) {
        let mut turned = order.clone();
        std::mem::swap(&mut turned.front, &mut turned.back);
        let quantities = |order: &Order| -> Vec<(String, i64)> {
            PartsList::of(&raised(order))
                .lines
                .into_iter()
                .map(|l| (l.part.mark.0, l.quantity))
                .collect()
        };
        assert_eq!(quantities(order), quantities(&turned));
    }
}
