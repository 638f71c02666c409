//! An order held against its family: every choice settled, or everything that is wrong with it.

use std::collections::BTreeMap;

use measure::{Length, System};

use crate::bays::{LEAST_BAY, no_whole_bays, stations_of, too_short_a_bay, uneven};
use crate::expand::feet_inch;
use crate::family::Family;
use crate::family_file::{Choice, OneOf, Uneven, When};
use crate::order::{Order, Trouble};

/// An order that its family can build.
#[derive(Clone, Debug, PartialEq)]
pub struct Settled {
    /// Centre to centre of the end bows.
    pub length: Length,
    /// Centre to centre of the bows.
    pub bow_spacing: Length,
    /// Bays, the last of which may be shorter.
    pub bays: i64,
    /// Where each bow stands, from the front end bow.
    pub stations: Vec<Length>,
    /// Feet and inches, or metric.
    pub system: System,
    /// Each option of the house with its choice.
    pub options: BTreeMap<String, String>,
    /// Each option of an end with its choice: front, then back.
    pub ends: [BTreeMap<String, String>; 2],
    /// Each option of a side with its choice: left, then right.
    pub sides: [BTreeMap<String, String>; 2],
}

impl Settled {
    /// Whether conditions hold for the house, or, of options that each end or side has, at one of them.
    pub(crate) fn holds(&self, when: &When, end: usize, side: usize) -> bool {
        if when.is_empty() {
            return true;
        }
        when.iter().all(|(key, wanted)| match key.as_str() {
            "bow_spacing" => {
                holds_length(wanted, self.bow_spacing) || wanted.holds(&feet_inch(self.bow_spacing))
            }
            _ => (self.options.get(key))
                .or_else(|| self.ends[end].get(key))
                .or_else(|| self.sides[side].get(key))
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

/// What kind of trouble it is, so that changes can be tried against it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Kind {
    Family,
    Length,
    Spacing,
    Uneven,
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
    Left,
    Right,
}

impl Group {
    const ALL: [Group; 5] = [
        Group::House,
        Group::Front,
        Group::Back,
        Group::Left,
        Group::Right,
    ];

    /// Whether an option stands in this table.
    pub(crate) fn has(self, option: &Choice) -> bool {
        option.tables().contains(&self.name())
    }

    /// The end and the side at which conditions are asked.
    fn place(self) -> (usize, usize) {
        (
            usize::from(self == Group::Back),
            usize::from(self == Group::Right),
        )
    }

    pub(crate) fn name(self) -> &'static str {
        match self {
            Group::House => "options",
            Group::Front => "front",
            Group::Back => "back",
            Group::Left => "left",
            Group::Right => "right",
        }
    }

    pub(crate) fn of(self, order: &mut Order) -> &mut BTreeMap<String, String> {
        match self {
            Group::House => &mut order.options,
            Group::Front => &mut order.front,
            Group::Back => &mut order.back,
            Group::Left => &mut order.left,
            Group::Right => &mut order.right,
        }
    }

    pub(crate) fn read(self, order: &Order) -> &BTreeMap<String, String> {
        match self {
            Group::House => &order.options,
            Group::Front => &order.front,
            Group::Back => &order.back,
            Group::Left => &order.left,
            Group::Right => &order.right,
        }
    }
}

/// Each trouble with its kind.
pub(crate) type Troubles = Vec<(Kind, Trouble)>;

pub(crate) fn settle_alone(order: &Order, family: &Family) -> Result<Settled, Troubles> {
    let mut read = Reading {
        order,
        family,
        troubles: Troubles::new(),
    };
    read.family_name();
    let spacing = read.spacing();
    let (length, stations) = read.length_and_stations(spacing);
    let system = read.system();
    for group in Group::ALL {
        for (key, choice) in group.read(order) {
            read.choice(group, key, choice);
        }
    }
    let mut troubles = read.troubles;
    // What does not go together is said even of an order without a length; the spacing is part of it.
    let Some(spacing) = spacing else {
        return Err(troubles);
    };
    let settled = Settled {
        length: length.unwrap_or(family.size.least_length),
        bow_spacing: spacing,
        bays: stations.len() as i64 - 1,
        stations,
        system,
        options: filled(family, Group::House, order),
        ends: [Group::Front, Group::Back].map(|end| filled(family, end, order)),
        sides: [Group::Left, Group::Right].map(|side| filled(family, side, order)),
    };
    troubles.extend(exclusions(&settled, family));
    if troubles.is_empty() {
        Ok(settled)
    } else {
        Err(troubles)
    }
}

/// An order being read field by field.
struct Reading<'a> {
    order: &'a Order,
    family: &'a Family,
    troubles: Troubles,
}

impl Reading<'_> {
    fn say(&mut self, kind: Kind, field: &str, what: String) {
        let field = field.into();
        self.troubles.push((kind, Trouble { field, what }));
    }

