//! Kinds of work and what each takes, as `work.toml` says it.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use measure::{Length, System};
use serde::{Deserialize, Deserializer};

/// All kinds of work that are known.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct WorkFile {
    /// What the short names of sources stand for.
    pub sources: BTreeMap<String, String>,
    /// The wind for film.
    pub wind: Wind,
    #[serde(rename = "work")]
    kinds: Vec<Kind>,
}

/// Gusts, in miles an hour, that film is put up in. A setting: no published limit was found.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Wind {
    /// Start under this.
    pub start: f64,
    /// Stop at this.
    pub stop: f64,
}

/// A kind of work.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Kind {
    words: Vec<String>,
    /// What is done, in a sentence.
    pub says: String,
    /// Whether it is work though the step has no parts.
    #[serde(default)]
    pub without_parts: bool,
    /// Whether it wants a calm day.
    #[serde(default)]
    pub calm: bool,
    pub people: People,
    pub minutes: Vec<Rate>,
    pub tools: Vec<Tool>,
    pub wear: Vec<String>,
    pub cautions: Vec<Caution>,
}

/// How many people.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct People {
    fewest: usize,
    most: usize,
    /// The fewest in a house that is [`WIDE`] or wider.
    wide: Option<usize>,
    #[serde(default, deserialize_with = "maybe_length")]
    one_each: Option<Length>,
    #[serde(default)]
    besides: usize,
    pub source: String,
}

/// Minutes of one person for each of a unit.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Rate {
    pub unit: Unit,
    pub quick: f64,
    pub slow: f64,
}

/// What a step brings to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum Unit {
    /// The step itself.
    Once,
    /// A ground post of the house.
    Post,
    /// A bow of the house.
    Bow,
    /// A piece of tube, board, channel or wire.
    Piece,
    /// A place with hardware.
    Joint,
    /// A door, a fan, an anchor.
    Fitting,
    /// An end of the house where the step has pieces.
    End,
    /// A metre along its pieces.
    Metre,
    /// A square metre of film or cloth.
    #[serde(rename = "square metre")]
    SquareMetre,
}

/// A tool, and to whom so many of it.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Tool {
    pub tool: String,
    #[serde(default)]
    crew: i64,
    #[serde(default)]
    pair: i64,
    #[serde(default)]
    person: i64,
    pub source: Option<String>,
}

/// What to take care of.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Caution {
    pub says: String,
    pub source: String,
}

/// From this width on a bow takes more people (University of Vermont, High Tunnels, page 44, S).
const WIDE: Length = Length::feet(20);

impl WorkFile {
    /// What `work.toml` says. A test reads every kind, so that nothing in it can fail a reader.
    pub(crate) fn ours() -> &'static Self {
        static READ: OnceLock<WorkFile> = OnceLock::new();
        READ.get_or_init(|| {
            toml::from_str(include_str!("../work.toml")).expect("our own table is read by a test")
        })
    }

    /// The kind that goes by this name.
    pub(crate) fn kind(&self, name: &str) -> Option<&Kind> {
        let name = plain(name);
        (self.kinds.iter()).find(|kind| kind.words.iter().any(|word| plain(word) == name))
    }
}

/// A name without what people write one way or the other.
fn plain(name: &str) -> String {
    let spaced = name.to_lowercase().replace(['-', '_'], " ");
    let words: Vec<&str> = (spaced.split_whitespace())
        .map(|word| word.strip_suffix('s').unwrap_or(word))
        .collect();
    words.join(" ")
}

impl People {
    /// The fewest that it takes and the most that are of use, in a house of this width and length.
    pub(crate) fn of(&self, width: Length, length: Length) -> [usize; 2] {
        let by_width = self.wide.filter(|_| width >= WIDE);
        let by_length = self.one_each.map(|each| {
            let pulls = (length.to_metres() / each.to_metres()).ceil().max(0.0);
            pulls as usize + self.besides
        });
        let fewest = [by_width, by_length].into_iter().flatten();
        let fewest = fewest.fold(self.fewest, usize::max);
        [fewest, self.most.max(fewest)]
    }
}

impl Tool {
    /// How many of it so many people use.
    pub(crate) fn of(&self, people: usize) -> i64 {
        let people = i64::try_from(people).unwrap_or(i64::MAX);
        let for_pairs = self.pair.saturating_mul(people.saturating_add(1) / 2);
        let for_each = self.person.saturating_mul(people);
        self.crew.saturating_add(for_pairs).saturating_add(for_each)
    }
}

impl Wind {
    /// In what weather film goes up, in words.
    pub(crate) fn says(self, system: System) -> String {
        let speed = |miles: f64| match system {
            System::FeetInch => format!("{miles:.0} mph"),
            System::Metric => format!("{:.0} km/h", miles * 1.609_344),
        };
        format!(
            "A calm day (Missouri State University, S). No wind limit was found published; set here: start under {}, \
             stop and tie down at gusts of {} (a shop's usual rule, from memory). Who calls it decides, and says so.",
            speed(self.start),
            speed(self.stop)
        )
    }
}

fn maybe_length<'de, D: Deserializer<'de>>(from: D) -> Result<Option<Length>, D::Error> {
    let text: Option<String> = Deserialize::deserialize(from)?;
    text.map(|text| Length::read(&text, None).map_err(serde::de::Error::custom))
        .transpose()
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::{WorkFile, plain};

    /// What is marked as seen names a text, and every text is named.
    #[test]
    fn every_source_is_a_text_that_is_told() {
        let has = |source: &str, name: &str| {
            let mut words = source.split(|c: char| !c.is_alphanumeric());
            words.any(|word| word == name)
        };
        let file = WorkFile::ours();
        let said = || {
            file.kinds.iter().flat_map(|kind| {
                let tools = kind.tools.iter().filter_map(|tool| tool.source.as_ref());
                let cautions = kind.cautions.iter().map(|caution| &caution.source);
                [&kind.people.source]
                    .into_iter()
                    .chain(tools)
                    .chain(cautions)
            })
        };
        for source in said() {
            let named = file.sources.keys().any(|name| has(source, name));
            assert!(named || source.contains("ours"), "{source}");
        }
        for name in file.sources.keys() {
            assert!(said().any(|source| has(source, name)), "{name}");
        }
    }

    #[test]
    fn every_word_is_one_kind_and_every_range_runs_from_quick_to_slow() {
        let mut words = BTreeSet::new();
        for kind in &WorkFile::ours().kinds {
            for word in &kind.words {
                assert!(words.insert(plain(word)), "{word} is there twice");
            }
            for rate in &kind.minutes {
                let [quick, slow] = [rate.quick, rate.slow];
                assert!(0.0 < quick && quick < slow, "{}: {rate:?}", kind.says);
            }
            assert!(kind.people.fewest >= 1 && kind.people.fewest <= kind.people.most);
            for tool in &kind.tools {
                assert!(tool.of(1) >= 1, "{}", tool.tool);
            }
        }
    }
}
