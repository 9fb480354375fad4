//! What a published formula says of one blow: energy along the normal that
//! just goes through, for this contact at this attitude.
//!
//! The contact is the body's own section a little behind the point that comes
//! first, so that the end of a rod and the face of a sheet are different blows
//! at equal energy. Steel sheet gives far before it fails, so that a corner or a
//! tilted rim bears with more and more of itself: how wide it is in the end is
//! an input of the scenario, unknown, as is which of several formulas is right.

use super::{
    Bearing, Footprint, GIVE, Missile,
    bearing::Flat,
    concrete::{self, ConcreteWall, Nose, Perforation},
    pane,
    polycarbonate::polycarbonate,
    range::Ranged,
    said::Said,
    scaling::{self, Shot},
    steel::{self, SteelPlate},
};
use crate::{
    body::Body,
    contact::Touch,
    scenario::{Formula, InputId},
};
use std::f64::consts::PI;

/// Energy that half of the blows of a 2x4 plank go through a boarded stud wall
/// at, in J, with 12.7 mm board: a planning prior (engineering judgement).
///
/// Source: Building Science RR-0603 (read): every wall failed at 474 J.
pub(crate) const BOARD_ENERGY: f64 = 300.0;
/// Thickness that it holds for, in m (1/2 in).
pub(crate) const BOARD_THICKNESS: f64 = 0.0127;
/// Diameter of the circle as large as the end of the plank, in m.
pub(crate) const BOARD_CONTACT: f64 = 0.0657;

/// How far a steel sheet gives at the least before it fails, in m (judgement).
const DENTED: f64 = 0.005;
/// What a dent takes is known within this factor (judgement).
const DENT_DOUBT: f64 = 2.0;
/// A flat side that is tilted by less than this, in rad, is no edge: if the sheet
/// gives until all of it bears for less than it takes to go through under all of
/// it, then tilt has not helped it (judgement; line-of-sight forms of published
/// formulas, from memory, have plates take more the more a blunt missile is
/// tilted).
pub(super) const BLUNT: f64 = std::f64::consts::FRAC_PI_4;

/// Shear strength of steel over its ultimate strength: the least of what is
/// published (0.58 by von Mises, 0.6 in practice), lowered (judgement).
const STEEL_SHEAR: f64 = 0.5;
/// Shear strength of plywood and oriented strand board through their thickness,
/// the least, in Pa (from memory: 3 to 7 MPa).
const BOARD_SHEAR: f64 = 3e6;
/// Shear strength of polycarbonate, the least, in Pa (from memory: 40 to 70 MPa).
const SHEET_SHEAR: f64 = 40e6;

/// What `formula` says of the touch of `body`, which gives way at `pressure` (Pa),
/// as `row` has the barrier.
#[must_use]
pub fn energy(
    formula: &Formula,
    row: &[f64],
    (body, pressure): (&Body, f64),
    touch: &Touch,
) -> Said {
    let value = |id: InputId| row[id.0];
    let punch = |shear: f64, thickness: f64| {
        let most = Bearing::of(body, touch, GIVE).most;
        4.0 * shear * thickness / most
    };
    match *formula {
        Formula::Steel { thickness, strength, span, which, contact } => {
            let [thickness, strength, span] = [thickness, strength, span].map(value);
            let plate = SteelPlate { thickness, strength, span };
            let law = if value(which) < 0.5 { steel::brl } else { steel::sri };
            let said = sheet(&plate, law, value(contact), body, touch);
            Said { punch: punch(STEEL_SHEAR * strength, thickness), ..said }
        }
        Formula::Concrete { thickness, strength, density, reinforcement, which } => {
            let wall = ConcreteWall {
                thickness: value(thickness),
                strength: value(strength),
                density: value(density),
                reinforcement: 100.0 * value(reinforcement),
            };
            let said = wall_energy(&wall, value(which), body, touch);
            // ACI 318 in its metric form: 0.17 √f MPa (from memory).
            let shear = 0.17e6 * (wall.strength / 1e6).sqrt();
            Said { punch: punch(shear, wall.thickness), ..said }
        }
        Formula::Board { thickness } => {
            let said = board(value(thickness), body, touch);
            Said { punch: punch(BOARD_SHEAR, value(thickness)), ..said }
        }
        Formula::Pane { kind, thickness, sides } => {
            let short = value(sides[0]).min(value(sides[1]));
            pane::pane((kind, value(thickness), short), pressure, body, touch)
        }
        Formula::Polycarbonate { thickness } => {
            let (missile, squarely) = Missile::as_deep_as(body, touch, GIVE);
            let said = polycarbonate(value(thickness), &missile).only_if(squarely);
            Said { punch: punch(SHEET_SHEAR, value(thickness)), ..said }
        }
    }
}

