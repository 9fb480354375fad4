//! What flights touch on their way, in numbers and words.

use super::{ContactFinding, FlightContact, build::spread, in_words};
use crate::{
    chain::{Claim, Encounter, Kind},
    contact::Surface,
    engine::{Path, Tally},
    quantity::{Dimension, format},
    scenario::Scenario,
    words::count,
};

/// Most contacts told of one drawn flight.
const TOLD: usize = 40;

/// What flights touched and went on from; `None` where they are not followed.
pub(super) fn finding(claim: &Claim, tally: &Tally) -> Option<ContactFinding> {
    claim.follows().then(|| {
        let mut found = ContactFinding {
            touched: tally.contacts.count(),
            flights: tally.flights(),
            strikes: tally.impact_speed.count(),
            strikes_after: tally.after_contact,
            number: spread(&tally.contacts),
            let_go: tally.let_go,
            // Those that were let go went farthest.
            rest: if tally.let_go == 0 { spread(&tally.rest) } else { None },
            words: String::new(),
        };
        found.words = words(claim.scenario(), &found);
        found
    })
}

fn words(scenario: &Scenario, found: &ContactFinding) -> String {
    let chance = |some: u64, all: u64| in_words(&super::build::chance(some, all));
    let touched = chance(found.touched, found.flights);
    let mut text = format!("{touched}, a flight touches something and goes on");
    if let Some(number) = &found.number {
        text += &format!(" ({} contacts in the middle)", number.quantiles[3].round());
    }
    if found.strikes > 0 {
        text += &format!(
            "; of {} that strike, {} had touched something before",
            count(found.strikes),
            count(found.strikes_after)
        );
    }
    if let Some(rest) = &found.rest {
        let say = |value: f64| format(value, Dimension::Length, scenario.show);
        text += &format!(
            ". Half of those followed to rest lie {} or more from below the release, 1 in 20 {}",
            say(rest.quantiles[3]),
            say(rest.quantiles[5])
        );
    }
    if found.let_go > 0 {
        text += &format!(
            "; {} rolled on, away from everything, and were followed no further",
            count(found.let_go)
        );
    }
    text + "."
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

/// The way to the strike, as a sentence; `None` if nothing was touched before.
pub(super) fn way(scenario: &Scenario, path: &Path) -> Option<String> {
    let before = path.outcome.contacts_before as usize;
    let touched = path.encounters.get(..before.min(path.encounters.len()))?;
    let first = touched.iter().find(|one| one.kind == Kind::Bounced)?;
    let say = |value: f64, dimension| format(value, dimension, scenario.show);
    let place = name(scenario, first.surface).replace('_', " ");
    let rest = touched.len() - 1;
    let more = match rest {
        0 => String::new(),
        1 => "; once more it touches something before it strikes".to_owned(),
        _ => format!("; {rest} more contacts come before it strikes"),
    };
    Some(format!(
        "After {} it comes down on the {place} at {} and goes on at {}{more}.",
        say(first.time, Dimension::Time),
        say(first.before, Dimension::Speed),
        say(first.after, Dimension::Speed),
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_told_of_claims_that_end_at_the_first_touch() {
        let scenario =
            crate::scenario::parse(crate::scenario::template(), std::path::Path::new("."));
        let claim = Claim::new(scenario.unwrap(), false);
        let draws = crate::engine::Draws::new(&claim.scenario().inputs, 1, &[]);
        assert_eq!(finding(&claim, &Tally::new(&claim, &draws)), None);
    }
}
