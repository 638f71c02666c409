//! Writes tell-apart cards and labels of the three families into a folder, to be looked at:
//! `cargo run -p paper --example at_the_pile -- /tmp/papers`.

#[allow(dead_code, reason = "other papers are written by another example")]
#[path = "../tests/it/sample.rs"]
mod sample;
#[path = "../tests/it/sample_card.rs"]
mod sample_card;

use paper::{LabelStock, Print, Sheet, labels, tell_apart};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let folder = std::env::args().nth(1).ok_or("give a folder to write to")?;
    std::fs::create_dir_all(&folder)?;
    let orders = [
        ("gothic", sample_card::GOTHIC),
        ("round", sample_card::ROUND),
        ("sidewall", sample_card::SIDEWALL),
    ];
    for (name, order) in orders {
        for (size, sheet) in [("letter", Sheet::Letter), ("a4", Sheet::A4)] {
            let print = Print {
                sheet,
                ..sample::print()
            };
            let bytes = tell_apart(&sample_card::card(order), &print)?;
            std::fs::write(format!("{folder}/card-{name}-{size}.pdf"), bytes)?;
        }
    }
    for stock in LabelStock::ALL {
        let bytes = labels(
            &sample_card::labels(sample_card::GOTHIC, stock),
            &sample::print(),
        )?;
        std::fs::write(format!("{folder}/labels-{}.pdf", stock.key()), bytes)?;
    }
    Ok(())
}
