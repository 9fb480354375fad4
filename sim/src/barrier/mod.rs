//! The resistance of a face: does the blow go through, and what comes out.
//!
//! A barrier is a lognormal fragility curve. [`resistance`] is this draw's
//! strength, [`Verdict::of`] weighs a touch against it and tells what is left
//! behind the face.
//!
//! Assumes a blow that is short against the motion, so that the barrier takes
//! an impulse along its normal at the contact point. Ignores ricochet, broken
//! pieces, hung-up objects and the turning of an object inside the barrier.
//! What the published strengths hold for is a rigid, compact missile that comes
//! square on: [`Verdict::oblique`] marks the others.

pub mod concrete;
mod footprint;
pub mod fragility;
mod missile;
mod range;
pub mod residual;
pub mod scaling;
pub mod steel;

pub use self::{
    footprint::Footprint,
    missile::Missile,
    range::{Limit, Ranged},
};

use crate::{
    body::Body,
    contact::Touch,
    flight::State,
    math::exp,
    scenario::{Barrier, Demand},
};

/// Obliquity beyond which strengths measured square on do not hold, in rad
/// (10 deg; judgement).
pub const SQUARE_ON: f64 = 10.0 * std::f64::consts::PI / 180.0;

/// What became of a blow on a barrier.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Verdict {
    /// Demand of the blow, in the barrier's own measure (J or m/s).
    pub demand: f64,
    /// This draw's resistance in the same measure.
    pub resistance: f64,
    /// Did it go through?
    pub perforates: bool,
    /// The body behind the barrier, world frame; as it struck if it did not go
    /// through.
    pub state: State,
    /// Speed behind the barrier in the face's frame, in m/s; 0 if stopped.
    pub residual_speed: f64,
    /// Kinetic energy behind the barrier, translation and rotation, in the
    /// face's frame, in J; 0 if stopped.
    pub arriving_energy: f64,
    /// Did it strike more than [`SQUARE_ON`] from the normal, where published
    /// strengths are a guess?
    pub oblique: bool,
}

/// This draw's resistance of a barrier (J or m/s): `median · exp(β · scatter)`.
///
/// `row`: the draw's input values, SI.
#[must_use]
pub fn resistance(barrier: &Barrier, row: &[f64]) -> f64 {
    row[barrier.median.0] * exp(row[barrier.beta.0] * row[barrier.scatter.0])
}

/// What a touch asks of a barrier, in `measure` (J or m/s).
#[must_use]
pub fn demand(measure: Demand, touch: &Touch) -> f64 {
    match measure {
        Demand::NormalEnergy => touch.normal_energy,
        Demand::TotalEnergy => touch.total_energy,
        Demand::NormalSpeed => touch.closing_speed,
    }
}

impl Verdict {
    /// Weighs the touch of `body` against `barrier` as `row` has it.
    #[must_use]
    pub fn of(barrier: &Barrier, row: &[f64], body: &Body, touch: &Touch) -> Self {
        let (demand, resistance) = (demand(barrier.demand, touch), resistance(barrier, row));
        let perforates = demand > resistance;
        let (state, left) = if perforates {
            let passed = residual::behind(barrier.demand, resistance / demand, body, touch);
            (passed, residual::energy(body, touch, &passed))
        } else {
            (touch.state, 0.0)
        };
        Self {
            demand,
            resistance,
            perforates,
            state,
            residual_speed: if perforates { residual::speed(touch, &state) } else { 0.0 },
            arriving_energy: left,
            oblique: touch.obliquity > SQUARE_ON,
        }
    }

    /// Whether the strength was measured on blows like this one.
    #[must_use]
    pub fn in_range(&self) -> bool {
        !self.oblique
    }

