//! What a description says: which thing, how long, how thick, which ends. Nothing is guessed that it does not say.

use measure::{Length, Unit, tube};

use crate::limits::MAX_DESCRIPTION;
use crate::matching::ends::{Ends, ends};
use crate::matching::finish::finish;
use crate::matching::measures::{Label, Measure, What, measures};
use crate::matching::nouns::{Kind, Known, Noun, as_known, head_noun, plain_words};
use crate::matching::spoken::as_figures;
use crate::matching::words::{Word, words};

/// A fact and the bytes of the description that say it.
#[derive(Clone, Debug, PartialEq)]
pub struct Fact<T> {
    /// What is said.
    pub value: T,
    /// Bytes from and to.
    pub span: (usize, usize),
}

/// What a description says. Absent means unsaid, never "no".
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Said {
    /// The thing itself.
    pub noun: Option<Noun>,
    /// Overall length; of a fastener the length under the head, of film the longer way.
    pub length: Option<Fact<Length>>,
    /// How far the length may be off for how it was rounded.
    pub slack: Length,
    /// "9 ft 1-5/8 in" may be a length and a size across: these two.
    pub or_apart: Option<(Length, Length)>,
    /// Width of film.
    pub width: Option<Fact<Length>>,
    /// Diameter of a tube as written; the trade's 1-5/8 measures 1.660 in, see [`Said::may_measure`].
    pub across: Option<Fact<Length>>,
    /// How far that may be off for how it was rounded.
    pub across_slack: Length,
    /// Every outside diameter that the name may stand for, as a caliper would read it.
    pub may_measure: Vec<Length>,
    /// Gauge number.
    pub gauge: Option<Fact<u8>>,
    /// Wall thickness.
    pub wall: Option<Fact<Length>>,
    /// Ends.
    pub ends: Option<Fact<Ends>>,
    /// How long the swage is.
    pub swage: Option<Fact<Length>>,
    /// Finish or colour, by our name.
    pub finish: Option<Fact<&'static str>>,
    /// Size of a fastener, such as "5/16", "#12", "M8".
    pub size: Option<Fact<String>>,
    /// Thickness of film.
    pub thickness: Option<Fact<Length>>,
    /// The two sides of a board, smaller first, as written: the trade's 2 x 6 or as it measures.
    pub sides: Option<[Length; 2]>,
    /// How much a cloth shades, in percent.
    pub percent: Option<Fact<u8>>,
    /// Measures of a fitting or of channel that are not its length, smallest first.
    pub fits: Vec<Length>,
    /// Words that the synonym table has not, nor anything like them.
    pub unknown: Vec<String>,
    /// Two or three letters that may be the initials of a thing: "HB".
    pub initials: Option<String>,
    /// Words, as the synonym table knows them.
    pub words: std::collections::BTreeSet<String>,
}

/// Reads a description. Only its first [`MAX_DESCRIPTION`] characters are considered.
pub fn describe(text: &str) -> Said {
    let end = text
        .char_indices()
        .nth(MAX_DESCRIPTION)
        .map_or(text.len(), |(at, _)| at);
    let text = &as_figures(&text[..end]);
    let found = measures(text);
    let mut bare = text.to_owned();
    for measure in &found {
        blank(&mut bare, measure.span);
    }
    let all_words: Vec<Word> = words(&bare);
    let finish = finish(&all_words).map(|(value, span)| Fact { value, span });
    let known = as_known(all_words);
    let noun = head_noun(&bare, &known);
    let kind = noun.as_ref().and_then(kind_of);
    let mut said = Said {
        ends: ends(&words_with_plurals(&bare)).map(|(value, span)| Fact { value, span }),
        finish,
        words: plain_words(&known),
        unknown: known
            .iter()
            .filter(|known| is_strange(known))
            .map(|known| known.word.text.clone())
            .collect(),
        initials: initials(&known),
        percent: percent(text),
        noun,
        ..Said::default()
    };
    sort_out(&found, kind, text, &mut said);
    said
}

/// Whether a word is neither in the table nor one of those that any list may have about it.
fn is_strange(known: &Known) -> bool {
    known.word.text.len() > 2 && known.is_unknown()
}

