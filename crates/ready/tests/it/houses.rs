//! Houses to try things on.

use frame::{Family, Frame, Order, PartsList, expand};
use ready::{Build, BuildStage, Gap, HowFar, StageWork, Unit, works};
use tally::Plans;

/// A house, with all that is read off it.
pub struct House {
    pub frame: Frame,
    pub list: PartsList,
    pub build: Build,
}

impl House {
    pub fn of(order: &str) -> Self {
        let order = Order::read(order).unwrap();
        let family = Family::named(&order.family).unwrap();
        let frame = expand(&order, &family).unwrap();
        let list = PartsList::of(&frame);
        let build = Build::of(&frame, &list);
        Self { frame, list, build }
    }

    pub fn works(&self, plans: &Plans) -> Vec<StageWork> {
        works(&self.build, &self.frame, &self.list, plans)
    }

    pub fn stage(&self, name: &str) -> usize {
        self.build
            .stages
            .iter()
            .position(|s| s.name == name)
            .unwrap()
    }
}

/// A straight-wall house of 30 by 96 ft, bows at 4 ft, all as it comes.
pub fn sidewall() -> House {
    House::of(
        "name = \"a house\"\nfamily = \"sidewall-30\"\nlength = \"96 ft\"\nbow_spacing = \"4 ft\"\n",
    )
}

/// The same with purlins, a door in each end, and sides that roll up.
pub fn fitted_out() -> House {
    House::of(
        "name = \"a house\"\nfamily = \"sidewall-30\"\nlength = \"96 ft\"\nbow_spacing = \"4 ft\"\n\
         [options]\npurlins = \"3 lines\"\n[front]\ndoor = \"double\"\n[back]\ndoor = \"single\"\n\
         [left]\nroll_up = \"hand crank\"\n[right]\nroll_up = \"hand crank\"\n",
    )
}

/// A round house of 24 ft, narrower than 20 ft across, in metric.
pub fn round() -> House {
    House::of("name = \"a house\"\nfamily = \"round-16\"\nlength = \"24 ft\"\nunits = \"metric\"\n")
}

/// The house of the demo.
pub fn garden() -> House {
    House::of(include_str!("../../../../demo/order.toml"))
}

/// A share of a stage at one bow.
pub fn unit(stage: usize, bow: usize) -> Unit {
    Unit {
        stage,
        name: format!("bow {bow}"),
        bows: [bow, bow],
        needs: Vec::new(),
        after: Vec::new(),
        pieces: Vec::new(),
        gap: Gap::Waits,
    }
}

/// A build of these stages and units.
pub fn build(stages: Vec<BuildStage>, units: Vec<Unit>, bows: usize) -> Build {
    Build {
        stages,
        units,
        marks: Vec::new(),
        bows,
        shared: Vec::new(),
        may_leave: Vec::new(),
    }
}

/// There are parts for these units.
pub fn how_far(build: &Build, done: Vec<bool>) -> HowFar {
    HowFar {
        stages: Vec::new(),
        used: build.used(&done),
        done,
        left_out: Vec::new(),
        proven: true,
    }
}
