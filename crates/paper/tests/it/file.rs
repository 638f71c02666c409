//! The file itself: standard, title, language, size, date, id, same bytes.

use paper::{Moment, PaperError, Print, Sheet, osd, tally_sheet};

use crate::pdf::Pdf;
use crate::sample;

#[test]
fn is_tagged_with_title_and_language() {
    let bytes = osd(&sample::paper(), &sample::print()).unwrap();
    let pdf = Pdf::new(&bytes);
    assert_eq!(pdf.info("Tagged"), "yes");
    assert_eq!(
        pdf.info("Title"),
        "Over, short and damaged: School garden, Long Slough Island"
    );
    let meta = pdf.metadata();
    // PDF/UA-1 (ISO 14289-1, clause 5) names itself in the XMP packet: part 1. (M)
    assert!(
        meta.contains("pdfuaid:part") && meta.contains("en-US"),
        "{meta}"
    );
    let sheet = Pdf::new(&tally_sheet(&sample::tally(), &sample::print()).unwrap());
    assert_eq!(sheet.info("Tagged"), "yes");
    assert_eq!(
        sheet.info("Title"),
        "Tally sheet: School garden, Long Slough Island"
    );
}

#[test]
fn tags_headings_tables_and_row_heads() {
    let tags = Pdf::new(&osd(&sample::paper(), &sample::print()).unwrap()).structure();
    for tag in ["H1", "H2", "Table", "TR", "TH", "TD"] {
        let opens = |line: &str| line.trim_start().split([' ', ':']).next() == Some(tag);
        assert!(tags.lines().any(opens), "no {tag} in\n{tags}");
    }
    // Marks head their rows.
    let heads: Vec<&str> = tags
        .split("TH <")
        .filter(|part| part.contains("/Scope /Row"))
        .collect();
    for mark in ["R2", "T-14", "B4", "P1", "F1", "W6"] {
        let is_head = |head: &str| head.contains(&format!("\"{mark}\""));
        assert!(heads.iter().any(|head| is_head(head)), "{mark} in\n{tags}");
    }
}

#[test]
fn no_outside_checker_finds_a_fault() {
    for bytes in [
        osd(&sample::paper(), &sample::print()).unwrap(),
        tally_sheet(&sample::tally(), &sample::print()).unwrap(),
    ] {
        if let Some((sound, said)) = Pdf::new(&bytes).qpdf() {
            assert!(sound, "{said}");
        }
    }
}

#[test]
fn letter_and_a4() {
    // 8.5 by 11 in and 210 by 297 mm (ISO 216, S) at 72 points to the inch.
    for (sheet, size) in [
        (Sheet::Letter, "612 x 792 pts"),
        (Sheet::A4, "595.276 x 841.89 pts"),
    ] {
        let print = Print {
            sheet,
            ..sample::print()
        };
        for bytes in [
            osd(&sample::paper(), &print).unwrap(),
            tally_sheet(&sample::tally(), &print).unwrap(),
        ] {
            let found = Pdf::new(&bytes).info("Page size");
            assert!(found.starts_with(size), "{found}");
        }
    }
}

#[test]
fn same_input_same_bytes() {
    let (paper, print) = (sample::paper(), sample::print());
    let first = osd(&paper, &print).unwrap();
    // Another paper in between, so that the second one is not merely remembered.
    let other = Print {
        id: "other".into(),
        ..sample::print()
    };
    let different = osd(&paper, &other).unwrap();
    for _ in 0..4 {
        tally_sheet(&sample::tally(), &print).unwrap();
    }
    assert!(first == osd(&paper, &print).unwrap());
    assert!(first != different);
}

#[test]
fn the_date_is_the_one_given() {
    let pdf = Pdf::new(&osd(&sample::paper(), &sample::print()).unwrap());
    assert_eq!(pdf.info("CreationDate"), "2026-05-04T17:40:00-07");
    assert!(
        pdf.page(1)
            .contains("Made 2026-05-04 17:40 UTC-07:00, paper osd-7f3a-0001")
    );
}

#[test]
fn a_print_that_cannot_be_is_refused_by_field() {
    let good = sample::print();
    let refused = |print: &Print| match osd(&sample::paper(), print) {
        Err(PaperError::Print { field, .. }) => field,
        other => panic!("{:?}", other.map(|bytes| bytes.len())),
    };
    for id in ["", "  ", "caf\u{e9}", "a\nb", &"x".repeat(65)] {
        assert_eq!(
            refused(&Print {
                id: id.into(),
                ..good.clone()
            }),
            "id"
        );
    }
    for language in [
        "", "e", "english", "en_US", "en-", "en-USA", "1n", "en-US-x",
    ] {
        assert_eq!(
            refused(&Print {
                language: language.into(),
                ..good.clone()
            }),
            "language"
        );
    }
    let now = good.made_at;
    for made_at in [
        Moment { month: 13, ..now },
        Moment {
            month: 2,
            day: 29,
            ..now
        },
        Moment { hour: 24, ..now },
        Moment { year: 0, ..now },
        Moment {
            utc_offset: 24 * 60,
            ..now
        },
        Moment {
            utc_offset: -30,
            ..now
        },
    ] {
        assert_eq!(
            refused(&Print {
                made_at,
                ..good.clone()
            }),
            "made_at"
        );
    }
    let leap = Moment {
        year: 2028,
        month: 2,
        day: 29,
        ..now
    };
    assert!(
        osd(
            &sample::paper(),
            &Print {
                made_at: leap,
                ..good
            }
        )
        .is_ok()
    );
}
