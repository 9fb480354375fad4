//! A rectangular block.
//!
//! Assumes: each face's drag grows with the speed and with its share of the
//! flow, so that the force is ½ ρ V Σ Cd A u over the three windward faces; the
//! pressure leans towards the upwind edges, by a tenth of the side or so;
//! strip damping of rotation, averaged over attitude.
//! Valid: Reynolds number above 1e4, Mach below 0.6, sides within 1 to 5 (a
//! thinner block is a plate, a longer one a bar). Ignores: lift from rotation,
//! reattached flow at small angles, memory of the wake.

use super::{Flow, Load, Model, face::deep_face, family};
use crate::{
    lane::{Lane, Processor, Vector, per_flight},
    note::{Kind, Note, Subject},
    world::Air,
};

/// Its section of the page of trust.
pub(super) const SUBJECT: Subject = Subject {
    key: "block",
    claims: "What the air does to a box, and to what flies by a table of its own",
};

/// What it says of itself.
pub(super) const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "drag and turning of the block",
    how: "face-by-face normal force with damping",
    source: "Hoerner, Fluid-Dynamic Drag (1965): cube face-on 1.05, edge-on 0.80 (from memory)",
    kind: Kind::Memory,
    range: "sharp-edged boxes whose sides differ by at most five (longer ones are bars), Reynolds numbers above 1e4, slower than Mach 0.6; about 10 % on drag",
    leaves_out: "lift from rotation; flow that lies against a face again at small angles",
};

/// Lead of the pressure on a face towards its upwind edge, in sides per unit
/// of the in-plane direction cosine: gives a thin block the plate's centre of
/// pressure (Joessel 1870, from memory) at 45 deg.
pub(super) const LEAD: f64 = 0.126;

per_flight! {
    /// One flight's block.
    pub struct Block {
        /// Drag of the faces across x: drag factor · ½ ρ Cd A, in kg/m.
        drag_x,
        /// Across y.
        drag_y,
        /// Across z.
        drag_z,
        /// Lead of the pressure along x, in m.
        lead_x,
        /// Along y.
        lead_y,
        /// Along z.
        lead_z,
        /// Damping about x per rate and speed, in kg m.
        slow_x,
        /// About y.
        slow_y,
        /// About z.
        slow_z,
        /// Damping about x per square of the rate, in kg m².
        fast_x,
        /// About y.
        fast_y,
        /// About z.
        fast_z,
    }
}

impl Block {
    /// A block in this air; lengths in m.
    #[must_use]
    pub fn new(sides: [f64; 3], air: &Air, drag_factor: f64) -> Self {
        let half = 0.5 * drag_factor * air.density;
        let [a, b, c] = sides;
        let cd = [deep_face([b, c], a), deep_face([a, c], b), deep_face([a, b], c)];
        // Rotation about k moves the faces across i by levers along j.
        let damping = |k: usize, power: fn(f64) -> f64| {
            let (i, j) = ((k + 1) % 3, (k + 2) % 3);
            half * sides[k] * (cd[i] * power(sides[j]) + cd[j] * power(sides[i]))
        };
        // Strip theory: 1/6 across the flow, 1/12 along it; 1/8 in the mean.
        let slow = |k| damping(k, |side| side * side * side / 8.0);
        let fast = |k| damping(k, |side| side * side * side * side / 32.0);
        Self {
            drag_x: half * cd[0] * b * c,
            drag_y: half * cd[1] * a * c,
            drag_z: half * cd[2] * a * b,
            lead_x: LEAD * a,
            lead_y: LEAD * b,
            lead_z: LEAD * c,
            slow_x: slow(0),
            slow_y: slow(1),
            slow_z: slow(2),
            fast_x: fast(0),
            fast_y: fast(1),
            fast_z: fast(2),
        }
    }
}

/// Damping per rate: of slow rotation in a flow and of fast rotation at rest,
/// joined smoothly.
#[inline(always)]
pub(super) fn damping<S: Processor>(slow: Lane<S>, fast: Lane<S>) -> Lane<S> {
    slow.mul_add(slow, fast * fast).sqrt()
}

impl Model for Block {
    family!(Block, Block);

    type Shared = ();
    const TURNS: bool = true;

    fn shared(&self) {}

    #[inline(always)]
    fn load<S: Processor>((): (), block: &Self::Lanes<S>, flow: &Flow<S>) -> Load<S> {
        let (u, w, speed) = (flow.velocity, flow.rates, flow.speed);
        let share = Vector::new(block.drag_x * u.x, block.drag_y * u.y, block.drag_z * u.z);
        // All faces lean by the same rule, so one arm serves them all: the part
        // of it along a face's normal has no moment.
        let arm = Vector::new(block.lead_x * u.x, block.lead_y * u.y, block.lead_z * u.z);
        let pressure = share.cross(arm);
        let still = Vector::new(
            damping(block.slow_x * speed, block.fast_x * w.x) * w.x,
            damping(block.slow_y * speed, block.fast_y * w.y) * w.y,
            damping(block.slow_z * speed, block.fast_z * w.z) * w.z,
        );
        Load { force: share * -speed, moment: pressure - still }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::aero::tests::{force_and_moment, still_air};

    /// Source: cube face-on 1.05 to 1.07, edge-on 0.80 to 0.81 (Hoerner; White
    /// table 7.3, from memory), on frontal area, ± 10 %.
    #[test]
    fn a_cube_drags_as_the_handbooks_say() {
        let block = Block::new([0.2; 3], &still_air(), 1.0);
        let q = 0.5 * still_air().density * 400.0 * 0.04;
        let face = force_and_moment(block, [20.0, 0.0, 0.0], [0.0; 3]).0.length() / q;
        assert!((face / 1.06 - 1.0).abs() < 0.1);
        let half = 20.0 / 2.0_f64.sqrt();
        let edge = force_and_moment(block, [half, half, 0.0], [0.0; 3]).0.length();
        assert!((edge / (q * 2.0_f64.sqrt()) / 0.805 - 1.0).abs() < 0.1);
    }

    /// Source: symmetry.
    #[test]
    fn a_cube_has_no_moment_and_a_long_block_turns_broadside() {
        let cube = Block::new([0.2; 3], &still_air(), 1.0);
        assert!(force_and_moment(cube, [9.0, 4.0, -7.0], [0.0; 3]).1.length() < 1e-12);
        let long = Block::new([0.6, 0.2, 0.2], &still_air(), 1.0);
        // Flying mostly along x, a little along y: the nose is pushed away.
        assert!(force_and_moment(long, [9.0, 1.0, 0.0], [0.0; 3]).1.z < 0.0);
    }

    /// Source: strip theory (derived), as the published torque of an inertia
    /// box at unit drag coefficient, `½ ρ r_i (r_j⁴ + r_k⁴) ω²`.
    #[test]
    fn a_spinning_block_is_braked_as_an_inertia_box() {
        let block = Block::new([0.3, 0.2, 0.1], &still_air(), 1.0);
        let rate = 25.0;
        let moment = force_and_moment(block, [0.0; 3], [0.0, 0.0, rate]).1.z;
        let cd = [deep_face([0.2, 0.1], 0.3), deep_face([0.3, 0.1], 0.2)];
        let wanted = 0.5
            * still_air().density
            * 0.05
            * rate
            * rate
            * (cd[0] * 0.1_f64.powi(4) + cd[1] * 0.15_f64.powi(4));
        assert!((moment / -wanted - 1.0).abs() < 1e-9);
    }
}
