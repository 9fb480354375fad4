//! A load on a carrier whose speed changes: does it come loose, and how much
//! of the carrier's speed does it take with it?
//!
//! Rigid load on a rigid level bed, along the carrier's own direction. The
//! tie-down bears what friction does not, up to its strength, and is gone once
//! it breaks; from then on friction alone brakes the load until it comes to the
//! edge. Air under it takes weight off the bed, and lifts it away if it beats
//! weight and tie-down. A load so tall that it tips before it slides turns over its
//! edge, see [`super::topple`]. Ignores the give of tie-downs, creep under vibration,
//! and the pitching of the bed.

use super::{
    PulseShape,
    loosen::Friction,
    topple::{Stance, Tipped},
};
use crate::flight::GRAVITY as G;
use crate::note::{Kind, Note, Subject};

/// Its section of the page of trust.
pub(super) const SUBJECT: Subject =
    Subject { key: "coming loose", claims: "What shakes a load loose, and how fast it leaves" };

/// What it says of itself.
pub(crate) const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "coming loose",
    how: "rigid load on a rigid level bed: Coulomb friction, sliding three quarters of static, a tie-down that bears what friction does not up to its strength, air that takes weight off the bed; 256 steps through the jolt",
    source: "statics and motion under friction (standard derivation); three quarters: CTU Code, Appendix 2 (read); lift: Wills, Lee & Wyatt 2002 (from memory)",
    kind: Kind::Memory,
    range: "along the carrier's way",
    leaves_out: "the give of tie-downs, creep under vibration and a bed that pitches; tipping is counted and not followed",
};

/// Steps through a jolt: the speed of leaving is good to a few mm/s.
const STEPS: u32 = 256;
/// Longest step of a load that tips, in s.
const TIPS: f64 = 1e-3;
/// After a jolt a load that tips has come to rest or gone over within this, in s (it
/// hardly ever balances for longer).
const OVER: f64 = 10.0;

/// A ride. SI units.
#[derive(Clone, Copy, Debug)]
pub struct Ride<'a> {
    /// Shape of the jolt.
    pub shape: &'a PulseShape,
    /// Its peak, in m/s², >= 0.
    pub peak: f64,
    /// How long it lasts, in s, > 0.
    pub lasts: f64,
    /// Does it slow the carrier?
    pub against: bool,
    /// Speed of the carrier before it, in m/s.
    pub speed: f64,
    /// Mass of the load, in kg.
    pub mass: f64,
    /// Friction on the bed.
    pub friction: Friction,
    /// What the tie-downs bear, in N.
    pub strength: f64,
    /// Way to the edge of the bed, in m, > 0.
    pub path: f64,
    /// Lift over the square of the air's speed, in N s²/m².
    pub lift: f64,
    /// Speed of the wind along x, in m/s.
    pub wind: f64,
    /// How it stands, if it is so tall that it tips before it slides.
    pub stance: Option<Stance>,
}

/// How a ride ends for the load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ridden {
    /// What was missing for it to come off, in N; 0: it does.
    pub held_by: f64,
    /// Its speed over the ground as it leaves, or that of the carrier, in m/s.
    pub speed: f64,
    /// Speed of the carrier then, in m/s.
    pub carrier: f64,
    /// When it leaves after the jolt began, in s.
    pub time: f64,
    /// How it has turned over its edge, forwards: in rad and rad/s.
    pub tipped: Tipped,
    /// How far its mass centre is above where it stood, in m, and how fast it rises, in
    /// m/s.
    pub raised: [f64; 2],
}

/// Where the load stands in the middle of a ride.
struct Now {
    carrier: f64,
    slip: f64,
    way: f64,
    free: bool,
    tipped: Tipped,
    /// Whether it lies on its front.
    fell: bool,
    /// Least that was missing for it to slide, and to lift, in N.
    missing: [f64; 2],
}