fn initials(known: &[Known]) -> Option<String> {
    let first = known.iter().find(|known| known.is_unknown())?;
    let text = &first.word.text;
    ((2..=3).contains(&text.len()) && text != "x").then(|| text.clone())
}

/// "50 %", "50PCT", "30 percent".
fn percent(text: &str) -> Option<Fact<u8>> {
    let lower = text.to_ascii_lowercase();
    let at = ["%", "pct", "percent"]
        .iter()
        .find_map(|sign| lower.find(sign))?;
    let number = lower[..at].trim_end();
    let digits = number.bytes().rev().take_while(u8::is_ascii_digit).count();
    let from = number.len() - digits;
    let value = number[from..].parse().ok()?;
    Some(Fact {
        value,
        span: (from, at),
    })
}

/// Blanks a span with as many spaces as it has bytes, so that places stay true.
fn blank(text: &mut String, (from, to): (usize, usize)) {
    text.replace_range(from..to, &" ".repeat(to - from));
}

/// "Ends" says more than "end": both ends are meant.
fn words_with_plurals(text: &str) -> Vec<Word> {
    let mut found = words(text);
    for word in &mut found {
        word.text = text[word.start..word.end].to_lowercase();
    }
    found
}

fn kind_of(noun: &Noun) -> Option<Kind> {
    let first = noun.may_mean.first()?.kind();
    noun.may_mean
        .iter()
        .all(|concept| concept.kind() == first)
        .then_some(first)
}

/// Gives each measure its meaning. What a word beside it says comes first, then how such things are written.
fn sort_out(found: &[Measure], kind: Option<Kind>, text: &str, said: &mut Said) {
    let mut open: Vec<&Measure> = Vec::new();
    for measure in found {
        let span = measure.span;
        if matches!(kind, Some(Kind::Board))
            && !matches!(measure.label, Some(Label::Long | Label::Spacing))
        {
            open.push(measure);
            continue;
        }
        match (&measure.what, measure.label) {
            (What::Gauge(n), _) => put(&mut said.gauge, *n, span),
            (What::Mil(thickness), _) => put(&mut said.thickness, *thickness, span),
            (What::Number(n), _) => put(&mut said.size, format!("#{n}"), span),
            (What::Metric(n), _) => put(&mut said.size, format!("M{n}"), span),
            (What::Length { value, .. } | What::Bare { value, .. }, Some(label))
                if !fastener_size(kind, said, measure) =>
            {
                match label {
                    Label::Across | Label::PipeSize => {
                        across(said, *value, label, span);
                        said.across_slack = measure.slack;
                    }
                    Label::Wall if *value < Length::inches(1) => put(&mut said.wall, *value, span),
                    Label::Wall => open.push(measure),
                    Label::Long => length(said, *value, measure),
                    Label::Wide => put(&mut said.width, *value, span),
                    Label::Swage if *value < Length::feet(1) => put(&mut said.swage, *value, span),
                    Label::Swage => open.push(measure),
                    Label::Spacing => {}
                }
            }
            _ => open.push(measure),
        }
    }
    // "12 gauge, 3/4": a gauge that no tube has is a screw's number.
    let of_a_screw = matches!(kind, Some(Kind::Fastener))
        || kind.is_none() && open.len() == 1 && value_of(open[0]) <= Length::inches(3);
    if of_a_screw
        && said.size.is_none()
        && let Some(gauge) = said.gauge.take_if(|gauge| (6..=14).contains(&gauge.value))
    {
        put(&mut said.size, format!("#{}", gauge.value), gauge.span);
    }
    match kind {
        Some(Kind::Fastener) => fastener(&open, text, said),
        Some(Kind::Film | Kind::Cloth) => film(&open, said),
        Some(Kind::Fitting) => fitting(&open, said),
        Some(Kind::Board) => board(&open, said),
        Some(Kind::Stranger) => {}
        None if is_board(&open) => board(&open, said),
        None if said.size.is_some() => fastener(&open, text, said),
        None if said.thickness.is_some() => film(&open, said),
        None if is_fastener(&open) => fastener(&open, text, said),
        _ => long_thing(&open, said),
    }
}

