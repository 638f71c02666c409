//! What can be cut anew, and what from: straight parts with square ends (or one factory swage), spare pieces on the site,
//! what is left of pieces that are cut in the yard, and bars from the shop.

use frame::{End, Part, Section};
use measure::Length;

use super::cut::{Bar, Wanted, patterns};
use super::offer::{Asked, Lengths, Lying, Recipe, Source, Want};
use super::stock::{BarStock, Price};

/// Sides and diameters this much apart are the same: 0.010 in. 1.315 and 1.375 in are 0.060 apart (engineering sheet 1.5).
const SIDE_ALIKE: i64 = 254_000;
/// Walls this much apart are the same: 0.006 in; 16 and 14 gauge are 0.018 apart (engineering sheet 1.7).
const WALL_ALIKE: i64 = 152_400;
/// No more patterns of one bar are looked at.
const MOST_PATTERNS: usize = 400;

impl Lengths {
    /// All of it, for the marks that are short.
    pub(crate) fn of(asked: &Asked, short: &[usize]) -> Self {
        let mut lengths = Self {
            whole: true,
            ..Self::default()
        };
        let mut sections: Vec<&Section> = Vec::new();
        for &mark in short {
            let Some((part, section)) = asked.part(mark).and_then(cut_anew) else {
                continue;
            };
            let at = place(&mut sections, section);
            lengths.wants.extend(wants(asked, mark, part, at));
        }
        lengths.lie(asked, &sections);
        lengths.cut(asked, &sections);
        super::join::join(&mut lengths, asked, &sections);
        lengths
    }

    /// What lies on the site of these sections beyond what the whole build needs.
    fn lie(&mut self, asked: &Asked, sections: &[&Section]) {
        let least = asked.of.stock.setting.least_left.as_nanometres();
        for mark in 0..asked.here.len() {
            let Some(part) = asked.part(mark).filter(|part| part.bend.is_none()) else {
                continue;
            };
            let (Some(of), Some(length)) = (&part.section, part.length) else {
                continue;
            };
            let Some(section) = sections.iter().position(|known| alike(known, of)) else {
                continue;
            };
            let spare = -asked.missing(mark);
            if spare > 0 {
                self.lying.push(Lying {
                    says: format!("spare {}", part.mark),
                    mark,
                    have: spare,
                    bar: bar(part, length),
                    section: Some(section),
                    of_want: None,
                });
            }
            for left in leftovers(asked, mark, part, length) {
                if left.length < least {
                    continue;
                }
                let tape = Length::nanometres(left.length).tape(asked.of.ordered.frame.system);
                let of = |want: &Want| {
                    want.mark == mark && left.of == (want.wanted.length, want.wanted.swage)
                };
                self.lying.push(Lying {
                    says: format!("the {tape} left of {}", part.mark),
                    mark,
                    have: left.have,
                    bar: Bar {
                        length: left.length,
                        swages: Vec::new(),
                    },
                    section: Some(section),
                    of_want: self.wants.iter().position(of),
                });
            }
        }
    }

    fn cut(&mut self, asked: &Asked, sections: &[&Section]) {
        let setting = &asked.of.stock.setting;
        for (section, of) in sections.iter().enumerate() {
            let ours: Vec<usize> = (0..self.wants.len())
                .filter(|want| self.wants[*want].section == section)
                .collect();
            let wanted: Vec<Wanted> = ours.iter().map(|w| self.wants[*w].wanted.clone()).collect();
            let mut of_bar =
                |bar: &Bar, source, uses: &[(usize, i64)], price: Price, says: String| {
                    let (found, whole) =
                        patterns(&wanted, bar, setting.kerf.as_nanometres(), MOST_PATTERNS);
                    self.whole &= whole;
                    for pattern in found {
                        let makes: Vec<(usize, i64)> = (ours.iter().copied())
                            .zip(pattern)
                            .filter(|(_, n)| *n > 0)
                            .collect();
                        let cuts: i64 = makes.iter().map(|(_, n)| n).sum();
                        let cost = [0, 1].map(|end| price.0[end] + cuts * setting.cut.0[end]);
                        self.recipes.push(Recipe {
                            source,
                            uses: uses.to_vec(),
                            makes,
                            cost: Price(cost),
                            of: says.clone(),
                        });
                    }
                };
            for (at, lying) in self.lying.iter().enumerate() {
                if lying.section == Some(section) {
                    let uses = [(at, 1)];
                    of_bar(
                        &lying.bar,
                        Source::Site,
                        &uses,
                        Price::default(),
                        lying.says.clone(),
                    );
                }
            }
            let system = asked.of.ordered.frame.system;
            for (at, stock) in asked.of.stock.bars.iter().enumerate() {
                for length in stock.lengths.iter().filter(|_| is_sold(stock, of)) {
                    let bar = Bar {
                        length: length.as_nanometres(),
                        swages: Vec::new(),
                    };
                    let price = stock.foot.by(length.to_inches() / 12.0);
                    let says = format!("{}, {}", stock.key, length.tape(system));
                    of_bar(&bar, Source::Shop(at), &[], price, says);
                }
            }
        }
    }
}

