//! A flat rectangular sheet, free in three dimensions.
//!
//! Assumes: the flow follows the sheet's motion at once (quasi-steady); the
//! force acts along the normal with the coefficient of a square plate below
//! the stall and one by aspect ratio when face-on; the centre of pressure lies
//! ahead of the centre along the direction of the in-plane flow; rotation
//! about the two in-plane axes follows an autorotation closure each, whose power
//! is taken from the flight as drag; rotation with the flow along the axis is damped by strip theory.
//! Valid: thickness below a fifth of the width, Mach below 0.6, Reynolds
//! number above about 1e4 (sharp edges fix the separation), sheet much denser
//! than air. Ignores: bending, memory of the wake, the ground, and added mass
//! unless the sheet is light. The closure drives slow rotation too: a sheet
//! never settles square to the wind, and tumbles as it falls even where it is so
//! light that real ones flutter ([`Doubt::Flutter`](super::Doubt::Flutter)).
//!
//! The lift and torque of autorotation ([`Figure::AutorotationLift`],
//! [`Figure::AutorotationTorque`]) are open: 0.4 is remembered (Baker 2007), 2.0
//! follows from a measured mean lift of 2.2 (Smith 1970, AD0710288, abstract read).

use super::{Figure, Figures, Flow, Load, Model, face::thin_face, family};
use crate::{
    lane::{Lane, Processor, Vector, per_flight},
    math::{ln, pow},
    note::{Kind, Note, Subject},
    world::Air,
};

/// Its section of the page of trust.
pub(super) const SUBJECT: Subject =
    Subject { key: "plate", claims: "What the air does to a flat sheet" };

/// What it says of itself.
pub(super) const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "drag, lift and turning of the plate",
    how: "normal force and centre of pressure against angle of attack, strip-theory damping, autorotation lift and torque",
    source: "Holmes, Letchford & Lin, J. Wind Eng. Ind. Aerodyn. 94 (2006) 21 (from memory); face-on values from Matthews, Aeronautical Engineer's Data Book; autorotation: Baker 2007 (from memory), Smith 1970 (abstract)",
    kind: Kind::Memory,
    range: "flat stiff sheets, Reynolds numbers above 1e4, slower than Mach 0.6",
    leaves_out: "sheets that flap or break up; published lifts of autorotation differ by five, hence its unknown; trajectories of single plates differ by tens of per cent from the mean",
};

/// Slope of the normal force below the stall, per rad: 1.7 at 40 deg.
///
/// Source: Holmes, Letchford & Lin 2006, JWEIA 94:21 (from memory).
const SLOPE: f64 = 2.435_070_629_305_71;
/// sin² of 40 deg, where the sheet stalls.
const STALL: f64 = 0.413_175_911_166_535;
/// Centre of pressure of an edge-on sheet ahead of its centre, in chords.
///
/// Source: Joessel 1870, (0.195 + 0.305 sin a) from the leading edge (from
/// memory).
pub(super) const LEAD: f64 = 0.305;
/// Skin friction of both sides. Our middle of 0.01 to 0.02.
pub(super) const FRICTION: f64 = 0.015;
/// Drag of a blunt edge on its own area, as a cylinder end-on (Matthews,
/// Aeronautical Engineer's Data Book, p. 95).
const EDGE: f64 = 0.85;
/// Damping of rotation about an axis along the flow: `SLOPE` / 12, strip
/// theory of the unstalled sheet (derived).
pub(super) const ROLL: f64 = SLOPE / 12.0;

/// Tip speed over flow speed at which a sheet autorotates steadily: `aspect`
/// is span over chord, `slenderness` chord over thickness, at least 5.
///
/// Source: Iversen 1979, JFM 92:327 (formula from memory).
#[must_use]
pub(super) fn tip_ratio(aspect: f64, slenderness: f64) -> f64 {
    let l = ln(slenderness);
    let shape = aspect / (2.0 + (4.0 + aspect * aspect).sqrt())
        * (2.0 - pow(aspect / (aspect + 0.595), 0.76));
    pow(shape, 2.0 / 3.0) * (0.329 * l - 0.0246 * l * l)
}

