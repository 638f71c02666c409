//! Weighted least squares for four corners, of which one stands still and one moves only straight back.

use super::Residual;

/// A level length between two corners.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measured {
    /// Between which corners (by place in [`super::CORNERS`]), the lower first.
    pub between: [usize; 2],
    /// Level, in metres.
    pub level: f64,
    /// Its standard error, in metres.
    pub error: f64,
}

/// The corners that fit best.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// Right of front left, and back from it, in metres.
    pub at: [[f64; 2]; 4],
    /// Standard errors of those, in metres.
    pub error: [[f64; 2]; 4],
    /// Each length against the fit.
    pub residuals: Vec<Residual>,
    /// How many lengths there are beyond the five that it takes.
    pub spare: usize,
    /// The weighted sum of the squared residuals.
    pub misfit: f64,
}

/// What is sought: which corner, across (0) or along (1).
const SOUGHT: [[usize; 2]; 5] = [[1, 0], [1, 1], [2, 0], [2, 1], [3, 1]];
type Normal = [[f64; 5]; 5];

/// The pairs of corners: front, back, left, right, from front left to back right, from front right to back left.
pub const PAIRS: [[usize; 2]; 6] = [[0, 1], [2, 3], [0, 3], [1, 2], [0, 2], [1, 3]];

/// The six lengths between corners, in the order of [`PAIRS`].
pub(crate) fn lengths(at: &[[f64; 2]; 4]) -> [f64; 6] {
    PAIRS.map(|pair| apart(at, pair))
}

pub(crate) fn apart(at: &[[f64; 2]; 4], [from, to]: [usize; 2]) -> f64 {
    (at[to][0] - at[from][0]).hypot(at[to][1] - at[from][1])
}

/// Steps of Levenberg and Marquardt; from the rectangle that is meant, four or five do.
const MOST_STEPS: usize = 200;

/// Returns the corners that fit the lengths best, sought from `start` on; nothing where the lengths leave them loose.
pub fn fit(taken: &[Measured], start: [[f64; 2]; 4]) -> Option<Fit> {
    let spare = taken.len().checked_sub(SOUGHT.len())?;
    let mut at = start;
    let mut misfit = misfit_of(taken, &at);
    let mut damping = 1e-6;
    for _ in 0..MOST_STEPS {
        let (normal, gradient) = normal(taken, &at);
        let mut damped = normal;
        for (i, row) in damped.iter_mut().enumerate() {
            row[i] += damping * normal[i][i].max(1e-9);
        }
        let Some(inverse) = inverse(&damped) else {
            damping *= 10.0;
            continue;
        };
        let step: [f64; 5] = std::array::from_fn(|i| {
            -(inverse[i].iter().zip(&gradient))
                .map(|(a, b)| a * b)
                .sum::<f64>()
        });
        let mut tried = at;
        for ([corner, axis], by) in SOUGHT.into_iter().zip(step) {
            tried[corner][axis] += by;
        }
        let new = misfit_of(taken, &tried);
        if new <= misfit {
            at = tried;
            misfit = new;
            damping /= 10.0;
            // A nanometre is finer than any tape.
            if step.iter().all(|by| by.abs() < 1e-10) {
                break;
            }
        } else if damping > 1e12 {
            break;
        } else {
            damping *= 10.0;
        }
    }
    let (normal, _) = normal(taken, &at);
    let covariance = inverse(&normal)?;
    let mut error = [[0.0; 2]; 4];
    for (i, [corner, axis]) in SOUGHT.into_iter().enumerate() {
        error[corner][axis] = covariance[i][i].max(0.0).sqrt();
    }
    // Where the readings leave a corner loose, it could be anywhere: far more than any tape's error.
    let fast = error.iter().flatten().all(|e| *e < LOOSE);
    let residuals = (taken.iter())
        .map(|reading| Residual {
            between: reading.between,
            level: reading.level,
            over: reading.level - apart(&at, reading.between),
            error: reading.error,
        })
        .collect();
    (fast && misfit.is_finite()).then_some(Fit {
        at,
        error,
        residuals,
        spare,
        misfit,
    })
}

/// A standard error in metres from which on a corner counts as loose.
const LOOSE: f64 = 5.0;

impl Fit {
    /// Whether the readings agree with each other: one in a hundred times they are said not to when they do.
    pub fn agrees(&self) -> bool {
        self.spare == 0 || self.misfit <= most_misfit(self.spare)
    }
}

/// The misfit that tape errors alone exceed one time in a hundred: the 99th percentile of chi-square, by Wilson and
/// Hilferty's cube root, which is within 1 % of tables from one degree on up (6.635, 9.210, 11.345 …).
pub(crate) fn most_misfit(spare: usize) -> f64 {
    // The 99th percentile of the normal distribution.
    const Z: f64 = 2.326_348;
    let (k, ninth) = (spare as f64, 2.0 / (9.0 * spare as f64));
    match spare {
        1 => 6.635,
        _ => k * (1.0 - ninth + Z * ninth.sqrt()).powi(3),
    }
}

fn misfit_of(taken: &[Measured], at: &[[f64; 2]; 4]) -> f64 {
    (taken.iter())
        .map(|reading| ((apart(at, reading.between) - reading.level) / reading.error).powi(2))
        .sum()
}

/// The normal matrix and the gradient of half the misfit.
fn normal(taken: &[Measured], at: &[[f64; 2]; 4]) -> (Normal, [f64; 5]) {
    let mut normal = [[0.0; 5]; 5];
    let mut gradient = [0.0; 5];
    for reading in taken {
        let [from, to] = reading.between;
        let is = apart(at, reading.between).max(1e-12);
        let slope: [f64; 5] = std::array::from_fn(|i| {
            let [corner, axis] = SOUGHT[i];
            let towards = (at[to][axis] - at[from][axis]) / is;
            let sign = f64::from(u8::from(corner == to)) - f64::from(u8::from(corner == from));
            sign * towards / reading.error
        });
        let off = (is - reading.level) / reading.error;
        for i in 0..5 {
            gradient[i] += slope[i] * off;
            for j in 0..5 {
                normal[i][j] += slope[i] * slope[j];
            }
        }
    }
    (normal, gradient)
}

/// The inverse by Gauss and Jordan with the largest pivot; nothing of a singular matrix.
fn inverse(matrix: &Normal) -> Option<Normal> {
    let mut left = *matrix;
    let mut right: Normal =
        std::array::from_fn(|i| std::array::from_fn(|j| f64::from(u8::from(i == j))));
    let largest = matrix.iter().flatten().fold(0.0_f64, |m, v| m.max(v.abs()));
    for column in 0..5 {
        let pivot =
            (column..5).max_by(|a, b| left[*a][column].abs().total_cmp(&left[*b][column].abs()))?;
        // What is no number is no pivot either.
        (left[pivot][column].abs() > largest * 1e-14).then_some(())?;
        left.swap(column, pivot);
        right.swap(column, pivot);
        let by = left[column][column];
        for j in 0..5 {
            left[column][j] /= by;
            right[column][j] /= by;
        }
        for row in (0..5).filter(|row| *row != column) {
            let times = left[row][column];
            for j in 0..5 {
                left[row][j] -= times * left[column][j];
                right[row][j] -= times * right[column][j];
            }
        }
    }
    Some(right)
}
