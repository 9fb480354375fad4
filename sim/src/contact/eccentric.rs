//! Blows so eccentric that the push itself reverses the slip, or so rough that
//! friction against the slip would jam.
//!
//! Of all impulses that restitution and Coulomb's limit allow, the one that
//! comes nearest to a grip, in the energy of what slip is left. It always
//! exists, there is one only, and its friction never drives the slip.
//!
//! Source: Coulomb friction as a convex programme, standard derivation.

use crate::math::{cos, sin};
use glam::{DMat2, DMat3, DVec2, DVec3};
use std::f64::consts::TAU;

/// Directions of friction that are looked at first.
const STARTS: u32 = 64;

/// A sliding blow, split into along and across the push.
pub(super) struct Eccentric {
    push: DVec3,
    /// Two directions across the push.
    across: [DVec3; 2],
    /// Push without friction, in N s, and what a friction of 1 N s takes off.
    bearing: f64,
    eased: DVec2,
    friction: f64,
    /// Slip without friction, in m/s, and its change per friction.
    slip: DVec2,
    mobility: DMat2,
}

impl Eccentric {
    /// `slip`: velocity of the contact point, in m/s; `mobility`: its change per
    /// impulse, in 1/kg; `change`: what restitution asks for along the push, in
    /// m/s, > 0.
    pub(super) fn new(
        push: DVec3,
        slip: DVec3,
        mobility: DMat3,
        change: f64,
        friction: f64,
    ) -> Self {
        let (right, up) = push.any_orthonormal_pair();
        let flat = |v: DVec3| DVec2::new(v.dot(right), v.dot(up));
        let per_push = mobility * push;
        let stiff = push.dot(per_push);
        let coupling = flat(per_push);
        let columns = [right, up].map(|axis| flat(mobility * axis));
        let bearing = change / stiff;
        let eased = coupling / stiff;
        Self {
            push,
            across: [right, up],
            bearing,
            eased,
            friction,
            slip: flat(slip) + coupling * bearing,
            mobility: DMat2::from_cols(
                columns[0] - coupling * eased.x,
                columns[1] - coupling * eased.y,
            ),
        }
    }

    /// Friction at its limit in this direction, in N s; endless where it jams.
    fn limit(&self, angle: f64) -> DVec2 {
        let way = DVec2::new(cos(angle), sin(angle));
        let room = 1.0 + self.friction * self.eased.dot(way);
        way * if room > 0.0 { self.friction * self.bearing / room } else { f64::INFINITY }
    }

    /// What is left to a grip, in J and up to a constant; endless where friction
    /// would drive the slip. Along the limit there may be a second valley, beyond
    /// where it jams, but only one in which friction rubs.
    fn left(&self, friction: DVec2) -> f64 {
        if !friction.is_finite() {
            return f64::INFINITY;
        }
        let changed = self.mobility * friction;
        let rubs = friction.dot(self.slip + changed) <= 0.0;
        if rubs { friction.dot(self.slip + changed * 0.5) } else { f64::INFINITY }
    }

    /// The impulse, in N s.
    pub(super) fn impulse(&self) -> DVec3 {
        let friction = self.friction();
        let bearing = self.bearing - self.eased.dot(friction);
        self.push * bearing + self.across[0] * friction.x + self.across[1] * friction.y
    }

    /// What friction gives, in N s: a grip if the limit allows it.
    fn friction(&self) -> DVec2 {
        let grip = self.mobility.inverse() * -self.slip;
        if grip.length() <= self.friction * (self.bearing - self.eased.dot(grip)) {
            return grip;
        }
        let mut step = TAU / f64::from(STARTS);
        let at = |angle: f64| self.left(self.limit(angle));
        let starts = (0..STARTS).map(|i| f64::from(i) * step);
        let mut best = starts.min_by(|&a, &b| at(a).total_cmp(&at(b))).unwrap_or(0.0);
        while step > 1e-9 {
            let around = [best - step, best, best + step];
            let lowest = around.into_iter().min_by(|&a, &b| at(a).total_cmp(&at(b)));
            best = lowest.unwrap_or(best);
            step *= 0.5;
        }
        let limit = self.limit(best);
        // A grip that is out of reach by rounding alone leaves no way to it.
        if self.left(limit) < 0.0 { limit } else { DVec2::ZERO }
    }
}
