//! What has to be hit, and what it takes to go through.

use super::{Bounce, Hardness, InputId, MadeOf, Tested};
use crate::{
    math::{cos, sin},
    quantity::Dimension,
};
use glam::DVec3;

/// What has to be hit: faces and solids in a frame whose axes stay parallel to
/// the world's, and whose origin is on the ground.
#[derive(Clone, Debug)]
pub struct Target {
    /// Where the frame is and how it moves.
    pub motion: Motion,
    /// Its mass, in kg, if it is told: for what a strike does to its speed.
    pub mass: Option<InputId>,
    /// Flat named faces, at least one of them aimed at.
    pub faces: Vec<Face>,
    /// Solids that only block.
    pub solids: Vec<Solid>,
    /// Where bounces are followed: does only a strike count before which
    /// nothing else was touched, save barriers that it went through?
    pub direct: bool,
    /// The attitude that the claim asks for, for [`Gate::Attitude`](super::Gate::Attitude).
    pub attitude: Option<AttitudeDemand>,
}

/// Where the target is at time 0, its velocity then, and what its driver does.
#[derive(Clone, Debug)]
pub struct Motion {
    /// x of the target frame's origin at release, in m.
    pub at: InputId,
    /// y of the target frame's origin at release, in m.
    pub left: InputId,
    /// Speed along `heading`, in m/s (0: it stands).
    pub speed: InputId,
    /// Direction of travel, from x towards y, in rad.
    pub heading: InputId,
    /// Does it brake?
    pub brakes: Option<Brakes>,
    /// Does it move over?
    pub steers: Option<Steers>,
}

/// A target that brakes until it stands.
#[derive(Clone, Copy, Debug)]
pub struct Brakes {
    /// How long after the release it begins, in s.
    pub after: InputId,
    /// Deceleration, in m/s².
    pub at: InputId,
}

/// A target that moves over to one side of its line.
#[derive(Clone, Copy, Debug)]
pub struct Steers {
    /// How long after the release it begins, in s.
    pub after: InputId,
    /// Sideways acceleration, in m/s².
    pub at: InputId,
    /// How far over, in m.
    pub by: InputId,
    /// To the driver's left?
    pub to_left: bool,
}

/// A flat face.
///
/// Its outward normal at zero rake is horizontal and points along `facing`;
/// rake tilts the normal up (90 deg: a roof light that looks at the sky).
#[derive(Clone, Debug)]
pub struct Face {
    /// Name in the scenario.
    pub name: String,
    /// Centre in the target frame, in m.
    pub centre: [InputId; 3],
    /// Outline.
    pub outline: Outline<InputId>,
    /// Direction the face looks, from x towards y, in rad (180 deg: at the
    /// release).
    pub facing: InputId,
    /// Tilt of the outward normal above the horizontal, in rad.
    pub rake: InputId,
    /// What it takes to go through, if known.
    pub barrier: Option<Barrier>,
    /// Does a hit here count?
    pub aim: bool,
    /// Is it a person behind the barrier? Then harm is what arrives here.
    pub occupant: bool,
    /// How it throws back what it stops, where bounces are followed.
    pub bounce: Option<Bounce>,
}

/// Right (level), up (the slope) and outward of a face that looks this way, in rad.
#[must_use]
pub fn face_axes(facing: f64, rake: f64) -> [DVec3; 3] {
    let level = DVec3::new(cos(facing), sin(facing), 0.0);
    let right = DVec3::new(-level.y, level.x, 0.0);
    let normal = level * cos(rake) + DVec3::Z * sin(rake);
    [right, normal.cross(right), normal]
}

/// The outline of a face.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Outline<T> {
    /// Width (horizontal) by height (along the slope), in m.
    Rectangle {
        /// Width, in m.
        width: T,
        /// Height, in m.
        height: T,
    },
    /// A round face.
    Disc {
        /// Diameter, in m.
        diameter: T,
    },
}

impl<T: Copy> Outline<T> {
    /// The same outline with every length passed through `f`.
    #[must_use]
    pub fn map<U>(self, mut f: impl FnMut(T) -> U) -> Outline<U> {
        match self {
            Self::Rectangle { width, height } => {
                Outline::Rectangle { width: f(width), height: f(height) }
            }
            Self::Disc { diameter } => Outline::Disc { diameter: f(diameter) },
        }
    }
}

/// What of the box about it a solid fills.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SolidShape {
    /// All of it.
    #[default]
    #[serde(rename = "box")]
    Boxed,
    /// A cylinder along one of its axes; the two other extents are its
    /// diameter.
    Cylinder {
        /// Which axis: 0 lying along x, 2 upright.
        axis: usize,
    },
    /// What is under the slope that rises from its lower edge at low x to its
    /// upper edge at high x.
    Wedge,
}

