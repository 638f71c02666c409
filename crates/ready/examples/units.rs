//! Prints what can be done one by one: `cargo run -p ready --example units -- FAMILY ORDER`.

use frame::{Family, Order, PartsList, expand};
use ready::Build;

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
    let build = Build::of(&frame, &PartsList::of(&frame));
    for (index, unit) in build.units.iter().enumerate() {
        let needs: Vec<String> = (unit.needs.iter())
            .map(|(mark, pieces)| format!("{pieces} {}", build.marks[*mark]))
            .collect();
        println!(
            "{index:4} {:12} {:40} bows {:2?} {:?} needs {} after {:?}",
            build.stages[unit.stage].name,
            unit.name,
            unit.bows,
            unit.gap,
            needs.join(", "),
            unit.after
        );
    }
    println!("bows that may be left out: {:?}", build.may_leave);
    Ok(())
}
