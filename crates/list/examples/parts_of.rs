//! Prints the parts of an order as CSV, as the makers of labelled lists need them:
//! `cargo run -p list --example parts_of -- crates/list/tests/labelled/orders/g24-48.toml`

use frame::{End, Family, Order, PartsList, Section, expand};
use measure::Length;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let file = std::env::args().nth(1).ok_or("name an order file")?;
    let order = Order::read(&std::fs::read_to_string(&file)?)?;
    let family = Family::named(&order.family).map_err(|e| e.to_string())?;
    let list = PartsList::of(&expand(&order, &family)?);
    let mut out = csv::Writer::from_writer(std::io::stdout());
    out.write_record([
        "mark",
        "supplied",
        "noun",
        "description",
        "section",
        "called",
        "across",
        "depth",
        "wall",
        "gauge",
        "length",
        "width",
        "ends",
        "finish",
        "sub_kits",
    ])?;
    for line in &list.lines {
        let part = &line.part;
        let (section, called, across, depth, wall, gauge) = section(part.section.as_ref());
        let kits: Vec<&str> = line.sub_kits().into_iter().map(|(kit, _)| kit).collect();
        out.write_record([
            part.mark.0.clone(),
            line.supplied.to_string(),
            part.noun.clone(),
            part.description.clone(),
            section.to_owned(),
            called,
            across,
            depth,
            wall,
            gauge,
            part.length.map(inches).unwrap_or_default(),
            part.width.map(inches).unwrap_or_default(),
            part.ends.map(ends).unwrap_or_default(),
            part.finish.clone().unwrap_or_default(),
            kits.join("; "),
        ])?;
    }
    out.flush()?;
    Ok(())
}

type Cells = (&'static str, String, String, String, String, String);

/// Kind, name, two measures across, wall, gauge; measures in inches.
fn section(section: Option<&Section>) -> Cells {
    let none = String::new;
    let number = |gauge: &Option<u8>| gauge.map(|n| n.to_string()).unwrap_or_default();
    match section {
        Some(Section::Tube {
            called,
            outside,
            wall,
            gauge,
        }) => (
            "tube",
            called.clone(),
            inches(*outside),
            none(),
            inches(*wall),
            number(gauge),
        ),
        Some(Section::Box {
            called,
            width,
            depth,
            wall,
            gauge,
        }) => (
            "box",
            called.clone(),
            inches(*width),
            inches(*depth),
            inches(*wall),
            number(gauge),
        ),
        Some(Section::Timber {
            called,
            width,
            depth,
        }) => (
            "timber",
            called.clone(),
            inches(*width),
            inches(*depth),
            none(),
            none(),
        ),
        Some(Section::Channel {
            called,
            width,
            depth,
        }) => (
            "channel",
            called.clone(),
            inches(*width),
            inches(*depth),
            none(),
            none(),
        ),
        Some(Section::Cloth { called }) => {
            ("cloth", called.clone(), none(), none(), none(), none())
        }
        Some(Section::Film { thickness }) => {
            ("film", none(), none(), none(), inches(*thickness), none())
        }
        Some(Section::Wire { diameter }) => {
            ("wire", none(), inches(*diameter), none(), none(), none())
        }
        Some(Section::Fastener { size, diameter }) => (
            "fastener",
            size.clone(),
            inches(*diameter),
            none(),
            none(),
            none(),
        ),
        None => ("", none(), none(), none(), none(), none()),
    }
}

fn inches(length: Length) -> String {
    format!("{:.4}", length.to_inches())
}

fn ends(ends: [End; 2]) -> String {
    let one = |end: End| match end {
        End::Plain => "plain".to_owned(),
        End::Swaged(over) => format!("swaged {}", inches(over)),
        End::Flattened => "flattened".to_owned(),
        End::Punched => "punched".to_owned(),
    };
    ends.map(one).join("; ")
}
