//! A claim against a rig: do the rig's shots strike as the claimed thing would?
//!
//! Both scenarios fly the draws of one seed; inputs of the same name share
//! their numbers (common random numbers), so that what differs between them is
//! what is different about them.

mod batches;
mod cover;
mod impact;

pub use self::{
    batches::Interval,
    cover::{Cover, Covers, Needed, covers},
    impact::{Impact, Measure, impacts},
};

use self::batches::interval;
use crate::estimate::{LEVEL, Proportion, quantile};

/// One measure of a strike, of the claim and of the rig.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// What is measured.
    pub measure: Measure,
    /// 5, 50 and 95 % of the claim's strikes, SI.
    pub claim: [f64; 3],
    /// The same of the rig's.
    pub rig: [f64; 3],
    /// Median of the rig less median of the claim.
    pub difference: Interval,
}

/// Strikes side by side.
#[derive(Clone, Debug, PartialEq)]
pub struct Comparison {
    /// Measure by measure.
    pub rows: Vec<Row>,
    /// Share of the claim's strikes that a rig's shot is at least as hard as:
    /// the chance that of one of each the rig's has no less energy along the
    /// normal.
    pub as_hard: Interval,
}

/// Sets the strikes of a claim beside those of a rig; `None` if either has too
/// few to be compared (fewer than five in each of 20 batches of draws).
#[must_use]
pub fn compare(claim: &[Impact], rig: &[Impact]) -> Option<Comparison> {
    let row = |measure: Measure| {
        Some(Row {
            measure,
            claim: middle_and_ends(claim, measure)?,
            rig: middle_and_ends(rig, measure)?,
            difference: interval(claim, rig, |claim, rig| {
                Some(median(rig, measure)? - median(claim, measure)?)
            })?,
        })
    };
    Some(Comparison {
        rows: Measure::ALL.into_iter().map(row).collect::<Option<_>>()?,
        as_hard: as_hard_interval(claim, rig)?,
    })
}

/// Values of a measure, rising.
fn sorted(impacts: &[Impact], measure: Measure) -> Vec<f64> {
    let mut values: Vec<f64> = impacts.iter().map(|impact| measure.of(impact)).collect();
    values.sort_unstable_by(f64::total_cmp);
    values
}

fn middle_and_ends(impacts: &[Impact], measure: Measure) -> Option<[f64; 3]> {
    let values = sorted(impacts, measure);
    Some([quantile(&values, 0.05)?, quantile(&values, 0.5)?, quantile(&values, 0.95)?])
}

fn median(impacts: &[Impact], measure: Measure) -> Option<f64> {
    quantile(&sorted(impacts, measure), 0.5)
}

/// The share with its interval. Where the batches' would reach beyond 0 or 1,
/// or has no width because all batches agree, the interval of as many
/// independent trials as the smaller side has strikes stands in: it is no
/// shorter than the truth, because the variance of such a share is at most
/// p (1 - p) / min(m, n) (Birnbaum & Klose 1957, from memory).
fn as_hard_interval(claim: &[Impact], rig: &[Impact]) -> Option<Interval> {
    let found = interval(claim, rig, as_hard)?;
    if 0.0 < found.low && found.low < found.high && found.high < 1.0 {
        return Some(found);
    }
    let trials = claim.len().min(rig.len()) as u64;
    let held = pairs_covered(claim, rig) / claim.len().max(rig.len()) as u64;
    let p = Proportion::clopper_pearson(held, trials, LEVEL);
    Some(Interval { estimate: found.estimate, low: p.low, high: p.high })
}

/// P(a rig's energy >= a claim's), over all pairs; ties count whole.
fn as_hard(claim: &[Impact], rig: &[Impact]) -> Option<f64> {
    let pairs = claim.len() as f64 * rig.len() as f64;
    (pairs > 0.0).then(|| pairs_covered(claim, rig) as f64 / pairs)
}

fn pairs_covered(claim: &[Impact], rig: &[Impact]) -> u64 {
    let claim = sorted(claim, Measure::NormalEnergy);
    let below =
        |energy: f64| claim.partition_point(|claimed| claimed.total_cmp(&energy).is_le()) as u64;
    rig.iter().map(|impact| below(impact.normal_energy)).sum()
}

#[cfg(test)]
mod tests {
    use super::{batches::BATCHES, *};
    use crate::{
        sampling::{Domain, Stream},
        uncertain::{normal_cdf, normal_quantile},
    };

    /// Normal energies N(mean, 1); the two samples do not share draws.
    fn normal(mean: f64, part: u32, count: u64) -> Vec<Impact> {
        let stream = Stream::new(5, Domain::SHOTS.part(part));
        (0..count)
            .map(|draw| {
                let value = 20.0 + mean + normal_quantile(stream.uniform(draw, 0));
                Impact { draw, speed: value, normal_energy: value, obliquity: value, end_on: value }
            })
            .collect()
    }

    /// Source: stress and strength both normal with unit variance,
    /// P(Y >= X) = Φ(d / √2) for means d apart (closed form).
    #[test]
    fn the_share_is_that_of_two_normals() {
        let found = compare(&normal(0.0, 0, 20_000), &normal(1.0, 1, 20_000)).unwrap();
        let wanted = normal_cdf(std::f64::consts::FRAC_1_SQRT_2);
        // Standard error 0.0024: false alarm below 1e-4. So below.
        assert!((found.as_hard.estimate - wanted).abs() < 0.01, "{found:?}");
        let energy = &found.rows[1];
        assert!((energy.difference.estimate - 1.0).abs() < 0.05, "{energy:?}");
    }

    /// Source: rule of three, the bound for no failure in n is near 3 / n.
    #[test]
    fn a_rig_that_always_strikes_harder_still_has_an_interval() {
        let found = compare(&normal(0.0, 0, 2_000), &normal(15.0, 1, 2_000)).unwrap().as_hard;
        assert!((found.estimate - 1.0).abs() < 1e-12 && (found.high - 1.0).abs() < 1e-12);
        assert!((1.0 - found.low) * 2_000.0 > 3.0 && (1.0 - found.low) * 2_000.0 < 4.0);
    }

    #[test]
    fn few_strikes_are_not_compared() {
        assert_eq!(compare(&normal(0.0, 0, 80), &normal(0.0, 1, 20_000)), None);
    }

    /// Nominal 95 %; 200 repeats, two-sided false alarm below 1e-3 at 0.90.
    #[test]
    fn the_interval_of_the_share_covers() {
        let wanted = normal_cdf(0.5 * std::f64::consts::FRAC_1_SQRT_2);
        let holds = (0..200).filter(|repeat| {
            let (claim, rig) = (normal(0.0, 2 * repeat, 600), normal(0.5, 2 * repeat + 1, 600));
            let found = compare(&claim, &rig).unwrap().as_hard;
            found.low < wanted && wanted < found.high
        });
        let covered = holds.count();
        assert!(covered >= 180, "{covered} of 200");
    }

    #[test]
    fn a_batch_holds_the_same_draws_of_both() {
        assert_eq!(normal(0.0, 0, 100)[37].draw % BATCHES, 17);
    }
}
