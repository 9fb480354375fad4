//! The next thing to do, by rule: mend the answer first, then learn what
//! decides it, then try the weakest step for real.

use super::{Driver, Findings, GateFinding, InputFinding, thousands, weakest};
use crate::engine::OUTSIDE_ONE_IN;

/// One sentence that a reader can act on.
pub(super) fn step(findings: &Findings) -> String {
    let claim = &findings.claim;
    if findings.partial {
        return "Let the run go to its end: this answer rests on part of the flights.".to_owned();
    }
    if claim.is_counted() && claim.held < 20 && claim.flights < 1_000_000 {
        return format!(
            "Fly more: {} of {} flights held, too few to lean on.",
            claim.held,
            thousands(claim.flights),
        );
    }
    // Twice as many as may miss the error budget are no accident of the subset.
    let error = &findings.step_error;
    let too_many = error.outside * OUTSIDE_ONE_IN > 2 * error.flights;
    if too_many || error.changed * 100 > error.flights {
        return "Read the doubts first: too many flights have a step error beyond the budget."
            .to_owned();
    }
    let Some(gate) = weakest(findings) else { return "Fly something.".to_owned() };
    match deciding(findings, gate).next() {
        _ if gate.passed == gate.came => {
            "Plan shots: the model sees no step that fails, so only a trial can.".to_owned()
        }
        Some(driver) if doubtful(findings, driver) => format!(
            "Find out `{}`: it decides whether {}, and it is not known.",
            driver.input, gate.meaning
        ),
        Some(driver) => format!(
            "Pin down `{}` first: it decides more than anything else whether {}.",
            driver.input, gate.meaning
        ),
        None => format!("Test that step by itself: whether {}.", gate.meaning),
    }
}

/// Inputs that stand out for a gate, strongest first.
fn deciding<'a>(
    findings: &'a Findings,
    gate: &GateFinding,
) -> impl Iterator<Item = &'a Driver> + use<'a> {
    let wanted = Some(gate.gate);
    let ranked = findings.drivers.iter().find(move |drivers| drivers.gate == wanted);
    let ranking = ranked.map(|drivers| drivers.ranking.as_slice()).unwrap_or_default();
    ranking.iter().filter(|driver| driver.separation > 2.0 * driver.noise)
}

/// Is it one value that nobody knows, or one that the user did not tell?
fn doubtful(findings: &Findings, driver: &Driver) -> bool {
    let named = |input: &&InputFinding| input.name == driver.input;
    findings.inputs.iter().find(named).is_some_and(|input| input.unknown || input.assumed)
}
