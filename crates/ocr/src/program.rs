//! The recognising program: where it is, and whether it will do.

use std::env;
use std::path::{Path, PathBuf};
use std::time::Duration;

use crate::run::{Failed, run};

/// The command that installs it, on Debian and those that follow it.
pub const INSTALL: &str = "sudo apt install tesseract-ocr";

const NAME: &str = if cfg!(windows) {
    "tesseract.exe"
} else {
    "tesseract"
};
/// The first with the recogniser of lines, and the one that writes places as a table.
const OLDEST: u32 = 4;
/// Time to say a version: a start from a cold disk.
const SOON: Duration = Duration::from_secs(20);

/// A recognising program that is there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Program {
    path: PathBuf,
    version: String,
}

/// Why pictures cannot be read on this computer.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Missing {
    /// It is nowhere on the path.
    #[error(
        "this computer has no program that recognises words on pictures; install it with \"{INSTALL}\", or bring the list as a file or type it"
    )]
    Absent,
    /// It is there and does not answer as it should.
    #[error("the program at {path} does not work ({why}); install it anew with \"{INSTALL}\"")]
    Broken {
        /// Where.
        path: PathBuf,
        /// What it did.
        why: String,
    },
    /// It is too old.
    #[error("tesseract {0} is too old, {OLDEST} or newer is needed; install it with \"{INSTALL}\"")]
    TooOld(String),
    /// It has no English.
    #[error(
        "tesseract is here without English; install it with \"sudo apt install tesseract-ocr-eng\""
    )]
    NoEnglish,
}

impl Program {
    /// Finds the program in the folders of `PATH`.
    pub fn find() -> Result<Self, Missing> {
        let folders = env::var_os("PATH").unwrap_or_default();
        // A folder that is not named in full would be looked for wherever one happens to be.
        let here = env::split_paths(&folders)
            .filter(|folder| folder.is_absolute())
            .map(|folder| folder.join(NAME))
            .find(|path| path.is_file());
        Self::at(&here.ok_or(Missing::Absent)?)
    }

    /// Takes the program that stands at a place, once it has said what it is.
    pub fn at(path: &Path) -> Result<Self, Missing> {
        let broken = |why: String| Missing::Broken {
            path: path.to_owned(),
            why,
        };
        let asked = |what: &str| {
            let said = run(path, &[what], &[], SOON).map_err(|failed| match failed {
                Failed::NotStarted(why) => broken(why),
                failed => broken(failed.to_string()),
            })?;
            Ok(String::from_utf8_lossy(&said).into_owned())
        };
        let said = asked("--version")?;
        let version = said
            .lines()
            .find_map(|line| line.trim().strip_prefix("tesseract "))
            .map(|version| version.trim().trim_start_matches('v').to_owned())
            .ok_or_else(|| broken("it does not say its version".into()))?;
        let major = version
            .split('.')
            .next()
            .and_then(|n| n.parse::<u32>().ok());
        if major.is_none_or(|major| major < OLDEST) {
            return Err(Missing::TooOld(version));
        }
        if !asked("--list-langs")?
            .lines()
            .any(|line| line.trim() == "eng")
        {
            return Err(Missing::NoEnglish);
        }
        Ok(Self {
            path: path.to_owned(),
            version,
        })
    }

    /// Where it is.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The version that it says it is.
    pub fn version(&self) -> &str {
        &self.version
    }
}
