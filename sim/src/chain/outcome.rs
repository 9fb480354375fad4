//! The outcome of one draw.

use crate::{contact::Touch, scenario::Gate};
use glam::DVec3;

/// How far one draw got, why it stopped, and by what margin.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// The draw.
    pub draw: u64,
    /// The first gate of the chain it did not pass; `None`: the claim held.
    pub stopped_at: Option<Gate>,
    /// By how much it missed that gate, >= 0, in the gate's own measure
    /// ([`Gate`]): m for reaches and strikes, rad for attitude, J or m/s for
    /// perforates and harms, N for released. 0 when the claim held.
    pub margin: f64,
    /// First touch of the target (a face or a solid), if any.
    pub touch: Option<Touch>,
    /// Distance from the aimed face's outline where the centre of mass crossed
    /// its plane (0 inside the outline), in m; `None` if it never did.
    pub miss: Option<f64>,
    /// Where on the aimed face's plane it crossed: right and up from the
    /// face's centre as seen from outside, in m.
    pub crossing: Option<[f64; 2]>,
    /// Demand on the barrier that was struck (J or m/s).
    pub demand: Option<f64>,
    /// This draw's resistance of that barrier (J or m/s).
    pub resistance: Option<f64>,
    /// Speed after perforation, in m/s.
    pub residual_speed: Option<f64>,
    /// Kinetic energy of what arrives behind the barrier (or at the face where
    /// the chain has no barrier), in J.
    pub arriving_energy: Option<f64>,
    /// Where the flight ended, world frame, in m.
    pub end: DVec3,
    /// When it ended, in s.
    pub time: f64,
    /// Model validity ranges that this draw left.
    pub breaches: Breaches,
}

/// Which validity ranges a draw left: a set of small numbers, each naming a
/// sentence in `findings`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Breaches(pub u32);

impl Breaches {
    /// Adds one.
    pub fn add(&mut self, which: u32) {
        self.0 |= 1 << which;
    }

    /// Whether it holds one.
    #[must_use]
    pub fn has(self, which: u32) -> bool {
        self.0 & (1 << which) != 0
    }
}
