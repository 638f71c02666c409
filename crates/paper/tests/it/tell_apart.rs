//! The tell-apart card is true: what it draws is as large as the piece, by the file's own coordinates.
//!
//! Sizes are written out here from the published tables that they come from, with how sure they are, not read from the
//! code: S seen in the source, S2 second-hand, S2t on a trade page.

use frame::{PartsList, Section};
use measure::{Length, Mass, System};
use paper::{
    CardGroup, CardPiece, Head, LookAlike, PaperError, Print, Shape, Sheet, TellApartCard, Tip,
    tell_apart, tell_apart_card,
};

use crate::ink::{self, Line};
use crate::pdf::{Pdf, squeeze};
use crate::sample;
use crate::sample_card::{GOTHIC, ROUND, SIDEWALL, card, parts};

const INCH: f64 = 25.4;
/// A tenth of a millimetre.
const TRUE: f64 = 0.1;

fn near(found: f64, wanted: f64) -> bool {
    (found - wanted).abs() <= TRUE
}

fn on(sheet: Sheet) -> Print {
    Print {
        sheet,
        ..sample::print()
    }
}

/// A card with its words and what it draws.
struct Read {
    pdf: Pdf,
    drawn: Vec<Vec<Line>>,
}

fn read(card: &TellApartCard, sheet: Sheet) -> Read {
    let bytes = tell_apart(card, &on(sheet)).unwrap_or_else(|e| panic!("{e}"));
    Read {
        drawn: ink::drawn(&bytes),
        pdf: Pdf::new(&bytes),
    }
}

impl Read {
    /// The first place where a mark stands beside or under a drawing: its page, and its middle.
    fn places(&self, mark: &str) -> Vec<(usize, f64, f64)> {
        (0..self.drawn.len())
            .flat_map(|page| {
                let boxes = self.pdf.boxes(page + 1).into_iter();
                let of_mark = boxes.filter(|(word, _)| word == mark);
                of_mark.map(move |(_, b)| (page, (b[0] + b[2]) / 2.0, (b[1] + b[3]) / 2.0))
            })
            .collect()
    }

    /// Circles right over a mark, the largest first.
    fn rings_over(&self, mark: &str) -> Vec<&Line> {
        let (page, x, y) = self.places(mark)[0];
        let mut rings: Vec<&Line> = (self.drawn[page].iter())
            .filter(|line| line.is_circle() && line.left() < x && x < line.right())
            .filter(|line| (0.0..20.0).contains(&(y - line.bottom())))
            .collect();
        rings.sort_by(|a, b| b.width().total_cmp(&a.width()));
        rings
    }

    /// What is drawn to the right of where a mark first stands, at its height.
    fn beside(&self, mark: &str) -> Vec<&Line> {
        let (page, x, y) = self.places(mark)[0];
        (self.drawn[page].iter())
            .filter(|line| line.left() > x && line.top() < y && y < line.bottom())
            .collect()
    }
}

/// 100 mm and 4 in, each between two ticks, on every page, on both sheets, of all three families.
#[test]
fn the_check_lines_are_true() {
    for (order, sheet) in [
        (GOTHIC, Sheet::Letter),
        (ROUND, Sheet::A4),
        (SIDEWALL, Sheet::A4),
        (SIDEWALL, Sheet::Letter),
    ] {
        for page in read(&card(order), sheet).drawn {
            for length in [100.0, 4.0 * INCH] {
                let is_it = |line: &&Line| {
                    line.points.len() == 2
                        && line.height() < 0.01
                        && (line.width() - length).abs() < 0.01
                };
                let line = page.iter().find(is_it).expect("a check line");
                for end in [line.left(), line.right()] {
                    let tick = |tick: &&Line| {
                        tick.width() < 0.01
                            && (tick.left() - end).abs() < 0.01
                            && tick.top() < line.top()
                            && line.top() < tick.bottom()
                    };
                    assert!(page.iter().any(|line| tick(&line)), "no tick at {end}");
                }
            }
        }
    }
}

#[test]
fn it_says_how_to_print_and_check() {
    let words = read(&card(GOTHIC), Sheet::A4).pdf.letters();
    for said in [
        "Print at 100 %, not “fit to page”",
        "they must be 100 mm and 4 in",
        "nothing on this page is true",
    ] {
        assert!(words.contains(&squeeze(said)), "{said}: {words}");
    }
}

