//! Frames that tests take from the families and orders of the project.

use frame::{Family, Frame, Order, PartsList, expand};

/// The demo's house.
pub fn demo() -> Frame {
    let families = include_str!("../../../../families/gothic-24.toml");
    raised(families, include_str!("../../../../demo/order.toml"))
}

/// A straight-wall house of our own family, 30 ft wide.
pub fn sidewall(length: &str) -> Frame {
    let order = format!(
        "name = \"a house\"\nfamily = \"sidewall-30\"\nlength = \"{length}\"\nbow_spacing = \"4 ft\"\nunits = \"feet\"\n"
    );
    raised(
        include_str!("../../../../families/sidewall-30.toml"),
        &order,
    )
}

/// A house by the text of its family and its order.
pub fn raised(family: &str, order: &str) -> Frame {
    let family = Family::read(family).unwrap_or_else(|e| panic!("{e}"));
    let order = Order::read(order).unwrap_or_else(|e| panic!("{e}"));
    expand(&order, &family).unwrap_or_else(|e| panic!("{e}"))
}

/// Its parts list.
pub fn parts(frame: &Frame) -> PartsList {
    PartsList::of(frame)
}
