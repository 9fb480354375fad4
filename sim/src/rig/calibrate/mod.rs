//! From shots to a calibrated rig: a Bayesian fit on a dense grid.
//!
//! ```text
//! ln v_i = ln v_model(x_i; e (x_i/x_0)^delta, M) + error_i
//! error_i ~ normal(0, s^2 + (u_i/v_i)^2)
//! ```
//!
//! `e` efficiency, `delta` doubt about how the energy grows with the setting,
//! `M` moving mass beside the object, `s` shot-to-shot scatter, `u_i` the
//! measured speed's standard uncertainty, `x_0` the geometric mean of the
//! settings shot. Priors come from the rig ([`super::Doubt`]). Bands come from
//! the first shot on: with none, from the priors alone.
//!
//! With one object mass the shots cannot tell `e` from `M`; `M` then stays as
//! told. The grid needs no tuning: it is laid over the priors and drawn in on
//! the posterior three times.

mod axis;
mod fit;
mod level;
mod like;
mod next_shot;
mod posterior;
mod shot;

pub use self::{
    fit::{Alternative, ShotFit, alternatives, shot_fits},
    next_shot::{Advice, NextShot, Wanted, advise},
    posterior::Posterior,
    shot::Shot,
};

use super::Rig;
use crate::math;
use serde::{Deserialize, Serialize};

/// Settings at which the curve is drawn.
const CURVE_POINTS: u32 = 48;

/// One point of a calibration curve, SI.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct CurvePoint {
    /// Setting.
    pub setting: f64,
    /// 2.5, 50 and 97.5 % of the next shot's true speed, in m/s.
    pub speed: [f64; 3],
}

/// A rig and what its shots say about it.
#[derive(Clone, Debug)]
pub struct Calibration {
    rig: Rig,
    shots: Vec<Shot>,
    posterior: Posterior,
    off: Option<f64>,
}

impl Calibration {
    /// Fits a rig to its shots; without shots it is the prior, anchored at
    /// half the largest safe setting.
    #[must_use]
    pub fn new(rig: &Rig, shots: &[Shot]) -> Self {
        let anchor = if shots.is_empty() {
            0.5 * super::inverse::largest_safe_setting(rig)
        } else {
            let sum: f64 = shots.iter().map(|shot| math::ln(shot.setting)).sum();
            math::exp(sum / shots.len() as f64)
        };
        Self::anchored(rig, shots, anchor)
    }

    /// Fits with the efficiency's prior placed at the setting `anchor`.
    #[must_use]
    pub(crate) fn anchored(rig: &Rig, shots: &[Shot], anchor: f64) -> Self {
        let off = level::off(rig, shots);
        let mut trusted = rig.clone();
        if let Some(factor) = off {
            trusted.doubt.efficiency = level::widened(rig, factor);
        }
        let posterior = Posterior::new(&trusted, shots, anchor);
        Self { rig: rig.clone(), shots: shots.to_vec(), posterior, off }
    }

    /// How many times as fast as the launcher was expected to be the shots are,
    /// where that is more than its own doubt allows: it is then not as modelled,
    /// and the shots are believed.
    #[must_use]
    pub fn not_as_modelled(&self) -> Option<f64> {
        self.off
    }

    /// Whether too few shots were shot for them to tell how shots scatter: the
    /// bands are then as wide as launchers at large scatter.
    #[must_use]
    pub fn scatter_is_guessed(&self) -> bool {
        self.shots.len() < 4
    }

    /// The rig.
    #[must_use]
    pub fn rig(&self) -> &Rig {
        &self.rig
    }

    /// The shots, in the order shot.
    #[must_use]
    pub fn shots(&self) -> &[Shot] {
        &self.shots
    }

    /// The fitted unknowns.
    #[must_use]
    pub fn posterior(&self) -> &Posterior {
        &self.posterior
    }

    /// Posterior median of the share of the push that arrives at a setting.
    #[must_use]
    pub(crate) fn efficiency_at(&self, setting: f64) -> f64 {
        self.posterior.efficiency_at(setting)
    }

    /// Quantiles of the true speed of the next shot at a setting (> 0), in m/s.
    #[must_use]
    pub fn speed_quantiles<const N: usize>(&self, setting: f64, p: [f64; N]) -> [f64; N] {
        let predictive = self.posterior.predictive(&self.rig, setting, self.rig.object.mass);
        p.map(|p| math::exp(predictive.quantile(p)))
    }

    /// Chance that the next shot at a setting is within `low..high` m/s.
    #[must_use]
    pub fn chance_within(&self, setting: f64, low: f64, high: f64) -> f64 {
        let predictive = self.posterior.predictive(&self.rig, setting, self.rig.object.mass);
        predictive.cumulative(math::ln(high)) - predictive.cumulative(math::ln(low))
    }

    /// Setting at which the predictive median is the wanted speed, in m/s.
    ///
    /// # Errors
    ///
    /// [`super::inverse::Unreachable`] when no meaningful setting gives it.
    pub fn setting_for(&self, speed: f64) -> Result<f64, super::inverse::Unreachable> {
        let largest = self.rig.launcher.largest_setting();
        super::inverse::setting_for(speed, largest, |setting| {
            if setting <= 0.0 { 0.0 } else { self.speed_quantiles(setting, [0.5])[0] }
        })
    }

    /// The curve with its band between two settings.
    #[must_use]
    pub fn curve(&self, from: f64, to: f64) -> Vec<CurvePoint> {
        (0..=CURVE_POINTS)
            .map(|i| {
                let t = f64::from(i) / f64::from(CURVE_POINTS);
                let setting = from + t * (to - from);
                CurvePoint { setting, speed: self.speed_quantiles(setting, [0.025, 0.5, 0.975]) }
            })
            .collect()
    }

    /// Smallest and largest setting shot so far.
    #[must_use]
    pub fn tried(&self) -> Option<(f64, f64)> {
        let settings = self.shots.iter().map(|shot| shot.setting);
        let low = settings.clone().fold(f64::INFINITY, f64::min);
        let high = settings.fold(0.0, f64::max);
        (!self.shots.is_empty()).then_some((low, high))
    }
}

#[cfg(test)]
mod coverage;
#[cfg(test)]
mod tests;
