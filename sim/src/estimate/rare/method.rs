//! A small chance from strata, plain flights and aimed ones, pooled.

use super::{
    Effort, Likeliest, LimitState, Way,
    guard::Check,
    likeliest::likeliest,
    part::{Answer, Speaker, fly_plain, search, whole},
    space::{Points, square},
    strata::{Stratum, Within, strata},
};
use crate::estimate::{LEVEL, Proportion, WeightedCount};

/// Successes of plain sampling from which on nothing else is needed: the
/// relative standard error is then 22 % or less.
const ENOUGH: usize = 20;
/// Fewest plain flights of a stratum.
const LEAST: f64 = 1000.0;
/// Successes that plain flights of a stratum should see where it is no rare
/// thing, and most flights for them.
const GOOD: [f64; 2] = [400.0, 20_000.0];
/// A stratum that can add no more than this share is not searched.
const NEGLIGIBLE: f64 = 0.01;
/// How far above what was found the interval may reach before the answer says
/// that nothing but plain flights stands against ways that nobody has seen.
pub const OPEN: f64 = 3.0;

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

/// Flights at random and the successes among them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Flown {
    /// How many flights.
    pub flights: u64,
    /// Points at which it happened: successes x dimension, row-major.
    pub met: Vec<f64>,
}

/// A small chance, with how far it can be trusted.
#[derive(Clone, Debug, PartialEq)]
pub struct RareEvent {
    /// Best estimate.
    pub probability: f64,
    /// Lower end of the interval.
    pub low: f64,
    /// Upper end of the interval, with what plain flights leave open for ways
    /// that nobody has seen.
    pub high: f64,
    /// Confidence level of the interval.
    pub level: f64,
    /// Ends of the interval by the ways that were found alone; `None` if none
    /// were, or if plain flights contradict them.
    pub by_ways: Option<[f64; 2]>,
    /// Relative standard error of the estimate; infinite without a success.
    pub relative_error: f64,
    /// How it was found.
    pub method: Method,
    /// Why this method speaks, in words.
    pub why: String,
    /// How ways were looked for, in words.
    pub looked: String,
    /// Combinations of the inputs with few values that were searched apart.
    pub strata: usize,
    /// Evaluations used by the search, the plain flights before it not counted.
    pub calls: u64,
    /// Number of equally weighted successes that the aimed flights are worth.
    pub effective: Option<f64>,
    /// The guards' verdicts.
    pub checks: Vec<Check>,
    /// The most likely way it happens.
    pub likeliest: Option<Likeliest>,
}

impl RareEvent {
    /// Whether ways that nobody has seen could matter more than those found.
    #[must_use]
    pub(crate) fn is_open(&self) -> bool {
        self.by_ways.is_some_and(|[_, high]| self.high > OPEN * high)
    }

    /// Plain flights at which what nobody has seen would no longer matter more
    /// than what was found, about; `None` if it does not now.
    #[must_use]
    pub(crate) fn flights_to_close(&self) -> Option<f64> {
        let [_, high] = self.by_ways.filter(|_| self.is_open())?;
        let nothing = WeightedCount::default().interval(1.0, self.level)[1];
        Some(nothing / ((OPEN - 1.0) * high))
    }
}

/// Finds a small chance. `plain`: what flights at random of the same state
/// found; none of them decides where to aim unless it held where nobody aimed,
/// and then it no longer counts.
///
/// Everything depends on the seed alone.
#[must_use]
pub fn rare_event(state: &impl LimitState, seed: u64, plain: &Flown, effort: &Effort) -> RareEvent {
    let d = state.dimension();
    let met = plain.met.len() / d.max(1);
    if met >= ENOUGH {
        return counted(met as u64, plain.flights);
    }
    let (strata, left_out) = strata(&state.choices());
    Search { state, seed, plain, effort, strata: &strata, left_out }.event()
}

