//! A simple beam of the rig's frame under the pull.
//!
//! Elastic Euler-Bernoulli bending: `sigma = M c / I`; simply supported with
//! the load in the middle `M = P L/4`, `d = P L^3/(48 E I)`; cantilever with
//! the load at its end `M = P L`, `d = P L^3/(3 E I)`. A load that is let go
//! or comes on suddenly counts twice (closed form for one degree of freedom).
//!
//! Valid below yield for slender members. Ignores buckling of thin walls,
//! welds, bolts, holes, twisting, feet that slip: an engineer looks at those.

use crate::note::{Kind, Note, Subject};
use serde::Serialize;
use std::f64::consts::PI;

/// Its section of the page of trust.
const SUBJECT: Subject = Subject { key: "frame", claims: "How a beam of the rig bears the pull" };

/// What it says of itself.
pub(crate) const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "beam of the frame",
    how: "elastic bending of a simple beam, twice the load where it comes on at once",
    source: "Euler-Bernoulli bending (derived); yield of steels (from memory)",
    kind: Kind::Memory,
    range: "slender members below yield",
    leaves_out: "buckling of thin walls, welds, bolts, holes, twisting, feet that slip",
};

/// Young's modulus of structural steel, in Pa.
pub const STEEL_MODULUS: f64 = 200e9;

/// A cross-section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Section {
    /// A square tube: outside width and wall, in m.
    SquareTube {
        /// Outside width, in m.
        width: f64,
        /// Wall, in m.
        wall: f64,
    },
    /// A round tube: outside diameter and wall, in m.
    RoundTube {
        /// Outside diameter, in m.
        diameter: f64,
        /// Wall, in m.
        wall: f64,
    },
    /// A solid rectangle bent over its height: width and height, in m.
    Solid {
        /// Width, in m.
        width: f64,
        /// Height in the plane of bending, in m.
        height: f64,
    },
}

impl Section {
    /// Second moment of area, in m4, corners sharp and walls nominal.
    #[must_use]
    pub fn inertia(&self) -> f64 {
        let fourth = |x: f64| x * x * x * x;
        match *self {
            Self::SquareTube { width, wall } => (fourth(width) - fourth(width - 2.0 * wall)) / 12.0,
            Self::RoundTube { diameter, wall } => {
                PI / 64.0 * (fourth(diameter) - fourth(diameter - 2.0 * wall))
            }
            Self::Solid { width, height } => width * height * height * height / 12.0,
        }
    }

    /// Distance from the middle to the outermost fibre, in m.
    #[must_use]
    pub fn edge(&self) -> f64 {
        match *self {
            Self::SquareTube { width, .. } => 0.5 * width,
            Self::RoundTube { diameter, .. } => 0.5 * diameter,
            Self::Solid { height, .. } => 0.5 * height,
        }
    }
}

/// How a beam is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Support {
    /// On both ends, load in the middle.
    BothEnds,
    /// Built in at one end, load at the other.
    OneEnd,
}

/// A beam that takes the rig's pull.
#[derive(Clone, Debug, PartialEq)]
pub struct Frame {
    /// Section.
    pub section: Section,
    /// Free length, in m, > 0.
    pub span: f64,
    /// How it is held.
    pub support: Support,
    /// Beams that share the load evenly, >= 1.
    pub beams: u32,
    /// Yield strength, in Pa, > 0.
    pub yield_strength: f64,
    /// Young's modulus, in Pa, > 0.
    pub modulus: f64,
    /// Part of the nominal section to count on, 0..1 (0.88 for tube: thinner
    /// walls than nominal and round corners; from memory).
    pub section_factor: f64,
}

/// What a load does to a frame.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Bending {
    /// Steady load on one beam, in N.
    pub load: f64,
    /// Largest bending stress under the steady load, in Pa.
    pub stress: f64,
    /// Deflection under the steady load, in m.
    pub deflection: f64,
    /// Yield over stress, steady load.
    pub safety_factor: f64,
    /// Yield over stress when the load comes on suddenly (twice the steady one).
    pub sudden_safety_factor: f64,
}

