//! What an answer rests on, and what would change it.

use jiff::civil::Date;
use tell::percent;

use crate::assumed::SURE_ENOUGH;
use crate::build::Build;
use crate::call_words::chance_in_words;
use crate::likely::Likely;
use crate::supply::{ComingIs, Rests, Supplies};

/// The most lines of either.
const MOST_LINES: usize = 8;

/// What is worth saying changes the chance by at least this.
const WORTH_SAYING: f64 = 0.002;

/// A mark that was counted is in doubt where it is less sure than this that there is enough of it.
const COUNTED_SURE: f64 = 0.98;

/// Needs, and what is in doubt about them.
pub(crate) struct Doubt<'a> {
    pub build: &'a Build,
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

    /// Marks of which too few are there by what was counted, listed and promised, or more likely than not; what the build
    /// comes to first stands first.
    fn lacking(&self) -> Vec<usize> {
        let there = self.supplies.by(self.day);
        let mut lacking: Vec<usize> = (self.unsure().into_iter())
            .filter(|(mark, chance)| {
                there[*mark] < self.needs[*mark] || (*chance < 0.5 && !self.is_counted(*mark))
            })
            .map(|(mark, _)| mark)
            .collect();
        lacking.sort_by_key(|mark| self.stops_at(*mark, there[*mark]));
        lacking
    }

    /// The first unit for which too few of a mark are there.
    fn stops_at(&self, mark: usize, mut there: i64) -> usize {
        let mut units = self.build.units.iter();
        let runs_out = units.position(|unit| {
            let needs = unit.needs.iter().find(|(of, _)| *of == mark);
            there -= needs.map_or(0, |(_, pieces)| *pieces);
            there < 0
        });
        runs_out.unwrap_or(usize::MAX)
    }

    /// Marks that were counted, and of which one fewer than counted would be too few.
    fn doubted(&self) -> Vec<usize> {
        let there = self.supplies.by(self.day);
        (self.unsure().into_iter())
            .filter(|(mark, chance)| {
                let enough = there[*mark] >= self.needs[*mark] && self.is_counted(*mark);
                enough && *chance < COUNTED_SURE
            })
            .map(|(mark, _)| mark)
            .collect()
    }

    /// The same in words: "B1 may be fewer than counted (27 counted, 1 of them not fit for use): count it again".
    pub fn in_doubt(&self) -> Vec<String> {
        (self.doubted().into_iter())
            .map(|mark| {
                let supply = &self.supplies.marks[mark];
                let counted = supply.shares.iter().filter(|s| s.rests == Rests::Counted);
                let says: Vec<&str> = counted.map(|share| share.says.as_str()).collect();
                format!(
                    "{} may be fewer than counted ({}): count it again",
                    supply.mark,
                    says.join("; ")
                )
            })
            .collect()
    }

    /// "R1: 15 needed, 13 there by then", of each mark that is lacking.
    pub fn short(&self) -> Vec<String> {
        let there = self.supplies.by(self.day);
        (self.lacking().into_iter())
            .map(|mark| {
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
        shares.any(|share| open.contains(&share.rests) && !self.supplies.is_story(share))
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
    let doubted = doubt.doubted();
    for (mark, _) in doubt.unsure() {
        let then = doubt.with_sure(mark);
        let again = match doubted.contains(&mark) {
            true => " again",
            false if doubt.can_be_counted(mark) => "",
            false => continue,
        };
        if then - doubt.chance >= WORTH_SAYING {
            let says = format!(
                "Count {}{again}: if {} are there, {} instead of {}",
                doubt.supplies.marks[mark].mark,
                doubt.needs[mark],
                percent(then),
                percent(doubt.chance)
            );
            all.push((then - doubt.chance, says));
        }
    }
    let mut missing = doubt.lacking();
    missing.retain(|mark| !doubt.can_be_counted(*mark));
    all.extend(made_good(doubt, &missing));
    all.extend(shipments(doubt));
    all.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut says: Vec<String> = all.into_iter().map(|(_, says)| says).collect();
    says.truncate(MOST_LINES);
    if let Some(first) = count_first(doubt).filter(|first| first.marks.len() > 1) {
        says.insert(0, first.in_words(doubt, ""));
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

/// What it would mean if something that may come, or turn out true, were surely so.
fn shipments(doubt: &Doubt) -> Vec<(f64, String)> {
    let unsure = doubt.unsure();
    let shares = (unsure.iter()).flat_map(|(mark, _)| &doubt.supplies.marks[*mark].shares);
    let mut brings: Vec<usize> = shares.filter_map(|share| share.with).collect();
    brings.sort_unstable();
    brings.dedup();
    let known = |at: usize| Some((at, doubt.supplies.coming.get(at)?));
    (brings.into_iter().filter_map(known))
        .filter(|(_, coming)| coming.is != ComingIs::WayRound)
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
            let turns = format!("{} instead of {}", percent(then), percent(doubt.chance));
            let says = match coming.is {
                ComingIs::Story => format!(
                    "Look whether it is so: {} ({}). If it is, {turns}",
                    coming.says,
                    chance_in_words(coming.by(doubt.day))
                ),
                _ => format!("If {} is here by then, {turns}: {ask}", coming.name),
            };
            (more >= WORTH_SAYING).then_some((more, says))
        })
        .collect()
}

/// What to count first.
pub(crate) struct CountFirst {
    /// The marks (by index), the least sure first.
    marks: Vec<usize>,
    /// The chance if there is enough of all of these.
    then: f64,
}

/// The fewest counts, the least sure first, that would make it sure enough if all is there. Nothing where it is sure
/// enough as it is, or where all do not.
pub(crate) fn count_first(doubt: &Doubt) -> Option<CountFirst> {
    if doubt.chance >= SURE_ENOUGH {
        return None;
    }
    let mut needs = doubt.needs.to_vec();
    let mut marks: Vec<usize> = Vec::new();
    let unsure = doubt.unsure().into_iter();
    for (mark, _) in unsure.filter(|(mark, _)| doubt.can_be_counted(*mark)) {
        needs[mark] = 0;
        marks.push(mark);
        let then = doubt.likely.at_least(&needs);
        if then >= SURE_ENOUGH {
            return Some(CountFirst { marks, then });
        }
    }
    None
}

impl CountFirst {
    /// "Count B1 and P1 first: if all of it is there, likely, 92 %".
    pub fn in_words(&self, doubt: &Doubt, then_what: &str) -> String {
        let marks = self.marks.iter();
        let names: Vec<String> = marks
            .map(|mark| doubt.supplies.marks[*mark].mark.clone())
            .collect();
        format!(
            "Count {} first: if all of it is there, {}{then_what}",
            named(&names),
            chance_in_words(self.then)
        )
    }

    /// "11 marks are not counted. Count them first: then likely go".
    pub fn as_reason(&self, doubt: &Doubt, then_what: &str) -> String {
        let is_open = |mark: &usize| {
            let mut shares = doubt.supplies.marks[*mark].shares.iter();
            shares.all(|share| share.rests > Rests::Doubtful || doubt.supplies.is_story(share))
        };
        let how = match self.marks.iter().all(is_open) {
            true => "not counted",
            false => "not counted for sure",
        };
        match self.marks.as_slice() {
            [one] => {
                let name = &doubt.supplies.marks[*one].mark;
                format!("{name} is {how}. Count it first: then likely {then_what}")
            }
            all => format!(
                "{} marks are {how}. Count them first: then likely {then_what}",
                all.len()
            ),
        }
    }
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
