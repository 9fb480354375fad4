//! What flies: a shape with a mass, hence inertia, areas and extent.
//!
//! Body frame: x along the length, y along the width, z along the thickness,
//! origin at the centre of mass. Every shape here is uniform and convex, so
//! these axes are principal axes.

use glam::DVec3;
use std::f64::consts::PI;

/// A shape, with its lengths as `T`: an input's place in a scenario, metres in
/// a body. One variant, one family of aerodynamic coefficients.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shape<T> {
    /// A ball.
    Sphere {
        /// Diameter, in m.
        diameter: T,
    },
    /// A flat rectangular sheet: length along x, width along y.
    Plate {
        /// Longer side, in m.
        length: T,
        /// Shorter side, in m.
        width: T,
        /// Thickness, in m.
        thickness: T,
    },
    /// A slender round bar along x.
    Rod {
        /// Length, in m.
        length: T,
        /// Diameter, in m.
        diameter: T,
    },
    /// A rectangular block.
    Block {
        /// Extent along x, in m.
        length: T,
        /// Extent along y, in m.
        width: T,
        /// Extent along z, in m.
        height: T,
    },
}

impl<T: Copy> Shape<T> {
    /// The same shape with every length passed through `f`.
    #[must_use]
    pub fn map<U>(self, mut f: impl FnMut(T) -> U) -> Shape<U> {
        match self {
            Self::Sphere { diameter } => Shape::Sphere { diameter: f(diameter) },
            Self::Plate { length, width, thickness } => {
                Shape::Plate { length: f(length), width: f(width), thickness: f(thickness) }
            }
            Self::Rod { length, diameter } => {
                Shape::Rod { length: f(length), diameter: f(diameter) }
            }
            Self::Block { length, width, height } => {
                Shape::Block { length: f(length), width: f(width), height: f(height) }
            }
        }
    }

    /// The word for this family in a scenario, a table or a sentence.
    #[must_use]
    pub fn name(&self) -> &'static str {
        match self {
            Self::Sphere { .. } => "sphere",
            Self::Plate { .. } => "plate",
            Self::Rod { .. } => "rod",
            Self::Block { .. } => "block",
        }
    }
}

/// One draw's object: shape in metres, mass in kg, principal moments in kg m².
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Body {
    /// Shape, lengths in m, all > 0.
    pub shape: Shape<f64>,
    /// Mass, in kg, > 0.
    pub mass: f64,
    /// Principal moments of inertia about the body axes, in kg m².
    pub inertia: DVec3,
}

impl Body {
    /// A uniform solid of this shape and mass.
    ///
    /// Source: standard moments of inertia about the centroid (solid sphere
    /// 2/5 m r²; box m(b²+c²)/12; solid cylinder m r²/2 and m(3r²+h²)/12).
    #[must_use]
    pub fn solid(shape: Shape<f64>, mass: f64) -> Self {
        let boxed = |a: f64, b: f64, c: f64| {
            mass / 12.0 * DVec3::new(b * b + c * c, a * a + c * c, a * a + b * b)
        };
        let inertia = match shape {
            Shape::Sphere { diameter } => DVec3::splat(0.1 * mass * diameter * diameter),
            Shape::Plate { length, width, thickness: height }
            | Shape::Block { length, width, height } => boxed(length, width, height),
            Shape::Rod { length, diameter } => {
                let r2 = diameter * diameter / 4.0;
                let across = mass * (3.0 * r2 + length * length) / 12.0;
                DVec3::new(mass * r2 / 2.0, across, across)
            }
        };
        Self { shape, mass, inertia }
    }

    /// Half extents along the body axes, in m.
    #[must_use]
    pub fn half_extents(&self) -> DVec3 {
        match self.shape {
            Shape::Sphere { diameter } => DVec3::splat(diameter / 2.0),
            Shape::Plate { length, width, thickness: height }
            | Shape::Block { length, width, height } => DVec3::new(length, width, height) / 2.0,
            Shape::Rod { length, diameter } => DVec3::new(length, diameter, diameter) / 2.0,
        }
    }

    /// Volume, in m³.
    #[must_use]
    pub fn volume(&self) -> f64 {
        let half = self.half_extents();
        match self.shape {
            Shape::Sphere { .. } => 4.0 / 3.0 * PI * half.x * half.x * half.x,
            Shape::Plate { .. } | Shape::Block { .. } => 8.0 * half.x * half.y * half.z,
            Shape::Rod { .. } => 2.0 * half.x * PI * half.y * half.y,
        }
    }

    /// Kinetic energy, translation and rotation, in J; `velocity` in any
    /// frame that does not turn, `rates` in the body frame.
    #[must_use]
    pub fn kinetic_energy(&self, velocity: DVec3, rates: DVec3) -> f64 {
        0.5 * self.mass * velocity.length_squared() + 0.5 * rates.dot(self.inertia * rates)
    }

    /// Radius of the smallest sphere about the centre of mass that holds the
    /// body, in m.
    #[must_use]
    pub fn bounding_radius(&self) -> f64 {
        let half = self.half_extents();
        match self.shape {
            Shape::Sphere { .. } => half.x,
            Shape::Rod { .. } => libm::hypot(half.x, half.y),
            Shape::Plate { .. } | Shape::Block { .. } => half.length(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: aerodynamics check value, box 1 kg 0.02 × 0.1 × 0.2 m has
    /// principal moments (.05, .0404, .0104)/12 kg m² (derived).
    #[test]
    fn a_box_has_the_textbook_moments() {
        let body = Body::solid(Shape::Block { length: 0.02, width: 0.1, height: 0.2 }, 1.0);
        let wanted = DVec3::new(0.05, 0.0404, 0.0104) / 12.0;
        assert!((body.inertia - wanted).length() < 1e-15);
    }
}
