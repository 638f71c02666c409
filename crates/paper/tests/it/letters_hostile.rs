//! Letters whose texts want to be markup, to be seen wrong, or to be too much; and very many photos.

use paper::{
    CarrierClaim, ClaimLine, DamageNotice, Due, MOST_PHOTOS, Missing, NoticeRow, PaperError, Party,
    Photo, ReplacementOrder, ReplacementRow, ReturnList, ReturnRow, SenderNotice, SenderWords,
    Source, carrier_claim, damage_notice, replacement_order, return_list, sender_notice,
};

use crate::pdf::{Pdf, squeeze};
use crate::{sample, sample_letters};

/// Every letter, saying the text in every place where a text can stand.
fn everywhere(text: &str) -> Vec<Vec<u8>> {
    let t = || text.to_owned();
    let words = || SenderWords {
        code: t(),
        description: t(),
        place: t(),
    };
    let head = |letter: &mut paper::Letter| {
        for field in [
            &mut letter.job,
            &mut letter.order,
            &mut letter.order_number,
            &mut letter.site,
            &mut letter.date,
            &mut letter.reference,
        ] {
            *field = t();
        }
        let party = || Party {
            name: t(),
            address: t(),
            contact: t(),
        };
        (letter.from, letter.to) = (party(), party());
        letter.missing = vec![Missing::of(text, text)];
        letter.due = vec![Due {
            what: t(),
            by: t(),
            rule: t(),
        }];
        letter.sources = vec![Source {
            says: t(),
            cite: t(),
            known: t(),
        }];
        letter.remarks = vec![t()];
    };
    let photo = || Photo {
        who: t(),
        when: t(),
        ..sample_letters::photo(text, text)
    };
    let print = sample::print();

    let mut notice = sample_letters::notice_of_damage();
    head(&mut notice.letter);
    notice.carriage.receipt_note = Some(t());
    notice.carriage.carrier = t();
    notice.kept = t();
    notice.harm[0].description = t();
    notice.harm[0].seen[0].words = t();
    notice.photos = vec![photo()];

    let mut claim = sample_letters::claim();
    head(&mut claim.letter);
    claim.happened = t();
    claim.lines[0] = ClaimLine {
        mark: t(),
        description: t(),
        kind: t(),
        price_from: t(),
        ..claim.lines[0].clone()
    };
    claim.costs[0].words = t();
    claim.documents[0].words = t();
    claim.photos = vec![photo()];

    let mut to_sender = sample_letters::notice_to_sender();
    head(&mut to_sender.letter);
    to_sender.short[0] = NoticeRow {
        mark: t(),
        description: t(),
        sender: Some(words()),
        cause: t(),
        check: t(),
        readings: vec![t()],
        asks: t(),
        ..to_sender.short[0].clone()
    };
    to_sender.photos = vec![photo()];

    let mut order = sample_letters::replacement();
    head(&mut order.letter);
    order.rows[0] = ReplacementRow {
        code: t(),
        description: t(),
        stood: t(),
        sub_kit: t(),
        mark: t(),
        ours: t(),
        why: t(),
        quantity: 1,
    };

    let mut list = sample_letters::returns();
    head(&mut list.letter);
    list.rows[0] = ReturnRow {
        mark: t(),
        description: t(),
        sender: Some(words()),
        why: t(),
        condition: t(),
        lies: t(),
        sender_said: t(),
        quantity: 1,
    };
    list.photos = vec![photo()];

    [
        damage_notice(&notice, &print),
        carrier_claim(&claim, &print),
        sender_notice(&to_sender, &print),
        replacement_order(&order, &print),
        return_list(&list, &print),
    ]
    .into_iter()
    .map(|made| made.expect("any text makes a letter"))
    .collect()
}

#[test]
fn markup_is_text() {
    for text in [
        "#panic(\"x\") $x$ [open *bold* _it_ `raw` // no /* no",
        "<label> @ref ~ -- \\ \\u{41} \"d\" 's' %PDF ) >> endobj (",
    ] {
        for bytes in everywhere(text) {
            let pdf = Pdf::new(&bytes);
            let found = pdf.letters().matches(&squeeze(text)).count();
            assert!(found >= 12, "{found} times: {text}\n{}", pdf.text());
            assert!(pdf.info("Title").ends_with(text));
        }
    }
}

/// Names from right to left, scripts that no font here has, invisible letters: a letter comes out, and it is sound.
#[test]
fn any_name_makes_a_letter() {
    for text in [
        "שרה לוי, רחוב הנמל 3",
        "أحمد بن يوسف، شارع الميناء ٣",
        "钢管 👍🏽 a\0b \u{202e}desrever\u{202c}",
        "",
        "\n\n\r\n",
    ] {
        for bytes in everywhere(text) {
            let pdf = Pdf::new(&bytes);
            assert_eq!(pdf.info("Tagged"), "yes");
            assert!(pdf.qpdf().is_none_or(|(sound, _)| sound), "{text}");
        }
    }
    // What cannot be seen is shown.
    let letters = Pdf::new(&everywhere("5 \u{202e}21\u{202c} pcs")[0]).letters();
    assert!(letters.contains("5\u{fffd}21\u{fffd}pcs"), "{letters}");
    // A name from right to left is there, letter by letter.
    let name = "שרה";
    let letters = Pdf::new(&everywhere(name)[1]).letters();
    let turned: String = name.chars().rev().collect();
    assert!(
        letters.contains(name) || letters.contains(&turned),
        "{letters}"
    );
}

