//! Thresholds on kinetic energy, as published.
//!
//! They ignore contact area and deformation: a crushable or broad object is
//! overstated, a pointed or small one understated. Show the area class
//! ([`super::skin`]) beside them.

use crate::{
    math::exp,
    scenario::library::criteria::{CRITERIA, Criterion, Quantity},
};

/// Every threshold on energy that is published in public safety rules, in
/// rising order; [`Criterion::value`] is in J.
pub fn thresholds() -> impl Iterator<Item = &'static Criterion> {
    CRITERIA.iter().filter(|criterion| criterion.quantity == Quantity::Energy)
}

/// Area that a standing person shows to debris, in m² (6.24 ft²).
///
/// Source: DDESB TP-12 (read second-hand).
pub const PERSON_AREA: f64 = 0.58;

/// Hazardous fragments per area at which a distance counts as safe in
/// explosives safety, in 1/m²: one on 600 ft².
///
/// Source: DoD 6055.09 (from memory).
pub const FRAGMENT_DENSITY: f64 = 1.0 / 55.741_824;

/// Chance that a person of `area` (m²) is struck where `density` pieces fall on
/// a square metre.
#[must_use]
pub fn strike_chance(density: f64, area: f64) -> f64 {
    1.0 - exp(-density * area)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: f64, b: f64, tolerance: f64) {
        assert!((a - b).abs() <= tolerance, "{a} is not {b}");
    }

    /// Source: conversion of units, by hand.
    #[test]
    fn thresholds_in_foot_pounds_are_what_they_were_published_as() {
        let energies: Vec<f64> = thresholds().map(|threshold| threshold.value).collect();
        for (energy, known) in energies.iter().zip([14.914, 15.0, 33.895, 79.0]) {
            near(*energy, known, 5e-4);
        }
        near(energies[3] / 1.355_817_948_331_4, 58.267, 5e-4);
    }

    #[test]
    fn they_are_listed_in_order_of_energy() {
        let energies: Vec<f64> = thresholds().map(|threshold| threshold.value).collect();
        assert!(energies.len() == 4 && energies.windows(2).all(|pair| pair[0] < pair[1]));
    }

    /// Source: DDESB TP-12 (read second-hand), by hand.
    #[test]
    fn one_fragment_on_600_square_feet_strikes_one_person_in_a_hundred() {
        near(strike_chance(FRAGMENT_DENSITY, PERSON_AREA), 0.010346, 1e-5);
    }
}
