//! Prints the parts list of a family file and an order: `cargo run -p frame --example parts -- FAMILY ORDER`.

use frame::{Family, Order, PartsList, expand};

fn main() {
    if let Err(trouble) = print() {
        eprintln!("{trouble}");
        std::process::exit(1);
    }
}

fn print() -> Result<(), Box<dyn std::error::Error>> {
    let mut asked = std::env::args().skip(1);
    let (Some(family), Some(order)) = (asked.next(), asked.next()) else {
        return Err("which family file, and which order file?".into());
    };
    let family = Family::read(&std::fs::read_to_string(family)?)?;
    let order = Order::read(&std::fs::read_to_string(order)?)?;
    let frame = expand(&order, &family)?;
    let say = |length: measure::Length| length.write(frame.system, measure::Grid::SIXTEENTH);

    println!(
        "{}: {} bows, {} wide, {} high",
        frame.title,
        frame.bows,
        say(frame.width),
        say(frame.height)
    );
    for line in PartsList::of(&frame).lines {
        let length = line.part.length.map(say);
        println!(
            "{:6} {:4} ({:4} packed)  {:16} {}",
            line.part.mark.0,
            line.quantity,
            line.supplied,
            length.unwrap_or_default(),
            line.part.noun
        );
        for (role, quantity) in line.uses() {
            println!("         {quantity:4} {role}");
            for why in line.rules(role) {
                println!("              {why}");
            }
        }
        if let Some(cut) = line.cut_in_words(frame.system) {
            println!("         {cut}");
        }
    }
    Ok(())
}
