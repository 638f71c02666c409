//! Writes the sample papers into a folder, to be looked at:
//! `cargo run -p paper --example samples -- /tmp/papers`.

#[path = "../tests/it/sample.rs"]
mod sample;

use paper::{Print, Sheet, osd, tally_sheet};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let folder = std::env::args().nth(1).ok_or("give a folder to write to")?;
    let letter = sample::print();
    let a4 = Print {
        sheet: Sheet::A4,
        ..sample::print()
    };
    let mut open = sample::tally();
    open.blind = false;
    let papers = [
        ("osd-letter.pdf", osd(&sample::paper(), &letter)?),
        ("osd-a4.pdf", osd(&sample::paper(), &a4)?),
        ("osd-empty.pdf", osd(&paper::OsdPaper::default(), &letter)?),
        ("tally-blind.pdf", tally_sheet(&sample::tally(), &letter)?),
        ("tally-open.pdf", tally_sheet(&open, &a4)?),
    ];
    let mut long = sample::paper();
    let word: String = ('a'..='z').cycle().take(10_000).collect();
    long.over[0].description = word.clone();
    long.damaged[0].seen[0].words = word;
    long.notes = [
        "#panic() $x$ *bold* _it_ [open \\ \"quoted\" 'single' // no comment",
        "a\0b \u{202e}desrever\u{202c} 钢管 👍",
        "Größe Łódź Ελλάδα Москва שלום עולם 26 أنبوب ٢٦ ქართული",
        "a\u{301}\u{301}\u{301}\u{301}\u{301}\u{301} towers",
    ]
    .map(String::from)
    .to_vec();
    let papers = papers
        .into_iter()
        .chain([("osd-long.pdf", osd(&long, &letter)?)]);
    std::fs::create_dir_all(&folder)?;
    for (name, bytes) in papers {
        std::fs::write(format!("{folder}/{name}"), bytes)?;
    }
    Ok(())
}
