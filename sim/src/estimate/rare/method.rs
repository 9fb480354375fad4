//! Which method gives the answer, and why.

use super::{
    Effort, Likeliest, LimitState,
    guard::{self, Check},
    importance::{Density, Importance},
    likeliest::likeliest,
    space::Points,
    subset::{Subset, subset_simulation},
};
use crate::{
    estimate::{LEVEL, Moments, Proportion, likelihood, student_quantile},
    math::{exp, hypot, log1p},
};

/// Successes of plain sampling from which on nothing else is needed: the
/// relative standard error is then 22 % or less.
const ENOUGH: u64 = 20;
/// Relative error allowed for ways that neither the search nor the aimed sample
/// came across. Problems with exact answers needed it where a second way holds
/// about one percent of the chance.
const OVERLOOKED: f64 = 0.02;
const Z95: f64 = 1.959_963_984_540_054;

/// How a chance was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Method {
    /// Flights at random.
    Plain,
    /// Flights where it happens, weighed.
    Importance,
    /// Independent subset simulations.
    Subset,
    /// The methods contradict each other or found nothing: plain sampling's
    /// interval is all that is known.
    Unresolved,
}

/// A small chance, with how far it can be trusted.
#[derive(Clone, Debug, PartialEq)]
pub struct RareEvent {
    /// Best estimate.
    pub probability: f64,
    /// Lower end of the interval.
    pub low: f64,
    /// Upper end of the interval.
    pub high: f64,
    /// Confidence level of the interval.
    pub level: f64,
    /// Relative standard error of the estimate, with an allowance of 2 % for
    /// overlooked ways where flights were aimed; infinite without a success.
    pub relative_error: f64,
    /// How it was found.
    pub method: Method,
    /// Why this method speaks, in words.
    pub why: String,
    /// Evaluations used by the search, plain sampling not counted.
    pub calls: u64,
    /// Number of equally weighted successes that the weighted ones are worth.
    pub effective: Option<f64>,
    /// The guards' verdicts.
    pub checks: Vec<Check>,
    /// The most likely way it happens.
    pub likeliest: Option<Likeliest>,
}

impl RareEvent {
    /// The likelihood word with "about 1 in N" below 1 %.
    #[must_use]
    pub fn in_words(&self) -> String {
        likelihood::in_words(self.probability, self.low, self.high)
    }

    fn plain(plain: &Proportion, method: Method, why: String) -> Self {
        Self {
            probability: plain.estimate,
            low: plain.low,
            high: plain.high,
            level: plain.level,
            relative_error: plain.relative_error(),
            method,
            why,
            calls: 0,
            effective: None,
            checks: Vec::new(),
            likeliest: None,
        }
    }
}

/// Finds a small chance. `plain`: what plain sampling of the same state found
/// (with no flights at all, nothing is held against it).
///
/// Everything depends on the seed alone.
#[must_use]
pub fn rare_event(
    state: &impl LimitState,
    seed: u64,
    plain: &Proportion,
    effort: &Effort,
) -> RareEvent {
    let plain = Proportion::clopper_pearson(plain.k, plain.n, LEVEL);
    if plain.k >= ENOUGH {
        let why = format!("plain sampling met it {} times, which is enough", plain.k);
        return RareEvent::plain(&plain, Method::Plain, why);
    }
    let search = subset_simulation(state, seed, 0, effort.per_level);
    let mut calls = search.calls;
    let checks = match weigh(state, seed, &search, effort, &mut calls) {
        Ok(found) => {
            let checks = guard::importance(&found, &search, &plain);
            if checks.iter().all(|c| c.passed) { Ok((found, checks)) } else { Err(checks) }
        }
        Err(check) => Err(check.into_iter().collect()),
    };
    let mut event = match checks {
        Ok((found, checks)) => weighted(&found, checks),
        Err(checks) => sturdy(state, seed, &plain, effort, checks, &mut calls),
    };
    let hits = successes(&search.points);
    if let Some((way, used)) = likeliest(state, seed, &hits, effort.polish) {
        event.likeliest = Some(way);
        calls += used;
    }
    event.calls = calls;
    event
}

