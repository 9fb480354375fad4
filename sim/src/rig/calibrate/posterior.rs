//! The posterior on its grid, and predictions from it.

use super::{
    Shot,
    axis::Axis,
    like::{self, Like},
};
use crate::{
    math,
    rig::{Rig, doubt::ln_normal, run::Run},
    uncertain::normal_cdf,
};

/// Cells below this share of the best one are left out.
const NEGLIGIBLE: f64 = 1e-11;
/// How often the grid is drawn in on the posterior.
const PASSES: u32 = 3;
/// ln sqrt(2 pi).
const LN_SQRT_TAU: f64 = 0.918_938_533_204_672_7;

/// One point of the grid that matters.
#[derive(Clone, Copy, Debug)]
struct Cell {
    /// ln of the efficiency at the anchor.
    ln_e: f64,
    /// Extra power of the setting.
    delta: f64,
    /// Which node of the moving mass.
    own: usize,
    /// ln of the scatter.
    ln_s: f64,
    weight: f64,
}

/// Mean and standard deviation of an unknown.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct Summary {
    /// Posterior mean.
    pub mean: f64,
    /// Posterior standard deviation.
    pub sd: f64,
}

/// What the shots say about a rig's unknowns.
#[derive(Clone, Debug)]
pub struct Posterior {
    cells: Vec<Cell>,
    own: Vec<f64>,
    anchor: f64,
    ln_evidence: f64,
}

#[derive(Clone, Debug)]
struct Grid {
    ln_e: Axis,
    delta: Axis,
    ln_own: Axis,
    ln_s: Axis,
}

impl Posterior {
    /// Fits; `anchor` (> 0) is the setting at which the efficiency is meant.
    pub(super) fn new(rig: &Rig, shots: &[Shot], anchor: f64) -> Self {
        let mut grid = Grid::over_the_priors(rig, shots);
        let mut posterior = grid.posterior(rig, shots, anchor);
        if shots.is_empty() {
            return posterior;
        }
        for _ in 0..PASSES {
            grid = grid.drawn_in(rig, &posterior);
            posterior = grid.posterior(rig, shots, anchor);
        }
        posterior
    }

    /// ln of the probability density of the shots under the model.
    #[must_use]
    pub(crate) fn ln_evidence(&self) -> f64 {
        self.ln_evidence
    }

    /// Efficiency at the anchor.
    #[must_use]
    pub fn efficiency(&self) -> Summary {
        self.summary(|cell| math::exp(cell.ln_e))
    }

    /// Extra power of the setting.
    #[must_use]
    pub fn exponent(&self) -> Summary {
        self.summary(|cell| cell.delta)
    }

    /// Moving mass beside the object, in kg.
    #[must_use]
    pub fn own_mass(&self) -> Summary {
        self.summary(|cell| self.own[cell.own])
    }

    /// ln of the shot-to-shot scatter (standard deviation of ln speed).
    #[must_use]
    pub fn ln_scatter(&self) -> Summary {
        self.summary(|cell| cell.ln_s)
    }

    /// Correlation between efficiency and moving mass.
    #[must_use]
    pub fn confounding(&self) -> f64 {
        let (e, m) = (self.efficiency(), self.own_mass());
        let product =
            self.mean(|cell| (math::exp(cell.ln_e) - e.mean) * (self.own[cell.own] - m.mean));
        if e.sd > 0.0 && m.sd > 0.0 { product / (e.sd * m.sd) } else { 0.0 }
    }

    /// Posterior median of the efficiency at a setting.
    pub(super) fn efficiency_at(&self, setting: f64) -> f64 {
        let steps = math::ln(setting / self.anchor);
        let mut values: Vec<(f64, f64)> =
            self.cells.iter().map(|c| (c.ln_e + c.delta * steps, c.weight)).collect();
        values.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut sum = 0.0;
        let median = values.iter().find(|(_, weight)| {
            sum += weight;
            sum >= 0.5
        });
        math::exp(median.map_or(0.0, |found| found.0))
    }

    /// Distribution of ln(true speed) of a shot at a setting (> 0) of an object
    /// of `mass` kg.
    #[must_use]
    pub fn predictive(&self, rig: &Rig, setting: f64, mass: f64) -> Predictive {
        let steps = math::ln(setting / self.anchor);
        let runs: Vec<Run> = self.own.iter().map(|&own| rig.run_with(setting, mass, own)).collect();
        let ln_speed =
            |cell: &Cell| math::ln(runs[cell.own].speed(math::exp(cell.ln_e + cell.delta * steps)));
        Predictive::new(self.cells.iter().map(|c| (ln_speed(c), c.ln_s, c.weight)))
    }

