//! One draw on its way: from its release to its outcome.

use super::{Breach, Breaches, Claim, Outcome, gates};
use crate::{
    aero::Limits,
    body::Body,
    contact::{Crossing, Scenery, Surface, Touch, crossing, first_touch},
    flight::{Ending, Flight, Last, Plane, State, Step, Verdict},
    scenario::Gate,
    world::Air,
};
use glam::DVec3;

/// One draw on its way. Made once and used again for draw after draw, so that
/// nothing is allocated per flight.
#[derive(Clone, Debug)]
pub struct Course {
    row: Vec<f64>,
    scenery: Scenery,
    outcome: Outcome,
    size: f64,
    /// Straight distance from the release to the aimed plane, for ranking.
    way: f64,
    /// When the course said stop.
    stopped: Option<f64>,
    limits: Option<Limits>,
}

impl Default for Course {
    fn default() -> Self {
        Self {
            row: Vec::new(),
            scenery: Scenery::default(),
            outcome: Outcome::new(0, DVec3::ZERO),
            size: 0.0,
            way: 1.0,
            stopped: None,
            limits: None,
        }
    }
}

impl Course {
    /// The draw it is on.
    #[must_use]
    pub fn draw(&self) -> u64 {
        self.outcome.draw
    }

    /// The outcome, once the flight is over.
    #[must_use]
    pub fn outcome(&self) -> &Outcome {
        &self.outcome
    }

    /// When it was stopped, in s after release, if it was.
    #[must_use]
    pub fn stopped_at(&self) -> Option<f64> {
        self.stopped
    }

    /// The values of this draw.
    #[must_use]
    pub fn row(&self) -> &[f64] {
        &self.row
    }

    /// The target of this draw.
    #[must_use]
    pub fn scenery(&self) -> &Scenery {
        &self.scenery
    }

    pub(super) fn begin(
        &mut self,
        claim: &Claim,
        draw: u64,
        row: &[f64],
        body: &Body,
        air: &Air,
        start: &State,
    ) {
        self.row.clear();
        self.row.extend_from_slice(row);
        self.scenery.place(&claim.scenario().target, row);
        self.outcome = Outcome::new(draw, start.position);
        self.stopped = None;
        self.limits = Some(Limits::new(body, air));
        self.size = body.bounding_radius();
        self.way = self.plane(claim).distance(start.position, 0.0).abs().max(self.size);
    }

    pub(super) fn breach(&mut self, breach: Breach) {
        self.outcome.breaches.add(breach);
    }

    pub(super) fn released(&mut self, left_with: Option<[f64; 2]>) {
        self.outcome.released = true;
        self.outcome.left_with = left_with;
    }

    pub(super) fn never_released(&mut self, claim: &Claim, held_by: f64, weight: f64) {
        let at = claim.gates().iter().position(|&gate| gate == Gate::Released).unwrap_or(0);
        self.stop_at(claim, at, held_by, held_by / weight);
    }

    /// The plane that flights are said to reach: the first aimed face's.
    pub(super) fn plane(&self, claim: &Claim) -> Plane {
        self.scenery.plane(claim.aimed()[0])
    }

    /// Looks at a step and says how the flight goes on.
    pub fn look(&mut self, claim: &Claim, flight: &Flight, step: &Step) -> Verdict {
        let span = [step.from(), step.to()];
        let touch = first_touch(&flight.body, &self.scenery, step, span, &[]);
        let until = touch.as_ref().map_or(step.to(), |touch| touch.time);
        let plane = self.plane(claim);
        if self.outcome.crossing.is_none()
            && plane.distance(step.position(span[0]), span[0]) >= 0.0
            && let Some(crossing) =
                crossing(&self.scenery, claim.aimed()[0], step, [span[0], until])
        {
            self.cross(claim, flight, &crossing, &step.state(crossing.time));
        }
        if let Some(touch) = touch {
            self.doubt(step.fastest());
            self.stopped = Some(touch.time);
            self.settle(claim, flight, touch);
            return Verdict::Stop;
        }
        let behind = -plane.distance(step.position(until), until);
        if claim.to_ground() || !self.is_past(behind) {
            return Verdict::Continue;
        }
        self.doubt(step.fastest());
        self.stopped = Some(until);
        self.judge(claim, 0.0);
        Verdict::Stop
    }

    /// The flight ended by itself.
    pub fn ended(&mut self, claim: &Claim, flight: &Flight, ending: Ending, last: &Last) {
        self.breach(match ending {
            Ending::Deadline => Breach::Deadline,
            Ending::Failed => Breach::Failed,
        });
        if self.outcome.crossing.is_none() {
            self.outcome.arrive(flight, last.time, &last.state);
        }
        self.doubt(last.fastest);
        let short = self.plane(claim).distance(last.state.position, last.time).max(0.0);
        self.judge(claim, short);
    }

