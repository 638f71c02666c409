//! Every measure in a description, as it stands, before anyone says what it is a measure of.

use measure::{Length, Unit, gauge};

/// A measure and where it stood.
#[derive(Clone, Debug, PartialEq)]
pub struct Measure {
    /// What was read.
    pub what: What,
    /// What a word beside it says that it is a measure of.
    pub label: Option<Label>,
    /// An `x` stands between the measure before and this one.
    pub joined: bool,
    /// Bytes of the description, from and to.
    pub span: (usize, usize),
}

/// A measure, by how it is written.
#[derive(Clone, Debug, PartialEq)]
pub enum What {
    /// A length with its unit.
    Length {
        /// How much.
        value: Length,
        /// Its (first) unit.
        unit: Unit,
    },
    /// A number without a unit, read as inches; `whole` when it has no fraction and no decimals.
    Bare {
        /// How much, were it inches.
        value: Length,
        /// A whole number.
        whole: bool,
    },
    /// A gauge number.
    Gauge(u8),
    /// A thickness in thousandths of an inch, or microns made into it.
    Mil(Length),
    /// A screw size, "#12".
    Number(u8),
    /// A metric thread, "M8".
    Metric(u8),
}

/// What a word beside a measure says of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Label {
    /// OD, dia.
    Across,
    /// Wall, thick.
    Wall,
    /// Long, length.
    Long,
    /// Wide.
    Wide,
    /// A nominal pipe size.
    PipeSize,
    /// Swage, overlap.
    Swage,
    /// Spacing, on centre: no measure of the part itself.
    Spacing,
}

/// Returns the measures of a description from left to right.
pub fn measures(text: &str) -> Vec<Measure> {
    let mut found: Vec<Measure> = Vec::new();
    let mut at = 0;
    while at < text.len() {
        let Some((what, len)) = starts_at(text, at) else {
            at += step(text, at);
            continue;
        };
        let before = &text[found.last().map_or(0, |last| last.span.1)..at];
        let joined = !found.is_empty() && is_times(before);
        found.push(Measure {
            what,
            label: None,
            joined,
            span: (at, at + len),
        });
        at += len;
    }
    for index in 0..found.len() {
        found[index].label = label(text, &found, index);
    }
    found
}

/// How far to go on when no measure starts here: over the whole run of a code or a number that is no measure.
fn step(text: &str, at: usize) -> usize {
    let rest = &text[at..];
    let first = rest.chars().next().map_or(1, char::len_utf8);
    if !rest.starts_with(|c: char| c.is_alphanumeric()) {
        return first;
    }
    let times = rest.starts_with(['x', 'X'])
        && rest[1..].starts_with(|c: char| c.is_ascii_digit() || c == '.');
    if times && !text[..at].ends_with(char::is_alphabetic) {
        return first;
    }
    // A code such as `GP-14` or `12A` is one run; an x between numbers is not part of it.
    let in_run = |c: char| c.is_alphanumeric() || c == '-' || c == '_';
    let run = rest.find(|c| !in_run(c)).unwrap_or(rest.len());
    let joined = rest.char_indices().skip(1).find(|(i, c)| {
        matches!(c, 'x' | 'X')
            && rest[i + 1..].starts_with(|n: char| n.is_ascii_digit())
            && rest[..*i].ends_with(|b: char| b.is_ascii_digit())
    });
    joined.map_or(run, |(i, _)| run.min(i)).max(first)
}

fn starts_at(text: &str, at: usize) -> Option<(What, usize)> {
    let rest = &text[at..];
    let before = text[..at].chars().next_back();
    if before.is_some_and(|c| c.is_alphanumeric() && !matches!(c, 'x' | 'X' | '×')) {
        return None;
    }
    if before == Some('x') || before == Some('X') {
        // `5/16x2`: the x must itself follow a number or an inch mark.
        let earlier = text[..at - 1].chars().next_back();
        if earlier.is_some_and(char::is_alphabetic) {
            return None;
        }
    }
    if let Some(digits) = rest.strip_prefix(['M', 'm']) {
        let (n, len) = whole_number(digits)?;
        let ends =
            !digits[len..].starts_with(|c: char| c.is_alphabetic() && !matches!(c, 'x' | 'X'));
        return (ends && (3..=30).contains(&n)).then_some((What::Metric(n as u8), len + 1));
    }
    if rest.starts_with(['#', '№']) {
        return numbered(rest);
    }
    let starts_number = rest.starts_with(|c: char| c.is_ascii_digit() || "½¼¾⅛⅜⅝⅞".contains(c))
        || (rest.starts_with('.') && rest[1..].starts_with(|c: char| c.is_ascii_digit()));
    if !starts_number {
        return None;
    }
    gauged(rest)
        .or_else(|| thin(rest))
        .or_else(|| threaded(rest))
        .or_else(|| length(rest))
}

