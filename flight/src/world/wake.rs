//! The wake that a carrier drags behind it, as a mean over time.
//!
//! Assumes: a carrier that goes straight on at one speed in a steady wind. The
//! air behind it is carried along: wholly in the dead air right behind the tail,
//! and from its end on by the law of the far wake behind a bluff body, whose
//! momentum is the carrier's drag. The wake trails along the wind that the
//! carrier feels, so that a crosswind turns it aside. The ground is a mirror: no
//! momentum goes into it, and the wake of a high carrier becomes, farther on,
//! the upper half of one with twice the momentum.
//! Valid: from ten heights behind the tail, where the wake of a block vehicle was
//! measured and the far law found. Nearer to it no law holds: what stands here
//! joins the far law to air that goes along wholly, and whoever flies something
//! there has to say so.
//! Ignores: the eddies (a real wake shakes what flies in it), air that flows
//! down or inwards behind the tail, the carrier's sides, friction at the ground.
//!
//! Source: P. B. V. Johansson, W. K. George, M. J. Gourlay, Phys. Fluids 15
//! (2003) 603: deficit at the centre 0.77 (x/θ)^(-2/3), transverse scale 1.14 θ
//! (x/θ)^(1/3), θ² = `C_D A` / 4π (from memory). J. Howell, SAE 2011-01-0178:
//! behind vehicle shapes it falls about as x^(-2/3), in free stream and near the
//! ground (abstract read). R. E. Eskridge, R. S. Thompson, EPA-600/3-82-007: the
//! wake of a block vehicle keeps momentum (abstract read; the exponents that it
//! confirms are -3/4 and 1/4, from memory: it fades a little faster than here).
//! Profile: Gauss, with its momentum flux as a whole (the square of the deficit
//! not left out).

use crate::{
    lane::{Curve, Lane, Processor, per_flight},
    math::{cbrt, exp, hypot},
    note::{Kind, Note, Subject},
};
use core::f64::consts::{PI, SQRT_2};
use glam::DVec3;
use std::sync::LazyLock;

/// Its section of the page of trust.
const SUBJECT: Subject = Subject { key: "wake", claims: "How the air behind a carrier goes along" };

/// What it says of itself.
pub const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "wake of the carrier",
    how: "the carrier goes straight on at the speed it had as the load left, and the air behind it goes along: dead air behind the tail, then the mean wake of a bluff body, whose momentum is the drag; a crosswind turns it aside, the ground mirrors it",
    source: "Johansson, George & Gourlay, Phys. Fluids 15 (2003) 603 (from memory); Howell, SAE 2011-01-0178, and Eskridge & Thompson, EPA-600/3-82-007 (abstracts read); within a factor of 1.3 of the air in front of a truck that follows another (Nuszkowski et al., Proc. IMechE D 2017, abstract read)",
    kind: Kind::Memory,
    range: "from ten heights behind the tail; nearer to it no law holds, and the air there is an interpolation: `strength` and `dead_air` stand for that doubt",
    leaves_out: "the eddies of a real wake, which shake and turn what flies in it",
};

/// Deficit at the centre where x is the momentum thickness. Source: as above.
const CENTRE: f64 = 0.77;
/// From how many heights behind the tail on the law holds. Source: Eskridge &
/// Thompson measured from 10 to 80.
const TESTED: f64 = 10.0;
/// Over how many of its widths the wake begins ahead of the tail (judgement: it
/// has to begin smoothly somewhere).
const BEGINS: f64 = 2.0;

/// What drags a wake behind it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Carrier {
    /// Velocity, along x and y, in m/s.
    pub velocity: [f64; 2],
    /// Middle of its tail at time 0, x and y, in m.
    pub tail: [f64; 2],
    /// Height above the ground, in m, > 0.
    pub height: f64,
    /// Drag coefficient times frontal area, in m², > 0.
    pub drag_area: f64,
    /// How far the dead air reaches behind the tail, in m, >= 0.
    pub dead_air: f64,
    /// Multiplies the speed that the wake has: 1 as published, 0 no wake.
    pub strength: f64,
}

per_flight! {
    /// One flight's wake.
    pub struct Wake {
        /// Velocity of the air that is wholly carried along, less the wind's,
        /// times the strength: along x, in m/s.
        gain_x,
        /// Along y.
        gain_y,
        /// Unit vector along which it trails, x.
        along_x,
        /// y.
        along_y,
        /// Middle of the tail at time 0, x, in m.
        tail_x,
        /// y.
        tail_y,
        /// Velocity of the tail, x, in m/s.
        tail_vx,
        /// y.
        tail_vy,
        /// Height of the axis, in m.
        axis,
        /// Where the dead air ends behind the tail, in m.
        dead_air,
        /// Decay behind it, in 1/m.
        decay,
        /// 1 / 2θ², in 1/m².
        narrow,
        /// 1 / the way over which it begins ahead of the tail, in 1/m.
        begins,
    }
}

impl Wake {
    /// Behind this carrier, in a mean wind `[x, y]` (m/s) about it.
    #[must_use]
    pub fn behind(carrier: &Carrier, wind: [f64; 2]) -> Self {
        let [vx, vy] = carrier.velocity;
        // The air as the carrier feels it.
        let (x, y) = (wind[0] - vx, wind[1] - vy);
        let speed = hypot(x, y);
        let [along_x, along_y] = if speed > 0.0 { [x / speed, y / speed] } else { [-1.0, 0.0] };
        let square = carrier.drag_area / (4.0 * PI);
        let theta = square.sqrt();
        Self {
            gain_x: -carrier.strength * x,
            gain_y: -carrier.strength * y,
            along_x,
            along_y,
            tail_x: carrier.tail[0],
            tail_y: carrier.tail[1],
            tail_vx: vx,
            tail_vy: vy,
            axis: 0.5 * carrier.height,
            dead_air: carrier.dead_air,
            // So far behind the dead air's end the law has the deficit 1.
            decay: 1.0 / (CENTRE * CENTRE.sqrt() * theta),
            narrow: 0.5 / square,
            begins: 1.0 / (BEGINS * SQRT_2 * theta),
        }
    }

