//! Left and right in one count: "2 L + 2 R", "1 left 1 right", "2 ea L/R", "3 L/R", "1 ea L / 1 ea R".

/// How many of each hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hands {
    /// Left ones.
    pub left: i64,
    /// Right ones.
    pub right: i64,
    /// One count stands for both, and it is not said whether for each or together.
    pub unclear: bool,
}

/// A word of such a count.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Token {
    Number(i64),
    Left,
    Right,
    Each,
}

/// Reads a cell that counts left and right ones and says nothing else.
pub fn hands(cell: &str) -> Option<Hands> {
    if cell.len() > 40 || !cell.contains(['l', 'L']) || !cell.contains(['r', 'R']) {
        return None;
    }
    let tokens = tokens(cell)?;
    use Token::{Each, Left, Number, Right};
    let both = |left, right, unclear| {
        Some(Hands {
            left,
            right,
            unclear,
        })
    };
    let said: Vec<Token> = tokens.into_iter().filter(|token| *token != Each).collect();
    match said[..] {
        [Number(l), Left, Number(r), Right] | [Left, Number(l), Right, Number(r)] => {
            both(l, r, false)
        }
        [Number(r), Right, Number(l), Left] | [Right, Number(r), Left, Number(l)] => {
            both(l, r, false)
        }
        [Number(n), Left, Right]
        | [Number(n), Right, Left]
        | [Left, Right, Number(n)]
        | [Right, Left, Number(n)] => both(n, n, true),
        _ => None,
    }
}

fn tokens(cell: &str) -> Option<Vec<Token>> {
    let mut found = Vec::new();
    let mut rest = cell;
    while let Some(first) = rest.chars().next() {
        let is_digit = first.is_ascii_digit();
        if !is_digit && !first.is_alphabetic() {
            if !matches!(
                first,
                ' ' | '+' | '/' | ',' | ';' | '&' | '-' | '.' | '(' | ')' | ':'
            ) {
                return None;
            }
            rest = &rest[first.len_utf8()..];
            continue;
        }
        let same = |c: char| {
            if is_digit {
                c.is_ascii_digit()
            } else {
                c.is_alphabetic()
            }
        };
        let len = rest.find(|c| !same(c)).unwrap_or(rest.len());
        let (word, after) = rest.split_at(len);
        rest = after;
        found.push(match word.to_lowercase().as_str() {
            "l" | "lh" | "left" | "lt" => Token::Left,
            "r" | "rh" | "right" | "rt" => Token::Right,
            "ea" | "each" => Token::Each,
            "and" | "pcs" | "pc" | "hand" | "of" | "x" => continue,
            digits => Token::Number(digits.parse().ok().filter(|n| *n <= 1_000_000)?),
        });
        if found.len() > 6 {
            return None;
        }
    }
    Some(found)
}
