//! Equations of motion of a rigid body in the air.
//!
//! Assumes: constant gravity, a flat ground, a rigid body with principal axes;
//! weight less the buoyancy of the displaced air; added mass where the body is
//! less than 50 times as dense as the air (foam, card), see
//! [`Body::added`]. Ignores: the rotation of the earth.

use super::State;
use crate::{
    aero::{Flow, Model},
    body::Body,
    lane::{Lane, Processor, Vector, per_flight},
    world::{Air, WindModel},
};
use glam::{DQuat, DVec3};

/// Standard gravity, in m/s².
pub const GRAVITY: f64 = 9.806_65;

/// Numbers in a state: position, velocity, attitude (x, y, z, w), rates.
pub(super) const SIZE: usize = 13;

/// A block of states, or of their rates of change.
pub(super) type Numbers<S> = [Lane<S>; SIZE];

impl State {
    /// As a row of numbers.
    pub(super) fn to_array(self) -> [f64; SIZE] {
        let (p, v, q, w) = (self.position, self.velocity, self.attitude, self.rates);
        [p.x, p.y, p.z, v.x, v.y, v.z, q.x, q.y, q.z, q.w, w.x, w.y, w.z]
    }

    /// From a row of numbers; the attitude is made a unit quaternion.
    pub(super) fn from_array(row: &[f64; SIZE]) -> Self {
        let vector = |i: usize| DVec3::new(row[i], row[i + 1], row[i + 2]);
        Self {
            position: vector(0),
            velocity: vector(3),
            attitude: DQuat::from_xyzw(row[6], row[7], row[8], row[9]).normalize(),
            rates: vector(10),
        }
    }
}

per_flight! {
    /// Mass and inertia of one flight's body.
    pub(super) struct Inertia {
        /// 1 / mass, in 1/kg.
        per_mass,
        /// Acceleration downwards: gravity less buoyancy, in m/s².
        weight,
        /// 1 / moment of inertia about x, in 1/(kg m²).
        per_x,
        /// About y.
        per_y,
        /// About z.
        per_z,
        /// `(I_y - I_z) / I_x`.
        gyro_x,
        /// `(I_z - I_x) / I_y`.
        gyro_y,
        /// `(I_x - I_y) / I_z`.
        gyro_z,
    }
}

impl Inertia {
    /// Of this body in this air.
    pub(super) fn new(body: &Body, air: &Air) -> Self {
        let (mut mass, mut i) = (body.mass, body.inertia);
        let mut weight = GRAVITY * (1.0 - air.density * body.volume() / body.mass);
        if body.is_light(air.density) {
            let added = body.added(air.density);
            weight *= mass / (mass + added.mass);
            mass += added.mass;
            i += added.inertia;
        }
        Self {
            per_mass: 1.0 / mass,
            weight,
            per_x: 1.0 / i.x,
            per_y: 1.0 / i.y,
            per_z: 1.0 / i.z,
            gyro_x: (i.y - i.z) / i.x,
            gyro_y: (i.z - i.x) / i.y,
            gyro_z: (i.x - i.y) / i.z,
        }
    }
}

/// All that a block of flights brings besides its state.
#[derive(Clone, Copy, Debug)]
pub(super) struct Given<S: Processor, M: Model, W: WindModel> {
    pub(super) inertia: Inertia<Lane<S>>,
    pub(super) model: M::Lanes<S>,
    pub(super) wind: W::Lanes<S>,
}

/// What all flights of a run share.
#[derive(Clone, Copy)]
pub(super) struct Shared<M: Model, W: WindModel> {
    pub(super) model: M::Shared,
    pub(super) wind: W::Shared,
}

impl<S: Processor, M: Model, W: WindModel> Given<S, M, W> {
    /// Puts the rate of change of a block of states in `rate`; the speed through
    /// the air and what the model calls a stray. What does not move is left
    /// alone.
    #[inline(always)]
    pub(super) fn rate(
        &self,
        shared: Shared<M, W>,
        state: &Numbers<S>,
        time: Lane<S>,
        rate: &mut Numbers<S>,
    ) -> [Lane<S>; 2] {
        let [x, y, z, vx, vy, vz, qx, qy, qz, qw, wx, wy, wz] = *state;
        let [wind_x, wind_y, wind_z] = W::velocity(shared.wind, &self.wind, [x, y, z], time);
        let relative = Vector::new(vx - wind_x, vy - wind_y, vz - wind_z);
        let (axis, rates) = (Vector::new(qx, qy, qz), Vector::new(wx, wy, wz));
        let mass = &self.inertia;

        [rate[0], rate[1], rate[2]] = [vx, vy, vz];
        if !M::TURNS {
            // Spin about its own axis leaves that axis where it is: the attitude
            // at the start serves all the while.
            let spin = if M::SPINS { rates.turned(axis, qw) } else { rates };
            let flow = Flow::new(relative, spin);
            let load = M::load(shared.model, &self.model, &flow);
            let force = load.force * mass.per_mass;
            [rate[3], rate[4], rate[5]] = [force.x, force.y, force.z - mass.weight];
            if M::SPINS {
                let brake = load.moment.turned(axis, -qw) * mass.per_x;
                [rate[10], rate[11], rate[12]] = [brake.x, brake.y, brake.z];
            }
            return [flow.speed, M::stray(shared.model, &flow)];
        }

        let flow = Flow::new(relative.turned(axis, -qw), rates);
        let load = M::load(shared.model, &self.model, &flow);
        let force = (load.force * mass.per_mass).turned(axis, qw);
        let (half_x, half_y, half_z) = (wx * 0.5, wy * 0.5, wz * 0.5);
        rate[3] = force.x;
        rate[4] = force.y;
        rate[5] = force.z - mass.weight;
        rate[6] = qw.mul_add(half_x, qy.mul_add(half_z, -(qz * half_y)));
        rate[7] = qw.mul_add(half_y, qz.mul_add(half_x, -(qx * half_z)));
        rate[8] = qw.mul_add(half_z, qx.mul_add(half_y, -(qy * half_x)));
        rate[9] = -(qx.mul_add(half_x, qy.mul_add(half_y, qz * half_z)));
        rate[10] = load.moment.x.mul_add(mass.per_x, mass.gyro_x * wy * wz);
        rate[11] = load.moment.y.mul_add(mass.per_y, mass.gyro_y * wz * wx);
        rate[12] = load.moment.z.mul_add(mass.per_z, mass.gyro_z * wx * wy);
        [flow.speed, M::stray(shared.model, &flow)]
    }
}
