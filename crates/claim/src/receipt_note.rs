//! What was seen at the truck, in words for the delivery receipt.

/// One thing seen at the truck. Units are what the driver hands over (crates, bundles), never the pieces inside.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SeenAtTruck {
    /// What the unit is.
    pub unit: UnitKind,
    /// What tells it from other units: "bow" of bow bundles. May be empty.
    pub of: String,
    /// The number on the unit's label, where one unit is meant. May be empty.
    pub label: String,
    /// How many the freight bill says.
    pub billed: Option<u32>,
    /// How many came.
    pub received: Option<u32>,
    /// How many of those are harmed.
    pub harmed: u32,
    /// The kind of harm.
    pub harm: Option<HarmKind>,
    /// Where on the unit: "side", "north-east corner". May be empty.
    pub place: String,
    /// Anything more, in your own words: "30 cm split". May be empty.
    pub more: String,
}

/// What a driver hands over.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum UnitKind {
    /// A pallet.
    Pallet,
    /// A crate.
    Crate,
    /// A carton.
    Carton,
    /// A bundle.
    Bundle,
    /// A roll.
    Roll,
    /// A bag.
    Bag,
    /// A drum.
    Drum,
    /// A loose piece.
    #[default]
    Piece,
    /// Another, by its name for one.
    Other(String),
}

/// A kind of harm to a unit, as an eye at the tailgate sees it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum HarmKind {
    /// Bent.
    Bent,
    /// Broken.
    Broken,
    /// Crushed.
    Crushed,
    /// Dented.
    Dented,
    /// Torn.
    Torn,
    /// Wet.
    Wet,
    /// Open, or opened before.
    Open,
    /// Rusted.
    Rusted,
    /// Scratched.
    Scratched,
    /// Another, in a word or two.
    Other(String),
}

/// The seal of the vehicle.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Seal {
    /// Its number; empty if it cannot be read.
    pub number: String,
    /// How it was.
    pub state: SealState,
}

/// How a seal was.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SealState {
    /// Whole.
    Whole,
    /// Broken.
    Broken,
    /// Missing.
    Missing,
}

/// Words for the receipt.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReceiptNote {
    /// To be copied onto both copies of the receipt.
    pub words: String,
    /// What was not said, a question each.
    pub lacking: Vec<String>,
}

/// Returns what was seen, in words that are ready to be copied onto both copies of the receipt.
pub fn receipt_note(seen: &[SeenAtTruck], seal: Option<&Seal>) -> ReceiptNote {
    let mut parts: Vec<String> = seen.iter().flat_map(SeenAtTruck::in_words).collect();
    if parts.is_empty() {
        parts.extend(seen.iter().filter_map(SeenAtTruck::whole));
    }
    parts.extend(seal.map(Seal::in_words));
    let mut words = parts.join("; ");
    if !words.is_empty() {
        words.push('.');
    }
    ReceiptNote {
        words,
        lacking: seen.iter().flat_map(SeenAtTruck::lacking).collect(),
    }
}

impl SeenAtTruck {
    /// What is short or over, then what is harmed.
    fn in_words(&self) -> Vec<String> {
        let mut parts = Vec::new();
        if let (Some(billed), Some(received)) = (self.billed, self.received)
            && billed != received
        {
            let (off, word) = match billed > received {
                true => (billed - received, "short"),
                false => (received - billed, "over"),
            };
            parts.push(format!(
                "{off} {} {word} ({billed} billed, {received} received)",
                self.name(off)
            ));
        }
        if self.harmed > 0 || self.harm.is_some() {
            parts.push(self.harm_in_words());
        }
        parts
    }

    /// "2 of 12 bow bundles bent"; "1 of 3 crates, label 4417: side broken, 30 cm split". A number that nobody said is a
    /// blank, to be filled in by hand: none of ours goes onto a receipt.
    fn harm_in_words(&self) -> String {
        let (harmed, many) = match self.harmed {
            0 => ("__".into(), 2),
            harmed => (harmed.to_string(), harmed),
        };
        let mut words = match self.received.or(self.billed) {
            Some(all) if all >= self.harmed => format!("{harmed} of {all} {}", self.name(all)),
            _ => format!("{harmed} {}", self.name(many)),
        };
        let label = tidy(&self.label);
        if !label.is_empty() {
            words.push_str(&format!(", label {label}"));
        }
        let harm = self
            .harm
            .as_ref()
            .map_or_else(|| "harmed".into(), |harm| tidy(harm.words()));
        let place = tidy(&self.place);
        if place.is_empty() {
            words.push_str(&format!(" {harm}"));
        } else {
            words.push_str(&format!(": {place} {harm}"));
        }
        let more = tidy(&self.more);
        let more = more.trim_end_matches('.');
        if !more.is_empty() {
            words.push_str(&format!(", {more}"));
        }
        words
    }

