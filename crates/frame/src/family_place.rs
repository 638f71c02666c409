//! Where in a family file something stands, and faults that point at the line.

use std::ops::Range;

use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A place in the file: from the outermost table in.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct At(Vec<Step>);

#[derive(Clone, Debug, PartialEq)]
enum Step {
    Key(String),
    Nth(usize),
}

impl At {
    pub(crate) fn table(name: &str) -> Self {
        Self(vec![Step::Key(name.into())])
    }

    /// A rule of the family, counted from its first of that kind.
    pub(crate) fn rule(table: &str, index: usize) -> Self {
        Self::table(table).nth(index)
    }

    /// A member by the number of its rule.
    pub(crate) fn member(rule: usize) -> Self {
        Self::rule("member", rule)
    }

    /// What a member is called, where the whole rule is meant: its first line says nothing to a reader.
    pub(crate) fn role(rule: usize) -> Self {
        Self::member(rule).field("role")
    }

    /// What no line of the file is to blame for by itself.
    pub(crate) fn nowhere() -> Self {
        Self(Vec::new())
    }

    pub(crate) fn field(&self, name: &str) -> Self {
        self.then(Step::Key(name.into()))
    }

    pub(crate) fn nth(&self, index: usize) -> Self {
        self.then(Step::Nth(index))
    }

    fn then(&self, step: Step) -> Self {
        Self(self.0.iter().cloned().chain([step]).collect())
    }

    /// The part of the text that is meant: the last step of the way that the file has.
    fn find(&self, file: &Spanned<DeTable<'_>>) -> Option<Range<usize>> {
        let (first, steps) = self.0.split_first()?;
        let Step::Key(name) = first else { return None };
        let mut at = file.get_ref().get(name.as_str())?;
        for step in steps {
            let inner = match (step, at.get_ref()) {
                (Step::Key(key), DeValue::Table(table)) => table.get(key.as_str()),
                (Step::Nth(index), DeValue::Array(array)) => array.get(*index),
                // One table where there may be several.
                (Step::Nth(0), DeValue::Table(_)) => Some(at),
                _ => None,
            };
            match inner {
                Some(inner) => at = inner,
                None => break,
            }
        }
        Some(at.span())
    }
}

/// What is wrong with a family file, and where.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Fault {
    pub at: At,
    pub what: String,
}

/// The faults in words, each with its line of the file.
pub(crate) fn in_words(faults: &[Fault], text: &str) -> Vec<String> {
    let file = DeTable::parse(text).ok();
    (faults.iter())
        .map(|fault| {
            let span = file.as_ref().and_then(|file| fault.at.find(file));
            match span {
                Some(span) => pointed(&fault.what, span, text),
                None => fault.what.clone(),
            }
        })
        .collect()
}

fn pointed(what: &str, span: Range<usize>, text: &str) -> String {
    // A table is pointed at by its first line alone.
    let first_line = text[span.clone()]
        .find('\n')
        .map_or(span.end, |n| span.start + n);
    let line = 1 + text[..span.start].matches('\n').count();
    let snippet = Snippet::source(text)
        .annotation(AnnotationKind::Primary.span(span.start..first_line.max(span.start + 1)));
    let report = [Level::ERROR
        .with_name(format!("line {line}"))
        .primary_title(what)
        .element(snippet)];
    Renderer::plain().render(&report)
}