/// "5/16 dia" of a bolt is its size, not the diameter of a tube.
fn fastener_size(kind: Option<Kind>, said: &Said, measure: &Measure) -> bool {
    kind == Some(Kind::Fastener)
        && said.size.is_none()
        && matches!(measure.label, Some(Label::Across))
}

fn put<T>(fact: &mut Option<Fact<T>>, value: T, span: (usize, usize)) {
    fact.get_or_insert(Fact { value, span });
}

fn length(said: &mut Said, value: Length, measure: &Measure) {
    if said.length.is_none() {
        said.slack = measure.slack;
    }
    put(&mut said.length, value, measure.span);
}

fn across(said: &mut Said, value: Length, label: Label, span: (usize, usize)) {
    if said.across.is_some() {
        return;
    }
    said.across = Some(Fact { value, span });
    let inches = value.to_inches();
    let called = tube::called(&format!("{inches} in"));
    let meant = called
        .iter()
        .filter(|c| label != Label::PipeSize || c.because == tube::Naming::PipeSize);
    said.may_measure = meant.map(|c| c.od).collect();
    if said.may_measure.is_empty() {
        said.may_measure.push(value);
    }
}

fn value_of(measure: &Measure) -> Length {
    match measure.what {
        What::Length { value, .. } | What::Bare { value, .. } | What::Mil(value) => value,
        What::Gauge(_) | What::Number(_) | What::Metric(_) => Length::ZERO,
    }
}

/// Tube, channel, wire, lumber: a small number is a size across, a thin one a wall, the rest is length.
fn long_thing(open: &[&Measure], said: &mut Said) {
    for (index, measure) in open.iter().enumerate() {
        let value = value_of(measure);
        let (is_bare, whole) = match measure.what {
            What::Bare { whole, .. } => (true, whole),
            _ => (false, false),
        };
        let in_chain = measure.joined || open.get(index + 1).is_some_and(|next| next.joined);
        let in_feet = matches!(
            measure.what,
            What::Length {
                unit: Unit::Foot | Unit::Metre,
                ..
            }
        );
        if in_feet {
            if said.length.is_none() && said.across.is_none() {
                said.or_apart = apart(value);
            }
            length(said, value, measure);
        } else if value < Length::sixty_fourths(15) && value > Length::ZERO {
            put(&mut said.wall, value, measure.span);
        } else if value <= Length::inches(4) {
            // "2 posts" is a count; a size across has a fraction, a unit, or stands in a chain.
            if is_bare && whole && !in_chain {
                continue;
            }
            if said.across.is_none() {
                across(said, value, Label::Across, measure.span);
                said.across_slack = measure.slack;
            } else {
                said.fits.push(value);
            }
        } else if is_bare && whole && measure.joined && value <= Length::inches(24) {
            // "1.315 x 10": no tube is 10 in long.
            length(said, scaled(value, Unit::Foot), measure);
        } else if !is_bare || !whole || in_chain {
            length(said, value, measure);
        }
    }
    said.fits.sort();
}

/// "14 ft 1-5/8": whole feet, and a name of a tube that was written after them.
fn apart(value: Length) -> Option<(Length, Length)> {
    let feet = value.as_nanometres() / Length::feet(1).as_nanometres();
    let rest = value - Length::feet(feet);
    let is_name = rest > Length::inches(1) && rest < Length::inches(3) && !is_whole(rest);
    is_name.then(|| (Length::feet(feet), rest))
}

fn is_whole(value: Length) -> bool {
    value.as_nanometres() % Length::inches(1).as_nanometres() == 0
}

/// "2x6" of whole inches that the trade saws, when nothing says what the thing is.
fn is_board(open: &[&Measure]) -> bool {
    let sawn = |measure: &Measure| {
        let inches = value_of(measure).to_inches();
        matches!(measure.what, What::Bare { whole: true, .. })
            && [1.0, 2.0, 4.0, 6.0, 8.0, 10.0, 12.0].contains(&inches)
    };
    open.windows(2)
        .any(|pair| sawn(pair[0]) && pair[1].joined && sawn(pair[1]))
}

