//! Where the object is and how it moves.

use glam::{DQuat, DVec3};

/// Position, velocity, attitude and rates of a rigid body at one instant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct State {
    /// Centre of mass in the world frame, in m.
    pub position: DVec3,
    /// Velocity over the ground in the world frame, in m/s.
    pub velocity: DVec3,
    /// Rotation from the body frame to the world frame; unit length.
    pub attitude: DQuat,
    /// Angular velocity in the body frame, in rad/s.
    pub rates: DVec3,
}

impl State {
    /// Velocity of the body's material point at `offset` from the centre of
    /// mass (world frame, m), in m/s.
    #[must_use]
    pub fn velocity_at(&self, offset: DVec3) -> DVec3 {
        self.velocity + (self.attitude * self.rates).cross(offset)
    }
}
