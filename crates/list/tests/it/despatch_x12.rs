//! Ship notices in the shapes that senders' systems give them; each written by hand.

use list::despatch::{Despatch, Whose};
use list::{PackingList, Refusal, Why, read};

/// Puts an envelope around the segments of one 856, with counts that are right.
fn envelope(body: &[&str], element: char, component: char, end: &str) -> String {
    let mut set = vec!["ST*856*0001"];
    set.extend(body);
    let se = format!("SE*{}*0001", set.len() + 1);
    set.push(&se);
    let isa = format!(
        "ISA*00*          *00*          *ZZ*KITMAKER       *ZZ*SCHOOLGARDEN   *260304*0930*U*00401*000000007*0*P*{component}"
    );
    let mut all = vec![
        isa.as_str(),
        "GS*SH*KITMAKER*SCHOOLGARDEN*20260304*0930*7*X*004010",
    ];
    all.extend(set);
    all.extend(["GE*1*7", "IEA*1*000000007"]);
    let mut text = String::new();
    for segment in all {
        text.push_str(&segment.replace('*', &element.to_string()));
        text.push_str(end);
    }
    text
}

/// Two pallets with an SSCC each; on the first a carton with pairs and loose posts, on the second channel by length.
const NESTED: [&str; 34] = [
    "BSN*00*SHIP-118*20260304*0915*0001",
    "HL*1**S",
    "TD1*PLT71*2****G*1840*LB",
    "REF*BM*BOL-77",
    "REF*2I*1Z-0000-7",
    "DTM*011*20260304",
    "N1*SF*KIT MAKER YARD*UL*0614141000012",
    "N1*ST*SCHOOL GARDEN*91*SG1",
    "N3*PIER 2",
    "N4*ISLAND**00001*XX",
    "HL*2*1*O",
    "PRF*PO-4711***20260201",
    "HL*3*2*T",
    "MAN*GM*00106141411234567897",
    "HL*4*3*P",
    "MAN*CP*1Z0001",
    "PO4*1",
    "HL*5*4*I",
    "LIN*10*VP*BR-2*BP*9002*UP*036000291452",
    "SN1*10*6*PR**8*PR",
    "PID*F****BRACKET, LEFT AND RIGHT",
    "HL*6*3*I",
    "LIN*20*VP*GP-5",
    "SN1*20*26*EA",
    "PID*F****GROUND POST",
    "MEA*PD*LN*5*FT",
    "HL*7*2*T",
    "MAN*GM*00006141411234567890",
    "HL*8*7*I",
    "LIN*30*VP*LC-8*LT*L-88*CH*US",
    "SN1*30*40*EA",
    "PID*F****LOCK CHANNEL",
    "MEA*PD*LN*96.5*IN",
    "CTT*8*72",
];

fn list_of(text: &str) -> PackingList {
    read(text.as_bytes(), "notice.edi").unwrap()
}

fn data(list: &PackingList) -> &Despatch {
    list.despatch.as_deref().unwrap()
}

fn warnings(list: &PackingList) -> Vec<&str> {
    data(list)
        .warnings
        .iter()
        .map(|w| w.what.as_str())
        .collect()
}

