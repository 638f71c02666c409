//! The ten minutes before the driver leaves: receiving.md 3.

use claim::{CHOICES, Choice, Cited, Sure, TEN_MINUTES};

#[test]
fn the_list_has_all_that_the_sheet_of_facts_has() {
    let all = TEN_MINUTES.map(|c| c.says.to_lowercase()).join(" ");
    for word in [
        "seals",
        "count",
        "freight bill",
        "wide",
        "close",
        "both copies",
        "driver to sign",
        "packing",
    ] {
        assert!(all.contains(word), "{word}");
    }
}

#[test]
fn each_sentence_names_where_it_is_from() {
    let choices = CHOICES.iter().flat_map(|c| c.means());
    let all: Vec<&Cited> = TEN_MINUTES.iter().chain(choices).collect();
    for cited in all {
        assert!(!cited.source.is_empty());
        let numbered = cited.source.contains("CFR") || cited.source.contains("NMFC");
        assert!(
            cited.sure != Sure::Seen || numbered,
            "seen, but where? {}",
            cited.says
        );
    }
}

#[test]
fn a_note_is_no_claim_and_a_clear_signature_no_proof() {
    let says = |choice: Choice| {
        choice
            .means()
            .iter()
            .map(|c| c.says)
            .collect::<Vec<_>>()
            .join(" ")
    };
    assert!(says(Choice::TakeWithNote).contains("not yet a claim"));
    assert!(says(Choice::SignClear).contains("evidence, though no proof"));
    assert!(says(Choice::Refuse).contains("binds federal agencies, not you"));
}
