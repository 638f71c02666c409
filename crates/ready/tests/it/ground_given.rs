//! Grounds and orders that the tests of the ground share.

use frame::{Family, Frame, Order, PartsList};
use ready::Build;
use tally::{Ground, HouseSpot, Patch, Spot};

/// A frame, its parts list and its build.
pub fn order(text: &str) -> (Frame, PartsList, Build) {
    let order = Order::read(text).expect("an order");
    let family = Family::named(&order.family).expect("a family");
    let frame = frame::expand(&order, &family).expect("a frame");
    let list = PartsList::of(&frame);
    let build = Build::of(&frame, &list);
    (frame, list, build)
}

/// The order of the demo.
pub fn demo() -> (Frame, PartsList, Build) {
    order(include_str!("../../../../demo/order.toml"))
}

/// A rectangle by two opposite corners, in millimetres.
pub fn rect(x: i64, y: i64, to_x: i64, to_y: i64) -> Vec<Spot> {
    [(x, y), (to_x, y), (to_x, to_y), (x, to_y)]
        .map(|(x, y)| Spot { x, y })
        .to_vec()
}

/// A patch of a kind.
pub fn patch(outline: Vec<Spot>, words: &str) -> Patch {
    let words = words.into();
    Patch { outline, words }
}

/// The school garden: 24 m by 32 m, the house in it running up the drawing, a gate below, a shed roof to the left.
pub fn garden() -> Ground {
    Ground {
        outline: rect(0, 0, 24_000, 32_000),
        house: HouseSpot {
            front: Spot {
                x: 14_000,
                y: 10_000,
            },
            towards: 9_000,
        },
        drop: Spot { x: 5_000, y: 4_000 },
        gates: vec![[Spot { x: 3_000, y: 0 }, Spot { x: 7_000, y: 0 }]],
        truck: vec![patch(rect(2_500, 0, 8_000, 5_500), "")],
        obstacles: vec![patch(rect(3_000, 20_000, 5_000, 22_000), "apple tree")],
        covered: vec![patch(rect(1_000, 8_000, 6_000, 14_000), "shed roof")],
        shade: vec![],
        slopes: vec![],
        aisle: 900,
        truck_bed: 1_200,
        reach: 400,
    }
}
