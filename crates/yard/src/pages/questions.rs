//! The questions about a piece in hand: how each is asked, and how its answer is taken.

use maud::{Markup, html};
use measure::{Grid, Length, Mass, MassUnit, System, Unit};
use tell::{
    Asked, BendLook, Coating, EndLook, Kind, Kit, Marks, Reading, Size, TapeClass, Tool, Which,
};

use super::tell::Asked as Form;
use crate::address;
use crate::reply::Failure;

/// The readings so far, with what the form adds or takes out.
pub(crate) fn seen(form: &Form, system: System) -> Result<Vec<Reading>, Failure> {
    let mut seen = read(&form.seen)?;
    if let Ok(at) = form.without.parse::<usize>()
        && at < seen.len()
    {
        seen.remove(at);
    }
    if !form.add.is_empty() {
        let added: Reading = serde_json::from_str(&form.add).map_err(|_| broken())?;
        seen.push(added);
    }
    if !form.size.is_empty() {
        seen.push(measured(form, system)?);
    }
    match seen.len() > tally::MAX_READINGS {
        true => Err(Failure::refused(
            "That is more than one piece can be read. Begin anew with the next piece.",
        )),
        false => Ok(seen),
    }
}

/// Readings as the page carries them.
pub(crate) fn read(text: &str) -> Result<Vec<Reading>, Failure> {
    match text.trim() {
        "" => Ok(Vec::new()),
        text => serde_json::from_str(text).map_err(|_| broken()),
    }
}

/// The same, written.
pub(crate) fn seen_text(seen: &[Reading]) -> String {
    serde_json::to_string(seen).unwrap_or_default()
}

/// The page without one of its readings.
pub(crate) fn without(seen: &[Reading], at: usize, pile: &str) -> String {
    let seen = address::segment(&seen_text(seen));
    format!(
        "/tell?seen={seen}&without={at}&pile={}",
        address::segment(pile)
    )
}

fn broken() -> Failure {
    Failure::refused(
        "What was read before could not be read again. Begin anew at “Which part is this?”.",
    )
}

fn measured(form: &Form, system: System) -> Result<Reading, Failure> {
    let value = form.value.trim();
    let marks = marks(system);
    if form.size == "mass" {
        let unit = match system {
            System::FeetInch => MassUnit::Pound,
            System::Metric => MassUnit::Kilogram,
        };
        let mass = Mass::read(value, Some(unit))
            .map_err(|e| Failure::refused(format!("The mass was not read: {e}.")))?;
        if mass <= Mass::ZERO {
            return Err(Failure::refused("A mass must be more than nothing."));
        }
        return Ok(Reading::Mass {
            micrograms: mass.as_micrograms(),
            step_micrograms: SCALE_STEP.as_micrograms(),
        });
    }
    if form.size == "holes" {
        let count = value
            .parse()
            .ok()
            .filter(|count| (0..=1000).contains(count))
            .ok_or_else(|| {
                Failure::refused("The number of holes must be a whole number from 0 to 1000.")
            })?;
        return Ok(Reading::Holes { count });
    }
    let unit = match system {
        System::FeetInch => Unit::Inch,
        System::Metric => Unit::Millimetre,
    };
    let length = Length::read(value, Some(unit))
        .map_err(|e| Failure::refused(format!("The size was not read: {e}.")))?;
    if length <= Length::ZERO {
        return Err(Failure::refused(format!(
            "A size must be more than nothing; “{value}” is not."
        )));
    }
    let size = |name: &str| SIZES.iter().find(|(known, ..)| *known == name);
    let (_, of, _) = size(&form.size).ok_or_else(broken)?;
    Ok(Reading::Size {
        of: *of,
        nanometres: length.as_nanometres(),
        with: tool_named(&form.tool, marks, system),
    })
}

/// The step of a usual scale.
const SCALE_STEP: Mass = Mass::grams(10);

const SIZES: [(&str, Size, &str); 7] = [
    ("length", Size::Length, "Length, end to end"),
    ("across", Size::Across, "Across: outside diameter, or width"),
    ("around", Size::Around, "Around, with a string"),
    ("wall", Size::Wall, "Wall, or thickness"),
    ("chord", Size::Chord, "Bent: straight from end to end"),
    ("rise", Size::Rise, "Bent: height over that line"),
    ("hole-spacing", Size::HoleSpacing, "From hole to hole"),
];

fn marks(system: System) -> Marks {
    match system {
        System::FeetInch => Marks::Inch,
        System::Metric => Marks::Metric,
    }
}

