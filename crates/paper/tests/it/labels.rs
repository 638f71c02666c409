//! Labels: codes are read off the printed page by rqrr, places are held against the sheet's measures.
//!
//! Measures of label sheets are common practice, from memory; they are written out here by the sheet's edge, while the
//! code works them out from the middle.

use paper::{Label, LabelStock, Labels, PaperError, labels};
use rqrr::PreparedImage;

use crate::pdf::{Pdf, squeeze};
use crate::sample;
use crate::sample_card::{self, GOTHIC};

const INCH: f64 = 25.4;
const MM_PER_DOT: f64 = INCH / 300.0;

/// A stock by hand: labels beside and below each other, then left and upper margin, from label to label, and the label.
struct Measured {
    stock: LabelStock,
    count: (usize, usize),
    margin: (f64, f64),
    step: (f64, f64),
    label: (f64, f64),
}

const MEASURED: [Measured; 7] = [
    Measured {
        stock: LabelStock::Letter30,
        count: (3, 10),
        margin: (INCH * 3.0 / 16.0, INCH / 2.0),
        step: (INCH * 2.75, INCH),
        label: (INCH * 2.625, INCH),
    },
    Measured {
        stock: LabelStock::Letter10,
        count: (2, 5),
        margin: (INCH * 5.0 / 32.0, INCH / 2.0),
        step: (INCH * 4.1875, INCH * 2.0),
        label: (INCH * 4.0, INCH * 2.0),
    },
    Measured {
        stock: LabelStock::A4By21,
        count: (3, 7),
        margin: (7.2, 15.15),
        step: (66.04, 38.1),
        label: (63.5, 38.1),
    },
    Measured {
        stock: LabelStock::A4By8,
        count: (2, 4),
        margin: (4.65, 13.1),
        step: (101.6, 67.7),
        label: (99.1, 67.7),
    },
    Measured {
        stock: LabelStock::Roll4x6,
        count: (1, 1),
        margin: (0.0, 0.0),
        step: (0.0, 0.0),
        label: (INCH * 4.0, INCH * 6.0),
    },
    Measured {
        stock: LabelStock::Roll62,
        count: (1, 1),
        margin: (0.0, 0.0),
        step: (0.0, 0.0),
        label: (62.0, 120.0),
    },
    Measured {
        stock: LabelStock::Roll2x1,
        count: (1, 1),
        margin: (0.0, 0.0),
        step: (0.0, 0.0),
        label: (INCH * 2.0, INCH),
    },
];

impl Measured {
    fn to_a_sheet(&self) -> usize {
        self.count.0 * self.count.1
    }

    /// Left, top, right and bottom of the label at a place, from 0.
    fn edges(&self, place: usize) -> [f64; 4] {
        let (column, row) = (place % self.count.0, place / self.count.0);
        let left = self.margin.0 + self.step.0 * column as f64;
        let top = self.margin.1 + self.step.1 * row as f64;
        [left, top, left + self.label.0, top + self.label.1]
    }

    /// Which label holds all of this.
    fn place_of(&self, [left, top, right, bottom]: [f64; 4]) -> Option<usize> {
        (0..self.to_a_sheet()).find(|place| {
            let edges = self.edges(*place);
            // A tenth of a millimetre for figures that are rounded.
            left > edges[0] - 0.1
                && top > edges[1] - 0.1
                && right < edges[2] + 0.1
                && bottom < edges[3] + 0.1
        })
    }
}

fn print(kind: &Labels) -> Pdf {
    Pdf::new(&labels(kind, &sample::print()).unwrap_or_else(|e| panic!("{e}")))
}

/// A code found on a page: what it says, where it lies, and the side of a module, all in millimetres.
struct Code {
    says: String,
    edges: [f64; 4],
    module: f64,
    correction: u16,
}

