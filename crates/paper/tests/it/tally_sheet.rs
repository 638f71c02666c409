//! What the tally sheet says, and what a blind one keeps to itself.

use paper::{PaperError, TallySheet, tally_sheet};

use crate::pdf::{Pdf, squeeze};
use crate::sample;

fn made(sheet: &TallySheet) -> Pdf {
    Pdf::new(&tally_sheet(sheet, &sample::print()).expect("the sheet is sound"))
}

#[test]
fn finds_every_mark_by_group() {
    let letters = made(&sample::tally()).letters();
    for given in [
        "Ground posts and bows",
        "Film and channel",
        "Tek screw, 1/4 x 1 in",
        "(rolls)",
    ] {
        assert!(letters.contains(&squeeze(given)), "{given}");
    }
    let at = |words: &str| letters.find(words).unwrap();
    assert!(at("P1") < at("Filmandchannel") && at("Filmandchannel") < at("T-14"));
}

#[test]
fn every_page_can_be_named_and_dated() {
    let mut sheet = sample::tally();
    let rows = sheet.groups[0].rows.clone();
    for n in 0..10 {
        sheet.groups.push(paper::TallyGroup {
            name: format!("Stage {n}"),
            rows: rows.clone(),
        });
    }
    let pdf = made(&sheet);
    let pages = pdf.pages();
    assert!(pages > 2);
    for number in 1..=pages {
        let page = pdf.page(number);
        for words in [
            "Name",
            "Date",
            "Pile",
            "School garden",
            "Counted",
            "Damaged",
            "Initials",
        ] {
            assert!(
                page.contains(words),
                "{words} is not on page {number}\n{page}"
            );
        }
        assert!(
            page.contains(&format!("page {number} of {pages}")),
            "{page}"
        );
    }
}

#[test]
fn a_blind_sheet_tells_no_number() {
    let mut sheet = sample::tally();
    let blind = tally_sheet(&sheet, &sample::print()).unwrap();
    assert!(!Pdf::new(&blind).text().contains("Should be"));
    // Other numbers, same bytes: neither the text nor the boxes nor the file's inside tell them.
    for (n, row) in sheet
        .groups
        .iter_mut()
        .flat_map(|group| &mut group.rows)
        .enumerate()
    {
        row.should_be = Some(7 * n as i64);
    }
    assert!(blind == tally_sheet(&sheet, &sample::print()).unwrap());
    assert!(TallySheet::default().blind);
}

#[test]
fn an_open_sheet_tells_the_number() {
    let mut sheet = sample::tally();
    sheet.blind = false;
    sheet.groups[1].rows[3].should_be = Some(243);
    let text = made(&sheet).text();
    assert!(text.contains("Should be"));
    let row = text.lines().find(|line| line.contains("T-14")).unwrap();
    assert!(row.contains("243"), "{row}");
    assert!(text.contains("add up"));
}

#[test]
fn empty_lists_say_none() {
    let sheet = TallySheet {
        job: "Empty".into(),
        ..TallySheet::default()
    };
    assert!(
        made(&sheet)
            .text()
            .lines()
            .any(|line| line.trim() == "none")
    );
}

#[test]
fn a_count_that_cannot_be_is_refused() {
    let mut sheet = sample::tally();
    sheet.groups[1].rows[2].should_be = Some(-64);
    let error = tally_sheet(&sheet, &sample::print()).unwrap_err();
    assert!(
        matches!(
            error,
            PaperError::Row {
                row: 3,
                found: -64,
                ..
            }
        ),
        "{error}"
    );
}
