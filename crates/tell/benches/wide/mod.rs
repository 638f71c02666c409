//! A kit of 400 parts, for the benches: the largest house of the straight-wall family with every option has some fifty,
//! so it is widened, each part again and again a little longer and heavier under a mark of its own.

use frame::{Family, Order, Part, PartsList, expand};
use measure::{Length, Mass, System};

pub const PARTS: usize = 400;

pub fn parts() -> (Vec<(Part, i64)>, System) {
    let order = Order::read(include_str!("../../../frame/benches/largest.toml")).expect("an order");
    let family = Family::named(&order.family).expect("it comes with the program");
    let frame = expand(&order, &family).expect("it can be built");
    let list = PartsList::of(&frame);
    let widened = (0..).flat_map(|round: i64| list.lines.iter().map(move |line| (round, line)));
    let parts = widened.take(PARTS).map(|(round, line)| {
        let mut part = line.part.clone();
        if round > 0 {
            part.mark.0 = format!("{}-{round}", part.mark);
        }
        part.length = part
            .length
            .map(|length| length + Length::sixty_fourths(48) * round);
        part.unit_mass =
            part.unit_mass + Mass::micrograms(part.unit_mass.as_micrograms() / 16) * round;
        (part, line.supplied)
    });
    (parts.collect(), frame.system)
}
