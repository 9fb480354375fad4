//! Stop as soon as it is decided: Wald's sequential probability ratio test.
//!
//! H0: chance `low`; H1: chance `high`. After each shot the events seen are
//! held against two lines `k >= s n + h1` (say H1) and `k <= s n - h0` (say
//! H0). Wald's approximations for errors and expected numbers are 8 to 16 %
//! off for small tests; everything here is exact, by dynamic programming over
//! the shots, and the plan is cut off at a largest number of shots.
//!
//! Source: A. Wald, Sequential Analysis (1947) (from memory; the exact numbers
//! are checked against an independent script).

use super::cost::{Bill, Cost};
use crate::math::{ln, log1p};
use serde::Serialize;

/// A plan.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Sequential {
    /// Chance under H0.
    pub low: f64,
    /// Chance under H1, above `low`.
    pub high: f64,
    /// Slope of both lines, events per shot.
    pub slope: f64,
    /// Lower line: accept H0 at `k <= slope n - accept`.
    pub accept: f64,
    /// Upper line: reject H0 at `k >= slope n + reject`.
    pub reject: f64,
    /// Largest number of shots; there the nearer line decides.
    pub largest: u64,
}

/// How a plan runs when each shot has a given chance.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Course {
    /// The chance per shot.
    pub chance: f64,
    /// P(the plan says: the low chance).
    pub says_low: f64,
    /// P(it is still open at the largest number of shots and the nearer line
    /// decides).
    pub cut_off: f64,
    /// Expected number of shots.
    pub shots: f64,
    /// Expected bill.
    pub bill: Bill,
}

impl Sequential {
    /// The plan with `0 < low < high < 1` and error chances `false_high` (says
    /// high at `low`) and `false_low`, cut off at `largest` shots; `None` where
    /// the numbers are not so.
    #[must_use]
    pub fn new(low: f64, high: f64, false_high: f64, false_low: f64, largest: u64) -> Option<Self> {
        let inside = |p: f64| p > 0.0 && p < 1.0;
        if !([low, high, false_high, false_low].into_iter().all(inside) && low < high) {
            return None;
        }
        let events = ln(high / low);
        let others = log1p(-high) - log1p(-low);
        Some(Self {
            low,
            high,
            slope: -others / (events - others),
            accept: -ln(false_low / (1.0 - false_high)) / (events - others),
            reject: ln((1.0 - false_low) / false_high) / (events - others),
            largest,
        })
    }

    /// What the plan says after `events` in `shots`: `Some(true)` high,
    /// `Some(false)` low, `None` shoot on.
    #[must_use]
    pub fn says(&self, events: u64, shots: u64) -> Option<bool> {
        let (k, middle) = (events as f64, self.slope * shots as f64);
        if k >= middle + self.reject {
            Some(true)
        } else if k <= middle - self.accept {
            Some(false)
        } else if shots >= self.largest {
            Some(k - middle > 0.5 * (self.reject - self.accept))
        } else {
            None
        }
    }

    /// Exact course at a chance per shot.
    #[must_use]
    pub fn course(&self, chance: f64, cost: &Cost) -> Course {
        let mut open = vec![1.0];
        let (mut says_low, mut cut_off, mut shots) = (0.0, 0.0, 0.0);
        for n in 1..=self.largest {
            shots += open.iter().sum::<f64>();
            let mut next = vec![0.0; open.len() + 1];
            for (k, p) in open.iter().enumerate() {
                next[k] += p * (1.0 - chance);
                next[k + 1] += p * chance;
            }
            for (k, p) in next.iter_mut().enumerate() {
                let events = k as f64;
                let line = self.slope * n as f64;
                let inside = events < line + self.reject && events > line - self.accept;
                if inside && n == self.largest {
                    cut_off += *p;
                }
                if let Some(high) = self.says(k as u64, n) {
                    if !high {
                        says_low += *p;
                    }
                    *p = 0.0;
                }
            }
            open = next;
            if open.iter().sum::<f64>() < 1e-15 {
                break;
            }
        }
        Course { chance, says_low, cut_off, shots, bill: cost.bill(shots, shots * chance) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Exact results of an independent script: slope, lines, P(accept H0) and
    /// expected shots.
    #[test]
    fn the_exact_course_matches_the_reference() {
        let plan = Sequential::new(0.1, 0.3, 0.05, 0.1, 2000).unwrap();
        assert!((plan.slope - 0.186_168_941_710).abs() < 1e-12);
        assert!((plan.accept - 1.667_714_084_284).abs() < 1e-11);
        assert!((plan.reject - 2.141_132_345_635).abs() < 1e-11);
        for (chance, low, shots) in [
            (0.05, 0.998_321_789_8, 12.530_523_156_0),
            (0.1, 0.967_047_582_1, 18.526_871_930_8),
            (0.2, 0.492_405_145_5, 28.115_822_894_4),
            (0.3, 0.093_428_441_3, 18.378_216_983_3),
            (0.5, 0.002_332_934_7, 7.989_522_669_3),
        ] {
            let course = plan.course(chance, &Cost::default());
            assert!((course.says_low - low).abs() < 1e-9, "{course:?}");
            assert!((course.shots - shots).abs() < 1e-8, "{course:?}");
            assert!(course.cut_off < 1e-9);
        }
        let plan = Sequential::new(0.5, 0.9, 0.05, 0.1, 2000).unwrap();
        let course = plan.course(0.9, &Cost::default());
        assert!((course.says_low - 0.052_286_645_5).abs() < 1e-9);
        assert!((course.shots - 7.374_750_911_6).abs() < 1e-8);
    }

    #[test]
    fn a_cut_off_shortens_the_plan_and_is_counted() {
        let long = Sequential::new(0.1, 0.3, 0.05, 0.1, 2000).unwrap();
        let short = Sequential { largest: 20, ..long };
        let (long, short) =
            (long.course(0.2, &Cost::default()), short.course(0.2, &Cost::default()));
        assert!(short.shots < long.shots && short.shots <= 20.0);
        assert!(short.cut_off > 0.1);
    }

    #[test]
    fn impossible_plans_are_refused() {
        assert_eq!(Sequential::new(0.3, 0.1, 0.05, 0.1, 10), None);
        assert_eq!(Sequential::new(0.0, 0.1, 0.05, 0.1, 10), None);
        assert_eq!(Sequential::new(0.1, 0.3, f64::NAN, 0.1, 10), None);
    }
}