/// Plain flights that are enough.
fn counted(met: u64, flights: u64) -> RareEvent {
    let plain = Proportion::clopper_pearson(met, flights, LEVEL);
    RareEvent {
        probability: plain.estimate,
        low: plain.low,
        high: plain.high,
        level: plain.level,
        by_ways: None,
        relative_error: plain.relative_error(),
        method: Method::Plain,
        why: format!("plain sampling met it {met} times, which is enough"),
        looked: String::new(),
        strata: 1,
        calls: 0,
        effective: None,
        checks: Vec::new(),
        likeliest: None,
    }
}

struct Search<'a, S> {
    state: &'a S,
    seed: u64,
    plain: &'a Flown,
    effort: &'a Effort,
    strata: &'a [Stratum],
    /// Weight of the combinations that are no stratum.
    left_out: f64,
}

/// What a stratum weighs, and what is known of it.
struct Weighed<'a> {
    stratum: &'a Stratum,
    answer: Answer,
    seed: u64,
}

impl Weighed<'_> {
    fn sum(&self) -> f64 {
        self.stratum.weight * self.answer.all.sum
    }

    fn found(&self) -> f64 {
        self.stratum.weight * self.answer.found.sum
    }

    /// The weight of the next success at random, of which nothing was seen: no
    /// more than the stratum has.
    fn next(&self) -> f64 {
        self.stratum.weight * (1.0 / self.answer.plain).min(1.0)
    }

    /// About the most that it may add.
    fn most(&self) -> f64 {
        self.sum() + 4.0 * self.next()
    }
}

