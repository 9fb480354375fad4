//! Two settings compared by their counts: Fisher's exact test.

use super::beta::ln_beta;
use crate::math::{exp, ln};

/// Chances, if both settings were alike, of a table as far apart as the one
/// seen or further.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fisher {
    /// The first setting does at least as much better.
    pub greater: f64,
    /// The first setting does at least as much worse.
    pub less: f64,
    /// Any table no more likely than the one seen.
    pub two_sided: f64,
}

/// Compares `a` hits and `b` misses at one setting with `c` hits and `d` misses
/// at another, all marginal totals as seen.
///
/// Source: Fisher, Statistical Methods for Research Workers; the two-sided
/// value adds every table whose probability is at most that of the one seen,
/// with a tolerance of 1e-7 for rounding.
#[must_use]
pub fn fisher_exact(a: u64, b: u64, c: u64, d: u64) -> Fisher {
    let (first, hits, all) = (a + b, a + c, a + b + c + d);
    let least = first.saturating_sub(all - hits);
    let most = first.min(hits);
    let seen = table(a, first, hits, all);
    let mut result = Fisher { greater: 0.0, less: 0.0, two_sided: 0.0 };
    for x in least..=most {
        let p = table(x, first, hits, all);
        if x >= a {
            result.greater += p;
        }
        if x <= a {
            result.less += p;
        }
        if p <= seen * (1.0 + 1e-7) {
            result.two_sided += p;
        }
    }
    let cap = |p: f64| p.min(1.0);
    Fisher {
        greater: cap(result.greater),
        less: cap(result.less),
        two_sided: cap(result.two_sided),
    }
}

/// Hypergeometric probability of x hits among the first setting's shots.
fn table(x: u64, first: u64, hits: u64, all: u64) -> f64 {
    exp(ln_ways(hits, x) + ln_ways(all - hits, first - x) - ln_ways(all, first))
}

/// ln of the number of ways to choose k of n.
fn ln_ways(n: u64, k: u64) -> f64 {
    -ln(n as f64 + 1.0) - ln_beta(k as f64 + 1.0, (n - k) as f64 + 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: `scipy.stats.fisher_exact` (R gives the same).
    #[test]
    fn tables_agree_with_a_reference_library() {
        for ([a, b, c, d], two_sided) in [
            ([8, 2, 1, 5], 0.034_965_034_965_035),
            ([3, 1, 1, 3], 0.485_714_285_714_286),
            ([0, 5, 4, 1], 0.047_619_047_619_048),
            ([7, 3, 2, 8], 0.069_778_518_694_927),
            ([0, 20, 6, 14], 0.020_196_020_196_020),
        ] {
            assert!((fisher_exact(a, b, c, d).two_sided - two_sided).abs() < 1e-13);
        }
        assert!((fisher_exact(8, 2, 1, 5).greater - 0.024_475_524_475_524).abs() < 1e-13);
        assert!((fisher_exact(0, 5, 4, 1).less - 0.023_809_523_809_524).abs() < 1e-13);
    }

    #[test]
    fn large_tables_do_not_break_down() {
        // 30 of 2000 hit; of them 15 among 1000: as even as can be.
        let even = fisher_exact(15, 985, 15, 985);
        assert!((even.two_sided - 1.0).abs() < 1e-9);
        assert!(even.greater > 0.5 && even.greater < 0.6);
    }

    #[test]
    fn nothing_to_compare_is_no_evidence() {
        let none = fisher_exact(0, 0, 3, 2);
        assert!((none.two_sided - 1.0).abs() < 1e-12);
    }
}
