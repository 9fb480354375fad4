//! Looking for the ways in which it happens.
//!
//! Everything here may use any trick and need not be fair: what it finds says
//! only where to aim. The chance comes from flights made afterwards.

use super::{
    Effort, LimitState,
    cluster::groups,
    space::{Normals, Points, spread, square},
    subset::{STATES, Search, Subset, descend, subset_simulation},
};
use crate::sampling::Domain;

/// Points of a small climb.
const SMALL: usize = 200;
/// Groups that a rung or the successes are split into, at most.
pub(super) const MOST: usize = 40;
/// Small climbs at most: for branches, and for mirror images.
const CLIMBS: [u32; 2] = [6, 10];
/// Mirror images tried of one group of successes.
const MIRRORS: usize = 12;
/// Successes to which a way is grown.
const GROWN: usize = 600;
/// Standard deviation of the points that scout beyond what is usual.
const WIDE: f64 = 2.0;
/// Chains of a long walk, and rounds of ten steps: for few inputs, and most.
const LONG: [usize; 3] = [200, 6, 30];
/// Coordinates that such a step moves, every other round.
const FEW_MOVES: f64 = 4.0;

/// What was found.
pub(super) struct Hunted {
    /// The search that began at random.
    pub(super) search: Subset,
    /// Successes, alike in chains.
    pub(super) hits: Points,
    pub(super) calls: u64,
}

/// Everything that a hunt needs at hand.
struct Hunt<'a, S> {
    state: &'a S,
    seed: u64,
    replicate: u32,
    hits: Points,
    calls: u64,
}

/// Looks for ways by a search that begins at random and one that begins far and
/// wide, by following the branches that they left behind, and in mirror images
/// of what was found.
pub(super) fn hunt(state: &impl LimitState, seed: u64, effort: &Effort) -> Hunted {
    let search = subset_simulation(state, seed, 0, effort.per_level);
    let d = state.dimension();
    let hits = search.points.some(&search.points.hits());
    let mut hunt = Hunt { state, seed, replicate: 100, hits, calls: search.calls };
    hunt.branches(&search);
    let wide = hunt.wide(effort.per_level);
    let scouts = wide.some(&wide.hits());
    if scouts.len() > 0 {
        hunt.walk(&scouts);
    }
    let mut second = Search::new(state, seed, 1);
    let second = descend(&mut second, wide);
    hunt.calls += second.calls;
    hunt.hits.extend(&second.points.some(&second.points.hits()));
    hunt.branches(&second);
    hunt.mirrors();
    debug_assert_eq!(hunt.hits.dimension, d, "points of the state");
    Hunted { search, hits: hunt.hits, calls: hunt.calls }
}

/// Walks far among the successes known, from all groups alike, until where the
/// walks began is forgotten; gives evaluations.
pub(super) fn mix(state: &impl LimitState, seed: u64, round: u32, known: &mut Points) -> u64 {
    let parts = groups(known, MOST, 10.0);
    let [chains, least, most] = LONG;
    let rounds = (known.dimension / 5 * 2).clamp(least, most);
    let mut points = Points::new(known.dimension);
    for i in 0..chains {
        let part = &parts[i % parts.len()];
        points.extend(&known.some(&[part[(i / parts.len() * 37) % part.len()]]));
    }
    // Steps of all coordinates follow what is oblique, steps of a few go far
    // where there are many.
    let mut searches = [0, 1].map(|kind| Search::new(state, seed, 600 + 2 * round + kind));
    searches[1].moves = (FEW_MOVES / known.dimension as f64).min(1.0);
    let mut kept = Points::new(known.dimension);
    for step in 0..rounds {
        let seeds: Vec<usize> =
            (0..chains).map(|i| if step == 0 { i } else { i * STATES + STATES - 1 }).collect();
        let search = &mut searches[step % 2];
        search.level += 1;
        points = search.chains(&points, &seeds, 0.0);
        if 2 * step >= rounds {
            // One state of five: neighbours are alike.
            let some: Vec<usize> = (0..points.len()).filter(|i| i % 5 == 4).collect();
            kept.extend(&points.some(&some));
        }
    }
    *known = kept;
    searches[0].calls + searches[1].calls
}

