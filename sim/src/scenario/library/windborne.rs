//! Shutters, windows and walls, by the windborne missiles they stopped.

use super::{
    Contact, Demand::NormalEnergy, Entry, FOOT, Kind, PLANK, POUND, Strength::AtLeast, shot,
};

const MPH: f64 = 0.447_04;

/// A guarantee in energy along the normal, of a plank that flies end on.
const fn stopped(
    name: &'static str,
    words: &'static str,
    [mass, speed]: [f64; 2],
    missile: &'static str,
    source: &'static str,
    mark: Kind,
) -> Entry {
    let (demand, strength) = (NormalEnergy, AtLeast(shot(mass, speed)));
    // Level A alone has a ball, of 2 g: 8 mm of steel.
    let ball = mass < 0.1;
    let contact = if ball { Some(Contact::Ball(0.0079)) } else { PLANK };
    let made_of = if ball { "hard" } else { "wood" };
    let mass = Some(mass);
    Entry { name, words, demand, strength, missile, mass, made_of, contact, source, mark }
}

pub(super) const ENTRIES: &[Entry] = &[
    stopped(
        "e1996_a",
        "an opening protected to missile level A",
        [0.002, 130.0 * FOOT],
        "a steel ball of 2 g, ten times",
        "ASTM E1996 A, 130 ft/s",
        Kind::SecondHand,
    ),
    stopped(
        "e1996_b",
        "an opening protected to missile level B",
        [2.0 * POUND, 50.0 * FOOT],
        "a 2 lb 2x4 plank end on",
        "ASTM E1996 B, 50 ft/s",
        Kind::SecondHand,
    ),
    stopped(
        "e1996_c",
        "an opening protected to missile level C",
        [4.0 * POUND, 40.0 * FOOT],
        "a 2x4 plank of 4 to 4.5 lb end on",
        "ASTM E1996 C, 40 ft/s; sources differ between 4 and 4.5 lb, the lighter is taken",
        Kind::SecondHand,
    ),
    stopped(
        "e1996_d",
        "an opening protected to missile level D (the large missile)",
        [9.0 * POUND, 50.0 * FOOT],
        "a 9 lb 2x4 plank end on",
        "ASTM E1996 D, 50 ft/s",
        Kind::SecondHand,
    ),
    stopped(
        "e1996_e",
        "an opening protected to missile level E",
        [9.0 * POUND, 80.0 * FOOT],
        "a 9 lb 2x4 plank end on",
        "ASTM E1996 E, 80 ft/s",
        Kind::SecondHand,
    ),
    stopped(
        "storm_shelter",
        "a wall of a tornado shelter",
        [15.0 * POUND, 100.0 * MPH],
        "a 15 lb 2x4 plank end on",
        "FEMA 361 / ICC 500, 100 mph",
        Kind::SecondHand,
    ),
    stopped(
        "grouted_block_wall",
        "a reinforced wall of grouted 8 or 12 in block",
        [15.0 * POUND, 100.0 * MPH],
        "a 15 lb 2x4 plank end on, which breaks up",
        "impact resistance of common building materials to tornado missiles: stopped above \
         100 mph",
        Kind::Read,
    ),
];
