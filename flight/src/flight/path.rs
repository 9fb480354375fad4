//! Where a body stays during a stretch of a step, without looking at instants.
//!
//! Between the ends of a step every number of the state is a polynomial of
//! degree four in the share of the step ([`super::Step`]). In Bernstein's form
//! such a polynomial is a weighted mean of five control points with weights
//! that are never negative and sum to one. So the centre of mass stays in the
//! hull of its control points: a box, a ball or a half space that holds all
//! five holds the whole path. Nothing is sampled, so nothing is missed between
//! samples.
//!
//! Attitude likewise: its four numbers q(θ) stay in the hull of their control
//! points, hence within d of the unit quaternion m, where d is the largest
//! distance of a control point from m. If d < 1, the direction of q(θ) is off
//! that of m by an angle ψ with sin ψ <= d. Two attitudes whose quaternions
//! are ψ apart differ by a turn of 2ψ, and a turn of 2ψ moves a point that is r
//! from its axis by 2 r sin ψ <= 2 r d. So no point of the body is ever farther
//! than that from where m would have it.
//!
//! Source: Bernstein's form and its hull, standard.

use super::{
    motion::{Numbers, SIZE},
    tableau::{MIDDLE, STAGES},
};
use crate::lane::{Lane, Processor};
use glam::{DQuat, DVec3, DVec4};

/// Coefficients of a step's polynomials: of powers 0 to 4 of the share of the
/// step, for each number of the state.
pub(super) type Powers = [[f64; SIZE]; 5];

/// Where a body stays during a stretch of time.
#[derive(Clone, Copy, Debug)]
pub struct Path {
    /// The centre of mass stays in the hull of these, in m. Seen from anything
    /// that moves at constant velocity it stays in the hull of their differences
    /// from that thing's places at equally spaced times.
    pub centre: [DVec3; 5],
    /// An attitude in the middle of the stretch.
    pub attitude: DQuat,
    /// No point of the body is ever farther from where `attitude` would have it
    /// than this many times its distance from the centre of mass; 0..=2.
    pub turned: f64,
}

impl Path {
    /// Of a step's polynomials, over a stretch from one share of the step to
    /// another.
    pub(super) fn of(powers: &Powers, turns: bool, shares: [f64; 2]) -> Self {
        let place = |power: &[f64; SIZE]| DVec3::new(power[0], power[1], power[2]);
        let turn = |power: &[f64; SIZE]| DVec4::new(power[6], power[7], power[8], power[9]);
        let centre = controls(powers.each_ref().map(place), shares);
        if !turns {
            return Self { centre, attitude: DQuat::IDENTITY, turned: 2.0 };
        }
        let turns = controls(powers.each_ref().map(turn), shares);
        let [a, b, c, d, e] = turns;
        let attitude = ((a + e) + (b + d) * 4.0 + c * 6.0).normalize();
        let far = turns.iter().map(|q| (*q - attitude).length_squared()).fold(0.0, f64::max);
        Self {
            centre,
            attitude: DQuat::from_vec4(attitude),
            turned: if far < 1.0 { 2.0 * far.sqrt() } else { 2.0 },
        }
    }
}

/// Control points over the stretch between two shares of a polynomial in powers.
fn controls<V>(powers: [V; 5], [from, to]: [f64; 2]) -> [V; 5]
where
    V: Copy + core::ops::Add<Output = V> + core::ops::Mul<f64, Output = V>,
{
    let mut c = powers;
    // Most stretches are a whole step, whose polynomials these are already.
    if from > 0.0 || to < 1.0 {
        for low in 0..4 {
            for i in (low..4).rev() {
                c[i] = c[i] + c[i + 1] * from;
            }
        }
        let mut scale = 1.0;
        for power in &mut c {
            *power = *power * scale;
            scale *= to - from;
        }
    }
    [
        c[0],
        c[0] + c[1] * 0.25,
        c[0] + c[1] * 0.5 + c[2] * (1.0 / 6.0),
        c[0] + c[1] * 0.75 + c[2] * 0.5 + c[3] * 0.25,
        c[0] + c[1] + c[2] + c[3] + c[4],
    ]
}