/// Two importance samples, the second fitted to the first; or what is against
/// it.
fn weigh(
    state: &impl LimitState,
    seed: u64,
    search: &Subset,
    effort: &Effort,
    calls: &mut u64,
) -> Result<Importance, Option<Check>> {
    let hits = search.points.hits();
    if search.stuck || hits.is_empty() {
        return Err(None);
    }
    let equal = vec![1.0; hits.len()];
    // Chain states are alike: five are worth about one.
    let density = Density::fit(&search.points, &hits, &equal, hits.len() as f64 / 5.0);
    let first = density.sample(state, seed, 0, effort.importance[0]);
    *calls += effort.importance[0] as u64;
    let refitted = first.refit().ok_or_else(|| Some(guard::too_little(first.effective)))?;
    let second = refitted.sample(state, seed, 1, effort.importance[1]);
    *calls += effort.importance[1] as u64;
    Ok(second)
}

fn weighted(found: &Importance, checks: Vec<Check>) -> RareEvent {
    let relative = hypot(found.variation, OVERLOOKED);
    let spread = exp(Z95 * log1p(relative * relative).sqrt());
    RareEvent {
        probability: found.probability,
        low: found.probability / spread,
        high: (found.probability * spread).min(1.0),
        level: LEVEL,
        relative_error: relative,
        method: Method::Importance,
        why: "flights were aimed at where it happens and weighed; the search before them and \
              plain sampling agree"
            .to_owned(),
        calls: 0,
        effective: Some(found.effective),
        checks,
        likeliest: None,
    }
}

/// Independent subset simulations, or the confession that nothing holds.
fn sturdy(
    state: &impl LimitState,
    seed: u64,
    plain: &Proportion,
    effort: &Effort,
    mut checks: Vec<Check>,
    calls: &mut u64,
) -> RareEvent {
    let mut found = Moments::new();
    let mut stuck = false;
    for replicate in 1..=effort.replicates.max(2) {
        let run = subset_simulation(state, seed, replicate, effort.per_replicate_level);
        *calls += run.calls;
        stuck |= run.stuck;
        found.push(run.probability);
    }
    let mean = found.mean();
    let relative = found.standard_error() / mean;
    let t = student_quantile(0.5 + 0.5 * LEVEL, (found.count() - 1) as f64);
    let spread = exp(t * log1p(relative * relative).sqrt());
    let (low, high) = (mean / spread, (mean * spread).min(1.0));
    if stuck {
        let why = "the search found no way nearer to it; only plain sampling speaks".to_owned();
        return RareEvent { checks, ..RareEvent::plain(plain, Method::Unresolved, why) };
    }
    let why = match checks.iter().find(|c| !c.passed) {
        Some(failed) => format!("importance sampling was refused ({})", failed.words),
        None => "too few successes to aim at".to_owned(),
    };
    let agrees = guard::against_plain(low, high, plain);
    let resolved = agrees.passed;
    checks.push(agrees);
    if !resolved {
        let why = format!(
            "not resolved: {} independent searches found {low:.1e} to {high:.1e}, which \
             contradicts plain sampling ({} of {} flights); the margins mislead the search",
            found.count(),
            plain.k,
            plain.n
        );
        return RareEvent { checks, ..RareEvent::plain(plain, Method::Unresolved, why) };
    }
    if high * plain.low > plain.high * low {
        let why = "the independent searches scatter more than plain sampling does".to_owned();
        return RareEvent { checks, ..RareEvent::plain(plain, Method::Plain, why) };
    }
    RareEvent {
        probability: mean,
        low,
        high,
        level: LEVEL,
        relative_error: relative,
        method: Method::Subset,
        why: format!("{} independent searches; {why}", found.count()),
        calls: 0,
        effective: None,
        checks,
        likeliest: None,
    }
}

