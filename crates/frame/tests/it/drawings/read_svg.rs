//! Frames to draw, and drawings read back: their paths, letters and attributes.

use frame::{Bend, Frame, HouseEnd, Stretch, View};
use measure::{Grid, Length};
use roxmltree::{Document, Node};

use crate::house::{Hoop, demo, order, raised};

pub fn length(text: &str) -> Length {
    Length::read(text, None).unwrap()
}

/// A hoop house of 20 ft by 24 ft with a ridge and a purlin each side, bows of 4 ft.
pub fn hoop() -> Frame {
    hoop_of(&hoop_text())
}

pub fn hoop_text() -> String {
    let hoop = Hoop {
        width: 240,
        height: 132,
        side: 48,
        shoulder: 40,
        roof: 300,
        spacing: "4 ft",
    };
    hoop.text()
}

pub fn hoop_of(text: &str) -> Frame {
    let family = frame::Family::read(text).unwrap_or_else(|e| panic!("{e}"));
    let order = order("name = \"h\"\nfamily = \"hoop\"\nlength = \"24 ft\"");
    frame::expand(&order, &family).unwrap_or_else(|e| panic!("{e}"))
}

/// Every drawing of a frame with what to call it.
pub fn all(frame: &Frame) -> Vec<(String, String)> {
    let mut drawings: Vec<(String, String)> = (View::ALL.into_iter())
        .map(|view| (view.key().to_owned(), frame::isometric(frame, view)))
        .collect();
    drawings.push(("plan".into(), frame::plan(frame)));
    drawings.push(("side".into(), frame::side_elevation(frame)));
    for end in HouseEnd::BOTH {
        drawings.push((end.says().into(), frame::end_elevation(frame, end)));
    }
    for part in &frame.parts {
        let flat = frame::bow_flat(frame, &part.mark.0);
        drawings.extend(flat.map(|svg| (format!("flat {}", part.mark), svg)));
        let small = frame::part_drawing(part);
        drawings.extend(small.map(|svg| (format!("part {}", part.mark), svg)));
    }
    for (kind, _) in frame::joints_to_detail(frame) {
        let svg = frame::joint_detail(frame, kind).unwrap();
        drawings.push((format!("joint {kind}"), svg));
    }
    drawings
}

/// The stretches of a path: M and m, L and l, h and v as the drawings write them.
pub fn stretches(d: &str) -> Vec<Vec<(f64, f64)>> {
    let mut found: Vec<Vec<(f64, f64)>> = Vec::new();
    let mut at = (0.0, 0.0);
    let mut rest = d;
    while let Some(command) = rest.chars().next() {
        rest = &rest[1..];
        let end = rest.find(|c: char| c.is_ascii_alphabetic());
        let (here, next) = rest.split_at(end.unwrap_or(rest.len()));
        rest = next;
        let numbers = numbers(here);
        match command {
            'M' | 'm' | 'L' | 'l' => {
                for (i, pair) in numbers.chunks(2).enumerate() {
                    at = match command {
                        'M' | 'L' => (pair[0], pair[1]),
                        _ => (at.0 + pair[0], at.1 + pair[1]),
                    };
                    if i == 0 && command.eq_ignore_ascii_case(&'m') {
                        found.push(Vec::new());
                    }
                    found.last_mut().unwrap().push(at);
                }
            }
            'h' | 'v' => {
                let step = numbers[0];
                at = if command == 'h' {
                    (at.0 + step, at.1)
                } else {
                    (at.0, at.1 + step)
                };
                found.last_mut().unwrap().push(at);
            }
            'z' | 'Z' => {}
            other => panic!("`{other}` in {d}"),
        }
    }
    found
}

pub fn numbers(text: &str) -> Vec<f64> {
    let mut found: Vec<String> = Vec::new();
    let mut apart = true;
    for letter in text.chars() {
        match letter {
            ' ' => apart = true,
            _ => {
                if apart || letter == '-' {
                    found.push(String::new());
                }
                apart = false;
                found.last_mut().unwrap().push(letter);
            }
        }
    }
    found.iter().map(|n| n.parse().unwrap()).collect()
}

/// An attribute of a node or, as SVG inherits them, of what holds it.
pub fn inherited<'a>(node: Node<'a, '_>, name: &str) -> Option<&'a str> {
    node.ancestors().find_map(|n| n.attribute(name))
}

pub fn is_in(node: Node, class: &str) -> bool {
    (node.ancestors()).any(|n| n.attribute("class") == Some(class))
}

pub fn texts(svg: &str) -> Vec<String> {
    let document = Document::parse(svg).unwrap();
    (document.descendants())
        .filter(|n| n.has_tag_name("text"))
        .filter_map(|n| n.text().map(String::from))
        .collect()
}

/// The shapes of a piece that are not in the ground.
pub fn shape<'a>(document: &'a Document, piece: usize) -> Node<'a, 'a> {
    let piece = piece.to_string();
    (document.descendants())
        .find(|n| n.attribute("data-piece") == Some(&piece) && !is_in(*n, "below"))
        .unwrap()
}

/// A quarter of a circle of 8 ft: by the handbook's segment its chord is 8√2 ft = 11 ft 3.765 in, its rise
/// 8(1 − cos 45°) ft = 2 ft 4.118 in, its arc 8 · π/2 ft = 12 ft 6.796 in.
pub fn with_bend() -> Frame {
    let mut frame = raised(&demo());
    let feet = |feet: f64| Length::from_metres(feet * 0.3048, Grid::SIXTEENTH).unwrap();
    let part = frame.parts.iter_mut().find(|p| p.mark.0 == "B1").unwrap();
    part.bend = Some(Bend {
        chord: feet(8.0 * 2_f64.sqrt()),
        rise: feet(8.0 * (1.0 - 0.5_f64.sqrt())),
        stretches: vec![Stretch {
            length: feet(8.0 * std::f64::consts::FRAC_PI_2),
            radius: Some(feet(8.0)),
        }],
    });
    frame
}

/// A bow of arcs, each with its length and its radius.
pub fn with_stretches(arcs: &[(&str, &str)]) -> Frame {
    let mut frame = with_bend();
    let part = frame.parts.iter_mut().find(|p| p.mark.0 == "B1").unwrap();
    let stretches = arcs.iter().map(|(long, radius)| Stretch {
        length: length(long),
        radius: Some(length(radius)),
    });
    part.bend.as_mut().unwrap().stretches = stretches.collect();
    frame
}

pub fn text_row(node: Node) -> (String, f64, Vec<(f64, f64)>) {
    let number = |name| inherited(node, name).unwrap().parse::<f64>().unwrap();
    let text = node.text().unwrap().to_owned();
    let (x, y, size) = (number("x"), number("y"), number("font-size"));
    let wide = text.chars().count() as f64 * 0.5 * size;
    let start = match inherited(node, "text-anchor") {
        Some("middle") => -wide / 2.0,
        Some("end") => -wide,
        _ => 0.0,
    };
    let angle = node.attribute("transform").map_or(0.0, |turn| {
        let inside = turn.trim_start_matches("rotate(").trim_end_matches(')');
        numbers(inside)[0].to_radians()
    });
    let (sin, cos) = angle.sin_cos();
    let count = (wide / (0.5 * size)).round() as usize;
    let dots = (0..=count).map(|i| {
        let (along, up) = (start + wide * i as f64 / count as f64, -0.36 * size);
        (x + along * cos - up * sin, y + along * sin + up * cos)
    });
    (text, size, dots.collect())
}
