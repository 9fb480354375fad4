//! The drag crisis of round bodies, by how rough they are.
//!
//! Assumes: the drag coefficient falls from what it is before the crisis to a
//! bottom, and rises slowly beyond it; roughness brings the fall forward and makes
//! the bottom shallower. Where in the published ranges a body lies is told by two
//! figures ([`Figure::CrisisPlace`], [`Figure::CrisisDepth`]). Valid: Reynolds
//! numbers below 6e6 (balls) and 1e7 (cylinders), roughness from nothing to an
//! eightieth of the diameter (rougher counts as that). Ignores: turbulence of the
//! wind, which brings the crisis forward; the side force of a lopsided crisis.

use super::{Figure, Figures};
use crate::{
    body::Surface,
    lane::{Lane, Processor},
    math::{log10, pow},
};

/// Roughness over diameter of what is as good as smooth, and of the roughest that
/// was measured.
const RELATIVE: [f64; 2] = [1e-5, 1.25e-2];
/// Reynolds number at which a smooth ball's drag is lowest.
///
/// Source: 3.7e5 to 4e5 (Achenbach 1972, from memory).
const LOWEST: f64 = 3.8e5;
/// Reynolds number half-way down a smooth ball's crisis. Source: Morrison 2013.
const BALL: f64 = 2.63e5;
/// The same of a smooth cylinder: between 2.35e5 (Jorgensen, NASA TN D-6996,
/// figure 2) and 4e5 (DNV-RP-C205, second-hand).
const CYLINDER: f64 = 3.07e5;
/// How slowly the drag rises beyond the bottom: square of the Reynolds number,
/// over that half-way down, at which half of the rise is done. Fit by us: to 0.10
/// to 0.14 of a smooth ball at 1e6 (Matthews; Morrison), to 0.28, 0.39, 0.54,
/// 0.65 of a smooth cylinder at 6.4e5, 1.07e6, 1.8e6, 3.7e6 (DNV-RP-C205).
const RISE: f64 = 25.0;

/// Drag coefficients of one body through its crisis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Crisis {
    /// Half-way down per Reynolds number: 1 over the Reynolds number of that; 0
    /// where there is no crisis.
    pub(super) per_reynolds: f64,
    /// Drag coefficient at the bottom.
    pub(super) bottom: f64,
    /// By how much it rises beyond.
    pub(super) rise: f64,
}

/// Where between smooth (0) and the roughest (1) a relative roughness is.
fn roughness(relative: f64) -> f64 {
    let [smooth, rough] = RELATIVE;
    log10(relative.clamp(smooth, rough) / smooth) / log10(rough / smooth)
}

/// Reynolds number of the crisis over a smooth body's.
///
/// Source: Achenbach 1974, JFM 65:113, five roughnesses of spheres (points read
/// off memory, 30 %): 1.234e4 (k/d)^-0.374 by least squares, within 7 % of them;
/// of cylinders 1971, JFM 46:321 (from memory) alike.
fn forward(relative: f64) -> f64 {
    let [smooth, rough] = RELATIVE;
    (1.234e4 * pow(relative.clamp(smooth, rough), -0.374) / LOWEST).min(1.0)
}

impl Crisis {
    /// None.
    pub(super) const NONE: Self = Self { per_reynolds: 0.0, bottom: 0.0, rise: 0.0 };

    /// Read back from a flight's numbers: Reynolds number per speed, the same over that
    /// half-way down, the bottom and the rise.
    pub(super) fn read([reynolds, part, bottom, rise]: [f64; 4]) -> Self {
        Self { per_reynolds: part / reynolds, bottom, rise }
    }

    /// From one law to a level drag coefficient, half-way at a Reynolds number.
    pub(super) fn level(reynolds: f64, drag: f64) -> Self {
        Self { per_reynolds: 1.0 / reynolds, bottom: drag, rise: 0.0 }
    }

