//! The next thing to do, by rule: mend the answer first, then learn what
//! decides it, then try the weakest gate for real.

use crate::{chart::weakest, words};
use longodds_sim::findings::{Driver, Findings, InputFinding};

/// One sentence that a reader can act on.
pub(super) fn step(findings: &Findings) -> String {
    let claim = &findings.claim;
    if findings.partial {
        return "Let the run go to its end: this answer rests on part of the flights.".to_owned();
    }
    if findings.step_error.outside > 0 || findings.step_error.changed > 0 {
        return format!(
            "Read the doubts first: in {} of {} the step error was beyond its budget or changed the outcome.",
            words::count(findings.step_error.outside.max(findings.step_error.changed)),
            words::flights(findings.step_error.flights)
        );
    }
    if let Some(input) = deciding(findings).find_map(|d| doubtful(findings, d)) {
        let why =
            if input.unknown { "is one value that is not known" } else { "was assumed, not told" };
        return format!("Find out {}: it decides the outcome and {why}.", input.name);
    }
    if claim.held > 0 && claim.high > 3.0 * claim.low {
        return "Fly more: the interval is still wide (its ends are more than a factor of three apart).".to_owned();
    }
    match (weakest(findings), deciding(findings).next()) {
        (Some(gate), Some(driver)) if gate.passed < gate.came => format!(
            "Ask what {} would have to be for “{}” to be as likely as not (longodds sweep), and whether anybody saw that.",
            driver.input,
            words::gate(gate.gate)
        ),
        (Some(gate), None) if gate.passed < gate.came => {
            format!(
                "Check by hand the inputs that “{}” rests on: nothing that varies decides it.",
                words::gate(gate.gate)
            )
        }
        _ => "Plan shots: the model sees no step that fails, so only a trial can.".to_owned(),
    }
}

/// Inputs that stand out for the whole claim, strongest first.
fn deciding(findings: &Findings) -> impl Iterator<Item = &Driver> {
    let ranking = findings.drivers.first().map(|d| d.ranking.as_slice()).unwrap_or_default();
    ranking.iter().filter(|d| d.separation > d.noise).take(3)
}

fn doubtful<'a>(findings: &'a Findings, driver: &Driver) -> Option<&'a InputFinding> {
    findings.inputs.iter().find(|i| i.name == driver.input && (i.unknown || i.assumed))
}
