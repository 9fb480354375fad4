//! The next thing to do, by rule: mend the answer first, then learn what
//! decides it, then try the weakest step for real.

use super::weakest;
use crate::{
    engine::{OUTSIDE_ONE_IN, Stop},
    findings::{Driver, Findings, GateFinding, InputFinding},
    words::count,
};

/// One sentence that a reader can act on.
pub(super) fn step(findings: &Findings) -> String {
    let claim = &findings.claim;
    if findings.partial {
        return "Let the run go to its end: this answer rests on part of the flights.".to_owned();
    }
    // Shown to be too rare for flights at random: more of them would teach little.
    let rare = findings.enough.as_ref().is_some_and(|enough| enough.stop == Stop::BelowFloor);
    if claim.is_counted() && claim.held < 20 && claim.flights < 1_000_000 && !rare {
        return format!(
            "Fly more: {} of {} flights held, too few to lean on.",
            claim.held,
            count(claim.flights),
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
    if gate.passed == gate.came {
        return "Plan shots: the model sees no step that fails, so only a trial can.".to_owned();
    }
    let standing: Vec<&Driver> = deciding(findings, gate).collect();
    learn(&findings.inputs, &standing, &gate.meaning)
}

/// What to learn of the inputs that stand out for a step, strongest first: one
/// value that nobody knows can be found out, of what differs from one event to
/// the next only how it is spread, and of a gust not even that.
fn learn(inputs: &[InputFinding], standing: &[&Driver], whether: &str) -> String {
    let kind = |driver: &&&Driver| Kind::of(inputs, driver);
    let Some(first) = standing.first() else {
        return format!("Test that step by itself: whether {whether}.");
    };
    let decides = format!("decides more than anything else whether {whether}");
    let name = &first.input;
    match kind(&first) {
        Kind::Unknown => {
            format!("Find out `{name}`: it decides whether {whether}, and it is not known.")
        }
        Kind::Varies => {
            let unknown = standing.iter().find(|driver| kind(driver) == Kind::Unknown);
            let then = unknown.map_or_else(String::new, |driver| {
                format!(" Then find out `{}`, which is not known.", driver.input)
            });
            format!(
                "Find out how widely `{name}` varies: it {decides}, and differs from one event to \
                 the next.{then}"
            )
        }
        Kind::Chance => {
            let told = standing.iter().find(|driver| kind(driver) != Kind::Chance);
            let then = match told {
                Some(driver) if kind(&driver) == Kind::Unknown => {
                    format!("What can be found out is `{}`.", driver.input)
                }
                Some(driver) => {
                    format!("What can be learnt is how widely `{}` varies.", driver.input)
                }
                None => "No measurement beforehand can tell.".to_owned(),
            };
            format!("`{name}` {decides}, and that is the chance of the moment. {then}")
        }
    }
}

/// What there is to learn of an input.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    /// One value, not known or not told.
    Unknown,
    /// Differs from one event to the next, as told.
    Varies,
    /// Differs of itself, as the model has it.
    Chance,
}

impl Kind {
    fn of(inputs: &[InputFinding], driver: &Driver) -> Self {
        match inputs.iter().find(|input| input.name == driver.input) {
            Some(input) if input.of_itself => Self::Chance,
            Some(input) if input.unknown || input.assumed => Self::Unknown,
            _ => Self::Varies,
        }
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

#[cfg(test)]
mod tests {
    use super::*;

    fn input(name: &str, unknown: bool, of_itself: bool) -> InputFinding {
        InputFinding {
            name: name.to_owned(),
            dimension: "number".to_owned(),
            written: String::new(),
            quantiles: [0.0, 0.5, 1.0],
            fixed: false,
            unknown,
            // What differs of itself is the model's own.
            assumed: of_itself,
            of_itself,
            part: None,
        }
    }

    /// The advice where these inputs stand out, strongest first.
    fn advice(names: &[&str]) -> String {
        let inputs = [
            input("air.wind.speed", false, false),
            input("air.wind.turbulence.at_release", false, true),
            input("object.drag_factor", true, false),
        ];
        let driver = |name: &&str| Driver {
            input: (*name).to_owned(),
            auc: 0.8,
            window: false,
            separation: 0.5,
            noise: 0.1,
            settles: 0.2,
        };
        let drivers: Vec<Driver> = names.iter().map(driver).collect();
        learn(&inputs, &drivers.iter().collect::<Vec<_>>(), "it strikes the kiosk")
    }

    #[test]
    fn nobody_is_told_to_pin_down_the_weather() {
        let (wind, gust, drag) =
            ("air.wind.speed", "air.wind.turbulence.at_release", "object.drag_factor");
        let decides = "decides more than anything else whether it strikes the kiosk";
        assert_eq!(
            advice(&[wind, drag]),
            format!(
                "Find out how widely `{wind}` varies: it {decides}, and differs from one event to \
                 the next. Then find out `{drag}`, which is not known."
            )
        );
        let chance = format!("`{gust}` {decides}, and that is the chance of the moment.");
        let learnt = format!("{chance} What can be learnt is how widely `{wind}` varies.");
        assert_eq!(advice(&[gust, wind, drag]), learnt);
        let found = format!("{chance} What can be found out is `{drag}`.");
        assert_eq!(advice(&[gust, drag]), found);
        assert_eq!(advice(&[gust]), format!("{chance} No measurement beforehand can tell."));
        assert!(advice(&[drag, wind]).starts_with("Find out `object.drag_factor`"));
        assert!(advice(&[]).starts_with("Test that step by itself"));
    }
}
