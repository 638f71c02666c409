//! Which column is which, by what stands in it; words above the columns help where they do not contradict it.

use crate::grid::Line;
use crate::table::column_words::{Role, role};
use crate::table::line_kind::is_bare_code;
use crate::table::quantity;
use crate::table::units;

/// Where to find what in the lines of one table.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Columns {
    /// How many; nothing when the count stands in the description's cell.
    pub quantity: Option<usize>,
    /// How many were ordered.
    pub ordered: Option<usize>,
    /// How many follow later.
    pub backordered: Option<usize>,
    /// Unit.
    pub unit: Option<usize>,
    /// Code.
    pub code: Option<usize>,
    /// What it is.
    pub description: usize,
    /// Other columns that say something of the thing, with the word above them.
    pub details: Vec<(usize, String)>,
    /// Sub-kit.
    pub sub_kit: Option<usize>,
    /// Shipment.
    pub shipment: Option<usize>,
    /// How many packs, and how many pieces are in each.
    pub packs: Option<usize>,
    /// How many pieces are in each pack.
    pub pack: Option<usize>,
    /// Each quantity of the table is a whole number of packs, so that it may well be their sum.
    pub whole_packs: bool,
    /// The quantity is that of one kit.
    pub per_kit: bool,
    /// Lines begin with a number that only counts them, within their text.
    pub numbered: bool,
    /// The code stands alone on the line below what it is the code of.
    pub codes_below: bool,
}

/// The words above the columns.
pub type Heading = Vec<(usize, Role, String)>;

/// How many lines are looked at; the rest of a long table is like its start.
const SAMPLE: usize = 500;

/// Returns the words above columns if this line is a heading: two roles or more, among them a quantity or what the
/// thing is, and nothing that is a number.
pub fn heading(line: &Line) -> Option<Heading> {
    if line
        .cells
        .iter()
        .any(|cell| quantity::plain(cell, "").is_some_and(|q| q.unit.is_empty()))
    {
        return None;
    }
    let found: Heading = line
        .filled()
        .filter_map(|(column, text)| role(text).map(|role| (column, role, text.to_owned())))
        .collect();
    let is = |wanted: &[Role]| found.iter().any(|(_, role, _)| wanted.contains(role));
    let counts = is(&[
        Role::Quantity,
        Role::Shipped,
        Role::Ordered,
        Role::Packs,
        Role::PerKit,
    ]);
    let things = is(&[Role::Description, Role::Item, Role::Code]);
    let mostly = found.len() * 2 >= line.filled().count();
    (found.len() >= 2 && (counts || things) && mostly).then_some(found)
}

/// What stands in one column.
#[derive(Default)]
struct Content {
    filled: usize,
    /// Plain counts, by which a column without a word above it is known.
    quantities: usize,
    /// Counts in any writing.
    counts: usize,
    /// Marks of whoever ticked the rows off.
    ticks: usize,
    letters: usize,
    units: usize,
    codes: usize,
    /// Short, and no space in it.
    short: usize,
    sequential: bool,
}

impl Content {
    fn of(lines: &[Line], column: usize) -> Self {
        let mut content = Content {
            sequential: true,
            ..Content::default()
        };
        let mut last = None;
        for line in lines.iter().take(SAMPLE) {
            let text = line.cell(column);
            if text.is_empty() {
                continue;
            }
            content.filled += 1;
            let letters = text.chars().filter(|c| c.is_alphabetic()).count();
            content.letters += letters;
            content.units += usize::from(units::is_unit(text) && letters > 0);
            let digits = text.chars().any(|c| c.is_ascii_digit());
            let short = text.len() <= 14 && !text.contains(' ');
            let number = quantity::plain(text, "");
            content.short += usize::from(short);
            content.codes += usize::from(short && digits && letters > 0 && number.is_none());
            content.quantities += usize::from(number.is_some());
            content.counts += usize::from(number.is_some() || quantity::read(text, "").is_some());
            content.ticks += usize::from(is_tick(text));
            let Some(number) = number.map(|q| q.pieces) else {
                continue;
            };
            content.sequential &= last.is_none_or(|last| number == last + 1);
            last = Some(number);
        }
        let mut cells = lines.iter().map(|line| line.cell(column));
        let first = cells.find(|cell| quantity::plain(cell, "").is_some());
        let from_one = first == Some("1");
        content.sequential &= content.quantities >= if from_one { 2 } else { 3 };
        content
    }

    fn share(&self, part: usize) -> f64 {
        part as f64 / self.filled.max(1) as f64
    }

    /// Single short words, most of them with a digit, or hardly any letters.
    fn looks_like_codes(&self) -> bool {
        self.share(self.codes) >= 0.5 || self.share(self.short) >= 0.8
    }

    fn mean_letters(&self) -> f64 {
        self.letters as f64 / self.filled.max(1) as f64
    }
}

