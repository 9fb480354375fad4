//! A load on a carrier whose speed changes: does it come loose, and how much
//! of the carrier's speed does it take with it?
//!
//! Rigid load on a rigid level bed, along the carrier's own direction. The
//! tie-down bears what friction does not, up to its strength, and is gone once
//! it breaks; from then on friction alone brakes the load until it comes to the
//! edge. Air under it takes weight off the bed, and lifts it away if it beats
//! weight and tie-down. Ignores the give of tie-downs, creep under vibration,
//! and the pitching of the bed; whether it tips, `shed` says.

use super::{PulseShape, loosen::Friction};
use crate::flight::GRAVITY as G;

/// Steps through a jolt: the speed of leaving is good to a few mm/s.
const STEPS: u32 = 256;

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
}

/// Where the load stands in the middle of a ride.
struct Now {
    carrier: f64,
    slip: f64,
    way: f64,
    free: bool,
    /// Least that was missing for it to slide, and to lift, in N.
    missing: [f64; 2],
}

impl Ride<'_> {
    /// Rides through the jolt and what follows.
    #[must_use]
    pub fn ridden(&self) -> Ridden {
        let step = self.lasts / f64::from(STEPS);
        let mut now = Now {
            carrier: self.speed,
            slip: 0.0,
            way: 0.0,
            free: self.strength <= 0.0,
            missing: [f64::INFINITY; 2],
        };
        for i in 0..STEPS {
            let middle = f64::from(i) + 0.5;
            if let Some(part) = self.moved(&mut now, middle / f64::from(STEPS), step) {
                return self.leaves(&now, step * (f64::from(i) + part));
            }
        }
        self.after(&now)
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
    fn after(&self, now: &Now) -> Ridden {
        let slowing = self.friction.sliding * self.press(now.carrier).max(0.0) / self.mass;
        let square = now.slip * now.slip - 2.0 * slowing * (self.path - now.way);
        if now.slip > 0.0 && square >= 0.0 {
            let slip = square.sqrt();
            let time = self.lasts + 2.0 * (self.path - now.way) / (now.slip + slip);
            return self.leaves(&Now { slip, ..*now }, time);
        }
        let way =
            if slowing > 0.0 { now.way + 0.5 * now.slip * now.slip / slowing } else { now.way };
        Ridden {
            held_by: self.missing(now, way),
            speed: now.carrier,
            carrier: now.carrier,
            time: self.lasts,
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
        let slip = if self.against { now.slip } else { -now.slip };
        let carrier = now.carrier.max(0.0);
        Ridden { held_by: 0.0, speed: carrier + slip, carrier, time }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

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
}
