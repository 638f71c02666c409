//! Every page held against axe-core, the published rules for accessibility (MPL-2.0, from npm; fetched for the test,
//! never part of the program).
//!
//! Where the registry cannot be reached, `TALLYARD_OFFLINE=1` says so and the test is passed over; without that word it
//! fails.

use std::path::Path;
use std::process::Command;
use std::{env, fs};

use serde_json::Value;
use tempfile::TempDir;

use crate::browser::{PAGES, join};
use crate::driver::Browser;
use crate::program::{PROGRAM, Place};
use crate::tailgate::hand_over;
use crate::yard::Running;

const AXE: &str = "axe-core-4.14.1";
const FROM: &str = "https://registry.npmjs.org/axe-core/-/axe-core-4.14.1.tgz";
/// The SHA-256 of that archive as it was on 2026-11-25.
const DIGEST: &str = "e6b0ce02b84d892e2e33e403485e7f3d6c29e2be6df65daf44d89ba564139745";

/// The source of axe-core; fetched once into the build's own folder for tests.
fn axe() -> Option<String> {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(AXE);
    let source = folder.join("package/axe.min.js");
    if !source.exists() {
        let unreached = ["TALLYARD_OFFLINE", "TALLYARD_WITHOUT_NPM"];
        if unreached.iter().any(|name| env::var_os(name).is_some()) {
            eprintln!(
                "the npm registry is said to be out of reach: {AXE} is not fetched, and accessibility is not checked"
            );
            return None;
        }
        let fetched = fetch(&folder);
        fetched.unwrap_or_else(|why| {
            panic!("{AXE} cannot be fetched from the npm registry: {why}\nwithout a network, set TALLYARD_OFFLINE=1")
        });
    }
    Some(fs::read_to_string(source).unwrap())
}

/// Fetches it aside and puts it into its place whole: several tests may do so at once.
fn fetch(folder: &Path) -> Result<(), String> {
    let aside = TempDir::new_in(env!("CARGO_TARGET_TMPDIR")).map_err(|e| e.to_string())?;
    let packed = aside.path().join("package.tgz");
    run(Command::new("curl")
        .args(["-fsSL", "--max-time", "60", FROM, "-o"])
        .arg(&packed))?;
    let bytes = fs::read(&packed).map_err(|e| e.to_string())?;
    if tally::Digest::of(&bytes).to_string() != DIGEST {
        return Err(format!("{FROM} is another archive than it was"));
    }
    run(Command::new("tar")
        .arg("-xzf")
        .arg(packed)
        .current_dir(aside.path()))?;
    // Another test may have been quicker.
    match fs::rename(aside.path(), folder) {
        Err(e) if !folder.exists() => Err(e.to_string()),
        _ => Ok(()),
    }
}

fn run(command: &mut Command) -> Result<(), String> {
    let done = command.output().map_err(|e| e.to_string())?;
    match done.status.success() {
        true => Ok(()),
        false => Err(String::from_utf8_lossy(&done.stderr).into_owned()),
    }
}

/// What axe finds on the page that is open that is serious or critical, in a line each.
fn found(browser: &Browser, axe: &str) -> Vec<String> {
    browser.run(axe);
    let asked = "const done = arguments[0]; \
         axe.run(document, {resultTypes: ['violations']}).then(found => done({ \
           rules: found.passes.length + found.violations.length, \
           wrong: found.violations.filter(v => ['serious', 'critical'].includes(v.impact)) \
             .flatMap(v => v.nodes.map(n => `${v.impact} ${v.id}: ${n.html.slice(0, 160)} ${n.failureSummary}`))}), \
         wrong => done(String(wrong)))";
    let answer = browser.run_until_called(asked);
    assert!(
        answer["rules"].as_u64().is_some_and(|rules| rules > 10),
        "{answer}"
    );
    let Value::Array(wrong) = &answer["wrong"] else {
        panic!("{answer}")
    };
    wrong
        .iter()
        .map(|line| line.as_str().unwrap().to_string())
        .collect()
}

#[test]
fn no_page_has_a_serious_fault() {
    let Some(axe) = axe() else { return };
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let browser = Browser::open(390, 844);
    join(&browser, &yard, "Ada");
    hand_over(&yard, "Load 1", "2026-11-25", "1 carton short");
    // Something waits and something was refused, so that these are looked at too.
    browser.go(&format!("{}/count/X3", yard.said("address")));
    browser.run(
        "const form = document.querySelector('form.adding'); form.noValidate = true; \
         form.elements.quantity.value = 1000001; form.requestSubmit(form.querySelector('button.main'))",
    );
    browser.wait(
        "the refusal",
        "return document.querySelectorAll('[data-refused-list] li').length === 1",
    );
    let mut wrong = Vec::new();
    for (width, height) in [(390, 844), (1280, 800)] {
        browser.resize(width, height);
        for path in PAGES {
            browser.go(&format!("{}{path}", yard.said("address")));
            browser.run("document.querySelectorAll('details').forEach(d => d.open = true)");
            browser.run("document.querySelectorAll('[data-waiting], [data-waiting-held], [data-refused], [data-waiting-join]').forEach(d => d.hidden = false)");
            let here = found(&browser, &axe);
            wrong.extend(
                here.into_iter()
                    .map(|line| format!("{path} at {width}: {line}")),
            );
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The check is one that can fail.
#[test]
fn a_fault_is_found() {
    let Some(axe) = axe() else { return };
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let browser = Browser::open(390, 844);
    browser.go(&format!("{}/join", yard.said("address")));
    browser.run(
        "document.querySelector('label').remove(); document.querySelector('h1').className = 'soft'",
    );
    let wrong = found(&browser, &axe);
    assert!(
        wrong.iter().any(|line| line.starts_with("critical label")),
        "{wrong:?}"
    );
}
