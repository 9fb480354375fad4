//! A claimed event, checked and in SI units.
//!
//! The text as typed lives in `raw`; `check` turns it into a [`Scenario`] that
//! cannot be wrong, or into everything that is wrong with it. The rest of the
//! engine only ever sees a `Scenario`.
//!
//! Every number of a scenario is an *input*, fixed or uncertain, and the rest
//! of the scenario holds [`InputId`]s. A draw is a row of `f64`, one per
//! input, in SI units: `row[id.0]`.

pub(crate) mod check;
mod inputs;
pub mod library;
mod schema;
pub(crate) mod yaml;

pub use self::{
    check::parse,
    inputs::{Input, InputId, Inputs},
    schema::schema,
};

pub use crate::quantity::Show;

use crate::{body::Shape, diagnostic::Diagnostic};

/// Longest scenario that is read, in bytes (1 MiB).
pub const LONGEST: usize = 1 << 20;

/// A commented scenario to start from; it runs as it is.
#[must_use]
pub fn template() -> &'static str {
    include_str!("template.yaml")
}

/// A checked scenario. Every distribution is finite and within its physics.
#[derive(Clone, Debug)]
pub struct Scenario {
    /// The text it was read from.
    pub text: String,
    /// The claim in the user's words.
    pub claim: String,
    /// Units of display.
    pub show: Show,
    /// Every number of the scenario.
    pub inputs: Inputs,
    /// The air and the wind.
    pub air: Air,
    /// What flies.
    pub object: Object,
    /// How it starts to move.
    pub release: Release,
    /// What it has to hit.
    pub target: Target,
    /// What counts as harm, if the chain asks for it.
    pub harm: Harm,
    /// The gates that the claim needs, in order, at least one.
    pub chain: Vec<Gate>,
    /// Doubts that `check` has, to be shown with every answer.
    pub warnings: Vec<Diagnostic>,
}

/// One step of a claim. The order of the variants is the order of events.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize,
)]
#[serde(rename_all = "snake_case")]
pub enum Gate {
    /// The object comes loose and starts to move.
    Released,
    /// It comes as far as the plane of an aimed face before it is stopped.
    Reaches,
    /// Its first touch of the target is on an aimed face.
    Strikes,
    /// It strikes in the attitude that the claim asks for.
    Attitude,
    /// It goes through the face's barrier.
    Perforates,
    /// What arrives behind reaches a published harm criterion.
    Harms,
}

/// The air: inputs in K, Pa, 0..1, and the wind if any.
#[derive(Clone, Debug)]
pub struct Air {
    /// Temperature, in K.
    pub temperature: InputId,
    /// Static pressure, in Pa.
    pub pressure: InputId,
    /// Relative humidity, 0..1.
    pub humidity: InputId,
    /// The wind, if any.
    pub wind: Option<Wind>,
}

/// The mean wind.
#[derive(Clone, Debug)]
pub struct Wind {
    /// Speed at the reference height, in m/s, >= 0.
    pub speed: InputId,
    /// Direction it blows to, from x towards y, in rad.
    pub towards: InputId,
    /// Reference height of `speed` above the ground, in m, > 0.
    pub height: InputId,
    /// How it changes with height.
    pub terrain: Terrain,
}

/// Ground cover, by EN 1991-1-4 terrain category; it sets the wind profile.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Terrain {
    /// The same wind at every height.
    #[default]
    Uniform,
    /// Category 0, sea (z0 0.003 m).
    Sea,
    /// Category I, lakes or bare flat ground (z0 0.01 m).
    Flat,
    /// Category II, open country (z0 0.05 m).
    Open,
    /// Category III, suburb or forest (z0 0.3 m).
    Suburb,
    /// Category IV, town centre (z0 1 m).
    Town,
}

/// What flies.
#[derive(Clone, Debug)]
pub struct Object {
    /// Its shape.
    pub shape: Shape<InputId>,
    /// Its mass, in kg.
    pub mass: InputId,
    /// Multiplies every aerodynamic force and moment (1 = as published): the
    /// place for doubt about the coefficients.
    pub drag_factor: InputId,
}

/// How the object is held and turned as it starts: angles in rad, rates in
/// rad/s in the body frame.
///
/// The body's x axis starts along the release's own direction (the aim for
/// `launched` and `thrown`, x for the others), then is turned left by
/// `nose_left`, up by `nose_up`, and the body is rolled by `roll` about it.
#[derive(Clone, Debug)]
pub struct Pose {
    /// Nose up, in rad.
    pub nose_up: InputId,
    /// Nose to the left, in rad.
    pub nose_left: InputId,
    /// Roll about the body's x axis, in rad.
    pub roll: InputId,
    /// Spin about the body's x, y, z axes, in rad/s.
    pub spin: [InputId; 3],
}