/// Steel: at the least depth it gives to, [`DENTED`], the least can bear, and at
/// most all that is seen from the plate; `contact`, 0..=1, lies between the two.
fn sheet(
    plate: &SteelPlate,
    law: fn(&SteelPlate, &Missile) -> Ranged,
    contact: f64,
    body: &Body,
    touch: &Touch,
) -> Said {
    let takes = |diameter: f64| law(plate, &Missile::of(body, touch, diameter));
    let mut bearing = Bearing::of(body, touch, plate.thickness.max(DENTED));
    let comes_flat = |flat: &Flat| {
        flat.tilt <= BLUNT
            && steel::dent(plate, flat.diameter, flat.depth) <= takes(flat.diameter).value
    };
    if bearing.flat.as_ref().is_some_and(comes_flat) {
        bearing = bearing.with_all_of_its_side();
    }
    let said = takes(bearing.at(contact));
    let mark = steel::dent(plate, bearing.least, DENTED) / DENT_DOUBT;
    let known = said.in_range() && bearing.is_square_on();
    Said { mark, ..Said::new(said.value, known) }
}

fn wall_energy(wall: &ConcreteWall, which: f64, body: &Body, touch: &Touch) -> Said {
    let (missile, squarely) = Missile::as_deep_as(body, touch, GIVE);
    let limit = if which < 1.5 {
        let fit = if which < 0.5 { Perforation::Ndrc } else { Perforation::Degen };
        let Some(limit) = concrete::ndrc_limit(wall, &missile, Nose::Flat, fit) else {
            let energy = beyond(&missile, wall, fit);
            return Said::new(energy, false);
        };
        limit
    } else if which < 2.5 {
        concrete::cea_edf_limit(wall, &missile)
    } else {
        let footprint = Footprint::of(body, touch.state.attitude, touch.normal, GIVE);
        // No outline of the area that bears is shorter than its circle.
        let perimeter = footprint.perimeter.max(PI * missile.diameter);
        concrete::ukaea_limit(wall, &missile, perimeter)
    };
    let energy = 0.5 * missile.mass * limit.value * limit.value;
    Said::new(energy, limit.in_range() && squarely)
}

/// Where the fit ends the CEA-EDF limit stands, or the fit's own at its end if
/// that is more: an extrapolation, and counted as one.
fn beyond(missile: &Missile, wall: &ConcreteWall, fit: Perforation) -> f64 {
    let end = ConcreteWall { thickness: concrete::THICKEST * missile.diameter, ..*wall };
    let own = concrete::ndrc_limit(&end, missile, Nose::Flat, fit).map_or(0.0, |own| own.value);
    let limit = concrete::cea_edf_limit(wall, missile).value.max(own);
    0.5 * missile.mass * limit * limit
}

/// The prior for one board, moved to another thickness and contact.
///
/// Source: De Marre 1890 (read second-hand), `V ∝ d^0.75 T^0.7 m^-0.5`, hence
/// `E ∝ d^1.5 T^1.4`, and the blow's mass drops out.
fn board(thickness: f64, body: &Body, touch: &Touch) -> Said {
    let (missile, squarely) = Missile::as_deep_as(body, touch, GIVE);
    let from = Shot { mass: missile.mass, diameter: BOARD_CONTACT, thickness: BOARD_THICKNESS };
    let to = Shot { mass: missile.mass, diameter: missile.diameter, thickness };
    let over = scaling::de_marre(1.0, &from, &to);
    let in_range = scaling::near_enough(&from, &to) && squarely;
    Said::new(BOARD_ENERGY * over * over, in_range)
}

