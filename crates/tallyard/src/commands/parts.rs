//! `tallyard parts`: what an order should contain.

use std::io::{Write, stdout};
use std::path::PathBuf;

use clap::Args;
use tally::Ordered;

use crate::failure::Failure;
use crate::{input, json};

/// Work out every part that an order needs, and why.
#[derive(Args)]
#[command(
    after_help = "Example:\n  tallyard parts order.toml\n  tallyard parts order.toml --why N5"
)]
pub struct Parts {
    /// The order file (TOML)
    order: PathBuf,
    /// Print the places that need this mark
    #[arg(long, value_name = "MARK")]
    why: Option<String>,
    /// Print JSON (docs/schema/parts.json)
    #[arg(long)]
    json: bool,
}

impl Parts {
    pub fn run(&self) -> Result<(), Failure> {
        let ordered = input::order(&self.order)?;
        match (&self.why, self.json) {
            (Some(mark), true) => json::print(&json::places(self.line(&ordered, mark)?)),
            (Some(mark), false) => self.print_places(&ordered, mark),
            (None, true) => json::print(&json::parts(&ordered)),
            (None, false) => print_parts(&ordered),
        }
    }

    fn line<'a>(&self, ordered: &'a Ordered, mark: &str) -> Result<&'a frame::Line, Failure> {
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

    fn print_places(&self, ordered: &Ordered, mark: &str) -> Result<(), Failure> {
        let line = self.line(ordered, mark)?;
        let mut out = stdout().lock();
        writeln!(
            out,
            "{} of {}: {}",
            line.quantity, mark, line.part.description
        )?;
        for (role, n) in line.uses() {
            writeln!(out, "\n{role}: {n}")?;
            for place in line.places.iter().filter(|p| p.role == role) {
                write!(out, "  {:>4}  {}", place.quantity, place.name)?;
                if let Some(length) = place.cut_to {
                    write!(out, ", cut to {}", length.tape(ordered.frame.system))?;
                }
                writeln!(out)?;
            }
        }
        Ok(())
    }
}

fn print_parts(ordered: &Ordered) -> Result<(), Failure> {
    let mut out = stdout().lock();
    writeln!(out, "{}: {}", ordered.order.name, ordered.family.title)?;
    for line in &ordered.parts.lines {
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
    }
    writeln!(
        out,
        "\n{} pieces of {} marks, {:.0} kg ({:.0} lb) without crates",
        ordered.parts.pieces(),
        ordered.parts.lines.len(),
        ordered.parts.mass().to_kilograms(),
        ordered.parts.mass().to_pounds()
    )?;
    Ok(())
}
