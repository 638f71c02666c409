//! What a question gets for an answer when nothing is off: the part just as the list has it, and no slip.

use frame::{Part, Section};
use measure::{Grid, Length};

use crate::question::Asked;
use crate::readable::Readable;
use crate::reading::{BendLook, Reading, Size, Which};
use crate::way::Way;

impl Asked {
    /// The reading that answers it, of a part just as the list has it, on the tool's nearest mark. Nothing where the
    /// part has no such size, or may look any way.
    pub fn of_part(self, part: &Part) -> Option<Reading> {
        let readable = Readable::of(part);
        Some(match self {
            Asked::Kind => Reading::Kind { is: readable.kind },
            Asked::Looks => Reading::Looks {
                like: readable.look,
            },
            Asked::End(end) => Reading::End {
                end,
                is: readable.ends?[(end == Which::Other) as usize],
            },
            Asked::Bend => Reading::Bend {
                is: match readable.bent? {
                    true => BendLook::Bent,
                    false => BendLook::Straight,
                },
            },
            Asked::Coating => Reading::Coating {
                is: readable.coating?,
            },
            Asked::Holes => Reading::Holes {
                count: readable.holes?,
            },
            Asked::Mass { step_micrograms } => Reading::Mass {
                micrograms: rounded(part.unit_mass.as_micrograms(), step_micrograms),
                step_micrograms,
            },
            Asked::Size { of, with } => {
                let way = Way::of(of, with)?;
                let is_across = matches!(of, Size::Across | Size::Around);
                let metres = match nominal_across(part).filter(|_| is_across) {
                    Some(across) => across.to_metres(),
                    None => readable.size(way.quantity)?.mean,
                } * way.times(readable.around);
                let step = Length::from_metres(way.step(), Grid::NANOMETRE)?;
                let nanometres = Length::from_metres(metres, Grid::new(step)?)?.as_nanometres();
                Reading::Size {
                    of,
                    nanometres,
                    with,
                }
            }
        })
    }
}

/// The middle of a tube's limits lies off the diameter that the list gives.
fn nominal_across(part: &Part) -> Option<Length> {
    match part.section {
        Some(Section::Tube { outside, .. }) => Some(outside),
        _ => None,
    }
}

fn rounded(amount: i64, step: i64) -> i64 {
    let step = i128::from(step.max(1));
    let steps = (i128::from(amount) + step / 2).div_euclid(step);
    i64::try_from(steps * step).unwrap_or(i64::MAX)
}
