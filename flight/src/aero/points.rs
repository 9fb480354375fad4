//! A curve through published points.

use crate::math::ln;

/// A monotone cubic in the logarithm of the argument through `points` (argument
/// rising, above 0; value), constant beyond either end.
#[must_use]
pub(super) fn through(points: &[[f64; 2]], argument: f64) -> f64 {
    let last = points.len() - 1;
    if argument >= points[last][0] {
        return points[last][1];
    }
    let Some(i) = points.partition_point(|point| point[0] <= argument).checked_sub(1) else {
        return points[0][1];
    };
    let at = |k: usize| [ln(points[k][0]), points[k][1]];
    let secant = |k: usize| (at(k + 1)[1] - at(k)[1]) / (at(k + 1)[0] - at(k)[0]);
    // Slope at a point: harmonic mean of its neighbours, 0 at a turn.
    let slope = |k: usize| match k {
        0 => secant(0),
        k if k == last => secant(k - 1),
        k if secant(k - 1) * secant(k) <= 0.0 => 0.0,
        k => 2.0 / (1.0 / secant(k - 1) + 1.0 / secant(k)),
    };
    let width = at(i + 1)[0] - at(i)[0];
    let t = (ln(argument) - at(i)[0]) / width;
    let (t2, t3) = (t * t, t * t * t);
    (2.0 * t3 - 3.0 * t2 + 1.0) * at(i)[1]
        + (t3 - 2.0 * t2 + t) * width * slope(i)
        + (3.0 * t2 - 2.0 * t3) * at(i + 1)[1]
        + (t3 - t2) * width * slope(i + 1)
}
