//! Orders and families that the tests share.

use frame::{Family, Frame, Order, PartsList, expand};

pub fn gothic() -> Family {
    Family::named("gothic-24").unwrap()
}

pub fn order(text: &str) -> Order {
    Order::read(text).unwrap()
}

/// An order of gothic-24 with the house's options and those of either end, written as in the file.
pub fn gothic_order(size: &str, tables: &str) -> Order {
    order(&format!(
        "name = \"a test house\"\nfamily = \"gothic-24\"\n{size}\n{tables}"
    ))
}

pub fn demo() -> Order {
    order(include_str!("../../../../demo/order.toml"))
}

pub fn raised(order: &Order) -> Frame {
    expand(order, &gothic()).unwrap_or_else(|e| panic!("{e}"))
}

pub fn listed(order: &Order) -> PartsList {
    PartsList::of(&raised(order))
}

pub fn quantity(list: &PartsList, mark: &str) -> i64 {
    list.line(mark).map_or(0, |line| line.quantity)
}

/// Checks every mark: those named have their quantity, and there is no other.
pub fn check(list: &PartsList, wanted: &[(&str, i64)]) {
    let found: Vec<(&str, i64)> = (list.lines.iter())
        .map(|l| (l.part.mark.0.as_str(), l.quantity))
        .collect();
    let wanted: Vec<(&str, i64)> = wanted.iter().copied().filter(|(_, q)| *q > 0).collect();
    assert_eq!(found, wanted);
}

/// A hoop house in one text: gothic bows on posts, three purlin runs, base and hip boards of 12 ft, nothing else.
///
/// Made for the published counts; its sections are anything. Measures in inches.
pub struct Hoop {
    pub width: i64,
    pub height: i64,
    pub side: i64,
    pub shoulder: i64,
    pub roof: i64,
    pub spacing: &'static str,
}

impl Hoop {
    pub fn text(&self) -> String {
        let Self {
            width,
            height,
            side,
            shoulder,
            roof,
            spacing,
        } = self;
        format!(
            r#"
name = "hoop"
title = "A hoop house"
[size]
bow_spacing = ["{spacing}"]
least_length = "12 ft"
most_length = "200 ft"
[profile]
width = "{width} in"
height = "{height} in"
half = [
    {{ name = "side", straight = "{side} in" }},
    {{ name = "shoulder", arc = "{shoulder} in" }},
    {{ name = "roof", arc = "{roof} in" }},
]
[[stage]]
name = "frame"
[[part]]
mark = "POST"
noun = "ground post"
tube = {{ called = "1-5/8", outside = "1.660 in", wall = "0.083 in" }}
length = "6 ft"
[[part]]
mark = "BOW"
noun = "bow"
tube = {{ called = "1-3/8", outside = "1.315 in", wall = "0.065 in" }}
[[part]]
mark = "RUN"
noun = "purlin"
tube = {{ called = "1-3/8", outside = "1.315 in", wall = "0.065 in" }}
length = "21 ft"
[[part]]
mark = "BOARD"
noun = "board"
length = "12 ft"
mass = "10 kg"
[[part]]
mark = "BOLT"
noun = "bolt"
mass = "30 g"
[[part]]
mark = "CLAMP"
noun = "cross connector"
mass = "150 g"
[[member]]
role = "post"
part = "POST"
post = {{ above_ground = "36 in" }}
stage = "frame"
sub_kit = "frame"
[[member]]
role = "bow"
bow = {{ half = [{{ part = "BOW", to = "peak" }}] }}
stage = "frame"
sub_kit = "frame"
[[member]]
role = "ridge"
part = "RUN"
along = "peak"
stage = "frame"
sub_kit = "frame"
[[member]]
role = "purlin"
part = "RUN"
along = {{ of = "roof", share = 0.5 }}
stage = "frame"
sub_kit = "frame"
[[member]]
role = "hip board"
part = "BOARD"
along = {{ of = "side", share = 1.0 }}
stage = "frame"
sub_kit = "frame"
[[member]]
role = "base board"
part = "BOARD"
along = {{ height = "3 in" }}
stage = "frame"
sub_kit = "frame"
[[joint]]
between = ["bow", "post"]
says = "bow in post"
hardware = {{ BOLT = 1 }}
stage = "frame"
sub_kit = "frame"
[[joint]]
between = ["ridge", "bow"]
says = "purlin under bow"
hardware = {{ CLAMP = 1 }}
stage = "frame"
sub_kit = "frame"
[[joint]]
between = ["purlin", "bow"]
says = "purlin under bow"
hardware = {{ CLAMP = 1 }}
stage = "frame"
sub_kit = "frame"
[[joint]]
between = ["hip board", "bow"]
says = "board on bow"
hardware = {{ BOLT = 1 }}
stage = "frame"
sub_kit = "frame"
[[joint]]
between = ["base board", "post"]
says = "board on post"
hardware = {{ BOLT = 1 }}
stage = "frame"
sub_kit = "frame"
"#
        )
    }

    pub fn list(&self, length: &str) -> PartsList {
        let family = Family::read(&self.text()).unwrap_or_else(|e| panic!("{e}"));
        let order = order(&format!(
            "name = \"h\"\nfamily = \"hoop\"\nlength = \"{length}\""
        ));
        PartsList::of(&expand(&order, &family).unwrap_or_else(|e| panic!("{e}")))
    }
}
