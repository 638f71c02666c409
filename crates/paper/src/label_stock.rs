/// What labels are printed on, told by its measures. Sheets are full of labels, which lie in the middle of the sheet;
/// a roll has one after the other.
///
/// Sizes and gaps are common practice, from memory: sheets by different makers agree on them, and no standard is known
/// that says so.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum LabelStock {
    /// US Letter, 30 labels of 2 5/8 by 1 in, three beside each other.
    Letter30,
    /// US Letter, 10 labels of 4 by 2 in, two beside each other.
    Letter10,
    /// A4, 21 labels of 63.5 by 38.1 mm, three beside each other.
    A4By21,
    /// A4, 8 labels of 99.1 by 67.7 mm, two beside each other.
    A4By8,
    /// A roll of labels of 4 by 6 in, upright.
    Roll4x6,
    /// An endless roll 62 mm wide, cut where the label ends.
    Roll62,
    /// A roll of labels of 2 by 1 in.
    Roll2x1,
}

/// Measures of a stock, in millimetres.
pub(crate) struct Measures {
    /// The page: a sheet, or one label of a roll; no height where it is cut at need.
    pub page: (f64, Option<f64>),
    /// Labels beside and below each other.
    pub count: (usize, usize),
    /// Width and height of a label; of an endless roll the height that text and code may take.
    pub label: (f64, f64),
    /// From the left edge of a label to that of the next, and from upper edge to upper edge.
    pub step: (f64, f64),
}

const LETTER: (f64, f64) = (215.9, 279.4);
const A4: (f64, f64) = (210.0, 297.0);
const INCH: f64 = 25.4;

impl LabelStock {
    /// Every stock.
    pub const ALL: [LabelStock; 7] = [
        Self::Letter30,
        Self::Letter10,
        Self::A4By21,
        Self::A4By8,
        Self::Roll4x6,
        Self::Roll62,
        Self::Roll2x1,
    ];

    /// A short word for it, as it stands in a form or an address.
    pub fn key(self) -> &'static str {
        match self {
            Self::Letter30 => "letter-30",
            Self::Letter10 => "letter-10",
            Self::A4By21 => "a4-21",
            Self::A4By8 => "a4-8",
            Self::Roll4x6 => "roll-4x6",
            Self::Roll62 => "roll-62",
            Self::Roll2x1 => "roll-2x1",
        }
    }

    /// The stock of a short word.
    pub fn of_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|stock| stock.key() == key)
    }

    /// What it is, for people who choose it.
    pub fn says(self) -> &'static str {
        match self {
            Self::Letter30 => "US Letter sheet, 30 labels of 2 5/8 × 1 in",
            Self::Letter10 => "US Letter sheet, 10 labels of 4 × 2 in",
            Self::A4By21 => "A4 sheet, 21 labels of 63.5 × 38.1 mm",
            Self::A4By8 => "A4 sheet, 8 labels of 99.1 × 67.7 mm",
            Self::Roll4x6 => "roll, labels of 4 × 6 in",
            Self::Roll62 => "endless roll, 62 mm wide",
            Self::Roll2x1 => "roll, labels of 2 × 1 in",
        }
    }

    /// How many labels a sheet has; one for a roll.
    pub fn to_a_sheet(self) -> usize {
        let (across, down) = self.measures().count;
        across * down
    }

    /// Which places of a sheet a print may start at, in words.
    pub(crate) fn places_in_words(self) -> &'static str {
        match self {
            Self::Letter30 => "a place of the sheet, 1 to 30",
            Self::Letter10 => "a place of the sheet, 1 to 10",
            Self::A4By21 => "a place of the sheet, 1 to 21",
            Self::A4By8 => "a place of the sheet, 1 to 8",
            Self::Roll4x6 | Self::Roll62 | Self::Roll2x1 => "1, where every roll starts",
        }
    }

    /// Code and text below each other, not beside.
    pub(crate) fn is_upright(self) -> bool {
        matches!(self, Self::Roll4x6 | Self::Roll62)
    }

    pub(crate) fn measures(self) -> Measures {
        let sheet = |(width, height): (f64, f64), count, label, gap: f64| {
            let (label_width, label_height): (f64, f64) = label;
            Measures {
                page: (width, Some(height)),
                count,
                label,
                step: (label_width + gap, label_height),
            }
        };
        let roll = |width: f64, height: f64| Measures {
            page: (width, Some(height)),
            count: (1, 1),
            label: (width, height),
            step: (0.0, 0.0),
        };
        match self {
            Self::Letter30 => sheet(LETTER, (3, 10), (2.625 * INCH, INCH), INCH / 8.0),
            Self::Letter10 => sheet(LETTER, (2, 5), (4.0 * INCH, 2.0 * INCH), INCH * 3.0 / 16.0),
            Self::A4By21 => sheet(A4, (3, 7), (63.5, 38.1), 2.54),
            Self::A4By8 => sheet(A4, (2, 4), (99.1, 67.7), 2.5),
            Self::Roll4x6 => roll(4.0 * INCH, 6.0 * INCH),
            Self::Roll62 => Measures {
                page: (62.0, None),
                ..roll(62.0, 100.0)
            },
            Self::Roll2x1 => roll(2.0 * INCH, INCH),
        }
    }

    /// The upper left corner of the label at a place, from 0, row by row.
    pub(crate) fn corner(self, place: usize) -> (f64, f64) {
        let Measures {
            page,
            count,
            label,
            step,
        } = self.measures();
        let margin = |page: f64, count: usize, label: f64, step: f64| {
            (page - label - step * (count.max(1) - 1) as f64) / 2.0
        };
        let height = page.1.unwrap_or(label.1);
        let left = margin(page.0, count.0, label.0, step.0);
        let top = margin(height, count.1, label.1, step.1);
        let (column, row) = (place % count.0, place / count.0);
        (left + step.0 * column as f64, top + step.1 * row as f64)
    }
}