#[cfg(test)]
mod tests {
    use super::{super::tests::blow_of, *};
    use crate::{body::Shape, math::exp};
    use glam::DVec3;

    const HARD: f64 = f64::INFINITY;
    const ROD: Shape<f64> = Shape::Rod { length: 1.2, diameter: 0.05 };

    /// A rod of 3 kg, square on at 30 m/s, end first or flat.
    fn rod(into: DVec3) -> (Body, Touch) {
        blow_of(ROD, 3.0, 30.0, into)
    }

    /// Source: BRL, SI form with the exact conversion (from memory): 1.43963e9
    /// (d T)^1.5 J with d 50 mm, T 3 mm: 2644.76 J; a prism of 24 sides stands
    /// for the rod.
    #[test]
    fn the_end_of_a_rod_meets_the_plate_that_the_formula_knows() {
        let row = [0.003, 4e8, 0.3, 0.0, 0.5];
        let [thickness, strength, span, which, contact] = [0, 1, 2, 3, 4].map(InputId);
        let steel = Formula::Steel { thickness, strength, span, which, contact };
        let (body, touch) = rod(DVec3::X);
        let said = energy(&steel, &row, (&body, HARD), &touch);
        assert!((said.energy / 2644.76 - 1.0).abs() < 0.02, "{said:?}");
        // Slower than the tests behind it.
        assert!(!said.in_range);
        // Source: SRI (from memory): d S/10.29 (42.7 T² + W T).
        let sri = energy(&steel, &[0.003, 4e8, 0.3, 1.0, 0.5], (&body, HARD), &touch);
        let known = 0.05 * 4e8 / 10.29 * (42.7 * 9e-6 + 0.3 * 0.003);
        assert!((sri.energy / known - 1.0).abs() < 0.01, "{sri:?}");
    }

    /// Equal energy, another contact: flat on, a rod meets far more of the
    /// board than with its end.
    #[test]
    fn a_rod_flat_on_takes_more_to_go_through_than_end_on() {
        let board = Formula::Board { thickness: InputId(0) };
        let [end, flat] = [DVec3::X, DVec3::Z].map(|into| {
            let (body, touch) = rod(into);
            energy(&board, &[0.0127], (&body, HARD), &touch)
        });
        // d 50 mm for 65.7 mm: (0.761)^1.5.
        assert!((end.energy / (300.0 * 0.664) - 1.0).abs() < 0.02, "{end:?}");
        assert!(end.in_range && !flat.in_range);
        assert!(flat.energy > 5.0 * end.energy, "{flat:?} and {end:?}");
        let (body, touch) = rod(DVec3::X);
        let thick = energy(&board, &[0.0254], (&body, HARD), &touch).energy;
        assert!((thick / end.energy / exp(1.4 * std::f64::consts::LN_2) - 1.0).abs() < 1e-9);
    }

    /// Source: CEA-EDF (from memory): 20 kg, 100 mm, 30 MPa, 0.2 m has a limit
    /// of 89.103 m/s; a prism of 24 sides for the rod, 1 % in area.
    #[test]
    fn a_wall_takes_the_energy_of_its_limit_whichever_formula_is_right() {
        let shape = Shape::Rod { length: 0.5, diameter: 0.1 };
        let (body, touch) = blow_of(shape, 20.0, 60.0, DVec3::X);
        let [thickness, strength, density, reinforcement, which] = [0, 1, 2, 3, 4].map(InputId);
        let wall = Formula::Concrete { thickness, strength, density, reinforcement, which };
        let said = |which: f64, thickness: f64| {
            energy(&wall, &[thickness, 30e6, 2400.0, 0.01, which], (&body, HARD), &touch)
        };
        let cea = said(2.0, 0.2);
        assert!(cea.in_range);
        assert!((cea.energy / (10.0 * 89.103 * 89.103) - 1.0).abs() < 0.02, "{cea:?}");
        for which in 0..4 {
            let of = |thickness| said(f64::from(which), thickness);
            assert!(of(0.3).energy > of(0.2).energy, "formula {which}");
            assert!(of(0.2).energy > 1e4 && of(0.2).energy < 2e5, "formula {which}");
        }
        assert!(!said(0.0, 3.0).in_range, "thicker than the fit reaches");
    }
}
