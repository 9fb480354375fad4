//! The blunt criterion: energy against the size of what is struck.
//!
//! For rigid blunt objects of about 2-12 cm at 20-100 m/s. Not for sharp or
//! pointed objects, not for anything that crushes.

use crate::math::{cbrt, exp, ln};

/// Body wall thickness over the cube root of the mass, men, in cm/kg^⅓ (from
/// memory).
pub const WALL_MALE: f64 = 0.711;

/// Thorax: even chance of AIS 2-3.
///
/// Source: Bir and Viano 2004 (from memory).
pub const THORAX_HALF: f64 = 0.37;

/// Who is struck.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Struck {
    /// Mass of the body (of the head for a blow to it), in kg.
    pub mass: f64,
    /// Thickness of the body wall (of scalp and skull), in m.
    pub wall: f64,
}

impl Struck {
    /// The chest of a person of `mass` (kg) with a wall of `factor` (cm/kg^⅓).
    #[must_use]
    pub fn chest(mass: f64, factor: f64) -> Self {
        Self { mass, wall: factor * cbrt(mass) / 100.0 }
    }
}

/// Blunt criterion `ln(E/(W^⅓ T D))`, E in J, W in kg, T and D in cm.
///
/// `energy` in J, `diameter` in m. Source: Clare et al. 1975; Sturdivan, Viano
/// and Champion 2004 (title read second-hand, form from memory).
#[must_use]
pub fn criterion(energy: f64, diameter: f64, struck: &Struck) -> f64 {
    ln(energy / scale(diameter, struck))
}

/// Energy at which the criterion reaches `value`, in J.
#[must_use]
pub fn energy_at(value: f64, diameter: f64, struck: &Struck) -> f64 {
    exp(value) * scale(diameter, struck)
}

/// Whether the object is of the kind that the criterion was made for.
///
/// `diameter` in m, `speed` in m/s.
#[must_use]
pub(crate) fn in_range(diameter: f64, speed: f64) -> bool {
    (0.02..=0.12).contains(&diameter) && (20.0..=100.0).contains(&speed)
}

fn scale(diameter: f64, struck: &Struck) -> f64 {
    cbrt(struck.mass) * (struck.wall * 100.0) * (diameter * 100.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: f64, b: f64, tolerance: f64) {
        assert!((a - b).abs() <= tolerance, "{a} is not {b}");
    }

    /// Source: the formula (from memory) by hand: 70 kg, wall 2.93023 cm.
    #[test]
    fn a_ball_to_the_chest() {
        let chest = Struck::chest(70.0, WALL_MALE);
        near(chest.wall * 100.0, 2.93023, 5e-6);
        near(criterion(65.25, 0.073, &chest), -0.300896, 5e-6);
        near(criterion(252.0, 0.037, &chest), 1.72985, 5e-6);
        near(energy_at(THORAX_HALF, 0.073, &chest), 127.628, 5e-4);
    }

    #[test]
    fn pointed_and_slow_things_are_out_of_range() {
        assert!(in_range(0.037, 60.0));
        assert!(!in_range(0.005, 60.0) && !in_range(0.073, 10.0));
    }
}