per_flight! {
    /// One flight's sheet.
    pub struct Plate {
        /// Normal force: drag factor · ½ ρ A, in kg/m.
        normal,
        /// Normal force coefficient face-on.
        face_on,
        /// Lead of the centre of pressure, along x, in m.
        lead_x,
        /// Lead of the centre of pressure, along y, in m.
        lead_y,
        /// Skin friction, in kg/m.
        friction,
        /// Drag of the edges across x, in kg/m.
        edge_x,
        /// Drag of the edges across y, in kg/m.
        edge_y,
        /// Speed per rate that autorotation about x tends to, in m.
        tip_x,
        /// Speed per rate that autorotation about y tends to, in m.
        tip_y,
        /// Lift per rate about x and speed, in kg.
        lift_x,
        /// Lift per rate about y and speed, in kg.
        lift_y,
        /// Torque per rate about x and speed, in kg m.
        torque_x,
        /// Torque per rate about y and speed, in kg m.
        torque_y,
        /// Damping about x per rate and speed along x, in kg m.
        roll_x,
        /// Damping about y per rate and speed along y, in kg m.
        roll_y,
        /// Damping about the normal per rate and speed, in kg m.
        spin,
        /// Radius of gyration about the normal, in m.
        radius,
    }
}

impl Plate {
    /// A sheet in this air; lengths in m.
    #[must_use]
    pub fn new(
        [length, width, thickness]: [f64; 3],
        air: &Air,
        drag_factor: f64,
        figures: &Figures,
    ) -> Self {
        let (lift, torque) =
            (figures.get(Figure::AutorotationLift), figures.get(Figure::AutorotationTorque));
        let area = length * width;
        let half = 0.5 * drag_factor * air.density;
        let aspect = length.max(width) / length.min(width);
        let tip = |chord: f64, span: f64| {
            chord / (2.0 * tip_ratio(span / chord, (chord / thickness).max(5.0)))
        };
        let (tip_x, tip_y) = (tip(width, length), tip(length, width));
        let gyration = (length * length + width * width) / 12.0;
        Self {
            normal: half * area,
            face_on: thin_face(aspect),
            lead_x: LEAD * length,
            lead_y: LEAD * width,
            friction: half * area * FRICTION,
            edge_x: half * EDGE * width * thickness,
            edge_y: half * EDGE * length * thickness,
            tip_x,
            tip_y,
            lift_x: half * area * lift * tip_x,
            lift_y: half * area * lift * tip_y,
            torque_x: half * area * torque * tip_x * width,
            torque_y: half * area * torque * tip_y * length,
            roll_x: half * area * ROLL * width * width,
            roll_y: half * area * ROLL * length * length,
            spin: half * gyration * (area * FRICTION + EDGE * thickness * (length + width)),
            radius: gyration.sqrt(),
        }
    }
}

/// Normal force coefficient, signed like `sine`, from the sine of the angle
/// of attack, its square, and the coefficient face-on.
///
/// Within 0.08 of Holmes, Letchford & Lin 2006 from 44 deg up and 0.01 below 34 deg; their
/// jump at 40 deg is a smooth passage here.
#[inline(always)]
pub(super) fn normal_force<S: Processor>(
    sine: Lane<S>,
    square: Lane<S>,
    face_on: Lane<S>,
) -> Lane<S> {
    // asin(x)/x, to 0.1 % at the stall.
    let arc = square.mul_add(square.of(0.04), square.of(0.0446)).mul_add(square, square.of(0.075));
    let arc = arc.mul_add(square, square.of(1.0 / 6.0)).mul_add(square, square.of(1.0));
    let unstalled = sine * arc * SLOPE;
    let stalled = sine.below(sine.of(0.0)).select(-face_on, face_on);
    let beyond = square * (1.0 / STALL);
    let beyond2 = beyond * beyond;
    let beyond4 = beyond2 * beyond2;
    let beyond8 = beyond4 * beyond4;
    let weight = beyond8 * beyond4;
    weight.mul_add(stalled, unstalled) / (weight + 1.0)
}

