//! Shapes that a piece is laid on to be told: in true size, in millimetres of the page.

use measure::{Length, System};
use serde::Serialize;

/// A shape to lay a piece on, in its true size.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// The end of a round tube, cut square.
    RoundEnd {
        /// Outside diameter.
        outside: Length,
        /// Wall thickness.
        wall: Length,
    },
    /// The end of a square or rectangular tube.
    BoxEnd {
        /// Outside, the wider side.
        width: Length,
        /// Outside, the other side.
        depth: Length,
        /// Wall thickness.
        wall: Length,
    },
    /// The end of something solid, such as a board.
    SolidEnd {
        /// One side.
        width: Length,
        /// The other side.
        depth: Length,
    },
    /// The end of a channel: how wide and how deep it is outside. Its lips are not known, so a plain
    /// trough stands for it.
    ChannelEnd {
        /// Across the back.
        width: Length,
        /// Depth.
        depth: Length,
    },
    /// The end of round wire.
    WireEnd {
        /// Diameter.
        diameter: Length,
    },
    /// The swaged end of a round tube, from the side. What is swaged is drawn as wide as the hole of
    /// such a tube, since that is where it goes.
    Swaged {
        /// Outside diameter of the tube.
        outside: Length,
        /// Wall thickness.
        wall: Length,
        /// How long the swaged stretch is.
        over: Length,
    },
    /// A flat washer from above.
    Washer {
        /// Diameter of the hole.
        inside: Length,
        /// Outside diameter.
        outside: Length,
    },
    /// A hex nut from above.
    Nut {
        /// Across two opposite flats.
        across_flats: Length,
        /// Diameter of the thread that goes through it.
        hole: Length,
    },
    /// A bolt or a screw from the side.
    Screw {
        /// Its head.
        head: Head,
        /// Diameter over the thread.
        diameter: Length,
        /// From under the head to the tip.
        length: Length,
        /// Its thread; a smooth shank where it is not known.
        thread: Option<Thread>,
        /// How it ends.
        tip: Tip,
    },
}

/// The head of a bolt or a screw.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Head {
    /// Not known, so not drawn.
    Unknown,
    /// A hexagon.
    Hex {
        /// Across two opposite flats.
        across_flats: Length,
        /// Height.
        height: Length,
    },
    /// A hexagon with a washer of one piece with it.
    HexWasher {
        /// Across two opposite flats.
        across_flats: Length,
        /// Height with the washer.
        height: Length,
        /// Diameter of the washer.
        washer: Length,
        /// Thickness of the washer.
        thickness: Length,
    },
    /// A low round head over a square neck.
    RoundSquareNeck {
        /// Diameter of the head.
        across: Length,
        /// Height of the head.
        height: Length,
        /// Width of the square neck.
        neck: Length,
        /// Depth of the square neck.
        neck_depth: Length,
    },
}

/// A thread.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Thread {
    /// Threads in one inch.
    pub per_inch: u8,
    /// How much of the length is threaded, from the tip; more than the length threads all of it.
    pub over: Length,
}

/// How a bolt or a screw ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tip {
    /// Cut square.
    Square,
    /// A drill point.
    Drill,
    /// A point that goes into wood.
    Wood,
}

/// Ink on the page, in millimetres from the upper left corner of the drawing.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub(crate) enum Ink {
    /// A black ring by its two radii.
    Ring {
        x: f64,
        y: f64,
        outer: f64,
        inner: f64,
    },
    /// A black area: its edge, x and y in turn, and the edge of the hole in it.
    Solid { edge: Vec<f64>, hole: Vec<f64> },
    /// A thin line, x and y in turn.
    Line { through: Vec<f64>, closed: bool },
    /// A thin white line over black.
    Groove { through: Vec<f64> },
}

/// A drawing in true size.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(crate) struct Drawn {
    pub width: f64,
    pub height: f64,
    /// From the left edge to what its length is measured from.
    pub from: f64,
    /// Only one end of it: the rest does not fit on the page.
    pub cut_off: bool,
    pub ink: Vec<Ink>,
}

