//! What the letters say, and what they say is missing.

use paper::{
    CarrierClaim, DamageNotice, Missing, PaperError, Print, ReplacementOrder, ReturnList,
    SenderNotice, Sheet, carrier_claim, damage_notice, replacement_order, return_list,
    sender_notice,
};

use crate::pdf::{Pdf, squeeze};
use crate::{sample, sample_letters};

fn made(bytes: Result<Vec<u8>, PaperError>) -> Pdf {
    Pdf::new(&bytes.expect("the letter is sound"))
}

fn says_all(pdf: &Pdf, given: &[&str]) {
    let letters = pdf.letters();
    for words in given {
        assert!(letters.contains(&squeeze(words)), "{words}\n{}", pdf.text());
    }
}

/// Who writes to whom, about which order: on every letter.
const HEAD: [&str; 9] = [
    "School garden, Long Slough Island",
    "SG-118: Gothic house, 24 ft wide, 48 ft long, bows 4 ft apart",
    "Behind the school, Long Slough Island",
    "Long Slough Island School",
    "1 Ferry Road",
    "Wren, garden@example.invalid",
    "2026-05-06",
    "LS-3",
    "No legal advice: the carrier's and the sender's own terms go before this paper.",
];

#[test]
fn every_letter_has_its_head_and_says_what_it_is_not() {
    let print = sample::print();
    for (pdf, title, is_not) in [
        (
            made(damage_notice(&sample_letters::notice_of_damage(), &print)),
            "Notice of concealed damage",
            "This is a notice; it is not a claim, and does not stand in for one.",
        ),
        (
            made(carrier_claim(&sample_letters::claim(), &print)),
            "Claim for loss and damage",
            "A note on the delivery receipt, a report of damage or a notice is not a claim",
        ),
        (
            made(sender_notice(&sample_letters::notice_to_sender(), &print)),
            "Short, over and wrong",
            "This is a notice, not a claim for money.",
        ),
        (
            made(replacement_order(&sample_letters::replacement(), &print)),
            "Replacement order",
            "This is an order for parts, not a notice and not a claim.",
        ),
        (
            made(return_list(&sample_letters::returns(), &print)),
            "Return list",
            "This list is not a notice and not a claim.",
        ),
    ] {
        // The typesetter turns straight apostrophes round.
        let letters = pdf.letters().replace('\u{2019}', "'");
        for words in HEAD {
            assert!(
                letters.contains(&squeeze(words)),
                "{title}: {words}\n{letters}"
            );
        }
        assert!(letters.contains(&squeeze(is_not)), "{title}\n{letters}");
        assert_eq!(
            pdf.info("Title"),
            format!("{title}: School garden, Long Slough Island")
        );
    }
}

#[test]
fn the_notice_of_damage_says_what_was_found_and_asks_for_an_inspection() {
    let pdf = made(damage_notice(
        &sample_letters::notice_of_damage(),
        &sample::print(),
    ));
    says_all(
        &pdf,
        &[
            "SF-20417",
            "PRO 88-1203",
            "2026-05-04 09:15",
            "3: 2 bundles, 1 crate",
            "“1 of 2 bundles: band broken, two posts bent”",
            "ask you to inspect the goods and their packing",
            "inside a banded bundle, wrapped",
            "behind the school, bands and wrap as found",
            "by telephone, 2026-05-04 12:10, Wren",
            "2 bent: “Forklift mark at one third, flattened to about half” — Wren, 2026-05-04 10:05",
            "NMFC item 300135 (seen in a reprint)",
            "custom (NMFC item 300135): 5 business days from delivery",
            "Photo 1. P1 ground post, forklift mark — Wren, 2026-05-04 10:05",
            "SHA-256 begins 9f86d081884c7d65",
        ],
    );
    // Nothing that NMFC item 300135 asks for is missing (S1, reprint).
    assert!(pdf.page(1).contains("Complete"), "{}", pdf.text());
    assert!(!pdf.text().contains("Not complete"));
}

#[test]
fn a_photo_has_words_for_whoever_does_not_see_it() {
    let bytes = damage_notice(&sample_letters::notice_of_damage(), &sample::print()).unwrap();
    // The words stand in the tags; qpdf writes them out plain.
    let Some(plain) = Pdf::new(&bytes).plain() else {
        return;
    };
    let alt = "Photo 1 shows P1: ground post, forklift mark. Taken by Wren, 2026-05-04 10:05.";
    assert!(plain.contains(&format!("/Alt ({alt})")), "no alt text");
    let tags = Pdf::new(&bytes).structure();
    assert!(tags.contains("Figure"), "{tags}");
}

