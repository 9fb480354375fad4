//! Aimed flights: where it happens, weighed by how seldom that is.

use super::{
    Effort, LimitState,
    cluster::groups,
    density::{Density, sum_exp},
    hunt::MOST,
    space::{Normals, Points},
};
use crate::{
    estimate::WeightedCount,
    math::{exp, ln},
    sampling::Domain,
};

/// Share of the flights drawn with the inputs' own width around each middle, so
/// that no weight can grow out of bounds where the fitted width is too small.
const WIDE: f64 = 0.1;
/// Rounds of fitting at most.
const ROUNDS: u32 = 5;
/// Successes of a density below which it is left as it was.
const LEAST_TO_FIT: f64 = 8.0;
/// Successes, in equal ones for each flight, from which on fitting better gains
/// little.
const WELL_FITTED: f64 = 0.35;
/// A success that weighs so many times more than others is out of the way.
const FAR_MORE: f64 = 50.0;
/// Densities that the flights of a round are meant for; more take more.
const USUAL: usize = 8;

/// One density aimed with, and how many flights.
#[derive(Clone, Debug)]
pub(super) struct Aim {
    pub(super) density: Density,
    pub(super) flights: usize,
    wide: bool,
}

/// Aimed flights and what they met.
#[derive(Clone, Debug)]
pub(super) struct Aimed {
    pub(super) aims: Vec<Aim>,
    /// Successes.
    pub(super) hits: Points,
    /// For each, how many aimed flights there are where one flight at random
    /// would be.
    pub(super) density: Vec<f64>,
    /// Groups of successes that were aimed at, and how many of those are no
    /// longer reached.
    pub(super) groups: [usize; 2],
    /// Evaluations of all rounds.
    pub(super) calls: u64,
}

impl Aimed {
    /// How many aimed flights there are where one flight at random would be.
    pub(super) fn density_at(&self, point: &[f64]) -> f64 {
        density_at(&self.aims, point)
    }

    /// The weights of the successes beside `plain` flights at random.
    pub(super) fn count(&self, plain: f64) -> WeightedCount {
        let mut count = WeightedCount::default();
        for density in &self.density {
            count.add(1.0 / (plain + density));
        }
        count
    }

    /// The largest weight.
    pub(super) fn largest(&self, plain: f64) -> f64 {
        self.density.iter().map(|d| 1.0 / (plain + d)).fold(0.0, f64::max)
    }

    /// Whether most of a group of successes would weigh far more than usual: the
    /// flights no longer go there.
    fn has_lost(&self, found: &Points, group: &[usize], plain: f64) -> bool {
        let usual = FAR_MORE * self.count(plain).typical();
        let heavy = |i: &&usize| 1.0 / (plain + self.density_at(found.point(**i))) > usual;
        2 * group.iter().filter(heavy).count() > group.len()
    }

    /// `count` of the successes, drawn by weight with even steps.
    pub(super) fn resampled(&self, count: usize) -> Points {
        let weights: Vec<f64> = self.density.iter().map(|d| 1.0 / d).collect();
        let total: f64 = weights.iter().sum();
        let (mut passed, mut chosen) = (0.0, Vec::new());
        for (i, w) in weights.iter().enumerate() {
            passed += w / total * count as f64;
            while (chosen.len() as f64) + 0.5 < passed {
                chosen.push(i);
            }
        }
        self.hits.some(&chosen)
    }
}

fn density_at(aims: &[Aim], point: &[f64]) -> f64 {
    sum_exp(aims.iter().map(|aim| (aim.flights as f64, aim.density.ln_ratio(point))))
}

