//! Files made to do harm: refused, or kept and never decoded without bounds.

use std::time::{Duration, Instant};

use photo::{Kind, MOST_BYTES, Refused, look, thumbnail, without_place};

use crate::samples::{chunk, exif, fixture, png, segment, with_segments};

/// Ten times what a slow test machine needs for the worst of these.
const SOON: Duration = Duration::from_secs(5);

fn soon<T>(work: impl FnOnce() -> T) -> T {
    let start = Instant::now();
    let done = work();
    assert!(start.elapsed() < SOON, "{:?}", start.elapsed());
    done
}

/// A JPEG with the size in its frame header changed; the header is found by its marker, 0xffc0 or 0xffc2.
fn resized(jpeg: &[u8], width: u16, height: u16) -> Vec<u8> {
    let at = jpeg
        .windows(2)
        .position(|w| w == b"\xff\xc0" || w == b"\xff\xc2")
        .unwrap();
    let mut bytes = jpeg.to_vec();
    bytes[at + 5..at + 7].copy_from_slice(&height.to_be_bytes());
    bytes[at + 7..at + 9].copy_from_slice(&width.to_be_bytes());
    bytes
}

#[test]
fn a_picture_of_fifty_thousand_by_fifty_thousand_is_refused_by_its_header() {
    let too_many = Refused::TooManyPixels {
        width: 50_000,
        height: 50_000,
    };
    let mut webp = b"RIFF\x16\0\0\0WEBPVP8X\x0a\0\0\0\0\0\0\0".to_vec();
    // One less than the size, three bytes each, little end first (RFC 9649).
    webp.extend_from_slice(&[0x4f, 0xc3, 0, 0x4f, 0xc3, 0]);
    let mut heic = fixture("place.heic");
    let at = heic.windows(4).position(|w| w == b"ispe").unwrap();
    heic[at + 8..at + 12].copy_from_slice(&50_000_u32.to_be_bytes());
    heic[at + 12..at + 16].copy_from_slice(&50_000_u32.to_be_bytes());
    for bomb in [
        png(50_000, 50_000, b""),
        resized(&fixture("plain.jpg"), 50_000, 50_000),
        resized(&fixture("progressive.jpg"), 50_000, 50_000),
        webp,
        heic,
    ] {
        soon(|| {
            assert_eq!(look(&bomb), Err(too_many.clone()));
            assert_eq!(thumbnail(&bomb, 480), Err(too_many.clone()));
            assert_eq!(without_place(&bomb), Err(too_many.clone()));
        });
    }
    assert_eq!(
        too_many.to_string(),
        "the picture is 50000 × 50000 pixels, and a photo may have 64 million; set the camera to a smaller picture size"
    );
    assert!(matches!(
        look(&png(u32::MAX, u32::MAX, b"")),
        Err(Refused::TooManyPixels { .. })
    ));
}

#[test]
fn a_small_file_that_claims_as_many_pixels_as_are_taken_ends_soon() {
    for bomb in [
        png(8000, 8000, b"\x78\x9c"),
        resized(&fixture("plain.jpg"), 8000, 8000),
    ] {
        assert!(look(&bomb).is_ok());
        soon(|| thumbnail(&bomb, 480).err());
    }
    let refused = thumbnail(&resized(&fixture("progressive.jpg"), 8000, 8000), 480).unwrap_err();
    assert_eq!(
        refused.to_string(),
        "the JPEG is kept, but is not shown small: it is progressive and has more than 30 million pixels"
    );
}

#[test]
fn pixels_too_deep_for_the_memory_given_are_not_decoded() {
    // Sixteen bits a colour and see-through: 8 bytes for each of 64 million pixels.
    let head = [
        &8000_u32.to_be_bytes()[..],
        &8000_u32.to_be_bytes(),
        &[16, 6, 0, 0, 0],
    ]
    .concat();
    let deep = [
        b"\x89PNG\r\n\x1a\n".to_vec(),
        chunk(b"IHDR", &head),
        chunk(b"IDAT", b"\x78\x9c"),
        chunk(b"IEND", b""),
    ]
    .concat();
    let refused = soon(|| thumbnail(&deep, 480)).unwrap_err();
    assert!(
        matches!(
            refused,
            Refused::NotShown {
                kind: Kind::Png,
                ..
            }
        ),
        "{refused}"
    );
}

#[test]
fn a_jpeg_of_endless_passes_is_not_decoded() {
    // The last scan of a progressive JPEG over and over, each of them a pass over the whole picture.
    let jpeg = fixture("progressive.jpg");
    let last = jpeg.windows(2).rposition(|w| w == b"\xff\xda").unwrap();
    let (head, scan) = jpeg[..jpeg.len() - 2].split_at(last);
    let passes = [head, &scan.repeat(20_000), b"\xff\xd9"].concat();
    assert!(look(&passes).is_ok());
    let refused = soon(|| thumbnail(&passes, 480)).unwrap_err();
    assert_eq!(
        refused.to_string(),
        "the JPEG is kept, but is not shown small: it is written in more passes than any camera makes"
    );
}

