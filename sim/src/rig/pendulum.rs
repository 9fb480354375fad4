//! A swing from an angle to the bottom.
//!
//! `v = sqrt(2 g L (1 - cos th))` for a light arm; a uniform arm of mass `ma`
//! adds `ma/2` to what falls and `ma/3` to what moves (derived). The setting
//! is the angle from hanging straight down, in rad, up to 90 deg for a rope.

use super::GRAVITY;
use crate::math;

/// A pendulum with the object at its end.
#[derive(Clone, Debug, PartialEq)]
pub struct Pendulum {
    /// Length from pivot to object, in m, > 0.
    pub length: f64,
    /// Mass of a uniform rigid arm, in kg (0: a rope).
    pub arm: f64,
}

impl Pendulum {
    /// Push along the arc at `s` m from the start, in N, with `bob` kg at the end.
    #[must_use]
    pub fn push(&self, angle: f64, s: f64, bob: f64) -> f64 {
        (bob + 0.5 * self.arm) * GRAVITY * math::sin(angle - s / self.length)
    }

    /// Energy given up from the angle to the bottom, in J.
    #[must_use]
    pub fn energy(&self, angle: f64, bob: f64) -> f64 {
        (bob + 0.5 * self.arm) * GRAVITY * self.length * (1.0 - math::cos(angle))
    }

    /// Tension at the pivot at the bottom of the swing, in N, with no losses:
    /// weight plus what turns the bob and the arm's middle.
    #[must_use]
    pub fn tension(&self, speed: f64, bob: f64) -> f64 {
        (bob + self.arm) * GRAVITY + (bob + 0.5 * self.arm) * speed * speed / self.length
    }

    /// What is doubtful about an angle.
    #[must_use]
    pub fn doubts(&self, angle: f64) -> Vec<String> {
        let upright = std::f64::consts::FRAC_PI_2;
        if self.arm <= 0.0 && angle > upright {
            vec!["above 90 deg a rope goes slack and jerks: use a rigid arm".into()]
        } else {
            Vec::new()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rig::{Load, run::Run};

    /// L 3 m from 60 deg: 5.42402 m/s; tension m g (3 - 2 cos th).
    #[test]
    fn a_light_arm_gives_the_closed_form() {
        let swing = Pendulum { length: 3.0, arm: 0.0 };
        let angle = 60.0_f64.to_radians();
        let load = Load { object: 5.0, carriage: 0.0, resistance: 0.0, drag: 0.0 };
        let run = Run::along(3.0 * angle, 5.0, &load, false, |s| swing.push(angle, s, 5.0));
        let speed = run.speed(1.0);
        assert!((speed - 5.424_02).abs() < 5e-6, "{speed}");
        assert!((swing.tension(speed, 5.0) - 5.0 * GRAVITY * 2.0).abs() < 1e-4);
    }
}
