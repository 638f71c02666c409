//! What a picture's headers say.

use photo::{Kind, Refused, Size, look};

use crate::samples::{exif, fixture, said, segment, with_segments};

#[test]
fn sizes_are_those_that_other_programs_say() {
    for said in said() {
        let picture = look(&fixture(&said.name)).unwrap();
        let (width, height) = said.stored;
        assert_eq!(picture.stored, Size { width, height }, "{}", said.name);
        if let Some(upright) = said.upright {
            let (width, height) = upright.size;
            assert_eq!(picture.shown, Size { width, height }, "{}", said.name);
        }
    }
}

#[test]
fn the_kind_is_read_from_the_bytes() {
    for (name, kind) in [
        ("plain.jpg", Kind::Jpeg),
        ("place.png", Kind::Png),
        ("place.webp", Kind::Webp),
        ("plain.webp", Kind::Webp),
        ("place.heic", Kind::Heic),
        ("place.avif", Kind::Avif),
    ] {
        assert_eq!(look(&fixture(name)).unwrap().kind, kind);
    }
    // The first box alone names it HEIF: brands of ISO/IEC 23008-12 (M).
    let mut heif = fixture("place.heic");
    heif[8..12].copy_from_slice(b"mif1");
    for at in (16..40).step_by(4) {
        if &heif[at..at + 4] == b"heic" {
            heif[at..at + 4].copy_from_slice(b"miaf");
        }
    }
    assert_eq!(look(&heif).unwrap().kind, Kind::Heif);
}

#[test]
fn time_and_place_are_found_where_they_were_written() {
    let taken = Some("2026-05-04T07:31:09-07:00");
    for (name, taken, place) in [
        ("turned-3.jpg", taken, false),
        ("place.jpg", taken, true),
        ("place.png", taken, true),
        ("place.webp", taken, true),
        ("place.heic", taken, true),
        ("place.avif", taken, true),
        ("plain.jpg", None, false),
        ("plain.webp", None, false),
        ("in-xmp.jpg", None, true),
    ] {
        let picture = look(&fixture(name)).unwrap();
        assert_eq!(picture.taken.as_deref(), taken, "{name}");
        assert_eq!(picture.place, place, "{name}");
    }
}

#[test]
fn a_time_that_is_none_is_not_told() {
    let name = "turned-1.jpg";
    let written = fixture(name);
    let at = written
        .windows(19)
        .position(|w| w == b"2026:05:04 07:31:09")
        .unwrap();
    let changed = |to: &[u8; 19]| {
        let mut bytes = written.clone();
        bytes[at..at + 19].copy_from_slice(to);
        look(&bytes).unwrap().taken
    };
    assert_eq!(
        changed(b"2025:12:31 23:59:60").unwrap(),
        "2025-12-31T23:59:60-07:00"
    );
    for none in [
        b"0000:00:00 00:00:00",
        b"    :  :     :  :  ",
        b"2026:13:04 07:31:09",
        b"2026:05:04 24:31:09",
        b"2026-05-04T07:31:09",
        b"<script>alert()</sc",
    ] {
        assert_eq!(changed(none), None);
    }
}

#[test]
fn an_offset_that_is_none_is_left_out() {
    let mut bytes = fixture("turned-1.jpg");
    let at = bytes.windows(6).position(|w| w == b"-07:00").unwrap();
    bytes[at..at + 6].copy_from_slice(b"-<:00>");
    assert_eq!(look(&bytes).unwrap().taken.unwrap(), "2026-05-04T07:31:09");
}

#[test]
fn damaged_notes_are_read_as_far_as_they_go_and_may_tell_a_place() {
    let turned = (0x112, 3, 1, [0, 6, 0, 0]);
    // A value, and a block about the place, that both lie outside.
    let cut_value = (0x110, 2, 9000, [0, 0, 99, 0]);
    let cut_place = (0x8825, 4, 1, [0, 0, 99, 0]);
    for (entries, place) in [
        (vec![turned, cut_value], false),
        (vec![turned, cut_place], true),
        (vec![cut_place, turned], true),
    ] {
        let notes = segment(0xe1, &[b"Exif\0\0", &exif(&entries)[..]].concat());
        let picture = look(&with_segments(&fixture("plain.jpg"), &notes)).unwrap();
        assert_eq!(picture.orientation, 6);
        assert_eq!(picture.place, place);
        assert_eq!(
            picture.shown,
            Size {
                width: 32,
                height: 48
            }
        );
    }
}

