//! What to set next, and whether another calibration shot is worth it.

use super::Calibration;
use crate::{
    rig::inverse::{Unreachable, largest_safe_setting},
    uncertain::normal_cdf,
};
use serde::{Deserialize, Serialize};

/// How far beyond what was tried a shot may go in one step.
const STEP_UP: f64 = 1.25;
/// Gain in the chance of being within tolerance that makes a shot worth it.
const WORTH: f64 = 0.03;
/// Settings looked at when asking which teaches the most.
const CANDIDATES: u32 = 24;

/// The speed that is wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wanted {
    /// Target speed, in m/s, > 0.
    pub speed: f64,
    /// Tolerance to either side, in m/s, > 0.
    pub within: f64,
}

/// A setting to shoot next. SI units.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct NextShot {
    /// The setting.
    pub setting: f64,
    /// 2.5, 50 and 97.5 % of its true speed, in m/s.
    pub speed: [f64; 3],
    /// Chance that its speed is within the tolerance of the target.
    pub chance_within: f64,
    /// Largest setting shot so far, if any.
    pub tried_to: Option<f64>,
    /// `true` if the setting is beyond what was tried.
    pub beyond_tried: bool,
    /// Whether winch, run and ratings are kept; `None` where none of them is told.
    pub limits_kept: Option<bool>,
}

/// The advice. SI units.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Advice {
    /// The setting whose predicted median is the target.
    pub target: NextShot,
    /// A smaller step on the way, where the target is too far beyond what was
    /// tried.
    pub first: Option<NextShot>,
    /// The setting that would teach the most about the target, within the
    /// limits and a step beyond what was tried.
    pub teaches_most: f64,
    /// Standard deviation of ln(speed) at the target that more shots could
    /// take away, now.
    pub unknown: f64,
    /// The same after one more shot at `teaches_most`.
    pub unknown_after: f64,
    /// Standard deviation of ln(speed) from shot to shot, which stays.
    pub scatter: f64,
    /// Chance of being within tolerance after that shot, re-aimed.
    pub chance_after: f64,
    /// Chance of being within tolerance with the rig known perfectly.
    pub chance_at_best: f64,
    /// Whether another calibration shot is worth it.
    pub worth_another: bool,
}

/// Advises on the next shot for a wanted speed.
///
/// The gain of another shot is found by treating the posterior of ln(speed) at
/// two settings as jointly normal: a shot there leaves here a variance of
/// `var - cov^2 / (var_there + noise)`.
///
/// # Errors
///
/// [`Unreachable`] when no meaningful setting gives the speed.
pub fn advise(calibration: &Calibration, wanted: Wanted) -> Result<Advice, Unreachable> {
    let rig = calibration.rig();
    let setting = calibration.setting_for(wanted.speed)?;
    let target = next_shot(calibration, wanted, setting);
    let first =
        step_on_the_way(calibration, setting).map(|step| next_shot(calibration, wanted, step));
    let (unknown, scatter) = spread(calibration, setting);
    let at_target = Centred::new(calibration.posterior().ln_speeds(rig, setting));
    let u = measurement(calibration);
    let noise = scatter * scatter + u * u;
    let (teaches_most, variance) = candidates(calibration, setting)
        .map(|candidate| {
            let there = Centred::new(calibration.posterior().ln_speeds(rig, candidate));
            (candidate, at_target.after(&there, noise))
        })
        .fold((setting, f64::INFINITY), |best, this| if this.1 < best.1 { this } else { best });
    let unknown_after = variance.max(0.0).sqrt().min(unknown);
    let chance =
        |unknown: f64| chance_within(wanted, (unknown * unknown + scatter * scatter).sqrt());
    let chance_after = chance(unknown_after);
    Ok(Advice {
        target,
        first,
        teaches_most,
        unknown,
        unknown_after,
        scatter,
        chance_after,
        chance_at_best: chance(0.0),
        worth_another: chance_after - target.chance_within > WORTH || target.beyond_tried,
    })
}

fn next_shot(calibration: &Calibration, wanted: Wanted, setting: f64) -> NextShot {
    let (low, high) = ((wanted.speed - wanted.within).max(1e-9), wanted.speed + wanted.within);
    let tried_to = calibration.tried().map(|(_, high)| high);
    NextShot {
        setting,
        speed: calibration.speed_quantiles(setting, [0.025, 0.5, 0.975]),
        chance_within: calibration.chance_within(setting, low, high),
        tried_to,
        beyond_tried: tried_to.is_none_or(|tried| setting > tried * (1.0 + 1e-9)),
        limits_kept: calibration.rig().keeps_limits(setting),
    }
}

/// A step of at most a quarter beyond what was tried, or, on a rig that has
/// not shot, half way to the target.
fn step_on_the_way(calibration: &Calibration, setting: f64) -> Option<f64> {
    match calibration.tried() {
        Some((_, high)) => (setting > STEP_UP * high).then_some(STEP_UP * high),
        None => Some(0.5 * setting),
    }
}

fn spread(calibration: &Calibration, setting: f64) -> (f64, f64) {
    let rig = calibration.rig();
    let predictive = calibration.posterior().predictive(rig, setting, rig.object.mass);
    let (all, unknown) = (predictive.sd(), predictive.unknown_sd());
    (unknown, (all * all - unknown * unknown).max(0.0).sqrt())
}

/// Typical relative uncertainty of a measured speed: the mean of the shots'
/// own, or 2 %.
fn measurement(calibration: &Calibration) -> f64 {
    let shots = calibration.shots();
    if shots.is_empty() {
        return 0.02;
    }
    let sum: f64 = shots.iter().map(|shot| shot.speed.uncertainty / shot.speed.value).sum();
    sum / shots.len() as f64
}

fn candidates(calibration: &Calibration, target: f64) -> impl Iterator<Item = f64> {
    let safe = largest_safe_setting(calibration.rig());
    // Not far below what was tried: there friction and the measurement, which
    // the fit takes to be the same everywhere, would teach nothing.
    let (bottom, top) = match calibration.tried() {
        Some((low, high)) => (0.7 * low, (STEP_UP * high).max(target.min(high))),
        None => (0.25 * target, 0.5 * target),
    };
    let top = top.min(safe).min(1.5 * target).max(bottom);
    (0..=CANDIDATES).map(move |i| bottom + (top - bottom) * f64::from(i) / f64::from(CANDIDATES))
}

fn chance_within(wanted: Wanted, sd: f64) -> f64 {
    let half = wanted.within / wanted.speed;
    let z = half / sd;
    1.0 - 2.0 * normal_cdf(-z)
}

/// ln speeds of the posterior's cells about their mean.
struct Centred(Vec<(f64, f64)>);

impl Centred {
    fn new(mut values: Vec<(f64, f64)>) -> Self {
        let mean: f64 = values.iter().filter(|v| v.0.is_finite()).map(|v| v.0 * v.1).sum();
        for value in &mut values {
            value.0 = if value.0.is_finite() { value.0 - mean } else { 0.0 };
        }
        Self(values)
    }

    fn covariance(&self, other: &Self) -> f64 {
        self.0.iter().zip(&other.0).map(|(a, b)| a.1 * a.0 * b.0).sum()
    }

    /// Variance left here after a shot there.
    fn after(&self, there: &Self, noise: f64) -> f64 {
        let covariance = self.covariance(there);
        self.covariance(self) - covariance * covariance / (there.covariance(there) + noise)
    }
}
