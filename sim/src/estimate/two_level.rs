//! How often it happens, and how much of that we do not know.
//!
//! Some inputs vary from event to event, others have one value that is not
//! known to us. Flights in groups, each group with one draw of the unknown
//! inputs, tell the two apart: within a group the share of successes is a
//! frequency that a witness could count; from group to group it shows what our
//! ignorance leaves open.

use super::{
    beta::{beta_quantile, quantile_pair},
    quantile, student_quantile,
};
use crate::{
    sampling::{Domain, Stream},
    uncertain::normal_quantile,
};

/// Resamples behind each interval.
const RESAMPLES: u64 = 400;
/// Percentiles of the resamples that bound a 95 % interval: 2.5 and 97.5 %
/// covered 91 to 92 % on problems with exact answers.
const PERCENTILES: [f64; 2] = [0.01, 0.99];
/// Share of the groups' variance that must be real for the groups themselves to
/// show the band; below it, a Beta shape is assumed.
const RELIABLE: f64 = 0.5;
/// Fewer successes than this in a group do not bound its frequency from below.
const FEW: u64 = 5;

/// Successes and flights of groups that share their unknown inputs.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TwoLevel {
    groups: Vec<(u64, u64)>,
}

/// The chance over everything, varying and unknown, with an interval that
/// minds the groups.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GroupedChance {
    /// Successes over flights.
    pub estimate: f64,
    /// Lower end of the interval.
    pub low: f64,
    /// Upper end of the interval.
    pub high: f64,
    /// Level of the interval.
    pub level: f64,
    /// Independent flights that the groups are worth.
    pub effective: f64,
}

/// Frequencies that the unknown inputs leave open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// The frequency is below this for half of the rest of the unknowns.
    pub low: f64,
    /// The frequency is above this for the other half.
    pub high: f64,
    /// 95 % interval of `low`, from the limited number of groups and flights.
    pub low_interval: [f64; 2],
    /// 95 % interval of `high`.
    pub high_interval: [f64; 2],
    /// Share of the unknowns between the two.
    pub share: f64,
    /// Standard deviation of the frequency over the unknowns.
    pub sd: f64,
    /// How the band was found.
    pub shape: BandShape,
}

/// How a [`Band`] was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BandShape {
    /// From the groups' own shares, freed of the noise of counting.
    Groups,
    /// A Beta distribution with the groups' mean and variance, because counting
    /// noise outweighs what the groups show.
    Beta,
    /// The groups differ no more than counting noise does: the unknown inputs
    /// make no difference that could be seen.
    NoDifference,
}

impl TwoLevel {
    /// From (successes, flights) of each group; groups without flights are left
    /// out.
    #[must_use]
    pub fn new(groups: Vec<(u64, u64)>) -> Self {
        let groups = groups.into_iter().filter(|g| g.1 > 0).collect();
        Self { groups }
    }

    /// Number of groups with flights.
    #[must_use]
    pub fn groups(&self) -> usize {
        self.groups.len()
    }

    /// The chance over all flights, with an interval at `level`; `None` for
    /// fewer than two groups.
    ///
    /// With a success or more, flights of one group count for less than
    /// independent ones, as far as their groups differ. Without any success the
    /// groups cannot show whether they differ, and flights count in full.
    ///
    /// Source: Korn & Graubard, Survey Methodology 24 (1998): the
    /// Clopper-Pearson interval at the effective sample size. (From memory.)
    #[must_use]
    pub fn chance(&self, level: f64) -> Option<GroupedChance> {
        let m = self.groups.len() as f64;
        if m < 2.0 {
            return None;
        }
        let (k, n) = self.groups.iter().fold((0, 0), |sum, g| (sum.0 + g.0, sum.1 + g.1));
        let (k, n) = (k as f64, n as f64);
        let p = k / n;
        let squares: f64 = self
            .groups
            .iter()
            .map(|g| (g.0 as f64 - p * g.1 as f64) * (g.0 as f64 - p * g.1 as f64))
            .sum();
        let variance = squares * m / ((m - 1.0) * n * n);
        let tail = 0.5 * (1.0 - level);
        let effective = if variance > 0.0 {
            let z_over_t = normal_quantile(1.0 - tail) / student_quantile(1.0 - tail, m - 1.0);
            (p * (1.0 - p) / variance).min(n) * z_over_t * z_over_t
        } else {
            n
        };
        let (hits, misses) = (p * effective, (1.0 - p) * effective);
        let low = if k <= 0.0 { 0.0 } else { beta_quantile(hits, misses + 1.0, tail) };
        let high = if k >= n { 1.0 } else { beta_quantile(hits + 1.0, misses, 1.0 - tail) };
        Some(GroupedChance { estimate: p, low, high, level, effective })
    }