impl Model for Plate {
    family!(Plate, Plate);

    type Shared = ();
    const TURNS: bool = true;

    fn shared(&self) {}

    #[inline(always)]
    fn load<S: Processor>((): (), plate: &Self::Lanes<S>, flow: &Flow<S>) -> Load<S> {
        let (u, w, speed) = (flow.velocity, flow.rates, flow.speed);
        let tiny = speed.of(1e-30);
        let (xx, yy, zz) = (u.x * u.x, u.y * u.y, u.z * u.z);
        let squared = speed * speed;
        let inverse = speed.of(1.0) / (squared + tiny);

        // Pressure: along the normal, ahead of the centre.
        let coefficient = normal_force(u.z * speed * inverse, zz * inverse, plate.face_on);
        let pressure = -(plate.normal * squared * coefficient);
        let in_plane = (xx + yy).sqrt();
        let lead = in_plane / (speed.mul_add(u.z.abs(), squared) + tiny);
        let (ahead_x, ahead_y) = (plate.lead_x * u.x * lead, plate.lead_y * u.y * lead);

        // Edges and skin: along the plane.
        let skin = plate.friction * speed;
        let along_x = plate.edge_x.mul_add(u.x.abs(), skin);
        let along_y = plate.edge_y.mul_add(u.y.abs(), skin);

        // Autorotation about each in-plane axis, driven by the flow across it.
        let (lift_x, lift_y) = (plate.lift_x * w.x, plate.lift_y * w.y);
        let across_x = (yy + zz).sqrt() - plate.tip_x * w.x.abs();
        let across_y = (xx + zz).sqrt() - plate.tip_y * w.y.abs();
        let (drive_x, drive_y) = (plate.torque_x * across_x, plate.torque_y * across_y);
        let about_x = (drive_x - plate.roll_x * u.x.abs()) * w.x;
        let about_y = (drive_y - plate.roll_y * u.y.abs()) * w.y;
        // What drives it is taken from the flight: still air gives no energy.
        let power = (drive_x * w.x).mul_add(w.x, drive_y * w.y * w.y);
        let fed = power.max(speed.of(0.0)) * inverse;
        let about_z = plate.spin * plate.radius.mul_add(w.z.abs(), speed) * w.z;

        let force = Vector::new(
            lift_y.mul_add(u.z, -((along_x + fed) * u.x)),
            -(lift_x.mul_add(u.z, (along_y + fed) * u.y)),
            lift_x.mul_add(u.y, pressure) - lift_y.mul_add(u.x, fed * u.z),
        );
        let moment =
            Vector::new(ahead_y.mul_add(pressure, about_x), about_y - ahead_x * pressure, -about_z);
        Load { force, moment }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::aero::tests::{force_and_moment, still_air};

    const SQUARE: [f64; 3] = [0.4, 0.4, 0.009];

    /// Normal force coefficient and lead of the centre of pressure in chords,
    /// at an angle of attack in deg.
    fn at(degrees: f64) -> (f64, f64) {
        let (sine, cosine) = libm::sincos(degrees.to_radians());
        let speed = 20.0;
        let plate = Plate::new(SQUARE, &still_air(), 1.0, &Figures::default());
        let (force, moment) =
            force_and_moment(plate, [speed * cosine, 0.0, speed * sine], [0.0; 3]);
        let q = 0.5 * still_air().density * speed * speed * 0.16;
        (-force.z / q, -moment.y / force.z / 0.4)
    }

    /// Source: Holmes, Letchford & Lin 2006 (from memory). Stated error 0.012,
    /// and 0.08 at 45 deg, where their stall is a jump at 40 deg.
    #[test]
    fn normal_force_follows_the_published_table() {
        let table = [
            (5.0, 0.2125),
            (10.0, 0.425),
            (20.0, 0.85),
            (30.0, 1.275),
            (45.0, 1.15),
            (60.0, 1.15),
            (90.0, 1.15),
        ];
        for (degrees, wanted) in table {
            let limit = if degrees > 44.0 && degrees < 46.0 { 0.08 } else { 0.012 };
            assert!((at(degrees).0 - wanted).abs() < limit, "{degrees}: {}", at(degrees).0);
        }
    }

    /// Source: Joessel 1870 (from memory), exact; Holmes et al. 2006 (from
    /// memory), within 0.03 chord below 60 deg.
    #[test]
    fn centre_of_pressure_follows_the_published_tables() {
        let table = [
            (5.0, 0.2784, 0.271_05),
            (10.0, 0.2520, 0.242_11),
            (20.0, 0.2007, 0.184_21),
            (30.0, 0.1525, 0.126_32),
            (45.0, 0.0893, 0.077_62),
            (60.0, 0.0409, 0.057_55),
        ];
        for (degrees, joessel, holmes) in table {
            let lead = at(degrees).1;
            assert!((lead - joessel).abs() < 1e-4, "{degrees}: {lead}");
            assert!((lead - holmes).abs() < 0.03, "{degrees}: {lead}");
        }
    }

    /// Source: Iversen 1979 (from memory), evaluated by its formula.
    #[test]
    fn the_autorotation_speed_is_that_of_the_formula() {
        let table = [
            (1.0, 10.0, 0.2851),
            (1.0, 50.0, 0.4140),
            (2.0, 20.0, 0.4745),
            (4.0, 100.0, 0.7681),
            (1e9, 50.0, 0.9106),
        ];
        for (aspect, slenderness, wanted) in table {
            assert!((tip_ratio(aspect, slenderness) - wanted).abs() < 1e-4);
        }
    }

    /// Source: closed form: at the tip ratio the closure's torque vanishes,
    /// below it drives, above it brakes.
    #[test]
    fn autorotation_settles_at_the_tip_ratio() {
        let plate = Plate::new(SQUARE, &still_air(), 1.0, &Figures::default());
        let steady = 2.0 * 12.0 * tip_ratio(1.0, 0.4 / 0.009) / 0.4;
        let torque = |rate| force_and_moment(plate, [0.0, 0.0, 12.0], [0.0, rate, 0.0]).1.y;
        assert!(torque(0.5 * steady) > 0.0 && torque(1.5 * steady) < 0.0);
        assert!(torque(steady).abs() < 1e-12);
    }

    /// Source: lift along rate × velocity (back-spin lifts), Baker 2007 (from
    /// memory). It does no work itself; what drives the spin is taken from the
    /// flight, force and moment together give no energy.
    #[test]
    fn back_spin_lifts_and_its_drive_is_paid_for() {
        let plate = Plate::new(SQUARE, &still_air(), 1.0, &Figures::default());
        let velocity = [12.0, 0.0, 0.0];
        let still = force_and_moment(plate, velocity, [0.0; 3]).0;
        let (force, moment) = force_and_moment(plate, velocity, [0.0, -5.0, 0.0]);
        let lift = force - still;
        assert!(lift.z > 0.0 && lift.x <= 0.0 && lift.y.abs() < 1e-12);
        let power = lift.x * velocity[0] - 5.0 * moment.y;
        assert!(power <= 1e-12, "{power}");
    }

    #[test]
    fn a_sheet_at_rest_feels_nothing() {
        let plate = Plate::new(SQUARE, &still_air(), 1.0, &Figures::default());
        let (force, moment) = force_and_moment(plate, [0.0; 3], [0.0; 3]);
        assert!(force.length() < 1e-20 && moment.length() < 1e-20);
    }
}
