//! The normal distribution: chances of intervals, without loss far out.

/// The chance that a normal variable lies between two values.
pub(crate) fn between(mean: f64, sd: f64, from: f64, to: f64) -> f64 {
    let (a, b) = ((from - mean) / sd, (to - mean) / sd);
    // Far above the mean both are nearly 1: their difference is taken on the other side, where both are nearly 0.
    let (a, b) = if a > 0.0 { (-b, -a) } else { (a, b) };
    (below(b) - below(a)).max(0.0)
}

/// The chance that a standard normal variable is under `z`.
pub(crate) fn below(z: f64) -> f64 {
    0.5 * libm::erfc(-z * std::f64::consts::FRAC_1_SQRT_2)
}

/// The density of a normal variable.
pub(crate) fn density(mean: f64, sd: f64, at: f64) -> f64 {
    let z = (at - mean) / sd;
    libm::exp(-0.5 * z * z) / (sd * libm::sqrt(2.0 * std::f64::consts::PI))
}