/// Finds the columns of a table from the words above them, if any, and its lines.
pub fn columns(heading: Option<&Heading>, lines: &[Line]) -> Option<Columns> {
    let width = lines
        .iter()
        .take(SAMPLE)
        .map(|line| line.cells.len())
        .max()?;
    let contents: Vec<Content> = (0..width)
        .map(|column| Content::of(lines, column))
        .collect();
    let labels = labels(heading, &contents);
    let labelled = |wanted: Role| {
        labels
            .iter()
            .find(|(_, role, _)| *role == wanted)
            .map(|(column, ..)| *column)
    };
    let is_free = |column: &usize| labels.iter().all(|(taken, ..)| taken != column);

    let described = labelled(Role::Description).or_else(|| {
        let wordy = (0..width)
            .filter(is_free)
            .filter(|c| contents[*c].mean_letters() >= 3.0);
        wordy.max_by(|a, b| {
            contents[*a]
                .letters
                .cmp(&contents[*b].letters)
                .then(b.cmp(a))
        })
    });
    let description = described.or_else(|| labelled(Role::Code))?;
    let unit_like = |c: &usize| contents[*c].share(contents[*c].units) >= 0.6;
    let mut found = Columns {
        description,
        ordered: labelled(Role::Ordered),
        backordered: labelled(Role::Backordered),
        unit: labelled(Role::Unit).or_else(|| {
            (0..width)
                .filter(is_free)
                .find(|c| *c != description && unit_like(c))
        }),
        code: labelled(Role::Code).filter(|c| *c != description),
        sub_kit: labelled(Role::SubKit),
        shipment: labelled(Role::Shipment),
        packs: labelled(Role::Packs),
        pack: labelled(Role::Pack),
        ..Columns::default()
    };
    found.quantity = labelled(Role::Shipped)
        .or_else(|| labelled(Role::Quantity))
        .or_else(|| {
            if labelled(Role::Packs).or(labelled(Role::PerKit)).is_some() {
                return None;
            }
            let free: Vec<usize> = (0..width)
                .filter(is_free)
                .filter(|c| *c != description && Some(*c) != found.unit)
                .collect();
            quantity_by_content(&free, &contents, lines, &mut found)
        });
    if found.quantity.is_none() {
        found.quantity = labelled(Role::PerKit);
        found.per_kit = found.quantity.is_some();
    }
    found.quantity = found.quantity.or(found.packs).or(found.ordered);
    found.whole_packs = whole_packs(lines, &found);
    let taken = |found: &Columns, c: usize| {
        let named = [
            found.quantity,
            found.ordered,
            found.backordered,
            found.unit,
            found.code,
            found.packs,
            found.pack,
        ];
        c == found.description || named.contains(&Some(c)) || labels.iter().any(|(l, ..)| *l == c)
    };
    found.code = found.code.or_else(|| {
        (0..width).find(|c| {
            !taken(&found, *c)
                && contents[*c].filled > 0
                && contents[*c].share(contents[*c].codes) >= 0.6
        })
    });
    let named = labels
        .iter()
        .filter(|(_, role, _)| *role == Role::Detail)
        .map(|(column, _, label)| (*column, label.clone()));
    let unnamed = (0..width)
        .filter(|c| !taken(&found, *c) && contents[*c].mean_letters() >= 1.0)
        .filter(|c| contents[*c].share(contents[*c].ticks) < 0.6)
        .map(|c| (c, String::new()));
    let mut details: Vec<(usize, String)> = named.chain(unnamed).collect();
    details.sort();
    found.details = details;
    found.codes_below = found.code.is_none() && codes_below(lines, found.description);
    Some(found)
}

/// The words above the columns, less those that the content contradicts.
fn labels(heading: Option<&Heading>, contents: &[Content]) -> Heading {
    let mut kept = Heading::new();
    let heading = heading.map_or_else(Heading::new, |heading| one_description(heading, contents));
    for (column, role, label) in &heading {
        let Some(content) = contents.get(*column).filter(|content| content.filled > 0) else {
            continue;
        };
        let mostly_counts = content.share(content.counts) >= 0.5;
        let role = match role {
            Role::Quantity
            | Role::Shipped
            | Role::Ordered
            | Role::Backordered
            | Role::Pack
            | Role::Packs
            | Role::PerKit
                if !mostly_counts =>
            {
                continue;
            }
            Role::Description if content.mean_letters() < 1.0 => Role::Other,
            // The same word stands over line numbers, codes and descriptions; what stands below decides.
            Role::Item if content.sequential => Role::Other,
            Role::Item if content.share(content.codes) >= 0.6 || content.mean_letters() < 3.0 => {
                Role::Code
            }
            Role::Item => Role::Description,
            Role::Code if content.sequential => Role::Other,
            _ => *role,
        };
        if role == Role::Detail
            || role == Role::Other
            || kept.iter().all(|(_, taken, _)| *taken != role)
        {
            kept.push((*column, role, label.clone()));
        }
    }
    kept
}

