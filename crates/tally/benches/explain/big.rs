//! A house of four hundred parts: the gothic house with a great many fittings at its doors. Invented; nobody builds it.

use std::fmt::Write as _;

use tally::{Known, Ordered};

use crate::deliveries::houses::House;

const FAMILY: &str = include_str!("../../../../families/gothic-24.toml");
const ORDER: &str = "\
name = \"House of four hundred parts\"
family = \"gothic-24\"
length = \"72 ft\"
bow_spacing = \"4 ft\"

[options]
purlins = \"one each side\"

[front]
door = \"double\"

[back]
door = \"single\"
";

/// As many parts as asked for.
pub fn house(parts: usize) -> House {
    let few = Ordered::of_family(ORDER, FAMILY.as_bytes()).expect("the house can be built");
    let more = parts - few.parts.lines.len();
    let family = family(more);
    let ordered = Ordered::of_family(ORDER, family.as_bytes()).expect("the house can be built");
    assert_eq!(ordered.parts.lines.len(), parts);
    let near = [44, 64, 68, 76, 80].map(|feet| ORDER.replace("72 ft", &format!("{feet} ft")));
    House {
        toml: ORDER.into(),
        family: Some(family),
        ordered,
        near: near.to_vec(),
        known: Known::default(),
    }
}

/// The family with so many parts more: bolts, small fittings and tubes, many of which look alike.
fn family(more: usize) -> String {
    let mut parts = String::new();
    let mut used: Vec<String> = Vec::new();
    for place in 0..more {
        let mark = format!("Q{}", place + 1);
        parts.push_str(&match place % 8 {
            0..4 => bolt(&mark, place / 8 * 4 + place % 4),
            4..7 => plate(&mark, place / 8 * 3 + place % 8 - 4),
            _ => tube(&mark, place / 8),
        });
        used.push(format!("{mark} = {}", 2 + place % 23));
    }
    let fitting = format!(
        "\n[[fitting]]\nrole = \"more fittings\"\nparts = {{ {} }}\nwhen = {{ door = \"single\" }}\nstage = \"doors\"\nsub_kit = \"end walls\"\n",
        used.join(", ")
    );
    // Parts come before what uses them, as the file has them.
    let (head, tail) = (FAMILY.split_once("[[member]]")).expect("the family has members");
    format!("{head}{parts}\n[[member]]{tail}{fitting}")
}

fn bolt(mark: &str, n: usize) -> String {
    let sizes = ["1/4", "3/8", "7/16", "1/2", "5/8", "3/4"];
    let nouns = ["hex bolt", "carriage bolt", "lag screw", "machine screw"];
    let (size, noun) = (sizes[n % 6], nouns[n / 6 % 4]);
    let quarters = 4 + n / 24 * 2;
    let (whole, rest) = (quarters / 4, quarters % 4);
    let length = match rest {
        0 => format!("{whole} in"),
        _ => format!("{whole}-1/2 in"),
    };
    part(
        mark,
        &format!(
            "noun = \"{noun}\"\nfastener = {{ size = \"{size}\", diameter = \"{size} in\" }}\nlength = \"{length}\"\nmass = \"{} g\"\nfinish = \"zinc plated\"",
            20 + n
        ),
    )
}

fn plate(mark: &str, n: usize) -> String {
    let nouns = [
        "clamp", "bracket", "plate", "hinge", "strap", "hook", "cleat", "cap",
    ];
    let uses = [
        "sill",
        "jamb",
        "vent",
        "gutter",
        "sash",
        "track",
        "shelf",
        "hose",
        "lamp",
        "fan",
        "bench",
        "gate",
        "louver",
        "crank",
        "pulley",
        "cable",
        "corner",
        "threshold",
    ];
    let noun = format!("{} {}", uses[n / 8 % uses.len()], nouns[n % 8]);
    part(
        mark,
        &format!(
            "noun = \"{noun}\"\nmass = \"{} g\"\nfinish = \"galvanized\"",
            90 + 7 * n
        ),
    )
}

fn tube(mark: &str, n: usize) -> String {
    let (called, outside) = [("1-3/8", "1.315 in"), ("1-5/8", "1.660 in")][n % 2];
    let inches = 40 + n / 2 * 3;
    part(
        mark,
        &format!(
            "noun = \"brace\"\nsays = \"Shelf brace {n}\"\ntube = {{ called = \"{called}\", outside = \"{outside}\", wall = \"0.065 in\", gauge = 16 }}\nlength = \"{inches} in\"\nends = [\"plain\", \"plain\"]\nfinish = \"galvanized\""
        ),
    )
}

fn part(mark: &str, says: &str) -> String {
    let mut part = String::new();
    writeln!(part, "\n[[part]]\nmark = \"{mark}\"\n{says}").expect("a string takes all");
    part
}
