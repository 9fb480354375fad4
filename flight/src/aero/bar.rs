//! A bar of rectangular section along x: a plank, a beam, a batten.
//!
//! Assumes: cross-flow principle, as the rod's; across, each face drags as a long
//! bar's of the section's side ratio with a factor for the finite length, and in
//! between the two add up; a bar that is turned a little out of the flow square to
//! a face is pushed towards the side it is turned to, by an open share of that
//! face's drag ([`Figure::BarSideForce`]) with the sine of four times the angle,
//! across the flow and so without work; end-on the block's face, slender-body
//! force at the leading end, skin; strip damping.
//! Valid: length over the larger side of the section of at least 3, sharp edges,
//! Reynolds number above 1e4, Mach below 0.6. Ignores: vortex shedding, memory of
//! the wake, rounded edges (which have a drag crisis).

use super::{
    Figure, Figures, Flow, Load, Model,
    block::{LEAD, damping},
    face::deep_face,
    family,
    rod::SKIN,
};
use crate::{
    lane::{Processor, Vector, per_flight},
    math::ln,
    note::{Kind, Note, Subject},
    world::Air,
};

/// Its section of the page of trust.
pub(super) const SUBJECT: Subject =
    Subject { key: "bar", claims: "What the air does to a bar of rectangular section" };

/// What it says of itself.
pub(super) const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "drag, lift and turning of the bar",
    how: "cross-flow principle: each face drags by the section's side ratio, with a factor for the finite length; a side force between the faces; strip-theory damping",
    source: "EN 1991-1-4, figure 7.23 (from memory) and its end effect (second-hand); a textbook's row of sections (second-hand)",
    kind: Kind::Memory,
    range: "sharp-edged bars at least three times as long as thick, Reynolds numbers above 1e4, slower than Mach 0.6",
    leaves_out: "rounded edges; no measurement at angles between the faces was read: `bar_drag`, `bar_side_force`",
};

/// Depth along the flow over height across it, and the drag of a long bar on its
/// face.
///
/// Source: EN 1991-1-4, figure 7.23 (from memory). A textbook (second-hand) has
/// 1.9, 2.5, 2.9, 2.2, 1.6, 1.3 at 0.1, 0.5, 0.65, 1, 2, 3: 8 to 20 % apart, which
/// [`Figure::BarDrag`] carries.
const FACES: [[f64; 2]; 7] =
    [[0.1, 2.0], [0.2, 2.0], [0.65, 2.375], [1.0, 2.1], [2.0, 1.65], [5.0, 1.0], [10.0, 0.9]];

/// Length over height across the flow, and the drag of a finite bar over a long
/// one's.
///
/// Source: EN 1991-1-4, end effect of slenderness (second-hand).
const LENGTHS: [[f64; 2]; 9] = [
    [1.0, 0.60],
    [2.0, 0.632],
    [4.0, 0.673],
    [6.0, 0.70],
    [10.0, 0.74],
    [20.0, 0.80],
    [40.0, 0.848],
    [70.0, 0.91],
    [100.0, 0.95],
];

/// Mean strip speed of a spinning bar over rate times length, as the rod's.
const SPIN: f64 = 12.0 / 32.0;

/// Straight lines in the logarithm through `points`, constant beyond either end.
fn along(points: &[[f64; 2]], at: f64) -> f64 {
    let (first, last) = (points[0], points[points.len() - 1]);
    let at = at.clamp(first[0], last[0]);
    let next = points.partition_point(|point| point[0] <= at).clamp(1, points.len() - 1);
    let ([a, low], [b, high]) = (points[next - 1], points[next]);
    low + (high - low) * ln(at / a) / ln(b / a)
}

/// Drag coefficient of a long rectangular bar on its face square to the flow, by
/// depth along the flow over height across it.
#[must_use]
pub fn bar_drag(depth_over_height: f64) -> f64 {
    along(&FACES, depth_over_height)
}

