//! What a touch leads to, where flights go on after it.
//!
//! A barrier that gives way lets the body through, slower; everything else
//! throws it back. Once it has settled on the ground, or leans on it, it slides or
//! rolls on, see [`super::grounded`]. Whoever has met so many things that the model
//! tells no more is called at an end, and counted; what has come to lie in a corner is at
//! rest, see [`corner`].

use super::{Breach, Claim, Course, Encounter, corner, encounter::Kind, grounded::Stay};
use crate::{
    barrier,
    contact::{
        Surface, Touch, Work,
        bounce::{Contact, MOST_CONTACTS, bounce},
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
            if corner::rests(&self.encounters, flight.body.mass) {
                self.outcome.rest = Some(state.position);
                return self.stay(claim, flight, touch.time, &state);
            }
            if self.encounters.len() >= MOST_CONTACTS as usize {
                self.outcome.breaches.add(Breach::CutOff);
                return self.stay(claim, flight, touch.time, &state);
            }
            match self.stay_down(claim, flight, &touch, &state) {
                None => return Verdict::Redirect { time: touch.time, state },
                Some(Stay::Meets(next)) => touch = next,
                Some(Stay::Ends(time, state)) => return self.stay(claim, flight, time, &state),
                Some(Stay::Leaves(time, state)) => return Verdict::Redirect { time, state },
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
        self.judge(claim, flight, short);
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
            if self.outcome.struck
                && self.outcome.touch.is_some_and(|strike| is_same(&strike, touch))
            {
                self.weighed = Some(verdict);
            }
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
                let work = Work::seen(flight.body.mass * change.dot(wall) - taken, -taken);
                self.passed.push(touch.surface);
                self.through |= claim.aimed().contains(&i) && self.outcome.struck;
                self.note(flight, touch, Kind::WentThrough, &verdict.state, work);
                return Some(verdict.state);
            }
        }
        let contact = self.contact(bounce_of(claim, touch.surface)?);
        let mut rebound = bounce(&flight.body, touch, &contact.at(touch.closing_speed));
        if rebound.limited {
            self.outcome.breaches.add(Breach::Tamed);
        } else if corner::holds(&self.encounters, touch.surface) {
            rebound = bounce(&flight.body, touch, &contact.in_corner(touch.closing_speed));
        }
        self.bounced = true;
        self.note(flight, touch, Kind::Bounced, &rebound.state, rebound.work);
        Some(rebound.state)
    }

    fn note(&mut self, flight: &Flight, touch: &Touch, kind: Kind, after: &State, work: Work) {
        let states = [&touch.state, after];
        self.book(Encounter::new(flight, (touch.surface, kind), touch.time, states, work));
        self.outcome.contacts += 1;
    }

    /// Keeps what a contact did, and counts it if it gave what it can only take.
    pub(super) fn book(&mut self, encounter: Encounter) {
        if encounter.gains {
            self.breach(Breach::Gains);
        }
        self.encounters.push(encounter);
    }

    pub(super) fn contact(&self, bounce: &Bounce) -> Contact {
        let value = |id: crate::scenario::InputId| self.row[id.0];
        Contact {
            restitution: value(bounce.restitution),
            friction: value(bounce.friction),
            grip_return: value(bounce.grip_return),
        }
    }
}

/// Whether two touches are one: nothing is touched twice at one time.
fn is_same(one: &Touch, other: &Touch) -> bool {
    one.surface == other.surface && one.time.to_bits() == other.time.to_bits()
}

fn bounce_of(claim: &Claim, surface: Surface) -> Option<&Bounce> {
    let scenario = claim.scenario();
    match surface {
        Surface::Ground => scenario.ground.as_ref(),
        Surface::Face(i) => scenario.target.faces[i].bounce.as_ref(),
        Surface::Solid(i) => scenario.target.solids[i].bounce.as_ref(),
    }
}