/// What is called 1-5/8 measures 1.660 in and 1-3/8 measures 1.315 in (S2, facts of tube in `measure`); walls of 14 and
/// 16 gauge tube are the family's.
#[test]
fn tube_ends_are_true() {
    for sheet in [Sheet::Letter, Sheet::A4] {
        let read = read(&card(GOTHIC), sheet);
        for (mark, outside, wall) in [("P1", 1.660, 0.083), ("S1", 1.315, 0.065)] {
            let rings = read.rings_over(mark);
            let [outer, inner] = rings[..] else {
                panic!("{mark}: {rings:?}")
            };
            let inside = outside - 2.0 * wall;
            assert!(near(outer.width(), outside * INCH), "{mark}: {outer:?}");
            assert!(near(inner.width(), inside * INCH), "{mark}: {inner:?}");
            assert!(outer.filled && inner.filled);
            let middles = (outer.left() + outer.right()) - (inner.left() + inner.right());
            assert!(middles.abs() < 0.01);
        }
    }
}

/// So that a sixteenth of an inch is seen.
#[test]
fn tube_ends_stand_on_one_line() {
    let read = read(&card(SIDEWALL), Sheet::A4);
    let (one, other) = (read.rings_over("B1")[0], read.rings_over("G1")[0]);
    assert!((one.bottom() - other.bottom()).abs() < 0.01);
    assert!(near(one.width(), 1.900 * INCH) && near(other.width(), 1.315 * INCH));
}

/// A swage is as long as the family says: of gothic-24 4 in on a bow, 3-1/2 in on the ridge.
#[test]
fn swaged_ends_are_true() {
    let read = read(&card(GOTHIC), Sheet::Letter);
    for (mark, outside, over) in [("B1", 1.660, 4.0), ("R1", 1.315, 3.5)] {
        // Once under its ring, then beside its swage.
        let (page, x, y) = read.places(mark)[1];
        let here = |line: &&Line| line.left() > x && line.top() < y && y < line.bottom();
        let lines: Vec<&Line> = read.drawn[page].iter().filter(here).collect();
        let tallest = |line: &&&Line| near(line.height(), outside * INCH);
        let outline = lines.iter().find(|l| tallest(l) && l.points.len() == 8);
        let outline = outline.unwrap_or_else(|| panic!("{mark}: {lines:?}"));
        let shoulder = lines.iter().find(|l| tallest(l) && l.width() < 0.01);
        let shoulder = shoulder.unwrap_or_else(|| panic!("{mark}: {lines:?}"));
        assert!(near(outline.right() - shoulder.left(), over * INCH));
    }
}

/// Lengths are the order's, under the head. A #12 hex washer head is 5/16 in across flats with a washer of up to 0.432 in
/// (SAE J78, ASME B18.6.4: S2t), a 5/16 hex head 1/2 in across flats (ASME B18.2.1, S2t).
#[test]
fn bolts_and_screws_are_true() {
    let read = read(&card(GOTHIC), Sheet::Letter);
    for (mark, thick, length, head) in [
        ("N1", 0.3125, 2.5, 0.500),
        ("N2", 0.3125, 3.0, 0.500),
        ("N5", 0.216, 0.75, 0.432),
        ("N6", 0.216, 1.0, 0.432),
    ] {
        let lines = read.beside(mark);
        let shank = lines.iter().find(|l| near(l.height(), thick * INCH));
        let shank = shank.unwrap_or_else(|| panic!("{mark}: {lines:?}"));
        assert!(near(shank.width(), length * INCH), "{mark}: {shank:?}");
        let bearing = lines.iter().find(|l| near(l.height(), head * INCH));
        let bearing = bearing.unwrap_or_else(|| panic!("{mark}: {lines:?}"));
        assert!(near(bearing.right(), shank.left()), "{mark}");
    }
    // Under one another, from one line.
    let left = |mark| {
        let lines = read.beside(mark);
        lines
            .iter()
            .map(|l| l.right() - l.width())
            .fold(0.0, f64::max)
    };
    assert!(near(left("N1"), left("N6")));
}

