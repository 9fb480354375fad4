//! Where debris goes: how far the object gets from where it comes loose, and
//! how thickly it falls.
//!
//! The target is taken away, so that nothing stops the object before the
//! ground: what stands there may not be there on the day, or may give way. All
//! shares are of the flights that come loose; how many do is told beside them.
//! A distance is measured on the ground from the point below the release (the
//! middle of where the scenario puts it) to the far edge of the object, however
//! it is turned.
//!
//! A flight ends where it comes to rest if the scenario has a ground that it
//! bounces on, else where it first touches: then bounces, roll and skid go
//! farther. Pieces that break off are never in it.
//!
//! Attitude, aim, spin and the wind's direction are never taken as exact
//! ([`Opened`]): where the scenario fixes any of them, it is flown twice, as told
//! and with these opened, and each distance is the wider of the two.

mod cautions;
mod density;
mod exact;
mod landing;
mod measure;
mod reach;
mod wider;

pub use self::{
    cautions::{cautions, left_out},
    density::{Cell, Density},
    exact::Opened,
    landing::Landing,
    measure::Measure,
    reach::{Exceeded, How, Reach},
};

use self::landing::Open;
use crate::{
    chain::Claim,
    engine::{Draws, Progress},
    estimate::{LEVEL, Proportion, quantile},
};
use serde::{Deserialize, Serialize};

/// Most landings kept for drawing.
const DRAWN: usize = 3000;

/// What is asked.
#[derive(Clone, Debug, PartialEq)]
pub struct Ask {
    /// The seed.
    pub seed: u64,
    /// Plain flights.
    pub flights: u64,
    /// Distances that one flight in so many exceeds, rising, each > 1.
    pub one_in: Vec<f64>,
    /// Search for those that the plain flights cannot carry?
    pub search: bool,
}

/// Where debris goes.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Exclusion {
    /// Plain flights flown; fewer than asked if it was stopped.
    pub flights: u64,
    /// Stopped early: it holds what was found until then.
    #[serde(default)]
    pub partial: bool,
    /// Share of them that comes loose.
    pub loose: Proportion,
    /// Flights of the search.
    pub searched: u64,
    /// Whether distances are those of coming to rest, after bounces and sliding;
    /// if not, of the first touch of the ground.
    pub followed: bool,
    /// The point that distances are measured from, x and y in m.
    pub centre: [f64; 2],
    /// What was added to the distance of the object's centre, in m: half its
    /// longest diagonal.
    pub edge: f64,
    /// How far, by direction: the wider of what was flown as told and with
    /// nothing exact.
    pub reaches: Vec<Reach>,
    /// How thickly it falls.
    pub density: Density,
    /// Speed at the first touch of the ground, in m/s: 5, 50 and 95 % of the landings.
    pub speed: [f64; 3],
    /// Kinetic energy at the ground, in J: as `speed`.
    pub energy: [f64; 3],
    /// Energies at the ground, rising, to count from; a record that was read
    /// back has none.
    #[serde(skip)]
    energies: Vec<f64>,
    /// Flights that were still in the air when the clock ran out; their
    /// distance counts as far as they came.
    pub in_air: u64,
    /// Flights that could not be integrated to their end.
    pub failed: u64,
    /// A sample of landings for drawing: x and y in m, from the centre.
    pub drawn: Vec<[f64; 2]>,
    /// What was not taken as exact; empty: the scenario has nothing exact that
    /// is not so in life.
    #[serde(default)]
    pub opened: Vec<Opened>,
    /// The same with all of it exactly as told, if anything was opened; `None`
    /// also where it was stopped before.
    #[serde(default)]
    pub as_told: Option<Box<Exclusion>>,
}

impl Exclusion {
    /// Share of the landings that carry at least so much energy, in J: the
    /// larger of the two where it was flown as told, too.
    #[must_use]
    pub fn share_above(&self, energy: f64) -> Proportion {
        let below = self.energies.partition_point(|value| *value < energy);
        let n = self.energies.len();
        let own = Proportion::clopper_pearson((n - below) as u64, n as u64, LEVEL);
        let told = self.as_told.as_ref().map(|told| told.share_above(energy));
        told.filter(|told| told.estimate > own.estimate).unwrap_or(own)
    }

