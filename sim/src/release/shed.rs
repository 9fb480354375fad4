//! Off a moving carrier: loose already, or shaken loose.

use super::{
    Start, collide,
    loosen::{Friction, tips},
    point, pose,
    pulse::PulseShape,
    ride::Ride,
    value,
};
use crate::{
    body::{Body, Shape},
    flight::{GRAVITY, State},
    scenario::{CarrierWake, InputId, Jolt, JoltSize, Secured, Shed},
    world::{AirNow, Carrier, Wake},
};
use glam::DVec3;

/// The start: with the carrier's velocity, or with what is left of it once the
/// load comes off.
pub(super) fn start(shed: &Shed, row: &[f64], body: &Body, air: &AirNow) -> Start {
    let carrier = value(row, shed.carrier_speed);
    let position = point(row, &shed.place);
    let (held_by, speed, left, tips) = match &shed.secured {
        None => (0.0, carrier, carrier, false),
        Some(secured) => {
            // Through the whole jolt, the gust is that of the moment it leaves.
            let wind = air.wind_at(position, 0.0)[0];
            let ride = ride(secured, row, body, carrier, air.air.density, wind);
            let (out, tips) = (ride.ridden(), tips_first(&ride, body));
            (out.held_by, out.speed, out.carrier, tips)
        }
    };
    let state = State {
        position,
        velocity: DVec3::new(speed, 0.0, 0.0),
        attitude: pose::attitude(&shed.pose, row, 0.0, 0.0),
        rates: pose::rates(&shed.pose, row),
    };
    let kept = (shed.secured.is_some() && carrier > 0.0).then(|| speed / carrier);
    let wake = shed.wake.map(|it| wake(&it, row, position, left, air));
    Start { state, held_by, tips, kept, wake }
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

/// Whether the jolt would tip the load over before it slides, as it lies with its
/// length along the bed: then friction holds on until it tips. What rolls does
/// not tip.
///
/// Source: statics.
fn tips_first(ride: &Ride<'_>, body: &Body) -> bool {
    let rolls = matches!(body.shape, Shape::Sphere { .. } | Shape::Irregular { .. });
    let half = body.half_extents();
    let held = ride.friction.held * GRAVITY;
    !rolls && tips(ride.peak, half.x, half.z) && tips(held, half.x, half.z)
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
    Ride {
        shape: jolt.map_or(&PulseShape::Square, |jolt| &jolt.shape),
        peak: jolt.map_or(0.0, |jolt| peak(jolt, row, carrier, lasts)),
        lasts,
        against: jolt.is_none_or(|jolt| jolt.against),
        speed: carrier,
        mass: body.mass,
        friction: Friction::of(value(row, secured.friction)),
        strength: value(row, secured.strength),
        path: value(row, secured.path),
        lift,
        wind,
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
    use crate::scenario::InputId;

    /// Source: statics: base 0.6 m, mass centre at 0.75 m: 0.4 g.
    #[test]
    fn a_tall_load_tips_where_friction_holds_it_until_then() {
        let cupboard = Body::solid(Shape::Block { length: 0.6, width: 0.5, height: 1.5 }, 60.0);
        let ride = |peak: f64, friction: f64| Ride {
            shape: &PulseShape::Square,
            peak: peak * GRAVITY,
            lasts: 1.0,
            against: true,
            speed: 20.0,
            mass: 60.0,
            friction: Friction::of(friction),
            strength: 0.0,
            path: 2.0,
            lift: 0.0,
            wind: 0.0,
        };
        assert!(tips_first(&ride(0.41, 0.45), &cupboard));
        assert!(!tips_first(&ride(0.39, 0.45), &cupboard), "a gentle brake");
        assert!(!tips_first(&ride(0.8, 0.39), &cupboard), "it slides before");
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
