//! What is kept from version to version: the step size, the pinned version's draws,
//! what was found.

use crate::{
    asked::Sets,
    disk::digest,
    version::{Problem, version},
};
use longodds_sim::{
    chain::Claim,
    engine::{Progress, tuned},
    findings::Findings,
    flight::Settings,
    scenario::Scenario,
    sweep::Held,
};
use std::path::Path;

/// Records that are kept, the newest: one is some megabytes.
const FOUND: usize = 8;

/// Versions whose draws are kept, the newest.
const HELD: usize = 16;

/// All that a claim means, in short: the files that it names may have changed under the
/// same text.
fn meaning(scenario: &Scenario) -> String {
    digest(&format!("{scenario:?}"))
}

/// What the pilot remembers.
pub(super) struct Crew {
    pub(super) seed: u64,
    /// The step size that the last version was tuned to: the next one is hardly
    /// another, and its own is looked for once nobody waits.
    pub(super) settings: Option<Settings>,
    found: Vec<(String, Findings)>,
    held: Vec<(String, Other)>,
}

/// A version that others are held against.
pub(super) struct Other {
    claim: Claim,
    held: Held,
}

impl Crew {
    pub(super) fn new(seed: u64) -> Self {
        Self { seed, settings: None, found: Vec::new(), held: Vec::new() }
    }

    /// A claim ready to be flown while somebody waits.
    pub(super) fn quick(&mut self, scenario: &Scenario) -> Claim {
        let claim = Claim::new(scenario.clone());
        match self.settings {
            Some(settings) => claim.with_settings(settings),
            None => self.ready(scenario),
        }
    }

    /// A claim ready to be flown as `longodds run` flies it.
    pub(super) fn ready(&mut self, scenario: &Scenario) -> Claim {
        let claim = tuned(Claim::new(scenario.clone()), self.seed);
        self.settings = Some(*claim.settings());
        claim
    }

    /// What was found of a claim, if it is remembered.
    pub(super) fn found(&self, scenario: &Scenario) -> Option<&Findings> {
        let key = meaning(scenario);
        self.found.iter().find(|(of, _)| *of == key).map(|(_, found)| found)
    }

    /// Remembers what was found.
    pub(super) fn keep(&mut self, scenario: &Scenario, found: Findings) {
        let key = meaning(scenario);
        self.found.retain(|(of, _)| *of != key);
        if self.found.len() == FOUND {
            self.found.remove(0);
        }
        self.found.push((key, found));
    }

    /// The first draws of another version, as many as asked for; `None` if it was
    /// stopped.
    pub(super) fn other(
        &mut self,
        base: &str,
        sets: &Sets,
        folder: &Path,
        flights: u64,
        watch: &impl Progress,
    ) -> Result<Option<Held>, Vec<Problem>> {
        let scenario = version(base, sets, folder)?.scenario;
        let key = meaning(&scenario);
        let place = match self.held.iter().position(|(of, _)| *of == key) {
            Some(place) => place,
            None => {
                if self.held.len() == HELD {
                    self.held.remove(0);
                }
                let claim = tuned(Claim::new(scenario), self.seed);
                self.held.push((key, Other { claim, held: Held::default() }));
                self.held.len() - 1
            }
        };
        let seed = self.seed;
        let Some((_, other)) = self.held.get_mut(place) else { return Ok(None) };
        let _tally = other.held.fly_until(&other.claim, seed, flights, watch);
        Ok((other.held.flights() >= flights).then(|| other.held.first(flights)))
    }
}
