//! Unit codes, GS1's numbers and exact decimals.

use list::despatch::identifiers::{Gs1, NoNumber, check_digit, read};
use list::despatch::units::{CodeList, Counts, find, is_unece};
use list::despatch::{Amount, Decimal};

/// GS1's worked number, in public link examples; the second has extension digit 0 (sum 140 and so 0).
#[test]
fn sscc_of_the_worked_examples() {
    assert_eq!(check_digit("10614141123456789"), Some(7));
    assert_eq!(check_digit("00614141123456789"), Some(0));
    for (text, digits) in [
        ("106141411234567897", "106141411234567897"),
        ("00106141411234567897", "106141411234567897"),
        ("(00) 1 0614141 123456789 7", "106141411234567897"),
        ("006141411234567890", "006141411234567890"),
        ("00006141411234567890", "006141411234567890"),
    ] {
        assert_eq!(read(Gs1::Sscc, text), (digits.to_owned(), Ok(())), "{text}");
    }
    let (_, wrong) = read(Gs1::Sscc, "106141411234567890");
    let words = wrong.unwrap_err().to_string();
    assert_eq!(
        words,
        "SSCC 106141411234567890: its check digit is 0, and 7 would be right; a digit is wrong"
    );
    let (_, short) = read(Gs1::Sscc, "12345");
    assert_eq!(
        short.unwrap_err().to_string(),
        "SSCC \"12345\" is no SSCC: 18 digits, or 20 that begin with 00, would be right"
    );
}

/// Every single wrong digit is found: the weights 3 and 1 are coprime to ten.
#[test]
fn any_one_wrong_digit_is_found() {
    let right = "106141411234567897";
    for place in 0..right.len() {
        for digit in '0'..='9' {
            let mut digits: Vec<char> = right.chars().collect();
            if digits[place] == digit {
                continue;
            }
            digits[place] = digit;
            let text: String = digits.into_iter().collect();
            let (_, judged) = read(Gs1::Sscc, &text);
            assert!(matches!(judged, Err(NoNumber::CheckDigit { .. })), "{text}");
        }
    }
}

/// Numbers printed on goods of every country, from memory: an EAN-13, a UPC-A and an EAN-8 of public examples, and
/// the GTIN-14 of GS1's own.
#[test]
fn trade_item_numbers() {
    for text in [
        "4006381333931",
        "036000291452",
        "73513537",
        "10614141000415",
        "0110614141000415",
    ] {
        let (_, judged) = read(Gs1::Gtin, text);
        assert_eq!(judged, Ok(()), "{text}");
    }
    for text in ["4006381333932", "03600029145", "7351353A", ""] {
        let (_, judged) = read(Gs1::Gtin, text);
        assert!(judged.is_err(), "{text}");
    }
}

/// facts/receiving.md §4.5, seen in a published Rec 20 revision 11.
#[test]
fn units_of_rec_20_and_21() {
    let counts = |code: &str| {
        find(code, CodeList::Unece)
            .unit
            .map(|unit| (unit.name, unit.counts))
    };
    assert_eq!(counts("EA"), Some(("each", Counts::Pieces(1))));
    assert_eq!(counts("C62"), Some(("one", Counts::Pieces(1))));
    assert_eq!(counts("H87"), Some(("piece", Counts::Pieces(1))));
    assert_eq!(
        counts("NAR"),
        Some(("number of articles", Counts::Pieces(1)))
    );
    assert_eq!(counts("PR"), Some(("pair", Counts::Pieces(2))));
    assert_eq!(counts("DZN"), Some(("dozen", Counts::Pieces(12))));
    assert_eq!(counts("SET"), Some(("set", Counts::Holds)));
    assert_eq!(counts("KT"), Some(("kit", Counts::Holds)));
    assert_eq!(counts("FOT"), Some(("foot", Counts::Length("ft", 1))));
    assert_eq!(counts("INH"), Some(("inch", Counts::Length("in", 1))));
    assert_eq!(counts("YRD"), Some(("yard", Counts::Length("ft", 3))));
    assert_eq!(counts("MTR"), Some(("metre", Counts::Length("m", 1))));
    assert_eq!(counts("KGM"), Some(("kilogram", Counts::Mass("kg", 1))));
    assert_eq!(counts("LBR"), Some(("pound", Counts::Mass("lb", 1))));
    assert_eq!(counts("MTK"), Some(("square metre", Counts::Other)));
    for (code, name) in [
        ("XBX", "box"),
        ("XPK", "package"),
        ("XBG", "bag"),
        ("XBE", "bundle"),
        ("XCR", "crate"),
        ("XPX", "pallet"),
    ] {
        assert_eq!(counts(code), Some((name, Counts::Holds)), "{code}");
        assert_eq!(find(code, CodeList::Unece).warning, None, "{code}");
    }
    assert_eq!(counts("XRO").map(|(name, _)| name), Some("roll"));
    let said = |code: &str| find(code, CodeList::Unece).warning.unwrap();
    assert_eq!(said("KG"), "KG is not in Rec 20; KGM is kilogram");
    assert_eq!(said("BX"), "BX is of Rec 21; as a unit it is XBX, box");
    assert_eq!(said("PCE"), "PCE is an old code for piece");
    assert_eq!(find("QQQ", CodeList::Unece).unit, None);
    assert!(said("QQQ").starts_with("QQQ is no unit of Rec 20 or 21"));
    // Known to the list, and none of parts: newton metre.
    assert!(is_unece("NU"));
    assert_eq!(counts("NU").map(|(_, counts)| counts), Some(Counts::Other));
    assert_eq!(find("NU", CodeList::Unece).warning, None);
}

