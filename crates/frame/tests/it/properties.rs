//! What holds of every order.

use std::collections::BTreeMap;

use frame::{End, ExpandError, Family, Frame, Order, PartsList, Path, Point, Section, expand};
use measure::Length;
use proptest::prelude::*;

use crate::house::{gothic, gothic_order, listed, quantity, raised};

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
    let orders = every_order();
    // 4 ft: 31 lengths, with and without purlins; 6 ft: 21. Each with 4 × 4 ends.
    assert_eq!(orders.len(), (2 * 31 + 21) * 16);
    for order in &orders {
        let frame = expand(order, &family).unwrap_or_else(|e| panic!("{}{e}", order.write()));
        joints_lie_on_their_members(&frame);
        pieces_fit_their_stock_and_cover_their_lines(&frame);
        the_list_is_the_sum_of_its_places(&frame);
    }
}

fn joints_lie_on_their_members(frame: &Frame) {
    for joint in &frame.joints {
        for member in [Some(joint.member), joint.other].into_iter().flatten() {
            let member = frame
                .members
                .get(member)
                .expect("a joint's member is there");
            let off = distance_to(&member.path, frame, joint.at);
            assert!(off < 0.05, "{}: {off:.3} m off {}", joint.name, member.name);
        }
    }
}

fn distance_to(path: &Path, frame: &Frame, p: Point) -> f64 {
    let apart = |q: Point| (p.x - q.x).hypot(p.y - q.y).hypot(p.z - q.z);
    match path {
        Path::Straight(a, b) => {
            let along = [b.x - a.x, b.y - a.y, b.z - a.z];
            let to = [p.x - a.x, p.y - a.y, p.z - a.z];
            let dot: f64 = along.iter().zip(to).map(|(u, v)| u * v).sum();
            let squared: f64 = along.iter().map(|u| u * u).sum();
            apart(path.at(
                &frame.profile,
                (dot / squared).clamp(0.0, 1.0) * path.length(),
            ))
        }
        Path::Arch { from, to, .. } => {
            // The place on the profile at the joint's height and side, if the member reaches there.
            let s = frame.profile.along_height(p.z).unwrap_or(f64::INFINITY);
            let s = if p.x > 0.0 {
                frame.profile.length() - s
            } else {
                s
            };
            apart(path.at(&frame.profile, s.clamp(*from, *to) - from))
        }
    }
}

fn pieces_fit_their_stock_and_cover_their_lines(frame: &Frame) {
    let mut lines: BTreeMap<usize, Vec<_>> = BTreeMap::new();
    for piece in &frame.pieces {
        assert!(piece.to - piece.from > 1e-3, "{} has no length", piece.name);
        let part = frame
            .parts
            .iter()
            .find(|p| p.mark == piece.mark)
            .expect("its part is there");
        let stock = part.length.unwrap();
        // Bow pieces are as long as they are, to 1/16 in.
        assert!(
            piece.to - piece.from < stock.to_metres() + 0.0016,
            "{}",
            piece.name
        );
        if let Some(cut_to) = piece.cut_to {
            assert!(cut_to > Length::ZERO && cut_to < stock, "{}", piece.name);
            assert!(
                (cut_to.to_metres() - (piece.to - piece.from)).abs() < 0.0009,
                "{}",
                piece.name
            );
        }
        lines.entry(piece.member).or_default().push(piece);
    }
    assert_eq!(lines.len(), frame.members.len(), "every member has pieces");
    for (member, mut pieces) in lines {
        pieces.sort_by(|a, b| a.from.total_cmp(&b.from));
        let length = frame.members[member].path.length();
        let mut reached = 0.0;
        for piece in &pieces {
            assert!(
                (piece.from - reached).abs() < 1e-6,
                "{} leaves a gap or lies over",
                piece.name
            );
            reached = piece.to;
        }
        assert!(
            (reached - length).abs() < 1e-6,
            "{}",
            frame.members[member].name
        );
        // A piece that goes into the next has its swage, or its lap, beyond what shows.
        for pair in pieces
            .windows(2)
            .filter(|_| !matches!(frame.members[member].path, Path::Arch { .. }))
        {
            let part = frame.parts.iter().find(|p| p.mark == pair[0].mark).unwrap();
            let swage = part.ends.iter().flatten().find_map(|end| match end {
                End::Swaged(over) => Some(over.to_metres()),
                _ => None,
            });
            let lap = if matches!(part.section, Some(Section::Wire { .. })) {
                0.0508
            } else {
                0.0
            };
            let shows = part.length.unwrap().to_metres() - swage.unwrap_or(lap);
            assert!(
                (pair[0].to - pair[0].from - shows).abs() < 1e-6,
                "{}",
                pair[0].name
            );
        }
    }
}

fn the_list_is_the_sum_of_its_places(frame: &Frame) {
    let list = PartsList::of(frame);
    let mut counted: BTreeMap<&str, i64> = BTreeMap::new();
    for piece in &frame.pieces {
        *counted.entry(&piece.mark.0).or_default() += 1;
    }
    for joint in &frame.joints {
        for (mark, count) in &frame.joint_kind(joint).hardware {
            *counted.entry(&mark.0).or_default() += count;
        }
    }
    for hung in &frame.hung {
        *counted.entry(&hung.mark.0).or_default() += hung.quantity;
    }
    let listed: BTreeMap<&str, i64> = list
        .lines
        .iter()
        .map(|l| (l.part.mark.0.as_str(), l.quantity))
        .collect();
    assert_eq!(listed, counted);
    assert_eq!(list.pieces(), counted.values().sum::<i64>());
    for line in &list.lines {
        assert!(line.places.iter().all(|p| p.quantity > 0));
        assert_eq!(
            line.quantity,
            line.places.iter().map(|p| p.quantity).sum::<i64>()
        );
        for sums in [line.uses(), line.stages(), line.sub_kits()] {
            assert_eq!(line.quantity, sums.iter().map(|(_, n)| n).sum::<i64>());
        }
        assert!(line.part.unit_mass > measure::Mass::ZERO);
        assert!(
            line.stages()
                .iter()
                .all(|(stage, _)| list.stages.iter().any(|s| s == stage))
        );
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
    for order in every_order().iter().step_by(7) {
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
