//! What to read next, in words, with what the likeliest candidates would show.

use frame::Mark;

use crate::kit::{Hypothesis, Kit};
use crate::question::Asked;
use crate::readable::Readable;
use crate::reading::{BendLook, Size, Tool, Which};
use crate::way::Way;
use crate::words;

/// Candidates less likely than this are not worth a word.
const WORTH_A_WORD: f64 = 0.02;
/// No more answers than this are told: it is read standing, from a phone.
const MOST_ANSWERS: usize = 4;

/// What is said only where the candidates that it names are nearly all there is.
const NEARLY_ALL: f64 = 0.9;

/// What the likeliest candidates of this order would show.
pub(crate) struct Tells {
    /// The likeliest first; those that show the same stand together.
    pub tells: Vec<(String, Vec<Mark>)>,
    /// How likely the piece is one of them.
    covers: f64,
    /// Too much to say, and plain to whoever looks.
    by_eye: bool,
}

impl Tells {
    /// What of it is worth saying beside the question.
    pub(crate) fn said(&self) -> &[(String, Vec<Mark>)] {
        match self.covers >= NEARLY_ALL && !self.by_eye {
            true => &self.tells,
            false => &[],
        }
    }
}

pub(crate) fn tells(kit: &Kit, asked: Asked, chances: &[f64]) -> Tells {
    let mut likely: Vec<(f64, &Hypothesis)> = (kit.hypotheses[..kit.ours].iter())
        .zip(chances)
        .filter(|(_, chance)| **chance >= WORTH_A_WORD)
        .map(|(h, chance)| (*chance, h))
        .collect();
    likely.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut tells: Vec<(String, Vec<Mark>)> = Vec::new();
    let mut covers = 0.0;
    for (chance, h) in likely {
        let Some(shows) = shows(kit, asked, &h.readable) else {
            continue;
        };
        match tells.iter().position(|(known, _)| *known == shows) {
            Some(i) => tells[i].1.extend(h.marks.iter().cloned()),
            None if tells.len() < MOST_ANSWERS => tells.push((shows, h.marks.clone())),
            None => continue,
        }
        covers += chance;
    }
    Tells {
        tells,
        covers,
        by_eye: asked == Asked::Kind,
    }
}

/// What a part would show; nothing where it has no such size, or may look any way.
pub(crate) fn shows(kit: &Kit, asked: Asked, part: &Readable) -> Option<String> {
    let said = match asked {
        Asked::Kind => words::kind(part.kind).into(),
        Asked::Looks => part.look.clone(),
        Asked::End(_) => match part.ends? {
            [a, b] if a == b => words::end(a).into(),
            [a, b] => format!("{} or {}", words::end(a), words::end(b)),
        },
        Asked::Bend => words::bend(match part.bent? {
            true => BendLook::Bent,
            false => BendLook::Straight,
        })
        .into(),
        Asked::Coating => words::coating(part.coating?).into(),
        Asked::Holes => match part.holes? {
            0 => "no holes".into(),
            1 => "one hole".into(),
            count => format!("{count} holes"),
        },
        Asked::Size { of, with } => measured(kit, Way::of(of, with)?, part)?,
        Asked::Mass { step_micrograms } => measured(kit, Way::scale(step_micrograms), part)?,
    };
    Some(said)
}

fn measured(kit: &Kit, way: Way, part: &Readable) -> Option<String> {
    let spread = way.of_part(part)?;
    Some(words::amount(way, spread.mean, kit.system))
}

/// "Measure its length with a tape: 10 ft 6 in is R2, 10 ft 7 in is R1".
pub(crate) fn ask(asked: Asked, tells: &[(String, Vec<Mark>)]) -> String {
    let ask: String = match asked {
        Asked::Kind => "Look at it, what kind of thing is it?".into(),
        Asked::Looks => "Look at it, what is it?".into(),
        Asked::End(Which::One) => "Look at one end".into(),
        Asked::End(Which::Other) => "Look at the other end".into(),
        Asked::Bend => "See whether it is straight".into(),
        Asked::Coating => "Look at its coating".into(),
        Asked::Holes => "Count its holes".into(),
        Asked::Mass { .. } => "Weigh it".into(),
        Asked::Size { of, with } => format!("Measure {} with {}", size(of), tool(of, with)),
    };
    ask_for(&ask, tells)
}

/// A question with what each answer to it means.
pub(crate) fn ask_for(ask: &str, tells: &[(String, Vec<Mark>)]) -> String {
    let tells: Vec<String> = (tells.iter())
        .map(|(shows, marks)| format!("{shows} is {}", words::either(marks)))
        .collect();
    match tells.is_empty() {
        true => ask.into(),
        false => format!("{}: {}", ask.trim_end_matches('?'), tells.join(", ")),
    }
}

fn size(size: Size) -> &'static str {
    match size {
        Size::Length => "its length",
        Size::Across => "it across",
        Size::Around => "around it",
        Size::Wall => "its wall",
        Size::Chord => "straight from end to end",
        Size::Rise => "its height over a line from end to end",
        Size::HoleSpacing => "from hole to hole",
        Size::Unknown => "it",
    }
}

fn tool(size: Size, tool: Tool) -> &'static str {
    match (size, tool) {
        (Size::Around, _) => "a string, and lay that along a tape",
        (_, Tool::Tape { .. }) => "a tape",
        (_, Tool::String { .. }) => "a string",
        (_, Tool::Caliper { .. }) => "a caliper",
        (_, Tool::GaugePlate { .. }) => "a gauge plate",
        (_, Tool::Unknown) => "a tool",
    }
}
