//! A linear programme in whole numbers: columns in, chosen amounts out. It knows nothing of parts or stages.
//!
//! Costs, limits and terms are whole, so that what the solver says is held against the programme exactly before it is
//! believed, and so that two ways of solving can be compared to the last unit.

use std::fmt::Write;

use microlp::{
    ComparisonOp, OptimizationDirection, Problem, SolutionStatus, SolveOptions, Variable,
};

/// What is chosen, at the least cost, under some limits.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Programme {
    /// The columns.
    pub columns: Vec<Column>,
    /// The limits.
    pub rows: Vec<Row>,
}

/// Something of which a whole amount from 0 is chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Column {
    /// The greatest amount.
    pub most: i64,
    /// What one costs; less than nothing where it is wanted.
    pub cost: i64,
}

/// A sum of amounts that is held to a value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// Which columns (by index), each so many times.
    pub terms: Vec<(usize, i64)>,
    /// How it is held.
    pub is: Is,
    /// The value.
    pub value: i64,
}

/// How a sum is held to its value.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Is {
    /// No more than it.
    AtMost,
    /// No less than it.
    AtLeast,
    /// Just it.
    Exactly,
}

/// The chosen amounts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chosen {
    /// By column.
    pub amounts: Vec<i64>,
    /// What they cost together.
    pub cost: i64,
    /// Whether nothing costs less, by the solver's own proof.
    pub proven: bool,
}

/// What finding amounts took.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Work {
    /// Nodes of the search, beyond the first.
    pub nodes: u64,
    /// Steps of the simplex in all of them.
    pub pivots: u64,
}

/// About so many pivots a node takes.
pub const PIVOTS_OF_A_NODE: u64 = 20;

/// Why there are no amounts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unsolved {
    /// No amounts keep to every limit.
    NoneThere,
    /// The solver gave up, or said what is not so.
    Failed,
}

/// After so many nodes the best that was found is taken, unproven.
const MOST_NODES: u64 = 20_000;

impl Programme {
    /// Adds a column and gives its index.
    pub fn column(&mut self, most: i64, cost: i64) -> usize {
        self.columns.push(Column { most, cost });
        self.columns.len() - 1
    }

    /// Adds a limit.
    pub fn row(&mut self, terms: Vec<(usize, i64)>, is: Is, value: i64) {
        self.rows.push(Row { terms, is, value });
    }

    /// What the amounts cost; nothing where they break a limit.
    pub fn cost(&self, amounts: &[i64]) -> Option<i64> {
        let fits = amounts.len() == self.columns.len()
            && (self.columns.iter().zip(amounts)).all(|(c, n)| (0..=c.most).contains(n));
        let kept = |row: &Row| {
            let sum: i64 = row
                .terms
                .iter()
                .map(|(at, times)| amounts[*at] * times)
                .sum();
            match row.is {
                Is::AtMost => sum <= row.value,
                Is::AtLeast => sum >= row.value,
                Is::Exactly => sum == row.value,
            }
        };
        (fits && self.rows.iter().all(kept)).then(|| {
            (self.columns.iter().zip(amounts))
                .map(|(c, n)| c.cost * n)
                .sum()
        })
    }

    /// The amounts of least cost.
    pub fn solve(&self) -> Result<Chosen, Unsolved> {
        self.solve_within(None, MOST_NODES)
            .map(|(chosen, _)| chosen)
    }

