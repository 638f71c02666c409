//! Which rows of the lists are on a page: so many of each at a time, that a long list's page is there at once on a phone.

use maud::{Markup, html};
use serde::Deserialize;
use tally::Digest;

use crate::address;

/// The most rows of a list, and the most of its other lines, that are on a page.
pub(crate) const MOST: usize = 200;

/// Which rows are shown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Shown {
    /// Those to look at first, then the others.
    First,
    /// Only those to look at.
    Look,
    /// All, as they stand in the list.
    All,
}

/// What a page's address asks for. What makes no sense is as if it were not there.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct Asked {
    rows: Option<String>,
    /// How many rows lie before the first that is shown, of the list below.
    from: Option<String>,
    /// A list, by its anchor.
    list: Option<String>,
    /// A row that is to be on the page, by its anchor; its list is then shown from where that takes.
    row: Option<String>,
}

impl Asked {
    pub fn shown(&self) -> Shown {
        match self.rows.as_deref() {
            Some("look") => Shown::Look,
            Some("all") => Shown::All,
            _ => Shown::First,
        }
    }

    /// Whether it asks for a row of this list, or for a part of it.
    pub fn is_for(&self, list: &Digest) -> bool {
        let digest = list.to_string();
        let row = address::list_row_anchor(&digest, "");
        self.row.as_ref().is_some_and(|it| it.starts_with(&row))
            || self
                .list
                .as_ref()
                .is_some_and(|it| *it == address::list_anchor(&digest))
    }

    /// The place of the first row of a list on the page; `rows` are all of them, in the order of the page.
    pub fn from(&self, list: &Digest, rows: &[&list::Row]) -> usize {
        let digest = list.to_string();
        let wanted = match (&self.row, &self.list) {
            (Some(row), _) if row.starts_with(&address::list_row_anchor(&digest, "")) => {
                let anchor = |it: &list::Row| address::list_row_anchor(&digest, &it.at.to_string());
                rows.iter().position(|it| anchor(it) == *row)
            }
            (_, Some(list)) if *list == address::list_anchor(&digest) => {
                self.from.as_ref().and_then(|from| from.parse().ok())
            }
            _ => None,
        };
        let last = rows.len().saturating_sub(1);
        wanted.unwrap_or(0).min(last) / MOST * MOST
    }
}

/// The ways to the rows before and after, where not all are on the page.
pub(crate) fn ways(shown: Shown, list: &tally::ListSeen, from: usize, all: usize) -> Markup {
    let rows = match shown {
        Shown::First => "first",
        Shown::Look => "look",
        Shown::All => "all",
    };
    let anchor = address::list_anchor(&list.digest.to_string());
    let to = |from: usize| format!("/list?rows={rows}&list={anchor}&from={from}#{anchor}");
    let end = (from + MOST).min(all);
    html! {
        @if all > MOST {
            nav.row.no-print aria-label={ "Rows of " (list.name) } {
                span { "Rows " (from + 1) " to " (end) " of " (all) }
                @if from > 0 { a.button href=(to(from.saturating_sub(MOST))) { "The " (MOST) " before" } }
                @if end < all { a.button href=(to(end)) { "The next " (MOST.min(all - end)) } }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_address_that_makes_no_sense_shows_the_first_rows() {
        let list = Digest::of(b"a list");
        let anchor = address::list_anchor(&list.to_string());
        let at = |from: &str, list_asked: &str, rows: usize| {
            let asked = Asked {
                from: Some(from.into()),
                list: Some(list_asked.into()),
                ..Asked::default()
            };
            let row = list::Row::default();
            asked.from(&list, &vec![&row; rows])
        };
        assert_eq!(at("nonsense", &anchor, 1000), 0);
        assert_eq!(at("200", "list-other", 1000), 0);
        assert_eq!(at("200", &anchor, 1000), 200);
        assert_eq!(at("399", &anchor, 1000), 200);
        assert_eq!(at("99999999", &anchor, 1000), 800);
        assert_eq!(at("200", &anchor, 0), 0);
    }
}
