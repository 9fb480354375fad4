//! One draw on its way: from its release to its outcome.

use super::{
    Breach, Breaches, Claim, Encounter, Outcome,
    gates::{self, beside},
    outfit::Outfit,
};
use crate::{
    aero::{Extremes, Limits},
    barrier,
    body::Body,
    contact::{Crossing, Scenery, Surface, Touch, crossing, first_touch},
    flight::{Ending, Flight, Last, Plane, State, Step, Verdict},
    scenario::Gate,
};
use glam::DVec3;

/// First piece of a step that is looked at after a contact, in s.
const FIRST_PIECE: f64 = 0.01;

/// One draw on its way. Made once and used again for draw after draw, so that
/// nothing is allocated per flight.
#[derive(Clone, Debug)]
pub struct Course {
    pub(super) row: Vec<f64>,
    pub(super) outfit: Option<Outfit>,
    pub(super) scenery: Scenery,
    pub(super) outcome: Outcome,
    size: f64,
    /// Straight distance from the release to the aimed plane, for ranking.
    way: f64,
    /// When the course said stop.
    pub(super) stopped: Option<f64>,
    limits: Option<Limits>,
    /// Least distance short of the aimed plane at any touch, in m.
    pub(super) short: f64,
    /// Faces it went through: not looked at again.
    pub(super) passed: Vec<Surface>,
    /// What it touched and went on from.
    pub(super) encounters: Vec<Encounter>,
    /// Where it was, and when (s), while it stayed on the ground.
    pub(super) places: Vec<(f64, State)>,
    /// Was it thrown back by anything?
    pub(super) bounced: bool,
    /// Did it go through the aimed face?
    pub(super) through: bool,
    /// How it came on the occupant behind.
    pub(super) occupied: Option<Touch>,
    /// What the barrier that it struck made of it, where the flight went on.
    pub(super) weighed: Option<barrier::Verdict>,
}