    /// The band of frequencies that the unknown inputs leave open, holding a
    /// `share` of them (in (0, 1), such as 0.9); `None` for fewer than ten
    /// groups, or groups of a single flight.
    ///
    /// The shares of the groups scatter more than the frequencies behind them,
    /// because each is counted from few flights; they are drawn together around
    /// their mean until their variance is that of the frequencies. A group with
    /// fewer than five successes bounds its frequency from above only: the
    /// lower interval then begins at 0.
    #[must_use]
    pub fn band(&self, share: f64, seed: u64) -> Option<Band> {
        let usable: Vec<_> = self.groups.iter().copied().filter(|g| g.1 > 1).collect();
        if usable.len() < 10 {
            return None;
        }
        let tails = [0.5 * (1.0 - share), 0.5 * (1.0 + share)];
        let whole = Spread::of(&usable);
        let shape = whole.shape();
        let [low, high] = whole.ends(tails, shape);
        let mut resampled = [Vec::new(), Vec::new()];
        let stream = Stream::new(seed, Domain::BOOTSTRAP.part(1));
        let slots: Vec<u32> = (0..).take(usable.len()).collect();
        let mut places = vec![0.0; usable.len()];
        for r in 0..RESAMPLES {
            stream.fill(r, &slots, &mut places);
            let groups: Vec<_> = places.iter().map(|u| usable[index(*u, usable.len())]).collect();
            let ends = Spread::of(&groups).ends(tails, shape);
            for (all, end) in resampled.iter_mut().zip(ends) {
                all.push(end);
            }
        }
        let [mut low_interval, high_interval] = resampled.map(|mut ends| {
            ends.sort_by(f64::total_cmp);
            PERCENTILES.map(|q| quantile(&ends, q).unwrap_or(f64::NAN))
        });
        if whole.successes_at(tails[0]) < FEW {
            low_interval[0] = 0.0;
        }
        Some(Band { low, high, low_interval, high_interval, share, sd: whole.real.sqrt(), shape })
    }
}

/// Shares of groups, their mean, and how much of their variance is real.
struct Spread {
    /// Successes and share, by rising share.
    shares: Vec<(f64, u64)>,
    mean: f64,
    /// Variance of the shares.
    seen: f64,
    /// Variance of the frequencies behind them, >= 0.
    real: f64,
    /// Standard error of `real` if there were no difference.
    noise: f64,
}

impl Spread {
    fn of(groups: &[(u64, u64)]) -> Self {
        let mut shares: Vec<(f64, u64)> =
            groups.iter().map(|g| (g.0 as f64 / g.1 as f64, g.0)).collect();
        shares.sort_by(|a, b| a.0.total_cmp(&b.0));
        let m = shares.len() as f64;
        let mean = shares.iter().map(|s| s.0).sum::<f64>() / m;
        let seen = shares.iter().map(|s| (s.0 - mean) * (s.0 - mean)).sum::<f64>() / (m - 1.0);
        let counting = groups
            .iter()
            .map(|g| {
                let share = g.0 as f64 / g.1 as f64;
                share * (1.0 - share) / (g.1 as f64 - 1.0)
            })
            .sum::<f64>()
            / m;
        let noise = counting * (2.0 / (m - 1.0)).sqrt();
        Self { shares, mean, seen, real: (seen - counting).max(0.0), noise }
    }

    fn shape(&self) -> BandShape {
        if self.real <= 2.0 * self.noise {
            BandShape::NoDifference
        } else if self.real < RELIABLE * self.seen {
            BandShape::Beta
        } else {
            BandShape::Groups
        }
    }

    fn ends(&self, tails: [f64; 2], shape: BandShape) -> [f64; 2] {
        let flat = self.real <= 0.0 || self.seen <= 0.0;
        match shape {
            // What may hide in the noise is left to the interval.
            _ if flat => [self.mean; 2],
            BandShape::NoDifference | BandShape::Beta => self.beta_ends(tails),
            BandShape::Groups => {
                let draw_in = (self.real / self.seen).sqrt();
                let shares: Vec<f64> = self.shares.iter().map(|s| s.0).collect();
                tails.map(|q| {
                    let share = quantile(&shares, q).unwrap_or(self.mean);
                    self.mean + draw_in * (share - self.mean)
                })
            }
        }
    }

    /// Quantiles of the Beta distribution of the same mean and variance.
    fn beta_ends(&self, tails: [f64; 2]) -> [f64; 2] {
        let most = self.mean * (1.0 - self.mean);
        let size = most / self.real.min(0.999 * most) - 1.0;
        let (a, b) = (self.mean * size, (1.0 - self.mean) * size);
        tails.map(|q| quantile_pair(a, b, q, 1.0 - q).0)
    }

