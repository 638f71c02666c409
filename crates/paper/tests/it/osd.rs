//! What the over, short and damaged paper says.

use paper::{OsdPaper, OsdRow, PaperError, osd};

use crate::pdf::{Pdf, squeeze};
use crate::sample;

fn made(paper: &OsdPaper) -> Pdf {
    Pdf::new(&osd(paper, &sample::print()).expect("the paper is sound"))
}

#[test]
fn finds_what_was_given() {
    let pdf = made(&sample::paper());
    let letters = pdf.letters();
    for given in [
        "Gothic house, 24 ft wide, 48 ft long, bows 4 ft apart; hip channel, one sliding door",
        "Behind the school, Long Slough Island",
        "Field & Bow Kits (invented)",
        "2026-05-04 17:40",
        "feet and inches",
        "First ferry load",
        "the island ferry",
        "SF-20417",
        "2 bundles, 1 crate, as listed",
        "expected 2026-05-11",
        "5 short: 26 needed, 26 listed, 21 counted in three piles.",
        "HD-0166-22",
        "PURLIN TUBE 1.66 X 10'6\" SWAGED",
        "list 1, row 14",
        "2 bent: “Forklift mark at one third, flattened to about half” — Wren, 2026-05-04 10:05",
        "Film, 40 x 55 ft, 6 mil, four-year",
        "piles A to D again, on a tally sheet, blind",
        "Seal 004417 whole when the truck was opened.",
        "49 CFR 370.3(c)",
        "not legal advice",
    ] {
        assert!(letters.contains(&squeeze(given)), "{given}\n{}", pdf.text());
    }
}

#[test]
fn a_row_holds_its_numbers_in_order() {
    let mut paper = sample::paper();
    paper.wrong = vec![sample::row("Z9", "Brace", [31, 32, 33, 34], 35)];
    let text = made(&paper).text();
    let row = text
        .lines()
        .find(|line| line.trim_start().starts_with("Z9 "))
        .unwrap();
    let numbers: Vec<&str> = row.split_whitespace().skip(2).collect();
    assert_eq!(numbers, ["31", "32", "33", "34", "35"], "{text}");
    let heads = text.lines().find(|line| line.contains("Needed  ")).unwrap();
    assert!(
        squeeze(heads).contains("NeededListedCountedGood"),
        "{heads}"
    );
    // What nobody said is a dash, not a nought.
    let row = text
        .lines()
        .find(|line| line.trim_start().starts_with("W6 "))
        .unwrap();
    let numbers: Vec<&str> = row.split_whitespace().rev().take(5).collect();
    assert_eq!(numbers, ["40", "–", "–", "40", "40"], "{text}");
}

#[test]
fn the_summary_adds_up_each_table() {
    let pdf = made(&sample::paper());
    // 5 + 12 short, 2 over, 3 damaged, none wrong, 1 to come, 40 to count.
    let summary = "17 ▼ Short in 2 rows  2 ▲ Over in 1 row  3 ✖ Damaged in 1 row  0 ◆ Wrong none \
        1 ▷ In another shipment in 1 row  40 ○ Not yet counted in 1 row";
    assert!(pdf.letters().contains(&squeeze(summary)), "{}", pdf.text());
}

#[test]
fn arrived_and_awaited_shipments_differ_in_words() {
    let text = made(&sample::paper()).text();
    let line_with = |name: &str| text.lines().find(|line| line.contains(name)).unwrap();
    assert!(line_with("First ferry load").contains("arrived"));
    let awaited = text
        .lines()
        .filter(|line| line.contains("Second ferry load"));
    assert!(
        awaited
            .into_iter()
            .any(|line| line.contains("not here yet")),
        "{text}"
    );
}

#[test]
fn empty_lists_say_none() {
    let text = made(&OsdPaper {
        job: "Empty".into(),
        ..OsdPaper::default()
    })
    .text();
    let lines: Vec<&str> = text
        .lines()
        .map(str::trim)
        .filter(|l| !l.is_empty())
        .collect();
    for heading in [
        "Shipments",
        "Short",
        "Over",
        "Damaged",
        "Wrong",
        "Comes in another shipment (not short)",
        "Not yet counted",
        "How it was counted",
        "Notes",
    ] {
        // The summary says the same words higher up.
        let at = lines.iter().rposition(|line| {
            *line == heading
                || line
                    .split_once(' ')
                    .is_some_and(|(_, rest)| rest.trim() == heading)
        });
        let at = at.unwrap_or_else(|| panic!("no heading {heading}\n{text}"));
        assert_eq!(lines[at + 1], "none", "{heading}\n{text}");
    }
}

#[test]
fn long_tables_break_with_their_heads() {
    let mut paper = sample::paper();
    paper.short = (1..=200)
        .map(|n| OsdRow {
            says: format!("2 short in row {n}."),
            ..sample::row(
                &format!("M{n:03}"),
                "Tube, swaged, 10 ft 6 in",
                [9, 9, 7, 7],
                2,
            )
        })
        .collect();
    let pdf = made(&paper);
    let pages = pdf.pages();
    assert!(pages > 5, "{pages}");
    let mut seen = 0;
    for number in 1..=pages {
        let page = pdf.page(number);
        let rows = page.lines().filter(|line| is_mark(line)).count();
        seen += rows;
        assert!(
            rows == 0 || page.contains("Short by"),
            "page {number}\n{page}"
        );
        assert!(
            page.contains(&format!("page {number} of {pages}")),
            "{page}"
        );
        assert!(page.contains("School garden, Long Slough Island"), "{page}");
    }
    assert_eq!(seen, 200);
    assert!(pdf.letters().contains(&squeeze("400 pieces in 200 rows")));
}

fn is_mark(line: &str) -> bool {
    let first = line.split_whitespace().next().unwrap_or_default();
    first
        .strip_prefix('M')
        .is_some_and(|n| n.len() == 3 && n.parse::<u32>().is_ok())
}

#[test]
fn what_is_signed_stands_with_the_signatures() {
    let pdf = made(&sample::paper());
    let last = pdf.page(pdf.pages());
    for words in [
        "Receiver",
        "Driver or carrier",
        "Signature",
        "Date and time",
    ] {
        assert!(last.contains(words), "{last}");
    }
}

#[test]
fn a_count_that_cannot_be_is_refused_by_row_and_field() {
    let mut paper = sample::paper();
    paper.short[1].counted = Some(-1);
    let error = osd(&paper, &sample::print()).unwrap_err();
    assert_eq!(
        error.to_string(),
        "short, row 2 (T-14), counted: -1 is not a count from 0 to 999 999 999"
    );
    let mut paper = sample::paper();
    paper.damaged[0].seen[1].pieces = Some(i64::MAX);
    let error = osd(&paper, &sample::print()).unwrap_err();
    assert!(matches!(
        error,
        PaperError::Row {
            table: "damaged",
            row: 1,
            field: "seen",
            ..
        }
    ));
}
