//! The bill of a house by our engine, and by a spreadsheet's formulas. `crates/frame/benches/spreadsheet/run`.
//!
//! The peer is a workbook written by hand from the family file, recalculated by a spreadsheet engine in Python and,
//! where it is installed, by LibreOffice: see `spreadsheet/README.md`. The bills are compared mark by mark first; a
//! difference fails the bench.

use std::error::Error;
use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode};
use std::time::{Duration, Instant};

use frame::{Family, Order, PartsList, expand};
use measure::Length;
use serde::Deserialize;
use serde_json::{Value, json};

const RUNS: usize = 1_000;
const RUNS_OF_AN_ENGINE: usize = 200;
const FOLDER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/benches/spreadsheet");

/// Two figures of one mark agree when they are as near as this: kilograms, and inches.
const WITHIN: f64 = 1e-6;

/// What recalculates the workbook.
struct Engine {
    script: &'static str,
    python: String,
    modules: &'static str,
    how_to_get_it: &'static str,
}

/// What an engine prints.
#[derive(Deserialize)]
struct Answer {
    engine: String,
    /// One an order.
    bills: Vec<Value>,
    /// What was timed, and seconds.
    times: Vec<(String, f64)>,
}

fn main() -> Result<ExitCode, Box<dyn Error>> {
    let family = Family::named("gothic-24")?;
    let orders = orders()?;
    let ours = time(&orders, &family);
    // One of an earlier run would be compared as if it were this one's.
    let _ = std::fs::remove_file(workbook());
    let mut answers = Vec::new();
    for engine in engines() {
        answers.extend(ask(&engine, &orders)?);
    }
    let mut all_agree = true;
    for answer in &answers {
        println!("{}", answer.engine);
        for (order, bill) in orders.iter().zip(&answer.bills) {
            let found = compare(&PartsList::of(&expand(order, &family)?), bill);
            println!("  {:<50} {}", order.name, in_words(&found));
            all_agree &= found.is_empty();
        }
    }
    print_times(ours, &answers);
    Ok(match all_agree {
        true => ExitCode::SUCCESS,
        false => ExitCode::FAILURE,
    })
}

/// The first writes the workbook; the second opens what the first wrote.
fn engines() -> [Engine; 2] {
    let python = |variable: &str, otherwise: &str| {
        std::env::var(variable).unwrap_or_else(|_| otherwise.into())
    };
    [
        Engine {
            script: "bill.py",
            python: python("SPREADSHEET_PYTHON", "python3"),
            modules: "formulas, openpyxl",
            how_to_get_it: "benches/spreadsheet/run installs it and runs this bench",
        },
        Engine {
            script: "libreoffice.py",
            python: python("UNO_PYTHON", "/usr/bin/python3"),
            modules: "uno",
            how_to_get_it: "apt-get install --no-install-recommends libreoffice-calc-nogui python3-uno",
        },
    ]
}

/// The demo, then the same a bay longer: those two are timed in turn. The others are compared only.
fn orders() -> Result<Vec<Order>, Box<dyn Error>> {
    let demo = Order::read(include_str!("../../../demo/order.toml"))?;
    let mut longer = demo.clone();
    longer.name = "the same, 52 ft".into();
    longer.length = "52 ft".into();
    let others = [
        (
            "24 ft at 6 ft, both ends framed, no doors",
            "length = \"24 ft\"\nbow_spacing = \"6 ft\"\n[options]\npurlins = \"one each side\"",
        ),
        (
            "24 ft at 4 ft, no purlins, one end open",
            "length = \"24 ft\"\n[front]\nwall = \"open\"\n[back]\ndoor = \"single\"",
        ),
        (
            "100 ft at 4 ft, both ends open",
            "length = \"100 ft\"\n[front]\nwall = \"open\"\n[back]\nwall = \"open\"",
        ),
        (
            "144 ft at 6 ft, two double doors",
            "length = \"144 ft\"\nbow_spacing = \"6 ft\"\n[options]\npurlins = \"one each side\"\n\
             [front]\ndoor = \"double\"\n[back]\ndoor = \"double\"",
        ),
    ];
    let others = others.map(|(name, text)| {
        Order::read(&format!(
            "name = \"{name}\"\nfamily = \"gothic-24\"\n{text}"
        ))
    });
    let mut orders = vec![demo, longer];
    for order in others {
        orders.push(order?);
    }
    Ok(orders)
}

/// Middle of many: from the order to the parts list, the first two orders in turn.
fn time(orders: &[Order], family: &Family) -> Duration {
    let mut took: Vec<Duration> = (0..RUNS)
        .map(|run| {
            let order = &orders[run % 2];
            let began = Instant::now();
            let lines = expand(order, family).map(|frame| PartsList::of(&frame).lines.len());
            std::hint::black_box(lines.unwrap_or_default());
            began.elapsed()
        })
        .collect();
    took.sort_unstable();
    took[RUNS / 2]
}

