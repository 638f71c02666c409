//! The houses that are ordered: each family that comes with the program, in several sizes and with several options;
//! and the orders near each that a sender could have taken it for.

use std::fmt::Write;

use tally::{Known, Ordered};

/// What an order says.
#[derive(Clone)]
struct Spec {
    family: &'static str,
    feet: i64,
    spacing: i64,
    options: Vec<(&'static str, &'static str)>,
    doors: [&'static str; 2],
}

/// A house that was ordered, and what was worked out of it before.
pub struct House {
    /// The order file.
    pub toml: String,
    /// The file of its family, where that does not come with the program.
    pub family: Option<String>,
    /// The order with all that follows from it.
    pub ordered: Ordered,
    /// Orders with another length, spacing, option or door. Some cannot be built.
    pub near: Vec<String>,
    /// Kept from run to run: the same order is expanded once.
    pub known: Known,
}

/// Twelve houses, four of each family.
pub fn houses() -> Vec<House> {
    specs().iter().map(House::of).collect()
}

fn specs() -> Vec<Spec> {
    let spec = |family, feet, spacing, options: &[(&'static str, &'static str)], doors| Spec {
        family,
        feet,
        spacing,
        options: options.to_vec(),
        doors,
    };
    let each_side = ("purlins", "one each side");
    let rolled = [("side", "roll-up")];
    vec![
        spec("gothic-24", 48, 4, &[each_side], ["double", "single"]),
        spec("gothic-24", 36, 4, &[], ["single", "none"]),
        spec("gothic-24", 72, 6, &[each_side], ["single", "single"]),
        spec("gothic-24", 96, 4, &[], ["double", "none"]),
        spec("round-16", 24, 4, &[], ["single", "none"]),
        spec(
            "round-16",
            48,
            4,
            &[("purlins", "ridge and one each side"), ("base", "rail")],
            ["single", "single"],
        ),
        spec("round-16", 36, 3, &rolled, ["single", "none"]),
        spec("round-16", 60, 4, &[("base", "rail")], ["none", "single"]),
        spec("sidewall-30", 48, 4, &[], ["single", "none"]),
        spec(
            "sidewall-30",
            60,
            4,
            &[("purlins", "3 lines"), ("truss", "ties on every bow")],
            ["double", "none"],
        ),
        spec(
            "sidewall-30",
            96,
            6,
            &[
                ("purlins", "3 lines"),
                ("side", "6 ft"),
                ("truss", "ties on every bow"),
            ],
            ["double", "single"],
        ),
        spec(
            "sidewall-30",
            120,
            5,
            &[("purlins", "5 lines")],
            ["single", "single"],
        ),
    ]
}

impl House {
    fn of(spec: &Spec) -> Self {
        let toml = spec.toml();
        let ordered = Ordered::read(&toml).expect("a house that can be built");
        Self {
            near: near(spec),
            toml,
            family: None,
            ordered,
            known: Known::default(),
        }
    }
}

/// Orders that differ in one thing at most; some cannot be built, and some are the order itself.
fn near(of: &Spec) -> Vec<String> {
    let with = |change: &dyn Fn(&mut Spec)| {
        let mut other = of.clone();
        change(&mut other);
        other
    };
    let mut others: Vec<Spec> = [-2, -1, 1, 2, 4]
        .into_iter()
        .map(|bays| with(&|other| other.feet += bays * of.spacing))
        .collect();
    others.extend([3, 4, 5, 6].map(|feet| with(&|other| other.spacing = feet)));
    for (key, choice) in [
        ("purlins", "one each side"),
        ("purlins", "none"),
        ("purlins", "ridge only"),
        ("purlins", "ridge and one each side"),
        ("purlins", "1 line"),
        ("purlins", "3 lines"),
        ("truss", "ties on every second bow"),
        ("truss", "ties on every bow"),
        ("base", "board"),
        ("base", "rail"),
    ] {
        others.push(with(&|other| {
            other.options.retain(|(known, _)| *known != key);
            other.options.push((key, choice));
        }));
    }
    for door in ["none", "single", "double"] {
        others.push(with(&|other| other.doors[0] = door));
    }
    others.iter().map(Spec::toml).collect()
}

impl Spec {
    fn toml(&self) -> String {
        let mut toml = format!(
            "name = \"House {0}\"\nfamily = \"{0}\"\nlength = \"{1} ft\"\nbow_spacing = \"{2} ft\"\n\n[options]\n",
            self.family, self.feet, self.spacing
        );
        let mut line = |text: String| writeln!(toml, "{text}").expect("a string takes all");
        let sides = ["left", "right"];
        // A side of the round house is an option of each side; of the straight-wall house it is one of the house.
        let each_side = |key: &str| self.family == "round-16" && key == "side";
        for (key, choice) in self.options.iter().filter(|(key, _)| !each_side(key)) {
            line(format!("{key} = \"{choice}\""));
        }
        for (end, door) in ["front", "back"].iter().zip(self.doors) {
            line(format!("\n[{end}]\ndoor = \"{door}\""));
        }
        for (key, choice) in self.options.iter().filter(|(key, _)| each_side(key)) {
            for side in sides {
                line(format!("\n[{side}]\n{key} = \"{choice}\""));
            }
        }
        toml
    }
}
