//! A ground as lines of text: what a form holds for whoever has no mouse and no script, and what the drawing beside it
//! writes.
//!
//! ```text
//! edge: 0 x 0; 24 m x 0; 24 m x 32 m; 0 x 32 m
//! house: 14 m x 10 m, towards 90
//! drop: 5 m x 4 m
//! gate: 3 m x 0; 7 m x 0
//! covered (shed roof): 1 m x 8 m; 6 m x 8 m; 6 m x 14 m; 1 m x 14 m
//! slope 5: 18 m x 0; 24 m x 0; 24 m x 32 m
//! aisle: 90 cm
//! ```
//!
//! A corner is how far it is to the right, `x`, how far up the drawing; from wherever the person who measured began.

use measure::{Grid, Length, System, Unit};
use tally::{Ground, HouseSpot, Patch, Slope, Spot};

/// A way between piles where nobody said how wide: 90 cm, ours.
pub(crate) const AISLE: i64 = 900;
/// Height of a truck's bed where nobody measured it: 1.2 m, ours.
pub(crate) const TRUCK_BED: i64 = 1_200;
/// How far before the ankles a load is held where nobody measured it: 40 cm, ours.
pub(crate) const REACH: i64 = 400;
/// The longest text that is read.
pub(crate) const MOST_TEXT: usize = 60_000;

/// A length of the ground in whole millimetres; a number alone is feet or metres. Nothing may stand before it but a minus.
pub(crate) fn millimetres(what: &str, text: &str, system: System) -> Result<i64, String> {
    let text = text.trim();
    let unit = match system {
        System::FeetInch => Unit::Foot,
        System::Metric => Unit::Metre,
    };
    let (minus, size) = match text.strip_prefix(['-', '−']) {
        Some(size) => (-1, size),
        None => (1, text),
    };
    let length = match size.trim() {
        "0" => Length::ZERO,
        size => Length::read(size, Some(unit))
            .map_err(|why| format!("{what}: “{text}” was not read: {why}"))?,
    };
    let whole = length.round(Grid::MILLIMETRE).as_nanometres() / 1_000_000;
    Ok(minus * whole)
}

/// A length of the ground as it is typed: to the inch or the centimetre.
pub(crate) fn typed(millimetres: i64, system: System) -> String {
    let length = Length::millimetres(millimetres.clamp(-tally::MAX_AWAY, tally::MAX_AWAY));
    match (millimetres, system) {
        (0, _) => "0".into(),
        // To the quarter inch, so that what is read and written again stays within the width of a stake.
        (_, System::FeetInch) => match Grid::inch_fraction(4) {
            Some(grid) => length.write(system, grid),
            None => length.tape(system),
        },
        (m, System::Metric) => match m % 10 {
            0 => length.write(system, Grid::CENTIMETRE),
            _ => length.write(system, Grid::MILLIMETRE),
        },
    }
}

/// Writes a ground as lines.
pub(crate) fn write(ground: &Ground, system: System) -> String {
    let spot = |at: &Spot| format!("{} x {}", typed(at.x, system), typed(at.y, system));
    let spots = |corners: &[Spot]| corners.iter().map(spot).collect::<Vec<_>>().join("; ");
    let mut lines = vec![format!("edge: {}", spots(&ground.outline))];
    let degrees = ground.house.towards as f64 / 100.0;
    lines.push(format!(
        "house: {}, towards {degrees}",
        spot(&ground.house.front)
    ));
    lines.push(format!("drop: {}", spot(&ground.drop)));
    lines.extend(
        ground
            .gates
            .iter()
            .map(|gate| format!("gate: {}", spots(gate))),
    );
    let patches = [
        ("truck", &ground.truck),
        ("obstacle", &ground.obstacles),
        ("covered", &ground.covered),
        ("shade", &ground.shade),
    ];
    for (kind, patches) in patches {
        lines.extend(patches.iter().map(|patch| match patch.words.as_str() {
            "" => format!("{kind}: {}", spots(&patch.outline)),
            words => format!("{kind} ({words}): {}", spots(&patch.outline)),
        }));
    }
    lines.extend(ground.slopes.iter().map(|slope| {
        format!(
            "slope {}: {}",
            slope.rise as f64 / 10.0,
            spots(&slope.outline)
        )
    }));
    lines.push(format!("aisle: {}", typed(ground.aisle, system)));
    lines.push(format!("bed: {}", typed(ground.truck_bed, system)));
    lines.push(format!("reach: {}", typed(ground.reach, system)));
    lines.join("\n")
}