/// An engine's bills and times; nothing, and how to get it, where it is not installed.
fn ask(engine: &Engine, orders: &[Order]) -> Result<Option<Answer>, Box<dyn Error>> {
    let installed = Command::new(&engine.python)
        .args(["-c", &format!("import {}", engine.modules)])
        .output()
        .is_ok_and(|tried| tried.status.success());
    if !installed {
        println!("{} is left out; {}", engine.script, engine.how_to_get_it);
        return Ok(None);
    }
    if engine.script != "bill.py" && !workbook().exists() {
        println!(
            "{} is left out; bill.py writes what it opens",
            engine.script
        );
        return Ok(None);
    }
    let inputs: Result<Vec<Value>, _> = orders.iter().map(inputs).collect();
    let answer = Command::new(&engine.python)
        .arg(format!("{FOLDER}/{}", engine.script))
        .args(["--orders", &serde_json::to_string(&inputs?)?])
        .args(["--runs", &RUNS_OF_AN_ENGINE.to_string()])
        .arg("--workbook")
        .arg(workbook())
        .output()?;
    if !answer.status.success() {
        return Err(String::from_utf8_lossy(&answer.stderr).into());
    }
    Ok(Some(serde_json::from_slice(&answer.stdout)?))
}

fn workbook() -> PathBuf {
    Path::new(env!("CARGO_TARGET_TMPDIR")).join("bill.xlsx")
}

/// The cells of the order's sheet. What an order leaves out is the family's first choice.
fn inputs(order: &Order) -> Result<Value, Box<dyn Error>> {
    let inches = |text: &str| Length::read(text, None).map(Length::to_inches);
    let chosen = |choices: &std::collections::BTreeMap<String, String>, key: &str, first: &str| {
        choices.get(key).cloned().unwrap_or_else(|| first.into())
    };
    Ok(json!({
        "length": inches(&order.length)?,
        "spacing": inches(order.bow_spacing.as_deref().unwrap_or("4 ft"))?,
        "purlins": chosen(&order.options, "purlins", "none"),
        "front_wall": chosen(&order.front, "wall", "framed"),
        "front_door": chosen(&order.front, "door", "none"),
        "back_wall": chosen(&order.back, "wall", "framed"),
        "back_door": chosen(&order.back, "door", "none"),
    }))
}

/// Every mark of either bill: quantity, length, width, mass of one and of all.
fn compare(ours: &PartsList, theirs: &Value) -> Vec<String> {
    let mut differences = Vec::new();
    let mut differ = |what: String, ours: f64, theirs: Option<f64>| {
        if !theirs.is_some_and(|theirs| (ours - theirs).abs() <= WITHIN) {
            let theirs = theirs.map_or_else(|| "nothing".into(), |theirs| theirs.to_string());
            differences.push(format!("{what}: ours {ours}, the sheet's {theirs}"));
        }
    };
    for line in &ours.lines {
        let (part, mark) = (&line.part, &line.part.mark.0);
        let figure = |column: &str| theirs[mark.as_str()][column].as_f64();
        let quantity = line.quantity as f64;
        differ(format!("{mark} quantity"), quantity, figure("quantity"));
        for (column, measure) in [("length", part.length), ("width", part.width)] {
            if let Some(measure) = measure {
                differ(
                    format!("{mark} {column}"),
                    measure.to_inches(),
                    figure(column),
                );
            }
        }
        let masses = [("unit_mass", part.unit_mass), ("mass", line.mass())];
        for (column, mass) in masses {
            differ(
                format!("{mark} {column}"),
                mass.to_kilograms(),
                figure(column),
            );
        }
    }
    for (mark, row) in theirs.as_object().into_iter().flatten() {
        let ordered = row["quantity"].as_f64().is_some_and(|n| n > 0.0);
        if ordered && ours.line(mark).is_none() {
            differ(format!("{mark} quantity"), 0.0, row["quantity"].as_f64());
        }
    }
    let mass: f64 = ours.lines.iter().map(|l| l.mass().to_kilograms()).sum();
    differ("all mass".into(), mass, theirs["all"]["mass"].as_f64());
    differences
}

fn in_words(differences: &[String]) -> String {
    match differences {
        [] => "every figure of every mark is the same".into(),
        some => format!("{} differ\n  {}", some.len(), some.join("\n  ")),
    }
}

fn print_times(ours: Duration, answers: &[Answer]) {
    let ours = ours.as_secs_f64();
    let row = |name: &str, seconds: f64| {
        println!(
            "  {name:<50} {:>9.3} ms {:>8.1} x",
            seconds * 1e3,
            seconds / ours
        );
    };
    println!("\nours");
    row("order to parts list, places and all", ours);
    for answer in answers {
        println!("{}", answer.engine);
        for (what, seconds) in &answer.times {
            row(what, *seconds);
        }
    }
}
