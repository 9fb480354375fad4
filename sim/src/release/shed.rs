//! Off a moving carrier: loose already, or shaken loose.

use super::{
    Start, collide,
    loosen::Friction,
    point, pose,
    pulse::PulseShape,
    ride::{Ridden, Ride},
    topple::{Stance, Tipped},
    value,
};
use crate::{
    body::Body,
    flight::State,
    scenario::{CarrierWake, InputId, Jolt, JoltSize, Secured, Shed},
    world::{AirNow, Carrier, Wake},
};
use glam::{DQuat, DVec3};

/// The start: with the carrier's velocity, or with what is left of it once the
/// load comes off.
pub(super) fn start(shed: &Shed, row: &[f64], body: &Body, air: &AirNow) -> Start {
    let carrier = value(row, shed.carrier_speed);
    let position = point(row, &shed.place);
    let mut state = State {
        position,
        velocity: DVec3::new(carrier, 0.0, 0.0),
        attitude: pose::attitude(&shed.pose, row, 0.0, 0.0),
        rates: pose::rates(&shed.pose, row),
    };
    let (mut held_by, mut left, mut tips) = (0.0, carrier, false);
    if let Some(secured) = &shed.secured {
        // Through the whole jolt, the gust is that of the moment it leaves.
        let wind = air.wind_at(position, 0.0).x;
        let ride = ride(secured, row, body, carrier, air.air.density, wind);
        let out = ride.ridden();
        (held_by, left, tips) = (out.held_by, out.carrier, out.tipped != Tipped::default());
        state = ridden(&state, &out, ride.against);
    }
    let speed = state.velocity.x;
    let kept = (shed.secured.is_some() && carrier > 0.0).then(|| speed / carrier);
    let wake = shed.wake.map(|it| wake(&it, row, position, left, air));
    Start { state, held_by, tips, kept, wake }
}

/// How it leaves its ride: as fast as that says, and turned over its edge, to the front
/// where its carrier slowed down.
fn ridden(state: &State, out: &Ridden, forwards: bool) -> State {
    let sign = if forwards { 1.0 } else { -1.0 };
    let turn = DQuat::from_rotation_y(sign * out.tipped.angle);
    let attitude = turn * state.attitude;
    let spins = attitude.inverse() * DVec3::Y * (sign * out.tipped.rate);
    let [higher, rises] = out.raised;
    State {
        position: state.position + DVec3::Z * higher,
        velocity: DVec3::new(out.speed, 0.0, rises),
        attitude,
        rates: state.rates + spins,
    }
}

/// The carrier of a wake with these values, which goes on at `speed` (m/s), its
/// tail at this place (x, y, in m).
pub(crate) fn carrier(
    told: &CarrierWake,
    speed: f64,
    tail: [f64; 2],
    value: impl Fn(InputId) -> f64,
) -> Carrier {
    let height = value(told.height);
    Carrier {
        velocity: [speed, 0.0],
        tail,
        height,
        drag_area: value(told.drag_area),
        dead_air: height * value(told.dead_air),
        strength: value(told.strength),
    }
}

/// The wake of a carrier that goes on at `speed` (m/s), the one it had as the
/// load left it, with its middle line through the place of the release.
fn wake(told: &CarrierWake, row: &[f64], from: DVec3, speed: f64, air: &AirNow) -> Wake {
    let tail = [from.x - value(row, told.tail), from.y];
    let carrier = carrier(told, speed, tail, |id| value(row, id));
    Wake::behind(&carrier, air.wind.at(0.5 * carrier.height))
}

/// How a load stands with its length along the bed, if it would tip before it slides.
/// What rolls does not tip.
fn stance(body: &Body, friction: Friction) -> Option<Stance> {
    let rolls = body.shape.form().is_ball();
    let half = body.half_extents();
    let gyration_squared = body.inertia.y / body.mass;
    let stance = Stance { half_base: half.x, height: half.z, gyration_squared };
    (!rolls && stance.is_tall(friction.held)).then_some(stance)
}

