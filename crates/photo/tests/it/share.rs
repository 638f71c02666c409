//! The copy that is shared.

use photo::{Refused, look, without_place};

use crate::samples::{chunk, fixture, holds, pixels, said, segment, with_segments};

#[test]
fn the_pixels_and_how_they_are_turned_stay() {
    for said in said() {
        if said.upright.is_none() {
            continue;
        }
        let came = fixture(&said.name);
        let shared = without_place(&came).unwrap();
        let (before, after) = (look(&came).unwrap(), look(&shared).unwrap());
        assert_eq!(after.orientation, before.orientation, "{}", said.name);
        assert_eq!(after.shown, before.shown);
        assert_eq!((after.taken, after.place), (None, false), "{}", said.name);
        // The decoder of the image crate sees the very same pixels.
        assert_eq!(pixels(&shared), pixels(&came), "{}", said.name);
    }
}

#[test]
fn nothing_that_was_noted_is_left() {
    for name in ["place.jpg", "place.png", "place.webp"] {
        let came = fixture(name);
        let shared = without_place(&came).unwrap();
        assert!(holds(&came, b"Invented") && holds(&came, b"2026:05:04"));
        for text in [
            &b"Invented"[..],
            b"2026",
            b"GPS",
            b"xmp",
            b"gate",
            b"-07:00",
        ] {
            assert!(
                !holds(&shared, text),
                "{name} {}",
                String::from_utf8_lossy(text)
            );
        }
    }
    // One picture starts in the file that came with an inner preview, and one alone is in what is shared.
    let starts = |bytes: &[u8]| {
        bytes
            .windows(3)
            .filter(|window| window == b"\xff\xd8\xff")
            .count()
    };
    assert_eq!(starts(&fixture("place.jpg")), 2);
    assert_eq!(starts(&without_place(&fixture("place.jpg")).unwrap()), 1);
}

#[test]
fn another_reader_of_exif_finds_the_turn_and_nothing_else() {
    for name in ["turned-6.jpg", "place.png", "place.webp"] {
        let shared = without_place(&fixture(name)).unwrap();
        let exif = exif::Reader::new()
            .read_from_container(&mut std::io::Cursor::new(shared))
            .unwrap();
        let fields: Vec<String> = exif
            .fields()
            .map(|f| format!("{} {}", f.tag, f.display_value()))
            .collect();
        assert_eq!(
            fields,
            ["Orientation row 0 at right and column 0 at top"],
            "{name}"
        );
    }
    let plain = without_place(&fixture("plain.jpg")).unwrap();
    assert!(!holds(&plain, b"Exif"));
}

#[test]
fn a_plain_picture_is_shared_byte_for_byte() {
    // Pillow writes nothing beside the picture into these two.
    for name in ["plain.jpg", "plain.webp"] {
        assert_eq!(without_place(&fixture(name)).unwrap(), fixture(name));
    }
}

#[test]
fn a_colour_profile_stays_and_other_notes_go() {
    let profile = segment(0xe2, b"ICC_PROFILE\0\x01\x01a profile");
    let others = [
        segment(0xe2, b"MPF\0MM\0*where the next picture lies"),
        segment(0xe0, b"JFXX\0\x10a preview"),
        segment(0xed, b"Photoshop 3.0\0a town"),
        segment(0xef, b"a maker's own"),
        segment(0xfe, b"a comment"),
    ]
    .concat();
    let plain = fixture("plain.jpg");
    let shared =
        without_place(&with_segments(&plain, &[profile.clone(), others].concat())).unwrap();
    assert_eq!(shared, with_segments(&plain, &profile));
}

#[test]
fn the_preview_of_a_jfif_head_goes() {
    // One pixel of preview: ITU-T T.871, Xthumbnail and Ythumbnail, then its pixels.
    let with = segment(
        0xe0,
        b"JFIF\0\x01\x01\x00\x00\x01\x00\x01\x01\x01\xaa\xbb\xcc",
    );
    let without = segment(0xe0, b"JFIF\0\x01\x01\x00\x00\x01\x00\x01\0\0");
    let plain = fixture("plain.jpg");
    let bare = [&plain[..2], &plain[20..]].concat();
    assert_eq!(&plain[2..4], b"\xff\xe0");
    let shared = without_place(&with_segments(&bare, &with)).unwrap();
    assert_eq!(shared, with_segments(&bare, &without));
}

#[test]
fn what_follows_the_picture_goes() {
    for name in ["plain.jpg", "place.png", "plain.webp"] {
        let came = fixture(name);
        let clean = without_place(&came).unwrap();
        for tail in [
            &b"PK\x03\x04 an archive"[..],
            b"<script>alert(1)</script>",
            &fixture("place.jpg"),
        ] {
            let longer = [&came[..], tail].concat();
            assert_eq!(without_place(&longer).unwrap(), clean, "{name}");
        }
    }
}

#[test]
fn text_in_a_png_goes() {
    let came = fixture("place.png");
    let text = [
        chunk(b"tEXt", b"Comment\0at the gate"),
        chunk(b"zTXt", b"Raw profile type exif\0\0packed"),
        chunk(b"tIME", &[7, 234, 5, 4, 7, 31, 9]),
        chunk(b"prVt", b"a maker's own"),
    ]
    .concat();
    // After the signature and the head.
    let longer = [&came[..33], &text, &came[33..]].concat();
    assert!(look(&longer).unwrap().place);
    assert_eq!(
        without_place(&longer).unwrap(),
        without_place(&came).unwrap()
    );
}

#[test]
fn a_heic_is_not_shared_as_if_it_were_clean() {
    let refused = without_place(&fixture("place.heic")).unwrap_err();
    assert!(matches!(refused, Refused::CannotClean(_)));
    assert_eq!(
        refused.to_string(),
        "what the HEIC says of its place cannot be taken out here; share it as it is, place and all, or share a JPEG in \
         its stead"
    );
}
