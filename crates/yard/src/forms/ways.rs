//! A count as its form gives it: how many pieces, and how the number was come by.

use frame::Part;
use measure::{Length, Mass, MassUnit, System, Unit};
use serde::Deserialize;
use tally::{ByWeight, Coils, How, Ring, Sample, SampleIs, Scale, Spread};

use super::whole;
use crate::reply::Failure;

/// The fields of every way of counting; each form fills in its own.
#[derive(Deserialize, Default)]
#[serde(default)]
pub(crate) struct Way {
    by: String,
    quantity: String,
    bundles: String,
    of: String,
    rest: String,
    closed: String,
    sample: String,
    sample_mass: String,
    bag_mass: String,
    tare: String,
    step: String,
    inside: String,
    coils: String,
    coil: String,
    left: String,
    photo: String,
    rings: String,
}

impl Way {
    /// Whether the number follows from what is counted: its length, its finish.
    pub fn asks_what_it_is(&self) -> bool {
        matches!(self.by.as_str(), "weight" | "length")
    }

    /// How many pieces, and how the number was come by; `part` is what is counted, where it is a part of the order.
    pub fn counted(&self, part: Option<&Part>, system: System) -> Result<(i64, How), Failure> {
        match self.by.as_str() {
            "" | "piece" => Ok((whole("the number of pieces", &self.quantity)?, How::Piece)),
            "bundle" => self.bundles(),
            "weight" => self.weight(part, system),
            "length" => self.length(part, system),
            "photo" => self.photo(),
            _ => Err(Failure::refused(
                "This form is not one of ours. Open the page again.",
            )),
        }
    }

    fn bundles(&self) -> Result<(i64, How), Failure> {
        let bundles = whole("the number of bundles", &self.bundles)?;
        let of = whole("how many are in each bundle", &self.of)?;
        let rest = whole("the number of single ones", &self.rest)?;
        let closed = self.closed == "yes";
        let how = How::Bundle {
            bundles,
            of,
            rest,
            closed,
        };
        Ok((bundles * of + rest, how))
    }

    fn weight(&self, part: Option<&Part>, system: System) -> Result<(i64, How), Failure> {
        let unit = match system {
            System::FeetInch => MassUnit::Pound,
            System::Metric => MassUnit::Kilogram,
        };
        let mass = |what: &str, text: &str| {
            Mass::read(text.trim(), Some(unit))
                .map_err(|e| Failure::refused(format!("{what} was not read: {e}.")))
        };
        let weighing = ByWeight {
            samples: vec![Sample {
                pieces: whole("the number of pieces in the sample", &self.sample)?,
                mass: mass("What the sample weighs", &self.sample_mass)?,
            }],
            sample_is: match self.inside.as_str() {
                "no" => SampleIs::KeptOut,
                _ => SampleIs::PutBack,
            },
            bag: mass("What the bag weighs", &self.bag_mass)?,
            tare: match self.tare.trim() {
                "" | "0" => Mass::ZERO,
                tare => mass("What the empty bag weighs", tare)?,
            },
            scale: Scale::reading_to(mass("The step of the scale", &self.step)?),
            spread: match part.and_then(|part| part.finish.as_deref()) {
                Some(finish) if finish.to_lowercase().contains("galvan") => Spread::GALVANIZED,
                _ => Spread::PLAIN,
            },
        };
        let weighed = weighing
            .weigh()
            .map_err(|e| Failure::refused(format!("{e}.")))?;
        Ok((weighed.count, How::Weight { weighing }))
    }

    fn length(&self, part: Option<&Part>, system: System) -> Result<(i64, How), Failure> {
        let unit = match system {
            System::FeetInch => Unit::Foot,
            System::Metric => Unit::Metre,
        };
        let length = |what: &str, text: &str| match text.trim() {
            "" | "0" => Ok(Length::ZERO),
            text => Length::read(text, Some(unit))
                .map_err(|e| Failure::refused(format!("{what} was not read: {e}."))),
        };
        let piece = part.and_then(|part| part.length).ok_or_else(|| {
            Failure::refused("This mark has no length of its own; count it piece by piece.")
        })?;
        let coils = Coils {
            whole: whole("the number of whole coils", &self.coils)?,
            each: length("The length of a coil", &self.coil)?,
            rest: length("What is left on an opened one", &self.left)?,
            rest_within: Length::ZERO,
        };
        let cut = coils
            .cut(piece)
            .map_err(|e| Failure::refused(format!("{e}.")))?;
        Ok((cut.pieces, How::Length { coils, piece }))
    }

    /// The rings come as `x,y,r x,y,r …`, in ten-thousandths of the picture's width.
    fn photo(&self) -> Result<(i64, How), Failure> {
        let broken = || Failure::refused("The rings were not read. Open the picture again.");
        let photo = self.photo.parse().map_err(|_| broken())?;
        let ring = |text: &str| {
            let mut numbers = text.splitn(3, ',').map(|n| n.parse::<i32>().ok());
            let mut next = || numbers.next().flatten();
            Some(Ring {
                x: next()?,
                y: next()?,
                r: next()?,
            })
        };
        let rings: Option<Vec<Ring>> = self.rings.split_whitespace().map(ring).collect();
        let rings = rings.ok_or_else(broken)?;
        Ok((rings.len() as i64, How::Photo { photo, rings }))
    }
}
