//! Pages in photographs, held against a camera that is reckoned forwards here: a pinhole with square pixels that looks
//! through the middle of its picture. Where it puts the corners is reckoned, and nothing of it comes from the crate.

use image::{GrayImage, Luma, Rgb, RgbImage};
use photo::{Lies, jpeg_of, sheet, sheet_in, strip};

const SIZE: [u32; 2] = [900, 1200];
const A4: [f64; 2] = [210.0, 297.0];

/// How a page is held.
#[derive(Clone, Copy)]
struct Held {
    /// Turned about the level, the upright and the line of sight, in degrees.
    turns: [f64; 3],
    /// From the lens, in millimetres.
    away: f64,
    /// From the lens to the picture, in pixels.
    focal: f64,
}

impl Held {
    /// The rows of the map from millimetres on the page to pixels, as homogeneous coordinates.
    fn map(self) -> [[f64; 3]; 3] {
        let [[sa, ca], [sb, cb], [sc, cc]] = self.turns.map(|t| {
            let (s, c) = t.to_radians().sin_cos();
            [s, c]
        });
        // About the level first, then the upright, then the line of sight; the third column is not needed on a plane.
        let across = [cc * cb, sc * cb, -sb];
        let down = [cc * sb * sa - sc * ca, sc * sb * sa + cc * ca, cb * sa];
        let middle = SIZE.map(|side| f64::from(side) / 2.0);
        let row = |i: usize| {
            [
                self.focal * across[i] + middle[i] * across[2],
                self.focal * down[i] + middle[i] * down[2],
                middle[i] * self.away,
            ]
        };
        [row(0), row(1), [across[2], down[2], self.away]]
    }

    fn place(self, [x, y]: [f64; 2]) -> [f64; 2] {
        let m = self.map().map(|row| row[0] * x + row[1] * y + row[2]);
        [m[0] / m[2], m[1] / m[2]]
    }

    fn corners(self) -> [[f64; 2]; 4] {
        let [w, h] = A4.map(|side| side / 2.0);
        [[-w, -h], [w, -h], [w, h], [-w, h]].map(|at| self.place(at))
    }

    /// The picture: the page with lines of dark marks, on brown ground, in light that falls off.
    fn picture(self) -> RgbImage {
        let back = inverse(self.map());
        RgbImage::from_fn(SIZE[0], SIZE[1], |x, y| {
            let mut sum = 0.0;
            let mut paper = 0.0;
            for part in 0..9 {
                let at = [
                    f64::from(x) + (f64::from(part % 3) + 0.5) / 3.0,
                    f64::from(y) + (f64::from(part / 3) + 0.5) / 3.0,
                    1.0,
                ];
                let m = back.map(|row| row[0] * at[0] + row[1] * at[1] + row[2] * at[2]);
                let (across, down) = (m[0] / m[2], m[1] / m[2]);
                if across.abs() < A4[0] / 2.0 && down.abs() < A4[1] / 2.0 {
                    paper += 1.0 / 9.0;
                    sum += if mark(across, down) { 40.0 } else { 225.0 } / 9.0;
                }
            }
            let light = 1.0 - 0.4 * f64::from(x + y) / f64::from(SIZE[0] + SIZE[1]);
            let grain = f64::from((x * 7919 + y * 104_729 + x * y * 31) % 13) - 6.0;
            let of = |ground: f64| ((sum + ground * (1.0 - paper)) * light + grain) as u8;
            Rgb([of(120.0), of(90.0), of(60.0)])
        })
    }
}

/// Short strokes in lines, with a margin.
fn mark(across: f64, down: f64) -> bool {
    let (line, place) = (down.rem_euclid(8.0), across.rem_euclid(5.0));
    across.abs() < 85.0 && down.abs() < 120.0 && line < 3.0 && place < 2.0
}

