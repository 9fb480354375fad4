//! The most likely way it happens.

use super::{
    LimitState,
    space::{Normals, Points, square},
};
use crate::{math::ln, sampling::Domain};

/// The point nearest to everyday values at which it happens.
#[derive(Clone, Debug, PartialEq)]
pub struct Likeliest {
    /// The point: one standard normal number per coordinate.
    pub point: Vec<f64>,
    /// Its distance from the everyday values (the origin), in standard
    /// deviations.
    pub distance: f64,
    /// Each coordinate's share of the squared distance, summing to 1.
    pub shares: Vec<f64>,
    /// Distinct ways, the one with most successes first.
    pub ways: Vec<Way>,
}

/// One of the distinct ways in which it happens.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// Its nearest success.
    pub point: Vec<f64>,
    /// The share of the successes that happen this way.
    pub share: f64,
}

/// Candidates tried at once.
const BATCH: usize = 40;
/// Ways told apart at most.
pub(super) const WAYS: usize = 4;
/// Successes looked at for telling ways apart, about.
pub(super) const SAMPLE: usize = 100;
/// Ways rarer than this among them are not told.
const LEAST_SHARE: f64 = 0.02;

/// The most likely way, from points (points x dimension, row-major) at which it
/// happens; points at which it does not are left out. `None` if that leaves
/// none. Uses a few hundred evaluations.
#[must_use]
pub fn likeliest_among(
    state: &impl LimitState,
    seed: u64,
    points: &[f64],
    calls: usize,
) -> Option<Likeliest> {
    let dimension = state.dimension();
    let mut scores = vec![0.0; points.len().checked_div(dimension)?];
    state.scores(points, &mut scores);
    let all = Points { dimension, at: points.to_vec(), scores };
    let mut hits = Points::new(dimension);
    for i in all.hits() {
        hits.push(all.point(i), all.scores[i]);
    }
    likeliest(state, seed, &hits, calls).map(|(found, _)| found)
}

/// From successes (all points given have to be), by rays towards their middle
/// and shrinking steps, with about `calls` evaluations. Gives evaluations used.
pub(super) fn likeliest(
    state: &impl LimitState,
    seed: u64,
    hits: &Points,
    calls: usize,
) -> Option<(Likeliest, u64)> {
    let nearest = (0..hits.len())
        .min_by(|a, b| square(hits.point(*a)).total_cmp(&square(hits.point(*b))).then(a.cmp(b)))?;
    let mut best = hits.point(nearest).to_vec();
    let middle = middle(hits);
    let mut candidates = Points::new(hits.dimension);
    let normals = Normals::new(seed, Domain::CHAINS.part(0x00FF_0000), hits.dimension);
    let mut used = 0;
    for round in 0..calls / BATCH {
        candidates.at.clear();
        for i in 0..BATCH {
            let draw = (round * BATCH + i) as u64;
            match round {
                // Two rounds along the ray to the middle: coarse, then fine.
                0 => candidates.at.extend(ray(&middle, 0.4 + i as f64 / BATCH as f64)),
                1 => candidates.at.extend(ray(&best, 0.9 + 0.1 * i as f64 / BATCH as f64)),
                _ => candidates.at.extend(shrunk(&best, &normals, draw)),
            }
        }
        candidates.scores = vec![0.0; BATCH];
        state.scores(&candidates.at, &mut candidates.scores);
        used += BATCH as u64;
        for i in candidates.hits() {
            if square(candidates.point(i)) < square(&best) {
                best = candidates.point(i).to_vec();
            }
        }
    }
    let (ways, more) = ways(state, hits);
    used += more;
    let squared = square(&best).max(f64::MIN_POSITIVE);
    let found = Likeliest {
        distance: squared.sqrt(),
        shares: best.iter().map(|u| u * u / squared).collect(),
        ways,
        point: best,
    };
    Some((found, used))
}

/// Mean of each coordinate, 0 where it does not stand out.
fn middle(points: &Points) -> Vec<f64> {
    let all: Vec<usize> = (0..points.len()).collect();
    let (mean, _) = super::space::spread(points, &all, &vec![1.0; all.len()]);
    let noise = 3.5 / (points.len() as f64 / 5.0).max(1.0).sqrt();
    mean.into_iter().map(|m| if m.abs() < noise { 0.0 } else { m }).collect()
}

fn ray(towards: &[f64], factor: f64) -> impl Iterator<Item = f64> {
    towards.iter().map(move |u| factor * u)
}