/// "Part", "Article" and "Item" stand over codes as well as over descriptions. Where several columns may be the
/// description, it is the one that says so, or the wordiest; the first of the others with a code's look is the code.
fn one_description(heading: &Heading, contents: &[Content]) -> Heading {
    let letters = |column: usize| contents.get(column).map_or(0.0, Content::mean_letters);
    let counts_lines = |column: usize| contents.get(column).is_some_and(|c| c.sequential);
    let may_be = |(column, role, _): &&(usize, Role, String)| {
        *role == Role::Description || *role == Role::Item && !counts_lines(*column)
    };
    let says_so = |label: &str| label.to_lowercase().contains("desc");
    let several: Vec<&(usize, Role, String)> = heading.iter().filter(may_be).collect();
    let best = several.iter().max_by(|(a, _, one), (b, _, other)| {
        let said = says_so(one).cmp(&says_so(other));
        said.then(letters(*a).total_cmp(&letters(*b)))
            .then(b.cmp(a))
    });
    let Some(best) = best.map(|best| best.0).filter(|_| several.len() > 1) else {
        return heading.clone();
    };
    let others: Vec<usize> = several.iter().map(|other| other.0).collect();
    let mut coded = heading.iter().any(|(_, role, _)| *role == Role::Code);
    let mut sorted = heading.clone();
    for (column, role, _) in &mut sorted {
        if *column == best {
            *role = Role::Description;
        } else if others.contains(column) {
            let code = contents.get(*column).is_some_and(Content::looks_like_codes);
            *role = if code && !coded {
                Role::Code
            } else {
                Role::Detail
            };
            coded |= code;
        }
    }
    sorted
}

/// The quantity among unnamed columns: whole numbers that do not count the lines. Of three where one is the sum of
/// the others it is the second, shipped; of two that mostly agree, the second too.
fn quantity_by_content(
    free: &[usize],
    contents: &[Content],
    lines: &[Line],
    found: &mut Columns,
) -> Option<usize> {
    let counts: Vec<usize> = free
        .iter()
        .copied()
        .filter(|c| {
            contents[*c].filled > 0
                && contents[*c].share(contents[*c].quantities) >= 0.6
                && !contents[*c].sequential
        })
        .collect();
    let value = |line: &Line, c: usize| quantity::plain(line.cell(c), "").map(|q| q.pieces);
    let all = |test: &dyn Fn(&Line) -> Option<bool>| {
        let verdicts: Vec<bool> = lines.iter().take(SAMPLE).filter_map(test).collect();
        verdicts.len() >= 2 && verdicts.iter().all(|yes| *yes)
    };
    if let [ordered, shipped, back, ..] = counts[..]
        && all(&|line| {
            let ordered = value(line, ordered)?;
            Some(ordered == value(line, shipped)? + value(line, back).unwrap_or(0))
        })
    {
        (found.ordered, found.backordered) = (Some(ordered), Some(back));
        return Some(shipped);
    }
    if let [ordered, shipped, ..] = counts[..] {
        let pairs: Vec<(i64, i64)> = lines
            .iter()
            .take(SAMPLE)
            .filter_map(|l| value(l, ordered).zip(value(l, shipped)))
            .collect();
        let equal = pairs.iter().filter(|(a, b)| a == b).count();
        if pairs.len() >= 2 && pairs.iter().all(|(a, b)| a >= b) && equal * 2 >= pairs.len() {
            found.ordered = Some(ordered);
            return Some(shipped);
        }
    }
    // Nearest to the description, the left one of two equally near.
    counts
        .into_iter()
        .min_by_key(|c| c.abs_diff(found.description))
}

/// A mark of whoever ticked the row off.
fn is_tick(text: &str) -> bool {
    const TICKS: [&str; 14] = [
        "x", "X", "v", "V", "ok", "OK", "✓", "✔", "√", "☑", "☐", "□", "[ ]", "[x]",
    ];
    TICKS.contains(&text)
}

/// Whether most rows have a line below them with a code alone, where the description stands.
fn codes_below(lines: &[Line], description: usize) -> bool {
    let is_row = |line: &Line| line.filled().count() > 1;
    let is_code = |line: &Line| line.filled().count() == 1 && is_bare_code(line.cell(description));
    let sample = &lines[..lines.len().min(SAMPLE)];
    let below = sample
        .windows(2)
        .filter(|pair| is_row(&pair[0]) && is_code(&pair[1]));
    below.count() * 2 > sample.iter().filter(|line| is_row(line)).count()
}

/// Whether each of three quantities or more is a whole number of packs.
fn whole_packs(lines: &[Line], found: &Columns) -> bool {
    let (Some(quantity), Some(pack)) = (found.quantity, found.pack) else {
        return false;
    };
    let value = |line: &Line, c: usize| quantity::plain(line.cell(c), "").map(|q| q.pieces);
    let pairs = lines.iter().take(SAMPLE);
    let pairs = pairs.filter_map(|line| value(line, quantity).zip(value(line, pack)));
    let pairs: Vec<(i64, i64)> = pairs.filter(|(_, pack)| *pack > 1).collect();
    pairs.len() >= 3 && pairs.iter().all(|(all, pack)| all % pack == 0)
}
