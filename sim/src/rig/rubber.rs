//! Stress and stored energy of rubber in simple tension.
//!
//! Nominal stress (on the unstretched area) against the stretch
//! `lambda = length / relaxed length`, of an incompressible solid:
//!
//! ```text
//! J1 = lambda^2 + 2/lambda - 3        I2 = 2 lambda + 1/lambda^2
//! P = G (lambda - lambda^-2) [ (1-r) Jm/(Jm - J1) + 3 r/(lambda I2) ]
//! W = G [ -(1-r) Jm/2 ln(1 - J1/Jm) + 3/2 r ln(I2/3) ]
//! ```
//!
//! The first term stiffens towards the end of the chains (Gent 1996), the
//! second softens the middle (the I2 term of Pucci and Saccomandi 2002): steep
//! start, plateau, stiffening. Form from memory; that `P = dW/d lambda` and
//! that it fits Treloar's measurements is tested. `r` and `Jm` are a
//! least-squares fit of relative errors to those (L. R. G. Treloar, Trans.
//! Faraday Soc. 40, 59 (1944), vulcanised natural rubber, 24 points, stretch
//! 1.02 to 7.6).
//!
//! Valid: slow first loading of unfilled natural rubber near room temperature.
//! Ignores: hysteresis and set (the rig's efficiency), rate, temperature, the
//! sheath of a bungee cord. Other compounds: measure the pull and give the
//! points.

use crate::math;
use crate::note::{Kind, Note, Subject};

/// Its section of the page of trust.
const SUBJECT: Subject = Subject { key: "rubber", claims: "How hard rubber pulls" };

/// What it says of itself.
pub(crate) const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "pull of rubber",
    how: "a strain energy that stiffens towards the end of the chains, fitted to natural rubber",
    source: "Treloar, Trans. Faraday Soc. 40 (1944) 59 (second-hand); Gent 1996, Pucci & Saccomandi 2002 (from memory)",
    kind: Kind::Memory,
    range: "slow first loading of unfilled natural rubber near room temperature, stretch to 7.6",
    leaves_out: "hysteresis and set, rate, temperature",
};

/// Share of the small-strain modulus in the softening term.
const SOFTENING: f64 = 0.435;
/// Value of `J1` at which the chains are at their end.
const CHAIN_END: f64 = 78.5;

/// Stretch beyond which a cord's own data are needed (validity of the sheet's
/// formulas; ordinary cords are also near their rated limit).
pub(crate) const LARGEST_STRETCH: f64 = 4.0;

/// Which law.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Law {
    /// Steep start, plateau, stiffening: see the module.
    Rubber,
    /// `P = G (lambda - lambda^-2)`: the two-line approximation.
    NeoHookean,
}

/// Nominal stress over the shear modulus at a stretch >= 1.
///
/// Infinite at and beyond the end of the chains (stretch 9.0).
#[must_use]
pub fn stress(law: Law, stretch: f64) -> f64 {
    if stretch <= 1.0 {
        return 0.0;
    }
    let base = stretch - 1.0 / (stretch * stretch);
    match law {
        Law::NeoHookean => base,
        Law::Rubber => {
            let left = CHAIN_END - first_invariant(stretch);
            if left <= 0.0 {
                return f64::INFINITY;
            }
            let soft = 3.0 * SOFTENING / (stretch * second_invariant(stretch));
            base * ((1.0 - SOFTENING) * CHAIN_END / left + soft)
        }
    }
}

/// Energy stored per unstretched volume over the shear modulus.
#[must_use]
pub fn energy_density(law: Law, stretch: f64) -> f64 {
    if stretch <= 1.0 {
        return 0.0;
    }
    let first = first_invariant(stretch);
    match law {
        Law::NeoHookean => 0.5 * first,
        Law::Rubber => {
            if first >= CHAIN_END {
                return f64::INFINITY;
            }
            let stiff = -0.5 * (1.0 - SOFTENING) * CHAIN_END * math::log1p(-first / CHAIN_END);
            stiff + 1.5 * SOFTENING * math::ln(second_invariant(stretch) / 3.0)
        }
    }
}

