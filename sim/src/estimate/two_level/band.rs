//! From worlds to a band.

use super::Worlds;
use crate::estimate::quantile;

/// Percentiles of the resamples that bound a 95 % interval: 2.5 and 97.5 %
/// covered 91 to 92 % on problems with exact answers.
const PERCENTILES: [f64; 2] = [0.01, 0.99];

/// A chance below the first is called never, one above the second always.
pub(super) const NEVER_ALWAYS: [f64; 2] = [0.01, 0.99];

/// Chances that the unknown inputs leave open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// Mean of the chance over the unknowns: the chance of the claim.
    pub mean: f64,
    /// 95 % interval of `mean`, from the limited number of flights.
    pub mean_interval: [f64; 2],
    /// The chance is below this for half of the rest of the unknowns.
    pub low: f64,
    /// The chance is above this for the other half.
    pub high: f64,
    /// 95 % interval of `low`.
    pub low_interval: [f64; 2],
    /// 95 % interval of `high`.
    pub high_interval: [f64; 2],
    /// Share of the unknowns between the two.
    pub share: f64,
    /// Share of the unknowns with a chance below 1 in 100, and the mean there.
    pub never: f64,
    /// See `never`.
    pub never_chance: f64,
    /// Share of the unknowns with a chance above 99 in 100, and the mean there.
    pub always: f64,
    /// See `always`.
    pub always_chance: f64,
}

impl Band {
    /// Chances below the first count as never, above the second as always.
    pub(crate) const NEVER_ALWAYS: [f64; 2] = NEVER_ALWAYS;
}

impl Worlds {
    /// The band that holds a `share` (in (0, 1), such as 0.9) of what is
    /// thought possible.
    ///
    /// An end is the chance of a world, never one between two of them: of two
    /// worlds there is no middle.
    #[must_use]
    pub fn band(&self, share: f64) -> Band {
        let tails = [0.5 * (1.0 - share), 0.5 * (1.0 + share)];
        let weights: Vec<f64> = self.list.iter().map(|world| world.weight).collect();
        let chances: Vec<f64> = self.list.iter().map(|world| world.chance).collect();
        let [mean, low, high] = numbers(&weights, &chances, tails);
        let again: Vec<[f64; 3]> =
            self.again.iter().map(|chances| numbers(&weights, chances, tails)).collect();
        let interval = |which: usize, own: f64| {
            let mut all: Vec<f64> = again.iter().map(|numbers| numbers[which]).collect();
            all.sort_by(f64::total_cmp);
            let [from, to] = PERCENTILES.map(|q| quantile(&all, q).unwrap_or(own));
            [from.min(own), to.max(own)]
        };
        let of = |test: &dyn Fn(f64) -> bool| {
            let those = || self.list.iter().filter(|world| test(world.chance));
            let weight: f64 = those().map(|world| world.weight).sum();
            let sum: f64 = those().map(|world| world.weight * world.chance).sum();
            (weight.min(1.0), if weight > 0.0 { sum / weight } else { 0.0 })
        };
        let (never, never_chance) = of(&|p| p < NEVER_ALWAYS[0]);
        let (always, always_chance) = of(&|p| p > NEVER_ALWAYS[1]);
        Band {
            mean,
            mean_interval: interval(0, mean),
            low,
            high,
            low_interval: interval(1, low),
            high_interval: interval(2, high),
            share,
            never,
            never_chance,
            always,
            always_chance,
        }
    }
}

/// Mean, lower and upper end.
fn numbers(weights: &[f64], chances: &[f64], tails: [f64; 2]) -> [f64; 3] {
    let mut order: Vec<(f64, f64)> = chances.iter().copied().zip(weights.iter().copied()).collect();
    order.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mean = order.iter().map(|(chance, weight)| chance * weight).sum();
    let at = |q: f64| {
        let mut upto = 0.0;
        let found = order.iter().find(|(_, weight)| {
            upto += weight;
            upto >= q - 1e-12
        });
        found.or(order.last()).map_or(f64::NAN, |world| world.0)
    };
    [mean, at(tails[0]), at(tails[1])]
}