/// ASME B18.21.1, 5/16 type A narrow: hole 0.344 in, 0.688 in across; wide: 0.375 and 0.875 in (Machinery's Handbook,
/// 31st ed., p. 1694, table 1a, S). The order names no series, so the weight of the part decides: by their measures and
/// 7850 kg/m³ they weigh 2.3 g and 5.2 g (D).
#[test]
fn washers_are_true() {
    let mut list = parts(GOTHIC);
    for (grams, inside, outside, series) in [
        (3, 0.344, 0.688, "type A narrow"),
        (5, 0.375, 0.875, "type A wide"),
    ] {
        let washer = list.lines.iter_mut().find(|l| l.part.noun == "flat washer");
        let mass = Mass::from_kilograms(f64::from(grams) / 1e3).unwrap();
        washer.expect("a washer").part.unit_mass = mass;
        let read = read(&of("N3", "N4", &list), Sheet::A4);
        let rings: Vec<f64> = read.rings_over("N4").iter().map(|l| l.width()).collect();
        assert!(near(rings[0], outside * INCH) && near(rings[1], inside * INCH));
        assert!(read.pdf.letters().contains(&squeeze(series)));
    }
}

fn of(a: &str, b: &str, list: &PartsList) -> TellApartCard {
    let pair = LookAlike {
        a: a.into(),
        b: b.into(),
        words: "measure it".into(),
    };
    tell_apart_card("Test", "", list, System::FeetInch, &[pair])
}

/// All of a kind are drawn as soon as two of it are taken for each other; the rest of the order is not there.
#[test]
fn a_kind_is_drawn_whole_or_not_at_all() {
    let list = parts(GOTHIC);
    let card = of("R1", "S1", &list);
    assert_eq!(card.groups.len(), 1);
    let tube = |line: &&frame::Line| matches!(line.part.section, Some(Section::Tube { .. }));
    let tubes = list.lines.iter().filter(tube).count();
    assert_eq!(card.groups[0].pieces.len(), tubes);
    assert_eq!(of("R1", "not in the list", &list).groups.len(), 0);
    // What has no measures is told by words alone.
    let plates = of("K1", "X1", &list);
    assert!(plates.groups[0].pieces.iter().all(|p| p.shapes.is_empty()));
    assert_eq!(plates.groups[0].pieces.len(), 2);
}

/// Every drawing and every word of the three families keeps to the page: 12 mm from its sides, and the
/// foot 7 mm from its edge, as of every paper.
#[test]
fn nothing_runs_off_the_page() {
    for (order, sheet, [width, height]) in [
        (GOTHIC, Sheet::A4, [210.0, 297.0]),
        (ROUND, Sheet::Letter, [215.9, 279.4]),
        (SIDEWALL, Sheet::A4, [210.0, 297.0]),
    ] {
        let read = read(&card(order), sheet);
        for (page, lines) in read.drawn.iter().enumerate() {
            let words = read.pdf.boxes(page + 1).into_iter().map(|(_, b)| b);
            let drawn = lines
                .iter()
                .map(|l| [l.left(), l.top(), l.right(), l.bottom()]);
            for [left, top, right, bottom] in words.chain(drawn) {
                assert!(left > 12.0 && right < width - 12.0, "{left} to {right}");
                assert!(top > 7.0 && bottom < height - 7.0, "{top} to {bottom}");
            }
        }
    }
}

fn one(shape: Shape) -> TellApartCard {
    TellApartCard {
        job: "Test".into(),
        order: String::new(),
        system: System::FeetInch,
        groups: vec![CardGroup {
            title: "One".into(),
            pieces: vec![CardPiece {
                mark: "Q7".into(),
                description: "a test piece".into(),
                shapes: vec![shape],
                words: vec![],
            }],
            separates: vec![],
        }],
    }
}