/// Where the object's centre starts: x, y and height, in m.
pub type Place = [InputId; 3];

/// How the object starts to move. One variant, one file in `release`.
#[derive(Clone, Debug)]
pub enum Release {
    /// Shot or thrown: a speed along an aim with scatter.
    Launched(Launched),
    /// Let go from rest.
    Dropped(Dropped),
    /// Comes off a moving carrier with the carrier's velocity.
    Shed(Shed),
    /// Loose in the wind, from rest.
    Blown(Blown),
}

/// See [`Release::Launched`]; `thrown` in a scenario is the same thing.
#[derive(Clone, Debug)]
pub struct Launched {
    /// Where the centre is at release.
    pub place: Place,
    /// Speed, in m/s.
    pub speed: InputId,
    /// Aim above the horizontal, in rad.
    pub elevation: InputId,
    /// Aim to the left of x, in rad.
    pub bearing: InputId,
    /// This shot's error from the aim, up, in rad.
    pub error_up: InputId,
    /// This shot's error from the aim, to the left, in rad.
    pub error_left: InputId,
    /// Attitude (relative to the direction of flight) and spin.
    pub pose: Pose,
}

/// See [`Release::Dropped`].
#[derive(Clone, Debug)]
pub struct Dropped {
    /// Where the centre is at release.
    pub place: Place,
    /// Attitude and spin.
    pub pose: Pose,
}

/// See [`Release::Shed`].
#[derive(Clone, Debug)]
pub struct Shed {
    /// Where the centre is at release.
    pub place: Place,
    /// Speed of the carrier along x, in m/s.
    pub carrier_speed: InputId,
    /// Attitude and spin.
    pub pose: Pose,
}

/// See [`Release::Blown`].
#[derive(Clone, Debug)]
pub struct Blown {
    /// Where the centre is at release.
    pub place: Place,
    /// Attitude and spin.
    pub pose: Pose,
    /// What holds it down until the wind lifts it; `None`: it is loose already.
    pub held: Option<Held>,
}

/// A hold-down that the wind's lift has to beat.
#[derive(Clone, Debug)]
pub struct Held {
    /// Strength as a multiple of the object's weight, > 0 (1: its own weight).
    pub times_weight: InputId,
    /// Force coefficient on the plan area with which the wind lifts it.
    pub lift_coefficient: InputId,
}

/// What has to be hit: faces and solids in a frame whose axes stay parallel to
/// the world's, and whose origin is on the ground.
#[derive(Clone, Debug)]
pub struct Target {
    /// Where the frame is and how it moves.
    pub motion: Motion,
    /// Flat named faces, at least one of them aimed at.
    pub faces: Vec<Face>,
    /// Solids that only block.
    pub solids: Vec<Solid>,
    /// The attitude that the claim asks for, for [`Gate::Attitude`].
    pub attitude: Option<AttitudeDemand>,
}

/// Where the target is at time 0, and its constant velocity.
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

/// A box that blocks, standing upright in the target frame.
#[derive(Clone, Debug)]
pub struct Solid {
    /// Name in the scenario.
    pub name: String,
    /// Centre in the target frame, in m.
    pub centre: [InputId; 3],
    /// Extents along x, y, z before turning, in m.
    pub size: [InputId; 3],
    /// Turn about the vertical, in rad.
    pub turn: InputId,
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

/// The resistance of a face: a lognormal fragility curve.
///
/// Half of equal blows of size `median` go through; this shot's resistance is
/// `median * exp(beta * scatter)`.
#[derive(Clone, Debug)]
pub struct Barrier {
    /// What the strength is measured in.
    pub demand: Demand,
    /// The demand that half of the blows go through at, J or m/s, > 0.
    pub median: InputId,
    /// Shot-to-shot spread: standard deviation of the log of the resistance.
    pub beta: InputId,
    /// This shot's standard normal deviate (an input of its own, so that a
    /// draw stays a pure function of its row).
    pub scatter: InputId,
    /// Where the numbers are from, in words; shown on the page.
    pub source: String,
    /// Name in the library, or "as told".
    pub name: String,
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

/// What counts as harm: a threshold on kinetic energy.
#[derive(Clone, Debug)]
pub struct Harm {
    /// Energy threshold, in J.
    pub threshold: InputId,
    /// The criterion's name and source, in words.
    pub source: String,
}