impl<S: LimitState> Search<'_, S> {
    fn event(&self) -> RareEvent {
        let mut calls = 0;
        let mut all: Vec<Weighed> = Vec::new();
        for (i, stratum) in (0_u64..).zip(self.strata) {
            let known: f64 = all.iter().map(Weighed::sum).sum();
            // The heaviest come first: next to them a light one may not matter.
            let matters = stratum.weight > NEGLIGIBLE * known;
            all.push(self.begun(i, stratum, matters, &mut calls));
        }
        let mut order: Vec<usize> = (0..all.len()).collect();
        order.sort_by(|a, b| all[*b].most().total_cmp(&all[*a].most()).then(a.cmp(b)));
        for i in order {
            let known: f64 = all.iter().map(Weighed::found).sum();
            let open = &all[i];
            if open.answer.met < ENOUGH && open.most() > NEGLIGIBLE * known {
                all[i].answer = self.searched(open);
            }
        }
        self.together(&all, calls)
    }

    /// Plain flights of a stratum: those of the run, and its own where they are
    /// few.
    fn begun<'s>(
        &self,
        number: u64,
        stratum: &'s Stratum,
        matters: bool,
        calls: &mut u64,
    ) -> Weighed<'s> {
        // Another seed for each stratum.
        let seed = self.seed.wrapping_add(number.wrapping_mul(0x9E37_79B9_7F4A_7C15));
        let d = self.state.dimension();
        let mut met = Points::new(d);
        for point in self.plain.met.chunks(d) {
            if let Some(own) = stratum.narrow(point) {
                met.push(&own, 0.0);
            }
        }
        let within = Within { state: self.state, stratum };
        let mut flights = self.plain.flights as f64 * stratum.weight;
        let mut fly = |round, count: f64| {
            *calls += whole(count) as u64;
            fly_plain(&within, seed, round, count)
        };
        if self.strata.len() > 1 && flights < LEAST && matters {
            let more = (LEAST - flights).ceil();
            met.extend(&fly(100, more));
            flights += more;
        }
        if self.strata.len() > 1 && met.len() >= ENOUGH && (met.len() as f64) < GOOD[0] {
            // So many that the first, which decided on their number, need not
            // count.
            flights = (GOOD[0] / met.len() as f64 * flights).ceil().min(GOOD[1]);
            met = fly(101, flights);
        }
        let mut answer = Answer::plain(met, flights);
        if answer.met >= ENOUGH {
            // Common within the stratum: plain flights found the way.
            answer.found = answer.all;
            answer.speaker = Speaker::Aimed;
        }
        Weighed { stratum, answer, seed }
    }

    fn searched(&self, begun: &Weighed) -> Answer {
        let within = Within { state: self.state, stratum: begun.stratum };
        let effort = self.effort.shared(self.strata.len());
        let answer = &begun.answer;
        search(&within, begun.seed, answer.plain, answer.hits.clone(), &effort)
    }

    /// All strata by their weights.
    fn together(&self, all: &[Weighed], mut calls: u64) -> RareEvent {
        let (mut whole, mut found) = (WeightedCount::default(), WeightedCount::default());
        // The run's own flights reach what was left out, too.
        let mut next = self.left_out.min(1.0 / (self.plain.flights.max(1)) as f64);
        let mut heaviest = 0.0_f64;
        for weighed in all {
            let Weighed { stratum, answer, .. } = weighed;
            whole.join(&answer.all, stratum.weight);
            found.join(&answer.found, stratum.weight);
            next = next.max(weighed.next());
            heaviest = heaviest.max(stratum.weight * answer.heaviest);
            calls += answer.calls;
        }
        for _ in 0..self.left_behind() {
            whole.add(1.0 / self.plain.flights as f64);
        }
        let more = |a: &&Weighed, b: &&Weighed| {
            a.sum().total_cmp(&b.sum()).then(a.most().total_cmp(&b.most()))
        };
        let main = all.iter().max_by(more);
        let (likeliest, used) = main.and_then(|main| self.likeliest(main)).unzip();
        calls += used.unwrap_or(0);
        let mut checks = Vec::new();
        let mut speaker = Speaker::Plain;
        let (mut effective, mut rounds) = (None, 0);
        if let Some(main) = main {
            checks.clone_from(&main.answer.checks);
            speaker = main.answer.speaker;
            effective = main.answer.worth;
            rounds = main.answer.rounds;
        }
        let [low, high] = whole.interval(next, LEVEL);
        let by_ways = (speaker != Speaker::Plain).then(|| found.interval(heaviest, LEVEL));
        let method = match speaker {
            Speaker::Aimed => Method::Importance,
            Speaker::Searches => Method::Subset,
            Speaker::Plain => Method::Unresolved,
        };
        RareEvent {
            probability: whole.sum,
            low,
            high: high.min(1.0),
            level: LEVEL,
            by_ways,
            relative_error: if whole.sum > 0.0 {
                1.0 / whole.worth().sqrt()
            } else {
                f64::INFINITY
            },
            method,
            why: why(speaker, &checks, rounds),
            looked: looked(self.strata.len()),
            strata: self.strata.len(),
            calls,
            effective,
            checks,
            likeliest,
        }
    }

    /// Successes of the run in combinations that are no stratum.
    fn left_behind(&self) -> usize {
        let d = self.state.dimension();
        let left = |point: &&[f64]| self.strata.iter().all(|s| s.narrow(point).is_none());
        self.plain.met.chunks(d).filter(left).count()
    }

    /// The most likely way of a stratum, in the whole space.
    fn likeliest(&self, main: &Weighed) -> Option<(Likeliest, u64)> {
        let within = Within { state: self.state, stratum: main.stratum };
        let (mut found, used) =
            likeliest(&within, main.seed, &main.answer.hits, self.effort.polish)?;
        main.stratum.widen(&mut found.point);
        for Way { point, .. } in &mut found.ways {
            main.stratum.widen(point);
        }
        let squared = square(&found.point).max(f64::MIN_POSITIVE);
        found.distance = squared.sqrt();
        found.shares = found.point.iter().map(|u| u * u / squared).collect();
        Some((found, used))
    }
}

