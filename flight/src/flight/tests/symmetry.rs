//! No direction of the world is special but the vertical.

use super::{
    at_deadline,
    bodies::{each_shape, flight, windy},
    moving, strict,
};
use crate::{
    flight::State,
    world::{MeanWind, Terrain},
};
use glam::{DQuat, DVec3};

fn thrown() -> State {
    State {
        attitude: DQuat::from_scaled_axis(DVec3::new(0.4, -0.9, 0.3)),
        rates: DVec3::new(3.0, -4.0, 5.0),
        ..moving([0.0, 0.0, 8.0], [22.0, 3.0, 4.0])
    }
}

const WIND: MeanWind = MeanWind { x: 6.0, y: -4.0, height: 10.0, terrain: Terrain::Open };

/// Limit 1e-7: rounding, magnified by half a second of tumbling.
#[test]
fn turning_the_world_about_the_vertical_changes_no_answer() {
    let turn = DQuat::from_rotation_z(1.1);
    for (name, body) in each_shape() {
        let still = at_deadline(flight(body, windy(WIND), thrown(), 0.5), &strict());
        let start = thrown();
        let turned = State {
            position: turn * start.position,
            velocity: turn * start.velocity,
            attitude: turn * start.attitude,
            rates: start.rates,
        };
        let wind = turn * DVec3::new(WIND.x, WIND.y, 0.0);
        let air = windy(MeanWind { x: wind.x, y: wind.y, ..WIND });
        let end = at_deadline(flight(body, air, turned, 0.5), &strict());
        assert!((end.position - turn * still.position).length() < 1e-7, "{name}");
        assert!((end.velocity - turn * still.velocity).length() < 1e-6, "{name}");
        assert!((end.rates - still.rates).length() < 1e-5, "{name}");
    }
}

#[test]
fn a_mirror_image_flies_the_mirror_image() {
    let mirrored = |v: DVec3| DVec3::new(v.x, -v.y, v.z);
    for (name, body) in each_shape() {
        let start = thrown();
        let still = at_deadline(flight(body, windy(WIND), start, 0.5), &strict());
        let q = start.attitude;
        let image = State {
            position: mirrored(start.position),
            velocity: mirrored(start.velocity),
            attitude: DQuat::from_xyzw(-q.x, q.y, -q.z, q.w),
            rates: -mirrored(start.rates),
        };
        let air = windy(MeanWind { y: -WIND.y, ..WIND });
        let end = at_deadline(flight(body, air, image, 0.5), &strict());
        assert!((end.position - mirrored(still.position)).length() < 1e-7, "{name}");
        assert!((end.rates + mirrored(still.rates)).length() < 1e-5, "{name}");
    }
}
