//! A deceleration over time: what shakes a load loose, what a head feels.

pub use crate::scenario::PulseShape;

use crate::math::{cos, sin};
use std::f64::consts::{PI, TAU};

/// A deceleration pulse.
#[derive(Clone, Debug, PartialEq)]
pub struct Pulse {
    /// Shape.
    pub shape: PulseShape,
    /// Peak deceleration, in m/s².
    pub peak: f64,
    /// Duration, in s, > 0.
    pub duration: f64,
}

impl Pulse {
    /// Deceleration at `time` after its start, in m/s²; 0 before and after.
    #[must_use]
    pub fn at(&self, time: f64) -> f64 {
        self.peak * self.shape.at(time / self.duration)
    }

    /// Change of speed over the whole pulse, in m/s.
    ///
    /// # Examples
    ///
    /// ```
    /// use longodds_sim::release::{Pulse, PulseShape};
    ///
    /// // 100 m/s² for 0.1 s.
    /// let pulse = Pulse { shape: PulseShape::Square, peak: 100.0, duration: 0.1 };
    /// assert!((pulse.speed_change() - 10.0).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn speed_change(&self) -> f64 {
        self.shape.fullness() * self.peak * self.duration
    }

    /// The pulse of this shape and duration (in s) that changes the speed by
    /// `speed_change`, in m/s.
    #[cfg(test)]
    pub(crate) fn of_speed_change(shape: PulseShape, speed_change: f64, duration: f64) -> Self {
        let peak = speed_change / (shape.fullness() * duration);
        Self { shape, peak, duration }
    }
}

impl PulseShape {
    /// Height over the peak at this share of the duration; 0 before and after.
    #[must_use]
    pub fn at(&self, share: f64) -> f64 {
        if !(0.0..=1.0).contains(&share) {
            return 0.0;
        }
        match self {
            Self::Square => 1.0,
            Self::HalfSine => sin(PI * share),
            Self::Haversine => (1.0 - cos(TAU * share)) / 2.0,
            Self::Triangle => 1.0 - (2.0 * share - 1.0).abs(),
            Self::Trapezoid { rise, fall } => trapezoid(share, *rise, *fall),
            Self::Measured(shares) => between(shares, share),
        }
    }

    /// Area under the pulse over peak times duration.
    ///
    /// Source: integrals of the shapes (derived).
    #[must_use]
    pub(crate) fn fullness(&self) -> f64 {
        match self {
            Self::Square => 1.0,
            Self::HalfSine => 2.0 / PI,
            Self::Haversine | Self::Triangle => 0.5,
            Self::Trapezoid { rise, fall } => 1.0 - (rise + fall) / 2.0,
            Self::Measured(shares) => {
                let pieces = shares.windows(2).map(|pair| (pair[0] + pair[1]) / 2.0);
                pieces.sum::<f64>() / (shares.len().max(2) - 1) as f64
            }
        }
    }
}

fn trapezoid(share: f64, rise: f64, fall: f64) -> f64 {
    let up = if rise > 0.0 { share / rise } else { 1.0 };
    let down = if fall > 0.0 { (1.0 - share) / fall } else { 1.0 };
    up.min(down).min(1.0)
}

/// The value of even samples at a share of their length.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 <= place <= len")]
fn between(samples: &[f64], share: f64) -> f64 {
    let Some(last) = samples.len().checked_sub(1).filter(|&last| last > 0) else {
        return samples.first().copied().unwrap_or(0.0);
    };
    let place = share * last as f64;
    let left = (place as usize).min(last - 1);
    let part = place - left as f64;
    samples[left] * (1.0 - part) + samples[left + 1] * part
}

#[cfg(test)]
mod tests {
    use super::*;

    const G: f64 = 9.80665;

    fn near(a: f64, b: f64, tolerance: f64) {
        assert!((a - b).abs() <= tolerance, "{a} is not {b}");
    }

    fn pulse(shape: PulseShape) -> Pulse {
        Pulse { shape, peak: 20.0 * G, duration: 0.1 }
    }

    fn trapezoid() -> PulseShape {
        PulseShape::Trapezoid { rise: 0.2, fall: 0.3 }
    }

    /// Source: integrals by hand: 20 g for 100 ms.
    #[test]
    fn each_shape_has_its_own_speed_change() {
        for (shape, wanted) in [
            (PulseShape::Square, 19.6133),
            (PulseShape::HalfSine, 12.4862),
            (PulseShape::Haversine, 9.80665),
            (PulseShape::Triangle, 9.80665),
            (trapezoid(), 14.710),
            (PulseShape::Measured(vec![0.0, 1.0, 0.0]), 9.80665),
        ] {
            near(pulse(shape).speed_change(), wanted, 5e-5);
        }
    }

    #[test]
    fn the_speed_change_is_the_area_under_the_pulse() {
        for shape in [
            PulseShape::Square,
            PulseShape::HalfSine,
            PulseShape::Haversine,
            PulseShape::Triangle,
            trapezoid(),
            PulseShape::Measured(vec![0.1, 0.8, 1.0, 0.3, 0.0]),
        ] {
            let pulse = pulse(shape);
            let steps = 100_000;
            let area: f64 = (0..steps)
                .map(|i| pulse.at(0.1 * (f64::from(i) + 0.5) / f64::from(steps)))
                .sum::<f64>()
                * 0.1
                / f64::from(steps);
            near(area, pulse.speed_change(), 1e-7 * pulse.speed_change());
        }
    }

    /// Source: by hand: 48 km/h in 100 ms; half sine 24 g, 80 ms.
    #[test]
    fn a_crash_pulse_has_the_peak_that_its_speed_asks_for() {
        let of = |shape| Pulse::of_speed_change(shape, 48.0 / 3.6, 0.1);
        near(of(PulseShape::HalfSine).peak / G, 21.357, 5e-4);
        near(of(PulseShape::Haversine).peak / G, 27.192, 5e-4);
        let sled = Pulse { shape: PulseShape::HalfSine, peak: 24.0 * G, duration: 0.08 };
        near(sled.speed_change(), 11.987, 5e-4);
    }

    #[test]
    fn there_is_nothing_before_and_after() {
        assert_eq!(
            (pulse(PulseShape::Square).at(-1e-9), pulse(PulseShape::Square).at(0.11)),
            (0.0, 0.0)
        );
    }
}
