//! What shops nearby have, and what ways cost: data that anybody may set anew.

use std::sync::LazyLock;

use measure::{Length, Unit};
use serde::{Deserialize, Deserializer};
use tally::Currency;

/// The largest file of stock that is read, in bytes.
pub const MOST_STOCK_BYTES: usize = 256 * 1024;
/// The most kinds of things of one sort, and the most sizes of one kind.
const MOST_KINDS: usize = 500;
/// The dearest price: a million.
const DEAREST: f64 = 1e6;
/// The most days.
const MOST_DAYS: i64 = 365;

/// A price from the least to the most, in hundredths of the currency's unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Price(pub [i64; 2]);

/// Figures that go for every way. All ours, without a source.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Setting {
    /// A day that the crew waits.
    pub crew_day: Price,
    /// What it costs when a way does not come off.
    #[serde(deserialize_with = "one_price")]
    pub failed_way: i64,
    /// What it costs for each piece that does not come then.
    #[serde(deserialize_with = "one_price")]
    pub failed_piece: i64,
    /// A last stage that waits for another day.
    pub stage_waits: Price,
    /// A bay that is built on later.
    pub bay_later: Price,
    /// One trip to the shops.
    pub trip: Price,
    /// Days until somebody has been there.
    pub trip_days: [i64; 2],
    /// The chance that nothing comes of the trip.
    pub trip_risk: f64,
    /// Days until the sender answers.
    pub answer_days: [i64; 2],
    /// The chance that the answer is no.
    pub answer_risk: f64,
    /// Fast freight, once.
    pub freight: Price,
    /// Fast freight with something long in it.
    pub freight_long: Price,
    /// What is longer than this is long.
    #[serde(deserialize_with = "length")]
    pub long: Length,
    /// Worked days that it takes.
    pub freight_days: [i64; 2],
    /// The chance that it does not come in time.
    pub freight_risk: f64,
    /// One cut.
    pub cut: Price,
    /// The chance that a cut piece does not do.
    pub cut_risk: f64,
    /// The chance that a joined piece does not do.
    pub join_risk: f64,
    /// What a saw takes.
    #[serde(deserialize_with = "length")]
    pub kerf: Length,
    /// What is shorter is not worth keeping.
    #[serde(deserialize_with = "length")]
    pub least_left: Length,
}

/// Something that is sold by the piece.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PieceStock {
    /// Its stable name.
    pub key: String,
    /// What the trade calls such a thing.
    pub nouns: Vec<String>,
    /// Over the thread; of wire its diameter.
    #[serde(deserialize_with = "lengths")]
    pub diameters: Vec<Length>,
    /// Its lengths; none where it has none, as a nut.
    #[serde(default, deserialize_with = "lengths")]
    pub lengths: Vec<Length>,
    /// What one costs.
    pub each: Price,
    /// The chance that the shop has not got it.
    pub risk: f64,
    /// Whether it may carry load.
    pub loaded: bool,
    /// What to look for.
    pub says: String,
    /// How surely its sizes are known.
    pub sure: String,
}

/// Something that is sold by the length.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BarStock {
    /// Its stable name.
    pub key: String,
    /// Round tube.
    pub tube: Option<TubeSize>,
    /// Sawn timber.
    pub timber: Option<TimberSize>,
    /// Its lengths.
    #[serde(deserialize_with = "lengths")]
    pub lengths: Vec<Length>,
    /// What a foot costs.
    pub foot: Price,
    /// The chance that the shop has not got it.
    pub risk: f64,
    /// What to look for.
    pub says: String,
    /// How surely its sizes are known.
    pub sure: String,
}

/// The measures of a round tube.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TubeSize {
    /// Outside diameter as a caliper reads it.
    #[serde(deserialize_with = "length")]
    pub outside: Length,
    /// Wall.
    #[serde(deserialize_with = "length")]
    pub wall: Length,
}

/// The measures of sawn timber, dressed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TimberSize {
    /// The smaller side.
    #[serde(deserialize_with = "length")]
    pub width: Length,
    /// The greater side.
    #[serde(deserialize_with = "length")]
    pub depth: Length,
}