per_flight! {
    /// One flight's bar.
    pub struct Bar {
        /// Drag of the faces across y: drag factor · ½ ρ Cd A, in kg/m.
        across_y,
        /// Across z.
        across_z,
        /// Side force of a bar that is turned a little, in kg/m.
        side,
        /// Square of the strip speed per rate, in m².
        strip,
        /// Moment per force and rate: L²/12, in m².
        damping,
        /// Drag of the leading end, in kg/m.
        end,
        /// Skin friction, in kg/m.
        skin,
        /// Nose force per axial and cross-flow speed, in kg/m.
        nose,
        /// Half length, in m.
        half,
        /// Lead of the pressure along y, in m.
        lead_y,
        /// Along z.
        lead_z,
        /// Damping about x per rate and speed, in kg m.
        slow,
        /// Damping about x per square of the rate, in kg m².
        fast,
    }
}

impl Bar {
    /// A bar in this air; length and the section's extents along y and z in m.
    #[must_use]
    pub fn new(
        [length, width, height]: [f64; 3],
        air: &Air,
        drag_factor: f64,
        figures: &Figures,
    ) -> Self {
        let density = drag_factor * air.density;
        let half = 0.5 * density;
        // Drag on its area of the face across the one side, as deep as the other.
        let face = |across: f64, depth: f64| {
            figures.get(Figure::BarDrag)
                * bar_drag(depth / across)
                * along(&LENGTHS, length / across)
        };
        let (drag_y, drag_z) = (face(height, width), face(width, height));
        let (across_y, across_z) =
            (half * drag_y * length * height, half * drag_z * length * width);
        // As the block's: 1/8 and 1/32 of the side's powers in the mean.
        let about = |power: fn(f64) -> f64| {
            half * length * (drag_y * power(height) + drag_z * power(width))
        };
        Self {
            across_y,
            across_z,
            side: figures.get(Figure::BarSideForce) * 0.5 * (across_y + across_z),
            strip: SPIN * SPIN * length * length,
            damping: length * length / 12.0,
            end: half * deep_face([width, height], length) * width * height,
            skin: half * SKIN * 2.0 * (width + height) * length,
            nose: density * width * height,
            half: length / 2.0,
            lead_y: LEAD * width,
            lead_z: LEAD * height,
            slow: about(|side| side * side * side / 8.0),
            fast: about(|side| side * side * side * side / 32.0),
        }
    }
}

impl Model for Bar {
    family!(Bar, Bar);

    type Shared = ();
    const TURNS: bool = true;

    fn shared(&self) {}

    #[inline(always)]
    fn load<S: Processor>((): (), bar: &Self::Lanes<S>, flow: &Flow<S>) -> Load<S> {
        let (u, w) = (flow.velocity, flow.rates);
        let tiny = flow.speed.of(1e-30);
        let across = u.y.mul_add(u.y, u.z * u.z);
        let turning = w.y.mul_add(w.y, w.z * w.z);
        let strips = bar.strip.mul_add(turning, across) + tiny;
        let slices = strips.sqrt();

        let nose = bar.nose * u.x.abs();
        let lever = bar.half * bar.nose * u.x;
        let axial = bar.end.mul_add(u.x.abs(), bar.skin * flow.speed);
        let share_y = bar.across_y * slices * u.y;
        let share_z = bar.across_z * slices * u.z;

        // Across the cross-flow, by the sine of four times its angle: 4 y z (z² - y²).
        let (yy, zz) = (u.y * u.y, u.z * u.z);
        let sine = u.y * u.z * (zz - yy) * 4.0 / (strips * slices);
        let push = bar.side * sine;

        // A slice at x moves by x (w.z, -w.y): the part along the flow is felt twice.
        let aligned = w.z.mul_add(u.y, -(w.y * u.z)) / strips;
        let swing_y = bar.damping * bar.across_z * slices * (w.y - aligned * u.z);
        let swing_z = bar.damping * bar.across_y * slices * aligned.mul_add(u.y, w.z);

        // Each face's pressure leans towards its upwind edge.
        let roll = (bar.lead_z * u.z * share_y - bar.lead_y * u.y * share_z) / slices;
        let spin = damping(bar.slow * flow.speed, bar.fast * w.x) * w.x;

        Load {
            force: Vector::new(
                -(axial * u.x),
                push.mul_add(u.z, -nose.mul_add(u.y, share_y)),
                -push.mul_add(u.y, nose.mul_add(u.z, share_z)),
            ),
            moment: Vector::new(
                roll - spin,
                lever.mul_add(u.z, -swing_y),
                -lever.mul_add(u.y, swing_z),
            ),
        }
    }
}

#[cfg(test)]
mod tests;
