//! A ball by its surface, and how it curves when it spins.
//!
//! Assumes: drag by Reynolds number for each kind of surface; lift along
//! ω × V by the spin parameter S = R ω / V; a moment that brakes the spin,
//! ½ ρ A R V² β S. Valid: see [`measured`]; Mach below 0.6. Ignores: where the
//! seams are, the part of the spin along the flight (it counts in S and gives
//! no lift), what spin does to the drag of smooth and seamed balls.
//!
//! A ball told by a roughness is lifted as the seamed one was measured. A smooth
//! one's own lift has either sign, by Reynolds number and spin (Kim, Choi, Park &
//! Yoo 2014, JFM 754 R2, abstract read), and near its crisis a dimpled one's, too
//! (CL -0.137 at Reynolds number 7.5e4, S 0.1: Li, Tsubokura & Tsunoda 2017,
//! second-hand): that belongs into the lift factor, not into the mean
//! ([`lift_doubt`]).

use super::{
    Figures, Flow, Load, Model,
    crisis::fallen,
    family,
    points::through,
    sphere::{sphere_drag, table},
};
use crate::{
    body::Surface,
    lane::{Curve, Lane, Processor, per_flight},
    math::{pow, sin},
    note::{Kind, Note, Subject},
    world::Air,
};
use core::f64::consts::PI;
use std::sync::LazyLock;

/// Its section of the page of trust.
pub(super) const SUBJECT: Subject =
    Subject { key: "curve of the spinning ball", claims: "How a ball that spins curves" };

/// What it says of itself where its surface was not measured spinning.
const UNMEASURED: Note = Note {
    subject: &SUBJECT,
    what: "curve of the spinning ball",
    how: "lift across spin and flight by rim speed over speed, times `spin_lift_factor`, the place for doubt about it; the air brakes the spin as a golf ball's (Smits & Smith 1994, second-hand)",
    source: "lift as measured on baseballs, for want of this surface's own: Sawicki, Hubbard & Stronge, Am. J. Phys. 71 (2003) 1152 (second-hand); a smooth ball's has either sign: Kim, Choi, Park & Yoo, J. Fluid Mech. 754 (2014) R2 (abstract)",
    kind: Kind::SecondHand,
    range: "Reynolds numbers from 1.1e5 to 2.4e5, a rim speed of at most 0.6 of the speed",
    leaves_out: "the rest is the doubt in `spin_lift_factor`",
};
/// What it says of itself for a ball of this surface.
#[must_use]
pub fn spin_note(surface: Surface) -> Note {
    let measured = |source, range, leaves_out| Note { source, range, leaves_out, ..UNMEASURED };
    match surface {
        Surface::Seamed => measured(
            "Sawicki, Hubbard & Stronge, Am. J. Phys. 71 (2003) 1152 (second-hand), confirmed by Nathan, Am. J. Phys. 76 (2008) 119",
            "Reynolds numbers from 1.1e5 to 2.4e5, a rim speed of at most 0.6 of the speed",
            "",
        ),
        Surface::Dimpled => measured(
            "Smits & Smith (1994, second-hand)",
            "Reynolds numbers from 0.7e5 to 2.1e5, a rim speed of at most 0.2 of the speed",
            "near 0.75e5 the ball may curve the other way (Li, Tsubokura & Tsunoda 2017, second-hand)",
        ),
        Surface::Felt => Note {
            kind: Kind::Memory,
            ..measured(
                "Stepanek, Am. J. Phys. 56 (1988) 138 (second-hand); its Reynolds numbers from memory",
                "Reynolds numbers from 0.6e5 to 1.2e5, a rim speed of at most the speed",
                "",
            )
        },
        Surface::Plain
        | Surface::Smooth
        | Surface::Painted
        | Surface::Galvanised
        | Surface::Panelled
        | Surface::Pebbled
        | Surface::Planed
        | Surface::Concrete
        | Surface::Sawn
        | Surface::Rusty
        | Surface::Bark
        | Surface::Ribbed
        | Surface::Treaded
        | Surface::Hail
        | Surface::CastIce => UNMEASURED,
    }
}

/// Braking moment on ½ ρ A R V², by S: makes a golf ball (45.93 g, 42.67 mm,
/// air of 1.225 kg/m³) lose its spin as 2.0e-5 V ω / R.
///
/// Source: Smits & Smith 1994 (second-hand). Others: 2.5e-5 (Tavares et al.
/// 1999, second-hand), β of 0.010 to 0.012, which on the diameter is 0.020 to
/// 0.024 here.
const BRAKE: f64 = 0.019_66;

