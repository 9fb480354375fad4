//! What a gate and its margin mean in a given scenario, in words.

use crate::scenario::{Demand, Face, Gate, Release, Scenario};

/// What passing a gate means here, to follow "the object ...".
#[must_use]
pub(crate) fn meaning(scenario: &Scenario, gate: Gate) -> String {
    let face = aimed_name(scenario);
    match gate {
        Gate::Released => match &scenario.release {
            Release::Blown(blown) if blown.held.is_some() => "the wind lifts it off".to_owned(),
            Release::Blown(_) => "it is loose in the wind".to_owned(),
            Release::Shed(shed) if shed.secured.is_some() => "it comes loose".to_owned(),
            Release::Shed(_) => "it comes off the carrier".to_owned(),
            Release::Dropped(_) => "it is let go".to_owned(),
            Release::Launched(_) => "it is launched".to_owned(),
        },
        Gate::Reaches => format!("it gets as far as the {face}"),
        Gate::Strikes => format!("it strikes the {face}"),
        Gate::Attitude => attitude(scenario),
        Gate::Perforates => format!("it goes through the {face}"),
        Gate::Harms => "what arrives reaches the harm criterion".to_owned(),
    }
}

fn attitude(scenario: &Scenario) -> String {
    let axis = scenario.target.attitude.map_or(0, |demand| demand.axis);
    let ball = scenario.object.shape.map(|_| 1.0).form().is_ball();
    let way = match axis {
        _ if ball => "as asked",
        0 => "end on",
        1 => "edge on",
        _ => "flat on",
    };
    format!("it strikes {way}")
}

/// The dimension of a gate's margin, by the names in `quantity`.
#[must_use]
pub(super) fn margin_dimension(scenario: &Scenario, gate: Gate) -> &'static str {
    match gate {
        Gate::Released => "force",
        Gate::Reaches | Gate::Strikes => "length",
        Gate::Attitude => "angle",
        Gate::Perforates => demand(scenario).map_or("energy", |demand| demand.dimension().name()),
        Gate::Harms => "energy",
    }
}

/// Whether the barriers aimed at are weighed in one measure.
#[must_use]
pub(super) fn one_measure(scenario: &Scenario) -> bool {
    let aimed = scenario.target.faces.iter().filter(|face| face.aim);
    let mut asked = aimed.filter_map(|face| face.barrier.as_ref().map(|it| it.demand));
    let Some(first) = asked.next() else { return true };
    asked.all(|demand| demand == first)
}

/// The first aimed face: of several, not always the one that is struck.
#[must_use]
pub(super) fn aimed(scenario: &Scenario) -> Option<&Face> {
    scenario.target.faces.iter().find(|face| face.aim)
}

/// The names of the aimed faces as people say them: "east or the west".
#[must_use]
pub(super) fn aimed_name(scenario: &Scenario) -> String {
    let aimed = scenario.target.faces.iter().filter(|face| face.aim);
    let names: Vec<String> = aimed.map(face_name).collect();
    if names.is_empty() { "target".to_owned() } else { names.join(" or the ") }
}

/// The name of a face as people say it.
#[must_use]
pub(super) fn face_name(face: &Face) -> String {
    face.name.replace('_', " ")
}

fn demand(scenario: &Scenario) -> Option<Demand> {
    aimed(scenario)?.barrier.as_ref().map(|barrier| barrier.demand)
}
