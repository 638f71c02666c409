//! What a sender does the same way every time: who writes the list, what it shows, what goes into which bag and load.

use std::collections::BTreeMap;

use frame::{Line, PartsList};

use super::hands::{HANDS, Hand, Meant};
use super::random::Draws;

/// What a sender does the same way every time, right or wrong.
pub struct Habits {
    pub hand: Hand,
    /// Packs the spares that the family states.
    pub packs_spares: bool,
    /// Writes them on the list.
    pub lists_spares: bool,
    /// Film, cloth and what holds them go with a second load.
    pub two_loads: bool,
    /// One row for a mark, whatever bags it lies in.
    pub one_row: bool,
}

impl Habits {
    pub fn draw(draws: &mut Draws) -> Self {
        let hand = HANDS[draws.under(HANDS.len())];
        let packs_spares = draws.percent(60);
        Self {
            hand,
            packs_spares,
            lists_spares: packs_spares && draws.percent(70),
            two_loads: draws.percent(50),
            one_row: draws.percent(25),
        }
    }

    fn load_of(&self, sub_kit: &str) -> u8 {
        let later = matches!(sub_kit, "cover" | "film" | "cloth");
        1 + u8::from(self.two_loads && later)
    }
}

/// Pieces of one mark, in one package, in one load.
#[derive(Debug, Clone, PartialEq)]
pub struct Lot {
    pub mark: String,
    /// The share of the kit in whose package they are.
    pub bag: String,
    pub load: u8,
    pub quantity: i64,
    /// In a package whose own share has none of the mark.
    pub strays: bool,
}

/// What the list says of each share of the kit, or of the whole where it has one row for a mark.
pub fn rows(parts: &PartsList, habits: &Habits) -> Vec<Meant> {
    let mut rows: Vec<Meant> = Vec::new();
    for lot in lots_with(parts, habits, habits.lists_spares) {
        let whole = |row: &&mut Meant| row.mark == lot.mark && row.load == lot.load;
        match rows.iter_mut().find(whole).filter(|_| habits.one_row) {
            Some(row) => row.quantity += lot.quantity,
            None => rows.push(Meant {
                says: lot.mark.clone(),
                mark: lot.mark,
                sub_kit: if habits.one_row {
                    String::new()
                } else {
                    lot.bag
                },
                load: lot.load,
                quantity: lot.quantity,
            }),
        }
    }
    rows.sort_by_key(|row| row.load);
    let mut order: Vec<String> = Vec::new();
    for row in &rows {
        if !order.contains(&row.sub_kit) {
            order.push(row.sub_kit.clone());
        }
    }
    rows.sort_by_key(|row| order.iter().position(|bag| *bag == row.sub_kit));
    rows
}

pub fn lots(parts: &PartsList, habits: &Habits) -> Vec<Lot> {
    lots_with(parts, habits, habits.packs_spares)
}

/// What goes into which bag; spares come with the first share that needs the mark.
fn lots_with(parts: &PartsList, habits: &Habits, spares: bool) -> Vec<Lot> {
    let mut lots = Vec::new();
    for line in &parts.lines {
        let mut spare = if spares {
            (line.supplied - line.quantity).max(0)
        } else {
            0
        };
        for (bag, needed) in line.sub_kits() {
            let quantity = needed + std::mem::take(&mut spare);
            lots.push(Lot {
                mark: line.part.mark.0.clone(),
                bag: bag.to_owned(),
                load: habits.load_of(bag),
                quantity,
                strays: false,
            });
        }
    }
    lots.retain(|lot| lot.quantity > 0);
    lots
}

/// Each use with the share of the kit that it comes in, where it comes in one.
pub fn uses(line: &Line) -> Vec<(String, i64)> {
    let mut uses: BTreeMap<(&str, &str), i64> = BTreeMap::new();
    for place in &line.places {
        let of = (place.role.as_str(), place.sub_kit.0.as_str());
        *uses.entry(of).or_default() += place.quantity;
    }
    let some = uses.into_iter().filter(|(_, n)| *n > 0);
    some.map(|((_, bag), n)| (bag.to_owned(), n)).collect()
}