/// The part and its section, where a saw can make it: straight, with ends that are cut square or one that is swaged.
fn cut_anew(part: &Part) -> Option<(&Part, &Section)> {
    let section = part.section.as_ref()?;
    let long = matches!(
        section,
        Section::Tube { .. }
            | Section::Box { .. }
            | Section::Timber { .. }
            | Section::Channel { .. }
    );
    let ends = part.ends.iter().flatten();
    let sawn = ends
        .clone()
        .all(|end| matches!(end, End::Plain | End::Swaged(_)));
    let swaged = ends.filter(|end| matches!(end, End::Swaged(_))).count();
    (long && sawn && swaged < 2 && part.bend.is_none() && part.length.is_some())
        .then_some((part, section))
}

fn place<'a>(sections: &mut Vec<&'a Section>, section: &'a Section) -> usize {
    let known = sections.iter().position(|known| alike(known, section));
    known.unwrap_or_else(|| {
        sections.push(section);
        sections.len() - 1
    })
}

/// Whether two sections measure the same; what they are called does not matter.
pub(crate) fn alike(one: &Section, other: &Section) -> bool {
    let near = |a: Length, b: Length, apart| (a - b).as_nanometres().abs() <= apart;
    match (one, other) {
        (
            Section::Tube {
                outside: a,
                wall: v,
                ..
            },
            Section::Tube {
                outside: b,
                wall: w,
                ..
            },
        ) => near(*a, *b, SIDE_ALIKE) && near(*v, *w, WALL_ALIKE),
        (
            Section::Box {
                width: a,
                depth: c,
                wall: v,
                ..
            },
            Section::Box {
                width: b,
                depth: d,
                wall: w,
                ..
            },
        ) => near(*a, *b, SIDE_ALIKE) && near(*c, *d, SIDE_ALIKE) && near(*v, *w, WALL_ALIKE),
        // Which side is called the width differs from family to family.
        (
            Section::Timber {
                width: a, depth: c, ..
            },
            Section::Timber {
                width: b, depth: d, ..
            },
        ) => near(*a.min(c), *b.min(d), SIDE_ALIKE) && near(*a.max(c), *b.max(d), SIDE_ALIKE),
        (
            Section::Channel {
                width: a, depth: c, ..
            },
            Section::Channel {
                width: b, depth: d, ..
            },
        ) => near(*a, *b, SIDE_ALIKE) && near(*c, *d, SIDE_ALIKE),
        _ => false,
    }
}

/// Whether a bar that shops have measures as a section does.
fn is_sold(stock: &BarStock, section: &Section) -> bool {
    let near = |a: Length, b: Length, apart| (a - b).as_nanometres().abs() <= apart;
    match (section, stock.tube, stock.timber) {
        (Section::Tube { outside, wall, .. }, Some(tube), _) => {
            near(*outside, tube.outside, SIDE_ALIKE) && near(*wall, tube.wall, WALL_ALIKE)
        }
        (
            Section::Timber {
                width: w, depth: d, ..
            },
            _,
            Some(timber),
        ) => {
            let (narrow, wide) = (
                timber.width.min(timber.depth),
                timber.width.max(timber.depth),
            );
            near(*w.min(d), narrow, SIDE_ALIKE) && near(*w.max(d), wide, SIDE_ALIKE)
        }
        _ => false,
    }
}

fn swages(part: &Part) -> Vec<i64> {
    (part.ends.iter().flatten())
        .filter_map(|end| match end {
            End::Swaged(over) => Some(over.as_nanometres()),
            _ => None,
        })
        .collect()
}

fn bar(part: &Part, length: Length) -> Bar {
    let swages = swages(part);
    Bar {
        length: length.as_nanometres() - swages.iter().sum::<i64>(),
        swages,
    }
}

