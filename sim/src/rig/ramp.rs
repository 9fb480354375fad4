//! A slope: sliding, rolling, or a cart.
//!
//! `v = sqrt(2 g h (1 - mu/tan th) / (1 + k))`, `k` the rotating part of the
//! inertia (2/5 for a solid ball that rolls; half the share of the wheels'
//! mass for a cart). The setting is the height, in m.

use super::GRAVITY;
use crate::math;

/// A straight slope.
#[derive(Clone, Debug, PartialEq)]
pub struct Ramp {
    /// Slope above the horizontal, in rad, in (0, pi/2].
    pub slope: f64,
    /// Coefficient of sliding or rolling friction, >= 0.
    pub friction: f64,
    /// Rotating inertia over mass, >= 0.
    pub rotation: f64,
}

impl Ramp {
    /// Push along the slope on `mass` kg, in N.
    #[must_use]
    pub fn push(&self, mass: f64) -> f64 {
        mass * GRAVITY * (math::sin(self.slope) - self.friction * math::cos(self.slope))
    }

    /// Length of slope for a height, in m.
    #[must_use]
    pub fn stroke(&self, height: f64) -> f64 {
        height / math::sin(self.slope)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rig::{Load, run::Run};

    /// h 2 m: sliding, mu 0.2, 30 deg 5.06341; ball sqrt(10 g h/7) 5.2933;
    /// cart with a tenth of its mass in wheels sqrt(2 g h/1.05) 6.11217 m/s.
    #[test]
    fn slopes_give_the_closed_forms() {
        let thirty = 30.0_f64.to_radians();
        for (friction, rotation, expected) in
            [(0.2, 0.0, 5.063_41), (0.0, 0.4, 5.2933), (0.0, 0.05, 6.112_17)]
        {
            let ramp = Ramp { slope: thirty, friction, rotation };
            let load = Load { object: 3.0, carriage: 0.0, resistance: 0.0, drag: 0.0 };
            let moving = 3.0 * (1.0 + rotation);
            let run = Run::along(ramp.stroke(2.0), moving, &load, false, |_| ramp.push(3.0));
            assert!((run.speed(1.0) - expected).abs() < 5e-5, "{}", run.speed(1.0));
        }
    }
}
