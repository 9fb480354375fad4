//! Elastic cords: rubber bands, bungees, surgical tube.
//!
//! Work-energy with the cords' own inertia: a cord with one end fixed and the
//! other moving has a linear velocity profile, hence a third of its mass moves
//! with the load (derived; holds for a cord that stays straight and taut).
//!
//! Ignores: hysteresis and set (the rig's efficiency stands for them), the
//! angle of a cord that does not run along the path, waves in the cord (they
//! matter when the cords weigh more than what they push).

use super::rubber::{self, LARGEST_STRETCH, Law};
use crate::math;
use crate::note::{Kind, Note, Subject};
use std::f64::consts::PI;

/// Its section of the page of trust.
const SUBJECT: Subject = Subject { key: "cord", claims: "What a set of cords gives to an object" };

/// What it says of itself.
pub(crate) const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "speed from cords",
    how: "work and energy, a third of the cords' mass moving along",
    source: "work and energy (derived)",
    kind: Kind::Derived,
    range: "cords that stay straight and taut",
    leaves_out: "hysteresis, waves in the cord",
};

/// How hard one set of cords pulls.
#[derive(Clone, Debug, PartialEq)]
pub enum Elastic {
    /// From the rubber's small-strain shear modulus, in Pa, > 0.
    Material {
        /// Shear modulus, in Pa.
        shear_modulus: f64,
        /// Which stress law.
        law: Law,
    },
    /// As measured on the rig: pull (N, all cords together) at each extension
    /// from relaxed (m), rising, the first point at 0.
    Measured(Vec<(f64, f64)>),
}

/// A set of equal parallel cords.
#[derive(Clone, Debug, PartialEq)]
pub struct Cord {
    /// How many pull side by side, >= 1.
    pub count: u32,
    /// Relaxed length of each, in m, > 0.
    pub relaxed: f64,
    /// Rubber section of each, in m2, > 0.
    pub section: f64,
    /// Density of the rubber, in kg/m3.
    pub density: f64,
    /// How hard they pull.
    pub elastic: Elastic,
    /// Stretch (length over relaxed length) left where the push ends, >= 1.
    pub resting_stretch: f64,
    /// Largest stretch the maker allows, if told.
    pub largest_stretch: Option<f64>,
}

impl Cord {
    /// Section of a round cord of this diameter (m), in m2.
    #[must_use]
    pub fn round(diameter: f64) -> f64 {
        0.25 * PI * diameter * diameter
    }

    /// Mass of all cords, in kg.
    #[must_use]
    pub fn mass(&self) -> f64 {
        f64::from(self.count) * self.section * self.relaxed * self.density
    }

    /// Part of the cords' mass that moves with the load, in kg.
    #[must_use]
    pub(crate) fn moving_mass(&self) -> f64 {
        self.mass() / 3.0
    }

    /// Stretch with the load pulled back by `pull_back` m.
    #[must_use]
    pub fn stretch(&self, pull_back: f64) -> f64 {
        self.resting_stretch + pull_back / self.relaxed
    }

    /// Pull of all cords at a pull-back from the end of the push, in N.
    #[must_use]
    pub fn pull(&self, pull_back: f64) -> f64 {
        let stretch = self.stretch(pull_back);
        match &self.elastic {
            Elastic::Material { shear_modulus, law } => {
                f64::from(self.count) * self.section * shear_modulus * rubber::stress(*law, stretch)
            }
            Elastic::Measured(points) => measured(points, (stretch - 1.0) * self.relaxed).0,
        }
    }

    /// Energy that the push can give up from a pull-back, in J.
    #[must_use]
    pub fn energy(&self, pull_back: f64) -> f64 {
        self.stored(self.stretch(pull_back)) - self.stored(self.resting_stretch)
    }

    /// Everything the stretched cords hold, pre-stretch included, in J: what a
    /// cord that parts can let go.
    #[must_use]
    pub fn stored_energy(&self, pull_back: f64) -> f64 {
        self.stored(self.stretch(pull_back))
    }

    fn stored(&self, stretch: f64) -> f64 {
        match &self.elastic {
            Elastic::Material { shear_modulus, law } => {
                let volume = f64::from(self.count) * self.section * self.relaxed;
                volume * shear_modulus * rubber::energy_density(*law, stretch)
            }
            Elastic::Measured(points) => measured(points, (stretch - 1.0) * self.relaxed).1,
        }
    }

    /// Largest pull-back that a setting may have, in m: the end of the
    /// measured points, or where the formula loses its meaning.
    #[must_use]
    pub(crate) fn largest_pull_back(&self) -> f64 {
        let end = match &self.elastic {
            Elastic::Material { .. } => 7.5,
            // Up to half as far again as was measured, said openly.
            Elastic::Measured(points) => {
                1.0 + 1.5 * points.last().map_or(0.0, |p| p.0) / self.relaxed
            }
        };
        ((end - self.resting_stretch) * self.relaxed).max(0.0)
    }

