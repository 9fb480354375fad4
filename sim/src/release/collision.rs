//! Two bodies meet: what each gains and what is lost.
//!
//! One impulse along one line, no friction across it. Whoever rides in what
//! is struck is hardly hurt by the few tenths of a metre per second that a thrown
//! object gives it; what comes through to them may hurt.

use crate::body::Body;
use glam::{DQuat, DVec3};

/// The outcome of a straight collision.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Collision {
    /// Velocities after it, first and second body, in m/s.
    pub after: [f64; 2],
    /// Impulse on the second body, in N s.
    pub impulse: f64,
    /// Energy lost, in J.
    pub lost: f64,
}

/// Two bodies of `masses` (kg) that move along one line with `velocities`
/// (m/s), the first behind the second.
///
/// `restitution`: 0 (they stay together) to 1. Bodies that do not close stay as
/// they are.
///
/// Source: conservation of momentum, standard derivation.
///
/// # Examples
///
/// ```
/// use longodds_sim::release::collide;
///
/// // Equal masses, elastic: they swap their velocities.
/// let out = collide([2.0, 2.0], [3.0, 0.0], 1.0);
/// assert_eq!(out.after, [0.0, 3.0]);
/// ```
#[must_use]
pub fn collide(masses: [f64; 2], velocities: [f64; 2], restitution: f64) -> Collision {
    let ([m1, m2], [u1, u2]) = (masses, velocities);
    let closing = u1 - u2;
    if closing <= 0.0 {
        return Collision { after: velocities, impulse: 0.0, lost: 0.0 };
    }
    let reduced = m1 * m2 / (m1 + m2);
    let impulse = (1.0 + restitution) * closing * reduced;
    Collision {
        after: [u1 - impulse / m1, u2 + impulse / m2],
        impulse,
        lost: 0.5 * reduced * closing * closing * (1.0 - restitution * restitution),
    }
}

/// Effective mass at a contact between two bodies that are both free, in kg:
/// what ½ m v² of the closing speed offers.
///
/// For each: the body, its attitude, and the contact point from its centre of
/// mass, in m. `normal`: of the contact, unit, either way.
#[must_use]
pub fn shared_mass(bodies: [(&Body, DQuat, DVec3); 2], normal: DVec3) -> f64 {
    let mobility = |(body, attitude, arm): (&Body, DQuat, DVec3)| {
        let turn = attitude.inverse() * arm.cross(normal);
        1.0 / body.mass + turn.dot(turn / body.inertia)
    };
    1.0 / bodies.into_iter().map(mobility).sum::<f64>()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::body::Shape;

    fn near(a: f64, b: f64, tolerance: f64) {
        assert!((a - b).abs() <= tolerance, "{a} is not {b}");
    }

    /// Source: OpenStax College Physics, collisions: a goalie of 70 kg catches
    /// a puck of 0.150 kg at 35.0 m/s (read): 7.48e-2 m/s.
    #[test]
    fn a_goalie_barely_moves() {
        let out = collide([0.15, 70.0], [35.0, 0.0], 0.0);
        near(out.after[1], 7.48e-2, 5e-5);
        near(out.after[0], out.after[1], 1e-12);
        near(out.lost, 91.6785, 5e-5);
    }

    /// Source: OpenStax College Physics (inputs read), result derived: 0.5 kg
    /// at 4 m/s on 3.5 kg at rest, elastic.
    #[test]
    fn a_light_cart_bounces_off_a_heavy_one() {
        let out = collide([0.5, 3.5], [4.0, 0.0], 1.0);
        near(out.after[0], -3.0, 1e-12);
        near(out.after[1], 1.0, 1e-12);
        near(out.lost, 0.0, 1e-12);
    }

    /// Source: conservation of momentum, by hand.
    #[test]
    fn cars_and_objects_share_their_momentum() {
        let cars = collide([1500.0, 2000.0], [20.0, 0.0], 0.1);
        near(cars.after[0], 7.428_571, 5e-7);
        near(cars.after[1], 9.428_571, 5e-7);
        near(cars.lost, 169_714.3, 0.05);
        let object = collide([5.0, 1500.0], [25.0, -25.0], 0.0);
        near(object.after[1] + 25.0, 0.166_113, 5e-7);
        near(object.lost, 6229.2, 0.05);
        near(collide([1.0, 1.0], [1.0, 2.0], 0.5).impulse, 0.0, 0.0);
    }

    /// Source: effective masses in series, by hand: a box of 2 kg hit at its
    /// corner against 5 kg hit through its centre.
    #[test]
    fn a_free_target_offers_less_than_a_wall() {
        let moving = Body::solid(Shape::Block { length: 0.4, width: 0.3, height: 0.1 }, 2.0);
        let target = Body::solid(Shape::Sphere { diameter: 0.2 }, 5.0);
        let corner = (&moving, DQuat::IDENTITY, DVec3::new(0.2, 0.15, 0.05));
        let centre = (&target, DQuat::IDENTITY, DVec3::X * -0.1);
        near(shared_mass([corner, centre], DVec3::X), 0.752_879, 5e-7);
    }
}
