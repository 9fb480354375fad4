//! Backwards: from a wanted speed to the setting, and from the limits to the
//! largest setting.

use super::{Launcher, Rig};

/// Why no setting gives a speed.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Unreachable {
    /// The wanted speed is not a positive number.
    NotASpeed,
    /// Faster than the largest meaningful setting, which gives `fastest` m/s.
    TooFast {
        /// Speed at the largest meaningful setting, in m/s.
        fastest: f64,
    },
}

/// Smallest setting at which `speed_at` (rising) gives `wanted`, between 0 and
/// `largest`.
///
/// # Errors
///
/// [`Unreachable`] says why there is none.
pub fn setting_for(
    wanted: f64,
    largest: f64,
    speed_at: impl Fn(f64) -> f64,
) -> Result<f64, Unreachable> {
    if !(wanted.is_finite() && wanted > 0.0) {
        return Err(Unreachable::NotASpeed);
    }
    let fastest = speed_at(largest);
    if fastest < wanted {
        return Err(Unreachable::TooFast { fastest });
    }
    Ok(bisect(largest, |setting| speed_at(setting) >= wanted))
}

/// Largest setting that keeps every limit the rig has told.
///
/// Winch, length of run, rated stretch, pressure or angle: whichever is first.
#[must_use]
pub fn largest_safe_setting(rig: &Rig) -> f64 {
    let largest = rig.launcher.largest_setting();
    let first_over = bisect(largest, |setting| !limits_kept(rig, setting));
    // A hair inside, so that what is called safe is.
    (first_over * (1.0 - 1e-8)).min(largest)
}

/// Whether a setting keeps the limits.
#[must_use]
pub fn limits_kept(rig: &Rig, setting: f64) -> bool {
    let load = rig.load(rig.object.mass);
    let winch = rig.winch.as_ref().is_none_or(|winch| {
        let pull = rig.launcher.pull(setting, &load, rig.own_mass()).unwrap_or(0.0);
        pull / f64::from(winch.parts) <= winch.limit
    });
    let room = rig.run_up.is_none_or(|room| stroke(rig, setting) <= room);
    winch && room && rated(&rig.launcher, setting)
}

fn rated(launcher: &Launcher, setting: f64) -> bool {
    match launcher {
        Launcher::Cord(cord) => {
            cord.largest_stretch.is_none_or(|limit| cord.stretch(setting) <= limit)
        }
        Launcher::Spring(spring) => spring.largest.is_none_or(|limit| setting <= limit),
        Launcher::Pressure(pressure) => pressure.rated.is_none_or(|limit| setting <= limit),
        Launcher::Pendulum(p) => p.arm > 0.0 || setting <= std::f64::consts::FRAC_PI_2,
        Launcher::Drop | Launcher::Ramp(_) | Launcher::Tow(_) => true,
    }
}

/// Length of run that a setting needs, in m.
#[must_use]
pub fn stroke(rig: &Rig, setting: f64) -> f64 {
    match &rig.launcher {
        Launcher::Cord(_) | Launcher::Spring(_) | Launcher::Drop => setting,
        Launcher::Pressure(pressure) => pressure.length,
        Launcher::Pendulum(pendulum) => setting * pendulum.length,
        Launcher::Ramp(ramp) => ramp.stroke(setting),
        Launcher::Tow(tow) => tow.run_up,
    }
}

/// Smallest value in (0, `largest`] where `holds` turns true, or `largest`.
fn bisect(largest: f64, holds: impl Fn(f64) -> bool) -> f64 {
    let (mut low, mut high) = (0.0, largest);
    if !holds(high) {
        return largest;
    }
    for _ in 0..100 {
        let middle = 0.5 * (low + high);
        if holds(middle) {
            high = middle;
        } else {
            low = middle;
        }
        if high - low <= 1e-9 * high {
            break;
        }
    }
    0.5 * (low + high)
}
