//! Small builds made up at random, and the best that can be done with them, found by trying every way.

use proptest::prelude::*;
use ready::{Build, BuildStage, Gap, Shared, Unit};

/// A small build and the pieces that there are.
#[derive(Clone, Debug)]
pub struct Small {
    pub build: Build,
    pub there: Vec<i64>,
}

const MARKS: usize = 3;

fn unit(
    stage: usize,
    bows: [usize; 2],
    needs: Vec<(usize, i64)>,
    after: Vec<usize>,
    gap: Gap,
) -> Unit {
    Unit {
        stage,
        name: format!("{stage} at {bows:?}"),
        bows,
        needs,
        after,
        pieces: vec![0],
        gap,
    }
}

fn build(stages: Vec<Vec<usize>>, units: Vec<Unit>, bows: usize) -> Build {
    Build {
        stages: (stages.into_iter().enumerate())
            .map(|(index, follows)| BuildStage {
                name: format!("stage {index}"),
                follows,
                work: String::new(),
            })
            .collect(),
        units,
        marks: (0..MARKS).map(|mark| format!("M{mark}")).collect(),
        bows,
        shared: Vec::new(),
        may_leave: Vec::new(),
    }
}

fn needs() -> impl Strategy<Value = Vec<(usize, i64)>> {
    prop::collection::vec(
        prop_oneof![3 => Just(0i64), 3 => Just(1), 1 => Just(2)],
        MARKS,
    )
    .prop_map(|all| {
        all.into_iter()
            .enumerate()
            .filter(|(_, pieces)| *pieces > 0)
            .collect()
    })
}

/// Any units in any order of stages, each after any of those before it.
pub fn any_build() -> impl Strategy<Value = Small> {
    let unit = (
        0..4usize,
        needs(),
        prop::collection::vec(prop::bool::weighted(0.25), 13),
    );
    let shared = prop::collection::vec(
        (0..MARKS, prop::collection::btree_set(0..13usize, 2..4)),
        0..3,
    );
    (prop::collection::vec(unit, 1..13), shared, amounts()).prop_map(
        |(mut drawn, shared, there)| {
            drawn.sort_by_key(|(stage, ..)| *stage);
            let units: Vec<Unit> = (drawn.iter().enumerate())
                .map(|(index, (stage, needs, after))| {
                    let after = (0..index)
                        .filter(|i| after[*i] && drawn[*i].0 < *stage)
                        .collect();
                    unit_anywhere(*stage, needs.clone(), after)
                })
                .collect();
            let stages = (0..4).map(|stage| (0..stage).collect()).collect();
            let mut build = build(stages, units, 3);
            for (mark, users) in shared {
                let users: Vec<usize> = users
                    .into_iter()
                    .filter(|u| *u < build.units.len())
                    .collect();
                share(&mut build, mark, users);
            }
            Small { build, there }
        },
    )
}

fn unit_anywhere(stage: usize, needs: Vec<(usize, i64)>, after: Vec<usize>) -> Unit {
    unit(stage, [1 + stage % 3, 3], needs, after, Gap::Waits)
}

/// Has units cut what they need of a mark from one piece; the first has it in its needs.
fn share(build: &mut Build, mark: usize, users: Vec<usize>) {
    let [first, _, ..] = users[..] else { return };
    let needs = &mut build.units[first].needs;
    match needs.iter_mut().find(|(m, _)| *m == mark) {
        Some((_, pieces)) => *pieces += 1,
        None => needs.push((mark, 1)),
    }
    needs.sort_unstable();
    build.shared.push(Shared { mark, units: users });
}

fn amounts() -> impl Strategy<Value = Vec<i64>> {
    prop::collection::vec(
        prop_oneof![1 => 0..4i64, 2 => 2..9i64, 1 => Just(40)],
        MARKS,
    )
}

