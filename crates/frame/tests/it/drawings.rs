//! The drawings, measured in their own coordinates. What holds for all of them stands here.
//!
//! Line types are those of ISO 128 (dashed: hidden; wide is twice narrow; from memory).

mod details;
mod isometric;
mod read_svg;
mod sheets;

use frame::{HouseEnd, View};
use roxmltree::Document;

use crate::house::{demo, gothic_order, raised};
use read_svg::{
    all, hoop, hoop_of, hoop_text, numbers, stretches, text_row, with_bend, with_stretches,
};

#[test]
fn every_drawing_is_well_formed_and_says_what_it_shows() {
    for frame in [raised(&demo()), hoop(), with_bend()] {
        for (name, svg) in all(&frame) {
            let document = Document::parse(&svg).unwrap_or_else(|e| panic!("{name}: {e}\n{svg}"));
            let root = document.root_element();
            let view_box = numbers(root.attribute("viewBox").unwrap());
            assert!(view_box[2] > 0.0 && view_box[3] > 0.0, "{name}");
            if !name.starts_with("part") {
                assert_eq!(root.attribute("role"), Some("img"), "{name}");
                assert!(root.attribute("aria-label").unwrap().len() > 20, "{name}");
            }
            for bad in ["Gradient", "var(", "currentColor", "NaN", "inf"] {
                assert!(!svg.contains(bad), "{name} has {bad}");
            }
        }
    }
}

/// What is drawn lies on the sheet: no edge is cut off. Letters are counted by where they begin.
#[test]
fn nothing_lies_off_the_sheet() {
    for (name, svg) in all(&raised(&demo())) {
        let document = Document::parse(&svg).unwrap();
        let view_box = numbers(document.root_element().attribute("viewBox").unwrap());
        let on_sheet = |(u, v): (f64, f64)| {
            let (left, top) = (view_box[0], view_box[1]);
            u >= left && u <= left + view_box[2] && v >= top && v <= top + view_box[3]
        };
        for node in document.descendants() {
            if let Some(d) = node.attribute("d")
                && !d.contains(['a', 'H', 'q', 'V'])
                && node.attribute("transform").is_none()
            {
                for spot in stretches(d).into_iter().flatten() {
                    assert!(on_sheet(spot), "{name}: {spot:?} off {view_box:?}");
                }
            }
            if node.has_tag_name("text") {
                let at = |axis| node.attribute(axis).unwrap().parse().unwrap();
                assert!(on_sheet((at("x"), at("y"))), "{name}: {node:?}");
            }
        }
    }
}

/// No text lies on another: each is taken as a row of dots along its middle, half a letter's size apart.
#[test]
fn no_text_lies_on_another() {
    let purlins = "[options]\npurlins = \"one each side\"";
    let houses = [
        raised(&demo()),
        raised(&gothic_order("length = \"144 ft\"", purlins)),
        raised(&gothic_order(
            "length = \"72 ft\"\nbow_spacing = \"6 ft\"\nunits = \"metric\"",
            &format!("{purlins}\n[front]\nwall = \"open\""),
        )),
        hoop(),
        with_bend(),
        with_stretches(&[("4 ft", "4 ft"), ("8 ft", "20 ft"), ("4 ft", "4 ft")]),
        with_stretches(&[("6 ft", "60 ft")]),
    ];
    for frame in houses {
        for (name, svg) in all(&frame) {
            let document = Document::parse(&svg).unwrap();
            let rows: Vec<_> = (document.descendants())
                .filter(|n| n.has_tag_name("text"))
                .map(text_row)
                .collect();
            for (i, (one, size, dots)) in rows.iter().enumerate() {
                for (other, other_size, others) in &rows[..i] {
                    let apart = 0.6 * size.min(*other_size);
                    let touch = dots
                        .iter()
                        .any(|a| others.iter().any(|b| (a.0 - b.0).hypot(a.1 - b.1) < apart));
                    assert!(!touch, "{name}: `{one}` lies on `{other}`");
                }
            }
        }
    }
}

/// Names come from files and phones; none may break out of its place.
#[test]
fn hostile_names_stay_text() {
    const NASTY: &str = "</svg><script>alert(\"1\")</script> & ' \" ]]> \u{1}\u{0}";
    let text = hoop_text()
        .replace("\"bow in post\"", "'''</title><script>x</script>&'\"'''")
        .replace("stage = \"frame\"", "stage = '\"><script>s</script>'")
        .replace("name = \"frame\"", "name = '\"><script>s</script>'");
    let mut frame = hoop_of(&text);
    frame.title = NASTY.into();
    frame.members.iter_mut().for_each(|m| {
        m.name = NASTY.into();
        m.role = NASTY.into();
    });
    for part in &mut frame.parts {
        part.noun = NASTY.into();
        part.description = NASTY.into();
        if part.mark.0 == "BOW" {
            part.mark.0 = NASTY.into();
            part.bend = with_bend().parts.iter().find_map(|p| p.bend.clone());
        }
    }
    for piece in &mut frame.pieces {
        piece.name = NASTY.into();
        if piece.mark.0 == "BOW" {
            piece.mark.0 = NASTY.into();
        }
    }
    let drawings = all(&frame);
    assert!(drawings.iter().any(|(name, _)| name.starts_with("flat")));
    for (name, svg) in drawings {
        assert!(!svg.contains("<script"), "{name}");
        let document = Document::parse(&svg).unwrap_or_else(|e| panic!("{name}: {e}"));
        assert!(document.descendants().all(|n| !n.has_tag_name("script")));
    }
    // What XML has no place for becomes a sign that something stood there; the rest is as it was written.
    let label = |svg: &str| {
        let document = Document::parse(svg).unwrap();
        document
            .root_element()
            .attribute("aria-label")
            .unwrap()
            .to_owned()
    };
    let shown = NASTY.replace(['\u{0}', '\u{1}'], "\u{fffd}");
    assert!(label(&frame::plan(&frame)).starts_with(&shown));
    let svg = frame::isometric(&frame, View::FrontRight);
    let document = Document::parse(&svg).unwrap();
    assert!((document.descendants()).any(|n| n.attribute("data-mark") == Some(&shown)));
}

/// Wide lines are twice as wide as narrow ones; hidden and centre lines are narrow and dashed, unlike each other.
#[test]
fn line_types_are_those_of_the_standard() {
    let frame = raised(&demo());
    let (plan, end) = (
        frame::plan(&frame),
        frame::end_elevation(&frame, HouseEnd::Front),
    );
    let group = |svg: &str, class: &str| {
        let document = Document::parse(svg).unwrap();
        let node = (document.descendants())
            .find(|n| n.attribute("class") == Some(class))
            .unwrap();
        let width: f64 = node.attribute("stroke-width").unwrap().parse().unwrap();
        (width, node.attribute("stroke-dasharray").map(numbers))
    };
    let (wide, narrow) = (group(&plan, "edges"), group(&plan, "narrow"));
    assert_eq!((wide.1, narrow.1), (None, None));
    assert_eq!(wide.0, 2.0 * narrow.0);
    let (centre, hidden) = (group(&plan, "centre"), group(&end, "hidden"));
    assert_eq!([centre.0, hidden.0], [narrow.0; 2]);
    // Long dash, gap, dot, gap; and dash, gap.
    let (centre, hidden) = (centre.1.unwrap(), hidden.1.unwrap());
    assert_eq!((centre.len(), hidden.len()), (4, 2));
    assert!(centre[0] > hidden[0] && hidden[0] > hidden[1] && centre[2] < centre[1]);
}
