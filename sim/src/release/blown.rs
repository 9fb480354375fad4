//! Loose in the wind, or held until the wind lifts it.
//!
//! Force balance at the start of flight: the wind's lift on the plan area has
//! to reach a multiple of the weight, ½ ρ U² `C_F` A ≥ I m g.
//!
//! Source: Wills, Lee & Wyatt 2002 (from memory). Valid for sheets and compact
//! objects in a steady wind. Where the wind is gusty, the lift is that of the
//! gust at release: how long a gust must last to lift anything is ignored.

use super::{Start, point, pose, value};
use crate::{
    body::Body,
    flight::{GRAVITY, State},
    math,
    note::{Kind, Note, Subject},
    scenario::{Blown, Held},
    world::AirNow,
};
use glam::DVec3;

/// Its section of the page of trust.
const SUBJECT: Subject = Subject { key: "lift-off", claims: "At what wind a loose sheet lifts" };

/// What it says of itself.
pub(crate) const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "lift-off",
    how: "the wind's lift on the plan area against a multiple of the weight",
    source: "Wills, Lee & Wyatt 2002 (from memory)",
    kind: Kind::Memory,
    range: "steady wind; how the edge is lifted decides the force coefficient",
    leaves_out: "how long a gust has to last to lift anything",
};

/// The start: at rest, and loose if nothing holds it or the wind is enough.
pub(super) fn start(blown: &Blown, row: &[f64], body: &Body, air: &AirNow) -> Start {
    let state = State {
        position: point(row, &blown.place),
        velocity: DVec3::ZERO,
        attitude: pose::attitude(&blown.pose, row, 0.0, 0.0),
        rates: pose::rates(&blown.pose, row),
    };
    let held_by = blown.held.as_ref().map_or(0.0, |held| {
        let wind = air.wind_at(state.position, 0.0);
        hold_beyond_lift(held, row, body, air.air.density, math::hypot(wind.x, wind.y))
    });
    Start { state, held_by, tips: false, kept: None, wake: None }
}

/// Hold less lift, in N.
fn hold_beyond_lift(held: &Held, row: &[f64], body: &Body, density: f64, wind: f64) -> f64 {
    let lift = 0.5 * density * wind * wind * value(row, held.lift_coefficient) * body.plan_area();
    value(row, held.times_weight) * body.mass * GRAVITY - lift
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{body::Shape, scenario::InputId};

    /// Source: force balance above; for air of 1.2 kg/m³ and `C_F` 1, 12 mm
    /// plywood of 600 kg/m³ lifts at 10.848 m/s and 50 mm foam of 30 kg/m³ at
    /// 4.9514 m/s (computed independently).
    #[test]
    fn loose_sheets_lift_at_the_expected_speeds() {
        let held = Held { times_weight: InputId(0), lift_coefficient: InputId(1) };
        let sheet = |thickness: f64, density: f64| {
            let shape = Shape::Plate { length: 2.0, width: 1.0, thickness };
            Body::solid(shape, 2.0 * thickness * density)
        };
        for (thickness, density, speed) in [(0.012, 600.0, 10.848), (0.05, 30.0, 4.9514)] {
            let body = sheet(thickness, density);
            let beyond = |u: f64| hold_beyond_lift(&held, &[1.0, 1.0], &body, 1.2, u);
            assert!(beyond(speed - 6e-4) > 0.0 && beyond(speed + 6e-4) < 0.0);
        }
    }

    /// Source: the same force balance: a round sheet has the same weight to the
    /// area as a square one and lifts at the same speed.
    #[test]
    fn a_round_sheet_lifts_at_the_speed_of_a_square_one() {
        let held = Held { times_weight: InputId(0), lift_coefficient: InputId(1) };
        let area = std::f64::consts::PI * 0.25;
        let shape = Shape::Disc { diameter: 1.0, thickness: 0.012 };
        let body = Body::solid(shape, area * 0.012 * 600.0);
        let beyond = |u: f64| hold_beyond_lift(&held, &[1.0, 1.0], &body, 1.2, u);
        assert!(beyond(10.848 - 6e-4) > 0.0 && beyond(10.848 + 6e-4) < 0.0);
    }
}