#[test]
fn an_orientation_that_is_none_leaves_it_as_it_is() {
    for value in [0, 9, 255] {
        let block = exif(&[(0x112, 3, 1, [0, value, 0, 0])]);
        let notes = segment(0xe1, &[b"Exif\0\0", &block[..]].concat());
        let picture = look(&with_segments(&fixture("plain.jpg"), &notes)).unwrap();
        assert_eq!(picture.orientation, 1);
    }
}

#[test]
fn notes_that_are_not_looked_into_may_tell_a_place() {
    let plain = fixture("plain.jpg");
    let town = segment(0xed, b"Photoshop 3.0\x008BIM");
    assert!(look(&with_segments(&plain, &town)).unwrap().place);
    // A second block of EXIF, after one that tells none.
    let block = exif(&[(0x112, 3, 1, [0, 1, 0, 0])]);
    let notes = segment(0xe1, &[b"Exif\0\0", &block[..]].concat());
    assert!(!look(&with_segments(&plain, &notes)).unwrap().place);
    assert!(
        look(&with_segments(&plain, &notes.repeat(2)))
            .unwrap()
            .place
    );
}

#[test]
fn heic_is_kept_with_advice() {
    let none = look(&fixture("place.heic")).unwrap();
    assert!(!none.can_be_shown);
    assert_eq!(
        none.advice().unwrap(),
        "Kept as it is. This computer cannot show it, and there is no small picture inside it; the phone that took it can. \
         For the next, set the phone's camera to JPEG (\"most compatible\")."
    );
    let small = look(&fixture("preview.heic")).unwrap();
    assert!(small.can_be_shown);
    assert!(
        small
            .advice()
            .unwrap()
            .contains("the small picture inside it")
    );
    assert_eq!(look(&fixture("plain.jpg")).unwrap().advice(), None);
}

#[test]
fn what_is_no_photo_is_named() {
    for (bytes, name) in [
        (&b"GIF89a\x01\0\x01\0"[..], "a GIF"),
        (b"%PDF-1.7\n", "a PDF"),
        (b"PK\x03\x04\x14\0", "a ZIP archive or an office document"),
        (
            b"<svg xmlns=\"http://www.w3.org/2000/svg\"/>",
            "an SVG drawing",
        ),
        (b"<?xml version=\"1.0\"?>\n<svg/>", "an SVG drawing"),
        (b"<!DOCTYPE html><p>\xff\xd8\xff", "a web page"),
        (b"\xef\xbb\xbf<HTML>", "a web page"),
        (b"mark,quantity\nB1,26\n", "text"),
        (b"MM\0*\0\0\0\x08", "a TIFF or a camera's raw file"),
        (
            b"\0\0\0\x18ftypmp42\0\0\0\0isommp42",
            "a film or a camera's raw file",
        ),
        (
            b"\0\0\0\x14ftypqt  \0\0\0\0qt  ",
            "a film or a camera's raw file",
        ),
        (b"RIFF\x24\0\0\0WAVEfmt ", "a file of no kind known here"),
        (b"\x07\x00\x01", "a file of no kind known here"),
        (b"\xff\xd8", "a file of no kind known here"),
    ] {
        assert_eq!(look(bytes), Err(Refused::NotAPhoto(name)), "{bytes:?}");
    }
    assert_eq!(look(b""), Err(Refused::Empty));
    assert_eq!(
        look(b"%PDF-1.7").unwrap_err().to_string(),
        "this is a PDF, not a photo; send a JPEG, PNG, WebP or HEIC picture"
    );
}