/// `#12`, `#12-14`, `#14 ga`.
fn numbered(rest: &str) -> Option<(What, usize)> {
    if let Some((gauge, len)) = gauge::read_start(rest) {
        return Some((What::Gauge(gauge.number()), len));
    }
    let mark = rest.chars().next()?.len_utf8();
    let spaces = rest[mark..].len() - rest[mark..].trim_start().len();
    let (n, len) = whole_number(&rest[mark + spaces..])?;
    let mut end = mark + spaces + len;
    // The thread count, `-14` or `-24`, is no length.
    if let Some(thread) = rest[end..].strip_prefix('-')
        && let Some((14..=40, thread_len)) = whole_number(thread)
        && !thread[thread_len..].starts_with('/')
    {
        end += 1 + thread_len;
    }
    (n <= 24 && !rest[end..].starts_with(char::is_alphabetic)
        || rest[end..].starts_with(['x', 'X']))
    .then_some((What::Number(n.min(99) as u8), end))
}

fn gauged(rest: &str) -> Option<(What, usize)> {
    if let Some((gauge, len)) = gauge::read_start(rest) {
        return Some((What::Gauge(gauge.number()), len));
    }
    // `16 gage`, `16g`, which the table's own reader does not take.
    let (n, len) = whole_number(rest)?;
    let after = rest[len..].trim_start_matches([' ', '-']);
    let word = after
        .find(|c: char| !c.is_alphabetic())
        .map_or(after, |end| &after[..end]);
    let is_gauge = ["gage", "gauges", "gages", "gg"]
        .iter()
        .any(|w| word.eq_ignore_ascii_case(w))
        || (word.eq_ignore_ascii_case("g") && rest[len..].len() == after.len());
    (is_gauge && (7..=30).contains(&n))
        .then(|| (What::Gauge(n as u8), rest.len() - after.len() + word.len()))
}

/// `6 mil`, `6-mil`, `150 micron`, `150 µm`.
fn thin(rest: &str) -> Option<(What, usize)> {
    let len = rest
        .find(|c: char| !c.is_ascii_digit() && c != '.')
        .unwrap_or(rest.len());
    let number: f64 = rest[..len].parse().ok()?;
    let after = rest[len..].trim_start_matches([' ', '-', '\u{a0}']);
    let word = after
        .find(|c: char| !c.is_alphabetic())
        .map_or(after, |end| &after[..end]);
    let nanometres = match word.to_lowercase().as_str() {
        "mil" | "mils" | "ml" => number * 25_400.0,
        "micron" | "microns" | "mic" | "um" | "µm" | "μm" => number * 1_000.0,
        _ => return None,
    };
    let end = rest.len() - after.len() + word.len();
    (nanometres < 1e8).then(|| {
        (
            What::Mil(Length::nanometres(nanometres.round() as i64)),
            end,
        )
    })
}

/// `5/16-18`: a bolt's size with its thread count, which a reader of lengths rightly refuses.
fn threaded(rest: &str) -> Option<(What, usize)> {
    let (_, top) = whole_number(rest)?;
    let below = rest[top..].strip_prefix('/')?;
    let (_, bottom) = whole_number(below)?;
    let size = top + 1 + bottom;
    let thread = rest[size..].strip_prefix('-')?;
    let (count, len) = whole_number(thread)?;
    let ends = !thread[len..]
        .starts_with(|c: char| c.is_alphanumeric() && !matches!(c, 'x' | 'X') || c == '/');
    let value = Length::read(&rest[..size], Some(Unit::Inch)).ok()?;
    ((11..=32).contains(&count) && ends).then_some((
        What::Bare {
            value,
            whole: false,
        },
        size + 1 + len,
    ))
}

fn length(rest: &str) -> Option<(What, usize)> {
    if let Some((value, len)) = Length::read_start(rest, None) {
        let (value, len) = with_loose_inches(rest, value, len);
        let unit = first_unit(&rest[..len]);
        return Some((What::Length { value, unit }, len));
    }
    let (value, len) = Length::read_start(rest, Some(Unit::Inch))?;
    let whole = rest[..len].trim().bytes().all(|b| b.is_ascii_digit());
    Some((What::Bare { value, whole }, len))
}

