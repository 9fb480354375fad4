//! Several ways.

use super::{
    Problem,
    exact::{above, disc, length, mean, outside, within},
};
use longodds_sim::math::{atan2, exp};
use std::f64::consts::{FRAC_PI_2, TAU};

/// A plate: how far outside a rectangle.
fn plate(u: [f64; 2], right: [f64; 2], up: [f64; 2]) -> f64 {
    length(&[
        (right[0] - u[0]).max(u[0] - right[1]).max(0.0),
        (up[0] - u[1]).max(u[1] - up[1]).max(0.0),
    ])
}

pub(super) fn problems() -> Vec<Problem> {
    vec![
        Problem::new("two equal plates", 6, 2.0 * within(3.8, 4.1) * within(-0.2, 0.2), |u| {
            let at = [u[0], u[1]];
            plate(at, [3.8, 4.1], [-0.2, 0.2]).min(plate(at, [-4.1, -3.8], [-0.2, 0.2]))
        }),
        Problem::new(
            "two small plates, nearly equal, at right angles",
            8,
            within(4.0, 4.2) * within(-0.1, 0.1) + within(-0.1, 0.1) * within(4.02, 4.22),
            |u| {
                let at = [u[0], u[1]];
                plate(at, [4.0, 4.2], [-0.1, 0.1]).min(plate(at, [-0.1, 0.1], [4.02, 4.22]))
            },
        ),
        Problem::new("two unequal discs", 2, disc(0.3, 3.6) + disc(0.6, 4.1), |u| {
            (length(&[u[0] - 3.6, u[1]]) - 0.3).min(length(&[u[0], u[1] + 4.1]) - 0.6)
        }),
        Problem::new("a big way behind, a small way before", 4, above(4.6) + above(4.2), |u| {
            // The smaller is nearer by its score until the very end.
            (0.2 * (4.6 - u[0])).min(4.2 + u[1])
        }),
        Problem::new("opposite ways, 6 inputs", 6, above(4.2) + above(4.4), |u| {
            (4.2 - mean(u)).min(4.4 + mean(u))
        }),
        Problem::new("opposite ways, 40 inputs", 40, above(5.0) + above(5.1), |u| {
            (5.0 - mean(u)).min(5.1 + mean(u))
        }),
        Problem::new("four corners", 5, (2.0 * above(3.0)) * (2.0 * above(3.0)), |u| {
            (3.0 - u[0].abs()).max(3.0 - u[1].abs())
        }),
        Problem::new("four thin arcs", 2, 4.0 * (exp(-8.82) - exp(-9.68)) * 0.3 / TAU, |u| {
            let angle = atan2(u[1], u[0]) / FRAC_PI_2;
            let beside = (angle - angle.round()).abs() * FRAC_PI_2 - 0.15;
            let off = (length(u) - 4.3).abs() - 0.1;
            if off <= 0.0 && beside <= 0.0 { 0.0 } else { 1e-3 + off.max(0.0) }
        }),
        // Quadrature at 15 digits; a published challenge.
        Problem::new("four curved ways", 2, 8.035_085_964_959_8e-7, |u| 12.5 - (u[0] * u[1]).abs()),
        Problem::new("thirty-two corners", 5, (2.0 * above(2.0)).powi(5), |u| {
            u.iter().map(|x| 2.0 - x.abs()).fold(f64::MIN, f64::max)
        }),
        Problem::new("teeth of a comb", 3, comb(), |u| {
            let tooth = (u[0] - u[0].round()).abs() - 0.02;
            tooth.max(4.0 - u[1])
        }),
        Problem::new(
            "one window in each of three ways",
            12,
            3.0 * within(2.5, 2.6) * within(1.0, 1.3) * within(-0.1, 0.1),
            |u| {
                let way = |k: usize| {
                    outside(u[k], 2.5, 2.6)
                        + outside(u[k + 1], 1.0, 1.3)
                        + outside(u[k + 2], -0.1, 0.1)
                };
                way(0).min(way(4)).min(way(8))
            },
        ),
    ]
}

/// Teeth at every whole number.
fn comb() -> f64 {
    let teeth: f64 = (-8..=8).map(|k| within(f64::from(k) - 0.02, f64::from(k) + 0.02)).sum();
    teeth * above(4.0)
}
