//! What is left behind a barrier.

use crate::{
    body::Body,
    contact::Touch,
    flight::State,
    math::pow,
    note::{Kind, Note, Subject},
    scenario::Demand,
};

/// Its section of the page of trust.
const SUBJECT: Subject =
    Subject { key: "residual speed", claims: "How fast it is behind the barrier" };

/// What it says of itself.
pub(crate) const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "speed behind the barrier",
    how: "what is left once the barrier has taken the energy of its limit",
    source: "Recht & Ipson, J. Appl. Mech. 30 (1963) 384 (second-hand)",
    kind: Kind::SecondHand,
    range: "rigid missiles that stay whole",
    leaves_out: "broken pieces, and turning inside the barrier",
};

/// Residual speed of a rigid missile that a barrier takes a constant energy
/// from, in m/s; 0 at or below the limit.
///
/// `speed`, `limit`: striking speed and ballistic limit, in m/s. `share`: the
/// missile's share of the mass that moves on, `m/(m + m_plug)`, in (0, 1]; 1 if
/// no plug is driven out.
///
/// Source: R. F. Recht, T. W. Ipson, "Ballistic perforation dynamics", J. Appl.
/// Mech. 30 (1963) 384-390 (read second-hand).
///
/// # Examples
///
/// ```
/// use longodds_sim::barrier::residual::recht_ipson;
///
/// // 5-4-3: what is left of 50 m/s behind a limit of 30 m/s.
/// assert!((recht_ipson(50.0, 30.0, 1.0) - 40.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn recht_ipson(speed: f64, limit: f64, share: f64) -> f64 {
    lambert_jonas(speed, limit, share, 2.0)
}

/// Residual speed with a fitted exponent, in m/s; 0 at or below the limit.
///
/// `factor` in (0, 1], `exponent` in 1.5..=8; (1, 2) is a constant energy.
///
/// Source: J. P. Lambert, G. H. Jonas, BRL R-1852 (1976) (form read
/// second-hand, ranges from memory).
#[must_use]
pub fn lambert_jonas(speed: f64, limit: f64, factor: f64, exponent: f64) -> f64 {
    if speed <= limit {
        return 0.0;
    }
    factor * speed * pow(1.0 - pow(limit / speed, exponent), 1.0 / exponent)
}

/// The body behind the barrier, world frame.
///
/// `used`: resistance over demand, 0..1. A strength in normal energy or speed
/// is taken by an impulse along the normal at the contact point, so that the
/// barrier takes exactly its resistance and an off-centre blow turns the body.
/// A strength in total energy slows everything alike.
#[must_use]
pub fn behind(measure: Demand, used: f64, body: &Body, touch: &Touch) -> State {
    let mut state = touch.state;
    let wall = state.velocity - touch.relative_velocity;
    let kept = match measure {
        Demand::NormalEnergy => (1.0 - used).max(0.0).sqrt(),
        Demand::NormalSpeed => (1.0 - used * used).max(0.0).sqrt(),
        Demand::TotalEnergy => {
            let kept = (1.0 - used).max(0.0).sqrt();
            state.velocity = wall + touch.relative_velocity * kept;
            state.rates *= kept;
            return state;
        }
    };
    let impulse = touch.normal * (touch.effective_mass * touch.closing_speed * (1.0 - kept));
    let arm = touch.point - state.position;
    state.velocity += impulse / body.mass;
    state.rates += (state.attitude.inverse() * arm.cross(impulse)) / body.inertia;
    state
}

/// Speed of `state` in the frame of what was touched, in m/s.
#[must_use]
pub fn speed(touch: &Touch, state: &State) -> f64 {
    (touch.relative_velocity + state.velocity - touch.state.velocity).length()
}

