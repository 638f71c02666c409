//! What can go wrong with a command, for whoever typed it.

use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// A refusal of the input; every one ends the program with status 1.
#[derive(Debug, thiserror::Error)]
pub enum Failure {
    /// A file cannot be read or written.
    #[error("{}: {error}", path.display())]
    File {
        /// Which.
        path: PathBuf,
        /// Why.
        error: io::Error,
    },
    /// A file was read, and what it says cannot be used.
    #[error("{}: {says}", path.display())]
    Refused {
        /// Which.
        path: PathBuf,
        /// Why, in words.
        says: String,
    },
    /// The job file.
    #[error(transparent)]
    Job(#[from] store::StoreError),
    /// A bundle.
    #[error(transparent)]
    Bundle(#[from] yard::BundleError),
    /// The server.
    #[error("the yard cannot open: {0}")]
    Yard(io::Error),
    /// The desk.
    #[error(transparent)]
    Desk(#[from] yard::DeskError),
    /// Anything else, in words.
    #[error("{0}")]
    Says(String),
    /// Standard output is gone or full.
    #[error("the output cannot be written: {0}")]
    Output(#[from] io::Error),
}

impl Failure {
    /// What a file says cannot be used.
    pub fn refused(path: &Path, says: impl ToString) -> Self {
        Self::Refused {
            path: path.into(),
            says: says.to_string(),
        }
    }

    /// Prints it, and gives the status to end with.
    pub fn report(self) -> ExitCode {
        // Whoever reads our output through a pipe may stop reading: that is no failure.
        if let Failure::Output(error) = &self
            && error.kind() == io::ErrorKind::BrokenPipe
        {
            return ExitCode::SUCCESS;
        }
        let _ = writeln!(io::stderr(), "tallyard: {self}");
        ExitCode::from(1)
    }
}