    /// Of a ball with this `roughness` (m).
    ///
    /// Bottom: 0.07 to 0.2 of a smooth one (0.07 to 0.09 is measured: Achenbach
    /// 1972, from memory; four makes of football 0.12 to 0.15, `SpringerPlus` 2013
    /// 2:171, abstract read), 0.14 to no crisis at all (0.5) of the roughest; a rise
    /// to 0.2 and to 0.4 (Achenbach 1974, abstract read: at most 0.4; Matthews: 0.40
    /// at 1e6).
    pub(super) fn ball(roughness: f64, diameter: f64, figures: &Figures) -> Self {
        let relative = roughness / diameter;
        let rough = self::roughness(relative);
        let bottom = between([0.07 + 0.07 * rough, (0.2 + 0.4 * rough).min(0.5)], figures);
        Self {
            per_reynolds: 1.0 / (BALL * forward(relative) * figures.get(Figure::CrisisPlace)),
            bottom,
            rise: (0.2 + 0.2 * rough - bottom).max(0.0),
        }
    }

    /// Of a long cylinder across the flow with this `roughness` (m).
    ///
    /// Bottom: 0.15 to 0.65 of a smooth one (0.15 to 0.4: Jorgensen; Roshko 1961,
    /// abstract read), 0.75 to 1.15 of the roughest; the middle within a tenth of
    /// EN 1991-1-4, 7.9 (second-hand). It rises to 0.65, (29 + 4 log10(k/d)) / 20
    /// and 1.05 (DNV-RP-C205: ends second-hand, formula from memory).
    pub(super) fn cylinder(roughness: f64, diameter: f64, figures: &Figures) -> Self {
        let relative = roughness / diameter;
        let bottom = between(bottoms(relative), figures);
        let top = (29.0 + 4.0 * log10(relative.max(1e-9))) / 20.0;
        Self {
            per_reynolds: 1.0 / (CYLINDER * forward(relative) * figures.get(Figure::CrisisPlace)),
            bottom,
            rise: (top.clamp(0.65, 1.05) - bottom).max(0.0),
        }
    }

    /// The same with every coefficient past the fall times a factor.
    pub(super) fn times(self, factor: f64) -> Self {
        Self { bottom: factor * self.bottom, rise: factor * self.rise, ..self }
    }

    /// The coefficient through the crisis, from what it is `before`.
    pub(super) fn drag(&self, before: f64, reynolds: f64) -> f64 {
        let square = pow(reynolds * self.per_reynolds, 2.0);
        let after = self.bottom + self.rise * square / (square + RISE);
        let fallen = pow(square, 4.0);
        (before + fallen * after) / (1.0 + fallen)
    }
}

/// The least and the largest bottom of a long cylinder's crisis.
pub(super) fn bottoms(relative: f64) -> [f64; 2] {
    let rough = roughness(relative);
    [0.15 + 0.6 * rough, 0.65 + 0.5 * rough]
}

/// Between the deepest and the shallowest bottom.
pub(super) fn between([deep, shallow]: [f64; 2], figures: &Figures) -> f64 {
    shallow + figures.get(Figure::CrisisDepth) * (deep - shallow)
}

/// How rough a body counts for its crisis, in m: a surface with curves of its own
/// counts as plain.
pub(super) fn height(surface: Surface) -> f64 {
    surface.roughness().or(Surface::Plain.roughness()).unwrap_or_default()
}

/// Cross-flow drag of a finite cylinder past its crisis over that of a long one.
///
/// Source: 0.80, 0.80, 0.82, 0.90, 0.98, 1 for length over diameter 2, 5, 10, 20,
/// 40, 100 (second-hand); constant below.
#[must_use]
pub(super) fn finite_length(slenderness: f64) -> f64 {
    const ROW: [[f64; 2]; 6] =
        [[2.0, 0.80], [5.0, 0.80], [10.0, 0.82], [20.0, 0.90], [40.0, 0.98], [100.0, 1.0]];
    super::points::through(&ROW, slenderness)
}

/// Cd Re through a crisis, from Cd Re `before` it: as [`Crisis::drag`], by
/// Reynolds number over that half-way down.
#[inline(always)]
pub(super) fn fallen<S: Processor>(
    before: Lane<S>,
    reynolds: Lane<S>,
    part: Lane<S>,
    [bottom, rise]: [Lane<S>; 2],
) -> Lane<S> {
    let square = part * part;
    let fourth = square * square;
    let eighth = fourth * fourth;
    let far = square + RISE;
    let after = reynolds * rise.mul_add(square, bottom * far);
    eighth.mul_add(after, before * far) / (far * (eighth + 1.0))
}

#[cfg(test)]
mod tests;
