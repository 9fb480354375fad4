//! Where a scene wants to look at a flight.

use glam::DVec3;

/// When a scene wants to look at a step. The ground (the body's bounding
/// sphere reaching z = 0) always counts.
#[derive(Clone, Copy, Debug)]
pub struct Watch {
    /// The target's surroundings.
    pub zone: Option<Zone>,
    /// The plane of the aimed face.
    pub plane: Option<Plane>,
    /// Look at every step (recording, auditing).
    pub every_step: bool,
}

/// An axis-aligned box that moves at constant velocity; a step in which the
/// body's bounding sphere may enter it is looked at.
#[derive(Clone, Copy, Debug)]
pub struct Zone {
    /// Centre at time 0, in m.
    pub centre: DVec3,
    /// Velocity, in m/s.
    pub velocity: DVec3,
    /// Half extents, in m.
    pub half: DVec3,
}

/// A plane `normal · p = offset + rate · t`; a step in which the centre of
/// mass changes sides is looked at.
#[derive(Clone, Copy, Debug)]
pub struct Plane {
    /// Unit normal.
    pub normal: DVec3,
    /// Offset at time 0, in m.
    pub offset: f64,
    /// Change of the offset, in m/s.
    pub rate: f64,
}

impl Plane {
    /// Signed distance of `point` from the plane at `time`, in m; positive on
    /// the side of the normal.
    #[must_use]
    pub fn distance(&self, point: DVec3, time: f64) -> f64 {
        self.normal.dot(point) - self.offset - self.rate * time
    }
}
