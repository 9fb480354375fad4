//! The groups' own shares, freed of the noise of counting.

use super::{RESAMPLES, Shape, World, Worlds};
use crate::{estimate::beta::quantile_pair, sampling::Stream};
use rand::{Rng, RngExt};
use rand_distr::{Beta, Distribution};

/// Flights that share one world.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// Where each unknown lies in its distribution, 0..1.
    pub at: Vec<f64>,
    /// Flights that held.
    pub held: u64,
    /// Flights.
    pub flights: u64,
}

/// Share of the groups' variance that must be real for the groups themselves to
/// show the worlds; below it, a Beta shape is assumed.
const RELIABLE: f64 = 0.5;

/// Shares of groups, their mean, and how much of their variance is real.
pub(super) struct Shares<'a> {
    /// By rising share.
    groups: Vec<&'a Group>,
    mean: f64,
    /// Variance of the shares.
    seen: f64,
    /// Variance of the chances behind them, >= 0.
    real: f64,
}

/// A chance that its count allows (Jeffreys).
pub(super) fn allowed(held: u64, flights: u64, dice: &mut impl Rng) -> f64 {
    let (a, b) = (held as f64 + 0.5, (flights - held) as f64 + 0.5);
    Beta::new(a, b).map_or(a / (a + b), |beta| beta.sample(dice))
}

fn share(group: &Group) -> f64 {
    group.held as f64 / group.flights as f64
}

impl<'a> Shares<'a> {
    pub(super) fn of(groups: &[&'a Group]) -> Self {
        let mut groups = groups.to_vec();
        groups.sort_by(|a, b| share(a).total_cmp(&share(b)));
        let m = groups.len() as f64;
        let mean = groups.iter().map(|g| share(g)).sum::<f64>() / m;
        let square = |x: f64| x * x;
        let seen = groups.iter().map(|g| square(share(g) - mean)).sum::<f64>() / (m - 1.0).max(1.0);
        let noise = |g: &&&Group| share(g) * (1.0 - share(g)) / (g.flights as f64 - 1.0).max(1.0);
        let counting = groups.iter().map(|g| noise(&g)).sum::<f64>() / m;
        Self { groups, mean, seen, real: (seen - counting).max(0.0) }
    }

    /// The chances behind the shares, rising.
    fn chances(&self) -> Vec<f64> {
        if self.real <= 0.0 || self.seen <= 0.0 {
            return vec![self.mean; self.groups.len()];
        }
        if self.real < RELIABLE * self.seen {
            return self.beta();
        }
        let draw_in = (self.real / self.seen).sqrt();
        self.groups.iter().map(|g| self.mean + draw_in * (share(g) - self.mean)).collect()
    }

    /// Quantiles of the Beta distribution of the same mean and variance.
    fn beta(&self) -> Vec<f64> {
        let most = self.mean * (1.0 - self.mean);
        let size = most / self.real.min(0.999 * most) - 1.0;
        let (a, b) = (self.mean * size, (1.0 - self.mean) * size);
        let m = self.groups.len() as f64;
        (0..self.groups.len())
            .map(|i| (i as f64 + 0.5) / m)
            .map(|q| quantile_pair(a, b, q, 1.0 - q).0)
            .collect()
    }

    /// Resampled are the groups, and within each what its count allows.
    pub(super) fn worlds(&self, weight: f64, stream: &Stream) -> Worlds {
        let count = self.groups.len();
        let weight = weight / count as f64;
        let again = (0..RESAMPLES as u64)
            .map(|r| {
                let mut dice = stream.at(r);
                let picked: Vec<&Group> =
                    (0..count).map(|_| self.groups[dice.random_range(0..count)]).collect();
                let picked = Self::of(&picked);
                let mut chances = picked.chances();
                for (chance, group) in chances.iter_mut().zip(&picked.groups) {
                    // A group that saw nothing (or nothing else) shows no more
                    // than that its chance is small (or near 1).
                    if group.held == 0 || group.held == group.flights {
                        *chance = allowed(group.held, group.flights, &mut dice);
                    }
                }
                chances
            })
            .collect();
        let list = self
            .groups
            .iter()
            .zip(self.chances())
            .map(|(group, chance)| World { weight, chance, at: group.at.clone() })
            .collect();
        let flights = self.groups.iter().map(|g| g.flights).sum();
        Worlds { list, shape: Shape::Shares, flights, again }
    }
}
