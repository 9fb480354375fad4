//! The value of one input at which the chance becomes so and so much.
//!
//! Every setting is flown with the same random numbers, so that the share of
//! successes changes with the setting alone, and a crossing is found as sharply
//! as for a plain function. What remains uncertain is the share itself; the
//! interval of a crossing holds every setting whose share cannot be told from
//! the target.

use super::{LEVEL, Proportion};

/// What is asked.
#[derive(Clone, Debug, PartialEq)]
pub struct RootSearch {
    /// Range of settings, `low < high`.
    pub low: f64,
    /// See `low`.
    pub high: f64,
    /// Chances wanted, each in (0, 1).
    pub targets: Vec<f64>,
    /// Flights at each setting.
    pub flights: u64,
    /// Settings looked at first, evenly spread, at least 2.
    pub settings: usize,
    /// A crossing is found to this share of the range.
    pub tolerance: f64,
}

impl RootSearch {
    /// For the settings at which the claim is one in a hundred, as likely as
    /// not, and all but certain.
    #[must_use]
    pub fn new(low: f64, high: f64) -> Self {
        Self {
            low,
            high,
            targets: vec![0.01, 0.5, 0.99],
            flights: 4096,
            settings: 13,
            tolerance: 1e-3,
        }
    }
}

/// What was found for all targets.
#[derive(Clone, Debug, PartialEq)]
pub struct Roots {
    /// One answer for each target.
    pub answers: Vec<Answer>,
    /// Every setting flown with its chance, by rising setting.
    pub curve: Vec<(f64, Proportion)>,
}

/// What was found for one target.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// The chance wanted.
    pub target: f64,
    /// What happens in the range.
    pub verdict: Verdict,
}

/// Whether a chance is met within the range.
#[derive(Clone, Debug, PartialEq)]
pub enum Verdict {
    /// It is crossed here, by rising setting.
    Crossed(Vec<Crossing>),
    /// Nothing in the range reaches it; the most is this.
    NeverReached {
        /// The setting with the highest chance found.
        setting: f64,
        /// That chance.
        chance: Proportion,
    },
    /// Everything in the range exceeds it; the least is this.
    AlwaysExceeded {
        /// The setting with the lowest chance found.
        setting: f64,
        /// That chance.
        chance: Proportion,
    },
}

/// A setting at which the chance passes through a target.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// The setting.
    pub setting: f64,
    /// Lower end of its 95 % interval; `None` if it is below the range.
    pub low: Option<f64>,
    /// Upper end; `None` if it is above the range.
    pub high: Option<f64>,
    /// Whether the chance rises with the setting here.
    pub rising: bool,
}

/// Finds the settings. `chance` gives the chance at a setting with the two-sided
/// interval of so many flights, the same draws at every setting.
pub fn roots(asked: &RootSearch, chance: impl FnMut(f64, u64) -> Proportion) -> Roots {
    let mut curve = Curve { asked, chance, known: Vec::new() };
    let last = asked.settings.max(2) - 1;
    for i in 0..=last {
        let share = i as f64 / last as f64;
        curve.at(asked.low * (1.0 - share) + asked.high * share);
    }
    // A peak or a trough may lie between the settings looked at first.
    curve.approach_extreme(1.0);
    curve.approach_extreme(-1.0);
    let answers = asked
        .targets
        .iter()
        .map(|target| Answer { target: *target, verdict: curve.verdict(*target) })
        .collect();
    Roots { answers, curve: curve.known }
}

/// Which of the three curves: the share itself or an end of its interval.
#[derive(Clone, Copy)]
enum Of {
    Estimate,
    Low,
    High,
}

struct Curve<'a, F> {
    asked: &'a RootSearch,
    chance: F,
    /// Settings flown and their chances, by rising setting.
    known: Vec<(f64, Proportion)>,
}