/// What the nested notice says, whatever parts its segments.
fn is_the_nested_one(list: &PackingList) {
    let despatch = data(list);
    let notice = &despatch.notices[0];
    assert_eq!(notice.id, "SHIP-118");
    let units: Vec<_> = (notice.units.iter())
        .map(|u| (u.level.as_str(), u.id.as_str(), u.sscc.as_deref(), u.parent))
        .collect();
    assert_eq!(
        units,
        [
            (
                "T",
                "00106141411234567897",
                Some("106141411234567897"),
                None
            ),
            ("P", "1Z0001", None, Some(0)),
            (
                "T",
                "00006141411234567890",
                Some("006141411234567890"),
                None
            ),
        ]
    );
    let rows: Vec<_> = (list.rows.iter())
        .map(|r| {
            (
                r.quantity,
                r.code.as_str(),
                r.description.as_str(),
                r.details.as_str(),
                r.sub_kit.as_str(),
            )
        })
        .collect();
    assert_eq!(
        rows,
        [
            (
                Some(12),
                "BR-2",
                "BRACKET, LEFT AND RIGHT",
                "",
                "package 1Z0001"
            ),
            (
                Some(26),
                "GP-5",
                "GROUND POST",
                "5 ft long",
                "pallet 106141411234567897"
            ),
            (
                Some(40),
                "LC-8",
                "LOCK CHANNEL",
                "country of origin US, 96.5 in long",
                "pallet 006141411234567890"
            ),
        ]
    );
    assert_eq!(list.rows[0].ordered, Some(16));
    let units: Vec<_> = despatch
        .lines
        .iter()
        .map(|line| line.units.clone())
        .collect();
    assert_eq!(units, [vec![1], vec![0], vec![2]]);
    assert_eq!(despatch.lines[2].item.lots[0].number, "L-88");
    let length = despatch.lines[2].item.measures[0].amount.length().unwrap();
    assert_eq!(length.as_nanometres(), 2_451_100_000);
    assert_eq!(despatch.lines[0].order.id, "PO-4711");
    assert_eq!(list.header.sender.as_deref(), Some("KIT MAKER YARD"));
    assert_eq!(list.header.number.as_deref(), Some("PO-4711"));
    assert_eq!(list.header.date.as_deref(), Some("2026-03-04"));
}

#[test]
fn pallets_packages_and_items() {
    let list = list_of(&envelope(&NESTED, '*', '>', "~\n"));
    is_the_nested_one(&list);
    assert_eq!(warnings(&list), Vec::<&str>::new());
    let ids: Vec<_> = data(&list).lines[0]
        .item
        .ids
        .iter()
        .map(|id| (id.whose, id.value.as_str()))
        .collect();
    assert_eq!(
        ids,
        [
            (Whose::Seller, "BR-2"),
            (Whose::Buyer, "9002"),
            (Whose::Standard, "036000291452")
        ]
    );
}

#[test]
fn whatever_parts_and_ends_the_segments() {
    for (element, component, end) in [
        ('*', ':', "~"),
        ('*', ':', "\n"),
        ('*', ':', "\r\n"),
        ('*', ':', "\r"),
        ('|', '>', "~\r\n"),
        ('^', '~', "|\n"),
        ('\u{1D}', '\u{1F}', "\u{1C}"),
        ('\u{1D}', '\u{1F}', "\u{1C}\r\n"),
        ('+', '<', "'\n"),
        ('*', '\\', "\u{85}"),
        ('*', ':', "~\n\n    "),
        ('*', ':', "~ "),
    ] {
        let text = envelope(&NESTED, element, component, end);
        is_the_nested_one(&list_of(&text));
        let marked = [b"\xEF\xBB\xBF", text.as_bytes()].concat();
        is_the_nested_one(&read(&marked, "marked").unwrap());
        let wide: Vec<u8> = text.encode_utf16().flat_map(u16::to_le_bytes).collect();
        is_the_nested_one(&read(&[b"\xFF\xFE", &wide[..]].concat(), "wide").unwrap());
    }
}

/// A line broken at eighty columns, and one at a time in a letter.
#[test]
fn broken_at_eighty_columns_and_in_a_letter() {
    let text = envelope(&NESTED, '*', ':', "~");
    let broken: Vec<String> = (text.as_bytes().chunks(80))
        .map(|line| String::from_utf8_lossy(line).into_owned())
        .collect();
    is_the_nested_one(&list_of(&broken.join("\r\n")));
    let letter = format!(
        "Hello Noor,\n\nhere is the notice for load 1. It says ISA at its start.\n\n{}\n\nRegards\nInes\n",
        envelope(&NESTED, '*', ':', "~\n")
    );
    let list = list_of(&letter);
    is_the_nested_one(&list);
    assert_eq!(
        warnings(&list),
        [
            "the text before the data is not read",
            "the text after the data is not read"
        ]
    );
}

