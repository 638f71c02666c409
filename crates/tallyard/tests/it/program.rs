//! Runs the program in a sealed place: a folder of its own, and nothing of our environment.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;
use tempfile::TempDir;

pub const PROGRAM: &str = env!("CARGO_BIN_EXE_tallyard");

/// A folder that goes with the test; commands run in it, so that messages name files as they were typed.
pub struct Place(TempDir);

/// What a command did.
#[derive(Debug, PartialEq)]
pub struct Ran {
    pub status: Option<i32>,
    pub out: String,
    pub err: String,
}

impl Place {
    pub fn new() -> Self {
        Self(TempDir::new().unwrap())
    }

    /// With the demo's order and lists in it.
    pub fn with_demo_files() -> Self {
        let place = Self::new();
        for name in ["order.toml", "packing-list.csv", "packing-list.xlsx"] {
            fs::copy(demo_file(name), place.path(name)).unwrap();
        }
        place
    }

    /// With the demo job in it, `demo.tallyard`.
    pub fn with_demo_job() -> Self {
        let place = Self::with_demo_files();
        place.ok(&["demo", "--lay", "demo.tallyard"]);
        place
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    pub fn write(&self, name: &str, content: impl AsRef<[u8]>) {
        fs::write(self.path(name), content).unwrap();
    }

    pub fn command(&self, arguments: &[&str]) -> Command {
        sealed(self.0.path(), arguments)
    }

    pub fn run(&self, arguments: &[&str]) -> Ran {
        let output = self.command(arguments).output().unwrap();
        Ran {
            status: output.status.code(),
            out: String::from_utf8(output.stdout).unwrap(),
            err: String::from_utf8(output.stderr).unwrap(),
        }
    }

    /// Runs a command that is to succeed and to say nothing on stderr; returns its output.
    pub fn ok(&self, arguments: &[&str]) -> String {
        let ran = self.run(arguments);
        assert_eq!(
            (ran.status, ran.err.as_str()),
            (Some(0), ""),
            "{arguments:?}"
        );
        ran.out
    }

    /// The same, of a command that prints JSON.
    pub fn json(&self, arguments: &[&str]) -> Value {
        serde_json::from_str(&self.ok(arguments)).unwrap()
    }

    /// Runs a command that is to refuse its input: status 1, nothing on stdout, and this on stderr.
    pub fn refuses(&self, arguments: &[&str], err: &str) {
        let expected = Ran {
            status: Some(1),
            out: String::new(),
            err: format!("tallyard: {err}\n"),
        };
        assert_eq!(self.run(arguments), expected, "{arguments:?}");
    }
}

fn sealed(folder: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(PROGRAM);
    command
        .args(arguments)
        .env_clear()
        .env("TZ", "UTC")
        .env("HOME", folder)
        .env("TMPDIR", folder)
        .current_dir(folder);
    command
}

/// A file of the repository.
pub fn in_repository(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../..")
        .join(path)
}

pub fn demo_file(name: &str) -> PathBuf {
    in_repository("demo").join(name)
}
