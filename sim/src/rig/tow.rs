//! A tow through pulleys.
//!
//! The load moves `ratio` times as fast as the tow, which therefore pulls
//! `ratio` times as hard. The setting is the tow's speed, in m/s. Assumes an
//! even acceleration over the run-up and a line that does not stretch.

/// A tow line and its run-up.
#[derive(Clone, Debug, PartialEq)]
pub struct Tow {
    /// Speed of the load over speed of the tow, > 0.
    pub ratio: f64,
    /// Length over which the load is brought up to speed, in m, > 0.
    pub run_up: f64,
    /// Stiffness of the line, in N/m, if told: for what it holds.
    pub line_stiffness: Option<f64>,
}

impl Tow {
    /// Pull on the load that gives the speed over the run-up, in N.
    #[must_use]
    pub fn push(&self, tow_speed: f64, mass: f64) -> f64 {
        let speed = self.ratio * tow_speed;
        0.5 * mass * speed * speed / self.run_up
    }

    /// Energy in the stretched line at a pull on the load (N), in J.
    #[must_use]
    pub fn stored_energy(&self, pull: f64) -> f64 {
        self.line_stiffness.map_or(0.0, |k| 0.5 * pull * pull / k)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rig::{Load, run::Run};

    #[test]
    fn two_to_one_doubles_the_speed() {
        let tow = Tow { ratio: 2.0, run_up: 20.0, line_stiffness: Some(20e3) };
        let load = Load { object: 4.0, carriage: 0.0, resistance: 0.0, drag: 0.0 };
        let run = Run::along(20.0, 4.0, &load, true, |_| tow.push(15.0, 4.0));
        assert!((run.speed(1.0) - 30.0).abs() < 1e-9);
        // Strap of 20 kN/m at 5 kN: 625 J.
        assert!((tow.stored_energy(5e3) - 625.0).abs() < 1e-9);
    }
}
