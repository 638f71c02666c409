//! The build-day folder: what a crew must find in it is there, can be found, and is told without colour.

use std::collections::BTreeMap;

use paper::{BuildDay, CallSign, Drawing, PaperError, Print, Sheet, StageCard, build_day};

use crate::pdf::{Pdf, squeeze};
use crate::{sample, sample_card, sample_day};

fn made(day: &BuildDay) -> Pdf {
    Pdf::new(&build_day(day, &sample::print()).expect("the folder is sound"))
}

/// The page on which a heading stands, the contents aside.
fn page_of(pdf: &Pdf, heading: &str) -> usize {
    (2..=pdf.pages())
        .find(|page| squeeze(&pdf.page(*page)).contains(&squeeze(heading)))
        .unwrap_or_else(|| panic!("no page says {heading}"))
}

/// One folder, looked at for all of it: to set it takes as long as all other papers together.
#[test]
fn a_crew_finds_what_it_needs() {
    let day = sample_day::day();
    let bytes = build_day(&day, &sample::print()).expect("the folder is sound");
    // A phone's mail takes it.
    assert!(bytes.len() < 3_000_000, "{} bytes", bytes.len());
    let pdf = Pdf::new(&bytes);
    finds_what_was_given(&pdf);
    the_cover_names_the_page_of_each_card(&pdf, &day);
    nothing_is_told_by_colour(&pdf);
    it_is_found_by_its_headings(&pdf);
    each_pile_has_a_label(&pdf, &day);
}

fn finds_what_was_given(pdf: &Pdf) {
    let letters = pdf.letters();
    for given in [
        "Osprey Island School, lower garden",
        "Sat 5 Dec 2026, 8 people, 8 h each",
        "GO AS FAR AS BOW 9",
        "Chance that it holds: very likely, 94 %",
        "4 of 26 B1 are missing: the last two bows cannot be raised.",
        "N5 was weighed, it could be 3 short.",
        "Count pile C again: two B1 may lie there.",
        "Leave out bows 10 and 12 for now.",
        "4 missing",
        "2 × ladder, 8 ft",
        "Not in wind in which a sheet of film cannot be held by two people.",
        "Brace each bow before the next is raised.",
        "Swing the 3-4-5 triangle.",
        "Front left to back right, the diagonal",
        "53 ft 8 in, within 1/16 in",
        "Carried in all: 18 400 kg·m; no plan carries less than 17 100 kg·m.",
        "left of the house, by bow 3",
        "The crate with hardware, to the table under the roof",
        "A band under tension whips",
        "desk@example.invalid",
        "Thu 3 Dec 2026: ask whether the ferry took them",
        "drill with 5/16 in nut driver",
        "N4 is flat",
    ] {
        assert!(letters.contains(&squeeze(given)), "{given}\n{}", pdf.text());
    }
}

/// The cover's table sends the reader to the page on which the card is.
fn the_cover_names_the_page_of_each_card(pdf: &Pdf, day: &BuildDay) {
    // With more stages than a page holds, it runs on.
    let cover = pdf.page(1) + &pdf.page(2);
    let rows: BTreeMap<&str, usize> = (day.stages.iter())
        .filter_map(|stage| {
            let line = cover
                .lines()
                .find(|line| line.contains("page") && line.contains(&stage.name))?;
            Some((stage.name.as_str(), line.rsplit(' ').next()?.parse().ok()?))
        })
        .collect();
    assert_eq!(rows.len(), day.stages.len(), "{cover}");
    for (n, stage) in day.stages.iter().enumerate() {
        let heading = format!("{} · {}", n + 1, stage.name);
        assert_eq!(
            rows[stage.name.as_str()],
            page_of(pdf, &heading),
            "{heading}"
        );
    }
}

/// The answer is set so large that it is read from some ten metres: capitals of an inch for every 30 ft (common practice,
/// no source), so of 15 mm and more here. A capital of this font is 0.73 of the size, which is what poppler tells.
#[test]
fn the_answer_is_read_across_a_yard() {
    for (words, lines) in [
        (
            "Go: the pieces for all that 8 people can do are there.",
            "GO",
        ),
        ("Go as far as bow 14 (bows up).", "GO AS FAR\nAS BOW 14"),
        ("Wait.", "WAIT"),
    ] {
        for sheet in [Sheet::Letter, Sheet::A4] {
            let mut day = BuildDay::default();
            day.call.words = words.into();
            let print = Print {
                sheet,
                ..sample::print()
            };
            let pdf = Pdf::new(&build_day(&day, &print).unwrap());
            let wide = match sheet {
                Sheet::Letter => 215.9,
                Sheet::A4 => 210.0,
            };
            for word in lines.split_whitespace() {
                let places = pdf.boxes(1);
                let (_, [left, top, right, bottom]) = (places.iter())
                    .find(|(text, [_, top, _, bottom])| text == word && bottom - top > 15.0 / 0.73)
                    .unwrap_or_else(|| panic!("{word} is not large: {places:?}"));
                assert!(
                    *left > 16.0 && *right < wide - 16.0,
                    "{word}: {left} to {right}"
                );
                assert!(top < bottom && *bottom < 150.0, "{word}");
            }
        }
    }
}

