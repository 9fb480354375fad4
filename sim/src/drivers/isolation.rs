//! What would be settled if a rig held an input, and how tightly it must.

use crate::{
    estimate::{BINS, bin_edge},
    math::ln,
};

/// What holding an input at a known value would settle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Isolation {
    /// Share of the outcome's variance that goes on average (first-order
    /// index), 0 to 1.
    pub variance: f64,
    /// Share of the outcome's uncertainty (entropy) that goes on average, 0 to
    /// 1: the one to use for rare outcomes.
    pub entropy: f64,
    /// How much less often a guess of the outcome would be wrong (expected
    /// value of knowing the input, 0-1 loss); 0 where the guess never changes.
    pub wrong_guesses: f64,
}

/// From the counts by bin of who came and who passed.
///
/// Chance within the bins is subtracted, so that an idle input shows about 0.
///
/// Source: first-order index and mutual information by their definitions;
/// corrections for chance of order 1/n by Miller (1955). (From memory.)
#[must_use]
pub fn isolation(came: &[u64; BINS], passed: &[u64; BINS]) -> Isolation {
    let (n, n1): (u64, u64) = (came.iter().sum(), passed.iter().sum());
    let (all, hits) = (n as f64, n1 as f64);
    if n1 == 0 || n1 == n {
        return Isolation { variance: 0.0, entropy: 0.0, wrong_guesses: 0.0 };
    }
    let p = hits / all;
    let (mut between, mut conditional, mut wrong, mut cells) = (0.0, 0.0, 0.0, 0.0_f64);
    for (c, k) in came.iter().zip(passed).filter(|(c, _)| **c > 1) {
        let (m, q) = (*c as f64, *k as f64 / *c as f64);
        between += m * ((q - p) * (q - p) - q * (1.0 - q) / (m - 1.0));
        conditional += m * entropy(q);
        wrong += m * q.min(1.0 - q);
        cells += 1.0;
    }
    let chance = 0.5 * (cells - 1.0).max(0.0) / all;
    let known = entropy(p) - conditional / all - chance;
    let share = |x: f64| x.clamp(0.0, 1.0);
    Isolation {
        variance: share(between / (all * p * (1.0 - p))),
        entropy: share(known / entropy(p)),
        wrong_guesses: (p.min(1.0 - p) - wrong / all).max(0.0),
    }
}

/// Entropy of a chance, in nats.
fn entropy(p: f64) -> f64 {
    let term = |q: f64| if q > 0.0 { -q * ln(q) } else { 0.0 };
    term(p) + term(1.0 - p)
}

/// How tightly an input must be held.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerance {
    /// The input's own uniform number at its best setting.
    pub best: f64,
    /// Chance of passing there.
    pub chance: f64,
    /// Range of the uniform number, around the best setting, within which the
    /// chance stays as good as it may: held there, the input no longer matters.
    pub low: f64,
    /// See `low`.
    pub high: f64,
}

/// The setting with the best chance and the range around it in which the chance
/// is at least `1 - loss` of the best (`loss` in 0..1), as far as the counts can
/// tell: neither narrower nor wider on the whole.
///
/// The range is the stretch over which most is gained against that chance, its
/// ends set within a bin by how much of the bin it takes. Turn uniform numbers
/// into values by the input's quantiles. `None` where nobody passed.
#[must_use]
pub fn tolerance(came: &[u64; BINS], passed: &[u64; BINS], loss: f64) -> Option<Tolerance> {
    let (best, chance) = top(&cells(came, passed)?);
    let bins: Vec<Cell> = (0..BINS)
        .map(|bin| Cell {
            low: bin_edge(bin),
            high: bin_edge(bin + 1),
            came: came[bin] as f64,
            passed: passed[bin] as f64,
        })
        .collect();
    let asked = (1.0 - loss) * chance;
    let (first, last) = most_gained(&bins, asked)?;
    let rate = |bin: Option<&Cell>| bin.filter(|b| b.came > 0.0).map(|b| b.passed / b.came);
    // A bin that is cut holds as much of the stretch as its rate lies above that
    // of the one beyond.
    let part = |edge: Option<&Cell>, beyond: Option<&Cell>| {
        let outside = rate(beyond).unwrap_or(0.0);
        let inside = chance - outside;
        rate(edge)
            .filter(|_| inside > 0.0)
            .map_or(0.0, |r| ((r - outside) / inside).clamp(0.0, 1.0))
    };
    let width = |bin: &Cell| bin.high - bin.low;
    let before = first.checked_sub(1).and_then(|i| bins.get(i));
    let low = match before {
        Some(_) if !is_bad(&bins[..first], chance, asked) => 0.0,
        Some(edge) => {
            let beyond = first.checked_sub(2).and_then(|i| bins.get(i));
            edge.high - part(Some(edge), beyond) * width(edge)
        }
        None => 0.0,
    };
    let high = match bins.get(last + 1) {
        Some(_) if !is_bad(&bins[last + 1..], chance, asked) => 1.0,
        Some(edge) => edge.low + part(Some(edge), bins.get(last + 2)) * width(edge),
        None => 1.0,
    };
    Some(Tolerance { best: best.clamp(low, high), chance, low, high })
}

