//! The two things that a list can say by style: that words are struck through, and that they are not shown.

use std::collections::BTreeMap;

/// Most classes that are remembered.
const MOST: usize = 2_000;

/// What a style does to words.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Looks {
    /// A line goes through them.
    pub struck: bool,
    /// They are not shown.
    pub hidden: bool,
}

/// The classes of a page that strike or hide.
#[derive(Debug, Default)]
pub struct Css {
    classes: BTreeMap<String, Looks>,
}

impl Css {
    /// Reads a style sheet. Rules inside others, such as those for print, are passed over, and so is every selector
    /// that is more than a class.
    pub fn read(&mut self, sheet: &str) {
        let (mut depth, mut from, mut selector) = (0_usize, 0, "");
        for (at, c) in sheet.char_indices() {
            match c {
                '{' => {
                    if depth == 0 {
                        selector = &sheet[from..at];
                        from = at + 1;
                    }
                    depth += 1;
                }
                '}' => {
                    depth = depth.saturating_sub(1);
                    if depth == 0 {
                        if !selector.contains('@') {
                            self.rule(selector, &sheet[from..at]);
                        }
                        from = at + 1;
                    }
                }
                _ => {}
            }
        }
    }

    fn rule(&mut self, selectors: &str, body: &str) {
        let looks = looks(&body.to_ascii_lowercase());
        if looks == Looks::default() {
            return;
        }
        for selector in selectors.split(',') {
            // A page comment before the first rule, and an element before the class, do not matter.
            let selector = selector.trim().trim_start_matches("<!--").trim();
            if let Some((element, class)) = selector.split_once('.')
                && !element.contains([' ', '>', ':', '#', '['])
                && !class.contains([' ', '>', ':', '#', '[', '.'])
                && self.classes.len() < MOST
            {
                self.classes.insert(class.to_owned(), looks);
            }
        }
    }

    /// What an element's own style, in lower case, and its classes do.
    pub fn of(&self, style: &str, classes: &str) -> Looks {
        let mut found = looks(style);
        if !self.classes.is_empty() {
            for looks in classes
                .split_whitespace()
                .filter_map(|class| self.classes.get(class))
            {
                found.struck |= looks.struck;
                found.hidden |= looks.hidden;
            }
        }
        found
    }
}

fn looks(style: &str) -> Looks {
    if style.is_empty() {
        return Looks::default();
    }
    let plain: String = style.chars().filter(|c| !c.is_whitespace()).collect();
    Looks {
        struck: plain.contains("line-through"),
        hidden: plain.contains("display:none")
            || plain.contains("visibility:hidden")
            || plain.contains("mso-hide:all"),
    }
}
