//! How those who passed differ from those who came.

use crate::{estimate::BINS, math::ln};

/// See [`Separation::window`].
const WINDOW: f64 = 0.25;

/// How an input is spread among those who passed a gate, beside all who came.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Separation {
    /// Who came to the gate.
    pub came: u64,
    /// Who passed it.
    pub passed: u64,
    /// Chance that one who passed has a larger value than one who did not:
    /// above 0.5 a larger value helps. 0.5 where nobody or everybody passed.
    pub auc: f64,
    /// Distance of `auc` from 0.5 that chance alone exceeds one time in twenty.
    pub auc_noise: f64,
    /// Largest gap between the two cumulative distributions, 0 to 1
    /// (Kolmogorov-Smirnov).
    pub gap: f64,
    /// Gap that chance alone exceeds one time in twenty.
    pub gap_noise: f64,
    /// Whether it helps to be within a window, or outside of one, rather than
    /// larger or smaller: those who passed lie less often at both ends (or more
    /// often), each by more than chance shows and the lesser by a quarter of the
    /// larger at least.
    pub window: bool,
    /// Half of the area between the two densities, 0 to 1: also sees an input
    /// that must lie within a window.
    pub overlap_lost: f64,
    /// What passing tells of the input, in nats (Kullback-Leibler), at least:
    /// bins cannot see finer than they are.
    pub information: f64,
}

/// Compares the counts by bin of who came and who passed.
///
/// Sources: Mann & Whitney (1947), Kolmogorov-Smirnov two-sample test. (From
/// memory.) Those who passed are part of those who came, so the largest gap to
/// expect by chance is that between passed and failed, times the share that
/// failed.
#[must_use]
pub fn separation(came: &[u64; BINS], passed: &[u64; BINS]) -> Separation {
    let (n, n1): (u64, u64) = (came.iter().sum(), passed.iter().sum());
    let n0 = n - n1;
    let [all, hits, misses] = [n, n1, n0].map(|count| count as f64);
    let mut result = Separation {
        came: n,
        passed: n1,
        auc: 0.5,
        auc_noise: 0.5,
        gap: 0.0,
        gap_noise: 1.0,
        window: false,
        overlap_lost: 0.0,
        information: 0.0,
    };
    if n1 == 0 || n0 == 0 {
        return result;
    }
    let (mut auc, mut below_hits, mut below_all) = (0.0, 0.0, 0.0);
    // How far those who passed lie lower, and how far higher.
    let (mut lower, mut higher) = (0.0_f64, 0.0_f64);
    for (c, p) in came.iter().zip(passed) {
        let (here, hit) = (*c as f64, *p as f64);
        let missed_below = below_all - below_hits;
        auc += hit * (missed_below + 0.5 * (here - hit));
        below_hits += hit;
        below_all += here;
        let gap: f64 = below_hits / hits - below_all / all;
        (lower, higher) = (lower.max(gap), higher.max(-gap));
    }
    result.gap = lower.max(higher);
    result.auc = auc / (hits * misses);
    result.auc_noise = 1.96 * ((all + 1.0) / (12.0 * hits * misses)).sqrt();
    result.gap_noise = 1.358 * (misses / (hits * all)).sqrt();
    let lesser = lower.min(higher);
    result.window = lesser > result.gap_noise && lesser >= WINDOW * result.gap;
    let groups = groups(came, passed, hits);
    result.overlap_lost = groups.iter().map(|(c, p)| 0.5 * (p / hits - c / all).abs()).sum();
    result.information = information(&groups, hits, all);
    result
}

/// Joins neighbouring bins so that each holds enough of those who passed.
fn groups(came: &[u64; BINS], passed: &[u64; BINS], hits: f64) -> Vec<(f64, f64)> {
    // About as many groups as members in each.
    let least = (hits / BINS as f64).max(hits.sqrt());
    let mut groups: Vec<(f64, f64)> = Vec::new();
    let (mut c, mut p) = (0.0, 0.0);
    for (more, hit) in came.iter().zip(passed) {
        c += *more as f64;
        p += *hit as f64;
        // A stretch where nobody passed is a group of its own.
        let barren = p < 0.5 && *hit == 0;
        if p >= least || barren {
            groups.push((c, p));
            (c, p) = (0.0, 0.0);
        }
    }
    if c > 0.0 {
        groups.push((c, p));
    }
    groups
}