/// Something that is sold by the area.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SheetStock {
    /// Its stable name.
    pub key: String,
    /// Thickness of the film.
    #[serde(deserialize_with = "length")]
    pub film: Length,
    /// The widths that it comes in.
    #[serde(deserialize_with = "lengths")]
    pub widths: Vec<Length>,
    /// The longest that is cut from a roll.
    #[serde(deserialize_with = "length")]
    pub longest: Length,
    /// What a square foot costs.
    pub square_foot: Price,
    /// The chance that the shop has not got it.
    pub risk: f64,
    /// What to look for.
    pub says: String,
    /// How surely its sizes are known.
    pub sure: String,
}

/// Everything of the file.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stock {
    /// The currency of its prices.
    #[serde(default = "dollars")]
    pub currency: Currency,
    /// Figures that go for every way.
    pub setting: Setting,
    /// By the piece.
    #[serde(default, rename = "piece")]
    pub pieces: Vec<PieceStock>,
    /// By the length.
    #[serde(default, rename = "bar")]
    pub bars: Vec<BarStock>,
    /// By the area.
    #[serde(default, rename = "sheet")]
    pub sheets: Vec<SheetStock>,
}

/// What is wrong with a file of stock.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("the file of stock: {0}")]
pub struct StockFault(pub String);

impl Stock {
    /// What comes with the program.
    pub fn shipped() -> &'static Self {
        static SHIPPED: LazyLock<Stock> = LazyLock::new(|| {
            // A test reads it, so that it cannot fail here.
            Stock::read(include_str!("../../stock.toml")).unwrap_or_else(|_| Stock::nothing())
        });
        &SHIPPED
    }

    /// No shop at all, and prices of nothing.
    fn nothing() -> Self {
        Self {
            currency: Currency::USD,
            setting: Setting {
                crew_day: Price::default(),
                failed_way: 0,
                failed_piece: 0,
                stage_waits: Price::default(),
                bay_later: Price::default(),
                trip: Price::default(),
                trip_days: [0, 0],
                trip_risk: 0.0,
                answer_days: [0, 0],
                answer_risk: 0.0,
                freight: Price::default(),
                freight_long: Price::default(),
                long: Length::ZERO,
                freight_days: [0, 0],
                freight_risk: 0.0,
                cut: Price::default(),
                cut_risk: 0.0,
                join_risk: 0.0,
                kerf: Length::ZERO,
                least_left: Length::ZERO,
            },
            pieces: Vec::new(),
            bars: Vec::new(),
            sheets: Vec::new(),
        }
    }

    /// Reads a file of stock (TOML); [`StockFault`] names the field and says what would be right.
    pub fn read(text: &str) -> Result<Self, StockFault> {
        if text.len() > MOST_STOCK_BYTES {
            return Err(StockFault(format!(
                "it has {} bytes, more than the {MOST_STOCK_BYTES} that it may have",
                text.len()
            )));
        }
        let stock: Self =
            toml::from_str(text).map_err(|e| StockFault(e.to_string().trim_end().into()))?;
        stock.check()?;
        Ok(stock)
    }

    fn check(&self) -> Result<(), StockFault> {
        let Setting {
            trip_days,
            answer_days,
            freight_days,
            ..
        } = self.setting;
        for (field, [soon, late]) in [
            ("trip_days", trip_days),
            ("answer_days", answer_days),
            ("freight_days", freight_days),
        ] {
            if !(0..=late).contains(&soon) || late > MOST_DAYS {
                return fault(format!(
                    "`{field}` is two numbers of days from 0 to {MOST_DAYS}, the smaller first"
                ));
            }
        }
        let setting = &self.setting;
        let risks = [
            ("trip_risk", setting.trip_risk),
            ("answer_risk", setting.answer_risk),
            ("freight_risk", setting.freight_risk),
            ("cut_risk", setting.cut_risk),
            ("join_risk", setting.join_risk),
        ];
        let of_pieces = self.pieces.iter().map(|s| (s.key.as_str(), s.risk));
        let of_bars = self.bars.iter().map(|s| (s.key.as_str(), s.risk));
        let of_sheets = self.sheets.iter().map(|s| (s.key.as_str(), s.risk));
        for (of, risk) in (risks.into_iter().chain(of_pieces))
            .chain(of_bars)
            .chain(of_sheets)
        {
            if !(0.0..=1.0).contains(&risk) {
                return fault(format!("the risk of `{of}` is a number from 0 to 1"));
            }
        }
        let sizes = (self
            .pieces
            .iter()
            .map(|s| s.lengths.len().max(s.diameters.len())))
        .chain(self.bars.iter().map(|s| s.lengths.len()))
        .chain(self.sheets.iter().map(|s| s.widths.len()));
        let kinds = [self.pieces.len(), self.bars.len(), self.sheets.len()];
        if kinds.into_iter().chain(sizes).any(|n| n > MOST_KINDS) {
            return fault(format!("it has more than {MOST_KINDS} kinds or sizes"));
        }
        let mut keys: Vec<&str> = (self.pieces.iter().map(|s| s.key.as_str()))
            .chain(self.bars.iter().map(|s| s.key.as_str()))
            .chain(self.sheets.iter().map(|s| s.key.as_str()))
            .collect();
        keys.sort_unstable();
        if let Some(twice) = keys.windows(2).find(|pair| pair[0] == pair[1]) {
            return fault(format!(
                "two things have the key `{}`; each needs its own",
                twice[0]
            ));
        }
        // A way's key is a name in the log, which has its own limit.
        if let Some(key) = keys.iter().find(|key| key.is_empty() || key.len() > 60) {
            return fault(format!("the key `{key}` has no letters, or more than 60"));
        }
        match self
            .bars
            .iter()
            .find(|bar| bar.tube.is_some() == bar.timber.is_some())
        {
            Some(bar) => fault(format!(
                "the bar `{}` is either a `tube` or a `timber`",
                bar.key
            )),
            None => Ok(()),
        }
    }
}

