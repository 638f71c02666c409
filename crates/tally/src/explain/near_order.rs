//! The orders near the one at hand: each with one other choice, or a few bays longer or shorter. A list or a kit may have
//! been made for one of them.

use frame::{Line, Order, PartsList, expand};
use measure::Length;

use crate::standing::Ordered;

/// So many bays longer or shorter.
const MOST_BAYS: i64 = 3;

/// An order near the one at hand.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct NearOrder {
    /// What is other, such as "length = 44 ft"; several where they need the same.
    pub change: String,
    pub order: Order,
    pub length: Length,
    pub spacing: Length,
    /// What it needs and what is supplied of each part of the order at hand.
    pub needs: Vec<[i64; 2]>,
}

impl NearOrder {
    /// All of them that can be built and that need something else.
    pub fn all(of: &Ordered) -> Vec<Self> {
        Self::each(of, changed(of))
    }

    /// Orders of other lengths and spacings, however far: those that can be built and that need something else.
    pub fn of_sizes(of: &Ordered, sizes: impl Iterator<Item = [Length; 2]>) -> Vec<Self> {
        Self::each(of, sizes.filter_map(|size| resized(of, size)).collect())
    }

    fn each(of: &Ordered, orders: Vec<(String, Order)>) -> Vec<Self> {
        let mut found: Vec<Self> = Vec::new();
        for (change, order) in orders {
            let Ok(frame) = expand(&order, &of.family) else {
                continue;
            };
            let needs = needs(of, &PartsList::of(&frame));
            if needs == of.needs() {
                continue;
            }
            match found.iter_mut().find(|known| known.needs == needs) {
                Some(same) => same.change = format!("{}, or {change}", same.change),
                None => found.push(Self {
                    change,
                    order,
                    length: frame.length,
                    spacing: frame.bow_spacing,
                    needs,
                }),
            }
        }
        found
    }
}

/// How many of a line are needed and supplied.
pub(crate) fn needs_of(line: &Line) -> [i64; 2] {
    [line.quantity, line.supplied.max(line.quantity)]
}

/// What other parts than its own an order needs and gets of each of its parts.
fn needs(of: &Ordered, parts: &PartsList) -> Vec<[i64; 2]> {
    (of.parts.lines.iter())
        .map(|line| parts.line(&line.part.mark.0).map_or([0, 0], needs_of))
        .collect()
}

/// The order with another length and spacing, where a tape's words hold them.
fn resized(of: &Ordered, [length, spacing]: [Length; 2]) -> Option<(String, Order)> {
    let (frame, mut order) = (&of.frame, of.order.clone());
    let text = |length: Length| {
        let text = length.tape(frame.system);
        (Length::read(&text, None) == Ok(length)).then_some(text)
    };
    let mut change = Vec::new();
    if length != frame.length {
        order.length = text(length)?;
        change.push(format!("length = {}", order.length));
    }
    if spacing != frame.bow_spacing {
        let spacing = text(spacing)?;
        change.push(format!("bow_spacing = {spacing}"));
        order.bow_spacing = Some(spacing);
    }
    (!change.is_empty()).then(|| (change.join(" and "), order))
}

/// The order with one thing changed, in every way.
fn changed(of: &Ordered) -> Vec<(String, Order)> {
    let (order, frame) = (&of.order, &of.frame);
    let mut found = Vec::new();
    let mut with = |change: String, changed: Order| found.push((change, changed));
    for bays in (-MOST_BAYS..=MOST_BAYS).filter(|bays| *bays != 0) {
        let length = frame.length + frame.bow_spacing * bays;
        let text = length.tape(frame.system);
        if Length::read(&text, None) == Ok(length) {
            let length = text.clone();
            with(
                format!("length = {text}"),
                Order {
                    length,
                    ..order.clone()
                },
            );
        }
    }
    let spacings = of.family.bow_spacings().iter();
    for spacing in spacings.filter(|spacing| **spacing != frame.bow_spacing) {
        let text = spacing.tape(frame.system);
        if Length::read(&text, None) == Ok(*spacing) {
            let bow_spacing = Some(text.clone());
            let order = order.clone();
            with(
                format!("bow_spacing = {text}"),
                Order {
                    bow_spacing,
                    ..order
                },
            );
        }
    }
    for option in of.family.choices() {
        for table in option.tables() {
            for choice in &option.choices {
                let mut order = order.clone();
                let chosen = match *table {
                    "front" => &mut order.front,
                    "back" => &mut order.back,
                    "left" => &mut order.left,
                    "right" => &mut order.right,
                    _ => &mut order.options,
                };
                // What is chosen already makes the same order, which is left out for needing the same.
                chosen.insert(option.key.clone(), choice.clone());
                with(format!("{table}.{} = {choice}", option.key), order);
            }
        }
    }
    found
}
