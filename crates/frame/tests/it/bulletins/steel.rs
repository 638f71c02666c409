//! Houses of steel: round tube, and square tube on pins.

use super::{compare, differs, feet, inches, pieces, raise, refused, same, sixteenths};

const RUT: &str = include_str!("rut.family.toml");
const KY24: &str = include_str!("ky24.family.toml");
const KERR: &str = include_str!("kerr.family.toml");
const MO50: &str = include_str!("mo50.family.toml");
const RAIL36: &str = include_str!("rail36.family.toml");

/// RUT: Rutgers, horticultural engineering, high tunnel photo guide (S). The height is of Lamont and others, "Design
/// and Construction of the Penn State High Tunnel", HortTechnology 12(3), 2002 (S).
#[test]
fn rut_has_20_posts_and_10_bows() {
    let house = raise(RUT, include_str!("rut.order.toml"));
    let facings = (house.frame.members.iter()).filter(|m| m.role == "facing");
    let boards = (house.frame.members.iter()).filter(|m| m.role == "side board");
    compare(
        "RUT",
        &[
            same("ground posts", "S", 20, house.count("POST")),
            differs(
                "bows",
                "S",
                10,
                house.count("BOW"),
                (
                    "a bow of ours is two halves that meet at the ridge",
                    |ours| ours / 2,
                ),
            ),
            same("bows that stand", "S", 10, house.frame.bows),
            same(
                "bolts in the posts, one a leg",
                "S",
                20,
                house.count("BOLT"),
            ),
            same("end bows that are faced", "S", 2, facings.count() as i64),
            same("lines of side board", "S", 2, boards.count() as i64),
            same("width", "S", feet(17), sixteenths(Some(house.frame.width))),
            same("height", "S", feet(9), sixteenths(Some(house.frame.height))),
        ],
    );
}

/// KY24: University of Kentucky (R. Rudolph), "Experiential High Tunnel Training Series", The Plant Health Instructor
/// vol. 24, 2024 (S): sizes without counts. Board joints fall between posts, not on them (S).
#[test]
fn ky24_bows_go_into_their_posts() {
    let house = raise(KY24, include_str!("ky24.order.toml"));
    let tube = |mark: &str| match house.list.line(mark).unwrap().part.section {
        Some(frame::Section::Tube { outside, wall, .. }) => (outside.to_inches(), wall.to_inches()),
        _ => panic!("{mark} is no tube"),
    };
    let ((post, wall), (bow, _)) = (tube("POST"), tube("BOW"));
    // Inside diameter 1.511 in, 0.136 in to spare (D).
    assert!((post - 2.0 * wall - 1.511).abs() < 0.0005);
    assert!((post - 2.0 * wall - bow - 0.136).abs() < 0.0005);
    // "Two self-drilling screws to secure the bows to ground posts" (S) may be said of a leg or of a bow.
    let legs = 2 * house.frame.bows;
    let posts = house.count("POST");
    compare(
        "KY24",
        &[
            same("post, length", "S", feet(6), house.sixteenths("POST")),
            same("post, in the ground", "S", feet(3), below_ground(&house)),
            same(
                "carriage bolts, one a board and post",
                "S",
                2 * posts,
                house.count("CBOLT"),
            ),
            same("screws, two a leg", "S", 2 * legs, house.count("SCREW")),
            differs(
                "screws, two a bow",
                "S",
                2 * house.frame.bows,
                house.count("SCREW"),
                ("two a leg, and a bow has two legs", |ours| ours / 2),
            ),
        ],
    );
    let mut joints = 0;
    for piece in (house.frame.pieces.iter()).filter(|p| ["B26", "B24"].contains(&p.mark.0.as_str()))
    {
        if piece.from > 0.0 {
            joints += 1;
            let from_post = (house.frame.stations.iter())
                .map(|s| (s.to_metres() - piece.from).abs())
                .fold(f64::INFINITY, f64::min);
            assert!(
                from_post > 0.15,
                "{} begins {from_post} m from a post",
                piece.name
            );
        }
    }
    // A 12 ft board from the corner would end on a post (the trade sheet, 7.4): the first is cut to 11 ft 6 in, three
    // whole ones follow, and 6 in are left. A saw cut goes with the 6 in, so that they do not come from the first; of
    // one more board both sides have theirs: 2 + 6 + 1 where the sheet, which ignores the rule, has 8.
    assert_eq!((joints, house.count("B26"), house.count("B24")), (16, 9, 9));
}

