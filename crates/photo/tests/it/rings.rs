//! Tube ends are found in drawn bundles and in two real pictures, and any picture gets an answer.

use std::time::{Duration, Instant};

use image::codecs::jpeg::JpegEncoder;
use image::{DynamicImage, GrayImage, Luma, RgbImage};
use photo::{Ring, rings, rings_in};

use crate::rings_scene::{Condition, Dice, draw};
use crate::rings_score::{Tally, judge};

/// The bench draws 1280 pixels wide; here less, as tests are not built for speed.
const WIDTH: u32 = 640;

/// Which bundle is drawn, by number.
const TEN: u64 = 2001;
const HEXAGON_37: u64 = 2004;
const HEXAGON_61: u64 = 2008;
const HEXAGON_91: u64 = 2012;
const BRICK_11: u64 = 2002;
const HEAP_10: u64 = 2003;
const SQUARE_24: u64 = 2005;
const HEAP_21: u64 = 2007;
/// Half of it lies in a deep shadow.
const SHADED_61: u64 = 1000;

/// No more than these ends of these pictures are missed, and no more rings than these are none. On 2026-11-25 all were
/// found and none was wrong but for those in the deep shadow; one may be lost where another machine rounds otherwise.
fn at_most(condition: Condition, numbers: &[u64], missed: u32, wrong: u32) {
    let mut all = Tally::default();
    for &number in numbers {
        let drawn = draw(condition, number, WIDTH);
        let luma = DynamicImage::from(drawn.picture).into_luma8();
        all.add(&judge(&rings(&luma), &drawn.ends, WIDTH));
    }
    assert!(
        all.wanted - all.found <= missed && all.wrong <= wrong,
        "{condition:?}: {} of {} found, {} wrong",
        all.found,
        all.wanted,
        all.wrong
    );
    // 0.061 at most, on rusty rims
    let off = all.off / all.found as f32;
    assert!(off < 0.08, "{condition:?}: middles are {off} radii off");
}

#[test]
fn the_drawn_bundles_are_as_large_as_said() {
    let sizes = [
        (TEN, 10),
        (HEXAGON_37, 37),
        (HEXAGON_61, 61),
        (HEXAGON_91, 91),
        (BRICK_11, 11),
        (HEAP_10, 10),
        (SQUARE_24, 24),
        (HEAP_21, 21),
        (SHADED_61, 61),
    ];
    for (number, tubes) in sizes {
        assert_eq!(draw(Condition::Mild, number, 40).ends.len(), tubes);
    }
}

#[test]
fn mild_and_far_pictures_give_all() {
    let all_sizes = [TEN, HEXAGON_37, HEXAGON_61, HEXAGON_91];
    at_most(Condition::Mild, &all_sizes, 1, 1);
    at_most(Condition::Far, &[TEN, HEXAGON_37], 1, 1);
}

#[test]
fn blur_noise_rust_and_shade_cost_little() {
    at_most(Condition::Blur, &[HEAP_10, HEXAGON_61], 1, 1);
    at_most(Condition::Noise, &[TEN, HEXAGON_61], 1, 1);
    at_most(Condition::Rust, &[BRICK_11, HEXAGON_91], 1, 1);
    at_most(Condition::Shade, &[SQUARE_24, HEXAGON_37], 1, 1);
}

#[test]
fn slant_strap_clutter_and_a_cut_off_bundle_cost_little() {
    at_most(Condition::Slant, &[TEN, HEXAGON_61], 1, 1);
    at_most(Condition::Strap, &[HEAP_21, HEXAGON_37], 1, 1);
    at_most(Condition::Clutter, &[HEAP_10, HEXAGON_37], 1, 1);
    at_most(Condition::Cropped, &[SQUARE_24, HEXAGON_91], 1, 1);
}

