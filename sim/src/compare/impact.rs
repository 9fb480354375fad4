//! The strikes of a scenario, draw by draw.

use crate::{
    chain::{Claim, Outcome},
    engine::{Order, Progress, run_picking},
    quantity::Dimension,
};

/// A strike on an aimed face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Impact {
    /// The draw.
    pub draw: u64,
    /// Speed of the centre of mass relative to the face, in m/s.
    pub speed: f64,
    /// Energy offered along the normal at the contact point, in J.
    pub normal_energy: f64,
    /// Angle of the path from the normal, in rad.
    pub obliquity: f64,
    /// Angle of the body's length from the normal, in rad (0: end on).
    pub end_on: f64,
}

/// What is measured of a strike.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// [`Impact::speed`].
    Speed,
    /// [`Impact::normal_energy`].
    NormalEnergy,
    /// [`Impact::obliquity`].
    Obliquity,
    /// [`Impact::end_on`].
    EndOn,
}

impl Measure {
    /// Every measure.
    pub const ALL: [Self; 4] = [Self::Speed, Self::NormalEnergy, Self::Obliquity, Self::EndOn];

    /// Its value in a strike, SI.
    #[must_use]
    pub fn of(self, impact: &Impact) -> f64 {
        match self {
            Self::Speed => impact.speed,
            Self::NormalEnergy => impact.normal_energy,
            Self::Obliquity => impact.obliquity,
            Self::EndOn => impact.end_on,
        }
    }

    /// What it measures.
    #[must_use]
    pub fn dimension(self) -> Dimension {
        match self {
            Self::Speed => Dimension::Speed,
            Self::NormalEnergy => Dimension::Energy,
            Self::Obliquity | Self::EndOn => Dimension::Angle,
        }
    }

    /// As people say it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Speed => "speed at the strike",
            Self::NormalEnergy => "energy square to the face",
            Self::Obliquity => "path from square on",
            Self::EndOn => "length from square on",
        }
    }
}

/// Flies an order and keeps its strikes.
#[must_use]
pub fn impacts(claim: &Claim, order: &Order, progress: &impl Progress) -> Vec<Impact> {
    run_picking(claim, order, progress, impact).1
}

fn impact(outcome: &Outcome) -> Option<Impact> {
    let touch = outcome.touch.filter(|_| outcome.struck)?;
    Some(Impact {
        draw: outcome.draw,
        speed: touch.relative_velocity.length(),
        normal_energy: touch.normal_energy,
        obliquity: touch.obliquity,
        end_on: touch.axis_angles[0],
    })
}
