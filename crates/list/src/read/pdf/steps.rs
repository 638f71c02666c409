//! The steps of a drawing, one after the other, as ISO 32000-1, 7.8.2 writes them.
//!
//! Our own, because the library looks for the end of a picture among the steps by reading all that follows it, again at
//! each place where it might be. This one goes over each byte once.

use super::gate;

/// One step: what is done, and with what.
pub struct Step<'c> {
    /// What is done: `Tj`, `re`; `BI` for a whole picture among the steps.
    pub what: &'c [u8],
    /// What it is done with, to be written down again: numbers, names, texts, arrays of these.
    pub with: Vec<u8>,
    /// The numbers that stand alone.
    pub numbers: Vec<f64>,
    /// The names that stand alone, without their slash.
    pub names: Vec<&'c [u8]>,
}

/// Most numbers, and most names, that are kept of one step.
const MOST: usize = 40;

/// Reads steps.
pub struct Steps<'c> {
    bytes: &'c [u8],
    at: usize,
}

impl<'c> Steps<'c> {
    /// Begins with the first step.
    pub fn of(bytes: &'c [u8]) -> Self {
        Self { bytes, at: 0 }
    }

    fn peek(&self, ahead: usize) -> Option<u8> {
        self.bytes.get(self.at + ahead).copied()
    }

    /// Takes bytes as long as they are such.
    fn run(&mut self, such: impl Fn(u8) -> bool) -> &'c [u8] {
        let rest = &self.bytes[self.at..];
        let length = rest.iter().position(|byte| !such(*byte));
        let (run, _) = rest.split_at(length.unwrap_or(rest.len()));
        self.at += run.len();
        run
    }

    /// Takes a text in round brackets; nothing when it has no end.
    fn text(&mut self) -> Option<&'c [u8]> {
        let start = self.at;
        let mut open = 0;
        while let Some(byte) = self.peek(0) {
            self.at += 1;
            match byte {
                b'\\' => self.at = (self.at + 1).min(self.bytes.len()),
                b'(' => open += 1,
                b')' => open -= 1,
                _ => {}
            }
            if open == 0 {
                return self.bytes.get(start..self.at);
            }
        }
        None
    }

    /// Goes on behind a picture among the steps: where `EI` stands alone and what follows is text.
    fn behind_picture(&mut self) {
        let rest = &self.bytes[self.at..];
        let Some(data) = gate::find(rest, b"ID") else {
            self.at = self.bytes.len();
            return;
        };
        let mut at = data + 2;
        while let Some(step) = gate::find(&rest[at..], b"EI") {
            at += step;
            let alone = is_space(rest[at - 1])
                && rest.get(at + 2).is_none_or(|byte| is_space(*byte))
                && rest[at + 2..]
                    .iter()
                    .take(24)
                    .all(|byte| byte.is_ascii() && *byte != 0);
            at += 2;
            if alone {
                self.at += at;
                return;
            }
        }
        self.at = self.bytes.len();
    }
}

impl<'c> Iterator for Steps<'c> {
    type Item = Step<'c>;

    fn next(&mut self) -> Option<Step<'c>> {
        let (mut with, mut numbers, mut names) = (Vec::new(), Vec::new(), Vec::new());
        let (mut arrays, mut tables) = (0_usize, 0_usize);
        let mut add = |part: &[u8]| {
            with.extend_from_slice(part);
            with.push(b' ');
        };
        while let Some(byte) = self.peek(0) {
            let written = tables == 0;
            match byte {
                byte if is_space(byte) => self.at += 1,
                b'%' => {
                    self.run(|byte| !matches!(byte, b'\r' | b'\n'));
                }
                b'(' => {
                    let text = self.text()?;
                    if written {
                        add(text);
                    }
                }
                b'<' if self.peek(1) == Some(b'<') => {
                    (self.at, tables) = (self.at + 2, tables + 1);
                }
                b'<' => {
                    self.at += 1;
                    let digits = self.run(|byte| byte.is_ascii_hexdigit() || is_space(byte));
                    if written {
                        add(&[b"<", digits, b">"].concat());
                    }
                }
                b'>' => {
                    tables = tables.saturating_sub(usize::from(self.peek(1) == Some(b'>')));
                    self.at += if self.peek(1) == Some(b'>') { 2 } else { 1 };
                }
                // An array within an array is none that a drawing has.
                b'[' | b']' => {
                    self.at += 1;
                    let now = if byte == b'[' {
                        arrays + 1
                    } else {
                        arrays.saturating_sub(1)
                    };
                    if written && arrays.max(now) == 1 && arrays != now {
                        add(&[byte]);
                    }
                    arrays = now;
                }
                b'/' => {
                    self.at += 1;
                    let name = self.run(is_regular);
                    if written && arrays == 0 {
                        add(&[b"/", name].concat());
                        names.push(name);
                        names.truncate(MOST);
                    }
                }
                b'0'..=b'9' | b'+' | b'-' | b'.' => {
                    let number = self.run(is_regular);
                    let plain = number
                        .iter()
                        .all(|byte| matches!(byte, b'0'..=b'9' | b'+' | b'-' | b'.'));
                    if plain && written {
                        add(number);
                        if arrays == 0 {
                            let text = std::str::from_utf8(number).unwrap_or("");
                            numbers.push(text.parse().unwrap_or(0.0));
                            numbers.truncate(MOST);
                        }
                    }
                }
                byte if is_regular(byte) => {
                    let what = self.run(is_regular);
                    if tables > 0 || matches!(what, b"true" | b"false" | b"null") {
                        continue;
                    }
                    if what == b"BI" {
                        self.behind_picture();
                    }
                    let open = if arrays > 0 { &b"]"[..] } else { b"" };
                    with.extend_from_slice(open);
                    return Some(Step {
                        what,
                        with,
                        numbers,
                        names,
                    });
                }
                _ => self.at += 1,
            }
        }
        None
    }
}

fn is_space(byte: u8) -> bool {
    matches!(byte, 0 | b'\t' | b'\n' | 12 | b'\r' | b' ')
}

fn is_regular(byte: u8) -> bool {
    !is_space(byte)
        && !matches!(
            byte,
            b'(' | b')' | b'<' | b'>' | b'[' | b']' | b'{' | b'}' | b'/' | b'%'
        )
}