/// Why this method speaks.
fn why(speaker: Speaker, checks: &[Check], rounds: u32) -> String {
    let failed = checks.iter().find(|check| !check.passed);
    let again = match rounds {
        0 => String::new(),
        n => format!("; plain flights that held sent the search on, {n} more"),
    };
    match (speaker, failed) {
        (Speaker::Aimed, _) => format!(
            "flights were aimed at where it happens and weighed together with the plain ones{again}"
        ),
        (Speaker::Searches, Some(failed)) => format!(
            "independent searches, because aimed flights were refused ({}){again}",
            failed.words
        ),
        (Speaker::Searches, None) => "independent searches; too few successes to aim at".to_owned(),
        (Speaker::Plain, Some(failed)) => {
            format!("not resolved: what the search found does not stand ({}){again}", failed.words)
        }
        (Speaker::Plain, None) => {
            "the search found no way nearer to it; only plain flights speak".to_owned()
        }
    }
}

/// How ways were looked for.
fn looked(strata: usize) -> String {
    let apart = if strata > 1 {
        format!(", each in all {strata} combinations of the inputs that have few values")
    } else {
        String::new()
    };
    format!(
        "ways were looked for down the margins from independent starts, along every branch on the \
         way, in mirror images of what was found, and around every plain flight that held{apart}"
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::estimate::rare::{Few, reference::Problem};
    use crate::math::exp;

    /// Flights at random of a state.
    fn flown(state: &impl LimitState, flights: u32) -> Flown {
        let met = fly_plain(state, 77, 0, f64::from(flights));
        Flown { flights: u64::from(flights), met: met.at }
    }

    fn find(state: &impl LimitState, flights: u32) -> RareEvent {
        rare_event(state, 1, &flown(state, flights), &Effort::default())
    }

    /// Scores by a function of the point, with inputs of few values.
    struct By<F>(usize, Vec<Few>, F);

    impl<F: Fn(&[f64]) -> f64 + Sync> LimitState for By<F> {
        fn dimension(&self) -> usize {
            self.0
        }

        fn scores(&self, points: &[f64], out: &mut [f64]) {
            for (score, point) in out.iter_mut().zip(points.chunks(self.0)) {
                *score = (self.2)(point);
            }
        }

        fn choices(&self) -> Vec<Few> {
            self.1.clone()
        }
    }

    fn above(x: f64) -> f64 {
        crate::uncertain::normal_cdf(-x)
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
            Problem::FourBranch { k: 7.0 },
        ] {
            let (found, exact) = (find(&problem, 2000), problem.probability());
            assert_eq!(found.method, Method::Importance, "{problem:?}: {found:?}");
            let off = found.probability / exact - 1.0;
            assert!(off.abs() < 5.0 * found.relative_error, "{problem:?}: {found:?}");
            assert!(found.relative_error < 0.12, "{problem:?}: {}", found.relative_error);
            assert!(found.calls < 120_000, "{}", found.calls);
            assert!(found.low < found.probability && found.probability < found.high);
        }
    }

    /// What plain flights leave open is never below 3.69 over their number, the
    /// two-sided bound of a count of none.
    #[test]
    fn no_interval_ends_below_what_plain_flights_leave_open() {
        for (problem, flights) in [
            (Problem::Linear { beta: 6.0, dimension: 5 }, 1000),
            (Problem::Linear { beta: 4.5, dimension: 5 }, 50_000),
            (Problem::Windows { stages: 4, dimension: 10 }, 5000),
        ] {
            let found = find(&problem, flights);
            let [low, high] = found.by_ways.unwrap();
            assert!(found.high >= 3.688 / f64::from(flights), "{found:?}");
            assert!(low < found.probability && found.probability < high && high < found.high);
            assert!(found.is_open() && found.looked.contains("mirror images"));
            let closing = found.flights_to_close().unwrap();
            assert!(closing > f64::from(flights), "{closing}");
        }
    }

    /// Two plates alike, one on either side.
    #[test]
    fn two_equal_ways_are_both_found_and_told() {
        let state = By(4, Vec::new(), |u: &[f64]| {
            let beside = (u[1].abs() - 0.2).max(0.0);
            ((u[0].abs() - 3.95).abs() - 0.15).max(beside)
        });
        let exact = 2.0 * (above(3.8) - above(4.1)) * (1.0 - 2.0 * above(0.2));
        for seed in 0..4 {
            let found = rare_event(&state, seed, &flown(&state, 10_000), &Effort::default());
            let [low, high] = found.by_ways.unwrap();
            assert!(low < exact && exact < high, "{exact:e}: {found:?}");
            let ways = &found.likeliest.unwrap().ways;
            assert_eq!(ways.len(), 2);
            assert!(ways.iter().all(|way| (way.share - 0.5).abs() < 0.2), "{ways:?}");
        }
    }

    /// An input that takes another value once in 100,000 events, and then it is
    /// likely: scores lead elsewhere.
    #[test]
    fn a_value_that_is_seldom_chosen_is_flown_by_itself() {
        let rare = 1e-5;
        let gate = crate::uncertain::normal_quantile(1.0 - rare);
        let few = vec![Few { coordinate: 1, chances: vec![1.0 - rare, rare] }];
        let state = By(3, few, move |u: &[f64]| if u[1] > gate { -0.5 - u[0] } else { 5.5 - u[0] });
        let exact = rare * above(-0.5) + (1.0 - rare) * above(5.5);
        for seed in 0..4 {
            let found = rare_event(&state, seed, &flown(&state, 10_000), &Effort::default());
            assert_eq!(found.strata, 2);
            let off = found.probability / exact - 1.0;
            assert!(off.abs() < 4.0 * found.relative_error, "{off}: {found:?}");
            let way = found.likeliest.unwrap();
            assert!(way.point[1] > gate && way.shares[1] > 0.8, "{way:?}");
        }
    }

    /// A way that no score leads to: either the flights meet it, and the search
    /// goes on from there, or their bound holds.
    #[test]
    fn a_hidden_way_is_met_or_left_open() {
        let state = By(3, Vec::new(), |u: &[f64]| {
            let hidden = (2.0..2.1).contains(&u[0]) && (-2.1..-2.0).contains(&u[1]);
            if hidden { -1.0 } else { 5.0 - u[2] }
        });
        let strip = above(2.0) - above(2.1);
        let exact = strip * strip + above(5.0);
        let mut met = 0;
        for seed in 0..6 {
            let plain = Flown { flights: 100_000, met: fly_plain(&state, 1000 + seed, 0, 1e5).at };
            let found = rare_event(&state, seed, &plain, &Effort::default());
            assert!(found.low < exact && exact < found.high, "{exact:e}: {found:?}");
            met += usize::from(!plain.met.is_empty());
            if found.method == Method::Importance && !plain.met.is_empty() {
                let off = found.probability / exact - 1.0;
                assert!(off.abs() < 0.2, "{off}: {found:?}");
            }
        }
        assert!(met > 0, "2.3 expected in each");
    }

    #[test]
    fn enough_plain_successes_need_no_search() {
        let problem = Problem::Linear { beta: 2.0, dimension: 2 };
        let plain = Flown { flights: 1000, met: vec![2.0; 50] };
        let found = rare_event(&problem, 1, &plain, &Effort::default());
        assert_eq!((found.method, found.calls), (Method::Plain, 0));
    }

    #[test]
    fn what_cannot_happen_is_left_to_plain_sampling() {
        let never = By(2, Vec::new(), |u: &[f64]| 1.0 + exp(-u[0]));
        let found = find(&never, 10_000);
        assert_eq!(found.method, Method::Unresolved);
        assert!(found.by_ways.is_none() && found.low <= 0.0);
        assert!((found.high * 10_000.0 - 3.689).abs() < 0.001, "{}", found.high);
    }

    #[test]
    fn the_same_seed_gives_the_same_record() {
        let problem = Problem::Disc { radius: 0.25, offset: 4.0, dimension: 4 };
        let effort = Effort { per_level: 500, importance: [500, 500], ..Effort::default() };
        let plain = flown(&problem, 1000);
        let run = || rare_event(&problem, 6, &plain, &effort);
        assert_eq!(run(), run());
    }
}