#[test]
fn the_notice_to_the_sender_has_their_words_the_cause_and_the_check() {
    let pdf = made(sender_notice(
        &sample_letters::notice_to_sender(),
        &sample::print(),
    ));
    says_all(
        &pdf,
        &[
            "HD-0166-22, PURLIN TUBE 1.66 X 10'6\" SWAGED (list 1, row 14)",
            "Likely cause: 5 R2 were left out of the bundle",
            "To settle it: measure any 3 in pile C",
            "We ask you to: send 5",
            "across 1.66 in with a caliper (Wren, 2026-05-04 10:30)",
            "First ferry load, came 2026-05-04 09:15",
            "it is no notice to the carrier",
        ],
    );
    let text = pdf.text();
    let row = text
        .lines()
        .find(|line| line.trim_start().starts_with("R2 "))
        .unwrap();
    let numbers: Vec<&str> = row.split_whitespace().rev().take(4).collect();
    assert_eq!(numbers, ["5", "21", "26", "26"], "{text}");
}

#[test]
fn the_replacement_order_speaks_in_the_senders_own_rows() {
    let pdf = made(replacement_order(
        &sample_letters::replacement(),
        &sample::print(),
    ));
    says_all(
        &pdf,
        &[
            "HD-0166-22",
            "PURLIN TUBE 1.66 X 10'6\" SWAGED",
            "list 1, row 14",
            "bundle 2",
            "Ours: R2 Ridge and purlin tube, swaged, 10 ft 6 in",
            "5 short",
            "2026-05-18, before the purlins go up",
            // 5 + 3.
            "8 pieces in 2 rows",
        ],
    );
}

#[test]
fn the_return_list_says_state_place_and_what_the_sender_said() {
    let pdf = made(return_list(&sample_letters::returns(), &sample::print()));
    says_all(
        &pdf,
        &[
            "RT-77",
            "Bow half, gothic, 24 ft",
            "as it came",
            "Lies: pile C",
            "may be kept, 2026-05-05",
            "wrong: another part came in its place",
            // 2 + 4.
            "6 pieces in 2 rows",
            "Handed over by",
            "Driver or carrier",
        ],
    );
}

/// An empty letter has blanks to write on, and says by number and word that it is not complete.
#[test]
fn an_empty_letter_says_what_is_missing() {
    let print = sample::print();
    for (pdf, missing) in [
        (
            made(damage_notice(&DamageNotice::default(), &print)),
            &[
                "the carrier's name",
                "the day of delivery",
                "the bill of lading's number",
            ][..],
        ),
        (
            made(carrier_claim(&CarrierClaim::default(), &print)),
            &[
                "a stated or determinable sum",
                "49 CFR 370.3(b)",
                "what identifies the shipment",
            ],
        ),
        (
            made(sender_notice(&SenderNotice::default(), &print)),
            &["the sender's name", "what is wrong: which part, how many"],
        ),
        (
            made(replacement_order(&ReplacementOrder::default(), &print)),
            &[
                "the order's number",
                "where to send it, and by when it is needed",
            ],
        ),
        (
            made(return_list(&ReturnList::default(), &print)),
            &["where the goods lie, to be collected"],
        ),
    ] {
        let first = squeeze(&pdf.page(1)).replace('\u{2019}', "'");
        assert!(first.contains("Notcomplete:"), "{first}");
        for words in missing {
            assert!(first.contains(&squeeze(words)), "{words}\n{first}");
        }
    }
}

#[test]
fn what_the_caller_finds_missing_stands_in_the_box_too() {
    let mut order = sample_letters::replacement();
    order.letter.missing = vec![Missing::of("the colour of the film", "the list has two")];
    let pdf = made(replacement_order(&order, &sample::print()));
    says_all(
        &pdf,
        &[
            "Not complete: 1 thing is missing",
            "the colour of the film: the list has two",
        ],
    );
}

#[test]
fn a_broken_photo_is_said_and_the_paper_comes_out() {
    let mut notice = sample_letters::notice_of_damage();
    notice.photos[1].bytes.truncate(900);
    notice.photos.push(paper::Photo::default());
    notice.photos.push(paper::Photo {
        bytes: b"GIF89a, or so it says".to_vec(),
        mark: "P1".into(),
        ..paper::Photo::default()
    });
    let pdf = made(damage_notice(&notice, &sample::print()));
    assert_eq!(pdf.images().len(), 1, "one picture is whole");
    let letters = pdf.letters();
    assert_eq!(letters.matches("Leftout.").count(), 3, "{letters}");
    says_all(
        &pdf,
        &[
            "the band of the bundle",
            "This copy of the job does not hold it.",
        ],
    );
}

#[test]
fn letter_and_a4_hold_the_same() {
    for sheet in [Sheet::Letter, Sheet::A4] {
        let print = Print {
            sheet,
            ..sample::print()
        };
        let pdf = made(carrier_claim(&sample_letters::claim(), &print));
        says_all(
            &pdf,
            &["We demand payment of", "Claimant", "Carrier: received"],
        );
    }
}