/// "5/16 x 2-1/2", "12 x 3/4": a bolt or a screw, when nothing says what the thing is.
fn is_fastener(open: &[&Measure]) -> bool {
    let [first, second] = open else {
        return false;
    };
    let (size, long) = (value_of(first), value_of(second));
    let numbered = matches!(first.what, What::Bare { whole: true, .. })
        && (Length::inches(6)..=Length::inches(14)).contains(&size)
        && long <= Length::inches(3);
    let thick = (Length::sixty_fourths(12)..=Length::sixty_fourths(40)).contains(&size);
    second.joined && (numbered || thick && long <= Length::inches(12))
}

/// Boards come as thickness × width × length, the length in feet when it has no unit and is short.
fn board(open: &[&Measure], said: &mut Said) {
    let first = open.iter().position(|m| {
        let value = value_of(m);
        value > Length::ZERO && value <= Length::inches(13)
    });
    let mut rest: Vec<&Measure> = open.to_vec();
    if let Some(at) = first
        && let Some(second) = open.get(at + 1).filter(|second| second.joined)
    {
        let (one, other) = (value_of(open[at]), value_of(second));
        said.sides = Some([one.min(other), one.max(other)]);
        rest.drain(at..at + 2);
    }
    for measure in rest {
        let value = match measure.what {
            What::Bare { value, whole: true } if measure.joined && value <= Length::inches(40) => {
                scaled(value, Unit::Foot)
            }
            What::Bare { whole: true, .. } if !measure.joined => continue,
            _ => value_of(measure),
        };
        if value > Length::inches(13) {
            length(said, value, measure);
        }
    }
}

fn fastener(open: &[&Measure], text: &str, said: &mut Said) {
    let mut sizes: Vec<&Measure> = open
        .iter()
        .copied()
        .filter(|m| {
            value_of(m) <= Length::feet(1)
                && Some(m.span) != said.size.as_ref().map(|size| size.span)
                && (!matches!(m.what, What::Bare { whole: true, .. }) || m.joined)
        })
        .collect();
    let screw_size = |m: &Measure| match m.what {
        What::Bare { value, whole: true } if (4.0..=14.0).contains(&value.to_inches()) => {
            Some(format!("#{}", value.to_inches()))
        }
        _ => None,
    };
    // "12 x 3/4": a screw's number without its sign.
    if let [first, second, ..] = open
        && said.size.is_none()
        && second.joined
        && let Some(size) = screw_size(first)
    {
        put(&mut said.size, size, first.span);
    }
    let screw = said
        .noun
        .as_ref()
        .is_some_and(|noun| noun.words.contains("screw"));
    let least = Length::sixty_fourths(if screw { 32 } else { 80 });
    // "Bolt 2-1/2", "screws 3/4": one measure too large for a size is a length.
    let length_alone = sizes.len() == 1 && !sizes[0].joined && value_of(sizes[0]) >= least;
    if said.size.is_none() && !sizes.is_empty() && !length_alone {
        // Written the other way round now and then: the size is the smaller of two.
        let backwards = sizes.len() > 1
            && value_of(sizes[0]) > value_of(sizes[1])
            && value_of(sizes[0]) > Length::inches(1);
        let measure = sizes.remove(usize::from(backwards));
        let written = text[measure.span.0..measure.span.1].trim();
        let size = size_name(value_of(measure)).unwrap_or_else(|| written.to_owned());
        put(&mut said.size, size, measure.span);
    }
    let far = open
        .iter()
        .find(|m| m.joined && value_of(m) > Length::feet(1));
    if let Some(measure) = sizes.first() {
        length(said, value_of(measure), measure);
    } else if let Some(measure) = far
        && matches!(measure.what, What::Bare { .. })
    {
        // "5/16 x 64": no bolt is that long in inches.
        length(said, scaled(value_of(measure), Unit::Millimetre), measure);
    }
}

