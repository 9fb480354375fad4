//! Arriving energy against the threshold that the scenario asks for.

use crate::scenario::Harm;

/// An arriving energy, read against a criterion.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Kinetic energy that arrives, in J.
    pub energy: f64,
    /// The criterion's threshold, in J.
    pub threshold: f64,
    /// Does it reach the criterion?
    pub reached: bool,
}

impl Reading {
    /// How much energy was missing, in J; 0 if the criterion was reached.
    #[must_use]
    pub fn margin(&self) -> f64 {
        (self.threshold - self.energy).max(0.0)
    }
}

/// Reads the `energy` that arrives (J, in the frame of the person or thing
/// behind the face) against `harm` as `row` has it.
#[must_use]
pub fn read(harm: &Harm, row: &[f64], energy: f64) -> Reading {
    let threshold = row[harm.threshold.0];
    Reading { energy, threshold, reached: energy >= threshold }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{harm::CAUTION, scenario::InputId};

    /// Source: explosives-safety hazardous fragment, 79 J (58 ft-lbf), DoD
    /// 6055.09 (from memory; the 58 ft-lbf read second-hand in a 1944 table).
    #[test]
    fn a_fragment_is_hazardous_from_79_joules_on() {
        let harm = Harm { threshold: InputId(0), source: String::new() };
        assert!(read(&harm, &[79.0], 79.0).reached);
        let below = read(&harm, &[79.0], 70.0);
        assert!(!below.reached);
        assert!((below.margin() - 9.0).abs() < 1e-12);
        // 58 ft-lbf in J.
        assert!((58.0 * 1.355_817_948_3 - 78.637_f64).abs() < 5e-4);
    }

    #[test]
    fn the_caution_names_who_is_hurt_below_the_number() {
        for word in ["eyes", "throat", "children", "sharp"] {
            assert!(CAUTION.contains(word));
        }
        assert!(!CAUTION.contains("  "), "a line break left a gap");
    }
}