    /// What is said of units with which nothing is wrong, if nothing is wrong with any.
    fn whole(&self) -> Option<String> {
        let (billed, received) = (self.billed?, self.received?);
        let name = self.name(received);
        Some(format!(
            "{received} {name} counted of {billed} billed, no harm seen from outside"
        ))
    }

    fn lacking(&self) -> Vec<String> {
        let many = self.name(2);
        let mut lacking = Vec::new();
        if self.billed.is_none() {
            lacking.push(format!("How many {many} does the freight bill say?"));
        }
        if self.received.is_none() {
            lacking.push(format!("How many {many} came off the truck? Count them."));
        }
        if let Some(received) = self.received
            && self.harmed > received
        {
            lacking.push(format!(
                "{} {many} are harmed, but {received} came: which is right?",
                self.harmed
            ));
        }
        if self.harm.is_some() && self.harmed == 0 {
            lacking.push(format!("How many {many} are harmed?"));
        }
        if self.harmed > 0 || self.harm.is_some() {
            if self.harm.as_ref().is_none_or(|h| h.words().is_empty()) {
                lacking.push(format!(
                    "What happened to the {many}: bent, broken, crushed, torn, wet?"
                ));
            }
            if self.place.trim().is_empty() {
                lacking.push(format!("Where on the {many}: which side, end or corner?"));
            }
        }
        lacking
    }

    fn name(&self, many: u32) -> String {
        let unit = tidy(&self.unit.words(many));
        match tidy(&self.of) {
            of if of.is_empty() => unit,
            of => format!("{of} {unit}"),
        }
    }
}

impl UnitKind {
    /// Every kind with a name of its own.
    pub const ALL: [Self; 8] = [
        Self::Pallet,
        Self::Crate,
        Self::Carton,
        Self::Bundle,
        Self::Roll,
        Self::Bag,
        Self::Drum,
        Self::Piece,
    ];

    /// Returns its name, for so many of them.
    pub fn words(&self, many: u32) -> String {
        let one = match self {
            UnitKind::Pallet => "pallet",
            UnitKind::Crate => "crate",
            UnitKind::Carton => "carton",
            UnitKind::Bundle => "bundle",
            UnitKind::Roll => "roll",
            UnitKind::Bag => "bag",
            UnitKind::Drum => "drum",
            UnitKind::Piece => "piece",
            UnitKind::Other(name) if name.trim().is_empty() => "unit",
            UnitKind::Other(name) => name.trim(),
        };
        if many == 1 {
            one.to_owned()
        } else {
            plural(one)
        }
    }
}

/// One line, with single spaces: it is copied by hand.
fn tidy(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn plural(one: &str) -> String {
    let vowel_before_y = |s: &str| s.chars().next_back().is_some_and(|c| "aeiou".contains(c));
    match one.strip_suffix('y') {
        Some(stem) if !stem.is_empty() && !vowel_before_y(stem) => format!("{stem}ies"),
        _ if ["s", "x", "ch", "sh"].iter().any(|end| one.ends_with(end)) => format!("{one}es"),
        _ => format!("{one}s"),
    }
}

impl HarmKind {
    /// Every kind with a name of its own.
    pub const ALL: [Self; 9] = [
        Self::Bent,
        Self::Broken,
        Self::Crushed,
        Self::Dented,
        Self::Torn,
        Self::Wet,
        Self::Open,
        Self::Rusted,
        Self::Scratched,
    ];

    /// Returns the harm in a word.
    pub fn words(&self) -> &str {
        match self {
            HarmKind::Bent => "bent",
            HarmKind::Broken => "broken",
            HarmKind::Crushed => "crushed",
            HarmKind::Dented => "dented",
            HarmKind::Torn => "torn",
            HarmKind::Wet => "wet",
            HarmKind::Open => "open",
            HarmKind::Rusted => "rusted",
            HarmKind::Scratched => "scratched",
            HarmKind::Other(words) => words.trim(),
        }
    }
}

impl Seal {
    fn in_words(&self) -> String {
        let number = match tidy(&self.number) {
            number if number.is_empty() => "seal".into(),
            number => format!("seal {number}"),
        };
        match self.state {
            SealState::Whole => format!("{number} whole"),
            SealState::Broken => format!("{number} broken"),
            SealState::Missing => format!("{number} missing"),
        }
    }
}
