//! What the ground does to a leaning body, and one step of its motion.

use super::{
    Rub, STILL,
    rim::{Foot, Rim},
};
use crate::{
    contact::{
        Work,
        fault::{Law, share},
        work::strike_from,
    },
    flight::{Flight, GRAVITY, State},
};
use glam::{DMat3, DQuat, DVec3};

/// Turning below which rolling resistance fades, in rad/s: what stands still is
/// not driven.
const FADES: f64 = 0.05;
/// Where a push with its friction lifts the foot by less than this share of what
/// it does without, the foot jams: it is stopped dead and grips, whatever
/// friction could bear (judgement).
///
/// Source: an impact without collision, as P. Painlevé's sliding rod takes it
/// (from memory).
const JAMS: f64 = 0.1;

/// The ground and the air during one step.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ground<'f> {
    flight: &'f Flight,
    rim: Rim,
    rub: Rub,
    /// Force (N) and moment (N m) of the air, world frame.
    air: [DVec3; 2],
}

/// How the ground holds the foot during one step.
#[derive(Clone, Copy, Debug)]
pub(super) struct Push {
    hold: Hold,
    /// The load, in N; > 0.
    load: f64,
    /// In what time the slip changes by as much as it is, in s.
    slips: f64,
    /// Whether it grows less.
    slows: bool,
}

#[derive(Clone, Copy, Debug)]
enum Hold {
    Grips,
    /// Grips once it is stopped.
    Jams,
    /// With the way friction points while there is no slip to tell.
    Slips(DVec3),
}

impl Push {
    pub(super) fn grips(&self) -> bool {
        matches!(self.hold, Hold::Grips | Hold::Jams)
    }

    pub(super) fn jams(&self) -> bool {
        matches!(self.hold, Hold::Jams)
    }

    /// Whether it slips ever more slowly.
    pub(super) fn slows(&self) -> bool {
        self.slows
    }

    /// The load, in N.
    pub(super) fn load(&self) -> f64 {
        self.load
    }

    /// Time in which the slip, and with it the way friction points, changes by a
    /// `share` of what it is, in s.
    pub(super) fn turns(&self, share: f64) -> f64 {
        share * self.slips
    }
}

/// What stands before the ground's force is known.
struct Free {
    foot: Foot,
    /// Velocity of the body at the foot, in m/s.
    slip: DVec3,
    /// Its rate of change without the ground's force, in m/s².
    drift: DVec3,
    /// Its rate of change per force, in 1/kg.
    mobility: DMat3,
    acceleration: DVec3,
    /// Of the rates, body frame, in rad/s².
    turning: DVec3,
    /// Moment of rolling resistance, world frame, in N m.
    brake: DVec3,
    spin: DVec3,
}

impl<'f> Ground<'f> {
    pub(super) fn new(flight: &'f Flight, rim: Rim, rub: Rub, state: &State, time: f64) -> Self {
        // No air goes up or down where the ground is.
        let wind = flight.air.wind_at(state.position, time).with_z(0.0);
        let relative = state.attitude.inverse() * (state.velocity - wind);
        let (force, moment) = flight.coefficients.load(relative, state.rates);
        let air = [state.attitude * force, state.attitude * moment];
        Self { flight, rim, rub, air }
    }

    /// Height of the centre of mass while the foot is on the ground, in m.
    pub(super) fn rests_at(&self, state: &State) -> f64 {
        self.rim.height(state.attitude)
    }

    /// Velocity of the body at its foot over the ground, in m/s.
    pub(super) fn slip(&self, state: &State) -> DVec3 {
        let foot = self.rim.foot(state.attitude, state.attitude * state.rates);
        state.velocity_at(foot.arm)
    }