/// The best cell's middle, and the chance there: of all cells that chance does
/// not tell from the best (three standard errors), so that the luckiest of many
/// alike does not pass for better.
fn top(cells: &[Cell]) -> (f64, f64) {
    let rate = |cell: &Cell| cell.passed / cell.came;
    let best = cells.iter().max_by(|a, b| rate(a).total_cmp(&rate(b)));
    let Some(best) = best else { return (0.5, 0.0) };
    let chance = rate(best);
    let error = (chance * (1.0 - chance)).max(0.0).sqrt();
    let alike = |cell: &&Cell| {
        rate(cell) + 3.0 * error * (1.0 / cell.came + 1.0 / best.came).sqrt() >= chance
    };
    let (came, passed) = cells
        .iter()
        .filter(alike)
        .fold((0.0, 0.0), |(came, passed), cell| (came + cell.came, passed + cell.passed));
    (0.5 * (best.low + best.high), passed / came)
}

/// First and last bin of the stretch whose passes exceed `asked` of those who
/// came by most; `None` if nothing is gained anywhere.
fn most_gained(bins: &[Cell], asked: f64) -> Option<(usize, usize)> {
    let (mut start, mut sum) = (0, 0.0);
    let (mut best, mut most) = (None, 0.0);
    for (i, bin) in bins.iter().enumerate() {
        if sum <= 0.0 {
            (start, sum) = (i, 0.0);
        }
        sum += bin.passed - asked * bin.came;
        if sum > most {
            (best, most) = (Some((start, i)), sum);
        }
    }
    best
}

/// Whether bins out to an end pass less than asked by more than chance shows.
fn is_bad(bins: &[Cell], chance: f64, asked: f64) -> bool {
    let came: f64 = bins.iter().map(|bin| bin.came).sum();
    let passed: f64 = bins.iter().map(|bin| bin.passed).sum();
    passed + 2.0 * (came * chance * (1.0 - chance)).max(0.0).sqrt() < asked * came
}

struct Cell {
    low: f64,
    high: f64,
    came: f64,
    passed: f64,
}