fn fault<T>(what: String) -> Result<T, StockFault> {
    Err(StockFault(what))
}

fn dollars() -> Currency {
    Currency::USD
}

impl Price {
    /// Half of least and most together.
    pub fn middle(self) -> i64 {
        (self.0[0] + self.0[1]) / 2
    }

    /// So many times as much, where the amount may be broken; rounded to the nearest hundredth.
    pub fn by(self, amount: f64) -> Self {
        Self(self.0.map(|price| (price as f64 * amount).round() as i64))
    }
}

impl<'de> Deserialize<'de> for Price {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let [least, most] = <[f64; 2]>::deserialize(deserializer)?;
        match (hundredths(least), hundredths(most)) {
            (Some(least), Some(most)) if least <= most => Ok(Self([least, most])),
            _ => Err(serde::de::Error::custom(
                "a price is [least, most], from 0 to a million, with no more than two decimals",
            )),
        }
    }
}

fn one_price<'de, D: Deserializer<'de>>(deserializer: D) -> Result<i64, D::Error> {
    hundredths(f64::deserialize(deserializer)?).ok_or_else(|| {
        serde::de::Error::custom("a price is from 0 to a million, with no more than two decimals")
    })
}

fn hundredths(price: f64) -> Option<i64> {
    let whole = (price * 100.0).round();
    ((0.0..=DEAREST).contains(&price) && (price * 100.0 - whole).abs() < 1e-6)
        .then_some(whole as i64)
}

fn length<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Length, D::Error> {
    read_length(&String::deserialize(deserializer)?).map_err(serde::de::Error::custom)
}

fn lengths<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Vec<Length>, D::Error> {
    let texts = Vec::<String>::deserialize(deserializer)?;
    (texts
        .iter()
        .map(|text| read_length(text).map_err(serde::de::Error::custom)))
    .collect()
}

fn read_length(text: &str) -> Result<Length, String> {
    let thickness = text
        .trim()
        .strip_suffix("mil")
        .filter(|n| !n.ends_with("ft"));
    let read = match thickness.and_then(|mils| mils.trim().parse::<i64>().ok()) {
        Some(mils) if (0..=1_000_000).contains(&mils) => Length::mils(mils),
        _ => Length::read(text, None::<Unit>).map_err(|e| format!("`{text}`: {e}"))?,
    };
    match read > Length::ZERO {
        true => Ok(read),
        false => Err(format!("`{text}`: a length is more than nothing")),
    }
}