    /// How the ground holds the body at the beginning of a step; `None` where
    /// it lifts off.
    pub(super) fn push(&self, state: &State) -> Option<Push> {
        // The load brakes the rolling, which hardly changes the load.
        let weight = self.flight.body.mass * GRAVITY;
        let free = self.free(state, weight);
        let level = free.slip.with_z(0.0);
        let grip = free.grip();
        let tangent = grip.with_z(0.0);
        let grips = tangent.length() <= self.rub.friction * grip.z;
        if level.length() < STILL && grips {
            return (grip.z > 0.0).then_some(Push {
                hold: Hold::Grips,
                load: grip.z,
                slips: f64::INFINITY,
                slows: false,
            });
        }
        let along = tangent.normalize_or_zero();
        if free.response(free.rubbing(self.rub.friction, along)) < free.least_response() {
            return (grip.z > 0.0).then_some(Push {
                hold: Hold::Jams,
                load: grip.z,
                slips: f64::INFINITY,
                slows: false,
            });
        }
        let force = free.slipping(self.rub.friction, along)?;
        let change = (free.drift + free.mobility * force).with_z(0.0);
        // Friction turns with the slip: what it could do alone bounds the step, and
        // from rest the first step is a short one.
        let rubs = (free.mobility * force.with_z(0.0)).with_z(0.0);
        let slips = level.length().max(STILL) / change.length().max(rubs.length());
        let slows = level.length() >= STILL && change.dot(level) < 0.0;
        Some(Push { hold: Hold::Slips(along), load: force.z, slips, slows })
    }

    /// Takes from the body what its foot has of velocity into the ground, and
    /// of slip if it is `held`; the work of that.
    pub(super) fn stop(&self, state: &mut State, held: bool) -> Work {
        let arm = self.rim.foot(state.attitude, DVec3::ZERO).arm;
        let mobility = self.mobility(state, arm);
        let slip = state.velocity_at(arm);
        let impulse = if held {
            mobility.inverse() * -slip
        } else {
            DVec3::Z * (-slip.z / mobility.z_axis.z)
        };
        strike_from(&self.flight.body, state, arm, impulse, [slip, DVec3::ZERO])
    }

    /// Change of the foot's velocity per impulse at it, in 1/kg: that of
    /// [`crate::contact::bounce`], for what is round about one axis.
    #[inline]
    fn mobility(&self, state: &State, arm: DVec3) -> DMat3 {
        let body = &self.flight.body;
        let axis = self.rim.axis;
        let [along, across] = [body.inertia[axis], body.inertia[(axis + 1) % 3]];
        let turned = (state.attitude * DVec3::AXES[axis]).cross(arm);
        let (per_across, more) = (1.0 / across, 1.0 / along - 1.0 / across);
        let rows = |i: usize| {
            DVec3::AXES[i] * (1.0 / body.mass + per_across * arm.length_squared())
                - arm * (per_across * arm[i])
                + turned * (more * turned[i])
        };
        DMat3::from_cols(rows(0), rows(1), rows(2))
    }

    #[inline]
    fn free(&self, state: &State, load: f64) -> Free {
        let body = &self.flight.body;
        let [force, moment] = self.air;
        let spin = state.attitude * state.rates;
        let foot = self.rim.foot(state.attitude, spin);
        let resists = self.rub.rolling * load * self.rim.thickness();
        let brake = spin * (-resists / spin.length().max(FADES)) * share(Law::Brakes);
        let acceleration = force / body.mass - DVec3::Z * GRAVITY;
        let back = state.attitude.inverse();
        let gyro = state.rates.cross(body.inertia * state.rates);
        let turning = (back * (moment + brake) - gyro) / body.inertia;
        Free {
            foot,
            slip: state.velocity + spin.cross(foot.arm),
            drift: acceleration
                + (state.attitude * turning).cross(foot.arm)
                + spin.cross(foot.moves),
            mobility: self.mobility(state, foot.arm),
            acceleration,
            turning,
            brake,
            spin,
        }
    }
}

impl Free {
    /// The force that keeps the foot where it is.
    #[inline]
    fn grip(&self) -> DVec3 {
        self.mobility.inverse() * -self.drift
    }

    /// A push of one with the friction on a foot that slips; `along`: which way
    /// friction points where there is no slip.
    #[inline]
    fn rubbing(&self, friction: f64, along: DVec3) -> DVec3 {
        let level = self.slip.with_z(0.0);
        let against = if level.length() > 1e-3 * STILL { -level.normalize() } else { along };
        DVec3::Z + against * friction
    }

    /// How a force lifts the foot, in 1/kg.
    #[inline]
    fn response(&self, force: DVec3) -> f64 {
        (self.mobility * force).z
    }

    /// Below this it jams, in 1/kg.
    #[inline]
    fn least_response(&self) -> f64 {
        JAMS * self.mobility.z_axis.z
    }