#[test]
fn in_small_letters() {
    let text = envelope(&NESTED, '*', ':', "~\n").to_lowercase();
    let list = list_of(&text);
    let rows: Vec<_> = list
        .rows
        .iter()
        .map(|r| (r.quantity, r.code.as_str()))
        .collect();
    assert_eq!(
        rows,
        [(Some(12), "br-2"), (Some(26), "gp-5"), (Some(40), "lc-8")]
    );
    assert_eq!(data(&list).notices[0].units.len(), 3);
}

#[test]
fn without_parents_it_nests_by_level() {
    let flat: Vec<String> = (NESTED.iter())
        .map(|s| match s.strip_prefix("HL*") {
            Some(hl) => {
                let mut parts = hl.split('*');
                let (id, level) = (parts.next().unwrap(), parts.nth(1).unwrap());
                format!("HL*{id}**{level}")
            }
            None => (*s).to_owned(),
        })
        .collect();
    let flat: Vec<&str> = flat.iter().map(String::as_str).collect();
    let list = list_of(&envelope(&flat, '*', ':', "~\n"));
    // Item 6 stands after the package: without a parent it is taken to be in it.
    let units: Vec<_> = data(&list)
        .lines
        .iter()
        .map(|line| line.units.clone())
        .collect();
    assert_eq!(units, [vec![1], vec![1], vec![2]]);
    assert_eq!(data(&list).notices[0].units[1].parent, Some(0));
    assert_eq!(data(&list).lines[2].order.id, "PO-4711");
}

/// Order within package, and package within item: the structure codes 0003 and 0002.
#[test]
fn other_structures() {
    let around = [
        "BSN*00*A1*20260304*0915*0003",
        "HL*1**S",
        "HL*2**P",
        "MAN*GM*00106141411234567897",
        "HL*3**O",
        "PRF*PO-1",
        "HL*4**I",
        "LIN**VP*A",
        "SN1**1*EA",
        "HL*5**O",
        "PRF*PO-2",
        "HL*6**I",
        "LIN**VP*B",
        "SN1**2*EA",
        "HL*7**P",
        "MAN*GM*00006141411234567890",
        "HL*8**O",
        "PRF*PO-1",
        "HL*9**I",
        "LIN**VP*C",
        "SN1**3*EA",
        "CTT*9",
    ];
    let list = list_of(&envelope(&around, '*', ':', "~"));
    let lines: Vec<_> = data(&list)
        .lines
        .iter()
        .map(|l| (l.order.id.as_str(), l.units.clone()))
        .collect();
    assert_eq!(
        lines,
        [("PO-1", vec![0]), ("PO-2", vec![0]), ("PO-1", vec![1])]
    );
    assert_eq!(list.header.number.as_deref(), Some("PO-1, PO-2"));

    let inside = [
        "BSN*00*A2*20260304*0915*0002",
        "HL*1**S",
        "HL*2**O",
        "PRF*PO-1",
        "HL*3**I",
        "LIN**VP*A",
        "SN1**30*EA",
        "HL*4**P",
        "MAN*GM*00106141411234567897",
        "SN1**20*EA",
        "HL*5**P",
        "MAN*GM*00006141411234567890",
        "SN1**10*EA",
        "CTT*5",
    ];
    let list = list_of(&envelope(&inside, '*', ':', "~"));
    assert_eq!(list.rows.len(), 1);
    let line = &data(&list).lines[0];
    assert_eq!(line.units, [0, 1]);
    let each: Vec<_> = line
        .packed
        .iter()
        .map(|p| p.each.as_ref().unwrap().written.as_str())
        .collect();
    assert_eq!(each, ["20", "10"]);
    assert_eq!(list.rows[0].quantity, Some(30));
}

