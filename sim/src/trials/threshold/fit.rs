//! Classical estimates of a threshold: maximum likelihood, penalised maximum
//! likelihood, and the moment estimate of Dixon and Mood.

use super::Trial;
use crate::math::{erfc, exp, ln};
use serde::Serialize;
use std::f64::consts::{PI, SQRT_2};

/// Shape of the response.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Link {
    /// Normal distribution of thresholds.
    Probit,
    /// Logistic.
    Logit,
}

/// A fitted line `b0 + b1 x` within the link.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Line {
    /// Intercept.
    pub b0: f64,
    /// Slope.
    pub b1: f64,
    /// Standard errors of intercept and slope.
    pub se: [f64; 2],
    /// ln of the likelihood (penalty not counted).
    pub ln_likelihood: f64,
}

impl Line {
    /// Level with a chance of one half.
    #[must_use]
    pub fn threshold(&self) -> f64 {
        -self.b0 / self.b1
    }

    /// Spread: standard deviation (probit) or scale (logit) of thresholds.
    #[must_use]
    pub fn spread(&self) -> f64 {
        1.0 / self.b1
    }
}

/// Whether every event is above every non-event (or nearly): then the plain
/// fit has no finite spread.
#[must_use]
pub fn separated(trials: &[Trial]) -> bool {
    let lowest_event = trials.iter().filter(|t| t.event).map(|t| t.x).fold(f64::INFINITY, f64::min);
    let highest_other =
        trials.iter().filter(|t| !t.event).map(|t| t.x).fold(f64::NEG_INFINITY, f64::max);
    highest_other <= lowest_event
}

/// Maximum likelihood by Fisher scoring with step halving; `None` where it has
/// no finite answer ([`separated`], or a slope that is not positive).
#[must_use]
pub fn maximum_likelihood(trials: &[Trial], link: Link) -> Option<Line> {
    if separated(trials) {
        return None;
    }
    fit(trials, link, false)
}

/// Penalised maximum likelihood: ln likelihood plus half the ln determinant of
/// the information (Jeffreys' prior; Firth's bias reduction for the logit).
/// Finite for separated shots of both kinds.
#[must_use]
pub fn penalised(trials: &[Trial], link: Link) -> Option<Line> {
    let events = trials.iter().filter(|trial| trial.event).count();
    if events == 0 || events == trials.len() {
        return None;
    }
    fit(trials, link, true)
}

/// Newton's method on a scaled level, with derivatives by differences: two
/// unknowns and few shots, so exactness matters more than speed.
fn fit(trials: &[Trial], link: Link, penalty: bool) -> Option<Line> {
    let n = trials.len() as f64;
    let mean = trials.iter().map(|t| t.x).sum::<f64>() / n;
    let sd = (trials.iter().map(|t| (t.x - mean) * (t.x - mean)).sum::<f64>() / n).sqrt();
    if sd <= 0.0 || n < 2.0 {
        return None;
    }
    let scaled: Vec<Trial> = trials.iter().map(|t| Trial { x: (t.x - mean) / sd, ..*t }).collect();
    let goal = |b: [f64; 2]| {
        let plain = ln_likelihood(&scaled, link, b);
        if penalty { plain + 0.5 * ln(determinant(information(&scaled, link, b))) } else { plain }
    };
    let b = maximise(goal, [0.0, 1.0])?;
    let (b1, b0) = (b[1] / sd, b[0] - b[1] * mean / sd);
    let positive = b1 > 0.0; // false for NaN
    if !positive {
        return None;
    }
    let information = information(trials, link, [b0, b1]);
    let determinant = determinant(information);
    Some(Line {
        b0,
        b1,
        se: [(information[2] / determinant).sqrt(), (information[0] / determinant).sqrt()],
        ln_likelihood: ln_likelihood(trials, link, [b0, b1]),
    })
}

