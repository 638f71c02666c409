//! An order: a family, its dimensions, its options; and the nearest orders when it cannot be built.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::family::Family;
use crate::nearest::nearest;
use crate::settle::{Settled, settle_alone};

/// What was bought, as the order file says it and before anything is checked.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Order {
    /// What people call it.
    pub name: String,
    /// The family's name.
    pub family: String,
    /// Centre to centre of the end bows, in any writing.
    pub length: String,
    /// Centre to centre of the bows; the family's first when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bow_spacing: Option<String>,
    /// What to do when the length is no whole number of bays: "short last bay", "equal bays", "long last bay" or
    /// "short end bays", where the family is built so.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub uneven: Option<String>,
    /// The sender's number for it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub number: Option<String>,
    /// Who sends it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sender: Option<String>,
    /// Where it will stand.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub site: Option<String>,
    /// Feet and inches or metric on papers and pages: "feet" or "metric".
    #[serde(skip_serializing_if = "Option::is_none")]
    pub units: Option<String>,
    /// Choices for the whole house.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub options: BTreeMap<String, String>,
    /// Choices for the front end.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub front: BTreeMap<String, String>,
    /// Choices for the back end.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub back: BTreeMap<String, String>,
    /// Choices for the left side, as seen by someone who stands before the front and looks in.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub left: BTreeMap<String, String>,
    /// Choices for the right side.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub right: BTreeMap<String, String>,
}

/// What in an order cannot be built, and what would be right.
#[derive(Clone, Debug, PartialEq)]
pub struct Trouble {
    /// The field of the order file.
    pub field: String,
    /// What is wrong with it.
    pub what: String,
}

/// An order that cannot be built, with the nearest orders that can.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("{}", self.in_words())]
pub struct Refusal {
    /// Everything that is wrong, in the order of the file.
    pub troubles: Vec<Trouble>,
    /// Orders with as few changes as will do, each of which can be built; what changes, then the order.
    /// None where it would take more than eight changes.
    pub nearest: Vec<(Vec<String>, Order)>,
}

impl Refusal {
    fn in_words(&self) -> String {
        let mut said: Vec<String> = self
            .troubles
            .iter()
            .map(|t| format!("{}: {}", t.field, t.what))
            .collect();
        if !self.nearest.is_empty() {
            said.push("the nearest orders that can be built:".into());
            said.extend(
                self.nearest
                    .iter()
                    .map(|(changes, _)| format!("  - {}", changes.join(", "))),
            );
        }
        said.join("\n")
    }
}

/// Why an order file cannot be read at all.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("the order file cannot be read: {0}")]
pub struct OrderForm(String);

/// The largest order file that is read, in bytes; a real one has a few hundred.
pub const MOST_ORDER_BYTES: usize = 64 * 1024;

/// The largest text of an order, in bytes.
const MOST_TEXT_BYTES: usize = 500;

impl Order {
    /// Reads an order file (TOML).
    pub fn read(text: &str) -> Result<Self, OrderForm> {
        if text.len() > MOST_ORDER_BYTES {
            return Err(OrderForm(format!(
                "it has {} bytes, more than the {MOST_ORDER_BYTES} that an order may have",
                text.len()
            )));
        }
        let order: Self =
            toml::from_str(text).map_err(|e| OrderForm(e.to_string().trim_end().into()))?;
        order.check_texts()?;
        Ok(order)
    }

    /// Refuses texts that no paper and no page could hold.
    fn check_texts(&self) -> Result<(), OrderForm> {
        let optional = [
            ("bow_spacing", &self.bow_spacing),
            ("uneven", &self.uneven),
            ("number", &self.number),
            ("sender", &self.sender),
            ("site", &self.site),
            ("units", &self.units),
        ];
        let choices = [
            ("options", &self.options),
            ("front", &self.front),
            ("back", &self.back),
            ("left", &self.left),
            ("right", &self.right),
        ];
        let texts = [
            ("name", &self.name),
            ("family", &self.family),
            ("length", &self.length),
        ]
        .into_iter()
        .chain(
            optional
                .into_iter()
                .filter_map(|(field, text)| Some((field, text.as_ref()?))),
        )
        .chain((choices.into_iter()).flat_map(|(field, table)| {
            table
                .iter()
                .flat_map(move |(key, choice)| [(field, key), (field, choice)])
        }));
        for (field, text) in texts {
            if text.len() > MOST_TEXT_BYTES {
                return Err(OrderForm(format!(
                    "a text of `{field}` has {} bytes, more than the {MOST_TEXT_BYTES} that it may have",
                    text.len()
                )));
            }
        }
        Ok(())
    }

    /// What was chosen: the option in words, such as "front door", and the choice.
    pub fn chosen(&self) -> impl Iterator<Item = (String, &str)> {
        let tables = [
            ("", &self.options),
            ("front ", &self.front),
            ("back ", &self.back),
            ("left ", &self.left),
            ("right ", &self.right),
        ];
        tables.into_iter().flat_map(|(place, table)| {
            (table.iter()).map(move |(key, choice)| {
                let option = format!("{place}{}", key.replace('_', " "));
                (option, choice.as_str())
            })
        })
    }

    /// Writes the order file.
    pub fn write(&self) -> String {
        toml::to_string(self).expect("an order is a table of texts, which TOML can always hold")
    }

    /// Settles the order against its family, or says what cannot be built and what could.
    pub fn settle(&self, family: &Family) -> Result<Settled, Refusal> {
        settle_alone(self, family).map_err(|troubles| {
            let nearest = nearest(self, &troubles, family);
            Refusal {
                troubles: troubles.into_iter().map(|(_, trouble)| trouble).collect(),
                nearest,
            }
        })
    }
}