/// Grows ways from successes that plain flights met, beside those known.
pub(super) fn grow(
    state: &impl LimitState,
    seed: u64,
    round: u32,
    met: &Points,
    known: &mut Points,
) -> u64 {
    let hits = std::mem::replace(known, Points::new(met.dimension));
    let mut hunt = Hunt { state, seed, replicate: 200 + 100 * round, hits, calls: 0 };
    for i in 0..met.len().min(MOST) {
        let one = met.some(&[i]);
        hunt.walk(&one);
        // However narrow its surroundings are: it is a way.
        hunt.hits.extend(&one);
    }
    hunt.mirrors();
    *known = hunt.hits;
    hunt.calls
}

impl<S: LimitState> Hunt<'_, S> {
    fn next(&mut self) -> u32 {
        self.replicate += 1;
        self.replicate
    }

    /// Points spread wider than the inputs are.
    fn wide(&mut self, count: usize) -> Points {
        let d = self.state.dimension();
        let normals = Normals::new(self.seed, Domain::IMPORTANCE.part(0x7000), d);
        let mut points =
            Points { dimension: d, at: vec![0.0; count * d], scores: vec![0.0; count] };
        for (draw, point) in (0..).zip(points.at.chunks_mut(d)) {
            normals.fill(draw, point);
            point.iter_mut().for_each(|u| *u *= WIDE);
        }
        self.state.scores(&points.at, &mut points.scores);
        self.calls += count as u64;
        points
    }

    /// Follows groups of a search's rungs that led to no success.
    fn branches(&mut self, search: &Subset) {
        let mut climbs = 0;
        for rung in &search.rungs {
            let parts = groups(rung, MOST, 2.0);
            if parts.len() < 2 {
                continue;
            }
            let all: Vec<usize> = (0..rung.len()).collect();
            let (_, unit) = spread(rung, &all, &vec![1.0; rung.len()]);
            let middles: Vec<Vec<f64>> = parts.iter().map(|part| middle(rung, part)).collect();
            for (k, part) in parts.iter().enumerate() {
                let led = (0..self.hits.len())
                    .filter(|i| nearest(self.hits.point(*i), &middles, &unit) == k)
                    .count();
                if led * 200 > self.hits.len() || climbs >= CLIMBS[0] {
                    continue;
                }
                climbs += 1;
                let apart = Apart { state: self.state, middles: &middles, own: k, unit: &unit };
                let start = repeated(&rung.some(part), SMALL);
                self.climb(&apart, start);
            }
        }
    }

    /// Tries mirror images of the groups of successes: of all coordinates that
    /// matter at once, and of each by itself; and of what that finds again.
    fn mirrors(&mut self) {
        let (mut climbs, mut tried) = (0, Vec::<Vec<f64>>::new());
        for _ in 0..3 {
            if self.hits.len() == 0 {
                return;
            }
            let parts = groups(&self.hits, MOST, 10.0);
            let known: Vec<Vec<f64>> = parts.iter().map(|part| middle(&self.hits, part)).collect();
            let before = self.hits.len();
            for part in &parts {
                for (image, sd) in images(&self.hits, part) {
                    let new = |other: &Vec<f64>| apart(&image, other, &sd) > 4.0;
                    if climbs >= CLIMBS[1] || !known.iter().chain(&tried).all(new) {
                        continue;
                    }
                    tried.push(image.clone());
                    climbs += u32::from(self.mirror(image, &sd, &known));
                }
            }
            if self.hits.len() == before {
                return;
            }
        }
    }

    /// Looks around a mirror image; gives whether that was worth a climb.
    fn mirror(&mut self, image: Vec<f64>, sd: &[f64], known: &[Vec<f64>]) -> bool {
        let d = self.hits.dimension;
        let replicate = self.next();
        let normals = Normals::new(self.seed, Domain::IMPORTANCE.part(0x1000 + replicate), d);
        let mut middles = known.to_vec();
        middles.push(image);
        let own = middles.len() - 1;
        let unit = vec![1.0; d];
        let state = Apart { state: self.state, middles: &middles, own, unit: &unit };
        let mut start = Points::new(d);
        let mut at = vec![0.0; d];
        for draw in 0..SMALL {
            normals.fill(draw as u64, &mut at);
            // Half as narrow as what it mirrors, half as wide as the inputs.
            let narrow = draw % 2 == 0;
            for ((u, m), s) in at.iter_mut().zip(&middles[own]).zip(sd) {
                *u = m + if narrow { s * *u } else { *u };
            }
            start.push(&at, 0.0);
        }
        let mut scores = vec![0.0; SMALL];
        state.scores(&start.at, &mut scores);
        self.calls += SMALL as u64;
        let mut everyday = Points::new(d);
        for draw in 0..SMALL {
            normals.fill((SMALL + draw) as u64, &mut at);
            everyday.push(&at, 0.0);
        }
        let mut ordinary = vec![0.0; SMALL];
        self.state.scores(&everyday.at, &mut ordinary);
        self.calls += SMALL as u64;
        start.scores = scores;
        // No nearer than everyday values: not a way.
        let tenth = |scores: &[f64]| {
            let mut sorted = scores.to_vec();
            sorted.sort_by(f64::total_cmp);
            sorted[SMALL / 10]
        };
        if tenth(&start.scores) >= tenth(&ordinary) && start.hits().is_empty() {
            return false;
        }
        self.climb(&state, start);
        true
    }

    /// A small climb; its successes are taken over.
    fn climb<T: LimitState>(&mut self, state: &T, start: Points) {
        let replicate = self.next();
        let mut search = Search::new(state, self.seed, replicate);
        let found = descend(&mut search, start);
        self.calls += found.calls;
        let hits = found.points.some(&found.points.hits());
        if !found.stuck && hits.len() > 0 {
            self.walk(&hits);
        }
    }

    /// Walks among successes from some of them, and takes over where it came.
    fn walk(&mut self, from: &Points) {
        let replicate = self.next();
        let mut search = Search::new(self.state, self.seed, replicate);
        let mut points = repeated(from, SMALL);
        let rounds = GROWN / SMALL;
        for round in 0..2 * rounds {
            let seeds: Vec<usize> =
                (0..SMALL / STATES).map(|i| i * points.len() / (SMALL / STATES)).collect();
            search.level += 1;
            points = search.chains(&points, &seeds, 0.0);
            // The first rounds look for the stride and forget the start.
            if round >= rounds {
                self.hits.extend(&points);
            }
        }
        self.calls += search.calls;
    }
}

