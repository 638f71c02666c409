//! The optimal assignment: each row to one mark or to nothing, at the least cost in all. Exact.
//!
//! Nothing costs 0. A mark takes several rows, each one after the first at a price that grows, so that a mark listed
//! in two sub-kits is found and a mark does not swallow every row that looks like it. This is a flow of least cost;
//! rows are put in one by one, each along the cheapest chain of moves that makes room for it, which keeps the whole
//! optimal. From the end state the cost of forcing any other choice is one shortest path, and so exact too.

/// Costs are whole millionths of a nat, so that ties and sums are the same on every machine.
pub type Cost = i64;

/// A cost that no chain of moves reaches.
const NEVER: Cost = Cost::MAX / 4;

/// What is to be assigned.
#[derive(Clone, Debug, Default)]
pub struct Problem {
    /// For each row the marks that are possible, with their costs; each mark at most once.
    pub rows: Vec<Vec<(usize, Cost)>>,
    /// For each mark how many rows already lie on it and stay.
    pub fixed: Vec<usize>,
    /// The price of the first, second, … row on one mark; never falling. Its length is the most rows of a mark.
    pub prices: Vec<Cost>,
}

/// The assignment of least cost.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Solution {
    /// For each row its mark, or nothing.
    pub of_row: Vec<Option<usize>>,
    /// For each row what each of its choices, nothing last, would add to the least cost of the whole; 0 for its own.
    pub regret: Vec<Vec<(Option<usize>, Cost)>>,
}

/// Solves the problem.
pub fn solve(problem: &Problem) -> Solution {
    let mut state = State::new(problem);
    for row in 0..problem.rows.len() {
        state.put_in(row);
    }
    Solution {
        regret: state.regrets(),
        of_row: state.of_row,
    }
}

/// The same without what other choices would cost, for problems of which only the assignment is wanted.
pub(crate) fn assigned(problem: &Problem) -> Vec<Option<usize>> {
    let mut state = State::new(problem);
    for row in 0..problem.rows.len() {
        state.put_in(row);
    }
    state.of_row
}

struct State<'a> {
    problem: &'a Problem,
    of_row: Vec<Option<usize>>,
    /// Rows on each mark, without the fixed ones.
    on_mark: Vec<Vec<usize>>,
}

/// The last move of a chain that makes room on a mark.
#[derive(Clone, Copy)]
enum Move {
    /// There is room.
    Free,
    /// This row goes to nothing.
    Drop(usize),
    /// This row goes to another mark, where room is made in turn.
    Shift(usize, usize),
}

impl<'a> State<'a> {
    fn new(problem: &'a Problem) -> Self {
        Self {
            problem,
            of_row: vec![None; problem.rows.len()],
            on_mark: vec![Vec::new(); problem.fixed.len()],
        }
    }

    fn load(&self, mark: usize) -> usize {
        self.problem.fixed[mark] + self.on_mark[mark].len()
    }

    fn price(&self, nth: usize) -> Cost {
        self.problem.prices.get(nth).copied().unwrap_or(NEVER)
    }

    fn cost(&self, row: usize, mark: usize) -> Cost {
        self.problem.rows[row]
            .iter()
            .find(|(m, _)| *m == mark)
            .map_or(NEVER, |(_, cost)| *cost)
    }

    fn put_in(&mut self, row: usize) {
        let room = self.room();
        let best = self.problem.rows[row]
            .iter()
            .map(|&(mark, cost)| (cost + room[mark].0, mark))
            .min();
        let Some((total, mut mark)) = best.filter(|(total, _)| *total < 0) else {
            return;
        };
        debug_assert!(total > -NEVER);
        let mut row = row;
        loop {
            self.on_mark[mark].push(row);
            self.of_row[row] = Some(mark);
            let (leaves, to) = match room[mark].1 {
                Move::Free => return,
                Move::Drop(leaves) => (leaves, None),
                Move::Shift(leaves, to) => (leaves, Some(to)),
            };
            self.on_mark[mark].retain(|other| *other != leaves);
            self.of_row[leaves] = None;
            let Some(to) = to else { return };
            (row, mark) = (leaves, to);
        }
    }