fn successes(points: &Points) -> Points {
    let mut hits = Points::new(points.dimension);
    for i in points.hits() {
        hits.push(points.point(i), points.scores[i]);
    }
    hits
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::estimate::rare::{reference::Problem, space::Normals};
    use crate::sampling::Domain;

    /// Plain sampling of `n` points.
    fn plain(problem: &Problem, n: u64) -> Proportion {
        let d = problem.dimension();
        let normals = Normals::new(77, Domain::DRAWS, d);
        let (mut point, mut score) = (vec![0.0; d], [0.0]);
        let mut k = 0;
        for draw in 0..n {
            normals.fill(draw, &mut point);
            problem.scores(&point, &mut score);
            k += u64::from(score[0] <= 0.0);
        }
        Proportion::clopper_pearson(k, n, LEVEL)
    }

    fn find(problem: &Problem, flights: u64) -> RareEvent {
        rare_event(problem, 1, &plain(problem, flights), &Effort::default())
    }

    /// Source: exact probabilities by quadrature (see `reference`); five
    /// standard errors: false alarm 6e-7 each.
    #[test]
    fn one_in_a_billion_comes_out() {
        for problem in [
            Problem::Linear { beta: 3.5, dimension: 30 },
            Problem::Linear { beta: 6.0, dimension: 30 },
            Problem::Disc { radius: 0.25, offset: 4.0, dimension: 30 },
            Problem::Windows { stages: 3, dimension: 10 },
        ] {
            let (found, exact) = (find(&problem, 2000), problem.probability());
            assert_eq!(found.method, Method::Importance, "{problem:?}: {found:?}");
            let off = found.probability / exact - 1.0;
            assert!(off.abs() < 5.0 * found.relative_error, "{problem:?}: {found:?}");
            assert!(found.relative_error < 0.12, "{problem:?}: {}", found.relative_error);
            assert!(found.calls < 40_000, "{}", found.calls);
            assert!(found.low < found.probability && found.probability < found.high);
        }
    }

    #[test]
    fn four_ways_at_once_are_refused_to_importance_sampling() {
        let problem = Problem::FourBranch { k: 7.0 };
        let found = find(&problem, 2000);
        assert_eq!(found.method, Method::Subset, "{found:?}");
        assert!(found.checks.iter().any(|c| !c.passed));
        assert!(found.why.contains("refused"), "{}", found.why);
        let off = found.probability / problem.probability() - 1.0;
        assert!(off.abs() < 5.0 * found.relative_error.max(0.074), "{off}");
    }

    #[test]
    fn a_margin_that_misleads_is_caught_by_plain_sampling() {
        let problem = Problem::Deceptive;
        let plain = plain(&problem, 400_000);
        assert!(plain.k > 0 && plain.k < ENOUGH, "{}", plain.k);
        // A small search, which does not notice the far region.
        let effort = Effort { per_level: 500, per_replicate_level: 200, ..Effort::default() };
        let found = rare_event(&problem, 2, &plain, &effort);
        assert_eq!(found.method, Method::Unresolved, "{found:?}");
        assert!(found.why.contains("contradicts plain sampling"), "{}", found.why);
        let exact = problem.probability();
        assert!(found.low < exact && exact < found.high);
    }

    #[test]
    fn searches_that_scatter_more_than_plain_sampling_do_not_replace_it() {
        let problem = Problem::Deceptive;
        let plain = plain(&problem, 400_000);
        let effort = Effort { per_level: 500, per_replicate_level: 200, ..Effort::default() };
        let found = rare_event(&problem, 1, &plain, &effort);
        assert_eq!(found.method, Method::Plain, "{found:?}");
        assert!((found.probability - plain.estimate).abs() < 1e-15);
        assert!(found.why.contains("scatter"), "{}", found.why);
    }

    #[test]
    fn enough_plain_successes_need_no_search() {
        let plain = Proportion::clopper_pearson(25, 1000, LEVEL);
        let problem = Problem::Linear { beta: 2.0, dimension: 2 };
        let found = rare_event(&problem, 1, &plain, &Effort::default());
        assert_eq!((found.method, found.calls), (Method::Plain, 0));
    }

    #[test]
    fn what_cannot_happen_is_left_to_plain_sampling() {
        struct Never;
        impl LimitState for Never {
            fn dimension(&self) -> usize {
                2
            }
            fn scores(&self, points: &[f64], out: &mut [f64]) {
                for (u, g) in points.chunks(2).zip(out) {
                    *g = 1.0 + exp(-u[0]);
                }
            }
        }
        let plain = Proportion::clopper_pearson(0, 10_000, LEVEL);
        let found = rare_event(&Never, 1, &plain, &Effort::default());
        assert_eq!(found.method, Method::Unresolved);
        assert!(found.high > 0.0 && found.low <= 0.0);
    }

    #[test]
    fn the_same_seed_gives_the_same_record() {
        let problem = Problem::Disc { radius: 0.25, offset: 4.0, dimension: 4 };
        let none = Proportion::clopper_pearson(0, 0, LEVEL);
        let effort = Effort { per_level: 500, importance: [500, 500], ..Effort::default() };
        let run = || rare_event(&problem, 6, &none, &effort);
        assert_eq!(run(), run());
    }
}