    fn family_name(&mut self) {
        let (asked, is) = (&self.order.family, &self.family.name);
        if asked != is {
            let what = format!("`{asked}` is not `{is}`, whose file this is");
            self.say(Kind::Family, "family", what);
        }
    }

    fn spacing(&mut self) -> Option<Length> {
        let sold = &self.family.size.bow_spacing;
        let Some(text) = &self.order.bow_spacing else {
            return sold.first().copied();
        };
        let what = match Length::read(text, None) {
            Ok(spacing) if sold.contains(&spacing) => return Some(spacing),
            Ok(spacing) => {
                let sold: Vec<String> = sold.iter().map(|s| feet_inch(*s)).collect();
                format!(
                    "{} is not made; there is {}",
                    feet_inch(spacing),
                    sold.join(", ")
                )
            }
            Err(e) => e.to_string(),
        };
        self.say(Kind::Spacing, "bow_spacing", what);
        None
    }

    /// The length as asked, and where the bows stand; only the first where that cannot be said.
    fn length_and_stations(&mut self, spacing: Option<Length>) -> (Option<Length>, Vec<Length>) {
        let length = Length::read(&self.order.length, None);
        if let Err(e) = &length {
            self.say(Kind::Length, "length", e.to_string());
        }
        let uneven = uneven(self.order, self.family);
        if let Err(what) = &uneven {
            self.say(Kind::Uneven, "uneven", what.clone());
        }
        let stations = match (&length, spacing) {
            (Ok(length), spacing) => self.stations(*length, spacing, uneven.unwrap_or_default()),
            (Err(_), _) => None,
        };
        (length.ok(), stations.unwrap_or(vec![Length::ZERO]))
    }

    fn stations(
        &mut self,
        length: Length,
        spacing: Option<Length>,
        uneven: Option<Uneven>,
    ) -> Option<Vec<Length>> {
        let [least, most] = self.family.lengths();
        let what = if length < least || length > most {
            format!(
                "{} is not from {} to {}",
                feet_inch(length),
                feet_inch(least),
                feet_inch(most)
            )
        } else if let Some(last) = too_short_a_bay(length, spacing?, uneven) {
            format!(
                "the last bay would be {}, and no bow stands nearer to the next than {}",
                feet_inch(last),
                feet_inch(LEAST_BAY)
            )
        } else {
            match stations_of(length, spacing?, uneven) {
                Some(stations) => return Some(stations),
                None => no_whole_bays(length, spacing?, self.family),
            }
        };
        self.say(Kind::Length, "length", what);
        None
    }

    fn system(&mut self) -> System {
        match self.order.units.as_deref() {
            None | Some("feet") => System::FeetInch,
            Some("metric") => System::Metric,
            Some(other) => {
                let what = format!("`{other}` is no choice; there is feet, metric");
                self.say(Kind::Units, "units", what);
                System::FeetInch
            }
        }
    }

    fn choice(&mut self, group: Group, key: &str, choice: &String) {
        let field = format!("{}.{key}", group.name());
        let options = &self.family.options;
        let known = options.iter().find(|o| o.key == key && group.has(o));
        match known {
            Some(option) if option.choices.contains(choice) => {}
            Some(option) => {
                let what = format!(
                    "`{choice}` is no choice ({}); there is {}",
                    option.says,
                    option.choices.join(", ")
                );
                let key = key.into();
                self.say(Kind::Choice { group, key }, &field, what);
            }
            None => {
                let what = self.no_such_option(group, key);
                let key = key.into();
                self.say(Kind::Key { group, key }, &field, what);
            }
        }
    }

    /// Where an option that stands in the wrong table belongs, or which there are.
    fn no_such_option(&self, group: Group, key: &str) -> String {
        let elsewhere = self.family.options.iter().find(|o| o.key == key);
        match elsewhere.map(|o| o.tables()) {
            Some(["front", ..]) => {
                "each end has its own; it stands under [front] and [back]".into()
            }
            Some(["left", ..]) => {
                "each side has its own; it stands under [left] and [right]".into()
            }
            Some(_) => "the house has one; it stands under [options]".into(),
            None => {
                let keys: Vec<&str> = keys_of(self.family, group).collect();
                let there = if keys.is_empty() {
                    "none".into()
                } else {
                    keys.join(", ")
                };
                format!("there is no such option here; there is {there}")
            }
        }
    }
}