    /// For each mark the least cost of making room for one more row, and the first move of that chain.
    fn room(&self) -> Vec<(Cost, Move)> {
        let marks = self.on_mark.len();
        let mut room: Vec<(Cost, Move)> = (0..marks)
            .map(|m| (self.price(self.load(m)), Move::Free))
            .collect();
        // No chain is longer than the marks; each round settles one more move.
        for _ in 0..=marks {
            let mut changed = false;
            for mark in 0..marks {
                for &row in &self.on_mark[mark] {
                    let here = self.cost(row, mark);
                    let mut offer = (-here, Move::Drop(row));
                    for &(to, cost) in &self.problem.rows[row] {
                        let through = cost - here + room[to].0;
                        if to != mark && through < offer.0 {
                            offer = (through, Move::Shift(row, to));
                        }
                    }
                    if offer.0 < room[mark].0 {
                        room[mark] = offer;
                        changed = true;
                    }
                }
            }
            if !changed {
                break;
            }
        }
        room
    }

    /// Forcing a row to another mark closes a circle of moves: the row leaves its place, and the cheapest chain from
    /// the other mark leads back there. Nothing and the free slots are places too.
    fn regrets(&self) -> Vec<Vec<(Option<usize>, Cost)>> {
        let way = self.ways();
        let nothing = self.on_mark.len();
        let rows = self.problem.rows.iter().zip(&self.of_row);
        rows.map(|(choices, own)| {
            let place = own.unwrap_or(nothing);
            let here = own.map_or(0, |mark| {
                choices
                    .iter()
                    .find(|(m, _)| *m == mark)
                    .map_or(0, |(_, cost)| *cost)
            });
            let all = choices
                .iter()
                .map(|&(mark, cost)| (Some(mark), cost))
                .chain([(None, 0)]);
            all.map(|(choice, cost)| {
                let to = choice.unwrap_or(nothing);
                let regret = if choice == *own {
                    0
                } else {
                    cost - here + way[to][place]
                };
                (choice, regret.min(NEVER))
            })
            .collect()
        })
        .collect()
    }

    /// Cheapest chains of moves between all places: the marks, nothing, and the free slots (last).
    fn ways(&self) -> Vec<Vec<Cost>> {
        let marks = self.on_mark.len();
        let (nothing, free) = (marks, marks + 1);
        let mut way = vec![vec![NEVER; marks + 2]; marks + 2];
        for (place, row) in way.iter_mut().enumerate() {
            row[place] = 0;
        }
        let mut offer =
            |from: usize, to: usize, cost: Cost| way[from][to] = way[from][to].min(cost);
        offer(nothing, free, 0);
        offer(free, nothing, 0);
        for mark in 0..marks {
            offer(mark, free, self.price(self.load(mark)));
            if !self.on_mark[mark].is_empty() {
                offer(free, mark, -self.price(self.load(mark) - 1));
            }
        }
        for (choices, own) in self.problem.rows.iter().zip(&self.of_row) {
            let place = own.unwrap_or(nothing);
            let here = own.map_or(0, |mark| {
                choices
                    .iter()
                    .find(|(m, _)| *m == mark)
                    .map_or(0, |(_, cost)| *cost)
            });
            offer(place, nothing, -here);
            for &(mark, cost) in choices {
                offer(place, mark, cost - here);
            }
        }
        for through in 0..marks + 2 {
            let onward = way[through].clone();
            for from in &mut way {
                let first = from[through];
                if first >= NEVER {
                    continue;
                }
                for (to, rest) in onward.iter().enumerate() {
                    from[to] = from[to].min(first.saturating_add(*rest));
                }
            }
        }
        way
    }
}
