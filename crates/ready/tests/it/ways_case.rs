//! A job for the tests of ways: an order of ours, so many pieces of each mark, and what people said.

use std::collections::BTreeMap;

use jiff::civil::{Date, date};
use ready::ways::Stock;
use ready::{Build, Coming, Help, Rests, Share, Situation, Supplies, Supply, what_helps};
use tally::{Ordered, State, WaySaid, WaySeen, WayStands};

/// A Wednesday.
pub const TODAY: Date = date(2026, 4, 8);

/// The order of the demo: a round-roofed house of the gothic family.
pub const GOTHIC: &str = include_str!("../../../../demo/order.toml");

/// A longer house of the straight-wall family, with much that can be chosen.
pub const STRAIGHT: &str = r#"
name = "Long house"
family = "sidewall-30"
number = "SG-240"
length = "96 ft"
bow_spacing = "4 ft"

[options]
purlins = "3 lines"
corner_braces = "four"
base = "board"
shade = "30 percent"

[front]
door = "double"

[left]
roll_up = "hand crank"

[right]
roll_up = "hand crank"
"#;

/// A job.
pub struct Case {
    pub ordered: Ordered,
    pub build: Build,
    pub state: State,
    pub supplies: Supplies,
    pub stock: Stock,
    pub stages: Vec<usize>,
    pub today: Date,
    pub day: Option<Date>,
}

impl Case {
    /// All that the house needs is here, without spares.
    pub fn of(order: &str) -> Self {
        let ordered = Ordered::read(order).expect("an order of ours");
        let build = Build::of(&ordered.frame, &ordered.parts);
        let marks = (ordered.parts.lines.iter())
            .map(|line| Supply {
                mark: line.part.mark.0.clone(),
                shares: vec![share(line.quantity, None)],
                built: 0,
            })
            .collect();
        Self {
            ordered,
            build,
            state: State::fold(&[]),
            supplies: Supplies {
                marks,
                coming: Vec::new(),
            },
            stock: Stock::shipped().clone(),
            stages: Vec::new(),
            today: TODAY,
            day: None,
        }
    }

    /// So many more of a mark, or fewer.
    pub fn more(mut self, mark: &str, pieces: i64) -> Self {
        let supply = self.supplies.marks.iter_mut().find(|s| s.mark == mark);
        let supply = supply.unwrap_or_else(|| panic!("{mark} is no part of it"));
        supply.shares[0] = share(supply.shares[0].pieces + pieces, None);
        self
    }

    /// Somebody spoke of a way.
    pub fn said(mut self, mark: &str, way: &str, stands: WayStands) -> Self {
        let said = WaySaid {
            mark: mark.into(),
            way: way.into(),
            quantity: 0,
            stands,
            words: String::new(),
        };
        let plans = &mut self.state.plans;
        plans
            .ways
            .insert((mark.into(), way.into()), WaySeen { said, at: 0 });
        self
    }

    /// So many of a mark are promised for a day.
    pub fn promised(mut self, mark: &str, pieces: i64, coming: Coming) -> Self {
        self.supplies.coming.push(coming);
        let with = self.supplies.coming.len() - 1;
        let supply = self.supplies.marks.iter_mut().find(|s| s.mark == mark);
        supply
            .expect("a mark")
            .shares
            .push(share(pieces, Some(with)));
        self
    }

    /// Up to this stage only.
    pub fn through(mut self, stage: &str) -> Self {
        let at = self.build.stages.iter().position(|s| s.name == stage);
        self.stages.push(at.expect("a stage"));
        self
    }

    pub fn help(&self) -> Help {
        what_helps(&Situation {
            ordered: &self.ordered,
            state: &self.state,
            build: &self.build,
            supplies: &self.supplies,
            stages: &self.stages,
            stock: &self.stock,
            today: self.today,
            day: self.day,
        })
    }

    /// How many the whole build needs, by mark.
    pub fn needs(&self) -> BTreeMap<String, i64> {
        (self.ordered.parts.lines.iter())
            .map(|line| (line.part.mark.0.clone(), line.quantity))
            .collect()
    }
}

fn share(pieces: i64, with: Option<usize>) -> Share {
    Share {
        rests: match with {
            None => Rests::Counted,
            Some(_) => Rests::Promised,
        },
        pieces,
        odds: vec![(pieces, 1.0)],
        with,
        says: String::new(),
    }
}

/// What is short or over, and what was said; not the whole house.
impl std::fmt::Debug for Case {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let needs = self.needs();
        let off: Vec<(&str, i64)> = (self.supplies.marks.iter().zip(self.supplies.here()))
            .map(|(supply, here)| (supply.mark.as_str(), here - needs[&supply.mark]))
            .filter(|(_, off)| *off != 0)
            .collect();
        f.debug_struct("Case")
            .field("off", &off)
            .field("said", &self.state.plans.ways)
            .field("coming", &self.supplies.coming)
            .field("setting", &self.stock.setting)
            .field("day", &self.day)
            .finish()
    }
}