/// Flights aimed at successes that a hunt found (`found`, so many of which are
/// worth one independent one), the
/// densities fitted anew to what they meet until they fit well, then once more
/// with all flights. `plain`: flights at random that will count beside them.
pub(super) fn aim(
    state: &impl LimitState,
    seed: u64,
    round: u32,
    (found, alike): (&Points, f64),
    plain: f64,
    effort: &Effort,
) -> Option<Aimed> {
    let parts = groups(found, MOST, alike);
    let densities: Vec<Density> = parts
        .iter()
        .map(|part| {
            let equal = vec![1.0; part.len()];
            let worth = (part.len() as f64 / alike).max(3.0);
            Density::fit(found, part, &equal, worth, 0.15)
        })
        .collect();
    let many = (densities.len() / USUAL).max(1);
    let first = many * effort.importance[0];
    let mut calls = 0;
    let mut part = 64 * round;
    let mut fly = |aims: Vec<Aim>| {
        let aimed = fly(state, seed, part, aims);
        part += 1;
        calls += aimed.calls;
        Aimed { calls, ..aimed }
    };
    let even = vec![1.0; densities.len()];
    let mut aimed = fly(allotted(densities, &even, first));
    let mut best = 0.0;
    for again in 0..ROUNDS {
        let worth = aimed.count(0.0).worth();
        let stands = again >= 2 && worth < 1.1 * best;
        if worth > WELL_FITTED * first as f64 || stands {
            break;
        }
        best = worth;
        aimed = fly(refitted(&aimed, plain, first));
    }
    if aimed.hits.len() == 0 {
        return None;
    }
    // As many flights as the last round shows are needed, within reason.
    let per_flight = aimed.count(0.0).worth() / first as f64;
    let needed = 500.0 / per_flight.max(1e-6);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped")]
    let all = needed.clamp(effort.importance[1] as f64, 4.0 * effort.importance[1] as f64) as usize;
    let all = all.max(many * effort.importance[1] / 2);
    let last = fly(refitted(&aimed, plain, all));
    let lost = parts.iter().filter(|part| last.has_lost(found, part, plain)).count();
    Some(Aimed { groups: [parts.len(), lost], ..last })
}

/// The densities fitted to what their flights met, each with flights by its
/// share of the doubt.
fn refitted(aimed: &Aimed, plain: f64, flights: usize) -> Vec<Aim> {
    let narrow: Vec<&Aim> = aimed.aims.iter().filter(|aim| !aim.wide).collect();
    let mut own: Vec<Vec<usize>> = vec![Vec::new(); narrow.len()];
    for i in 0..aimed.hits.len() {
        let here = |k: &usize| {
            let aim = narrow[*k];
            aim.density.ln_ratio(aimed.hits.point(i)) + ln(aim.flights as f64)
        };
        let best = (0..narrow.len()).max_by(|a, b| here(a).total_cmp(&here(b)));
        if let Some(best) = best {
            own[best].push(i);
        }
    }
    let (mut densities, mut doubts) = (Vec::new(), Vec::new());
    for (aim, hits) in narrow.iter().zip(&own) {
        let mut count = WeightedCount::default();
        hits.iter().for_each(|i| count.add(1.0 / (plain + aimed.density[*i])));
        doubts.push(count.squares.sqrt());
        if (hits.len() as f64) < LEAST_TO_FIT {
            densities.push(aim.density.clone());
            continue;
        }
        let lns: Vec<f64> = hits.iter().map(|i| -ln(plain + aimed.density[*i])).collect();
        let needed = (2 * aim.density.shapes() + 20) as f64;
        let (weights, worth) = tempered(&lns, needed.min(0.5 * hits.len() as f64));
        densities.push(Density::fit(&aimed.hits, hits, &weights, worth, 0.0));
    }
    allotted(densities, &doubts, flights)
}

/// Weights from their logarithms, evened out until they are worth `needed`
/// equal ones: a fit to too few would be worse than one half way there.
fn tempered(lns: &[f64], needed: f64) -> (Vec<f64>, f64) {
    let most = lns.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let at = |power: f64| {
        let mut count = WeightedCount::default();
        let weights: Vec<f64> = lns.iter().map(|l| exp(power * (l - most))).collect();
        weights.iter().for_each(|w| count.add(*w));
        (weights, count.worth())
    };
    let whole = at(1.0);
    if whole.1 >= needed {
        return whole;
    }
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..30 {
        let middle = f64::midpoint(low, high);
        if at(middle).1 >= needed { low = middle } else { high = middle }
    }
    at(low)
}

/// Flights for each density: half of them alike, half by its doubt.
fn allotted(densities: Vec<Density>, doubts: &[f64], flights: usize) -> Vec<Aim> {
    let n = densities.len() as f64;
    let total: f64 = doubts.iter().sum();
    let mut aims = Vec::new();
    for (density, doubt) in densities.into_iter().zip(doubts) {
        let share = 0.5 / n + if total > 0.0 { 0.5 * doubt / total } else { 0.5 / n };
        let own = share * flights as f64;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a share of a count"
        )]
        let of = |share: f64| (share * own).round().max(1.0) as usize;
        aims.push(Aim { density: density.widened(), flights: of(WIDE), wide: true });
        aims.push(Aim { density, flights: of(1.0 - WIDE), wide: false });
    }
    aims
}

