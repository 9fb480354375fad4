//! A load on a bed that tips over its front edge before it slides.
//!
//! The edge holds where it stands, and the load turns over it as a rigid body under
//! the pull of the jolt and its weight. It falls back, goes over the edge of the bed, or
//! comes to lie on its front. What ties it down pulls at half its height (judgement: a
//! lashing over the top bears more), and the friction that held it until then holds its
//! edge. A load that rocks back stands still again.
//!
//! Source: Newton and Euler about a fixed edge, standard derivation; when it begins:
//! statics.

use crate::math::{cos, sin};
use std::f64::consts::FRAC_PI_2;

/// How a load stands on its bed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stance {
    /// From its front edge to the mass centre along the bed, in m.
    pub half_base: f64,
    /// Of the mass centre above the bed, in m.
    pub height: f64,
    /// Square of its radius of gyration about the mass centre, across the bed, in m².
    pub gyration_squared: f64,
}

/// How far it has tipped, and how fast: in rad and rad/s, forwards.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Tipped {
    /// Angle.
    pub angle: f64,
    /// Its rate.
    pub rate: f64,
}

impl Stance {
    /// Whether it tips before it slides, at this static friction.
    ///
    /// Source: statics.
    #[must_use]
    pub(crate) fn is_tall(&self, friction: f64) -> bool {
        self.half_base < friction * self.height
    }

    /// Force that is missing to tip it, in N, of a pull at its mass centre: `press`:
    /// weight less lift; `tie`: what ties it down, both in N.
    #[must_use]
    pub(crate) fn held_by(&self, pull: f64, press: f64, tie: f64) -> f64 {
        press * self.half_base / self.height + tie - pull
    }

    /// Where its mass centre is from the edge, forwards and up, in m.
    fn centre(&self, angle: f64) -> [f64; 2] {
        let (sine, cosine) = (sin(angle), cos(angle));
        [self.height * sine - self.half_base * cosine, self.half_base * sine + self.height * cosine]
    }

    /// How far its mass centre has come forwards, in m.
    #[must_use]
    pub fn way(&self, angle: f64) -> f64 {
        self.centre(angle)[0] + self.half_base
    }

    /// How far it has come up, in m.
    #[must_use]
    pub fn higher(&self, angle: f64) -> f64 {
        self.centre(angle)[1] - self.height
    }

    /// Velocity of its mass centre on the bed, forwards and up, in m/s.
    #[must_use]
    pub fn velocity(&self, tipped: Tipped) -> [f64; 2] {
        let [ahead, above] = self.centre(tipped.angle);
        [tipped.rate * above, -tipped.rate * ahead]
    }

    /// Whether it lies on its front.
    #[must_use]
    pub fn lies(tipped: Tipped) -> bool {
        tipped.angle >= FRAC_PI_2
    }

    /// A step later (s), under a `pull` forwards and a weight less lift of `press`, both
    /// over the mass, in m/s²; back on its base it stands still.
    #[must_use]
    pub fn stepped(&self, from: Tipped, pull: f64, press: f64, step: f64) -> Tipped {
        let square = self.half_base * self.half_base + self.height * self.height;
        let quickens = |angle: f64| {
            let [ahead, above] = self.centre(angle);
            (pull * above + press * ahead) / (self.gyration_squared + square)
        };
        let half = from.angle + 0.5 * step * from.rate;
        let rate = from.rate + step * quickens(half);
        let angle = half + 0.5 * step * rate;
        if angle > 0.0 { Tipped { angle, rate } } else { Tipped::default() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::flight::GRAVITY as G;
    use proptest::prelude::*;

    /// A cupboard 0.6 m deep and 1.5 m tall.
    fn cupboard() -> Stance {
        let [base, tall] = [0.6_f64, 1.5];
        let gyration_squared = (base * base + tall * tall) / 12.0;
        Stance { half_base: base / 2.0, height: tall / 2.0, gyration_squared }
    }

    /// Source: statics: base 0.6 m, mass centre at 0.75 m: 0.4 g.
    #[test]
    fn it_begins_to_tip_at_its_half_base_over_its_height() {
        let stance = cupboard();
        let held = |pull: f64, tie: f64| stance.held_by(60.0 * pull * G, 60.0 * G, tie);
        assert!(held(0.3999, 0.0) > 0.0 && held(0.4001, 0.0) < 0.0);
        assert!((held(0.5, 100.0) - (100.0 - 6.0 * G)).abs() < 1e-9);
        assert!(stance.is_tall(0.41) && !stance.is_tall(0.39));
    }

    /// Source: energy of a body turned about its edge, by hand: at rest it goes over by
    /// itself once its swing would lift it to the top of its circle.
    #[test]
    fn what_swings_high_enough_goes_over_and_what_does_not_falls_back() {
        let stance = cupboard();
        let square: f64 = 0.09 + 0.5625;
        let top = square.sqrt() - 0.75;
        let rate = (2.0 * G * top / (stance.gyration_squared + square)).sqrt();
        let ends = |share: f64| {
            let mut tipped = Tipped { angle: 0.0, rate: share * rate };
            for _ in 0..20_000 {
                tipped = stance.stepped(tipped, 0.0, G, 5e-4);
                if Stance::lies(tipped) || tipped == Tipped::default() {
                    break;
                }
            }
            Stance::lies(tipped)
        };
        assert!(ends(1.01) && !ends(0.99));
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..Default::default() })]

        /// Source: work of an even pull and of the weight, `½ (k² + r²) ω² = a x - g z`.
        #[test]
        fn its_turning_is_what_pull_and_weight_have_done(
            half_base in 0.05..0.5, height in 0.2..1.5, pull in 1.2..3.0,
        ) {
            let gyration_squared = (half_base * half_base + height * height) / 3.0;
            let stance = Stance { half_base, height, gyration_squared };
            let pull = pull * G * half_base / height;
            let mut tipped = Tipped::default();
            while !Stance::lies(tipped) {
                tipped = stance.stepped(tipped, pull, G, 1e-4);
            }
            let square = half_base * half_base + height * height;
            let turning = 0.5 * (gyration_squared + square) * tipped.rate * tipped.rate;
            let done = pull * stance.way(tipped.angle) - G * stance.higher(tipped.angle);
            prop_assert!((turning / done - 1.0).abs() < 1e-4, "{turning} {done}");
        }
    }
}