#[test]
fn packs_kits_and_parts() {
    let body = [
        "BSN*00*A3*20260304*0915",
        "HL*1**S",
        "HL*2*1*O",
        "PRF*PO-1",
        // Three cartons of twelve each, by PO4.
        "HL*3*2*I",
        "LIN*1*VP*SCREW",
        "SN1**3*CT",
        "PO4*12*****************",
        "HL*4*2*I",
        "LIN*2*VP*NUTS",
        "SN1**2*BX",
        "HL*5*2*I",
        "LIN*3*VP*DOOR",
        "SN1**1*KT",
        "SLN*1**I*2*EA****VP*HINGE",
        "PID*F****HINGE",
        "SLN*2**I*1*DZ****VP*BOLT",
        "HL*6*2*I",
        "LIN*4*VP*FAN",
        "SN1**2*EA",
        "SLN*1**I*8*EA****VP*FOOT",
        "CTT*6",
    ];
    let list = list_of(&envelope(&body, '*', ':', "~"));
    let rows: Vec<_> = list
        .rows
        .iter()
        .map(|r| (r.code.as_str(), r.quantity, r.doubt.as_deref()))
        .collect();
    assert_eq!(
        rows,
        [
            (
                "SCREW",
                Some(36),
                Some("3 times 12: the line says that each carton holds 12")
            ),
            (
                "NUTS",
                Some(2),
                Some("how many pieces one box holds is not said")
            ),
            ("HINGE", Some(2), None),
            ("BOLT", Some(12), None),
            ("FAN", Some(2), None),
        ]
    );
    let aside: Vec<_> = list
        .set_aside
        .iter()
        .map(|a| (a.at.row, a.why, a.text.as_str()))
        .collect();
    assert_eq!(
        aside,
        [
            (3, Why::Section, "3 | DOOR | 1 KT (kit)"),
            (7, Why::IncludedIn, "1 | FOOT | 8 EA (each)"),
        ]
    );
    assert_eq!(
        list.rows.len() + list.set_aside.len(),
        data(&list).lines.len()
    );
    assert_eq!(data(&list).lines[3].part_of, Some(2));
    assert_eq!(
        (list.rows[2].sub_kit.as_str(), list.rows[4].sub_kit.as_str()),
        ("DOOR", "")
    );
}

#[test]
fn counts_of_pieces_and_what_is_none() {
    let body = [
        "BSN*00*A4*20260304*0915",
        "HL*1**S",
        "HL*2*1*I",
        "LIN**VP*A",
        "SN1**2*DZ",
        "HL*3*1*I",
        "LIN**VP*B",
        "SN1**0.5*GS",
        "HL*4*1*I",
        "LIN**VP*C",
        "SN1**250*FT",
        "HL*5*1*I",
        "LIN**VP*D",
        "SN1**2.5*EA",
        "HL*6*1*I",
        "LIN**VP*E",
        "SN1**7*QQ",
        "HL*7*1*I",
        "LIN**VP*F",
        "SN1**12x*EA",
        "HL*8*1*I",
        "LIN**VP*G",
        "SN1***EA",
        "HL*9*1*I",
        "LIN**VP*H",
        "SN1**4",
        "CTT*9",
    ];
    let list = list_of(&envelope(&body, '*', ':', "~\n"));
    let rows: Vec<_> = list
        .rows
        .iter()
        .map(|r| (r.quantity, r.doubt.as_deref()))
        .collect();
    assert_eq!(
        rows,
        [
            (Some(24), None),
            (Some(72), None),
            (None, Some("250 FT (foot) is no count of pieces")),
            (None, Some("2.5 EA (each) is no whole number of pieces")),
            (Some(7), Some("the unit QQ is not known")),
            (
                None,
                Some("\"12x\" was not read as a quantity; a number such as 12 would be")
            ),
            (None, Some("the line gives no quantity sent")),
            (
                Some(4),
                Some("4 of what is not said: the line gives no unit")
            ),
        ]
    );
    let bad = warnings(&list)
        .into_iter()
        .find(|w| w.contains("12x"))
        .unwrap();
    assert_eq!(
        bad,
        "segment 21 (SN1), element 2, line 23, column 1: \"12x\" is no number; one such as 12 would be right"
    );
}

