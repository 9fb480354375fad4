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
    if let Some(one_in) = text.strip_prefix("1 in ") {
        let (number, unit) = one_in.split_once(' ').unwrap_or((one_in, ""));
        let unit = match unit {
            "" => 1.0,
            "million" => 1e6,
            "billion" => 1e9,
            _ => return false,
        };
        // Two digits.
        let n = number.replace(',', "").parse::<f64>().unwrap_or(f64::NAN) * unit;
        return (p * n - 1.0).abs() < 0.051;
    }
    let Some(percent) = text.strip_suffix(" %") else { return false };
    match percent {
        "0" => p <= 0.0,
        "100" => p >= 1.0,
        "over 99.9999" => p < 1.0 && p > 0.999_998,
        _ => {
            let value: f64 = percent.parse().unwrap_or(f64::NAN);
            let decimals = percent.split_once('.').map_or(0, |(_, tail)| tail.len());
            let half = 0.505 * 0.1_f64.powi(i32::try_from(decimals).unwrap_or(0));
            (0.0..1.0).contains(&p) && (100.0 * p - value).abs() <= half
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
    assert!(is_share("0.31 %", 0.0031) && !is_share("0.31 %", 0.0032));
    assert!(is_share("1 in 4.3 million", 1.0 / 4.31e6) && !is_share("1 in 4.3 million", 1e-6));
    assert!(!is_share("0 %", 1e-9) && !is_share("100 %", 1.0 - 1e-9) && is_share("100 %", 1.0));
    assert!(is_share("99.996 %", 0.999_96) && !is_share("99.996 %", 0.99997));
    // Source: exact factors, 1 ft = 0.3048 m, 1 mph = 0.44704 m/s.
    assert!(is_quantity("8 ft 6 in", 2.5908, Dimension::Length));
    assert!(is_quantity("30 mph", 13.4112, Dimension::Speed));
    assert!(!is_quantity("30 mph", 13.6, Dimension::Speed));
    assert!(is_quantity("30°", std::f64::consts::FRAC_PI_6, Dimension::Angle));
    assert!(is_quantity("58.3 ft·lbf", 79.0, Dimension::Energy));
}
