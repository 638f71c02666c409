//! Reading a file of rules. Whatever is wrong is told with the file, the rule and the field.

use serde::Deserialize;
use serde::de::IntoDeserializer;
use serde::de::value::{Error as WordError, StrDeserializer};
use toml::{Table, Value};

use crate::days::MOST;
use crate::rule::{Note, Period, Rule, RuleSet, Sure, Unit};

/// What is wrong in a file of rules, and where.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{file}, {rule}, field `{field}`: {why}")]
pub struct RuleFault {
    /// The file.
    pub file: String,
    /// The rule, by its name or its number; "the file itself" for what belongs to none.
    pub rule: String,
    /// The field.
    pub field: String,
    /// What is wrong, and what would be right.
    pub why: String,
}

impl RuleFault {
    pub(crate) fn of_file(file: &str, field: &str, why: &str) -> Self {
        Self {
            file: file.into(),
            rule: "the file itself".into(),
            field: field.into(),
            why: why.into(),
        }
    }
}

/// Reads one file of rules.
pub fn read_rules(file: &str, text: &str) -> Result<RuleSet, Vec<RuleFault>> {
    let table: Table = text.parse().map_err(|e: toml::de::Error| {
        vec![RuleFault::of_file(
            file,
            "all of it",
            &format!("is no TOML: {e}"),
        )]
    })?;
    let mut head = Fields::new(file, "the file itself", table);
    let id = head.name("set");
    let title = head.text("title");
    let holds = head.text("holds");
    let rules = head.tables("rule");
    let notes = head.tables("note");
    let mut faults = head.finish();
    let mut set = RuleSet {
        id,
        title,
        holds,
        rules: Vec::new(),
        notes: Vec::new(),
    };
    if rules.is_empty() {
        faults.push(RuleFault::of_file(file, "rule", "there is none"));
    }
    for (at, table) in rules.into_iter().enumerate() {
        match read_rule(file, &set.id, at, table) {
            Ok(rule) if set.rules.iter().any(|r| r.id == rule.id) => faults.push(RuleFault {
                rule: rule.id,
                ..RuleFault::of_file(file, "id", "is the name of another rule of the file")
            }),
            Ok(rule) => set.rules.push(rule),
            Err(more) => faults.extend(more),
        }
    }
    for (at, table) in notes.into_iter().enumerate() {
        let mut fields = Fields::new(file, &format!("note {}", at + 1), table);
        set.notes.push(Note {
            says: fields.text("says"),
            source: fields.text("source"),
            sure: fields.word("sure").unwrap_or(Sure::Memory),
        });
        faults.extend(fields.finish());
    }
    if faults.is_empty() {
        Ok(set)
    } else {
        Err(faults)
    }
}

fn read_rule(file: &str, set: &str, at: usize, table: Table) -> Result<Rule, Vec<RuleFault>> {
    let called = match table.get("id").and_then(Value::as_str) {
        Some(id) => format!("rule \"{id}\""),
        None => format!("rule {}", at + 1),
    };
    let mut fields = Fields::new(file, &called, table);
    let id = fields.name("id");
    let title = fields.text("title");
    let act = fields.word("act");
    let also_met_by = fields.words("also_met_by");
    let by = fields.word("by");
    let to = fields.word("to");
    let harm = fields.words("harm");
    let period = read_period(&mut fields);
    let starts = fields.word("starts");
    let repeats_every = fields.maybe_count("repeats_every");
    let floor = fields.maybe_text("floor");
    let sample = fields.flag("sample");
    let asks = fields.texts("asks");
    let missing_it = fields.text("missing_it");
    let force = fields.word("force");
    let basis = fields.word("basis");
    let source = fields.text("source");
    let sure = fields.word("sure");
    let less_sure = fields.maybe_text("less_sure");
    let check = fields.maybe_text("check");
    if (sure == Some(Sure::Memory) || !less_sure.is_empty()) && check.is_empty() {
        fields.fault(
            "check",
            "is missing: what is from memory, or in part, says what to hold it against",
        );
    }
    let faults = fields.finish();
    match (act, by, to, period, starts, force, basis, sure) {
        (
            Some(act),
            Some(by),
            Some(to),
            Some(period),
            Some(starts),
            Some(force),
            Some(basis),
            Some(sure),
        ) if faults.is_empty() => Ok(Rule {
            id: format!("{set}.{id}"),
            title,
            act,
            also_met_by,
            by,
            to,
            harm,
            period,
            starts,
            repeats_every,
            floor,
            sample,
            asks,
            missing_it,
            force,
            basis,
            source,
            sure,
            less_sure,
            check,
        }),
        _ => Err(faults),
    }
}

