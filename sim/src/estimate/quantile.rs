//! Quantiles of a sorted sample and what is known of the true ones.

use super::binomial_quantile;

/// The value at share `q` in \[0, 1\] of a sample in rising order, straight lines
/// between its values; `None` of nothing.
///
/// Source: Hyndman & Fan, The American Statistician 50 (1996), definition 7.
/// (From memory.)
#[must_use]
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a place between 0 and the last index"
)]
pub fn quantile(sorted: &[f64], q: f64) -> Option<f64> {
    let last = sorted.len().checked_sub(1)?;
    let place = q.clamp(0.0, 1.0) * last as f64;
    let i = (place as usize).min(last.saturating_sub(1));
    let next = sorted[(i + 1).min(last)];
    Some(sorted[i] + (place - i as f64) * (next - sorted[i]))
}

/// An interval that holds the true quantile with at least the given level,
/// whatever the distribution: two values of the sample, an end left open
/// (`None`) where the sample is too small to bound it.
///
/// `sorted` is in rising order and independent; `q` and `level` in (0, 1).
///
/// Source: Hahn & Meeker, Statistical Intervals (1991), section 5.2. (From
/// memory.)
#[must_use]
pub fn quantile_interval(sorted: &[f64], q: f64, level: f64) -> [Option<f64>; 2] {
    let n = sorted.len() as u64;
    let tail = 0.5 * (1.0 - level);
    let at = |rank: u64| {
        let i = usize::try_from(rank.checked_sub(1)?).ok()?;
        sorted.get(i).copied()
    };
    [at(binomial_quantile(tail, n, q)), at(binomial_quantile(1.0 - tail, n, q) + 1)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sampling::{Domain, Stream};

    /// Source: `numpy.quantile([1, 2, 4, 8], q)`.
    #[test]
    fn quantiles_follow_definition_seven() {
        let sample = [1.0, 2.0, 4.0, 8.0];
        for (q, x) in [(0.0, 1.0), (0.25, 1.75), (0.5, 3.0), (0.9, 6.8), (1.0, 8.0)] {
            assert!((quantile(&sample, q).unwrap() - x).abs() < 1e-14);
        }
        assert_eq!(quantile(&[], 0.5), None);
        assert_eq!(quantile(&[2.0], 0.7), Some(2.0));
    }

    /// Source: sign-test interval of the median, n = 10: from the 2nd to the
    /// 9th value covers 97.9 % (handbook tables of order statistics).
    #[test]
    fn the_median_of_ten_lies_between_the_second_and_the_ninth() {
        let sample: Vec<f64> = (1..=10).map(f64::from).collect();
        assert_eq!(quantile_interval(&sample, 0.5, 0.95), [Some(2.0), Some(9.0)]);
    }

    #[test]
    fn a_small_sample_leaves_a_far_quantile_open() {
        let sample: Vec<f64> = (1..=20).map(f64::from).collect();
        let [low, high] = quantile_interval(&sample, 0.99, 0.95);
        assert!(low.is_some() && high.is_none());
    }

    /// At least 95 % of 1000 intervals cover; 93.3 % is 2.5 standard errors
    /// below: false alarm below 0.01 at the exact level, which is higher.
    #[test]
    fn intervals_cover_as_often_as_they_say() {
        let stream = Stream::new(11, Domain::DRAWS);
        let covered = (0..1000)
            .filter(|i| {
                let mut sample: Vec<f64> = (0..60).map(|j| stream.uniform(*i, j)).collect();
                sample.sort_by(f64::total_cmp);
                let [low, high] = quantile_interval(&sample, 0.8, 0.95);
                low.is_none_or(|x| x <= 0.8) && high.is_none_or(|x| 0.8 <= x)
            })
            .count();
        assert!(covered >= 933, "{covered}");
    }
}
