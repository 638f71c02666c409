//! What goes wrong with a delivery, and how often. These frequencies are invented: nobody has counted how often which
//! of these happens. There are three settings so that it shows how much a result leans on them.

use std::collections::{BTreeMap, BTreeSet};

use super::random::Draws;

/// The kinds of error that are planted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    CountedAsLookAlike,
    BundleAsOne,
    CountedTwice,
    PileNotCounted,
    DamagedAside,
    DamagedNoted,
    RowMisread,
    RowForTwoUses,
    PackedForOneUse,
    ListForOther,
    SentForOther,
    SentLookAlike,
    InAnotherBag,
    LeftForLater,
    Short,
    Extra,
}

/// All of them; [`Setting::weights`] goes by this order.
pub const KINDS: [Kind; 16] = [
    Kind::CountedAsLookAlike,
    Kind::BundleAsOne,
    Kind::CountedTwice,
    Kind::PileNotCounted,
    Kind::DamagedAside,
    Kind::DamagedNoted,
    Kind::RowMisread,
    Kind::RowForTwoUses,
    Kind::PackedForOneUse,
    Kind::ListForOther,
    Kind::SentForOther,
    Kind::SentLookAlike,
    Kind::InAnotherBag,
    Kind::LeftForLater,
    Kind::Short,
    Kind::Extra,
];

/// How often what goes wrong.
pub struct Setting {
    pub name: &'static str,
    /// One weight for each of [`KINDS`].
    pub weights: [usize; 16],
}

/// Every kind as often as any other, but for a whole wrong list, which touches everything.
pub const EVEN: Setting = Setting {
    name: "every kind alike",
    weights: [4, 4, 4, 4, 4, 4, 4, 4, 4, 1, 1, 4, 4, 4, 4, 4],
};

/// The sender is careful, the crew counts in the rain.
pub const HURRIED_CREW: Setting = Setting {
    name: "a hurried crew",
    weights: [16, 12, 12, 16, 12, 8, 4, 2, 1, 1, 1, 1, 4, 2, 4, 2],
};

/// The crew counts well, the sender packs badly.
pub const CARELESS_SENDER: Setting = Setting {
    name: "a careless sender",
    weights: [2, 2, 2, 4, 2, 4, 4, 8, 8, 1, 1, 12, 12, 12, 20, 12],
};

/// One thing that went wrong, as it truly was.
#[derive(Debug, Clone, PartialEq)]
pub struct Planted {
    pub kind: Kind,
    /// The mark it is about, and how many pieces; several where a whole bag was not counted.
    pub marks: Vec<(String, i64)>,
    /// What it was counted, read or sent as.
    pub other: Option<String>,
    /// Where it lies.
    pub pile: Option<String>,
    /// The order that the list was made for.
    pub order: Option<String>,
}

impl Planted {
    pub fn new(kind: Kind, mark: &str, quantity: i64) -> Self {
        Self {
            kind,
            marks: vec![(mark.to_owned(), quantity)],
            other: None,
            pile: None,
            order: None,
        }
    }

    pub fn with(mut self, other: &str) -> Self {
        self.other = Some(other.to_owned());
        self
    }

    pub fn at(mut self, pile: &str) -> Self {
        self.pile = Some(pile.to_owned());
        self
    }
}

/// The errors of one delivery: which kinds are still to be planted, and what was.
pub struct Plan {
    to_plant: Vec<Kind>,
    touched: BTreeSet<String>,
    pub planted: Vec<Planted>,
}

impl Plan {
    /// From none to six errors.
    pub fn draw(setting: &Setting, draws: &mut Draws) -> Self {
        let errors = draws.under(7);
        let mut to_plant = Vec::new();
        for _ in 0..errors {
            let kind = KINDS[draws.weighted(&setting.weights)];
            // A list is made for one order.
            let of_other = |kind: &Kind| matches!(kind, Kind::ListForOther | Kind::SentForOther);
            if !of_other(&kind) || !to_plant.iter().any(of_other) {
                to_plant.push(kind);
            }
        }
        Self::of(to_plant)
    }

    /// Just these errors.
    pub fn of(to_plant: Vec<Kind>) -> Self {
        Self {
            to_plant,
            touched: BTreeSet::new(),
            planted: Vec::new(),
        }
    }

    /// How many of a kind are to be planted.
    pub fn of_kind(&self, kind: Kind) -> usize {
        self.to_plant.iter().filter(|k| **k == kind).count()
    }

    /// Draws where an error goes: mostly to marks that no other has touched, for most deliveries have room for all;
    /// one in ten goes anywhere. Nothing where there is no place for it: then it is not planted.
    pub fn place<T: Clone>(
        &mut self,
        places: &[T],
        marks: impl Fn(&T) -> Vec<String>,
        draws: &mut Draws,
    ) -> Option<T> {
        let anywhere = draws.percent(10);
        let free = |place: &&T| anywhere || marks(place).iter().all(|m| !self.touched.contains(m));
        let places: Vec<T> = places.iter().filter(free).cloned().collect();
        let place = draws.one_of(&places)?;
        self.touched.extend(marks(&place));
        Some(place)
    }
}

/// What truly is, which nobody on the site sees whole.
#[derive(Debug, Default)]
pub struct Truth {
    pub planted: Vec<Planted>,
    /// How many the house needs.
    pub needed: BTreeMap<String, i64>,
    /// How many the sender packed, in all loads.
    pub sent: BTreeMap<String, i64>,
    /// How many of these come in a load that is not here.
    pub later: BTreeMap<String, i64>,
    /// Where those lie that are here, pile by pile, whether counted or not.
    pub piles: BTreeMap<(String, String), i64>,
    /// How many rows a person had to put right, that nobody had planted.
    pub put_right: usize,
}

impl Truth {
    /// How many of a mark the sender owes: needed, and in no load at all. What came broken is another matter.
    pub fn owed(&self, mark: &str) -> i64 {
        let of = |numbers: &BTreeMap<String, i64>| numbers.get(mark).copied().unwrap_or(0);
        (of(&self.needed) - of(&self.sent)).max(0)
    }

    /// The piles that a mark lies in.
    pub fn piles_of(&self, mark: &str) -> BTreeSet<&str> {
        let piles = self.piles.keys().filter(|(_, lies)| lies == mark);
        piles.map(|(pile, _)| pile.as_str()).collect()
    }
}