/// A solid that blocks, standing upright in the target frame.
#[derive(Clone, Debug)]
pub struct Solid {
    /// Name in the scenario.
    pub name: String,
    /// Centre in the target frame, in m.
    pub centre: [InputId; 3],
    /// What of the box about it it fills.
    pub shape: SolidShape,
    /// Extents along x, y, z before turning, in m.
    pub size: [InputId; 3],
    /// Turn about the vertical, in rad.
    pub turn: InputId,
    /// How it throws back what it stops, where bounces are followed.
    pub bounce: Option<Bounce>,
}

/// What a barrier's strength is measured in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Demand {
    /// Energy offered along the normal at the contact point, in J.
    NormalEnergy,
    /// Total kinetic energy in the face's frame, in J.
    TotalEnergy,
    /// Closing speed of the contact point along the normal, in m/s.
    NormalSpeed,
}

impl Demand {
    /// The dimension that it is measured in.
    #[must_use]
    pub fn dimension(self) -> Dimension {
        match self {
            Self::NormalSpeed => Dimension::Speed,
            Self::NormalEnergy | Self::TotalEnergy => Dimension::Energy,
        }
    }
}

/// A barrier whose resistance depends on what strikes it, by a published
/// formula. One variant, one case in `barrier::formula`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Formula {
    /// A flat plate of mild steel.
    Steel {
        /// Thickness, in m.
        thickness: InputId,
        /// Ultimate tensile strength, in Pa.
        strength: InputId,
        /// Free span between supports, in m.
        span: InputId,
        /// Which formula is right: 0 BRL, 1 SRI.
        which: InputId,
        /// How wide the blow bears when the plate fails: 0 as far as the least
        /// dent lets it, 1 with all that is seen from the plate.
        contact: InputId,
    },
    /// A wall of reinforced concrete, or of solid masonry by its strength.
    Concrete {
        /// Thickness, in m.
        thickness: InputId,
        /// Compressive strength, in Pa.
        strength: InputId,
        /// Density, in kg/m³.
        density: InputId,
        /// Reinforcement each way on each face, a share of the section.
        reinforcement: InputId,
        /// Which formula is right: 0 NDRC, 1 Degen, 2 CEA-EDF, 3 UKAEA.
        which: InputId,
    },
    /// Plywood or oriented strand board on studs.
    Board {
        /// Thickness, in m.
        thickness: InputId,
    },
    /// A sheet of polycarbonate.
    Polycarbonate {
        /// Thickness, in m.
        thickness: InputId,
    },
    /// A pane of glass.
    Pane {
        /// How it was made.
        kind: PaneKind,
        /// Thickness, in m.
        thickness: InputId,
        /// Width and height of the face, in m.
        sides: [InputId; 2],
    },
}

/// How the glass of a pane was made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PaneKind {
    /// As it comes from the float: ordinary window glass.
    Annealed,
    /// Toughened (tempered) by heat.
    Toughened,
}

/// The resistance of a face: a lognormal fragility curve.
///
/// Half of equal blows of size `median` go through; this shot's resistance is
/// `median * exp(beta * scatter)`. With a formula `median` is a factor on what
/// the formula says of this blow.
#[derive(Clone, Debug)]
pub struct Barrier {
    /// What the strength is measured in.
    pub demand: Demand,
    /// The demand that half of the blows go through at, J or m/s, > 0; with a
    /// formula, a factor on its answer.
    pub median: InputId,
    /// What the contact makes of it; `None`: the same for every contact.
    pub formula: Option<Formula>,
    /// Diameter of the contact that the strength was measured with, in m, if
    /// it is known.
    pub contact: Option<f64>,
    /// The hardest of the shots that the strength was fitted to, in the
    /// barrier's own measure, if it was.
    pub hardest: Option<f64>,
    /// Shot-to-shot spread: standard deviation of the log of the resistance.
    pub beta: InputId,
    /// This shot's standard normal deviate (an input of its own, so that a
    /// draw stays a pure function of its row).
    pub scatter: InputId,
    /// Whether `median` is only what it is known to withstand: then a chance
    /// of going through is an upper bound, and is shown as "at most".
    pub lower_bound: bool,
    /// What its figure was found with.
    pub tested: Tested,
    /// What strikes it is made of.
    pub object: MadeOf,
    /// Where the numbers are from, in words; shown on the page.
    pub source: String,
    /// What it holds for, in words.
    pub valid: String,
    /// Name in the library, or "as told".
    pub name: String,
}

impl Barrier {
    /// How what flies compares with what its figure was found with.
    #[must_use]
    pub fn hardness(&self) -> Hardness {
        self.tested.against(&self.object)
    }

    /// Whether a chance of going through it is an upper bound: no more is known
    /// than what it withstood, or than what something harder does to it.
    #[must_use]
    pub fn is_bound(&self) -> bool {
        self.lower_bound || self.hardness() == Hardness::Softer
    }
}

/// The attitude that a claim asks for: an axis of the body near the normal of
/// the face.
#[derive(Clone, Copy, Debug)]
pub struct AttitudeDemand {
    /// Which body axis: 0 length, 1 width, 2 thickness.
    pub axis: usize,
    /// Largest angle between that axis (either end) and the normal, in rad.
    pub within: InputId,
}
