//! The barrier's threshold from hits and perforations at known speeds.

use super::{CONFLICT, gate::NODES};
use crate::{
    math::{exp, ln},
    rig::log::{LoggedShot, ShotLog},
    scenario::{Demand, Gate},
    trials::threshold::{Grid, Prior, Trial},
    uncertain::normal_cdf,
};
use serde::Serialize;

/// Widest prior of the threshold: a factor of e^2 to either side.
const WIDEST: f64 = 2.0;

/// Part of a model's spread that is thought to vary from shot to shot, the rest
/// being unknown (judgement).
const VARYING: f64 = 0.7;

/// A barrier as the model has it, SI.
#[derive(Clone, Debug, PartialEq)]
pub struct ModelBarrier {
    /// What the strength is measured in.
    pub demand: Demand,
    /// Mass of the object, in kg: for a shot's energy from its speed.
    pub mass: f64,
    /// Median resistance, J or m/s.
    pub median: f64,
    /// Standard deviation of ln resistance over the flights, unknown and
    /// varying parts together.
    pub spread: f64,
    /// What the claim's strikes demand: (J or m/s, share), shares sum to 1.
    pub demanded: Vec<(f64, f64)>,
}

/// The threshold after model and shots, SI.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BarrierJudgement {
    /// What it is measured in.
    pub demand: Demand,
    /// Shots used: those with a speed and a result at the barrier.
    pub shots: u64,
    /// Of them perforations.
    pub perforations: u64,
    /// Demand that half of the blows go through at: 2.5, 50, 97.5 %.
    pub threshold: [f64; 3],
    /// Without a perforation: the demand that the threshold is above, 95 %.
    pub above: Option<f64>,
    /// Shot-to-shot spread of ln resistance, posterior mean.
    pub spread: f64,
    /// Chance, under the model, of a number of perforations as far out as the
    /// one seen.
    pub agreement: f64,
    /// The shots: (demand, perforated), for drawing.
    pub points: Vec<(f64, bool)>,
    /// Chance of perforation against the demand: (demand, 2.5, 50, 97.5 %).
    pub curve: Vec<(f64, [f64; 3])>,
    /// Largest demand shot and largest the claim makes: beyond the first the
    /// curve is extrapolated.
    pub shot_to: f64,
    /// See `shot_to`.
    pub claimed_to: f64,
}

impl ModelBarrier {
    /// The spread of a model that thinks `varying` likeliest from shot to shot.
    pub(in crate::trials) fn spread_about(varying: f64) -> f64 {
        varying / VARYING
    }

    /// Updates the threshold; with it, the chance that the claim's strikes go
    /// through as evenly likely values. `None` where
    /// no shot speaks of it, or only shots of one kind and the model has no weight.
    pub(in crate::trials) fn judge(
        &self,
        log: &ShotLog,
        weight: f64,
    ) -> Option<(BarrierJudgement, Vec<f64>)> {
        let shots: Vec<(f64, bool)> = log.shots.iter().filter_map(|shot| self.blow(shot)).collect();
        let mixed = shots.iter().any(|shot| shot.1) && shots.iter().any(|shot| !shot.1);
        // With one kind of shot and no model, only the prior would speak.
        if shots.is_empty() || (weight <= 0.0 && !mixed) {
            return None;
        }
        let prior = self.prior(weight, &shots);
        let trials: Vec<Trial> =
            shots.iter().map(|(demand, event)| Trial { x: ln(*demand), event: *event }).collect();
        let before = Grid::new(&prior, &[]);
        let grid = Grid::new(&prior, &trials);
        let perforations = shots.iter().filter(|shot| shot.1).count() as u64;
        let largest = |values: &mut dyn Iterator<Item = f64>| values.fold(0.0, f64::max);
        let quantile = |p: f64| exp(grid.threshold_quantile(p));
        let judgement = BarrierJudgement {
            demand: self.demand,
            shots: shots.len() as u64,
            perforations,
            threshold: [0.025, 0.5, 0.975].map(quantile),
            above: (perforations == 0).then(|| quantile(0.05)),
            spread: grid.mean(|_, sigma| sigma),
            agreement: agreement(&before, &trials),
            curve: self.curve(&grid, &shots),
            shot_to: largest(&mut shots.iter().map(|shot| shot.0)),
            claimed_to: largest(&mut self.demanded.iter().map(|part| part.0)),
            points: shots,
        };
        let values = grid.evenly(NODES, |mu, sigma| {
            self.demanded.iter().map(|(d, share)| share * normal_cdf((ln(*d) - mu) / sigma)).sum()
        });
        Some((judgement, values))
    }

