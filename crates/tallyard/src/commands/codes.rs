//! `tallyard codes`: what the senders' codes of a job stand for.

use std::io::{Write, stdout};
use std::path::PathBuf;

use clap::Args;

use crate::failure::Failure;
use crate::input;

/// Print what the senders' codes of a job stand for, as CSV, for the next job of the same senders
#[derive(Args)]
#[command(after_help = "Example:\n  tallyard codes job.tallyard > codes.csv")]
pub struct Codes {
    /// The job or bundle
    job: PathBuf,
}

impl Codes {
    pub fn run(&self) -> Result<(), Failure> {
        let (_, standing) = input::standing(&self.job)?;
        let all = standing.codes();
        for codes in &all {
            for (code, means) in &codes.unclear {
                eprintln!(
                    "tallyard: code {code} of {} stood for {} things and was not learned",
                    codes.sender,
                    means.len()
                );
            }
        }
        let all: Vec<&list::Codes> = all.iter().collect();
        let mut out = stdout().lock();
        out.write_all(list::write_codes(&all).as_bytes())?;
        out.flush()?;
        Ok(())
    }
}
