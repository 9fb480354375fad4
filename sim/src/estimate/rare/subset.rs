//! Subset simulation: a rare event as a chain of frequent ones.

use super::{
    LimitState,
    space::{Normals, Points, spread},
};
use crate::{
    math::{exp, ln},
    sampling::Domain,
};

/// States of each chain; one in as many points carries over to the next level.
pub(super) const STATES: usize = 10;
/// Blocks of chains after each of which the stride is adapted.
pub(super) const BLOCKS: usize = 10;
/// Acceptance that the stride is adapted to.
const ACCEPTANCE: f64 = 0.44;
/// Fewer starting points than this have no spread to step by.
const FEW: usize = 5;
/// Most levels: chances below 1e-15 are given up.
pub(super) const LEVELS: u32 = 15;

/// What a subset simulation found.
#[derive(Clone, Debug)]
pub struct Subset {
    /// The chance; 0 if the search got stuck.
    pub probability: f64,
    /// Coefficient of variation if the levels were independent: a little too
    /// small.
    pub variation_low: f64,
    /// Coefficient of variation if the levels were fully dependent: too large.
    pub variation_high: f64,
    /// Evaluations.
    pub calls: u64,
    /// Levels used.
    pub levels: u32,
    /// The search did not get any nearer: many points tie, or the chance is
    /// below 1e-15.
    pub stuck: bool,
    pub(super) points: Points,
    /// The best points of every level, from which the next one began.
    pub(super) rungs: Vec<Points>,
}

impl Subset {
    /// Log-normal interval at `z` standard deviations from a coefficient of
    /// variation.
    pub(super) fn interval(&self, variation: f64, z: f64) -> (f64, f64) {
        let sigma = crate::math::log1p(variation * variation).sqrt();
        (self.probability * exp(-z * sigma), self.probability * exp(z * sigma))
    }
}

/// Runs one subset simulation with `per_level` points a level (a multiple of
/// 10). Runs with different `replicate` numbers (below 1000) are independent.
#[must_use]
pub fn subset_simulation(
    state: &impl LimitState,
    seed: u64,
    replicate: u32,
    per_level: usize,
) -> Subset {
    let chains = (per_level / STATES).max(BLOCKS);
    let mut search = Search::new(state, seed, replicate);
    let points = search.independent(chains * STATES);
    descend(&mut search, points)
}

/// Climbs down from some points (a multiple of 100), level by level. The chance
/// is that of the whole if they were drawn at random.
pub(super) fn descend<S: LimitState>(search: &mut Search<'_, S>, from: Points) -> Subset {
    let chains = from.len() / STATES;
    let mut points = from;
    let mut result = Subset {
        probability: 1.0,
        variation_low: 0.0,
        variation_high: 0.0,
        calls: 0,
        levels: 1,
        stuck: false,
        points: Points::new(points.dimension),
        rungs: Vec::new(),
    };
    let mut squares = 0.0;
    loop {
        let order = search.ranked(&points.scores);
        let last = points.scores[order[chains - 1]];
        let done = last <= 0.0;
        let next = points.scores[order[chains]];
        let mut bound = if done { 0.0 } else { (0.5 * (last + next)).max(0.0) };
        let within = order.iter().take_while(|i| points.scores[**i] <= bound).count();
        // Of points that tie any may lead on, lest the best come too often.
        let mut seeds = search.shuffled(&order[..within.max(chains)])[..chains].to_vec();
        let tied = 2 * within > points.len();
        let better = order.iter().take_while(|i| points.scores[**i] < next).count();
        if !done && tied && better > 0 {
            // A flat step: the few points beyond it lead on.
            bound = points.scores[order[better - 1]].max(0.0);
            seeds = order[..better].iter().copied().cycle().take(chains).collect();
        }
        let share = share_within(&points.scores, bound);
        let mut variation = level_variation(&points.scores, bound, share, chains, search.level > 0);
        if !done && tied && better > 0 {
            // A share from a handful of points may be off many times.
            variation = variation.max(3.0 / (better as f64).sqrt());
        }
        squares += variation * variation;
        result.variation_high += variation;
        result.probability *= share;
        if done {
            break;
        }
        if share >= 0.9 || search.level + 1 >= LEVELS {
            result.stuck = true;
            result.probability = 0.0;
            break;
        }
        search.level += 1;
        result.rungs.push(points.some(&seeds));
        points = search.chains(&points, &seeds, bound);
    }
    result.variation_low = squares.sqrt();
    result.calls = search.calls;
    result.levels = search.level + 1;
    result.points = points;
    result
}

