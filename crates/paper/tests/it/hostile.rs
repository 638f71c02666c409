//! Texts that want to be markup, to be seen wrong, or to be too much.

use paper::{FIELD_CHARS, OsdPaper, PaperError, osd, tally_sheet};

use crate::pdf::{Pdf, squeeze};
use crate::sample;

/// A paper that says the text in every place where a text can stand.
fn everywhere(text: &str) -> OsdPaper {
    let mut paper = sample::paper();
    for field in [
        &mut paper.job,
        &mut paper.order,
        &mut paper.site,
        &mut paper.sender,
    ] {
        *field = text.to_owned();
    }
    for row in paper
        .short
        .iter_mut()
        .chain(&mut paper.damaged)
        .chain(&mut paper.to_come)
    {
        row.description = text.to_owned();
        row.mark = text.to_owned();
        row.unit = text.to_owned();
        row.says = text.to_owned();
        if let Some(sender) = &mut row.sender {
            sender.code = text.to_owned();
        }
        for seen in &mut row.seen {
            seen.words = text.to_owned();
            seen.who = text.to_owned();
        }
    }
    for shipment in &mut paper.shipments {
        shipment.carrier = text.to_owned();
        shipment.freight_bill = text.to_owned();
    }
    paper.notes = vec![text.to_owned()];
    paper
}

fn described(text: &str) -> OsdPaper {
    OsdPaper {
        job: "Hostile".into(),
        short: vec![sample::row("X1", text, [1, 1, 0, 0], 1)],
        ..OsdPaper::default()
    }
}

#[test]
fn markup_is_text() {
    for text in [
        "#panic(\"x\") #import \"common.typ\": *",
        "#{while true {}}",
        "$ x^2 $ and $unclosed",
        "[open (never {closed",
        "*bold* _it_ `raw` = head - item + enum / term: a",
        "\"double\" 'single' \\ back\\slash \\u{41} \\#",
        "<label> @ref ~ -- --- ... // comment /* block",
        "https://example.invalid/a?b=c#d",
        "%PDF-1.7 ) >> endobj (",
        "{\"json\": null}",
        "fi ff ffl \u{fb01}",
        "½ in × 6′ 3″ Ø48,3 ± 0,5 °",
        "Größe Ærø Łódź Ελλάδα Москва",
    ] {
        let pdf = Pdf::new(&osd(&everywhere(text), &sample::print()).unwrap());
        let found = pdf.letters().matches(&squeeze(text)).count();
        assert!(found >= 12, "{found} times: {text}\n{}", pdf.text());
        assert!(!pdf.letters().contains('\u{fffd}'), "{text}");
        assert_eq!(
            pdf.info("Title"),
            format!("Over, short and damaged: {text}")
        );
    }
}

#[test]
fn what_cannot_be_seen_is_shown() {
    for (text, shown, named) in [
        ("a\0b", "a\u{fffd}b", "U+0000"),
        ("a\u{1b}[31mb", "a\u{fffd}[31mb", "U+001B"),
        (
            "5 \u{202e}21\u{202c} pcs",
            "5\u{fffd}21\u{fffd}pcs",
            "U+202C, U+202E",
        ),
        ("a\u{200b}b\u{feff}", "a\u{fffd}b\u{fffd}", "U+200B, U+FEFF"),
        ("a\u{e000}\u{ffff}b", "a\u{fffd}\u{fffd}b", "U+E000, U+FFFF"),
        ("钢管 tube", "\u{fffd}\u{fffd}tube", "U+7BA1, U+94A2"),
        ("ok 👍🏽", "ok\u{fffd}\u{fffd}", "U+1F44D, U+1F3FD"),
    ] {
        let pdf = Pdf::new(&osd(&described(text), &sample::print()).unwrap());
        let letters = pdf.letters();
        assert!(letters.contains(shown), "{text:?}\n{}", pdf.text());
        for name in named.split(", ") {
            assert!(letters.contains(name), "{text:?}: {name}\n{}", pdf.text());
        }
    }
}

#[test]
fn accents_do_not_tower() {
    let text = format!("a{}b", "\u{301}".repeat(40));
    let letters = Pdf::new(&osd(&described(&text), &sample::print()).unwrap()).letters();
    assert!(
        letters.contains(&format!("{}b", "\u{fffd}".repeat(37))),
        "{letters}"
    );
}

