//! Whether a figure found with one missile still stands for another.
//!
//! Same target, mount and spot. That a barrier withstood one missile carries over
//! to another if the other brings no more energy along the normal, no more
//! momentum, no more pressure at the contact and no stiffer a contact (radius
//! times pressure: the peak force of what crushes is √(2E · 2πRp), so that
//! something large and soft can push harder than something small and hard). Then
//! pressure, force and impulse are no higher anywhere. That it broke never
//! carries over to something softer. Source: mechanics of a sphere that crushes
//! at constant pressure, derived.
//!
//! Something soft against its hard twin, of the same shape, mass and speed, meets
//! all four: whatever is said of the twin is a bound for it. Only a pass has to be
//! held against the very missile of its test.

use super::Bearing;
use crate::{
    body::Body,
    contact::Touch,
    note::{Kind, Note, Subject},
    scenario::{Barrier, Demand, GIVE, Hardness},
};

/// Its section of the page of trust.
const SUBJECT: Subject = Subject { key: "softness", claims: "How hard a soft missile can push" };

/// What it says of itself.
pub(crate) const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "what the object is made of",
    how: "what withstood one missile withstands another that brings no more energy, momentum, pressure and stiffness; its hard twin is a bound for what is soft",
    source: "mechanics of a sphere that crushes at constant pressure (derived); crush pressures by material (second-hand)",
    kind: Kind::SecondHand,
    range: "one piece that does not break up; a tyre that meets with its tread, not with its rim",
    leaves_out: "",
};

/// What the barrier's figure is worth against one blow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Carries {
    /// What is left of its strength: energy at which the blow has the momentum
    /// that the test had at the strength, over the strength; 1 at the most.
    pub(super) share: f64,
    /// Is the blow harder, or stiffer in its contact, than the test?
    pub(super) harder: bool,
}

/// Whether `barrier`'s figure carries over to this blow.
pub(super) fn carries(barrier: &Barrier, row: &[f64], body: &Body, touch: &Touch) -> Carries {
    let share = match (barrier.tested.mass, barrier.demand) {
        (Some(mass), Demand::NormalEnergy) if barrier.lower_bound => {
            (mass / touch.effective_mass).min(1.0)
        }
        _ => 1.0,
    };
    let harder = match barrier.hardness() {
        Hardness::Same => false,
        Hardness::Harder => true,
        Hardness::Softer if !barrier.lower_bound => false,
        Hardness::Softer => barrier.tested.diameter.is_some_and(|diameter| {
            let pressure = barrier.object.pressure(row, touch.closing_speed);
            let [least, _] = barrier.tested.stuff.gives.range();
            Bearing::of(body, touch, GIVE).most * pressure > diameter * least
        }),
    };
    Carries { share, harder }
}

#[cfg(test)]
mod tests {
    use super::{
        super::tests::{barrier, blow_of},
        *,
    };
    use crate::{
        body::Shape,
        scenario::{MadeOf, Tested, library::stuff::stuff},
    };
    use glam::DVec3;

    fn made_of(name: &str) -> MadeOf {
        let stuff = stuff(name).expect("it is listed");
        MadeOf { stuff, pressure: None, range: stuff.gives.range(), told: true }
    }

    /// Source: a pass at 50 mm ice of 31.1 m/s and 60.0 g (1.867 N s, 29.02 J) used
    /// for an apple of 75 mm and 850 kg/m³ (0.1878 kg): energy alone would allow
    /// 17.58 m/s, momentum only 9.94 m/s (derived).
    #[test]
    fn a_pass_with_ice_bounds_an_apple_by_its_momentum() {
        let apple = 850.0 * std::f64::consts::PI / 6.0 * 0.075_f64.powi(3);
        let passed = Barrier {
            lower_bound: true,
            tested: Tested {
                stuff: stuff("ice").expect("it is listed"),
                mass: Some(0.06002),
                diameter: Some(0.05),
            },
            object: made_of("fruit"),
            ..barrier(Demand::NormalEnergy)
        };
        let (body, touch) = blow_of(Shape::Sphere { diameter: 0.075 }, apple, 9.0, DVec3::X);
        let share = carries(&passed, &[], &body, &touch).share;
        let speed = |energy: f64| (2.0 * energy / apple).sqrt();
        assert!((speed(29.02) - 17.58).abs() < 0.01);
        assert!((speed(29.02 * share) - 9.94).abs() < 0.01);
    }

    #[test]
    fn what_is_harder_than_the_test_is_counted() {
        let (body, touch) = blow_of(Shape::Sphere { diameter: 0.06 }, 1.0, 9.0, DVec3::X);
        for (object, tested, harder, bound) in [
            ("hard", "hard", false, false),
            ("ice", "hard", false, true),
            ("hard", "tyre", true, false),
            ("wood", "ice", true, false),
            ("foam", "wood", false, true),
        ] {
            let tested =
                Tested { stuff: stuff(tested).expect("it is listed"), ..Tested::default() };
            let object = made_of(object);
            let one = Barrier { tested, object, ..barrier(Demand::NormalEnergy) };
            assert_eq!(carries(&one, &[], &body, &touch).harder, harder, "{one:?}");
            assert_eq!(one.is_bound(), bound, "{one:?}");
        }
    }
}
