//! An integer programme: columns in, chosen amounts out. It knows nothing of parts or counts.
//!
//! Each number is to be made up exactly from whole amounts of columns, at the least cost. A column that is used at all
//! costs something (`fixed`), and each further unit of it something more, never less than the one before. Costs are whole
//! millionths of a nat, so that two ways of solving can be compared exactly. What the solver says is held against the
//! programme in whole numbers before it is believed.

use microlp::{
    ComparisonOp, LinearExpr, OptimizationDirection, Problem, SolutionStatus, SolveOptions,
    Variable,
};

/// Millionths of a nat.
pub type Cost = i64;

/// Something that may be used, in a whole amount.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Column {
    /// What each unit adds, by number.
    pub effects: Vec<(usize, i64)>,
    /// The greatest amount.
    pub most: i64,
    /// What the first unit costs.
    pub fixed: Cost,
    /// What further units cost: so many units at so much each, and then the next. Never falling; what is beyond the last
    /// costs as the last.
    pub further: Vec<(i64, Cost)>,
    /// Columns of one class are the same thing in several writings: a story either has it or has not. None: no part of
    /// the story at all, such as what is left free.
    pub class: Option<usize>,
}

impl Column {
    /// What an amount costs.
    pub fn cost(&self, amount: i64) -> Cost {
        if amount <= 0 {
            return 0;
        }
        let mut cost = self.fixed;
        let mut left = amount - 1;
        for (units, each) in self.steps() {
            let taken = left.min(units);
            cost += taken * each;
            left -= taken;
        }
        cost
    }

    /// Whether no amount costs more than of another column; `or_the_same`: all may cost the same.
    fn costs_no_more_than(&self, other: &Self, or_the_same: bool) -> bool {
        // Between two ends of steps costs go straight, so the ends of both tell.
        let mut ends = vec![1, other.most];
        for column in [self, other] {
            let mut end = 1;
            for (units, _) in column.steps() {
                end += units;
                ends.push(end.min(other.most));
            }
        }
        let costs = ends.iter().map(|end| (self.cost(*end), other.cost(*end)));
        let mut less = or_the_same;
        for (ours, theirs) in costs {
            if ours > theirs {
                return false;
            }
            less |= ours < theirs;
        }
        less
    }

    /// The steps of the further units, as many as there can be.
    fn steps(&self) -> Vec<(i64, Cost)> {
        let mut left = (self.most - 1).max(0);
        let mut steps = Vec::new();
        let last = self.further.last().map_or(0, |(_, each)| *each);
        for (units, each) in (self.further.iter().copied()).chain([(i64::MAX, last)]) {
            let units = units.min(left);
            if units > 0 {
                steps.push((units, each));
                left -= units;
            }
        }
        steps
    }
}

/// What is to be made up, and from what.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Programme {
    /// The numbers that are to be made up exactly.
    pub targets: Vec<i64>,
    /// What they are made up from.
    pub columns: Vec<Column>,
    /// Of each of these sets no more than one column is used.
    pub one_of: Vec<Vec<usize>>,
}

/// The chosen amounts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chosen {
    /// By column.
    pub amounts: Vec<i64>,
    /// What they cost together.
    pub cost: Cost,
    /// Whether nothing costs less, by the solver's own proof.
    pub proven: bool,
}

/// Why there are no amounts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unsolved {
    /// No amounts make up the numbers.
    NoneThere,
    /// The solver gave up, or said what is not so.
    Failed,
}

/// After so many nodes the best that was found is taken, unproven.
const MOST_NODES: u64 = 2_000;

impl Programme {
    /// What the amounts cost; nothing where they do not make up every number exactly or break a rule.
    pub fn cost(&self, amounts: &[i64]) -> Option<Cost> {
        if amounts.len() != self.columns.len() {
            return None;
        }
        let mut left = self.targets.clone();
        let mut cost = 0;
        for (column, amount) in self.columns.iter().zip(amounts) {
            if !(0..=column.most).contains(amount) {
                return None;
            }
            for (number, effect) in &column.effects {
                left[*number] -= effect * amount;
            }
            cost += column.cost(*amount);
        }
        let used = |set: &&Vec<usize>| set.iter().filter(|c| amounts[**c] > 0).count() > 1;
        (left.iter().all(|n| *n == 0) && self.one_of.iter().find(used).is_none()).then_some(cost)
    }

    /// Whether a column need not be looked at: of a set of which no more than one is used, another does the same, is as
    /// free to be used and never costs more.
    fn is_idle(&self, place: usize) -> bool {
        let column = &self.columns[place];
        let as_free = |at: usize| {
            let mut sets = self.one_of.iter().filter(|set| set.contains(&at));
            sets.all(|set| set.contains(&place))
        };
        let sets = self.one_of.iter().filter(|set| set.contains(&place));
        sets.flatten().any(|&at| {
            let other = &self.columns[at];
            at != place
                && other.effects == column.effects
                && other.most >= column.most
                && as_free(at)
                && other.costs_no_more_than(column, at < place)
        })
    }

