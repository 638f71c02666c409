//! Files within every limit that are made to take long: each is read, or refused, in a time that grows with its length
//! and not with the square of it.

use std::fs;
use std::time::Duration;

use list::{ListError, PackingList, limits, read, read_sheets};

/// Far above what any of these takes, far below what a square of its length would.
const LONG: Duration = Duration::from_secs(60);

/// The files are a tenth as long as they may be, and so is the time that they may take, but where `TALLYARD_LONG` is
/// set: then they are as long as the limits let them be.
fn share() -> u32 {
    if std::env::var_os("TALLYARD_LONG").is_some() {
        1
    } else {
        10
    }
}

/// How many of what may be so many at most.
pub fn lines(most: usize) -> usize {
    most / share() as usize
}

/// How long this thread has had a processor: a busy machine makes a test wait, which is not the reader's time.
pub fn busy() -> Duration {
    let said = fs::read_to_string("/proc/thread-self/schedstat").unwrap();
    Duration::from_nanos(said.split(' ').next().unwrap().parse().unwrap())
}

pub fn timed(what: &str, bytes: &[u8]) -> Result<PackingList, ListError> {
    assert!(bytes.len() <= limits::MAX_FILE_BYTES, "{what}");
    let start = busy();
    let outcome = read(bytes, what);
    let took = busy() - start;
    println!(
        "{what}: {took:?}, {:?}",
        outcome.as_ref().map(|list| list.rows.len())
    );
    assert!(took < LONG / share(), "{what}: {took:?}");
    // Data has lines of its own.
    let grid = outcome.as_ref().is_ok_and(|list| list.despatch.is_none());
    if let (true, Ok(list), Ok(sheets)) = (grid, &outcome, read_sheets(bytes, what)) {
        let lines: usize = sheets.sheets.iter().map(|sheet| sheet.lines.len()).sum();
        assert!(list.rows.len() + list.set_aside.len() >= lines, "{what}");
    }
    outcome
}

/// A table of two rows, then one text over and over.
fn table_and(text: &str, times: usize) -> Vec<u8> {
    let head = "Code\tQty\tUnit\tDescription\tLength\nT-1\t26\tea\tGround post\t5 ft\nT-2\t4\tea\tRidge tube\t8 ft\n";
    format!("{head}{}", text.repeat(times)).into_bytes()
}

#[test]
fn headings_again_and_again() {
    let heading = "Code\tQty\tUnit\tDescription\tLength\n";
    let row = "T-1\t26\tea\tGround post\t5 ft\n";
    timed("headings alone", &table_and(heading, lines(140_000))).unwrap();
    timed(
        "a heading above every row",
        &table_and(&format!("{heading}{row}"), lines(70_000)),
    )
    .unwrap();
    let other = "Qty\tCode\tDescription\tUnit\tLength\n";
    let two = format!("{heading}{row}{other}{row}");
    timed("two headings in turn", &table_and(&two, lines(35_000))).unwrap();
}

#[test]
fn lines_that_are_no_rows() {
    let ditto = "\t\t\twith its screws and whatever belongs to it\t\n";
    timed(
        "one row that goes on and on",
        &table_and(ditto, lines(140_000)),
    )
    .unwrap();
    let long = format!("\t\t\t{}\t\n", "and so on ".repeat(700));
    timed(
        "one row that goes on in long lines",
        &table_and(&long, lines(4_000)),
    )
    .unwrap();
    timed("sections", &table_and("End wall\t\t\t\t\n", lines(140_000))).unwrap();
    timed(
        "page stamps",
        &table_and("\t\t\tPage 1 of 2\t\n", lines(140_000)),
    )
    .unwrap();
    timed(
        "sections and page stamps",
        &table_and(
            "Frame\t\t\t\t\n\t\t\tPage 1 of 2\t\nNote that\t\t\t\t\n",
            45_000,
        ),
    )
    .unwrap();
    timed("totals", &table_and("Total\t30\t\t\t\n", lines(140_000))).unwrap();
    timed(
        "notes",
        &table_and("please\tcall\tbefore\t\tyou come\n", lines(140_000)),
    )
    .unwrap();
    timed(
        "ditto marks",
        &table_and("\"\t\"\t\"\t\"\t\"\n", lines(140_000)),
    )
    .unwrap();
    timed(
        "equal rows",
        &table_and("T-1\t26\tea\tGround post\t5 ft\n", lines(140_000)),
    )
    .unwrap();
    timed(
        "rows included in others",
        &table_and("T-1\t4\tea\tscrews incl. in T-2\t\n", lines(140_000)),
    )
    .unwrap();
    timed(
        "ranges",
        &table_and(
            "T-1 - T-90000\t1-99999\tea\tPosts 1-90000 L/R\t\n",
            lines(140_000),
        ),
    )
    .unwrap();
}