    /// Successes of the group at this share of all groups.
    fn successes_at(&self, q: f64) -> u64 {
        self.shares[index(q, self.shares.len())].1
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a place below the length"
)]
fn index(u: f64, length: usize) -> usize {
    ((u * length as f64) as usize).min(length - 1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        estimate::{Proportion, binomial_quantile},
        uncertain::normal_cdf,
    };

    /// Groups of `flights`, whose frequency is a function of a uniform number.
    fn imagine(frequency: impl Fn(f64) -> f64, groups: u64, flights: u64, seed: u64) -> TwoLevel {
        let stream = Stream::new(seed, Domain::UNKNOWN);
        let of = |g| {
            let p = frequency(stream.uniform(g, 0));
            (binomial_quantile(stream.uniform(g, 1), flights, p), flights)
        };
        TwoLevel::new((0..groups).map(of).collect())
    }

    /// How often the two intervals hold the two exact ends, of `repeats`.
    fn coverage(
        frequency: impl Fn(f64) -> f64 + Copy,
        groups: u64,
        flights: u64,
        repeats: u64,
    ) -> [u64; 2] {
        let exact = [frequency(0.05), frequency(0.95)];
        let mut covered = [0; 2];
        for seed in 0..repeats {
            let band = imagine(frequency, groups, flights, seed).band(0.9, seed).unwrap();
            for ((count, interval), end) in
                covered.iter_mut().zip([band.low_interval, band.high_interval]).zip(exact)
            {
                *count += u64::from(interval[0] <= end && end <= interval[1]);
            }
        }
        covered
    }

    /// Source: closed form, frequencies Beta(2, 18); counts are beta-binomial.
    /// 57 of 60 intervals cover on average, with a standard deviation of 1.7.
    #[test]
    fn a_beta_of_frequencies_has_its_known_band() {
        let frequency = |u| beta_quantile(2.0, 18.0, u);
        let band = imagine(frequency, 1000, 1000, 1).band(0.9, 1).unwrap();
        assert_eq!(band.shape, BandShape::Groups);
        assert!((band.low / frequency(0.05) - 1.0).abs() < 0.2, "{band:?}");
        assert!((band.high / frequency(0.95) - 1.0).abs() < 0.1, "{band:?}");
        // Variance of Beta(2, 18): 36 / (400 * 21).
        assert!((band.sd / (36.0_f64 / 8400.0).sqrt() - 1.0).abs() < 0.08, "{band:?}");
        let covered = coverage(frequency, 200, 300, 60);
        assert!(covered.iter().all(|c| *c >= 51), "{covered:?}");
    }

    /// Source: closed form: success where a normal variable exceeds a limit
    /// whose mean is itself normal and unknown: frequency Phi(-1.5 + 0.5 z).
    #[test]
    fn a_normal_with_unknown_mean_has_its_known_band() {
        let frequency = |u| normal_cdf(-1.5 + 0.5 * normal_quantile(u));
        let band = imagine(frequency, 1000, 1000, 2).band(0.9, 2).unwrap();
        assert!((band.low / frequency(0.05) - 1.0).abs() < 0.25, "{band:?}");
        assert!((band.high / frequency(0.95) - 1.0).abs() < 0.1, "{band:?}");
        let covered = coverage(frequency, 200, 300, 60);
        assert!(covered.iter().all(|c| *c >= 51), "{covered:?}");
    }

    #[test]
    fn few_flights_a_group_fall_back_on_a_shape() {
        let frequency = |u| beta_quantile(20.0, 180.0, u);
        let band = imagine(frequency, 2000, 40, 3).band(0.9, 3).unwrap();
        assert_eq!(band.shape, BandShape::Beta);
        assert!((band.low / frequency(0.05) - 1.0).abs() < 0.15, "{band:?}");
        assert!((band.high / frequency(0.95) - 1.0).abs() < 0.15, "{band:?}");
    }

    #[test]
    fn unknowns_that_do_not_matter_leave_no_band() {
        let mut seen = 0;
        for seed in 0..40 {
            let band = imagine(|_| 0.1, 200, 200, seed).band(0.9, seed).unwrap();
            seen += u32::from(band.shape != BandShape::NoDifference);
            assert!(band.low > 0.07 && band.high < 0.13, "{band:?}");
        }
        // Two standard errors: one in forty by chance.
        assert!(seen <= 5, "{seen}");
    }

    /// 95 % of 400 is 380, with a standard deviation of 4.4.
    #[test]
    fn the_chance_over_everything_covers_where_plain_counting_does_not() {
        let (mut ours, mut naive) = (0, 0);
        for seed in 0..400 {
            let groups = imagine(|u| beta_quantile(2.0, 18.0, u), 60, 100, seed);
            let found = groups.chance(0.95).unwrap();
            ours += u32::from(found.low <= 0.1 && 0.1 <= found.high);
            let k = groups.groups.iter().map(|g| g.0).sum();
            let plain = Proportion::clopper_pearson(k, 6000, 0.95);
            naive += u32::from(plain.low <= 0.1 && 0.1 <= plain.high);
        }
        assert!(ours >= 366, "{ours}");
        assert!(naive < 320, "{naive}");
    }

    #[test]
    fn groups_that_do_not_differ_count_in_full() {
        let groups = imagine(|_| 0.3, 100, 100, 5);
        assert!(groups.chance(0.95).unwrap().effective > 6000.0);
        assert_eq!(TwoLevel::new(vec![(1, 5), (0, 0)]).chance(0.95), None);
        let none = TwoLevel::new(vec![(0, 50); 20]).chance(0.95).unwrap();
        assert!(none.low <= 0.0 && none.high < 0.004);
        assert_eq!(TwoLevel::new(vec![(3, 50); 9]).band(0.9, 1), None);
    }
}
