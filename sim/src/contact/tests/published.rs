//! Effective mass and offered energy against worked values.

use super::{super::search::effective_mass, *};

const STILL: State = State {
    position: DVec3::ZERO,
    velocity: DVec3::ZERO,
    attitude: DQuat::IDENTITY,
    rates: DVec3::ZERO,
};

/// Source: closed form of a slender rod hit across at distance d from its
/// centre, m/(1 + 12 d²/L²) (derived): 3 kg, 1.2 m.
#[test]
fn a_rod_hit_at_its_end_offers_a_quarter_of_its_mass() {
    let body = rod(1.2, 1e-7, 3.0);
    let mass = |x: f64, normal| effective_mass(&body, &STILL, DVec3::X * x, normal);
    near(mass(0.6, DVec3::Z), 0.75, 1e-6);
    near(mass(0.3, DVec3::Z), 1.714286, 5e-7);
    near(mass(0.6, DVec3::X), 3.0, 1e-12);
}

/// Source: standard derivation of impulse-based collision, recomputed by hand
/// (2 kg, 0.4 × 0.3 × 0.1 m, hit at its corner).
#[test]
fn a_box_hit_at_its_corner_offers_less_than_its_mass() {
    let body = block(0.4, 0.3, 0.1, 2.0);
    let corner = DVec3::new(0.2, 0.15, 0.05);
    near(effective_mass(&body, &STILL, corner, DVec3::X), 0.886340, 5e-7);
    near(effective_mass(&body, &STILL, corner, DVec3::ONE.normalize()), 1.01553, 5e-6);
}

/// The same box, turned as a whole: the answer does not depend on the axes.
#[test]
fn effective_mass_turns_with_the_body() {
    let body = block(0.4, 0.3, 0.1, 2.0);
    let attitude = DQuat::from_scaled_axis(DVec3::new(0.3, -0.7, 1.1));
    let state = State { attitude, ..STILL };
    let corner = attitude * DVec3::new(0.2, 0.15, 0.05);
    near(effective_mass(&body, &state, corner, attitude * DVec3::X), 0.886340, 5e-7);
}

/// Source: 1/2 m v² cos² of the obliquity for a compact mass (derived): 1.5 kg
/// at 30 m/s, 0, 30 and 60 deg.
#[test]
fn obliquity_takes_from_the_energy_along_the_normal() {
    for (degrees, wanted) in [(0.0_f64, 675.0), (30.0, 506.25), (60.0, 168.75)] {
        let turn = DQuat::from_rotation_z(degrees.to_radians());
        let motion = Glide {
            position: DVec3::new(5.0, 0.0, 1.0) - turn * DVec3::X,
            velocity: turn * DVec3::X * 30.0,
            ..Glide::default()
        };
        let touch =
            touches(fly(&ball(0.01, 1.5), &window(5.0, 1.0, 1.0), &motion, 1.0), Surface::Face(0));
        near(touch.normal_energy, wanted, 1e-9);
        near(touch.total_energy, 675.0, 1e-9);
        near(touch.obliquity, degrees.to_radians(), 1e-12);
    }
}

/// Source: the box above at v (20, -3, 1) m/s, spin (0, 5, -10) rad/s: the
/// corner closes at 21.75 m/s (derived).
#[test]
fn spin_adds_to_the_closing_speed_of_a_corner() {
    let body = block(0.4, 0.3, 0.1, 2.0);
    let (velocity, spin) = (DVec3::new(20.0, -3.0, 1.0), DVec3::new(0.0, 5.0, -10.0));
    let corner = DVec3::new(0.2, 0.15, 0.05);
    near(State { velocity, rates: spin, ..STILL }.velocity_at(corner).x, 21.75, 1e-12);
    // In flight, turned so that this corner leads when it arrives at 0.1 s.
    let turn = DQuat::from_rotation_z(-0.3) * DQuat::from_rotation_y(0.2);
    let arm = turn * corner;
    let motion = Glide {
        position: DVec3::new(5.0 - arm.x, 0.0, 1.0) - velocity * 0.1,
        velocity,
        attitude: DQuat::from_scaled_axis(spin * -0.1) * turn,
        spin,
        ..Glide::default()
    };
    let touch = touches(fly(&body, &window(5.0, 9.0, 9.0), &motion, 1.0), Surface::Face(0));
    near(touch.time, 0.1, 1e-6);
    near(touch.closing_speed, 20.0 + 5.0 * arm.z + 10.0 * arm.y, 1e-5);
    near_all(touch.point, DVec3::new(5.0, arm.y, 1.0 + arm.z), 1e-5);
}

/// Source: 2 kg at 5 m/s forward, target at 30 m/s: 625 J in its frame if
/// both go the same way, 1225 J if opposed (derived).
#[test]
fn energy_is_counted_in_the_frame_of_what_is_hit() {
    for (speed, wanted) in [(30.0, 625.0), (-30.0, 1225.0)] {
        let behind = if speed > 0.0 { -5.0 } else { 5.0 };
        let mut scenery = window(behind, 2.0, 2.0);
        scenery.velocity = DVec3::X * speed;
        let motion = Glide { position: DVec3::Z, velocity: DVec3::X * 5.0, ..Glide::default() };
        let touch = touches(fly(&ball(0.1, 2.0), &scenery, &motion, 1.0), Surface::Face(0));
        near(touch.total_energy, wanted, 1e-9);
    }
}
