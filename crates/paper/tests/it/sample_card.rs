//! Cards and labels of the three families' orders, with look-alikes that a crew found by hand.

use frame::{Family, Order, PartsList, expand};
use paper::{Label, LabelStock, Labels, LookAlike, TellApartCard, tell_apart_card};

/// The demo's order.
pub const GOTHIC: &str = include_str!("../../../../demo/order.toml");
/// The plainest of its family.
pub const ROUND: &str = r#"
name = "Lower orchard"
family = "round-16"
length = "48 ft"
bow_spacing = "4 ft"
"#;
/// Nearly everything that the family has.
pub const SIDEWALL: &str = include_str!("../../../frame/benches/largest.toml");

const GOTHIC_PAIRS: &[[&str; 3]] = &[
    ["R1", "S1", "R1 has one swaged end; S1 is plain at both"],
    ["P1", "B1", "lay it on the ground: B1 is bent"],
    ["N1", "N2", "length under the head: N1 2-1/2 in, N2 3 in"],
    ["N5", "N6", "length under the head: N5 3/4 in, N6 1 in"],
    [
        "C1",
        "L1",
        "width across the back: C1 1-1/2 in, L1 1-1/4 in",
    ],
    ["N3", "N4", "N4 is flat"],
];
const ROUND_PAIRS: &[[&str; 3]] = &[
    ["N1", "N2", "the head: N1 a hexagon, N2 round"],
    ["T1", "T2", "the wider side: T1 5-1/2 in, T2 3-1/2 in"],
    [
        "N5",
        "N6",
        "the tip: N5 has a drill point, N6 a wood thread",
    ],
    ["R1", "S1", "the tape: R1 is a foot longer"],
    ["N3", "N4", "N4 is flat"],
    ["C1", "L1", "width across the back"],
    ["X1", "X2", "X1 has two loops"],
];
const SIDEWALL_PAIRS: &[[&str; 3]] = &[
    ["P1", "P2", "the tape: P1 8 ft, P2 9 ft"],
    ["B1", "B2", "the swage: B1 5 in, B2 4 in"],
    ["R1", "B2", "the wall, by caliper: R1 0.065 in, B2 0.083 in"],
    ["T1", "S1", "the wall, by caliper: T1 0.083 in, S1 0.065 in"],
    ["N1", "N2", "length under the head: N1 2-3/4 in, N2 3 in"],
    ["N5", "N6", "length under the head: N5 3/4 in, N6 1 in"],
    [
        "L1",
        "L2",
        "width across the back: L1 1-1/4 in, L2 2-3/8 in",
    ],
    ["N3", "N4", "N4 is flat"],
    [
        "Q1",
        "Q2",
        "lay it on a tube: Q1 closes on 1.900 in, Q2 on 1.315 in",
    ],
];

pub fn parts(order: &str) -> PartsList {
    let order = Order::read(order).unwrap_or_else(|e| panic!("{e:?}"));
    let family = Family::named(&order.family).unwrap_or_else(|e| panic!("{e}"));
    let frame = expand(&order, &family).unwrap_or_else(|e| panic!("{e}"));
    PartsList::of(&frame)
}

pub fn card(order: &str) -> TellApartCard {
    let pairs = match order {
        GOTHIC => GOTHIC_PAIRS,
        ROUND => ROUND_PAIRS,
        _ => SIDEWALL_PAIRS,
    };
    let look_alikes: Vec<LookAlike> = (pairs.iter())
        .map(|[a, b, words]| LookAlike {
            a: (*a).into(),
            b: (*b).into(),
            words: (*words).into(),
        })
        .collect();
    tell_apart_card(
        "Osprey Island school garden house",
        "Written by hand for a test",
        &parts(order),
        measure::System::FeetInch,
        &look_alikes,
    )
}

/// A label for every mark of an order.
pub fn labels(order: &str, stock: LabelStock) -> Labels {
    let label = |(index, line): (usize, &frame::Line)| {
        let mark = line.part.mark.0.clone();
        Label {
            address: format!("https://192.168.178.23:8443/count/{mark}?pile={index}"),
            mark,
            description: line.part.description.clone(),
            quantity: Some(line.supplied),
            pile: format!("Pile {}", index + 1),
            place: "by the shed, north side".into(),
            sub_kit: line.sub_kits().first().map_or("", |(kit, _)| kit).into(),
            copies: 1,
        }
    };
    Labels {
        job: "Osprey Island school garden house".into(),
        stock,
        start: 1,
        labels: parts(order).lines.iter().enumerate().map(label).collect(),
    }
}
