//! A flat round sheet across z.
//!
//! Assumes: the square sheet's ([`super::Plate`]) slope of normal force, lead
//! of the centre of pressure, autorotation and damping, taken over the chords
//! of a disc (derived by strips); Hoerner's disc face-on. A rim and a dome, up
//! along z, lift a disc that flies edge-on, turn its nose down there, and bring
//! the centre of pressure back towards the centre, as of flying discs: how much of
//! that a disc has is [`Figure::Rim`], the slope of its lift
//! [`Figure::GlideLift`], and what else turns its nose [`Figure::GlideMoment`],
//! which decides where a spinning one goes.
//! Valid: thickness below a fifth of the diameter, Mach below 0.6, Reynolds
//! number above about 1e4. Ignores: side force and moment from spin about its axis
//! (counted where it glides spinning), added mass unless it is light, bending,
//! memory of the wake, the ground.
//!
//! The autorotation factors are open, as the sheet's, and its power is taken from
//! the flight.

use super::{
    Figure, Figures, Flow, Load, Model, family,
    plate::{FRICTION, LEAD, ROLL, normal_force, tip_ratio},
    wheel::CHORD,
};
use crate::{
    lane::{Processor, Vector, per_flight},
    note::{Kind, Note, Subject},
    world::Air,
};
use core::f64::consts::PI;

/// Its section of the page of trust.
pub(super) const SUBJECT: Subject =
    Subject { key: "disc", claims: "What the air does to a flat round sheet" };

/// What it says of itself.
pub(super) const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "drag, lift and turning of the disc",
    how: "the square plate's normal force, centre of pressure, damping and autorotation, taken over the chords of a disc; with a rim and a dome, a flying disc's lift and moment edge-on",
    source: "Hoerner, Fluid-Dynamic Drag (1965): disc face-on 1.17; an open set of coefficients of golf discs; the rest as for a plate (from memory)",
    kind: Kind::Memory,
    range: "flat stiff discs thinner than a fifth of their diameter, Reynolds numbers above 1e4, slower than Mach 0.6",
    leaves_out: "side force from spin; how far it is like a flying disc (`rim`), its lift and its moment (`glide_lift`, `glide_moment`) and autorotation are open",
};

/// Normal force coefficient of a disc face-on. Source: Hoerner, Fluid-Dynamic
/// Drag (1965).
const FACE_ON: f64 = 1.17;
/// Drag of the rim on diameter times thickness, as of a short round face.
const RIM: f64 = 0.85;

/// A flying disc edge-on: lift coefficient, moment coefficient on its diameter, and
/// the lead of its pressure over a flat disc's.
///
/// Source: an open set of coefficients of four golf discs (read): lift 0.067 to
/// 0.109 and moment -0.010 to -0.023 edge-on; a slope of the moment by the sine
/// of the angle to 20 deg of 0.37 against 0.63 here.
const FLYING: [f64; 3] = [0.09, -0.018, 0.59];

per_flight! {
    /// One flight's disc.
    pub struct Disc {
        /// Normal force: drag factor · ½ ρ A, in kg/m.
        normal,
        /// Normal force coefficient face-on.
        face_on,
        /// Slope of its lift over a square sheet's.
        glide,
        /// Lead of the centre of pressure, in m.
        lead,
        /// Lift edge-on, in kg/m.
        dome,
        /// Moment edge-on, nose up, in kg.
        trim,
        /// Skin and rim, in kg/m.
        friction,
        /// Speed per rate that autorotation tends to, in m.
        tip,
        /// Lift per rate and speed, in kg.
        lift,
        /// Torque per rate and speed, in kg m.
        torque,
        /// Damping of rotation about the flow, per rate and speed, in kg m.
        roll,
        /// Damping about the axis per rate and speed, in kg m.
        spin,
        /// Radius of gyration about the axis, in m.
        radius,
    }
}

impl Disc {
    /// A disc in this air; lengths in m.
    #[must_use]
    pub fn new(
        [diameter, thickness]: [f64; 2],
        air: &Air,
        drag_factor: f64,
        figures: &Figures,
    ) -> Self {
        let figure = |figure| figures.get(figure);
        let (lift, torque) = (figure(Figure::AutorotationLift), figure(Figure::AutorotationTorque));
        let (rim, [dome, moment, lead]) = (figure(Figure::Rim), FLYING);
        let area = PI * diameter * diameter / 4.0;
        let half = 0.5 * drag_factor * air.density;
        let chord = CHORD * diameter;
        let tip = diameter / (2.0 * tip_ratio(1.0, (diameter / thickness).max(5.0)));
        Self {
            normal: half * area,
            face_on: FACE_ON,
            glide: figure(Figure::GlideLift),
            lead: LEAD * chord * (1.0 + rim * (lead - 1.0)),
            dome: half * area * rim * dome,
            trim: half * area * diameter * (rim * moment + figure(Figure::GlideMoment)),
            friction: half * (area * FRICTION + RIM * diameter * thickness),
            tip,
            lift: half * area * lift * tip,
            torque: half * area * torque * tip * chord,
            // A disc's second moment is A d²/16 where a sheet's is A c²/12.
            roll: half * area * ROLL * diameter * diameter * 12.0 / 16.0,
            spin: half * diameter * diameter / 8.0 * area * FRICTION,
            radius: diameter / 8.0_f64.sqrt(),
        }
    }
}