/// The codes inside an area, as a phone sees that is held over one label.
fn codes_in((width, grey): &(usize, Vec<u8>), area: [f64; 4]) -> Vec<Code> {
    let rows = grey.len() / width;
    let [left, top, right, bottom] = area.map(|mm| (mm / MM_PER_DOT).round().max(0.0) as usize);
    let (right, bottom) = (right.min(*width), bottom.min(rows));
    let mut image = PreparedImage::prepare_from_greyscale(right - left, bottom - top, |x, y| {
        grey[(top + y) * width + left + x]
    });
    let code = |grid: &rqrr::Grid<_>| {
        let (about, says) = grid.decode().unwrap_or_else(|e| panic!("{e}"));
        let mm = |dots: i32| f64::from(dots) * MM_PER_DOT;
        let xs = grid.bounds.map(|p| area[0] + mm(p.x));
        let ys = grid.bounds.map(|p| area[1] + mm(p.y));
        let least = |values: [f64; 4]| values.into_iter().fold(f64::MAX, f64::min);
        let most = |values: [f64; 4]| values.into_iter().fold(f64::MIN, f64::max);
        let edges = [least(xs), least(ys), most(xs), most(ys)];
        Code {
            says,
            edges,
            module: (edges[2] - edges[0]) / about.version.to_size() as f64,
            correction: about.ecc_level,
        }
    };
    image.detect_grids().iter().map(code).collect()
}

/// The codes of the first page; there must be no two near each other.
fn codes(pdf: &Pdf) -> Vec<Code> {
    codes_in(&pdf.printed(1), [0.0, 0.0, 1e3, 1e3])
}

/// On the first page of every stock each code says its own address, in its own label, with four modules of white around
/// it, and no module is under 0.4 mm.
#[test]
fn codes_are_read_off_the_page() {
    for measured in MEASURED {
        let mut kind = sample_card::labels(GOTHIC, measured.stock);
        kind.labels.truncate(measured.to_a_sheet());
        let pdf = print(&kind);
        let (page, words) = (pdf.printed(1), pdf.boxes(1));
        for (place, label) in kind.labels.iter().enumerate() {
            let edges = measured.edges(place);
            let found = codes_in(&page, edges);
            let [code] = &found[..] else {
                panic!("{} codes on {}", found.len(), measured.stock.says())
            };
            assert_eq!(code.says, label.address);
            // A dot of the printer is 0.08 mm.
            assert!(code.module > 0.395, "{} mm", code.module);
            // M is 0, L is 1, H is 2, Q is 3 in the format bits (ISO/IEC 18004, from memory).
            assert_ne!(code.correction, 1);
            let quiet = 4.0 * code.module - 0.2;
            let [left, top, right, bottom] = code.edges;
            let white = [left - quiet, top - quiet, right + quiet, bottom + quiet];
            assert_eq!(measured.place_of(white), Some(place), "{white:?}");
            for (word, [l, t, r, b]) in &words {
                let apart = *r < white[0] || *l > white[2] || *b < white[1] || *t > white[3];
                assert!(apart, "{word} in the white of {}", measured.stock.says());
            }
        }
    }
}

/// How many labels are enough: the typesetter is not optimised in tests.
const FEW: usize = 4;

/// Long words of its own on each of the last labels of a sheet.
fn crowded(stock: LabelStock) -> Labels {
    let label = |n: usize| Label {
        mark: format!("M{n}"),
        description: format!("long{n} ").repeat(120),
        quantity: Some(999_999_999),
        pile: format!("pile{n} ").repeat(20),
        place: format!("place{n}").repeat(30),
        sub_kit: format!("kit{n} ").repeat(30),
        address: format!("http://10.0.0.1/{n}"),
        copies: 1,
    };
    Labels {
        job: "Crowded".into(),
        stock,
        start: stock.to_a_sheet().saturating_sub(FEW - 1).max(1),
        labels: (100..)
            .take(FEW.min(stock.to_a_sheet()))
            .map(label)
            .collect(),
    }
}

