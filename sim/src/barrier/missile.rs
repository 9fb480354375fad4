//! What strikes, in the terms of the perforation formulas.

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
