//! `tallyard parts`: what an order should contain.

use std::io::{Write, stdout};
use std::path::PathBuf;

use clap::Args;
use frame::Line;
use measure::{Length, Mass};
use tally::Ordered;

use crate::failure::Failure;
use crate::{input, json};

/// Work out every part that an order needs, and why.
#[derive(Args)]
#[command(
    after_help = "Examples:\n  tallyard parts order.toml\n  tallyard parts order.toml --why N5\n  \
                  tallyard parts order.toml --family house.toml"
)]
pub struct Parts {
    /// The order file (TOML)
    order: PathBuf,
    /// A family file of your own (TOML; docs/family.md), instead of those that come with Tallyard
    #[arg(long, value_name = "FILE")]
    family: Option<PathBuf>,
    /// Print the places that need this mark
    #[arg(long, value_name = "MARK")]
    why: Option<String>,
    /// Print JSON (docs/schema/parts.json)
    #[arg(long)]
    json: bool,
}

impl Parts {
    pub fn run(&self) -> Result<(), Failure> {
        let ordered = input::order(&self.order, self.family.as_deref())?;
        match (&self.why, self.json) {
            (Some(mark), true) => json::print(&json::places(self.line(&ordered, mark)?)),
            (Some(mark), false) => print_places(&ordered, self.line(&ordered, mark)?),
            (None, true) => json::print(&json::parts(&ordered)),
            (None, false) => print_parts(&ordered),
        }
    }

    fn line<'a>(&self, ordered: &'a Ordered, mark: &str) -> Result<&'a Line, Failure> {
        ordered.parts.line(mark).ok_or_else(|| {
            Failure::refused(
                &self.order,
                format!(
                    "this order has no mark `{mark}`; it has {}",
                    ordered.parts.marks().join(", ")
                ),
            )
        })
    }
}

fn print_places(ordered: &Ordered, line: &Line) -> Result<(), Failure> {
    let tape = |length: Length| length.tape(ordered.frame.system);
    let mut out = stdout().lock();
    let mark = &line.part.mark;
    writeln!(
        out,
        "{} of {mark}: {}",
        line.quantity, line.part.description
    )?;
    if let Some(spares) = line.spares_in_words() {
        writeln!(out, "{spares}")?;
    }
    if let Some(cut) = line.cut_in_words(ordered.frame.system) {
        writeln!(out, "{cut}")?;
    }
    for (role, n) in line.uses() {
        writeln!(out, "\n{role}: {n}")?;
        for why in line.rules(role) {
            writeln!(out, "  {why}")?;
        }
        for place in line.places.iter().filter(|p| p.role == role) {
            write!(out, "  {:>4}  {}", place.quantity, place.name)?;
            if let Some(length) = place.cut_to {
                write!(out, ", cut to {}", tape(length))?;
            }
            if let Some(from) = &place.left_from {
                write!(out, " from what is left of {from}")?;
            }
            writeln!(out)?;
        }
    }
    Ok(())
}

fn print_parts(ordered: &Ordered) -> Result<(), Failure> {
    let mut out = stdout().lock();
    let parts = &ordered.parts;
    writeln!(out, "{}: {}", ordered.order.name, ordered.family.title)?;
    for line in &parts.lines {
        let uses: Vec<String> = line
            .uses()
            .iter()
            .map(|(role, n)| format!("{role} {n}"))
            .collect();
        writeln!(
            out,
            "\n{:<4}{:>5}  {}",
            line.part.mark.0, line.quantity, line.part.description
        )?;
        writeln!(out, "           for {}", uses.join(", "))?;
        let more = [
            line.spares_in_words(),
            line.cut_in_words(ordered.frame.system),
        ];
        for words in more.into_iter().flatten() {
            writeln!(out, "           {words}")?;
        }
    }
    let weighs = |mass: Mass| format!("{:.0} kg ({:.0} lb)", mass.to_kilograms(), mass.to_pounds());
    writeln!(
        out,
        "\n{} pieces of {} marks, {} without spares and crates",
        parts.pieces(),
        parts.lines.len(),
        weighs(parts.mass())
    )?;
    for package in &parts.packed {
        writeln!(
            out,
            "{}: {}, of which contents {}",
            package.says,
            weighs(package.gross),
            weighs(package.contents)
        )?;
    }
    writeln!(
        out,
        "{} to hold against the freight bill",
        weighs(parts.gross())
    )?;
    Ok(())
}
