//! An order: a family, its dimensions, its options; and the nearest orders when it cannot be built.

use std::collections::BTreeMap;

use measure::{Length, System};
use serde::{Deserialize, Serialize};

use crate::expand::feet_inch;
use crate::family::{Family, OneOf, When};
use crate::nearest::nearest;

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

/// An order that its family can build.
#[derive(Clone, Debug, PartialEq)]
pub struct Settled {
    /// Centre to centre of the end bows.
    pub length: Length,
    /// Centre to centre of the bows.
    pub bow_spacing: Length,
    /// Whole bays.
    pub bays: i64,
    /// Feet and inches, or metric.
    pub system: System,
    /// Each option of the house with its choice.
    pub options: BTreeMap<String, String>,
    /// Each option of an end with its choice: front, then back.
    pub ends: [BTreeMap<String, String>; 2],
}

impl Settled {
    /// Whether conditions hold for the house, or, of options that each end has, for one end of it.
    pub(crate) fn holds(&self, when: &When, end: usize) -> bool {
        let spacing = feet_inch(self.bow_spacing);
        when.iter().all(|(key, wanted)| match key.as_str() {
            "bow_spacing" => holds_length(wanted, self.bow_spacing) || wanted.holds(&spacing),
            _ => (self.options.get(key).or_else(|| self.ends[end].get(key)))
                .is_some_and(|choice| wanted.holds(choice)),
        })
    }
}

fn holds_length(wanted: &OneOf, length: Length) -> bool {
    let reads = |text: &String| Length::read(text, None) == Ok(length);
    match wanted {
        OneOf::One(text) => reads(text),
        OneOf::Any(texts) => texts.iter().any(reads),
    }
}

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
            ("number", &self.number),
            ("sender", &self.sender),
            ("site", &self.site),
            ("units", &self.units),
        ];
        let choices = [
            ("options", &self.options),
            ("front", &self.front),
            ("back", &self.back),
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

/// What kind of trouble it is, so that changes can be tried against it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Kind {
    Family,
    Length,
    Spacing,
    Units,
    Key { group: Group, key: String },
    Choice { group: Group, key: String },
    Together { keys: Vec<(Group, String)> },
}

/// Which table of the order an option stands in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Group {
    House,
    Front,
    Back,
}

impl Group {
    const ALL: [Group; 3] = [Group::House, Group::Front, Group::Back];

    pub(crate) fn name(self) -> &'static str {
        match self {
            Group::House => "options",
            Group::Front => "front",
            Group::Back => "back",
        }
    }

    pub(crate) fn of(self, order: &mut Order) -> &mut BTreeMap<String, String> {
        match self {
            Group::House => &mut order.options,
            Group::Front => &mut order.front,
            Group::Back => &mut order.back,
        }
    }

    pub(crate) fn read(self, order: &Order) -> &BTreeMap<String, String> {
        match self {
            Group::House => &order.options,
            Group::Front => &order.front,
            Group::Back => &order.back,
        }
    }
}

/// Each trouble with its kind.
pub(crate) type Troubles = Vec<(Kind, Trouble)>;