/// One climb down the scores.
pub(super) struct Search<'a, S> {
    state: &'a S,
    seed: u64,
    replicate: u32,
    pub(super) level: u32,
    stride: f64,
    /// Share of the coordinates that a step moves.
    pub(super) moves: f64,
    pub(super) calls: u64,
}

impl<'a, S: LimitState> Search<'a, S> {
    pub(super) fn new(state: &'a S, seed: u64, replicate: u32) -> Self {
        Self { state, seed, replicate, level: 0, stride: 0.6, moves: 1.0, calls: 0 }
    }

    fn normals(&self) -> Normals {
        let part = self.replicate * LEVELS + self.level;
        Normals::new(self.seed, Domain::CHAINS.part(part), self.state.dimension())
    }

    fn score(&mut self, at: &[f64], scores: &mut [f64]) {
        self.calls += scores.len() as u64;
        self.state.scores(at, scores);
    }

    pub(super) fn independent(&mut self, count: usize) -> Points {
        let dimension = self.state.dimension();
        let normals = self.normals();
        let mut points =
            Points { dimension, at: vec![0.0; count * dimension], scores: vec![0.0; count] };
        for (draw, point) in (0..).zip(points.at.chunks_mut(dimension)) {
            normals.fill(draw, point);
        }
        let Points { at, scores, .. } = &mut points;
        self.score(at, scores);
        points
    }

    /// Indices by rising score; ties in an order of their own, lest those of
    /// the first chains come first.
    pub(super) fn ranked(&self, scores: &[f64]) -> Vec<usize> {
        let normals = self.normals();
        let mark: Vec<f64> = (0..scores.len()).map(|i| normals.extra(i as u64, 1)).collect();
        let mut order: Vec<usize> = (0..scores.len()).collect();
        order.sort_by(|a, b| scores[*a].total_cmp(&scores[*b]).then(mark[*a].total_cmp(&mark[*b])));
        order
    }

    /// Indices in an order that has nothing to do with their scores.
    fn shuffled(&self, indices: &[usize]) -> Vec<usize> {
        let normals = self.normals();
        let mark = |i: &usize| normals.extra(*i as u64, 2);
        let mut order = indices.to_vec();
        order.sort_by(|a, b| mark(a).total_cmp(&mark(b)));
        order
    }

    /// Chains from the best points, each a walk within the bound. All chains of
    /// a block step together, so that their points are evaluated at once.
    ///
    /// Points come out chain by chain, a chain's states in order.
    pub(super) fn chains(&mut self, from: &Points, seeds: &[usize], bound: f64) -> Points {
        let normals = self.normals();
        let mut seeds = seeds.to_vec();
        let mark = |i: usize| normals.extra(i as u64, 0);
        seeds.sort_by(|a, b| mark(*a).total_cmp(&mark(*b)));
        let (_, mut sd) = spread(from, &seeds, &vec![1.0; seeds.len()]);
        let mut distinct = seeds.clone();
        distinct.dedup();
        if distinct.len() < FEW {
            // Their spread tells nothing yet; the stride finds its own way.
            sd.fill(1.0);
        }
        let mut all = Points::new(from.dimension);
        let blocks = seeds.len().div_ceil(seeds.len().div_ceil(BLOCKS));
        for (block, starts) in seeds.chunks(seeds.len().div_ceil(blocks)).enumerate() {
            let accepted = self.walk(&normals, from, starts, &sd, bound, &mut all);
            let change = (accepted - ACCEPTANCE) / ((block + 1) as f64).sqrt();
            self.stride = exp(ln(self.stride) + change).clamp(1e-3, 10.0);
        }
        all
    }

