//! Programs of others, against which what we write is held: the packages of tests/peers.txt, from PyPI, run by Python.
//!
//! Where the registry cannot be reached, `TALLYARD_OFFLINE=1` says so and these checks are passed over; without that
//! word they fail.

use std::fs::File;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::{env, fs};

const LIST: &str = include_str!("../peers.txt");

/// Runs a Python program with the packages at hand and gives it `input`; returns what it prints, or nothing where the
/// packages cannot be had. Fails when the program does.
pub fn python(program: &str, input: &[u8]) -> Option<String> {
    let packages = packages()?;
    let mut running = Command::new("python3")
        .args(["-X", "utf8", "-c", program])
        .env("PYTHONPATH", &packages)
        .env("PYTHONDONTWRITEBYTECODE", "1")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("python3 runs");
    // The input is small beside what a pipe holds, or the program reads it all before it prints.
    running.stdin.take().unwrap().write_all(input).unwrap();
    let done = running.wait_with_output().unwrap();
    let said = String::from_utf8_lossy(&done.stderr);
    assert!(done.status.success(), "the Python program fails: {said}");
    Some(String::from_utf8(done.stdout).unwrap())
}

/// The folder with the packages; fetched once into the build's own folder for tests.
fn packages() -> Option<PathBuf> {
    let tmp = Path::new(env!("CARGO_TARGET_TMPDIR"));
    let digest = tally::Digest::of(LIST.as_bytes()).to_string();
    let folder = tmp.join(format!("peers-{}", &digest[..16]));
    // Tests run side by side: one fetches, the others wait for it.
    let lock = File::create(tmp.join("peers.lock")).unwrap();
    lock.lock().unwrap();
    if folder.exists() {
        return Some(folder);
    }
    let unreached = ["TALLYARD_OFFLINE", "TALLYARD_WITHOUT_PYPI"];
    if unreached.iter().any(|name| env::var_os(name).is_some()) {
        eprintln!(
            "PyPI is said to be out of reach: the packages of peers.txt are not fetched, and nothing is held against them"
        );
        return None;
    }
    let aside = tmp.join("peers-aside");
    if aside.exists() {
        fs::remove_dir_all(&aside).unwrap();
    }
    let list = tmp.join("peers.txt");
    fs::write(&list, LIST).unwrap();
    let done = Command::new("python3")
        .args([
            "-m",
            "pip",
            "install",
            "--quiet",
            "--no-deps",
            "--no-compile",
        ])
        .arg("--target")
        .arg(&aside)
        .arg("-r")
        .arg(&list)
        .output()
        .expect("python3 runs");
    let said = String::from_utf8_lossy(&done.stderr);
    assert!(
        done.status.success(),
        "the packages of peers.txt cannot be fetched from PyPI: {said}\nwithout a network, set TALLYARD_OFFLINE=1"
    );
    fs::rename(&aside, &folder).unwrap();
    Some(folder)
}
