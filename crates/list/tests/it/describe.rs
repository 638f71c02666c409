//! Descriptions in many styles, and by hand what each says. Every row is written by hand in the way of trade lists;
//! none comes from the program's output. Words from the facts sheet of the trade, section 1; the styles are common
//! practice, no source.

use list::{Ends, Said, describe};
use measure::{Length, Unit};

/// A description, and all that it says: anything not named here must come back unsaid.
const TABLE: &[(&str, &str)] = &[
    // ground posts
    (
        "Ground post, tube 1-5/8 in, 14 ga, 5 ft, plain ends",
        "ground post; od 1-5/8; ga 14; len 5 ft; ends plain",
    ),
    (
        "GROUND POSTS 1-5/8\" OD X 14 GA X 60\"",
        "ground post; od 1-5/8; ga 14; len 60 in",
    ),
    (
        "Post, ground, 1 5/8 x 5', galv.",
        "ground post; od 1-5/8; len 5 ft; fin galvanized",
    ),
    (
        "Ground pin 1.660 OD .083 wall 60 in long",
        "?ground pin; od 1.66; wall 0.083; len 60 in",
    ),
    (
        "Foundation tube 42 mm x 1.5 m",
        "ground post; od 42 mm; len 1.5 m",
    ),
    ("Grond post 1-5/8 x 5 ft", "ground post; od 1-5/8; len 5 ft"),
    ("14ga groundpost 5'-0\"", "ground post; ga 14; len 5 ft"),
    (
        "anchor post, 1-5/8\" dia., 5ft",
        "ground post; od 1-5/8; len 5 ft",
    ),
    (
        "5 ft ground stakes (galvanised)",
        "ground post; len 5 ft; fin galvanized",
    ),
    (
        "Ground Posts - 1 5/8\" - 14 gauge - 5'",
        "ground post; od 1-5/8; ga 14; len 5 ft",
    ),
    // bows
    (
        "Half bow, tube 1-5/8 in, 14 ga, one end swaged",
        "half bow; od 1-5/8; ga 14; ends one",
    ),
    (
        "Bow halves 1-5/8\" 14 GA swedged one end",
        "half bow; od 1-5/8; ga 14; ends one",
    ),
    ("Rafter half, left, 14ga", "half bow; ga 14"),
    ("bow", "?bow"),
    ("Bows 1-5/8 OD 14 ga", "?bow; od 1-5/8; ga 14"),
    ("End hoop, 1-5/8 x 14 ga", "end bow; od 1-5/8; ga 14"),
    ("Hoops (formed tube) 1.66\" OD", "bow; od 1.66"),
    // ridge and purlins
    (
        "Ridge stock, tube 1-3/8 in, 16 ga, 10 ft 6-1/2 in, one end swaged 3-1/2 in",
        "ridge; od 1-3/8; ga 16; len 126.5 in; ends one; swage 3.5 in",
    ),
    (
        "RIDGE POLE 1-3/8\" X 126-1/2\" SWG 1 END",
        "ridge; od 1-3/8; len 126.5 in; ends one",
    ),
    (
        "Purlin, side, 1-3/8 16ga 10'-6½\" swaged",
        "purlin; od 1-3/8; ga 16; len 126.5 in; ends one",
    ),
    ("perlin 1 3/8 x 10' 6\"", "purlin; od 1-3/8; len 126 in"),
    ("Purlins 1-3/8\" x 10' 6", "purlin; od 1-3/8; len 126 in"),
    (
        "peak purlin, 1.315 OD x .065 wall x 126.5",
        "ridge; od 1.315; wall 0.065; len 126.5 in",
    ),
    (
        "Tube, ridge, 1-3/8 16 ga 126.5 in SOE",
        "ridge; od 1-3/8; ga 16; len 126.5 in; ends one",
    ),
    (
        "Purlin 35 mm x 3.2 m galvanised",
        "purlin; od 35 mm; len 3.2 m; fin galvanized",
    ),
    ("top rail 1-3/8\" x 21'", "?top rail; od 1-3/8; len 21 ft"),
    ("Pipe, 1-1/4\" NPS x 21'", "tube; od 1-1/4; len 21 ft"),
    // studs, braces, doors
    (
        "Stud, tube 1-3/8 in, 16 ga, 10 ft 6 in, plain ends",
        "stud; od 1-3/8; ga 16; len 126 in; ends plain",
    ),
    (
        "Endwall upright 1-3/8\" 16GA 126\" plain both ends",
        "stud; od 1-3/8; ga 16; len 126 in; ends plain",
    ),
    (
        "End wall post, unswaged, 10'6\"",
        "stud; len 126 in; ends plain",
    ),
    (
        "Gable stud 1-3/8 x 126 in (no swage)",
        "stud; od 1-3/8; len 126 in; ends plain",
    ),
    (
        "Diagonal brace, flattened ends, 8 ft",
        "brace; len 8 ft; ends flat",
    ),
    ("Wind brace 1-3/8 x 10ft", "brace; od 1-3/8; len 10 ft"),
    (
        "Door header 1-3/8 in x 49\"",
        "door header; od 1-3/8; len 49 in",
    ),
    ("header, door, 4 ft 1 in", "door header; len 49 in"),
    ("Door jambs 7 ft", "door jamb; len 7 ft"),
    ("Single door panel", "door panel"),
    ("Strap hinge, black, 6 in", "hinge; fits 6 in; fin black"),
    // channel and wire
    ("Rail channel 10 ft", "rail channel; len 10 ft"),
    (
        "C-channel, alum., 8 ft",
        "?c channel; len 8 ft; fin aluminum",
    ),
    (
        "Lock channel 8', mill finish",
        "lock channel; len 8 ft; fin aluminum",
    ),
    ("LOCK CHANEL 96\"", "lock channel; len 96 in"),
    (
        "poly lock, double, 8 foot lengths",
        "double lock channel; len 8 ft",
    ),
    ("Base rail 10'", "base rail; len 10 ft"),
    (
        "Hip board channel, 10 ft galv",
        "channel; len 10 ft; fin galvanized",
    ),
    ("hiprail, 120 in.", "hip rail; len 120 in"),
    ("rail, 10 ft", "?rail; len 10 ft"),
    ("Spring wire, 4 ft", "spring wire; len 4 ft"),
    ("Wiggle-wire 6.5'", "spring wire; len 78 in"),
    (
        "zig-zag wire 48\" coated",
        "spring wire; len 48 in; fin painted",
    ),
    ("Spring wire 2 m", "spring wire; len 2 m"),
    // film
    (
        "Main cover, 6 mil film, 40 ft x 52 ft, clear",
        "main cover; thk 6; w 40 ft; len 52 ft; fin clear",
    ),
    (
        "Roof film 6mil 40 x 52",
        "main cover; thk 6; w 40 ft; len 52 ft",
    ),
    (
        "Film, end wall, 6 mil, 16' x 28'",
        "end-wall film; thk 6; w 16 ft; len 28 ft",
    ),
    (
        "6 mil clear poly 32 x 100 ft",
        "film; thk 6; w 32 ft; len 100 ft; fin clear",
    ),
    ("END WALL PLASTIC 6MIL", "end-wall film; thk 6"),
    ("Endwall poly cover, 6 mil", "end-wall film; thk 6"),
    (
        "Greenhouse film 150 micron 9.75 m x 16 m",
        "film; thk 5.9055; w 9.75 m; len 16 m",
    ),
    ("Cover", "?cover"),
    (
        "plastic, 6 mil 24x48",
        "?plastic; thk 6; w 24 ft; len 48 ft",
    ),
    ("Cover, main, 6-mil", "main cover; thk 6"),
    (
        "Shade cloth, black, 30 x 50 ft",
        "shade cloth; fin black; w 30 ft; len 50 ft",
    ),
    // fasteners
    ("Hex bolt 5/16 x 2-1/2", "hex bolt; size 5/16; len 2.5 in"),
    (
        "Hex bolt, 5/16 in x 3 in, zinc",
        "hex bolt; size 5/16; len 3 in; fin galvanized",
    ),
    (
        "5/16-18 x 2-1/2\" hex head bolts w/ nut",
        "hex bolt; size 5/16; len 2.5 in",
    ),
    ("BOLT, HEX, 5/16\"X3\"", "hex bolt; size 5/16; len 3 in"),
    ("Bolt 2-1/2 x 5/16", "bolt; size 5/16; len 2.5 in"),
    ("carrage bolt 3/8x4", "carriage bolt; size 3/8; len 4 in"),
    (
        "Coach bolts M8 x 60 mm",
        "carriage bolt; size M8; len 60 mm",
    ),
    (
        "#12 x 3/4 self drilling screw",
        "self-drilling screw; size #12; len 3/4 in",
    ),
    (
        "Self-drilling screws #12-14 x 1\" HWH",
        "self-drilling screw; size #12; len 1 in",
    ),
    (
        "Screw, self-tapping, #12 x 3/4\"",
        "self-drilling screw; size #12; len 3/4 in",
    ),
    ("SDS #12 X .75", "self-drilling screw; size #12; len 3/4 in"),
    ("1/4 x 1 lag screws", "lag screw; size 1/4; len 1 in"),
    ("Hex nut 5/16", "nut; size 5/16"),
    (
        "Flat washers, 5/16\", galv",
        "flat washer; size 5/16; fin galvanized",
    ),
    (
        "Bolt for ground post 5/16 x 2-1/2",
        "bolt; size 5/16; len 2.5 in",
    ),
    ("5/16\" bolt, 2½\" long", "bolt; size 5/16; len 2.5 in"),
    // fittings
    (
        "Ridge clamp 1-5/8 x 1-3/8",
        "ridge clamp; fits 1-3/8, 1-5/8",
    ),
    ("Clamp, ridge", "ridge clamp"),
    ("CLAMP RIDGE 2PC", "ridge clamp"),
    ("POST GROUND 1.66\" 14GA", "ground post; od 1.66; ga 14"),
    ("Bolt 2 1/2\"", "bolt; len 2.5 in"),
    (
        "self drilling screws 3/4",
        "self-drilling screw; len 3/4 in",
    ),
    (
        "Cross connectors 1-3/8 x 1-5/8",
        "cross connector; fits 1-3/8, 1-5/8",
    ),
    ("Cross conector, 1-5/8\"", "cross connector; fits 1-5/8"),
    ("Connector for purlin", "cross connector"),
    ("Splice plate, hip rail", "splice plate"),
    ("hip rail splice plate 6 in", "splice plate; fits 6 in"),
    ("Mending plates", "mending plate"),
    ("Strap", "?strap"),
    ("brace band 1-5/8", "?brace band; fits 1-5/8"),
    ("Earth anchor 30 in", "earth anchor; fits 30 in"),
    ("anchor, 30\"", "?anchor; len 30 in"),
    ("Duct tape", "joint tape"),
    // nothing in the table
    ("Instruction booklet", "papers"),
    ("Box 3 of 7", ""),
];

