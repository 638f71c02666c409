//! How many tube ends are found, how many of those are none, and how long it takes, on drawn pictures by condition.
//!
//! ```text
//! cargo bench -p photo --bench rings                     the table, and a photo of 12 megapixels from file to rings
//! cargo bench -p photo --bench rings -- --keep DIR       also writes pictures, truth, our rings and the time that they
//!                                                        took there, for rings_peers.py
//! cargo bench -p photo --bench rings -- --only Rust --from 210 --step 16 --pictures 4 --width 800
//! ```

#![allow(missing_docs, clippy::unwrap_used)]

#[path = "../tests/it/rings_bundle.rs"]
mod rings_bundle;
#[path = "../tests/it/rings_scene.rs"]
mod rings_scene;
#[path = "../tests/it/rings_score.rs"]
mod rings_score;

use rings_scene::{Condition, draw};
use rings_score::{Tally, judge};
use std::{fmt::Write as _, path::PathBuf};

const CONDITIONS: [Condition; 14] = [
    Condition::Mild,
    Condition::Blur,
    Condition::Noise,
    Condition::Rust,
    Condition::Shade,
    Condition::Slant,
    Condition::Strap,
    Condition::Clutter,
    Condition::DarkRim,
    Condition::SeeThrough,
    Condition::LitInside,
    Condition::Cropped,
    Condition::Far,
    Condition::AllAtOnce,
];

fn main() {
    let mut args = std::env::args().skip(1);
    let (mut keep, mut pictures, mut from): (Option<PathBuf>, u64, u64) = (None, 16, 1000);
    let (mut only, mut step, mut width) = (None, 1, 1280);
    while let Some(arg) = args.next() {
        match arg.as_str() {
            "--keep" => keep = args.next().map(PathBuf::from),
            "--pictures" => pictures = args.next().unwrap().parse().unwrap(),
            "--from" => from = args.next().unwrap().parse().unwrap(),
            "--step" => step = args.next().unwrap().parse().unwrap(),
            "--width" => width = args.next().unwrap().parse().unwrap(),
            "--only" => only = args.next(),
            _ => {}
        }
    }
    println!(
        "{:<12} {:>5} {:>7} {:>9} {:>7} {:>6} {:>7}  worst",
        "condition", "ends", "recall", "precision", "exact", "off", "ms"
    );
    let mut all = Tally::default();
    let mut sureness = Vec::new();
    for condition in CONDITIONS {
        if only
            .as_ref()
            .is_some_and(|o| *o != format!("{condition:?}"))
        {
            continue;
        }
        let mut tally = Tally::default();
        let (mut spent, mut worst) = (0.0, (1.0, 0));
        for number in (from..).step_by(step).take(pictures as usize) {
            let drawn = draw(condition, number, width);
            let luma = image::DynamicImage::from(drawn.picture).to_luma8();
            let start = on_cpu();
            let rings = photo::rings(&luma);
            let took = on_cpu() - start;
            spent += took;
            let one = judge(&rings, &drawn.ends, luma.width());
            if one.recall().min(one.precision()) < worst.0 {
                worst = (one.recall().min(one.precision()), number);
            }
            sureness.extend(one.sureness.iter().copied());
            tally.add(&one);
            if let Some(folder) = &keep {
                std::fs::create_dir_all(folder).unwrap();
                let name = format!("{condition:?}-{number}");
                luma.save(folder.join(format!("{name}.png"))).unwrap();
                let mut truth = String::new();
                for end in &drawn.ends {
                    writeln!(truth, "{},{},{},{}", end.x, end.y, end.radius, end.seen).unwrap();
                }
                std::fs::write(folder.join(format!("{name}.truth.csv")), truth).unwrap();
                let mut ours = String::new();
                for ring in &rings {
                    let wide = luma.width() as f32;
                    writeln!(
                        ours,
                        "{},{},{},{}",
                        ring.x * wide,
                        ring.y * wide,
                        ring.radius * wide,
                        ring.sure
                    )
                    .unwrap();
                }
                std::fs::write(folder.join(format!("{name}.ours.csv")), ours).unwrap();
                std::fs::write(folder.join(format!("{name}.ours.ms")), took.to_string()).unwrap();
            }
        }
        println!(
            "{:<12} {:>5} {:>7.4} {:>9.4} {:>7} {:>6.3} {:>7.0}  {:.3} at {}",
            format!("{condition:?}"),
            tally.wanted,
            tally.recall(),
            tally.precision(),
            format!("{}/{}", tally.exact, tally.pictures),
            tally.off / tally.found.max(1) as f32,
            spent / pictures as f64,
            worst.0,
            worst.1
        );
        all.add(&tally);
    }
    println!(
        "{:<12} {:>5} {:>7.4} {:>9.4} {:>7} {:>6.3}",
        "all",
        all.wanted,
        all.recall(),
        all.precision(),
        format!("{}/{}", all.exact, all.pictures),
        all.off / all.found.max(1) as f32
    );
    reliability(&sureness);
    if only.is_none() && keep.is_none() {
        whole_photo();
    }
}

/// How many rings that were said to be about so sure are true.
fn reliability(sureness: &[(f32, bool)]) {
    println!("\nsure         rings   true   said");
    for (low, high) in [
        (0.0, 0.3),
        (0.3, 0.5),
        (0.5, 0.7),
        (0.7, 0.8),
        (0.8, 0.9),
        (0.9, 0.95),
        (0.95, 0.98),
        (0.98, 1.01),
    ] {
        let of: Vec<_> = sureness
            .iter()
            .filter(|s| s.0 >= low && s.0 < high)
            .collect();
        let n = of.len().max(1) as f32;
        let (said, good) = (
            of.iter().map(|s| s.0).sum::<f32>() / n,
            of.iter().filter(|s| s.1).count() as f32 / n,
        );
        println!(
            "{low:.2}..{high:.2} {:>7} {good:>6.3} {said:>6.3}",
            of.len()
        );
    }
}

/// A photo as a phone makes it, from the bytes of the file to the rings.
fn whole_photo() {
    let drawn = draw(Condition::Mild, 1000, 4000);
    let mut file = Vec::new();
    image::codecs::jpeg::JpegEncoder::new_with_quality(&mut file, 90)
        .encode_image(&drawn.picture)
        .unwrap();
    let start = on_cpu();
    let rings = photo::rings_in(&file).unwrap();
    let took = on_cpu() - start;
    let tally = judge(&rings, &drawn.ends, 4000);
    println!(
        "\nJPEG of 4000 x 3000 pixels, {:.1} MB: {took:.0} ms from file to rings, {} of {} found, {} wrong",
        file.len() as f64 / 1e6,
        tally.found,
        tally.wanted,
        tally.wrong
    );
}

/// Milliseconds that this thread was on a processor, so that what else the machine does counts little.
fn on_cpu() -> f64 {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap();
    text.split(' ').next().unwrap().parse::<f64>().unwrap() / 1e6
}