    /// One block of chains; appends their states and gives the share accepted.
    fn walk(
        &mut self,
        normals: &Normals,
        from: &Points,
        starts: &[usize],
        sd: &[f64],
        bound: f64,
        all: &mut Points,
    ) -> f64 {
        let d = from.dimension;
        let first_chain = all.len() / STATES;
        let sigma: Vec<f64> = sd.iter().map(|s| (self.stride * s).min(1.0)).collect();
        let mut walks = vec![Points::new(d); starts.len()];
        for (walk, seed) in walks.iter_mut().zip(starts) {
            walk.push(from.point(*seed), from.scores[*seed]);
        }
        let mut moves = vec![0.0; starts.len() * d];
        let mut scores = vec![0.0; starts.len()];
        let mut accepted = 0_u32;
        for step in 1..STATES {
            for (c, (walk, to)) in walks.iter().zip(moves.chunks_mut(d)).enumerate() {
                let draw = ((first_chain + c) as u64) << 32 | step as u64;
                normals.fill(draw, to);
                let moved = |i: u32| self.moves >= 1.0 || normals.extra(draw, 8 + i) < self.moves;
                let from = walk.point(step - 1);
                for (i, ((xi, u), s)) in (0..).zip(to.iter_mut().zip(from).zip(&sigma)) {
                    let s = if moved(i) { *s } else { 0.0 };
                    *xi = (1.0 - s * s).sqrt() * u + s * *xi;
                }
            }
            self.score(&moves, &mut scores);
            for ((walk, to), score) in walks.iter_mut().zip(moves.chunks(d)).zip(&scores) {
                if *score <= bound {
                    accepted += 1;
                    walk.push(to, *score);
                } else {
                    let (stay, same) = (walk.point(step - 1).to_vec(), walk.scores[step - 1]);
                    walk.push(&stay, same);
                }
            }
        }
        for walk in walks {
            all.at.extend(walk.at);
            all.scores.extend(walk.scores);
        }
        f64::from(accepted) / ((STATES - 1) * starts.len()) as f64
    }
}

pub(super) fn share_within(scores: &[f64], bound: f64) -> f64 {
    scores.iter().filter(|g| **g <= bound).count() as f64 / scores.len() as f64
}

/// Coefficient of variation of one level's share, with the correlation along
/// its chains.
fn level_variation(scores: &[f64], bound: f64, share: f64, chains: usize, chained: bool) -> f64 {
    if share <= 0.0 {
        return 0.0;
    }
    let n = scores.len();
    let independent = (1.0 - share) / (share * n as f64);
    if !chained || share >= 1.0 {
        return independent.sqrt();
    }
    let states = n / chains;
    let within = |i: usize| f64::from(u8::from(scores[i] <= bound));
    let covariance = |lag: usize| {
        let mut sum = 0.0;
        for chain in 0..chains {
            for l in 0..states - lag {
                sum += within(chain * states + l) * within(chain * states + l + lag);
            }
        }
        sum / (n - lag * chains) as f64 - share * share
    };
    let variance = share * (1.0 - share);
    let gamma: f64 = (1..states)
        .map(|lag| 2.0 * (1.0 - lag as f64 / states as f64) * covariance(lag) / variance)
        .sum();
    (independent * (1.0 + gamma.max(0.0))).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::estimate::{Moments, rare::reference::Problem};

    /// Source: 100 runs of the same method with a general-purpose library: mean
    /// right, coefficient of variation 0.29 at 1000 points a level and 3700
    /// evaluations.
    #[test]
    fn a_half_space_in_thirty_dimensions_is_found() {
        let problem = Problem::Linear { beta: 3.5, dimension: 30 };
        let exact = problem.probability();
        let mut found = Moments::new();
        let mut stated = Moments::new();
        for replicate in 0..20 {
            let run = subset_simulation(&problem, 5, replicate, 1000);
            assert!(!run.stuck && run.calls < 5000, "{} calls", run.calls);
            found.push(run.probability / exact);
            stated.push(run.variation_low);
        }
        // Four standard errors of the mean of 20: false alarm 6e-5.
        assert!((found.mean() - 1.0).abs() < 4.0 * 0.29 / 20.0_f64.sqrt(), "{}", found.mean());
        // The spread of 20 is known to 16 %; three of them.
        assert!((found.sd() - 0.29).abs() < 0.14, "{}", found.sd());
        assert!(stated.mean() > 0.15 && stated.mean() < 0.4, "{}", stated.mean());
    }

    #[test]
    fn the_same_seed_gives_the_same_answer() {
        let problem = Problem::Disc { radius: 0.25, offset: 4.0, dimension: 5 };
        let run = || subset_simulation(&problem, 1, 0, 500).probability.to_bits();
        assert_eq!(run(), run());
    }

    #[test]
    fn what_never_gets_nearer_is_stuck() {
        struct Plateau;
        impl LimitState for Plateau {
            fn dimension(&self) -> usize {
                2
            }
            fn scores(&self, _: &[f64], out: &mut [f64]) {
                out.fill(1.0);
            }
        }
        let run = subset_simulation(&Plateau, 1, 0, 500);
        assert!(run.stuck && run.probability <= 0.0);
    }
}