#[test]
fn dark_rims_light_through_the_tubes_and_light_inside_cost_little() {
    at_most(Condition::DarkRim, &[TEN, HEXAGON_61], 1, 1);
    at_most(Condition::SeeThrough, &[HEAP_21, HEXAGON_37], 1, 1);
    at_most(Condition::LitInside, &[BRICK_11, HEXAGON_37], 1, 1);
}

#[test]
fn all_troubles_at_once_leave_most() {
    let all_sizes = [TEN, HEXAGON_37, SHADED_61, HEXAGON_91];
    at_most(Condition::AllAtOnce, &all_sizes, 24, 2);
}

/// The edge of the shadow round a bundle was once taken for the rims of few large tubes: middles were 0.097 radii off.
#[test]
fn the_edge_of_a_shadow_is_not_taken_for_a_rusty_rim() {
    let mut all = Tally::default();
    for number in [210, 226, 242] {
        let drawn = draw(Condition::Rust, number, 800);
        let luma = DynamicImage::from(drawn.picture).into_luma8();
        all.add(&judge(&rings(&luma), &drawn.ends, 800));
    }
    assert_eq!((all.wanted, all.found, all.wrong), (33, 33, 0));
    // 0.037 on 2026-11-25
    let off = all.off / all.found as f32;
    assert!(off < 0.05, "middles are {off} radii off");
}

fn jpeg(picture: &RgbImage) -> Vec<u8> {
    let mut bytes = Vec::new();
    JpegEncoder::new_with_quality(&mut bytes, 85)
        .encode_image(picture)
        .expect("a picture of our own");
    bytes
}

#[test]
fn a_photo_is_decoded_and_scaled_and_rings_are_shares_of_its_width() {
    let drawn = draw(Condition::Mild, HEXAGON_37, 1500);
    let found = rings_in(&jpeg(&drawn.picture)).expect("a whole JPEG");
    let all = judge(&found, &drawn.ends, 1500);
    assert!(all.recall() >= 0.97 && all.precision() >= 0.97, "{all:?}");
}

#[test]
fn a_photo_that_lies_on_its_side_is_stood_up_first() {
    let drawn = draw(Condition::Mild, SQUARE_24, WIDTH);
    let upright = jpeg(&drawn.picture);
    // stored turned a quarter to the left; EXIF orientation 6 says: turn it a quarter to the right (CIPA DC-008)
    let lying = jpeg(&image::imageops::rotate270(&drawn.picture));
    let mut turned = lying[..2].to_vec();
    turned.extend_from_slice(
        b"\xff\xe1\0\x22Exif\0\0MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\x06\0\0\0\0\0\0",
    );
    turned.extend_from_slice(&lying[2..]);
    let (upright, turned) = (
        rings_in(&upright).expect("whole"),
        rings_in(&turned).expect("whole"),
    );
    assert_eq!(upright.len(), turned.len());
    let all = judge(&turned, &drawn.ends, WIDTH);
    assert!(all.recall() >= 0.97 && all.precision() >= 0.97, "{all:?}");
}

#[test]
fn what_is_no_photo_is_refused() {
    assert!(rings_in(b"").is_err());
    assert!(rings_in(b"not a picture at all").is_err());
}

#[test]
fn the_same_picture_gives_the_same_rings_surest_first() {
    let drawn = draw(Condition::AllAtOnce, SQUARE_24, WIDTH);
    let luma = DynamicImage::from(drawn.picture).into_luma8();
    let found = rings(&luma);
    assert_eq!(found, rings(&luma));
    assert!(found.is_sorted_by(|a, b| a.sure >= b.sure));
    assert!(
        found
            .iter()
            .all(|r| (0.5..=1.0).contains(&r.sure) && r.radius > 0.0)
    );
}

fn answered(picture: &GrayImage) -> Vec<Ring> {
    let start = Instant::now();
    let found = rings(picture);
    // generous, as tests run many at once and are not built for speed
    assert!(
        start.elapsed() < Duration::from_secs(60),
        "{:?} took {:?}",
        picture.dimensions(),
        start.elapsed()
    );
    assert!(
        found
            .iter()
            .all(|r| [r.x, r.y, r.radius, r.sure].iter().all(|v| v.is_finite()))
    );
    found
}

