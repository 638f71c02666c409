//! What matters about the elements of a page: which part lines, which say nothing, which are open.

use html5gum::{HtmlString, StartTag};

/// The first eight letters of an element's name, which tell all that matter here apart.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Name([u8; 8]);

impl Name {
    /// The name of a tag.
    pub fn of(name: &[u8]) -> Self {
        let mut short = [0; 8];
        for (to, from) in short.iter_mut().zip(name) {
            *to = from.to_ascii_lowercase();
        }
        Self(short)
    }

    /// Whether it is one of these.
    pub fn is(self, names: &[&str]) -> bool {
        names.iter().any(|name| Self::of(name.as_bytes()) == self)
    }

    /// Whose content is none of the page's text.
    pub fn is_unread(self) -> bool {
        self.is(&[
            "script", "style", "title", "template", "select", "svg", "object", "comment",
        ])
    }

    /// Which begins and ends a line.
    pub fn is_block(self) -> bool {
        self.is(&[
            "p",
            "div",
            "li",
            "ul",
            "ol",
            "dl",
            "dt",
            "dd",
            "h1",
            "h2",
            "h3",
            "h4",
            "h5",
            "h6",
            "hr",
            "br",
            "pre",
            "center",
            "form",
            "address",
            "section",
            "article",
            "header",
            "footer",
            "blockquote",
            "caption",
            "body",
        ])
    }

    /// Which has no end tag.
    pub fn is_void(self) -> bool {
        self.is(&[
            "br", "hr", "img", "input", "meta", "link", "col", "area", "base", "embed", "source",
            "track", "wbr",
        ])
    }
}

/// An element whose end has not come yet.
#[derive(Clone, Copy, Default)]
pub struct Element {
    /// Its name.
    pub name: Name,
    /// It is not shown.
    pub hidden: bool,
    /// A line goes through its words.
    pub struck: bool,
    /// Its content is none of the page's text.
    pub unread: bool,
}

/// An attribute of a tag.
pub fn attribute(tag: &StartTag<()>, name: &str) -> Option<String> {
    let value = tag.attributes.get(&HtmlString(name.as_bytes().to_vec()))?;
    Some(String::from_utf8_lossy(value).into_owned())
}