/// Between the smooth ball's drag at 1e4 and the published points: 0.45 to 0.32
/// over Reynolds numbers 0.75e5 to 1.75e5.
///
/// Source: Lyu et al. 2022, baseballs with little spin (second-hand).
const SEAMED: [[f64; 2]; 3] = [[1e4, 0.393_564], [7.5e4, 0.45], [1.75e5, 0.32]];
/// From the smooth ball's drag at 1e4 over 0.5 at 5e4 to the formula's beginning.
///
/// Source: 0.5 at 5e4: Lyu, Kensrud, Smith & Tosaya 2018 (second-hand).
const DIMPLED: [[f64; 2]; 3] = [[1e4, 0.393_564], [5e4, 0.5], [7e4, 0.221_459]];
/// From the smooth ball's drag at 1e4 to what felt has without spin.
///
/// Source: Stepanek 1988, AJP 56:138 (second-hand).
const FELT: [[f64; 2]; 2] = [[1e4, 0.393_564], [5e4, 0.508]];

/// Where the smooth ball's drag ends and that of the surface begins.
const TURBULENT: f64 = 1e4;

/// Drag coefficient of a ball that does not spin, on its frontal area; of a
/// surface that is told by a roughness, before its crisis.
///
/// Sources: Morrison 2013. Surfaces with their own curve: see the points in this
/// file; dimpled above 7e4: Smits & Smith 1994 (second-hand) without its spin term.
#[must_use]
pub fn ball_drag(surface: Surface, reynolds: f64) -> f64 {
    let points: &[[f64; 2]] = match surface {
        Surface::Dimpled if reynolds >= 7e4 => {
            return 0.24 + 0.06 * sin(PI * (reynolds.min(2.1e5) - 9e4) / 2e5);
        }
        Surface::Seamed => &SEAMED,
        Surface::Dimpled => &DIMPLED,
        Surface::Felt => &FELT,
        _ => &[],
    };
    if reynolds < TURBULENT || points.is_empty() {
        return sphere_drag(reynolds);
    }
    through(points, reynolds)
}

/// What spin adds to the drag coefficient.
///
/// Sources (second-hand): dimpled, 0.18 S: Smits & Smith 1994; felt, (22.503 +
/// 4.196 S^-2.5)^-0.4: Stepanek 1988 (others print 22.053). Others: left out.
#[must_use]
pub fn spin_drag(surface: Surface, spin: f64) -> f64 {
    match surface {
        Surface::Dimpled => 0.18 * spin,
        Surface::Felt => pow(22.503 + 4.196 * pow(spin, -2.5), -0.4),
        _ => 0.0,
    }
}

/// Lift coefficient at a spin parameter, for a spin across the flight.
///
/// Sources (second-hand): seamed, and others for want of their own: 1.5 S below
/// 0.1, 0.09 + 0.6 S above, Sawicki, Hubbard & Stronge 2003, AJP 71:1152;
/// dimpled, 0.54 S^0.4, Smits & Smith 1994, in proportion below S 0.08 where
/// it was not measured; felt, 1/(2.022 + 0.981/S), Stepanek 1988.
#[must_use]
pub fn spin_lift(surface: Surface, spin: f64) -> f64 {
    spin * lift_per_spin(surface, spin)
}

fn lift_per_spin(surface: Surface, spin: f64) -> f64 {
    match surface {
        Surface::Dimpled => 0.54 * pow(spin.max(0.08), -0.6),
        Surface::Felt => 1.0 / (2.022 * spin + 0.981),
        _ => (0.6 + 0.09 / spin).min(1.5),
    }
}

/// Over what range the lift of a surface may be what [`spin_lift`] says, as a
/// factor; `None` where it was measured on that surface.
///
/// Sources: smooth: either sign (Kim, Choi, Park & Yoo 2014, JFM 754 R2, abstract
/// read), and so what may be smooth; rough: that of the baseball down to a third
/// (judgement).
#[must_use]
pub fn lift_doubt(surface: Surface) -> Option<[f64; 2]> {
    match surface {
        Surface::Seamed | Surface::Dimpled | Surface::Felt => None,
        Surface::Smooth | Surface::Painted | Surface::Plain => Some([-1.0, 1.2]),
        _ => Some([0.3, 1.2]),
    }
}

/// Where a surface's curves were measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measured {
    /// Largest Reynolds number of the drag.
    pub drag: f64,
    /// Smallest and largest Reynolds number of the lift.
    pub lift: [f64; 2],
    /// Largest spin parameter.
    pub spin: f64,
}

/// Where the curves of a surface were measured.
///
/// Sources: drag by roughness, Achenbach 1974, JFM 65:113 (abstract read), lift as
/// seamed; hail and test ice, the published speeds; seamed, Nathan 2008, AJP 76:119
/// (abstract read: S to 0.595, Reynolds numbers 1.1e5 to 2.4e5), the drag taken
/// as level from 1.75e5; dimpled, Smits & Smith 1994 (second-hand); felt,
/// Stepanek 1988, 13.6 to 28 m/s (from memory).
#[must_use]
pub fn measured(surface: Surface) -> Measured {
    match surface {
        Surface::Seamed => Measured { drag: 2.4e5, lift: [1.1e5, 2.4e5], spin: 0.595 },
        Surface::Dimpled => Measured { drag: 2.1e5, lift: [0.7e5, 2.1e5], spin: 0.2 },
        Surface::Felt => Measured { drag: 1.2e5, lift: [0.6e5, 1.2e5], spin: 1.0 },
        Surface::Hail | Surface::CastIce => {
            Measured { drag: 4e5, lift: [1.1e5, 2.4e5], spin: 0.595 }
        }
        _ => Measured { drag: 6e6, lift: [1.1e5, 2.4e5], spin: 0.595 },
    }
}

