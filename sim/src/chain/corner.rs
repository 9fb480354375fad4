//! What lies in the corner between the ground and something that stands on it.
//!
//! What slides along both at once comes back from slow blows faster than it came, as far
//! as friction pays for it ([`CORNER_REBOUND`]), so that it does so in fewer contacts; what
//! does not slip is not helped by that, and may still be cut off.
//!
//! A body that leans on both is thrown from one to the other in ever smaller hops,
//! the smallest of which never end ([`SLOWEST_REBOUND`]). It has come to rest once
//! many contacts in a row, some with each, leave it too little to rise by more than
//! the roughness of the ground, and it has come no farther in all of them.
//!
//! What it still moves with is left out, as it is of what settles on the ground;
//! resting under Coulomb's limit at two points is not solved for, so that what creeps
//! more slowly than this is said to lie.
//!
//! [`CORNER_REBOUND`]: crate::contact::bounce::CORNER_REBOUND
//! [`SLOWEST_REBOUND`]: crate::contact::bounce::SLOWEST_REBOUND

use super::Encounter;
use crate::{
    contact::{SMALL_HOP, Surface},
    flight::GRAVITY,
};

/// Contacts in a row that have to be so small (judgement).
const IN_A_ROW: usize = 16;

/// Contacts back to which another one may lie that makes this one a corner (judgement).
const LATELY: usize = 8;

/// Whether what touches this `surface` after these encounters leans on two things: of
/// ground and what stands on it, it has lately touched the other one.
pub(super) fn holds(encounters: &[Encounter], surface: Surface) -> bool {
    let grounded = surface == Surface::Ground;
    let mut lately = encounters.iter().rev().take(LATELY);
    lately.any(|it| (it.surface == Surface::Ground) != grounded)
}

/// Whether a body of this mass (kg) has come to rest in a corner, after these
/// encounters.
pub(super) fn rests(encounters: &[Encounter], mass: f64) -> bool {
    let Some(last) = encounters.last_chunk::<IN_A_ROW>() else { return false };
    let on_ground = |it: &&Encounter| it.surface == Surface::Ground;
    let grounded = last.iter().filter(on_ground).count();
    let first = last[0].position;
    (1..IN_A_ROW).contains(&grounded)
        && last.iter().all(|it| {
            it.left < mass * GRAVITY * SMALL_HOP && (it.position - first).length() < SMALL_HOP
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{chain::encounter::Kind, contact::Work};
    use glam::DVec3;
    use proptest::prelude::*;

    fn one(surface: Surface, at: f64, left: f64) -> Encounter {
        Encounter {
            time: 0.0,
            surface,
            kind: Kind::Bounced,
            position: DVec3::X * at,
            before: 0.1,
            after: 0.1,
            work: Work::default(),
            change: 0.0,
            left,
            gains: false,
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..Default::default() })]

        /// Whatever the contacts: at rest only if every one of the last is small, near
        /// the others, and both things are touched; and then also with any history.
        #[test]
        fn only_small_hops_between_both_are_a_rest(
            touches in prop::collection::vec((any::<bool>(), 0.0..0.006_f64, 0.0..0.2_f64), 0..40),
            mass in 0.1..10.0,
        ) {
            let list: Vec<_> = touches
                .iter()
                .map(|&(ground, at, left)| {
                    one(if ground { Surface::Ground } else { Surface::Solid(0) }, at, left)
                })
                .collect();
            let small = |it: &Encounter| it.left < mass * GRAVITY * SMALL_HOP;
            if rests(&list, mass) {
                let last = &list[list.len() - IN_A_ROW..];
                prop_assert!(last.iter().all(small));
                prop_assert!(last.iter().any(|it| it.surface == Surface::Ground));
                prop_assert!(last.iter().any(|it| it.surface != Surface::Ground));
                // A heavier one has less left for its weight.
                prop_assert!(rests(&list, 2.0 * mass));
            }
            let calm = (0..IN_A_ROW).map(|i| {
                one(if i % 3 == 0 { Surface::Ground } else { Surface::Face(1) }, 0.0, 1e-3 * mass)
            });
            let whole: Vec<_> = list.iter().copied().chain(calm).collect();
            prop_assert!(rests(&whole, mass));
        }
    }
}
