//! Groups of points that lie apart.

use super::space::{Normals, Points};
use crate::{math::ln, sampling::Domain};

/// Gain in ln of the density, for each point, that makes two groups of one.
/// A flat spread cut in two gains nothing, a bell loses 0.18, two bells four
/// deviations apart gain 0.11.
const LEAST_GAIN: f64 = 0.1;
/// Fewest points of a group.
const LEAST: usize = 12;
/// Coordinates across which cuts are tried.
const COORDINATES: usize = 8;
/// Tails heavier than this are no bell's.
const HEAVY: f64 = 5.0;
/// Smallest share of a group.
const LEAST_SHARE: f64 = 0.01;

/// Splits points into at most `most` groups, each time where a straight cut
/// gains most. `alike`: how many points are worth one independent one.
pub(super) fn groups(points: &Points, most: usize, alike: f64) -> Vec<Vec<usize>> {
    let all: Vec<usize> = (0..points.len()).collect();
    let mut done = Vec::new();
    let mut open = vec![(cut(points, &all, points.len(), alike), all)];
    while let Some(best) = best(&open)
        && done.len() + open.len() < most
    {
        let (cut_here, group) = open.swap_remove(best);
        let Some(found) = cut_here else { continue };
        let (low, high): (Vec<usize>, Vec<usize>) =
            group.iter().partition(|i| along(points.point(**i), &found.direction) <= found.at);
        for half in [low, high] {
            open.push((cut(points, &half, points.len(), alike), half));
        }
    }
    done.extend(open.into_iter().map(|(_, group)| group));
    done.retain(|group| !group.is_empty());
    done.sort_by(|a, b| b.len().cmp(&a.len()).then(a[0].cmp(&b[0])));
    done
}

fn best(open: &[(Option<Cut>, Vec<usize>)]) -> Option<usize> {
    let gain = |entry: &(Option<Cut>, Vec<usize>)| {
        entry.0.as_ref().map_or(f64::NEG_INFINITY, |cut| cut.gain * entry.1.len() as f64)
    };
    let best = (0..open.len()).max_by(|a, b| gain(&open[*a]).total_cmp(&gain(&open[*b])))?;
    open[best].0.as_ref().map(|_| best)
}

/// A plane across a direction.
struct Cut {
    direction: Vec<f64>,
    at: f64,
    gain: f64,
}

/// The best cut of a group, if it gains enough.
fn cut(points: &Points, group: &[usize], of: usize, alike: f64) -> Option<Cut> {
    // In many coordinates a few points say nothing of how they are spread.
    let few = (0.25 * alike * points.dimension as f64).max(LEAST_SHARE * of as f64);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count")]
    let least = LEAST.max(few as usize);
    if group.len() < 2 * least {
        return None;
    }
    let needed = LEAST_GAIN + 3.0 * alike / group.len() as f64;
    let mut found: Option<Cut> = None;
    for direction in directions(points, group) {
        let mut sorted: Vec<f64> =
            group.iter().map(|i| along(points.point(*i), &direction)).collect();
        sorted.sort_by(f64::total_cmp);
        if let Some((at, gain)) = split(&sorted, least)
            && gain > needed
            && found.as_ref().is_none_or(|best| gain > best.gain)
        {
            found = Some(Cut { direction, at, gain });
        }
    }
    found
}

fn along(point: &[f64], direction: &[f64]) -> f64 {
    point.iter().zip(direction).map(|(u, e)| u * e).sum()
}

/// Directions worth a cut: the coordinates with the lightest tails, as two heaps
/// have, and the two directions in which the group is longest.
fn directions(points: &Points, group: &[usize]) -> Vec<Vec<f64>> {
    let d = points.dimension;
    let mut order: Vec<(f64, usize)> = (0..d).map(|i| (tails(points, group, i), i)).collect();
    order.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let mut all: Vec<Vec<f64>> = order
        .into_iter()
        .take(COORDINATES)
        .map(|(_, i)| (0..d).map(|k| f64::from(u8::from(i == k))).collect())
        .collect();
    if d > 1 {
        let first = longest(points, group, &[]);
        let second = longest(points, group, std::slice::from_ref(&first));
        all.extend([first, second]);
    }
    all
}

/// Mean fourth power over the square of the mean square, about the mean: 1 for
/// two equal heaps, 3 for a bell, more for one heap and a small one far away.
fn tails(points: &Points, group: &[usize], coordinate: usize) -> f64 {
    let n = group.len() as f64;
    let values = || group.iter().map(|i| points.point(*i)[coordinate]);
    let mean = values().sum::<f64>() / n;
    let power = |p: i32| values().map(|u| (u - mean).powi(p)).sum::<f64>() / n;
    let ratio = power(4) / (power(2) * power(2)).max(1e-300);
    // A small heap far away shows as heavy tails: as good a reason to cut.
    if ratio > HEAVY { 1.0 / ratio } else { ratio }
}