fn tool_named(name: &str, marks: Marks, system: System) -> Tool {
    match name {
        "caliper" => Tool::Caliper { marks },
        "string" => Tool::String { marks },
        "gauge-plate" => Tool::GaugePlate { marks },
        _ => Tool::Tape {
            marks,
            class: match system {
                System::FeetInch => TapeClass::Handbook44,
                System::Metric => TapeClass::EcII,
            },
        },
    }
}

fn tool_name(tool: Tool) -> (&'static str, &'static str) {
    match tool {
        Tool::Caliper { .. } => ("caliper", "caliper"),
        Tool::String { .. } => ("string", "string and tape"),
        Tool::GaugePlate { .. } => ("gauge-plate", "gauge plate"),
        _ => ("tape", "tape"),
    }
}

/// The form for one question.
pub(crate) fn form(
    kit: &Kit,
    asked: Asked,
    seen: &[Reading],
    system: System,
    pile: &str,
) -> Markup {
    match asked {
        Asked::Kind => choices(
            seen,
            pile,
            KINDS.map(|(is, word)| (Reading::Kind { is }, word.into())),
        ),
        Asked::Looks => choices(
            seen,
            pile,
            kit.looks().map(|word| {
                (
                    Reading::Looks { like: word.into() },
                    frame::capitalised(word),
                )
            }),
        ),
        Asked::End(end) => choices(
            seen,
            pile,
            ENDS.map(|(is, word)| (Reading::End { end, is }, word.into())),
        ),
        Asked::Bend => choices(
            seen,
            pile,
            BENDS.map(|(is, word)| (Reading::Bend { is }, word.into())),
        ),
        Asked::Coating => choices(
            seen,
            pile,
            COATINGS.map(|(is, word)| (Reading::Coating { is }, word.into())),
        ),
        Asked::Holes => amount("holes", "", "How many holes", "such as 2", seen, pile),
        Asked::Mass { .. } => amount(
            "mass",
            "scale",
            "On the scale",
            such_mass(system),
            seen,
            pile,
        ),
        Asked::Size { of, with } => {
            let name = SIZES.iter().find(|(_, size, _)| *size == of);
            let (name, _, words) = name.copied().unwrap_or(SIZES[0]);
            amount(name, tool_name(with).0, words, such(of, system), seen, pile)
        }
    }
}

/// Every question, for what a person sees or measures unasked.
pub(crate) fn all(kit: &Kit, seen: &[Reading], system: System, pile: &str) -> Markup {
    let eye = [
        ("What kind of thing", Asked::Kind),
        ("What it looks like", Asked::Looks),
        ("One end", Asked::End(Which::One)),
        ("The other end", Asked::End(Which::Other)),
        ("Straight or bent", Asked::Bend),
        ("Coating", Asked::Coating),
    ];
    html! {
        (any_size(seen, system, pile))
        @for (words, asked) in eye {
            details { summary { (words) } (form(kit, asked, seen, system, pile)) }
        }
        details { summary { "Holes" } (form(kit, Asked::Holes, seen, system, pile)) }
        details { summary { "Mass" } (amount("mass", "scale", "On the scale", such_mass(system), seen, pile)) }
    }
}

/// Any size with any tool.
fn any_size(seen: &[Reading], system: System, pile: &str) -> Markup {
    html! {
        form method="get" action="/tell" {
            (carried(seen, pile))
            label for="any-size" { "Which size" }
            select id="any-size" name="size" { @for (name, _, words) in SIZES { option value=(name) { (words) } } }
            label for="any-tool" { "With" }
            select id="any-tool" name="tool" {
                @for (name, words) in [("tape", "tape"), ("caliper", "caliper"), ("string", "string and tape"), ("gauge-plate", "gauge plate")] { option value=(name) { (words) } }
            }
            label for="any-value" { "What it shows" }
            input type="text" id="any-value" name="value" maxlength="40" autocomplete="off" placeholder=(such(Size::Length, system)) required;
            p { button type="submit" { "Take this reading" } }
        }
    }
}

fn choices(
    seen: &[Reading],
    pile: &str,
    all: impl IntoIterator<Item = (Reading, String)>,
) -> Markup {
    html! {
        form method="get" action="/tell" {
            (carried(seen, pile))
            div.choices {
                @for (reading, word) in all {
                    button type="submit" name="add" value=(serde_json::to_string(&reading).unwrap_or_default()) { (word) }
                }
            }
        }
    }
}