/// A step nearer: some coordinates shrink, all move a little.
fn shrunk(best: &[f64], normals: &Normals, draw: u64) -> Vec<f64> {
    let mut noise = vec![0.0; best.len()];
    normals.fill(draw, &mut noise);
    // From 0.3 down to 0.003 standard deviations.
    let size = crate::math::exp(-1.2 - 4.6 * normals.extra(draw, 0));
    let chosen = normals.extra(draw, 1);
    let factor = 1.0 - 3.0 * size * -ln(normals.extra(draw, 2));
    best.iter()
        .zip(noise)
        .enumerate()
        .map(|(i, (u, xi))| {
            let shrinks =
                chosen < 0.5 || normals.extra(draw, 3 + u32::try_from(i).unwrap_or(0)) < 0.3;
            if shrinks { u * factor.max(0.0) + 0.3 * size * xi } else { u + 0.3 * size * xi }
        })
        .collect()
}

/// Groups successes: two happen the same way if everything on the straight
/// line between them (tested at three points) happens too. Gives evaluations
/// used.
fn ways(state: &impl LimitState, hits: &Points) -> (Vec<Way>, u64) {
    let d = hits.dimension;
    // A few successes spread over all chains, the nearest first.
    let stride = hits.len().div_ceil(SAMPLE);
    let mut open: Vec<usize> = (0..hits.len()).step_by(stride).collect();
    open.sort_by(|a, b| square(hits.point(*a)).total_cmp(&square(hits.point(*b))));
    let all = open.len() as f64;
    let (mut ways, mut used) = (Vec::new(), 0);
    while let (Some(leader), true) = (open.first().copied(), ways.len() < WAYS) {
        let mut between = Points::new(d);
        for i in &open {
            for t in [0.25, 0.5, 0.75] {
                let ends = hits.point(leader).iter().zip(hits.point(*i));
                between.at.extend(ends.map(|(a, b)| (1.0 - t) * a + t * b));
            }
        }
        between.scores = vec![0.0; 3 * open.len()];
        state.scores(&between.at, &mut between.scores);
        used += between.scores.len() as u64;
        let mut inside = between.scores.chunks(3).map(|three| three.iter().all(|g| *g <= 0.0));
        let before = open.len();
        open.retain(|i| !inside.next().unwrap_or(true) && *i != leader);
        let share = (before - open.len()) as f64 / all;
        ways.push(Way { point: hits.point(leader).to_vec(), share });
    }
    ways.retain(|way| way.share >= LEAST_SHARE);
    ways.sort_by(|a, b| b.share.total_cmp(&a.share));
    (ways, used)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::estimate::rare::{reference::Problem, subset_simulation};

    fn of(problem: &Problem) -> Likeliest {
        let run = subset_simulation(problem, 2, 0, 2000);
        let mut hits = Points::new(problem.dimension());
        for i in run.points.hits() {
            hits.push(run.points.point(i), run.points.scores[i]);
        }
        likeliest(problem, 2, &hits, 400).unwrap().0
    }

    /// Source: the design point of a half-space at beta lies at that distance,
    /// all coordinates alike.
    #[test]
    fn a_half_space_is_entered_at_its_foot() {
        let found = of(&Problem::Linear { beta: 3.5, dimension: 10 });
        assert!((found.distance - 3.5).abs() < 0.07, "{}", found.distance);
        assert!(found.shares.iter().all(|s| (s - 0.1).abs() < 0.07), "{:?}", found.shares);
        assert!((found.shares.iter().sum::<f64>() - 1.0).abs() < 1e-12);
        assert_eq!(found.ways.len(), 1);
    }

    /// Source: the disc of radius 0.25 at distance 4 begins at 3.75, and the
    /// other coordinates do not matter.
    #[test]
    fn a_disc_is_entered_at_its_edge_and_idle_inputs_stay_everyday() {
        let found = of(&Problem::Disc { radius: 0.25, offset: 4.0, dimension: 30 });
        assert!(found.distance < 3.95 && found.distance >= 3.75 - 1e-9, "{}", found.distance);
        assert!(found.shares[0] > 0.9, "{}", found.shares[0]);
    }

    /// Source: the four branches of Waarts (2000) face four ways, alike in
    /// pairs.
    #[test]
    fn four_ways_are_told_apart() {
        let found = of(&Problem::FourBranch { k: 7.0 });
        assert_eq!(found.ways.len(), 4, "{:?}", found.ways);
    }
}
