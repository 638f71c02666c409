//! Rows that stand for several marks; what each holds is by hand.

use std::collections::BTreeMap;

use frame::Mark;
use list::{Against, Kit, Matched, explode, match_list, read};

use crate::parts::gothic;

fn mark(text: &str) -> Mark {
    Mark(text.into())
}

fn kit(name: &str, holds: &[(&str, i64)]) -> Kit {
    let holds = holds.iter().map(|(of, n)| (mark(of), *n)).collect();
    Kit {
        name: name.into(),
        holds,
    }
}

/// Shares of a house as its order packs them.
fn kits() -> Vec<Kit> {
    vec![
        kit("frame", &[("P1", 26), ("B1", 26), ("N1", 26)]),
        kit(
            "end walls",
            &[("S1", 8), ("X3", 8), ("X4", 8), ("D1", 2), ("N1", 52)],
        ),
    ]
}

fn matched(text: &str) -> Vec<Matched> {
    let list = read(text.as_bytes(), "list").unwrap();
    let (parts, kits) = (gothic(), kits());
    let against = Against {
        parts: &parts,
        kits: &kits,
        ..Against::default()
    };
    match_list(&list, &against)
}

fn holds(matched: &Matched) -> Vec<(&str, i64)> {
    matched
        .holds
        .iter()
        .map(|(mark, n)| (mark.0.as_str(), *n))
        .collect()
}

#[test]
fn a_kit_by_its_name_stands_for_its_marks() {
    for words in [
        "End wall kit",
        "END WALLS KIT",
        "Endwall package",
        "Kit, end wall",
    ] {
        let all = matched(&format!(
            "Qty,Description\n26,Ground post 5 ft\n1,\"{words}\"\n"
        ));
        let kit = &all[1];
        assert_eq!(kit.mark, None, "{words}");
        assert_eq!(
            holds(kit),
            [("S1", 8), ("X3", 8), ("X4", 8), ("D1", 2), ("N1", 52)],
            "{words}"
        );
        assert!(kit.doubt >= 0.5, "{kit:?}");
        assert!(
            kit.reasons[0].words.contains("open it and count"),
            "{kit:?}"
        );
    }
}

#[test]
fn two_bags_of_a_kit_are_all_of_it_once() {
    let one_row = matched("Qty,Description\n26,Ground post 5 ft\n2,End wall kit\n");
    assert_eq!(holds(&one_row[1])[0], ("S1", 8));
    let two_rows =
        matched("Qty,Description\n26,Ground post 5 ft\n1,End wall kit\n1,End wall kit\n");
    assert_eq!(
        (holds(&two_rows[1])[0], holds(&two_rows[2])[0]),
        (("S1", 4), ("S1", 4))
    );
    // One of two has come.
    let half = matched(
        "Ordered,Shipped,Description\n26,26,Ground post 5 ft\n2,1,End wall kit\n3,3,Peak plate\n",
    );
    assert_eq!(holds(&half[1])[0], ("S1", 4));
}

#[test]
fn what_only_sounds_like_a_kit_is_none() {
    for words in [
        "End wall stud",
        "End wall",
        "Door latch set",
        "Hardware kit",
        "End wall door kit",
    ] {
        let all = matched(&format!(
            "Qty,Description\n26,Ground post 5 ft\n8,\"{words}\"\n"
        ));
        assert!(all[1].holds.is_empty(), "{words}: {:?}", all[1].holds);
    }
}

#[test]
fn a_kit_whose_things_have_rows_is_a_heading() {
    let all = matched(
        "Qty,Description\n1,End wall kit\n8,\"End wall stud 1-3/8 x 10'6\"\" plain ends\"\n8,Stud clamp\n8,Stud shoe\n2,Door panel 42 x 80\n",
    );
    assert_eq!(all[0].holds, []);
    assert!(
        all[0].reasons[0].words.contains("heading"),
        "{:?}",
        all[0].reasons
    );
    assert_eq!(all[1].mark, Some(mark("S1")));
    // With one row of its own only that is left to it.
    let all =
        matched("Qty,Description\n1,End wall kit\n78,Hex bolt 5/16 x 2-1/2\n26,Ground post 5 ft\n");
    assert_eq!(holds(&all[0]), [("S1", 8), ("X3", 8), ("X4", 8), ("D1", 2)]);
    assert!(
        all[0].reasons[0].words.contains("N1"),
        "{:?}",
        all[0].reasons
    );
}

#[test]
fn a_row_that_lists_what_it_holds() {
    let all = matched(
        "Qty,Description\n13,\"Bow set: 2 half bows + 2 peak plates\"\n26,Ground post 5 ft\n",
    );
    assert_eq!(holds(&all[0]), [("B1", 26), ("K1", 26)]);
    let all = matched(
        "Qty,Description\n8,\"Stud clamp incl. 2 bolts 5/16 x 2-1/2, 2 lock nuts 5/16\"\n26,Ground post 5 ft\n",
    );
    assert_eq!(holds(&all[0]), [("X3", 8), ("N1", 16), ("N3", 16)]);
    // A size is no count, and holes are no parts.
    for words in [
        "Ridge tube with 2 holes",
        "Ridge tube: 1-3/8 x 10'6",
        "Stud clamp (2 hole)",
        "Ground post, 14 ga, 5 ft",
    ] {
        let all = matched(&format!("Qty,Description\n8,\"{words}\"\n26,Half bow\n"));
        assert!(all[0].holds.is_empty(), "{words}: {:?}", all[0].holds);
    }
}

#[test]
fn left_and_right_in_one_row() {
    let which = |words: &str| {
        let lower = words.to_lowercase();
        let side = |side: &str| lower.contains("brace") && lower.contains(side);
        if side("left") {
            Some(mark("WL"))
        } else if side("right") {
            Some(mark("WR"))
        } else {
            None
        }
    };
    let of = |text: &str, kits: &[Kit]| {
        let list = read(
            format!("Qty,Description\n{text}\n26,Ground post\n").as_bytes(),
            "list",
        )
        .unwrap();
        let found = explode(&list.rows, kits, &|_| false, &which).remove(&0);
        found.map(|found| {
            found
                .holds
                .into_iter()
                .map(|(mark, n)| (mark.0, n))
                .collect::<BTreeMap<_, _>>()
        })
    };
    let both = |l, r| Some(BTreeMap::from([("WL".to_owned(), l), ("WR".to_owned(), r)]));
    let each = [kit("frame", &[("WL", 4), ("WR", 4)])];
    let together = [kit("frame", &[("WL", 2), ("WR", 2)])];
    assert_eq!(of("4 ea,Brace L/R", &each), both(4, 4));
    assert_eq!(of("4 ea,Brace L/R", &together), both(2, 2));
    assert_eq!(of("6,Brace LH & RH", &[]), both(3, 3));
    assert_eq!(of("3 L + 2 R,Brace", &[]), both(3, 2));
    assert_eq!(of("5,Brace L/R", &[]), None);
    assert_eq!(of("4,Clamp L/R", &each), None);
}
