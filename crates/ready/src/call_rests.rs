//! What an answer rests on, and what would change it.

use jiff::civil::Date;
use tell::percent;

use crate::assumed::SURE_ENOUGH;
use crate::call_words::chance_in_words;
use crate::likely::Likely;
use crate::supply::{ComingIs, Rests, Supplies};

/// The most lines of either.
const MOST_LINES: usize = 8;

/// What is worth saying changes the chance by at least this.
const WORTH_SAYING: f64 = 0.002;

/// Needs, and what is in doubt about them.
pub(crate) struct Doubt<'a> {
    pub supplies: &'a Supplies,
    pub likely: &'a Likely,
    /// By mark.
    pub needs: &'a [i64],
    /// The chance that there is enough of all.
    pub chance: f64,
    pub day: Date,
}

impl Doubt<'_> {
    /// Marks of which so many are needed that it is not sure that they are there, the least sure first.
    fn unsure(&self) -> Vec<(usize, f64)> {
        let mut unsure: Vec<(usize, f64)> = (self.needs.iter().enumerate())
            .map(|(mark, need)| (mark, self.likely.of_mark(mark, *need)))
            .filter(|(_, chance)| *chance < 1.0)
            .collect();
        unsure.sort_by(|a, b| a.1.total_cmp(&b.1));
        unsure
    }

    /// Marks of which more likely than not too few are there: "R1: 15 needed, 13 there by then", the surest first.
    pub fn short(&self) -> Vec<String> {
        let there = self.supplies.by(self.day);
        (self.unsure().into_iter())
            .take_while(|(_, chance)| *chance < 0.5)
            .map(|(mark, _)| {
                let name = &self.supplies.marks[mark].mark;
                let (need, there) = (self.needs[mark], there[mark]);
                match there < need {
                    true => format!("{name}: {need} needed, {there} there by then"),
                    false => format!(
                        "{name}: {need} needed, and it is not likely that all are there by then"
                    ),
                }
            })
            .collect()
    }

    /// The first of those.
    pub fn shortest(&self) -> Option<String> {
        self.short().into_iter().next()
    }

    fn with_sure(&self, mark: usize) -> f64 {
        self.likely.at_least_but(self.needs, Some(mark))
    }
}

/// What is needed and not simply counted, mark by mark, the least sure first; and when shipments that are needed come.
pub(crate) fn rests_on(doubt: &Doubt) -> Vec<String> {
    let mut rests: Vec<String> = Vec::new();
    let mut more: Vec<&str> = Vec::new();
    let mut comes: Vec<usize> = Vec::new();
    let marks = doubt.unsure();
    for (mark, _) in &marks {
        let supply = &doubt.supplies.marks[*mark];
        let shares = (supply.shares.iter())
            .filter(|share| share.rests != Rests::Counted || supply.shares.len() == 1);
        let says: Vec<&str> = shares.clone().map(|share| share.says.as_str()).collect();
        comes.extend(shares.filter_map(|share| share.with));
        match rests.len() < MOST_LINES {
            true => rests.push(format!("{}: {}", supply.mark, says.join("; "))),
            false => more.push(&supply.mark),
        }
    }
    if !more.is_empty() {
        rests.push(format!(
            "and {} more marks, such as {}",
            more.len(),
            more[0]
        ));
    }
    comes.sort_unstable();
    comes.dedup();
    for coming in comes
        .iter()
        .filter_map(|with| doubt.supplies.coming.get(*with))
    {
        let by = match coming.is {
            _ if coming.here_by.is_empty() => String::new(),
            ComingIs::Story => format!(" ({})", percent(coming.by(doubt.day))),
            _ => format!(" ({} here by then)", percent(coming.by(doubt.day))),
        };
        rests.push(format!("{}: {}{by}", coming.name, coming.says));
    }
    if rests.is_empty() {
        rests.push("every piece that it needs was counted".into());
    }
    rests
}

/// What would change the answer: counts, shipments and ways round, what raises the chance most first.
pub(crate) fn would_change(doubt: &Doubt) -> Vec<String> {
    let mut all: Vec<(f64, String)> = Vec::new();
    let mut to_count: Vec<(usize, f64)> = Vec::new();
    for (mark, chance) in doubt.unsure() {
        let supply = &doubt.supplies.marks[mark];
        let need = doubt.needs[mark];
        let uncounted = |rests: Rests| {
            matches!(
                rests,
                Rests::Weighed | Rests::Doubtful | Rests::Listed | Rests::Unsaid
            )
        };
        let is_open = (supply.shares.iter()).any(|share| uncounted(share.rests));
        let comes = (supply.shares.iter()).any(|share| share.rests == Rests::Promised);
        let then = doubt.with_sure(mark);
        let missing = need - doubt.supplies.by(doubt.day)[mark];
        if is_open && (chance > 0.0 || supply.shares.iter().all(|s| s.rests == Rests::Unsaid)) {
            to_count.push((mark, chance));
            if then - doubt.chance >= WORTH_SAYING {
                let says = format!(
                    "Count {}: if {need} are there, {} instead of {}",
                    supply.mark,
                    percent(then),
                    percent(doubt.chance)
                );
                all.push((then - doubt.chance, says));
            }
        } else if missing > 0 {
            let wait = if comes { ", or what is promised" } else { "" };
            let says = format!(
                "{missing} {} more by a way round{wait}: {} instead of {}",
                supply.mark,
                percent(then),
                percent(doubt.chance)
            );
            all.push((then - doubt.chance, says));
        }
    }
    all.extend(shipments(doubt));
    all.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut says: Vec<String> = all.into_iter().map(|(_, says)| says).collect();
    says.truncate(MOST_LINES);
    if let Some(together) = together(doubt, &to_count) {
        says.insert(0, together);
    }
    says
}

/// What it would mean if something that may come were surely here.
fn shipments(doubt: &Doubt) -> Vec<(f64, String)> {
    let coming = doubt.supplies.coming.iter().enumerate();
    coming
        .filter(|(_, coming)| matches!(coming.is, ComingIs::Shipment | ComingIs::Sent))
        .filter(|(_, coming)| coming.by(doubt.day) < 1.0)
        .filter_map(|(at, coming)| {
            let then = Likely::by(doubt.supplies, doubt.day, &[at]).at_least(doubt.needs);
            let more = then - doubt.chance;
            let ask = if coming.here_by.is_empty() {
                "ask for its day"
            } else {
                "ask when it comes"
            };
            let says = format!(
                "If {} is here by then, {} instead of {}: {ask}",
                coming.name,
                percent(then),
                percent(doubt.chance)
            );
            (more >= WORTH_SAYING).then_some((more, says))
        })
        .collect()
}

/// The fewest counts, the least sure first, that would make the answer sure enough, if all is there; nothing where one
/// would do, or all do not.
fn together(doubt: &Doubt, to_count: &[(usize, f64)]) -> Option<String> {
    let mut needs = doubt.needs.to_vec();
    let mut marks: Vec<&str> = Vec::new();
    for (mark, _) in to_count {
        needs[*mark] = 0;
        marks.push(&doubt.supplies.marks[*mark].mark);
        let then = doubt.likely.at_least(&needs);
        if then >= SURE_ENOUGH && doubt.chance < SURE_ENOUGH {
            return (marks.len() > 1).then(|| {
                format!(
                    "Count {} first: if all of these are there, it is {}",
                    marks.join(", "),
                    chance_in_words(then)
                )
            });
        }
    }
    None
}
