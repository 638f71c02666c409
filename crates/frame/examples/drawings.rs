//! Writes all drawings of an order into a folder: `cargo run -p frame --example drawings -- order.toml folder [family.toml]`.

use std::path::Path;

use frame::{Family, HouseEnd, Order, View, expand};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut asked = std::env::args().skip(1);
    let (Some(order), Some(folder)) = (asked.next(), asked.next()) else {
        return Err("which order file, and which folder?".into());
    };
    let order = Order::read(&std::fs::read_to_string(order)?)?;
    let family = match asked.next() {
        Some(file) => Family::read(&std::fs::read_to_string(file)?)?,
        None => Family::named(&order.family)?,
    };
    let frame = expand(&order, &family)?;

    let folder = Path::new(&folder);
    std::fs::create_dir_all(folder)?;
    let write = |name: String, svg: String| {
        println!("{:>8} bytes  {name}.svg", svg.len());
        std::fs::write(folder.join(format!("{name}.svg")), svg)
    };
    for view in View::ALL {
        write(
            format!("isometric-{}", view.key()),
            frame::isometric(&frame, view),
        )?;
    }
    write("plan".into(), frame::plan(&frame))?;
    for end in HouseEnd::BOTH {
        write(
            format!("end-{}", end.says()),
            frame::end_elevation(&frame, end),
        )?;
    }
    if let Some(svg) = frame::section(&frame) {
        write("section".into(), svg)?;
    }
    write("side".into(), frame::side_elevation(&frame))?;
    for (i, part) in frame.parts.iter().enumerate() {
        if let Some(svg) = frame::bow_flat(&frame, &part.mark.0) {
            write(format!("flat-{i:02}"), svg)?;
        }
        if let Some(svg) = frame::part_drawing(part) {
            write(format!("part-{i:02}"), svg)?;
        }
    }
    for (kind, _) in frame::joints_to_detail(&frame) {
        if let Some(svg) = frame::joint_detail(&frame, kind) {
            write(format!("joint-{kind:02}"), svg)?;
        }
    }
    Ok(())
}
