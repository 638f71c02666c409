//! A bolt or a screw from the side, in true size: the head to the left, the tip to the right.

use crate::shape::{Drawn, Head, Ink, Thread, Tip, broken_off, mm};

/// How deep a thread goes, in pitches: unified external thread, 0.613 of the pitch (ASME B1.1, from memory).
const DEPTH: f64 = 0.613;
/// How much of a bolt is drawn under its head when the whole does not fit.
const DRAWN_IF_TOO_LONG: f64 = 60.0;

/// Draws it about its axis, and lays that down at half its height.
pub(crate) fn draw(
    head: Head,
    diameter: f64,
    length: f64,
    thread: Option<Thread>,
    tip: Tip,
    room: f64,
) -> Option<Drawn> {
    let (head_height, head_width) = head_size(head);
    let height = head_width.max(diameter);
    let cut_off = head_height + length > room;
    let drawn = if cut_off { DRAWN_IF_TOO_LONG } else { length };
    let sizes_are_real = diameter > 0.0 && length > 0.0 && head_height >= 0.0;
    if !sizes_are_real || height > 80.0 || head_height > 80.0 {
        return None;
    }
    let shank = Shank {
        diameter,
        length: drawn,
        // What is threaded lies at the far end.
        threaded: thread.map(|thread| {
            let start = length - mm(thread.over).min(length);
            (start.min(drawn), 25.4 / f64::from(thread.per_inch.max(1)))
        }),
        tip: if cut_off { Tip::Square } else { tip },
    };
    let (axis, from) = (height / 2.0, head_height);
    let mut ink = head_ink(head, axis);
    ink.push(Ink::Solid {
        edge: shank.outline(from, axis),
        hole: Vec::new(),
    });
    if cut_off {
        ink.push(Ink::Line {
            through: broken_off(from + drawn + 1.6, height),
            closed: false,
        });
    }
    Some(Drawn {
        width: from + drawn,
        height,
        from,
        cut_off,
        ink,
    })
}

/// Height of the head along the axis, and its width across.
fn head_size(head: Head) -> (f64, f64) {
    match head {
        Head::Unknown => (0.0, 0.0),
        Head::Hex {
            across_flats,
            height,
        } => (mm(height), mm(across_flats)),
        Head::HexWasher { height, washer, .. } => (mm(height), mm(washer)),
        Head::RoundSquareNeck { across, height, .. } => (mm(height), mm(across)),
    }
}

fn head_ink(head: Head, axis: f64) -> Vec<Ink> {
    let block = |left: f64, right: f64, width: f64| {
        let (top, bottom) = (axis - width / 2.0, axis + width / 2.0);
        Ink::Solid {
            edge: vec![left, top, right, top, right, bottom, left, bottom],
            hole: Vec::new(),
        }
    };
    match head {
        Head::Unknown => Vec::new(),
        // Seen on a corner, so that it is as wide as it is across flats.
        Head::Hex {
            across_flats,
            height,
        } => vec![
            block(0.0, mm(height), mm(across_flats)),
            Ink::Groove {
                through: vec![0.0, axis, mm(height), axis],
            },
        ],
        Head::HexWasher {
            across_flats,
            height,
            washer,
            thickness,
        } => {
            let top = mm(height) - mm(thickness);
            vec![
                block(0.0, top, mm(across_flats)),
                block(top, mm(height), mm(washer)),
                Ink::Groove {
                    through: vec![0.0, axis, top, axis],
                },
            ]
        }
        Head::RoundSquareNeck {
            across,
            height,
            neck,
            neck_depth,
        } => vec![
            Ink::Solid {
                edge: dome(mm(across), mm(height), axis),
                hole: Vec::new(),
            },
            block(mm(height), mm(height) + mm(neck_depth), mm(neck)),
        ],
    }
}

/// A segment of a circle on its chord.
fn dome(across: f64, height: f64, axis: f64) -> Vec<f64> {
    const STEPS: u8 = 24;
    let radius = (across * across / 4.0 + height * height) / (2.0 * height).max(1e-6);
    let half = (across / 2.0 / radius).clamp(-1.0, 1.0).asin();
    (0..=STEPS)
        .flat_map(|step| {
            let angle = half * (2.0 * f64::from(step) / f64::from(STEPS) - 1.0);
            [radius * (1.0 - angle.cos()), axis + radius * angle.sin()]
        })
        .collect()
}

struct Shank {
    diameter: f64,
    length: f64,
    /// Where the thread starts, and its pitch.
    threaded: Option<(f64, f64)>,
    tip: Tip,
}

impl Shank {
    /// Its edge: along the upper side to the tip and back along the lower one.
    fn outline(&self, from: f64, axis: f64) -> Vec<f64> {
        let radius = self.diameter / 2.0;
        let (tip_length, tip) = self.tip_profile();
        let body = (self.length - tip_length).max(0.0);
        // Half a turn lies between the crests of the two sides.
        let side = |half_turn: bool| {
            let mut points = vec![(0.0, radius)];
            points.extend(self.thread_profile(body, half_turn));
            points.extend(tip.iter().map(|(along, out)| (body + along, *out)));
            points
        };
        let upper = side(false).into_iter().map(|(x, r)| (x, -r));
        let lower = side(true).into_iter().rev();
        upper
            .chain(lower)
            .flat_map(|(x, y)| [from + x, axis + y])
            .collect()
    }

    fn thread_profile(&self, body: f64, half_turn: bool) -> Vec<(f64, f64)> {
        let crest = self.diameter / 2.0;
        let Some((start, pitch)) = self.threaded else {
            return vec![(body, crest)];
        };
        let root = (crest - DEPTH * pitch).max(crest / 2.0);
        let mut points = vec![(start, crest)];
        let mut at = start + if half_turn { pitch / 2.0 } else { 0.0 };
        while at + pitch <= body {
            points.extend([(at, crest), (at + pitch / 2.0, root), (at + pitch, crest)]);
            at += pitch;
        }
        points.push((body, crest));
        points
    }

    /// How long the tip is, and its edge from the shank on; the last point lies at the full length.
    fn tip_profile(&self) -> (f64, Vec<(f64, f64)>) {
        let radius = self.diameter / 2.0;
        match self.tip {
            Tip::Square => (0.0, vec![(0.0, radius)]),
            // How wide a drill point is was not found: 0.8 of the screw is for looks.
            Tip::Drill => {
                let length = (1.2 * self.diameter).min(self.length / 2.0);
                let cone = (0.5 * self.diameter).min(length / 2.0);
                let drill = 0.8 * radius;
                let edge = vec![(0.0, drill), (length - cone, drill), (length, 0.0)];
                (length, edge)
            }
            Tip::Wood => {
                let length = (1.3 * self.diameter).min(self.length / 2.0);
                (length, vec![(0.0, radius), (length, 0.0)])
            }
        }
    }
}