#[test]
fn a_table_that_comes_late_or_never() {
    let entries = "Order:\t40117\nSize:\t24 x 48 ft\n".repeat(lines(70_000));
    let _ = timed("entries of a header", entries.as_bytes());
    let late = [entries.as_bytes(), &table_and("", 0)[..]].concat();
    let _ = timed("a table below a long header", &late);
    let _ = timed(
        "words",
        "lorem ipsum dolor sit amet\n"
            .repeat(lines(140_000))
            .as_bytes(),
    );
    let _ = timed(
        "counts in words",
        "12 ground posts, 14 ga, 5 ft\n"
            .repeat(lines(140_000))
            .as_bytes(),
    );
    let long = format!("{}\n", "12 posts x 1-5/8\" x 10' 6-1/2\", #12 ".repeat(220));
    let _ = timed("long counts in words", long.repeat(lines(3_900)).as_bytes());
    let _ = timed(
        "numbers",
        "1 2 3 4 5 6 7 8 9\n".repeat(lines(140_000)).as_bytes(),
    );
    let _ = timed("a line of spaces", " ".repeat(lines(30 << 20)).as_bytes());
    let spaced = format!("a{}\n", " ".repeat(7_000));
    let _ = timed("lines of spaces", spaced.repeat(lines(4_000)).as_bytes());
}

#[test]
fn quotation_marks() {
    let _ = timed("marks alone", "\"".repeat(lines(20 << 20)).as_bytes());
    let _ = timed("marks and commas", "\",".repeat(lines(10 << 20)).as_bytes());
    let _ = timed(
        "marks and line ends",
        "a,\"\n".repeat(lines(1 << 20)).as_bytes(),
    );
    let _ = timed(
        "one open mark",
        &[
            b"Qty,Description\n1,\"",
            &b"post,\n"[..].repeat(lines(140_000))[..],
        ]
        .concat(),
    );
    let rows = "4,\"Ridge\nclamp\"\n".repeat(lines(70_000));
    let _ = timed(
        "rows of two lines",
        format!("Qty,Description\n{rows}").as_bytes(),
    );
}

#[test]
fn a_million_columns() {
    for delimiter in [",", ";", "\t", "|", "  "] {
        let wide = format!("x{delimiter}").repeat(lines(1_000_000));
        let text = format!("Qty{delimiter}Description\n4{delimiter}Ridge clamp\n{wide}\n");
        let _ = timed("a million columns", text.as_bytes());
        let _ = timed(
            "a million columns, all lines",
            format!("{wide}\n").repeat(7).as_bytes(),
        );
    }
}

#[test]
fn strange_bytes() {
    for (what, byte) in [
        ("zeros", 0_u8),
        ("ones", 1),
        ("returns", b'\r'),
        ("feeds", 12),
        ("high", 255),
    ] {
        let _ = timed(what, &vec![byte; lines(30 << 20)]);
        let _ = timed(
            what,
            &[&table_and("", 0)[..], &vec![byte; lines(20 << 20)][..]].concat(),
        );
    }
    let turned = "\u{202E}tsop dnuorG\u{2066}\t4\u{200F}\n".repeat(lines(100_000));
    let list = timed("turned", &table_and(&turned, 1));
    assert!(
        list.unwrap()
            .rows
            .iter()
            .all(|row| !row.description.contains('\u{202E}'))
    );
}
