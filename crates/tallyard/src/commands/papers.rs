//! `tallyard papers`: every paper of a job as PDF.

use std::io::{Write, stdout};
use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use serde::Serialize;
use yard::{PAPER_KINDS, PaperOf};

use crate::failure::Failure;
use crate::{input, json};

/// Write the papers of a job as PDF files.
#[derive(Args)]
#[command(after_help = "Example:\n  tallyard papers garden.tallyard --to papers --sheet a4")]
pub struct Papers {
    /// The job file, or a bundle of it
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

/// The paper in the printer.
#[derive(Clone, Copy, ValueEnum)]
pub enum Sheet {
    Letter,
    A4,
}

impl Sheet {
    pub fn of_paper(self) -> paper::Sheet {
        match self {
            Self::Letter => paper::Sheet::Letter,
            Self::A4 => paper::Sheet::A4,
        }
    }
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
        let (job, standing) = input::standing(&self.job)?;
        let of = PaperOf {
            standing: &standing,
            job: Some(&job),
            log_head: job.head()?,
            sheet: self.sheet.of_paper(),
            told: self.told,
            made: store::now(),
        };
        let mut papers = Vec::new();
        for kind in PAPER_KINDS {
            for (file, pdf) in kind.make(&of) {
                let pdf = pdf.map_err(|e| Failure::refused(&self.job, e))?;
                papers.push((kind.name, file, pdf));
            }
        }
        if papers.is_empty() {
            return Err(Failure::refused(
                &self.job,
                "papers need an order that can be built; set it in the yard's pages",
            ));
        }

        std::fs::create_dir_all(&self.to).map_err(|error| Failure::File {
            path: self.to.clone(),
            error,
        })?;
        let mut written = Written { papers: Vec::new() };
        for (paper, file, pdf) in papers {
            let path = self.to.join(format!("{file}.pdf"));
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
