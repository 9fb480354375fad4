//! Energy to perforate a steel plate.
//!
//! Both formulas are fits to rigid cylinders on flat plates, square on. They
//! scatter by 25-30 % in energy, and by as much from each other. A plank, a
//! sheet or anything that crushes perforates less than they say.

use super::{
    missile::Missile,
    range::{Limit, Ranged},
};
use crate::math::{ln, pow};
use crate::note::{Kind, Note, Subject};

/// Its section of the page of trust.
const SUBJECT: Subject = Subject { key: "steel", claims: "What energy goes through steel plate" };

/// What it says of itself.
pub(crate) const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "steel plate",
    how: "the energy that perforates, by the formulas of BRL and SRI",
    source: "DOE-STD-3014 and BC-TOP-9A; Gwaltney, ORNL-NSIC-22 (1968); both from memory",
    kind: Kind::Memory,
    range: "rigid blunt missiles, end first and square on, plates of 0.1 to 0.8 of their diameter, 21 to 122 m/s",
    leaves_out: "what crushes; planks and sheets",
};

/// A flat plate of mild steel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SteelPlate {
    /// Thickness, in m.
    pub thickness: f64,
    /// Ultimate tensile strength, in Pa.
    pub strength: f64,
    /// Free span between supports, in m.
    pub span: f64,
}

/// Flow stress over ultimate strength of mild steel (from memory: it yields at
/// 0.6 to 0.75 of it, and hardens).
const FLOW: f64 = 0.75;
/// Least ratio of the radius where a sheet is held to that of the contact: nearer
/// to its rim it bends, and the membrane says nothing.
const LEAST_RIM: f64 = std::f64::consts::E;

/// Energy that dents a sheet by `depth` (m) under a contact of `diameter` (m),
/// in J: `π σ T δ²/ln(b/a)`, a rigid-plastic membrane held at a rim of half the
/// span. True within a factor of 2 (judgement).
///
/// Source: plastic membrane under a rigid boss, derived.
#[must_use]
pub fn dent(plate: &SteelPlate, diameter: f64, depth: f64) -> f64 {
    let SteelPlate { thickness, strength, span } = *plate;
    let rim = (span / diameter).max(LEAST_RIM);
    std::f64::consts::PI * FLOW * strength * thickness * depth * depth / ln(rim)
}

const BRL_LIMITS: &[Limit] = &[
    Limit { what: "plate thickness over missile diameter", low: 0.1, high: 0.6 },
    Limit { what: "striking speed (m/s)", low: 45.72, high: 121.92 },
];

/// Energy that just perforates, in J, by the formula of the Ballistic Research
/// Laboratory: `E = 1.4396e9 (d T)^1.5`. It knows neither strength nor span.
///
/// The US form `T = E^(2/3)/(672 D)` converts to 1.4396e9; 1.4e9, often
/// printed, is 2.8 % lower. Source: BRL as quoted in DOE-STD-3014 App. C and
/// BC-TOP-9A (from memory; range from memory).
#[must_use]
pub fn brl(plate: &SteelPlate, missile: &Missile) -> Ranged {
    let energy = 1.439_63e9 * pow(missile.diameter * plate.thickness, 1.5);
    let asked = [plate.thickness / missile.diameter, missile.speed];
    Ranged::new(energy, BRL_LIMITS, &asked)
}

const SRI_LIMITS: &[Limit] = &[
    Limit { what: "plate thickness over missile diameter", low: 0.1, high: 0.8 },
    Limit { what: "plate thickness over span", low: 0.002, high: 0.05 },
    Limit { what: "missile length over diameter", low: 10.0, high: 50.0 },
    Limit { what: "span over missile diameter", low: 5.0, high: 8.0 },
    Limit { what: "span over plate thickness", low: 8.0, high: 100.0 },
    Limit { what: "striking speed (m/s)", low: 21.0, high: 122.0 },
];