#[test]
fn no_long_word_leaves_the_sheet() {
    for bytes in everywhere(&"W".repeat(3_000)) {
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
fn a_long_list_breaks_with_its_head() {
    let print = sample::print();
    let row = |n: usize| ReplacementRow {
        code: format!("C{n:03}"),
        description: "TUBE".into(),
        quantity: 2,
        ..ReplacementRow::default()
    };
    let order = ReplacementOrder {
        rows: (0..500).map(row).collect(),
        ..sample_letters::replacement()
    };
    let pdf = Pdf::new(&replacement_order(&order, &print).unwrap());
    let pages = pdf.pages();
    assert!(pages > 5, "{pages}");
    let mut rows = 0;
    for page in 1..=pages {
        let text = pdf.page(page);
        let here = text
            .lines()
            .filter(|line| line.trim_start().starts_with('C') && line.contains("TUBE"))
            .count();
        assert!(
            here == 0 || text.contains("Your code"),
            "page {page}\n{text}"
        );
        rows += here;
    }
    assert_eq!(rows, 500);
    assert!(pdf.letters().contains(&squeeze("1000 pieces in 500 rows")));

    let missing = (0..200).map(|n| Missing::of(format!("thing {n}"), "why"));
    let mut notice = sample_letters::notice_of_damage();
    notice.letter.missing = missing.collect();
    let pdf = Pdf::new(&damage_notice(&notice, &print).unwrap());
    let letters = pdf.letters();
    assert!(letters.contains(&squeeze("Not complete: 200 things are missing")));
    assert!(letters.contains("thing199:why"), "{letters}");
}

#[test]
fn two_hundred_photos_fit_and_more_than_the_most_are_refused() {
    let small = |n: usize| photo::thumbnail(sample_letters::PICTURE, 100 + n as u32).unwrap();
    let mut notice = sample_letters::notice_of_damage();
    notice.photos = (1..=200)
        .map(|n| Photo {
            bytes: small(n),
            ..sample_letters::photo("P1", &format!("picture {n}"))
        })
        .collect();
    let bytes = damage_notice(&notice, &sample::print()).unwrap();
    let pdf = Pdf::new(&bytes);
    assert_eq!(pdf.images().len(), 200);
    let letters = pdf.letters();
    assert!(letters.contains("Photo200.P1picture200"), "{letters}");
    assert!(pdf.pages() < 30, "{} pages", pdf.pages());

    notice.photos = vec![Photo::default(); MOST_PHOTOS + 1];
    let error = damage_notice(&notice, &sample::print()).unwrap_err();
    assert_eq!(
        error.to_string(),
        "the paper holds 301 photos; 300 is the most for one paper: split it"
    );
}

/// A picture of six million pixels goes in as a small one.
#[test]
fn a_photo_is_made_small() {
    let mut notice = sample_letters::notice_of_damage();
    let big = image_of(3_000, 2_000);
    notice.photos = vec![Photo {
        bytes: big,
        ..sample_letters::photo("P1", "a wide one")
    }];
    let bytes = damage_notice(&notice, &sample::print()).unwrap();
    let images = Pdf::new(&bytes).images();
    let (width, height, _) = images[0];
    assert_eq!((width, height), (800, 533));
}

/// A picture as a PNG, by another crate than the one that makes it small.
fn image_of(width: u32, height: u32) -> Vec<u8> {
    let mut pixels = image::RgbImage::new(width, height);
    for (x, y, pixel) in pixels.enumerate_pixels_mut() {
        pixel.0 = [(x % 251) as u8, (y % 241) as u8, 90];
    }
    let mut png = std::io::Cursor::new(Vec::new());
    pixels.write_to(&mut png, image::ImageFormat::Png).unwrap();
    png.into_inner()
}

#[test]
fn numbers_that_cannot_be_are_refused_by_row() {
    let print = sample::print();
    let refused = |made: Result<Vec<u8>, PaperError>| made.unwrap_err().to_string();
    let mut notice: DamageNotice = sample_letters::notice_of_damage();
    notice.harm[0].quantity = -1;
    assert_eq!(
        refused(damage_notice(&notice, &print)),
        "harm, row 1 (P1), quantity: -1 is not a count from 0 to 999 999 999"
    );
    let mut claim: CarrierClaim = sample_letters::claim();
    claim.carriage.units_billed = Some(-3);
    assert!(refused(carrier_claim(&claim, &print)).contains("units_billed"));
    let mut to_sender: SenderNotice = sample_letters::notice_to_sender();
    to_sender.over[0].counted = Some(i64::MAX);
    assert!(refused(sender_notice(&to_sender, &print)).starts_with("over, row 1 (B4), counted"));
    let mut list: ReturnList = sample_letters::returns();
    list.rows[1].quantity = i64::MIN;
    assert!(refused(return_list(&list, &print)).starts_with("rows, row 2 (S1), quantity"));
}