/// Whatever the fonts make of a letter, a paper comes out, and it comes out sound.
#[test]
fn any_script_makes_a_paper() {
    for text in [
        "שלום עולם 26 יח׳",
        "أنبوب فولاذي ٢٦",
        "क\u{93e}र\u{94d}य",
        "q\u{30a}\u{e31}\u{651} z\u{489} ა\u{5b0} Ж\u{1ab0}",
        "ไทย ລາວ ქართული Հայերեն",
        "𝔘𝔫𝔦 ㎜ ㏕ ① ⅞ ﷽",
        "\u{301}\u{302} starts with a mark",
    ] {
        let pdf = Pdf::new(&osd(&everywhere(text), &sample::print()).unwrap());
        assert_eq!(pdf.info("Tagged"), "yes");
        assert!(pdf.qpdf().is_none_or(|(sound, _)| sound), "{text}");
    }
    let every_block: String = (0x20..0x30000u32)
        .step_by(61)
        .filter_map(char::from_u32)
        .collect();
    let pdf = Pdf::new(&osd(&described(&every_block), &sample::print()).unwrap());
    assert_eq!(pdf.info("Tagged"), "yes");
}

/// A font has this letter and this mark, and cannot set them together: found by setting every
/// character of Unicode up to U+2FFFF on an `a`.
#[test]
fn what_a_font_cannot_join_is_shown() {
    let pdf = Pdf::new(&osd(&described("ok a\u{1ab0}\u{485} ok"), &sample::print()).unwrap());
    let letters = pdf.letters();
    assert!(letters.contains("oka\u{fffd}\u{fffd}ok"), "{letters}");
}

#[test]
fn a_long_text_is_cut_and_says_so() {
    // One word, so that only breaking inside it keeps it on the sheet.
    let word: String = ('a'..='z').cycle().take(10_000).collect();
    let pdf = Pdf::new(&osd(&everywhere(&word), &sample::print()).unwrap());
    assert_eq!(pdf.info("Tagged"), "yes");

    let pdf = Pdf::new(&osd(&described(&word), &sample::print()).unwrap());
    let letters = pdf.letters();
    let kept = &word[..FIELD_CHARS];
    assert!(letters.contains("(8000morecharactersnotprinted)"));
    // Page ends stand between the letters of a cell that breaks; each line is there in order.
    let mut from = 0;
    for piece in kept.as_bytes().chunks(6) {
        let piece = std::str::from_utf8(piece).unwrap();
        let at = letters[from..]
            .find(piece)
            .unwrap_or_else(|| panic!("{piece} is missing"));
        from += at + piece.len();
    }
}

#[test]
fn a_long_word_stays_in_its_column() {
    let pdf = Pdf::new(&osd(&described(&"W".repeat(400)), &sample::print()).unwrap());
    let places = pdf.places(1);
    let long: Vec<_> = places
        .iter()
        .filter(|(word, ..)| word.contains("WWW"))
        .collect();
    let column = places.iter().find(|(word, ..)| word == "Needed").unwrap();
    assert!(long.len() > 5, "{places:?}");
    for (word, _, right) in long {
        assert!(*right < column.1, "{word} reaches to {right}");
    }
}

#[test]
fn no_long_word_leaves_the_sheet() {
    let word = "W".repeat(10_000);
    let mut sheet = sample::tally();
    sheet.job = word.clone();
    for group in &mut sheet.groups {
        group.name = word.clone();
        group.rows[0].mark = word.clone();
        group.rows[0].description = word.clone();
        group.rows[0].unit = word.clone();
    }
    for bytes in [
        osd(&everywhere(&word), &sample::print()).unwrap(),
        tally_sheet(&sheet, &sample::print()).unwrap(),
    ] {
        let pdf = Pdf::new(&bytes);
        // 612 points of width, 16 mm of margin.
        let edge = 612.0 - 16.0 / 25.4 * 72.0;
        for page in 1..=pdf.pages() {
            for (word, left, right) in pdf.places(page) {
                assert!(
                    left > 0.0 && right < edge + 0.5,
                    "page {page}: {word} reaches to {right}"
                );
            }
        }
    }
}

#[test]
fn line_breaks_stay() {
    let paper = OsdPaper {
        job: "Breaks".into(),
        notes: vec!["first\r\nsecond\rthird\n\nfifth".into()],
        ..OsdPaper::default()
    };
    let text = Pdf::new(&osd(&paper, &sample::print()).unwrap()).text();
    let lines: Vec<&str> = text.lines().map(str::trim).collect();
    for word in ["second", "third", "fifth"] {
        assert!(lines.contains(&word), "{text}");
    }
    assert!(!text.contains('\u{fffd}'));
}

#[test]
fn too_much_is_refused() {
    let mut paper = sample::paper();
    paper.over = vec![sample::row("X", "x", [0, 0, 1, 1], 1); 5_001];
    let error = osd(&paper, &sample::print()).unwrap_err();
    assert!(
        matches!(error, PaperError::TooMuch { most: 5_000, .. }),
        "{error}"
    );

    let long = "long ".repeat(400);
    paper.over = vec![sample::row("X", &long, [0, 0, 1, 1], 1); 501];
    let error = osd(&paper, &sample::print()).unwrap_err();
    assert!(
        matches!(
            error,
            PaperError::TooMuch {
                what: "characters",
                ..
            }
        ),
        "{error}"
    );
}