#[test]
fn envelopes_are_counted() {
    let right = envelope(&NESTED, '*', ':', "~\n");
    for (from, to, says) in [
        (
            "SE*36*",
            "SE*35*",
            "SE says 35 segments from ST to SE, there are 36",
        ),
        (
            "SE*36*0001",
            "SE*36*0002",
            "SE has the number \"0002\", and its ST \"0001\"",
        ),
        (
            "GE*1*7",
            "GE*2*7",
            "GE says 2 sets of the group, there are 1",
        ),
        (
            "GE*1*7",
            "GE*1*8",
            "GE has the number \"8\", and its GS \"7\"",
        ),
        (
            "IEA*1*000000007",
            "IEA*1*000000008",
            "IEA has the number \"000000008\", and its ISA \"000000007\"",
        ),
        (
            "CTT*8*72",
            "CTT*9*72",
            "CTT says 9 HL segments, there are 8",
        ),
        (
            "CTT*8*72",
            "CTT*8*71",
            "CTT says 71 sent in all, the lines say 72",
        ),
        (
            "HL*8*7*I",
            "HL*8*9*I",
            "HL 8 names the parent 9, which does not stand before it",
        ),
        (
            "GM*00106141411234567897",
            "GM*00106141411234567890",
            "SSCC 106141411234567890: its check digit is 0, and 7 would be right",
        ),
        (
            "UP*036000291452",
            "UP*036000291453",
            "GTIN 036000291453: its check digit is 3, and 2 would be right",
        ),
        (
            "UL*0614141000012",
            "UL*0614141000013",
            "GLN 0614141000013: its check digit is 3, and 2 would be right",
        ),
        ("IEA*1*000000007~\n", "", "interchange 000000007 has no IEA"),
        ("CTT*8*72~\n", "", "set 0001 has no CTT"),
    ] {
        assert!(right.contains(from), "{from}");
        let list = list_of(&right.replace(from, to));
        assert_eq!(list.rows.len(), 3, "{to}");
        assert!(
            warnings(&list).iter().any(|w| w.contains(says)),
            "{to}: {:?}",
            warnings(&list)
        );
    }
}

#[test]
fn several_sets_and_other_ones() {
    let item = |n: u32| format!("HL*2*1*I~LIN**VP*P{n}~SN1**{n}*EA~CTT*2~");
    let set = |n: u32| {
        format!(
            "ST*856*000{n}~BSN*00*SHIP{n}*20260304*0915~HL*1**S~{}SE*8*000{n}~",
            item(n)
        )
    };
    let isa = "ISA*00*          *00*          *ZZ*A              *ZZ*B              *260304*0930*U*00401*000000001*0*P*:~";
    let order = "ST*850*0009~BEG*00*SA*1**20260304~SE*3*0009~";
    let text = format!(
        "{isa}GS*SH*A*B*20260304*0930*1*X*004010~{}{order}{}GE*3*1~IEA*1*000000001~{isa}GS*SH*A*B*20260304*0930*1*X*004010~{}GE*1*1~IEA*1*000000001~",
        set(1),
        set(2),
        set(3)
    );
    let list = list_of(&text);
    let rows: Vec<_> = list
        .rows
        .iter()
        .map(|r| (r.at.to_string(), r.shipment.as_str(), r.quantity))
        .collect();
    assert_eq!(
        rows,
        [
            ("notice SHIP1 row 1".to_owned(), "SHIP1", Some(1)),
            ("notice SHIP2 row 2".to_owned(), "SHIP2", Some(2)),
            ("notice SHIP3 row 3".to_owned(), "SHIP3", Some(3)),
        ]
    );
    assert_eq!(
        warnings(&list),
        ["the file also holds an X12 850, purchase order; it is not read"]
    );

    for (number, name) in [
        ("850", "purchase order"),
        ("810", "invoice"),
        ("861", "receiving advice"),
        ("940", "warehouse shipping order"),
    ] {
        let text = format!(
            "{isa}GS*PO*A*B*20260304*0930*1*X*004010~ST*{number}*0009~BEG*00*SA*1**20260304~SE*3*0009~GE*1*1~IEA*1*000000001~"
        );
        let why = read(text.as_bytes(), "x").unwrap_err().why;
        assert_eq!(
            why,
            Refusal::OtherDocument(format!("an X12 {number}, {name}"))
        );
    }
}

