//! How wide a blow bears on a barrier: between what comes first and all that
//! can.
//!
//! A flat end that comes square on bears whole from the start. A corner, an
//! edge, a tilted end or a ball bears with what has come in as far as the
//! barrier gives, and that grows with the dent: nobody knows how wide it is when
//! the barrier fails. So the least and the most are told, and which of those in
//! between is right is an unknown of the claim.
//!
//! Source: geometry. A corner along the space diagonal has (3√3/2) δ² at a depth
//! of δ, an edge 2 δ L, a face of side b tilted by θ a strip of 2 δ/sin 2θ and
//! all of itself once the barrier gives by b sin θ.

use super::Footprint;
use crate::{
    body::{Body, Form},
    contact::Touch,
    math::{acos, pow, sin},
};
use glam::{DQuat, DVec3};
use std::f64::consts::PI;

/// A contact that can grow by less than this factor counts as flat (judgement).
const FLAT: f64 = 1.1;

/// What of a body bears on a barrier, as diameters of circles of the same area.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bearing {
    /// At the depth that it was asked for, in m, > 0.
    pub least: f64,
    /// All that is seen from the barrier, in m, >= `least`.
    pub most: f64,
    /// The flat side that is most nearly square on; `None`: it has none.
    pub flat: Option<Flat>,
}

/// A flat side of a body, as it comes on a barrier.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flat {
    /// Angle from lying flat, in rad, 0..=π/2.
    pub tilt: f64,
    /// Diameter of the circle of its area, in m.
    pub diameter: f64,
    /// How far the barrier has to give until all of it bears, in m.
    pub depth: f64,
}

impl Bearing {
    /// What bears in this touch once the barrier has given by `depth` (m, > 0).
    #[must_use]
    pub fn of(body: &Body, touch: &Touch, depth: f64) -> Self {
        let (attitude, normal) = (touch.state.attitude, touch.normal);
        let least = Footprint::of(body, attitude, normal, depth).diameter();
        let most = 2.0 * (Footprint::shadow(body, attitude, normal) / PI).sqrt();
        Self { least, most: most.max(least), flat: flat(body, attitude, normal) }
    }

    /// The same where all of the flat side bears from the start.
    #[must_use]
    pub(crate) fn with_all_of_its_side(self) -> Self {
        let side = self.flat.map_or(0.0, |flat| flat.diameter);
        let least = self.least.max(side);
        Self { least, most: self.most.max(least), ..self }
    }

    /// One of the diameters in between, on a scale of ratios, in m; `share`: 0
    /// the least, 1 the most.
    #[must_use]
    pub fn at(&self, share: f64) -> f64 {
        self.least * pow(self.most / self.least, share)
    }

    /// Whether it bears as the flat end of a bar does that comes square on.
    #[must_use]
    pub(crate) fn is_square_on(&self) -> bool {
        self.most <= FLAT * self.least
            && self.flat.is_some_and(|flat| flat.tilt <= super::SQUARE_ON)
    }

    /// Whether a flat side comes within `angle` (rad) of lying flat.
    #[must_use]
    pub fn is_within(&self, angle: f64) -> bool {
        self.flat.is_some_and(|flat| flat.tilt <= angle)
    }
}

/// The flat side most nearly square on to `normal`.
fn flat(body: &Body, attitude: DQuat, normal: DVec3) -> Option<Flat> {
    let into = attitude.inverse() * -normal;
    match Form::of(body) {
        Form::Ball { .. } => None,
        Form::Revolved { axis, rings } => {
            let far = rings.iter().map(|ring| ring.offset * into[axis]);
            let front = usize::from(far.clone().next() < far.clone().nth(1));
            let radius = rings[front].radius;
            (radius > 0.0).then(|| one(into[axis].abs(), 2.0 * radius, 2.0 * radius))
        }
        Form::Boxed { half } => {
            let axis = into.abs().max_position();
            let [next, last] = [(axis + 1) % 3, (axis + 2) % 3];
            let across = (into[next] * half[next]).abs() + (into[last] * half[last]).abs();
            let slope = (1.0 - into[axis] * into[axis]).max(0.0).sqrt();
            let reach = if slope > 0.0 { 2.0 * across / slope } else { 0.0 };
            let area = 4.0 * half[next] * half[last];
            Some(one(into[axis].abs(), 2.0 * (area / PI).sqrt(), reach))
        }
    }
}

fn one(cosine: f64, diameter: f64, reach: f64) -> Flat {
    let tilt = acos(cosine.min(1.0));
    Flat { tilt, diameter, depth: reach * sin(tilt) }
}

