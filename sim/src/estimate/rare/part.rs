//! The search in one stratum: aim, hold it against plain flights, go on where
//! they do not agree.

use super::{
    Effort, LimitState,
    aim::{Aimed, aim},
    guard::{self, Check},
    hunt::{Hunted, grow, hunt, mix},
    space::{Normals, Points},
    subset::subset_simulation,
};
use crate::{
    estimate::{LEVEL, Moments, WeightedCount, student_quantile},
    sampling::Domain,
};

/// Times that the search may be sent on.
const ROUNDS: u32 = 4;
/// Times that aimed flights may fail before independent searches take over.
const FAILURES: u32 = 2;
/// Relative error allowed where flights were aimed, for corners of the ways
/// that they came across too seldom.
const OVERLOOKED: f64 = 0.02;
/// Inputs from which on the successes of chains are mixed before they are used.
const MANY: usize = 8;
/// Successes worth one independent one: of chains, and of mixed ones.
const CHAINED: f64 = 10.0;
const MIXED: f64 = 4.0;
/// Most fresh plain flights of a round.
const MOST_FRESH: f64 = 400_000.0;
/// Points scored at once.
const BATCH: usize = 8192;
const Z95: f64 = 1.959_963_984_540_054;

/// Who speaks for a stratum.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Speaker {
    Aimed,
    Searches,
    Plain,
}

/// What is known of one stratum.
pub(super) struct Answer {
    /// Everything that was met, weighed.
    pub(super) all: WeightedCount,
    /// The part of it that happened in ways that were found.
    pub(super) found: WeightedCount,
    /// The heaviest that a success in a way that was found may be.
    pub(super) heaviest: f64,
    /// Flights at random behind it.
    pub(super) plain: f64,
    /// How many of them held.
    pub(super) met: usize,
    pub(super) speaker: Speaker,
    pub(super) checks: Vec<Check>,
    /// Successes in proportion to their chances.
    pub(super) hits: Points,
    /// Equal successes that the aimed flights are worth.
    pub(super) worth: Option<f64>,
    /// Times that plain flights sent the search on.
    pub(super) rounds: u32,
    pub(super) calls: u64,
}

impl Answer {
    /// Plain flights alone.
    pub(super) fn plain(met: Points, plain: f64) -> Self {
        let mut all = WeightedCount::default();
        (0..met.len()).for_each(|_| all.add(1.0 / plain));
        Self {
            all,
            found: WeightedCount::default(),
            heaviest: 0.0,
            plain,
            met: met.len(),
            speaker: Speaker::Plain,
            checks: Vec::new(),
            hits: met,
            worth: None,
            rounds: 0,
            calls: 0,
        }
    }
}

/// Searches a stratum in which `plain` flights at random met `met`.
pub(super) fn search(
    state: &impl LimitState,
    seed: u64,
    plain: f64,
    met: Points,
    effort: &Effort,
) -> Answer {
    let Hunted { search: main, mut hits, mut calls } = hunt(state, seed, effort);
    let (mut met, mut plain) = (met, plain);
    let (mut checks, mut failures, mut fresh) = (Vec::new(), 0, 0);
    let mut alike = CHAINED;
    if state.dimension() >= MANY && hits.len() > 0 {
        // What chains found of so many inputs tells little of their spread.
        calls += mix(state, seed, ROUNDS, &mut hits);
        alike = MIXED;
    }
    for round in 0..ROUNDS {
        let aimed = if hits.len() > 0 {
            aim(state, seed, round, (&hits, alike), plain, effort)
        } else {
            None
        };
        let mut outside: Vec<usize> = (0..met.len()).collect();
        let (mut allowed, mut trusted) = (true, false);
        checks.clear();
        if let Some(aimed) = aimed {
            calls += aimed.calls;
            let (pooled, beside) = pooled(&aimed, &met, plain);
            outside = beside;
            checks = guard::aimed(&aimed, plain, met.len(), &pooled.found, &main);
            trusted = checks.iter().all(|check| check.passed);
            let against = guard::against_plain(&pooled.found, met.len(), plain);
            allowed = against.passed;
            checks.push(against);
            if trusted && allowed && outside.is_empty() {
                return Answer { checks, rounds: fresh, calls, ..pooled };
            }
            failures += u32::from(!trusted);
            if !trusted {
                calls += mix(state, seed, round, &mut hits);
                alike = MIXED;
            }
            // What was aimed at is better known now than from the chains.
            hits.extend(&aimed.resampled(400));
        } else {
            failures += 1;
            if hits.len() > 0 {
                calls += mix(state, seed, round, &mut hits);
                alike = MIXED;
            }
        }
        let contradicted = !outside.is_empty() || (trusted && !allowed);
        if round + 1 == ROUNDS || (!contradicted && failures >= FAILURES) {
            break;
        }
        if hits.len() == 0 && !contradicted {
            break;
        }
        if contradicted {
            calls += grow(state, seed, round, &met.some(&outside), &mut hits);
            plain = plain.min(MOST_FRESH).round();
            met = fly_plain(state, seed, round, plain);
            calls += whole(plain) as u64;
            fresh += 1;
        }
    }
    let mut answer = sturdy(state, seed, effort, plain, met, &mut checks, main.stuck);
    answer.calls += calls;
    answer.checks = checks;
    answer.rounds = fresh;
    answer
}

