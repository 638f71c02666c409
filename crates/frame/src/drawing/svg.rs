//! What every drawing is written with: paths in few letters, safe text, line types and letter heights.

use std::fmt::Write as _;

/// Near black.
pub(super) const INK: &str = "#191813";
/// A typeface for drawings: upright, without serifs, found on every machine.
pub(super) const TYPEFACE: &str = "Liberation Sans,Arial,Helvetica,sans-serif";

/// A point of the sheet, in drawing units; `v` goes down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Spot {
    pub u: f64,
    pub v: f64,
}

impl Spot {
    pub(super) fn new(u: f64, v: f64) -> Self {
        Self { u, v }
    }

    pub(super) fn plus(self, along: Spot, times: f64) -> Self {
        Self::new(self.u + along.u * times, self.v + along.v * times)
    }

    pub(super) fn minus(self, other: Spot) -> Self {
        Self::new(self.u - other.u, self.v - other.v)
    }

    pub(super) fn dot(self, other: Spot) -> f64 {
        self.u * other.u + self.v * other.v
    }

    pub(super) fn length(self) -> f64 {
        self.u.hypot(self.v)
    }

    /// The direction, of length one; to the right where there is none.
    pub(super) fn unit(self) -> Self {
        let length = self.length();
        match length > 1e-12 {
            true => Self::new(self.u / length, self.v / length),
            false => Self::new(1.0, 0.0),
        }
    }

    /// A quarter turn, from right to down.
    pub(super) fn turned(self) -> Self {
        Self::new(-self.v, self.u)
    }

    pub(super) fn middle(self, other: Spot) -> Self {
        Self::new((self.u + other.u) / 2.0, (self.v + other.v) / 2.0)
    }
}

/// A path being written in relative steps of a tenth, so that no error adds up.
#[derive(Default)]
pub(super) struct PathText {
    d: String,
    at: (i64, i64),
    start: (i64, i64),
    /// Whether the last command was a line, which need not be said again.
    on_line: bool,
}

impl PathText {
    pub(super) fn move_to(&mut self, to: Spot) {
        let to = (tenths(to.u), tenths(to.v));
        if self.d.is_empty() {
            self.d.push('M');
            self.pair(to);
        } else {
            self.d.push('m');
            self.pair((to.0 - self.at.0, to.1 - self.at.1));
        }
        (self.at, self.start, self.on_line) = (to, to, false);
    }

    /// A line on from where the path is; steps that cannot be seen are left out.
    pub(super) fn line_to(&mut self, to: Spot) {
        let to = (tenths(to.u), tenths(to.v));
        let step = (to.0 - self.at.0, to.1 - self.at.1);
        if step == (0, 0) {
            return;
        }
        match (self.on_line, step.0 < 0) {
            (false, _) => self.d.push('l'),
            (true, false) => self.d.push(' '),
            (true, true) => {}
        }
        self.pair(step);
        (self.at, self.on_line) = (to, true);
    }

    fn pair(&mut self, (u, v): (i64, i64)) {
        write_tenths(&mut self.d, u);
        if v >= 0 {
            self.d.push(' ');
        }
        write_tenths(&mut self.d, v);
    }

    pub(super) fn line(&mut self, points: impl IntoIterator<Item = Spot>) {
        for (i, point) in points.into_iter().enumerate() {
            match i {
                0 => self.move_to(point),
                _ => self.line_to(point),
            }
        }
    }

    pub(super) fn circle(&mut self, middle: Spot, radius: f64) {
        self.move_to(Spot::new(middle.u - radius, middle.v));
        let r = tenths(radius).max(1);
        for across in [2 * r, -2 * r] {
            self.d.push('a');
            write_tenths(&mut self.d, r);
            self.d.push(' ');
            write_tenths(&mut self.d, r);
            self.d.push_str(" 0 1 0 ");
            write_tenths(&mut self.d, across);
            self.d.push_str(" 0");
        }
        self.close();
    }

    pub(super) fn close(&mut self) {
        self.d.push('z');
        (self.at, self.on_line) = (self.start, false);
    }

    pub(super) fn is_empty(&self) -> bool {
        self.d.is_empty()
    }

    pub(super) fn finish(self) -> String {
        self.d
    }
}

fn tenths(value: f64) -> i64 {
    (value * 10.0).round() as i64
}

fn write_tenths(text: &mut String, tenths: i64) {
    if tenths < 0 {
        text.push('-');
    }
    let (whole, rest) = (tenths.unsigned_abs() / 10, tenths.unsigned_abs() % 10);
    let _ = match (whole, rest) {
        (_, 0) => write!(text, "{whole}"),
        (0, _) => write!(text, ".{rest}"),
        _ => write!(text, "{whole}.{rest}"),
    };
}

/// A figure of the drawing as text, to a tenth.
pub(super) fn figure(value: f64) -> String {
    let mut text = String::new();
    write_tenths(&mut text, tenths(value));
    text
}

/// Text made safe for SVG and HTML.
pub fn escape(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            // XML 1.0 has no place for these, not even escaped.
            '\u{0}'..='\u{8}'
            | '\u{b}'
            | '\u{c}'
            | '\u{e}'..='\u{1f}'
            | '\u{fffe}'
            | '\u{ffff}' => {
                safe.push('\u{fffd}');
            }
            _ => safe.push(letter),
        }
    }
    safe
}

/// How wide text will be, near enough to leave room for it.
pub(super) fn text_width(text: &str, size: f64) -> f64 {
    let ems = text.chars().map(|letter| match letter {
        ' ' | '.' | ',' | ':' | ';' | '\'' | '-' | '/' | '·' | 'i' | 'j' | 'l' | 'f' | 't' => 0.31,
        'A'..='Z' | 'm' | 'w' => 0.74,
        letter if letter > '\u{2e80}' => 1.0,
        _ => 0.57,
    });
    ems.sum::<f64>() * size
}

/// Text in lines no wider than asked, broken between words.
pub(super) fn wrapped(text: &str, size: f64, width: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if text_width(line, size) + text_width(word, size) + size < width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.into()),
        }
    }
    lines
}

/// The part of the sheet that is drawn on.
#[derive(Clone, Copy)]
pub(super) struct Extent {
    pub left: f64,
    pub right: f64,
    pub top: f64,
    pub bottom: f64,
}

impl Default for Extent {
    fn default() -> Self {
        Self {
            left: f64::MAX,
            right: f64::MIN,
            top: f64::MAX,
            bottom: f64::MIN,
        }
    }
}

impl Extent {
    pub(super) fn include(&mut self, spot: Spot) {
        self.left = self.left.min(spot.u);
        self.right = self.right.max(spot.u);
        self.top = self.top.min(spot.v);
        self.bottom = self.bottom.max(spot.v);
    }

    /// The `viewBox` with room around; of nothing, a small empty sheet.
    pub(super) fn view_box(&self, margin: f64) -> String {
        if self.left > self.right {
            return "0 0 100 100".into();
        }
        let (left, top) = ((self.left - margin).floor(), (self.top - margin).floor());
        let (right, bottom) = ((self.right + margin).ceil(), (self.bottom + margin).ceil());
        format!("{left} {top} {} {}", right - left, bottom - top)
    }
}
