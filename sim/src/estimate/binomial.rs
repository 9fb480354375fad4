//! The binomial distribution, by the incomplete beta function.

use super::beta::{prefix, tails};

/// P(K <= k) of a binomial count: n trials of chance p.
#[must_use]
pub fn binomial_cdf(k: u64, n: u64, p: f64) -> f64 {
    if k >= n {
        return 1.0;
    }
    tails((n - k) as f64, k as f64 + 1.0, 1.0 - p, p).0
}

/// P(K = k) of a binomial count: n trials of chance p.
#[must_use]
pub fn binomial_probability(k: u64, n: u64, p: f64) -> f64 {
    let q = 1.0 - p;
    if k > n {
        return 0.0;
    }
    if p <= 0.0 || q <= 0.0 {
        let sure = if p <= 0.0 { k == 0 } else { k == n };
        return f64::from(u8::from(sure));
    }
    let (a, b) = (k as f64 + 1.0, (n - k) as f64 + 1.0);
    prefix(a, b, p, q) / ((a + b - 1.0) * p * q)
}

/// The smallest k with P(K <= k) >= u.
#[must_use]
pub fn binomial_quantile(u: f64, n: u64, p: f64) -> u64 {
    let (mut low, mut high) = (0, n);
    while low < high {
        let middle = low + (high - low) / 2;
        if binomial_cdf(middle, n, p) >= u { high = middle } else { low = middle + 1 }
    }
    low
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: P(K >= 3) of 10 shots of chance 0.1 is 0.070190826400; P(K >= 1)
    /// of 20 shots of chance 0.03 is 0.456205657073 (scipy.stats.binom).
    #[test]
    fn tails_agree_with_a_reference_library() {
        assert!((1.0 - binomial_cdf(2, 10, 0.1) - 0.070_190_826_400).abs() < 1e-12);
        assert!((1.0 - binomial_cdf(0, 20, 0.03) - 0.456_205_657_073).abs() < 1e-12);
    }

    #[test]
    fn single_chances_add_up_to_the_cumulative_one() {
        let mut sum = 0.0;
        for k in 0..=40 {
            sum += binomial_probability(k, 40, 0.13);
            assert!((sum - binomial_cdf(k, 40, 0.13)).abs() < 1e-14, "{k}");
        }
        assert!((binomial_probability(0, 5, 0.0) - 1.0).abs() < 1e-15);
    }

    #[test]
    fn the_quantile_is_the_first_count_that_reaches() {
        for u in [0.001, 0.025, 0.5, 0.975] {
            let k = binomial_quantile(u, 500, 0.02);
            assert!(binomial_cdf(k, 500, 0.02) >= u);
            assert!(k == 0 || binomial_cdf(k - 1, 500, 0.02) < u);
        }
    }
}
