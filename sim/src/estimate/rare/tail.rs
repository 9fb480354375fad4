//! How far the tail reaches: the value that only a given small share passes.

use super::{
    LimitState,
    subset::{BLOCKS, LEVELS, STATES, Search, share_within},
};
use crate::estimate::{Moments, quantile};

/// Independent climbs behind an interval.
const CLIMBS: u32 = 8;

/// Replicate numbers of the climbs: apart from those of the search for a
/// chance.
const FIRST: u32 = 500;

/// Scores that only small shares of all points are below.
#[derive(Clone, Debug, PartialEq)]
pub struct Far {
    /// For each share asked for, the score: estimate, and the ends of its 95 %
    /// interval.
    pub scores: Vec<[f64; 3]>,
    /// Evaluations.
    pub calls: u64,
    /// Some climb got no farther: many points tie at the end of what there is,
    /// or a share is below 1e-15.
    pub stuck: bool,
}

/// The scores below which the `shares` of all points lie (each in (0, 1), in
/// falling order), from eight independent climbs of `per_level` points a level
/// (a multiple of 10).
///
/// The interval is Student's over the climbs.
#[must_use]
pub fn far(state: &impl LimitState, seed: u64, per_level: usize, shares: &[f64]) -> Far {
    let climbs: Vec<Climb> =
        (0..CLIMBS).map(|i| climb(state, seed, FIRST + i, per_level, shares)).collect();
    let scores = (0..shares.len())
        .map(|k| climbs.iter().map(|climb| climb.scores[k]).collect::<Moments>().student());
    Far {
        scores: scores.collect(),
        calls: climbs.iter().map(|climb| climb.calls).sum(),
        stuck: climbs.iter().any(|climb| climb.stuck),
    }
}

struct Climb {
    scores: Vec<f64>,
    calls: u64,
    stuck: bool,
}

/// One climb down the scores, level by level, until the last share is passed.
fn climb(
    state: &impl LimitState,
    seed: u64,
    replicate: u32,
    per_level: usize,
    shares: &[f64],
) -> Climb {
    debug_assert!(shares.windows(2).all(|pair| pair[0] > pair[1]), "in falling order");
    let chains = (per_level / STATES).max(BLOCKS);
    let mut search = Search::new(state, seed, replicate);
    let mut points = search.independent(chains * STATES);
    let (mut within, mut stuck) = (1.0, false);
    let mut scores = Vec::with_capacity(shares.len());
    loop {
        let order = search.ranked(&points.scores);
        let sorted: Vec<f64> = order.iter().map(|i| points.scores[*i]).collect();
        let reached = |share: f64| share / within >= 1.0 / STATES as f64;
        while let Some(share) = shares.get(scores.len())
            && (stuck || reached(*share))
        {
            scores.push(quantile(&sorted, share / within).unwrap_or(f64::NAN));
        }
        if scores.len() == shares.len() {
            return Climb { scores, calls: search.calls, stuck };
        }
        let bound = f64::midpoint(sorted[chains - 1], sorted[chains]);
        let share = share_within(&points.scores, bound);
        stuck = share >= 0.9 || search.level + 1 >= LEVELS;
        if !stuck {
            within *= share;
            search.level += 1;
            points = search.chains(&points, &order[..chains], bound);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::uncertain::normal_quantile;

    /// Scores by a function of the point.
    struct By<F>(F);

    impl<F: Fn(&[f64]) -> f64 + Sync> LimitState for By<F> {
        fn dimension(&self) -> usize {
            6
        }

        fn scores(&self, points: &[f64], out: &mut [f64]) {
            for (score, point) in out.iter_mut().zip(points.chunks_exact(6)) {
                *score = self.0(point);
            }
        }
    }

    /// Source: upper percentage points of the standard normal distribution
    /// (handbook tables): 1 in 10: 1.281552, 1 in 1,000: 3.090232, 1 in
    /// 1,000,000: 4.753424. Ten runs of three intervals each: more than five of
    /// thirty that miss happen once in 300 at their level.
    #[test]
    fn the_tail_of_a_normal_sum_is_where_the_tables_have_it() {
        let sum = By(|point: &[f64]| -point.iter().sum::<f64>() / 6_f64.sqrt());
        let shares = [0.1, 1e-3, 1e-6];
        let known = [1.281_552, 3.090_232, 4.753_424];
        assert!((normal_quantile(1.0 - 1e-3) - known[1]).abs() < 1e-6);
        let mut missed = 0;
        for seed in 0..10 {
            let found = far(&sum, seed, 500, &shares);
            assert!(!found.stuck && found.calls < 40_000);
            for ([value, low, high], known) in found.scores.iter().zip(known) {
                // The nearest of them has a standard error of 0.027.
                assert!((value + known).abs() < 0.2, "{value} is not -{known}");
                missed += u32::from(!(*low..=*high).contains(&-known));
            }
        }
        assert!(missed <= 5, "{missed} of 30 intervals missed");
    }

    #[test]
    fn an_end_that_many_points_share_is_the_answer_and_said() {
        let bounded = By(|point: &[f64]| -point[0].min(2.0));
        let found = far(&bounded, 1, 500, &[1e-1, 1e-6]);
        assert!(found.stuck);
        assert!((found.scores[1][0] + 2.0).abs() < 1e-12, "{:?}", found.scores);
    }
}
