//! Words for the delivery receipt. The wordings that must pass are our own, after 41 CFR 101-40.701 to .707 (S1, old).

use claim::{
    HarmKind, Seal, SealState, SeenAtTruck, UnitKind, WordTrouble, check_words, receipt_note,
};

fn bows() -> SeenAtTruck {
    SeenAtTruck {
        unit: UnitKind::Bundle,
        of: "bow".into(),
        billed: Some(12),
        received: Some(12),
        harmed: 2,
        harm: Some(HarmKind::Bent),
        place: "upper end".into(),
        ..SeenAtTruck::default()
    }
}

fn crate_side() -> SeenAtTruck {
    SeenAtTruck {
        unit: UnitKind::Crate,
        label: "4417".into(),
        billed: Some(3),
        received: Some(3),
        harmed: 1,
        harm: Some(HarmKind::Broken),
        place: "side".into(),
        more: "30 cm split.".into(),
        ..SeenAtTruck::default()
    }
}

fn carton() -> SeenAtTruck {
    SeenAtTruck {
        unit: UnitKind::Carton,
        billed: Some(5),
        received: Some(4),
        ..SeenAtTruck::default()
    }
}

#[test]
fn what_was_seen_becomes_words_to_copy() {
    let seal = Seal {
        number: "88231".into(),
        state: SealState::Broken,
    };
    let note = receipt_note(&[bows(), crate_side(), carton()], Some(&seal));
    assert_eq!(
        note.words,
        "2 of 12 bow bundles: upper end bent; 1 of 3 crates, label 4417: side broken, 30 cm split; 1 carton short (5 \
         billed, 4 received); seal 88231 broken."
    );
    assert!(note.lacking.is_empty(), "{:?}", note.lacking);
    assert_eq!(check_words(&note.words), []);
}

#[test]
fn what_was_not_said_is_asked_for() {
    let vague = SeenAtTruck {
        unit: UnitKind::Other("box".into()),
        harm: Some(HarmKind::Wet),
        ..SeenAtTruck::default()
    };
    let note = receipt_note(&[vague], None);
    // A blank, to be filled in by hand.
    assert_eq!(note.words, "__ boxes wet.");
    assert_eq!(
        note.lacking,
        [
            "How many boxes does the freight bill say?",
            "How many boxes came off the truck? Count them.",
            "How many boxes are harmed?",
            "Where on the boxes: which side, end or corner?",
        ]
    );
    let too_many = SeenAtTruck {
        harmed: 14,
        ..bows()
    };
    let note = receipt_note(&[too_many], None);
    assert_eq!(
        note.lacking,
        ["14 bow bundles are harmed, but 12 came: which is right?"]
    );
    assert_eq!(note.words, "14 bow bundles: upper end bent.");
}

#[test]
fn both_short_and_harmed_and_over() {
    let both = SeenAtTruck {
        received: Some(11),
        ..bows()
    };
    let over = SeenAtTruck {
        received: Some(7),
        ..carton()
    };
    assert_eq!(
        receipt_note(&[both, over], None).words,
        "1 bow bundle short (12 billed, 11 received); 2 of 11 bow bundles: upper end bent; 2 cartons over (5 billed, 7 \
         received)."
    );
}

#[test]
fn nothing_wrong_is_said_of_what_was_counted() {
    let whole = SeenAtTruck {
        received: Some(5),
        ..carton()
    };
    assert_eq!(
        receipt_note(std::slice::from_ref(&whole), None).words,
        "5 cartons counted of 5 billed, no harm seen from outside."
    );
    // Beside something that is wrong it says nothing.
    assert_eq!(
        receipt_note(&[whole, carton()], None).words,
        "1 carton short (5 billed, 4 received)."
    );
    assert_eq!(receipt_note(&[], None).words, "");
}

#[test]
fn no_note_of_ours_is_ever_empty_words() {
    for unit in UnitKind::ALL {
        for harm in HarmKind::ALL {
            let seen = SeenAtTruck {
                unit: unit.clone(),
                harm: Some(harm),
                ..bows()
            };
            let note = receipt_note(&[seen, carton()], None);
            assert_eq!(check_words(&note.words), [], "{}", note.words);
        }
    }
}

#[test]
fn the_issues_own_words_pass() {
    assert_eq!(
        check_words("two bow bundles bent, crate side broken, 1 carton short"),
        []
    );
    // A good note, our own example; no source.
    let good = "1 of 3 crates, SSCC ...897: NE corner crushed, 30 cm split in side panel, strap missing; 1 of 12 bundles \
                not delivered.";
    assert_eq!(check_words(good), []);
    for shortage in [
        "1 carton missing",
        "3 of 4 crates received, 1 not delivered",
        "2 bundles over",
    ] {
        assert_eq!(check_words(shortage), [], "{shortage}");
    }
}

#[test]
fn empty_phrases_are_named() {
    // "subject to inspection": trade pages, S2. The others are of the same sort, our own list.
    let table = [
        ("Subject to inspection", "subject to inspection"),
        ("rec'd SUBJECT TO COUNT & inspection", "subject to count"),
        ("Subj. to final count", "subj to final count"),
        (
            "12 bundles, subject to a later check",
            "subject to a later check",
        ),
        ("STC 412 parts", "stc"),
        ("said to contain 412 parts", "said to contain"),
        ("Possible damage", "possible damage"),
        ("contents unknown", "contents unknown"),
        ("pending  inspection", "pending inspection"),
    ];
    for (text, phrase) in table {
        let empty = WordTrouble::Empty {
            phrase: phrase.into(),
        };
        assert!(
            check_words(text).contains(&empty),
            "{text}: {:?}",
            check_words(text)
        );
    }
    let said = check_words("subject to count")[0].words();
    assert!(
        said.starts_with("\"subject to count\" says nothing was short or harmed"),
        "{said}"
    );
}

#[test]
fn what_is_missing_is_named() {
    use WordTrouble::{NoCount, NoHarm, NoPlace, NoUnit};
    let table: [(&str, &[WordTrouble]); 8] = [
        ("damaged", &[NoCount, NoUnit, NoHarm]),
        ("some crates crushed at the corner", &[NoCount]),
        ("2 crushed at the corner", &[NoUnit]),
        ("2 crates damaged", &[NoHarm]),
        ("2 crates crushed", &[NoPlace]),
        ("crate wet", &[NoCount, NoPlace]),
        ("1 crate broken, 1 carton missing", &[NoPlace]),
        ("", &[NoCount, NoUnit, NoHarm]),
    ];
    for (text, expected) in table {
        assert_eq!(check_words(text), expected, "{text}");
    }
}

#[test]
fn long_and_strange_words_are_no_trouble() {
    check_words(&"subject to ".repeat(20_000));
    check_words("\u{0}\u{202e}ﬀ ٣ crates");
    let strange = SeenAtTruck {
        unit: UnitKind::Other(" ".into()),
        of: "\n".into(),
        ..carton()
    };
    assert_eq!(
        receipt_note(&[strange], None).words,
        "1 unit short (5 billed, 4 received)."
    );
}
