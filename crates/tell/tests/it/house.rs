//! Kits that the tests read pieces of.

use frame::{Family, Order, Part, PartsList, expand};
use measure::System;
use tell::{Kit, KnownPart};

pub fn list(order: &str) -> (PartsList, System) {
    let order = Order::read(order).unwrap();
    let family = Family::named(&order.family).unwrap();
    let frame = expand(&order, &family).unwrap();
    (PartsList::of(&frame), frame.system)
}

/// The parts of all shipped families but one.
pub fn others(than: &str) -> Vec<KnownPart> {
    let families: Vec<Family> = (Family::shipped().into_iter())
        .filter(|family| family.name != than)
        .collect();
    KnownPart::of_families(&families)
}

pub const DEMO: &str = include_str!("../../../../demo/order.toml");
pub const LARGEST: &str = include_str!("../../../frame/benches/largest.toml");
pub const ROUND: &str = "name = 'a round house'\nfamily = 'round-16'\nlength = '40 ft'\n";

pub fn demo() -> (PartsList, Kit) {
    let (list, system) = list(DEMO);
    let kit = Kit::of_list(&list, &others("gothic-24"), system);
    (list, kit)
}

pub fn part<'a>(list: &'a PartsList, mark: &str) -> &'a Part {
    let line = list.lines.iter().find(|line| line.part.mark.0 == mark);
    &line.unwrap().part
}