/// At most 16 stretches of the uniform number, each with its share of both those
/// who came and those who passed.
fn cells(came: &[u64; BINS], passed: &[u64; BINS]) -> Option<Vec<Cell>> {
    let (n, n1): (u64, u64) = (came.iter().sum(), passed.iter().sum());
    if n == 0 || n1 == 0 {
        return None;
    }
    let mut cells: Vec<Cell> = Vec::new();
    let mut open = Cell { low: 0.0, high: 0.0, came: 0.0, passed: 0.0 };
    for bin in 0..BINS {
        open.came += came[bin] as f64;
        open.passed += passed[bin] as f64;
        open.high = bin_edge(bin + 1);
        // Half by who came, half by who passed: tails of rare outcomes count.
        let weight = 0.5 * open.came / n as f64 + 0.5 * open.passed / n1 as f64;
        if weight >= 1.0 / 16.0 && open.came >= 1.0 {
            let next = Cell { low: open.high, high: open.high, came: 0.0, passed: 0.0 };
            cells.push(std::mem::replace(&mut open, next));
        }
    }
    match cells.last_mut() {
        // What is left over joins the last stretch.
        Some(last) => {
            last.came += open.came;
            last.passed += open.passed;
            last.high = 1.0;
        }
        None => cells.push(open),
    }
    Some(cells)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{drivers::half_space, estimate::bin_of};

    /// Source: exact first-order indices and mutual information (nats) of a
    /// half-space hit at b = 1 and 2.
    #[test]
    fn shares_removed_agree_with_exact_values() {
        let table = [
            (
                1.0,
                0.437_433_240_927,
                [0.393_034_930_1, 0.125_069_931_0, 0.041_692_964_5, 0.004_452_972_1, 0.0],
                [0.177_514_845_0, 0.059_365_064_7, 0.020_407_886_1, 0.002_220_864_1, 0.0],
            ),
            (
                2.0,
                0.108_557_305_381,
                [0.260_316_102_3, 0.053_132_020_3, 0.014_236_203_6, 0.001_351_353_2, 0.0],
                [0.048_279_642_1, 0.017_148_618_4, 0.006_027_181_4, 0.000_662_979_9, 0.0],
            ),
        ];
        for (b, entropy, first, mutual) in table {
            let tally = half_space::tally(b, 400_000);
            for input in 0..5 {
                let found =
                    isolation(&tally.passed_at_least(input, 0), &tally.passed_at_least(input, 1));
                // The last bins of either end hide part of what lies in them.
                assert!((found.variance - first[input]).abs() < 0.012, "{b} {input} {found:?}");
                let share = mutual[input] / entropy;
                assert!((found.entropy - share).abs() < 0.012, "{b} {input} {found:?}");
            }
        }
    }

    /// Source: at b = 0 the value of knowing an input is asin(alpha) / pi.
    #[test]
    fn better_guesses_agree_with_the_closed_form() {
        let tally = half_space::tally(0.0, 400_000);
        let exact = [0.297_315_028_239, 0.167_593_277_687, 0.097_491_114_521];
        for (input, value) in exact.into_iter().enumerate() {
            let found =
                isolation(&tally.passed_at_least(input, 0), &tally.passed_at_least(input, 1));
            assert!((found.wrong_guesses - value).abs() < 0.006, "{input}: {found:?}");
        }
    }

    #[test]
    fn the_tolerance_is_the_window_itself() {
        // Passes four times out of five between 0.3 and 0.45, never outside.
        let (mut came, mut passed) = ([0; BINS], [0; BINS]);
        for i in 0..100_000_u32 {
            let u = (f64::from(i) + 0.5) / 1e5;
            came[bin_of(u)] += 1;
            passed[bin_of(u)] += u64::from((0.3..0.45).contains(&u) && i % 5 > 0);
        }
        let found = tolerance(&came, &passed, 0.2).unwrap();
        assert!((found.low - 0.3).abs() < 0.04 && (found.high - 0.45).abs() < 0.04, "{found:?}");
        assert!((0.3..0.45).contains(&found.best) && found.chance > 0.7);
    }

    /// Over windows of any place, width and strength the range found is that
    /// window: on the whole neither narrower nor wider.
    #[test]
    fn no_window_comes_out_narrower_or_wider_on_the_whole() {
        let stream = crate::sampling::Stream::new(9, crate::sampling::Domain::DRAWS);
        let (mut widths, mut worst) = (0.0, 0.0_f64);
        let windows = 300;
        for window in 0..windows {
            let u = |slot| stream.uniform(window, slot);
            let width = 0.04 + 0.5 * u(0);
            let from = u(1) * (1.0 - width);
            let (inside, outside) = (0.3 + 0.7 * u(2), 0.3 * u(3) * u(2));
            let (mut came, mut passed) = ([0; BINS], [0; BINS]);
            for i in 0..20_000_u32 {
                let at = (f64::from(i) + 0.5) / 2e4;
                let chance = if (from..from + width).contains(&at) { inside } else { outside };
                came[bin_of(at)] += 1;
                passed[bin_of(at)] += u64::from(stream.uniform(window, 10 + i) < chance);
            }
            let found = tolerance(&came, &passed, 0.1).unwrap();
            widths += (found.high - found.low) / width - 1.0;
            worst = worst.max((found.low - from).abs()).max((found.high - from - width).abs());
            assert!(found.low <= found.best && found.best <= found.high, "{found:?}");
        }
        let mean = widths / f64::from(u32::try_from(windows).unwrap());
        assert!(mean.abs() < 0.03 && worst < 0.08, "mean {mean}, worst {worst}");
    }

    #[test]
    fn an_idle_input_may_stand_anywhere() {
        let tally = half_space::tally(0.0, 20_000);
        let found =
            tolerance(&tally.passed_at_least(4, 0), &tally.passed_at_least(4, 1), 0.2).unwrap();
        assert!(found.low <= 0.0 && found.high >= 1.0, "{found:?}");
        assert_eq!(tolerance(&[1; BINS], &[0; BINS], 0.1), None);
    }
}