#[test]
fn nothing_leaves_its_label() {
    for measured in MEASURED {
        let kind = crowded(measured.stock);
        let pdf = print(&kind);
        assert_eq!(pdf.pages(), 1, "{}", measured.stock.says());
        let words = pdf.boxes(1);
        for (word, edges) in &words {
            let place = measured.place_of(*edges);
            let place =
                place.unwrap_or_else(|| panic!("{}: {word} {edges:?}", measured.stock.says()));
            // A word that names a label names the one that it lies on.
            let digits: String = word.chars().filter(char::is_ascii_digit).take(3).collect();
            let named = digits.parse::<usize>().ok();
            let named = named.filter(|n| (100..130).contains(n));
            let mine = 100 + place + 1 - kind.start;
            assert!(named.is_none_or(|n| n == mine), "{word} at {place}");
        }
        // Each mark is there and larger than anything else on its label.
        for (place, label) in (kind.start - 1..).zip(&kind.labels) {
            let height = |word: &(String, [f64; 4])| word.1[3] - word.1[1];
            let mine = words
                .iter()
                .filter(|w| measured.place_of(w.1) == Some(place));
            let (mark, rest): (Vec<_>, Vec<_>) = mine.partition(|w| w.0 == label.mark);
            assert_eq!(mark.len(), 1, "{}: {rest:?}", measured.stock.says());
            assert!(rest.iter().all(|w| height(w) < height(mark[0])));
            assert!(rest.iter().any(|w| w.0.ends_with('…')), "{rest:?}");
        }
    }
}

#[test]
fn a_sheet_that_was_begun_is_used_up() {
    let mut kind = crowded(LabelStock::A4By8);
    kind.start = 6;
    kind.labels.truncate(3);
    kind.labels[1].copies = 2;
    kind.labels[2].copies = 3;
    let pdf = print(&kind);
    assert_eq!(pdf.pages(), 2);
    let measured = MEASURED.iter().find(|m| m.stock == kind.stock).unwrap();
    let marks = |page: usize| {
        let boxes = pdf
            .boxes(page)
            .into_iter()
            .filter(|(word, _)| word.starts_with('M'));
        let mut marks: Vec<(usize, String)> = boxes
            .map(|(word, edges)| (measured.place_of(edges).unwrap() + 1, word))
            .collect();
        marks.sort();
        marks
    };
    let at = |place: usize, mark: &str| (place, mark.to_owned());
    assert_eq!(marks(1), [at(6, "M100"), at(7, "M101"), at(8, "M101")]);
    assert_eq!(marks(2), [at(1, "M102"), at(2, "M102"), at(3, "M102")]);
}

#[test]
fn a_start_off_the_sheet_is_refused() {
    for (stock, start, wanted) in [
        (LabelStock::Letter30, 0, "a place of the sheet, 1 to 30"),
        (LabelStock::Letter10, 11, "a place of the sheet, 1 to 10"),
        (LabelStock::A4By21, 22, "a place of the sheet, 1 to 21"),
        (
            LabelStock::A4By8,
            usize::MAX,
            "a place of the sheet, 1 to 8",
        ),
        (LabelStock::Roll62, 2, "1, where every roll starts"),
    ] {
        let mut kind = crowded(stock);
        kind.start = start;
        let refused = labels(&kind, &sample::print());
        let Err(PaperError::Print {
            field,
            found,
            wanted: said,
        }) = refused
        else {
            panic!("{start} of {}", stock.says())
        };
        assert_eq!((field, found, said), ("start", start.to_string(), wanted));
    }
}

#[test]
fn too_many_and_less_than_none_are_refused() {
    let mut kind = crowded(LabelStock::Roll2x1);
    for copies in [1001, usize::MAX] {
        kind.labels[0].copies = copies;
        let refused = labels(&kind, &sample::print());
        assert!(matches!(
            refused,
            Err(PaperError::TooMuch {
                what: "labels",
                most: 1000,
                ..
            })
        ));
    }
    kind.labels[0].copies = 1;
    kind.labels[0].quantity = Some(-1);
    let refused = labels(&kind, &sample::print());
    assert!(matches!(
        refused,
        Err(PaperError::Row {
            field: "quantity",
            row: 1,
            ..
        })
    ));
}