impl Ride<'_> {
    /// Rides through the jolt and what follows.
    #[must_use]
    pub(crate) fn ridden(&self) -> Ridden {
        let step = self.lasts / f64::from(STEPS);
        let mut now = Now {
            carrier: self.speed,
            slip: 0.0,
            way: 0.0,
            free: self.strength <= 0.0,
            tipped: Tipped::default(),
            fell: false,
            missing: [f64::INFINITY; 2],
        };
        for i in 0..STEPS {
            let middle = f64::from(i) + 0.5;
            if let Some(part) = self.moved(&mut now, middle / f64::from(STEPS), step) {
                return self.leaves(&now, step * (f64::from(i) + part));
            }
        }
        let mut more = 0.0;
        while now.tipped != Tipped::default() && !now.fell && more < OVER {
            if self.tips(&mut now, 0.0, TIPS) {
                return self.leaves(&now, self.lasts + more);
            }
            more += TIPS;
        }
        self.after(&now, self.lasts + more)
    }

    /// Turns it on over its edge; whether that takes it off the bed.
    fn tips(&self, now: &mut Now, pull: f64, step: f64) -> bool {
        let Some(stance) = &self.stance else { return false };
        now.free = true;
        let press = self.press(now.carrier).max(0.0) / self.mass;
        let steps = (step / TIPS).ceil().max(1.0);
        let mut left = steps;
        while left > 0.0 {
            now.tipped = stance.stepped(now.tipped, pull, press, step / steps);
            if now.way + stance.way(now.tipped.angle) >= self.path {
                return true;
            }
            if Stance::lies(now.tipped) {
                // What it has forwards it keeps, what it has downwards the bed takes.
                now.slip = stance.velocity(now.tipped)[0].max(0.0);
                now.way += stance.way(now.tipped.angle);
                now.fell = true;
                return false;
            }
            left -= 1.0;
        }
        false
    }

    /// One step; the share of it after which the load leaves, if it does.
    fn moved(&self, now: &mut Now, share: f64, step: f64) -> Option<f64> {
        // A carrier that brakes to a stop stays there.
        let stopped = self.against && now.carrier <= 0.0;
        let pull = if stopped { 0.0 } else { self.peak * self.shape.at(share) };
        let press = self.press(now.carrier);
        let tie = if now.free { 0.0 } else { self.strength };
        now.missing[1] = now.missing[1].min(press + tie);
        if press + tie <= 0.0 {
            return Some(0.0);
        }
        let press = press.max(0.0);
        let signed = if self.against { -pull } else { pull };
        if let Some(stance) = self.stance.filter(|_| !now.fell && now.slip <= 0.0) {
            let missing = stance.held_by(self.mass * pull, press, tie);
            now.missing[0] = now.missing[0].min(missing);
            now.carrier += signed * step;
            let goes = now.tipped != Tipped::default() || missing < 0.0;
            return (goes && self.tips(now, pull, step)).then_some(1.0);
        }
        if now.slip <= 0.0 {
            let missing = self.friction.held * press + tie - self.mass * pull;
            now.missing[0] = now.missing[0].min(missing);
            if missing > 0.0 {
                now.carrier += signed * step;
                return None;
            }
            now.free = true;
        }
        let before = now.slip;
        let gain = pull - self.friction.sliding * press / self.mass;
        now.slip = (before + gain * step).max(0.0);
        let gone = 0.5 * (before + now.slip) * step;
        if gone > 0.0 && now.way + gone >= self.path {
            let part = (self.path - now.way) / gone;
            now.slip = before + (now.slip - before) * part;
            now.carrier += signed * step * part;
            return Some(part);
        }
        now.way += gone;
        now.carrier += signed * step;
        None
    }

    /// Weight less lift, in N.
    fn press(&self, carrier: f64) -> f64 {
        let air = carrier - self.wind;
        self.mass * G - self.lift * air * air
    }

    /// It slides on against friction alone, and leaves if that takes it far
    /// enough.
    fn after(&self, now: &Now, since: f64) -> Ridden {
        let slowing = self.friction.sliding * self.press(now.carrier).max(0.0) / self.mass;
        let square = now.slip * now.slip - 2.0 * slowing * (self.path - now.way);
        if now.slip > 0.0 && square >= 0.0 {
            let slip = square.sqrt();
            let time = since + 2.0 * (self.path - now.way) / (now.slip + slip);
            return self.leaves(&Now { slip, ..*now }, time);
        }
        let way =
            if slowing > 0.0 { now.way + 0.5 * now.slip * now.slip / slowing } else { now.way };
        Ridden {
            held_by: self.missing(now, way),
            speed: now.carrier,
            carrier: now.carrier,
            time: since,
            tipped: Tipped::default(),
            raised: [0.0; 2],
        }
    }

    /// The force that was missing. Once it slides, what counts is the way that
    /// is left: the friction over it, as a force along the whole path. A load
    /// that never slid is farther from leaving than any that did.
    fn missing(&self, now: &Now, way: f64) -> f64 {
        let left = (1.0 - way / self.path).clamp(0.0, 1.0);
        let dragged = self.friction.sliding * self.mass * G * left;
        let slide = dragged + now.missing[0].max(0.0);
        slide.min(now.missing[1]).max(f64::MIN_POSITIVE)
    }

    fn leaves(&self, now: &Now, time: f64) -> Ridden {
        let mut raised = [0.0; 2];
        let (mut slip, mut tipped) = (now.slip, now.tipped);
        if let Some(stance) = &self.stance {
            if now.fell {
                tipped.rate = 0.0;
                raised[0] = stance.half_base - stance.height;
            } else if tipped != Tipped::default() {
                let [ahead, up] = stance.velocity(tipped);
                (slip, raised) = (ahead, [stance.higher(tipped.angle), up]);
            }
        }
        let carrier = now.carrier.max(0.0);
        let speed = carrier + if self.against { slip } else { -slip };
        Ridden { held_by: 0.0, speed, carrier, time, tipped, raised }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn near(a: f64, b: f64, tolerance: f64) {
        assert!((a - b).abs() <= tolerance, "{a} is not {b}");
    }

    fn ride(shape: &PulseShape) -> Ride<'_> {
        Ride {
            shape,
            peak: 0.8 * G,
            lasts: 2.0,
            against: true,
            speed: 30.0,
            mass: 50.0,
            friction: Friction::of(0.45),
            strength: 0.0,
            path: 2.0,
            lift: 0.0,
            wind: 0.0,
            stance: None,
        }
    }

    /// Source: motion under constant acceleration, by hand: 0.8 g, 0.45 and
    /// 0.3375, 2 m: 4.25938 m/s along the bed after 0.93910 s. Over the ground
    /// friction alone has slowed it: 30 − 0.3375 g · 0.93910.
    #[test]
    fn a_braking_carrier_is_left_with_most_of_its_speed() {
        let out = ride(&PulseShape::Square).ridden();
        near(out.held_by, 0.0, 0.0);
        near(out.time, 0.93910, 1e-4);
        near(out.speed, 30.0 - 0.3375 * G * 0.93910, 1e-3);
        near(out.carrier, 30.0 - 0.8 * G * 0.93910, 1e-3);
    }

    #[test]
    fn pulling_away_leaves_the_load_behind_with_what_friction_gave_it() {
        let out = Ride { against: false, ..ride(&PulseShape::Square) }.ridden();
        near(out.held_by, 0.0, 0.0);
        near(out.speed, 30.0 + 0.3375 * G * 0.93910, 1e-3);
    }

    /// Source: statics: 50 kg at 0.8 g on 0.45 asks a tie-down for
    /// 50 · 0.35 g = 171.6 N.
    #[test]
    fn a_tie_down_holds_to_its_strength() {
        let with = |strength| Ride { strength, ..ride(&PulseShape::Square) }.ridden();
        assert!(with(171.0).held_by <= 0.0);
        let held = with(180.0);
        // Its margin: the path's friction and what the strength has to spare.
        near(held.held_by, 0.3375 * 50.0 * G + (180.0 - 171.616), 1e-2);
        near(held.speed, 30.0 - 0.8 * G * 2.0, 1e-9);
        assert!(with(300.0).held_by > held.held_by);
    }

    #[test]
    fn a_load_that_stops_short_is_nearer_to_leaving_than_one_that_never_slid() {
        let slid = Ride { lasts: 0.2, ..ride(&PulseShape::Square) }.ridden();
        let sat = Ride { peak: 0.44 * G, ..ride(&PulseShape::Square) }.ridden();
        assert!(slid.held_by > 0.0 && sat.held_by > slid.held_by, "{slid:?} {sat:?}");
    }

    /// The carrier stops after 1 s of 2; nothing pulls from then on.
    #[test]
    fn a_carrier_that_stands_pulls_no_more() {
        let short = Ride { speed: 0.8 * G, path: 1e3, ..ride(&PulseShape::Square) }.ridden();
        assert!(short.held_by > 0.0);
        near(short.speed, 0.0, 0.05);
    }

    /// Source: Wills, Lee and Wyatt 2002 (from memory): 12 mm plywood of
    /// 600 kg/m³ lifts at 10.848 m/s in air of 1.2 kg/m³ with a coefficient
    /// of 1.
    #[test]
    fn air_under_a_sheet_lifts_it_off_at_the_known_speed() {
        let sheet = |speed| {
            let lift = 0.5 * 1.2;
            let mass = 0.012 * 600.0;
            Ride { peak: 0.0, lift, mass, speed, ..ride(&PulseShape::Square) }.ridden()
        };
        assert!(sheet(10.84).held_by > 0.0);
        let off = sheet(10.86);
        near(off.held_by, 0.0, 0.0);
        near(off.speed, 10.86, 1e-12);
        // A tail wind takes it back.
        let calm = Ride {
            wind: 5.0,
            speed: 15.8,
            lift: 0.6,
            mass: 7.2,
            peak: 0.0,
            ..ride(&PulseShape::Square)
        };
        assert!(calm.ridden().held_by > 0.0);
    }

    /// A cupboard 0.6 m deep and 1.5 m tall.
    const TALL: Stance =
        Stance { half_base: 0.3, height: 0.75, gyration_squared: (0.36 + 2.25) / 12.0 };

    /// Source: work of an even pull and of the weight over a way of 0.5 m.
    #[test]
    fn a_tall_load_turns_over_its_edge_and_leaves_turning() {
        let tall = Ride { stance: Some(TALL), path: 0.5, ..ride(&PulseShape::Square) };
        let out = tall.ridden();
        near(out.held_by, 0.0, 0.0);
        let way = TALL.way(out.tipped.angle);
        near(way, 0.5, 0.02);
        let square = 0.09 + 0.5625 + TALL.gyration_squared;
        let turning = 0.5 * square * out.tipped.rate * out.tipped.rate;
        near(turning, 0.8 * G * way - G * out.raised[0], 0.02 * turning);
        assert!(out.speed > out.carrier && out.raised[1] < 0.0, "{out:?}");
        // Pulling away it goes over backwards, slower than its carrier.
        let away = Ride { against: false, ..tall }.ridden();
        near(away.tipped.rate, out.tipped.rate, 1e-9);
        assert!(away.speed < away.carrier);
    }

    #[test]
    fn a_tall_load_falls_on_its_front_rocks_back_or_stands() {
        let with = |peak: f64, lasts: f64, strength: f64| {
            let stance = Some(TALL);
            let (peak, path) = (peak * G, 2.0);
            Ride { stance, peak, lasts, strength, path, ..ride(&PulseShape::Square) }.ridden()
        };
        // On its front it slides on, lower by what it was taller than deep.
        let fell = with(0.8, 3.0, 0.0);
        assert!(fell.held_by <= 0.0 && fell.tipped.angle > 1.5 && fell.tipped.rate == 0.0);
        near(fell.raised[0], -0.45, 1e-12);
        assert!(with(0.39, 2.0, 0.0).held_by > 0.0, "a gentle brake");
        assert!(with(0.6, 0.05, 0.0).held_by > 0.0, "a short one: it rocks back");
        assert!(with(0.8, 3.0, 300.0).held_by > 0.0, "it is tied");
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..Default::default() })]

        /// A harder or longer jolt never keeps a tall load that a lesser one throws off.
        #[test]
        fn a_harder_or_longer_jolt_never_keeps_a_load(
            peak in 0.2..1.2, lasts in 0.05..3.0, more in 1.0..2.0, path in 0.2..1.0,
        ) {
            let goes = |peak: f64, lasts: f64| {
                let (stance, peak, speed) = (Some(TALL), peak * G, 200.0);
                let ride = Ride { stance, peak, lasts, path, speed, ..ride(&PulseShape::Square) };
                ride.ridden().held_by <= 0.0
            };
            if goes(peak, lasts) {
                prop_assert!(goes(peak * more, lasts) && goes(peak, lasts * more));
            }
        }
    }
}
