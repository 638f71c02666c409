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
    /// How far the true measure may be off for how it was rounded, to either side.
    pub slack: Length,
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
        let slack = slack(&what, &text[at..at + len], before);
        found.push(Measure {
            what,
            label: None,
            joined,
            slack,
            span: (at, at + len),
        });
        at += len;
    }
    for index in 0..found.len() {
        found[index].label = label(text, &found, index);
    }
    metric_without_units(text, &mut found);
    found
}

/// Half of the last figure that is written; a twentieth of what is only said to be "about" so.
fn slack(what: &What, text: &str, before: &str) -> Length {
    let What::Length { value, unit } = what else {
        return Length::ZERO;
    };
    const ABOUT: [&str; 12] = [
        "under",
        "bare",
        "some",
        "about",
        "approx",
        "approximately",
        "almost",
        "nearly",
        "around",
        "roughly",
        "ca",
        "over",
    ];
    let word = before.trim_end().trim_end_matches('.');
    let word = word
        .rsplit(|c: char| !c.is_alphabetic())
        .next()
        .unwrap_or("");
    if before.trim_end().ends_with('~') || ABOUT.contains(&word.to_lowercase().as_str()) {
        return Length::nanometres(value.as_nanometres() / 20);
    }
    let point = text.find(['.', ',']).map(|at| &text[at + 1..]);
    let decimals = point.map_or(0, |rest| {
        rest.bytes().take_while(u8::is_ascii_digit).count()
    });
    let one = match unit {
        Unit::Metre => 1_000_000_000,
        Unit::Centimetre => 10_000_000,
        Unit::Millimetre => 1_000_000,
        Unit::Foot if decimals > 0 => 304_800_000,
        Unit::Inch if decimals > 1 => 25_400_000,
        _ => return Length::ZERO,
    };
    // A whole number of metres is a name as often as a measure.
    if *unit == Unit::Metre && decimals == 0 {
        return Length::ZERO;
    }
    Length::nanometres(one / 10_i64.pow(decimals.min(6) as u32) / 2)
}

/// Numbers without a unit beside metric ones, or of tube in a size that only millimetres have, are millimetres.
fn metric_without_units(text: &str, found: &mut [Measure]) {
    let is_metric = |unit: &Unit| matches!(unit, Unit::Metre | Unit::Centimetre | Unit::Millimetre);
    let unit = |measure: &Measure| match &measure.what {
        What::Length { unit, .. } => Some(*unit),
        _ => None,
    };
    let any = |is: &dyn Fn(&Unit) -> bool| found.iter().filter_map(unit).any(|unit| is(&unit));
    let all_metric = any(&is_metric) && !any(&|unit| !is_metric(unit));
    let inches = |measure: &Measure| match measure.what {
        What::Bare { value, .. } => value.to_inches(),
        _ => 0.0,
    };
    // No part is 25 ft long, no film 125 ft wide: such numbers are millimetres, and so are those beside them.
    let lower = text.to_lowercase();
    let has = |words: &[&str]| words.iter().any(|word| lower.contains(word));
    let sheet = has(&[
        "film", "sheet", "poly", "cover", "plastic", "cloth", "screen", "net",
    ]);
    let screw = has(&["screw", "scr", "sds", "tapp", "drill"]);
    let far = if sheet { 1_500.0 } else { 300.0 };
    let any_far = found.iter().any(|measure| inches(measure) >= far);
    let all_metric = all_metric || any_far && !any(&|unit| !is_metric(unit));
    for index in 0..found.len() {
        let What::Bare { value, whole } = found[index].what else {
            continue;
        };
        let written = &text[found[index].span.0..found[index].span.1];
        let next = found.get(index + 1).filter(|next| next.joined);
        let small = whole && value <= Length::inches(14);
        // "2x6" and the number of a screw stay what the trade calls them.
        let sawn =
            |measure: &Measure| [1.0, 2.0, 4.0, 6.0, 8.0, 10.0, 12.0].contains(&inches(measure));
        let timber = whole
            && sawn(&found[index])
            && (next.is_some_and(|next| {
                sawn(next) && matches!(next.what, What::Bare { whole: true, .. })
            }) || found[index].joined && index > 0 && sawn(&found[index - 1]));
        if timber || screw && small && next.is_some() {
            continue;
        }
        let pointed = written.contains(['.', ',']);
        let next_inches = next.map_or(0.0, inches);
        let tube_in_millimetres = (15.0..130.0).contains(&value.to_inches())
            && pointed
            && (0.8..6.0).contains(&next_inches);
        let screw_in_millimetres =
            pointed && (3.0..=8.0).contains(&value.to_inches()) && next_inches >= 12.0;
        let in_pair = tube_in_millimetres || screw_in_millimetres;
        let wide = found[index].label == Some(Label::Across) && value > Length::inches(6);
        let as_next = next.and_then(unit).filter(is_metric);
        if written.contains('/')
            || !(all_metric || in_pair || wide || value.to_inches() >= far || as_next.is_some())
        {
            continue;
        }
        // A film of "12.19 x 15.85 m" is in metres both ways.
        let one = match as_next {
            Some(Unit::Metre) => 1_000_000_000.0,
            Some(Unit::Centimetre) => 10_000_000.0,
            _ => 1_000_000.0,
        };
        let metric = |measure: &Measure| What::Length {
            value: Length::nanometres((inches(measure) * one).round() as i64),
            unit: as_next.unwrap_or(Unit::Millimetre),
        };
        if in_pair && as_next.is_none() {
            found[index + 1].what = metric(&found[index + 1]);
        }
        found[index].slack = Length::nanometres(500_000);
        found[index].what = metric(&found[index]);
    }
}

