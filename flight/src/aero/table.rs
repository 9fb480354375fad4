//! Coefficients against the direction of the flow, as somebody measured or
//! computed them.

use crate::lane::{Lane, Processor, Vector};
use core::f64::consts::{FRAC_PI_2, PI};

/// Coefficients of force and moment along x, y, z.
pub type Six = [f64; 6];

/// A node with room for whole registers.
type Node = [f64; 8];

/// Evenly spaced angles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Angles {
    /// The first, in rad.
    pub from: f64,
    /// From one to the next, in rad, > 0.
    pub step: f64,
    /// How many, two at least.
    pub count: usize,
}

impl Angles {
    fn to(&self) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "a few thousand at most")]
        let steps = (self.count - 1) as f64;
        self.from + self.step * steps
    }

    /// Whether they reach from one end to the other.
    fn reach(&self, end: f64) -> bool {
        self.from < -end + 1e-9 && self.to() > end - 1e-9
    }
}

/// A table of coefficients over angle of attack and sideslip, read by a cubic
/// through the nodes: exact on them, smooth between.
///
/// Angle of attack is that of the flow in the body's x-z plane, atan2(-w, u),
/// sideslip that out of it, asin(v / V), for a velocity (u, v, w) relative to
/// the air in the body frame. Outside the table its edge holds; whoever flies
/// with it has [`Table::outside`] to say so.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    attack: Angles,
    slip: Angles,
    /// A row for each angle of attack and one before and after; likewise along
    /// each row.
    nodes: Vec<Node>,
    /// Reynolds numbers on the reference length that it is for.
    pub reynolds: [f64; 2],
}

impl Table {
    /// From the coefficients at each angle of attack, sideslip by sideslip.
    ///
    /// `None` where their number is not that of the angles, or there are fewer
    /// than two of either.
    #[must_use]
    pub fn new(attack: Angles, slip: Angles, rows: &[Six], reynolds: [f64; 2]) -> Option<Self> {
        if attack.count < 2 || slip.count < 2 || rows.len() != attack.count * slip.count {
            return None;
        }
        let (turns, half) = (attack.count - 1, (attack.count - 1) / 2);
        let round = attack.reach(PI);
        let over = round && slip.reach(FRAC_PI_2) && turns == 2 * half;
        // Row by row, each lengthened at both ends.
        let last = slip.count - 1;
        let at = |i: usize, j: usize| rows[i * slip.count + j];
        let row = |i: usize| {
            let beyond = |end: usize, inner: usize| {
                if over {
                    // Over the pole the other side of the body comes up.
                    at((i + half) % turns, inner)
                } else {
                    further(at(i, end), at(i, inner))
                }
            };
            let inside = (0..slip.count).map(|j| at(i, j));
            let all = core::iter::once(beyond(0, 1)).chain(inside);
            all.chain(core::iter::once(beyond(last, last - 1))).collect::<Vec<Six>>()
        };
        let rows: Vec<Vec<Six>> = (0..attack.count).map(row).collect();
        let beyond = |end: usize, inner: usize, across: usize| -> Vec<Six> {
            if round {
                return rows[across].clone();
            }
            rows[end].iter().zip(&rows[inner]).map(|(a, b)| further(*a, *b)).collect()
        };
        let (before, after) = (beyond(0, 1, turns - 1), beyond(turns, turns - 1, 1));
        let all = core::iter::once(&before).chain(&rows).chain(core::iter::once(&after));
        let nodes = all.flatten().map(|six| {
            let mut node = [0.0; 8];
            node[..6].copy_from_slice(six);
            node
        });
        Some(Self { attack, slip, nodes: nodes.collect(), reynolds })
    }

    /// Where each lane's flow is in the table, in steps from its first node.
    #[inline(always)]
    fn place<S: Processor>(&self, velocity: Vector<S>) -> [Lane<S>; 2] {
        let Vector { x, y, z } = velocity;
        let attack = angle(-z, x);
        let slip = angle(y, x.mul_add(x, z * z).sqrt());
        [
            (attack + -self.attack.from) * (1.0 / self.attack.step),
            (slip + -self.slip.from) * (1.0 / self.slip.step),
        ]
    }

