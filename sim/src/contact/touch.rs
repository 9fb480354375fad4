//! The record of a first touch.

use crate::flight::State;
use glam::DVec3;

/// What was touched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Surface {
    /// The ground, z = 0.
    Ground,
    /// A face of the target, by its place in the list.
    Face(usize),
    /// A solid of the target, by its place in the list.
    Solid(usize),
}

/// A first touch of the real shape, located inside the step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Touch {
    /// What was touched.
    pub surface: Surface,
    /// When, in s after release.
    pub time: f64,
    /// State of the body at that instant.
    pub state: State,
    /// Contact point in the world frame, in m.
    pub point: DVec3,
    /// Contact point on the face: to the right as the face is looked at from
    /// outside, and up the slope, from its centre, in m. Zero off a face.
    pub on_face: [f64; 2],
    /// Unit outward normal of what was touched, world frame; of a face, on the
    /// side from which it was touched.
    pub normal: DVec3,
    /// Unit direction in which the contact pushes the body off. Differs from
    /// `normal` where the rim of a face was touched.
    pub push: DVec3,
    /// Velocity of the centre of mass relative to the surface, world frame, in m/s.
    pub relative_velocity: DVec3,
    /// Closing speed of the contact point along the normal, in m/s, >= 0 (0
    /// for a body that only slides past the rim of a face).
    pub closing_speed: f64,
    /// Angle between the path of the centre of mass and the normal
    /// (obliquity: 0 is square on), in rad, 0..=π/2.
    pub obliquity: f64,
    /// Angle of each body axis (either end) from the normal, in rad, 0..=π/2.
    pub axis_angles: [f64; 3],
    /// Effective mass at the contact point along the normal, in kg.
    pub effective_mass: f64,
    /// Kinetic energy, translation and rotation, in the surface's frame, in J.
    pub total_energy: f64,
    /// Energy offered along the normal, `½ m_eff v_n²`, in J.
    pub normal_energy: f64,
}
