//! `tallyard difference`: order against list against count.

use std::io::{Write, stdout};
use std::path::PathBuf;

use clap::Args;
use tally::Verdict;

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
        if self.json {
            return json::print(&json::difference(difference));
        }
        let mut out = stdout().lock();
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
        for swap in &difference.swaps {
            writeln!(
                out,
                "{} is short and {} is over, and they look alike: {}",
                swap.short, swap.over, swap.look_for
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
