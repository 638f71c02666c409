//! The tell-apart card, taken from a parts list.

use frame::{End, Mark, Part, PartsList, Section};
use measure::System;
use tally::Standing;

use crate::fastener_shape::{fastener_shape, is_flat};
use crate::shape::Shape;
use crate::tell_apart::{CardGroup, CardPiece, LookAlike, TellApartCard};

/// What is laid side by side, in the order of the card.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    RoundTube,
    BoxTube,
    Board,
    Channel,
    Wire,
    Screw,
    Flat,
    /// Nothing about it can be drawn.
    Other,
}

impl Kind {
    const ALL: [Kind; 8] = [
        Kind::RoundTube,
        Kind::BoxTube,
        Kind::Board,
        Kind::Channel,
        Kind::Wire,
        Kind::Screw,
        Kind::Flat,
        Kind::Other,
    ];

    fn of(part: &Part) -> Self {
        match &part.section {
            Some(Section::Tube { .. }) => Kind::RoundTube,
            Some(Section::Box { .. }) => Kind::BoxTube,
            Some(Section::Timber { .. }) => Kind::Board,
            Some(Section::Channel { .. }) => Kind::Channel,
            Some(Section::Wire { .. }) => Kind::Wire,
            Some(Section::Fastener { .. }) if is_flat(&part.noun) => Kind::Flat,
            Some(Section::Fastener { .. }) => Kind::Screw,
            Some(Section::Cloth { .. } | Section::Film { .. }) | None => Kind::Other,
        }
    }

    fn title(self) -> &'static str {
        match self {
            Kind::RoundTube => "Round tube ends",
            Kind::BoxTube => "Square tube ends",
            Kind::Board => "Boards, by their ends",
            Kind::Channel => "Channel, by its end",
            Kind::Wire => "Wire",
            Kind::Screw => "Bolts and screws",
            Kind::Flat => "Nuts and washers",
            Kind::Other => "Told without a drawing",
        }
    }
}

/// Returns the tell-apart card of a job; nothing without an order that can be built.
pub fn tell_apart_of(standing: &Standing) -> Option<TellApartCard> {
    let ordered = standing.ordered()?;
    let pairs: Vec<LookAlike> = (ordered.kit().look_alikes().into_iter())
        .flat_map(|pair| {
            let words = pair.quickest.map_or(pair.words, |quickest| quickest.words);
            each_with_each(&pair.one, &pair.other, &words)
        })
        .collect();
    let order = format!("{}, {} bows", ordered.family.title, ordered.frame.bows);
    let (name, system) = (&ordered.order.name, ordered.frame.system);
    Some(tell_apart_card(
        name,
        &order,
        &ordered.parts,
        system,
        &pairs,
    ))
}

fn each_with_each(one: &[Mark], other: &[Mark], words: &str) -> Vec<LookAlike> {
    let pairs = one.iter().flat_map(|a| other.iter().map(move |b| (a, b)));
    pairs
        .map(|(a, b)| LookAlike {
            a: a.0.clone(),
            b: b.0.clone(),
            words: words.to_owned(),
        })
        .collect()
}

/// Returns the card for the parts that are taken for each other.
///
/// As soon as two of a kind are, all of that kind are drawn: in the yard they lie side by side, and so should they
/// here. Pairs of marks that the parts list does not have are left out.
pub fn tell_apart_card(
    job: &str,
    order: &str,
    parts: &PartsList,
    system: System,
    look_alikes: &[LookAlike],
) -> TellApartCard {
    let part = |mark: &str| {
        let lines = parts.lines.iter().map(|line| &line.part);
        lines.into_iter().find(|part| part.mark.0 == mark)
    };
    let pairs: Vec<(&LookAlike, &Part, &Part)> = (look_alikes.iter())
        .filter_map(|pair| Some((pair, part(&pair.a)?, part(&pair.b)?)))
        .collect();
    let named = |part: &Part| pairs.iter().any(|(_, a, b)| *a == part || *b == part);
    let groups = Kind::ALL.into_iter().map(|kind| {
        let of_kind = |part: &&Part| Kind::of(part) == kind;
        let taken = pairs.iter().any(|(_, a, b)| of_kind(a) || of_kind(b));
        CardGroup {
            title: kind.title().into(),
            pieces: (parts.lines.iter().map(|line| &line.part))
                .filter(|part| of_kind(part) && taken && (kind != Kind::Other || named(part)))
                .map(piece)
                .collect(),
            separates: (pairs.iter())
                .filter(|(_, a, _)| of_kind(a))
                .map(|(pair, ..)| (*pair).clone())
                .collect(),
        }
    });
    TellApartCard {
        job: job.into(),
        order: order.into(),
        system,
        groups: groups.filter(|group| !group.pieces.is_empty()).collect(),
    }
}

fn piece(part: &Part) -> CardPiece {
    let (shapes, words) = shapes(part);
    CardPiece {
        mark: part.mark.0.clone(),
        description: part.description.clone(),
        shapes,
        words,
    }
}

fn shapes(part: &Part) -> (Vec<Shape>, Vec<String>) {
    let plain = |shape| (vec![shape], Vec::new());
    match &part.section {
        Some(Section::Tube { outside, wall, .. }) => {
            let mut shapes = vec![Shape::RoundEnd {
                outside: *outside,
                wall: *wall,
            }];
            for end in part.ends.iter().flatten() {
                if let End::Swaged(over) = end {
                    shapes.push(Shape::Swaged {
                        outside: *outside,
                        wall: *wall,
                        over: *over,
                    });
                }
            }
            shapes.dedup();
            (shapes, ends_in_words(part))
        }
        Some(Section::Box {
            width, depth, wall, ..
        }) => plain(Shape::BoxEnd {
            width: *width,
            depth: *depth,
            wall: *wall,
        }),
        Some(Section::Timber { width, depth, .. }) => plain(Shape::SolidEnd {
            width: *width,
            depth: *depth,
        }),
        Some(Section::Channel { width, depth, .. }) => {
            let shape = Shape::ChannelEnd {
                width: *width,
                depth: *depth,
            };
            let words =
                "Width and depth are true; lips and how thick the metal is are not in the order.";
            (vec![shape], vec![words.into()])
        }
        Some(Section::Wire { diameter }) => plain(Shape::WireEnd {
            diameter: *diameter,
        }),
        Some(Section::Fastener { .. }) => {
            let (shape, words) = fastener_shape(part);
            (shape.into_iter().collect(), words)
        }
        Some(Section::Cloth { .. } | Section::Film { .. }) | None => (Vec::new(), Vec::new()),
    }
}

/// What a ring does not show of an end.
fn ends_in_words(part: &Part) -> Vec<String> {
    let pressed = |end: &End| matches!(end, End::Flattened | End::Punched);
    match part.ends {
        Some(ends) if ends.iter().all(pressed) => {
            vec!["Both ends are pressed flat: the ring is the tube between them.".into()]
        }
        Some(ends) if ends.iter().any(pressed) => {
            vec!["One end is pressed flat: the ring is the other.".into()]
        }
        _ => Vec::new(),
    }
}
