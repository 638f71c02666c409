//! The ten minutes before the driver leaves. The list is held against that for federal property, 41 CFR 101-40.701 to .707 (S, old).

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
    let choices = CHOICES
        .iter()
        .flat_map(|c| c.means(&claim::WHILE_NOT_SAID))
        .collect::<Vec<_>>();
    let all: Vec<&Cited> = TEN_MINUTES.iter().chain(&choices).collect();
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
            .means(&claim::WHILE_NOT_SAID)
            .iter()
            .map(|c| c.says)
            .collect::<Vec<_>>()
            .join(" ")
    };
    assert!(says(Choice::TakeWithNote).contains("not yet a claim"));
    assert!(says(Choice::SignClear).contains("evidence, though no proof"));
    assert!(says(Choice::Refuse).contains("binds federal agencies, not you"));
}

/// What is told of hidden harm is what the set that holds says, in its own number of days.
#[test]
fn hidden_harm_is_told_by_the_set_that_holds() {
    let sets = claim::RuleSets::built_in();
    for (set, rule) in [
        ("us-motor", "us-motor.hidden-harm"),
        ("cmr", "cmr.hidden-harm"),
        ("sea", "sea.hidden-harm"),
        ("air", "air.damage"),
        ("rail", "rail.hidden-harm"),
    ] {
        let rule = sets.rule(rule).unwrap();
        let means = Choice::SignClear.means(&[set, "cisg"]);
        let told: Vec<&Cited> = (means.iter())
            .filter(|c| c.says.contains("within"))
            .collect();
        let [told] = told[..] else {
            panic!("{set}: {told:?}")
        };
        assert!(told.says.contains(&rule.period.to_string()), "{set}");
        assert!(
            rule.source.starts_with(told.source),
            "{set}: {}",
            rule.source
        );
        assert_eq!(told.sure, rule.sure, "{set}");
        let us = |c: &Cited| {
            ["CFR", "NMFC", "UCC"]
                .iter()
                .any(|name| c.source.contains(name))
        };
        let all = CHOICES.iter().flat_map(|c| c.means(&[set, "cisg"]));
        assert_eq!(all.into_iter().any(|c| us(&c)), set == "us-motor");
    }
}
