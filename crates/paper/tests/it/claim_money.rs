//! What a claim demands: sums worked out line by line, exactly, and never when one is missing.
//!
//! The expected sums are worked out by hand here, not by the program.

use paper::{CarrierClaim, ClaimCost, ClaimLine, PaperError, carrier_claim};
use tally::Money;

use crate::pdf::{Pdf, squeeze};
use crate::{sample, sample_letters};

fn made(claim: &CarrierClaim) -> Pdf {
    Pdf::new(&carrier_claim(claim, &sample::print()).expect("the claim is sound"))
}

fn line(mark: &str, quantity: i64, each: Option<Money>) -> ClaimLine {
    ClaimLine {
        mark: mark.into(),
        description: "Tube".into(),
        kind: "lost".into(),
        quantity,
        each,
        ..ClaimLine::default()
    }
}

fn claim(lines: Vec<ClaimLine>) -> CarrierClaim {
    CarrierClaim {
        lines,
        costs: vec![],
        ..sample_letters::claim()
    }
}

fn demands(claim: &CarrierClaim) -> Option<String> {
    let letters = made(claim).letters();
    let after = letters.split("Wedemandpaymentof").nth(1)?;
    // The next heading follows.
    after.split("Whatsupportsit").next().map(str::to_owned)
}

/// 3 × 34.50 = 103.50; 5 × 1 234.56 = 6 172.80; with 89.99 of freight that is 6 366.29.
#[test]
fn adds_up_line_by_line() {
    let pdf = made(&sample_letters::claim());
    let letters = pdf.letters();
    for sum in [
        "USD 34.50",
        "USD 103.50",
        "USD 1 234.56",
        "USD 6 172.80",
        "USD 89.99",
    ] {
        assert!(letters.contains(&squeeze(sum)), "{sum}\n{}", pdf.text());
    }
    assert!(
        letters.contains(&squeeze("We demand payment of USD 6 366.29")),
        "{}",
        pdf.text()
    );
    // The sum is signed for: it stands on the page of the signature, too.
    assert!(letters.contains(&squeeze("We demand USD 6 366.29.")));
    assert!(pdf.page(1).contains("Complete"), "{}", pdf.text());
}

/// The three contents of 49 CFR 370.3(b) (S1, reprint), numbered.
#[test]
fn has_the_three_contents() {
    let pdf = made(&sample_letters::claim());
    let letters = pdf.letters();
    let at = |words: &str| {
        let found = letters.find(&squeeze(words));
        found.unwrap_or_else(|| panic!("{words}\n{}", pdf.text()))
    };
    let parts = [
        at("1. The shipment"),
        at("SF-20417"),
        at("2. Liability"),
        at("We hold you, the carrier, liable for the loss and damage"),
        at("3. The sum"),
        at("We demand payment of"),
    ];
    assert!(parts.is_sorted(), "{parts:?}");
    for document in [
        "Bill of lading",
        "Paid freight bill",
        "Invoice, or another proof of value",
        "Delivery receipt as signed",
    ] {
        at(document);
    }
}

/// A tenth and two tenths are three tenths here, and a thousand times one cent is ten.
#[test]
fn no_cent_is_lost() {
    let lines = vec![
        line("A", 1, Some(sample_letters::usd(10))),
        line("B", 1, Some(sample_letters::usd(20))),
        line("C", 1_000, Some(sample_letters::usd(1))),
    ];
    assert_eq!(demands(&claim(lines)).as_deref(), Some("USD10.30"));
    // 999 999 999 × 1 000.01 = 1 000 009 998 999.99
    let lines = vec![line("A", 999_999_999, Some(sample_letters::usd(100_001)))];
    assert_eq!(
        demands(&claim(lines)).as_deref(),
        Some("USD1000009998999.99")
    );
}

/// The yen has no smaller unit, the dinar of Bahrain a thousandth (ISO 4217, M).
#[test]
fn a_currency_has_its_own_digits() {
    for (currency, minor, shown) in [
        ("JPY", 1_234_567, "JPY1234567"),
        ("BHD", 5, "BHD0.005"),
        ("EUR", 100, "EUR1.00"),
    ] {
        let sum = Money {
            minor,
            currency: currency.parse().unwrap(),
        };
        assert_eq!(
            demands(&claim(vec![line("A", 1, Some(sum))])).as_deref(),
            Some(shown)
        );
    }
}

/// 49 CFR 370.3(d) (from memory): a claim for a sum that is not settled is not paid.
#[test]
fn demands_nothing_while_a_price_is_missing() {
    let lines = vec![
        line("A", 2, Some(sample_letters::usd(500))),
        line("B", 3, None),
    ];
    let claim = claim(lines);
    assert_eq!(demands(&claim), None);
    let pdf = made(&claim);
    let letters = pdf.letters();
    for words in [
        "Not complete: 1 thing is missing",
        "a stated or determinable sum: price of B not said",
        "No sum is demanded yet.",
        "1 line has no price.",
        "With a price so far: USD 10.00.",
    ] {
        assert!(letters.contains(&squeeze(words)), "{words}\n{}", pdf.text());
    }
    assert!(!letters.contains("Wedemand"), "{}", pdf.text());
}

#[test]
fn two_currencies_are_not_one_sum() {
    let euros = Money {
        currency: "EUR".parse().unwrap(),
        ..sample_letters::usd(700)
    };
    let mixed = CarrierClaim {
        costs: vec![ClaimCost {
            words: "Freight".into(),
            sum: euros,
        }],
        ..claim(vec![line("A", 1, Some(sample_letters::usd(500)))])
    };
    assert_eq!(demands(&mixed), None);
    let pdf = made(&mixed);
    for words in [
        "one sum that is demanded: the prices are in several currencies",
        "USD 5.00 and EUR 7.00",
    ] {
        assert!(
            pdf.letters().contains(&squeeze(words)),
            "{words}\n{}",
            pdf.text()
        );
    }
}

#[test]
fn a_claim_for_nothing_is_not_complete() {
    let nothing = claim(vec![line("A", 3, Some(sample_letters::usd(0)))]);
    assert_eq!(demands(&nothing), None);
    let pdf = made(&nothing);
    assert!(
        pdf.letters().contains(&squeeze("it comes to nothing")),
        "{}",
        pdf.text()
    );
}

#[test]
fn a_sum_that_cannot_be_is_refused() {
    let negative = claim(vec![line("A", 1, Some(sample_letters::usd(-1)))]);
    assert_eq!(
        carrier_claim(&negative, &sample::print())
            .unwrap_err()
            .to_string(),
        "lines, row 1 (A), price: -1 is not a sum from 0 to 1 000 000 000 000 000"
    );
    let huge = sample_letters::usd(1_000_000_000_000_000);
    let beyond = claim(vec![line("A", 999_999_999, Some(huge))]);
    let error = carrier_claim(&beyond, &sample::print()).unwrap_err();
    assert!(matches!(error, PaperError::TooMuch { .. }), "{error}");
    // Each can be, and their sum cannot.
    let both = claim(vec![line("A", 1, Some(huge)), line("B", 1, Some(huge))]);
    let error = carrier_claim(&both, &sample::print()).unwrap_err();
    assert!(matches!(error, PaperError::TooMuch { .. }), "{error}");
}
