//! The cautions that go with every answer.

use crate::scenario::{Gate, Release, Scenario};

/// The cautions that go with every answer for this scenario.
#[must_use]
pub(super) fn cautions(scenario: &Scenario) -> Vec<String> {
    let mut cautions = vec![
        "A chance from a model is not a clearance. Nobody stands in the line of flight, in front of the target, behind it, or where debris can go.".to_owned(),
        "Local codes, the site's safety officer and licensed practice decide what may be done; this page does not.".to_owned(),
    ];
    if scenario.chain.contains(&Gate::Harms) {
        cautions.push(crate::harm::CAUTION.to_owned());
    }
    if matches!(&scenario.release, Release::Shed(shed) if shed.secured.is_some()) {
        cautions.push(
            "Do not try a load on the road: secure it as the law and a competent person ask; friction alone secures nothing.".to_owned(),
        );
    }
    if matches!(scenario.release, Release::Launched(_)) {
        cautions.push(
            "A launcher stores energy: stand clear of any loaded line or vessel, release it from a distance, and have an engineer sign off the structure.".to_owned(),
        );
    }
    cautions
}
