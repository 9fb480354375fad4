//! A probability from counts, with its interval.

use super::beta::beta_quantile;
use crate::{
    math::{expm1, ln},
    note::{Kind, Note, Subject},
};
use serde::{Deserialize, Serialize};

/// Its section of the page of trust.
const SUBJECT: Subject =
    Subject { key: "counts", claims: "What a count of flights says of a chance" };

/// What it says of itself.
pub(crate) const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "interval of a chance",
    how: "the exact binomial interval",
    source: "held against a reference library",
    kind: Kind::Library,
    range: "independent draws",
    leaves_out: "",
};

/// The level of every interval unless asked otherwise.
pub const LEVEL: f64 = 0.95;

/// A probability estimated from `k` successes in `n` independent trials.
///
/// Without trials nothing is known: the estimate is one half, the interval
/// everything from 0 to 1.
///
/// ```
/// use longodds_sim::estimate::Proportion;
/// let p = Proportion::clopper_pearson(20, 100, 0.95);
/// assert!((p.low - 0.12666).abs() < 1e-5 && (p.high - 0.29184).abs() < 1e-5);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Proportion {
    /// Successes.
    pub k: u64,
    /// Trials.
    pub n: u64,
    /// k / n.
    pub estimate: f64,
    /// Lower end of the interval.
    pub low: f64,
    /// Upper end of the interval.
    pub high: f64,
    /// Confidence (or posterior) level of the interval.
    pub level: f64,
    /// Trials among them whose end nobody saw: the interval has room for every one of
    /// them having succeeded, and for none.
    #[serde(default, skip_serializing_if = "none")]
    pub open: u64,
}

fn none(count: &u64) -> bool {
    *count == 0
}

impl Proportion {
    /// With the interval that holds at least its level whatever the
    /// probability: the one to print.
    ///
    /// `level` in (0, 1); `k <= n`.
    ///
    /// Source: Clopper & Pearson, Biometrika 26 (1934).
    #[must_use]
    pub fn clopper_pearson(k: u64, n: u64, level: f64) -> Self {
        let (successes, failures) = counts(k, n);
        let tail = 0.5 * (1.0 - level);
        let low = if k == 0 { 0.0 } else { beta_quantile(successes, failures + 1.0, tail) };
        let high = if k >= n { 1.0 } else { beta_quantile(successes + 1.0, failures, 1.0 - tail) };
        Self::assemble(k, n, level, low, high)
    }

    /// With the interval to print: [`Proportion::clopper_pearson`], and where
    /// not one trial succeeded, or not one failed, the one-sided bound at the
    /// whole level, about 3/n at 95 %. The estimate is one end then, and only
    /// the other is left to be wrong about.
    ///
    /// ```
    /// use longodds_sim::estimate::Proportion;
    /// let never = Proportion::printed(0, 3000, 0.95);
    /// assert!((never.high - 9.98e-4).abs() < 1e-6);
    /// ```
    #[must_use]
    pub fn printed(k: u64, n: u64, level: f64) -> Self {
        let both = Self::clopper_pearson(k, n, level);
        match k {
            _ if n == 0 => both,
            0 => Self { high: both.at_most(), ..both },
            k if k == n => Self { low: both.at_least(), ..both },
            _ => both,
        }
    }

    /// With room for trials whose end nobody saw: they are among the failures here,
    /// and all of them may have been successes.
    ///
    /// ```
    /// use longodds_sim::estimate::Proportion;
    /// let wide = Proportion::printed(0, 50, 0.95).left_open(50);
    /// assert_eq!((wide.low, wide.high), (0.0, 1.0));
    /// ```
    #[must_use]
    pub fn left_open(self, open: u64) -> Self {
        if open == 0 || self.n == 0 {
            return self;
        }
        let most = Self::printed((self.k + open).min(self.n), self.n, self.level);
        Self { high: self.high.max(most.high), open, ..self }
    }

    fn assemble(k: u64, n: u64, level: f64, low: f64, high: f64) -> Self {
        debug_assert!(k <= n, "more successes than trials");
        let estimate = if n == 0 { 0.5 } else { k as f64 / n as f64 };
        Self { k, n, estimate, low, high, level, open: 0 }
    }

    /// The probability that is not exceeded at this level, one-sided.
    ///
    /// Without successes: 1 - (1 - level)^(1/n), about 3/n at 95 %.
    #[must_use]
    pub fn at_most(&self) -> f64 {
        let (successes, failures) = counts(self.k, self.n);
        if self.k >= self.n {
            1.0
        } else if self.k == 0 {
            -expm1(ln(1.0 - self.level) / failures)
        } else {
            beta_quantile(successes + 1.0, failures, self.level)
        }
    }

