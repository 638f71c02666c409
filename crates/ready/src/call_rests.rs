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

    /// Whether what is needed of a mark was counted piece by piece.
    fn is_counted(&self, mark: usize) -> bool {
        let shares = &self.supplies.marks[mark].shares;
        let counted = shares.iter().filter(|share| share.rests == Rests::Counted);
        counted.map(|share| share.pieces).sum::<i64>() >= self.needs[mark]
    }

    /// Whether a count, or another look, would tell how many there are.
    fn can_be_counted(&self, mark: usize) -> bool {
        let open = [
            Rests::Weighed,
            Rests::Doubtful,
            Rests::Listed,
            Rests::Unsaid,
        ];
        let mut shares = self.supplies.marks[mark].shares.iter();
        shares.any(|share| open.contains(&share.rests))
    }

    fn with_sure(&self, mark: usize) -> f64 {
        self.likely.at_least_but(self.needs, Some(mark))
    }
}

/// What is needed and not simply counted, mark by mark, the least sure first; and when shipments that are needed come.
pub(crate) fn rests_on(doubt: &Doubt) -> Vec<String> {
    let marks: Vec<usize> = (doubt.unsure().into_iter().map(|(mark, _)| mark))
        .filter(|mark| !doubt.is_counted(*mark))
        .collect();
    let mut rests: Vec<String> = Vec::new();
    let mut comes: Vec<usize> = Vec::new();
    for mark in &marks {
        let supply = &doubt.supplies.marks[*mark];
        comes.extend(supply.shares.iter().filter_map(|share| share.with));
        if rests.len() < MOST_LINES {
            let says: Vec<&str> = supply.shares.iter().map(|s| s.says.as_str()).collect();
            rests.push(format!("{}: {}", supply.mark, says.join("; ")));
        }
    }
    let more = marks.len().saturating_sub(MOST_LINES);
    if more > 0 {
        let such = &doubt.supplies.marks[marks[MOST_LINES]].mark;
        rests.push(format!("and {more} more marks, such as {such}"));
    }
    comes.sort_unstable();
    comes.dedup();
    for coming in (comes.iter()).filter_map(|with| doubt.supplies.coming.get(*with)) {
        let by = match coming.is {
            _ if coming.here_by.is_empty() => String::new(),
            ComingIs::Story => format!(" ({})", percent(coming.by(doubt.day))),
            _ => format!(" ({} here by then)", percent(coming.by(doubt.day))),
        };
        rests.push(format!("{}: {}{by}", coming.name, coming.says));
    }
    let needed = doubt.needs.iter().filter(|need| **need > 0).count();
    match needed - marks.len() {
        0 => {}
        _ if marks.is_empty() => rests.push("everything that it needs was counted".into()),
        1 => rests.push("1 mark that it needs was counted".into()),
        counted => rests.push(format!("{counted} other marks that it needs were counted")),
    }
    rests
}

/// What would change the answer: counts, shipments and ways round, what raises the chance most first.
pub(crate) fn would_change(doubt: &Doubt) -> Vec<String> {
    let mut all: Vec<(f64, String)> = Vec::new();
    let mut missing: Vec<usize> = Vec::new();
    for (mark, chance) in doubt.unsure() {
        let then = doubt.with_sure(mark);
        if doubt.can_be_counted(mark) && then - doubt.chance >= WORTH_SAYING {
            let says = format!(
                "Count {}: if {} are there, {} instead of {}",
                doubt.supplies.marks[mark].mark,
                doubt.needs[mark],
                percent(then),
                percent(doubt.chance)
            );
            all.push((then - doubt.chance, says));
        }
        if chance < 0.5 && !doubt.can_be_counted(mark) {
            missing.push(mark);
        }
    }
    all.extend(made_good(doubt, &missing));
    all.extend(shipments(doubt));
    all.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut says: Vec<String> = all.into_iter().map(|(_, says)| says).collect();
    says.truncate(MOST_LINES);
    if let Some(together) = count_first(doubt, "") {
        says.insert(0, together);
    }
    says
}

/// What it would mean if all that is missing were made good.
fn made_good(doubt: &Doubt, missing: &[usize]) -> Option<(f64, String)> {
    let there = doubt.supplies.by(doubt.day);
    let mut needs = doubt.needs.to_vec();
    let mut pieces: Vec<String> = Vec::new();
    for mark in missing {
        let lacks = (needs[*mark] - there[*mark]).max(1);
        pieces.push(format!("{lacks} {}", doubt.supplies.marks[*mark].mark));
        needs[*mark] = 0;
    }
    let then = doubt.likely.at_least(&needs);
    let says = format!(
        "{} more by then, sent or by a way round: {} instead of {}",
        named(&pieces),
        percent(then),
        percent(doubt.chance)
    );
    (!missing.is_empty() && then - doubt.chance >= WORTH_SAYING)
        .then_some((then - doubt.chance, says))
}

/// What it would mean if something that may come were surely here.
fn shipments(doubt: &Doubt) -> Vec<(f64, String)> {
    let unsure = doubt.unsure();
    let shares = (unsure.iter()).flat_map(|(mark, _)| &doubt.supplies.marks[*mark].shares);
    let mut brings: Vec<usize> = shares.filter_map(|share| share.with).collect();
    brings.sort_unstable();
    brings.dedup();
    let known = |at: usize| Some((at, doubt.supplies.coming.get(at)?));
    (brings.into_iter().filter_map(known))
        .filter(|(_, coming)| matches!(coming.is, ComingIs::Shipment | ComingIs::Sent))
        .filter(|(_, coming)| coming.by(doubt.day) < 1.0)
        .take(MOST_LINES)
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

/// The fewest counts, the least sure first, that would make it sure enough if all is there: "Count B1 and P1 first: …".
/// Nothing where it is sure enough as it is, where one count would do, or where all do not.
pub(crate) fn count_first(doubt: &Doubt, then_what: &str) -> Option<String> {
    if doubt.chance >= SURE_ENOUGH {
        return None;
    }
    let mut needs = doubt.needs.to_vec();
    let mut marks: Vec<String> = Vec::new();
    let unsure = doubt.unsure().into_iter();
    for (mark, _) in unsure.filter(|(mark, _)| doubt.can_be_counted(*mark)) {
        needs[mark] = 0;
        marks.push(doubt.supplies.marks[mark].mark.clone());
        let then = doubt.likely.at_least(&needs);
        if then >= SURE_ENOUGH {
            return (marks.len() > 1 || !then_what.is_empty()).then(|| {
                format!(
                    "Count {} first: if all of it is there, {}{then_what}",
                    named(&marks),
                    chance_in_words(then)
                )
            });
        }
    }
    None
}

/// "B1, P1 and R1"; of many, the first and how many more.
fn named(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] if names.len() <= MOST_LINES => {
            format!("{} and {last}", first.join(", "))
        }
        _ => {
            let first = names[..MOST_LINES].join(", ");
            format!("{first} and {} more", names.len() - MOST_LINES)
        }
    }
}
