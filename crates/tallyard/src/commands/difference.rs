//! `tallyard difference`: what most likely happened, and order against list against count.

use std::io::{Write, stdout};
use std::path::PathBuf;

use clap::Args;
use tally::{Explanation, Verdict};

use crate::failure::Failure;
use crate::{input, json};

/// Say how order, packing list and count differ.
#[derive(Args)]
#[command(after_help = "Example:\n  tallyard difference garden.tallyard")]
pub struct Difference {
    /// The job file, or a bundle of it
    job: PathBuf,
    /// Print JSON (docs/schema/difference.json)
    #[arg(long)]
    json: bool,
}

impl Difference {
    pub fn run(&self) -> Result<(), Failure> {
        let (_, standing) = input::standing(&self.job)?;
        let difference = match (&standing.difference, standing.order.as_deref()) {
            (Some(difference), _) => difference,
            (None, Some(Err(why))) => return Err(Failure::refused(&self.job, why)),
            (None, _) => {
                return Err(Failure::refused(
                    &self.job,
                    "the job has no order yet; set it in the yard's pages",
                ));
            }
        };
        let explanation = standing.explanation().cloned().unwrap_or_default();
        if self.json {
            return json::print(&json::difference(difference, &explanation));
        }
        let mut out = stdout().lock();
        stories(&mut out, &explanation)?;
        writeln!(out, "mark needed listed counted  good  in words")?;
        for mark in &difference.marks {
            let counted = |n: i64| {
                if mark.on_hand.is_counted() {
                    n.to_string()
                } else {
                    "-".into()
                }
            };
            writeln!(
                out,
                "{:<4} {:>6} {:>6} {:>7} {:>5}  {}",
                mark.mark,
                mark.needed,
                mark.listed.map_or_else(|| "-".into(), |n| n.to_string()),
                counted(mark.on_hand.counted),
                counted(mark.on_hand.good()),
                mark.verdicts
                    .iter()
                    .map(Verdict::in_words)
                    .collect::<Vec<_>>()
                    .join("; ")
            )?;
        }
        for (mark, on_hand) in &difference.strange {
            writeln!(
                out,
                "{mark}: {} counted, no part of this order",
                on_hand.counted
            )?;
        }
        Ok(())
    }
}

/// What most likely happened, the gravest first, with the look that settles it.
fn stories(out: &mut impl Write, explanation: &Explanation) -> std::io::Result<()> {
    if let Some(other) = &explanation.other_order {
        let packed = match other.packed_so {
            true => "; the kit seems to have been packed for it, too",
            false => "",
        };
        writeln!(
            out,
            "the list seems to be for another order ({}{}){packed}\n",
            other.change,
            other.but_for()
        )?;
    }
    if explanation.matters.is_empty() {
        return Ok(());
    }
    writeln!(out, "what most likely happened")?;
    for matter in &explanation.matters {
        writeln!(out, "  {}", yard::story_in_words(&matter.best))?;
        writeln!(out, "    {}", yard::how_sure(matter))?;
        if let Some(check) = &matter.check {
            let minutes = yard::minutes(check.seconds);
            writeln!(out, "    to settle it: {} ({minutes})", check.words)?;
        }
    }
    writeln!(out)
}