/// Reads a ground from lines; what cannot be read is named with its line.
pub(crate) fn read(text: &str, system: System) -> Result<Ground, String> {
    if text.len() > MOST_TEXT {
        return Err(format!("the text is longer than {MOST_TEXT} bytes"));
    }
    let mut ground = Ground {
        outline: Vec::new(),
        house: HouseSpot {
            front: Spot { x: 0, y: 0 },
            towards: 9_000,
        },
        drop: Spot { x: 0, y: 0 },
        gates: Vec::new(),
        truck: Vec::new(),
        obstacles: Vec::new(),
        covered: Vec::new(),
        shade: Vec::new(),
        slopes: Vec::new(),
        aisle: AISLE,
        truck_bed: TRUCK_BED,
        reach: REACH,
    };
    let mut said = [false; 3];
    for (number, line) in text.lines().enumerate() {
        let line = line.trim();
        if line.is_empty() {
            continue;
        }
        let at = |why: String| format!("line {}: {why}", number + 1);
        take_in(&mut ground, &mut said, line, system).map_err(at)?;
    }
    let missing = ["edge", "house", "drop"]
        .iter()
        .zip(said)
        .find(|(_, said)| !said);
    match missing {
        Some((what, _)) => Err(format!("there is no line “{what}: …”")),
        None => Ok(ground),
    }
}

fn take_in(
    ground: &mut Ground,
    said: &mut [bool; 3],
    line: &str,
    system: System,
) -> Result<(), String> {
    let (head, rest) = split_head(line)
        .ok_or_else(|| "it needs a word, a colon and corners, such as “drop: 5 x 4”".to_owned())?;
    let (kind, words) = match head.split_once('(') {
        Some((kind, words)) => (kind.trim(), words.trim().trim_end_matches(')').trim()),
        None => (head, ""),
    };
    let kind = kind.to_lowercase();
    let length = |what: &str| millimetres(what, rest, system);
    let patch = || {
        Ok::<_, String>(Patch {
            outline: corners(rest, system)?,
            words: words.to_owned(),
        })
    };
    match kind.split_whitespace().next().unwrap_or_default() {
        "edge" => {
            ground.outline = corners(rest, system)?;
            said[0] = true;
        }
        "house" => {
            let (front, towards) = (rest.split_once(", towards"))
                .ok_or("the house needs its way too, such as “14 x 10, towards 90”")?;
            ground.house = HouseSpot {
                front: corner(front, system)?,
                towards: hundredths("towards", towards, 360.0)?,
            };
            said[1] = true;
        }
        "drop" => {
            ground.drop = corner(rest, system)?;
            said[2] = true;
        }
        "gate" => match corners(rest, system)?.as_slice() {
            [one, other] => ground.gates.push([*one, *other]),
            posts => return Err(format!("a gate has two posts; {} stand here", posts.len())),
        },
        "truck" => ground.truck.push(patch()?),
        "obstacle" => ground.obstacles.push(patch()?),
        "covered" => ground.covered.push(patch()?),
        "shade" => ground.shade.push(patch()?),
        "slope" => {
            let rise = kind.strip_prefix("slope").unwrap_or_default();
            ground.slopes.push(Slope {
                outline: corners(rest, system)?,
                rise: hundredths("the rise in a hundred", rise, 100.0)? / 10,
            });
        }
        "aisle" => ground.aisle = length("aisle")?,
        "bed" => ground.truck_bed = length("bed")?,
        "reach" => ground.reach = length("reach")?,
        other => {
            return Err(format!(
                "“{other}” is none of edge, house, drop, gate, truck, obstacle, covered, shade, slope, aisle, bed, reach"
            ));
        }
    }
    Ok(())
}

/// The word before the colon; words in brackets may hold one.
fn split_head(line: &str) -> Option<(&str, &str)> {
    let from = line.find(')').filter(|close| {
        line.find('(')
            .is_some_and(|open| open < *close && !line[..open].contains(':'))
    });
    let colon = from.unwrap_or(0) + line[from.unwrap_or(0)..].find(':')?;
    Some((line[..colon].trim(), line[colon + 1..].trim()))
}

fn corners(text: &str, system: System) -> Result<Vec<Spot>, String> {
    (text.split(';').filter(|corner| !corner.trim().is_empty()))
        .map(|text| corner(text, system))
        .collect()
}

fn corner(text: &str, system: System) -> Result<Spot, String> {
    let text = text.trim();
    let (x, y) = text.split_once(['x', '×']).ok_or_else(|| {
        format!("“{text}” is no corner; write how far right, x, how far up: “5 x 4”")
    })?;
    Ok(Spot {
        x: millimetres("to the right", x, system)?,
        y: millimetres("up", y, system)?,
    })
}

fn hundredths(what: &str, text: &str, most: f64) -> Result<i64, String> {
    let text = text.trim().trim_end_matches('°').trim();
    let number: f64 = text
        .parse()
        .map_err(|_| format!("{what}: “{text}” is no number"))?;
    match number.abs() <= most {
        true => Ok((number * 100.0).round() as i64),
        false => Err(format!("{what}: at most {most}; it is {text}")),
    }
}