/// Flies them. Flights of different `part`s are independent.
pub(super) fn fly(state: &impl LimitState, seed: u64, part: u32, aims: Vec<Aim>) -> Aimed {
    let d = state.dimension();
    let normals = Normals::new(seed, Domain::IMPORTANCE.part(part), d);
    let all: usize = aims.iter().map(|aim| aim.flights).sum();
    let mut points = Points { dimension: d, at: vec![0.0; all * d], scores: vec![0.0; all] };
    let whose = aims.iter().flat_map(|aim| std::iter::repeat_n(aim, aim.flights));
    for ((draw, point), aim) in (0..).zip(points.at.chunks_mut(d)).zip(whose) {
        normals.uniforms(draw, point);
        aim.density.draw(point);
    }
    state.scores(&points.at, &mut points.scores);
    let hits = points.some(&points.hits());
    let density = (0..hits.len()).map(|i| density_at(&aims, hits.point(i))).collect();
    Aimed { aims, hits, density, groups: [0, 0], calls: all as u64 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::estimate::rare::reference::Problem;

    fn one(density: Density, flights: usize) -> Vec<Aim> {
        vec![Aim { density, flights, wide: false }]
    }

    /// Source: the unit normal at the design point of a half-space has a
    /// squared variation per draw of exp(b^2) Phi(-2b) / Phi(-b)^2 - 1:
    /// 3.9422619839 at b = 3.5, 6.8684799458 at b = 6.
    #[test]
    fn the_variation_at_the_design_point_is_the_ideal_one() {
        for (beta, squared) in [(3.5, 3.942_261_983_9), (6.0, 6.868_479_945_8)] {
            let problem = Problem::Linear { beta, dimension: 10 };
            let n = 40_000;
            let density = Density::around(&[beta / 10.0_f64.sqrt(); 10]);
            let found = fly(&problem, 3, 0, one(density, n)).count(0.0);
            // A sum over hits has one more: its squares count the mean's, too.
            let per_draw = n as f64 / found.worth() - 1.0;
            assert!((per_draw / squared - 1.0_f64).abs() < 0.1, "{beta}: {per_draw}");
            // Four standard errors: false alarm 6e-5.
            let off = found.sum / problem.probability() - 1.0;
            assert!(off.abs() < 4.0 / found.worth().sqrt(), "{beta}: {off}");
        }
    }

    /// Whatever is fitted: the weights undo the preference.
    #[test]
    fn where_everything_happens_weights_average_to_one() {
        let everything = Problem::Linear { beta: -100.0, dimension: 4 };
        let problem = Problem::Windows { stages: 2, dimension: 4 };
        let run = crate::estimate::rare::subset_simulation(&problem, 4, 0, 1000);
        let hits = run.points.some(&run.points.hits());
        let all: Vec<usize> = (0..hits.len()).collect();
        let weights = vec![1.0; all.len()];
        let fitted = Density::fit(&hits, &all, &weights, 100.0, 0.15);
        let aims = vec![
            Aim { density: fitted.widened(), flights: 20_000, wide: true },
            Aim { density: fitted, flights: 40_000, wide: false },
        ];
        // Flights at random beside them bear what lies outside the windows.
        let plain = 20_000.0;
        let found = fly(&everything, 4, 0, aims.clone());
        let mut sum = found.count(plain).sum;
        let random = super::super::part::fly_plain(&everything, 5, 0, plain);
        for i in 0..random.len() {
            sum += 1.0 / (plain + density_at(&aims, random.point(i)));
        }
        // The plain part has a standard error of 0.7 % at most.
        assert!((sum - 1.0).abs() < 0.03, "{sum}");
    }

    #[test]
    fn a_fit_to_too_few_is_evened_out() {
        let (weights, worth) = tempered(&[0.0, -10.0, -12.0, -20.0, -21.0, -30.0], 3.0);
        assert!((worth - 3.0).abs() < 0.1, "{worth}");
        assert!(weights.windows(2).all(|pair| pair[0] >= pair[1]));
        let (_, enough) = tempered(&[0.0, -0.1, -0.2], 2.0);
        assert!(enough > 2.9);
    }
}
