//! Round bodies along x that need not be slender: cylinder and open pipe.
//!
//! The model is the slender bar's ([`Rod`]) with other numbers: the drag of the
//! ends goes with length over diameter, the ends brake tumbling, and the air
//! goes through a pipe.
//! Valid: length over diameter of at least 1, for the rest as the rod. Ignores:
//! what the rod ignores; a pipe's whistle and what its open end does to the
//! flow beside it. The factor for the finite length is extrapolated below
//! length over diameter 2 (0.509 at 1, where 0.525 is measured).

use super::{
    Figures, Rod,
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
    what: "drag, lift and turning of the cylinder",
    how: "cross-flow principle with finite-length factor, a drag crisis by roughness, ends by length over diameter, strip-theory damping; the air goes through a tube",
    source: "Hoerner, Fluid-Dynamic Drag (1965); Jorgensen, NASA TN D-6996; Matthews, Aeronautical Engineer's Data Book; slow drag: White (from memory); crisis by roughness: EN 1991-1-4, 7.9 and DNV-RP-C205 (second-hand), Achenbach 1971",
    kind: Kind::Memory,
    range: "length at least the diameter, cross-flow Reynolds numbers below 1e7, slower than Mach 0.6",
    leaves_out: "lift from spin; place and depth of the crisis are open",
};

/// Drag coefficient of a long cylinder between Reynolds numbers 3e4 and 1e5.
const ACROSS: f64 = 1.2;

impl Rod {
    /// A solid cylinder in this air; lengths in m.
    #[must_use]
    pub fn cylinder(
        [length, diameter]: [f64; 2],
        surface: Surface,
        air: &Air,
        drag_factor: f64,
        figures: &Figures,
    ) -> Self {
        let slenderness = length / diameter;
        let area = PI * diameter * diameter / 4.0;
        let end = round_end(slenderness);
        // The second moment of an end's area over what the side has.
        let brake = end * area * diameter * diameter
            / 16.0
            / (ACROSS * finite_length(slenderness) * diameter * length);
        let rod = Self::new([length, diameter], surface, air, drag_factor, figures);
        Self {
            end: 0.5 * drag_factor * air.density * end * area,
            damping: rod.damping + brake,
            ..rod
        }
    }

    /// A pipe in this air, open at both ends; lengths in m.
    ///
    /// The blunt area is that of the wall, the skin is inside, too.
    #[must_use]
    pub fn tube(
        [length, diameter, wall]: [f64; 3],
        surface: Surface,
        air: &Air,
        drag_factor: f64,
        figures: &Figures,
    ) -> Self {
        let bore = (diameter - 2.0 * wall).max(0.0);
        let half = 0.5 * drag_factor * air.density;
        let blunt = PI * (diameter * diameter - bore * bore) / 4.0;
        Self {
            end: half * round_end(length / diameter) * blunt,
            skin: half * SKIN * PI * (diameter + bore) * length,
            ..Self::new([length, diameter], surface, air, drag_factor, figures)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::aero::{
        rod::cylinder_drag,
        tests::{force_and_moment, still_air},
    };

    fn cylinder(length: f64, diameter: f64) -> Rod {
        let figures = Figures::default();
        Rod::cylinder([length, diameter], Surface::Plain, &still_air(), 1.0, &figures)
    }

    /// Drag coefficients end-on on the end's area and broadside on length times
    /// diameter.
    fn drags(rod: Rod, length: f64, diameter: f64, speed: f64) -> [f64; 2] {
        let q = 0.5 * still_air().density * speed * speed;
        let end = force_and_moment(rod, [speed, 0.0, 0.0], [0.0; 3]).0.length();
        let side = force_and_moment(rod, [0.0, speed, 0.0], [0.0; 3]).0.length();
        [end / (q * PI / 4.0 * diameter * diameter), side / (q * length * diameter)]
    }

    /// Source: Matthews, Aeronautical Engineer's Data Book, p. 95, end-on 0.91,
    /// 0.85, 0.87 and broadside 0.63, 0.68, 0.74 for L/d 1, 2, 5 (on a long
    /// cylinder's 1.20); tolerance 0.04 as the sheet of coefficients says, and
    /// the skin end-on.
    #[test]
    fn stubby_cylinders_drag_as_the_handbook_says() {
        for (slenderness, end, side) in [(1.0, 0.91, 0.63), (2.0, 0.85, 0.68), (5.0, 0.91, 0.74)] {
            let diameter = 0.05;
            let length = slenderness * diameter;
            let speed = 20.0;
            let rod = cylinder(length, diameter);
            let got = drags(rod, length, diameter, speed);
            let long = cylinder_drag(still_air().reynolds(diameter, speed)) / 1.2;
            let skin = SKIN * 4.0 * slenderness;
            assert!((got[0] - skin - end).abs() < 0.005, "{slenderness}: {got:?}");
            assert!((got[1] / long - side).abs() < 0.045, "{slenderness}: {got:?}");
        }
    }

    /// Source: the blunt area of a wall of a tenth of the diameter is 36 % of
    /// the end's.
    #[test]
    fn the_air_goes_through_a_pipe() {
        let [length, diameter, wall] = [0.4, 0.1, 0.01];
        let figures = Figures::default();
        let pipe = Rod::tube([length, diameter, wall], Surface::Plain, &still_air(), 1.0, &figures);
        let full = cylinder(length, diameter);
        let ends = |rod: Rod| drags(Rod { skin: 0.0, ..rod }, length, diameter, 20.0);
        assert!((ends(pipe)[0] / ends(full)[0] - 0.36).abs() < 1e-9);
        assert!((ends(pipe)[1] - ends(full)[1]).abs() < 1e-12);
    }

    /// The ends of a slender one hardly count, those of a stubby one do.
    #[test]
    fn the_ends_of_a_stubby_cylinder_brake_its_tumbling() {
        let brake = |length: f64| {
            let figures = Figures::default();
            let bare = Rod::new([length, 0.1], Surface::Plain, &still_air(), 1.0, &figures);
            cylinder(length, 0.1).damping / bare.damping
        };
        assert!(brake(0.1) > 1.5 && brake(2.0) < 1.001, "{} {}", brake(0.1), brake(2.0));
    }
}
