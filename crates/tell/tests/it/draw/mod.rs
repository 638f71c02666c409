//! Draws pieces and readings from the error model as its tables state it, without the crate's own chances: the tables'
//! limits and rates are read from `tell::error_model`, what follows from them is worked out here. Also for the benches.

mod of_part;

use frame::{End, Part};
use measure::System;
use tell::error_model as m;
use tell::{
    Asked, BendLook, Coating, EndLook, Kind, Kit, KnownPart, Marks, Reading, Size, Tool, Which,
};

use of_part::{around, bent, coating, end, kind, look, size};

pub const KINDS: [Kind; 8] = [
    Kind::RoundTube,
    Kind::SquareTube,
    Kind::Timber,
    Kind::Channel,
    Kind::Sheet,
    Kind::Wire,
    Kind::Fastener,
    Kind::Hardware,
];
pub const ENDS: [EndLook; 6] = [
    EndLook::Plain,
    EndLook::Swaged,
    EndLook::Flattened,
    EndLook::Punched,
    EndLook::Threaded,
    EndLook::Coped,
];
pub const COATINGS: [Coating; 9] = [
    Coating::Galvanized,
    Coating::ZincPlated,
    Coating::Mill,
    Coating::Coated,
    Coating::Rusty,
    Coating::Clear,
    Coating::White,
    Coating::Dark,
    Coating::Wood,
];

/// Everything that may be asked for, with usual tools in one system.
pub fn everything(system: System) -> Vec<Asked> {
    let tools = tell::Tools::usual(system);
    let marks = tools.marks;
    let tape = Tool::Tape {
        marks,
        class: tools.tape.unwrap_or_default(),
    };
    let size = |of, with| Asked::Size { of, with };
    vec![
        Asked::Kind,
        Asked::Looks,
        Asked::End(Which::One),
        Asked::End(Which::Other),
        Asked::Bend,
        Asked::Coating,
        Asked::Holes,
        size(Size::Length, tape),
        size(Size::Across, tape),
        size(Size::Around, Tool::String { marks }),
        size(Size::Across, Tool::Caliper { marks }),
        size(Size::Wall, Tool::Caliper { marks }),
        size(Size::Wall, Tool::GaugePlate { marks }),
        size(Size::Chord, tape),
        size(Size::Rise, tape),
        size(Size::HoleSpacing, tape),
        Asked::Mass {
            step_micrograms: 10_000_000,
        },
    ]
}

/// What a piece is in truth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Truth<'a> {
    Ours(&'a Part),
    Elsewhere(&'a Part),
    Anything,
}

/// A piece in hand. Its own deviations stay the same however often it is read.
pub struct Piece<'a> {
    pub truth: Truth<'a>,
    deviation: [f64; 7],
    turned: bool,
    first_shown: [Option<(f64, f64)>; 7],
    looks: &'a [(String, Kind)],
}

/// Where pieces are drawn from.
pub struct Yard<'a> {
    parts: Vec<(&'a Part, f64)>,
    elsewhere: Vec<&'a KnownPart>,
    looks: Vec<(String, Kind)>,
}

