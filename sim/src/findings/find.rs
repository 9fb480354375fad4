//! From a scenario to what a run finds, in one call.

use super::{Findings, Origin, findings};
use crate::{
    chain::Claim,
    engine::Progress,
    scenario::Scenario,
    study::{Ask, study},
};

/// Flies a claim as far as it takes: readied, flown, searched, its doubts
/// asked after, and written down. The record names no file.
#[must_use]
pub fn find(scenario: Scenario, ask: &Ask, progress: &impl Progress) -> Findings {
    let claim = Claim::ready(scenario, ask.seed);
    findings(&claim, &study(&claim, ask, progress), &Origin::default())
}
