//! Small copies.

use photo::{Refused, thumbnail, upright};

use crate::samples::{Upright, fixture, holds, pixels, said};

/// Two lossy codings apart.
const NEAR: u8 = 12;

#[test]
fn small_copies_stand_upright_as_other_programs_turn_them() {
    let mut compared = 0;
    for said in said() {
        let Some(Upright {
            size: shown,
            corners,
        }) = said.upright
        else {
            continue;
        };
        if said.name == "four-inks.jpg" {
            continue;
        }
        for longest_side in [480, 24] {
            let small = pixels(&thumbnail(&fixture(&said.name), longest_side).unwrap());
            let scale = 48 / longest_side.min(48);
            assert_eq!(
                small.dimensions(),
                (shown.0 / scale, shown.1 / scale),
                "{}",
                said.name
            );
            let (right, bottom) = (small.width() - 3, small.height() - 3);
            for (at, expected) in [(2, 2), (right, 2), (right, bottom), (2, bottom)]
                .iter()
                .zip(corners)
            {
                let found = small.get_pixel(at.0, at.1).0;
                let far = found
                    .iter()
                    .zip(expected)
                    .any(|(a, b)| a.abs_diff(b) > NEAR);
                assert!(
                    !far,
                    "{} at {longest_side}: {found:?} for {expected:?}",
                    said.name
                );
            }
            compared += 1;
        }
    }
    assert_eq!(compared, 32);
}

#[test]
fn a_small_copy_has_no_notes() {
    for name in ["place.jpg", "place.png", "place.webp", "preview.heic"] {
        let small = thumbnail(&fixture(name), 480).unwrap();
        for text in [&b"Exif"[..], b"http", b"Invented", b"2026", b"gate"] {
            assert!(!holds(&small, text), "{name}");
        }
    }
    assert!(holds(&fixture("place.jpg"), b"Invented"));
}

#[test]
fn a_heic_shows_the_small_jpeg_within_or_says_that_there_is_none() {
    let small = pixels(&thumbnail(&fixture("preview.heic"), 480).unwrap());
    assert_eq!(small.dimensions(), (24, 16));
    let refused = thumbnail(&fixture("place.heic"), 480).unwrap_err();
    assert_eq!(
        refused.to_string(),
        "the HEIC is kept as it is, but cannot be shown here and holds no small JPEG; open it on the phone that took it, \
         and set the phone's camera to JPEG (\"most compatible\") for the next"
    );
    assert!(thumbnail(&fixture("place.avif"), 480).is_err());
}

#[test]
fn shape_is_kept_and_nothing_vanishes() {
    let jpeg = |width, height| {
        let mut out = Vec::new();
        let grey = image::GrayImage::from_pixel(width, height, image::Luma([128]));
        image::codecs::jpeg::JpegEncoder::new(&mut out)
            .encode_image(&grey)
            .unwrap();
        out
    };
    let size = |bytes: &[u8], side| upright(bytes, side).unwrap().dimensions();
    assert_eq!(size(&jpeg(4000, 30), 480), (480, 4));
    assert_eq!(size(&jpeg(3000, 1), 480), (480, 1));
    assert_eq!(size(&jpeg(1, 3000), 480), (1, 480));
    assert_eq!(size(&jpeg(999, 998), 480), (480, 480));
    assert_eq!(size(&jpeg(481, 480), 480), (480, 479));
    assert_eq!(size(&jpeg(7, 5), 480), (7, 5));
    // Sides that make no sense are brought into bounds.
    assert_eq!(size(&jpeg(7, 5), 0), (1, 1));
    assert_eq!(size(&jpeg(5000, 10), u32::MAX), (4096, 8));
}

#[test]
fn decoding_small_gives_what_decoding_whole_and_averaging_gives() {
    // A picture with fine detail, 16 times as large as its copy.
    let drawn = image::RgbImage::from_fn(1600, 1200, |x, y| {
        image::Rgb([(x / 7) as u8, (y / 5) as u8, ((x * y / 4000) % 256) as u8])
    });
    let mut jpeg = Vec::new();
    image::codecs::jpeg::JpegEncoder::new_with_quality(&mut jpeg, 92)
        .encode_image(&drawn)
        .unwrap();
    let small = upright(&jpeg, 100).unwrap();
    let whole = image::imageops::thumbnail(&pixels(&jpeg), 100, 75);
    let apart: u64 = small
        .iter()
        .zip(whole.iter())
        .map(|(a, b)| u64::from(a.abs_diff(*b)))
        .sum();
    let mean = apart as f64 / small.len() as f64;
    assert!(mean < 4.0, "{mean}");
}

#[test]
fn what_is_see_through_is_white() {
    let clear = image::RgbaImage::from_fn(40, 20, |x, _| {
        image::Rgba([0, 0, 0, if x < 20 { 0 } else { 255 }])
    });
    let mut png = std::io::Cursor::new(Vec::new());
    clear.write_to(&mut png, image::ImageFormat::Png).unwrap();
    let small = upright(png.get_ref(), 20).unwrap();
    assert_eq!(small.get_pixel(2, 5).0, [255; 3]);
    assert_eq!(small.get_pixel(17, 5).0, [0; 3]);
}

#[test]
fn colours_for_printing_are_kept_but_not_shown() {
    let refused = thumbnail(&fixture("four-inks.jpg"), 480).unwrap_err();
    assert!(matches!(refused, Refused::NotShown { .. }), "{refused}");
}
