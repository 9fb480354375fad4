//! What strikes, in the terms of the perforation formulas.

use super::{Bearing, Footprint};
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
    /// brings to bear, a circle of `diameter` (m) to bear it, and the closing
    /// speed.
    #[must_use]
    pub fn of(body: &Body, touch: &Touch, diameter: f64) -> Self {
        Self {
            mass: touch.effective_mass,
            diameter,
            length: Footprint::length(body, touch.state.attitude, touch.normal),
            speed: touch.closing_speed,
        }
    }

    /// The missile of a blow whose barrier gives by `depth` (m): what has come in
    /// so far bears, and all of a flat side that is square on as closely as tests
    /// are. And whether it came on as the flat end of a bar does.
    pub(super) fn as_deep_as(body: &Body, touch: &Touch, depth: f64) -> (Self, bool) {
        let mut bearing = Bearing::of(body, touch, depth);
        if bearing.is_within(super::SQUARE_ON) {
            bearing = bearing.with_all_of_its_side();
        }
        let squarely = bearing.flat.is_none() || bearing.is_within(super::SQUARE_ON);
        (Self::of(body, touch, bearing.least), squarely)
    }
}