impl Default for Course {
    fn default() -> Self {
        Self {
            row: Vec::new(),
            outfit: None,
            scenery: Scenery::default(),
            outcome: Outcome::new(0, DVec3::ZERO),
            size: 0.0,
            way: 1.0,
            stopped: None,
            limits: None,
            short: f64::INFINITY,
            passed: Vec::new(),
            encounters: Vec::new(),
            places: Vec::new(),
            bounced: false,
            through: false,
            occupied: None,
            weighed: None,
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

    /// What it touched and went on from, in order.
    #[must_use]
    pub fn encounters(&self) -> &[Encounter] {
        &self.encounters
    }

    /// Where it was, and when (s after release), while it stayed on the ground.
    #[must_use]
    pub fn places(&self) -> &[(f64, State)] {
        &self.places
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
        (body, limits): (&Body, Limits),
        start: &State,
    ) {
        // Fresh in all but the room of the draw before.
        let room = std::mem::take(self);
        *self = Self {
            row: emptied(room.row),
            outfit: room.outfit,
            scenery: room.scenery,
            passed: emptied(room.passed),
            encounters: emptied(room.encounters),
            places: emptied(room.places),
            outcome: Outcome::new(draw, start.position),
            limits: Some(limits),
            size: body.bounding_radius(),
            ..Self::default()
        };
        self.row.extend_from_slice(row);
        self.scenery.place(&claim.scenario().target, row);
        self.way = self.distance(claim, start.position, 0.0).abs().max(self.size);
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

    /// Signed distance of a point from that plane at `time`, in m.
    pub(super) fn distance(&self, claim: &Claim, point: DVec3, time: f64) -> f64 {
        self.scenery.distance(claim.aimed()[0], point, time)
    }

    /// Looks at a step and says how the flight goes on.
    pub fn look(&mut self, claim: &Claim, flight: &Flight, step: &Step) -> Verdict {
        let span = [step.from(), step.to()];
        let touch = self.touch(flight, step, span);
        let until = touch.as_ref().map_or(step.to(), |touch| touch.time);
        if self.outcome.crossing.is_none()
            && self.distance(claim, step.position(span[0]), span[0]) >= 0.0
            && let Some(crossing) =
                crossing(&self.scenery, claim.aimed()[0], step, [span[0], until])
        {
            self.cross(claim, flight, &crossing, &step.state(crossing.time));
        }
        if let Some(touch) = touch {
            self.doubt(step.extremes());
            if claim.follows() {
                return self.go_on(claim, flight, touch);
            }
            self.meet(claim, flight, &touch);
            return self.stay(claim, flight, touch.time, &touch.state);
        }
        let behind = -self.distance(claim, step.position(until), until);
        if claim.to_ground() || self.may_return(claim) || !self.is_past(behind) {
            return Verdict::Continue;
        }
        self.doubt(step.extremes());
        self.stopped = Some(until);
        self.judge(claim, flight, 0.0);
        Verdict::Stop
    }

    /// The first touch in a step. After a contact it is looked at in pieces,
    /// small ones first: a step that holds a whole hop tells little of how fast
    /// the body comes down again.
    fn touch(&self, flight: &Flight, step: &Step, [from, to]: [f64; 2]) -> Option<Touch> {
        let mut piece = if self.encounters.is_empty() { f64::INFINITY } else { FIRST_PIECE };
        let mut start = from;
        while start < to {
            let span = [start, to.min(start + piece)];
            let touch = first_touch(&flight.body, &self.scenery, step, span, &self.passed);
            if touch.is_some() {
                return touch;
            }
            start = span[1];
            piece *= 2.0;
        }
        None
    }

    /// The flight ended by itself.
    pub fn ended(&mut self, claim: &Claim, flight: &Flight, ending: Ending, last: &Last) {
        self.breach(match ending {
            Ending::Deadline => Breach::Deadline,
            Ending::Failed => Breach::Failed,
            Ending::Spent => Breach::Spent,
        });
        if self.outcome.crossing.is_none() {
            self.outcome.arrive(flight, last.time, &last.state);
        }
        self.doubt(last.extremes);
        let short = self.distance(claim, last.state.position, last.time).max(0.0);
        let short = if self.outcome.struck { 0.0 } else { short.min(self.short) };
        self.judge(claim, flight, short);
    }

    /// Notes the validity ranges left by a flight that went this far.
    fn doubt(&mut self, extremes: Extremes) {
        for doubt in self.limits.iter().flat_map(|limits| limits.doubts(extremes)) {
            self.outcome.breaches.add(doubt.into());
        }
    }

    /// Once its centre is past the plane, beside the outline by more than its
    /// own size or behind it by more than that, it can no longer strike.
    fn is_past(&self, behind: f64) -> bool {
        self.outcome.miss.is_some_and(|miss| miss > self.size || behind > self.size)
    }

    /// Whether something may throw it back, or somebody sits behind.
    fn may_return(&self, claim: &Claim) -> bool {
        claim.follows() && (self.outcome.struck || claim.scenario().bounces())
    }

    pub(super) fn cross(
        &mut self,
        claim: &Claim,
        flight: &Flight,
        crossing: &Crossing,
        state: &State,
    ) {
        let time = crossing.time;
        let beside = claim.aimed().iter().map(|&i| beside(&self.scenery, i, state.position, time));
        self.outcome.miss = Some(beside.fold(f64::INFINITY, f64::min));
        self.outcome.crossing = Some(crossing.on_face);
        self.outcome.arrive(flight, time, state);
    }

    /// Notes what a touch tells about the claim.
    pub(super) fn meet(&mut self, claim: &Claim, flight: &Flight, touch: &Touch) {
        let aimed = match touch.surface {
            Surface::Face(i) => claim.aimed().contains(&i),
            Surface::Ground | Surface::Solid(_) => false,
        };
        let counts = !(self.bounced && claim.scenario().target.direct);
        let strikes = aimed && counts && !self.outcome.struck;
        if self.outcome.struck && self.occupied.is_none() && is_occupant(claim, touch) {
            self.occupied = Some(*touch);
        }
        if strikes || (touch.surface != Surface::Ground && self.outcome.touch.is_none()) {
            self.outcome.touch = Some(*touch);
        }
        if self.outcome.crossing.is_none() || strikes {
            self.outcome.arrive(flight, touch.time, &touch.state);
        }
        let (at, time) = (touch.state.position, touch.time);
        self.come(claim, at, time);
        if aimed {
            self.short = 0.0;
        }
        if strikes {
            self.outcome.struck = true;
            self.outcome.contacts_before = self.outcome.contacts;
            // Until a barrier says otherwise, what strikes is what arrives.
            self.outcome.arriving_energy = Some(touch.total_energy);
            self.outcome.miss = Some(0.0);
            let face = self.outcome.face().unwrap_or(claim.aimed()[0]);
            self.outcome.crossing = Some(on_face(&self.scenery, face, at, time));
        }
    }

    /// Notes how far it came.
    pub(super) fn come(&mut self, claim: &Claim, at: DVec3, time: f64) {
        let distance = self.distance(claim, at, time);
        self.short = self.short.min((distance - self.size).max(0.0));
    }

    /// Where it ended it may have come as far as the plane and met what stands
    /// beside the face: a miss, with its place.
    pub(super) fn came_beside(&mut self, claim: &Claim, at: DVec3, time: f64) {
        let first = claim.aimed()[0];
        let distance = self.distance(claim, at, time);
        if self.outcome.crossing.is_none() && distance <= self.size {
            self.outcome.miss = Some(beside(&self.scenery, first, at, time));
            self.outcome.crossing = Some(on_face(&self.scenery, first, at, time));
        }
    }

    /// Walks the chain: `short` is how far short of the aimed plane it ended.
    pub(super) fn judge(&mut self, claim: &Claim, flight: &Flight, short: f64) {
        let evidence = gates::Evidence {
            claim,
            row: &self.row,
            body: &flight.body,
            scenery: &self.scenery,
            short,
            way: self.way,
            occupied: self.occupied,
            weighed: self.weighed,
        };
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

fn emptied<T>(mut list: Vec<T>) -> Vec<T> {
    list.clear();
    list
}

/// Whether it is somebody behind the barrier that was touched.
fn is_occupant(claim: &Claim, touch: &Touch) -> bool {
    matches!(touch.surface, Surface::Face(i) if claim.scenario().target.faces[i].occupant)
}

/// A point as right and up from the centre of a face, in m.
fn on_face(scenery: &Scenery, face: usize, point: DVec3, time: f64) -> [f64; 2] {
    scenery.faces[face].on_face(point - scenery.centre(face, time))
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
            blow: None,
            resistance: None,
            could: false,
            residual_speed: None,
            arriving_energy: None,
            end: at,
            end_speed: 0.0,
            end_energy: 0.0,
            time: 0.0,
            contacts: 0,
            contacts_before: 0,
            rest: None,
            let_go: false,
            breaches: Breaches::default(),
            checked: Breaches::default(),
        }
    }

    pub(super) fn arrive(&mut self, flight: &Flight, time: f64, state: &State) {
        self.end = state.position;
        self.end_speed = state.velocity.length();
        self.end_energy = flight.kinetic_energy(state);
        self.time = time;
    }
}
