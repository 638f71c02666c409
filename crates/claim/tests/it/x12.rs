//! The 861, held against public pages on element 412 and segment RCD and sample files (S1), and against a reader of
//! others: pyx12 (PyPI), which checks envelopes, counts and control numbers, and has the syntax rules of segments. A
//! second one, x12-types (crates.io), knows the order of segments; it takes minutes to build and is run by hand:
//! `tests/outside/x12_types`.

use claim::received::{Received, Unwritten};
use claim::x12::{self, Envelope};
use tally::Condition;

use crate::peers::python;
use crate::received_job::{AWKWARD, Job, awkward, demo, ninety_seven, only};

fn envelope() -> Envelope {
    Envelope {
        from: "OSPREYSCHOOL".into(),
        to: "KITWORKS".into(),
        control: 41,
        trial: true,
    }
}

fn write(received: &Received) -> String {
    x12::write(received, &envelope()).unwrap()
}

fn segments(text: &str) -> Vec<Vec<&str>> {
    let all = text.strip_suffix('~').expect("the last segment is closed");
    all.split('~').map(|s| s.split('*').collect()).collect()
}

fn of<'a>(segments: &'a [Vec<&'a str>], name: &str) -> Vec<&'a [&'a str]> {
    let those = segments.iter().filter(|s| s[0] == name);
    those.map(|s| &s[1..]).collect()
}

/// Documents of every kind.
fn samples() -> Vec<Received> {
    let mut worse = demo();
    worse.counts("Q9", 4);
    for condition in [Condition::Damaged, Condition::Wrong, Condition::Wet] {
        worse.finds("B1", 3, condition);
        worse.finds("W1", 1, condition);
    }
    vec![
        demo().received(),
        worse.received(),
        awkward(),
        only(vec![ninety_seven()]),
    ]
}

/// The made-up illustration, after the public pages on the segments (S1), to the letter.
#[test]
fn the_worked_line_is_written_to_the_letter() {
    let text = write(&only(vec![ninety_seven()]));
    assert!(text.contains("~RCD*1*97*EA***2*EA*01*3*EA*02~"), "{text}");
}

/// Public sample files (S1): ISA is of fixed width; separators are its 4th byte and its 16th element, the terminator follows.
/// Widths of its elements: from memory, and by the positions at which any reader looks.
#[test]
fn the_envelope_is_of_fixed_width() {
    let text = write(&demo().received());
    let isa = &text[..106];
    assert_eq!(
        isa,
        "ISA*00*          *00*          *ZZ*OSPREYSCHOOL   *ZZ*KITWORKS       *260306*1405*^*00501*000000041*0*T*:~"
    );
    assert!(text[106..].starts_with("GS*RC*OSPREYSCHOOL*KITWORKS*20260306*1405*41*X*005010~ST*861*0001~BRA*SG-117-R1*20260306*00*2*1405~"));
    assert!(text.ends_with("*0001~GE*1*41~IEA*1*000000041~"));
}

/// SE01 counts from ST to SE; CTT01 the lines; the control numbers agree (public sample files, S1).
#[test]
fn counts_and_control_numbers_agree() {
    for received in samples() {
        let text = write(&received);
        let all = segments(&text);
        let first = all.iter().position(|s| s[0] == "ST").unwrap();
        let last = all.iter().position(|s| s[0] == "SE").unwrap();
        assert_eq!(all[last][1], (last - first + 1).to_string());
        assert_eq!(all[last][2], all[first][2]);
        let lines = of(&all, "RCD");
        assert_eq!(of(&all, "CTT")[0][0], lines.len().to_string());
        let ids: Vec<&str> = lines.iter().map(|rcd| rcd[0]).collect();
        let expected: Vec<String> = (1..=lines.len()).map(|n| n.to_string()).collect();
        assert_eq!(ids, expected);
        assert_eq!(of(&all, "ISA")[0][12], of(&all, "IEA")[0][1]);
        assert_eq!(of(&all, "GS")[0][5], of(&all, "GE")[0][1]);
    }
}

/// The public page on RCD (S1): at least one of 02, 04 and 06; each quantity needs its unit, each triple is all or none; the
/// codes are those of element 412.
#[test]
fn each_triple_is_all_or_none() {
    let mut triples = 0;
    for received in samples() {
        let text = write(&received);
        for rcd in of(&segments(&text), "RCD") {
            let at = |n: usize| rcd.get(n - 1).copied().unwrap_or_default();
            assert!(rcd.len() <= 20, "{rcd:?}");
            assert!([2, 4, 6].iter().any(|n| !at(*n).is_empty()), "{rcd:?}");
            assert_eq!(at(2).is_empty(), at(3).is_empty(), "{rcd:?}");
            assert_eq!(at(4).is_empty(), at(5).is_empty(), "{rcd:?}");
            for n in [6, 9, 12, 15, 18] {
                let triple = [at(n), at(n + 1), at(n + 2)];
                if triple == [""; 3] {
                    continue;
                }
                triples += 1;
                assert!(triple[0].parse::<i64>().unwrap() > 0, "{rcd:?}");
                assert_eq!(triple[1], "EA");
                // damaged, short, over, wrong product, hold
                assert!(
                    ["01", "02", "03", "05", "09"].contains(&triple[2]),
                    "{rcd:?}"
                );
            }
        }
    }
    assert!(triples > 20, "{triples}");
}

/// Prints what pyx12 has against each interchange; they are parted by a zero byte. The rules of RCD are those of
/// The public page on RCD (S1), in X12's own notation: R, at least one; P, all or none.
const AGAINST_PYX12: &str = r#"
import io, sys
import pyx12.segment, pyx12.syntax
from pyx12.x12file import X12Reader
RULES = ["R020406", "P0203", "P0405", "P060708", "P091011", "P121314", "P151617", "P181920"]
for text in sys.stdin.buffer.read().decode("ascii").split("\0"):
    found, seen = [], 0
    reader = X12Reader(io.StringIO(text))
    for segment in reader:
        seen += 1
        found += [str(e) for e in reader.pop_errors()]
        if segment.get_seg_id() == "RCD":
            for rule in RULES:
                holds, why = pyx12.syntax.is_syntax_valid(segment, [rule[0]] + [rule[i:i + 2] for i in range(1, len(rule), 2)])
                if not holds:
                    found.append(why)
    reader.cleanup()
    found += [str(e) for e in reader.pop_errors()]
    print(seen, "; ".join(found) or "fits")
"#;

#[test]
fn pyx12_has_nothing_against_it() {
    let mut texts: Vec<String> = samples().iter().map(write).collect();
    let good = texts.len();
    // The check can fail: counts, control numbers, half a triple, a quantity without its unit.
    let one = texts[3].clone();
    texts.extend([
        one.replace("SE*", "SE*1"),
        one.replace("IEA*1*000000041", "IEA*1*000000042"),
        one.replace("GE*1*41", "GE*1*40"),
        one.replace("3*EA*02~", "3*EA~"),
        one.replace("*97*EA*", "*97**"),
    ]);
    let Some(said) = python(AGAINST_PYX12, texts.join("\0").as_bytes()) else {
        return;
    };
    let said: Vec<&str> = said.lines().collect();
    assert_eq!(said.len(), texts.len());
    for (i, line) in said.iter().enumerate() {
        let (seen, fault) = line.split_once(' ').unwrap();
        assert_eq!(seen, segments(&texts[i]).len().to_string());
        assert_eq!(fault == "fits", i < good, "interchange {i}: {fault}");
    }
}

/// Basic characters of X12 (from memory): capital letters, digits, space and plain signs.
#[test]
fn no_text_brings_a_delimiter_or_what_is_not_basic() {
    let text = write(&awkward());
    let all = segments(&text);
    assert_eq!(of(&all, "RCD").len(), AWKWARD.len() + 1);
    let basic =
        |c: char| c.is_ascii_uppercase() || c.is_ascii_digit() || " !\"&'()+,-./;?=".contains(c);
    for segment in &all[1..] {
        for element in segment {
            assert!(element.chars().all(basic), "{segment:?}");
        }
    }
    for pid in of(&all, "PID") {
        assert!(pid[4].len() <= 80);
    }
    // Accents, fractions and signs keep their sense.
    assert!(text.contains("BOGEN 1-5/8"), "{text}");
    assert!(text.contains("GROSSER"), "{text}");
    // A code that cannot be written as it is stands in no LIN, for it would be another code.
    let codes: Vec<Option<&str>> = (of(&all, "LIN").iter())
        .map(|lin| lin.get(4).copied())
        .collect();
    let expected = [
        None,
        Some("+1"),
        Some("-2+3"),
        None,
        Some("=1+1"),
        Some("=1+1"),
        Some("A;=1+1"),
        Some("=1"),
        None,
        None,
        None,
        Some("NUL"),
        None,
        Some("TWO LINES, \"QUOTED\""),
        None,
    ];
    assert_eq!(codes, expected);
    assert!(text.contains("SENDER'S CODE, NEARLY, BOGEN"));
}

#[test]
fn what_the_format_cannot_hold_is_refused_and_never_cut() {
    let refused = |received: &Received| x12::write(received, &envelope()).unwrap_err();
    let mut long = only(vec![ninety_seven()]);
    long.header.document = "D".repeat(31);
    assert!(refused(&long).to_string().starts_with("document: DDD"));
    let mut long = only(vec![ninety_seven()]);
    long.marks[0].mark = "M".repeat(49);
    assert!(refused(&long).to_string().starts_with("mark: MMM"));
    let mut vast = only(vec![ninety_seven()]);
    vast.marks[0].received = Some(1_000_000_000);
    assert!(
        refused(&vast)
            .to_string()
            .starts_with("quantity: 1000000000")
    );
    // Another number is not the number.
    for (number, nearest) in [("SG_117", "SG-117"), ("SG*117", "SGX117"), ("Ö-1", "O-1")] {
        let mut other = only(vec![ninety_seven()]);
        other.header.order_number = number.into();
        let said = refused(&other).to_string();
        assert!(said.contains(number) && said.contains(nearest), "{said}");
    }
    let mut twins = only(vec![ninety_seven(), ninety_seven()]);
    twins.marks[1].mark = "b9".into();
    assert!(
        refused(&twins)
            .to_string()
            .starts_with("mark: b9 cannot be told")
    );
    assert_eq!(refused(&Job::listed().received()), Unwritten::Nothing);
    let received = only(vec![ninety_seven()]);
    for (from, to, control) in [
        ("", "KITWORKS", 1),
        ("OSPREY*", "KITWORKS", 1),
        ("OSPREY", "kitworks", 1),
        ("OSPREY", "SIXTEENLETTERSXX", 1),
        ("OSPREY", "KITWORKS", 0),
        ("OSPREY", "KITWORKS", 1_000_000_000),
    ] {
        let envelope = Envelope {
            from: from.into(),
            to: to.into(),
            control,
            trial: false,
        };
        let refused = x12::write(&received, &envelope).unwrap_err();
        assert!(matches!(refused, Unwritten::Field { .. }), "{refused}");
    }
}
