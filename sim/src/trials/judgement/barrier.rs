//! The gate that a barrier holds, from hits and perforations of known size.

use super::{
    Agreement, Blow, Estimate,
    blow::grouped,
    conflict::surprise,
    strength::Strength,
    weigh::{Grid, teach_spread},
};
use crate::{
    math::{exp, ln},
    scenario::Demand,
};
use serde::Serialize;

/// The scenario's share of the prior at full weight; the rest is wide.
pub const TRUST: f64 = 0.9;
/// Beyond so many times, the number hangs on the wide part of the prior.
const HANGS: f64 = 3.0;
/// Below this, one small number is as good as another.
const NOTHING: f64 = 1e-5;
/// Bars of the drawing.
const BARS: u32 = 80;
/// Most shots that are proposed to settle a conflict.
const MOST_TO_SETTLE: f64 = 50.0;

/// A barrier as the model has it, SI.
#[derive(Clone, Debug, PartialEq)]
pub struct ModelBarrier {
    /// What the strength is measured in.
    pub demand: Demand,
    /// What is thought of it.
    pub strength: Strength,
    /// What the claim's strikes demand: (J or m/s, share), shares sum to 1.
    pub demanded: Vec<(f64, f64)>,
}

/// Shots that would settle a disagreement.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Settling {
    /// How many; `None`: more than fifty.
    pub shots: Option<u64>,
    /// At a blow of this size.
    pub size: f64,
    /// Chance that such a blow goes through, by the scenario and the shots.
    pub by_scenario: f64,
    /// The same by the shots, with next to nothing assumed.
    pub by_shots: f64,
}

/// What is drawn: shares of probability between edges.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Drawn {
    /// Edges, J or m/s, each the same factor above the one before.
    pub edges: Vec<f64>,
    /// Of the unknown strength, as the scenario has it.
    pub before: Vec<f64>,
    /// After the shots (of the shots alone, where they disagree).
    pub after: Vec<f64>,
    /// Of the claim's own blows.
    pub claimed: Vec<f64>,
}

/// The barrier after model and shots, SI.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BarrierJudgement {
    /// What its strength is measured in.
    pub demand: Demand,
    /// Whether sizes are factors on what a formula says.
    pub by_formula: bool,
    /// Shots used: those with a speed and a result at the barrier.
    pub shots: u64,
    /// Of them perforations.
    pub perforations: u64,
    /// The hardest that was stopped.
    pub hardest_stopped: Option<f64>,
    /// The softest that went through.
    pub softest_through: Option<f64>,
    /// Smallest and largest blow shot.
    pub shot: [f64; 2],
    /// What half of the claim's blows stay below, and the largest of them.
    pub claimed: [f64; 2],
    /// The claim's chance of going through by the scenario alone.
    pub before: Estimate,
    /// By the scenario's strength and the shots.
    pub by_scenario: Estimate,
    /// By the shots, with next to nothing assumed of the strength.
    pub by_shots: Estimate,
    /// Both, the scenario's strength believed nine times in ten; absent where
    /// they disagree.
    pub both: Option<Estimate>,
    /// With twice the spread, where results are too mixed for the scenario's.
    pub twice_the_spread: Option<Estimate>,
    /// Do they sit together?
    pub agreement: Agreement,
    /// How many times likelier the shots were under the scenario's strength
    /// than under next to no knowledge.
    pub bayes_factor: f64,
    /// How often the scenario would give results no likelier than these.
    pub surprise: f64,
    /// Probability that the scenario's strength is to be given up.
    pub overruled: f64,
    /// What half of the blows go through at: 2.5, 50, 97.5 %.
    pub threshold: [f64; 3],
    /// From 5 to 95 %.
    pub nine_in_ten: [f64; 2],
    /// Without a perforation: what the threshold is above, 95 %.
    pub above: Option<f64>,
    /// Spread from blow to blow, mean.
    pub spread: f64,
    /// Whether the shots taught it.
    pub spread_learnt: bool,
    /// Both, after five more at the claim's middle blow: all stopped, all
    /// through.
    pub five_more: [Estimate; 2],
    /// What would settle it, where they disagree.
    pub settling: Option<Settling>,
    /// The shots.
    pub points: Vec<Blow>,
    /// What is drawn.
    pub drawn: Drawn,
}