/// A period is an amount of a unit, or one of two words that stand alone.
fn read_period(fields: &mut Fields) -> Option<Period> {
    let amount = fields.maybe_count("amount");
    let and_days = fields.maybe_count("and_days").unwrap_or(0);
    let alone = match fields.peek("unit") {
        Some("reasonable time") => Some(Period::Reasonable),
        Some("at the start") => Some(Period::AtTheStart),
        _ => None,
    };
    if let Some(period) = alone {
        fields.text("unit");
        if amount.is_some() || and_days > 0 {
            fields.fault("amount", "has no place beside a unit that is no number");
        }
        return Some(period);
    }
    let unit: Option<Unit> = fields.word("unit");
    if unit.is_some() && amount.is_none() {
        fields.fault("amount", "is missing: how many of the unit");
    }
    Some(Period::Of {
        amount: amount?,
        unit: unit?,
        and_days,
    })
}

/// The fields of one table, taken out one by one; what is left at the end was not known.
struct Fields<'a> {
    file: &'a str,
    rule: String,
    table: Table,
    faults: Vec<RuleFault>,
}

impl<'a> Fields<'a> {
    fn new(file: &'a str, rule: &str, table: Table) -> Self {
        Self {
            file,
            rule: rule.into(),
            table,
            faults: Vec::new(),
        }
    }

    fn fault(&mut self, field: &str, why: &str) {
        self.faults.push(RuleFault {
            file: self.file.into(),
            rule: self.rule.clone(),
            field: field.into(),
            why: why.into(),
        });
    }

    fn peek(&self, field: &str) -> Option<&str> {
        self.table.get(field).and_then(Value::as_str)
    }

    fn maybe_text(&mut self, field: &str) -> String {
        match self.table.remove(field) {
            None => String::new(),
            Some(Value::String(text)) if !text.trim().is_empty() => text,
            Some(_) => {
                self.fault(field, "must be a text that is not empty");
                String::new()
            }
        }
    }

    fn text(&mut self, field: &str) -> String {
        if !self.table.contains_key(field) {
            self.fault(field, "is missing");
        }
        self.maybe_text(field)
    }

    /// A name that stands in logs and calendars.
    fn name(&mut self, field: &str) -> String {
        let name = self.text(field);
        if name
            .chars()
            .any(|c| !(c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-'))
        {
            self.fault(field, "must be of small letters, digits and hyphens");
        }
        name
    }

    fn maybe_count(&mut self, field: &str) -> Option<u32> {
        let value = self.table.remove(field)?;
        let count = value.as_integer().and_then(|n| u32::try_from(n).ok());
        let count = count.filter(|n| (1..=MOST).contains(n));
        if count.is_none() {
            self.fault(field, &format!("must be a whole number from 1 to {MOST}"));
        }
        count
    }

    fn flag(&mut self, field: &str) -> bool {
        match self.table.remove(field) {
            None => false,
            Some(Value::Boolean(flag)) => flag,
            Some(_) => {
                self.fault(field, "must be true or false");
                false
            }
        }
    }

    fn word<T: for<'de> Deserialize<'de>>(&mut self, field: &str) -> Option<T> {
        let text = self.text(field);
        if text.is_empty() {
            None
        } else {
            self.one_of(field, &text)
        }
    }

    fn words<T: for<'de> Deserialize<'de>>(&mut self, field: &str) -> Vec<T> {
        let texts = self.texts(field);
        texts
            .iter()
            .filter_map(|text| self.one_of(field, text))
            .collect()
    }

    /// The names that a field may have are those that its type reads; the message lists them.
    fn one_of<T: for<'de> Deserialize<'de>>(&mut self, field: &str, text: &str) -> Option<T> {
        let word: StrDeserializer<'_, WordError> = text.into_deserializer();
        T::deserialize(word)
            .map_err(|e| self.fault(field, &e.to_string()))
            .ok()
    }

    fn texts(&mut self, field: &str) -> Vec<String> {
        let wrong = "must be a list of texts that are not empty";
        let list = match self.table.remove(field) {
            None => return Vec::new(),
            Some(Value::Array(list)) => list,
            Some(_) => {
                self.fault(field, wrong);
                return Vec::new();
            }
        };
        let texts: Option<Vec<String>> = list
            .into_iter()
            .map(|v| {
                v.as_str()
                    .filter(|t| !t.trim().is_empty())
                    .map(str::to_owned)
            })
            .collect();
        texts.unwrap_or_else(|| {
            self.fault(field, wrong);
            Vec::new()
        })
    }

    fn tables(&mut self, field: &str) -> Vec<Table> {
        let list = match self.table.remove(field) {
            None => return Vec::new(),
            Some(Value::Array(list)) => list,
            Some(_) => {
                self.fault(field, &format!("must be written as [[{field}]]"));
                return Vec::new();
            }
        };
        let mut tables = Vec::new();
        for value in list {
            match value {
                Value::Table(table) => tables.push(table),
                _ => self.fault(field, &format!("must be written as [[{field}]]")),
            }
        }
        tables
    }

    fn finish(mut self) -> Vec<RuleFault> {
        let left: Vec<String> = self.table.keys().cloned().collect();
        for field in left {
            self.fault(&field, "is no field of this table");
        }
        self.faults
    }
}