/// What the places of a mark want: of one that is cut in the yard only what is cut, which is why a shorter piece may do.
/// The shortest ones come first, as many as are missing.
fn wants(asked: &Asked, mark: usize, part: &Part, section: usize) -> Vec<Want> {
    let (Some(line), Some(length)) = (asked.line(mark), part.length) else {
        return Vec::new();
    };
    let swage = swages(part).first().copied();
    let mut lengths: Vec<(i64, Option<i64>)> = Vec::new();
    for place in line.places.iter().filter(|place| place.quantity > 0) {
        let one = match place.piece.filter(|_| place.cut_to.is_some()) {
            Some(first) => of_cuts(asked, first, swage, length),
            None => (length.as_nanometres() - swage.unwrap_or(0), swage),
        };
        let times = place.quantity.clamp(0, 1_000) as usize;
        lengths.extend(std::iter::repeat_n(one, times));
    }
    lengths.sort_unstable();
    let missing = asked.missing(mark);
    let mut wants: Vec<Want> = Vec::new();
    for keeps in [None, swage] {
        let of_kind = lengths.iter().filter(|(_, kept)| *kept == keeps);
        for (length, _) in of_kind.take(usize::try_from(missing).unwrap_or(0)) {
            let known = (wants.iter_mut())
                .find(|want| want.wanted.length == *length && want.wanted.swage == keeps);
            match known {
                Some(want) => want.wanted.most += 1,
                None => wants.push(Want {
                    mark,
                    wanted: Wanted {
                        length: *length,
                        swage: keeps,
                        most: 1,
                    },
                    overall: Length::nanometres(length + keeps.unwrap_or(0)),
                    section,
                }),
            }
        }
        if swage.is_none() {
            break;
        }
    }
    wants
}

/// What all that is cut from a whole piece (by index of its first cut) takes of it, kerfs between them, and the swage
/// that is kept.
fn of_cuts(asked: &Asked, first: usize, swage: Option<i64>, length: Length) -> (i64, Option<i64>) {
    let kerf = asked.of.stock.setting.kerf.as_nanometres();
    let (mut sum, mut keeps) = (-kerf, None);
    for piece in cuts_of(asked, first) {
        let cut_to = piece.cut_to.unwrap_or(length).as_nanometres();
        let shows = ((piece.to - piece.from) * 1e9) as i64;
        // What is longer than it shows keeps its swage, as where the frame cuts it.
        if let Some(swage) = swage.filter(|swage| cut_to - shows > swage / 2) {
            keeps = Some(swage);
            sum -= swage;
        }
        sum += cut_to + kerf;
    }
    (sum, keeps)
}

/// All pieces that are cut from one whole piece.
fn cuts_of<'a>(asked: &Asked<'a>, first: usize) -> impl Iterator<Item = &'a frame::Piece> {
    let pieces = asked.of.ordered.frame.pieces.iter().enumerate();
    pieces
        .filter(move |(at, piece)| *at == first || piece.left_from == Some(first))
        .map(|(_, piece)| piece)
}

/// What is left of a whole piece.
struct Left {
    length: i64,
    /// What was cut from it.
    of: (i64, Option<i64>),
    have: i64,
}

/// What is left of whole pieces of a mark once the yard's cuts are made. Where more are missing than stay whole, nobody
/// knows which are cut.
fn leftovers(asked: &Asked, mark: usize, part: &Part, length: Length) -> Vec<Left> {
    let kerf = asked.of.stock.setting.kerf.as_nanometres();
    let swages = swages(part);
    let usable = length.as_nanometres() - swages.iter().sum::<i64>();
    let frame = &asked.of.ordered.frame;
    let in_time = |first: usize| {
        cuts_of(asked, first).all(|piece| {
            let (name, _) = frame.belongs(piece.member);
            let stage = frame.stages.iter().position(|stage| stage == name);
            stage.is_some_and(|stage| asked.asked[stage])
        })
    };
    let mut lefts: Vec<Left> = Vec::new();
    let places = asked.line(mark).map_or(&[][..], |line| &line.places);
    let whole = places
        .iter()
        .filter(|p| p.quantity > 0 && p.cut_to.is_none())
        .count();
    if asked.missing(mark) > whole as i64 {
        return lefts;
    }
    for place in places
        .iter()
        .filter(|p| p.quantity > 0 && p.cut_to.is_some())
    {
        let Some(first) = place.piece.filter(|first| in_time(*first)) else {
            continue;
        };
        let of = of_cuts(asked, first, swages.first().copied(), length);
        match lefts.iter_mut().find(|left| left.of == of) {
            Some(left) => left.have += 1,
            None => lefts.push(Left {
                length: usable - of.0 - kerf,
                of,
                have: 1,
            }),
        }
    }
    lefts
}