    /// ln speed at a setting for each cell, with the cells' weights: for
    /// covariances between settings.
    pub(super) fn ln_speeds(&self, rig: &Rig, setting: f64) -> Vec<(f64, f64)> {
        let steps = math::ln(setting / self.anchor);
        let runs: Vec<Run> =
            self.own.iter().map(|&own| rig.run_with(setting, rig.object.mass, own)).collect();
        self.cells
            .iter()
            .map(|c| (math::ln(runs[c.own].speed(math::exp(c.ln_e + c.delta * steps))), c.weight))
            .collect()
    }

    fn mean(&self, f: impl Fn(&Cell) -> f64) -> f64 {
        self.cells.iter().map(|cell| cell.weight * f(cell)).sum()
    }

    fn summary(&self, f: impl Fn(&Cell) -> f64) -> Summary {
        let mean = self.mean(&f);
        let variance = self.mean(|cell| (f(cell) - mean) * (f(cell) - mean));
        Summary { mean, sd: variance.sqrt() }
    }
}

impl Grid {
    fn over_the_priors(rig: &Rig, shots: &[Shot]) -> Self {
        let doubt = &rig.doubt;
        let median = math::ln(doubt.scatter.median);
        let wide = 5.0 * doubt.scatter.sd;
        let several_masses = shots.iter().any(|shot| {
            let ratio = shot.mass.unwrap_or(rig.object.mass) / first_mass(rig, shots);
            (ratio - 1.0).abs() > 0.02
        });
        let own = math::ln(rig.own_mass());
        let ln_own = if several_masses && doubt.own_mass > 0.0 && own.is_finite() {
            Range { low: own - 5.0 * doubt.own_mass, high: own + 4.5 * doubt.own_mass, count: 41 }
                .axis(|x| ln_normal(x, own, doubt.own_mass))
        } else {
            Axis::fixed(own)
        };
        let (low, high) = doubt.efficiency.ln_range();
        Self {
            ln_e: Axis::even(low, high, 41, |t| doubt.efficiency.ln_density(t)),
            delta: exponent_axis(doubt.exponent, -5.0 * doubt.exponent, 5.0 * doubt.exponent),
            ln_own,
            ln_s: Axis::even(median - wide, median + wide + 1.0, 31, |x| {
                ln_normal(x, median, doubt.scatter.sd)
            }),
        }
    }

    /// The same grid over where the posterior lies.
    fn drawn_in(&self, rig: &Rig, posterior: &Posterior) -> Self {
        let doubt = &rig.doubt;
        let median = math::ln(doubt.scatter.median);
        let range = |axis: &Axis, summary: Summary| axis.drawn_in(summary.mean, summary.sd);
        let (low_e, high_e) = range(&self.ln_e, posterior.summary(|c| c.ln_e));
        let (low_d, high_d) = range(&self.delta, posterior.summary(|c| c.delta));
        let (low_s, high_s) = range(&self.ln_s, posterior.summary(|c| c.ln_s));
        let ln_own = if self.ln_own.len() > 1 {
            let own = math::ln(rig.own_mass());
            let summary = posterior.summary(|c| math::ln(posterior.own[c.own]));
            let (low, high) = range(&self.ln_own, summary);
            Range { low, high, count: 41 }.axis(|x| ln_normal(x, own, doubt.own_mass))
        } else {
            self.ln_own.clone()
        };
        Self {
            ln_e: Axis::even(low_e, high_e, 41, |t| doubt.efficiency.ln_density(t)),
            delta: exponent_axis(doubt.exponent, low_d, high_d),
            ln_own,
            ln_s: Axis::even(low_s, high_s, 31, |x| ln_normal(x, median, doubt.scatter.sd)),
        }
    }