#[test]
fn notes_that_cost_much_to_unpack_are_given_up() {
    // Thousands of entries, each pointing at the whole block as text of empty lines, or as a block within.
    let length = 60_000_u32;
    for entry in [
        (0x8825, 2, length, [0; 4]),
        (0x8825, 1, length, [0; 4]),
        (0x9286, 2, length, [0; 4]),
    ] {
        let mut block = exif(&[vec![(0x112, 3, 1, [0, 8, 0, 0])], vec![entry; 4000]].concat());
        block.resize(65_000, 0);
        let notes = segment(0xe1, &[b"Exif\0\0", &block[..]].concat());
        let heavy = with_segments(&fixture("plain.jpg"), &notes.repeat(100));
        let picture = soon(|| look(&heavy)).unwrap();
        assert!(picture.place);
        assert_eq!(picture.orientation, 8);
    }
}

#[test]
fn a_file_cut_short_is_never_shown_as_if_it_were_whole() {
    for name in [
        "plain.jpg",
        "progressive.jpg",
        "place.jpg",
        "place.png",
        "place.webp",
        "plain.webp",
    ] {
        let whole = fixture(name);
        for length in 0..whole.len() {
            let cut = &whole[..length];
            let _ = look(cut);
            let shown = thumbnail(cut, 480);
            // The chunk that ends a PNG, and notes that end a WebP, have no pixels; decoders do without.
            if name.ends_with("jpg") {
                assert!(shown.is_err(), "{name} cut to {length}");
            }
            assert!(without_place(cut).is_err(), "{name} cut to {length}");
        }
        let half = thumbnail(&whole[..whole.len() / 2], 480);
        assert!(half.is_err(), "{name}");
    }
    let whole = fixture("plain.jpg");
    assert_eq!(
        thumbnail(&whole[..whole.len() - 2], 480)
            .unwrap_err()
            .to_string(),
        "the JPEG is damaged: it ends before its picture does; take the photo again, or send the file again"
    );
}

#[test]
fn a_heic_cut_short_is_refused_or_kept_but_never_shown_wrong() {
    let whole = fixture("preview.heic");
    for length in 0..whole.len() {
        let _ = look(&whole[..length]);
        if let Ok(small) = thumbnail(&whole[..length], 480) {
            assert_eq!(small, thumbnail(&whole, 480).unwrap());
        }
    }
}

#[test]
fn a_file_that_is_two_things_is_the_picture_that_it_begins_as() {
    let jpeg = fixture("plain.jpg");
    let clean = thumbnail(&jpeg, 480).unwrap();
    for tail in [
        &b"PK\x03\x04archive"[..],
        b"<html><script>alert(1)</script>",
        &fixture("place.png"),
    ] {
        let both = [&jpeg[..], tail].concat();
        assert_eq!(look(&both).unwrap(), look(&jpeg).unwrap());
        assert_eq!(thumbnail(&both, 480).unwrap(), clean);
        assert_eq!(without_place(&both).unwrap(), jpeg);
    }
    // A page within a comment, and one before the picture.
    let within = with_segments(&jpeg, &segment(0xfe, b"<html><script>alert(1)</script>"));
    assert_eq!(look(&within).unwrap().kind.media_type(), "image/jpeg");
    assert_eq!(without_place(&within).unwrap(), jpeg);
    let before = [b"<html><!--", &jpeg[..]].concat();
    assert_eq!(look(&before), Err(Refused::NotAPhoto("a web page")));
}

#[test]
fn a_file_that_only_begins_as_a_picture_is_damaged() {
    for bytes in [
        &b"\xff\xd8\xff"[..],
        b"\xff\xd8\xff<html>",
        b"\x89PNG\r\n\x1a\n",
        b"\x89PNG\r\n\x1a\n\xff\xff\xff\xffIHDR",
        b"RIFF\xff\xff\xff\xffWEBP",
        b"RIFF\x0c\0\0\0WEBPVP8X\xff\xff\xff\xff",
        b"\0\0\0\x10ftypheic\0\0\0\0",
        b"\xff\xff\xff\xffftypheic\0\0\0\0mif1",
    ] {
        let refused = look(bytes).unwrap_err();
        assert!(matches!(refused, Refused::Damaged { .. }), "{refused}");
    }
    // A picture without height or width.
    assert!(look(&png(0, 5, b"")).is_err());
    assert!(look(&resized(&fixture("plain.jpg"), 5, 0)).is_err());
}

#[test]
fn a_moving_picture_is_refused() {
    let mut moving = fixture("place.webp");
    assert_eq!(&moving[12..16], b"VP8X");
    moving[20] |= 2;
    assert_eq!(look(&moving), Err(Refused::Moving(Kind::Webp)));
}

#[test]
fn a_file_may_be_as_long_as_is_stated_and_no_longer() {
    let mut long = fixture("plain.jpg");
    long.resize(MOST_BYTES, 0);
    assert!(look(&long).is_ok());
    long.push(0);
    assert_eq!(
        look(&long).unwrap_err().to_string(),
        "the file has 33 MB, and a photo may have 33; set the camera to a smaller picture size"
    );
}
