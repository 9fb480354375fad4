//! The groups' own shares, freed of the noise of counting.

use super::{Group, RESAMPLES, Shape, World, Worlds, reused::index};
use crate::{
    estimate::{beta::quantile_pair, beta_quantile},
    sampling::Stream,
};

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
        let slots: Vec<u32> = (0..).take(2 * count).collect();
        let mut places = vec![0.0; 2 * count];
        let again = (0..RESAMPLES as u64)
            .map(|r| {
                stream.fill(r, &slots, &mut places);
                let picked: Vec<&Group> =
                    places[..count].iter().map(|u| self.groups[index(*u, count)]).collect();
                let mut chances = Self::of(&picked).chances();
                for (chance, (group, u)) in
                    chances.iter_mut().zip(Self::of(&picked).groups.iter().zip(&places[count..]))
                {
                    // A group that saw nothing (or nothing else) shows no more
                    // than that its chance is small (or near 1).
                    if group.held == 0 || group.held == group.flights {
                        let (a, b) = (group.held as f64, (group.flights - group.held) as f64);
                        *chance = beta_quantile(a + 0.5, b + 0.5, *u);
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