#[test]
fn table_is_as_long_as_promised() {
    assert!(TABLE.len() >= 80, "{}", TABLE.len());
}

#[test]
fn each_description_says_what_a_person_reads_in_it() {
    let wrong: Vec<String> = TABLE
        .iter()
        .map(|(text, expected)| {
            (
                text,
                expected
                    .split("; ")
                    .filter(|s| !s.is_empty())
                    .map(str::to_owned)
                    .collect::<Vec<_>>(),
                describe(text),
            )
        })
        .filter_map(|(text, expected, said)| {
            let (mut expected, mut found) = (normal(&expected), facts(&said));
            expected.sort();
            found.sort();
            (expected != found)
                .then(|| format!("{text}\n  by hand: {expected:?}\n  read:    {found:?}"))
        })
        .collect();
    assert!(
        wrong.is_empty(),
        "{} of {}:\n{}",
        wrong.len(),
        TABLE.len(),
        wrong.join("\n")
    );
}

/// The facts by hand, with lengths in nanometres so that "5 ft" and "60 in" compare.
fn normal(facts: &[String]) -> Vec<String> {
    facts
        .iter()
        .enumerate()
        .map(|(index, fact)| match fact.split_once(' ') {
            Some((what @ ("len" | "od" | "w" | "wall" | "swage"), value)) => {
                format!("{what} {}", nanometres(value))
            }
            Some(("fits", values)) => {
                let values: Vec<String> = values
                    .split(", ")
                    .map(|v| nanometres(v).to_string())
                    .collect();
                format!("fits {}", values.join(", "))
            }
            Some((_, _)) if index > 0 => fact.clone(),
            _ if index == 0 => format!("noun {fact}"),
            _ => fact.clone(),
        })
        .collect()
}

