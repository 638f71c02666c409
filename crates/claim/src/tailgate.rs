//! The ten minutes before the driver leaves: what to do, and what taking or refusing means.

use crate::rule::Sure;

/// Something said, with where that is from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cited {
    /// In plain words.
    pub says: &'static str,
    /// Where it is from.
    pub source: &'static str,
    /// How surely it is known.
    pub sure: Sure,
}

/// What can be done with a delivery.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Choice {
    /// Take it, and write on the receipt what is wrong.
    TakeWithNote,
    /// Take it, and sign with nothing written.
    SignClear,
    /// Do not take it.
    Refuse,
}

/// What to do in the ten minutes, in order.
pub const TEN_MINUTES: [Cited; 9] = [
    Cited {
        says: "Photograph the load in the truck, before anything is moved.",
        source: "common practice, no source",
        sure: Sure::Memory,
    },
    Cited {
        says: "Look at the seals: their numbers, and whether they are whole, broken or missing.",
        source: "41 CFR 101-40.701 to .707 (old rules for federal property)",
        sure: Sure::Seen,
    },
    Cited {
        says: "Look at the truck, and whether the load was well stowed, blocked and braced.",
        source: "41 CFR 101-40.701 to .707 (old rules for federal property)",
        sure: Sure::Seen,
    },
    Cited {
        says: "Count what comes off, pallets, crates and bundles, with tally strokes. Do not copy the number from the bill.",
        source: "41 CFR 101-40.701 to .707 (old rules for federal property)",
        sure: Sure::Seen,
    },
    Cited {
        says: "Hold your count against the freight bill. The parts inside are counted later; keep both counts.",
        source: "trade usage",
        sure: Sure::Memory,
    },
    Cited {
        says: "Photograph each harm wide, so that the unit and its label are seen, then close, with a tape beside it.",
        source: "common practice, no source",
        sure: Sure::Memory,
    },
    Cited {
        says: "Write each difference in words on BOTH copies of the receipt, the carrier's and yours.",
        source: "41 CFR 101-40.701 to .707 (old rules for federal property); 41 CFR 102-118.225",
        sure: Sure::Seen,
    },
    Cited {
        says: "Sign and date both, and ask the driver to sign beside the note. If the driver will not, write that down.",
        source: "41 CFR 101-40.701 to .707 (old rules for federal property); what to do if the driver will not: our own advice",
        sure: Sure::Seen,
    },
    Cited {
        says: "Keep goods and packing as they are until the carrier has inspected, and keep further harm from them.",
        source: "41 CFR 101-40.701 to .707 (old rules for federal property); NMFC item 300135",
        sure: Sure::Seen,
    },
];

/// What can be done with a delivery, the usual one first.
pub const CHOICES: [Choice; 3] = [Choice::TakeWithNote, Choice::SignClear, Choice::Refuse];

impl Choice {
    /// Returns the choice in a few words.
    pub fn title(self) -> &'static str {
        match self {
            Choice::TakeWithNote => "Take it, and write what is wrong",
            Choice::SignClear => "Sign with nothing written",
            Choice::Refuse => "Refuse it",
        }
    }

    /// Returns what the choice means where these rule sets hold, a sentence or two each.
    pub fn means(self, sets: &[&str]) -> Vec<Cited> {
        let all: &[Told] = match self {
            Choice::TakeWithNote => &TAKE_WITH_NOTE,
            Choice::SignClear => &SIGN_CLEAR,
            Choice::Refuse => &REFUSE,
        };
        (all.iter())
            .filter(|told| match told.set {
                Holds::Always => true,
                Holds::Under(set) => sets.contains(&set),
                Holds::Without(set) => !sets.contains(&set),
            })
            .map(|told| told.cited)
            .collect()
    }
}

/// A sentence, and under which rule set it is told.
struct Told {
    set: Holds,
    cited: Cited,
}

enum Holds {
    Always,
    Under(&'static str),
    Without(&'static str),
}

const fn told(set: Holds, says: &'static str, source: &'static str, sure: Sure) -> Told {
    Told {
        set,
        cited: Cited { says, source, sure },
    }
}

const NO_CLAIM: &str = "The note is not yet a claim, and does not stop the clock for one. The claim is a paper of its own.";

const TAKE_WITH_NOTE: [Told; 4] = [
    told(
        Holds::Always,
        "The goods are yours to look after, and the receipt says what was wrong when they came.",
        "our own reading of common practice, no source",
        Sure::Memory,
    ),
    told(
        Holds::Under("us-motor"),
        NO_CLAIM,
        "49 CFR 370.3(c) (the heading seen, details from memory)",
        Sure::Seen,
    ),
    told(
        Holds::Without("us-motor"),
        NO_CLAIM,
        "common practice, no source",
        Sure::Memory,
    ),
    told(
        Holds::Always,
        "A note to the carrier tells the sender nothing: tell them too.",
        "our own reading: the notices to a carrier and to a seller stand in different rules",
        Sure::Memory,
    ),
];

const SIGN_CLEAR: [Told; 7] = [
    told(
        Holds::Always,
        "A receipt signed with nothing written is evidence, though no proof, that all came in good order.",
        "trade usage and case law",
        Sure::Memory,
    ),
    told(
        Holds::Always,
        "It says so of the pallets and crates that were handed over, not of the parts inside.",
        "trade usage",
        Sure::Memory,
    ),
    told(
        Holds::Under("us-motor"),
        "Harm that could not be seen can still be told to the carrier: within 5 business days, or the time that the \
         carrier sets. Later, you must offer evidence that it did not happen after delivery.",
        "NMFC item 300135",
        Sure::Seen,
    ),
    told(
        Holds::Under("cmr"),
        "Harm that could not be seen can still be told to the carrier, in writing: within 7 days, Sundays and public \
         holidays not counted. After that you must prove more.",
        "CMR 30(1)",
        Sure::SecondHand,
    ),
    told(
        Holds::Under("sea"),
        "Harm that could not be seen can still be told to the carrier, in writing: within 3 calendar days. After that you \
         must prove more.",
        "Hague-Visby rules art. III(6)",
        Sure::SecondHand,
    ),
    told(
        Holds::Under("air"),
        "Harm can still be told to the carrier, in writing: within 14 calendar days.",
        "Montreal convention art. 31",
        Sure::SecondHand,
    ),
    told(
        Holds::Under("rail"),
        "Harm that could not be seen can still be told to the railway: within 7 calendar days.",
        "CIM, by an association's bulletin of July 2024",
        Sure::SecondHand,
    ),
];

const REFUSE: [Told; 5] = [
    told(
        Holds::Always,
        "The goods go back with the driver, and nobody of yours can look at them, count them or keep them dry.",
        "common practice, no source",
        Sure::Memory,
    ),
    told(
        Holds::Under("us-motor"),
        "The old rule for federal property was not to refuse harmed freight, however badly harmed, with narrow \
         exceptions. It binds federal agencies, not you.",
        "41 CFR 101-40 (old)",
        Sure::Seen,
    ),
    told(
        Holds::Under("us-motor"),
        "Freight that is marked for somebody else is not taken.",
        "41 CFR 101-40 (old rules for federal property)",
        Sure::Seen,
    ),
    told(
        Holds::Without("us-motor"),
        "Freight that is marked for somebody else is not taken.",
        "common practice, no source",
        Sure::Memory,
    ),
    told(
        Holds::Always,
        "If you refuse, write why on both copies, photograph it, and tell the sender the same day. Whether you may \
         depends on your contract: ask the sender first.",
        "our own advice",
        Sure::Memory,
    ),
];
