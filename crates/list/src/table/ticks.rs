//! What stands around a count and changes nothing: ticks, and words such as "qty" and "only". Common practice, no
//! source.

/// Takes off marks of whoever ticked the row off, and words that change nothing. Also whether one was a cross, which may mean
/// that the thing was not there.
pub fn without_ticks(cell: &str) -> (&str, bool) {
    const TICKS: [char; 15] = [
        '☑', '✓', '✔', '√', '☐', '□', '■', '▢', '✅', '☒', '✗', '✘', '•', '*', '|',
    ];
    const BEFORE: [&str; 9] = [
        "[x]",
        "[ ]",
        "[]",
        "[v]",
        "quantity:",
        "qty:",
        "qty.",
        "qty",
        "x ",
    ];
    const AFTER: [&str; 12] = [
        "[x]",
        "[ ]",
        "[]",
        "[v]",
        " only",
        " off",
        "-off",
        " total",
        " in total",
        " ok",
        " nos",
        "/ea",
    ];
    let cross = cell.contains(['✗', '✘']);
    let mut text = cell.trim();
    loop {
        let mut next = text.trim_matches(TICKS).trim();
        let starts = |text: &str, word: &str| {
            text.get(..word.len())
                .is_some_and(|head| head.eq_ignore_ascii_case(word))
        };
        if let Some(word) = BEFORE.iter().find(|word| starts(next, word)) {
            next = next[word.len()..].trim_start();
        }
        let ends = |text: &str, word: &str| {
            let from = text.len().checked_sub(word.len());
            from.and_then(|from| text.get(from..))
                .is_some_and(|tail| tail.eq_ignore_ascii_case(word))
        };
        if let Some(word) = AFTER.iter().find(|word| ends(next, word)) {
            next = next[..next.len() - word.len()].trim_end();
        }
        // "x12" and "12x" stand beside the thing elsewhere on the line.
        let times = ['x', 'X', '×'];
        let digit = |c: char| c.is_ascii_digit();
        if let Some(rest) = next
            .strip_prefix(times)
            .filter(|rest| rest.starts_with(digit))
        {
            next = rest;
        }
        if let Some(rest) = next
            .strip_suffix(times)
            .filter(|rest| rest.ends_with(digit))
        {
            next = rest;
        }
        if next == text {
            return (text, cross);
        }
        text = next;
    }
}