    /// 1 where the flow comes from a direction that the table does not have.
    #[inline(always)]
    pub fn outside<S: Processor>(&self, velocity: Vector<S>) -> Lane<S> {
        let [attack, slip] = self.place(velocity);
        let beyond = |place: Lane<S>, count: usize| (place - place.of(last(count))).max(-place);
        let most = beyond(attack, self.attack.count).max(beyond(slip, self.slip.count));
        // Angles are read to 1e-7 rad or so.
        most.of(1e-4).below(most).to_number()
    }

    /// The coefficients for each lane's flow.
    #[inline(always)]
    #[expect(
        clippy::needless_range_loop,
        reason = "iterators' closures are not compiled for the processor"
    )]
    pub fn at<S: Processor>(&self, velocity: Vector<S>) -> [Lane<S>; 6] {
        let [attack, slip] = self.place(velocity);
        let mut found = [velocity.x.of(0.0); 6];
        let stride = self.slip.count + 2;
        for lane in 0..Lane::<S>::COUNT {
            let (i, along) = cell(attack.get(lane), self.attack.count);
            let (j, across) = cell(slip.get(lane), self.slip.count);
            let (rows, columns) = (cubic(along), cubic(across));
            let mut sum = [0.0; 8];
            for p in 0..4 {
                let row = &self.nodes[(i + p) * stride + j..][..4];
                let mut part = [0.0; 8];
                for q in 0..4 {
                    for k in 0..8 {
                        part[k] += columns[q] * row[q][k];
                    }
                }
                for k in 0..8 {
                    sum[k] += rows[p] * part[k];
                }
            }
            for k in 0..6 {
                found[k].set(lane, sum[k]);
            }
        }
        found
    }
}

/// One step beyond an end, in a straight line.
fn further(end: Six, inner: Six) -> Six {
    core::array::from_fn(|k| 2.0 * end[k] - inner[k])
}

/// The last place among so many nodes.
#[expect(clippy::cast_precision_loss, reason = "a few thousand at most")]
fn last(count: usize) -> f64 {
    (count - 1) as f64
}

/// The cell of a place and where in it; the edge's where it lies outside, the
/// first's where it is not a number.
#[inline(always)]
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "between 0 and a few thousand"
)]
fn cell(place: f64, count: usize) -> (usize, f64) {
    let inside = place.max(0.0).min(last(count));
    let cell = (inside as usize).min(count - 2);
    (cell, inside - cell as f64)
}

/// Weights of the four nodes about a cell, `t` from its second to its third:
/// exact on both, with the slope of the line through their neighbours.
///
/// Source: Catmull & Rom's spline (standard).
#[inline(always)]
fn cubic(t: f64) -> [f64; 4] {
    let (t2, t3) = (t * t, t * t * t);
    [
        0.5 * (2.0 * t2 - t3 - t),
        0.5 * (3.0 * t3 - 5.0 * t2 + 2.0),
        0.5 * (4.0 * t2 - 3.0 * t3 + t),
        0.5 * (t3 - t2),
    ]
}

/// The angle of (x, y) from x, in rad, within 3e-8.
///
/// Source: Abramowitz & Stegun, Handbook of Mathematical Functions, 4.4.49; the
/// tests hold its digits to the library's arc tangent.
#[inline(always)]
fn angle<S: Processor>(y: Lane<S>, x: Lane<S>) -> Lane<S> {
    const SERIES: [f64; 8] = [
        0.002_866_225_7,
        -0.016_165_736_7,
        0.042_909_613_8,
        -0.075_289_640_0,
        0.106_562_639_3,
        -0.142_088_994_4,
        0.199_935_508_5,
        -0.333_331_452_8,
    ];
    let (far, side) = (x.abs(), y.abs());
    let zero = x.of(0.0);
    let t = far.min(side) / far.max(side).max(x.of(1e-300));
    let square = t * t;
    let mut sum = zero;
    for term in SERIES {
        sum = sum.mul_add(square, x.of(term));
    }
    let small = (sum * square).mul_add(t, t);
    let quarter = far.below(side).select(x.of(FRAC_PI_2) - small, small);
    let half = x.below(zero).select(x.of(PI) - quarter, quarter);
    y.below(zero).select(-half, half)
}

#[cfg(test)]
mod tests;