    /// How much was missing for a perforation, in the barrier's measure; 0 if
    /// it went through.
    #[must_use]
    pub fn margin(&self) -> f64 {
        (self.resistance - self.demand).max(0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{body::Shape, contact::Surface, scenario::InputId};
    use glam::{DQuat, DVec3};

    /// A ball of 0.5 kg that strikes square on at 150 m/s.
    fn blow(speed: f64) -> (Body, Touch) {
        let body = Body::solid(Shape::Sphere { diameter: 0.05 }, 0.5);
        let velocity = DVec3::X * speed;
        let state = State {
            position: DVec3::ZERO,
            velocity,
            attitude: DQuat::IDENTITY,
            rates: DVec3::ZERO,
        };
        let energy = 0.25 * speed * speed;
        let touch = Touch {
            surface: Surface::Face(0),
            time: 1.0,
            state,
            point: DVec3::X * 0.025,
            on_face: [0.0; 2],
            normal: -DVec3::X,
            push: -DVec3::X,
            relative_velocity: velocity,
            closing_speed: speed,
            obliquity: 0.0,
            axis_angles: [0.0; 3],
            effective_mass: 0.5,
            total_energy: energy,
            normal_energy: energy,
        };
        (body, touch)
    }

    fn barrier(demand: Demand) -> Barrier {
        let (median, beta, scatter) = (InputId(0), InputId(1), InputId(2));
        Barrier {
            demand,
            median,
            beta,
            scatter,
            lower_bound: false,
            source: String::new(),
            name: String::new(),
        }
    }

    /// Source: Recht and Ipson 1963 (read second-hand): 150 m/s on a limit of
    /// 100 m/s leaves 111.8034 m/s; the barrier takes 2500 J of 0.5 kg.
    #[test]
    fn every_measure_of_strength_leaves_the_same_speed_square_on() {
        let (body, touch) = blow(150.0);
        let cases = [
            (Demand::NormalEnergy, 2500.0),
            (Demand::TotalEnergy, 2500.0),
            (Demand::NormalSpeed, 100.0),
        ];
        for (measure, median) in cases {
            let verdict = Verdict::of(&barrier(measure), &[median, 0.3, 0.0], &body, &touch);
            assert!(verdict.perforates);
            assert!((verdict.residual_speed - 111.8034).abs() < 5e-5);
            assert!((touch.total_energy - verdict.arriving_energy - 2500.0).abs() < 1e-9);
        }
    }

    #[test]
    fn a_touch_is_a_missile_of_its_footprint() {
        let (body, touch) = blow(150.0);
        let missile = Missile::of(&body, &touch, 0.005);
        assert!((missile.diameter - 0.03).abs() < 1e-12, "a cap 5 mm deep of a 50 mm ball");
        assert_eq!((missile.mass, missile.speed, missile.length), (0.5, 150.0, 0.05));
        let plate = steel::SteelPlate { thickness: 0.003, strength: 4e8, span: 0.15 };
        // Deeper in, a wider contact: it takes more.
        let deep = Missile::of(&body, &touch, 0.025);
        assert!(steel::sri(&plate, &deep).value > steel::sri(&plate, &missile).value);
        assert!(steel::brl(&plate, &deep).value > steel::brl(&plate, &missile).value);
    }

    #[test]
    fn at_the_limit_the_object_is_stopped_and_nothing_arrives() {
        let (body, touch) = blow(100.0);
        let row = [touch.normal_energy, 0.3, 0.0];
        let verdict = Verdict::of(&barrier(Demand::NormalEnergy), &row, &body, &touch);
        assert!(!verdict.perforates);
        assert_eq!((verdict.residual_speed, verdict.arriving_energy), (0.0, 0.0));
        assert!(verdict.margin().abs() < 1e-12);
    }

    #[test]
    fn a_draw_one_spread_above_the_median_is_stronger_by_that_factor() {
        let row = [130.0, 0.4, 1.0];
        let strength = resistance(&barrier(Demand::NormalEnergy), &row);
        assert!((strength - 130.0 * exp(0.4)).abs() < 1e-12);
    }
}
