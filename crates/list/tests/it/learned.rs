//! A sender's codes, learned from rows that are sure or that a person decided, and found in another order.

use std::collections::BTreeMap;

use list::{Codes, Learned, match_rows, read, read_codes, sender_key, write_codes};
use proptest::prelude::*;

use crate::parts::gothic;

const HEAD: &str = "Ship from,The Office\n\nCode,Qty,Description\n";

fn learn(csv: &str, said: &[(usize, &str)]) -> Codes {
    let list = read(format!("{HEAD}{csv}").as_bytes(), "list.csv").expect("a list");
    let said = said.iter().map(|(row, mark)| {
        let mark = Some(frame::Mark((*mark).into()));
        (list.rows[*row].key, mark)
    });
    let parts = gothic();
    let matched = match_rows(&list, &parts, &said.collect::<BTreeMap<_, _>>());
    Codes::learn(&list, &matched, &parts)
}

fn description(mark: &str) -> String {
    let part = gothic().into_iter().find(|part| part.mark.0 == mark);
    part.expect("a part of the order").description
}

#[test]
fn a_persons_word_and_sure_words_teach_a_code_and_unsure_words_do_not() {
    let sure = description("P1");
    let csv = format!("GS-60,26,\"{sure}\"\nQX-7,4,Thing for the corner\nQX-8,4,Other thing\n");
    let codes = learn(&csv, &[(1, "C1")]);
    assert_eq!(
        codes.by_code,
        BTreeMap::from([
            (
                "GS60".into(),
                Learned {
                    means: sure,
                    by_a_person: false
                }
            ),
            (
                "QX7".into(),
                Learned {
                    means: description("C1"),
                    by_a_person: true
                }
            ),
        ])
    );
}

#[test]
fn a_code_that_stood_for_two_things_is_not_learned() {
    let codes = learn("K-7,4,Thing\nK-7,4,Another\n", &[(0, "P1"), (1, "C1")]);
    assert!(codes.by_code.is_empty());
    let several: Vec<&String> = codes.unclear["K7"].iter().collect();
    assert_eq!(several.len(), 2);
    // A third thing in a later list does not make it clear.
    let mut both = codes.clone();
    both.take_in(&learn("K-7,4,Thing\n", &[(0, "P1")]));
    assert!(both.by_code.is_empty());
}

#[test]
fn what_a_person_said_goes_before_what_words_said() {
    let sure = description("P1");
    let by_words = learn(&format!("K-7,4,\"{sure}\"\n"), &[]);
    let by_person = learn("K-7,4,Thing\n", &[(0, "C1")]);
    for (first, then) in [(&by_words, &by_person), (&by_person, &by_words)] {
        let mut codes = first.clone();
        codes.take_in(then);
        assert_eq!(codes.by_code["K7"].means, description("C1"));
    }
}

#[test]
fn the_same_thing_is_found_under_another_mark_and_nothing_else_is() {
    let codes = learn("K-7,4,Thing\n", &[(0, "P1")]);
    let mut parts = gothic();
    parts.reverse();
    for part in &mut parts {
        part.mark = frame::Mark(format!("Z{}", part.mark.0));
    }
    let found = codes
        .part_for("k 7", &parts)
        .map(|at| parts[at].mark.0.clone());
    assert_eq!(found.as_deref(), Some("ZP1"));
    assert_eq!(codes.part_for("K-8", &parts), None);
    // An order whose posts are longer has no such thing.
    parts.retain(|part| part.mark.0 != "ZP1");
    assert_eq!(codes.part_for("K-7", &parts), None);
}

#[test]
fn a_sender_is_known_however_the_name_is_written() {
    assert_eq!(
        sender_key("The Office, Ltd."),
        sender_key(" THE  office ltd")
    );
    assert_ne!(sender_key("The Office"), sender_key("Another Office"));
}

#[test]
fn a_file_of_codes_that_cannot_be_read_says_where_and_what_would_be_right() {
    let head = "sender,code,means,said by\n";
    for (file, says) in [
        ("", "it holds no codes".to_string()),
        (head, "it holds no codes".into()),
        ("sender,code,means\nA,B,C\n", "the first line must name the columns sender, code, means and said by; said by is missing".into()),
        (&format!("{head}The Office,,post,a person\n"), "line 2: code is empty; a code has letters or digits".into()),
        (&format!("{head}The Office,A1,post,my cat\n"), "line 2: said by is \"my cat\"; it is \"a person\" or \"its words\"".into()),
    ] {
        let why = read_codes(file.as_bytes()).expect_err(file).to_string();
        assert_eq!(why, says);
    }
    assert!(read_codes(b"\xff\xfe").is_err());
    let saved = "\u{feff}Sender;Code;Means;Said by\r\nThe Office;A-1;Post, long;a person\r\n";
    let read = read_codes(saved.as_bytes()).expect("as a spreadsheet saves it");
    assert_eq!(read["the office"].by_code["A1"].means, "Post, long");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// What is written is read again, and no cell begins a formula.
    #[test]
    fn codes_go_from_one_job_to_the_next(
        sender in "[A-Za-z][A-Za-z ,;\"'=+@-]{0,20}",
        known in prop::collection::btree_map("[A-Z0-9]{1,8}", ("[=+@'-]?[A-Za-z0-9][A-Za-z0-9 ,;\"'/#=-]{0,30}", any::<bool>()), 1..6),
    ) {
        let line = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        let by_code: BTreeMap<String, Learned> = known.into_iter()
            .map(|(code, (means, by_a_person))| (code, Learned { means: line(&means), by_a_person }))
            .collect();
        let codes = Codes { sender: line(&sender), by_code, ..Codes::default() };
        let text = write_codes(&[&codes]);
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        for record in reader.records() {
            for cell in &record.expect("it is CSV") {
                prop_assert!(!cell.starts_with(['=', '+', '-', '@']), "{cell}");
            }
        }
        let read = read_codes(text.as_bytes()).expect("what was written can be read");
        prop_assert_eq!(&read[&sender_key(&codes.sender)].by_code, &codes.by_code);
    }

    /// No bytes make it panic.
    #[test]
    fn any_bytes_are_read_or_refused(bytes in prop::collection::vec(any::<u8>(), 0..300), head in any::<bool>()) {
        let mut file = if head { b"sender,code,means,said by\n".to_vec() } else { Vec::new() };
        file.extend(bytes);
        let _ = read_codes(&file);
    }
}