fn below_ground(house: &super::House) -> i64 {
    let post = house
        .frame
        .members
        .iter()
        .find(|m| m.role == "post")
        .unwrap();
    let foot = post.path.at(&house.frame.profile, 0.0);
    (-foot.z / 0.0254 * 16.0).round() as i64
}

/// KERR: Kerr Center for Sustainable Agriculture, Oklahoma, "How to Build a Low-Cost Hoop House", 2009 (S). Eyebolts
/// are not compared: their number is not shown.
#[test]
fn kerr_lets_the_last_bay_take_what_is_left() {
    let house = raise(KERR, include_str!("kerr.order.toml"));
    compare(
        "KERR",
        &[
            same("hoops", "S", 18, house.count("HOOP")),
            same("hoop, length", "S", feet(24), house.goes_in("HOOP", "hoop")),
            same("width", "S", feet(17), sixteenths(Some(house.frame.width))),
            same(
                "height",
                "S",
                inches(90),
                sixteenths(Some(house.frame.height)),
            ),
            same("pins, two a hoop", "S", 36, pieces(&house, "BAR")),
            // 14 pins of 17 in are sawn from a bar.
            same("bars of 20 ft for them", "D", 3, house.count("BAR")),
            same(
                "screws in the channel, one a foot",
                "D",
                50,
                house.count("SCREW"),
            ),
            same("ropes, one a hoop", "S", 18, house.count("ROPE")),
        ],
    );
    // Sixteen bays of 6 ft, and 4 ft (D).
    let stations = &house.frame.stations;
    assert_eq!(sixteenths(Some(stations[17] - stations[16])), feet(4));
    assert_eq!(sixteenths(Some(stations[16] - stations[15])), feet(6));
    // The channel is on the two end hoops only.
    let channels: Vec<f64> = (house.frame.members.iter())
        .filter(|m| m.role == "end channel")
        .map(|m| m.path.at(&house.frame.profile, 0.0).y)
        .collect();
    assert_eq!(channels, [0.0, house.frame.length.to_metres()]);
    // Unless the order says what becomes of the odd length, nothing is rounded.
    let said = refused(KERR, "name = \"k\"\nfamily = \"kerr\"\nlength = \"100 ft\"");
    for word in ["16.67 bays of 6 ft", "short last bay", "equal bays"] {
        assert!(said.contains(word), "{said}");
    }
}

/// Width, height and tube of KERR (all S) do not go with one circle: by the handbook's segment (engineering facts, 7.1)
/// it is 24.77 ft long, and the tube is 24.
#[test]
fn kerr_is_no_single_circle() {
    let order = include_str!("kerr.order.toml").to_owned() + "[options]\ncurve = \"one circle\"";
    let (c, h) = (17.0f64, 7.5);
    let r = h / 2.0 + c * c / (8.0 * h);
    let arc = r * 2.0 * ((r - h) / r).acos();
    assert!((r - 8.567).abs() < 0.001 && (arc - 24.774).abs() < 0.005);
    let over = ((arc - 24.0) * 192.0).round() as i64;
    assert_eq!(over, 9 * 16 + 5);
    let said = refused(KERR, &order);
    for word in ["`HOOP` is said to be 24 ft long", "need 24 ft 9-5/16 in"] {
        assert!(said.contains(word), "{said}");
    }
    // Any curve through the three points is longer than the two chords, so that the tube can be bent to one.
    let chords = 2.0 * (8.5f64.powi(2) + 7.5f64.powi(2)).sqrt();
    assert!(chords < 24.0 && 24.0 < arc);
}

