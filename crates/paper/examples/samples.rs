//! Writes the sample papers into a folder, to be looked at:
//! `cargo run -p paper --example samples -- /tmp/papers`.

#[path = "../tests/it/sample.rs"]
mod sample;
#[path = "../tests/it/sample_letters.rs"]
mod sample_letters;

use paper::{
    CarrierClaim, DamageNotice, ReplacementOrder, ReturnList, SenderNotice, carrier_claim,
    damage_notice, osd, replacement_order, return_list, sender_notice, tally_sheet,
};
use paper::{Print, Sheet};

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
    let mut open_claim = sample_letters::claim();
    open_claim.lines[0].each = None;
    open_claim.documents.remove(1);
    let mut with_broken = sample_letters::notice_of_damage();
    with_broken.photos[1].bytes.truncate(900);
    let letters = [
        (
            "concealed-letter.pdf",
            damage_notice(&sample_letters::notice_of_damage(), &letter)?,
        ),
        ("concealed-a4.pdf", damage_notice(&with_broken, &a4)?),
        (
            "claim-letter.pdf",
            carrier_claim(&sample_letters::claim(), &letter)?,
        ),
        ("claim-a4.pdf", carrier_claim(&open_claim, &a4)?),
        (
            "notice-letter.pdf",
            sender_notice(&sample_letters::notice_to_sender(), &letter)?,
        ),
        (
            "notice-a4.pdf",
            sender_notice(&sample_letters::notice_to_sender(), &a4)?,
        ),
        (
            "replacement-letter.pdf",
            replacement_order(&sample_letters::replacement(), &letter)?,
        ),
        (
            "replacement-a4.pdf",
            replacement_order(&sample_letters::replacement(), &a4)?,
        ),
        (
            "returns-letter.pdf",
            return_list(&sample_letters::returns(), &letter)?,
        ),
        (
            "returns-a4.pdf",
            return_list(&sample_letters::returns(), &a4)?,
        ),
        (
            "concealed-empty.pdf",
            damage_notice(&DamageNotice::default(), &letter)?,
        ),
        (
            "claim-empty.pdf",
            carrier_claim(&CarrierClaim::default(), &letter)?,
        ),
        (
            "notice-empty.pdf",
            sender_notice(&SenderNotice::default(), &letter)?,
        ),
        (
            "replacement-empty.pdf",
            replacement_order(&ReplacementOrder::default(), &letter)?,
        ),
        (
            "returns-empty.pdf",
            return_list(&ReturnList::default(), &letter)?,
        ),
    ];
    let papers = papers.chain(letters);
    std::fs::create_dir_all(&folder)?;
    for (name, bytes) in papers {
        std::fs::write(format!("{folder}/{name}"), bytes)?;
    }
    Ok(())
}