/// Mean of ln(density ratio) over those who passed, less what chance adds.
fn information(groups: &[(f64, f64)], hits: f64, all: f64) -> f64 {
    let filled = groups.iter().filter(|g| g.1 > 0.0);
    let sum: f64 = filled.clone().map(|(c, p)| p / hits * ln((p / hits) / (c / all))).sum();
    // Each free cell adds about 1/2 to hits x information by chance.
    let free = filled.count().saturating_sub(1) as f64;
    (sum - 0.5 * free / hits * (1.0 - hits / all)).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{drivers::half_space, estimate::bin_of};

    /// Source: exact values for a half-space hit at b = 2 (quadrature): gap and
    /// information of hit against prior. With a million flights and 22 750 hits
    /// the gap is known to 0.003.
    #[test]
    fn a_half_space_has_its_known_gaps_and_information() {
        let tally = half_space::tally(2.0, 1_000_000);
        let exact = [
            (0.762_102_595_2, 1.960_264_828_3),
            (0.475_788_638_7, 0.725_894_058_6),
            (0.285_464_065_9, 0.257_720_690_9),
            (0.095_154_570_1, 0.028_465_343_2),
            (0.0, 0.0),
        ];
        for (input, (gap, information)) in exact.into_iter().enumerate() {
            let came = tally.passed_at_least(input, 0);
            let found = separation(&came, &tally.passed_at_least(input, 1));
            assert!((found.gap - gap).abs() < 0.012, "{input}: {found:?}");
            assert!((found.overlap_lost - gap).abs() < 0.03, "{input}: {found:?}");
            assert!((found.information - information).abs() < 0.03, "{input}: {found:?}");
        }
    }

    /// Source: a window |u - 1| < 0.1 of a normal input: gap 0.8159, area
    /// 0.9516, information -ln p = 3.0284; bins of a sixteenth of their place
    /// see a little less.
    #[test]
    fn a_window_is_seen_though_its_direction_is_not_clear() {
        let (mut came, mut passed) = ([0; BINS], [0; BINS]);
        let n = 200_000_u32;
        for i in 0..n {
            let u = (f64::from(i) + 0.5) / f64::from(n);
            came[bin_of(u)] += 1;
            let z = crate::uncertain::normal_quantile(u);
            passed[bin_of(u)] += u64::from((z - 1.0).abs() < 0.1);
        }
        let found = separation(&came, &passed);
        assert!((found.gap - 0.8159).abs() < 0.02, "{found:?}");
        assert!((found.overlap_lost - 0.9516).abs() < 0.02, "{found:?}");
        assert!(found.information > 2.75 && found.information < 3.03, "{found:?}");
    }

    /// A window that lies alike on both sides of the middle has no direction,
    /// nor has one with its edges a little apart; a threshold has one.
    #[test]
    fn a_symmetric_window_is_one_and_a_threshold_is_none() {
        let passing = |holds: &dyn Fn(f64) -> bool| {
            let (mut came, mut passed) = ([0; BINS], [0; BINS]);
            for i in 0..100_000_u32 {
                let u = (f64::from(i) + 0.5) / 1e5;
                came[bin_of(u)] += 1;
                passed[bin_of(u)] += u64::from(holds(u));
            }
            separation(&came, &passed).window
        };
        for half in [0.02, 0.1, 0.3, 0.45] {
            assert!(passing(&|u| (u - 0.5).abs() < half), "{half}");
            assert!(passing(&|u| (u - 0.5).abs() > half), "{half}");
            assert!(passing(&|u| (u - 0.49).abs() < half), "{half}");
        }
        for from in [0.1, 0.5, 0.9] {
            assert!(!passing(&|u| u > from) && !passing(&|u| u < from), "{from}");
        }
    }

    /// One false alarm in twenty is what the noise levels promise: of 1000 idle
    /// inputs 50 exceed, with a standard deviation of 7.
    #[test]
    fn chance_alone_exceeds_the_noise_one_time_in_twenty() {
        let stream = crate::sampling::Stream::new(4, crate::sampling::Domain::DRAWS);
        let (mut gaps, mut aucs) = (0, 0);
        for input in 0..1000 {
            let (mut came, mut passed) = ([0; BINS], [0; BINS]);
            for draw in 0..800 {
                let bin = bin_of(stream.uniform(draw, input));
                came[bin] += 1;
                passed[bin] += u64::from(stream.uniform(draw, 5000) < 0.2);
            }
            let found = separation(&came, &passed);
            gaps += u32::from(found.gap > found.gap_noise);
            aucs += u32::from((found.auc - 0.5).abs() > found.auc_noise);
        }
        // Binned gaps are a little smaller than the continuous ones.
        assert!((20..=71).contains(&gaps), "{gaps}");
        assert!((29..=71).contains(&aucs), "{aucs}");
    }

    #[test]
    fn without_both_kinds_there_is_nothing_to_compare() {
        let came = [3; BINS];
        for passed in [[0; BINS], came] {
            let found = separation(&came, &passed);
            assert!((found.auc - 0.5).abs() < 1e-15 && found.gap <= 0.0);
        }
    }
}
