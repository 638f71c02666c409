//! X12 text into segments: the separators are read off ISA, never assumed.

use super::Spot;
use super::sniff::start_of_x12;
use super::xml::Lines;
use crate::error::Refusal;
use crate::limits;
use crate::read::text::{clean, cut};

/// What parts the text of one interchange.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Separators {
    /// Between elements: the character after ISA.
    pub element: char,
    /// Between the components of one element: ISA16.
    pub component: Option<char>,
    /// Between repeated elements: ISA11 from version 00402 on.
    pub repetition: Option<char>,
    /// What ends a segment.
    pub end: End,
}

/// What ends a segment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// A character of its own; line ends around it are of no weight.
    Character(char),
    /// The end of the line.
    Line,
}

/// One segment.
#[derive(Clone, Copy, Debug)]
pub struct Segment<'a> {
    raw: &'a str,
    separators: Separators,
    /// Where it begins, in bytes of the text.
    pub offset: usize,
}

impl Segment<'_> {
    /// Returns its id in capitals.
    pub fn id(&self) -> String {
        self.get(0).to_ascii_uppercase()
    }

    /// Whether its id is this one, in any case.
    pub fn is(&self, id: &str) -> bool {
        let end = self
            .raw
            .find(self.separators.element)
            .unwrap_or(self.raw.len());
        self.raw[..end].trim().eq_ignore_ascii_case(id)
    }

    /// Returns an element by its number, 1 being the first after the id: cleaned, and without the line ends of a
    /// text that was broken at so many columns. Empty when it is not there.
    pub fn get(&self, number: usize) -> String {
        let element = self
            .raw
            .split(self.separators.element)
            .nth(number)
            .unwrap_or("");
        let joined: String = element
            .chars()
            .filter(|c| !matches!(c, '\n' | '\r'))
            .collect();
        clean(cut(&joined, limits::MAX_CELL_BYTES)).0.into_owned()
    }

    /// Returns the first component of an element, as a code in capitals.
    pub fn code(&self, number: usize) -> String {
        let element = self.get(number).to_ascii_uppercase();
        let first =
            (self.separators.component).and_then(|c| element.split(c).next().map(str::to_owned));
        first.unwrap_or(element)
    }

    /// Returns how many elements it has after its id.
    pub fn len(&self) -> usize {
        self.raw.split(self.separators.element).count() - 1
    }
}

/// The segments of a text, in order.
pub struct Segments<'a> {
    /// All of them.
    pub all: Vec<Segment<'a>>,
    /// What is odd about the text around them.
    pub odd: Vec<String>,
}

/// Splits a text into its segments. Prose before the first and after the last interchange is passed over.
pub fn split<'a>(text: &'a str, lines: &Lines) -> Result<Segments<'a>, Refusal> {
    let mut at = start_of_x12(text).unwrap_or(0);
    let mut found = Segments {
        all: Vec::new(),
        odd: Vec::new(),
    };
    if !text[..at].trim_matches(is_filling).is_empty() {
        found
            .odd
            .push("the text before the data is not read".to_owned());
    }
    let mut separators = None;
    loop {
        let rest = text[at..].trim_start_matches(is_filling);
        at = text.len() - rest.len();
        if rest.is_empty() {
            return Ok(found);
        }
        let after_end = found.all.last().is_some_and(|segment| segment.is("IEA"));
        if is_isa(rest) {
            let (of_isa, length) = separators_of(text, at, lines)?;
            if let Some(odd) = odd_isa(&rest[..length]) {
                found
                    .odd
                    .push(format!("segment 1 (ISA), {}: {odd}", lines.spot(text, at)));
            }
            separators = Some(of_isa);
        } else if after_end {
            // A new interchange may follow some filling; anything else is the letter around it.
            let Some(next) = start_of_x12(rest).filter(|next| is_isa(&rest[*next..])) else {
                found
                    .odd
                    .push("the text after the data is not read".to_owned());
                return Ok(found);
            };
            at += next;
            continue;
        }
        let separators = *separators.get_or_insert_with(|| guess(rest));
        let (raw, used) = one(rest, separators);
        if !raw.trim().is_empty() {
            found.all.push(Segment {
                raw: raw.trim(),
                separators,
                offset: at,
            });
        }
        at += used;
        if found.all.len() > limits::MAX_DATA_ELEMENTS {
            return Err(Refusal::Broken {
                at: lines.spot(text, at).to_string(),
                why: format!(
                    "more than {} segments; send the ship notice alone",
                    limits::MAX_DATA_ELEMENTS
                ),
            });
        }
    }
}