/// The widest and the highest drawing of an end; the text of a page is 178 by 225 mm or more.
const ROOM: (f64, f64) = (170.0, 150.0);
/// The longest drawing of a bolt or a swaged end; its mark stands beside it.
const LYING_ROOM: f64 = 148.0;
/// How much of the whole tube is drawn beside a swage.
const TUBE_BESIDE: f64 = 12.0;
/// How thick the metal of a channel is drawn, which no order tells.
const CHANNEL_METAL: f64 = 1.5;

impl Shape {
    /// Whether it lies along the line instead of standing on it.
    pub(crate) fn lies(self) -> bool {
        matches!(self, Shape::Swaged { .. } | Shape::Screw { .. })
    }

    /// Draws it; nothing if no page holds it, or no such thing can be.
    pub(crate) fn draw(self) -> Option<Drawn> {
        match self {
            Shape::RoundEnd { outside, wall } => ring(mm(outside), mm(outside) - 2.0 * mm(wall)),
            Shape::Washer { inside, outside } => ring(mm(outside), mm(inside)),
            Shape::WireEnd { diameter } => ring(mm(diameter), 0.0),
            Shape::BoxEnd { width, depth, wall } => tube_of_box(mm(width), mm(depth), mm(wall)),
            Shape::SolidEnd { width, depth } => board(mm(width), mm(depth)),
            Shape::ChannelEnd { width, depth } => channel(mm(width), mm(depth)),
            Shape::Nut { across_flats, hole } => nut(mm(across_flats), mm(hole)),
            Shape::Swaged {
                outside,
                wall,
                over,
            } => swaged(mm(outside), mm(wall), mm(over)),
            Shape::Screw {
                head,
                diameter,
                length,
                thread,
                tip,
            } => crate::screw::draw(head, mm(diameter), mm(length), thread, tip, LYING_ROOM),
        }
    }

    /// What it measures, in words.
    pub(crate) fn measures(self, system: System) -> String {
        let read = |length: Length| length.caliper(system);
        match self {
            Shape::RoundEnd { outside, wall } => {
                format!("{} across, wall {}", read(outside), read(wall))
            }
            Shape::BoxEnd { width, depth, wall } => {
                let sides = format!("{} by {}", read(width), read(depth));
                format!("{sides}, wall {}", read(wall))
            }
            Shape::SolidEnd { width, depth } | Shape::ChannelEnd { width, depth } => {
                format!("{} by {}", width.tape(system), depth.tape(system))
            }
            Shape::WireEnd { diameter } => read(diameter),
            Shape::Swaged { over, .. } => format!("swaged over {}", over.tape(system)),
            Shape::Washer { inside, outside } => {
                format!("{} across, hole {}", read(outside), read(inside))
            }
            Shape::Nut { across_flats, .. } => format!("{} across flats", read(across_flats)),
            Shape::Screw {
                diameter,
                length,
                head,
                ..
            } => {
                let from = match head {
                    Head::Unknown => "",
                    _ => " under the head",
                };
                format!("{}{from}, {} thick", length.tape(system), read(diameter))
            }
        }
    }
}

pub(crate) fn mm(length: Length) -> f64 {
    length.to_metres() * 1e3
}

fn standing(width: f64, height: f64, ink: Vec<Ink>) -> Option<Drawn> {
    let fits = |size: f64, room: f64| size > 0.0 && size <= room;
    (fits(width, ROOM.0) && fits(height, ROOM.1)).then_some(Drawn {
        width,
        height,
        from: 0.0,
        cut_off: false,
        ink,
    })
}

fn ring(outside: f64, inside: f64) -> Option<Drawn> {
    let ink = Ink::Ring {
        x: outside / 2.0,
        y: outside / 2.0,
        outer: outside / 2.0,
        inner: inside.max(0.0) / 2.0,
    };
    (inside < outside).then(|| standing(outside, outside, vec![ink]))?
}