#[test]
fn without_an_envelope() {
    let body = NESTED.join("~\n");
    for text in [
        format!("ST*856*0001~\n{body}~\nSE*36*0001~\n"),
        format!("ST*856*0001\n{}\nSE*36*0001\n", NESTED.join("\n")),
        format!(
            "ST|856|0001\r\n{}\r\nSE|36|0001",
            NESTED.join("\r\n").replace('*', "|")
        ),
        format!(
            "GS*SH*A*B*20260304*0930*1*X*004010'ST*856*0001'{}'SE*36*0001'GE*1*1'",
            NESTED.join("'")
        ),
    ] {
        is_the_nested_one(&list_of(&text));
    }
}

#[test]
fn spaces_lost_in_a_form() {
    let text = envelope(&NESTED, '*', ':', "~\n")
        .replace("          ", " ")
        .replace("KITMAKER       ", "KITMAKER ");
    let list = list_of(&text);
    is_the_nested_one(&list);
    assert!(
        warnings(&list)[0].contains("106 would be right"),
        "{:?}",
        warnings(&list)
    );
}

#[test]
fn cut_off_and_broken() {
    let right = envelope(&NESTED, '*', ':', "~\n");
    let cut = &right[..right.find("HL*7").unwrap()];
    let list = list_of(cut);
    assert_eq!(list.rows.len(), 2);
    assert!(
        warnings(&list)
            .iter()
            .any(|w| w.contains("ends here without SE; lines may be missing"))
    );

    let why = |text: &str| read(text.as_bytes(), "x").unwrap_err().why.to_string();
    let isa = right.split("~\n").next().unwrap();
    assert_eq!(
        why(&format!("{}~\nGS*SH~\n", &isa.replace("*P*:", ""))),
        "segment 1 (ISA), line 1, column 103: it has 14 elements; 16 would be right"
    );
    assert!(
        why(&format!("{isa}~\nGS*SH*A*B*20260304*0930*1*X*004010~\n"))
            .contains("no transaction set begins")
    );
    let empty = envelope(
        &["BSN*00*X*20260304*0915", "HL*1**S", "CTT*1"],
        '*',
        ':',
        "~\n",
    );
    assert!(
        why(&empty).contains("is an item; HL*n*n*I with LIN and SN1 would be"),
        "{}",
        why(&empty)
    );
    assert!(why("UNA:+.? 'UNB+UNOC:3+A+B+260304:0930+1'UNH+1+DESADV:D:96A:UN'").contains("DESADV"));
}

/// A text that happens to have such words is a list like any other.
#[test]
fn other_texts_are_left_alone() {
    for text in [
        "Qty,Description\n4,ISA bracket\n2,ST clamp\n",
        "ISA 12 tubes\n4 posts\n",
        "ST*, ground posts, 12\nGS, lock channel, 3\n",
        "Item\tQty\nST 5 ft tube\t12\nGS bolt\t40\n",
    ] {
        let list = read(text.as_bytes(), "list.csv");
        assert!(
            list.as_ref().map_or(true, |list| list.despatch.is_none()),
            "{text}"
        );
        assert!(
            !matches!(
                list.map_err(|e| e.why),
                Err(Refusal::Broken { .. } | Refusal::OtherDocument(_))
            ),
            "{text}"
        );
    }
}

/// SN1 of the item, and what stands in its loop from SLN on.
fn kit(number: &str, rest: &[&str]) -> PackingList {
    let sn1 = format!("SN1**{number}");
    let mut body = vec![
        "BSN*00*A4*20260304*0915",
        "HL*1**S",
        "HL*2*1*I",
        "LIN*3*VP*DOOR",
        &sn1,
    ];
    body.extend(rest);
    body.push("CTT*2");
    list_of(&envelope(&body, '*', ':', "~"))
}