/// Newton with halving; `None` if it does not settle.
fn maximise(goal: impl Fn([f64; 2]) -> f64, start: [f64; 2]) -> Option<[f64; 2]> {
    const H: f64 = 1e-4;
    let mut at = start;
    for _ in 0..200 {
        let here = goal(at);
        let shifted = |i: f64, j: f64| goal([at[0] + i * H, at[1] + j * H]);
        let (e, w, n, s) =
            (shifted(1.0, 0.0), shifted(-1.0, 0.0), shifted(0.0, 1.0), shifted(0.0, -1.0));
        let slope = [(e - w) / (2.0 * H), (n - s) / (2.0 * H)];
        let (xx, yy) = ((e - 2.0 * here + w) / (H * H), (n - 2.0 * here + s) / (H * H));
        let xy = (shifted(1.0, 1.0) - shifted(1.0, -1.0) - shifted(-1.0, 1.0)
            + shifted(-1.0, -1.0))
            / (4.0 * H * H);
        let det = xx * yy - xy * xy;
        let mut step = if det > 0.0 && xx < 0.0 {
            [(xy * slope[1] - yy * slope[0]) / det, (xy * slope[0] - xx * slope[1]) / det]
        } else {
            slope
        };
        let size = step[0].abs().max(step[1].abs());
        if size < 1e-9 {
            return Some(at);
        }
        for _ in 0..60 {
            let there = [at[0] + step[0], at[1] + step[1]];
            if goal(there) >= here - 1e-13 * here.abs() {
                at = there;
                break;
            }
            step = [0.5 * step[0], 0.5 * step[1]];
        }
        if size < 3e-8 {
            return Some(at);
        }
    }
    None
}

fn ln_likelihood(trials: &[Trial], link: Link, b: [f64; 2]) -> f64 {
    trials
        .iter()
        .map(|t| {
            let z = b[0] + b[1] * t.x;
            ln(chance(link, if t.event { z } else { -z }).max(1e-300))
        })
        .sum()
}

fn chance(link: Link, z: f64) -> f64 {
    match link {
        Link::Probit => 0.5 * erfc(-z / SQRT_2),
        Link::Logit => 1.0 / (1.0 + exp(-z)),
    }
}

/// Expected information of (b0, b1): the three distinct elements.
fn information(trials: &[Trial], link: Link, b: [f64; 2]) -> [f64; 3] {
    let mut sum = [0.0; 3];
    for t in trials {
        let z = b[0] + b[1] * t.x;
        let (up, down) = (chance(link, z), chance(link, -z));
        let weight = match link {
            Link::Logit => up * down,
            Link::Probit => {
                let density = exp(-0.5 * z * z) / (2.0 * PI).sqrt();
                density * density / (up * down).max(1e-300)
            }
        };
        sum[0] += weight;
        sum[1] += weight * t.x;
        sum[2] += weight * t.x * t.x;
    }
    sum
}

fn determinant(i: [f64; 3]) -> f64 {
    (i[0] * i[2] - i[1] * i[1]).max(1e-300)
}

/// The moment estimate of an up-and-down test.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct DixonMood {
    /// Threshold.
    pub mean: f64,
    /// Spread.
    pub spread: f64,
    /// Shots of the rarer kind that it uses.
    pub used: u64,
}

/// Estimates from an up-and-down test with an even `step`; `None` without
/// shots of both kinds.
///
/// `m = x0 + d (A/N -+ 1/2)`, `s = 1.620 d ((N B - A^2)/N^2 + 0.029)` if that
/// ratio is above 0.3, else `0.53 d`.
///
/// Source: W. J. Dixon and A. M. Mood, J. Amer. Statist. Assoc. 43 (1948) 109,
/// as given with ISO 12107.
#[must_use]
pub fn dixon_mood(trials: &[Trial], step: f64) -> Option<DixonMood> {
    let events = trials.iter().filter(|t| t.event).count();
    let others = trials.len() - events;
    if events == 0 || others == 0 {
        return None;
    }
    let rarer = events <= others;
    let used = || trials.iter().filter(|t| t.event == rarer).map(|t| t.x);
    let lowest = used().fold(f64::INFINITY, f64::min);
    let (mut n, mut a, mut b) = (0.0, 0.0, 0.0);
    for x in used() {
        let i = ((x - lowest) / step).round();
        n += 1.0;
        a += i;
        b += i * i;
    }
    let ratio = (n * b - a * a) / (n * n);
    Some(DixonMood {
        mean: lowest + step * (a / n + if rarer { -0.5 } else { 0.5 }),
        spread: if ratio > 0.3 { 1.620 * step * (ratio + 0.029) } else { 0.53 * step },
        used: events.min(others) as u64,
    })
}

/// Published drop test, in log10 of the height.
///
/// Source: M. S. Hamada, B. Mang, J. Hoff, Quality Engineering (2019), doi
/// 10.1080/08982112.2018.1551547, Table 1; outcomes rebuilt from the
/// up-and-down rule and confirmed by the published fit.
#[cfg(test)]
pub(in crate::trials) fn drop_test() -> Vec<Trial> {
    let heights = [
        25.4, 28.5, 25.4, 28.5, 32.0, 35.9, 32.0, 35.9, 40.3, 35.9, 32.0, 28.5, 32.0, 28.5, 32.0,
        28.5, 32.0, 35.9, 40.3, 35.9, 32.0, 35.9, 40.3, 35.9, 40.3,
    ];
    let events = [0, 1, 0, 0, 0, 1, 0, 0, 1, 1, 1, 0, 1, 0, 1, 0, 0, 0, 1, 1, 0, 0, 1, 0, 1];
    super::trials(&heights.map(crate::math::log10), &events)
}

