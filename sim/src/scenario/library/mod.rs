//! Barriers and surfaces known by name.
//!
//! Two kinds of entry, never mixed up. A *planning prior* is a round figure
//! built on the pass and fail points that standards and reports publish, for
//! the missile it names; its median is an unknown of the scenario, so that its
//! doubt stands in every answer. A *guarantee* is what a product passed in a
//! standard's own impact test: it is at least that strong, how much stronger
//! nobody said, so a chance of going through it is an upper bound. Both are to
//! be replaced by a test of the real thing.
//!
//! Energies of guarantees are computed from the test's mass and its height or
//! speed, not copied: printed tables round them, and some do not add up.

pub mod criteria;
pub mod friction;
mod glazing;
mod hail;
mod priors;
mod roofing;
pub mod stuff;
mod surfaces;
mod windborne;

pub(crate) use self::surfaces::NOTE as SURFACES_NOTE;
pub use self::surfaces::{Range, Surface, UNTOLD, surface, surfaces};

use super::Demand;
use crate::note::Kind;

/// What a figure of the library is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Strength {
    /// A planning prior: half of the tries go through at `median`.
    Prior {
        /// In J or m/s.
        median: f64,
        /// Nine times out of ten the true median lies within this factor of
        /// `median`, either way.
        factor: f64,
        /// Shot-to-shot spread: standard deviation of the log of the
        /// resistance.
        beta: f64,
    },
    /// A guarantee: it withstood this in its test. A lower bound, no median.
    AtLeast(
        /// In J or m/s.
        f64,
    ),
}

/// The contact that a figure holds for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Contact {
    /// A ball of this diameter, in m.
    Ball(f64),
    /// A flat end with the area of a circle of this diameter, in m.
    Flat(f64),
}

impl Contact {
    /// Diameter of the contact once the barrier has given by `depth` (m).
    #[must_use]
    pub fn diameter(self, depth: f64) -> f64 {
        match self {
            Self::Flat(diameter) => diameter,
            Self::Ball(diameter) => {
                let depth = depth.min(diameter / 2.0);
                2.0 * (depth * (diameter - depth)).sqrt()
            }
        }
    }
}

/// End of a 2x4 plank, 38 by 89 mm, as a circle of the same area.
const PLANK: Option<Contact> = Some(Contact::Flat(0.0657));

/// A barrier known by name.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Entry {
    /// Name in a scenario.
    pub name: &'static str,
    /// What it is, in words.
    pub words: &'static str,
    /// What its strength is measured in.
    pub demand: Demand,
    /// How strong it is.
    pub strength: Strength,
    /// The missile that the figure holds for.
    pub missile: &'static str,
    /// Its mass, in kg, if the figure is for one mass.
    pub mass: Option<f64>,
    /// What it is made of: the name of a [`stuff::Stuff`].
    pub made_of: &'static str,
    /// Its contact; `None` where it is soft and spreads.
    pub contact: Option<Contact>,
    /// What the figure rests on.
    pub source: &'static str,
    /// How well that is known here.
    pub mark: Kind,
}

impl Entry {
    /// Whether the figure is a lower bound.
    #[must_use]
    pub(crate) fn is_lower_bound(&self) -> bool {
        matches!(self.strength, Strength::AtLeast(_))
    }

    /// The figure, what it holds for and what it rests on, as one sentence.
    #[must_use]
    pub fn standing(&self) -> String {
        let kind = match self.strength {
            Strength::Prior { .. } => "planning prior for",
            Strength::AtLeast(_) => {
                "lower bound (it passed its test; the chance of going through is at most what is \
                 shown) for"
            }
        };
        let Self { missile, source, mark, .. } = self;
        format!("{kind} {missile}, replace by a test; {source} ({})", mark.words())
    }
}

/// Every barrier known by name: priors first.
pub fn library() -> impl Iterator<Item = &'static Entry> {
    let passed = glazing::ENTRIES.iter().chain(windborne::ENTRIES).chain(roofing::ENTRIES);
    priors::ENTRIES.iter().chain(passed).chain(hail::ENTRIES)
}

/// The barrier of this name.
#[must_use]
pub fn entry(name: &str) -> Option<&'static Entry> {
    library().find(|entry| entry.name == name)
}

/// Energy of a `mass` (kg) after a fall of `height` (m), in J.
const fn fall(mass: f64, height: f64) -> f64 {
    mass * 9.806_65 * height
}

/// Energy of a `mass` (kg) at `speed` (m/s), in J.
const fn shot(mass: f64, speed: f64) -> f64 {
    0.5 * mass * speed * speed
}

