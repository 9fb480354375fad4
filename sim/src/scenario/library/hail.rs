//! Covers of collectors and modules, by the ice balls they passed.
//!
//! Ice at its test speed is severe: natural hail of the same size falls slower.

use super::{Contact, Demand::NormalEnergy, Entry, Kind, Strength::AtLeast, shot};

/// Density of test ice, in kg/m³ (common practice, no source).
const ICE: f64 = 917.0;

/// Mass of an ice ball of this diameter (m), in kg.
pub(super) const fn ball(diameter: f64) -> f64 {
    ICE * std::f64::consts::PI * diameter * diameter * diameter / 6.0
}

const fn class(
    name: &'static str,
    words: &'static str,
    [diameter, mass, speed]: [f64; 3],
    mark: Kind,
) -> Entry {
    Entry {
        name,
        words,
        demand: NormalEnergy,
        strength: AtLeast(shot(mass, speed)),
        missile: "an ice ball of the class's size at its test speed",
        mass: Some(mass),
        made_of: "ice",
        contact: Some(Contact::Ball(diameter)),
        source: "IEC 61215 ice-ball test: 25, 35, 45, 55 mm at 23.0, 27.2, 30.7, 33.9 m/s",
        mark,
    }
}

pub(super) const ENTRIES: &[Entry] = &[
    class(
        "hail_25",
        "a panel's cover that passed 25 mm ice",
        [0.025, 7.53e-3, 23.0],
        Kind::SecondHand,
    ),
    class(
        "hail_35",
        "a panel's cover that passed 35 mm ice",
        [0.035, ball(0.035), 27.2],
        Kind::Memory,
    ),
    class(
        "hail_45",
        "a panel's cover that passed 45 mm ice",
        [0.045, ball(0.045), 30.7],
        Kind::SecondHand,
    ),
    class(
        "hail_55",
        "a panel's cover that passed 55 mm ice",
        [0.055, ball(0.055), 33.9],
        Kind::Memory,
    ),
];