    /// The probability that is reached at least at this level, one-sided.
    #[must_use]
    pub fn at_least(&self) -> f64 {
        let (successes, failures) = counts(self.k, self.n);
        if self.k == 0 { 0.0 } else { beta_quantile(successes, failures + 1.0, 1.0 - self.level) }
    }

    /// Width of the interval.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.high - self.low
    }

    /// Relative standard error of the estimate, sqrt((1 - p) / k); infinite
    /// without successes.
    #[must_use]
    pub fn relative_error(&self) -> f64 {
        ((1.0 - self.estimate) / self.k as f64).sqrt()
    }
}

fn counts(k: u64, n: u64) -> (f64, f64) {
    (k as f64, n.saturating_sub(k) as f64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::estimate::{binomial_probability, incomplete_beta};

    /// n, k, then low and high of Clopper-Pearson, Wilson and Jeffreys.
    type Row = (u64, u64, [f64; 6]);

    /// Source: 50-digit arithmetic (mpmath), 95 % two-sided; Jeffreys without
    /// the ends at k = 0 and k = n.
    #[rustfmt::skip]
    const TABLE: [Row; 17] = [
        (5, 0, [0.0, 0.5218237501049815, 0.0, 0.4344824647831748, 9.342060003954472e-5, 0.3793771422990394]),
        (5, 1, [0.005050763379468057, 0.7164179361180895, 0.03622410863243016, 0.6244653702374747, 0.02251276599915512, 0.6286264006319943]),
        (10, 3, [0.06673951117773447, 0.6524528500599973, 0.107791267406301, 0.6032218525388547, 0.09269459393815316, 0.6058183181486713]),
        (20, 3, [0.03207093718546371, 0.3789268265453139, 0.0523687458962166, 0.360418864740757, 0.04413134197515587, 0.3485777108584541]),
        (100, 1, [0.0002531460329774206, 0.05445938539208066, 0.001767432064140648, 0.05448619617870532, 0.001081101709080064, 0.04577889660072312]),
        (100, 20, [0.1266555521019559, 0.2918426890886281, 0.1333669333310325, 0.2888291655931589, 0.1307904154186848, 0.2862795728273174]),
        (1000, 7, [0.002818858759620526, 0.01436919497891863, 0.003394868400990765, 0.01437831546576659, 0.003136359328135388, 0.01369446024235443]),
        (1000, 500, [0.4685491729717919, 0.5314508270282081, 0.4690696003681042, 0.5309303996318958, 0.4690477126991139, 0.5309522873008861]),
        (100_000, 0, [0.0, 3.688811415792421e-5, 0.0, 3.841311258303964e-5, 4.910333297971968e-9, 2.511905264925795e-5]),
        (100_000, 37, [0.0002605271060817311, 0.0005099605611549961, 0.0002684614901035038, 0.0005099231967762244, 0.0002647229744962155, 0.0005041615993323831]),
        (1_000_000, 10, [4.795398777545602e-6, 1.839027889123853e-5, 5.431994839843523e-6, 1.840937239522014e-5, 5.141460095942274e-6, 1.773936487140565e-5]),
        (10_000_000, 1, [2.531780795224031e-9, 5.571642117360731e-7, 1.765245571161743e-8, 5.664932019606462e-7, 1.07897643427295e-8, 4.67420082669512e-7]),
        (10_000_000, 250, [2.199683149388702e-5, 2.829872382842238e-5, 2.208718137073626e-5, 2.829694515647842e-5, 2.204373314008775e-5, 2.824562848778477e-5]),
        (100_000_000, 0, [0.0, 3.688879386074779e-8, 0.0, 3.841458673126073e-8, 4.91034557358836e-12, 2.511943055828297e-8]),
        (100_000_000, 7, [2.814363096347562e-8, 1.44226748264282e-7, 3.390863881155441e-8, 1.445059425416642e-7, 3.131068950263404e-8, 1.37441959338932e-7]),
        (100_000_000, 12_345, [0.0001212819399577861, 0.0001256470840275623, 0.0001212915744755435, 0.0001256468306266263, 0.0001212868958655417, 0.0001256420399364961]),
        (100_000_000, 50_000_000, [0.4999019968019593, 0.5000980031980407, 0.4999020018026553, 0.5000979981973447, 0.4999020018019591, 0.5000979981980409]),
    ];

    fn near(found: f64, exact: f64) -> bool {
        (found - exact).abs() <= 1e-12 * exact.abs()
    }

    #[test]
    fn intervals_agree_with_fifty_digit_arithmetic() {
        for (n, k, [cp_low, cp_high, _, _, j_low, j_high]) in TABLE {
            let cp = Proportion::clopper_pearson(k, n, LEVEL);
            assert!(near(cp.low, cp_low) && near(cp.high, cp_high), "{k}/{n}: {cp:?}");
            let (a, b) = (k as f64 + 0.5, (n - k) as f64 + 0.5);
            let j = [beta_quantile(a, b, 0.025), beta_quantile(a, b, 0.975)];
            assert!(near(j[0], j_low) && near(j[1], j_high), "{k}/{n}: {j:?}");
        }
    }

    /// Source: R 3.6.2 `binom.test` and `prop.test`, as quoted in scipy's tests.
    #[test]
    fn intervals_agree_with_published_ones() {
        let p = Proportion::clopper_pearson(3, 50, 0.99);
        assert!((p.low - 0.006_872_485).abs() < 5e-10 && (p.high - 0.202_706_269).abs() < 5e-10);
        let p = Proportion::clopper_pearson(20, 100, 0.95);
        assert!(near(p.at_most(), 0.277_200_249_670_913_8));
        assert!(near(p.at_least(), 0.136_661_325_245_867_2));
    }

    /// Source: 50-digit arithmetic, one-sided 95 %.
    #[test]
    fn never_seen_is_not_never() {
        for (n, upper) in [
            (10, 0.258_865_550_893_052),
            (59, 0.049_507_609_888_226_9),
            (299, 0.009_969_146_792_899_27),
            (100_000, 2.995_687_401_942_8e-5),
            (100_000_000, 2.995_732_228_681_93e-8),
        ] {
            let p = Proportion::clopper_pearson(0, n, LEVEL).at_most();
            assert!((p / upper - 1.0_f64).abs() < 1e-12, "{n}");
        }
    }

    /// Source: exact coverage over p in 5e-4..0.5 computed with a reference
    /// library: n = 30 Clopper-Pearson 0.951 / 0.973 (least / mean).
    #[test]
    fn intervals_cover_as_often_as_they_say() {
        let n = 30;
        let intervals: Vec<_> = (0..=n).map(|k| Proportion::clopper_pearson(k, n, 0.95)).collect();
        let mut cp = (1.0_f64, 0.0);
        let points = 1000_u32;
        for i in 1..=points {
            let p = 0.5 * f64::from(i) / f64::from(points);
            let covers = |of: &Proportion| of.low <= p && p <= of.high;
            let c: f64 = (0..=n)
                .filter(|k| covers(&intervals[usize::try_from(*k).unwrap()]))
                .map(|k| binomial_probability(k, n, p))
                .sum();
            cp = (cp.0.min(c), cp.1 + c / f64::from(points));
        }
        assert!(cp.0 >= 0.95 && (cp.0 - 0.951).abs() < 2e-3, "{cp:?}");
        assert!((cp.1 - 0.973).abs() < 3e-3, "{cp:?}");
    }

    #[test]
    fn the_interval_is_where_the_tails_are_half_the_rest() {
        let p = Proportion::clopper_pearson(4, 17, 0.9);
        assert!((incomplete_beta(4.0, 14.0, p.low) - 0.05).abs() < 1e-13);
        assert!((1.0 - incomplete_beta(5.0, 13.0, p.high) - 0.05).abs() < 1e-13);
    }

    /// Source: the rule of three, 1 - 0.05^(1/n) without successes.
    #[test]
    fn what_never_happened_has_one_bound_however_it_is_said() {
        let never = Proportion::printed(0, 20_000, 0.95);
        assert_eq!((never.low, never.high), (0.0, never.at_most()));
        assert!((never.high * 20_000.0 - 2.9955).abs() < 1e-4, "{}", never.high);
        let always = Proportion::printed(20_000, 20_000, 0.95);
        assert!((1.0 - always.low - never.high).abs() < 1e-12 && always.high >= 1.0);
        let some = Proportion::printed(1, 20_000, 0.95);
        assert_eq!(some, Proportion::clopper_pearson(1, 20_000, 0.95));
        let nothing = Proportion::printed(0, 0, 0.95);
        assert_eq!((nothing.low, nothing.high), (0.0, 1.0));
    }

    #[test]
    fn without_trials_nothing_is_known() {
        let p = Proportion::clopper_pearson(0, 0, LEVEL);
        assert!(p.low <= 0.0 && p.high >= 1.0 && (p.estimate - 0.5).abs() < 1e-15);
    }
}
