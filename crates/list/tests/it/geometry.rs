//! Words with places into lines of cells. Expected cells are written by hand; the sizes are those of 10 point print.

use std::fmt::Write as _;

use list::geometry::{Page, Word, sheets};
use list::read_sheets;
use proptest::prelude::*;

/// Words of a text that begins at a place: letters 5 wide, spaces 3, 9 high.
fn text(page: &mut Page, x: f32, y: f32, text: &str) {
    let mut left = x;
    for word in text.split(' ') {
        let right = left + 5.0 * word.chars().count() as f32;
        page.words.push(Word {
            text: word.to_owned(),
            place: [left, y, right, y + 9.0],
            sure: 1.0,
            struck: false,
        });
        left = right + 3.0;
    }
}

fn page() -> Page {
    Page {
        width: 600.0,
        height: 800.0,
        ..Page::default()
    }
}

fn cells(pages: &[Page]) -> Vec<Vec<String>> {
    let sheets = sheets(pages).unwrap();
    let lines = sheets.sheets.into_iter().flat_map(|sheet| sheet.lines);
    lines.map(|line| line.cells).collect()
}

fn small_table() -> Page {
    let mut page = page();
    text(&mut page, 60.0, 100.0, "Qty");
    text(&mut page, 120.0, 100.0, "Description");
    text(&mut page, 330.0, 100.0, "Length");
    for (row, (count, what, length)) in [
        ("26", "Ground post", "60 in"),
        ("126", "Tek screw", ""),
        ("4", "Lock channel double", "8 ft"),
        ("15", "Ridge tube", "10 ft"),
    ]
    .iter()
    .enumerate()
    {
        let y = 116.0 + 16.0 * row as f32;
        text(&mut page, 75.0 - 5.0 * count.len() as f32, y, count);
        text(&mut page, 120.0, y, what);
        if !length.is_empty() {
            text(&mut page, 330.0, y, length);
        }
    }
    page
}

fn small_cells() -> Vec<Vec<&'static str>> {
    vec![
        vec!["Qty", "Description", "Length"],
        vec!["26", "Ground post", "60 in"],
        vec!["126", "Tek screw", ""],
        vec!["4", "Lock channel double", "8 ft"],
        vec!["15", "Ridge tube", "10 ft"],
    ]
}

#[test]
fn a_table_askew() {
    assert_eq!(cells(&[small_table()]), small_cells());
    // Three degrees: over the page's width this is two lines' height.
    for degrees in [-3.0_f32, -1.0, 0.4, 2.0, 3.0] {
        let slope = degrees.to_radians().tan();
        let mut page = small_table();
        for word in &mut page.words {
            let down = f32::midpoint(word.place[0], word.place[2]) * slope;
            word.place[1] += down;
            word.place[3] += down;
        }
        assert_eq!(cells(&[page]), small_cells(), "{degrees}");
    }
}

#[test]
fn a_raised_figure_and_a_word_in_pieces() {
    let mut page = small_table();
    let y = 180.0;
    text(&mut page, 65.0, y, "12");
    text(&mut page, 120.0, y, "Film");
    // "m" and a small raised 2, then "clamp" set in two pieces without a gap.
    text(&mut page, 143.0, y, "40");
    text(&mut page, 156.0, y, "m");
    page.words.push(Word {
        text: "2".to_owned(),
        place: [161.0, y - 2.0, 164.0, y + 3.5],
        sure: 1.0,
        struck: false,
    });
    text(&mut page, 200.0, y, "cla");
    text(&mut page, 215.0, y, "mp");
    let last = cells(&[page]).pop().unwrap();
    assert_eq!(last, ["12", "Film 40 m2 clamp", ""]);
}

/// The description's two lines stand above and below the number of their row, in every row.
#[test]
fn numbers_in_the_middle_of_their_row() {
    let mut page = page();
    text(&mut page, 60.0, 100.0, "Qty");
    text(&mut page, 120.0, 100.0, "Description");
    for row in 0..5 {
        let y = 120.0 + 34.0 * row as f32;
        text(&mut page, 120.0, y, "Ground post long");
        text(&mut page, 65.0, y + 5.5, &format!("{}", row + 11));
        text(&mut page, 120.0, y + 11.0, "Galvanized inside");
    }
    let rows = cells(&[page]);
    assert_eq!(rows.len(), 6, "{rows:?}");
    assert!(
        rows[1..]
            .iter()
            .all(|row| row[1] == "Ground post long Galvanized inside"),
        "{rows:?}"
    );
}