impl<'a> Yard<'a> {
    pub fn of(parts: impl IntoIterator<Item = (&'a Part, i64)>, kit: &'a Kit) -> Self {
        let parts: Vec<(&Part, f64)> = parts.into_iter().map(|(p, n)| (p, n as f64)).collect();
        let elsewhere: Vec<&KnownPart> = kit.elsewhere().collect();
        let mut looks: Vec<(String, Kind)> = (parts.iter().map(|(p, _)| *p))
            .chain(elsewhere.iter().map(|k| &k.part))
            .map(|p| (look(p), kind(p)))
            .collect();
        looks.sort();
        looks.dedup_by(|a, b| a.0 == b.0);
        Self {
            parts,
            elsewhere,
            looks,
        }
    }

    pub fn draw(&'a self, rng: &mut fastrand::Rng) -> Piece<'a> {
        self.piece(self.truth(rng), rng)
    }

    pub fn truth(&'a self, rng: &mut fastrand::Rng) -> Truth<'a> {
        if rng.f64() >= m::NONE_OF_THIS_ORDER {
            let all: f64 = self.parts.iter().map(|(_, n)| n).sum();
            let mut at = rng.f64() * all;
            let found = self.parts.iter().find(|(_, n)| {
                at -= n;
                at < 0.0
            });
            Truth::Ours(found.unwrap_or(&self.parts[0]).0)
        } else if rng.f64() < m::KNOWN_ELSEWHERE && !self.elsewhere.is_empty() {
            Truth::Elsewhere(&self.elsewhere[rng.usize(..self.elsewhere.len())].part)
        } else {
            Truth::Anything
        }
    }

    pub fn piece(&'a self, truth: Truth<'a>, rng: &mut fastrand::Rng) -> Piece<'a> {
        Piece {
            truth,
            deviation: [(); 7].map(|()| normal(rng)),
            turned: rng.bool(),
            first_shown: [None; 7],
            looks: &self.looks,
        }
    }
}

impl Piece<'_> {
    fn part(&self) -> Option<&Part> {
        match self.truth {
            Truth::Ours(part) | Truth::Elsewhere(part) => Some(part),
            Truth::Anything => None,
        }
    }

    pub fn read(&mut self, asked: Asked, rng: &mut fastrand::Rng) -> Reading {
        let part = self.part();
        match asked {
            Asked::Kind => Reading::Kind {
                is: match part {
                    Some(p) => {
                        let small = kind(p) == Kind::Fastener && p.length.is_none();
                        say(kind(p), m::mistaken_kind(kind(p), small), &KINDS, rng)
                    }
                    None => KINDS[rng.usize(..KINDS.len())],
                },
            },
            Asked::Looks => Reading::Looks {
                like: self.look(rng),
            },
            Asked::End(which) => {
                let other = (which == Which::Other) ^ self.turned;
                let is = match part.and_then(|p| p.ends) {
                    Some(ends) => {
                        let is = end(ends[other as usize]);
                        say(is, m::mistaken_end(is), &ENDS, rng)
                    }
                    None => ENDS[rng.usize(..ENDS.len())],
                };
                Reading::End { end: which, is }
            }
            Asked::Bend => {
                let bent = match part.and_then(bent) {
                    Some(bent) => bent ^ (rng.f64() < m::BENT_FOR_STRAIGHT),
                    None => rng.bool(),
                };
                Reading::Bend {
                    is: if bent {
                        BendLook::Bent
                    } else {
                        BendLook::Straight
                    },
                }
            }
            Asked::Coating => Reading::Coating {
                is: match part.and_then(coating) {
                    Some(is) => say(is, m::mistaken_coating(is), &COATINGS, rng),
                    None => COATINGS[rng.usize(..COATINGS.len())],
                },
            },
            Asked::Holes => {
                let drilled = part
                    .and_then(|p| p.ends)
                    .map(|ends| ends.iter().filter(|end| **end == End::Punched).count() as i64);
                let count = match drilled {
                    Some(count) if rng.f64() >= m::HOLES_OFF => count,
                    _ => (0..=m::MOST_HOLES)
                        .find(|_| rng.bool())
                        .unwrap_or(m::MOST_HOLES + 1),
                };
                Reading::Holes { count }
            }
            Asked::Size { of, with } => {
                let (step, longest) = marks(with);
                let count = self.count(of, with, step, longest, rng);
                let nanometres = (count as f64 * step * 1e9).round() as i64;
                Reading::Size {
                    of,
                    nanometres,
                    with,
                }
            }
            Asked::Mass { step_micrograms } => {
                let step = step_micrograms as f64 / 1e9;
                let count = self.count(Size::Unknown, Tool::Unknown, step, m::HEAVIEST, rng);
                Reading::Mass {
                    micrograms: count * step_micrograms,
                    step_micrograms,
                }
            }
        }
    }

    fn look(&self, rng: &mut fastrand::Rng) -> String {
        let any = |rng: &mut fastrand::Rng| match self.looks.get(rng.usize(..=self.looks.len())) {
            Some((word, _)) => word.clone(),
            None => "something else".into(),
        };
        let Some(part) = self.part() else {
            return any(rng);
        };
        let (word, kind) = (look(part), kind(part));
        let others: Vec<&String> = (self.looks.iter())
            .filter(|(known, k)| *k == kind && *known != word)
            .map(|(known, _)| known)
            .collect();
        match rng.f64() {
            u if u < m::ANY_LOOK => any(rng),
            u if u < m::ANY_LOOK + m::OTHER_LOOK && !others.is_empty() => {
                others[rng.usize(..others.len())].clone()
            }
            _ => word,
        }
    }

    /// What a tool shows, in its marks. A mass has neither size nor tool.
    fn count(
        &mut self,
        of: Size,
        with: Tool,
        step: f64,
        longest: f64,
        rng: &mut fastrand::Rng,
    ) -> i64 {
        let last = (longest / step).round();
        let clamp = |shown: f64| (shown / step).round().clamp(0.0, last + 1.0) as i64;
        let which = number(of);
        let times = if of == Size::Around {
            self.part().map_or(std::f64::consts::PI, around)
        } else {
            1.0
        };
        let is_bent = self.part().and_then(bent) == Some(true);
        let error = |size: f64| error(of, with, step, size, is_bent);
        let (shows, spread, mean) = match self.part().and_then(|p| size(p, of)) {
            Some((mean, sd)) => {
                let is = mean + sd * self.deviation[which];
                (is * times, error(mean * times), mean * times)
            }
            None => match self.first_shown[which] {
                None => {
                    let count = any(last, rng);
                    let size = count as f64 * step / times;
                    let off = error(size).hypot(step * m::UNKNOWN_AGAIN) / times;
                    self.first_shown[which] = Some((size, off));
                    return count;
                }
                Some((size, off)) => {
                    let spread = (off * times).hypot(error(size * times));
                    (size * times, spread, size * times)
                }
            },
        };
        let mut u = rng.f64();
        if u < m::ANY_SIZE {
            return any(last, rng);
        }
        u -= m::ANY_SIZE;
        let slips: &[(f64, f64)] = match with {
            Tool::Tape { marks, .. }
                if matches!(of, Size::Length | Size::Chord) && mean >= m::SHORTEST_WITH_SLIPS =>
            {
                match marks {
                    Marks::Inch => &m::SLIPS_IN_FEET,
                    Marks::Metric => &m::SLIPS_IN_MILLIMETRES,
                }
            }
            _ => &[],
        };
        let slip = slips.iter().find(|(_, rate)| {
            u -= rate;
            u < 0.0
        });
        clamp(shows + spread * normal(rng) + slip.map_or(0.0, |(by, _)| *by))
    }
}

/// Even over the logarithm, from half a mark to half a mark past the last.
fn any(last: f64, rng: &mut fastrand::Rng) -> i64 {
    match rng.f64() {
        u if u < m::OFF_THE_TOOL => 0,
        u if u >= 1.0 - m::OFF_THE_TOOL => last as i64 + 1,
        _ => (0.5 * (rng.f64() * (2.0 * last + 1.0).ln()).exp())
            .round()
            .clamp(1.0, last) as i64,
    }
}

fn say<T: Copy + PartialEq>(is: T, mistakes: &[(T, f64)], all: &[T], rng: &mut fastrand::Rng) -> T {
    let mut u = rng.f64();
    if u < m::ANY_LOOK {
        return all[rng.usize(..all.len())];
    }
    u -= m::ANY_LOOK;
    let mistaken = mistakes.iter().find(|(_, rate)| {
        u -= rate;
        u < 0.0
    });
    mistaken.map_or(is, |(look, _)| *look)
}

/// By Box and Muller.
pub fn normal(rng: &mut fastrand::Rng) -> f64 {
    (-2.0 * (1.0 - rng.f64()).ln()).sqrt() * (std::f64::consts::TAU * rng.f64()).cos()
}

fn number(of: Size) -> usize {
    match of {
        Size::Length => 0,
        Size::Across | Size::Around => 1,
        Size::Wall => 2,
        Size::Chord => 3,
        Size::Rise => 4,
        Size::HoleSpacing => 5,
        Size::Unknown => 6,
    }
}

/// Step and reach of a tool, metres.
fn marks(with: Tool) -> (f64, f64) {
    match with {
        Tool::Tape {
            marks: Marks::Inch, ..
        }
        | Tool::String { marks: Marks::Inch } => (0.0254 / 16.0, m::LONGEST[0]),
        Tool::Tape { .. } | Tool::String { .. } => (0.001, m::LONGEST[0]),
        Tool::Caliper { marks: Marks::Inch } => (0.0000254, m::LONGEST[1]),
        Tool::GaugePlate { marks: Marks::Inch } => (0.000127, m::LONGEST[1]),
        _ => (0.0001, m::LONGEST[1]),
    }
}

fn error(of: Size, with: Tool, step: f64, size: f64, bent: bool) -> f64 {
    match (of, with) {
        (Size::Unknown, _) => (step / 2.0).hypot(m::SCALE_SHARE * size),
        (Size::Around, _) => m::AROUND.hypot(m::AROUND_SHARE * size),
        (_, Tool::Tape { class, .. }) => {
            let held = match of {
                Size::Across | Size::Wall => m::TAPE_ACROSS,
                Size::Length if bent => m::TAPE_ALONG_BEND,
                _ => m::TAPE_HELD,
            };
            (m::tape_limit(class, size) / 3f64.sqrt()).hypot(held)
        }
        (Size::Wall, Tool::GaugePlate { .. }) => m::PLATE_WALL,
        (Size::Wall, _) => m::CALIPER_WALL,
        _ => m::CALIPER_ACROSS,
    }
}
