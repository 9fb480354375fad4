//! Inputs with few values as strata: each combination of their values is
//! flown and searched by itself, and weighed exactly.

use super::{Few, LimitState};
use crate::uncertain::{normal_cdf, normal_quantile, open_unit};

/// Most strata.
const MOST: usize = 64;
/// Most weight of combinations that are left out.
const LEFT_OUT: f64 = 1e-3;
/// Where there would be more, values at least so common stay together.
const COMMON: f64 = 0.05;

/// Where one coordinate lies in one stratum: parts of the unit interval.
#[derive(Clone, Debug, PartialEq)]
struct Part {
    coordinate: usize,
    /// Lower ends and lengths, rising.
    pieces: Vec<[f64; 2]>,
    weight: f64,
}

/// One combination of values of the inputs that have few.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Stratum {
    parts: Vec<Part>,
    /// Its share of all draws.
    pub(super) weight: f64,
}

impl Stratum {
    /// A point of the stratum's own standard normal space as a point of the
    /// whole, in place.
    pub(super) fn widen(&self, point: &mut [f64]) {
        for part in &self.parts {
            let u = &mut point[part.coordinate];
            let mut along = part.weight * normal_cdf(*u);
            let mut at = part.pieces[0];
            for piece in &part.pieces {
                at = *piece;
                if along <= piece[1] {
                    break;
                }
                along -= piece[1];
            }
            *u = normal_quantile(open_unit(at[0] + along.min(at[1])));
        }
    }

    /// The other way round; `None` if the point lies in another stratum.
    pub(super) fn narrow(&self, point: &[f64]) -> Option<Vec<f64>> {
        let mut own = point.to_vec();
        for part in &self.parts {
            let u = normal_cdf(point[part.coordinate]);
            let mut before = 0.0;
            let piece = part.pieces.iter().find(|piece| {
                let inside = u > piece[0] && u <= piece[0] + piece[1];
                before += if inside { 0.0 } else { piece[1] };
                inside
            });
            // Pieces before the one it lies in were passed in order.
            let along = before + u - piece?[0];
            own[part.coordinate] = normal_quantile(open_unit(along / part.weight));
        }
        Some(own)
    }
}

/// The strata of the inputs with few values, the heaviest first, and the weight
/// of all combinations that are left out.
pub(super) fn strata(few: &[Few]) -> (Vec<Stratum>, f64) {
    let whole: usize = few.iter().map(|few| few.chances.len()).product();
    // Many combinations: rare values are told apart, common ones are not.
    let common = if whole <= MOST { 1.0 } else { COMMON };
    let rarest = |few: &Few| few.chances.iter().copied().fold(1.0, f64::min);
    let mut order: Vec<&Few> = few.iter().collect();
    order.sort_by(|a, b| rarest(a).total_cmp(&rarest(b)).then(a.coordinate.cmp(&b.coordinate)));
    let mut strata = vec![Stratum { parts: Vec::new(), weight: 1.0 }];
    let mut left_out = 0.0;
    for few in order {
        let parts = cut(few, common);
        let with = |stratum: &Stratum, part: &Part| {
            let mut parts = stratum.parts.clone();
            parts.push(part.clone());
            Stratum { parts, weight: stratum.weight * part.weight }
        };
        let mut all: Vec<Stratum> =
            strata.iter().flat_map(|s| parts.iter().map(|p| with(s, p))).collect();
        all.sort_by(|a, b| b.weight.total_cmp(&a.weight));
        let lighter = all.split_off(MOST.min(all.len())).iter().map(|s| s.weight).sum::<f64>();
        // An input that would leave out much stays as it is.
        if left_out + lighter <= LEFT_OUT {
            left_out += lighter;
            strata = all;
        }
    }
    (strata, left_out)
}

/// One part for each value rarer than `common`, one for all others.
fn cut(few: &Few, common: f64) -> Vec<Part> {
    let (mut parts, mut rest, mut from) = (Vec::new(), Vec::new(), 0.0);
    for chance in &few.chances {
        if *chance < common {
            let pieces = vec![[from, *chance]];
            parts.push(Part { coordinate: few.coordinate, pieces, weight: *chance });
        } else {
            rest.push([from, *chance]);
        }
        from += chance;
    }
    if !rest.is_empty() {
        let weight = rest.iter().map(|piece| piece[1]).sum();
        parts.push(Part { coordinate: few.coordinate, pieces: rest, weight });
    }
    parts
}

/// The state within one stratum.
pub(super) struct Within<'a, S> {
    pub(super) state: &'a S,
    pub(super) stratum: &'a Stratum,
}

impl<S: LimitState> LimitState for Within<'_, S> {
    fn dimension(&self) -> usize {
        self.state.dimension()
    }

    fn scores(&self, points: &[f64], out: &mut [f64]) {
        if self.stratum.parts.is_empty() {
            return self.state.scores(points, out);
        }
        let mut whole = points.to_vec();
        for point in whole.chunks_mut(self.dimension()) {
            self.stratum.widen(point);
        }
        self.state.scores(&whole, out);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn few(coordinate: usize, chances: &[f64]) -> Few {
        Few { coordinate, chances: chances.to_vec() }
    }

    proptest! {
        #[test]
        fn every_point_lies_in_one_stratum_and_comes_back(
            raw in prop::collection::vec(prop::collection::vec(0.001..1.0_f64, 2..6), 1..4),
            point in prop::collection::vec(-3.0..3.0_f64, 4),
        ) {
            let inputs: Vec<Few> = raw.iter().enumerate().map(|(i, raw)| {
                let total: f64 = raw.iter().sum();
                few(i, &raw.iter().map(|w| w / total).collect::<Vec<_>>())
            }).collect();
            let (all, left_out) = strata(&inputs);
            prop_assert!(all.len() <= MOST);
            let total: f64 = all.iter().map(|s| s.weight).sum();
            prop_assert!((total + left_out - 1.0).abs() < 1e-12);
            let homes: Vec<_> = all.iter().filter_map(|s| Some((s, s.narrow(&point)?))).collect();
            if left_out > 0.0 && homes.is_empty() {
                return Ok(());
            }
            prop_assert_eq!(homes.len(), 1);
            let mut back = homes[0].1.clone();
            homes[0].0.widen(&mut back);
            for (a, b) in back.iter().zip(&point) {
                prop_assert!((a - b).abs() < 1e-6, "{a} {b}");
            }
        }
    }

    #[test]
    fn many_combinations_leave_only_rare_values_apart() {
        let common = [0.25; 4];
        let inputs = [
            few(0, &common),
            few(1, &common),
            few(2, &common),
            few(3, &common),
            few(4, &[0.6, 0.399, 0.001]),
            few(5, &[0.02, 0.96, 0.02]),
        ];
        let (all, left_out) = strata(&inputs);
        assert_eq!(all.len(), 2 * 3);
        assert!(left_out <= 0.0);
        let least = all.iter().map(|s| s.weight).fold(1.0, f64::min);
        assert!((least - 0.001 * 0.02).abs() < 1e-15);
    }

    #[test]
    fn of_too_many_combinations_the_lightest_are_left_out_and_weighed() {
        let inputs: Vec<Few> = (0..8).map(|i| few(i, &[0.9999, 0.0001])).collect();
        let (all, left_out) = strata(&inputs);
        assert_eq!(all.len(), MOST);
        // None, one or two of them: 1 + 8 + 28 combinations; three are lighter.
        assert!(left_out > 0.0 && left_out < 56e-12, "{left_out}");
    }

    #[test]
    fn without_few_values_there_is_one_stratum() {
        assert_eq!(strata(&[]).0.len(), 1);
    }
}
