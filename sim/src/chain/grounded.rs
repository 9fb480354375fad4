//! On the ground: sliding, rolling and leaning, to the next touch or to rest.

use super::{Breach, Claim, Course, Encounter, encounter::Kind};
use crate::{
    contact::{
        Cone, Follow, Lean, Motion, Rub, Slapped, Slide, Surface, Touch, Within, Work,
        bounce::MOST_CONTACTS, crossing, falls_below, first_touch, settles, slap,
    },
    flight::{Flight, State},
    scenario::Bounce,
};

/// Places noted on one slide.
const PLACES_PER_SLIDE: u32 = 12;
/// Time between places noted while it leans, in s.
const BETWEEN_PLACES: f64 = 0.02;

/// A cone that lifts an end and is down again within this has not done so, in s.
const LIFTED: f64 = 1e-6;
/// What leans on its rim more than this far beside everything, in m, and rolls away from it
/// all is let go (judgement): it might curve back, but hardly so far.
const LET_GO: f64 = 10.0;

/// How a stay on the ground ends.
pub(super) enum Stay {
    /// It meets something.
    Meets(Touch),
    /// It lies still, or the clock has run out.
    Ends(f64, State),
    /// It goes on in the air, hops, or rolls too slowly to stay upright.
    Leaves(f64, State),
}

impl Course {
    /// Follows a body that goes on in `state` after this touch for as long as it stays on the
    /// ground; `None` if it hops on at once.
    pub(super) fn stay_down(
        &mut self,
        claim: &Claim,
        flight: &Flight,
        touch: &Touch,
        state: &State,
    ) -> Option<Stay> {
        let ground =
            claim.scenario().ground.as_ref().filter(|_| touch.surface == Surface::Ground)?;
        let (mut time, mut state) = (touch.time, *state);
        // What leaves a slide is too slow to stay upright; a cone that leaves its side lifts
        // an end.
        let (mut stayed, mut tired, mut lifts) = (false, false, false);
        while self.encounters.len() < MOST_CONTACTS as usize {
            let slides = !tired && !lifts && settles(&flight.body, &state);
            let rub = self.rub(ground);
            let rolls = if slides { Cone::new(flight, &state, time, rub) } else { None };
            let rolled = rolls.is_some();
            let stay = if let Some(cone) = rolls {
                self.follow(claim, flight, cone, &state, |_| false)
            } else if slides {
                self.slide(claim, flight, time, &state, ground)
            } else if let Some(lean) = Lean::new(flight, &state, time, rub) {
                // What was too slow to stay upright is not believed to be so at once, nor
                // that what lifts is down.
                self.follow(claim, flight, lean, &state, |state| {
                    let body = &flight.body;
                    !lifts && settles(body, state) && !(tired && falls_below(body, state).is_some())
                })
            } else if let Some(slapped) = self.slapped(flight, &state, ground) {
                let Slapped { state: after, work, .. } = slapped;
                self.stayed(flight, Kind::Bounced, time, [&state, &after], work);
                self.outcome.contacts += 1;
                Stay::Leaves(time, after)
            } else {
                break;
            };
            let lifted = lifts;
            (stayed, tired, lifts) = (true, slides && !rolled, rolled);
            match stay {
                Stay::Leaves(then, so) if lifted && then - time < LIFTED => {
                    return Some(Stay::Leaves(then, so));
                }
                Stay::Leaves(then, so) => (time, state) = (then, so),
                over => return Some(over),
            }
        }
        stayed.then_some(Stay::Leaves(time, state))
    }

    /// The body after it slaps down flat, if it does.
    fn slapped(&self, flight: &Flight, state: &State, ground: &Bounce) -> Option<Slapped> {
        slap(&flight.body, state, &self.contact(ground))
    }

    fn rub(&self, ground: &Bounce) -> Rub {
        Rub { friction: self.contact(ground).friction, rolling: self.row[ground.rolling.0] }
    }

