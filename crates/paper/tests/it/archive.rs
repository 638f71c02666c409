//! Every paper can be kept for good and read aloud: PDF/A-2a (ISO 19005-2) and PDF/UA-1 (ISO 14289-1).
//!
//! Clauses are from memory. No whole PDF/A validator is to be had on this machine; what poppler and qpdf can see of the
//! standard's rules is checked here, and the typesetter refuses to write what its own rules find wrong.

use paper::{
    Cut, Drawing, Drawings, LabelStock, build_day, carrier_claim, damage_notice, drawings, labels,
    osd, replacement_order, return_list, sender_notice, tally_sheet, tell_apart,
};

use crate::pdf::Pdf;
use crate::{sample, sample_card, sample_day, sample_letters};

fn all() -> Vec<(&'static str, Vec<u8>)> {
    let print = sample::print();
    let drawn = Drawings {
        job: "Drawn".into(),
        order: "Gothic".into(),
        large: vec![Drawing {
            title: "Plan".into(),
            says: "A bow.".into(),
            svg: r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M0 0H9" stroke="black"/></svg>"#
                .into(),
        }],
        small: vec![],
        cuts: vec![Cut {
            mark: "R2".into(),
            to: "6 ft".into(),
            place: "ridge".into(),
            left_from: String::new(),
        }],
    };
    let labelled = sample_card::labels(sample_card::GOTHIC, LabelStock::Letter10);
    let made = [
        ("OS&D", osd(&sample::paper(), &print)),
        ("tally sheet", tally_sheet(&sample::tally(), &print)),
        ("drawings", drawings(&drawn, &print)),
        (
            "tell-apart card",
            tell_apart(&sample_card::card(sample_card::GOTHIC), &print),
        ),
        ("labels", labels(&labelled, &print)),
        ("build-day folder", build_day(&sample_day::day(), &print)),
        (
            "notice of damage",
            damage_notice(&sample_letters::notice_of_damage(), &print),
        ),
        ("claim", carrier_claim(&sample_letters::claim(), &print)),
        (
            "notice to the sender",
            sender_notice(&sample_letters::notice_to_sender(), &print),
        ),
        (
            "replacement order",
            replacement_order(&sample_letters::replacement(), &print),
        ),
        (
            "return list",
            return_list(&sample_letters::returns(), &print),
        ),
    ];
    let made = made.into_iter();
    made.map(|(name, bytes)| (name, bytes.expect(name)))
        .collect()
}

#[test]
fn every_paper_can_be_kept() {
    for (name, bytes) in all() {
        let pdf = Pdf::new(&bytes);
        says_what_it_is(name, &pdf);
        needs_nothing_else(name, &pdf);
        is_not_newer_than_pdf_1_7(name, &pdf);
    }
}

/// ISO 19005-2, 6.6.4, and ISO 14289-1, 5: the XMP packet says which part and which level. (M)
fn says_what_it_is(name: &str, pdf: &Pdf) {
    let meta = pdf.metadata();
    for (key, value) in [
        ("pdfaid:part", "2"),
        ("pdfaid:conformance", "A"),
        ("pdfuaid:part", "1"),
    ] {
        let element = format!("<{key}>{value}</{key}>");
        let attribute = format!("{key}=\"{value}\"");
        assert!(
            meta.contains(&element) || meta.contains(&attribute),
            "{name}: no {element} in\n{meta}"
        );
    }
}

/// ISO 19005-2, 6.2.11.4 and 6.2.11.7.2: every font lies in the file, and every letter has a meaning; 6.1.3 and 6.5.2:
/// no encryption, no scripts; 6.7: tagged. (M)
fn needs_nothing_else(name: &str, pdf: &Pdf) {
    let fonts = pdf.fonts();
    assert!(!fonts.is_empty(), "{name}");
    for font in &fonts {
        assert!(font.embedded && font.means_letters, "{name}: {font:?}");
    }
    for (key, value) in [
        ("Tagged", "yes"),
        ("Encrypted", "no"),
        ("JavaScript", "no"),
        ("Form", "none"),
        ("Suspects", "no"),
    ] {
        assert_eq!(pdf.info(key), value, "{name}: {key}");
    }
    if let Some((sound, said)) = pdf.qpdf() {
        assert!(sound, "{name}: {said}");
    }
}

/// ISO 19005-2, 6.1.2: no later than PDF 1.7. (M)
fn is_not_newer_than_pdf_1_7(name: &str, pdf: &Pdf) {
    let version = pdf.info("PDF version");
    let minor = version.strip_prefix("1.").and_then(|n| n.parse().ok());
    assert!(
        minor.is_some_and(|n: u32| (4..=7).contains(&n)),
        "{name}: {version}"
    );
}
