//! Is the launcher as modelled? A narrow prior of the efficiency would put a
//! shot far off it down to scatter, and make the bands wide about a wrong speed.

use super::Shot;
use crate::{
    math::{exp, hypot, ln},
    rig::{Efficiency, Rig},
};

/// So many standard deviations of level and scatter are too far (judgement).
const TOO_FAR: f64 = 3.0;

/// How many times as fast as expected the shots are, if that is too far off.
pub(super) fn off(rig: &Rig, shots: &[Shot]) -> Option<f64> {
    let [low, middle, high] = rig.doubt.efficiency.quantiles();
    let own = rig.own_mass();
    let logs = shots.iter().map(|shot| {
        let run = rig.run_with(shot.setting, shot.mass.unwrap_or(rig.object.mass), own);
        ln(shot.speed.value / run.speed(middle))
    });
    let mean = logs.sum::<f64>() / shots.len() as f64;
    // Of a speed: half of that of an energy; 5 to 95 % are 3.29 deviations.
    let level = 0.5 * ln(high / low) / 3.289_707;
    let growth = 0.5 * rig.doubt.exponent;
    let allowed = hypot(hypot(level, growth), rig.doubt.scatter.median);
    (mean.is_finite() && mean.abs() > TOO_FAR * allowed).then(|| exp(mean))
}

/// A prior that reaches as far as the shots.
pub(super) fn widened(rig: &Rig, factor: f64) -> Efficiency {
    let [_, median, _] = rig.doubt.efficiency.quantiles();
    Efficiency::LogNormal { median, sd: 2.0 * ln(factor).abs() }
}
