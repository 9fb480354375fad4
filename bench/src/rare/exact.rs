//! What exact chances are put together from.

use longodds_sim::uncertain::{normal_cdf, normal_density};

/// P(Z > x).
pub(super) fn above(x: f64) -> f64 {
    normal_cdf(-x)
}

/// P(low < Z < high), from the nearer tail.
pub(super) fn within(low: f64, high: f64) -> f64 {
    if low > 0.0 { above(low) - above(high) } else { normal_cdf(high) - normal_cdf(low) }
}

/// The integral of the normal density times a function, by Simpson's rule with
/// 20,000 steps.
pub(super) fn averaged(from: f64, to: f64, function: impl Fn(f64) -> f64) -> f64 {
    let steps = 20_000_u32;
    let width = (to - from) / f64::from(steps);
    (0..=steps)
        .map(|i| {
            let factor = match i {
                0 => 1.0,
                i if i == steps => 1.0,
                i if i % 2 == 1 => 4.0,
                _ => 2.0,
            };
            let u = from + f64::from(i) * width;
            factor * normal_density(u) * function(u)
        })
        .sum::<f64>()
        * width
        / 3.0
}

/// The chance that two normal numbers fall within `radius` of a point at
/// `distance` from their middle.
pub(super) fn disc(radius: f64, distance: f64) -> f64 {
    averaged(distance - radius, distance + radius, |u| {
        let half = (radius * radius - (u - distance) * (u - distance)).max(0.0).sqrt();
        within(-half, half)
    })
}

/// The length of some numbers.
pub(super) fn length(u: &[f64]) -> f64 {
    u.iter().map(|x| x * x).sum::<f64>().sqrt()
}

/// How far a number lies outside a range, in its half width.
pub(super) fn outside(u: f64, low: f64, high: f64) -> f64 {
    (low - u).max(u - high).max(0.0) / (0.5 * (high - low))
}

/// Their sum over the root of their number: one normal number.
pub(super) fn mean(u: &[f64]) -> f64 {
    u.iter().sum::<f64>() / (u.len() as f64).sqrt()
}
