//! Moving a measured ballistic limit to a nearby thickness, diameter or mass.

use crate::math::pow;

/// What a ballistic limit was measured with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shot {
    /// Missile mass, in kg.
    pub mass: f64,
    /// Missile diameter, in m.
    pub diameter: f64,
    /// Barrier thickness, in m.
    pub thickness: f64,
}

/// Ballistic limit for `to`, in m/s, from one measured for `from`: the same
/// material, the same nose, and a change that is small enough to interpolate.
///
/// `V₂/V₁ = (d₂/d₁)^0.75 (T₂/T₁)^0.7 (m₁/m₂)^0.5`. Source: De Marre 1890 (from
/// memory; authors differ between 0.7 and 0.75).
#[must_use]
pub fn de_marre(limit: f64, from: &Shot, to: &Shot) -> f64 {
    limit
        * pow(to.diameter / from.diameter, 0.75)
        * pow(to.thickness / from.thickness, 0.7)
        * (from.mass / to.mass).sqrt()
}

/// Whether a change is small enough for [`de_marre`]: no quantity by more than
/// a factor of 2 (judgement).
#[must_use]
pub(crate) fn near_enough(from: &Shot, to: &Shot) -> bool {
    let close = |a: f64, b: f64| (0.5..=2.0).contains(&(a / b));
    close(from.mass, to.mass)
        && close(from.diameter, to.diameter)
        && close(from.thickness, to.thickness)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: De Marre 1890 (read second-hand), exponents applied by hand.
    #[test]
    fn a_thicker_plate_and_a_heavier_missile() {
        let from = Shot { mass: 1.0, diameter: 0.02, thickness: 0.002 };
        let thicker = Shot { thickness: 0.003, ..from };
        let heavier = Shot { mass: 2.0, ..from };
        assert!((de_marre(1.0, &from, &thicker) - 1.32820).abs() < 5e-6);
        assert!((de_marre(1.0, &from, &heavier) - std::f64::consts::FRAC_1_SQRT_2).abs() < 5e-7);
        assert!(near_enough(&from, &thicker));
        assert!(!near_enough(&from, &Shot { mass: 2.1, ..from }));
    }
}
