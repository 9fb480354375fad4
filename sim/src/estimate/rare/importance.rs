//! Importance sampling: fly where it happens, weigh by how seldom that is.

use super::{
    LimitState,
    guard::LEAST_TO_FIT,
    space::{Normals, Points, spread, square},
};
use crate::{
    estimate::Moments,
    math::{exp, ln},
    sampling::Domain,
};

/// Share of the sample drawn with the inputs' own width, so that no weight can
/// grow out of bounds where the fitted width is too small.
const WIDE: f64 = 0.1;

/// Where to sample: normal with its own mean and width in each coordinate,
/// mixed with one of the same mean and unit width.
#[derive(Clone, Debug)]
pub(super) struct Density {
    mean: Vec<f64>,
    sd: Vec<f64>,
}

/// A weighted sample.
#[derive(Clone, Debug)]
pub(super) struct Importance {
    pub(super) probability: f64,
    /// Relative standard error.
    pub(super) variation: f64,
    /// Number of equally weighted successes that would be worth as much.
    pub(super) effective: f64,
    /// Largest weight as a share of all.
    pub(super) largest: f64,
    pub(super) points: Points,
    /// Weights, 0 where it does not happen.
    pub(super) weights: Vec<f64>,
}

impl Density {
    /// Fits successes with weights. `worth`: how many independent ones they are
    /// worth; coordinates that do not differ from the inputs' own distribution
    /// by more than such a number can show are left as they are.
    pub(super) fn fit(points: &Points, chosen: &[usize], weights: &[f64], worth: f64) -> Self {
        let (mut mean, mut sd) = spread(points, chosen, weights);
        for (m, s) in mean.iter_mut().zip(&mut sd) {
            let idle =
                m.abs() < 3.5 / worth.sqrt() && (*s - 1.0).abs() < 3.5 / (2.0 * worth).sqrt();
            if idle {
                (*m, *s) = (0.0, 1.0);
            } else {
                *s = (1.15 * *s).clamp(0.02, 1.3);
            }
        }
        Self { mean, sd }
    }

    /// The unit normal around a point.
    #[cfg(test)]
    pub(super) fn around(mean: Vec<f64>) -> Self {
        let sd = vec![1.0; mean.len()];
        Self { mean, sd }
    }

    /// Draws, scores and weighs `count` points; samples with different `round`
    /// numbers are independent.
    pub(super) fn sample(
        &self,
        state: &impl LimitState,
        seed: u64,
        round: u32,
        count: usize,
    ) -> Importance {
        let d = state.dimension();
        let normals = Normals::new(seed, Domain::IMPORTANCE.part(round), d);
        let mut points =
            Points { dimension: d, at: vec![0.0; count * d], scores: vec![0.0; count] };
        for (draw, point) in (0..).zip(points.at.chunks_mut(d)) {
            normals.fill(draw, point);
            let wide = normals.extra(draw, 0) < WIDE;
            for ((u, m), s) in point.iter_mut().zip(&self.mean).zip(&self.sd) {
                *u = m + if wide { *u } else { s * *u };
            }
        }
        state.scores(&points.at, &mut points.scores);
        let weights = (0..count)
            .map(|i| if points.scores[i] <= 0.0 { self.weight(points.point(i)) } else { 0.0 })
            .collect();
        Importance::new(points, weights)
    }

    /// Density of the inputs over density of the sample.
    fn weight(&self, point: &[f64]) -> f64 {
        let (mut narrow, mut wide) = (0.0, 0.0);
        for ((u, m), s) in point.iter().zip(&self.mean).zip(&self.sd) {
            let t = (u - m) / s;
            narrow -= 0.5 * t * t + ln(*s);
            wide -= 0.5 * (u - m) * (u - m);
        }
        let own = -0.5 * square(point);
        1.0 / ((1.0 - WIDE) * exp(narrow - own) + WIDE * exp(wide - own))
    }
}

impl Importance {
    fn new(points: Points, weights: Vec<f64>) -> Self {
        let mut moments = Moments::new();
        let (mut largest, mut squares) = (0.0_f64, 0.0);
        for w in &weights {
            moments.push(*w);
            largest = largest.max(*w);
            squares += w * w;
        }
        let sum: f64 = weights.iter().sum();
        let probability = moments.mean();
        let some = sum > 0.0;
        Self {
            probability,
            variation: if some { moments.standard_error() / probability } else { f64::INFINITY },
            effective: if some { sum * sum / squares } else { 0.0 },
            largest: if some { largest / sum } else { 1.0 },
            points,
            weights,
        }
    }

    /// Fits the successes found; `None` if they are worth too few.
    pub(super) fn refit(&self) -> Option<Density> {
        if self.effective < LEAST_TO_FIT {
            return None;
        }
        let hits = self.points.hits();
        let weights: Vec<f64> = hits.iter().map(|i| self.weights[*i]).collect();
        Some(Density::fit(&self.points, &hits, &weights, self.effective))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::estimate::rare::reference::Problem;

    /// Source: the unit normal at the design point of a half-space has a
    /// squared variation per draw of exp(b^2) Phi(-2b) / Phi(-b)^2 - 1:
    /// 3.9422619839 at b = 3.5, 6.8684799458 at b = 6. (With both parts of unit
    /// width the mixture is that normal.)
    #[test]
    fn the_variation_at_the_design_point_is_the_ideal_one() {
        for (beta, squared) in [(3.5, 3.942_261_983_9), (6.0, 6.868_479_945_8)] {
            let problem = Problem::Linear { beta, dimension: 10 };
            let mean = vec![beta / 10.0_f64.sqrt(); 10];
            let n = 40_000;
            let found = Density::around(mean).sample(&problem, 3, 0, n);
            let per_draw = found.variation * found.variation * n as f64;
            assert!((per_draw / squared - 1.0_f64).abs() < 0.1, "{beta}: {per_draw}");
            // Four standard errors: false alarm 6e-5.
            let off = found.probability / problem.probability() - 1.0;
            assert!(off.abs() < 4.0 * found.variation, "{beta}: {off}");
        }
    }

    #[test]
    fn weights_undo_the_preference() {
        // Everything happens everywhere: the weights average to one.
        let problem = Problem::Linear { beta: -100.0, dimension: 3 };
        let density = Density { mean: vec![0.5, -1.0, 0.0], sd: vec![0.7, 1.2, 1.0] };
        let found = density.sample(&problem, 4, 0, 40_000);
        assert!((found.probability - 1.0).abs() < 4.0 * found.variation);
    }
}