const POUND: f64 = 0.453_592_37;
const FOOT: f64 = 0.3048;
const INCH: f64 = 0.0254;

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    fn at_least(name: &str) -> f64 {
        match entry(name).map(|entry| entry.strength) {
            Some(Strength::AtLeast(energy)) => energy,
            other => panic!("{name} is {other:?}"),
        }
    }

    /// Source: masses and heights or speeds of the standards' impact tests, as
    /// each entry marks them; energies by hand.
    #[test]
    fn guarantees_are_the_energies_of_their_tests() {
        for (name, energy) in [
            ("r43_windscreen", 88.652),
            ("z26_windscreen", 81.117),
            ("r43_windscreen_ball", 20.04),
            ("r43_windscreen_head", 147.10),
            ("z26_windscreen_ball", 20.347),
            ("z26_glass_bag", 119.40),
            ("r43_side_glass_thin", 4.452),
            ("r43_side_glass", 5.565),
            ("z26_side_glass", 6.790),
            ("en356_p1a", 60.46),
            ("en356_p2a", 120.92),
            ("en356_p3a", 241.83),
            ("en356_p4a", 362.75),
            ("en12600_3", 93.163),
            ("en12600_2", 220.65),
            ("en12600_1", 588.40),
            ("cpsc_1", 203.4),
            ("cpsc_2", 542.3),
            ("e1996_a", 1.5701),
            ("e1996_b", 105.35),
            ("e1996_c", 134.85),
            ("e1996_d", 474.08),
            ("e1996_e", 1213.6),
            ("storm_shelter", 6798.6),
            ("en166_f", 0.871),
            ("en166_b", 6.192),
            ("en166_a", 15.52),
            ("ul2218_1", 4.719),
            ("ul2218_4", 32.213),
            // Source: 7.53 g at 23 m/s (read second-hand); 917 kg/m³ at 30.7 m/s.
            ("hail_25", 1.992),
            ("hail_45", 20.62),
        ] {
            let got = at_least(name);
            assert!((got / energy - 1.0).abs() < 5e-4, "{name}: {got} is not {energy}");
        }
    }

    /// Source: published energies of the ice-ball classes (read second-hand) are
    /// those of the steel-ball classes to 2 %.
    #[test]
    fn ice_and_steel_classes_of_roofing_ask_for_the_same() {
        for class in 1..=4 {
            let [steel, ice] =
                ["ul2218", "fm4473"].map(|rule| at_least(&format!("{rule}_{class}")));
            assert!((steel / ice - 1.0).abs() < 0.025, "class {class}: {steel} and {ice}");
        }
    }

    /// Source: π/4 d² of a circle against 38 mm by 89 mm, by hand; chord of a
    /// ball of 82 mm cut 10 mm deep: 2 √(10 · 72).
    #[test]
    fn contacts_are_those_of_the_test_missiles() {
        let plank = entry("osb_wall").and_then(|entry| entry.contact).expect("a plank");
        let area = std::f64::consts::FRAC_PI_4 * plank.diameter(0.01) * plank.diameter(0.01);
        assert!((area / (0.0381 * 0.0889) - 1.0).abs() < 2e-3);
        let ball = entry("r43_windscreen").and_then(|entry| entry.contact).expect("a ball");
        assert!((ball.diameter(0.01) - 0.053_666).abs() < 1e-6);
        let soft = entry("en12600_1").expect("it is listed");
        assert!(soft.contact.is_none(), "tyres spread");
    }

    #[test]
    fn names_are_unique_and_can_be_written_in_a_scenario() {
        let names: BTreeSet<&str> = library().map(|entry| entry.name).collect();
        assert_eq!(names.len(), library().count());
        let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_';
        assert!(names.iter().all(|name| name.chars().all(plain)));
    }

    #[test]
    fn every_missile_is_of_a_known_stuff() {
        for entry in library() {
            assert!(stuff::stuff(entry.made_of).is_some(), "{}: {}", entry.name, entry.made_of);
            assert!(entry.mass.is_none_or(|mass| mass > 0.0));
        }
    }

    #[test]
    fn a_guarantee_says_that_it_is_a_lower_bound() {
        let laminated = entry("en356_p4a").expect("it is listed");
        assert!(laminated.is_lower_bound());
        assert!(laminated.standing().contains("at most"));
        let prior = entry("osb_wall").expect("it is listed");
        assert!(!prior.is_lower_bound() && prior.standing().contains("planning prior"));
    }

    #[test]
    fn priors_lie_above_what_products_of_their_kind_pass() {
        for (prior, guarantee) in
            [("laminated_windscreen", "r43_windscreen"), ("toughened_glass", "r43_side_glass")]
        {
            let Some(Strength::Prior { median, .. }) = entry(prior).map(|entry| entry.strength)
            else {
                panic!("{prior} is a prior");
            };
            assert!(median > at_least(guarantee));
        }
    }
}
