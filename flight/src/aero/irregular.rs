//! A compact lump: stone, rubble, a piece of something.
//!
//! Assumes: it tumbles through all attitudes, so that its drag is one number of
//! Reynolds number and sphericity, on the ball of the same volume, and lift
//! and moments cancel; it is flown as a ball with that drag. From Reynolds number
//! 2e3 or so on the drag is level: what settles in liquids has, a quarter of the
//! surface being the mean shadow, less 15 %, since heavy lumps in air wobble less;
//! tunnels have less for one cube, settling more ([`Figure::LumpDrag`]).
//! Valid: sphericity from 0.67 to 1, Mach below 0.6, Reynolds numbers below 1e5
//! (nothing was read of lumps beyond; edges fix where the flow leaves, so that no
//! crisis is expected). Ignores: what a flat or long piece does in the air (use
//! `plate`, `rod` or `block`), the drag crisis of rounded stones.

use super::{Figure, Figures, Flow, Load, Model, Sphere, crisis::Crisis, family};
use crate::{
    lane::{Curve, Processor},
    math::{exp, pow},
    note::{Kind, Note, Subject},
    world::Air,
};
use std::sync::LazyLock;

/// Its section of the page of trust.
pub(super) const SUBJECT: Subject = Subject { key: "lump", claims: "What the air does to a lump" };

/// What it says of itself.
pub(super) const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "drag of the lump",
    how: "one drag coefficient by sphericity on a quarter of the surface, 0.85 of what settles in liquids; a tumbling lump's lift and moments cancel",
    source: "Can. J. Chem. Eng. 37 (1959), abstract; Haider & Levenspiel, Powder Technol. 58 (1989) 63, below Reynolds number 2e3; cubes in tunnels: Hoerner (from memory)",
    kind: Kind::Memory,
    range: "sphericity from 0.67 to 1, Reynolds numbers below 1e5, slower than Mach 0.6",
    leaves_out: "tunnels and settling tanks disagree about one cube by 1.6: `lump_drag`",
};

/// Rows of the table.
const ROWS: u16 = 24;
/// Sphericity from one row to the next.
const APART: f64 = 0.014;
/// Reynolds number at which a sphericity between two rows is exact.
const EXACT: f64 = 2.5e4;
/// Reynolds number half-way from the settling law to the level one.
///
/// Source: the latter holds from 2e3 on, on the ball of the same surface (Can. J.
/// Chem. Eng. 37, 1959, abstract read).
const LEVEL: f64 = 2e3;
/// Drag in air over that in liquids. Our reading between cubes held in tunnels
/// (1.05 to 1.13 faces: Hoerner, from memory) and settling ones (1.67).
const STEADIER: f64 = 0.85;
/// No lump drags less than a ball.
const BALL: f64 = 0.44;

/// Sphericity of a row: 1 to 0.678.
fn sphericity(row: u16) -> f64 {
    1.0 - APART * f64::from(row)
}

/// Drag coefficient of a compact lump that settles, on the area of the ball of the
/// same volume, by the Reynolds number with that ball's diameter and the
/// sphericity.
///
/// Source: Haider & Levenspiel 1989, best above sphericity 0.67 and below
/// Reynolds number 2.5e4 (range from memory).
#[must_use]
pub fn irregular_drag(reynolds: f64, sphericity: f64) -> f64 {
    Law::new(sphericity).drag(reynolds)
}

/// Drag coefficient of a lump that settles fast, on a quarter of its surface.
///
/// Source: 2.53 - 0.283 exp(2 ψ), Can. J. Chem. Eng. 37 (1959), abstract (the
/// exponent was garbled; it alone gives the ball's 0.44).
#[must_use]
pub fn settled_drag(sphericity: f64) -> f64 {
    2.53 - 0.283 * exp(2.0 * sphericity)
}

/// Drag coefficient of a lump that tumbles through the air at high Reynolds
/// number, on the area of the ball of its volume.
fn tumbling_drag(sphericity: f64) -> f64 {
    (STEADIER * settled_drag(sphericity) / sphericity).max(BALL)
}

/// The formula's four numbers for one sphericity.
struct Law {
    a: f64,
    b: f64,
    c: f64,
    d: f64,
}

impl Law {
    fn new(phi: f64) -> Self {
        let power =
            |c0: f64, c1: f64, c2: f64, c3: f64| exp(c0 + phi * (c1 + phi * (c2 + phi * c3)));
        Self {
            a: power(2.3288, -6.4581, 2.4486, 0.0),
            b: 0.0964 + 0.5565 * phi,
            c: power(4.905, -13.8944, 18.4222, -10.2599),
            d: power(1.4681, 12.2584, -20.7322, 15.8855),
        }
    }

    fn drag(&self, re: f64) -> f64 {
        24.0 / re * (1.0 + self.a * pow(re, self.b)) + self.c / (1.0 + self.d / re)
    }
}

/// Cd Re over Re, a row for each sphericity. Built when the first lump flies.
static DRAG: LazyLock<Curve> = LazyLock::new(|| {
    let laws: Vec<Law> = (0..ROWS).map(|row| Law::new(sphericity(row))).collect();
    Curve::rows([-10, 24], ROWS, |row, re| re * laws[usize::from(row)].drag(re))
});

/// One flight's lump: a ball with another drag.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lump(Sphere);

impl Lump {
    /// A lump in this air: `diameter` of the ball of its volume in m,
    /// `sphericity` 0..1.
    ///
    /// The table has a row for every 0.014 of sphericity; between rows the
    /// nearest is scaled to be exact at Reynolds number 2.5e4, which leaves
    /// 2.5 % at others.
    #[must_use]
    pub fn new([diameter, phi]: [f64; 2], air: &Air, drag_factor: f64, figures: &Figures) -> Self {
        let nearest = |row: &u16| (sphericity(*row) - phi).abs();
        let row = (0..ROWS).min_by(|a, b| nearest(a).total_cmp(&nearest(b))).unwrap_or(0);
        let factor = figures.get(Figure::LumpDrag);
        let scale = factor * irregular_drag(EXACT, phi) / irregular_drag(EXACT, sphericity(row));
        // The row's Reynolds number and the scale stand before the level drag, too.
        let level = factor * tumbling_drag(phi) / (scale * DRAG.factor(row));
        let ball =
            Sphere::through(&Crisis::level(LEVEL, level), diameter, air, scale * drag_factor);
        Self(Sphere { reynolds: DRAG.factor(row) * ball.reynolds, ..ball })
    }
}

impl Model for Lump {
    family!(Lump, Sphere in 0);

    type Shared = &'static Curve;
    const TURNS: bool = false;

    fn shared(&self) -> &'static Curve {
        &DRAG
    }

    #[inline(always)]
    fn load<S: Processor>(curve: &'static Curve, lump: &Self::Lanes<S>, flow: &Flow<S>) -> Load<S> {
        <Sphere as Model>::load(curve, lump, flow)
    }
}

#[cfg(test)]
mod tests;