/// Aimed flights together with plain ones; and which of the plain ones held
/// where nobody aimed.
fn pooled(aimed: &Aimed, met: &Points, plain: f64) -> (Answer, Vec<usize>) {
    let mut found = aimed.count(plain);
    let mut all = found;
    let mut outside = Vec::new();
    for i in 0..met.len() {
        let density = aimed.density_at(met.point(i));
        let weight = 1.0 / (plain + density);
        all.add(weight);
        // Where aimed flights are fewer than plain ones nobody aimed.
        if density < plain {
            outside.push(i);
        } else {
            found.add(weight);
        }
    }
    let overlooked = (OVERLOOKED * found.sum) * (OVERLOOKED * found.sum);
    found.squares += overlooked;
    all.squares += overlooked;
    let answer = Answer {
        all,
        found,
        heaviest: aimed.largest(plain),
        plain,
        met: met.len(),
        speaker: Speaker::Aimed,
        checks: Vec::new(),
        hits: aimed.resampled(400),
        worth: Some(aimed.count(plain).worth()),
        rounds: 0,
        calls: 0,
    };
    (answer, outside)
}

/// Independent subset simulations, or plain flights alone where those get
/// nowhere or contradict them.
fn sturdy(
    state: &impl LimitState,
    seed: u64,
    effort: &Effort,
    plain: f64,
    met: Points,
    checks: &mut Vec<Check>,
    stuck: bool,
) -> Answer {
    if stuck {
        return Answer::plain(met, plain);
    }
    let mut calls = 0;
    let mut moments = Moments::new();
    let mut hits = Points::new(state.dimension());
    for replicate in 0..effort.replicates.max(2) {
        let run = subset_simulation(state, seed, 10 + replicate, effort.per_replicate_level);
        calls += run.calls;
        if run.stuck {
            return Answer { calls, ..Answer::plain(met, plain) };
        }
        moments.push(run.probability);
        hits.extend(&run.points.some(&run.points.hits()));
    }
    let t = student_quantile(0.5 + 0.5 * LEVEL, (moments.count() - 1) as f64);
    let sum = moments.mean();
    // What one search overlooks the others may overlook, too: wider by a half.
    let error = 1.5 * moments.standard_error() * t / Z95;
    let found = WeightedCount { sum, squares: error * error };
    let allowed = guard::against_plain(&found, met.len(), plain);
    let resolved = allowed.passed;
    checks.push(allowed);
    // A scatter as wide as this says less than plain flights do.
    let some = found.worth() > 4.0 && found.worth() > met.len() as f64;
    if !resolved || !some {
        return Answer { calls, ..Answer::plain(met, plain) };
    }
    Answer {
        all: found,
        found,
        heaviest: found.typical(),
        plain,
        met: met.len(),
        speaker: Speaker::Searches,
        checks: Vec::new(),
        hits,
        worth: None,
        rounds: 0,
        calls,
    }
}

/// Fresh flights at random; gives the successes.
pub(super) fn fly_plain(state: &impl LimitState, seed: u64, round: u32, flights: f64) -> Points {
    let d = state.dimension();
    let normals = Normals::new(seed, Domain::IMPORTANCE.part(0x8000 + round), d);
    let mut hits = Points::new(d);
    let all = whole(flights);
    let mut from = 0;
    while from < all {
        let size = BATCH.min(all - from);
        let mut points = Points { dimension: d, at: vec![0.0; size * d], scores: vec![0.0; size] };
        for (draw, point) in (from as u64..).zip(points.at.chunks_mut(d)) {
            normals.fill(draw, point);
        }
        state.scores(&points.at, &mut points.scores);
        hits.extend(&points.some(&points.hits()));
        from += size;
    }
    hits
}

/// A count that was worked out.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count")]
pub(super) fn whole(flights: f64) -> usize {
    flights.max(0.0) as usize
}
