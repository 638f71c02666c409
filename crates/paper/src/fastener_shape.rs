//! Which shape a fastener of an order has, as far as the order and published sizes tell.

use frame::{Part, Section};
use measure::{Length, Sure, tube};

use crate::fastener_sizes::{
    HEX_HEADS, HEX_WASHER_HEADS, NUTS, ROUND_HEADS, WASHER_STANDARD, WASHERS, Washer, threaded,
};
use crate::shape::{Head, Shape, Thread, Tip, mm};

/// A shape, and what is to be known about the drawing; or only why there is none.
pub(crate) type Told = (Option<Shape>, Vec<String>);

/// Whether it is a nut or a washer, which lie flat, and no bolt or screw.
pub(crate) fn is_flat(noun: &str) -> bool {
    noun.ends_with("washer") || noun.ends_with("nut")
}

/// The shape of a fastener by its noun and size.
pub(crate) fn fastener_shape(part: &Part) -> Told {
    let Some(Section::Fastener { size, diameter }) = &part.section else {
        return (
            None,
            vec!["Not drawn: its size is not in the order.".into()],
        );
    };
    let noun = part.noun.as_str();
    if noun.ends_with("washer") {
        return washer_shape(part, size);
    }
    if noun.ends_with("nut") {
        return nut_shape(size);
    }
    let Some(length) = part.length else {
        return (
            None,
            vec!["Not drawn: its length is not in the order.".into()],
        );
    };
    let (head, thread, tip, words) = match noun {
        "hex bolt" | "lag screw" => hex_head(size, *diameter, noun),
        "carriage bolt" => round_head(size, *diameter),
        "self-drilling screw" => hex_washer_head(size, length),
        _ => (Head::Unknown, None, tip_of(noun), no_head()),
    };
    let shape = Shape::Screw {
        head,
        diameter: *diameter,
        length,
        thread,
        tip,
    };
    (Some(shape), words)
}

type Drawn = (Head, Option<Thread>, Tip, Vec<String>);

fn hex_head(size: &str, diameter: Length, noun: &str) -> Drawn {
    let (standard, sure, rows) = &HEX_HEADS;
    let tip = tip_of(noun);
    let Some(row) = rows.iter().find(|row| row.size == size) else {
        return (Head::Unknown, None, tip, no_head());
    };
    let head = Head::Hex {
        across_flats: row.across_flats,
        height: row.height,
    };
    let thread = Thread {
        per_inch: row.per_inch,
        over: threaded(diameter),
    };
    match tip {
        Tip::Square => (head, Some(thread), tip, drawn_to("Head", standard, *sure)),
        // The coarse thread of a lag screw is in no table here.
        _ => {
            let mut words = drawn_to("Head", standard, Sure::Memory);
            words.push("Thread not drawn.".into());
            (head, None, tip, words)
        }
    }
}

fn round_head(size: &str, diameter: Length) -> Drawn {
    let (standard, sure, rows) = &ROUND_HEADS;
    let Some(row) = rows.iter().find(|row| row.size == size) else {
        return (Head::Unknown, None, Tip::Square, no_head());
    };
    let head = Head::RoundSquareNeck {
        across: row.across,
        height: row.height,
        neck: row.neck,
        neck_depth: row.neck_depth,
    };
    let thread = Thread {
        per_inch: row.per_inch,
        over: threaded(diameter),
    };
    let words = drawn_to("Head", standard, *sure);
    (head, Some(thread), Tip::Square, words)
}

fn hex_washer_head(size: &str, length: Length) -> Drawn {
    let (standard, sure, rows) = &HEX_WASHER_HEADS;
    let Some(row) = rows.iter().find(|row| row.size == size) else {
        return (Head::Unknown, None, Tip::Drill, no_head());
    };
    let head = Head::HexWasher {
        across_flats: row.across_flats,
        height: row.height,
        washer: row.washer,
        thickness: row.thickness,
    };
    let thread = Thread {
        per_inch: row.per_inch,
        over: length,
    };
    let mut words = drawn_to("Hex washer head", standard, *sure);
    words.push("The drill point is drawn for looks; the length to its tip is true.".into());
    (head, Some(thread), Tip::Drill, words)
}

fn nut_shape(size: &str) -> Told {
    let (standard, sure, rows) = &NUTS;
    match rows.iter().find(|(name, ..)| *name == size) {
        Some((_, across_flats, hole)) => {
            let shape = Shape::Nut {
                across_flats: *across_flats,
                hole: *hole,
            };
            (Some(shape), drawn_to("Flats", standard, *sure))
        }
        None => (None, vec![no_size(size)]),
    }
}

/// The order does not say which series a washer is of; its weight tells it best.
fn washer_shape(part: &Part, size: &str) -> Told {
    let weighs = |row: &Washer| {
        let (outside, inside) = (mm(row.outside), mm(row.inside));
        let area = std::f64::consts::FRAC_PI_4 * (outside * outside - inside * inside);
        area * mm(row.thickness) * 1e-9 * tube::DENSITY
    };
    let off = |row: &Washer| (weighs(row) - part.unit_mass.to_kilograms()).abs();
    let of_size = WASHERS.iter().filter(|row| row.size == size);
    let Some(row) = of_size.min_by(|a, b| off(a).total_cmp(&off(b))) else {
        return (None, vec![no_size(size)]);
    };
    let shape = Shape::Washer {
        inside: row.inside,
        outside: row.outside,
    };
    let words = format!(
        "Drawn to {WASHER_STANDARD}, {size} {} ({}), which is nearest to its weight: the order does not say the series.",
        row.series, row.sure
    );
    (Some(shape), vec![words])
}

fn tip_of(noun: &str) -> Tip {
    match noun {
        "lag screw" | "wood screw" => Tip::Wood,
        _ => Tip::Square,
    }
}

fn drawn_to(what: &str, standard: &str, sure: Sure) -> Vec<String> {
    vec![format!(
        "{what} drawn to {standard}, greatest size ({sure})."
    )]
}

fn no_head() -> Vec<String> {
    vec!["Head and thread not drawn: the order does not say them.".into()]
}

fn no_size(size: &str) -> String {
    format!("Not drawn: no published size for {size} at hand.")
}
