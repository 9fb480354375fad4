//! Let go from rest.

use super::{point, pose};
use crate::{flight::State, scenario::Dropped};
use glam::DVec3;

/// The state as it is let go.
pub(super) fn state(dropped: &Dropped, row: &[f64]) -> State {
    State {
        position: point(row, &dropped.place),
        velocity: DVec3::ZERO,
        attitude: pose::attitude(&dropped.pose, row, 0.0, 0.0),
        rates: pose::rates(&dropped.pose, row),
    }
}