/// Control points of one coordinate of the centres of a block of steps.
///
/// The interpolant leaves and arrives with the velocities at both ends, which
/// gives the second point and the last but one.
#[inline(always)]
pub(super) fn controls_of<S: Processor>(
    [start, end]: [&Numbers<S>; 2],
    stages: &[Numbers<S>; STAGES],
    step: Lane<S>,
    axis: usize,
) -> [Lane<S>; 5] {
    let quarter = step * 0.25;
    let mut middle = stages[0][axis] * MIDDLE[0];
    let mut stage = 1;
    while stage < STAGES {
        middle = stages[stage][axis].mul_add(step.of(MIDDLE[stage]), middle);
        stage += 1;
    }
    [
        start[axis],
        stages[0][axis].mul_add(quarter, start[axis]),
        middle.mul_add(step, start[axis]),
        end[axis] - stages[STAGES - 1][axis] * quarter,
        end[axis],
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::flight::tableau::powers_of;
    use proptest::prelude::*;
    use pulp::Scalar;

    /// Any numbers in the stages.
    fn stages() -> impl Strategy<Value = [[f64; SIZE]; STAGES]> {
        prop::array::uniform7(prop::array::uniform13(-30.0..30.0))
    }

    fn number(powers: &Powers, i: usize, share: f64) -> f64 {
        powers.iter().rev().fold(0.0, |sum, power| sum * share + power[i])
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 500, failure_persistence: None, ..Default::default() })]

        #[test]
        fn no_part_of_any_path_leaves_the_box_of_its_control_points(
            stages in stages(),
            span in (0.0..1.0, 0.0..1.0),
            share in 0.0..=1.0,
        ) {
            let shares = if span.0 < span.1 { [span.0, span.1] } else { [span.1, span.0] };
            let powers = powers_of(&[0.3; SIZE], &stages, 0.05);
            let path = Path::of(&powers, false, shares);
            let inside = shares[0] + share * (shares[1] - shares[0]);
            for axis in 0..3 {
                let values = path.centre.map(|point| point[axis]);
                let (low, high) = (values.iter().copied().fold(f64::MAX, f64::min),
                    values.iter().copied().fold(f64::MIN, f64::max));
                let now = number(&powers, axis, inside);
                prop_assert!(low - 1e-12 <= now && now <= high + 1e-12, "{low} {now} {high}");
                // The ends are control points.
                prop_assert!((values[0] - number(&powers, axis, shares[0])).abs() < 1e-11);
                prop_assert!((values[4] - number(&powers, axis, shares[1])).abs() < 1e-11);
            }
        }

        #[test]
        fn no_point_of_a_body_turns_farther_than_the_bound(
            stages in stages(),
            start in [-1.0..1.0, -1.0..1.0, -1.0..1.0, -1.0..1.0],
            point in [-1.0..1.0, -1.0..1.0, -1.0..1.0],
            step in 0.0..0.05,
            share in 0.0..=1.0,
        ) {
            let start = DVec4::from_array(start);
            prop_assume!(start.length() > 0.1);
            let mut row = [0.0; SIZE];
            row[6..10].copy_from_slice(&start.normalize().to_array());
            let powers = powers_of(&row, &stages, step);
            let path = Path::of(&powers, true, [0.0, 1.0]);
            let q = DVec4::from_array([6, 7, 8, 9].map(|i| number(&powers, i, share)));
            let point = DVec3::from_array(point);
            let moved = DQuat::from_vec4(q.normalize()) * point - path.attitude * point;
            let bound = path.turned * point.length();
            prop_assert!(moved.length() <= bound + 1e-12, "{} over {bound}", moved.length());
        }

        /// The lanes' short way to the control points and the long one agree.
        #[test]
        fn a_block_of_steps_has_the_control_points_of_each(stages in stages(), step in 0.0..0.3) {
            let spread = |row: &[f64; SIZE]| row.map(|number| Lane::splat(Scalar, number));
            let start = [0.7; SIZE];
            let powers = powers_of(&start, &stages, step);
            let end: [f64; SIZE] = core::array::from_fn(|i| number(&powers, i, 1.0));
            let blocks = stages.each_ref().map(spread);
            let path = Path::of(&powers, false, [0.0, 1.0]);
            for axis in 0..3 {
                let ends = [&spread(&start), &spread(&end)];
                let got = controls_of(ends, &blocks, Lane::splat(Scalar, step), axis);
                for (lane, wanted) in got.iter().zip(path.centre) {
                    prop_assert!((lane.get(0) - wanted[axis]).abs() < 1e-11 * (1.0 + 1e3 * step));
                }
            }
        }
    }
}
