//! What a log of real shots says: of a scenario's barrier, with next to nothing
//! known beforehand, and of each gate.

use super::{Demand, Gate};
use crate::{
    diagnostic::Diagnostic,
    math::{exp, ln},
    rig::log::{self, Defaults, LoggedShot, ShotResult},
    threshold::{Grid, Prior, Trial},
};

/// Spread from shot to shot that is thought likely before any is seen:
/// judgement, no source; on energy, half of it on speed.
const USUAL: f64 = 0.4;
/// What is thought of the strength before: a factor of e^2 either side of the
/// middle of the shots.
const WIDEST: f64 = 2.0;

/// A barrier's strength from shots; all in J or m/s.
#[derive(Clone, Debug, PartialEq)]
pub struct Fitted {
    /// What it is measured in.
    pub demand: Demand,
    /// Demand that half of the blows go through at: what the shots leave open,
    /// from 5 to 95 %.
    pub median: [f64; 2],
    /// Standard deviation of the logarithm from shot to shot.
    pub spread: f64,
    /// Shots that speak of the barrier.
    pub shots: u64,
    /// Of them those that went through.
    pub through: u64,
    /// The hardest blow among them.
    pub hardest: f64,
}

impl ShotResult {
    /// Whether the shot passed a gate; `None` where it says nothing about it.
    #[must_use]
    pub fn passed(self, gate: Gate) -> Option<bool> {
        let through = matches!(self, Self::Through | Self::Harmless | Self::Harmful);
        match gate {
            Gate::Released => Some(self != Self::Misfire),
            // A miss may have reached the target's plane or not.
            Gate::Reaches => (through || self == Self::Stopped).then_some(true),
            Gate::Strikes => (self != Self::Misfire).then_some(self != Self::Missed),
            Gate::Attitude => None,
            Gate::Perforates => (through || self == Self::Stopped).then_some(through),
            Gate::Harms => match self {
                Self::Harmless => Some(false),
                Self::Harmful => Some(true),
                Self::Misfire | Self::Missed | Self::Stopped | Self::Through => None,
            },
        }
    }
}

/// Fits a barrier's strength from the text of a log; `measure`: in what, or as
/// the log allows.
///
/// # Errors
///
/// What is wrong with the log, and in which line.
pub(super) fn fit(text: &str, measure: Option<Demand>) -> Result<Fitted, String> {
    let mut log = log::parse(text, &Defaults::default())
        .map_err(|problems| problems.first().map_or_else(String::new, |one| at(text, one)))?;
    log.shots.retain(speaks);
    let (weighed, all) =
        (log.shots.iter().filter(|shot| shot.mass.is_some()).count(), log.shots.len());
    let demand =
        measure.unwrap_or(if weighed > 0 { Demand::NormalEnergy } else { Demand::NormalSpeed });
    let energy = demand != Demand::NormalSpeed;
    if let Some(bare) = log.shots.iter().find(|shot| energy && shot.mass.is_none()) {
        return Err(format!(
            "line {}: an energy needs the `mass` of the object; or write `measured_as: \
             normal_speed`",
            bare.line
        ));
    }
    let one_kind = |what: &str, do_what: &str| {
        Err(format!("all {all} shots {what}: {do_what}, so that there are some of both kinds"))
    };
    let through = log.shots.iter().filter(|shot| through(shot)).count();
    match (all, through) {
        (0, _) => return Err("no line has both a speed and `stopped` or `through`".to_owned()),
        (_, 0) => return one_kind("were stopped", "shoot harder"),
        (all, through) if all == through => return one_kind("went through", "shoot softer"),
        _ => {}
    }
    let blow = |shot: &LoggedShot| {
        let speed = shot.speed.map_or(f64::NAN, |speed| speed.value);
        if energy { 0.5 * shot.mass.unwrap_or(f64::NAN) * speed * speed } else { speed }
    };
    let blows: Vec<f64> = log.shots.iter().map(blow).collect();
    let trials: Vec<Trial> = log
        .shots
        .iter()
        .zip(&blows)
        .map(|(shot, blow)| Trial { x: ln(*blow), event: self::through(shot) })
        .collect();
    let prior = Prior {
        mu: trials.iter().map(|trial| trial.x).sum::<f64>() / trials.len() as f64,
        mu_sd: WIDEST,
        ln_sigma: ln(if energy { USUAL } else { USUAL / 2.0 }),
        ln_sigma_sd: 0.8,
    };
    let grid = Grid::new(&prior, &trials);
    // From the middle half-widths of 95 %, as if evenly to both sides.
    let [low, middle, high] = [0.025, 0.5, 0.975].map(|p| grid.threshold_quantile(p));
    let half = 0.5 * (high - low) * 1.644_854 / 1.959_964;
    Ok(Fitted {
        demand,
        median: [exp(middle - half), exp(middle + half)],
        spread: grid.mean(|_, sigma| sigma),
        shots: all as u64,
        through: through as u64,
        hardest: blows.into_iter().fold(0.0, f64::max),
    })
}

