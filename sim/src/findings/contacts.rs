//! What flights touch on their way.

use super::{ContactFinding, FlightContact, build::spread};
use crate::{
    chain::{Claim, Encounter, Kind},
    contact::Surface,
    engine::{Path, Tally},
    scenario::Scenario,
};

/// Most contacts told of one drawn flight.
const TOLD: usize = 40;

/// What flights touched and went on from; `None` where they are not followed.
pub(super) fn finding(claim: &Claim, tally: &Tally) -> Option<ContactFinding> {
    claim.follows().then(|| ContactFinding {
        touched: tally.contacts.count(),
        flights: tally.flights(),
        strikes: tally.impact_speed.count(),
        strikes_after: tally.after_contact,
        number: spread(&tally.contacts),
        let_go: tally.let_go,
        // Those that were let go went farthest.
        rest: if tally.let_go == 0 { spread(&tally.rest) } else { None },
    })
}

/// The contacts of one flight: all of them, or those that took most.
pub(super) fn of_flight(scenario: &Scenario, path: &Path) -> Vec<FlightContact> {
    let mut sizes: Vec<f64> = path.encounters.iter().map(|one| one.work.done.abs()).collect();
    sizes.sort_unstable_by(f64::total_cmp);
    let least = sizes.iter().rev().nth(TOLD).copied().unwrap_or(-1.0);
    let told = path.encounters.iter().filter(|one| one.work.done.abs() > least);
    told.map(|one| FlightContact {
        time: one.time,
        position: one.position.to_array(),
        surface: name(scenario, one.surface),
        what: what(one).to_owned(),
        before: one.before,
        after: one.after,
        lost: -one.work.done,
        until: match one.kind {
            Kind::Slid { until, .. } => Some(until),
            Kind::Bounced | Kind::WentThrough => None,
        },
    })
    .collect()
}

fn what(encounter: &Encounter) -> &'static str {
    match encounter.kind {
        Kind::Bounced => "bounced",
        Kind::WentThrough => "went_through",
        Kind::Slid { .. } => "slid",
    }
}

/// What was touched, by its name.
pub(super) fn name(scenario: &Scenario, surface: Surface) -> String {
    match surface {
        Surface::Ground => "ground".to_owned(),
        Surface::Face(i) => scenario.target.faces[i].name.clone(),
        Surface::Solid(i) => scenario.target.solids[i].name.clone(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_told_of_claims_that_end_at_the_first_touch() {
        let scenario =
            crate::scenario::parse(crate::scenario::template(), std::path::Path::new("."));
        let claim = Claim::new(scenario.unwrap());
        let draws = crate::engine::Draws::new(&claim.scenario().inputs, 1, &[]);
        assert_eq!(finding(&claim, &Tally::new(&claim, &draws)), None);
    }
}
