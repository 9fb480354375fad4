//! Roofing, by hail class: undamaged, twice on the same spot.

use super::{
    Contact, Demand::NormalEnergy, Entry, FOOT, INCH, Kind, POUND, Strength::AtLeast, fall,
};

const FOOT_POUND: f64 = 1.355_817_948_331_4;

const fn steel(name: &'static str, words: &'static str, [pounds, feet, inches]: [f64; 3]) -> Entry {
    Entry {
        name,
        words,
        demand: NormalEnergy,
        strength: AtLeast(fall(pounds * POUND, feet * FOOT)),
        missile: "a steel ball of the class's size",
        mass: Some(pounds * POUND),
        made_of: "hard",
        contact: Some(Contact::Ball(inches * INCH)),
        source: "UL 2218: 1.25, 1.5, 1.75, 2 in from 12, 15, 17, 20 ft",
        mark: Kind::SecondHand,
    }
}

const fn ice(name: &'static str, words: &'static str, [foot_pounds, inches]: [f64; 2]) -> Entry {
    Entry {
        name,
        words,
        demand: NormalEnergy,
        strength: AtLeast(foot_pounds * FOOT_POUND),
        missile: "an ice ball of the class's size",
        mass: Some(super::hail::ball(inches * INCH)),
        made_of: "ice",
        contact: Some(Contact::Ball(inches * INCH)),
        source: "FM 4473: 1.25, 1.5, 1.75, 2 in at 25 to 32 m/s; its edition of 2022 asks 6 to 13 % more",
        mark: Kind::SecondHand,
    }
}

pub(super) const ENTRIES: &[Entry] = &[
    steel("ul2218_1", "roofing of class 1 (steel ball of 1.25 in)", [0.290, 12.0, 1.25]),
    steel("ul2218_2", "roofing of class 2 (steel ball of 1.5 in)", [0.501, 15.0, 1.5]),
    steel("ul2218_3", "roofing of class 3 (steel ball of 1.75 in)", [0.796, 17.0, 1.75]),
    steel("ul2218_4", "roofing of class 4 (steel ball of 2 in)", [1.188, 20.0, 2.0]),
    ice("fm4473_1", "roofing of class 1 (ice ball of 1.25 in)", [3.53, 1.25]),
    ice("fm4473_2", "roofing of class 2 (ice ball of 1.5 in)", [7.35, 1.5]),
    ice("fm4473_3", "roofing of class 3 (ice ball of 1.75 in)", [13.56, 1.75]),
    ice("fm4473_4", "roofing of class 4 (ice ball of 2 in)", [23.71, 2.0]),
];