#[test]
fn a_section_stays_a_line_of_its_own() {
    let mut page = small_table();
    text(&mut page, 60.0, 196.0, "Box 2 hardware for the end walls");
    text(&mut page, 70.0, 212.0, "8");
    text(&mut page, 120.0, 212.0, "Hinge");
    let rows = cells(&[page]);
    assert_eq!(rows[5].concat(), "Box 2 hardware for the end walls");
    assert_eq!(rows[6], ["8", "Hinge", ""]);
}

#[test]
fn a_line_through_words() {
    let mut page = small_table();
    // Through the whole of the second row, and through only the number of the third.
    page.rules.push([60.0, 136.5, 330.0, 137.2]);
    page.rules.push([68.0, 152.5, 76.0, 153.0]);
    // Under the heading: no word is struck by that.
    page.rules.push([60.0, 109.5, 400.0, 110.0]);
    let sheets = sheets(&[page]).unwrap();
    let struck: Vec<bool> = sheets.sheets[0]
        .lines
        .iter()
        .map(|line| line.struck)
        .collect();
    assert_eq!(struck, [false, false, true, false, false]);
    assert!(
        sheets
            .warnings
            .iter()
            .any(|warning| warning.what.contains("\"4\""))
    );
}

/// One picture for each page: the strip is where the row's words stand, and a cell is as sure as its least word.
#[test]
fn where_words_were_seen() {
    let mut page = small_table();
    page.picture = Some("picture-1".to_owned());
    page.words
        .iter_mut()
        .find(|word| word.text == "channel")
        .unwrap()
        .sure = 0.4;
    let sheets = sheets(&[page]).unwrap();
    let seen = sheets.sheets[0].lines[3].seen.as_ref().unwrap();
    assert_eq!(seen.picture, "picture-1");
    assert_eq!(seen.strip, [70, 148, 348, 157]);
    assert_eq!(seen.sure, [1.0, 0.4, 1.0]);
}

/// Fixed-width text, each character one wide and each line two high, agrees with what a person sees in columns.
#[test]
fn character_cells() {
    let lines = [
        "Qty  Description           Notes",
        " 26  Ground post 60 in     loose",
        "126  Tek screw",
        "  4  Lock channel, double  2 bdl",
    ];
    let mut page = Page::default();
    for (row, line) in lines.iter().enumerate() {
        let mut from = 0;
        for word in line.split(' ') {
            if !word.is_empty() {
                let (left, top) = (from as f32, 2.0 * row as f32);
                page.words.push(Word {
                    text: word.to_owned(),
                    place: [left, top, left + word.len() as f32, top + 1.8],
                    sure: 1.0,
                    struck: false,
                });
            }
            from += word.len() + 1;
        }
    }
    assert_eq!(
        cells(&[page]),
        [
            ["Qty", "Description", "Notes"],
            ["26", "Ground post 60 in", "loose"],
            ["126", "Tek screw", ""],
            ["4", "Lock channel, double", "2 bdl"],
        ]
    );
}

/// Returns how often each of the words `<0>`, `<1>`, … stands in some cells.
fn times(cells: &[Vec<String>], count: usize) -> Vec<usize> {
    let mut all = String::new();
    for cell in cells.iter().flatten() {
        let _ = write!(all, "{cell} ");
    }
    let mut times = vec![0; count];
    for part in all.split('<').skip(1) {
        times[part.split('>').next().unwrap().parse::<usize>().unwrap()] += 1;
    }
    times
}

fn place() -> impl Strategy<Value = [f32; 4]> {
    let somewhere = (0.0_f32..600.0, 0.0_f32..800.0, 0.0_f32..90.0, 2.0_f32..30.0)
        .prop_map(|(x, y, width, height)| [x, y, x + width, y + height]);
    let on_a_grid = (0_u8..6, 0_u8..30, 1_u8..16).prop_map(|(column, row, width)| {
        let (x, y) = (100.0 * f32::from(column), 12.0 * f32::from(row));
        [x, y, x + 6.0 * f32::from(width), y + 9.0]
    });
    let nowhere = prop::array::uniform4(prop_oneof![
        Just(f32::NAN),
        Just(f32::INFINITY),
        Just(f32::MAX),
        -1.0e7_f32..1.0e7
    ]);
    prop_oneof![4 => on_a_grid, 3 => somewhere, 1 => nowhere]
}

