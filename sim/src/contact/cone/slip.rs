//! Slipping on one end of the line, or both.

use super::{
    Stepped,
    line::{Air, Line, Motion},
};
use crate::{contact::Rub, flight::State};
use glam::{DQuat, DVec2, DVec3};

/// Slip below which an end sticks if friction can hold it, in m/s; friction fades below it
/// (judgement: what creeps so slowly is not seen to slip).
pub(super) const STICKS: f64 = 0.02;
/// Steps are so short that friction changes the slip by this share of it at most.
const CHANGES: f64 = 0.5;
/// How much more than a point's a cone's slip gives way to a force at one of its ends, at
/// most (of slender cones, across the line: about 5).
const GIVES_WAY: f64 = 6.0;
/// Rounds in which loads and friction find each other.
const ROUNDS: u32 = 3;

/// Rates of change, and powers.
#[derive(Clone, Copy, Debug)]
struct Rate {
    velocity: DVec3,
    turning: DVec3,
    acceleration: DVec3,
    /// About the line and the vertical.
    spin: DVec2,
    /// Of ground and air, in W.
    power: [f64; 2],
}

/// One step; `None` where an end lifts off.
pub(super) fn step(line: &Line, state: &State, air: &Air, rub: Rub, most: f64) -> Option<Stepped> {
    let now = line.motion(state);
    let slip = line.slips(&now).map(|slip| slip.length());
    let least = slip[0].min(slip[1]).max(STICKS);
    let eases = rub.friction * air.load() / line.body.mass * GIVES_WAY;
    let took = most.min(if eases > 0.0 { CHANGES * least / eases } else { most });
    let after = |rate: &Rate, time: f64| -> Motion {
        let angle = line.turns(&now) * time;
        let turn = DQuat::from_rotation_z(angle);
        let (along, across) = (turn * now.along, turn * now.across);
        let velocity = now.over_ground() + rate.acceleration * time;
        Motion {
            along,
            across,
            velocity: DVec2::new(velocity.dot(along), velocity.dot(across)),
            spin: now.spin + rate.spin * time,
        }
    };
    let a = Rate::of(line, &now, air, rub)?;
    let b = Rate::of(line, &after(&a, 0.5 * took), air, rub)?;
    let c = Rate::of(line, &after(&b, 0.5 * took), air, rub)?;
    let d = Rate::of(line, &after(&c, took), air, rub)?;
    let mean = Rate {
        velocity: (a.velocity + (b.velocity + c.velocity) * 2.0 + d.velocity) / 6.0,
        turning: (a.turning + (b.turning + c.turning) * 2.0 + d.turning) / 6.0,
        acceleration: (a.acceleration + (b.acceleration + c.acceleration) * 2.0 + d.acceleration)
            / 6.0,
        spin: (a.spin + (b.spin + c.spin) * 2.0 + d.spin) / 6.0,
        power: std::array::from_fn(|i| {
            (a.power[i] + 2.0 * (b.power[i] + c.power[i]) + d.power[i]) / 6.0
        }),
    };
    let placed =
        line.placed(state, mean.velocity * took, DQuat::from_scaled_axis(mean.turning * took));
    // The line lies where the attitude has it.
    let lies = line.motion(&placed);
    let velocity = now.over_ground() + mean.acceleration * took;
    let moves = Motion {
        velocity: DVec2::new(velocity.dot(lies.along), velocity.dot(lies.across)),
        spin: now.spin + mean.spin * took,
        ..lies
    };
    let state = line.moved(&placed, &moves);
    Some(Stepped { state, work: mean.power.map(|power| power * took), took })
}

impl Rate {
    fn of(line: &Line, motion: &Motion, air: &Air, rub: Rub) -> Option<Self> {
        let slips = line.slips(motion);
        let against = slips.map(|slip| slip * (-rub.friction / slip.length().max(STICKS)));
        let mut along = 0.0;
        let mut loads = [0.0; 2];
        for _ in 0..ROUNDS {
            loads = line.loads(motion, air, along)?;
            along = against[0].x * loads[0] + against[1].x * loads[1];
        }
        let rubs = [against[0] * loads[0], against[1] * loads[1]];
        let across = rubs[0].y + rubs[1].y;
        // It rolls on the radius that its centre of mass has.
        let fades = (motion.spin.x * line.height / STICKS).clamp(-1.0, 1.0);
        let resists = -rub.rolling * air.load() * line.height * fades;
        let moments = DVec2::new(
            line.height * across + resists + air.moment.dot(motion.along),
            line.ends[0] * rubs[0].y + line.ends[1] * rubs[1].y + air.moment.z,
        );
        let force = motion.along * along + motion.across * across;
        let (velocity, turning) = (motion.over_ground(), motion.turning());
        let rubbed = rubs[0].dot(slips[0]) + rubs[1].dot(slips[1]) + resists * motion.spin.x;
        Some(Self {
            velocity,
            turning,
            acceleration: (force + air.force.with_z(0.0)) / line.body.mass,
            spin: line.inertia.inverse() * moments,
            power: [rubbed, air.work(velocity, turning)],
        })
    }
}