#[test]
fn what_does_not_fit_is_said() {
    let long = Shape::Screw {
        head: Head::Hex {
            across_flats: Length::mils(500),
            height: Length::mils(235),
        },
        diameter: Length::mils(312),
        length: Length::inches(12),
        thread: None,
        tip: Tip::Square,
    };
    let words = read(&one(long), Sheet::A4).pdf.letters();
    assert!(words.contains("onlytheendbythehead"), "{words}");
    assert!(words.contains("1ftunderthehead"), "{words}");
    let (huge, nothing) = (Length::feet(2), Length::ZERO);
    let swage = |over| Shape::Swaged {
        outside: Length::mils(1660),
        wall: Length::mils(83),
        over,
    };
    for shape in [
        Shape::SolidEnd {
            width: huge,
            depth: huge,
        },
        Shape::RoundEnd {
            outside: nothing,
            wall: nothing,
        },
        Shape::Washer {
            inside: Length::mils(500),
            outside: Length::mils(400),
        },
        swage(Length::inches(7)),
        swage(Length::nanometres(i64::MAX / 4)),
        swage(Length::nanometres(-1)),
    ] {
        let words = read(&one(shape), Sheet::A4).pdf.letters();
        assert!(words.contains("Notdrawn"), "{shape:?}: {words}");
    }
}

#[test]
fn box_and_channel_and_board_are_true() {
    let inches = |n: i64| Length::sixty_fourths(n * 16);
    for (shape, width, height) in [
        (
            Shape::BoxEnd {
                width: inches(8),
                depth: inches(6),
                wall: Length::mils(83),
            },
            2.0,
            1.5,
        ),
        (
            Shape::ChannelEnd {
                width: inches(6),
                depth: inches(3),
            },
            1.5,
            0.75,
        ),
        (
            Shape::SolidEnd {
                width: inches(22),
                depth: inches(6),
            },
            5.5,
            1.5,
        ),
        // A hexagon is 2/√3 as wide over its corners as over its flats.
        (
            Shape::Nut {
                across_flats: inches(2),
                hole: inches(1),
            },
            0.5 * 2.0 / 3f64.sqrt(),
            0.5,
        ),
    ] {
        let read = read(&one(shape), Sheet::Letter);
        let is_it = |l: &&Line| near(l.width(), width * INCH) && near(l.height(), height * INCH);
        assert!(read.drawn[0].iter().any(|l| is_it(&l)), "{shape:?}");
    }
}

#[test]
fn markup_and_long_marks_are_text() {
    let mut hostile = card(GOTHIC);
    let long = "M".repeat(80);
    let nasty = "#panic() [open \"q\" $x$ 👍";
    let group = &mut hostile.groups[0];
    group.pieces[0].mark = long.clone();
    group.pieces[0].description = nasty.into();
    group.separates[0].a = long.clone();
    group.separates[0].words = nasty.into();
    group.title = nasty.into();
    let pdf = read(&hostile, Sheet::Letter).pdf;
    let words = pdf.letters();
    assert!(
        words.matches("#panic()[open\"q\"$x$\u{fffd}").count() >= 3,
        "{words}"
    );
    assert!(words.contains(&long), "{words}");
    for page in 1..=pdf.pages() {
        let right = pdf
            .boxes(page)
            .iter()
            .map(|(_, b)| b[2])
            .fold(0.0, f64::max);
        assert!(right < 215.9 - 12.0, "{right}");
    }
}

#[test]
fn an_empty_card_says_so_and_a_huge_one_is_refused() {
    let mut none = one(Shape::WireEnd {
        diameter: Length::millimetres(2),
    });
    let piece = none.groups[0].pieces[0].clone();
    none.groups[0].pieces = vec![piece; 401];
    assert!(matches!(
        tell_apart(&none, &sample::print()),
        Err(PaperError::TooMuch { found: 401, .. })
    ));
    none.groups.clear();
    let words = read(&none, Sheet::A4).pdf.letters();
    assert!(words.contains("likelytobetakenforsomethingelse"), "{words}");
}

#[test]
fn it_is_tagged_and_drawings_have_words() {
    let read = read(&card(SIDEWALL), Sheet::Letter);
    assert_eq!(read.pdf.info("Tagged"), "yes");
    assert!(read.pdf.metadata().contains("pdfuaid"));
    assert_eq!(
        read.pdf.info("Title"),
        "Tell-apart card: Osprey Island school garden house"
    );
    let tags = read.pdf.structure();
    // Five rings, five swages, three channels, six bolts and screws, a nut and a washer.
    assert_eq!(tags.matches("Figure").count(), 21, "{tags}");
    if let Some((sound, said)) = read.pdf.qpdf() {
        assert!(sound, "{said}");
    }
}