/// `10' 6` at the end of a phrase: the loose 6 are inches. Followed by more it could be anything, and is left.
fn with_loose_inches(rest: &str, value: Length, len: usize) -> (Length, usize) {
    let after = &rest[len..];
    let number = after.trim_start().trim_start_matches('-').trim_start();
    let digits = number
        .find(|c: char| !c.is_ascii_digit() && !"-/. ½¼¾⅛⅜⅝⅞".contains(c))
        .unwrap_or(number.len());
    let digits = number[..digits].trim_end().len();
    let end = rest.len() - number.len() + digits;
    let ends_phrase = rest[end..].is_empty() || rest[end..].starts_with([',', ';', ')']);
    if digits == 0 || !ends_phrase || first_unit(&rest[..len]) != Unit::Foot {
        return (value, len);
    }
    Length::read(&rest[..end], None).map_or((value, len), |whole| (whole, end))
}

fn first_unit(text: &str) -> Unit {
    let after = text.trim_start_matches(|c: char| !c.is_alphabetic() && !"'\"’”″′`´".contains(c));
    let after = after.to_lowercase();
    let is = |starts: &[&str]| starts.iter().any(|s| after.starts_with(s));
    if is(&["''", "’’", "′′"]) {
        Unit::Inch
    } else if is(&["f", "'", "’", "′", "`", "´"]) {
        Unit::Foot
    } else if is(&["mm", "mil"]) {
        Unit::Millimetre
    } else if is(&["cm", "cen"]) {
        Unit::Centimetre
    } else if is(&["m"]) {
        Unit::Metre
    } else {
        Unit::Inch
    }
}

fn whole_number(text: &str) -> Option<(u32, usize)> {
    let len = text
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(text.len());
    text[..len.min(9)].parse().ok().map(|n| (n, len))
}

/// Whether the text between two measures says "times".
fn is_times(between: &str) -> bool {
    let lower = between.trim().trim_end_matches(['.', ' ']).to_lowercase();
    let Some(head) = ["×", "x", "*", "by"]
        .iter()
        .find_map(|times| lower.strip_suffix(times))
    else {
        return false;
    };
    let head = head.trim().trim_matches(['.', ',', '(', ')']);
    head.is_empty() || label_of(head).is_some()
}

fn label(text: &str, found: &[Measure], index: usize) -> Option<Label> {
    let (start, end) = found[index].span;
    let until = found.get(index + 1).map_or(text.len(), |next| next.span.0);
    let from = if index == 0 {
        0
    } else {
        found[index - 1].span.1
    };
    let after = text[end..until].trim_start_matches([' ', '-', '.']);
    let word = after
        .find(|c: char| !c.is_alphanumeric() && !matches!(c, '.' | '/'))
        .map_or(after, |to| &after[..to]);
    if let Some(label) = label_of(word) {
        return Some(label);
    }
    let before = text[from..start].trim_end_matches([' ', '=', ':', '.']);
    let word = before
        .rfind(|c: char| !c.is_alphanumeric() && c != '.')
        .map_or(before, |at| &before[at..]);
    let label = label_of(word.trim_start_matches(|c: char| !c.is_alphanumeric()))?;
    // A label after the measure before belongs to that one: `1-5/8 OD 14 ga`.
    let taken = index > 0 && found[index - 1].label == Some(label);
    (!taken).then_some(label)
}

fn label_of(word: &str) -> Option<Label> {
    Some(match word.trim_end_matches('.').to_lowercase().as_str() {
        "od" | "o.d" | "dia" | "diam" | "diameter" | "o/d" | "outside" | "ø" => Label::Across,
        "wall" | "wt" | "thk" | "thick" | "thickness" => Label::Wall,
        "long" | "lg" | "lgth" | "length" | "len" | "l" | "overall" | "oal" => Label::Long,
        "wide" | "w" | "width" => Label::Wide,
        "nps" | "nominal" | "nom" | "ips" => Label::PipeSize,
        "swage" | "swaged" | "swedge" | "swedged" | "swg" | "overlap" | "lap" | "insert"
        | "reduced" | "crimp" | "crimped" => Label::Swage,
        "oc" | "o.c" | "o/c" | "spacing" | "centers" | "centres" | "bays" | "bay" | "apart" => {
            Label::Spacing
        }
        _ => return None,
    })
}
