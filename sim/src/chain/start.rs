//! How a draw starts.

use super::{Breach, Claim, Course, clock, outfit::Outfit};
use crate::{
    body::{Body, Shape},
    flight::{Flight, GRAVITY, State, Watch},
    release,
    world::{Air, AirNow, HIGHEST, Terrain},
};
use glam::DVec3;

impl Claim {
    /// Starts a draw: sets `course` up for it and returns the flight to be
    /// flown, or `None` if it never comes loose (the outcome is then ready).
    ///
    /// `row`: the draw's values, one per input, SI.
    pub fn begin(&self, draw: u64, row: &[f64], course: &mut Course) -> Option<Flight> {
        let Outfit { body, air, coefficients, limits, .. } =
            *Outfit::fit(&mut course.outfit, self.given(row));
        let air = self.blown(row, air);
        let start = release::start(&self.scenario().release, row, &body, &air);
        let air = AirNow { wake: start.wake, ..air };
        course.begin(self, draw, row, (&body, limits), &start.state);
        if body.is_light(air.air.density) {
            course.breach(Breach::Light);
        }
        let [temperature, pressure, _] = self.weather(row);
        if !Air::is_confirmed(temperature, pressure) {
            course.breach(Breach::Air);
        }
        let profiled = air.gusts.is_some() || air.wind.terrain != Terrain::Uniform;
        if profiled && highest(&start.state) > HIGHEST {
            course.breach(Breach::High);
        }
        if glides(&body, &start.state, &air) {
            course.breach(Breach::Spin);
        }
        if air.wake.is_some_and(|wake| wake.is_untested(start.state.position)) {
            course.breach(Breach::Wake);
        }
        if start.tips {
            course.breach(Breach::Tips);
        }
        if start.held_by > 0.0 {
            let weight = body.mass * GRAVITY;
            course.never_released(self, start.held_by, weight);
            return None;
        }
        let drag_factor = row[self.scenario().object.drag_factor.0];
        let deadline = clock::deadline(&body, air.air.density, drag_factor, &start.state);
        course.released(start.kept.map(|kept| [start.state.velocity.length(), kept]));
        let watch = Watch {
            zone: Some(course.scenery().zone()),
            plane: Some(course.plane(self)),
            // Which steps may matter is told for even motion only.
            every_step: course.scenery().manoeuvre.is_some(),
        };
        Some(Flight { draw, start: start.state, coefficients, body, air, deadline, watch })
    }
}

/// How high a flight may come, in m: as high as without air.
fn highest(start: &State) -> f64 {
    let up = start.velocity.z.max(0.0);
    start.position.z + 0.5 * up * up / GRAVITY
}

/// Rim speed over speed from which on a disc is held by its spin and glides: what
/// its spin does to the air's forces is not followed. Flying discs are thrown at 0.3
/// and more (from memory).
const GLIDES: f64 = 0.1;

fn glides(body: &Body, start: &State, air: &AirNow) -> bool {
    let Shape::Disc { diameter, .. } = body.shape else { return false };
    let [x, y] = air.wind.at(start.position.z);
    let through = start.velocity - DVec3::new(x, y, 0.0);
    0.5 * diameter * start.rates.z.abs() > GLIDES * through.length().max(1.0)
}