    /// What is doubtful about a pull-back.
    #[must_use]
    pub fn doubts(&self, pull_back: f64) -> Vec<String> {
        let stretch = self.stretch(pull_back);
        let mut doubts = Vec::new();
        match &self.elastic {
            Elastic::Material { .. } if stretch > LARGEST_STRETCH => doubts.push(format!(
                "the cords are stretched to {stretch:.1} times their relaxed length; the rubber \
                 law is only good to {LARGEST_STRETCH:.0} times: measure their pull"
            )),
            Elastic::Measured(points)
                if (stretch - 1.0) * self.relaxed > points.last().map_or(0.0, |p| p.0) =>
            {
                doubts.push("pulled further than the pull was measured to".to_owned());
            }
            Elastic::Material { .. } | Elastic::Measured(_) => {}
        }
        if let Some(limit) = self.largest_stretch
            && stretch > limit
        {
            doubts.push(format!(
                "the cords are stretched to {stretch:.2} times their relaxed length, over their \
                 limit of {limit:.2}: they may part"
            ));
        }
        doubts
    }

    /// How fast the energy grows with the setting: `d ln E / d ln x` at a
    /// pull-back (2: a linear spring; 1: a constant pull).
    #[must_use]
    pub fn exponent(&self, pull_back: f64) -> f64 {
        pull_back * self.pull(pull_back) / self.energy(pull_back)
    }

    /// A number for how far a parted cord can throw its own end: its speed if
    /// all it holds went into its own mass, in m/s (an upper bound).
    #[must_use]
    pub(crate) fn snap_back_speed(&self, pull_back: f64) -> f64 {
        (2.0 * self.stored_energy(pull_back) / self.mass()).sqrt()
    }
}

/// Pull and stored energy at an extension on a measured curve: straight
/// between the points, and on along the last stretch of it.
fn measured(points: &[(f64, f64)], extension: f64) -> (f64, f64) {
    let mut energy = 0.0;
    let mut last = (0.0, 0.0);
    for (i, pair) in points.windows(2).enumerate() {
        let (a, b) = (pair[0], pair[1]);
        let slope = (b.1 - a.1) / (b.0 - a.0);
        let end = if i + 2 == points.len() { extension } else { extension.min(b.0) };
        if end <= a.0 {
            break;
        }
        let pull = a.1 + slope * (end - a.0);
        energy += 0.5 * (a.1 + pull) * (end - a.0);
        last = (pull, energy);
    }
    last
}

/// The pull of a linear spring that holds the same energy at one pull-back:
/// what the cords would be if they were springs.
#[must_use]
pub fn as_spring(cord: &Cord, pull_back: f64) -> f64 {
    2.0 * cord.energy(pull_back) / math::pow(pull_back, 2.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rig::{Load, run::Run};

    fn bands() -> Cord {
        Cord {
            count: 6,
            relaxed: 0.6,
            section: Cord::round(0.010),
            density: 930.0,
            elastic: Elastic::Material { shear_modulus: 0.4e6, law: Law::NeoHookean },
            resting_stretch: 1.0,
            largest_stretch: None,
        }
    }

    /// Six bands of 10 mm, relaxed 0.6 m, G `0.4 MPa`, object 2 kg, efficiency
    /// 0.85; recomputed from the closed form of the neo-Hookean energy.
    #[test]
    fn six_bands_give_the_closed_form_pull_energy_and_speed() {
        let cord = bands();
        assert!((cord.mass() - 0.262_951).abs() < 1e-6);
        let load = Load { object: 2.0, carriage: 0.0, resistance: 0.0, drag: 0.0 };
        let mass = 2.0 + cord.moving_mass();
        for (x, pull, energy, speed) in [
            (0.3, 198.97, 32.987, 5.1828),
            (0.6, 329.87, 113.097, 9.5967),
            (0.9, 441.08, 229.022, 13.6563),
            (1.2, 544.54, 376.991, 17.5211),
        ] {
            assert!((cord.pull(x) - pull).abs() < 5e-3);
            assert!((cord.energy(x) - energy).abs() < 5e-4);
            let run = Run::along(x, mass, &load, true, |s| cord.pull(x - s));
            assert!((run.speed(0.85) - speed).abs() < 5e-5, "{}", run.speed(0.85));
        }
    }

    #[test]
    fn a_tight_start_makes_speed_grow_more_slowly_with_the_pull() {
        let rubber = Elastic::Material { shear_modulus: 0.4e6, law: Law::Rubber };
        let loose = Cord { elastic: rubber.clone(), ..bands() };
        let tight = Cord { elastic: rubber, resting_stretch: 2.0, ..bands() };
        assert!(loose.exponent(0.9) > 1.6 && loose.exponent(0.9) < 2.0);
        assert!(tight.exponent(0.6) > 1.0 && tight.exponent(0.6) < 1.35);
    }

    #[test]
    fn a_measured_pull_is_used_as_it_is() {
        let cord = Cord {
            elastic: Elastic::Measured(vec![(0.0, 0.0), (0.5, 100.0), (1.0, 150.0)]),
            ..bands()
        };
        assert!((cord.pull(0.75) - 125.0).abs() < 1e-12);
        assert!((cord.energy(1.0) - (25.0 + 62.5)).abs() < 1e-12);
        assert!((cord.pull(1.2) - 170.0).abs() < 1e-12);
        assert!(cord.doubts(0.9).is_empty());
        assert_eq!(cord.doubts(1.2).len(), 1);
    }
}