/// The order's choices, with the family's first choice where it says nothing.
fn filled(family: &Family, group: Group, order: &Order) -> BTreeMap<String, String> {
    let said = group.read(order);
    (family.options.iter())
        .filter(|o| group.has(o))
        .filter_map(|o| {
            let choice = said.get(&o.key).or_else(|| o.choices.first())?;
            Some((o.key.clone(), choice.clone()))
        })
        .collect()
}

/// What does not go together, and what needs something that is not there.
fn exclusions(settled: &Settled, family: &Family) -> Troubles {
    let mut troubles = Troubles::new();
    for exclusion in &family.exclusions {
        for (end, side) in family.places_of(&[&exclusion.together]) {
            if settled.holds(&exclusion.together, end, side) {
                let keys = settled.keyed(family, &[&exclusion.together], end, side);
                let said: Vec<String> = keys.iter().map(|key| settled.said(key)).collect();
                let what = format!(
                    "{} do not go together: {}",
                    said.join(" and "),
                    exclusion.why
                );
                troubles.push(together(keys, what));
            }
        }
    }
    for need in &family.needs {
        for (end, side) in family.places_of(&[&need.when, &need.needs]) {
            if settled.holds(&need.when, end, side) && !settled.holds(&need.needs, end, side) {
                let keys = settled.keyed(family, &[&need.when, &need.needs], end, side);
                let (asks, asked) = keys.split_at(need.when.len());
                let asks: Vec<String> = asks.iter().map(|key| settled.said(key)).collect();
                let wants: Vec<String> = (asked.iter().zip(need.needs.values()))
                    .map(|((group, key), wanted)| {
                        let choices: Vec<&str> = wanted.choices().collect();
                        format!("{} = {}", field_name(*group, key), choices.join(" or "))
                    })
                    .collect();
                let what = format!(
                    "{} needs {}: {}",
                    asks.join(" and "),
                    wants.join(" and "),
                    need.why
                );
                troubles.push(together(keys, what));
            }
        }
    }
    troubles
}

fn together(keys: Vec<(Group, String)>, what: String) -> (Kind, Trouble) {
    let field = (keys.first())
        .map(|(group, key)| field_name(*group, key))
        .unwrap_or_default();
    (Kind::Together { keys }, Trouble { field, what })
}

impl Family {
    /// The ends and sides at which conditions must be asked, as (end, side).
    fn places_of(&self, whens: &[&When]) -> Vec<(usize, usize)> {
        let by_end = whens.iter().any(|when| self.is_by_end(when));
        let by_side = whens.iter().any(|when| self.is_by_side(when));
        let ends = if by_end { 2 } else { 1 };
        let sides = if by_side { 2 } else { 1 };
        (0..ends)
            .flat_map(|end| (0..sides).map(move |side| (end, side)))
            .collect()
    }
}

impl Settled {
    /// The options that conditions ask for, each with its table at this end and side.
    fn keyed(
        &self,
        family: &Family,
        whens: &[&When],
        end: usize,
        side: usize,
    ) -> Vec<(Group, String)> {
        let table = |key: &String| {
            let option = family.options.iter().find(|o| o.key == *key);
            (Group::ALL.into_iter())
                .find(|group| {
                    let (at_end, at_side) = group.place();
                    option.is_some_and(|o| group.has(o))
                        && (!option.is_some_and(|o| o.each_end) || at_end == end)
                        && (!option.is_some_and(|o| o.each_side) || at_side == side)
                })
                .unwrap_or(Group::House)
        };
        (whens.iter())
            .flat_map(|when| when.keys())
            .map(|key| (table(key), key.clone()))
            .collect()
    }

    /// "front.door = single".
    fn said(&self, (group, key): &(Group, String)) -> String {
        let (end, side) = group.place();
        let choice = match (group, key.as_str()) {
            (_, "bow_spacing") => Some(feet_inch(self.bow_spacing)),
            (Group::House, _) => self.options.get(key).cloned(),
            (Group::Front | Group::Back, _) => self.ends[end].get(key).cloned(),
            (Group::Left | Group::Right, _) => self.sides[side].get(key).cloned(),
        };
        format!(
            "{} = {}",
            field_name(*group, key),
            choice.unwrap_or_default()
        )
    }
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
        .filter(move |o| group.has(o))
        .map(|o| o.key.as_str())
}