    /// What the wake adds to the wind at a `place` (m) and a `time` (s after
    /// release): along x and y, in m/s.
    #[must_use]
    pub fn at(&self, place: DVec3, time: f64) -> [f64; 2] {
        let [behind, aside] = self.seen_from_tail(place, time);
        let spread = 1.0 + (behind - self.dead_air).max(0.0) * self.decay;
        let alone = decay(spread);
        // Share of the wake that has grown together with its mirror image.
        let double = 4.0 * self.axis * self.axis;
        let joined = exp(-double * self.narrow * alone * (1.0 - 0.5 * alone));
        let centre = decay(spread * (1.0 + joined));
        let narrow = self.narrow * centre * (1.0 - 0.5 * centre);
        let bell = |height: f64| exp(-narrow * (aside * aside + height * height));
        let begun = (1.0 + behind * self.begins).clamp(0.0, 1.0);
        let share = begun * begun * (3.0 - 2.0 * begun) * centre;
        let deficit = share * (bell(place.z - self.axis) + bell(place.z + self.axis));
        [self.gain_x * deficit, self.gain_y * deficit]
    }

    /// Whether a `place` (m) at release is so near to the tail, or ahead of it,
    /// that no law holds, and there is a wake at all.
    #[must_use]
    pub fn is_untested(&self, place: DVec3) -> bool {
        let [behind, _] = self.seen_from_tail(place, 0.0);
        hypot(self.gain_x, self.gain_y) > 0.0 && behind < TESTED * 2.0 * self.axis
    }

    /// How far behind the tail and aside from the axis.
    fn seen_from_tail(&self, place: DVec3, time: f64) -> [f64; 2] {
        let x = place.x - self.tail_x - self.tail_vx * time;
        let y = place.y - self.tail_y - self.tail_vy * time;
        [x * self.along_x + y * self.along_y, y * self.along_x - x * self.along_y]
    }
}

/// `n^(-2/3)`.
fn decay(n: f64) -> f64 {
    let root = cbrt(n);
    1.0 / (root * root)
}

/// The wake's functions as the step loop has them.
#[derive(Debug)]
pub struct WakeCurves {
    /// `n^(-2/3)` from 1 on; what lies behind a million is as at a million.
    decay: Curve,
    /// `exp(1 - a)` from 1 on: nothing from 64 on.
    bell: Curve,
}

static CURVES: LazyLock<WakeCurves> = LazyLock::new(|| WakeCurves {
    decay: Curve::new(0, 20, decay),
    bell: Curve::new(0, 6, |a| exp(1.0 - a)),
});

impl WakeCurves {
    /// The same for all wakes.
    #[must_use]
    pub fn get() -> &'static Self {
        &CURVES
    }

    /// `exp(-e)`.
    #[inline(always)]
    fn fading<S: Processor>(&self, e: Lane<S>) -> Lane<S> {
        self.bell.at(e + 1.0)
    }
}

impl<S: Processor> Wake<Lane<S>> {
    /// No wake.
    #[inline(always)]
    pub fn none(simd: S) -> Self {
        let nowhere = Carrier {
            velocity: [0.0; 2],
            tail: [0.0; 2],
            height: 1.0,
            drag_area: 1.0,
            dead_air: 0.0,
            strength: 0.0,
        };
        Wake::behind(&nowhere, [0.0; 2]).spread(simd)
    }

    /// As [`Wake::at`], to 1e-6 of the speed that the carrier feels the air at,
    /// times the strength.
    #[inline(always)]
    pub fn at(&self, curves: &WakeCurves, [x, y, z]: [Lane<S>; 3], time: Lane<S>) -> [Lane<S>; 2] {
        let (zero, one) = (time.of(0.0), time.of(1.0));
        let x = x - self.tail_vx.mul_add(time, self.tail_x);
        let y = y - self.tail_vy.mul_add(time, self.tail_y);
        let behind = x.mul_add(self.along_x, y * self.along_y);
        let aside = y.mul_add(self.along_x, -(x * self.along_y));
        let spread = (behind - self.dead_air).max(zero).mul_add(self.decay, one);
        let alone = curves.decay.at(spread);
        let double = self.axis * self.axis * 4.0;
        let joined =
            curves.fading(double * self.narrow * (alone * alone).mul_add(alone.of(-0.5), alone));
        let centre = curves.decay.at(spread * (joined + 1.0));
        let narrow = self.narrow * (centre * centre).mul_add(centre.of(-0.5), centre);
        let (above, below) = (z - self.axis, z + self.axis);
        let square = aside * aside;
        let bells = curves.fading(narrow * above.mul_add(above, square))
            + curves.fading(narrow * below.mul_add(below, square));
        let begun = behind.mul_add(self.begins, one).max(zero).min(one);
        let share = begun * begun * begun.mul_add(begun.of(-2.0), begun.of(3.0)) * centre;
        let deficit = share * bells;
        [self.gain_x * deficit, self.gain_y * deficit]
    }
}

#[cfg(test)]
mod tests;