#[cfg(test)]
mod tests {
    use super::super::trials;
    use super::*;

    fn close(got: f64, expected: f64, relative: f64) {
        assert!((got / expected - 1.0).abs() < relative, "{got} instead of {expected}");
    }

    /// Published b0 -20.77376, b1 13.56263, H50 34.01661; tight optimum by a
    /// general-purpose library (R agrees).
    #[test]
    fn the_published_drop_test_is_fitted() {
        let line = maximum_likelihood(&drop_test(), Link::Probit).unwrap();
        close(line.b0, -20.773_810_898_3, 1e-6);
        close(line.b1, 13.562_667_737, 1e-6);
        close(line.se[0], 8.374_629_41, 1e-5);
        close(line.se[1], 5.491_713_34, 1e-5);
        close(line.ln_likelihood, -13.511_839_523_7, 1e-9);
        close(crate::math::pow(10.0, line.threshold()), 34.016_61, 1e-6);
        let line = maximum_likelihood(&drop_test(), Link::Logit).unwrap();
        close(line.b0, -33.747_412_970_4, 1e-6);
        close(line.b1, 22.015_537_529_2, 1e-6);
    }

    /// R, package for bias-reduced generalised linear models, Jeffreys' prior.
    #[test]
    fn separated_shots_have_a_penalised_answer_only() {
        let apart = trials(&[24.0, 26.0, 28.0, 30.0, 32.0, 34.0], &[0, 0, 0, 1, 1, 1]);
        assert_eq!(maximum_likelihood(&apart, Link::Probit), None);
        let logit = penalised(&apart, Link::Logit).unwrap();
        close(logit.b0, -16.369_231_084_171, 2e-6);
        close(logit.b1, 0.564_456_244_282, 2e-6);
        let probit = penalised(&apart, Link::Probit).unwrap();
        close(probit.b0, -10.532_107_148_121, 2e-6);
        close(probit.threshold(), 29.0, 1e-6);
        close(penalised(&drop_test(), Link::Probit).unwrap().b0, -18.683_243_520_6, 2e-6);
        close(penalised(&drop_test(), Link::Logit).unwrap().b1, 18.970_473_659_6, 2e-6);
    }

    /// Challenger O-rings, 23 flights (data from memory; published logit
    /// 15.0429, -0.2322).
    #[test]
    fn a_falling_response_is_no_threshold() {
        let falling = trials(&[53.0, 57.0, 60.0, 66.0, 58.0, 70.0, 75.0], &[1, 1, 0, 0, 1, 1, 0]);
        assert_eq!(maximum_likelihood(&falling, Link::Logit), None);
    }

    /// C. Gorla, as in the open data of an up-and-down package (2017, Table
    /// 6): m 40.8333 kN, s 0.94698; probit 40.8110728153, 0.8871944140. And
    /// the drop test on five levels.
    #[test]
    fn dixon_and_moods_estimate_is_met() {
        let force = [42, 41, 40, 39, 40, 41, 40, 41, 42, 41, 42, 41, 42].map(f64::from);
        let events = [1, 1, 1, 0, 0, 1, 0, 0, 1, 0, 1, 0, 1];
        let data = trials(&force, &events);
        let got = dixon_mood(&data, 1.0).unwrap();
        close(got.mean, 40.833_333_333_3, 1e-9);
        close(got.spread, 0.946_98, 1e-9);
        assert_eq!(got.used, 6);
        let line = maximum_likelihood(&data, Link::Probit).unwrap();
        close(line.threshold(), 40.811_072_815_3, 1e-7);
        close(line.spread(), 0.887_194_414_0, 1e-6);
        let got = dixon_mood(&drop_test(), 0.050_117_83).unwrap();
        close(got.mean, 1.525_572_13, 5e-4);
        close(got.spread, 0.082_874_425, 1e-6);
    }

    #[test]
    fn one_kind_of_shot_has_no_classical_answer() {
        let none = trials(&[1.0, 2.0, 3.0], &[0, 0, 0]);
        assert_eq!(maximum_likelihood(&none, Link::Probit), None);
        assert_eq!(penalised(&none, Link::Probit), None);
        assert_eq!(dixon_mood(&none, 1.0), None);
    }
}