/// The direction of the largest variance, across those already known.
fn longest(points: &Points, group: &[usize], known: &[Vec<f64>]) -> Vec<f64> {
    let d = points.dimension;
    let n = group.len() as f64;
    let mut mean = vec![0.0; d];
    for i in group {
        for (m, u) in mean.iter_mut().zip(points.point(*i)) {
            *m += u / n;
        }
    }
    let normals = Normals::new(1, Domain::CHAINS.part(0x00FF_0001), d);
    let mut e = vec![0.0; d];
    normals.fill(0, &mut e);
    for _ in 0..12 {
        let mut next = vec![0.0; d];
        let middle = along(&mean, &e);
        for i in group {
            let point = points.point(*i);
            let there = along(point, &e) - middle;
            for ((x, u), m) in next.iter_mut().zip(point).zip(&mean) {
                *x += there * (u - m);
            }
        }
        for direction in known {
            let part = along(&next, direction);
            for (x, e) in next.iter_mut().zip(direction) {
                *x -= part * e;
            }
        }
        let size = along(&next, &next).sqrt().max(f64::MIN_POSITIVE);
        e = next.into_iter().map(|x| x / size).collect();
    }
    e
}

/// Where to cut sorted values in two, and the gain in ln of the density for
/// each: what two bells describe better than one.
fn split(sorted: &[f64], least: usize) -> Option<(f64, f64)> {
    let n = sorted.len();
    let middle = sorted[n / 2];
    let (mut sum, mut squares) = (0.0, 0.0);
    for x in sorted {
        sum += x - middle;
        squares += (x - middle) * (x - middle);
    }
    let ln_sd =
        |n: f64, sum: f64, squares: f64| 0.5 * ln(((squares - sum * sum / n) / n).max(1e-18));
    let whole = ln_sd(n as f64, sum, squares);
    let (mut below, mut below_squares) = (0.0, 0.0);
    let mut best: Option<(f64, f64)> = None;
    for i in 1..n {
        let x = sorted[i - 1] - middle;
        below += x;
        below_squares += x * x;
        if i < least || n - i < least || sorted[i] <= sorted[i - 1] {
            continue;
        }
        let share = i as f64 / n as f64;
        let low = ln_sd(i as f64, below, below_squares);
        let high = ln_sd((n - i) as f64, sum - below, squares - below_squares);
        let gain = whole - share * (low - ln(share)) - (1.0 - share) * (high - ln(1.0 - share));
        if best.is_none_or(|(_, most)| gain > most) {
            best = Some((f64::midpoint(sorted[i - 1], sorted[i]), gain));
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Bells around some middles.
    fn bells(middles: &[Vec<f64>], each: u64) -> Points {
        let d = middles[0].len();
        let normals = Normals::new(5, Domain::DRAWS, d);
        let mut points = Points::new(d);
        let mut at = vec![0.0; d];
        for draw in 0..each * middles.len() as u64 {
            normals.fill(draw, &mut at);
            #[expect(clippy::cast_possible_truncation, reason = "a few middles")]
            let middle = &middles[(draw % middles.len() as u64) as usize];
            let moved: Vec<f64> = at.iter().zip(middle).map(|(u, m)| 0.3 * u + m).collect();
            points.push(&moved, 0.0);
        }
        points
    }

    #[test]
    fn one_bell_is_one_group_and_four_corners_are_four() {
        let one = bells(&[vec![4.0, 0.0, 0.0]], 800);
        assert_eq!(groups(&one, 8, 10.0).len(), 1);
        let corners = [[2.0, 2.0], [2.0, -2.0], [-2.0, 2.0], [-2.0, -2.0]];
        let corners: Vec<Vec<f64>> = corners.iter().map(|c| vec![c[0], c[1], 0.0]).collect();
        let found = groups(&bells(&corners, 300), 8, 10.0);
        assert_eq!(found.len(), 4);
        assert!(found.iter().all(|group| group.len() == 300));
    }

    #[test]
    fn opposite_ways_in_a_hundred_coordinates_come_apart() {
        let ends = [vec![0.45; 100], vec![-0.45; 100]];
        assert_eq!(groups(&bells(&ends, 400), 8, 10.0).len(), 2);
    }
}
