//! The Bayesian probit on a dense grid: finite with any data, even none.

use super::Trial;
use crate::math::{erfc, exp, ln};
use std::f64::consts::SQRT_2;

const MU_NODES: u32 = 121;
const SIGMA_NODES: u32 = 61;

/// What is thought of the threshold before the shots: `mu` normal, `ln sigma`
/// normal.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct Prior {
    /// Mean of `mu`.
    pub mu: f64,
    /// Standard deviation of `mu`, > 0.
    pub mu_sd: f64,
    /// Mean of `ln sigma`.
    pub ln_sigma: f64,
    /// Standard deviation of `ln sigma`, > 0.
    pub ln_sigma_sd: f64,
}

impl Prior {
    /// From a guessed threshold and spread: `mu` to two spreads, the spread to
    /// a factor of about two.
    #[must_use]
    pub fn guess(mu: f64, sigma: f64) -> Self {
        Self { mu, mu_sd: 2.0 * sigma, ln_sigma: ln(sigma), ln_sigma_sd: 0.8 }
    }
}

/// The posterior of threshold and spread.
#[derive(Clone, Debug)]
pub struct Grid {
    mu: Vec<f64>,
    sigma: Vec<f64>,
    /// ln of prior and likelihood, row by row (one row per sigma).
    ln_weight: Vec<f64>,
    /// Weights that sum to 1.
    weight: Vec<f64>,
}

impl Grid {
    /// The prior with `trials` added.
    #[must_use]
    pub fn new(prior: &Prior, trials: &[Trial]) -> Self {
        let even = |middle: f64, sd: f64, half: f64, count: u32| -> Vec<f64> {
            (0..count)
                .map(|i| middle + sd * half * (2.0 * f64::from(i) / f64::from(count - 1) - 1.0))
                .collect()
        };
        let mu = even(prior.mu, prior.mu_sd, 5.0, MU_NODES);
        let ln_sigma = even(prior.ln_sigma, prior.ln_sigma_sd, 4.0, SIGMA_NODES);
        let square = |x: f64| x * x;
        let mut ln_weight = Vec::with_capacity(mu.len() * ln_sigma.len());
        for s in &ln_sigma {
            for m in &mu {
                let z = square((m - prior.mu) / prior.mu_sd)
                    + square((s - prior.ln_sigma) / prior.ln_sigma_sd);
                ln_weight.push(-0.5 * z);
            }
        }
        let sigma = ln_sigma.into_iter().map(exp).collect();
        let mut grid = Self { mu, sigma, ln_weight, weight: Vec::new() };
        for trial in trials {
            grid.take(trial);
        }
        grid.normalise();
        grid
    }

    /// The same grid with one more trial.
    #[must_use]
    pub fn with(&self, trial: &Trial) -> Self {
        let mut grid = self.clone();
        grid.take(trial);
        grid.normalise();
        grid
    }

    fn take(&mut self, trial: &Trial) {
        let mut cells = self.ln_weight.iter_mut();
        for sigma in &self.sigma {
            for mu in &self.mu {
                let z = (trial.x - mu) / sigma;
                let p = 0.5 * erfc(if trial.event { -z } else { z } / SQRT_2);
                if let Some(cell) = cells.next() {
                    *cell += ln(p.max(1e-300));
                }
            }
        }
    }

    fn normalise(&mut self) {
        let top = self.ln_weight.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        self.weight = self.ln_weight.iter().map(|w| exp(w - top)).collect();
        let sum: f64 = self.weight.iter().sum();
        for weight in &mut self.weight {
            *weight /= sum;
        }
    }

    fn cells(&self) -> impl Iterator<Item = (f64, f64, f64)> {
        let rows = self.sigma.iter().flat_map(|s| self.mu.iter().map(move |m| (*m, *s)));
        rows.zip(&self.weight).map(|((mu, sigma), weight)| (mu, sigma, *weight))
    }

    /// Posterior mean of something of (mu, sigma).
    pub fn mean(&self, f: impl Fn(f64, f64) -> f64) -> f64 {
        self.cells().map(|(mu, sigma, weight)| weight * f(mu, sigma)).sum()
    }

    /// Posterior mean and standard deviation of the threshold `mu`.
    #[must_use]
    pub fn threshold(&self) -> (f64, f64) {
        let mean = self.mean(|mu, _| mu);
        (mean, self.mean(|mu, _| (mu - mean) * (mu - mean)).sqrt())
    }

    /// Quantile of the threshold `mu`, straight between nodes.
    #[must_use]
    pub(crate) fn threshold_quantile(&self, p: f64) -> f64 {
        let count = self.mu.len();
        let mut column = vec![0.0; count];
        for (i, weight) in self.weight.iter().enumerate() {
            column[i % count] += weight;
        }
        let width = self.mu[1] - self.mu[0];
        let mut sum = 0.0;
        for (mu, weight) in self.mu.iter().zip(&column) {
            if sum + weight >= p && *weight > 0.0 {
                return mu - 0.5 * width + width * (p - sum) / weight;
            }
            sum += weight;
        }
        self.mu[count - 1]
    }