fn amount(name: &str, tool: &str, words: &str, such: &str, seen: &[Reading], pile: &str) -> Markup {
    let id = format!("value-{name}-{tool}");
    html! {
        form method="get" action="/tell" {
            (carried(seen, pile))
            input type="hidden" name="size" value=(name);
            input type="hidden" name="tool" value=(tool);
            label for=(id) { (words) }
            input type="text" id=(id) name="value" maxlength="40" autocomplete="off" placeholder=(such) required;
            p { button.main type="submit" { "Take this reading" } }
        }
    }
}

fn carried(seen: &[Reading], pile: &str) -> Markup {
    html! {
        @if !seen.is_empty() { input type="hidden" name="seen" value=(seen_text(seen)); }
        @if !pile.is_empty() { input type="hidden" name="pile" value=(pile); }
    }
}

fn such(of: Size, system: System) -> &'static str {
    match (of, system) {
        (Size::Length | Size::Chord | Size::Rise, System::FeetInch) => "such as 10 ft 6 1/2 in",
        (Size::Length | Size::Chord | Size::Rise, System::Metric) => "such as 3213 mm",
        (_, System::FeetInch) => "such as 1.66 or 1 5/8",
        (_, System::Metric) => "such as 42.2",
    }
}

fn such_mass(system: System) -> &'static str {
    match system {
        System::FeetInch => "such as 12.4 lb or 8 oz",
        System::Metric => "such as 5.62 kg or 240 g",
    }
}

const KINDS: [(Kind, &str); 8] = [
    (Kind::RoundTube, "Round tube"),
    (Kind::SquareTube, "Square tube"),
    (Kind::Timber, "Timber"),
    (Kind::Channel, "Channel"),
    (Kind::Sheet, "Film or cloth"),
    (Kind::Wire, "Wire"),
    (Kind::Fastener, "Bolt or screw"),
    (Kind::Hardware, "Plate, clamp, nut, other"),
];

const ENDS: [(EndLook, &str); 6] = [
    (EndLook::Plain, "Plain, full size"),
    (EndLook::Swaged, "Swaged, thinner"),
    (EndLook::Flattened, "Flattened"),
    (EndLook::Punched, "Flattened, punched"),
    (EndLook::Threaded, "Threaded"),
    (EndLook::Coped, "Cut round a tube"),
];

const BENDS: [(BendLook, &str); 2] = [(BendLook::Straight, "Straight"), (BendLook::Bent, "Bent")];

const COATINGS: [(Coating, &str); 9] = [
    (Coating::Galvanized, "Galvanized, grey"),
    (Coating::ZincPlated, "Zinc, bright"),
    (Coating::Mill, "Bare, bright"),
    (Coating::Coated, "Painted, coated"),
    (Coating::Rusty, "Rusty"),
    (Coating::Clear, "Clear"),
    (Coating::White, "White"),
    (Coating::Dark, "Black or dark"),
    (Coating::Wood, "Wood"),
];

fn word<T: PartialEq>(all: &[(T, &'static str)], is: &T) -> &'static str {
    all.iter()
        .find(|(known, _)| known == is)
        .map_or("something else", |(_, word)| word)
}

/// A reading in words: "length 10 ft 6-1/2 in, by tape".
pub(crate) fn in_words(reading: &Reading, system: System) -> String {
    match reading {
        Reading::Kind { is } => word(&KINDS, is).into(),
        Reading::Looks { like } => format!("looks like: {like}"),
        Reading::End { end, is } => {
            let which = if *end == Which::One {
                "one end"
            } else {
                "the other end"
            };
            format!("{which}: {}", word(&ENDS, is).to_lowercase())
        }
        Reading::Bend { is } => word(&BENDS, is).into(),
        Reading::Coating { is } => format!("coating: {}", word(&COATINGS, is).to_lowercase()),
        Reading::Holes { count } => format!("{count} holes"),
        Reading::Mass { micrograms, .. } => {
            let mass = Mass::micrograms(*micrograms);
            format!("mass {}", mass.write(system, 2))
        }
        Reading::Size {
            of,
            nanometres,
            with,
        } => {
            let length = Length::nanometres(*nanometres);
            let value = match with {
                Tool::Caliper { .. } | Tool::GaugePlate { .. } => length.caliper(system),
                _ => length.write(system, grid(system)),
            };
            let of = SIZES
                .iter()
                .find(|(_, size, _)| size == of)
                .map_or("size", |(_, _, words)| words);
            format!("{}: {value}, by {}", of.to_lowercase(), tool_name(*with).1)
        }
        Reading::Unknown => "something that this program does not know".into(),
    }
}

fn grid(system: System) -> Grid {
    match system {
        System::FeetInch => Grid::SIXTEENTH,
        System::Metric => Grid::MILLIMETRE,
    }
}
