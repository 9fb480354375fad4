//! How well the shots fit: one by one, and against another launcher.

use super::{Calibration, Shot, posterior::Predictive};
use crate::{
    math,
    rig::{Efficiency, Launcher, Rig, cord, spring::Spring},
};
use serde::{Deserialize, Serialize};

/// Chance below which a shot is said not to fit.
const DOES_NOT_FIT: f64 = 0.01;

/// A shot against what all the others predict for it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ShotFit {
    /// What the log calls it.
    pub name: String,
    /// Setting, SI.
    pub setting: f64,
    /// Measured speed, in m/s.
    pub speed: f64,
    /// 95 % band of its measured speed from the other shots, in m/s.
    pub expected: [f64; 3],
    /// Chance of a measured speed as far out as this, from the other shots.
    pub chance: f64,
    /// `false`: named as not fitting. It stays in the fit.
    pub fits: bool,
}

/// Among more shots than this, one says next to nothing of its own prediction.
const MANY: usize = 60;

/// Each shot left out in turn and predicted from the others; of a long log,
/// predicted from all.
#[must_use]
pub fn shot_fits(rig: &Rig, shots: &[Shot]) -> Vec<ShotFit> {
    let all = (shots.len() > MANY).then(|| Calibration::new(rig, shots));
    let mut known: Vec<((f64, f64), Predictive)> = Vec::new();
    (0..shots.len())
        .map(|i| {
            let mut others;
            let shot;
            let mass = shots[i].mass.unwrap_or(rig.object.mass);
            let predictive = if let Some(all) = &all {
                shot = shots[i].clone();
                let key = (shot.setting, mass);
                match known.iter().find(|one| one.0 == key) {
                    Some((_, predictive)) => predictive.clone(),
                    None => {
                        let found = all.posterior().predictive(rig, shot.setting, mass);
                        known.push((key, found.clone()));
                        found
                    }
                }
            } else {
                others = shots.to_vec();
                shot = others.remove(i);
                let calibration = Calibration::anchored(rig, &others, shot.setting);
                calibration.posterior().predictive(rig, shot.setting, mass)
            };
            let u = shot.speed.uncertainty / shot.speed.value;
            let below = predictive.cumulative_measured(math::ln(shot.speed.value), u);
            let chance = 2.0 * below.min(1.0 - below);
            let widened = (predictive.sd() * predictive.sd() + u * u).sqrt() / predictive.sd();
            let expected = [0.025, 0.5, 0.975].map(|p| {
                let middle = predictive.quantile(0.5);
                math::exp(middle + (predictive.quantile(p) - middle) * widened)
            });
            ShotFit {
                name: shot.name,
                setting: shot.setting,
                speed: shot.speed.value,
                expected,
                chance,
                fits: chance >= DOES_NOT_FIT,
            }
        })
        .collect()
}

/// Another idea of the launcher, fitted to the same shots.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Alternative {
    /// In words.
    pub name: String,
    /// ln of the probability density of the shots.
    pub ln_evidence: f64,
    /// Probability beside the others, all equally likely before the shots.
    pub probability: f64,
    /// Shot-to-shot scatter it has to assume (posterior median, relative).
    pub scatter: f64,
}

/// The rig as told against a linear spring, both with the same wide prior on
/// how much of the energy arrives; only for cords, with at least two settings.
#[must_use]
pub fn alternatives(rig: &Rig, shots: &[Shot]) -> Vec<Alternative> {
    let Launcher::Cord(cords) = &rig.launcher else { return Vec::new() };
    let calibration = Calibration::new(rig, shots);
    match calibration.tried() {
        Some((low, high)) if high > 1.05 * low => {}
        _ => return Vec::new(),
    }
    let anchor = math::exp(
        shots.iter().map(|shot| math::ln(shot.setting)).sum::<f64>() / shots.len() as f64,
    );
    let mut wide = rig.clone();
    let median = rig.doubt.efficiency.quantiles()[1];
    wide.doubt.efficiency = Efficiency::LogNormal { median, sd: 1.0 };
    let mut linear = wide.clone();
    linear.launcher = Launcher::Spring(Spring {
        stiffness: cord::as_spring(cords, anchor),
        preload: 0.0,
        mass: 3.0 * cords.moving_mass(),
        largest: None,
    });
    linear.doubt.exponent = 0.0;
    let fitted = [("cords as told", &wide), ("a linear spring", &linear)]
        .map(|(name, rig)| (name, Calibration::anchored(rig, shots, anchor)));
    let best = fitted
        .iter()
        .map(|(_, fit)| fit.posterior().ln_evidence())
        .fold(f64::NEG_INFINITY, f64::max);
    let weight = |fit: &Calibration| math::exp(fit.posterior().ln_evidence() - best);
    let sum: f64 = fitted.iter().map(|(_, fit)| weight(fit)).sum();
    fitted
        .iter()
        .map(|(name, fit)| Alternative {
            name: (*name).to_owned(),
            ln_evidence: fit.posterior().ln_evidence(),
            probability: weight(fit) / sum,
            scatter: math::exp(fit.posterior().ln_scatter().mean),
        })
        .collect()
}