/// Whether a shot says something of the barrier.
fn speaks(shot: &LoggedShot) -> bool {
    shot.speed.is_some() && shot.result.and_then(|result| result.passed(Gate::Perforates)).is_some()
}

fn through(shot: &LoggedShot) -> bool {
    shot.result.and_then(|result| result.passed(Gate::Perforates)) == Some(true)
}

/// A problem with its line.
fn at(text: &str, problem: &Diagnostic) -> String {
    let Some((span, found)) = &problem.label else { return problem.to_string() };
    let line = text[..span.start].matches('\n').count() + 1;
    format!("line {line}: {problem}, {found}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{math::pow, threshold::drop_test};
    use std::fmt::Write;

    /// Source: published drop test, 25 drops, fitted threshold 34.01661 (M. S.
    /// Hamada, B. Mang, J. Hoff, Quality Engineering 2019, Table 1), its heights
    /// read as speeds; published 95 % of the logarithm to ten 1.475 to 1.649.
    #[test]
    fn a_published_test_gives_its_published_threshold() {
        let mut log = "speed,result\n".to_owned();
        for drop in drop_test() {
            let word = if drop.event { "through" } else { "stopped" };
            writeln!(log, "{} m/s,{word}", pow(10.0, drop.x)).unwrap();
        }
        let found = fit(&log, None).unwrap();
        assert_eq!((found.demand, found.shots, found.through), (Demand::NormalSpeed, 25, 11));
        let [low, high] = found.median;
        let middle = exp(0.5 * ln(low * high));
        assert!((middle / 34.016_61 - 1.0).abs() < 0.02, "{middle}");
        // The published interval leans upwards; nine in ten here lie evenly.
        assert!(low > 0.95 * pow(10.0, 1.475) && high < pow(10.0, 1.649), "{low} to {high}");
        assert!((found.hardest - 40.3).abs() < 1e-9);
    }

    /// Source: ½ m v²: 2 kg at 10 and 20 m/s are 100 and 400 J.
    #[test]
    fn shots_with_a_mass_are_fitted_in_energy() {
        let log =
            "speed,mass,result\n10 m/s,2 kg,stopped\n20 m/s,2 kg,through\n9 m/s,2 kg,missed\n";
        let found = fit(log, None).unwrap();
        assert_eq!((found.demand, found.shots), (Demand::NormalEnergy, 2));
        let [low, high] = found.median;
        assert!(low < 200.0 && high > 200.0 && (low * high).sqrt() / 200.0 < 1.1);
        assert!((found.hardest - 400.0).abs() < 1e-9);
        assert_eq!(fit(log, Some(Demand::NormalSpeed)).unwrap().demand, Demand::NormalSpeed);
    }

    #[test]
    fn what_is_wrong_with_a_log_is_told_with_its_line() {
        let wrong = |log: &str, measure| fit(log, measure).unwrap_err();
        let said = wrong("# ours\nspeed,result\n10 m/s,stopped\n11 kg,through\n", None);
        assert!(said.starts_with("line 4: "), "{said}");
        let bare = "speed,mass,result\n10 m/s,1 kg,stopped\n12 m/s,,through\n";
        assert!(wrong(bare, None).starts_with("line 3: "), "{}", wrong(bare, None));
        let one = "speed,result\n10 m/s,stopped\n11 m/s,stopped\n";
        assert!(wrong(one, None).contains("all 2 shots were stopped: shoot harder"));
        assert!(wrong("shot,result\n1,through\n", None).contains("no line has both"));
    }

    #[test]
    fn a_result_speaks_of_the_gates_it_came_to() {
        use ShotResult::{Harmless, Missed, Stopped, Through};
        assert_eq!(Missed.passed(Gate::Strikes), Some(false));
        assert_eq!(Missed.passed(Gate::Perforates), None);
        assert_eq!(Stopped.passed(Gate::Perforates), Some(false));
        assert_eq!(Through.passed(Gate::Harms), None);
        assert_eq!(Harmless.passed(Gate::Harms), Some(false));
    }
}