impl Frame {
    /// Bending under `pull` N shared by the beams.
    #[must_use]
    pub fn bending(&self, pull: f64) -> Bending {
        let load = pull / f64::from(self.beams);
        let inertia = self.section.inertia() * self.section_factor;
        let (moment, deflection) = match self.support {
            Support::BothEnds => {
                (load * self.span / 4.0, load * self.span.powi(3) / (48.0 * self.modulus * inertia))
            }
            Support::OneEnd => {
                (load * self.span, load * self.span.powi(3) / (3.0 * self.modulus * inertia))
            }
        };
        let stress = moment * self.section.edge() / inertia;
        let safety_factor = self.yield_strength / stress;
        Bending {
            load,
            stress,
            deflection,
            safety_factor,
            sudden_safety_factor: 0.5 * safety_factor,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tube(support: Support, span: f64) -> Frame {
        Frame {
            section: Section::SquareTube { width: 0.0508, wall: 0.003_175 },
            span,
            support,
            beams: 1,
            yield_strength: 315e6,
            modulus: STEEL_MODULUS,
            section_factor: 1.0,
        }
    }

    /// 50.8 x 3.175 mm tube: I 229659 mm4; 2 kN at the middle of 1.5 m:
    /// `82.949 MPa`, 3.0616 mm, 3.798 on `315 MPa`; cantilever `1 kN`, 1 m:
    /// `110.60 MPa`, 7.257 mm. Recomputed from the closed forms.
    #[test]
    fn a_tube_bends_as_the_closed_form_says() {
        let beam = tube(Support::BothEnds, 1.5);
        assert!((beam.section.inertia() * 1e12 - 229_659.0).abs() < 0.5);
        let bending = beam.bending(2e3);
        assert!((bending.stress - 82.949e6).abs() < 500.0);
        assert!((bending.deflection - 3.0616e-3).abs() < 5e-8);
        assert!((bending.safety_factor - 3.798).abs() < 5e-4);
        let bending = tube(Support::OneEnd, 1.0).bending(1e3);
        assert!((bending.stress - 110.60e6).abs() < 5e3);
        assert!((bending.deflection - 7.257e-3).abs() < 5e-7);
    }

    /// Width of the metal at a height `y` above the middle, in m.
    fn width_at(section: Section, y: f64) -> f64 {
        let chord = |diameter: f64| (diameter * diameter - 4.0 * y * y).max(0.0).sqrt();
        let square = |side: f64| if 2.0 * y.abs() < side { side } else { 0.0 };
        match section {
            Section::SquareTube { width, wall } => square(width) - square(width - 2.0 * wall),
            Section::RoundTube { diameter, wall } => chord(diameter) - chord(diameter - 2.0 * wall),
            Section::Solid { width, height } if 2.0 * y.abs() < height => width,
            Section::Solid { .. } => 0.0,
        }
    }

    proptest::proptest! {
        /// Source: the definition, the sum of y² over the metal, strip by strip.
        #[test]
        fn a_section_is_as_stiff_as_its_metal(size in 0.01..0.2_f64, thin in 0.02..0.49_f64) {
            let wall = thin * size;
            for section in [
                Section::SquareTube { width: size, wall },
                Section::RoundTube { diameter: size, wall },
                Section::Solid { width: wall, height: size },
            ] {
                let edge = section.edge();
                let strips = 20_000;
                let step = 2.0 * edge / f64::from(strips);
                let strip = |i: i32| {
                    let y = (f64::from(i) + 0.5) * step - edge;
                    y * y * width_at(section, y) * step
                };
                let sum: f64 = (0..strips).map(strip).sum();
                proptest::prop_assert!((section.inertia() / sum - 1.0).abs() < 1e-3, "{section:?}");
            }
        }
    }

    /// Source: EN 10219-2, table of round sections, 60.3 x 3.2 mm: 23.5 cm4 (from
    /// memory).
    #[test]
    fn a_round_tube_is_as_stiff_as_its_table_says() {
        let tube = Section::RoundTube { diameter: 0.0603, wall: 0.0032 };
        assert!((tube.inertia() * 1e8 - 23.5).abs() < 0.05, "{}", tube.inertia());
    }

    #[test]
    fn two_beams_carry_half_each() {
        let one = tube(Support::BothEnds, 1.5);
        let two = Frame { beams: 2, ..one.clone() };
        assert!((two.bending(4e3).stress / one.bending(2e3).stress - 1.0).abs() < 1e-12);
    }
}