    /// Slides or rolls on, until it is too slow to stay upright.
    fn slide(
        &mut self,
        claim: &Claim,
        flight: &Flight,
        time: f64,
        state: &State,
        ground: &Bounce,
    ) -> Stay {
        let contact = self.contact(ground);
        let slide = Slide::new(flight, state, time, &contact, self.row[ground.rolling.0]);
        let rests = slide.end();
        let tires = falls_below(&flight.body, state).map_or(rests, |speed| slide.slows_to(speed));
        let end = tires.min(rests).min(flight.deadline);
        // What rests can still be run over.
        let last = if tires < rests { end } else { flight.deadline };
        let mut spans = [time; 6];
        spans[1..5].copy_from_slice(&slide.changes());
        spans[5] = last;
        let mut touch = None;
        for pair in spans.windows(2) {
            let span = [pair[0], pair[1].min(last)];
            if span[1] > span[0] {
                touch = self.on_the_way(claim, flight, &slide, span);
            }
            if touch.is_some() {
                break;
            }
        }
        let until = touch.map_or(end, |touch: Touch| touch.time);
        let after = slide.state(until);
        let kind = Kind::Slid { until, way: (after.position - state.position).length() };
        self.stayed(flight, kind, time, [state, &after], slide.work(until));
        for k in 0..=PLACES_PER_SLIDE {
            let share = f64::from(k) / f64::from(PLACES_PER_SLIDE);
            let time = time + (until - time) * share;
            self.places.push((time, slide.state(time)));
        }
        match touch {
            Some(touch) => Stay::Meets(touch),
            None if tires < rests.min(flight.deadline) => Stay::Leaves(until, after),
            None => self.ends(flight, until, after),
        }
    }

    /// Follows it step by step until it stands still, or is `done` with this.
    fn follow(
        &mut self,
        claim: &Claim,
        flight: &Flight,
        mut follows: impl Follow,
        before: &State,
        done: impl Fn(&State) -> bool,
    ) -> Stay {
        let start = follows.time();
        let mut noted = start;
        self.places.push((start, *follows.state()));
        let mut touch = None;
        let (mut still, mut goes) = (false, false);
        while let Some(stretch) = follows.next(flight.deadline) {
            let way = Within(&follows, stretch);
            touch = self.on_the_way(claim, flight, &way, stretch.span());
            let [_, until] = stretch.span();
            if until - noted >= BETWEEN_PLACES {
                self.places.push((until, *follows.state()));
                noted = until;
                let State { position, velocity, .. } = *follows.state();
                goes =
                    !claim.to_ground() && self.scenery.is_left(position, velocity, until, LET_GO);
            }
            still = follows.stands_still();
            if touch.is_some() || still || done(follows.state()) || goes {
                break;
            }
        }
        let until = touch.map_or_else(|| follows.time(), |touch: Touch| touch.time);
        let (after, work) = follows.within(until);
        self.places.push((until, after));
        let kind = Kind::Slid { until, way: (after.position - before.position).length() };
        self.stayed(flight, kind, start, [before, &after], work);
        match touch {
            Some(touch) => Stay::Meets(touch),
            None if goes => {
                self.outcome.let_go = true;
                Stay::Ends(until, after)
            }
            None if still || until >= flight.deadline => self.ends(flight, until, after),
            None => Stay::Leaves(until, after),
        }
    }

    /// The end of a flight: at rest, or when the clock has run out.
    fn ends(&mut self, flight: &Flight, time: f64, state: State) -> Stay {
        if time < flight.deadline {
            self.outcome.rest = Some(state.position);
        } else {
            self.outcome.breaches.add(Breach::Deadline);
        }
        Stay::Ends(time, state)
    }

    /// What it meets on a stretch of its way over the ground; also sees whether it
    /// crosses the plane of the aimed face.
    fn on_the_way<M: Motion>(
        &mut self,
        claim: &Claim,
        flight: &Flight,
        motion: &M,
        span: [f64; 2],
    ) -> Option<Touch> {
        self.passed.push(Surface::Ground);
        let touch = first_touch(&flight.body, &self.scenery, motion, span, &self.passed);
        self.passed.pop();
        let until = touch.as_ref().map_or(span[1], |touch| touch.time);
        if self.outcome.crossing.is_none()
            && self.distance(claim, motion.position(span[0]), span[0]) >= 0.0
            && let Some(crossing) =
                crossing(&self.scenery, claim.aimed()[0], motion, [span[0], until])
        {
            self.cross(claim, flight, &crossing, &motion.state(crossing.time));
        }
        touch
    }

    fn stayed(&mut self, flight: &Flight, kind: Kind, time: f64, states: [&State; 2], work: Work) {
        self.book(Encounter::new(flight, (Surface::Ground, kind), time, states, work));
    }
}