fn nanometres(text: &str) -> i64 {
    Length::read(text, Some(Unit::Inch))
        .unwrap()
        .as_nanometres()
}

fn facts(said: &Said) -> Vec<String> {
    let mut facts = Vec::new();
    if let Some(noun) = &said.noun {
        facts.push(if noun.ambiguous {
            format!("noun ?{}", noun.words)
        } else {
            format!("noun {}", noun.may_mean[0].head())
        });
    }
    let mut length = |what: &str, fact: &Option<list::Fact<Length>>| {
        if let Some(fact) = fact {
            facts.push(format!("{what} {}", fact.value.as_nanometres()));
        }
    };
    length("len", &said.length);
    length("w", &said.width);
    length("od", &said.across);
    length("wall", &said.wall);
    length("swage", &said.swage);
    if let Some(gauge) = &said.gauge {
        facts.push(format!("ga {}", gauge.value));
    }
    if let Some(thickness) = &said.thickness {
        let mil = thickness.value.to_inches() * 1000.0;
        facts.push(format!("thk {}", (mil * 1e4).round() / 1e4));
    }
    if let Some(ends) = &said.ends {
        let ends = match ends.value {
            Ends::Plain => "plain",
            Ends::OneSwaged => "one",
            Ends::BothSwaged => "both",
            Ends::Flattened => "flat",
        };
        facts.push(format!("ends {ends}"));
    }
    if let Some(finish) = &said.finish {
        facts.push(format!("fin {}", finish.value));
    }
    if let Some(size) = &said.size {
        facts.push(format!("size {}", size.value));
    }
    if !said.fits.is_empty() {
        let values: Vec<String> = said
            .fits
            .iter()
            .map(|v| v.as_nanometres().to_string())
            .collect();
        facts.push(format!("fits {}", values.join(", ")));
    }
    facts
}
