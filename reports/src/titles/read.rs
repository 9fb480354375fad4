//! Numbers as a title has them, read back.

use longodds_sim::quantity::{Dimension, parse};

/// "10,000", "10,000 flights".
pub(super) fn count(text: &str) -> Option<u64> {
    let number = text.trim_end_matches(" flights").trim_end_matches(" flight");
    number.replace(',', "").parse().ok()
}

/// Does a text with a share in it ("41 %", "1 in 23,000") stand for this one?
/// Only never is 0 %, and only always 100 %.
pub(super) fn is_share(text: &str, p: f64) -> bool {
    stands_for(text, p, [1.0, 1.0])
}

/// Is it a bound of this one, rounded up by no more than its digits?
pub(super) fn is_bound(text: &str, p: f64) -> bool {
    stands_for(text, p, [0.001, 2.0])
}

/// By so many half units of its last digit it may be smaller and larger.
fn stands_for(text: &str, p: f64, [down, up]: [f64; 2]) -> bool {
    if let Some(rest) = text.strip_prefix("all but ") {
        return stands_for(rest, 1.0 - p, [up, down]);
    }
    if let Some(one_in) = text.strip_prefix("1 in ") {
        let (number, unit) = one_in.split_once(' ').unwrap_or((one_in, ""));
        let unit = match unit {
            "" => 1.0,
            "million" => 1e6,
            "billion" => 1e9,
            "trillion" => 1e12,
            _ => return false,
        };
        // Two digits.
        let n = number.replace(',', "").parse::<f64>().unwrap_or(f64::NAN) * unit;
        return (p * n - 1.0) < 0.051 * down && (1.0 - p * n) < 0.051 * up;
    }
    let Some(percent) = text.strip_suffix(" %") else { return false };
    match percent {
        "0" => p <= 0.0,
        "100" => p >= 1.0,
        _ => {
            let value: f64 = percent.parse().unwrap_or(f64::NAN);
            let decimals = percent.split_once('.').map_or(0, |(_, tail)| tail.len());
            let half = 0.505 * 0.1_f64.powi(i32::try_from(decimals).unwrap_or(0));
            (0.0..1.0).contains(&p)
                && (100.0 * p - value) <= half * down
                && (value - 100.0 * p) <= half * up
        }
    }
}

/// Does a text with a quantity in it stand for this SI value? Three digits.
pub(super) fn is_quantity(text: &str, si: f64, dimension: Dimension) -> bool {
    let mut plain = text.to_owned();
    for (sign, word) in [
        ("ft·lbf", "ft lbf"),
        ("°", " deg"),
        ("²", "2"),
        ("³", "3"),
        ("−", "-"),
        (" deg deg", " deg"),
    ] {
        plain = plain.replace(sign, word);
    }
    if plain == "0" {
        return si == 0.0;
    }
    parse(&plain, dimension).is_ok_and(|value| (value - si).abs() <= 0.006 * si.abs().max(1e-12))
}

#[test]
fn a_number_is_read_back_as_what_it_stands_for_and_nothing_else() {
    assert_eq!(
        (count("10,000 flights"), count("1 flight"), count("one")),
        (Some(10_000), Some(1), None)
    );
    assert!(is_share("41 %", 0.414) && !is_share("41 %", 0.416));
    assert!(is_share("5.2 %", 0.0523) && !is_share("5.2 %", 0.0526));
    assert!(is_bound("32 %", 0.3101) && !is_bound("31 %", 0.3101) && !is_bound("33 %", 0.3101));
    assert!(is_share("1 in 4.3 million", 1.0 / 4.31e6) && !is_share("1 in 4.3 million", 1e-6));
    assert!(!is_share("0 %", 1e-9) && !is_share("100 %", 1.0 - 1e-9) && is_share("100 %", 1.0));
    assert!(is_share("all but 1 in 3,300", 0.9997) && !is_share("all but 1 in 3,300", 0.9996));
    // Source: exact factors, 1 ft = 0.3048 m, 1 mph = 0.44704 m/s.
    assert!(is_quantity("8 ft 6 in", 2.5908, Dimension::Length));
    assert!(is_quantity("30 mph", 13.4112, Dimension::Speed));
    assert!(!is_quantity("30 mph", 13.6, Dimension::Speed));
    assert!(is_quantity("30°", std::f64::consts::FRAC_PI_6, Dimension::Angle));
    assert!(is_quantity("58.3 ft·lbf", 79.0, Dimension::Energy));
}