/// Whether SLN04 is for each kit or for all is the partners' choice (from memory).
#[test]
fn parts_of_several_kits_are_doubted() {
    let parts = ["SLN*1**I*2*EA****VP*HINGE", "SLN*2**I*12*EA****VP*BOLT"];
    let doubts = |list: &PackingList| -> Vec<(Option<i64>, bool)> {
        let rows = list.rows.iter();
        rows.map(|row| (row.quantity, row.doubt.is_some()))
            .collect()
    };
    assert_eq!(
        doubts(&kit("1*KT", &parts)),
        [(Some(2), false), (Some(12), false)]
    );
    let two = kit("2*KT", &parts);
    assert_eq!(doubts(&two), [(Some(2), true), (Some(12), true)]);
    assert_eq!(
        two.rows[1].doubt.as_deref(),
        Some(
            "12 EA (each) of it in 2 KT (kit): whether in each or in all is not said; this was taken as all"
        )
    );
    assert_eq!(doubts(&kit("5*BD", &parts[..1])), [(Some(2), true)]);
    // A loop in a loop counts what was sent in all.
    let loops = ["HL*3*2*F", "LIN*1*VP*HINGE", "SN1**4*EA"];
    assert_eq!(doubts(&kit("2*KT", &loops)), [(Some(4), false)]);
}

/// In the loop of an item PID, PO4, MEA and REF come after all SLN (856 of 4010, from memory).
#[test]
fn what_follows_the_last_sub_line_is_the_items() {
    let (hinge, bolt) = ("SLN*1**I*2*EA****VP*HINGE", "SLN*2**I*12*EA****VP*BOLT");
    let unsure = "PID after an SLN was taken as of its item, as the order of segments has it; it may be of either";
    let says = |list: &PackingList, words: &str| warnings(list).iter().any(|w| w.contains(words));

    let list = kit("1*KT", &[hinge, bolt, "PID*F****DOOR KIT"]);
    let kits: Vec<_> = list
        .rows
        .iter()
        .map(|row| (&*row.sub_kit, &*row.description))
        .collect();
    assert_eq!(kits, [("DOOR KIT", ""), ("DOOR KIT", "")]);
    assert!(says(&list, unsure), "{:?}", list.warnings);

    // Between two of them it can be of the one before only, and so of the last.
    let list = kit(
        "1*KT",
        &[hinge, "PID*F****BUTT HINGE", bolt, "PID*F****HEX BOLT"],
    );
    let kits: Vec<_> = list
        .rows
        .iter()
        .map(|row| (&*row.sub_kit, &*row.description))
        .collect();
    assert_eq!(kits, [("DOOR", "BUTT HINGE"), ("DOOR", "HEX BOLT")]);
    assert!(!says(&list, "PID after an SLN"), "{:?}", list.warnings);

    // The item has its own.
    let list = kit("1*KT", &["PID*F****DOOR KIT", hinge, "PID*F****BUTT HINGE"]);
    let kits: Vec<_> = list
        .rows
        .iter()
        .map(|row| (&*row.sub_kit, &*row.description))
        .collect();
    assert_eq!(kits, [("DOOR KIT", "BUTT HINGE")]);
    assert!(
        says(&list, "PID after an SLN was taken as of this SLN"),
        "{:?}",
        list.warnings
    );
}

#[test]
fn an_empty_loop_takes_nothing_from_its_parent() {
    let list = kit("6*KT", &["HL*3*2*I"]);
    let rows: Vec<_> = list
        .rows
        .iter()
        .map(|row| (&*row.code, row.quantity))
        .collect();
    assert_eq!(rows, [("DOOR", Some(6))]);
    let aside: Vec<_> = list.set_aside.iter().map(|a| (a.why, &*a.text)).collect();
    assert_eq!(aside, [(Why::Note, "3")]);
    // A loop without a number is no parent of those that name none.
    let list = kit(
        "6*KT",
        &["HL**2*F", "HL*x**I", "LIN*4*VP*VENT", "SN1**1*EA"],
    );
    let rows: Vec<_> = list
        .rows
        .iter()
        .map(|row| (&*row.code, row.quantity, &*row.sub_kit))
        .collect();
    assert_eq!(rows, [("DOOR", Some(6), ""), ("VENT", Some(1), "")]);
}

/// Common practice, no source.
#[test]
fn a_reel_is_one_thing_as_a_roll_is() {
    for unit in ["RL", "RE", "CX", "SO"] {
        let list = kit(&format!("3*{unit}"), &[]);
        assert_eq!(
            (list.rows[0].quantity, &list.rows[0].doubt),
            (Some(3), &None),
            "{unit}"
        );
    }
}
