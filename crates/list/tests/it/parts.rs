//! A parts list by hand, like that of a 24 ft gothic house.

use frame::{End, Mark, Part, Section};
use measure::{Length, Mass, Unit};

fn length(text: &str) -> Length {
    Length::read(text, Some(Unit::Inch)).unwrap()
}

fn tube(called: &str, outside: &str, wall: &str, gauge: u8) -> Option<Section> {
    Some(Section::Tube {
        called: called.into(),
        outside: length(outside),
        wall: length(wall),
        gauge: Some(gauge),
    })
}

fn bolt(size: &str, diameter: &str) -> Option<Section> {
    Some(Section::Fastener {
        size: size.into(),
        diameter: length(diameter),
    })
}

struct Row(&'static str, &'static str, &'static str);

fn part(
    Row(mark, noun, description): Row,
    section: Option<Section>,
    long: &str,
    ends: Option<[End; 2]>,
    finish: &str,
) -> Part {
    Part {
        mark: Mark(mark.into()),
        noun: noun.into(),
        description: description.into(),
        section,
        length: (!long.is_empty()).then(|| length(long)),
        width: None,
        ends,
        finish: Some(finish.into()),
        unit_mass: Mass::grams(1_000),
        bend: None,
    }
}

/// The parts; each line by hand.
pub fn gothic() -> Vec<Part> {
    let big = || tube("1-5/8", "1.660", "0.083", 14);
    let small = || tube("1-3/8", "1.315", "0.065", 16);
    let channel = |called: &str, width: &str, depth: &str| {
        Some(Section::Channel {
            called: called.into(),
            width: length(width),
            depth: length(depth),
        })
    };
    let plain = Some([End::Plain, End::Plain]);
    let swaged = |by: &str| Some([End::Swaged(length(by)), End::Plain]);
    let punched = Some([End::Punched, End::Punched]);
    let film = || {
        Some(Section::Film {
            thickness: Length::nanometres(152_400),
        })
    };
    let wide = |mut part: Part, width: &str| {
        part.width = Some(length(width));
        part
    };
    let zinc = "zinc plated";
    let galv = "galvanized";
    vec![
        part(
            Row(
                "P1",
                "ground post",
                "Ground post, tube 1-5/8 in (measures 1.660 in), 14 ga, 5 ft, both ends plain",
            ),
            big(),
            "5 ft",
            plain,
            galv,
        ),
        part(
            Row(
                "B1",
                "bow",
                "Half bow, tube 1-5/8 in (measures 1.660 in), 14 ga, one end swaged 4 in, one plain",
            ),
            big(),
            "18 ft 2 in",
            swaged("4"),
            galv,
        ),
        part(
            Row(
                "R1",
                "ridge",
                "Ridge tube, tube 1-3/8 in (measures 1.315 in), 16 ga, 10 ft 6-1/2 in, one end swaged 3-1/2 in, one plain",
            ),
            small(),
            "126.5",
            swaged("3.5"),
            galv,
        ),
        part(
            Row(
                "S1",
                "end wall post",
                "End wall stud, tube 1-3/8 in (measures 1.315 in), 16 ga, 10 ft 6 in, both ends plain",
            ),
            small(),
            "126",
            plain,
            galv,
        ),
        part(
            Row(
                "H1",
                "door header",
                "Door header, single, tube 1-3/8 in, 16 ga, 3 ft 8 in, both ends punched",
            ),
            small(),
            "44",
            punched,
            galv,
        ),
        part(
            Row(
                "H2",
                "door header",
                "Door header, double, tube 1-3/8 in, 16 ga, 7 ft 2 in, both ends punched",
            ),
            small(),
            "86",
            punched,
            galv,
        ),
        part(
            Row(
                "C1",
                "rail channel",
                "Rail channel, 1-1/2 in by 3/4 in, 10 ft",
            ),
            channel("rail channel", "1-1/2", "3/4"),
            "10 ft",
            None,
            galv,
        ),
        part(
            Row("C2", "splice plate", "Rail splice plate, 6 in"),
            None,
            "6 in",
            None,
            galv,
        ),
        part(
            Row(
                "L1",
                "lock channel",
                "Lock channel, 1-1/4 in by 1/2 in, 8 ft",
            ),
            channel("lock channel", "1-1/4", "1/2"),
            "8 ft",
            None,
            "mill",
        ),
        part(
            Row("W1", "spring wire", "Spring wire, 0.079 in, 6 ft 8 in"),
            Some(Section::Wire {
                diameter: length("2 mm"),
            }),
            "6 ft 8 in",
            None,
            "coated",
        ),
        wide(
            part(
                Row(
                    "F1",
                    "main cover",
                    "Main cover, 6 mil, 40 ft by 52 ft, clear",
                ),
                film(),
                "52 ft",
                None,
                "clear",
            ),
            "40 ft",
        ),
        wide(
            part(
                Row(
                    "F2",
                    "end wall film",
                    "End wall film, 6 mil, 14 ft by 28 ft, clear",
                ),
                film(),
                "28 ft",
                None,
                "clear",
            ),
            "14 ft",
        ),
        part(Row("K1", "peak plate", "Peak plate"), None, "", None, galv),
        part(
            Row("X1", "ridge clamp", "Ridge clamp"),
            None,
            "",
            None,
            galv,
        ),
        part(
            Row("X2", "cross connector", "Cross connector"),
            None,
            "",
            None,
            galv,
        ),
        part(Row("X3", "stud clamp", "Stud clamp"), None, "", None, galv),
        part(Row("X4", "stud shoe", "Stud shoe"), None, "", None, galv),
        part(
            Row("D1", "door panel", "Door panel, 42 in by 80 in"),
            None,
            "",
            None,
            galv,
        ),
        part(
            Row("D2", "hinge", "Door hinge, clamp-on"),
            None,
            "",
            None,
            galv,
        ),
        part(Row("D3", "latch", "Door latch set"), None, "", None, galv),
        part(
            Row("N1", "hex bolt", "Hex bolt, 5/16 in x 2-1/2 in"),
            bolt("5/16", "5/16"),
            "2-1/2",
            None,
            zinc,
        ),
        part(
            Row("N2", "hex bolt", "Hex bolt, 5/16 in x 3 in"),
            bolt("5/16", "5/16"),
            "3",
            None,
            zinc,
        ),
        part(
            Row("N3", "lock nut", "Lock nut, 5/16 in"),
            bolt("5/16", "5/16"),
            "",
            None,
            zinc,
        ),
        part(
            Row("N4", "flat washer", "Flat washer, 5/16 in"),
            bolt("5/16", "5/16"),
            "",
            None,
            zinc,
        ),
        part(
            Row(
                "N5",
                "self-drilling screw",
                "Self-drilling screw, #12 x 3/4 in",
            ),
            bolt("#12", "0.216"),
            "3/4",
            None,
            zinc,
        ),
        part(
            Row(
                "N6",
                "self-drilling screw",
                "Self-drilling screw, #12 x 1 in",
            ),
            bolt("#12", "0.216"),
            "1",
            None,
            zinc,
        ),
    ]
}