/// The curves of one surface.
#[derive(Debug)]
pub struct Curves {
    /// Cd Re over Re, before a crisis that is not in it.
    pub(super) drag: Curve,
    /// Lift coefficient by spin parameter, over the spin parameter.
    lift: Curve,
    /// Drag coefficient of spin, over the spin parameter.
    induced: Curve,
}

impl Curves {
    fn new(surface: Surface) -> Self {
        let spins = |of: fn(Surface, f64) -> f64| Curve::new(-12, 5, |spin| of(surface, spin));
        Self {
            drag: table(|re| ball_drag(surface, re)),
            lift: spins(lift_per_spin),
            induced: spins(spin_drag),
        }
    }

    /// Built when the first ball with this surface flies.
    pub(super) fn of(surface: Surface) -> &'static Self {
        static ALL: [LazyLock<Curves>; 4] = [
            LazyLock::new(|| Curves::new(Surface::Plain)),
            LazyLock::new(|| Curves::new(Surface::Seamed)),
            LazyLock::new(|| Curves::new(Surface::Dimpled)),
            LazyLock::new(|| Curves::new(Surface::Felt)),
        ];
        let place = match surface {
            Surface::Seamed => 1,
            Surface::Dimpled => 2,
            Surface::Felt => 3,
            _ => 0,
        };
        &ALL[place]
    }
}

per_flight! {
    /// The numbers of one flight's ball.
    pub struct Spun {
        /// Reynolds number per speed, in s/m.
        reynolds,
        /// Force per speed and Cd Re, in N s/m.
        drag,
        /// Reynolds number per speed over that half-way down the crisis, in s/m.
        crisis,
        /// Drag coefficient at the bottom of the crisis.
        bottom,
        /// By how much it rises beyond.
        rise,
        /// Drag of spin per coefficient: drag factor · ½ ρ A, in kg/m.
        induced,
        /// Lift per coefficient over S: lift and drag factor · ½ ρ A R, in kg.
        lift,
        /// Braking moment per speed and rate: drag factor · ½ ρ A R² β, in kg m.
        brake,
        /// Square of the radius, in m².
        square,
    }
}

/// One flight's ball. All flights of a run have one surface.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ball {
    numbers: Spun,
    surface: Surface,
}

impl Ball {
    /// A ball in this air: its diameter in m, and what multiplies every force
    /// and, besides, the lift.
    #[must_use]
    pub fn new(
        [diameter, factor, lift_factor]: [f64; 3],
        surface: Surface,
        air: &Air,
        figures: &Figures,
    ) -> Self {
        let radius = diameter / 2.0;
        let induced = factor * 0.5 * air.density * PI * radius * radius;
        let sphere = super::Sphere::new(diameter, surface, air, factor, figures);
        let numbers = Spun {
            reynolds: sphere.reynolds,
            drag: sphere.drag,
            crisis: sphere.crisis,
            bottom: sphere.bottom,
            rise: sphere.rise,
            induced,
            lift: induced * radius * lift_factor,
            brake: induced * radius * radius * BRAKE,
            square: radius * radius,
        };
        Self { numbers, surface }
    }
}

impl Model for Ball {
    family!(Ball, Spun in numbers);

    type Shared = &'static Curves;
    const TURNS: bool = false;
    const SPINS: bool = true;
    const STRAYS: bool = true;

    fn shared(&self) -> &'static Curves {
        Curves::of(self.surface)
    }

    #[inline(always)]
    fn load<S: Processor>(
        curves: &'static Curves,
        ball: &Self::Lanes<S>,
        flow: &Flow<S>,
    ) -> Load<S> {
        let (u, w, speed) = (flow.velocity, flow.rates, flow.speed);
        let squared = speed.mul_add(speed, speed.of(1e-30));
        let spin = (ball.square * w.dot(w) / squared).sqrt();
        // The same as a sphere's where there is no spin.
        let reynolds = ball.reynolds * speed;
        let levels = [ball.bottom, ball.rise];
        let part = ball.crisis * speed;
        let drag = -(ball.drag * fallen(curves.drag.at(reynolds), reynolds, part, levels));
        let induced = -(ball.induced * curves.induced.at(spin) * speed);
        let lift = ball.lift * curves.lift.at(spin);
        let force = w.cross(u).mul_add(lift, u * induced) + u * drag;
        Load { force, moment: w * -(ball.brake * speed) }
    }

    /// Square of rate over speed, in rad²/m².
    #[inline(always)]
    fn stray<S: Processor>(_: &'static Curves, flow: &Flow<S>) -> Lane<S> {
        let speed = flow.speed;
        flow.rates.dot(flow.rates) / speed.mul_add(speed, speed.of(1e-30))
    }
}

#[cfg(test)]
mod tests;