/// A label of 1 by 2 in leaves 22.4 mm for a code: 300 letters take 69 modules at correction M (version 13, ISO/IEC
/// 18004, from memory), and with the white edge 77 of them would be 0.29 mm each.
#[test]
fn a_code_too_fine_to_read_gives_way_to_its_address() {
    let mut kind = crowded(LabelStock::Roll2x1);
    kind.labels[0] = Label {
        mark: "Q7".into(),
        address: format!("http://10.0.0.1/{}", "x".repeat(60)),
        ..Label::default()
    };
    assert_eq!(codes(&print(&kind)).len(), 1);
    kind.labels[0].address = format!("http://10.0.0.1/{}", "x".repeat(284));
    let pdf = print(&kind);
    assert_eq!(codes(&pdf).len(), 0);
    assert!(
        pdf.letters().contains("http://10.0.0.1/xxxx"),
        "{}",
        pdf.letters()
    );
    // Where there is room, the same address is a code.
    kind.stock = LabelStock::A4By8;
    assert_eq!(codes(&print(&kind))[0].says, kind.labels[0].address);
    kind.labels[0].address.clear();
    assert_eq!(codes(&print(&kind)).len(), 0);
}

#[test]
fn markup_is_text_and_long_marks_are_cut() {
    for measured in MEASURED {
        let mut kind = crowded(measured.stock);
        let nasty = "#panic() \"a\" [b $c$ 👍 @d <e> \\";
        kind.labels.truncate(1);
        kind.labels[0] = Label {
            mark: "#[M\"1]".into(),
            description: nasty.into(),
            pile: nasty.into(),
            place: "*x* _y_".into(),
            address: format!("http://10.0.0.1/{nasty}"),
            ..Label::default()
        };
        let pdf = print(&kind);
        let shown = squeeze(&nasty.replace('👍', "\u{fffd}"));
        let letters = pdf.letters();
        assert!(letters.matches(&shown[..12]).count() >= 2, "{letters}");
        assert!(letters.contains("#[M\"1]"), "{letters}");
        assert_eq!(codes(&pdf)[0].says, kind.labels[0].address);

        kind.labels[0].mark = "W".repeat(80);
        let pdf = print(&kind);
        for (word, edges) in pdf.boxes(1) {
            assert!(measured.place_of(edges).is_some(), "{word}: {edges:?}");
        }
        assert!(pdf.letters().contains("WWWW"));
    }
}

/// 4 by 6 in and 2 by 1 in at 72 points to the inch; 62 mm are 175.7 points, and as long as there is something to say.
#[test]
fn rolls_have_one_label_to_a_page() {
    for (stock, size) in [
        (LabelStock::Roll4x6, "288 x 432 pts"),
        (LabelStock::Roll2x1, "144 x 72 pts"),
        (LabelStock::Roll62, "175.748 x "),
    ] {
        let mut kind = sample_card::labels(GOTHIC, stock);
        kind.labels.truncate(FEW);
        let pdf = print(&kind);
        assert_eq!(pdf.pages(), kind.labels.len());
        let found = pdf.info("Page size");
        assert!(found.starts_with(size), "{found}");
    }
    let length = |kind: &Labels| -> f64 {
        let size = print(kind).info("Page size");
        let length = size.split(' ').nth(2).unwrap().parse::<f64>();
        length.unwrap()
    };
    let mut brief = crowded(LabelStock::Roll62);
    let long = length(&brief);
    brief.labels[0].description.clear();
    brief.labels[0].sub_kit.clear();
    assert!(length(&brief) < long);
}

#[test]
fn they_are_tagged_and_the_code_has_words() {
    let mut kind = sample_card::labels(GOTHIC, LabelStock::Letter30);
    kind.labels.truncate(FEW);
    let pdf = print(&kind);
    assert_eq!(pdf.info("Tagged"), "yes");
    assert!(pdf.metadata().contains("pdfuaid"));
    assert_eq!(
        pdf.info("Title"),
        "Labels: Osprey Island school garden house"
    );
    assert_eq!(pdf.structure().matches("Figure").count(), kind.labels.len());
    if let Some((sound, said)) = pdf.qpdf() {
        assert!(sound, "{said}");
    }
    for stock in LabelStock::ALL {
        assert_eq!(LabelStock::of_key(stock.key()), Some(stock));
    }
}