/// What may stand between segments.
fn is_filling(c: char) -> bool {
    c.is_whitespace() || matches!(c, '\u{FEFF}' | '\0' | '\u{1A}')
}

/// The ends of lines, that of machines with EBCDIC too.
fn is_line_end(c: char) -> bool {
    matches!(c, '\n' | '\r' | '\u{85}')
}

fn is_isa(rest: &str) -> bool {
    let word = rest
        .get(..3)
        .is_some_and(|word| word.eq_ignore_ascii_case("ISA"));
    word && rest[3..].starts_with(|c: char| !c.is_alphanumeric())
}

/// The segment at the start of a text without its end, and how many bytes it takes with it.
fn one(rest: &str, separators: Separators) -> (&str, usize) {
    let found = match separators.end {
        End::Character(end) => rest.find(end).map(|at| (at, end.len_utf8())),
        End::Line => rest.find(is_line_end).map(|at| (at, 0)),
    };
    let (at, end) = found.unwrap_or((rest.len(), 0));
    (&rest[..at], at + end)
}

/// Reads the separators off an ISA, and returns its length up to its end.
fn separators_of(text: &str, at: usize, lines: &Lines) -> Result<(Separators, usize), Refusal> {
    let rest = &text[at..];
    let broken = |column: usize, why: String| Refusal::Broken {
        at: format!("segment 1 (ISA), {}", lines.spot(text, at + column)),
        why,
    };
    let element = rest[3..].chars().next().unwrap_or('*');
    let head = cut(rest, 400);
    // The group that follows is no part of an ISA that lacks elements.
    let group = format!("GS{element}");
    let upper = head.to_ascii_uppercase();
    let next = upper.match_indices(&group).map(|(i, _)| i);
    let next =
        next.filter(|i| !upper[..*i].ends_with(|c: char| c.is_alphanumeric() || c == element));
    let end = next.min().unwrap_or(head.len());
    let head = head[..end].trim_end_matches(is_filling);
    let places: Vec<usize> = head
        .match_indices(element)
        .map(|(i, _)| i)
        .take(16)
        .collect();
    let Some(sixteenth) = places.get(15) else {
        let why = format!("it has {} elements; 16 would be right", places.len());
        return Err(broken(head.len(), why));
    };
    let last = sixteenth + element.len_utf8();
    let mut after = rest[last..].chars();
    let first = after.next();
    let spaced = rest[last..].trim_start_matches(' ');
    let follows = |t: &str| {
        let t = t.trim_start_matches(is_filling);
        t.is_empty()
            || ["GS", "TA1", "ISB", "ISE", "ST", "IEA"].iter().any(|id| {
                let found = t
                    .get(..id.len())
                    .is_some_and(|word| word.eq_ignore_ascii_case(id));
                found && t[id.len()..].starts_with(element)
            })
    };
    let repetition = {
        let version: String = rest[places[11] + element.len_utf8()..]
            .chars()
            .take(5)
            .collect();
        let eleventh = rest[places[10] + element.len_utf8()..].chars().next();
        eleventh.filter(|c| version.as_str() >= "00402" && !c.is_alphanumeric() && *c != element)
    };
    let made = |component, end, length| {
        Ok((
            Separators {
                element,
                component,
                repetition,
                end,
            },
            length,
        ))
    };
    let is_mark = |c: char| !c.is_alphanumeric() && c != ' ' && c != element;
    // ISA16 may be missing: then what stands there ends the segment already.
    if let Some(end) = first.filter(|c| is_mark(*c)) {
        let rest_of = &rest[last + end.len_utf8()..];
        let line_end = is_line_end(end);
        let second = rest_of.trim_start_matches(' ').chars().next();
        if follows(rest_of) && !second.is_some_and(|c| is_mark(c) && !is_filling(c)) {
            // "…*:" and a line end: the line ends the segment, and the mark is ISA16.
            let by_line =
                !line_end && second.is_some_and(is_line_end) && !other_lines_end_with(rest_of, end);
            return match (line_end, by_line) {
                (true, _) => made(None, End::Line, last),
                (_, true) => made(Some(end), End::Line, last + end.len_utf8()),
                (_, false) => made(None, End::Character(end), last),
            };
        }
    }
    let (component, tail) = match first {
        Some(' ') => (spaced.chars().next(), spaced),
        other => (other, &rest[last..]),
    };
    let Some(component) = component else {
        return Err(broken(
            last,
            "the file ends here; it was cut off".to_owned(),
        ));
    };
    let tail = &tail[component.len_utf8()..];
    let length = rest.len() - tail.len();
    let ends = tail.trim_start_matches(' ');
    match ends.chars().next() {
        None => Err(broken(
            length,
            "the file ends here; it was cut off".to_owned(),
        )),
        Some(end) if is_line_end(end) && follows(ends) => made(Some(component), End::Line, length),
        Some(end) if !end.is_alphanumeric() && follows(&ends[end.len_utf8()..]) => {
            made(Some(component), End::Character(end), length)
        }
        Some(end) => Err(broken(
            length,
            format!(
                "{end:?} stands where a segment ends, and no GS follows; ISA has 16 elements, the last one character"
            ),
        )),
    }
}