pub(crate) fn settle_alone(order: &Order, family: &Family) -> Result<Settled, Troubles> {
    let mut troubles = Troubles::new();
    let mut say = |kind: Kind, field: &str, what: String| {
        troubles.push((
            kind,
            Trouble {
                field: field.into(),
                what,
            },
        ));
    };

    if order.family != family.name {
        let what = format!(
            "`{}` is not `{}`, whose file this is",
            order.family, family.name
        );
        say(Kind::Family, "family", what);
    }

    let spacing = match &order.bow_spacing {
        None => family.size.bow_spacing.first().copied(),
        Some(text) => match Length::read(text, None) {
            Ok(spacing) if family.size.bow_spacing.contains(&spacing) => Some(spacing),
            Ok(spacing) => {
                let sold: Vec<String> = family
                    .size
                    .bow_spacing
                    .iter()
                    .map(|s| feet_inch(*s))
                    .collect();
                let what = format!(
                    "{} is not made; there is {}",
                    feet_inch(spacing),
                    sold.join(", ")
                );
                say(Kind::Spacing, "bow_spacing", what);
                None
            }
            Err(e) => {
                say(Kind::Spacing, "bow_spacing", e.to_string());
                None
            }
        },
    };

    let length = match Length::read(&order.length, None) {
        Ok(length) => Some(length),
        Err(e) => {
            say(Kind::Length, "length", e.to_string());
            None
        }
    };
    let (least, most) = (family.size.least_length, family.size.most_length);
    let mut bays = 0;
    if let Some(length) = length {
        if length < least || length > most {
            say(
                Kind::Length,
                "length",
                format!(
                    "{} is not from {} to {}",
                    feet_inch(length),
                    feet_inch(least),
                    feet_inch(most)
                ),
            );
        } else if let Some(spacing) = spacing {
            bays = length.as_nanometres() / spacing.as_nanometres();
            if spacing * bays != length {
                let share = length.to_metres() / spacing.to_metres();
                say(
                    Kind::Length,
                    "length",
                    format!(
                        "{} is {share:.2} bays of {}, and a house has whole bays",
                        feet_inch(length),
                        feet_inch(spacing)
                    ),
                );
            }
        }
    }

    let system = match order.units.as_deref() {
        None | Some("feet") => System::FeetInch,
        Some("metric") => System::Metric,
        Some(other) => {
            say(
                Kind::Units,
                "units",
                format!("`{other}` is no choice; there is feet, metric"),
            );
            System::FeetInch
        }
    };

    for group in Group::ALL {
        for (key, choice) in group.read(order) {
            let field = format!("{}.{key}", group.name());
            let known = family
                .options
                .iter()
                .find(|o| o.key == *key && o.each_end == (group != Group::House));
            match known {
                None => {
                    let keys: Vec<&str> = keys_of(family, group).collect();
                    let there = if keys.is_empty() {
                        "none".into()
                    } else {
                        keys.join(", ")
                    };
                    let elsewhere = (family.options.iter()).find(|o| o.key == *key);
                    let what = match elsewhere.map(|o| o.each_end) {
                        Some(true) => {
                            "each end has its own; it stands under [front] and [back]".into()
                        }
                        Some(false) => "the house has one; it stands under [options]".into(),
                        None => format!("there is no such option here; there is {there}"),
                    };
                    say(
                        Kind::Key {
                            group,
                            key: key.clone(),
                        },
                        &field,
                        what,
                    );
                }
                Some(option) if !option.choices.contains(choice) => {
                    let what = format!(
                        "`{choice}` is no choice ({}); there is {}",
                        option.says,
                        option.choices.join(", ")
                    );
                    say(
                        Kind::Choice {
                            group,
                            key: key.clone(),
                        },
                        &field,
                        what,
                    );
                }
                Some(_) => {}
            }
        }
    }

    // What does not go together is said even of an order without a length; the spacing is part of it.
    let Some(spacing) = spacing else {
        return Err(troubles);
    };
    let settled = Settled {
        length: length.unwrap_or(least),
        bow_spacing: spacing,
        bays,
        system,
        options: filled(family, false, &order.options),
        ends: [
            filled(family, true, &order.front),
            filled(family, true, &order.back),
        ],
    };
    troubles.extend(exclusions(&settled, family));
    if troubles.is_empty() {
        Ok(settled)
    } else {
        Err(troubles)
    }
}

/// The order's choices, with the family's first choice where it says nothing.
fn filled(
    family: &Family,
    each_end: bool,
    said: &BTreeMap<String, String>,
) -> BTreeMap<String, String> {
    (family.options.iter())
        .filter(|o| o.each_end == each_end)
        .filter_map(|o| {
            let choice = said.get(&o.key).or_else(|| o.choices.first())?;
            Some((o.key.clone(), choice.clone()))
        })
        .collect()
}

fn exclusions(settled: &Settled, family: &Family) -> Troubles {
    let mut troubles = Troubles::new();
    for exclusion in &family.exclusions {
        let by_end = |key: &String| family.options.iter().any(|o| o.key == *key && o.each_end);
        let ends: &[Group] = if exclusion.together.keys().any(by_end) {
            &[Group::Front, Group::Back]
        } else {
            &[Group::House]
        };
        for &end in ends {
            if !settled.holds(&exclusion.together, usize::from(end == Group::Back)) {
                continue;
            }
            let keys: Vec<(Group, String)> = (exclusion.together.keys())
                .map(|key| (if by_end(key) { end } else { Group::House }, key.clone()))
                .collect();
            let said: Vec<String> = (keys.iter())
                .map(|(group, key)| {
                    let choice = match (group, key.as_str()) {
                        (_, "bow_spacing") => feet_inch(settled.bow_spacing),
                        (Group::House, _) => settled.options[key].clone(),
                        (Group::Front, _) => settled.ends[0][key].clone(),
                        (Group::Back, _) => settled.ends[1][key].clone(),
                    };
                    format!("{} = {choice}", field_name(*group, key))
                })
                .collect();
            let field = keys
                .first()
                .map(|(group, key)| field_name(*group, key))
                .unwrap_or_default();
            let what = format!(
                "{} do not go together: {}",
                said.join(" and "),
                exclusion.why
            );
            troubles.push((Kind::Together { keys }, Trouble { field, what }));
        }
    }
    troubles
}

fn field_name(group: Group, key: &str) -> String {
    if key == "bow_spacing" {
        key.into()
    } else {
        format!("{}.{key}", group.name())
    }
}

pub(crate) fn keys_of(family: &Family, group: Group) -> impl Iterator<Item = &str> {
    (family.options.iter())
        .filter(move |o| o.each_end == (group != Group::House))
        .map(|o| o.key.as_str())
}