/// A house: bows, some made on the ground and then put up, lines over them, what only a bow carries, and a skin over all.
pub fn any_house() -> impl Strategy<Value = Small> {
    let line = (1..6usize, 1..4usize, needs());
    let of_bow = (needs(), needs());
    (
        3..6usize,
        any::<bool>(),
        prop::collection::vec(of_bow, 5),
        prop::collection::vec(line, 1..5),
        prop::collection::vec((1..6usize, needs()), 0..2),
        needs(),
        prop::collection::vec(any::<bool>(), 5),
        amounts(),
    )
        .prop_map(
            |(bows, on_ground, of_bows, lines, carried, skin, leave, there)| {
                let mut units = Vec::new();
                // Bows that are made on the ground first make many units: few of them, then.
                let bows = if on_ground { bows.min(4) } else { bows };
                for bow in 1..=bows {
                    units.push(unit(
                        0,
                        [bow, bow],
                        of_bows[bow - 1].0.clone(),
                        Vec::new(),
                        Gap::Bow(bow),
                    ));
                }
                let mut standing = 0;
                if on_ground {
                    standing = units.len();
                    for bow in 1..=bows {
                        let needs = of_bows[bow - 1].1.clone();
                        let mut up = unit(1, [bow, bow], needs, vec![bow - 1], Gap::Bow(bow));
                        up.pieces.clear();
                        units.push(up);
                    }
                }
                for (from, more, needs) in lines {
                    let (from, to) = (from.min(bows), (from + more).min(bows));
                    let after = (from..=to).map(|bow| standing + bow - 1).collect();
                    units.push(unit(2, [from, to], needs, after, Gap::Spans));
                }
                for (bow, needs) in carried {
                    let bow = bow.min(bows);
                    units.push(unit(
                        3,
                        [bow, bow],
                        needs,
                        vec![standing + bow - 1],
                        Gap::Bow(bow),
                    ));
                }
                let all = (standing..units.len()).collect();
                units.push(unit(4, [1, bows], skin, all, Gap::Waits));
                let stages = vec![vec![], vec![0], vec![0, 1], vec![0, 1], vec![0, 1, 2, 3]];
                let mut build = build(stages, units, bows);
                build.may_leave = (2..bows).filter(|bow| leave[*bow]).collect();
                Small { build, there }
            },
        )
}

impl Small {
    /// By stage, how many units are done where as many as can be are, of the first stage before the second: by trying every
    /// set of units with every set of bows left out.
    pub fn best(&self) -> Vec<usize> {
        let may = &self.build.may_leave;
        let mut best = vec![0; self.build.stages.len()];
        for leave in 0..1u32 << may.len() {
            let left_out: Vec<usize> = (0..may.len())
                .filter(|i| leave >> i & 1 == 1)
                .map(|i| may[i])
                .collect();
            for set in 0..1u32 << self.build.units.len() {
                let done: Vec<bool> = (0..self.build.units.len())
                    .map(|i| set >> i & 1 == 1)
                    .collect();
                let counts = self.counts(&done);
                if counts > best && self.can_be(&done, &left_out) {
                    best = counts;
                }
            }
        }
        best
    }

    pub fn counts(&self, done: &[bool]) -> Vec<usize> {
        let mut counts = vec![0; self.build.stages.len()];
        for (unit, _) in self.build.units.iter().zip(done).filter(|(_, done)| **done) {
            counts[unit.stage] += 1;
        }
        counts
    }

    /// Whether this can be built, by the rules as the documentation has them.
    pub fn can_be(&self, done: &[bool], left_out: &[usize]) -> bool {
        let units = &self.build.units;
        (0..MARKS).all(|mark| self.used(done, mark) <= self.there[mark])
            && (0..units.len())
                .filter(|i| done[*i])
                .all(|i| self.follows(i, done, left_out))
            && left_out.iter().all(|bow| {
                self.build.may_leave.contains(bow)
                    && !self.is_up(*bow, done)
                    && self.is_up(bow - 1, done)
                    && self.is_up(bow + 1, done)
            })
    }

    fn used(&self, done: &[bool], mark: usize) -> i64 {
        let mut used = 0;
        for (unit, _) in self.build.units.iter().zip(done).filter(|(_, done)| **done) {
            used += unit
                .needs
                .iter()
                .filter(|(m, _)| *m == mark)
                .map(|(_, n)| n)
                .sum::<i64>();
        }
        for shared in self
            .build
            .shared
            .iter()
            .filter(|shared| shared.mark == mark)
        {
            used -= i64::from(done[shared.units[0]]);
            used += i64::from(shared.units.iter().any(|unit| done[*unit]));
        }
        used
    }

    /// All before a unit are done; a line does without those of a bow that is left out, and without no more than these.
    fn follows(&self, unit: usize, done: &[bool], left_out: &[usize]) -> bool {
        let unit = &self.build.units[unit];
        unit.after.iter().all(|before| {
            let excused = unit.gap == Gap::Spans
                && matches!(self.build.units[*before].gap, Gap::Bow(bow) if left_out.contains(&bow));
            done[*before] || excused
        })
    }

    /// Whether a bow stands: made on the ground and put up, where the build has it so.
    fn is_up(&self, bow: usize, done: &[bool]) -> bool {
        (self.build.units.iter().zip(done))
            .filter(|(unit, _)| unit.stage < 2 && unit.gap == Gap::Bow(bow))
            .all(|(_, done)| *done)
    }
}