    /// The amounts of least cost, or, where so many nodes of the search do not prove it, the best that were found, which
    /// are no dearer than those known before; with the work that took. Amounts that break a limit are not known.
    pub fn solve_within(
        &self,
        known: Option<&[i64]>,
        nodes: u64,
    ) -> Result<(Chosen, Work), Unsolved> {
        let known = known.and_then(|amounts| Some((amounts, self.cost(amounts)?)));
        let start = known.map(|(amounts, _)| amounts);
        // The solver refuses what it cannot verify. Without presolving it may get through where it did not.
        let solved = match self.solve_once(true, start, nodes) {
            Err(Unsolved::Failed) => self.solve_once(false, start, nodes),
            solved => solved,
        };
        match (solved, known) {
            (Ok((chosen, work)), Some((_, cost))) if chosen.cost <= cost => Ok((chosen, work)),
            (Ok(solved), None) => Ok(solved),
            (_, Some((amounts, cost))) => {
                let amounts = amounts.to_vec();
                let chosen = Chosen {
                    amounts,
                    cost,
                    proven: false,
                };
                let pivots = nodes * PIVOTS_OF_A_NODE;
                Ok((chosen, Work { nodes, pivots }))
            }
            (Err(error), None) => Err(error),
        }
    }

    fn solve_once(
        &self,
        presolve: bool,
        start: Option<&[i64]>,
        nodes: u64,
    ) -> Result<(Chosen, Work), Unsolved> {
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let variables: Vec<Variable> = (self.columns.iter())
            .map(|column| {
                let most = i32::try_from(column.most).unwrap_or(i32::MAX);
                problem.add_integer_var(column.cost as f64, (0, most))
            })
            .collect();
        for row in &self.rows {
            let terms: Vec<(Variable, f64)> = (row.terms.iter())
                .map(|(at, times)| (variables[*at], *times as f64))
                .collect();
            let is = match row.is {
                Is::AtMost => ComparisonOp::Le,
                Is::AtLeast => ComparisonOp::Ge,
                Is::Exactly => ComparisonOp::Eq,
            };
            problem.add_constraint(terms, is, row.value as f64);
        }
        let mut options = SolveOptions::default();
        options.presolve = presolve;
        options.node_limit = Some(nodes);
        options.warm_start = start.map(|amounts| {
            let amounts = amounts.iter().map(|amount| *amount as f64);
            variables.iter().copied().zip(amounts).collect()
        });
        let outcome = problem.solve_with(options).map_err(|error| match error {
            microlp::Error::Infeasible => Unsolved::NoneThere,
            _ => Unsolved::Failed,
        })?;
        let work = Work {
            nodes: outcome.stats().nodes_solved,
            pivots: outcome.stats().lp_iterations,
        };
        let solution = outcome.into_solution().map_err(|_| Unsolved::Failed)?;
        let amounts: Vec<i64> = (variables.iter())
            .map(|variable| solution.var_value(*variable).round() as i64)
            .collect();
        let cost = self.cost(&amounts).ok_or(Unsolved::Failed)?;
        let chosen = Chosen {
            amounts,
            cost,
            proven: solution.status() == SolutionStatus::Optimal,
        };
        Ok((chosen, work))
    }

    /// The programme in the LP text form that other solvers read, to compare them with ours.
    pub fn lp(&self) -> String {
        let term = |times: i64, at: usize| format!("{times:+} x{at}");
        let sum = |terms: &mut dyn Iterator<Item = String>| terms.collect::<Vec<_>>().join(" ");
        let mut text = String::from("Minimize\n obj: ");
        text += &sum(&mut (self.columns.iter().enumerate()).map(|(at, c)| term(c.cost, at)));
        text += "\nSubject To\n";
        for (at, row) in self.rows.iter().enumerate() {
            let is = match row.is {
                Is::AtMost => "<=",
                Is::AtLeast => ">=",
                Is::Exactly => "=",
            };
            let terms = sum(&mut row.terms.iter().map(|(at, times)| term(*times, *at)));
            // Writing to a string cannot fail.
            let _ = writeln!(text, " r{at}: {terms} {is} {}", row.value);
        }
        text += "Bounds\n";
        for (at, column) in self.columns.iter().enumerate() {
            let _ = writeln!(text, " 0 <= x{at} <= {}", column.most);
        }
        text += "General\n";
        text += &sum(&mut (0..self.columns.len()).map(|at| format!("x{at}")));
        text += "\nEnd\n";
        text
    }
}
