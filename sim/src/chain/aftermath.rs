//! What a touch leads to, where flights go on after it.
//!
//! A barrier that gives way lets the body through, slower; everything else
//! throws it back. Once it has settled on the ground it slides or rolls to
//! rest, or into something. Whoever has met so many things that the model
//! tells no more is called at an end, and counted.

use super::{Breach, Claim, Course, Encounter, encounter::Kind};
use crate::{
    barrier,
    contact::{
        Motion, Slide, Surface, Touch,
        bounce::{Contact, MOST_CONTACTS, bounce},
        crossing, first_touch, settles,
    },
    flight::{Flight, State, Verdict},
    scenario::{Bounce, Demand},
};

impl Course {
    /// Takes a flight on from a touch.
    pub(super) fn go_on(&mut self, claim: &Claim, flight: &Flight, touch: Touch) -> Verdict {
        let mut touch = touch;
        loop {
            self.meet(claim, flight, &touch);
            if self.is_decided(claim) && !claim.has_occupants() {
                return self.stay(claim, flight, touch.time, &touch.state);
            }
            let Some(state) = self.react(claim, flight, &touch) else {
                return self.stay(claim, flight, touch.time, &touch.state);
            };
            if self.is_decided(claim) {
                return self.stay(claim, flight, touch.time, &state);
            }
            if self.encounters.len() >= MOST_CONTACTS as usize {
                self.outcome.breaches.add(Breach::CutOff);
                return self.stay(claim, flight, touch.time, &state);
            }
            let Some(ground) = settled(claim, flight, &touch, &state) else {
                return Verdict::Redirect { time: touch.time, state };
            };
            match self.slide(claim, flight, touch.time, &state, ground) {
                Ok(next) => touch = next,
                Err((time, state)) => return self.stay(claim, flight, time, &state),
            }
        }
    }

    /// The flight is over: here, or where it was struck or crossed before.
    pub(super) fn stay(
        &mut self,
        claim: &Claim,
        flight: &Flight,
        time: f64,
        state: &State,
    ) -> Verdict {
        if self.outcome.crossing.is_none() && !self.outcome.struck {
            self.outcome.arrive(flight, time, state);
        }
        self.come(claim, state.position, time);
        self.came_beside(claim, state.position, time);
        self.stopped = Some(time);
        let short = if self.outcome.struck { 0.0 } else { self.short };
        self.judge(claim, short);
        Verdict::Stop
    }

    /// Whether nothing that comes can change the claim's fate.
    fn is_decided(&self, claim: &Claim) -> bool {
        if claim.to_ground() || !self.outcome.struck {
            return false;
        }
        let goes_on = claim.has_occupants() && self.through && self.occupied.is_none();
        !goes_on
    }

    /// The body just after the touch; `None` if the flight ends there.
    fn react(&mut self, claim: &Claim, flight: &Flight, touch: &Touch) -> Option<State> {
        if let Surface::Face(i) = touch.surface
            && let Some(barrier) = &claim.scenario().target.faces[i].barrier
        {
            let verdict = barrier::Verdict::of(barrier, &self.row, &flight.body, touch);
            if verdict.perforates {
                let taken = match barrier.demand {
                    Demand::NormalEnergy | Demand::TotalEnergy => verdict.resistance,
                    Demand::NormalSpeed => {
                        let used = verdict.resistance / verdict.demand;
                        touch.normal_energy * used * used
                    }
                };
                let wall = touch.state.velocity - touch.relative_velocity;
                let change = verdict.state.velocity - touch.state.velocity;
                let work = flight.body.mass * change.dot(wall) - taken;
                self.passed.push(touch.surface);
                self.through |= claim.aimed().contains(&i) && self.outcome.struck;
                self.note(flight, touch, Kind::WentThrough, &verdict.state, work);
                return Some(verdict.state);
            }
        }
        let contact = self.contact(bounce_of(claim, touch.surface)?).at(touch.closing_speed);
        let rebound = bounce(&flight.body, touch, &contact);
        let arm = touch.point - touch.state.position;
        let mean = 0.5 * (touch.state.velocity_at(arm) + rebound.state.velocity_at(arm));
        if rebound.limited {
            self.outcome.breaches.add(Breach::Tamed);
        }
        self.bounced = true;
        self.note(flight, touch, Kind::Bounced, &rebound.state, rebound.impulse.dot(mean));
        Some(rebound.state)
    }

