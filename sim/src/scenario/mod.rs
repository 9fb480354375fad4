//! A claimed event, checked and in SI units.
//!
//! The text as typed is read by `text`; `check` turns it into a [`Scenario`] that
//! cannot be wrong, or into everything that is wrong with it. The rest of the
//! engine only ever sees a `Scenario`.
//!
//! Every number of a scenario is an *input*, fixed or uncertain, and the rest
//! of the scenario holds [`InputId`]s. A draw is a row of `f64`, one per
//! input, in SI units: `row[id.0]`.

mod air;
mod bounce;
pub(crate) mod check;
mod draft;
pub mod library;
mod made_of;
pub mod parts;
mod patch;
mod release;
mod short;
mod shots;
mod target;

pub use self::{
    air::{Air, GustSize, Terrain, Turbulence, Wind},
    bounce::Bounce,
    check::{language, parse, reference, schema},
    draft::{Draft, Said},
    made_of::{Hardness, MadeOf, Tested},
    patch::{Patched, Put, patched},
    release::{
        Blown, CarrierWake, Dropped, Held, Jolt, JoltSize, Launched, Lift, Place, Pose, PulseShape,
        Release, Secured, Shed, pointing, turned,
    },
    short::meant,
    shots::Fitted,
    target::{
        AttitudeDemand, Barrier, Brakes, Demand, Face, Formula, Motion, Outline, PaneKind, Solid,
        SolidShape, Steers, Target, face_axes,
    },
};

pub use crate::{
    quantity::Show,
    text::LONGEST,
    uncertain::{Input, InputId, Inputs},
};

use crate::{
    aero::{Figure, Table},
    body::{Shape, Surface},
    diagnostic::Diagnostic,
    text::{Group, Leaf},
};

/// How far a barrier gives before it decides, in m, where its thickness does
/// not say (judgement): how deep behind its foremost point a body's contact is
/// measured.
pub const GIVE: f64 = 0.01;

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
    /// How the ground throws back what falls on it; `None`: a flight ends
    /// where it first touches the ground.
    pub ground: Option<Bounce>,
    /// What it has to hit.
    pub target: Target,
    /// What counts as harm, if the chain asks for it.
    pub harm: Harm,
    /// The gates that the claim needs, in order, at least one.
    pub chain: Vec<Gate>,
    /// What it takes from a shelf.
    pub parts: Vec<parts::Part>,
    /// Doubts that `check` has, to be shown with every answer.
    pub warnings: Vec<Diagnostic>,
}

impl Scenario {
    /// The keys of its text, and of the parts in it, along a language.
    #[must_use]
    pub fn leaves<'l>(&self, language: &'l Group) -> Vec<Leaf<'l>> {
        let again = |side, name: &str| {
            let part = self.parts.iter().find(|part| part.side == side && part.name == name);
            Ok(part.map(|part| (part.origin.clone(), part.text.clone())))
        };
        parts::leaves(&self.text, language, &again).unwrap_or_default()
    }

    /// The part that an input's number is from, if it is from one.
    #[must_use]
    pub fn part_of(&self, input: &Input) -> Option<&parts::Part> {
        self.parts.iter().find(|part| !input.assumed && part.tells(&input.name))
    }

    /// Whether an input is drawn by lot: its number names one of many histories,
    /// and larger or smaller means nothing.
    #[must_use]
    pub(crate) fn is_lot(&self, id: InputId) -> bool {
        let turbulence = self.air.wind.as_ref().and_then(|wind| wind.turbulence);
        turbulence.is_some_and(|turbulence| turbulence.later == id)
    }

    /// Whether an input differs from flight to flight of itself, with no number
    /// told for it: the gusts, and how one barrier differs from its like.
    #[must_use]
    pub fn is_of_itself(&self, id: InputId) -> bool {
        let turbulence = self.air.wind.as_ref().and_then(|wind| wind.turbulence);
        let gust =
            turbulence.is_some_and(|gusts| gusts.later == id || gusts.at_release.contains(&id));
        let mut barriers = self.target.faces.iter().filter_map(|face| face.barrier.as_ref());
        gust || barriers.any(|barrier| barrier.scatter == id)
    }

    /// Whether the claim asks for an input: a harm criterion that nobody told
    /// matters only where the chain has its step.
    #[must_use]
    pub fn asks(&self, input: &Input) -> bool {
        let harms = self.chain.contains(&Gate::Harms);
        harms || !input.assumed || !input.name.starts_with("harm.")
    }

    /// Whether flights go on after a touch, save going through a barrier that
    /// somebody sits behind.
    #[must_use]
    pub fn bounces(&self) -> bool {
        self.ground.is_some() || self.target.faces.iter().any(|face| face.bounce.is_some())
    }
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
    /// It touches an aimed face: first of all, or, where bounces are followed,
    /// by whatever path (see [`Target::direct`]).
    Strikes,
    /// It strikes in the attitude that the claim asks for.
    Attitude,
    /// It goes through the face's barrier.
    Perforates,
    /// What arrives behind (on the occupant, where there is one) reaches a
    /// published harm criterion.
    Harms,
}

impl Gate {
    /// As it is written in a scenario.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Released => "released",
            Self::Reaches => "reaches",
            Self::Strikes => "strikes",
            Self::Attitude => "attitude",
            Self::Perforates => "perforates",
            Self::Harms => "harms",
        }
    }
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
    /// The coefficients of a custom shape.
    pub table: Option<Tabulated>,
    /// What it is made of.
    pub made_of: MadeOf,
    /// What a round body's surface is like.
    pub surface: Surface,
    /// Multiplies the lift of a sphere's spin (1 = as published); `None` where
    /// spin does not count: it is told of no sphere, and none of its kind was
    /// measured spinning.
    pub spin_lift_factor: Option<InputId>,
    /// What published measurements leave open about its coefficients.
    pub figures: Vec<(Figure, InputId)>,
}

/// Coefficients as a file has them.
#[derive(Clone, Debug)]
pub struct Tabulated {
    /// The file's name, as written.
    pub file: String,
    /// What it holds.
    pub table: &'static Table,
}

/// What counts as harm: a published criterion, or an energy as told.
#[derive(Clone, Debug)]
pub struct Harm {
    /// What is compared.
    pub quantity: library::criteria::Quantity,
    /// With what, in the quantity's own unit.
    pub threshold: InputId,
    /// Name of the criterion, or "as told".
    pub name: String,
    /// What it stands for, for whom, its limits and its source, in words.
    pub source: String,
}