#[test]
fn any_picture_gets_an_answer() {
    let mut dice = Dice::new(1);
    for (width, height) in [
        (0, 0),
        (1, 1),
        (2, 1),
        (1, 3),
        (5, 5),
        (17, 40),
        (3, 9000),
        (60_000, 1),
        (60_000, 7),
        (64, 64),
    ] {
        answered(&GrayImage::new(width, height));
        answered(&GrayImage::from_pixel(width, height, Luma([255])));
        answered(&GrayImage::from_fn(width, height, |_, _| {
            Luma([dice.next() as u8])
        }));
        answered(&GrayImage::from_fn(width, height, |x, y| {
            Luma([if (x / 3 + y / 3) % 2 == 0 { 0 } else { 255 }])
        }));
    }
}

#[test]
fn a_picture_without_tubes_gives_next_to_none() {
    let mut dice = Dice::new(2);
    assert_eq!(answered(&GrayImage::from_pixel(600, 450, Luma([0]))), []);
    let noise = answered(&GrayImage::from_fn(600, 450, |_, _| {
        Luma([dice.next() as u8])
    }));
    assert!(noise.len() <= 1, "{} rings in noise", noise.len());
    let planks = answered(&GrayImage::from_fn(600, 450, |x, y| {
        Luma([((x / 40 * 57) % 140 + (y / 9 * 13) % 60) as u8])
    }));
    assert!(planks.len() <= 1, "{} rings on planks", planks.len());
}

/// Real pictures of round things, counted by eye. They show coins, of several sizes in the first; no package was found
/// with a picture of tubes that may be passed on, so how the finder does on real bundles is not known from here.
#[test]
fn coins_in_real_pictures_are_found() {
    // scikit-image 0.26.0, skimage/data/coins.png: coins from Pompeii in four rows of six, Brooklyn Museum, "no known
    // copyright restrictions"
    let felt = rings_in(include_bytes!("../fixtures/rings-coins-on-felt.png")).expect("whole");
    // Debian's opencv-doc 4.6.0, html/coins.jpg: 24 coins on a scanner; Apache-2.0 and BSD-3-Clause as that package says
    let scanned = rings_in(include_bytes!("../fixtures/rings-coins-scanned.jpg")).expect("whole");
    // middles by eye, in 313ths of the width
    let by_eye = [
        [
            (36, 44),
            (82, 46),
            (127, 41),
            (176, 42),
            (225, 43),
            (273, 36),
        ],
        [
            (37, 101),
            (83, 103),
            (126, 104),
            (168, 101),
            (221, 97),
            (275, 101),
        ],
        [
            (36, 160),
            (83, 159),
            (126, 162),
            (174, 157),
            (223, 159),
            (284, 152),
        ],
        [
            (38, 212),
            (93, 217),
            (141, 213),
            (199, 215),
            (246, 215),
            (292, 220),
        ],
    ];
    let is_on = |ring: &Ring, (x, y): (i32, i32)| {
        (ring.x * 313.0 - x as f32).hypot(ring.y * 313.0 - y as f32) < 8.0
    };
    let found = by_eye
        .iter()
        .flatten()
        .filter(|&&coin| felt.iter().any(|ring| is_on(ring, coin)))
        .count();
    // 22 on 2026-11-25: two worn ones are missed, nothing is made up
    assert!(found >= 21, "{found} of 24");
    assert!(
        felt.len() <= found + 1,
        "{} rings on {found} coins",
        felt.len()
    );
    assert_eq!(scanned.len(), 24);
    let apart = |a: &Ring, b: &Ring| (a.x - b.x).hypot(a.y - b.y) > 1.5 * a.radius;
    assert!(
        scanned
            .iter()
            .enumerate()
            .all(|(i, a)| scanned[..i].iter().all(|b| apart(a, b)))
    );
}