/// EA, PC and LB are seen in samples; the rest from memory.
#[test]
fn units_of_x12() {
    let counts = |code: &str| find(code, CodeList::X12).unit.map(|unit| unit.counts);
    for (code, pieces) in [
        ("EA", 1),
        ("PC", 1),
        ("PR", 2),
        ("DZ", 12),
        ("GS", 144),
        ("HU", 100),
        ("TH", 1_000),
    ] {
        assert_eq!(counts(code), Some(Counts::Pieces(pieces)), "{code}");
    }
    for code in ["CT", "CA", "BX", "BG", "PK", "ST", "KT"] {
        assert_eq!(counts(code), Some(Counts::Holds), "{code}");
    }
    assert_eq!(counts("FT"), Some(Counts::Length("ft", 1)));
    assert_eq!(counts("IN"), Some(Counts::Length("in", 1)));
    assert_eq!(counts("LB"), Some(Counts::Mass("lb", 1)));
    assert_eq!(counts("KG"), Some(Counts::Mass("kg", 1)));
    assert_eq!(find("KG", CodeList::X12).warning, None);
    assert_eq!(
        find("H87", CodeList::X12).warning.as_deref(),
        Some("H87 is a code of Rec 20 (piece), not of X12")
    );
}

#[test]
fn decimals_are_exact() {
    for (text, is) in [
        ("12", "12"),
        ("12.50", "12.5"),
        ("-3", "-3"),
        (".5", "0.5"),
        ("12.", "12"),
        ("+7", "7"),
        ("0.000", "0"),
        ("0010", "10"),
        (
            "123456789012345678901234567890",
            "123456789012345678901234567890",
        ),
        (
            "0.100000000000000000000000000001",
            "0.100000000000000000000000000001",
        ),
    ] {
        assert_eq!(
            Decimal::read(text).map(|d| d.to_string()).as_deref(),
            Some(is),
            "{text}"
        );
    }
    for text in [
        "",
        "12x",
        "1,5",
        "1e3",
        ".",
        "-",
        "--1",
        "1.2.3",
        "١٢",
        "1234567890123456789012345678901",
    ] {
        assert_eq!(Decimal::read(text), None, "{text}");
    }
    // Half a gross is six dozen; half a pair is one piece; a third of nothing is whole.
    assert_eq!(Decimal::read("0.5").unwrap().whole_times(144), Some(72));
    assert_eq!(Decimal::read("0.5").unwrap().whole_times(2), Some(1));
    assert_eq!(Decimal::read("0.3").unwrap().whole_times(2), None);
    assert_eq!(Decimal::read("99999999999").unwrap().whole(), None);
}

/// Lengths and masses by the international yard and pound: 1 ft = 304.8 mm, 1 yd = 3 ft, 1 lb = 0.453 592 37 kg.
#[test]
fn amounts_are_lengths_and_masses() {
    let amount = |number: &str, code: &str| Amount {
        written: number.to_owned(),
        number: Decimal::read(number),
        unit: code.to_owned(),
        means: find(code, CodeList::Unece).unit,
    };
    let millimetres =
        |number: &str, code: &str| amount(number, code).length().unwrap().as_nanometres();
    assert_eq!(millimetres("12.5", "FOT"), 3_810_000_000);
    assert_eq!(millimetres("2", "YRD"), 1_828_800_000);
    assert_eq!(millimetres("126.5", "INH"), 3_213_100_000);
    assert_eq!(millimetres("0.25", "MTR"), 250_000_000);
    assert_eq!(amount("3", "EA").length(), None);
    assert!((amount("100", "LBR").mass().unwrap().to_kilograms() - 45.359_237).abs() < 1e-9);
    assert_eq!(amount("2", "DZN").pieces(), Some(24));
    assert_eq!(amount("2.5", "EA").pieces(), None);
    assert_eq!(amount("90", "KGM").in_words(), "90 KGM (kilogram)");
}