/// Energy that just perforates, in J, by the formula of the Stanford Research
/// Institute: `E = (d S/10.29)(42.7 T² + W T)`.
///
/// Source: Gwaltney, ORNL-NSIC-22 (1968), SI form of Corbett, Reid and Johnson
/// 1996 (from memory; range from memory).
#[must_use]
pub fn sri(plate: &SteelPlate, missile: &Missile) -> Ranged {
    let SteelPlate { thickness, strength, span } = *plate;
    let energy =
        missile.diameter * strength / 10.29 * (42.7 * thickness * thickness + span * thickness);
    let asked = [
        thickness / missile.diameter,
        thickness / span,
        missile.length / missile.diameter,
        span / missile.diameter,
        span / thickness,
        missile.speed,
    ];
    Ranged::new(energy, SRI_LIMITS, &asked)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: f64, b: f64, relative: f64) {
        assert!((a / b - 1.0).abs() <= relative, "{a} is not {b}");
    }

    const FOOT: f64 = 0.3048;
    const INCH: f64 = 0.0254;

    fn missile(mass: f64, diameter: f64, speed: f64) -> Missile {
        Missile { mass, diameter, length: 20.0 * diameter, speed }
    }

    /// Source: BRL in US units (from memory): 8 lb, 1 in rod, 317 ft/s just
    /// perforates 0.80121 in.
    #[test]
    fn a_one_inch_rod_perforates_twenty_millimetres() {
        let rod = missile(8.0 * 0.45359237, INCH, 317.0 * FOOT);
        let plate = SteelPlate { thickness: 0.80121 * INCH, strength: 4e8, span: 0.5 };
        let energy = 0.5 * rod.mass * rod.speed * rod.speed;
        near(energy, 12493.2 * 1.3558179, 1e-5);
        near(brl(&plate, &rod).value, energy, 2e-3);
    }

    /// Source: the membrane formula evaluated for 300 MPa, a rim of ten contacts,
    /// 20 mm deep: 68.8 J for 0.42 mm of sheet, 114.6 J for 0.70 mm.
    #[test]
    fn a_dent_takes_what_the_membrane_takes() {
        for (thickness, energy) in [(0.42e-3, 68.8), (0.70e-3, 114.6)] {
            let sheet = SteelPlate { thickness, strength: 400e6, span: 0.5 };
            near(dent(&sheet, 0.05, 0.02), energy, 1e-3);
        }
    }

    /// Source: BRL on corrugated roofing sheet, outside its range: 35 and 75 J at
    /// 20 mm, 280 and 602 J at 79.8 mm, the end of a plank of 50 by 100 mm; 8.9 J
    /// for the 8 mm ball of AS/NZS 1170.2 (Amdt 4, read), which carries 1.156 J.
    #[test]
    fn roofing_sheet_by_brl() {
        for (thickness, diameter, energy) in [
            (0.42e-3, 0.02, 35.0),
            (0.70e-3, 0.02, 75.0),
            (0.42e-3, 0.0798, 280.0),
            (0.70e-3, 0.0798, 602.0),
            (0.42e-3, 0.008, 8.9),
        ] {
            let sheet = SteelPlate { thickness, strength: 400e6, span: 0.5 };
            let said = brl(&sheet, &missile(1.0, diameter, 50.0));
            near(said.value, energy, 0.01);
            assert!(!said.in_range(), "thinner than a tenth of the missile");
        }
    }

    /// Source: BRL, SI form with the exact conversion (from memory).
    #[test]
    fn a_thin_plate_by_brl() {
        let plate = SteelPlate { thickness: 0.003, strength: 4e8, span: 0.5 };
        near(brl(&plate, &missile(2.0, 0.05, 50.0)).value, 2644.76, 5e-6);
    }

    /// Source: SRI (from memory): 2 in missile, 1/4 in plate of 60,000 psi over
    /// 24 in takes 11,422 J (8387.10 ft-lbf in the US form, 0.4 % less); BRL
    /// says 27 % less.
    #[test]
    fn the_two_formulas_differ_by_a_quarter_on_the_same_plate() {
        let plate =
            SteelPlate { thickness: 0.25 * INCH, strength: 60_000.0 * 6894.757, span: 24.0 * INCH };
        let rod = missile(5.0, 2.0 * INCH, 67.4);
        near(sri(&plate, &rod).value, 11422.0, 5e-5);
        near(sri(&plate, &rod).value, 8387.10 * 1.3558179, 5e-3);
        near(brl(&plate, &rod).value, 8340.8, 1e-4);
    }

    /// Source: the same formulas on a car body's sheet, where both are outside
    /// their range: 448 J and 354 J (364 J with the exact constant).
    #[test]
    fn a_body_panel_is_thinner_than_anything_tested() {
        let plate = SteelPlate { thickness: 0.0008, strength: 345e6, span: 0.3 };
        let blunt = missile(2.0, 0.05, 20.0);
        near(sri(&plate, &blunt).value, 448.0, 2e-3);
        near(brl(&plate, &blunt).value, 354.0 * 1.43963 / 1.4, 2e-3);
        assert!(!sri(&plate, &blunt).in_range() && !brl(&plate, &blunt).in_range());
        assert!(brl(&plate, &blunt).broken().any(|limit| limit.what.contains("thickness")));
    }
}
