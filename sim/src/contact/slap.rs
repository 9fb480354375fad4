//! What comes down on the flat of a side.

use super::{
    hull::Form,
    settle::{SMALL_HOP, lies_on_side, rocking},
};
use crate::{
    body::Body,
    flight::{GRAVITY, State},
};
use glam::DVec3;

/// The body after it slaps down flat; `None` if it does not: no side is all but
/// level, the corner that it stands on hops on, or nothing of it sinks.
///
/// All of the side comes down at once, or so soon one corner after another that
/// nothing else happens in between: every point of it comes back with
/// `restitution` times the speed at which it sank. What of the hopping and the
/// rocking is energy shrinks by the square of that; sliding, spinning and
/// rolling go on as they were.
///
/// Assumes: a hard flat side on level ground (judgement: what is left of a
/// landing once its corner is down; the air under it is left out).
#[must_use]
pub fn slap(body: &Body, state: &State, restitution: f64) -> Option<State> {
    let hull = Form::of(body).placed(state.attitude, DVec3::ZERO);
    let foot = hull.support(-DVec3::Z) - DVec3::Z * hull.radius;
    let rises = state.velocity_at(foot).z;
    if !lies_on_side(body, state) || 0.5 * rises * rises > GRAVITY * SMALL_HOP {
        return None;
    }
    let rocks = rocking(body, state);
    let swing = state.attitude * rocks;
    // Across the foot the side sinks by as much as the foot's own end rises.
    let across = foot.with_z(0.0);
    let far = state.velocity.z - swing.cross(across).z;
    (state.velocity.z < 0.0 || far < 0.0).then(|| State {
        velocity: state.velocity.with_z(-restitution * state.velocity.z),
        rates: state.rates - rocks * (1.0 + restitution),
        ..*state
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{body::Shape, contact::settles};
    use glam::DQuat;

    fn sheet() -> Body {
        Body::solid(Shape::Plate { length: 2.0, width: 1.0, thickness: 0.01 }, 15.0)
    }

    /// Tilted by 1 deg about y, turning at `rate` about y and sinking so that its
    /// lower end stays where it is.
    fn falling(rate: f64) -> State {
        let attitude = DQuat::from_rotation_y(0.0175);
        let foot = attitude * DVec3::new(1.0, 0.5, -0.005);
        let rates = DVec3::Y * rate;
        let sinks = rates.cross(foot).z;
        let velocity = DVec3::new(3.0, 0.0, -sinks);
        State { position: -foot, velocity, attitude, rates }
    }

    fn hop(body: &Body, state: &State) -> f64 {
        let level = state.velocity.with_z(0.0);
        body.kinetic_energy(state.velocity, state.rates) - body.kinetic_energy(level, DVec3::ZERO)
    }

    #[test]
    fn a_slap_leaves_the_square_of_restitution_of_the_hop() {
        let body = sheet();
        let state = falling(-0.7);
        assert!(state.velocity.z < 0.0 && !settles(&body, &state));
        let after = slap(&body, &state, 0.3).expect("it comes down flat");
        assert!((hop(&body, &after) / hop(&body, &state) - 0.09).abs() < 1e-12);
        assert!((after.velocity.x - 3.0).abs() < 1e-15);
        assert!(settles(&body, &after));
    }

    #[test]
    fn what_rises_hops_or_stands_does_not_slap() {
        let body = sheet();
        let state = falling(2.0);
        assert!(state.velocity.z > 0.0);
        assert_eq!(slap(&body, &state, 0.3), None, "it turns up about its corner");
        let state = falling(-0.7);
        let hops = State { velocity: state.velocity + DVec3::Z, ..state };
        assert_eq!(slap(&body, &hops, 0.3), None);
        let stands = State { attitude: DQuat::from_rotation_y(0.5), ..state };
        assert_eq!(slap(&body, &stands, 0.3), None);
    }
}
