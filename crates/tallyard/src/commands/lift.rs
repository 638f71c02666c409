//! `tallyard lift`: how many people lift a thing.

use std::io::{Write, stdout};

use clap::{Args, ValueEnum};
use measure::{Length, Mass, System};
use ready::handling::{Handling, LiftSite, people_for};
use ready::lift::{Coupling, Spell};

use super::stakes::length;
use crate::failure::Failure;
use crate::{json, json_stakes};

/// Say how many people lift a piece, a bundle or a crate, by the NIOSH lifting equation, and when a machine does.
#[derive(Args)]
#[command(
    after_help = "Examples:\n  tallyard lift --mass \"60 lb\" --length \"21 ft\"\n  \
                  tallyard lift --mass \"18 kg\" --reach \"40 cm\" --from \"25 cm\" --to \"1 m\" --turn 45 --per-minute 4 --metric"
)]
pub struct Lift {
    /// What it weighs
    #[arg(long)]
    mass: String,
    /// How long it is
    #[arg(long)]
    length: Option<String>,
    /// From the ankles to the hands, level
    #[arg(long, value_name = "LENGTH")]
    reach: Option<String>,
    /// Height of the hands when it is taken, such as the truck's bed
    #[arg(long, value_name = "LENGTH")]
    from: Option<String>,
    /// Height of the hands when it is set down, such as the pile
    #[arg(long, value_name = "LENGTH")]
    to: Option<String>,
    /// By how much the body turns aside, in degrees
    #[arg(long, value_name = "DEGREES")]
    turn: Option<f64>,
    /// Lifts a minute
    #[arg(long, value_name = "LIFTS")]
    per_minute: Option<f64>,
    /// For how many hours
    #[arg(long, value_enum)]
    hours: Option<Hours>,
    /// How well it is held
    #[arg(long, value_enum)]
    grip: Option<Grip>,
    /// Reckon with the constants in kilograms and centimetres
    #[arg(long)]
    metric: bool,
    /// Print JSON (docs/schema/lift.json)
    #[arg(long)]
    json: bool,
}

#[derive(Clone, Copy, ValueEnum)]
enum Hours {
    /// Up to one
    #[value(name = "1")]
    One,
    /// Up to two
    #[value(name = "2")]
    Two,
    /// Up to eight
    #[value(name = "8")]
    Eight,
}

#[derive(Clone, Copy, ValueEnum)]
enum Grip {
    /// Handles, or the hands close around it
    Good,
    /// Fingers bent under it
    Fair,
    /// Loose, slippery, sharp or sagging
    Poor,
}

impl Lift {
    pub fn run(&self) -> Result<(), Failure> {
        let system = if self.metric {
            System::Metric
        } else {
            System::FeetInch
        };
        let mass =
            Mass::read(&self.mass, None).map_err(|e| Failure::Says(format!("--mass: {e}")))?;
        if mass <= Mass::ZERO {
            return Err(Failure::Says(
                "--mass: it must weigh something, such as 60 lb".into(),
            ));
        }
        let long = length("--length", self.length.as_deref(), system)?;
        let handling = people_for(mass, long, &self.site(system)?, system);
        match self.json {
            true => json::print(&json_stakes::lift(&handling)),
            false => print(&handling),
        }
    }

    fn site(&self, system: System) -> Result<LiftSite, Failure> {
        let usual = LiftSite::default();
        let height = |name, text: &Option<String>, usual| -> Result<Length, Failure> {
            let read = length(name, text.as_deref(), system)?.unwrap_or(usual);
            match (Length::ZERO..=Length::millimetres(5_000)).contains(&read) {
                true => Ok(read),
                false => Err(Failure::Says(format!(
                    "{name}: it must be between nothing and 5 m"
                ))),
            }
        };
        let number = |name: &str, value: Option<f64>, most: f64, usual: f64| match value {
            Some(value) if !(0.0..=most).contains(&value) => Err(Failure::Says(format!(
                "{name}: it must be from 0 to {most}"
            ))),
            value => Ok(value.unwrap_or(usual)),
        };
        Ok(LiftSite {
            reach: height("--reach", &self.reach, usual.reach)?,
            from: height("--from", &self.from, usual.from)?,
            to: height("--to", &self.to, usual.to)?,
            turn: number("--turn", self.turn, 180.0, usual.turn)?,
            per_minute: number("--per-minute", self.per_minute, 60.0, usual.per_minute)?,
            spell: match self.hours {
                Some(Hours::One) => Spell::OneHour,
                Some(Hours::Two) => Spell::TwoHours,
                Some(Hours::Eight) => Spell::EightHours,
                None => usual.spell,
            },
            coupling: match self.grip {
                Some(Grip::Good) => Coupling::Good,
                Some(Grip::Fair) => Coupling::Fair,
                Some(Grip::Poor) => Coupling::Poor,
                None => usual.coupling,
            },
        })
    }
}

fn print(handling: &Handling) -> Result<(), Failure> {
    let mut out = stdout().lock();
    let one = &handling.one;
    let unit = match one.system {
        System::FeetInch => "lb",
        System::Metric => "kg",
    };
    writeln!(out, "{}", handling.says)?;
    write!(out, "one person may lift {:.1} {unit} there", one.limit)?;
    if let Some(index) = one.index {
        write!(out, "; lifting index for one {index:.2}")?;
    }
    writeln!(out)?;
    for caution in &handling.cautions {
        writeln!(out, "Caution: {caution}")?;
    }
    Ok(())
}
