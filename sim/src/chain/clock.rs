//! How long a flight may last: as long as it takes to come down, and then some.

use crate::{
    body::Body,
    flight::{GRAVITY, State},
};

/// The least that a flight may last, in s: for throws, and for what rolls on.
const LEAST: f64 = 120.0;

/// The most that it may last, in s: two hours. What floats longer is cut off,
/// counted, and left open in the interval.
const MOST: f64 = 7200.0;

/// Time for rolling on after it came down, in s.
const ON_THE_GROUND: f64 = 60.0;

/// A sheet that turns lifts itself: so many times the time of a fall across the
/// stream (judgement).
const FLOATS: f64 = 4.0;

/// Drag coefficient of what falls most slowly for its size. Source: a disc
/// face-on has 1.17 (after Hoerner 1965, aerospaceweb.org, read).
const BLUNT: f64 = 1.2;

/// When a flight that starts so is cut off, in s after release.
///
/// `density`: that of the air, in kg/m³; `drag_factor`: what multiplies its drag.
pub(super) fn deadline(body: &Body, density: f64, drag_factor: f64, start: &State) -> f64 {
    let up = start.velocity.z.max(0.0);
    let height = start.position.z.max(0.0) + up * up / (2.0 * GRAVITY);
    let weight = (body.mass - density * body.volume()) * GRAVITY;
    let radius = body.bounding_radius();
    let area = std::f64::consts::PI * radius * radius;
    let drag = 0.5 * density * BLUNT * drag_factor.max(1.0) * area;
    if weight <= 0.0 {
        return MOST;
    }
    let slowest = (weight / drag).sqrt();
    let fall = (height / slowest).max((2.0 * height / GRAVITY).sqrt()) + up / GRAVITY;
    (ON_THE_GROUND + FLOATS * fall).clamp(LEAST, MOST)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::body::Shape;
    use glam::{DQuat, DVec3};
    use proptest::prelude::*;

    fn at(height: f64, up: f64) -> State {
        State {
            position: DVec3::new(0.0, 0.0, height),
            velocity: DVec3::new(0.0, 0.0, up),
            attitude: DQuat::IDENTITY,
            rates: DVec3::ZERO,
        }
    }

    fn sphere(diameter: f64, mass: f64) -> Body {
        Body::solid(Shape::Sphere { diameter }, mass)
    }

    #[test]
    fn short_flights_have_the_least_and_hail_from_three_kilometres_has_enough() {
        assert!((deadline(&sphere(0.1, 1.0), 1.2, 1.0, &at(5.0, 10.0)) - LEAST).abs() < 1e-9);
        // 10 mm of ice falls at about 14 m/s (published terminal speeds, from
        // memory): 3,000 m take some 210 s.
        let mass = 900.0 * std::f64::consts::PI / 6.0 * 1e-6;
        assert!(deadline(&sphere(0.01, mass), 1.2, 1.0, &at(3000.0, 0.0)) > 210.0);
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..Default::default() })]

        /// A ball that falls at its slowest, all the way, has time to arrive
        /// unless that takes longer than the most there is; higher or lighter
        /// never has less.
        #[test]
        fn what_falls_has_time_to_come_down(
            height in 0.0..5000.0, diameter in 1e-3..2.0, density in 30.0..9000.0, more in 1.0..3.0,
        ) {
            let mass = density * std::f64::consts::PI / 6.0 * diameter * diameter * diameter;
            let body = sphere(diameter, mass);
            let now = deadline(&body, 1.2, 1.0, &at(height, 0.0));
            // Stokes and Newton together never brake a ball above a millimetre
            // by more than a disc face-on.
            let drag = 0.5 * 1.2 * 1.2 * std::f64::consts::FRAC_PI_4 * diameter * diameter;
            let slowest = ((mass - 1.2 * body.volume()) * GRAVITY / drag).sqrt();
            prop_assert!(now >= (height / slowest).min(MOST));
            prop_assert!(deadline(&body, 1.2, 1.0, &at(height * more, 0.0)) >= now);
            prop_assert!(deadline(&sphere(diameter, mass / more), 1.2, 1.0, &at(height, 0.0)) >= now);
        }
    }
}