proptest! {
    /// Wherever words stand, each ends in exactly one cell.
    #[test]
    fn every_word_ends_in_one_cell(
        places in prop::collection::vec((place(), 0_u8..12, prop::bool::ANY), 1..120),
        rules in prop::collection::vec(place(), 0..20),
        pages in 1_usize..3,
    ) {
        let heading = ["Qty", "Description", "Part", "Unit"];
        let mut all = vec![Page { rules, ..page() }; pages];
        for (index, (place, stamp, words)) in places.iter().enumerate() {
            let named = if *words { heading[index % 4] } else { "" };
            let word = Word {
                text: format!("<{index}>{named}"),
                place: *place,
                sure: 1.0,
                struck: false,
            };
            let page = &mut all[index % pages];
            if *stamp == 0 { page.stamps.push(word) } else { page.words.push(word) }
        }
        let cells = cells(&all);
        prop_assert_eq!(times(&cells, places.len()), vec![1; places.len()]);
    }

    /// A table with headings, some words over its gaps, some rows empty: nothing is lost when a heading is there, too.
    #[test]
    fn every_word_of_a_table_ends_in_one_cell(
        filled in prop::collection::vec(prop::array::uniform4(0_u8..5), 1..60),
        beside in prop::bool::ANY,
    ) {
        let mut page = page();
        let mut index = 0;
        let sides = if beside { 2 } else { 1 };
        for side in 0..sides {
            let x = 300.0 * side as f32;
            text(&mut page, x + 10.0, 20.0, "Qty");
            text(&mut page, x + 60.0, 20.0, "Description");
        }
        for (row, words) in filled.iter().enumerate() {
            for (column, count) in words.iter().enumerate() {
                for word in 0..*count {
                    let left = 10.0 + 150.0 * column as f32 + 40.0 * f32::from(word);
                    let y = 40.0 + 11.0 * row as f32;
                    page.words.push(Word {
                        text: format!("<{index}>"),
                        place: [left, y, left + 37.0, y + 9.0],
                        sure: 1.0,
                        struck: false,
                    });
                    index += 1;
                }
            }
        }
        let cells = cells(&[page]);
        prop_assert_eq!(times(&cells, index), vec![1; index]);
    }
}

#[test]
fn text_of_many_words_on_one_spot_is_read_in_time() {
    let mut page = page();
    for index in 0..20_000 {
        page.words.push(Word {
            text: index.to_string(),
            place: [10.0, 10.0, 20.0, 19.0],
            sure: 1.0,
            struck: false,
        });
    }
    assert_eq!(cells(&[page]).len(), 1);
    assert!(read_sheets(b"%PDF-1.7 and no more", "list").is_err());
}

/// One heading of two words over counts of several words, with gaps that run down through all of them.
#[test]
fn a_heading_of_two_words_is_one_column() {
    let mut page = page();
    text(&mut page, 60.0, 100.0, "Description");
    text(&mut page, 300.0, 100.0, "Quantity shipped");
    text(&mut page, 420.0, 100.0, "Unit");
    let counts = ["4 bdl x 5", "26", "2 box x 9", "3 pr"];
    for (row, count) in counts.iter().cycle().take(12).enumerate() {
        let y = 116.0 + 16.0 * row as f32;
        text(&mut page, 60.0, y, "Ground post");
        text(&mut page, 300.0, y, count);
        text(&mut page, 420.0, y, "ea");
    }
    let cells = cells(&[page]);
    assert_eq!(cells[0], ["Description", "Quantity shipped", "Unit"]);
    for (line, count) in cells[1..].iter().zip(counts.iter().cycle()) {
        assert_eq!(*line, ["Ground post", count, "ea"]);
    }
}

/// Two headings stand over a gap no wider than two spaces.
#[test]
fn a_narrow_gap_under_two_headings_parts_columns() {
    let mut page = page();
    text(&mut page, 60.0, 100.0, "Qty");
    text(&mut page, 90.0, 100.0, "Description");
    for row in 0..12 {
        let y = 116.0 + 16.0 * row as f32;
        text(&mut page, 60.0, y, "12345");
        text(&mut page, 89.0, y, "Groundpost");
    }
    for line in &cells(&[page])[1..] {
        assert_eq!(*line, ["12345", "Groundpost"]);
    }
}