    fn posterior(&self, rig: &Rig, shots: &[Shot], anchor: f64) -> Posterior {
        let own: Vec<f64> = self.ln_own.nodes.iter().map(|x| math::exp(*x)).collect();
        let shots = like::gathered(rig, shots);
        let noise = Noise::new(&self.ln_s, &shots);
        let mut cells = Vec::with_capacity(self.size());
        let mut residuals = vec![0.0; shots.len()];
        for (m, &own_mass) in own.iter().enumerate() {
            let runs: Vec<Run> =
                shots.iter().map(|shot| rig.run_with(shot.setting, shot.mass, own_mass)).collect();
            for (d, &delta) in self.delta.nodes.iter().enumerate() {
                for (e, &ln_e) in self.ln_e.nodes.iter().enumerate() {
                    for ((residual, shot), run) in residuals.iter_mut().zip(&shots).zip(&runs) {
                        let effective = ln_e + delta * math::ln(shot.setting / anchor);
                        *residual = shot.ln_speed - math::ln(run.speed(math::exp(effective)));
                    }
                    let prior =
                        self.ln_own.ln_prior[m] + self.delta.ln_prior[d] + self.ln_e.ln_prior[e];
                    for (s, &ln_s) in self.ln_s.nodes.iter().enumerate() {
                        let ln_weight =
                            prior + self.ln_s.ln_prior[s] + noise.ln_likelihood(s, &residuals);
                        cells.push(Cell { ln_e, delta, own: m, ln_s, weight: ln_weight });
                    }
                }
            }
        }
        normalised(cells, own, anchor)
    }

    fn size(&self) -> usize {
        self.ln_e.len() * self.delta.len() * self.ln_own.len() * self.ln_s.len()
    }
}

/// Variances of the measured ln speeds at each node of the scatter.
struct Noise {
    precision: Vec<Vec<f64>>,
    ln_norm: Vec<f64>,
    counts: Vec<f64>,
}

impl Noise {
    fn new(ln_s: &Axis, shots: &[Like]) -> Self {
        let variance = |ln_s: f64, shot: &Like| {
            let s = math::exp(ln_s);
            s * s + shot.doubt * shot.doubt
        };
        let precision: Vec<Vec<f64>> = ln_s
            .nodes
            .iter()
            .map(|&x| shots.iter().map(|shot| 1.0 / variance(x, shot)).collect())
            .collect();
        let of = |row: &Vec<f64>| -> f64 {
            let pairs = row.iter().zip(shots);
            let one = |p: &f64, shot: &Like| {
                shot.count * (0.5 * math::ln(*p) - LN_SQRT_TAU) - 0.5 * p * shot.within
            };
            pairs.map(|(p, shot)| one(p, shot)).sum()
        };
        let ln_norm = precision.iter().map(of).collect();
        Self { precision, ln_norm, counts: shots.iter().map(|shot| shot.count).collect() }
    }

    fn ln_likelihood(&self, s: usize, residuals: &[f64]) -> f64 {
        let parts = self.precision[s].iter().zip(residuals).zip(&self.counts);
        let squares: f64 = parts.map(|((p, r), count)| count * p * r * r).sum();
        self.ln_norm[s] - 0.5 * squares
    }
}

struct Range {
    low: f64,
    high: f64,
    count: u32,
}

impl Range {
    fn axis(&self, ln_density: impl Fn(f64) -> f64) -> Axis {
        Axis::even(self.low, self.high, self.count, ln_density)
    }
}

fn exponent_axis(sd: f64, low: f64, high: f64) -> Axis {
    if sd > 0.0 { Axis::even(low, high, 21, |x| ln_normal(x, 0.0, sd)) } else { Axis::fixed(0.0) }
}

fn first_mass(rig: &Rig, shots: &[Shot]) -> f64 {
    shots.first().and_then(|shot| shot.mass).unwrap_or(rig.object.mass)
}

/// Turns log weights into weights that sum to 1; the log of their sum is the
/// evidence.
fn normalised(mut cells: Vec<Cell>, own: Vec<f64>, anchor: f64) -> Posterior {
    let best = cells.iter().map(|cell| cell.weight).fold(f64::NEG_INFINITY, f64::max);
    for cell in &mut cells {
        cell.weight = math::exp(cell.weight - best);
    }
    let sum: f64 = cells.iter().map(|cell| cell.weight).sum();
    cells.retain(|cell| cell.weight > NEGLIGIBLE);
    let kept: f64 = cells.iter().map(|cell| cell.weight).sum();
    for cell in &mut cells {
        cell.weight /= kept;
    }
    Posterior { cells, own, anchor, ln_evidence: best + math::ln(sum) }
}

