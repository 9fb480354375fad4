//! What flies: a shape with a mass, hence inertia, areas and extent.
//!
//! Body frame: x along the length, y along the width, z along the thickness,
//! origin at the centre of mass. Every shape here is uniform (a tube and a
//! wheel in their walls) and convex from outside, so these axes are principal
//! axes.

mod added;
mod family;
mod form;
mod shape;
mod surface;

pub use self::{
    added::{Added, NOTE as ADDED_MASS_NOTE},
    family::{Drags, Family, Look, Surfaces},
    form::{Form, Ring},
    shape::{Measure, Shape, Side},
    surface::Surface,
};

use glam::DVec3;
use std::f64::consts::PI;

/// One draw's object: shape in metres, mass in kg, principal moments in kg m².
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Body {
    /// Shape, lengths in m, all > 0.
    pub shape: Shape<f64>,
    /// Mass, in kg, > 0.
    pub mass: f64,
    /// Principal moments of inertia about the body axes, in kg m².
    pub inertia: DVec3,
    /// What a round body's surface is like; of other shapes it is not asked.
    pub surface: Surface,
}

/// Principal moments of a ring-shaped or full cylinder along `z`: outer and
/// inner radius and height, in m.
fn ring(mass: f64, outer: f64, inner: f64, height: f64) -> [f64; 2] {
    let square = outer * outer + inner * inner;
    [mass * square / 2.0, mass * (3.0 * square + height * height) / 12.0]
}

impl Body {
    /// A uniform body of this shape and mass, with a plain surface.
    ///
    /// Source: standard moments of inertia about the centroid (solid sphere
    /// 2/5 m r²; box m(b²+c²)/12; tube m(R²+r²)/2 and m(3(R²+r²)+h²)/12; solid
    /// cone 3/10 m R² and 3/20 m R² + 3/80 m h²). A lump counts as the ball of
    /// its volume.
    #[must_use]
    pub fn solid(shape: Shape<f64>, mass: f64) -> Self {
        let form = shape.form();
        let inertia = match (form, shape) {
            (_, Shape::Custom { gyration: Some(radii), .. }) => {
                let radii = DVec3::from_array(radii);
                mass * radii * radii
            }
            (Form::Ball { radius }, _) => {
                let diameter = 2.0 * radius;
                DVec3::splat(0.1 * mass * diameter * diameter)
            }
            (Form::Boxed { half }, _) => {
                let [a, b, c] = (2.0 * half).to_array();
                mass / 12.0 * DVec3::new(b * b + c * c, a * a + c * c, a * a + b * b)
            }
            (Form::Revolved { axis, rings: [one, _] }, _) => {
                let [along, across] = match form.taper() {
                    None => {
                        let length = 2.0 * form.half_extents()[axis];
                        ring(mass, one.radius, shape.hole(), length)
                    }
                    Some([length, radius]) => {
                        let square = radius * radius;
                        [0.3 * mass * square, mass * (0.15 * square + 0.0375 * length * length)]
                    }
                };
                let mut moments = DVec3::splat(across);
                moments[axis] = along;
                moments
            }
        };
        Self { shape, mass, inertia, surface: Surface::default() }
    }

    /// Half extents along the body axes, in m.
    #[must_use]
    pub fn half_extents(&self) -> DVec3 {
        self.shape.form().half_extents()
    }

    /// Volume of its material, in m³; 0 for a custom shape, whose is not known,
    /// so that it floats on nothing and drags no air along.
    #[must_use]
    pub fn volume(&self) -> f64 {
        if let Shape::Custom { .. } = self.shape {
            return 0.0;
        }
        let form = self.shape.form();
        let [a, b, c] = (2.0 * form.half_extents()).to_array();
        match form {
            Form::Ball { .. } => PI * a * a * a / 6.0,
            Form::Boxed { .. } => a * b * c,
            Form::Revolved { axis, .. } => {
                let size = [a, b, c];
                let (outer, height) = (size[(axis + 1) % 3], size[axis]);
                let inner = 2.0 * self.shape.hole();
                let full = PI * (outer * outer - inner * inner) * height / 4.0;
                if form.taper().is_some() { full / 3.0 } else { full }
            }
        }
    }

    /// Its shadow along the body's z axis (as it lies), in m².
    #[must_use]
    pub fn plan_area(&self) -> f64 {
        let form = self.shape.form();
        let half = form.half_extents();
        match form {
            Form::Ball { .. } => PI * half.x * half.y,
            Form::Boxed { .. } => 4.0 * half.x * half.y,
            Form::Revolved { axis: 2, .. } => PI * half.x * half.y,
            Form::Revolved { rings: [a, b], .. } => {
                (a.radius + b.radius) * (a.offset - b.offset).abs()
            }
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
        Form::of(self).bounding_radius()
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

    /// Moments about the body axes by adding up small cubes of the form, for
    /// what is full inside its outer surface less a hole along `axis`.
    fn summed(body: &Body, axis: usize, hole: f64) -> (DVec3, f64, DVec3) {
        let Form::Revolved { rings: [a, b], .. } = Form::of(body) else { unreachable!() };
        let (n, reach) = (140_i32, body.bounding_radius());
        let step = 2.0 * reach / f64::from(n);
        let (mut volume, mut first, mut second) = (0.0, DVec3::ZERO, DVec3::ZERO);
        for i in 0..n * n * n {
            let at = |k: i32| (f64::from(k) + 0.5) * step - reach;
            let p = DVec3::new(at(i % n), at(i / n % n), at(i / (n * n)));
            let along = p[axis];
            let share = (along - a.offset) / (b.offset - a.offset);
            let away = (p.length_squared() - along * along).sqrt();
            let rim = a.radius + share * (b.radius - a.radius);
            if (0.0..=1.0).contains(&share) && away <= rim && away >= hole {
                volume += 1.0;
                first += p;
                second += DVec3::splat(p.length_squared()) - p * p;
            }
        }
        (second / volume * body.mass, volume * step * step * step, first / volume)
    }

    /// Source: the definition of moment, volume and centroid, added up on a
    /// grid; its own error is about 1 %.
    #[test]
    fn round_bodies_have_the_moments_of_their_parts() {
        let cases = [
            (Shape::Cone { length: 0.5, diameter: 0.4 }, 0, 0.0),
            (Shape::Tube { length: 0.6, diameter: 0.5, wall: 0.1 }, 0, 0.15),
            (Shape::Wheel { diameter: 0.6, width: 0.3, hub: 0.5 }, 2, 0.15),
            (Shape::Disc { diameter: 0.5, thickness: 0.2 }, 2, 0.0),
            (Shape::Cylinder { length: 0.3, diameter: 0.4 }, 0, 0.0),
        ];
        for (shape, axis, hole) in cases {
            let body = Body::solid(shape, 2.0);
            let (moments, volume, centroid) = summed(&body, axis, hole);
            let off = (moments / body.inertia - 1.0).abs().max_element();
            assert!(off < 0.02, "{}: {moments} {}", shape.name(), body.inertia);
            assert!((volume / body.volume() - 1.0).abs() < 0.02, "{}: {volume}", shape.name());
            assert!(centroid.length() < 2e-3, "{}: {centroid}", shape.name());
        }
    }
}
