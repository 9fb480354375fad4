//! The wider of two answers, distance by distance.

use super::{Exceeded, Exclusion, Opened, Reach};

/// What was flown with nothing exact, with every distance that is wider as told
/// put in its place; `None` if neither came loose.
pub(super) fn of(
    wide: Option<Exclusion>,
    told: Option<Exclusion>,
    opened: Vec<Opened>,
) -> Option<Exclusion> {
    let (mut answer, told) = match (wide, told) {
        (Some(wide), told) => (wide, told),
        // As told it comes loose, opened it never did: what is told stands.
        (None, told) => (told?, None),
    };
    if let Some(told) = &told {
        for (mine, theirs) in answer.reaches.iter_mut().zip(&told.reaches) {
            *mine = reach(mine, theirs);
        }
        answer.partial |= told.partial;
    }
    answer.opened = opened;
    answer.as_told = told.map(Box::new);
    Some(answer)
}

/// The wider of two reaches in one direction.
fn reach(a: &Reach, b: &Reach) -> Reach {
    Reach {
        measure: a.measure,
        farthest: a.farthest.max(b.farthest),
        beyond: a.beyond.max(b.beyond),
        exceeded: a.exceeded.iter().zip(&b.exceeded).map(|(a, b)| exceeded(a, b)).collect(),
    }
}

/// The wider of two distances; one that is not known is wider than any that is,
/// and is known to be at least what the other is.
fn exceeded(a: &Exceeded, b: &Exceeded) -> Exceeded {
    let far = |one: &Exceeded| one.distance.unwrap_or(f64::INFINITY);
    let (wide, other) = if far(a) >= far(b) { (a, b) } else { (b, a) };
    let most = |i: usize| match (wide.interval[i], other.interval[i]) {
        (Some(a), Some(b)) => Some(a.max(b)),
        (one, other) if i == 0 => one.or(other),
        // An end that is open stays open.
        _ => None,
    };
    Exceeded { interval: [most(0), most(1)], ..*wide }
}

#[cfg(test)]
mod tests {
    use super::{super::How, *};
    use proptest::prelude::*;

    fn any() -> impl Strategy<Value = Exceeded> {
        let how = prop::sample::select(vec![How::Counted, How::Searched, How::TooFew]);
        (prop::option::of(0.0..100.0), 0.0..5.0, 0.0..5.0, any_end(), how).prop_map(
            |(distance, below, above, open, how): (Option<f64>, f64, f64, bool, How)| {
                let low = distance.map_or(below, |distance| distance - below);
                let high = distance.filter(|_| !open).map(|distance| distance + above);
                Exceeded { one_in: 10.0, distance, interval: [Some(low), high], how }
            },
        )
    }

    fn any_end() -> impl Strategy<Value = bool> {
        prop::bool::weighted(0.2)
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..Default::default() })]

        /// No end of the wider one is nearer than the same end of either.
        #[test]
        fn the_wider_one_is_nowhere_nearer_than_either(a in any(), b in any()) {
            let wide = exceeded(&a, &b);
            for one in [&a, &b] {
                let far = |end: Option<f64>| end.unwrap_or(f64::INFINITY);
                prop_assert!(far(wide.distance) >= far(one.distance));
                prop_assert!(far(wide.interval[1]) >= far(one.interval[1]));
                prop_assert!(wide.interval[0] >= one.interval[0]);
            }
            prop_assert_eq!(exceeded(&b, &a).distance, wide.distance);
            prop_assert_eq!(exceeded(&a, &a), a);
        }
    }
}
