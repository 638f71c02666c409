//! The bill of a house by our engine, and by a spreadsheet's formulas. `crates/frame/benches/spreadsheet/run`.
//!
//! The peer is a workbook written by hand from the family file, recalculated by a spreadsheet engine in Python: see
//! `spreadsheet/README.md`. Both bills are compared mark by mark first; a difference fails the bench.

use std::error::Error;
use std::path::Path;
use std::process::{Command, ExitCode};
use std::time::{Duration, Instant};

use frame::{Family, Order, PartsList, expand};
use measure::Length;
use serde::Deserialize;
use serde_json::{Value, json};

const RUNS: usize = 1_000;
const RUNS_OF_THE_PEER: usize = 100;
const FOLDER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/benches/spreadsheet");

/// Two figures of one mark agree when they are as near as this: kilograms, and inches.
const WITHIN: f64 = 1e-6;

/// What the peer prints.
#[derive(Deserialize)]
struct Peer {
    engine: String,
    formulas: usize,
    seconds_to_write_load_and_compile: f64,
    seconds_a_recalculation: f64,
    seconds_a_recalculation_of_the_whole_model: f64,
    bills: Vec<Value>,
}

fn main() -> Result<ExitCode, Box<dyn Error>> {
    let family = Family::named("gothic-24")?;
    let orders = orders()?;
    let ours = time(&orders, &family);
    let Some(peer) = ask_the_peer(&orders)? else {
        println!("ours: {:.3} ms; the peer was not asked", ms(ours));
        return Ok(ExitCode::SUCCESS);
    };
    let mut differences = Vec::new();
    for (order, bill) in orders.iter().zip(&peer.bills) {
        let found = compare(&PartsList::of(&expand(order, &family)?), bill);
        println!("{:<52} {}", order.name, in_words(&found));
        differences.extend(found);
    }
    print_times(ours, &peer);
    Ok(match differences.is_empty() {
        true => ExitCode::SUCCESS,
        false => ExitCode::FAILURE,
    })
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

/// The peer's bills and times; nothing, and how to get it, where it is not installed.
fn ask_the_peer(orders: &[Order]) -> Result<Option<Peer>, Box<dyn Error>> {
    let python = std::env::var("SPREADSHEET_PYTHON").unwrap_or_else(|_| "python3".into());
    let installed = Command::new(&python)
        .args(["-c", "import formulas, openpyxl"])
        .output()
        .is_ok_and(|tried| tried.status.success());
    if !installed {
        println!(
            "{python} has no spreadsheet engine; {FOLDER}/run installs one and runs this bench"
        );
        return Ok(None);
    }
    let inputs: Result<Vec<Value>, _> = orders.iter().map(inputs).collect();
    let workbook = Path::new(env!("CARGO_TARGET_TMPDIR")).join("bill.xlsx");
    let answer = Command::new(&python)
        .arg(format!("{FOLDER}/bill.py"))
        .args(["--orders", &serde_json::to_string(&inputs?)?])
        .args(["--runs", &RUNS_OF_THE_PEER.to_string()])
        .arg("--workbook")
        .arg(workbook)
        .output()?;
    if !answer.status.success() {
        return Err(String::from_utf8_lossy(&answer.stderr).into());
    }
    Ok(Some(serde_json::from_slice(&answer.stdout)?))
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

fn print_times(ours: Duration, peer: &Peer) {
    let row = |name: &str, seconds: f64| {
        println!(
            "{name:<52} {:>9.3} ms {:>8.1} x",
            seconds * 1e3,
            seconds / ours.as_secs_f64()
        );
    };
    println!(
        "\n{}, {} formulas; start-up not counted",
        peer.engine, peer.formulas
    );
    row(
        "ours: order to parts list, median of 1000",
        ours.as_secs_f64(),
    );
    row(
        "sheet: recalculation, compiled, median of 100",
        peer.seconds_a_recalculation,
    );
    row(
        "sheet: recalculation, whole model, median of 10",
        peer.seconds_a_recalculation_of_the_whole_model,
    );
    row(
        "sheet: once, to write, load and compile it",
        peer.seconds_to_write_load_and_compile,
    );
}

fn ms(d: Duration) -> f64 {
    d.as_secs_f64() * 1e3
}
