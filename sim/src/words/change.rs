//! By how much a chance changed, as people say it.

use super::{Spoken, interval};

/// A change of a chance with its interval: "13 in 100 more (12.1 to 13.1 in
/// 100 more): more than chance".
///
/// `sure`: whether it is more than chance.
///
/// ```
/// use longodds_sim::words::change;
/// assert_eq!(
///     change(-0.126, -0.131, -0.121, true),
///     "13 in 100 fewer (12.1 to 13.1 in 100 fewer): more than chance"
/// );
/// ```
#[must_use]
pub fn change(difference: f64, low: f64, high: f64, sure: bool) -> String {
    let (size, [least, most]) = match difference < 0.0 {
        true => (-difference, [-high, -low]),
        false => (difference, [low, high]),
    };
    let way = |less: bool| if less { "fewer" } else { "more" };
    let down = difference < 0.0;
    if sure && least > 0.0 {
        let said = Spoken::inside(size, least, most);
        return format!(
            "{said} {} ({} {}): more than chance",
            way(down),
            interval(least, most),
            way(down)
        );
    }
    let [fewer, more] = [-low, high].map(|end| Spoken::at_most(end.max(0.0)));
    format!("no more than chance (anything from {fewer} fewer to {more} more)")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

        /// Turned round, it is said of as much the other way.
        #[test]
        fn as_much_is_said_either_way(size in 0.001..0.9_f64, part in 0.01..0.99_f64) {
            let (least, most) = (size * part, size + (1.0 - size) * part);
            let up = change(size, least, most, true);
            let down = change(-size, -most, -least, true);
            prop_assert_eq!(up.replace("more", "fewer"), down.replace("more", "fewer"));
            let unsure = change(size * 0.1, -size, size, false);
            prop_assert!(unsure.starts_with("no more than chance"));
        }
    }
}
