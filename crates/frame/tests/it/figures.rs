//! Profiles against figures made with shapely by `tests/geometry/figures.py`, which draws them from their centres.

use frame::{Ask, AskedLink, Profile};

use crate::profiles::{OPEN, arc, pointed, smooth, straight};

const FIGURES: &str = include_str!("../geometry/figures.csv");

/// The house that the figures' film lies on.
const HOUSE_METRES: f64 = 14.4;

/// The same profiles as in figures.py, told as a family would tell them.
fn profile(name: &str, width: f64, height: f64) -> Profile {
    let bow = || AskedLink::arc("bow", OPEN);
    let rafter = || AskedLink::straight("rafter", OPEN);
    let side = |length| straight("side", length);
    match name {
        "gothic" => pointed(
            width,
            height,
            &[side(1.2192), arc("shoulder", 0.9144), arc("roof", 9.144)],
        ),
        "gothic steep" => pointed(
            width,
            height,
            &[side(1.4), arc("shoulder", 1.1), arc("roof", 6.5)],
        ),
        "semicircle" => smooth(width, height, &[AskedLink::straight("side", OPEN), bow()]),
        "semicircle on tall legs" => smooth(width, height, &[side(1.7), bow()]),
        "flat arc" => smooth(width, height, &[side(2.2), bow().kinked(OPEN)]),
        "horseshoe" | "horseshoe mild" => smooth(width, height, &[bow().kinked(OPEN)]),
        "horseshoe on legs" => smooth(width, height, &[side(0.3), bow().kinked(OPEN)]),
        "three-centred" => smooth(width, height, &[side(0.9), arc("shoulder", 1.2), bow()]),
        "three-centred on the floor" => {
            smooth(width, height, &[side(0.05), arc("shoulder", 2.0), bow()])
        }
        "pointed arc" => pointed(width, height, &[bow()]),
        "rafter" => pointed(width, height, &[side(1.8), arc("shoulder", 0.7), rafter()]),
        "kinked rafter" => pointed(width, height, &[side(1.9), rafter().kinked(Ask::Follows)]),
        other => panic!("figures.py has a profile `{other}` that this test does not know"),
    }
}

#[test]
fn profiles_agree_with_shapely() {
    let rows = FIGURES
        .lines()
        .filter(|line| !line.starts_with('#'))
        .skip(1);
    let (mut seen, mut bent_whole) = (0, 0);
    for row in rows {
        let fields: Vec<&str> = row.split(',').collect();
        let [name, width, height, fasten, links, rest @ ..] = fields.as_slice() else {
            panic!("{row}");
        };
        let number = |text: &str| text.parse::<f64>().unwrap();
        let rest: Vec<f64> = rest.iter().map(|text| number(text)).collect();
        let [half, wall, film, roof, chord, rise] = rest.as_slice() else {
            panic!("{row}");
        };
        let profile = profile(name, number(width), number(height));
        let agrees = |what: &str, found: f64, wanted: f64| {
            let off = (found - wanted).abs();
            assert!(
                off <= 1e-6 * wanted,
                "{name}, {what}: {found} is not {wanted}"
            );
        };
        let links: Vec<f64> = links.split(' ').map(number).collect();
        assert_eq!(profile.links().len(), links.len(), "{name}");
        for (link, length) in profile.links().iter().zip(links) {
            agrees(&link.name, link.length, length);
        }
        agrees("half length", profile.half_length(), *half);
        agrees("end wall", profile.area(), *wall);
        let bare = profile.along_height(number(fasten)).unwrap();
        agrees(
            "film",
            (profile.length() - 2.0 * bare) * HOUSE_METRES,
            *film,
        );
        agrees(
            "roof",
            profile.height_at(number(width) / 4.0).unwrap(),
            *roof,
        );
        if let Ok(bent) = profile.bend(0.0, profile.half_length()) {
            agrees("chord", bent.chord, *chord);
            agrees("rise", bent.rise, *rise);
            bent_whole += 1;
        }
        seen += 1;
    }
    // All but the three with a kink at the eaves.
    assert_eq!((seen, bent_whole), (13, 10));
}
