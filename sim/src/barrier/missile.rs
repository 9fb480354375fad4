//! What strikes, in the terms of the perforation formulas.

use super::Footprint;
use crate::{body::Body, contact::Touch};

/// A missile as perforation formulas know it: rigid, square on, end first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Missile {
    /// Mass that the blow brings to bear, in kg, > 0.
    pub mass: f64,
    /// Diameter of the contact, in m, > 0; of an irregular contact, of the
    /// circle of the same area.
    pub diameter: f64,
    /// Length along the flight, in m, > 0.
    pub length: f64,
    /// Closing speed, in m/s; it only decides whether a formula's range is
    /// left.
    pub speed: f64,
}

impl Missile {
    /// The missile that `body` is in this touch: the mass that the contact
    /// brings to bear, the circle of its footprint at `depth` (m; the
    /// barrier's thickness or 10 mm), and the closing speed.
    #[must_use]
    pub fn of(body: &Body, touch: &Touch, depth: f64) -> Self {
        let footprint = Footprint::of(body, touch.state.attitude, touch.normal, depth);
        Self {
            mass: touch.effective_mass,
            diameter: footprint.diameter(),
            length: footprint.length,
            speed: touch.closing_speed,
        }
    }
}