impl ModelBarrier {
    /// Weighs blows; `weight` 0 (the shots with next to nothing assumed) to 1.
    /// `None` without any.
    #[must_use]
    pub fn judge(&self, blows: &[Blow], weight: f64) -> Option<BarrierJudgement> {
        let (first, groups) = (blows.first()?, grouped(blows));
        let told = Grid::new(&self.strength, &self.demanded, &groups);
        let learnt = teach_spread(&groups);
        let taught;
        let grid = if learnt && self.strength.spreads.len() == 1 {
            taught = Grid::new(&self.strength.doubted(), &self.demanded, &groups);
            &taught
        } else {
            &told
        };
        let own = TRUST * weight;
        let [ours, vague] = [1.0, 0.0].map(|own| grid.weights(own));
        let (by_scenario, by_shots) = (grid.estimate(&ours), grid.estimate(&vague));
        let mixed_weights = grid.weights(own);
        let mixed = grid.estimate(&mixed_weights);
        let [of_scenario, of_wide] = told.ln_evidences();
        let bayes_factor = exp((of_scenario - of_wide).clamp(-700.0, 700.0));
        let surprise = surprise(&self.strength, blows);
        let agreement = match Agreement::of(bayes_factor, surprise) {
            _ if weight <= 0.0 => Agreement::Agree,
            // The shots have taught the spread.
            Agreement::Spread if learnt => Agreement::Doubt,
            found if found.is_conflict() => found,
            _ if hangs(&mixed, &by_scenario) => Agreement::Hangs,
            found => found,
        };
        let shown = if agreement == Agreement::Strength { &vague } else { &mixed_weights };
        let through = || blows.iter().filter(|blow| blow.through).map(|blow| blow.size);
        let stopped = || blows.iter().filter(|blow| !blow.through).map(|blow| blow.size);
        let sizes = || blows.iter().map(|blow| blow.size);
        let shot = [sizes().fold(first.size, f64::min), sizes().fold(first.size, f64::max)];
        let twice = || {
            let grid = Grid::new(&self.strength.scattered(2.0), &self.demanded, &groups);
            grid.estimate(&grid.weights(own))
        };
        let more = |through: bool| {
            let more = Blow { size: self.claimed()[0], doubt: 0.0, through };
            let all: Vec<Blow> = blows.iter().copied().chain([more; 5]).collect();
            let grid = Grid::new(&self.strength, &self.demanded, &grouped(&all));
            grid.estimate(&grid.weights(own))
        };
        Some(BarrierJudgement {
            demand: self.demand,
            by_formula: self.strength.by_formula,
            shots: blows.len() as u64,
            perforations: through().count() as u64,
            hardest_stopped: stopped().reduce(f64::max),
            softest_through: through().reduce(f64::min),
            shot,
            claimed: self.claimed(),
            before: self.before(),
            by_scenario,
            by_shots,
            both: (!agreement.is_conflict()).then_some(mixed),
            twice_the_spread: (agreement == Agreement::Spread).then(twice),
            agreement,
            bayes_factor,
            surprise,
            overruled: grid.wide_share(&mixed_weights),
            threshold: [0.025, 0.5, 0.975].map(|p| grid.median(shown, p)),
            nine_in_ten: [0.05, 0.95].map(|p| grid.median(shown, p)),
            above: (through().count() == 0).then(|| grid.median(shown, 0.05)),
            spread: grid.spread(shown),
            spread_learnt: learnt,
            five_more: [more(false), more(true)],
            settling: agreement.is_conflict().then(|| self.settling(grid, &ours, &vague, shot)),
            points: blows.to_vec(),
            drawn: self.drawn(grid, shown, shot),
        })
    }

    /// The claim's chance by the scenario alone.
    #[must_use]
    pub fn before(&self) -> Estimate {
        let grid = Grid::new(&self.strength, &self.demanded, &[]);
        grid.estimate(&grid.weights(1.0))
    }

    /// The middle of the claim's blows and the largest.
    fn claimed(&self) -> [f64; 2] {
        let mut sum = 0.0;
        let middle = self.demanded.iter().find(|(_, share)| {
            sum += share;
            sum >= 0.5
        });
        let largest = self.demanded.iter().map(|one| one.0).fold(0.0, f64::max);
        [middle.map_or(largest, |one| one.0), largest]
    }

