//! The air that a light body drags along.
//!
//! A body that speeds up has to speed up some of the air around it, as if it
//! were heavier by its added mass. Below about 50 times the density of air
//! (foam, card, balloons) that is no longer small.
//!
//! Assumes: one number for all directions, the mean over them, so that energy
//! is kept; for a sheet the true one is three times that along its normal and
//! next to nothing along its plane. Added moments are those of turning about
//! the axes that push air. Ignores: the moment of added mass in a slanting
//! flow, which is part of the measured centre of pressure.

use super::{Body, Drags};
use crate::note::{Kind, Note, Subject};
use glam::DVec3;
use std::f64::consts::PI;

/// Its section of the page of trust.
const SUBJECT: Subject = Subject { key: "added mass", claims: "What air a light body drags along" };

/// What it says of itself.
pub const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "added mass",
    how: "the air that the object drags along counts with its mass, the mean over directions",
    source: "potential flow of spheres, discs, strips and cylinders (from memory)",
    kind: Kind::Memory,
    range: "objects less than 50 times as dense as the air",
    leaves_out: "a sheet's true added mass is larger along its normal and smaller along its plane",
};

/// Bodies lighter than this many times the air they displace are flown with
/// their added mass.
const LIGHT: f64 = 50.0;

/// The added mass of a body in a fluid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Added {
    /// Mean over directions, in kg.
    pub mass: f64,
    /// About the body axes, in kg m².
    pub inertia: DVec3,
}

impl Body {
    /// Is it so light for its size that added mass counts? `density`: the
    /// air's, in kg/m³.
    #[must_use]
    pub fn is_light(&self, density: f64) -> bool {
        self.mass < LIGHT * density * self.volume()
    }

    /// Its added mass in a fluid of this `density` (kg/m³).
    ///
    /// Source (from memory): sphere ½ ρ V; disc face-on 8/3 ρ R³ and about a
    /// diameter 16/45 ρ R⁵; strip of chord c, π ρ c²/4 and π ρ c⁴/128 per
    /// length; circular cylinder ρ V across. Rectangular sheets: the strip times
    /// span over the hypotenuse of span and chord (common approximation, no
    /// source). Blocks and lumps count as the ball of their volume.
    #[must_use]
    pub fn added(&self, density: f64) -> Added {
        let flat = |normal: f64, about: [f64; 2]| Added {
            mass: density * normal / 3.0,
            inertia: density * DVec3::new(about[0], about[1], 0.0),
        };
        // Across an axis along x: two directions of three.
        let long = |length: f64, diameter: f64| {
            let per_length = PI / 4.0 * diameter * diameter;
            let about = per_length * length * length * length / 12.0;
            Added {
                mass: density * per_length * length * 2.0 / 3.0,
                inertia: density * DVec3::new(0.0, about, about),
            }
        };
        let [length, width, height] = (2.0 * self.half_extents()).to_array();
        match self.shape.family().drags {
            Drags::Sheet => {
                let finite = 1.0 / libm::hypot(length, width);
                let area = length * width;
                let about = |chord: f64| PI / 128.0 * area * area * finite * chord * chord;
                flat(PI / 4.0 * area * area * finite, [about(width), about(length)])
            }
            Drags::Disc => {
                let r = length / 2.0;
                let about = 16.0 / 45.0 * r * r * r * r * r;
                flat(8.0 / 3.0 * r * r * r, [about, about])
            }
            // A strip's across the wider side, as a cylinder's of that width.
            Drags::Long => long(length, width.max(height)),
            Drags::Cone => long(length, width / 3.0_f64.sqrt()),
            Drags::Ball => Added { mass: 0.5 * density * self.volume(), inertia: DVec3::ZERO },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::body::Shape;

    /// Source: potential flow (from memory): half the displaced mass of a ball;
    /// for a disc 8/3 ρ R³, of which a third in the mean.
    #[test]
    fn balls_and_discs_have_the_added_mass_of_potential_flow() {
        let ball = Body::solid(Shape::Sphere { diameter: 0.2 }, 0.01);
        assert!((ball.added(1.2).mass / (0.5 * 1.2 * PI * 0.008 / 6.0) - 1.0).abs() < 1e-12);
        let disc = Body::solid(Shape::Disc { diameter: 0.4, thickness: 0.01 }, 0.02);
        assert!((disc.added(1.2).mass - 1.2 * 8.0 / 9.0 * 0.008).abs() < 1e-12);
    }

    /// Source: limits: a long sheet is a strip, a square one is near a disc of
    /// its area (0.65 of a strip's against 8/3 ρ R³; exact squares lie between,
    /// 0.48 ρ a³ to 0.57 ρ a³, from memory).
    #[test]
    fn sheets_go_from_disc_to_strip() {
        let sheet = |length: f64, width: f64| {
            let shape = Shape::Plate { length, width, thickness: 0.001 };
            3.0 * Body::solid(shape, 1.0).added(1.0).mass
        };
        assert!((sheet(100.0, 1.0) / (PI / 4.0 * 100.0) - 1.0).abs() < 1e-3);
        assert!((0.48..0.58).contains(&sheet(1.0, 1.0)), "{}", sheet(1.0, 1.0));
    }

    #[test]
    fn foam_is_light_and_wood_is_not() {
        let board =
            |mass| Body::solid(Shape::Plate { length: 1.0, width: 0.5, thickness: 0.02 }, mass);
        assert!(board(0.3).is_light(1.2) && !board(6.0).is_light(1.2));
        assert!(!board(0.3).is_light(0.0));
    }
}
