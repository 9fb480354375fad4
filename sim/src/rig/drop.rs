//! A free fall from a height.
//!
//! `v = vt sqrt(1 - exp(-2 g h / vt^2))`, `vt` the terminal speed; the setting
//! is the height, in m. Valid for an object that keeps its attitude.

use super::GRAVITY;
use crate::math;

/// Speed after a fall of `height` m with terminal speed `terminal` (m/s;
/// infinite: no air), in m/s.
#[must_use]
pub fn speed(height: f64, terminal: f64) -> f64 {
    if terminal.is_infinite() {
        return (2.0 * GRAVITY * height).sqrt();
    }
    terminal * (-math::expm1(-2.0 * GRAVITY * height / (terminal * terminal))).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rig::{Load, run::Run};

    #[test]
    fn falls_match_the_closed_form() {
        for (height, expected) in
            [(1.0, 4.428_69), (3.0, 7.670_72), (5.0, 9.902_85), (10.0, 14.0047)]
        {
            assert!((speed(height, f64::INFINITY) - expected).abs() < 5e-5);
        }
        assert!((speed(10.0, 30.0) - 13.2753).abs() < 5e-5);
    }

    #[test]
    fn the_run_with_drag_is_the_closed_form() {
        let drag = 2.0 * GRAVITY / 900.0; // 2 kg with a terminal speed of 30 m/s
        let load = Load { object: 2.0, carriage: 0.0, resistance: 0.0, drag };
        let run = Run::along(10.0, 2.0, &load, true, |_| 2.0 * GRAVITY);
        assert!((run.speed(1.0) - speed(10.0, 30.0)).abs() < 1e-8);
    }
}
