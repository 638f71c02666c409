//! Several hands that write packing lists, each with words, columns and lengths of its own. Invented, like the senders.

use frame::{End, Part, Section};
use measure::Length;

/// A row as its writer means it.
#[derive(Debug, Clone, PartialEq)]
pub struct Meant {
    /// What it truly is.
    pub mark: String,
    /// What its words say, which is another mark where the writer took the wrong text.
    pub says: String,
    pub sub_kit: String,
    pub load: u8,
    pub quantity: i64,
}

/// Who writes the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hand {
    /// Capitals, codes of its own, lengths in inches, sections for the sub-kits.
    Office,
    /// Marks as codes and a column for the bag.
    Shop,
    /// No codes at all, feet and inches.
    Bench,
    /// Semicolons, millimetres in a column of their own, marks as codes.
    Metric,
}

pub const HANDS: [Hand; 4] = [Hand::Office, Hand::Shop, Hand::Bench, Hand::Metric];

impl Hand {
    /// The whole file. `two` says whether there is a column for the load.
    pub fn writes(self, rows: &[Meant], part: impl Fn(&str) -> Part, two: bool) -> String {
        let mut lines = vec![self.heading(two)];
        let mut section = "";
        for (place, row) in rows.iter().enumerate() {
            if self == Self::Office && row.sub_kit != section {
                section = &row.sub_kit;
                lines.push(format!(
                    "{},,,,{}",
                    section.to_uppercase(),
                    if two { "," } else { "" }
                ));
            }
            let mut cells = self.cells(place, row, &part(&row.says));
            if two {
                cells.push(format!("Load {}", row.load));
            }
            lines.push(match self {
                Self::Metric => cells.join(";"),
                _ => cells
                    .iter()
                    .map(|cell| quoted(cell))
                    .collect::<Vec<_>>()
                    .join(","),
            });
        }
        lines.join("\n") + "\n"
    }

    fn heading(self, two: bool) -> String {
        let heading = match self {
            Self::Office => "Line,Item,Qty,U/M,Description",
            Self::Shop => "Mark,Qty,What,Bag",
            Self::Bench => "Qty,Description,Bag",
            Self::Metric => "Pos;Qty;Mark;Article;Length (mm);Ends;Bag",
        };
        let comma = if self == Self::Metric { ";" } else { "," };
        match two {
            true => format!("{heading}{comma}Load"),
            false => heading.into(),
        }
    }

    fn cells(self, place: usize, row: &Meant, part: &Part) -> Vec<String> {
        let quantity = row.quantity.to_string();
        let called = called(part);
        match self {
            Self::Office => {
                let mut words = vec![called, size(part)];
                words.extend(long(part).map(|length| inches(length) + "\""));
                words.push(ends(part, ["PLAIN", "ONE END SWAGED", "FLATTENED"]).into());
                words.extend(part.finish.clone());
                vec![
                    (place + 1).to_string(),
                    format!("K{:03}", 100 + 7 * place),
                    quantity,
                    "EA".into(),
                    joined(words, " ").to_uppercase(),
                ]
            }
            Self::Shop => {
                let words = joined(vec![called, size(part)], " ");
                vec![row.says.clone(), quantity, words, row.sub_kit.clone()]
            }
            Self::Bench => {
                let mut words = vec![called, size(part)];
                words.extend(long(part).map(feet));
                words.push(ends(part, ["plain ends", "one end swaged", "flattened ends"]).into());
                vec![quantity, joined(words, ", "), row.sub_kit.clone()]
            }
            Self::Metric => {
                let length = long(part).map(|length| (length.to_inches() * 25.4).round());
                vec![
                    (place + 1).to_string(),
                    quantity,
                    row.says.clone(),
                    joined(vec![called, size(part)], " "),
                    length.map_or(String::new(), |mm| mm.to_string()),
                    ends(part, ["plain", "swaged one end", "flattened"]).into(),
                    row.sub_kit.clone(),
                ]
            }
        }
    }
}

/// Up to the first comma a description says what the thing is; a size after it, where its noun has none.
fn called(part: &Part) -> String {
    let mut said = part.description.split(", ");
    let name = said.next().unwrap_or_default().to_owned();
    match said.next().filter(|more| !more.starts_with("tube ")) {
        Some(more) if part.section.is_none() => format!("{name} {more}"),
        Some(more @ ("single" | "double" | "lower piece" | "upper piece" | "for a post")) => {
            format!("{name} {more}")
        }
        _ => name,
    }
}

/// The length, where it is not part of the size.
fn long(part: &Part) -> Option<Length> {
    let sized = matches!(
        part.section,
        Some(Section::Fastener { .. } | Section::Film { .. })
    );
    part.length.filter(|_| !sized)
}

fn size(part: &Part) -> String {
    match &part.section {
        Some(Section::Tube { called, gauge, .. } | Section::Box { called, gauge, .. }) => {
            let gauge = gauge.map_or(String::new(), |gauge| format!(" {gauge} ga"));
            format!("{called}\"{gauge}")
        }
        Some(Section::Timber { called, .. } | Section::Cloth { called, .. }) => called.clone(),
        Some(Section::Fastener { size, .. }) => match part.length {
            Some(length) => format!("{size} x {}", inches(length)),
            None => size.clone(),
        },
        Some(Section::Film { thickness }) => {
            let across = part
                .width
                .map_or(String::new(), |width| feet(width) + " x ");
            let along = part.length.map_or(String::new(), feet);
            format!("{:.0} mil {across}{along}", thickness.to_inches() * 1e3)
        }
        _ => String::new(),
    }
}

fn ends(part: &Part, [plain, swaged, flat]: [&'static str; 3]) -> &'static str {
    match part.ends {
        Some(ends) if ends.iter().any(|end| matches!(end, End::Swaged(_))) => swaged,
        Some([End::Plain, End::Plain]) => plain,
        Some(_) => flat,
        None => "",
    }
}

/// "126-1/2", to the sixteenth.
fn inches(length: Length) -> String {
    let sixteenths = (length.to_inches() * 16.0).round() as i64;
    let (whole, mut part, mut of) = (sixteenths / 16, sixteenths % 16, 16);
    while part > 0 && part % 2 == 0 {
        (part, of) = (part / 2, of / 2);
    }
    match (whole, part) {
        (whole, 0) => whole.to_string(),
        (0, part) => format!("{part}/{of}"),
        (whole, part) => format!("{whole}-{part}/{of}"),
    }
}

/// "10'6-1/2\"".
fn feet(length: Length) -> String {
    let feet = (length.to_inches() / 12.0 + 1e-9).floor();
    match inches(length - Length::feet(feet as i64)).as_str() {
        "0" => format!("{feet}'"),
        rest if feet == 0.0 => format!("{rest}\""),
        rest => format!("{feet}'{rest}\""),
    }
}

fn joined(words: Vec<String>, between: &str) -> String {
    let words: Vec<String> = words.into_iter().filter(|word| !word.is_empty()).collect();
    words.join(between)
}

fn quoted(cell: &str) -> String {
    match cell.contains([',', '"']) {
        true => format!("\"{}\"", cell.replace('"', "\"\"")),
        false => cell.to_owned(),
    }
}
