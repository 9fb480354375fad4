//! A wheel or a tyre, its axle along z.
//!
//! The model is the block's ([`Block`]) with round faces: drag across the axle
//! as of a short cylinder, drag along it as of a round end, damping by strips
//! of the round face. Its spin about the axle is braked by the skin alone.
//! Valid: width over diameter from 0.1 to 1, Reynolds number above 1e4, Mach
//! below 0.6. Ignores: lift and side force from spin, spokes; the factor for a
//! short cylinder is extrapolated (0.41 at a width of 0.3 diameters: drag 0.50 on
//! diameter times width). Wheels are big enough to be past the drag crisis at a
//! few m/s: the drag across the axle lies between what a short cylinder of their
//! roughness has past it and what it has before, by [`super::Figure::CrisisDepth`], at
//! every speed.

use super::{
    Block, Figures,
    block::LEAD,
    crisis::{self, between, bottoms, height},
    face::round_end,
    rod::{self, SKIN, finite_length},
};
use crate::{
    body::Surface,
    note::{Kind, Note},
    world::Air,
};
use core::f64::consts::PI;

/// What it says of itself.
pub(super) const NOTE: Note = Note {
    subject: &rod::SUBJECT,
    what: "drag and turning of the wheel",
    how: "a short cylinder's drag across the axle, between that of its roughness past the drag crisis and that before, and a round end's along it, with damping by strips",
    source: "Jorgensen, NASA TN D-6996; Matthews, Aeronautical Engineer's Data Book; EN 1991-1-4, 7.9 (second-hand); drag before the crisis as a rod's (from memory)",
    kind: Kind::Memory,
    range: "width from a tenth of the diameter to all of it, Reynolds numbers above 1e4, slower than Mach 0.6",
    leaves_out: "lift from spin",
};

/// Drag coefficient of a long cylinder between Reynolds numbers 3e4 and 1e5.
const ACROSS: f64 = 1.2;
/// Mean chord of a disc for a lead that goes with the chord: 8/(3π) of the
/// diameter (derived).
pub(super) const CHORD: f64 = 8.0 / (3.0 * PI);

/// Drag coefficient across the axle on diameter times width.
fn tread(slenderness: f64, relative: f64, figures: &Figures) -> f64 {
    let before = ACROSS * finite_length(slenderness);
    let [deep, shallow] = bottoms(relative).map(|drag| drag * crisis::finite_length(slenderness));
    between([before.min(deep), before.max(shallow)], figures)
}

impl Block {
    /// A wheel in this air; lengths in m.
    #[must_use]
    pub fn wheel(
        [diameter, width]: [f64; 2],
        surface: Surface,
        air: &Air,
        drag_factor: f64,
        figures: &Figures,
    ) -> Self {
        let half = 0.5 * drag_factor * air.density;
        let (d2, area) = (diameter * diameter, PI * diameter * diameter / 4.0);
        let slenderness = width / diameter;
        let face = round_end(slenderness);
        let rim = tread(slenderness, height(surface) / diameter, figures);
        // Strips: 1/8 of the side's cube in the mean over attitudes, where the
        // second moment has 1/12; for a disc π d⁴/64 and ∫|y|³ = d⁵/60.
        let slow =
            half * (1.5 * face * area * d2 / 16.0 + rim * diameter * width * width * width / 8.0);
        let fast = half
            * (face * d2 * d2 * diameter / 60.0
                + rim * diameter * width * width * width * width / 32.0);
        let skin = half * SKIN;
        Self {
            drag_x: half * rim * diameter * width,
            drag_y: half * rim * diameter * width,
            drag_z: half * face * area,
            lead_x: LEAD * CHORD * diameter,
            lead_y: LEAD * CHORD * diameter,
            lead_z: LEAD * width,
            slow_x: slow,
            slow_y: slow,
            slow_z: skin * (PI * d2 * d2 / 16.0 + PI * d2 * diameter * width / 4.0),
            fast_x: fast,
            fast_y: fast,
            fast_z: skin * (PI * d2 * d2 * diameter / 40.0 + PI * d2 * d2 * width / 8.0),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::aero::tests::{force_and_moment, still_air};

    const WHEEL: [f64; 2] = [0.64, 0.2];

    fn wheel() -> Block {
        Block::wheel(WHEEL, Surface::Plain, &still_air(), 1.0, &Figures::default())
    }

    /// Source: disc face-on 1.17, cylinder of L/d 1 end-on 0.91 (Matthews,
    /// p. 95): between them. Rolling, 0.4 to 0.6 on diameter times width (common
    /// practice for a wheel by itself, no source).
    #[test]
    fn a_wheel_drags_between_a_disc_and_a_drum() {
        let q = 0.5 * still_air().density * 900.0;
        let flat = force_and_moment(wheel(), [0.0, 0.0, 30.0], [0.0; 3]).0.length();
        assert!((0.91..1.17).contains(&(flat / (q * PI / 4.0 * WHEEL[0] * WHEEL[0]))));
        let rolling = force_and_moment(wheel(), [30.0, 0.0, 0.0], [0.0; 3]).0.length();
        assert!((0.4..0.6).contains(&(rolling / (q * WHEEL[0] * WHEEL[1]))));
    }

    /// Source: symmetry about the axle.
    #[test]
    fn which_spoke_leads_makes_no_difference() {
        let (sine, cosine) = libm::sincos(0.7);
        let a = force_and_moment(wheel(), [20.0, 0.0, 5.0], [0.0; 3]);
        let b = force_and_moment(wheel(), [20.0 * cosine, 20.0 * sine, 5.0], [0.0; 3]);
        let turn = glam::DQuat::from_rotation_z(0.7);
        assert!((turn * a.0 - b.0).length() < 1e-12 && (turn * a.1 - b.1).length() < 1e-12);
    }

    /// Its spin about the axle lasts far longer than a tumble.
    #[test]
    fn a_rolling_wheel_keeps_its_spin() {
        let brake = |rates: [f64; 3]| force_and_moment(wheel(), [20.0, 0.0, 0.0], rates).1.length();
        assert!(brake([0.0, 0.0, 30.0]) < 0.1 * brake([30.0, 0.0, 0.0]));
    }
}
