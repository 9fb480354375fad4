//! Thresholds on kinetic energy, as published.
//!
//! They ignore contact area and deformation: a crushable or broad object is
//! overstated, a pointed or small one understated. Show the area class
//! ([`super::skin`]) beside them.

use crate::math::exp;
pub use crate::scenario::library::Mark;

/// A published threshold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Threshold {
    /// Name in a scenario.
    pub name: &'static str,
    /// Kinetic energy, in J.
    pub energy: f64,
    /// What it stands for, in its own field's words.
    pub meaning: &'static str,
    /// Whom or what it was made for.
    pub population: &'static str,
    /// Where it is from.
    pub source: &'static str,
    /// How well it is known here.
    pub mark: Mark,
}

const FOOT_POUND: f64 = 1.355_817_948_331_4;

/// Every threshold that is published in public safety rules, in order of
/// energy.
pub const THRESHOLDS: &[Threshold] = &[
    Threshold {
        name: "launch_debris",
        energy: 11.0 * FOOT_POUND,
        meaning: "inert debris that may cause a casualty (11 ft-lbf)",
        population: "people in the open near a launch",
        source: "Range Commanders Council 321, value quoted from an FAA workshop of 2003",
        mark: Mark::SecondHand,
    },
    Threshold {
        name: "reentry_debris",
        energy: 15.0,
        meaning: "debris that counts towards the casualty area of a re-entry",
        population: "people in the open, as a disc of 0.3 m radius",
        source: "NASA-STD-8719.14, 4.7",
        mark: Mark::FromMemory,
    },
    Threshold {
        name: "drone_over_people",
        energy: 25.0 * FOOT_POUND,
        meaning: "small unmanned aircraft over people, category 3: injury less than that of a \
                  rigid object of 25 ft-lbf",
        population: "people in the open",
        source: "14 CFR 107.130(a)(1)",
        mark: Mark::Read,
    },
    Threshold {
        name: "hazardous_fragment",
        energy: 79.0,
        meaning: "hazardous fragment of explosives safety (58 ft-lbf): a hit counts as a \
                  casualty, not necessarily a death",
        population: "a standing adult",
        source: "DoD 6055.09; 58 ft-lbf also in a US ordnance table of 1944 (read second-hand)",
        mark: Mark::FromMemory,
    },
];

/// The threshold of this name.
#[must_use]
pub fn threshold(name: &str) -> Option<&'static Threshold> {
    THRESHOLDS.iter().find(|threshold| threshold.name == name)
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
        let energy = |name| threshold(name).expect("it is listed").energy;
        near(energy("launch_debris"), 14.914, 5e-4);
        near(energy("drone_over_people"), 33.895, 5e-4);
        near(energy("hazardous_fragment") / FOOT_POUND, 58.267, 5e-4);
        assert!(threshold("safe").is_none());
    }

    #[test]
    fn they_are_listed_in_order_of_energy() {
        assert!(THRESHOLDS.windows(2).all(|pair| pair[0].energy < pair[1].energy));
    }

    /// Source: DDESB TP-12 (read second-hand), by hand.
    #[test]
    fn one_fragment_on_600_square_feet_strikes_one_person_in_a_hundred() {
        near(strike_chance(FRAGMENT_DENSITY, PERSON_AREA), 0.010346, 1e-5);
    }
}
