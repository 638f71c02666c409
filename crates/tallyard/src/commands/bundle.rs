//! `tallyard bundle`: all of a job in one file, for whoever is to check it.

use std::io::{BufWriter, IsTerminal, Write, stderr, stdout};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use clap::Args;
use serde::Serialize;
use store::Bundled;

use super::papers::Sheet;
use crate::failure::Failure;
use crate::{input, json};

/// Put a job with its papers, photos, lists and log into one zip that shows whether anything is changed later.
#[derive(Args)]
#[command(
    after_help = "What it proves, and what it cannot: docs/verify.md\n\nExample:\n  tallyard bundle garden.tallyard --to garden.zip"
)]
pub struct Bundle {
    /// The job file, or a bundle of it
    job: PathBuf,
    /// The file to write; there must be none of this name
    #[arg(long, value_name = "FILE.zip")]
    to: PathBuf,
    /// The paper in the printer
    #[arg(long, value_enum, default_value_t = Sheet::Letter)]
    sheet: Sheet,
    /// Print JSON (docs/schema/bundle.json)
    #[arg(long)]
    json: bool,
}

#[derive(Serialize)]
struct Written {
    file: String,
    bytes: u64,
    digest: String,
    head: String,
    documents: usize,
}

/// How often a person is told what is being done.
const TELL: Duration = Duration::from_millis(500);

impl Bundle {
    pub fn run(&self) -> Result<(), Failure> {
        let Bundled {
            digest,
            bytes,
            head,
            documents,
        } = self.write()?;
        let written = Written {
            file: self.to.display().to_string(),
            bytes,
            digest: digest.to_string(),
            head: head.to_string(),
            documents,
        };
        if self.json {
            return json::print(&written);
        }
        let mut out = stdout().lock();
        writeln!(out, "{}: {bytes} bytes", written.file)?;
        writeln!(out, "SHA-256 of the bundle: {digest}")?;
        writeln!(out, "Head of the log:       {head}")?;
        writeln!(
            out,
            "Hand one of the two on by another way than the bundle: it shows later that nothing was changed."
        )?;
        Ok(())
    }

    /// Writes beside the target, and gives it its name when it is whole and on disk.
    fn write(&self) -> Result<Bundled, Failure> {
        let failed = |error| Failure::File {
            path: self.to.clone(),
            error,
        };
        if self.to.symlink_metadata().is_ok() {
            return Err(exists(&self.to));
        }
        let job = input::job(&self.job)?;
        let folder = self.to.parent().filter(|it| !it.as_os_str().is_empty());
        let folder = folder.unwrap_or(Path::new("."));
        let mut file = tempfile::NamedTempFile::new_in(folder).map_err(failed)?;
        let to = BufWriter::new(&mut file);
        let sheet = self.sheet.of_paper();
        let bundled = ::yard::bundle(&job, sheet, folder, to, &mut teller())?;
        file.as_file().sync_all().map_err(failed)?;
        file.persist_noclobber(&self.to)
            .map_err(|e| match e.error.kind() {
                std::io::ErrorKind::AlreadyExists => exists(&self.to),
                _ => failed(e.error),
            })?;
        Ok(bundled)
    }
}

fn exists(path: &Path) -> Failure {
    Failure::refused(
        path,
        "there is a file of this name already; it is left as it is",
    )
}

/// Tells a person at a terminal what is being done, now and then.
fn teller() -> impl FnMut(&str) {
    let mut last: Option<Instant> = None;
    let watched = stderr().is_terminal();
    move |words| {
        if watched && last.is_none_or(|last| last.elapsed() >= TELL) {
            last = Some(Instant::now());
            // Whoever does not read it loses nothing.
            let _ = writeln!(stderr(), "  {words}");
        }
    }
}