fn inverse(m: [[f64; 3]; 3]) -> [[f64; 3]; 3] {
    let cofactor = |r: usize, c: usize| {
        let [r1, r2, c1, c2] = [(r + 1) % 3, (r + 2) % 3, (c + 1) % 3, (c + 2) % 3];
        m[r1][c1] * m[r2][c2] - m[r1][c2] * m[r2][c1]
    };
    let whole: f64 = (0..3).map(|c| m[0][c] * cofactor(0, c)).sum();
    std::array::from_fn(|r| std::array::from_fn(|c| cofactor(c, r) / whole))
}

const HELD: [Held; 3] = [
    Held {
        turns: [0.0, 0.0, 2.0],
        away: 420.0,
        focal: 900.0,
    },
    Held {
        turns: [24.0, -8.0, -3.0],
        away: 480.0,
        focal: 900.0,
    },
    Held {
        turns: [-18.0, 20.0, 5.0],
        away: 500.0,
        focal: 1000.0,
    },
];

#[test]
fn corners_and_the_ratio_of_the_sides_are_those_of_the_camera() {
    for held in HELD {
        let found = sheet(&held.picture());
        assert_eq!(found.lies, Lies::Whole);
        for (found, real) in found.corners.iter().zip(held.corners()) {
            let off = (f64::from(found[0]) - real[0]).hypot(f64::from(found[1]) - real[1]);
            assert!(
                off < 1.5,
                "{:?}: a corner is {off:.2} pixels off",
                held.turns
            );
        }
        let ratio = f64::from(found.page.width()) / f64::from(found.page.height());
        let off = ratio / (A4[0] / A4[1]) - 1.0;
        assert!(
            off.abs() < 0.02,
            "{:?}: the ratio is {:.1} % off",
            held.turns,
            100.0 * off
        );
        assert!(found.levelled.abs() < 0.3, "{}", found.levelled);
    }
}

#[test]
fn the_page_is_white_and_its_marks_are_dark_in_every_corner() {
    let page = sheet(&HELD[1].picture()).page;
    let [wide, high] = [page.width() as f64, page.height() as f64];
    let mut marks = Vec::new();
    for [x, y] in [
        [-80.0, -112.0],
        [80.0, -112.0],
        [-80.0, 112.0],
        [80.0, 112.0],
        [0.0, 0.0],
    ] {
        // Whole marks about the place; 4.5 millimetres down from a line's top is between lines.
        let at = |across: f64, down: f64| {
            let [u, v] =
                [across / A4[0], down / A4[1]].map(|share| 0.5 + share / (1.0 - 2.0 * 0.004));
            f64::from(page.get_pixel((u * wide) as u32, (v * high) as u32)[0])
        };
        let [left, top] = [(x / 5.0_f64).floor() * 5.0, (y / 8.0_f64).floor() * 8.0];
        marks.push((at(left + 1.0, top + 1.5), at(left + 1.0, top + 5.5)));
    }
    for (ink, paper) in marks {
        assert!(ink < 80.0 && paper > 240.0, "ink {ink}, paper {paper}");
    }
}

#[test]
fn a_scan_is_all_page_and_is_levelled_by_its_lines() {
    // Turned by two degrees about its middle; the marks fall to the right.
    let (sine, cosine) = 2.0_f64.to_radians().sin_cos();
    let scan = RgbImage::from_fn(850, 1100, |x, y| {
        let [x, y] = [(f64::from(x) - 425.0) / 4.5, (f64::from(y) - 550.0) / 4.5];
        let [across, down] = [x * cosine + y * sine, y * cosine - x * sine];
        Rgb([if mark(across, down) { 30 } else { 250 }; 3])
    });
    let found = sheet(&scan);
    assert_eq!(found.lies, Lies::AllOfIt);
    assert!(
        (found.levelled + 2.0).abs() < 0.1,
        "levelled by {}",
        found.levelled
    );
}

