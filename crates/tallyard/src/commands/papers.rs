//! `tallyard papers`: the OS&D paper, the tally sheet and the drawings as PDF.

use std::io::{Write, stdout};
use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use serde::Serialize;

use crate::failure::Failure;
use crate::{input, json};

/// Write the papers of a job as PDF files.
#[derive(Args)]
#[command(after_help = "Example:\n  tallyard papers garden.tallyard --to papers --sheet a4")]
pub struct Papers {
    /// The job file
    job: PathBuf,
    /// The folder to write to; made if it is not there
    #[arg(long, value_name = "FOLDER", default_value = ".")]
    to: PathBuf,
    /// The paper in the printer
    #[arg(long, value_enum, default_value_t = Sheet::Letter)]
    sheet: Sheet,
    /// Print on the tally sheet how many there should be
    #[arg(long)]
    told: bool,
    /// Print JSON (docs/schema/papers.json)
    #[arg(long)]
    json: bool,
}

#[derive(Clone, Copy, ValueEnum)]
enum Sheet {
    Letter,
    A4,
}

#[derive(Serialize)]
struct Written {
    papers: Vec<PaperWritten>,
}

#[derive(Serialize)]
struct PaperWritten {
    paper: &'static str,
    file: String,
    bytes: usize,
}

impl Papers {
    pub fn run(&self) -> Result<(), Failure> {
        let standing = input::standing(&self.job)?;
        let head = store::Job::open(&self.job)?.head()?;
        let now = store::now();
        let none = || {
            Failure::refused(
                &self.job,
                "papers need an order that can be built; set it in the yard's pages",
            )
        };
        let sheet = match self.sheet {
            Sheet::Letter => paper::Sheet::Letter,
            Sheet::A4 => paper::Sheet::A4,
        };
        let print = yard::print(&standing, sheet, now);
        let failed = |e: paper::PaperError| Failure::refused(&self.job, e);
        let mut osd = paper::osd_of(&standing, yard::dated, now).ok_or_else(none)?;
        osd.log_head = head.to_string();
        let card = paper::tell_apart_of(&standing).ok_or_else(none)?;
        let tally_sheet = paper::tally_sheet_of(&standing, !self.told).ok_or_else(none)?;
        let drawings = paper::drawings_of(&standing).ok_or_else(none)?;
        let papers = [
            (
                "over-short-damaged",
                paper::osd(&osd, &print).map_err(failed)?,
            ),
            (
                "tally-sheet",
                paper::tally_sheet(&tally_sheet, &print).map_err(failed)?,
            ),
            (
                "tell-apart",
                paper::tell_apart(&card, &print).map_err(failed)?,
            ),
            (
                "drawings",
                paper::drawings(&drawings, &print).map_err(failed)?,
            ),
        ];

        std::fs::create_dir_all(&self.to).map_err(|error| Failure::File {
            path: self.to.clone(),
            error,
        })?;
        let mut written = Written { papers: Vec::new() };
        for (paper, pdf) in papers {
            let path = self.to.join(format!("{paper}.pdf"));
            write_whole(&path, &pdf)?;
            written.papers.push(PaperWritten {
                paper,
                file: path.display().to_string(),
                bytes: pdf.len(),
            });
        }
        if self.json {
            return json::print(&written);
        }
        for paper in &written.papers {
            writeln!(stdout(), "{}", paper.file)?;
        }
        Ok(())
    }
}

/// Writes beside the target and then takes its place, so that no half paper is ever there.
pub(super) fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let failed = |error| Failure::File {
        path: path.into(),
        error,
    };
    let folder = path
        .parent()
        .filter(|p| !p.as_os_str().is_empty())
        .unwrap_or(Path::new("."));
    let mut file = tempfile::NamedTempFile::new_in(folder).map_err(failed)?;
    file.write_all(bytes).map_err(failed)?;
    file.persist(path).map_err(|e| failed(e.error))?;
    Ok(())
}
