//! The pictures that a claim asks for, and which of them are there.

use crate::digest::Digest;
use crate::event::{Condition, Shot};
use crate::evidence::Picture;
use crate::fold::State;
use crate::on_hand::Conditioned;

/// A picture that is asked for, with those that answer it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asked<'a> {
    /// What it is to show.
    pub shot: Shot,
    /// Those that do; empty while it is still to be taken.
    pub taken: Vec<&'a Picture>,
}

/// What was said to be wrong with pieces, and the pictures that prove it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Proof<'a> {
    /// The mark.
    pub mark: &'a str,
    /// What is wrong.
    pub seen: &'a Conditioned,
    /// From far enough away, and near with something of known size.
    pub asked: [Asked<'a>; 2],
}

/// The pictures of the load as it came, and while it was opened. What a claim wants beyond the damage itself: common
/// practice, no one source; the carrier's own terms go before it.
const LOAD: [Shot; 8] = [
    Shot::SideOne,
    Shot::SideTwo,
    Shot::SideThree,
    Shot::SideFour,
    Shot::Top,
    Shot::Labels,
    Shot::Unloading,
    Shot::Packing,
];

/// The documents that support a claim to a carrier: 49 CFR 370.7 names bill of lading, paid freight bill and proof of value
/// (from memory); receipt and inspection report are common practice.
const CLAIM_PAPERS: [Shot; 5] = [
    Shot::Receipt,
    Shot::BillOfLading,
    Shot::FreightBill,
    Shot::Invoice,
    Shot::Inspection,
];

impl Shot {
    /// What it is to show, in words.
    pub fn in_words(self) -> &'static str {
        match self {
            Self::SideOne => "First side",
            Self::SideTwo => "Second side",
            Self::SideThree => "Third side",
            Self::SideFour => "Fourth side",
            Self::Top => "From above",
            Self::Labels => "Labels and marks",
            Self::Unloading => "While it is unloaded",
            Self::Packing => "How it was packed",
            Self::Far => "From far enough to see which piece it is",
            Self::Near => "Near, with a tape or a hand beside it",
            Self::BillOfLading => "Bill of lading",
            Self::FreightBill => "Freight bill, paid",
            Self::Receipt => "Delivery receipt, as signed",
            Self::Invoice => "Invoice, or another proof of value",
            Self::Inspection => "Inspection report",
            Self::Other => "Another picture",
        }
    }

    /// Its name in the log and in forms.
    pub fn name(self) -> String {
        let name = serde_json::to_value(self).ok();
        let name = name.as_ref().and_then(|name| name.as_str());
        name.unwrap_or_default().to_owned()
    }

    /// The shot of a name.
    pub fn named(name: &str) -> Option<Self> {
        serde_json::from_value(name.into()).ok()
    }

    /// Whether it is to be taken before a band is cut.
    pub fn before_the_bands(self) -> bool {
        matches!(
            self,
            Self::SideOne
                | Self::SideTwo
                | Self::SideThree
                | Self::SideFour
                | Self::Top
                | Self::Labels
        )
    }
}

impl State {
    /// Whether a picture stands in the log.
    pub fn has_picture(&self, photo: &Digest) -> bool {
        self.pictures.iter().any(|picture| picture.photo == *photo)
    }

    /// The pictures of a shipment as it came that are asked for; `None` where the order has no shipments by name.
    pub fn load_shots(&self, shipment: Option<&str>) -> Vec<Asked<'_>> {
        let of = |picture: &Picture| {
            picture.of.is_none()
                && match (shipment, &picture.shipment) {
                    (Some(name), Some(shown)) => {
                        self.spellings.known(name).unwrap_or(name) == shown
                    }
                    (None, None) => true,
                    _ => false,
                }
        };
        LOAD.into_iter().map(|shot| self.asked(shot, of)).collect()
    }

    /// The pictures of a shipment's documents that a claim to the carrier rests on.
    pub fn claim_papers(&self, shipment: Option<&str>) -> Vec<Asked<'_>> {
        let of = |picture: &Picture| {
            let known = |name: &str| self.spellings.known(name).unwrap_or(name).to_owned();
            picture.shipment.is_none() || picture.shipment == shipment.map(known)
        };
        (CLAIM_PAPERS.into_iter())
            .map(|shot| self.asked(shot, of))
            .collect()
    }

    /// What was said to be damaged, bent, wet or wrong, with the pictures that are asked for of each.
    pub fn proofs(&self) -> Vec<Proof<'_>> {
        let conditions = (self.marks.iter())
            .flat_map(|(mark, seen)| seen.conditions.iter().map(move |c| (mark.as_str(), c)));
        conditions
            .map(|(mark, seen)| Proof {
                mark,
                seen,
                asked: [Shot::Far, Shot::Near]
                    .map(|shot| self.asked(shot, |picture| picture.of == Some(seen.event))),
            })
            .collect()
    }

    /// How many of the pictures that prove what is wrong are still to be taken.
    pub fn proofs_missing(&self) -> usize {
        let missing = |proof: &Proof<'_>| proof.asked.iter().filter(|a| a.taken.is_empty()).count();
        self.proofs().iter().map(missing).sum()
    }

    fn asked(&self, shot: Shot, of: impl Fn(&Picture) -> bool) -> Asked<'_> {
        let answers = |picture: &&Picture| picture.shot == shot && of(picture);
        Asked {
            shot,
            taken: self.pictures.iter().filter(answers).collect(),
        }
    }
}

impl Proof<'_> {
    /// What is wrong, in words: "2 bent: crushed at the swaged end".
    pub fn in_words(&self) -> String {
        let Conditioned {
            quantity,
            condition,
            words,
            ..
        } = self.seen;
        let said = match words.is_empty() {
            true => String::new(),
            false => format!(": {words}"),
        };
        format!("{quantity} {}{said}", Condition::in_words(*condition))
    }
}
