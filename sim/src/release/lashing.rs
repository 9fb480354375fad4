//! What rules ask of lashings, to tell whether a secured load has to fail.
//!
//! Planning values from rules that change: read the law in force before quoting
//! it. Light vehicles brake harder than the 0.8 g that these rules assume.

use crate::{
    flight::GRAVITY as G,
    math::sin,
    note::{Kind, Note},
};

/// What it says of itself.
pub(crate) const NOTE: Note = Note {
    subject: &super::ride::SUBJECT,
    what: "what rules ask of the tie-downs",
    how: "breaking strength by the load's weight",
    source: "49 CFR 393.102 (read, in a text without a date)",
    kind: Kind::Read,
    range: "read the law in force",
    leaves_out: "that light vehicles brake harder than the 0.8 gn it assumes",
};

/// Force that a rule asks a tie-down to bear, in multiples of the weight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Demand {
    /// Direction, in words.
    pub direction: &'static str,
    /// Acceleration against which breaking strength is set, in g.
    pub breaking: f64,
    /// Acceleration against which the working load limit is set, in g.
    pub working: f64,
}

/// 49 CFR 393.102: breaking strength and working load limit are two separate
/// sets; never hold a working load limit against 0.8 g.
///
/// Source: read, in a text without a date.
pub(crate) const UNITED_STATES: [Demand; 3] = [
    Demand { direction: "forward", breaking: 0.8, working: 0.435 },
    Demand { direction: "rearward", breaking: 0.5, working: 0.5 },
    Demand { direction: "sideways", breaking: 0.5, working: 0.25 },
];

/// A demand as a force on `mass` (kg), in N.
#[must_use]
pub fn force(mass: f64, accelerations: f64) -> f64 {
    mass * accelerations * G
}

/// Over-top lashings of one load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OverTop {
    /// Mass of the load, in kg.
    pub mass: f64,
    /// Acceleration to hold, in g: 0.8 forwards, 0.5 otherwise.
    pub acceleration: f64,
    /// Friction of load on bed.
    pub friction: f64,
    /// Number of lashings.
    pub count: u32,
    /// Angle between lashing and bed, in rad.
    pub angle: f64,
    /// Safety factor: 1.25 forwards, 1.1 otherwise (from memory).
    pub safety: f64,
}

impl OverTop {
    /// Pre-tension that each lashing needs, in N; 0 if friction alone holds.
    ///
    /// Source: EN 12195-1:2010 (read second-hand, the standard's g is
    /// 9.81 m/s²).
    #[must_use]
    pub fn tension(&self) -> f64 {
        let missing = (self.acceleration - self.friction).max(0.0);
        missing * self.mass * 9.81 * self.safety
            / (2.0 * f64::from(self.count) * self.friction * sin(self.angle))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::FRAC_PI_2;

    fn near(a: f64, b: f64, tolerance: f64) {
        assert!((a - b).abs() <= tolerance, "{a} is not {b}");
    }

    /// Source: 49 CFR 393.102 (read, undated), by hand for 1000 kg.
    #[test]
    fn a_tonne_asks_for_its_share_of_weight() {
        near(force(1000.0, UNITED_STATES[0].breaking), 7845.32, 5e-3);
        near(force(1000.0, UNITED_STATES[0].working), 4265.89, 5e-3);
        near(force(1000.0, UNITED_STATES[2].working), 2451.66, 5e-3);
    }

    /// Source: EN 12195-1:2010 (read second-hand), by hand.
    #[test]
    fn a_lashing_over_the_top_presses_the_load_down() {
        let upright = OverTop {
            mass: 1000.0,
            acceleration: 0.8,
            friction: 0.45,
            count: 1,
            angle: FRAC_PI_2,
            safety: 1.25,
        };
        near(upright.tension(), 4768.75, 5e-3);
        let slanting = OverTop {
            acceleration: 0.5,
            friction: 0.4,
            count: 2,
            angle: 75_f64.to_radians(),
            safety: 1.1,
            ..upright
        };
        near(slanting.tension(), 698.229, 5e-4);
    }
}