/// How far to go on when no measure starts here: over the whole run of a code or a number that is no measure.
fn step(text: &str, at: usize) -> usize {
    let rest = &text[at..];
    let first = rest.chars().next().map_or(1, char::len_utf8);
    if !rest.starts_with(|c: char| c.is_alphanumeric()) {
        return first;
    }
    if leads_a_number(text, at + first) {
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
    let lettered = before.is_some_and(|c| c.is_alphanumeric() && !matches!(c, 'x' | 'X' | '×'));
    if lettered && !leads_a_number(text, at) {
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
        .or_else(|| feet_dash_inches(rest))
        .or_else(|| length(rest))
}

/// `L1524`, `D42.2`, `Ø48`: a letter that says what is measured, not the start of a code.
fn leads_a_number(text: &str, at: usize) -> bool {
    let before = &text[..at];
    let Some(letter) = before.chars().next_back() else {
        return false;
    };
    let earlier = before[..before.len() - letter.len_utf8()]
        .chars()
        .next_back();
    let number = &text[at..];
    let len = number
        .find(|c: char| !c.is_ascii_digit() && c != '.')
        .unwrap_or(number.len());
    let long = len >= 3 || matches!(letter, 'Ø' | 'ø' | '⌀');
    matches!(letter, 'L' | 'l' | 'D' | 'd' | 't' | 'Ø' | 'ø' | '⌀')
        && !earlier.is_some_and(char::is_alphanumeric)
        && long
        && number.starts_with(|c: char| c.is_ascii_digit())
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

/// `10' 6`, `9 foot 6 uprights`: the loose 6 are inches, unless what follows says that they count something.
fn with_loose_inches(rest: &str, value: Length, len: usize) -> (Length, usize) {
    const COUNTED: [&str; 14] = [
        "x", "pc", "pcs", "ea", "each", "ga", "gauge", "mil", "per", "od", "of", "bdl", "by", "no",
    ];
    if first_unit(&rest[..len]) != Unit::Foot {
        return (value, len);
    }
    let after = &rest[len..];
    let number = after.trim_start().trim_start_matches('-').trim_start();
    let digits = number
        .find(|c: char| !c.is_ascii_digit() && !"-/. ½¼¾⅛⅜⅝⅞".contains(c))
        .unwrap_or(number.len());
    let digits = number[..digits]
        .trim_end()
        .trim_end_matches(['-', '/', '.'])
        .len();
    let end = rest.len() - number.len() + digits;
    let next = rest[end..].trim_start();
    let word = next
        .find(|c: char| !c.is_alphabetic())
        .unwrap_or(next.len());
    let word = next[..word].to_lowercase();
    let ends = next.is_empty()
        || next.starts_with([',', ';', ')', '('])
        || (rest[end..].starts_with(' ') && !word.is_empty() && !COUNTED.contains(&word.as_str()));
    if digits == 0 || !ends {
        return (value, len);
    }
    let close = format!("{} {}", rest[..len].trim_end(), &number[..digits]);
    match Length::read(&close, None) {
        Ok(whole) if whole - value < Length::feet(1) => (whole, end),
        _ => (value, len),
    }
}

/// `10-7`, `15-6 1/2`: feet and inches without their marks. A fraction, `2-1/2`, is none.
fn feet_dash_inches(rest: &str) -> Option<(What, usize)> {
    let (feet, len) = whole_number(rest)?;
    let after = rest[len..].strip_prefix('-')?;
    let (inches, inch_len) = whole_number(after)?;
    let mut end = len + 1 + inch_len;
    if !(2..=200).contains(&feet) || inches > 11 || inch_len > 2 {
        return None;
    }
    let follows = &rest[end..];
    if follows
        .starts_with(|c: char| c.is_alphanumeric() && c != 'x' && c != 'X' || "/-.'\"".contains(c))
    {
        return None;
    }
    let mut value = Length::feet(i64::from(feet)) + Length::inches(i64::from(inches));
    let fraction = follows.trim_start();
    let width = fraction
        .find(|c: char| !c.is_ascii_digit() && c != '/')
        .unwrap_or(fraction.len());
    if fraction[..width].contains('/')
        && let Ok(part) = Length::read(&fraction[..width], Some(Unit::Inch))
        && part < Length::inches(1)
    {
        value = value + part;
        end = rest.len() - fraction.len() + width;
    }
    let unit = Unit::Foot;
    Some((What::Length { value, unit }, end))
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
    // "5/16 LENGTH 64 MM": the word belongs to the measure that follows it.
    let leads = [
        "length", "len", "dia", "diam", "diameter", "wall", "wt", "ø", "l", "lg", "long",
    ]
    .contains(&word.trim_end_matches('.').to_lowercase().as_str())
        && found.get(index + 1).is_some_and(|next| !next.joined)
        && after[word.len()..]
            .trim_matches([' ', '=', ':', '.'])
            .is_empty();
    if let Some(label) = label_of(word).filter(|_| !leads) {
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
        "d" | "⌀" | "od" | "o.d" | "chs" | "dia" | "diam" | "diameter" | "o/d" | "outside"
        | "ø" => Label::Across,
        "wall" | "t" | "wt" | "thk" | "thick" | "thickness" => Label::Wall,
        "long" | "lg" | "lgth" | "length" | "len" | "l" | "overall" | "oal" => Label::Long,
        "wide" | "w" | "width" => Label::Wide,
        "nps" | "nominal" | "nom" | "ips" => Label::PipeSize,
        "swage" | "swaged" | "swedge" | "swedged" | "swg" | "overlap" | "lap" | "insert"
        | "reduced" | "crimp" | "crimped" => Label::Swage,
        "rad" | "radius" | "oc" | "o.c" | "o/c" | "spacing" | "centers" | "centres" | "bays"
        | "bay" | "apart" => Label::Spacing,
        _ => return None,
    })
}
