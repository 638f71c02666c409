//! A part of the family file becomes a part in the box: lengths that follow from the places, masses from sections.

use std::collections::BTreeMap;

use measure::{Grid, Length, Mass, System};

use crate::bend::BentLine;
use crate::expand::feet_inch;
use crate::part::{Bend, Part, Section, Stretch, describe};
use crate::part_file::{Metal, PartFile};

/// Bent pieces whose chord and rise differ by less cannot be told apart with a tape, in metres: 1/16 in.
const LEAST_TOLD_APART: f64 = 0.0016;

/// Lengths and widths that follow from where parts lie.
#[derive(Default)]
pub(crate) struct Derived {
    /// Per mark: overall length, and width of film; several when places disagree.
    found: BTreeMap<String, Vec<(Length, Option<Length>)>>,
    /// Per mark of a bow piece: the line that it is bent to.
    bends: BTreeMap<String, BentLine>,
}

impl Derived {
    /// A piece of the mark is this many metres long; kept to 1/16 in, which is what a saw stop is set to.
    pub(crate) fn length(&mut self, mark: &str, metres: f64) {
        self.add(mark, Length::from_metres(metres, Grid::SIXTEENTH), None);
    }

    /// A sheet of the mark is this wide and this many metres long; kept to whole inches. All sheets of one width come
    /// as long as the longest, and are trimmed in place: so the wind panels of a short last bay.
    pub(crate) fn sheet(&mut self, mark: &str, width: Length, metres: f64) {
        let needed = Length::from_metres(metres, whole_inch());
        let found = self.found.entry(mark.into()).or_default();
        match found
            .iter_mut()
            .find(|(_, as_wide)| *as_wide == Some(width))
        {
            Some((length, _)) => *length = (*length).max(needed.unwrap_or_default()),
            None => self.add(mark, needed, Some(width)),
        }
    }

    /// A piece of the mark is bent to this line; whether all of them are bent alike. Pieces of one mark that differ
    /// in length are refused elsewhere.
    pub(crate) fn bend(&mut self, mark: &str, line: &BentLine) -> bool {
        let first = self
            .bends
            .entry(mark.into())
            .or_insert_with(|| line.clone());
        let is_near = |a: f64, b: f64| (a - b).abs() < LEAST_TOLD_APART;
        is_near(first.chord, line.chord) && is_near(first.rise, line.rise)
    }

    fn add(&mut self, mark: &str, length: Option<Length>, width: Option<Length>) {
        let found = self.found.entry(mark.into()).or_default();
        let new = (length.unwrap_or_default(), width);
        if !found.contains(&new) {
            found.push(new);
        }
    }
}

/// Film is cut to whole inches.
pub(crate) fn whole_inch() -> Grid {
    Grid::inch_fraction(1).expect("an inch is a whole count of nanometres")
}

/// The part with its length and mass, or what is missing for them.
pub(crate) fn resolve(file: &PartFile, derived: &Derived, system: System) -> Result<Part, String> {
    let (length, width) = match (
        file.length,
        derived.found.get(&file.mark).map(Vec::as_slice),
    ) {
        (Some(length), None) => (Some(length), None),
        // A sheet must be as long as said; of stock, what is over is cut off.
        (Some(length), Some([(needed, None)])) if *needed <= length => (Some(length), None),
        (Some(length), Some([(needed, width)])) if *needed == length => (Some(length), *width),
        (Some(length), Some(several))
            if several.len() == 1 || several.iter().any(|(needed, _)| *needed > length) =>
        {
            return Err(format!(
                "part `{}` is said to be {} long, and its places need {}; leave its `length` out, or make it of more pieces",
                file.mark,
                feet_inch(length),
                in_words(several)
            ));
        }
        (None, None) => (None, None),
        (None, Some([(length, width)])) => (Some(*length), *width),
        (said, Some(several)) => {
            let or_cut = match (said, several.iter().any(|(_, width)| width.is_some())) {
                (None, false) if !derived.bends.contains_key(&file.mark) => {
                    ", or the part the `length` that all are cut from"
                }
                _ => "",
            };
            return Err(format!(
                "part `{}` would have to be of several lengths at once: {}; give each a mark of its own{or_cut}",
                file.mark,
                in_words(several)
            ));
        }
    };
    let unit_mass = match file.mass {
        Some(mass) => mass,
        None => mass(file, length, width).ok_or_else(|| {
            format!(
                "part `{}` has no length and section that its mass could follow from",
                file.mark
            )
        })?,
    };
    let mut part = Part {
        mark: file.mark(),
        noun: file.noun.clone(),
        description: String::new(),
        section: section(file),
        length,
        width,
        ends: file.ends,
        finish: file.finish.clone(),
        unit_mass,
        bend: derived.bends.get(&file.mark).and_then(bend),
    };
    part.description = describe(&part, file.says.as_deref(), system);
    Ok(part)
}