/// Kinetic energy of `state` in the frame of what was touched, in J.
#[must_use]
pub fn energy(body: &Body, touch: &Touch, state: &State) -> f64 {
    let speed = speed(touch, state);
    0.5 * body.mass * speed * speed + 0.5 * state.rates.dot(body.inertia * state.rates)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        body::Shape,
        contact::{FaceNow, Scenery, first_touch},
        scenario::Outline,
    };
    use glam::{DQuat, DVec3};
    use proptest::prelude::*;

    fn near(a: f64, b: f64, tolerance: f64) {
        assert!((a - b).abs() <= tolerance, "{a} is not {b}");
    }

    /// Source: Recht and Ipson 1963, formula read second-hand; values computed
    /// from it.
    #[test]
    fn a_barrier_takes_a_constant_energy() {
        near(recht_ipson(150.0, 100.0, 1.0), 111.8034, 5e-5);
        near(recht_ipson(150.0, 100.0, 0.5 / 0.6), 93.1695, 5e-5);
        near(0.25 * (150.0_f64.powi(2) - recht_ipson(150.0, 100.0, 1.0).powi(2)), 2500.0, 1e-9);
        // With the plug: what body and plug together keep.
        near(0.3 * recht_ipson(150.0, 100.0, 0.5 / 0.6).powi(2), 2604.17, 5e-3);
    }

    /// Source: Lambert and Jonas 1976, form read second-hand; values computed
    /// from it.
    #[test]
    fn fitted_factors_and_exponents_change_what_is_left() {
        near(lambert_jonas(200.0, 120.0, 0.9, 2.5), 157.936, 5e-4);
        near(lambert_jonas(200.0, 120.0, 0.9, 2.0), 144.0, 1e-9);
        near(lambert_jonas(200.0, 120.0, 1.0, 2.0), 160.0, 1e-9);
        near(lambert_jonas(120.0, 120.0, 1.0, 2.0), 0.0, 0.0);
        near(lambert_jonas(90.0, 120.0, 1.0, 2.0), 0.0, 0.0);
    }

    /// A block that strikes a wall that moves, at some attitude.
    fn touch(turn: DVec3, spin: DVec3) -> (Body, Touch) {
        let body = Body::solid(Shape::Block { length: 0.4, width: 0.3, height: 0.1 }, 2.0);
        let outline = Outline::Rectangle { width: 20.0, height: 20.0 };
        let wall = FaceNow {
            centre: DVec3::new(2.0, 0.0, 50.0),
            normal: -DVec3::X,
            right: -DVec3::Y,
            up: DVec3::Z,
            outline,
            aim: true,
        };
        let scenery =
            Scenery { faces: vec![wall], velocity: DVec3::X * -6.0, ..Scenery::default() };
        let motion = |time: f64| {
            let attitude = DQuat::from_scaled_axis(spin * time) * DQuat::from_scaled_axis(turn);
            let velocity = DVec3::new(20.0, -3.0, 1.0);
            let position = DVec3::Z * 50.0 + velocity * time;
            State { position, velocity, attitude, rates: attitude.inverse() * spin }
        };
        let touch = first_touch(&body, &scenery, &motion, [0.0, 0.2], &[]).expect("it is aimed");
        (body, touch)
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..Default::default() })]

        #[test]
        fn a_strength_in_normal_energy_is_what_the_barrier_takes(
            turn in [-2.0..2.0, -2.0..2.0, -2.0..2.0],
            spin in [-9.0..9.0, -9.0..9.0, -9.0..9.0],
            used in 0.0..1.0,
        ) {
            let (body, touch) = touch(DVec3::from_array(turn), DVec3::from_array(spin));
            let after = behind(Demand::NormalEnergy, used, &body, &touch);
            let taken = energy(&body, &touch, &touch.state) - energy(&body, &touch, &after);
            prop_assert!((taken - used * touch.normal_energy).abs() < 1e-9 * touch.total_energy);
            let all = behind(Demand::TotalEnergy, used, &body, &touch);
            let taken = energy(&body, &touch, &touch.state) - energy(&body, &touch, &all);
            prop_assert!((taken - used * touch.total_energy).abs() < 1e-9 * touch.total_energy);
        }

        #[test]
        fn a_stronger_barrier_leaves_less(limit in 1.0..199.0, more in 0.0..50.0, exponent in 1.5..8.0) {
            let weak = lambert_jonas(200.0, limit, 1.0, exponent);
            let strong = lambert_jonas(200.0, limit + more, 1.0, exponent);
            prop_assert!(strong <= weak && weak <= 200.0);
        }
    }
}