    /// The force on a foot that slips, see [`Self::rubbing`]; `None` where the ground does not
    /// press.
    #[inline]
    fn slipping(&self, friction: f64, along: DVec3) -> Option<DVec3> {
        let direction = self.rubbing(friction, along);
        let load = -self.drift.z / self.response(direction).max(self.least_response());
        (load > 0.0).then_some(direction * load)
    }
}

/// Rate of change of a state, and the powers at which work is done on it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rate {
    velocity: DVec3,
    acceleration: DVec3,
    /// Of the attitude's four numbers.
    attitude: DQuat,
    turning: DVec3,
    /// Of the ground and of the air, in W.
    power: [f64; 2],
}

impl Rate {
    fn of(ground: &Ground<'_>, push: &Push, state: &State) -> Self {
        let body = &ground.flight.body;
        let free = ground.free(state, push.load);
        let force = match push.hold {
            Hold::Grips | Hold::Jams => free.grip(),
            Hold::Slips(along) => free.slipping(ground.rub.friction, along).unwrap_or(DVec3::ZERO),
        } * share(Law::Leans);
        let turn = state.attitude.inverse() * free.foot.arm.cross(force) * share(Law::Tilts);
        let [wind, moment] = ground.air;
        let rates = DQuat::from_xyzw(state.rates.x, state.rates.y, state.rates.z, 0.0);
        Self {
            velocity: state.velocity,
            acceleration: free.acceleration + force / body.mass,
            attitude: (state.attitude * rates) * 0.5,
            turning: free.turning + turn / body.inertia,
            power: [
                force.dot(free.slip) + free.brake.dot(free.spin),
                wind.dot(state.velocity) + moment.dot(free.spin),
            ],
        }
    }

    #[inline]
    fn after(&self, state: &State, step: f64) -> State {
        State {
            position: state.position + self.velocity * step,
            velocity: state.velocity + self.acceleration * step,
            attitude: (state.attitude + self.attitude * step).normalize(),
            rates: state.rates + self.turning * step,
        }
    }

    /// The state after a step (s), and the work that ground and air did on the way (J).
    ///
    /// Source: the classical fourth-order rule of Runge and Kutta.
    pub(super) fn step(
        ground: &Ground<'_>,
        push: &Push,
        state: &State,
        step: f64,
    ) -> (State, [f64; 2]) {
        let half = 0.5 * step;
        let a = Self::of(ground, push, state);
        let b = Self::of(ground, push, &a.after(state, half));
        let c = Self::of(ground, push, &b.after(state, half));
        let d = Self::of(ground, push, &c.after(state, step));
        let mean = Self {
            velocity: (a.velocity + (b.velocity + c.velocity) * 2.0 + d.velocity) / 6.0,
            acceleration: (a.acceleration
                + (b.acceleration + c.acceleration) * 2.0
                + d.acceleration)
                / 6.0,
            attitude: (a.attitude + (b.attitude + c.attitude) * 2.0 + d.attitude) * (1.0 / 6.0),
            turning: (a.turning + (b.turning + c.turning) * 2.0 + d.turning) / 6.0,
            power: std::array::from_fn(|i| {
                (a.power[i] + 2.0 * (b.power[i] + c.power[i]) + d.power[i]) / 6.0
            }),
        };
        (mean.after(state, step), mean.power.map(|power| power * step))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        body::{Body, Shape},
        contact::{bounce::mobility, lean::tests::flight},
    };

    #[test]
    fn the_round_body_gives_way_as_any_body_does() {
        let body = Body::solid(Shape::Tube { length: 0.8, diameter: 0.3, wall: 0.01 }, 7.0);
        let state = State {
            position: DVec3::Z,
            velocity: DVec3::X,
            attitude: DQuat::from_scaled_axis(DVec3::new(0.3, -1.2, 0.7)),
            rates: DVec3::ZERO,
        };
        let flight = flight(body);
        let rim = Rim { axis: 0, offset: 0.4, radius: 0.15, round: 0.0 };
        let rub = Rub { friction: 0.5, rolling: 0.0 };
        let ground = Ground::new(&flight, rim, rub, &state, 0.0);
        let arm = rim.foot(state.attitude, DVec3::ZERO).arm;
        let gap = ground.mobility(&state, arm) - mobility(&body, &state, arm);
        let largest = gap.to_cols_array().into_iter().fold(0.0, |most: f64, x| most.max(x.abs()));
        assert!(largest < 1e-12, "{gap}");
    }
}