/// A distribution of ln(speed): a mixture of normals, gathered in bins.
#[derive(Clone, Debug)]
pub struct Predictive {
    /// Mean, standard deviation, weight.
    parts: Vec<(f64, f64, f64)>,
    mean: f64,
    sd: f64,
    unknown_sd: f64,
}

impl Predictive {
    /// From (ln speed, ln scatter, weight); a part without a speed counts as
    /// infinitely slow.
    fn new(cells: impl Iterator<Item = (f64, f64, f64)>) -> Self {
        // Bins far narrower than any scatter, keyed by scatter node and value.
        const BIN: f64 = 1e-3;
        let mut parts: Vec<(f64, f64, f64)> = cells.collect();
        let total: f64 = parts.iter().map(|part| part.2).sum();
        parts.sort_by(|a, b| a.1.total_cmp(&b.1).then(a.0.total_cmp(&b.0)));
        let mut bins: Vec<(f64, f64, f64)> = Vec::new();
        let mut start = (f64::NAN, f64::NAN);
        for (mu, ln_s, weight) in parts {
            let same = mu - start.0 <= BIN && ln_s <= start.1 + 1e-12;
            match bins.last_mut() {
                Some(bin) if same => {
                    let sum = bin.2 + weight;
                    bin.0 += (mu - bin.0) * weight / sum;
                    bin.2 = sum;
                }
                _ => {
                    start = (mu, ln_s);
                    bins.push((mu, math::exp(ln_s), weight));
                }
            }
        }
        for bin in &mut bins {
            bin.2 /= total;
        }
        let going = |f: &dyn Fn(&(f64, f64, f64)) -> f64| -> f64 {
            let finite = bins.iter().filter(|bin| bin.0.is_finite());
            let weight: f64 = finite.clone().map(|bin| bin.2).sum();
            finite.map(|bin| bin.2 * f(bin)).sum::<f64>() / weight
        };
        let mean = going(&|bin| bin.0);
        let unknown = going(&|bin| (bin.0 - mean) * (bin.0 - mean));
        let varying = going(&|bin| bin.1 * bin.1);
        Self { parts: bins, mean, sd: (unknown + varying).sqrt(), unknown_sd: unknown.sqrt() }
    }

    /// P(ln speed <= x).
    #[must_use]
    pub(crate) fn cumulative(&self, x: f64) -> f64 {
        self.parts
            .iter()
            .map(|&(mu, s, weight)| {
                let z = (x - mu) / s;
                if z > 9.0 {
                    weight
                } else if z < -9.0 {
                    0.0
                } else {
                    weight * normal_cdf(z)
                }
            })
            .sum()
    }

    /// P(measured ln speed <= x) with a relative standard uncertainty `u`.
    #[must_use]
    pub(crate) fn cumulative_measured(&self, x: f64, u: f64) -> f64 {
        let widened = self
            .parts
            .iter()
            .map(|&(mu, s, weight)| (mu, (s * s + u * u).sqrt(), weight))
            .collect();
        Self { parts: widened, ..*self }.cumulative(x)
    }

    /// ln speed below which a share `p` (0..1) lies.
    #[must_use]
    pub fn quantile(&self, p: f64) -> f64 {
        if !self.mean.is_finite() {
            return f64::NEG_INFINITY;
        }
        let (mut low, mut high) = (self.mean - 12.0 * self.sd, self.mean + 12.0 * self.sd);
        let (mut at_low, mut at_high) = (-p, 1.0 - p);
        // Bisection and false position by turns: few evaluations, never lost.
        for i in 0..60 {
            let x = if i % 2 == 0 {
                low - at_low * (high - low) / (at_high - at_low)
            } else {
                0.5 * (low + high)
            };
            let value = self.cumulative(x) - p;
            if value < 0.0 {
                (low, at_low) = (x, value);
            } else {
                (high, at_high) = (x, value);
            }
            if high - low < 1e-9 || value.abs() < 1e-10 {
                return x;
            }
        }
        0.5 * (low + high)
    }

    /// Mean of ln speed.
    #[must_use]
    pub fn mean(&self) -> f64 {
        self.mean
    }

    /// Standard deviation of ln speed.
    #[must_use]
    pub fn sd(&self) -> f64 {
        self.sd
    }

    /// The part of it that more shots could take away.
    #[must_use]
    pub(crate) fn unknown_sd(&self) -> f64 {
        self.unknown_sd
    }
}