#[test]
fn ruled_lines_are_taken_out_and_letters_stay() {
    let mut page = RgbImage::from_pixel(1000, 1400, Rgb([250; 3]));
    for x in 100..900 {
        for y in [300, 301, 500, 501] {
            page.put_pixel(x, y, Rgb([60; 3]));
        }
    }
    for y in 300..502 {
        for x in [100, 101, 899, 900] {
            page.put_pixel(x, y, Rgb([60; 3]));
        }
    }
    // A letter's stroke across the upper rule, and one that stands free.
    for y in 280..320 {
        for x in 200..206 {
            page.put_pixel(x, y, Rgb([20; 3]));
            page.put_pixel(x + 100, y + 100, Rgb([20; 3]));
        }
    }
    let found = sheet(&page);
    assert_eq!(found.rules.len(), 4, "{:?}", found.rules);
    let scale = f64::from(found.words.width()) / 1000.0;
    let at = |x: f64, y: f64| {
        found
            .words
            .get_pixel((x * scale) as u32, (y * scale) as u32)[0]
    };
    assert!(at(600.0, 301.0) > 240 && at(100.8, 400.0) > 240);
    assert!(at(203.0, 301.0) < 90 && at(303.0, 400.0) < 90);
}

#[test]
fn soft_writing_is_told_from_sharp_writing() {
    let sharp = HELD[0].picture();
    let soft = image::imageops::blur(&sharp, 3.0);
    let [sharp, soft] = [sharp, soft].map(|picture| sheet(&picture).blur);
    let soft_is_more = sharp
        .zip(soft)
        .is_none_or(|(sharp, soft)| soft > 1.5 * sharp);
    assert!(sharp.is_some() && soft_is_more, "{sharp:?} {soft:?}");
}

#[test]
fn turning_takes_corners_and_rules_along() {
    let mut page = RgbImage::from_pixel(600, 800, Rgb([250; 3]));
    for x in 50..550 {
        for y in 100..103 {
            page.put_pixel(x, y, Rgb([40; 3]));
        }
    }
    let found = sheet(&page);
    let once = found.clone().turned(1);
    let [l, t, r, b] = found.rules[0];
    let high = found.page.height();
    assert_eq!(once.rules[0], [high - b, l, high - t, r]);
    // A quarter clockwise: what was bottom left is top left.
    assert_eq!(once.corners[0], found.corners[3]);
    let back = once.turned(3);
    assert_eq!((back.rules, back.corners), (found.rules, found.corners));
    assert_eq!(back.page, found.page);
}

#[test]
fn any_picture_gets_an_answer() {
    for (wide, high) in [(1, 1), (1, 500), (500, 1), (3, 3), (65, 64), (640, 480)] {
        for shade in [0, 128, 255] {
            let found = sheet(&RgbImage::from_pixel(wide, high, Rgb([shade; 3])));
            assert!(found.page.width() > 0 && found.page.height() > 0);
        }
        let noise = RgbImage::from_fn(wide, high, |x, y| {
            Rgb([(x.wrapping_mul(2_654_435_761) ^ y.wrapping_mul(40_503) >> 3) as u8; 3])
        });
        let _ = sheet(&noise);
    }
    assert!(sheet_in(b"no picture").is_err());
}

#[test]
fn a_strip_is_cut_out_with_its_margin_and_stays_on_the_page() {
    let page = GrayImage::from_fn(400, 300, |x, _| Luma([(x / 2) as u8]));
    let page = jpeg_of(&page).unwrap();
    let size = |place, margin| {
        let strip = image::load_from_memory(&strip(&page, place, margin).unwrap()).unwrap();
        (strip.width(), strip.height())
    };
    assert_eq!(size([100, 50, 300, 80], 10), (220, 50));
    assert_eq!(size([0, 0, 400, 300], 50), (400, 300));
    assert_eq!(size([5000, 5000, 6000, 6000], 5), (1, 1));
    assert_eq!(size([300, 80, 100, 50], 0), (1, 1));
    assert_eq!(size([0, 0, u32::MAX, u32::MAX], u32::MAX), (400, 300));
    assert!(strip(b"nothing", [0; 4], 0).is_err());
}
