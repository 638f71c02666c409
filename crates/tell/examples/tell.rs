//! Plays it through for an order: `cargo run -p tell --example tell -- ORDER [MARK]`. It answers its own questions as a
//! piece of the mark would that is just as the list says.

use frame::{Family, Order, PartsList, expand};
use tell::{Kit, KnownPart, Reading};

fn main() {
    if let Err(trouble) = play() {
        eprintln!("{trouble}");
        std::process::exit(1);
    }
}

fn play() -> Result<(), Box<dyn std::error::Error>> {
    let mut asked = std::env::args().skip(1);
    let order = Order::read(&std::fs::read_to_string(
        asked.next().ok_or("which order file?")?,
    )?)?;
    let family = Family::named(&order.family)?;
    let frame = expand(&order, &family)?;
    let others: Vec<Family> = (Family::shipped().into_iter())
        .filter(|other| other.name != family.name)
        .collect();
    let list = PartsList::of(&frame);
    let kit = Kit::of_list(&list, &KnownPart::of_families(&others), frame.system);
    let only = asked.next();
    for line in &list.lines {
        if only.as_ref().is_some_and(|mark| *mark != line.part.mark.0) {
            continue;
        }
        println!("{}: {}", line.part.mark, line.part.description);
        let mut readings: Vec<Reading> = Vec::new();
        let mut cannot = Vec::new();
        while let Some(next) = kit.next_but(&readings, &cannot) {
            println!(
                "    {} ({:.2} bits, {} s)",
                next.words, next.bits, next.seconds
            );
            match next.asked.of_part(&line.part) {
                Some(reading) => readings.push(reading),
                None => cannot.push(next.asked),
            }
        }
        let answer = kit.answer(&readings);
        println!("    = {}", answer.words);
        for odd in answer.odd {
            println!("    ? {}", odd.words);
        }
    }
    println!();
    for alike in kit.look_alikes() {
        println!("{:.3} {:.3?} {}", alike.by_eye, alike.by_tape, alike.words);
    }
    Ok(())
}
