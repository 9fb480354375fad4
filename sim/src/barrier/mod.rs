//! The resistance of a face: does the blow go through, and what comes out.
//!
//! A barrier is a lognormal fragility curve. [`met`] is this draw's strength,
//! [`Verdict::of`] weighs a touch against it and tells what is left behind the
//! face.
//!
//! Assumes a blow that is short against the motion, so that the barrier takes
//! an impulse along its normal at the contact point. Ignores ricochet, broken
//! pieces, hung-up objects and the turning of an object inside the barrier.
//! What the published strengths hold for is a rigid, compact missile that comes
//! square on: [`Verdict::oblique`] and [`Verdict::glances`] mark the others.

mod bearing;
pub mod concrete;
#[cfg(test)]
mod every;
mod footprint;
pub mod formula;
pub mod fragility;
#[cfg(test)]
mod laws;
mod missile;
mod pane;
mod polycarbonate;
mod range;
pub mod residual;
mod said;
pub mod scaling;
mod softness;
pub mod steel;

pub use crate::scenario::GIVE;

#[cfg(test)]
use self::formula::BLUNT;
pub(crate) use self::softness::NOTE as SOFTNESS_NOTE;
pub use self::{
    bearing::{Bearing, Flat},
    footprint::Footprint,
    missile::Missile,
    range::{Limit, Ranged},
};

use crate::{
    body::Body,
    contact::Touch,
    flight::State,
    math::exp,
    note::{Kind, Note, Subject},
    scenario::{Barrier, Demand},
};

/// Its section of the page of trust.
const PASSED: Subject = Subject {
    key: "tests passed",
    claims: "What a barrier that passed a standard's test withstood",
};

/// What the bound of a barrier that passed a test says of itself.
pub(crate) const PASSED_NOTE: Note = Note {
    subject: &PASSED,
    what: "test of a barrier",
    how: "the energy of the missile that it withstood: a lower bound of its strength",
    source: "the standards' own tests (second-hand)",
    kind: Kind::SecondHand,
    range: "blows like the test's",
    leaves_out: "how much stronger it is",
};

/// Obliquity beyond which strengths measured square on do not hold, in rad
/// (10 deg; judgement).
pub(crate) const SQUARE_ON: f64 = 10.0 * std::f64::consts::PI / 180.0;

/// Obliquity beyond which things glance off, in rad (60 deg; judgement).
pub(crate) const GLANCING: f64 = std::f64::consts::FRAC_PI_3;

/// A strength that was measured with one contact says little of one less than
/// half or more than twice as wide (judgement).
const CONTACT: std::ops::RangeInclusive<f64> = 0.5..=2.0;

/// What became of a blow on a barrier.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Verdict {
    /// Demand of the blow, in the barrier's own measure (J or m/s).
    pub demand: f64,
    /// This draw's resistance in the same measure.
    pub resistance: f64,
    /// Did it go through?
    pub perforates: bool,
    /// The body behind the barrier, world frame; as it struck if it did not go
    /// through.
    pub state: State,
    /// Speed behind the barrier in the face's frame, in m/s; 0 if stopped.
    pub residual_speed: f64,
    /// Kinetic energy behind the barrier, translation and rotation, in the
    /// face's frame, in J; 0 if stopped.
    pub arriving_energy: f64,
    /// Is there no bound that says that it cannot go through, such as that it
    /// takes less than a dent, or crushes first?
    pub could: bool,
    /// Did it strike more than `SQUARE_ON` from the normal, where published
    /// strengths are a guess?
    pub oblique: bool,
    /// Did it strike more than `GLANCING` from the normal, where real things
    /// glance off?
    pub glances: bool,
    /// Was the contact much smaller or larger than the one that the strength
    /// was measured with?
    pub other_contact: bool,
    /// Did the blow leave the range of the barrier's formula?
    pub extrapolated: bool,
    /// Was it harder than any shot that the strength was fitted to?
    pub beyond_shots: bool,
    /// Was what struck harder, or stiffer in its contact, than what the strength
    /// was found with?
    pub harder: bool,
}

/// What one blow meets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Met {
    /// This draw's resistance, in J or m/s.
    pub resistance: f64,
    /// The same without the bounds: what strength and formula say, in J or m/s.
    pub law: f64,
    /// Does the blow lie in the range of the barrier's formula?
    pub in_range: bool,
    /// Is there no bound that says that it cannot go through?
    pub could: bool,
}