/// Whether the next line ends with a character: then that ends segments, not the line.
fn other_lines_end_with(rest: &str, end: char) -> bool {
    let mut lines = rest.lines().map(str::trim).filter(|line| !line.is_empty());
    lines.next().is_some_and(|line| line.ends_with(end))
}

/// ISA is as long in every file; one that was mended by hand or lost its spaces is not.
fn odd_isa(isa: &str) -> Option<String> {
    let length = isa.chars().count() + 1;
    (length != 106)
        .then(|| format!("it is {length} characters long with its end; 106 would be right"))
}

/// Separators of a text without ISA: the element separator follows ST or GS, and what stands before the next known
/// segment ends one.
fn guess(rest: &str) -> Separators {
    let element = rest.chars().find(|c| !c.is_alphanumeric()).unwrap_or('*');
    let next = ["ST", "BSN", "HL", "BEG", "BIG", "DTM", "REF"]
        .iter()
        .find_map(|id| {
            let upper = cut(rest, 400).to_ascii_uppercase();
            let pattern = format!("{id}{element}");
            let at = upper.match_indices(&pattern).map(|(at, _)| at).find(|at| {
                *at > 2 && !upper[..*at].ends_with(|c: char| c.is_alphanumeric() || c == element)
            })?;
            let before = rest[..at].trim_end_matches([' ', '\t', '\n', '\r']);
            let gap = at > before.len();
            before.chars().next_back().map(|c| (c, gap))
        });
    let end = match next {
        Some((c, _)) if !c.is_alphanumeric() && c != element => End::Character(c),
        Some((_, true)) => End::Line,
        _ if rest.contains('~') => End::Character('~'),
        _ => End::Line,
    };
    Separators {
        element,
        component: None,
        repetition: None,
        end,
    }
}

/// Returns where a segment stands: number in its set, and place in the text.
pub fn spot(text: &str, lines: &Lines, segment: &Segment<'_>, number: usize) -> Spot {
    Spot {
        segment: u32::try_from(number).ok(),
        ..lines.spot(text, segment.offset)
    }
}
