//! The drawings as a paper: each is there, can be found, and is told to who cannot see it.

use paper::{Cut, Drawing, Drawings, PaperError, drawings};

use crate::pdf::{Pdf, squeeze};
use crate::sample;

fn drawing(title: &str, words: &str) -> Drawing {
    Drawing {
        title: title.into(),
        says: format!("{title} of a test house."),
        svg: format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 200 100\" font-family=\"Arial,sans-serif\">\
             <path d=\"M10 90L100 10L190 90\" fill=\"none\" stroke=\"#191813\"/>\
             <text x=\"20\" y=\"50\">{words}</text></svg>"
        ),
    }
}

fn paper() -> Drawings {
    Drawings {
        job: "School garden".into(),
        order: "A test house, 48 ft long".into(),
        large: vec![drawing("Plan", "12 x 4 ft"), drawing("Side", "10 ft 9 in")],
        small: (1..=5)
            .map(|n| drawing(&format!("Joint {n}"), &format!("N{n} x 2")))
            .collect(),
        cuts: vec![
            Cut {
                mark: "R1".into(),
                to: "7 ft".into(),
                place: "ridge, piece 5 of 5".into(),
                left_from: String::new(),
            },
            Cut {
                mark: "R1".into(),
                to: "2 ft 6 in".into(),
                place: "purlin, left, piece 5 of 5".into(),
                left_from: "ridge, piece 5 of 5".into(),
            },
        ],
    }
}

#[test]
fn every_drawing_is_there_with_its_figures() {
    let pdf = Pdf::new(&drawings(&paper(), &sample::print()).unwrap());
    // Two large ones on a sheet each, five small ones on two, and what is cut.
    assert_eq!(pdf.pages(), 5);
    let cuts = squeeze(&pdf.page(5));
    for words in [
        "a whole one",
        "2 ft 6 in",
        "what is left of ridge, piece 5 of 5",
    ] {
        assert!(cuts.contains(&squeeze(words)), "{words}: {cuts}");
    }
    for (page, words) in [
        (1, ["Plan", "12 x 4 ft"]),
        (2, ["Side", "10 ft 9 in"]),
        (3, ["Joint 4", "N4 x 2"]),
        (4, ["Joint 5", "N5 x 2"]),
    ] {
        let text = squeeze(&pdf.page(page));
        for words in words {
            assert!(
                text.contains(&squeeze(words)),
                "{words} on page {page}: {text}"
            );
        }
        assert!(text.contains(&squeeze("Not to scale")), "{text}");
    }
}

/// Sheets lie on their side: 11 by 8.5 in at 72 points to the inch.
#[test]
fn sheets_lie_on_their_side_and_are_tagged() {
    let pdf = Pdf::new(&drawings(&paper(), &sample::print()).unwrap());
    assert!(
        pdf.info("Page size").starts_with("792 x 612 pts"),
        "{}",
        pdf.info("Page size")
    );
    assert_eq!(pdf.info("Tagged"), "yes");
    assert_eq!(pdf.info("Title"), "Drawings: School garden");
    let tags = pdf.structure();
    // PDF/UA-1 refuses a figure without words for who cannot see it; the typesetter holds to that.
    assert_eq!(tags.matches("Figure:").count(), 7, "{tags}");
    if let Some((sound, said)) = pdf.qpdf() {
        assert!(sound, "{said}");
    }
}

#[test]
fn letters_that_cannot_be_printed_are_no_fault() {
    let mut odd = paper();
    odd.large.push(drawing(
        "Odd \u{202e}",
        "\u{10ffff}\u{e000}\u{200b} \u{7}12 ft",
    ));
    let pdf = Pdf::new(&drawings(&odd, &sample::print()).unwrap());
    assert!(squeeze(&pdf.page(3)).contains(&squeeze("12 ft")));
}

#[test]
fn what_is_no_drawing_is_refused() {
    let mut broken = paper();
    broken.large[0].svg = "<svg".into();
    assert!(matches!(
        drawings(&broken, &sample::print()),
        Err(PaperError::Typesetting(_))
    ));
    let mut many = paper();
    many.small = vec![drawing("Joint", ""); 200];
    assert!(matches!(
        drawings(&many, &sample::print()),
        Err(PaperError::TooMuch {
            what: "drawings",
            ..
        })
    ));
}

/// Nothing but the drawing comes in: what asks for a file or an address is refused.
#[test]
fn a_drawing_fetches_nothing() {
    for asked in ["/etc/passwd", "../Cargo.toml", "http://127.0.0.1:9/x.png"] {
        let mut sly = paper();
        sly.large[0].svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 200 100\">\
             <image href=\"{asked}\" width=\"9\" height=\"9\"/></svg>"
        );
        let refused = drawings(&sly, &sample::print());
        assert!(
            matches!(refused, Err(PaperError::Typesetting(_))),
            "{asked}"
        );
    }
}