    /// A shot's demand and whether it went through.
    fn blow(&self, shot: &LoggedShot) -> Option<(f64, bool)> {
        let through = shot.result?.passed(Gate::Perforates)?;
        let speed = shot.speed?.value;
        let mass = shot.mass.unwrap_or(self.mass);
        let demand = match self.demand {
            Demand::NormalSpeed => speed,
            Demand::NormalEnergy | Demand::TotalEnergy => 0.5 * mass * speed * speed,
        };
        Some((demand, through))
    }

    /// The model's threshold with its variance over the weight; with weight 0
    /// the widest prior about the shots themselves.
    fn prior(&self, weight: f64, shots: &[(f64, bool)]) -> Prior {
        let spread = self.spread.clamp(0.05, 1.0);
        let ln_sigma = ln(VARYING * spread);
        if weight > 0.0 {
            let mu_sd = (spread / weight.sqrt()).min(WIDEST);
            return Prior { mu: ln(self.median), mu_sd, ln_sigma, ln_sigma_sd: 0.8 };
        }
        let middle = shots.iter().map(|shot| ln(shot.0)).sum::<f64>() / shots.len() as f64;
        Prior { mu: middle, mu_sd: WIDEST, ln_sigma, ln_sigma_sd: 0.8 }
    }

    fn curve(&self, grid: &Grid, shots: &[(f64, bool)]) -> Vec<(f64, [f64; 3])> {
        let demands = || self.demanded.iter().map(|p| p.0).chain(shots.iter().map(|s| s.0));
        let low = 0.7 * demands().fold(f64::INFINITY, f64::min);
        let high = 1.3 * demands().fold(0.0, f64::max);
        (0..=24)
            .map(|i| {
                let demand = low + (high - low) * f64::from(i) / 24.0;
                let at = |p| grid.chance_quantile(ln(demand), p);
                (demand, [at(0.025), at(0.5), at(0.975)])
            })
            .collect()
    }
}

/// Prior-predictive chance of a number of perforations as far out as seen.
fn agreement(before: &Grid, trials: &[Trial]) -> f64 {
    let seen = trials.iter().filter(|trial| trial.event).count();
    let tail = |mu: f64, sigma: f64, upper: bool| {
        let mut counts = vec![1.0];
        for trial in trials {
            let p = normal_cdf((trial.x - mu) / sigma);
            let mut next = vec![0.0; counts.len() + 1];
            for (k, chance) in counts.iter().enumerate() {
                next[k] += chance * (1.0 - p);
                next[k + 1] += chance * p;
            }
            counts = next;
        }
        if upper { counts[seen..].iter().sum::<f64>() } else { counts[..=seen].iter().sum() }
    };
    let upper = before.mean(|mu, sigma| tail(mu, sigma, true));
    let lower = before.mean(|mu, sigma| tail(mu, sigma, false));
    upper.min(lower).min(1.0)
}

impl BarrierJudgement {
    /// What the shots leave open of the threshold, from 5 to 95 %.
    #[must_use]
    pub fn nine_in_ten(&self) -> [f64; 2] {
        let [low, middle, high] = self.threshold;
        // 2.5 to 97.5 % are 3.92 standard deviations, 5 to 95 % 3.29.
        let half = exp(0.5 * ln(high / low) * 1.644_854 / 1.959_964);
        [middle / half, middle * half]
    }

    pub(super) fn conflict(&self) -> Option<String> {
        (self.agreement < CONFLICT).then(|| {
            format!(
                "`perforates`: {} of {} shots went through; with the model's barrier a number so \
                 far out comes {:.1} times in 100: the barrier's strength in the model is in doubt",
                self.perforations,
                self.shots,
                100.0 * self.agreement
            )
        })
    }
}