/// What a tape measures of a bent piece, to 1/16 in; nothing of one that is straight.
fn bend(line: &BentLine) -> Option<Bend> {
    let length = |metres: f64| Length::from_metres(metres, Grid::SIXTEENTH);
    if line
        .stretches
        .iter()
        .all(|stretch| stretch.radius.is_none())
    {
        return None;
    }
    let stretches = (line.stretches.iter())
        .map(|stretch| {
            Some(Stretch {
                length: length(stretch.length)?,
                radius: match stretch.radius {
                    Some(radius) => Some(length(radius)?),
                    None => None,
                },
            })
        })
        .collect::<Option<_>>()?;
    Some(Bend {
        chord: length(line.chord)?,
        rise: length(line.rise)?,
        stretches,
    })
}

fn in_words(several: &[(Length, Option<Length>)]) -> String {
    let measures: Vec<String> = (several.iter())
        .map(|(length, width)| match width {
            Some(width) => format!("{} by {}", feet_inch(*width), feet_inch(*length)),
            None => feet_inch(*length),
        })
        .collect();
    measures.join(", ")
}

fn section(file: &PartFile) -> Option<Section> {
    if let Some(tube) = &file.tube {
        return Some(Section::Tube {
            called: tube.called.clone(),
            outside: tube.outside,
            wall: tube.wall,
            gauge: tube.gauge,
        });
    }
    if let Some(square) = &file.square {
        return Some(Section::Box {
            called: square.called.clone(),
            width: square.width,
            depth: square.depth.unwrap_or(square.width),
            wall: square.wall,
            gauge: square.gauge,
        });
    }
    if let Some(timber) = &file.timber {
        return Some(Section::Timber {
            called: timber.called.clone(),
            width: timber.width,
            depth: timber.depth,
        });
    }
    if let Some(cloth) = &file.cloth {
        return Some(Section::Cloth {
            called: cloth.called.clone(),
        });
    }
    if let Some(channel) = &file.channel {
        return Some(Section::Channel {
            called: channel.called.clone(),
            width: channel.width,
            depth: channel.depth,
        });
    }
    if let Some(thickness) = file.film {
        return Some(Section::Film { thickness });
    }
    if let Some(diameter) = file.wire {
        return Some(Section::Wire { diameter });
    }
    file.fastener.as_ref().map(|f| Section::Fastener {
        size: f.size.clone(),
        diameter: f.diameter,
    })
}

/// Density of low-density polyethylene film, kg/m³: 0.92 g/cm³ (engineering facts, section 4, S2t).
const FILM_DENSITY: f64 = 920.0;
/// Density of aluminium, kg/m³ (from memory; handbooks give 2700 to 2710).
const ALUMINIUM_DENSITY: f64 = 2700.0;

/// Mass from the section and the length; zinc is not counted.
fn mass(file: &PartFile, length: Option<Length>, width: Option<Length>) -> Option<Mass> {
    let length = length?;
    if let Some(tube) = &file.tube {
        return measure::tube::mass(tube.outside, tube.wall, length);
    }
    if let Some(square) = &file.square {
        // The sheet that it is folded from, along the middle of its wall; corners are taken as sharp.
        let depth = square.depth.unwrap_or(square.width);
        let around = (square.width + depth) * 2 - square.wall * 4;
        return measure::tube::strip_mass(around, square.wall, length);
    }
    if let Some(timber) = &file.timber {
        return solid(&[timber.width, timber.depth, length], timber.density);
    }
    if let Some(cloth) = &file.cloth {
        let area = width?.to_metres() * length.to_metres();
        return Mass::from_kilograms(area * cloth.area_density / 1e3);
    }
    if let Some(channel) = &file.channel {
        return match channel.metal {
            Metal::Steel => measure::tube::strip_mass(channel.strip, channel.thickness, length),
            Metal::Aluminium => solid(
                &[channel.strip, channel.thickness, length],
                ALUMINIUM_DENSITY,
            ),
        };
    }
    solid(&[file.film?, width?, length], FILM_DENSITY)
}

fn solid(sides: &[Length; 3], density: f64) -> Option<Mass> {
    Mass::from_kilograms(sides.iter().map(|side| side.to_metres()).product::<f64>() * density)
}
