//! A place in a text that sees typographic characters as the plain ones they stand for.

/// A place in a text. Characters are folded one at a time as they are looked at, so a long text costs
/// only what is read of it, and every place stands between two characters.
#[derive(Clone, Copy)]
pub(crate) struct Cursor<'a> {
    text: &'a str,
    at: usize,
}

impl<'a> Cursor<'a> {
    pub(crate) fn new(text: &'a str) -> Self {
        Self { text, at: 0 }
    }

    /// How many bytes lie behind.
    pub(crate) fn at(&self) -> usize {
        self.at
    }

    /// What lies ahead, unfolded.
    pub(crate) fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or_default()
    }

    /// The next character, folded.
    pub(crate) fn peek(&self) -> Option<char> {
        self.rest().chars().next().map(fold)
    }

    /// The character after the next, folded.
    pub(crate) fn peek_second(&self) -> Option<char> {
        self.rest().chars().nth(1).map(fold)
    }

    pub(crate) fn next_is(&self, test: impl Fn(char) -> bool) -> bool {
        self.peek().is_some_and(test)
    }

    pub(crate) fn bump(&mut self) {
        self.at += self.rest().chars().next().map_or(0, char::len_utf8);
    }

    /// Steps over `wanted` if it is next.
    pub(crate) fn eat(&mut self, wanted: char) -> bool {
        let found = self.peek() == Some(wanted);
        if found {
            self.bump();
        }
        found
    }

    /// Steps over spaces; says whether there was one.
    pub(crate) fn eat_spaces(&mut self) -> bool {
        let start = self.at;
        while self.eat(' ') {}
        self.at > start
    }

    /// Steps over a run of letters and returns it in lower case; `None` when the run is longer than `most`.
    pub(crate) fn eat_word(&mut self, most: usize) -> Option<String> {
        let mut word = String::new();
        while let Some(letter) = self.peek().filter(|c| c.is_alphabetic()) {
            if word.len() >= most {
                return None;
            }
            word.extend(letter.to_lowercase());
            self.bump();
        }
        Some(word)
    }

    /// A number begins here.
    pub(crate) fn at_number(&self) -> bool {
        match self.peek() {
            Some('.') => self.peek_second().is_some_and(|c| c.is_ascii_digit()),
            Some(c) => c.is_ascii_digit() || vulgar(c).is_some(),
            None => false,
        }
    }
}

/// The plain character that `c` stands for.
///
/// Tabs and line ends stay what they are: they part columns and rows, so no length reaches over them.
fn fold(c: char) -> char {
    match c {
        '\t' | '\n' | '\r' | '\u{b}' | '\u{c}' | '\u{85}' | '\u{2028}' | '\u{2029}' => c,
        // Zero-width spaces and the byte order mark come with text from web pages and spreadsheets.
        '\u{200b}' | '\u{2060}' | '\u{feff}' => ' ',
        '‘' | '’' | '‛' | '′' | 'ʹ' | 'ʼ' | '´' | '`' => '\'',
        '“' | '”' | '‟' | '″' | 'ʺ' | '〃' => '"',
        '⁄' | '∕' => '/',
        '\u{2010}'..='\u{2015}' | '\u{2212}' | '\u{fe58}' | '\u{fe63}' => '-',
        // The full-width forms stand in the order of ASCII.
        '\u{ff01}'..='\u{ff5e}' => char::from_u32(c as u32 - 0xfee0).unwrap_or(c),
        _ if c.is_whitespace() => ' ',
        _ => c,
    }
}

/// The fraction that one character stands for, as numerator and denominator.
pub(crate) fn vulgar(c: char) -> Option<(i128, i128)> {
    Some(match c {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅐' => (1, 7),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅑' => (1, 9),
        '⅒' => (1, 10),
        _ => return None,
    })
}