impl Model for Disc {
    family!(Disc, Disc);

    type Shared = ();
    const TURNS: bool = true;

    fn shared(&self) {}

    #[inline(always)]
    fn load<S: Processor>((): (), disc: &Self::Lanes<S>, flow: &Flow<S>) -> Load<S> {
        let (u, w, speed) = (flow.velocity, flow.rates, flow.speed);
        let tiny = speed.of(1e-30);
        let squared = speed * speed;
        let inverse = speed.of(1.0) / (squared + tiny);
        let in_plane = u.x.mul_add(u.x, u.y * u.y);

        // Pressure: along the normal, ahead of the centre.
        let sine = disc.glide * u.z * speed * inverse;
        let coefficient = normal_force(sine, u.z * u.z * inverse, disc.face_on);
        let pressure = -(disc.normal * squared * coefficient);
        let ahead = disc.lead * in_plane.sqrt() / (speed.mul_add(u.z.abs(), squared) + tiny);

        // Autorotation about the axis in its plane about which it turns.
        let turning = (w.x.mul_add(w.x, w.y * w.y) + tiny).sqrt();
        let along = (w.x.mul_add(u.x, w.y * u.y) / turning).abs();
        let across = (squared - along * along).max(speed.of(0.0)).sqrt();
        let drive = disc.torque * (across - disc.tip * turning);
        let driven = drive - disc.roll * along;
        // What drives it is taken from the flight: still air gives no energy.
        let fed = (drive * turning * turning).max(speed.of(0.0)) * inverse;
        let skin = disc.friction.mul_add(speed, fed);
        let about_z = disc.spin * disc.radius.mul_add(w.z.abs(), speed) * w.z;

        let lift = disc.lift;
        let force = Vector::new(
            (lift * w.y).mul_add(u.z, -(skin * u.x)),
            -((lift * w.x).mul_add(u.z, skin * u.y)),
            (lift * w.x).mul_add(u.y, disc.dome.mul_add(in_plane, pressure))
                - (lift * w.y).mul_add(u.x, fed * u.z),
        );
        let pitch = ahead.mul_add(pressure, disc.trim * speed);
        let moment =
            Vector::new(pitch.mul_add(u.y, driven * w.x), (driven * w.y) - pitch * u.x, -about_z);
        Load { force, moment }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::aero::tests::{force_and_moment, still_air};
    use glam::{DQuat, DVec3};

    const SIZE: [f64; 2] = [0.4, 0.009];

    fn disc() -> Disc {
        Disc::new(SIZE, &still_air(), 1.0, &Figures::default())
    }

    /// Source: Hoerner: disc face-on 1.17.
    #[test]
    fn face_on_it_drags_as_hoerner_says() {
        let q = 0.5 * still_air().density * 400.0 * PI * 0.04;
        let drag = force_and_moment(disc(), [0.0, 0.0, 20.0], [0.0; 3]).0.length() / q;
        assert!((drag - 1.17).abs() < 1e-4, "{drag}");
    }

    /// Source: strips of a disc (derived): the lead at small angles is 0.305 of
    /// 8/(3π) diameters.
    #[test]
    fn its_pressure_leads_by_a_quarter_of_the_diameter() {
        let (sine, cosine) = libm::sincos(1e-4);
        let (force, moment) = force_and_moment(disc(), [20.0 * cosine, 0.0, 20.0 * sine], [0.0; 3]);
        let lead = -moment.y / force.z / SIZE[0];
        assert!((lead - 0.305 * 8.0 / (3.0 * PI)).abs() < 1e-4, "{lead}");
    }

    /// Source: symmetry about the axis.
    #[test]
    fn it_has_no_front() {
        let turn = DQuat::from_rotation_z(0.9);
        let (u, w) = (DVec3::new(12.0, -3.0, 6.0), DVec3::new(4.0, 9.0, 20.0));
        let a = force_and_moment(disc(), u.to_array(), w.to_array());
        let b = force_and_moment(disc(), (turn * u).to_array(), (turn * w).to_array());
        assert!((turn * a.0 - b.0).length() < 1e-11, "{} {}", turn * a.0, b.0);
        assert!((turn * a.1 - b.1).length() < 1e-11, "{} {}", turn * a.1, b.1);
    }

    /// Source: closed form: the torque vanishes at the tip ratio whichever way
    /// it tumbles.
    #[test]
    fn autorotation_settles_at_the_tip_ratio_about_any_axis() {
        let steady = 2.0 * 12.0 * tip_ratio(1.0, SIZE[0] / SIZE[1]) / SIZE[0];
        for angle in [0.0, 0.4, 1.2] {
            let (s, c) = libm::sincos(angle);
            let torque = |rate: f64| {
                let moment = force_and_moment(disc(), [0.0, 0.0, 12.0], [rate * c, rate * s, 0.0]);
                moment.1.dot(DVec3::new(c, s, 0.0))
            };
            assert!(torque(0.5 * steady) > 0.0 && torque(1.5 * steady) < 0.0);
            assert!(torque(steady).abs() < 1e-9);
        }
    }

    #[test]
    fn a_disc_at_rest_feels_nothing() {
        let (force, moment) = force_and_moment(disc(), [0.0; 3], [0.0; 3]);
        assert!(force.length() < 1e-20 && moment.length() < 1e-20);
    }
}