#[cfg(test)]
mod tests {
    use super::{super::tests::blow_of, *};
    use crate::body::Shape;
    use proptest::prelude::*;

    const BRICK: Shape<f64> = Shape::Block { length: 0.215, width: 0.1025, height: 0.065 };
    const BAR: Shape<f64> = Shape::Rod { length: 0.6, diameter: 0.05 };

    fn near(a: f64, b: f64, relative: f64) {
        assert!((a / b - 1.0).abs() <= relative, "{a} is not {b}");
    }

    /// Source: geometry, equal-area diameters at 5, 10 and 20 mm behind a corner
    /// (9.09, 18.19, 36.38 mm) and at 5 and 10 mm behind an edge of 100 mm
    /// (35.7, 50.5 mm).
    #[test]
    fn corners_and_edges_bear_the_wider_the_deeper() {
        let cube = Shape::Block { length: 0.1, width: 0.1, height: 0.1 };
        let (body, touch) = blow_of(cube, 2.0, 10.0, DVec3::ONE.normalize());
        for (depth, across) in [(0.005, 0.00909), (0.01, 0.01819), (0.02, 0.03638)] {
            near(Bearing::of(&body, &touch, depth).least, across, 1e-3);
        }
        let (body, touch) = blow_of(cube, 2.0, 10.0, DVec3::new(1.0, 1.0, 0.0).normalize());
        for (depth, across) in [(0.005, 0.0357), (0.01, 0.0505)] {
            near(Bearing::of(&body, &touch, depth).least, across, 1e-3);
        }
    }

    /// Source: geometry: a face of 100 mm lies on whole at 3.5, 8.7 and 25.9 mm
    /// for 2, 5 and 15 deg; a square of 100 mm is a circle of 112.8 mm.
    #[test]
    fn a_tilted_face_bears_whole_once_the_barrier_has_given_far_enough() {
        let cube = Shape::Block { length: 0.1, width: 0.1, height: 0.1 };
        for (degrees, depth) in [(2.0_f64, 0.0035), (5.0, 0.0087), (15.0, 0.0259)] {
            let first = DQuat::from_rotation_z(degrees.to_radians()) * DVec3::X;
            let (body, touch) = blow_of(cube, 2.0, 10.0, first);
            let flat = Bearing::of(&body, &touch, 0.001).flat.expect("a box has sides");
            near(flat.depth, depth, 0.02);
            near(flat.diameter, 0.11284, 1e-3);
            assert!((flat.tilt.to_degrees() - degrees).abs() < 1e-9);
        }
    }

    #[test]
    fn a_bar_end_on_bears_with_its_end_and_with_nothing_else() {
        let (body, touch) = blow_of(BAR, 4.0, 25.0, DVec3::X);
        let bearing = Bearing::of(&body, &touch, 0.005);
        assert!(bearing.is_square_on(), "{bearing:?}");
        near(bearing.least, 0.05, 0.01);
        near(bearing.at(0.7), bearing.least, 1e-2);
        let (body, touch) = blow_of(Shape::Sphere { diameter: 0.05 }, 1.0, 9.0, DVec3::X);
        let ball = Bearing::of(&body, &touch, 0.005);
        assert!(!ball.is_square_on() && ball.flat.is_none());
        near(ball.least, 0.03, 1e-9);
        near(ball.most, 0.05, 1e-9);
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..Default::default() })]

        #[test]
        fn what_bears_grows_with_the_dent_and_never_beyond_what_is_seen(
            first in [-1.0..1.0, -1.0..1.0, -1.0..1.0], depth in 1e-4..0.03, more in 1.0..3.0,
            which in 0..4_usize,
        ) {
            let shape = [
                BRICK,
                BAR,
                Shape::Cone { length: 0.3, diameter: 0.2 },
                Shape::Disc { diameter: 0.4, thickness: 0.02 },
            ][which];
            let first = DVec3::from_array(first);
            prop_assume!(first.length() > 0.1);
            let (body, touch) = blow_of(shape, 2.0, 10.0, first.normalize());
            let [less, more] = [depth, depth * more].map(|depth| Bearing::of(&body, &touch, depth));
            prop_assert!((less.most - more.most).abs() < 1e-12, "what is seen has no depth");
            prop_assert!(less.least > 0.0 && less.least <= less.most * (1.0 + 1e-12));
            // What tapers towards its middle again is cut at its middle.
            if !matches!(shape, Shape::Cone { .. }) {
                prop_assert!(more.least >= less.least * (1.0 - 1e-9), "{less:?} {more:?}");
            }
            prop_assert!(less.at(0.3) <= less.at(0.6) * (1.0 + 1e-12));
        }
    }
}