/// MO50: a Missouri programme for beginning farmers, with Lincoln University Cooperative Extension, "Economical High
/// Tunnel Design", 2012 (S). The number of hoops is derived from what is printed.
#[test]
fn mo50_is_printed_with_bays_that_do_not_fit() {
    let house = raise(MO50, include_str!("mo50.order.toml"));
    let bay = sixteenths(Some(house.frame.stations[1]));
    compare(
        "MO50",
        &[
            same("hoops", "D", 10, house.count("HOOP")),
            same("pins", "D", 20, house.count("PIN")),
            differs(
                "bay",
                "S",
                inches(66),
                bay,
                (
                    "50 ft in nine bays are 5 ft 6-11/16 in; what is over a whole inch is left away",
                    |ours| {
                        assert_eq!(ours, (feet(50) + 4) / 9);
                        ours / inches(1) * inches(1)
                    },
                ),
            ),
        ],
    );
    let order = |more: &str| {
        format!(
            "name = \"m\"\nfamily = \"mo50\"\nlength = \"50 ft\"\nbow_spacing = \"5 ft 6 in\"\n{more}"
        )
    };
    let said = refused(MO50, &order(""));
    assert!(said.contains("9.09 bays of 5 ft 6 in"), "{said}");
    // Three answers, each another house: a last bay of 6 in, ten bays of 5 ft, a last bay of 6 ft (D).
    let last = [
        ("short last bay", 11, 6),
        ("equal bays", 11, 60),
        ("long last bay", 10, 72),
    ];
    for (way, hoops, last_bay) in last {
        let house = raise(MO50, &order(&format!("uneven = \"{way}\"")));
        let stations = &house.frame.stations;
        let bay = stations[stations.len() - 1] - stations[stations.len() - 2];
        assert_eq!(sixteenths(Some(bay)), inches(last_bay), "{way}");
        assert_eq!(
            (house.count("HOOP"), house.count("PIN")),
            (hoops, 2 * hoops),
            "{way}"
        );
    }
}

/// RAIL36: a market garden's own pages, "High Tunnel, Phase One", undated (S2). Fasteners and purlin tubes are not
/// said.
#[test]
fn rail36_makes_a_bow_of_three_rails() {
    let house = raise(RAIL36, include_str!("rail36.order.toml"));
    let three_rails = 3 * inches(126);
    compare(
        "RAIL36",
        &[
            same("ground posts", "S2", 14, house.count("POST")),
            same("bows", "S2", 7, house.frame.bows),
            same(
                "rails in the bows",
                "D",
                21,
                house.count("RAIL") + house.count("TOP"),
            ),
            same("splices", "D", 14, house.used("BOLT", "rails bolted")),
            same("purlin crossings", "D", 21, house.count("CLAMP")),
            same(
                "rail at the top, length",
                "S2",
                inches(126),
                house.goes_in("TOP", "bow"),
            ),
            differs(
                "rail at the side, length",
                "S2",
                inches(126),
                house.goes_in("RAIL", "bow"),
                (
                    "half a circle of 20 ft is 31.42 ft: three rails have an inch more, cut from the two sides",
                    |ours| {
                        ours + (3 * inches(126) - (std::f64::consts::PI * 1920.0).round() as i64)
                            / 2
                    },
                ),
            ),
        ],
    );
    let arc = std::f64::consts::PI * 120.0 * 16.0;
    assert!((three_rails as f64 - arc - 16.0).abs() < 1.0);
    let purlins = (house.frame.members.iter()).filter(|m| m.role == "purlin" || m.role == "ridge");
    assert_eq!(purlins.count(), 3);
}
