//! The inputs that chance found worth keeping, each read again: no panic, and rows and lines set aside are all lines.
//! How they were found stands in `fuzz/README.md` at the top of the repository.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

use crate::slow::busy;

#[path = "../../../../fuzz/src/harness.rs"]
mod harness;
#[path = "../../../../fuzz/src/panics.rs"]
mod panics;
#[path = "../../../../fuzz/src/shells.rs"]
mod shells;

/// Each reader has a folder of its own.
const READERS: [&str; 13] = [
    "text", "xlsx", "ods", "xls", "html", "mail", "pdf", "alto", "ubl", "x12", "rows", "describe",
    "quantity",
];

/// A small input takes milliseconds, ten times that without optimisation.
const LONG: Duration = Duration::from_secs(1);

fn inputs(reader: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/corpus")
        .join(reader);
    let entries =
        fs::read_dir(&folder).unwrap_or_else(|error| panic!("{}: {error}", folder.display()));
    let mut paths: Vec<PathBuf> = entries.map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    paths
}

#[test]
fn every_input_is_read_again() {
    panics::watch();
    for reader in READERS {
        let paths = inputs(reader);
        assert!(!paths.is_empty(), "{reader} has no inputs");
        for path in &paths {
            let input = fs::read(path).unwrap();
            let start = busy();
            let outcome = std::panic::catch_unwind(|| harness::read(reader, &input));
            assert!(
                outcome.is_ok() && !panics::were_ours(),
                "{}",
                path.display()
            );
            let took = busy() - start;
            assert!(took < LONG, "{}: {took:?}", path.display());
        }
        println!("{reader}: {} inputs", paths.len());
    }
}

/// The shells are sound: what stands in them is read when nothing in it is changed.
#[test]
fn the_shells_hold_a_list() {
    // A part that none of them has leaves all parts as they are.
    let untouched = [15];
    for (file, bytes) in [
        ("xlsx", shells::xlsx(&untouched)),
        ("ods", shells::ods(&untouched)),
        ("pdf", shells::pdf(&untouched)),
    ] {
        let sheets = list::read_sheets(&bytes, file).unwrap_or_else(|error| panic!("{error}"));
        let said = sheets.sheets[0].lines[0].cells.join(" ");
        assert_eq!(said, "Qty Description", "{file}");
    }
}
