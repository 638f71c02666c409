//! With which tape and on what ground a house is set out: as the form of the page asks, and as a link carries it on.

use frame::Frame;
use measure::{Length, System};
use ready::corners::{SquareUp, read_measured};
use ready::stakes::{Datum, Fall, SetOut, SettingOut, Tops};
use ready::tape::TapeClass;
use serde::{Deserialize, Serialize};

use crate::forms::filled;
use crate::reply::Failure;

/// The fields of the form; each may be left empty.
#[derive(Clone, Debug, Deserialize, Serialize, Default)]
#[serde(default)]
pub(crate) struct Asked {
    pub tape: String,
    pub class: String,
    pub datum: String,
    pub along: String,
    pub across: String,
    pub tops: String,
    pub tolerance: String,
}

impl Asked {
    /// How the house is set out; an error names the field.
    pub fn set_out(&self, frame: &Frame) -> Result<SetOut, Failure> {
        let usual = SetOut::usual(frame.system);
        let system = frame.system;
        let tape = length("The tape", &self.tape, system)?.unwrap_or(usual.tape);
        if !(Length::millimetres(1_000)..=Length::millimetres(200_000)).contains(&tape) {
            return Err(Failure::refused(format!(
                "The tape must be between {} and {} long.",
                Length::millimetres(1_000).tape(system),
                Length::millimetres(200_000).tape(system)
            )));
        }
        let along = length("The rise from front to back", &self.along, system)?;
        let across = length("The rise from left to right", &self.across, system)?;
        let [along, across] = [along, across].map(Option::unwrap_or_default);
        if steep(along, frame.length) || steep(across, frame.width) {
            return Err(Failure::refused(
                "The ground cannot rise by more than it is long. Write the rise over the whole house, such as 8 in.",
            ));
        }
        Ok(SetOut {
            tape,
            class: TapeClass::of(&self.class).unwrap_or(usual.class),
            datum: match self.datum.as_str() {
                "centre" => Datum::Centre,
                _ => Datum::Outside,
            },
            fall: Fall::of(frame, along, across),
            tops: match self.tops.as_str() {
                "level" => Tops::Level,
                _ => Tops::WithTheGround,
            },
        })
    }

    /// How square it has to be.
    pub fn square_up(&self, out: &SettingOut) -> Result<SquareUp, Failure> {
        let usual = usual_tolerance(out.system);
        let tolerance =
            length("How far off it may be", &self.tolerance, out.system)?.unwrap_or(usual);
        if !(Length::millimetres(1)..=Length::millimetres(100)).contains(&tolerance) {
            return Err(Failure::refused(format!(
                "How far off it may be must be between {} and {}.",
                Length::millimetres(1).tape(out.system),
                Length::millimetres(100).tape(out.system)
            )));
        }
        Ok(SquareUp {
            width: out.strings[0],
            length: out.strings[1],
            tolerance,
            tape: out.asked.tape,
            class: out.asked.class,
            system: out.system,
        })
    }

    /// As the fields of an address, in a fixed order.
    pub fn fields(&self) -> [(&'static str, &str); 7] {
        [
            ("tape", &self.tape),
            ("class", &self.class),
            ("datum", &self.datum),
            ("along", &self.along),
            ("across", &self.across),
            ("tops", &self.tops),
            ("tolerance", &self.tolerance),
        ]
    }
}

/// Half an inch is called good (M, no source), 12 mm about the same.
pub(crate) fn usual_tolerance(system: System) -> Length {
    match system {
        System::FeetInch => Length::sixty_fourths(32),
        System::Metric => Length::millimetres(12),
    }
}

fn steep(rise: Length, over: Length) -> bool {
    rise.checked_abs().is_none_or(|rise| rise > over)
}

/// A length as it was typed; nothing where it was left empty.
pub(crate) fn length(what: &str, text: &str, system: System) -> Result<Option<Length>, Failure> {
    filled(text)
        .map(|text| read_measured(text, system))
        .transpose()
        .map_err(|why| Failure::refused(format!("{what}: {why}.")))
}
