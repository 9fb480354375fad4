//! What a page is shown of its version.

use super::{Job, scene::Scene};
use crate::{
    lines::{Gone, Line, Phase, Put},
    show,
};
use longodds_sim::{
    chain::Claim,
    engine::Tally,
    findings::{Findings, FlightFinding, Origin, sketch},
    quantity::Show,
    scenario::Gate,
    study::Study,
    sweep::WhatIf,
};
use std::sync::atomic::Ordering;

/// A page and its version.
pub(super) struct Screen<'a> {
    pub(super) job: &'a Job,
    pub(super) seed: u64,
}

impl Screen<'_> {
    /// The chance and the chain of the flights so far. A page that has seen more, before
    /// another one came between, is not shown less.
    pub(super) fn numbers(&self, claim: &Claim, tally: &Tally, phase: Phase) -> Result<(), Gone> {
        let flights = tally.flights();
        if self.job.shown.fetch_max(flights, Ordering::Relaxed) > flights {
            return Ok(());
        }
        let found = self.sketched(claim, tally, 0);
        self.told(&found, phase)
    }

    /// The flights themselves, so many of each fate.
    pub(super) fn flights(
        &self,
        claim: &Claim,
        tally: &Tally,
        (scene, paths): (&Scene, usize),
        phase: Phase,
    ) -> Result<(), Gone> {
        if self.job.shown.load(Ordering::Relaxed) > tally.flights() {
            return Ok(());
        }
        self.drawn(&self.sketched(claim, tally, paths), scene, phase)
    }

    /// The set-up before any flight.
    pub(super) fn set_up(&self, scene: &Scene) -> Result<(), Gone> {
        self.put(scene.put(&[], Phase::First))
    }

    fn sketched(&self, claim: &Claim, tally: &Tally, paths: usize) -> Findings {
        let study = Study::plain(self.seed, tally.flights(), tally.clone());
        sketch(claim, &study, &Origin::default(), paths)
    }

    /// The chance and the chain of a record.
    pub(super) fn told(&self, found: &Findings, phase: Phase) -> Result<(), Gone> {
        let put = |into, html| Put::new(into, phase, html).flights(found.claim.flights);
        self.put(put("chance", show::chance(found)))?;
        self.put(put("chain", show::chain(found)))
    }

    /// The flights of a record: over the set-up, and by themselves.
    pub(super) fn drawn(&self, found: &Findings, scene: &Scene, phase: Phase) -> Result<(), Gone> {
        let over: Vec<FlightFinding> = few(&found.flights);
        self.put(scene.put(&over, phase).flights(found.claim.flights))?;
        let put = Put::new("flights", phase, show::flights(found));
        self.put(put.flights(found.claim.flights))
    }

    /// What there is to say of a record besides.
    pub(super) fn noted(&self, found: &Findings, phase: Phase) -> Result<(), Gone> {
        self.put(Put::new("note", phase, show::note(found)).flights(found.claim.flights))
    }

    /// What became of the pinned version's draws.
    pub(super) fn differs(&self, found: &WhatIf, show: Show, phase: Phase) -> Result<(), Gone> {
        let put = Put::new("difference", phase, show::difference(found, show));
        self.put(put.flights(found.change.n))
    }

    /// That nothing is pinned, or why it cannot be flown.
    pub(super) fn no_difference(&self, why: Option<&str>) -> Result<(), Gone> {
        self.put(Put::new("difference", Phase::Settled, show::no_difference(why)))
    }

    fn put(&self, put: Put) -> Result<(), Gone> {
        self.job.out.send(&Line::Put(put))
    }
}

/// Flights of each fate that are drawn over the set-up.
const OVER: usize = 6;

/// The closest calls, and a few of each fate.
fn few(flights: &[FlightFinding]) -> Vec<FlightFinding> {
    let mut seen: Vec<(Option<Gate>, usize)> = Vec::new();
    let mut one = |flight: &&FlightFinding| {
        if flight.closest {
            return true;
        }
        let place = seen.iter().position(|(fate, _)| *fate == flight.stopped_at);
        let place = place.unwrap_or_else(|| {
            seen.push((flight.stopped_at, 0));
            seen.len() - 1
        });
        seen[place].1 += 1;
        seen[place].1 <= OVER
    };
    flights.iter().filter(|flight| one(flight)).cloned().collect()
}