/// What a blow meets: `median · exp(β · scatter)`, times what the barrier's formula
/// says of the blow, and as far as it carries over to it.
///
/// `row`: the draw's input values, SI.
#[must_use]
pub fn met(barrier: &Barrier, row: &[f64], body: &Body, touch: &Touch) -> Met {
    let told = told(barrier, row) * softness::carries(barrier, row, body, touch).share;
    let Some(formula) = &barrier.formula else {
        return Met { resistance: told, law: told, in_range: true, could: true };
    };
    let pressure = barrier.object.pressure(row, touch.closing_speed);
    let said = formula::energy(formula, row, (body, pressure), touch);
    let demand = demand(barrier.demand, touch);
    let (crushes, marks) = (pressure < said.punch, demand <= said.mark);
    // What crushes before it punches does so however hard it comes.
    let short = if crushes { demand * said.punch / pressure.max(1.0) } else { 0.0 };
    let law = told * said.energy;
    let resistance = law.max(said.mark).max(short);
    Met { resistance, law, in_range: said.in_range, could: !(crushes || marks) }
}

/// What this draw has of a barrier's strength before any formula: `median ·
/// exp(β · scatter)`.
#[must_use]
pub fn told(barrier: &Barrier, row: &[f64]) -> f64 {
    row[barrier.median.0] * exp(row[barrier.beta.0] * row[barrier.scatter.0])
}

/// Whether a contact is much smaller or larger than the barrier's own.
fn other_contact(barrier: &Barrier, body: &Body, touch: &Touch) -> bool {
    barrier.contact.is_some_and(|known| {
        let footprint = Footprint::of(body, touch.state.attitude, touch.normal, GIVE);
        !CONTACT.contains(&(footprint.diameter() / known))
    })
}

/// What a touch asks of a barrier, in `measure` (J or m/s).
#[must_use]
pub fn demand(measure: Demand, touch: &Touch) -> f64 {
    match measure {
        Demand::NormalEnergy => touch.normal_energy,
        Demand::TotalEnergy => touch.total_energy,
        Demand::NormalSpeed => touch.closing_speed,
    }
}

impl Verdict {
    /// Weighs the touch of `body` against `barrier` as `row` has it.
    #[must_use]
    pub fn of(barrier: &Barrier, row: &[f64], body: &Body, touch: &Touch) -> Self {
        let demand = demand(barrier.demand, touch);
        let Met { resistance, in_range, could, .. } = met(barrier, row, body, touch);
        let perforates = demand > resistance;
        let (state, left) = if perforates {
            let passed = residual::behind(barrier.demand, resistance / demand, body, touch);
            (passed, residual::energy(body, touch, &passed))
        } else {
            (touch.state, 0.0)
        };
        Self {
            demand,
            resistance,
            perforates,
            could,
            state,
            residual_speed: if perforates { residual::speed(touch, &state) } else { 0.0 },
            arriving_energy: left,
            oblique: touch.obliquity > SQUARE_ON,
            glances: touch.obliquity > GLANCING,
            other_contact: other_contact(barrier, body, touch),
            extrapolated: !in_range,
            harder: softness::carries(barrier, row, body, touch).harder,
            beyond_shots: barrier.hardest.is_some_and(|hardest| demand > hardest),
        }
    }

    /// Whether the strength was measured on blows like this one.
    #[cfg(test)]
    fn in_range(&self) -> bool {
        let other = self.other_contact || self.harder;
        !(self.oblique || other || self.extrapolated || self.beyond_shots)
    }

