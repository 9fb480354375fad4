//! Shot or thrown: a speed along an aim, with this shot's error from it.

use super::{point, pose, value};
use crate::{flight::State, math, scenario::Launched};
use glam::DVec3;

/// The state as it leaves the launcher or the hand.
pub(super) fn state(launched: &Launched, row: &[f64]) -> State {
    let factor = launched.speed_factor.map_or(1.0, |id| value(row, id));
    let speed = value(row, launched.speed) * factor;
    let climb = value(row, launched.elevation) + value(row, launched.error_up);
    let heading = value(row, launched.bearing) + value(row, launched.error_left);
    let (sin_climb, cos_climb) = math::sincos(climb);
    let (sin_heading, cos_heading) = math::sincos(heading);
    let along = DVec3::new(cos_climb * cos_heading, cos_climb * sin_heading, sin_climb);
    State {
        position: point(row, &launched.place),
        velocity: speed * along,
        attitude: pose::attitude(&launched.pose, row, heading, climb),
        rates: pose::rates(&launched.pose, row),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::InputId;

    #[test]
    fn the_nose_points_along_the_flight_whatever_the_aim() {
        let launched = Launched {
            place: [6, 7, 8].map(InputId),
            speed: InputId(9),
            speed_factor: None,
            elevation: InputId(10),
            bearing: InputId(11),
            error_up: InputId(12),
            error_left: InputId(13),
            pose: pose::tests::first_six(),
        };
        let row = [0.0, 0.0, 0.4, 1.0, 2.0, 3.0, 0.5, -0.25, 1.5, 30.0, 0.3, -0.7, 0.02, 0.01];
        let state = state(&launched, &row);
        let nose = state.attitude * DVec3::X;
        assert!((state.velocity / 30.0 - nose).length() < 1e-15);
        assert!((state.velocity.z - 30.0 * math::sin(0.32)).abs() < 1e-13);
        assert!(state.velocity.y < 0.0, "a negative bearing goes to the right");
        assert_eq!(state.position, DVec3::new(0.5, -0.25, 1.5));
        assert_eq!(state.rates, DVec3::new(1.0, 2.0, 3.0));
    }
}