    /// Where most land on a square metre, its corner and side in m, and how many
    /// of one that comes loose; as told, if that is more.
    #[must_use]
    pub fn thickest(&self) -> Option<([f64; 2], f64, f64)> {
        let densest = |found: &Self| {
            let cell = found.density.densest()?;
            Some((cell.corner, found.density.side, found.density.per_square_metre(cell)))
        };
        let own = densest(self)?;
        let told = self.as_told.as_ref().and_then(|told| densest(told));
        Some(told.filter(|told| told.2 > own.2).unwrap_or(own))
    }

    /// The farthest flight by a measure.
    #[must_use]
    pub fn reach(&self, measure: Measure) -> Option<&Reach> {
        self.reaches.iter().find(|reach| reach.measure == measure)
    }
}

/// Flies a claim without its target and tells where the object lands; `None`
/// if no flight came loose.
///
/// What is fixed and never exact in life is opened, and the answer is the
/// wider of the two. Stopped early, it tells what was found until then: of what
/// was opened first, fewer flights, their first touch of the ground if none was
/// yet followed to rest, and what the searches that had ended found.
#[must_use]
pub fn exclusion(claim: &Claim, ask: &Ask, progress: &impl Progress) -> Option<Exclusion> {
    let scenario = claim.scenario();
    let middle = Draws::new(&scenario.inputs, 0, &[]).middle();
    let (inputs, opened) = exact::opened(scenario, claim.body(&middle).bounding_radius());
    if opened.is_empty() {
        return flown(claim, ask, progress);
    }
    let wide = flown(&claim.with_inputs(inputs), ask, progress);
    let told = if progress.stop() { None } else { flown(claim, ask, progress) };
    wider::of(wide, told, opened)
}

/// The answer for a claim whose every number is taken as it is.
fn flown(claim: &Claim, ask: &Ask, progress: &impl Progress) -> Option<Exclusion> {
    let to_touch = claim.to_first_touch();
    let touching = Open::new(&to_touch);
    let bounces = claim.scenario().ground.is_some();
    progress.expect(if bounces { 2 * ask.flights } else { ask.flights });
    let mut flown = touching.fly(ask.seed, ask.flights, progress);
    let (mut open, mut rests) = (touching, Vec::new());
    if bounces {
        let to_rest = Open::new(claim);
        rests = to_rest.fly(ask.seed, flown.len() as u64, progress);
        if !rests.is_empty() {
            open = to_rest;
            // Stopped on the way: those that were followed stand for all.
            flown.truncate(rests.len());
        }
    }
    let followed = !rests.is_empty();
    let touches: Vec<Landing> = flown.iter().flatten().copied().collect();
    if touches.is_empty() {
        return None;
    }
    let landings: Vec<Landing> =
        if followed { rests.into_iter().flatten().collect() } else { touches.clone() };
    let loose = Proportion::clopper_pearson(landings.len() as u64, flown.len() as u64, LEVEL);
    let (reaches, searched) = reach::reaches(&open, ask, &landings, &loose, progress);
    let mut energies: Vec<f64> = touches.iter().map(|landing| landing.energy).collect();
    energies.sort_unstable_by(f64::total_cmp);
    let mut speeds: Vec<f64> = touches.iter().map(|landing| landing.speed).collect();
    speeds.sort_unstable_by(f64::total_cmp);
    let middle = |sorted: &[f64]| [0.05, 0.5, 0.95].map(|q| quantile(sorted, q).unwrap_or(0.0));
    let count = |of: fn(&Landing) -> bool| landings.iter().filter(|one| of(one)).count() as u64;
    Some(Exclusion {
        flights: flown.len() as u64,
        partial: progress.stop(),
        loose,
        searched,
        followed,
        centre: open.centre,
        edge: open.edge,
        reaches,
        density: Density::of(landings.iter().map(|landing| landing.at)),
        speed: middle(&speeds),
        energy: middle(&energies),
        energies,
        in_air: count(|landing| landing.in_air),
        failed: count(|landing| landing.failed),
        drawn: landings.iter().take(DRAWN).map(|landing| landing.at).collect(),
        opened: Vec::new(),
        as_told: None,
    })
}

#[cfg(test)]
mod tests;
