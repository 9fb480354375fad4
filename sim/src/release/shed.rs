//! Off a moving carrier: it keeps the carrier's velocity, and the air comes at it.

use super::{point, pose, value};
use crate::{flight::State, scenario::Shed};
use glam::DVec3;

/// The state as it leaves the carrier.
pub(super) fn state(shed: &Shed, row: &[f64]) -> State {
    State {
        position: point(row, &shed.place),
        velocity: DVec3::new(value(row, shed.carrier_speed), 0.0, 0.0),
        attitude: pose::attitude(&shed.pose, row, 0.0, 0.0),
        rates: pose::rates(&shed.pose, row),
    }
}