    /// The classes that amounts use.
    pub fn classes(&self, amounts: &[i64]) -> Vec<usize> {
        let used = self.columns.iter().zip(amounts).filter(|(_, n)| **n > 0);
        let mut classes: Vec<usize> = used.filter_map(|(column, _)| column.class).collect();
        classes.sort_unstable();
        classes.dedup();
        classes
    }

    /// The amounts of least cost.
    pub fn solve(&self) -> Result<Chosen, Unsolved> {
        self.solve_without(None)
    }

    /// The amounts of least cost that do without at least one of the classes: of those without the first, those without
    /// the second and so on the cheapest.
    pub fn solve_without_one_of(&self, classes: &[usize]) -> Result<Chosen, Unsolved> {
        let mut best: Result<Chosen, Unsolved> = Err(Unsolved::NoneThere);
        let mut proven = true;
        for class in classes {
            let found = self.solve_without(Some(*class));
            proven &= match &found {
                Ok(found) => found.proven,
                Err(unsolved) => *unsolved == Unsolved::NoneThere,
            };
            best = match (best, found) {
                (Ok(best), Ok(found)) if found.cost < best.cost => Ok(found),
                (Ok(best), _) => Ok(best),
                (Err(_), Ok(found)) => Ok(found),
                (Err(Unsolved::NoneThere), Err(found)) => Err(found),
                (Err(best), Err(_)) => Err(best),
            };
        }
        best.map(|best| Chosen {
            proven: best.proven && proven,
            ..best
        })
    }

    fn solve_without(&self, class: Option<usize>) -> Result<Chosen, Unsolved> {
        let tight = self.tightened(class).ok_or(Unsolved::NoneThere)?;
        // The solver refuses what it cannot verify. Without presolving it may get through where it did not.
        match self.solve_once(&tight, true) {
            Err(Unsolved::Failed) => self.solve_once(&tight, false),
            solved => solved,
        }
    }

    fn solve_once(&self, tight: &Self, presolve: bool) -> Result<Chosen, Unsolved> {
        let written = Written::of(tight);
        let mut options = SolveOptions::default();
        options.presolve = presolve;
        options.node_limit = Some(MOST_NODES);
        let outcome = (written.problem.solve_with(options)).map_err(|error| match error {
            microlp::Error::Infeasible => Unsolved::NoneThere,
            _ => Unsolved::Failed,
        })?;
        let solution = outcome.into_solution().map_err(|_| Unsolved::Failed)?;
        let whole = |var: &Variable| solution.var_value(*var).round() as i64;
        let amounts: Vec<i64> = (written.units.iter())
            .map(|units| units.iter().map(whole).sum())
            .collect();
        let cost = self.cost(&amounts).ok_or(Unsolved::Failed)?;
        Ok(Chosen {
            amounts,
            cost,
            proven: solution.status() == SolutionStatus::Optimal,
        })
    }
}

/// A programme as the solver takes it.
struct Written {
    problem: Problem,
    /// The variables whose sum is a column's amount; the first one is the first unit.
    units: Vec<Vec<Variable>>,
}

impl Written {
    fn of(programme: &Programme) -> Self {
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let units: Vec<Vec<Variable>> = (0..programme.columns.len())
            .map(|place| match programme.is_idle(place) {
                true => Vec::new(),
                false => write_column(&mut problem, &programme.columns[place]),
            })
            .collect();
        write_numbers(&mut problem, programme, &units);
        for set in &programme.one_of {
            let firsts: Vec<(Variable, f64)> = (set.iter())
                .filter_map(|column| Some((*units[*column].first()?, 1.0)))
                .collect();
            problem.add_constraint(firsts, ComparisonOp::Le, 1.0);
        }
        Self { problem, units }
    }
}

/// The first unit opens the further ones.
fn write_column(problem: &mut Problem, column: &Column) -> Vec<Variable> {
    if column.most <= 0 {
        return Vec::new();
    }
    let first = problem.add_binary_var(column.fixed as f64);
    let mut units = vec![first];
    for (most, each) in column.steps() {
        let most = i32::try_from(most).unwrap_or(i32::MAX);
        let step = problem.add_integer_var(each as f64, (0, most));
        let opened = [(step, 1.0), (first, -f64::from(most))];
        problem.add_constraint(opened, ComparisonOp::Le, 0.0);
        units.push(step);
    }
    units
}

fn write_numbers(problem: &mut Problem, programme: &Programme, units: &[Vec<Variable>]) {
    let mut rows = vec![LinearExpr::empty(); programme.targets.len()];
    for (column, units) in programme.columns.iter().zip(units) {
        for (number, effect) in &column.effects {
            for unit in units {
                rows[*number].add(*unit, *effect as f64);
            }
        }
    }
    for (row, target) in rows.into_iter().zip(&programme.targets) {
        problem.add_constraint(row, ComparisonOp::Eq, *target as f64);
    }
}
