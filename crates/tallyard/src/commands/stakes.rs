//! `tallyard stakes`: how a house is set out, and which stake to move.

use std::io::{Write, stdout};
use std::path::PathBuf;

use clap::Args;
use frame::Frame;
use measure::{Length, System};
use ready::corners::{Corners, SquareUp, corners, read_measured, read_reading};
use ready::stakes::{Datum, Fall, SetOut, SettingOut, Tops, how, setting_out};
use ready::tape::TapeClass;
use tally::StakeReading;

use crate::failure::Failure;
use crate::{input, json, json_stakes};

/// Say where each post stands and what the tape must read, and from what was measured which stake to move.
#[derive(Args)]
#[command(
    after_help = "Examples:\n  tallyard stakes order.toml\n  tallyard stakes garden.tallyard --tape \"50 ft\" --class us\n  \
                  tallyard stakes order.toml --read \"FL-FR 24' 1-11/16\\\"\" --read \"FL-BR 53' 11\\\" rise 6 in\" ...\n\n\
                  Corners are FL, FR, BR and BL: front left and so on, for someone who stands before the front and looks in. \
                  Without --read, what was measured in the job is taken."
)]
pub struct Stakes {
    /// The job file, or an order file (TOML)
    #[arg(value_name = "JOB|ORDER")]
    of: PathBuf,
    /// How long the tape is, instead of 100 ft or 30 m
    #[arg(long, value_name = "LENGTH")]
    tape: Option<String>,
    /// The tape's class: us (steel tapes of the United States), 1, 2 or 3 (EC)
    #[arg(long, value_name = "CLASS", value_parser = class)]
    class: Option<TapeClass>,
    /// Run the strings over the posts' middle instead of along their outer faces
    #[arg(long)]
    centre: bool,
    /// By how much the ground rises from front to back (- for a fall)
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    along: Option<String>,
    /// By how much the ground rises from left to right
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    across: Option<String>,
    /// Keep all tops of the posts level, instead of with the ground along the house
    #[arg(long)]
    level: bool,
    /// How far off a side or diagonal may be, instead of 1/2 in or 12 mm
    #[arg(long, value_name = "LENGTH")]
    tolerance: Option<String>,
    /// A length between two stakes: two corners, what the tape reads and, where it lay on a slope, the rise
    #[arg(long, value_name = "READING")]
    read: Vec<String>,
    /// Print JSON (docs/schema/stakes.json)
    #[arg(long)]
    json: bool,
}

fn class(text: &str) -> Result<TapeClass, String> {
    TapeClass::of(text).ok_or_else(|| "a class is us, 1, 2 or 3".into())
}

impl Stakes {
    pub fn run(&self) -> Result<(), Failure> {
        let standing = input::standing_or_order(&self.of)?;
        let Some(ordered) = standing.ordered() else {
            return Err(Failure::refused(
                &self.of,
                "it has no order that can be used",
            ));
        };
        let out = setting_out(&ordered.frame, &self.set_out(&ordered.frame)?);
        let square_up = self.square_up(&out)?;
        let read = standing.state.plans.stakes.as_ref();
        let readings: Vec<StakeReading> = match self.read.as_slice() {
            [] => read.map(|read| read.readings.clone()).unwrap_or_default(),
            said => (said.iter())
                .map(|text| read_reading(text, out.system).map_err(|why| says("--read", &why)))
                .collect::<Result<_, _>>()?,
        };
        let found = match readings.is_empty() {
            true => None,
            false => {
                Some(corners(&readings, &square_up).map_err(|e| Failure::Says(e.to_string()))?)
            }
        };
        match self.json {
            true => json::print(&json_stakes::stakes(&out, found.as_ref())),
            false => print(&out, found.as_ref()),
        }
    }

    fn set_out(&self, frame: &Frame) -> Result<SetOut, Failure> {
        let usual = SetOut::usual(frame.system);
        let length = |name, text: &Option<String>| length(name, text.as_deref(), frame.system);
        let tape = length("--tape", &self.tape)?.unwrap_or(usual.tape);
        if !(Length::millimetres(1_000)..=Length::millimetres(200_000)).contains(&tape) {
            return Err(says("--tape", "a tape is between 1 m and 200 m long"));
        }
        let along = length("--along", &self.along)?.unwrap_or_default();
        let across = length("--across", &self.across)?.unwrap_or_default();
        let steep = |rise: Length, over: Length| rise.checked_abs().is_none_or(|rise| rise > over);
        if steep(along, frame.length) || steep(across, frame.width) {
            return Err(says(
                "--along, --across",
                "the ground cannot rise by more than the house is long or wide",
            ));
        }
        Ok(SetOut {
            tape,
            class: self.class.unwrap_or(usual.class),
            datum: if self.centre {
                Datum::Centre
            } else {
                Datum::Outside
            },
            fall: Fall::of(frame, along, across),
            tops: if self.level {
                Tops::Level
            } else {
                Tops::WithTheGround
            },
        })
    }

    fn square_up(&self, out: &SettingOut) -> Result<SquareUp, Failure> {
        let usual = match out.system {
            System::FeetInch => Length::sixty_fourths(32),
            System::Metric => Length::millimetres(12),
        };
        let tolerance = length("--tolerance", self.tolerance.as_deref(), out.system)?;
        let tolerance = tolerance.unwrap_or(usual);
        if !(Length::millimetres(1)..=Length::millimetres(100)).contains(&tolerance) {
            return Err(says("--tolerance", "it must be between 1 mm and 100 mm"));
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
}

/// A length of an option; the error names the option.
pub fn length(name: &str, text: Option<&str>, system: System) -> Result<Option<Length>, Failure> {
    text.map(|text| read_measured(text, system))
        .transpose()
        .map_err(|why| says(name, &why))
}

fn says(name: &str, why: &str) -> Failure {
    Failure::Says(format!("{name}: {why}"))
}

fn print(out: &SettingOut, found: Option<&Corners>) -> Result<(), Failure> {
    let tape = |length: Length| length.tape(out.system);
    let mut to = stdout().lock();
    if let Some(found) = found {
        for says in &found.says {
            writeln!(to, "{says}")?;
        }
        writeln!(to)?;
    }
    let level = out.asked.fall.is_level();
    for must in &out.must {
        write!(to, "{:<26} {}", must.between, tape(must.level))?;
        if !level {
            write!(to, ", along the ground {}", tape(must.on_ground))?;
        }
        writeln!(to)?;
    }
    writeln!(to)?;
    for post in &out.posts {
        write!(
            to,
            "{:<14} {} along the string",
            post.name,
            tape(post.along)
        )?;
        if !level {
            write!(to, ", {} on the ground", tape(post.on_ground))?;
        }
        if let Some(level) = post.level {
            let (above, under) = (tape(level.above_ground), tape(level.in_ground));
            write!(to, "; {above} out of the ground, {under} in it")?;
        }
        writeln!(to)?;
    }
    for (number, step) in how(out).iter().enumerate() {
        writeln!(to, "\n{}. {}", number + 1, step.says)?;
        if !step.caution.is_empty() {
            writeln!(to, "   Caution: {}", step.caution)?;
        }
    }
    Ok(())
}