/// `I1 - 3`.
fn first_invariant(stretch: f64) -> f64 {
    stretch * stretch + 2.0 / stretch - 3.0
}

/// `I2`.
fn second_invariant(stretch: f64) -> f64 {
    2.0 * stretch + 1.0 / (stretch * stretch)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Treloar 1944, uniaxial: stretch, nominal stress in kgf/cm2 (times
    /// 0.0980665 is `MPa`).
    const TRELOAR: [(f64, f64); 24] = [
        (1.02, 0.26),
        (1.125, 1.37),
        (1.24, 2.30),
        (1.39, 3.23),
        (1.585, 4.16),
        (1.90, 5.10),
        (2.18, 6.00),
        (2.42, 6.90),
        (3.02, 8.80),
        (3.57, 10.7),
        (4.03, 12.5),
        (4.76, 16.2),
        (5.36, 19.9),
        (5.75, 23.6),
        (6.15, 27.4),
        (6.40, 31.0),
        (6.60, 34.8),
        (6.85, 38.5),
        (7.05, 42.1),
        (7.15, 45.8),
        (7.25, 49.6),
        (7.40, 53.3),
        (7.50, 57.0),
        (7.60, 64.4),
    ];

    /// Shear modulus with the least squared relative error.
    fn modulus(points: &[(f64, f64)]) -> f64 {
        let (mut up, mut down) = (0.0, 0.0);
        for &(stretch, kgf) in points {
            let ratio = stress(Law::Rubber, stretch) / (kgf * 0.098_066_5);
            up += ratio;
            down += ratio * ratio;
        }
        up / down
    }

    fn worst(points: &[(f64, f64)]) -> f64 {
        let g = modulus(points);
        let error = |&(stretch, kgf): &(f64, f64)| {
            (g * stress(Law::Rubber, stretch) / (kgf * 0.098_066_5) - 1.0).abs()
        };
        points.iter().map(error).fold(0.0, f64::max)
    }

    #[test]
    fn the_neo_hookean_values_are_the_closed_forms() {
        assert!((stress(Law::NeoHookean, 2.0) - 1.75).abs() < 1e-12);
        assert!((stress(Law::NeoHookean, 3.0) - 2.888_889).abs() < 1e-6);
        assert!((energy_density(Law::NeoHookean, 2.0) - 1.0).abs() < 1e-12);
        assert!((energy_density(Law::NeoHookean, 3.0) - 3.333_333).abs() < 1e-6);
    }

    #[test]
    fn stress_is_the_slope_of_the_stored_energy() {
        for law in [Law::Rubber, Law::NeoHookean] {
            for stretch in [1.05, 1.5, 2.5, 4.0, 6.0, 7.5] {
                let h = 1e-5;
                let slope = (energy_density(law, stretch + h) - energy_density(law, stretch - h))
                    / (2.0 * h);
                assert!((slope / stress(law, stretch) - 1.0).abs() < 1e-7);
            }
        }
    }

    #[test]
    fn treloars_rubber_is_met_within_three_percent_over_the_whole_range() {
        let best = worst(&TRELOAR);
        assert!(best < 0.03, "{best}");
    }

    /// Trapezoid over the measured points: 0.587901 and 2.09896 MJ/m3 to
    /// stretch 2.42 and 4.03.
    #[test]
    fn the_stored_energy_of_treloars_rubber_is_met_within_five_percent() {
        let g = modulus(&TRELOAR);
        for (stretch, measured) in [(2.42, 0.587_901), (4.03, 2.098_96)] {
            let ours = g * energy_density(Law::Rubber, stretch);
            assert!((ours / measured - 1.0).abs() < 0.05, "{stretch}: {ours} {measured}");
        }
    }
}