    /// Notes the validity ranges left by a flight this fast through the air.
    fn doubt(&mut self, fastest: f64) {
        for doubt in self.limits.iter().flat_map(|limits| limits.doubts(fastest)) {
            self.outcome.breaches.add(doubt.into());
        }
    }

    /// Once its centre is past the plane, beside the outline by more than its
    /// own size or behind it by more than that, it can no longer strike.
    fn is_past(&self, behind: f64) -> bool {
        self.outcome.miss.is_some_and(|miss| miss > self.size || behind > self.size)
    }

    fn cross(&mut self, claim: &Claim, flight: &Flight, crossing: &Crossing, state: &State) {
        let time = crossing.time;
        let beside = claim.aimed().iter().map(|&i| beside(&self.scenery, i, state.position, time));
        self.outcome.miss = Some(beside.fold(f64::INFINITY, f64::min));
        self.outcome.crossing = Some(crossing.on_face);
        self.outcome.arrive(flight, time, state);
    }

    fn settle(&mut self, claim: &Claim, flight: &Flight, touch: Touch) {
        let struck = match touch.surface {
            Surface::Face(i) => claim.aimed().contains(&i),
            Surface::Ground | Surface::Solid(_) => false,
        };
        if touch.surface != Surface::Ground {
            self.outcome.touch = Some(touch);
        }
        self.outcome.struck = struck;
        if self.outcome.crossing.is_none() || struck {
            self.outcome.arrive(flight, touch.time, &touch.state);
        }
        let distance = self.plane(claim).distance(touch.state.position, touch.time);
        let short = if struck { 0.0 } else { (distance - self.size).max(0.0) };
        let (first, at, time) = (claim.aimed()[0], touch.state.position, touch.time);
        if struck {
            // Until a barrier says otherwise, what strikes is what arrives.
            self.outcome.arriving_energy = Some(touch.total_energy);
            self.outcome.miss = Some(0.0);
            self.outcome.crossing = Some(on_face(&self.scenery, first, at, time));
        } else if self.outcome.crossing.is_none() && short <= 0.0 && distance <= self.size {
            // It came as far as the plane and met what stands beside the face:
            // a miss, with its place.
            self.outcome.miss = Some(beside(&self.scenery, first, at, time));
            self.outcome.crossing = Some(on_face(&self.scenery, first, at, time));
        }
        self.judge(claim, short);
    }

    /// Walks the chain: `short` is how far short of the aimed plane it ended.
    fn judge(&mut self, claim: &Claim, short: f64) {
        let evidence =
            gates::Evidence { claim, row: &self.row, scenery: &self.scenery, short, way: self.way };
        for (place, &gate) in claim.gates().iter().enumerate() {
            if let Some(short) = evidence.test(gate, &mut self.outcome) {
                self.stop_at(claim, place, short.margin, short.relative);
                return;
            }
        }
        self.outcome.passed = claim.gates().len();
        self.outcome.stopped_at = None;
        (self.outcome.margin, self.outcome.shortfall) = (0.0, 0.0);
    }

    fn stop_at(&mut self, claim: &Claim, place: usize, margin: f64, relative: f64) {
        self.outcome.passed = place;
        self.outcome.stopped_at = Some(claim.gates()[place]);
        (self.outcome.margin, self.outcome.shortfall) = (margin, relative);
    }
}

/// A point as right and up from the centre of a face, in m.
fn on_face(scenery: &Scenery, face: usize, point: DVec3, time: f64) -> [f64; 2] {
    scenery.faces[face].on_face(point - scenery.centre(face, time))
}

/// Distance of a point from a face's outline, in m; 0 on the face.
pub(super) fn beside(scenery: &Scenery, face: usize, point: DVec3, time: f64) -> f64 {
    let from_centre = point - scenery.centre(face, time);
    let face = &scenery.faces[face];
    crate::math::hypot(face.miss(face.on_face(from_centre)), from_centre.dot(face.normal))
}

impl Default for Outcome {
    fn default() -> Self {
        Self::new(0, DVec3::ZERO)
    }
}

impl Outcome {
    fn new(draw: u64, at: DVec3) -> Self {
        Self {
            draw,
            released: false,
            left_with: None,
            passed: 0,
            stopped_at: None,
            margin: 0.0,
            shortfall: 0.0,
            touch: None,
            struck: false,
            miss: None,
            crossing: None,
            demand: None,
            resistance: None,
            residual_speed: None,
            arriving_energy: None,
            end: at,
            end_speed: 0.0,
            end_energy: 0.0,
            time: 0.0,
            breaches: Breaches::default(),
        }
    }

    fn arrive(&mut self, flight: &Flight, time: f64, state: &State) {
        self.end = state.position;
        self.end_speed = state.velocity.length();
        self.end_energy = flight.body.kinetic_energy(state.velocity, state.rates);
        self.time = time;
    }
}