impl<F: FnMut(f64, u64) -> Proportion> Curve<'_, F> {
    /// Chance at a setting, flown at most once.
    fn at(&mut self, x: f64) -> Proportion {
        let place = self.known.partition_point(|p| p.0 < x);
        if let Some(found) = self.known.get(place).filter(|p| p.0 <= x) {
            return found.1;
        }
        let p = (self.chance)(x, self.asked.flights);
        self.known.insert(place, (x, p));
        p
    }

    fn excess(&mut self, x: f64, of: Of, target: f64) -> f64 {
        above(&self.at(x), of, target)
    }

    /// Looks three times between the extreme setting and its neighbours.
    fn approach_extreme(&mut self, sign: f64) {
        for _ in 0..3 {
            let height = |p: Proportion| sign * p.estimate;
            let best = (0..self.known.len())
                .max_by(|a, b| height(self.known[*a].1).total_cmp(&height(self.known[*b].1)));
            let Some(best) = best else { return };
            let x = self.known[best].0;
            let neighbours = [best.checked_sub(1), Some(best + 1)];
            let middles: Vec<f64> = neighbours
                .into_iter()
                .filter_map(|i| self.known.get(i?).map(|p| 0.5 * (x + p.0)))
                .collect();
            for middle in middles {
                self.at(middle);
            }
        }
    }

    fn verdict(&mut self, target: f64) -> Verdict {
        let mut found: Vec<Crossing> = Vec::new();
        let known = self.known.clone();
        for (i, pair) in known.windows(2).enumerate() {
            let (before, after) =
                (above(&pair[0].1, Of::Estimate, target), above(&pair[1].1, Of::Estimate, target));
            if (before < 0.0) != (after < 0.0) {
                let crossing = self.crossing(&known, i, target, before < 0.0);
                // Back and forth within the noise is no crossing.
                let noise = found.last().is_some_and(|last| {
                    last.rising != crossing.rising
                        && last.high.is_none_or(|h| crossing.low.is_none_or(|l| l <= h))
                });
                if noise {
                    found.pop();
                } else {
                    found.push(crossing);
                }
            }
        }
        if !found.is_empty() {
            return Verdict::Crossed(found);
        }
        let mean = known.iter().map(|p| above(&p.1, Of::Estimate, target)).sum::<f64>();
        let extreme = |sign: f64| {
            let best = known
                .iter()
                .max_by(|a, b| (sign * a.1.estimate).total_cmp(&(sign * b.1.estimate)))
                .copied();
            best.unwrap_or((self.asked.low, Proportion::clopper_pearson(0, 0, LEVEL)))
        };
        if mean < 0.0 {
            let (setting, chance) = extreme(1.0);
            Verdict::NeverReached { setting, chance }
        } else {
            let (setting, chance) = extreme(-1.0);
            Verdict::AlwaysExceeded { setting, chance }
        }
    }

    /// The crossing between known settings `i` and `i + 1`, and its interval.
    fn crossing(
        &mut self,
        known: &[(f64, Proportion)],
        i: usize,
        target: f64,
        rising: bool,
    ) -> Crossing {
        let setting = self.halve(known[i].0, known[i + 1].0, Of::Estimate, target);
        // Below a rising crossing, settings belong to the interval while the
        // upper end of their chance still reaches the target.
        let (left, right) = if rising { (Of::High, Of::Low) } else { (Of::Low, Of::High) };
        let sign = if rising { 1.0 } else { -1.0 };
        let low = known[..=i].iter().rposition(|p| sign * above(&p.1, left, target) < 0.0);
        let high = known[i + 1..].iter().position(|p| sign * above(&p.1, right, target) > 0.0);
        Crossing {
            setting,
            low: low.map(|j| self.halve(known[j].0, setting, left, target)),
            high: high.map(|j| self.halve(setting, known[i + 1 + j].0, right, target)),
            rising,
        }
    }

    /// Halves a stretch down to the tolerance, keeping a change of sign in it.
    fn halve(&mut self, mut a: f64, mut b: f64, of: Of, target: f64) -> f64 {
        let least = self.asked.tolerance * (self.asked.high - self.asked.low);
        let negative = self.excess(a, of, target) < 0.0;
        while b - a > least {
            let middle = 0.5 * (a + b);
            if (self.excess(middle, of, target) < 0.0) == negative {
                a = middle;
            } else {
                b = middle;
            }
        }
        0.5 * (a + b)
    }
}