fn ride<'a>(
    secured: &'a Secured,
    row: &[f64],
    body: &Body,
    carrier: f64,
    density: f64,
    wind: f64,
) -> Ride<'a> {
    let lift = secured.lift.map_or(0.0, |lift| {
        let speed_up = value(row, lift.speed_up);
        let area = body.plan_area();
        0.5 * density * value(row, lift.coefficient) * area * speed_up * speed_up
    });
    let jolt = secured.jolt.as_ref();
    let lasts = jolt.map_or(1.0, |jolt| value(row, jolt.lasts));
    let friction = Friction::of(value(row, secured.friction));
    Ride {
        shape: jolt.map_or(&PulseShape::Square, |jolt| &jolt.shape),
        peak: jolt.map_or(0.0, |jolt| peak(jolt, row, carrier, lasts)),
        lasts,
        against: jolt.is_none_or(|jolt| jolt.against),
        speed: carrier,
        mass: body.mass,
        friction,
        strength: value(row, secured.strength),
        path: value(row, secured.path),
        lift,
        wind,
        stance: stance(body, friction),
    }
}

/// The peak of a jolt, in m/s²: as told, or that of the pulse which changes the
/// carrier's speed by what the collision does.
fn peak(jolt: &Jolt, row: &[f64], carrier: f64, lasts: f64) -> f64 {
    match jolt.size {
        JoltSize::Peak(peak) => value(row, peak),
        JoltSize::Collision { carrier: mass, other, other_speed, restitution } => {
            let masses = [value(row, mass), value(row, other)];
            let speeds = [carrier, value(row, other_speed)];
            let out = collide(masses, speeds, value(row, restitution));
            (carrier - out.after[0]) / (jolt.shape.fullness() * lasts)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{body::Shape, scenario::InputId};

    /// Source: statics: base 0.6 m, mass centre at 0.75 m: 0.4.
    #[test]
    fn a_tall_load_tips_where_friction_holds_it_until_then() {
        let cupboard = Body::solid(Shape::Block { length: 0.6, width: 0.5, height: 1.5 }, 60.0);
        assert!(stance(&cupboard, Friction::of(0.41)).is_some());
        assert!(stance(&cupboard, Friction::of(0.39)).is_none(), "it slides before");
    }

    #[test]
    fn what_tips_leaves_nose_down_where_its_carrier_brakes_and_up_where_it_pulls_away() {
        let stands = State {
            position: DVec3::Z,
            velocity: DVec3::X * 20.0,
            attitude: DQuat::IDENTITY,
            rates: DVec3::X,
        };
        let out = Ridden {
            held_by: 0.0,
            speed: 21.0,
            carrier: 18.0,
            time: 1.0,
            tipped: Tipped { angle: 0.5, rate: 2.0 },
            raised: [-0.1, -0.4],
        };
        for (forwards, sign) in [(true, 1.0), (false, -1.0)] {
            let state = ridden(&stands, &out, forwards);
            assert!((state.attitude * DVec3::X).z * sign < -0.4);
            assert!((state.rates - DVec3::new(1.0, 2.0 * sign, 0.0)).length() < 1e-12);
            assert!((state.velocity - DVec3::new(21.0, 0.0, -0.4)).length() < 1e-12);
            assert!((state.position.z - 0.9).abs() < 1e-12);
        }
    }

    /// Source: momentum, by hand: 1500 kg at 20 m/s into 2000 kg at rest with
    /// restitution 0.1 goes on with 7.428571 m/s; 12.571429 m/s in 100 ms as a
    /// half sine has a peak of π/2 of its mean.
    #[test]
    fn a_collision_jolts_the_carrier_as_momentum_says() {
        let [carrier, other, other_speed, restitution] = [0, 1, 2, 3].map(InputId);
        let jolt = Jolt {
            against: true,
            shape: PulseShape::HalfSine,
            size: JoltSize::Collision { carrier, other, other_speed, restitution },
            lasts: InputId(4),
        };
        let row = [1500.0, 2000.0, 0.0, 0.1, 0.1];
        let known = 125.714_29 * std::f64::consts::FRAC_PI_2;
        assert!((peak(&jolt, &row, 20.0, 0.1) / known - 1.0).abs() < 1e-6);
    }
}