/// Every point of every page is as red as it is green and blue: no printer of a site office loses anything.
fn nothing_is_told_by_colour(pdf: &Pdf) {
    for (number, page) in pdf.in_colour(30).iter().enumerate() {
        let odd = page
            .chunks(3)
            .find(|rgb| rgb[0] != rgb[1] || rgb[1] != rgb[2]);
        assert_eq!(odd, None, "page {}", number + 1);
    }
}

/// What is lit is drawn much thicker and darker than the rest.
#[test]
fn what_a_stage_brings_is_thick_and_black() {
    let frame = sample_day::frame(sample_card::GOTHIC);
    for stage in &frame.stages {
        let Some(drawing) = paper::stage_drawing(&frame, stage) else {
            assert_eq!(stage, "setting out", "only stakes and strings are no parts");
            continue;
        };
        assert!(drawing.says.contains(stage.as_str()));
        assert!(!drawing.svg.contains("#b3470b"), "{stage}");
        assert!(drawing.svg.contains("#000"), "{stage}: nothing is lit");
    }
}

fn it_is_found_by_its_headings(pdf: &Pdf) {
    assert_eq!(
        pdf.info("Title"),
        "Build-day folder: Osprey Island school garden house"
    );
    let Some(plain) = pdf.plain() else { return };
    assert!(plain.contains("/Outlines"));
    for heading in [
        "Build-day folder",
        "Setting out",
        "Where everything lies",
        "Off the truck",
        "Who lifts what",
        "Tell apart",
        "Labels of the places",
        "Tally of tools",
        "Who to reach, and what is open",
    ] {
        assert!(
            plain.contains(&format!("/Title ({heading})")),
            "{heading} is no bookmark"
        );
    }
}

/// Labels are cut out, so each says all: pile, what lies in it, for what.
fn each_pile_has_a_label(pdf: &Pdf, day: &BuildDay) {
    let from = page_of(pdf, "Cut along the dashes");
    let labels: String = (from..=pdf.pages()).map(|page| pdf.page(page)).collect();
    let large = |name: &str| {
        (from..=pdf.pages()).any(|page| {
            (pdf.boxes(page).iter())
                .any(|(text, [_, top, _, bottom])| text == name && bottom - top > 15.0)
        })
    };
    for pile in &day.staging.piles {
        assert!(large(&pile.name), "{} has no large name", pile.name);
        let (mark, pieces) = &pile.marks[0];
        assert!(
            squeeze(&labels).contains(&format!("{mark}×{pieces}")),
            "{mark}"
        );
    }
}

#[test]
fn what_nobody_has_said_is_asked_for() {
    let mut day = BuildDay::default();
    day.staging.says = vec!["Say what the ground is like on the page Ground.".into()];
    let pdf = made(&day);
    let letters = pdf.letters();
    for words in [
        "No day and no crew yet",
        "Say what the ground is like on the page Ground.",
        "Nothing is known of tools.",
        "Nothing is known of what the parts weigh.",
    ] {
        assert!(letters.contains(&squeeze(words)), "{words}\n{}", pdf.text());
    }
    assert_eq!(day.call.sign, CallSign::Wait);
}

/// The largest house of the families is no heavy file either.
#[test]
fn the_largest_house_is_no_heavy_file() {
    let day = sample_day::of_order(sample_card::SIDEWALL);
    let bytes = build_day(&day, &sample::print()).unwrap();
    assert!(bytes.len() < 3_000_000, "{} bytes", bytes.len());
}

#[test]
fn markup_is_text() {
    let text = "#panic(\"x\") *bold* $ x $ [open (never {closed \u{202e}";
    let mut day = sample_day::day();
    let stage = &mut day.stages[1];
    for field in [
        &mut day.order,
        &mut day.when,
        &mut day.call.words,
        &mut day.call.chance,
        &mut stage.name,
        &mut stage.reach,
        &mut stage.parts[0].mark,
        &mut stage.tools[0].0,
        &mut day.staging.piles[0].name,
        &mut day.contacts[0].reach,
        &mut day.points[0].says,
        &mut day.tools[0].tool,
    ] {
        *field = text.to_owned();
    }
    let pdf = made(&day);
    let seen = pdf
        .letters()
        .matches("#panic(\"x\")*bold*$x$[open(never{closed")
        .count();
    assert!(seen >= 10, "{seen}\n{}", pdf.text());
}

#[test]
fn too_much_and_no_drawing_are_refused() {
    let mut many = BuildDay::default();
    let drawing = sample_day::day().stages[1].drawing.clone();
    many.stages = vec![
        StageCard {
            drawing,
            ..StageCard::default()
        };
        301
    ];
    assert!(matches!(
        build_day(&many, &sample::print()),
        Err(PaperError::TooMuch {
            what: "drawings",
            ..
        })
    ));
    let mut broken = BuildDay::default();
    broken.setting_out.drawing = Some(Drawing {
        svg: "<svg".into(),
        ..Drawing::default()
    });
    assert!(matches!(
        build_day(&broken, &sample::print()),
        Err(PaperError::Typesetting(_))
    ));
}