/// How far a chance, or an end of its interval, is above the target.
fn above(p: &Proportion, of: Of, target: f64) -> f64 {
    let side = match of {
        Of::Estimate => p.estimate,
        Of::Low => p.low,
        Of::High => p.high,
    };
    side - target
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        sampling::{Domain, Stream},
        uncertain::normal_quantile,
    };

    /// Each draw's own threshold, normal about 30 with sd 4.
    fn thresholds(seed: u64, flights: u64) -> Vec<f64> {
        let stream = Stream::new(seed, Domain::DRAWS);
        (0..flights).map(|draw| 30.0 + 4.0 * normal_quantile(stream.uniform(draw, 0))).collect()
    }

    fn count(values: &[f64], holds: impl Fn(f64) -> bool) -> Proportion {
        let held = values.iter().filter(|v| holds(**v)).count() as u64;
        Proportion::clopper_pearson(held, values.len() as u64, LEVEL)
    }

    /// Where one flight in `one_in` is cut off, a setting that would be found had all
    /// of them held, or none, lies in the interval.
    #[test]
    fn the_interval_of_a_setting_leaves_room_for_every_fate_of_what_was_cut_off() {
        let asked = RootSearch { flights: 1000, targets: vec![0.5], ..RootSearch::new(10.0, 50.0) };
        let only = |found: Roots| match &found.answers[0].verdict {
            Verdict::Crossed(crossings) => crossings[0],
            other => panic!("{other:?}"),
        };
        for (seed, one_in) in (0..).zip([3, 5, 20, 100]) {
            let own = thresholds(seed, asked.flights);
            let cut = |i: usize| i.is_multiple_of(one_in);
            let seen =
                |x: f64, hold: bool| {
                    let held = |(i, t): &(usize, &f64)| **t < x && (hold || !cut(*i));
                    let count = |held: &dyn Fn(&(usize, &f64)) -> bool| {
                        own.iter().enumerate().filter(|it| held(it)).count() as u64
                    };
                    let open = count(&|it| cut(it.0) && *it.1 < x);
                    Proportion::clopper_pearson(count(&held), asked.flights, LEVEL)
                        .left_open(if hold { 0 } else { open })
                };
            let told = only(roots(&asked, |x, _| seen(x, false)));
            let had_all_held = only(roots(&asked, |x, _| seen(x, true)));
            let slack = asked.tolerance * (asked.high - asked.low);
            assert!(told.low.is_none_or(|low| low <= had_all_held.setting + slack), "{told:?}");
            assert!(had_all_held.setting <= told.setting + slack, "{told:?} {had_all_held:?}");
        }
    }

    /// Source: the quantiles of the threshold itself, 30 + 4 z: 20.69 at 1 %,
    /// 30 at 50 %, 39.31 at 99 %. 95 % of 300 intervals is 285, with a standard
    /// deviation of 3.8.
    #[test]
    fn thresholds_are_found_and_their_intervals_cover() {
        let asked = RootSearch { flights: 1000, ..RootSearch::new(10.0, 50.0) };
        let mut covered = 0;
        for seed in 0..100 {
            let own = thresholds(seed, asked.flights);
            let found = roots(&asked, |x, _| count(&own, |t| t < x));
            for (answer, z) in found.answers.iter().zip([-2.326_347_874, 0.0, 2.326_347_874]) {
                let exact = 30.0 + 4.0 * z;
                let Verdict::Crossed(crossings) = &answer.verdict else { panic!("{answer:?}") };
                assert_eq!(crossings.len(), 1, "{crossings:?}");
                let Crossing { setting, low, high, rising } = crossings[0];
                assert!(rising && (setting - exact).abs() < 2.0, "{setting} {exact}");
                let inside = low.is_none_or(|l| l <= exact) && high.is_none_or(|h| exact <= h);
                covered += u32::from(inside);
            }
        }
        assert!(covered >= 273, "{covered}");
    }

    #[test]
    fn too_slow_and_too_fast_are_both_told() {
        // Passes within 6 of its own threshold: up and down again.
        let own = thresholds(1, 2000);
        let asked = RootSearch { targets: vec![0.5], flights: 2000, ..RootSearch::new(10.0, 50.0) };
        let found = roots(&asked, |x, _| count(&own, |t| (t - x).abs() < 6.0));
        let Verdict::Crossed(crossings) = &found.answers[0].verdict else { panic!("{found:?}") };
        assert_eq!(crossings.iter().map(|c| c.rising).collect::<Vec<_>>(), [true, false]);
        assert!((crossings[0].setting - 24.0).abs() < 0.6, "{crossings:?}");
        assert!((crossings[1].setting - 36.0).abs() < 0.6, "{crossings:?}");
    }

    #[test]
    fn a_chance_that_is_never_reached_is_an_answer() {
        let own = thresholds(2, 2000);
        let asked =
            RootSearch { targets: vec![0.5, 0.0001], flights: 2000, ..RootSearch::new(25.0, 35.0) };
        let found = roots(&asked, |x, _| count(&own, |t| (t - x).abs() < 1.0));
        let Verdict::NeverReached { setting, chance } = found.answers[0].verdict else {
            panic!("{found:?}")
        };
        // Most at the middle: 2 Phi(1/4) - 1 = 0.197.
        assert!((setting - 30.0).abs() < 2.5 && (chance.estimate - 0.197).abs() < 0.04);
        assert!(matches!(found.answers[1].verdict, Verdict::AlwaysExceeded { .. }));
    }

    #[test]
    fn a_narrow_peak_between_the_first_settings_is_climbed() {
        let own = thresholds(3, 2000);
        let peak = |x: f64| 31.0 - 40.0 * (x - 0.56).abs();
        let asked = RootSearch { targets: vec![0.5], settings: 6, ..RootSearch::new(0.0, 1.0) };
        let asked = RootSearch { flights: 2000, ..asked };
        let found = roots(&asked, |x, _| count(&own, |t| t < peak(x)));
        let Verdict::Crossed(crossings) = &found.answers[0].verdict else { panic!("{found:?}") };
        assert!(crossings.iter().any(|c| c.rising) && crossings.iter().any(|c| !c.rising));
    }

    #[test]
    fn no_setting_is_flown_twice() {
        let own = thresholds(4, 500);
        let mut flown = Vec::new();
        let asked = RootSearch { flights: 500, ..RootSearch::new(10.0, 50.0) };
        let found = roots(&asked, |x, _| {
            flown.push(x.to_bits());
            count(&own, |t| t < x)
        });
        let all = flown.len();
        flown.sort_unstable();
        flown.dedup();
        assert_eq!(flown.len(), all);
        assert_eq!(found.curve.len(), all);
        assert!(all < 110, "{all} settings");
    }
}