    /// How much was missing for a perforation, in the barrier's measure; 0 if
    /// it went through.
    #[must_use]
    pub fn margin(&self) -> f64 {
        (self.resistance - self.demand).max(0.0)
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::{body::Shape, contact::Surface, scenario::InputId};
    use glam::{DQuat, DVec3};

    /// A ball of 0.5 kg that strikes square on at 150 m/s.
    fn blow(speed: f64) -> (Body, Touch) {
        blow_of(Shape::Sphere { diameter: 0.05 }, 0.5, speed, DVec3::X)
    }

    /// A body that strikes through its centre, square on along x, with its own
    /// axis `first` in front.
    pub(crate) fn blow_of(shape: Shape<f64>, mass: f64, speed: f64, first: DVec3) -> (Body, Touch) {
        let body = Body::solid(shape, mass);
        let velocity = DVec3::X * speed;
        let state = State {
            position: DVec3::ZERO,
            velocity,
            attitude: DQuat::from_rotation_arc(first, DVec3::X),
            rates: DVec3::ZERO,
        };
        let energy = 0.5 * mass * speed * speed;
        let touch = Touch {
            surface: Surface::Face(0),
            time: 1.0,
            state,
            point: DVec3::X * 0.025,
            on_face: [0.0; 2],
            normal: -DVec3::X,
            push: -DVec3::X,
            relative_velocity: velocity,
            closing_speed: speed,
            obliquity: 0.0,
            axis_angles: [0.0; 3],
            effective_mass: mass,
            total_energy: energy,
            normal_energy: energy,
        };
        (body, touch)
    }

    pub(crate) fn barrier(demand: Demand) -> Barrier {
        let (median, beta, scatter) = (InputId(0), InputId(1), InputId(2));
        Barrier {
            demand,
            median,
            beta,
            scatter,
            formula: None,
            contact: None,
            hardest: None,
            lower_bound: false,
            tested: crate::scenario::Tested::default(),
            object: crate::scenario::MadeOf::default(),
            source: String::new(),
            valid: String::new(),
            name: String::new(),
        }
    }

    /// Source: Recht and Ipson 1963 (read second-hand): 150 m/s on a limit of
    /// 100 m/s leaves 111.8034 m/s; the barrier takes 2500 J of 0.5 kg.
    #[test]
    fn every_measure_of_strength_leaves_the_same_speed_square_on() {
        let (body, touch) = blow(150.0);
        let cases = [
            (Demand::NormalEnergy, 2500.0),
            (Demand::TotalEnergy, 2500.0),
            (Demand::NormalSpeed, 100.0),
        ];
        for (measure, median) in cases {
            let verdict = Verdict::of(&barrier(measure), &[median, 0.3, 0.0], &body, &touch);
            assert!(verdict.perforates);
            assert!((verdict.residual_speed - 111.8034).abs() < 5e-5);
            assert!((touch.total_energy - verdict.arriving_energy - 2500.0).abs() < 1e-9);
        }
    }

    #[test]
    fn a_touch_is_a_missile_of_its_footprint() {
        let (body, touch) = blow(150.0);
        let (missile, squarely) = Missile::as_deep_as(&body, &touch, 0.005);
        assert!((missile.diameter - 0.03).abs() < 1e-12, "a cap 5 mm deep of a 50 mm ball");
        assert!(squarely, "a ball has no tilt");
        assert_eq!((missile.mass, missile.speed, missile.length), (0.5, 150.0, 0.05));
        let plate = steel::SteelPlate { thickness: 0.003, strength: 4e8, span: 0.15 };
        // Deeper in, a wider contact: it takes more.
        let (deep, _) = Missile::as_deep_as(&body, &touch, 0.025);
        assert!(steel::sri(&plate, &deep).value > steel::sri(&plate, &missile).value);
        assert!(steel::brl(&plate, &deep).value > steel::brl(&plate, &missile).value);
    }

    #[test]
    fn at_the_limit_the_object_is_stopped_and_nothing_arrives() {
        let (body, touch) = blow(100.0);
        let row = [touch.normal_energy, 0.3, 0.0];
        let verdict = Verdict::of(&barrier(Demand::NormalEnergy), &row, &body, &touch);
        assert!(!verdict.perforates);
        assert_eq!((verdict.residual_speed, verdict.arriving_energy), (0.0, 0.0));
        assert!(verdict.margin().abs() < 1e-12);
    }

    #[test]
    fn a_contact_half_as_wide_is_another_blow() {
        // A cap 10 mm deep of a 50 mm ball is 40 mm wide.
        let (body, touch) = blow(50.0);
        for (known, other) in [(0.04, false), (0.079, false), (0.081, true), (0.019, true)] {
            let barrier = Barrier { contact: Some(known), ..barrier(Demand::NormalEnergy) };
            let verdict = Verdict::of(&barrier, &[100.0, 0.3, 0.0], &body, &touch);
            assert_eq!((verdict.other_contact, verdict.in_range()), (other, !other), "{known}");
        }
    }

    #[test]
    fn a_draw_one_spread_above_the_median_is_stronger_by_that_factor() {
        let row = [130.0, 0.4, 1.0];
        let (body, touch) = blow(10.0);
        let strength = met(&barrier(Demand::NormalEnergy), &row, &body, &touch).resistance;
        assert!((strength - 130.0 * exp(0.4)).abs() < 1e-12);
    }
}
