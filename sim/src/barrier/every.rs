//! What every barrier has in common, by name and by formula.

use super::{Verdict, tests::blow_of};
use crate::{
    body::Shape,
    contact::Touch,
    scenario::{Demand, Scenario, library, parse},
};
use glam::DVec3;
use proptest::prelude::*;
use std::path::Path;

const FORMULAS: [&str; 6] = [
    "{steel: {thickness: 3 mm, span: 30 cm}}",
    "{concrete: {thickness: 15 cm, strength: 30 MPa}}",
    "{board: {thickness: 12 mm}, spread: 0.5}",
    "{polycarbonate: {thickness: 4 mm}}",
    "{pane: {kind: annealed, thickness: 6 mm}}",
    "{pane: {kind: toughened, thickness: 10 mm}}",
];

fn behind(barrier: &str) -> Scenario {
    let text = format!(
        "claim: A billet goes through.\n\
         object: {{shape: {{sphere: {{diameter: 60 mm}}}}, mass: 1 kg}}\n\
         release: {{launched: {{height: 1 m, speed: 20 m/s}}}}\n\
         target:\n  stands: {{at: 3 m}}\n  faces:\n    \
         face: {{centre: [0 m, 0 m, 1 m], width: 1 m, height: 1 m, aim: true, barrier: {barrier}}}\n\
         chain: [released, reaches, strikes, perforates]\n"
    );
    parse(&text, Path::new("")).unwrap_or_else(|problems| panic!("{barrier}: {problems:#?}"))
}

pub(super) fn scenarios() -> Vec<Scenario> {
    let named = library::library().map(|entry| behind(entry.name));
    named.chain(FORMULAS.into_iter().map(behind)).collect()
}

/// A touch like this one at another speed.
fn at(touch: &Touch, mass: f64, speed: f64) -> Touch {
    let mut touch = *touch;
    let velocity = DVec3::X * speed;
    touch.state.velocity = velocity;
    (touch.relative_velocity, touch.closing_speed) = (velocity, speed);
    touch.total_energy = 0.5 * mass * speed * speed;
    touch.normal_energy = touch.total_energy;
    touch
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..Default::default() })]

    /// Square on, whatever the barrier and however strong this draw has it:
    /// slower behind than in front, by exactly what the barrier takes; from the
    /// limit on the more is left the faster it came.
    #[test]
    fn what_is_left_behind_every_barrier_starts_from_nothing_and_rises(
        diameter in 0.02..0.2, mass in 0.1..10.0, ranks in prop::collection::vec(0.02..0.98, 64),
    ) {
        for scenario in scenarios() {
            let mut row: Vec<f64> = ranks.iter().cycle().take(scenario.inputs.len()).copied().collect();
            scenario.inputs.transform(&mut row);
            let face = &scenario.target.faces[0];
            let barrier = face.barrier.as_ref().expect("told");
            let (body, touch) = blow_of(Shape::Sphere { diameter }, mass, 1.0, DVec3::X);
            let mut last: Option<f64> = None;
            for step in 0..400 {
                let speed = 0.5 * crate::math::pow(1.03, f64::from(step));
                let touch = at(&touch, mass, speed);
                let verdict = Verdict::of(barrier, &row, &body, &touch);
                let left = verdict.residual_speed;
                prop_assert!(verdict.resistance > 0.0 && left >= 0.0 && left < speed, "{}: {verdict:?}", barrier.name);
                prop_assert_eq!(verdict.perforates, verdict.demand > verdict.resistance);
                prop_assert_eq!(left > 0.0, verdict.perforates);
                if verdict.perforates && barrier.demand != Demand::NormalSpeed {
                    let taken = touch.total_energy - verdict.arriving_energy;
                    prop_assert!((taken - verdict.resistance).abs() < 1e-9 * touch.total_energy, "{}", barrier.name);
                }
                // A formula may ask for more of a faster blow, never for so
                // much more that less is left.
                prop_assert!(last.is_none_or(|before| left >= before), "{}: {speed} m/s leaves {left}", barrier.name);
                last = Some(left);
            }
            prop_assert!(last > Some(0.0), "{} stops everything", barrier.name);
        }
    }
}