    /// Where the two sides differ most, and how many shots there tell them
    /// apart, each with an error of one in twenty.
    fn settling(&self, grid: &Grid, ours: &[f64], vague: &[f64], shot: [f64; 2]) -> Settling {
        const TRIED: u32 = 24;
        let [middle, largest] = self.claimed();
        let (low, high) = (ln(middle.min(shot[0])), ln(largest.max(shot[1])));
        let at = |i: u32| low + (high - low) * f64::from(i) / f64::from(TRIED);
        let both = |x: f64| [grid.chance(ours, x), grid.chance(vague, x)];
        let apart = |x: f64| {
            let [a, b] = both(x);
            (a - b).abs()
        };
        let best = (0..=TRIED).map(at).max_by(|a, b| apart(*a).total_cmp(&apart(*b)));
        let best = best.unwrap_or(low);
        let [by_scenario, by_shots] = both(best);
        let sd = |p: f64| (p * (1.0 - p)).max(0.0).sqrt();
        let root = 1.645 * (sd(by_scenario) + sd(by_shots)) / (by_scenario - by_shots).abs();
        let needed = (root * root).max(1.0).ceil();
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at most 50")]
        let shots = (needed <= MOST_TO_SETTLE).then_some(needed as u64);
        Settling { shots, size: exp(best), by_scenario, by_shots }
    }

    fn drawn(&self, grid: &Grid, weights: &[f64], shot: [f64; 2]) -> Drawn {
        let cells = &self.strength.cells;
        let mass = |from: usize| {
            let mut sum = 0.0;
            let place = (0..cells.len()).map(|i| if from == 0 { i } else { cells.len() - 1 - i });
            place.into_iter().find(|&i| {
                sum += cells[i].mass;
                sum > 0.005
            })
        };
        let ends = [mass(0), mass(1)].map(|i| exp(i.map_or(0.0, |i| cells[i].ln)));
        let claimed = [
            self.demanded.iter().map(|one| one.0).fold(f64::INFINITY, f64::min),
            self.claimed()[1],
        ];
        let after = [0.01, 0.99].map(|p| grid.median(weights, p));
        let low = ends[0].min(claimed[0].max(0.05 * claimed[1])).min(shot[0]).min(after[0]);
        let high = ends[1].max(claimed[1]).max(shot[1]).max(after[1]);
        let (from, to) = (ln(0.85 * low), ln(1.18 * high));
        let edges: Vec<f64> =
            (0..=BARS).map(|i| from + (to - from) * f64::from(i) / f64::from(BARS)).collect();
        let before = Grid::new(&self.strength, &[], &[]);
        Drawn {
            before: before.medians(&before.weights(1.0), &edges),
            after: grid.medians(weights, &edges),
            claimed: self.spread_out(&edges),
            edges: edges.into_iter().map(exp).collect(),
        }
    }
}

impl ModelBarrier {
    /// The claim's blows between edges (ln): each half way to its neighbours.
    fn spread_out(&self, edges: &[f64]) -> Vec<f64> {
        let logs: Vec<f64> = self.demanded.iter().map(|one| ln(one.0)).collect();
        let bar = (edges[edges.len() - 1] - edges[0]) / (edges.len() - 1) as f64;
        let mut shares = vec![0.0; edges.len() - 1];
        for (i, (_, share)) in self.demanded.iter().enumerate() {
            let near = |j: Option<usize>, side: f64| {
                let other = j.and_then(|j| logs.get(j));
                other.map_or(logs[i] + side * 0.5 * bar, |x| f64::midpoint(logs[i], *x))
            };
            let (a, b) = (near(i.checked_sub(1), -1.0), near(Some(i + 1), 1.0));
            let (from, to) = (a.min(b), b.max(a + 1e-9));
            for (sum, edge) in shares.iter_mut().zip(edges.windows(2)) {
                *sum += share * (to.min(edge[1]) - from.max(edge[0])).max(0.0) / (to - from);
            }
        }
        shares
    }
}

/// Does the answer come from the wide part of the prior and not from what the
/// scenario says?
fn hangs(mixed: &Estimate, by_scenario: &Estimate) -> bool {
    let [a, b] = [mixed, by_scenario].map(|one| one.probability);
    let far = |a: f64, b: f64| a.max(b) > NOTHING && (a > HANGS * b || b > HANGS * a);
    far(a, b) || far(1.0 - a, 1.0 - b)
}
