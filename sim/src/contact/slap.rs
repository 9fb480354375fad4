//! What comes down on the flat of a side.

use super::{
    Work,
    bounce::{Contact, struck},
    hull::Form,
    settle::{SMALL_HOP, lies_on_side},
    side::Side,
};
use crate::{
    body::Body,
    flight::{GRAVITY, State},
};
use glam::DVec3;

/// A point that sinks more slowly than this is down, in m/s.
const DOWN: f64 = 1e-3;
/// Blows after which what still clatters is pressed down without restitution, and at
/// most (judgement: what is left of it by then is small).
const CLATTERS: u32 = 24;
const MOST_BLOWS: u32 = 3 * CLATTERS;

/// What a slap leaves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slapped {
    /// The body just after.
    pub state: State,
    /// Sum of all impulses, world frame, in N s.
    pub impulse: DVec3,
    /// Their work.
    pub work: Work,
}

/// The body after it slaps down flat; `None` if it does not: no side is all but
/// level, the corner that it stands on hops on, or nothing of it sinks.
///
/// The side clatters down: again and again the point of it that sinks fastest takes
/// a blow, with restitution along the push and Coulomb's friction across it, until
/// none sinks. All of that happens so soon that nothing else does in between.
///
/// Assumes: a hard flat side on level ground (judgement: what is left of a
/// landing once its corner is down; the air under it is left out).
#[must_use]
pub fn slap(body: &Body, state: &State, contact: &Contact) -> Option<Slapped> {
    let hull = Form::of(body).placed(state.attitude, DVec3::ZERO);
    let foot = hull.support(-DVec3::Z) - DVec3::Z * hull.radius;
    let rises = state.velocity_at(foot).z;
    if !lies_on_side(body, state) || 0.5 * rises * rises > GRAVITY * SMALL_HOP {
        return None;
    }
    let side = Side::of(body, state.attitude);
    let mut slapped = Slapped { state: *state, impulse: DVec3::ZERO, work: Work::default() };
    let mut blows = 0;
    while blows < MOST_BLOWS {
        let arm = side.sinks(&slapped.state);
        if slapped.state.velocity_at(arm).z > -DOWN {
            break;
        }
        let restitution = if blows < CLATTERS { contact.restitution } else { 0.0 };
        let blow = Contact { restitution, ..*contact };
        let (impulse, work) = struck(body, &mut slapped.state, arm, &blow);
        slapped.impulse += impulse;
        slapped.work += work;
        blows += 1;
    }
    (blows > 0).then_some(slapped)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        body::Shape,
        contact::{
            settles,
            tests::{anything, every_shape},
        },
    };
    use glam::DQuat;
    use proptest::prelude::*;

    const ROUGH: Contact = Contact { restitution: 0.3, friction: 0.5, grip_return: 0.0 };

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

    fn energy(body: &Body, state: &State) -> f64 {
        body.kinetic_energy(state.velocity, state.rates)
    }

    /// Source: closed form of a thin bar, by hand: a blow on one end meets a quarter of
    /// its mass, and sends the other end down by half of what it gives this one.
    #[test]
    fn a_bar_that_falls_flat_clatters_as_its_ends_say() {
        let bar = Body {
            inertia: DVec3::new(1e-9, 1.0 / 12.0, 1.0 / 12.0),
            ..Body::solid(Shape::Rod { length: 1.0, diameter: 1e-9 }, 1.0)
        };
        for (restitution, front, back) in [(0.0, -0.5, 0.0), (0.5, -0.5, 0.0), (0.3, -0.4, -0.2)] {
            // About +y the front, at +x, goes down.
            let velocity = DVec3::Z * f64::midpoint(front, back);
            let (rates, attitude) = (DVec3::Y * (back - front), DQuat::IDENTITY);
            let state = State { position: DVec3::ZERO, velocity, attitude, rates };
            let smooth = Contact { restitution, friction: 0.0, grip_return: 0.0 };
            let after = slap(&bar, &state, &smooth).expect("it comes down").state;
            let mut ends = [front, back];
            while ends[0].min(ends[1]) < -DOWN {
                let i = usize::from(ends[1] < ends[0]);
                let gives = -(1.0 + restitution) * ends[i];
                ends[i] += gives;
                ends[1 - i] -= 0.5 * gives;
            }
            let [front, back] = ends;
            assert!((after.velocity.z - f64::midpoint(front, back)).abs() < 1e-7, "{after:?}");
            assert!((after.rates.y - (back - front)).abs() < 1e-7, "{after:?}");
        }
    }

    #[test]
    fn a_sheet_that_slaps_down_keeps_little_of_its_hop_and_is_rubbed() {
        let body = sheet();
        let state = falling(-0.7);
        assert!(state.velocity.z < 0.0 && !settles(&body, &state));
        let after = slap(&body, &state, &ROUGH).expect("it comes down flat");
        let level = |state: &State| 0.5 * body.mass * state.velocity.x * state.velocity.x;
        let hop = |state: &State| energy(&body, state) - level(state);
        assert!(hop(&after.state) < 0.2 * hop(&state), "{}", hop(&after.state));
        assert!(after.state.velocity.x < 3.0 - 0.01, "friction: {}", after.state.velocity);
        let rubbed = body.mass * (3.0 - after.state.velocity.x);
        assert!((rubbed - 0.5 * after.impulse.z).abs() < 0.05 * rubbed, "it slips all along");
    }

    #[test]
    fn what_rises_hops_or_stands_does_not_slap() {
        let body = sheet();
        let state = falling(2.0);
        assert!(state.velocity.z > 0.0);
        assert_eq!(slap(&body, &state, &ROUGH), None, "it turns up about its corner");
        let state = falling(-0.7);
        let hops = State { velocity: state.velocity + DVec3::Z, ..state };
        assert_eq!(slap(&body, &hops, &ROUGH), None);
        let stands = State { attitude: DQuat::from_rotation_y(0.5), ..state };
        assert_eq!(slap(&body, &stands, &ROUGH), None);
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 4000, failure_persistence: None, ..Default::default() })]

        /// Whatever slaps down, however it turns: no blow gives energy, their work is
        /// what the body loses, their sum moves it and keeps within Coulomb's limit, and
        /// nothing of it sinks any more.
        #[test]
        fn a_slap_obeys_coulomb_and_makes_no_energy(
            (body, lies) in every_shape(), from in anything(), tilt in [-0.05..0.05, -0.05..0.05],
            restitution in 0.0..1.0, friction in 0.0..1.5, turn in -3.0..3.0,
        ) {
            let tilted = DQuat::from_rotation_x(tilt[0]) * DQuat::from_rotation_y(tilt[1]);
            let attitude = tilted * DQuat::from_rotation_z(turn) * lies;
            let state = State { attitude, velocity: from.velocity.with_z(-from.velocity.z.abs()), ..from };
            // The foot of what comes from a bounce rises slowly at most.
            let foot = {
                let hull = Form::of(&body).placed(attitude, DVec3::ZERO);
                hull.support(-DVec3::Z) - DVec3::Z * hull.radius
            };
            let rises = state.velocity_at(foot).z;
            let state = State { velocity: state.velocity - DVec3::Z * rises.max(0.0), ..state };
            let contact = Contact { restitution, friction, grip_return: 0.0 };
            if let Some(Slapped { state: after, impulse, work }) = slap(&body, &state, &contact) {
                let (had, has) = (energy(&body, &state), energy(&body, &after));
                prop_assert!(work.gained <= 1e-9 * had, "{work:?} of {had} J");
                prop_assert!((has - had - work.done).abs() <= 1e-9 * had, "{work:?}: {had} J to {has} J");
                let moved = (after.velocity - state.velocity) * body.mass;
                prop_assert!((moved - impulse).length() <= 1e-9 * (1.0 + impulse.length()));
                let across = impulse.with_z(0.0).length();
                prop_assert!(across <= friction * impulse.z * (1.0 + 1e-9) + 1e-12, "{impulse}");
                let sinks = after.velocity_at(Side::of(&body, attitude).sinks(&after)).z;
                let left = -sinks / state.velocity.length().max(1.0);
                prop_assert!(left < 0.05, "{sinks} m/s");
            }
        }
    }
}
