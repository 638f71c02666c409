//! What a part is: a kind of thing in the box.

use measure::{Length, Mass, System};

/// A piece mark: the short code that names a part on every page and label.
///
/// It belongs to the family: the same part of the same family keeps its mark in every order.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Mark(pub String);

impl std::fmt::Display for Mark {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

/// A separately bagged or bundled share of the kit, such as the hardware of the side walls.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SubKit(pub String);

/// A kind of thing in the box.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Its piece mark.
    pub mark: Mark,
    /// The trade's head word for it, such as "ground post".
    pub noun: String,
    /// One line for people, such as "Ground post, tube 1-5/8 in, 14 ga, 5 ft, plain ends".
    pub description: String,
    /// What it is made of and its cross-section.
    pub section: Option<Section>,
    /// Overall length as it lies in the box; for a fastener the length under the head.
    pub length: Option<Length>,
    /// Width, of film and sheet.
    pub width: Option<Length>,
    /// Both ends, where they matter.
    pub ends: Option<[End; 2]>,
    /// Finish or colour, such as "galvanized" or "clear".
    pub finish: Option<String>,
    /// Mass of one.
    pub unit_mass: Mass,
    /// What a tape measures of a bent piece that lies flat on the ground; nothing for what is straight.
    pub bend: Option<Bend>,
}

/// A bent piece, as it lies flat on the ground.
#[derive(Clone, Debug, PartialEq)]
pub struct Bend {
    /// Straight from end to end.
    pub chord: Length,
    /// Greatest height over that line.
    pub rise: Length,
    /// From the lower end on: what is swaged or goes into its neighbour counts to the stretch beside it.
    pub stretches: Vec<Stretch>,
}

/// One stretch of a bent piece.
#[derive(Clone, Debug, PartialEq)]
pub struct Stretch {
    /// Length along it.
    pub length: Length,
    /// Bending radius of the axis; nothing where it is straight.
    pub radius: Option<Length>,
}

/// A cross-section, or for a fastener its thread.
#[derive(Clone, Debug, PartialEq)]
pub enum Section {
    /// Round tube.
    Tube {
        /// What the trade calls it, such as "1-5/8"; not its measure.
        called: String,
        /// Outside diameter as a caliper reads it.
        outside: Length,
        /// Wall thickness.
        wall: Length,
        /// Gauge number, when sold by gauge.
        gauge: Option<u8>,
    },
    /// Square or rectangular tube.
    Box {
        /// What the trade calls it, such as "2 x 2".
        called: String,
        /// Outside, the wider side.
        width: Length,
        /// Outside, the other side.
        depth: Length,
        /// Wall thickness.
        wall: Length,
        /// Gauge number, when sold by gauge.
        gauge: Option<u8>,
    },
    /// Sawn timber, dressed.
    Timber {
        /// What the trade calls it, such as "2x6"; not its measure.
        called: String,
        /// The smaller side, as it measures.
        width: Length,
        /// The greater side, as it measures.
        depth: Length,
    },
    /// Cloth, screen, ground cover.
    Cloth {
        /// What it is called, such as "shade 50 %".
        called: String,
    },
    /// Channel folded or drawn from strip.
    Channel {
        /// What it is called, such as "rail channel".
        called: String,
        /// Across the back.
        width: Length,
        /// Depth.
        depth: Length,
    },
    /// Film of a thickness.
    Film {
        /// Thickness.
        thickness: Length,
    },
    /// Wire of a diameter.
    Wire {
        /// Diameter.
        diameter: Length,
    },
    /// A bolt or a screw by its size.
    Fastener {
        /// Size as the trade writes it: "5/16", "#12".
        size: String,
        /// Diameter over the thread.
        diameter: Length,
    },
}

/// How a tube ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// Cut square, full diameter.
    Plain,
    /// Tapered to slide into the next tube, over this length.
    Swaged(Length),
    /// Pressed flat.
    Flattened,
    /// Pressed flat and holed.
    Punched,
}

/// One line for people: what it is, its section, its length, its ends.
pub(crate) fn describe(part: &Part, says: Option<&str>, system: System) -> String {
    let mut words = vec![says.map_or_else(|| capitalised(&part.noun), String::from)];
    match &part.section {
        Some(Section::Tube {
            called,
            outside,
            gauge,
            wall,
        }) => {
            let wall = match gauge {
                Some(gauge) => format!("{gauge} ga"),
                None => format!("wall {}", wall.caliper(system)),
            };
            words.push(format!(
                "tube {called} in (measures {}), {wall}",
                outside.caliper(system)
            ));
        }
        Some(Section::Box {
            called,
            width,
            depth,
            wall,
            gauge,
        }) => {
            let wall = match gauge {
                Some(gauge) => format!("{gauge} ga"),
                None => format!("wall {}", wall.caliper(system)),
            };
            let (kind, measures) = match width == depth {
                true => ("square", width.caliper(system)),
                false => (
                    "rectangular",
                    format!("{} by {}", width.caliper(system), depth.caliper(system)),
                ),
            };
            words.push(format!(
                "{kind} tube {called} in (measures {measures}), {wall}"
            ));
        }
        Some(Section::Timber {
            called,
            width,
            depth,
        }) => words.push(format!(
            "{called} (measures {} by {})",
            width.tape(system),
            depth.tape(system)
        )),
        Some(Section::Cloth { called }) => words.push(called.clone()),
        Some(Section::Channel { width, depth, .. }) => {
            words.push(format!("{} by {}", width.tape(system), depth.tape(system)));
        }
        Some(Section::Film { thickness }) => words.push(match system {
            System::FeetInch => format!("{:.0} mil", thickness.to_inches() * 1e3),
            System::Metric => format!("{:.0} µm", thickness.to_metres() * 1e6),
        }),
        Some(Section::Wire { diameter }) => words.push(diameter.caliper(system)),
        Some(Section::Fastener { size, .. }) => {
            let size = if size.starts_with('#') {
                size.clone()
            } else {
                format!("{size} in")
            };
            words.push(match part.length {
                Some(length) => format!("{size} x {}", length.tape(system)),
                None => size,
            });
        }
        None => {}
    }
    let fastener = matches!(part.section, Some(Section::Fastener { .. }));
    match (part.width, part.length) {
        (Some(width), Some(length)) => {
            words.push(format!("{} by {}", width.tape(system), length.tape(system)));
        }
        (None, Some(length)) if !fastener => words.push(length.tape(system)),
        _ => {}
    }
    if let Some(ends) = part.ends {
        words.push(match ends {
            [one, other] if one == other => format!("both ends {}", one.in_words(system)),
            [one, other] => format!(
                "one end {}, one {}",
                one.in_words(system),
                other.in_words(system)
            ),
        });
    }
    words.extend(part.finish.clone());
    words.join(", ")
}

/// Words as they stand at the start of a sentence.
pub fn capitalised(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

impl End {
    /// What people call it.
    pub fn in_words(self, system: System) -> String {
        match self {
            End::Plain => "plain".into(),
            End::Swaged(over) => format!("swaged {}", over.tape(system)),
            End::Flattened => "flattened".into(),
            End::Punched => "flattened and punched".into(),
        }
    }
}