fn tube_of_box(width: f64, depth: f64, wall: f64) -> Option<Drawn> {
    let hole = match 2.0 * wall < width.min(depth) {
        true => rectangle(wall, wall, width - wall, depth - wall),
        false => Vec::new(),
    };
    let edge = rectangle(0.0, 0.0, width, depth);
    standing(width, depth, vec![Ink::Solid { edge, hole }])
}

/// A board is outlined, with the cross that a drawing puts on sawn ends: black would cost a cartridge.
fn board(width: f64, depth: f64) -> Option<Drawn> {
    let line = |through, closed| Ink::Line { through, closed };
    let ink = vec![
        line(rectangle(0.0, 0.0, width, depth), true),
        line(vec![0.0, 0.0, width, depth], false),
        line(vec![width, 0.0, 0.0, depth], false),
    ];
    standing(width, depth, ink)
}

fn channel(width: f64, depth: f64) -> Option<Drawn> {
    let t = CHANNEL_METAL.min(width / 4.0).min(depth / 4.0);
    let (right, bottom) = (width - t, depth - t);
    let edge = vec![
        0.0, 0.0, t, 0.0, t, bottom, right, bottom, right, 0.0, width, 0.0, width, depth, 0.0,
        depth,
    ];
    let ink = Ink::Solid {
        edge,
        hole: Vec::new(),
    };
    standing(width, depth, vec![ink])
}

/// On a flat, with two corners to the sides.
fn nut(across_flats: f64, hole: f64) -> Option<Drawn> {
    let corners = across_flats / 30f64.to_radians().cos();
    let (x, y) = (corners / 2.0, across_flats / 2.0);
    let edge = vec![
        0.0,
        y,
        x / 2.0,
        0.0,
        1.5 * x,
        0.0,
        2.0 * x,
        y,
        1.5 * x,
        2.0 * y,
        x / 2.0,
        2.0 * y,
    ];
    let hole = (0..48)
        .flat_map(|step| {
            let angle = std::f64::consts::TAU * f64::from(step) / 48.0;
            [x + hole / 2.0 * angle.cos(), y + hole / 2.0 * angle.sin()]
        })
        .collect();
    standing(corners, across_flats, vec![Ink::Solid { edge, hole }])
}

/// The swaged stretch to the right, the whole tube broken off to the left.
fn swaged(outside: f64, wall: f64, over: f64) -> Option<Drawn> {
    let width = TUBE_BESIDE + over;
    let inside = outside - 2.0 * wall;
    if inside <= 0.0 || over <= 0.0 || width > LYING_ROOM || outside > ROOM.1 {
        return None;
    }
    // The shoulder takes as much length as the tube loses in width, and belongs to the swage.
    let shoulder = (outside - inside).min(over / 2.0);
    let edge = vec![
        0.0,
        0.0,
        TUBE_BESIDE,
        0.0,
        TUBE_BESIDE + shoulder,
        wall,
        width,
        wall,
        width,
        outside - wall,
        TUBE_BESIDE + shoulder,
        outside - wall,
        TUBE_BESIDE,
        outside,
        0.0,
        outside,
    ];
    let line = |through, closed| Ink::Line { through, closed };
    let ink = vec![
        line(edge, false),
        line(broken_off(0.0, outside), false),
        line(vec![TUBE_BESIDE, 0.0, TUBE_BESIDE, outside], false),
    ];
    Some(Drawn {
        width,
        height: outside,
        from: TUBE_BESIDE,
        cut_off: false,
        ink,
    })
}

/// The jagged line where a drawing breaks off, from top to bottom.
pub(crate) fn broken_off(x: f64, height: f64) -> Vec<f64> {
    let jag = (height / 8.0).min(1.2);
    (0..=8)
        .flat_map(|step| {
            let aside = match step {
                0 | 8 => 0.0,
                step if step % 2 == 0 => -jag,
                _ => jag,
            };
            [x + aside, height * f64::from(step) / 8.0]
        })
        .collect()
}

fn rectangle(left: f64, top: f64, right: f64, bottom: f64) -> Vec<f64> {
    vec![left, top, right, top, right, bottom, left, bottom]
}