    /// Chance of the event at a level, over what is not known.
    #[must_use]
    pub fn chance(&self, x: f64) -> f64 {
        self.mean(|mu, sigma| 0.5 * erfc((mu - x) / sigma / SQRT_2))
    }

    /// `count` evenly likely values of something of (mu, sigma), rising.
    #[must_use]
    pub fn evenly(&self, count: u32, f: impl Fn(f64, f64) -> f64) -> Vec<f64> {
        let mut values: Vec<(f64, f64)> = self
            .cells()
            .filter(|cell| cell.2 > 1e-12)
            .map(|(mu, sigma, weight)| (f(mu, sigma), weight))
            .collect();
        values.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut evenly = Vec::new();
        let mut sum = 0.0;
        let mut next = 0;
        for (value, weight) in &values {
            sum += weight;
            while next < count && (f64::from(next) + 0.5) / f64::from(count) <= sum {
                evenly.push(*value);
                next += 1;
            }
        }
        let last = values.last().map_or(f64::NAN, |value| value.0);
        evenly.resize(count as usize, last);
        evenly
    }

    /// What a shot at a level would tell, in nats: mutual information of its
    /// outcome with threshold and spread.
    #[must_use]
    pub fn information(&self, x: f64) -> f64 {
        let entropy = |p: f64| {
            if p <= 0.0 || p >= 1.0 { 0.0 } else { -p * ln(p) - (1.0 - p) * ln(1.0 - p) }
        };
        let mut inside = 0.0;
        let mut mean = 0.0;
        for (mu, sigma, weight) in self.cells() {
            // Cells that carry nothing are most of the grid.
            if weight > 1e-9 {
                let p = 0.5 * erfc((mu - x) / sigma / SQRT_2);
                mean += weight * p;
                inside += weight * entropy(p);
            }
        }
        entropy(mean) - inside
    }
}

#[cfg(test)]
mod tests {
    use super::super::trials;
    use super::*;

    /// Six shots, three of each kind, apart: mu ~ N(29, 25), ln sigma ~
    /// N(ln 2, 1). Posterior by an independent script.
    #[test]
    fn separated_shots_give_the_reference_posterior() {
        let data = trials(&[24.0, 26.0, 28.0, 30.0, 32.0, 34.0], &[0, 0, 0, 1, 1, 1]);
        let prior = Prior { mu: 29.0, mu_sd: 5.0, ln_sigma: ln(2.0), ln_sigma_sd: 1.0 };
        let grid = Grid::new(&prior, &data);
        let (mean, sd) = grid.threshold();
        assert!((mean - 29.0).abs() < 1e-6);
        assert!((sd - 1.574_023).abs() < 5e-3, "{sd}");
        assert!((grid.mean(|_, s| ln(s)) - 0.345_579).abs() < 5e-3);
        assert!((grid.threshold_quantile(0.025) - 25.798_85).abs() < 0.03);
        assert!((grid.chance(31.0) - 0.838_874).abs() < 1e-3);
    }

    /// 25 drops (M. S. Hamada, B. Mang, J. Hoff, Quality Engineering 2019,
    /// Table 1): published posterior median of mu 1.535, 95 % 1.475 to 1.649,
    /// with priors mu ~ N(1.5, 9.4^2), ln sigma ~ N(-2.8, 1). A grid cannot
    /// span that prior of mu, so it is N(1.5, 0.4^2): as flat where the data
    /// are.
    #[test]
    fn the_published_drop_test_is_met() {
        let grid = Grid::new(
            &Prior { mu: 1.5, mu_sd: 0.4, ln_sigma: -2.8, ln_sigma_sd: 1.0 },
            &super::super::drop_test(),
        );
        assert!((grid.threshold_quantile(0.5) - 1.535).abs() < 2e-3);
        assert!((grid.threshold_quantile(0.025) - 1.475).abs() < 0.01);
        assert!((grid.threshold_quantile(0.975) - 1.649).abs() < 0.02);
    }

    #[test]
    fn the_most_informative_shot_is_near_the_threshold() {
        let grid = Grid::new(&Prior::guess(3.0, 0.1), &[]);
        assert!(grid.information(3.0) > grid.information(2.6));
        assert!(grid.information(3.0) > grid.information(3.4));
    }

    #[test]
    fn no_event_at_all_moves_the_threshold_up() {
        let prior = Prior::guess(3.0, 0.1);
        let before = Grid::new(&prior, &[]).threshold_quantile(0.05);
        let after = Grid::new(&prior, &trials(&[3.0, 3.0, 3.0], &[0, 0, 0]));
        assert!(after.threshold_quantile(0.05) > before + 0.05);
        assert!(after.chance(3.0) < 0.35);
    }
}