/// Points over and over until there are `count`.
fn repeated(points: &Points, count: usize) -> Points {
    points.some(&(0..count).map(|i| i % points.len()).collect::<Vec<_>>())
}

fn middle(points: &Points, part: &[usize]) -> Vec<f64> {
    spread(points, part, &vec![1.0; part.len()]).0
}

/// Distance in units of each coordinate's own.
fn apart(a: &[f64], b: &[f64], unit: &[f64]) -> f64 {
    let gaps: Vec<f64> =
        a.iter().zip(b).zip(unit).map(|((a, b), s)| (a - b) / s.max(1e-3)).collect();
    square(&gaps).sqrt()
}

fn nearest(point: &[f64], middles: &[Vec<f64>], unit: &[f64]) -> usize {
    let distance = |k: &usize| apart(point, &middles[*k], unit);
    (0..middles.len()).min_by(|a, b| distance(a).total_cmp(&distance(b))).unwrap_or(0)
}

/// Mirror images of a group's middle, with its widths: all coordinates that
/// matter turned round, then each by itself, the farthest out first.
fn images(points: &Points, part: &[usize]) -> Vec<(Vec<f64>, Vec<f64>)> {
    let (mut mean, sd) = spread(points, part, &vec![1.0; part.len()]);
    let noise = 3.5 / (part.len() as f64 / STATES as f64).max(1.0).sqrt();
    for m in &mut mean {
        if m.abs() < noise.min(0.5) {
            *m = 0.0;
        }
    }
    let mut order: Vec<usize> = (0..mean.len()).filter(|i| mean[*i].abs() > 0.0).collect();
    order.sort_by(|a, b| mean[*b].abs().total_cmp(&mean[*a].abs()).then(a.cmp(b)));
    let mut images = vec![mean.iter().map(|m| -m).collect::<Vec<f64>>()];
    if order.len() > 1 {
        for i in order.into_iter().take(MIRRORS) {
            let mut image = mean.clone();
            image[i] = -image[i];
            images.push(image);
        }
    }
    images.into_iter().map(|image| (image, sd.clone())).collect()
}

/// The state, with everything that lies nearer to other middles shut off: a
/// climb cannot drift to what is easier.
struct Apart<'a, S> {
    state: &'a S,
    middles: &'a [Vec<f64>],
    own: usize,
    unit: &'a [f64],
}

impl<S: LimitState> LimitState for Apart<'_, S> {
    fn dimension(&self) -> usize {
        self.state.dimension()
    }

    fn scores(&self, points: &[f64], out: &mut [f64]) {
        self.state.scores(points, out);
        for (point, score) in points.chunks(self.dimension()).zip(out) {
            if nearest(point, self.middles, self.unit) != self.own {
                *score = f64::MAX;
            }
        }
    }
}