    fn note(&mut self, flight: &Flight, touch: &Touch, kind: Kind, after: &State, work: f64) {
        self.encounters.push(Encounter {
            change: flight.kinetic_energy(after) - flight.kinetic_energy(&touch.state),
            time: touch.time,
            surface: touch.surface,
            kind,
            position: touch.state.position,
            before: touch.state.velocity.length(),
            after: after.velocity.length(),
            work,
        });
        self.outcome.contacts += 1;
    }

    fn contact(&self, bounce: &Bounce) -> Contact {
        let value = |id: crate::scenario::InputId| self.row[id.0];
        Contact {
            restitution: value(bounce.restitution),
            friction: value(bounce.friction),
            grip_return: value(bounce.grip_return),
        }
    }

    /// Slides to the next touch (`Ok`) or to rest.
    fn slide(
        &mut self,
        claim: &Claim,
        flight: &Flight,
        time: f64,
        state: &State,
        ground: &Bounce,
    ) -> Result<Touch, (f64, State)> {
        let contact = self.contact(ground);
        let slide = Slide::new(flight, state, time, &contact, self.row[ground.rolling.0]);
        let end = slide.end();
        // What rests can still be run over.
        let mut spans = [time; 6];
        spans[1..5].copy_from_slice(&slide.changes());
        spans[5] = flight.deadline;
        let mut touch = None;
        for pair in spans.windows(2) {
            let span = [pair[0], pair[1].min(flight.deadline)];
            if span[1] > span[0] {
                touch = self.on_the_way(claim, flight, &slide, span);
            }
            if touch.is_some() {
                break;
            }
        }
        let until = touch.map_or(end.min(flight.deadline), |touch: Touch| touch.time);
        let rest = slide.state(until);
        self.slid(flight, time, state, &slide, &rest, until);
        if let Some(touch) = touch {
            return Ok(touch);
        }
        if end <= flight.deadline {
            self.outcome.rest = Some(rest.position);
        } else {
            self.outcome.breaches.add(Breach::Deadline);
        }
        Err((until, rest))
    }

    /// What it meets on a stretch of a slide; also sees whether it crosses the
    /// plane of the aimed face.
    fn on_the_way(
        &mut self,
        claim: &Claim,
        flight: &Flight,
        slide: &Slide,
        span: [f64; 2],
    ) -> Option<Touch> {
        self.passed.push(Surface::Ground);
        let touch = first_touch(&flight.body, &self.scenery, slide, span, &self.passed);
        self.passed.pop();
        let until = touch.as_ref().map_or(span[1], |touch| touch.time);
        if self.outcome.crossing.is_none()
            && self.distance(claim, slide.position(span[0]), span[0]) >= 0.0
            && let Some(crossing) =
                crossing(&self.scenery, claim.aimed()[0], slide, [span[0], until])
        {
            self.cross(claim, flight, &crossing, &slide.state(crossing.time));
        }
        touch
    }

    fn slid(
        &mut self,
        flight: &Flight,
        time: f64,
        state: &State,
        slide: &Slide,
        rest: &State,
        until: f64,
    ) {
        let shed = flight.kinetic_energy(state) - flight.kinetic_energy(&slide.state(time));
        self.encounters.push(Encounter {
            change: flight.kinetic_energy(rest) - flight.kinetic_energy(state),
            time,
            surface: Surface::Ground,
            kind: Kind::Slid { until, way: (rest.position - state.position).length() },
            position: state.position,
            before: state.velocity.length(),
            after: rest.velocity.length(),
            work: -shed - slide.rubbed(until),
        });
        self.slides.push((*slide, until));
    }
}

/// The ground, if the body only slides or rolls on it from here on.
fn settled<'c>(
    claim: &'c Claim,
    flight: &Flight,
    touch: &Touch,
    state: &State,
) -> Option<&'c Bounce> {
    let ground = claim.scenario().ground.as_ref()?;
    (touch.surface == Surface::Ground && settles(&flight.body, state)).then_some(ground)
}

fn bounce_of(claim: &Claim, surface: Surface) -> Option<&Bounce> {
    let scenario = claim.scenario();
    match surface {
        Surface::Ground => scenario.ground.as_ref(),
        Surface::Face(i) => scenario.target.faces[i].bounce.as_ref(),
        Surface::Solid(i) => scenario.target.solids[i].bounce.as_ref(),
    }
}