/// "5/16" for 0.3125 in, however written; nothing for what is no sixty-fourth of an inch.
fn size_name(value: Length) -> Option<String> {
    let sixty_fourth = Length::sixty_fourths(1).as_nanometres();
    let n = value.as_nanometres();
    // A numbered screw by its diameter: 0.060 in and 0.013 in more for each number.
    let number = (n - 1_524_000 + 165_100) / 330_200;
    let of_number = 1_524_000 + number * 330_200;
    if n % sixty_fourth != 0 && (4..=14).contains(&number) && (n - of_number).abs() <= 40_000 {
        return Some(format!("#{number}"));
    }
    if n <= 0 || n % sixty_fourth != 0 || n > 128 * sixty_fourth {
        return None;
    }
    let (mut top, mut bottom) = (n / sixty_fourth, 64);
    while top % 2 == 0 && bottom > 1 {
        (top, bottom) = (top / 2, bottom / 2);
    }
    Some(match (top / bottom, top % bottom) {
        (0, part) => format!("{part}/{bottom}"),
        (whole, 0) => whole.to_string(),
        (whole, part) => format!("{whole}-{part}/{bottom}"),
    })
}

/// Film comes as width × length, in feet unless said otherwise.
fn film(open: &[&Measure], said: &mut Said) {
    if said.thickness.is_none() {
        said.thickness = said.wall.take();
    }
    let thin = |m: &&&Measure| matches!(m.what, What::Length { value, .. } if value < Length::millimetres(1));
    if let Some(measure) = open.iter().find(thin) {
        put(&mut said.thickness, value_of(measure), measure.span);
    }
    // No film is 100 ft wide: such numbers are inches.
    let most = open.iter().map(|m| match m.what {
        What::Bare { value, .. } => value.to_inches(),
        _ => 0.0,
    });
    let least_of_two = most.clone().filter(|n| *n > 0.0).fold(f64::MAX, f64::min);
    let bare_unit = if least_of_two < f64::MAX && least_of_two > 100.0 {
        Unit::Inch
    } else {
        Unit::Foot
    };
    let open: Vec<&Measure> = open.iter().copied().filter(|m| !thin(&m)).collect();
    let open = &open[..];
    let next_unit = |index: usize| match open.get(index + 1).map(|m| (&m.what, m.joined)) {
        Some((What::Length { unit, .. }, true)) => Some(*unit),
        _ => None,
    };
    let mut values = Vec::new();
    for (index, measure) in open.iter().enumerate() {
        let in_chain = measure.joined || open.get(index + 1).is_some_and(|next| next.joined);
        let value = match measure.what {
            What::Length { value, .. } => value,
            What::Bare { value, .. } if in_chain => {
                let unit = next_unit(index).unwrap_or(bare_unit);
                scaled(value, unit)
            }
            _ => continue,
        };
        values.push((value, measure.span, in_chain));
    }
    if let [(width, at, true), (length, there, true), ..] = values[..] {
        put(&mut said.width, width, at);
        put(&mut said.length, length, there);
    } else if let [(first, at, _), ..] = values[..] {
        // One measure alone: whichever is not yet said.
        if said.width.is_some() {
            put(&mut said.length, first, at);
        } else if said.length.is_some() {
            put(&mut said.width, first, at);
        } else {
            said.fits.push(first);
        }
    }
}

/// A number read as inches, meant in another unit.
fn scaled(inches: Length, unit: Unit) -> Length {
    let one = match unit {
        Unit::Foot => Length::feet(1),
        Unit::Inch => Length::inches(1),
        Unit::Metre => Length::millimetres(1_000),
        Unit::Centimetre => Length::millimetres(10),
        Unit::Millimetre => Length::millimetres(1),
    };
    let nanometres =
        i128::from(inches.as_nanometres()) * i128::from(one.as_nanometres()) / 25_400_000;
    i64::try_from(nanometres).map_or(inches, Length::nanometres)
}

/// A clamp or a plate fits things of some sizes; which is which its description seldom says.
fn fitting(open: &[&Measure], said: &mut Said) {
    for (index, measure) in open.iter().enumerate() {
        let in_chain = measure.joined || open.get(index + 1).is_some_and(|next| next.joined);
        if matches!(measure.what, What::Bare { whole: true, .. }) && !in_chain {
            continue;
        }
        let value = value_of(measure);
        // No tube that is clamped is 13 in across: such numbers are millimetres.
        let in_millimetres = matches!(measure.what, What::Bare { .. })
            && (13.0..=130.0).contains(&value.to_inches());
        said.fits.push(if in_millimetres {
            scaled(value, Unit::Millimetre)
        } else {
            value
        });
    }
    if let Some(across) = &said.across {
        said.fits.push(across.value);
    }
    said.fits.sort();
}
