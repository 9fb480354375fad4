//! Numbers as a person reads them: counts with separators, shares that never
//! round to "never" or "always", quantities in the reader's units.

use longodds_sim::{
    findings::{Chance, Findings, Units, thousands},
    math,
    quantity::{self, Dimension, Show, significant},
    scenario::{Demand, Gate},
};

/// Units of display of a record.
#[must_use]
pub fn show(findings: &Findings) -> Show {
    match findings.show {
        Units::Si => Show::Si,
        Units::Imperial => Show::Imperial,
    }
}

/// A count with separators: `12,345`.
#[must_use]
pub fn count(n: u64) -> String {
    thousands(n)
}

/// "1 flight", "2 flights".
#[must_use]
pub fn flights(n: u64) -> String {
    format!("{} {}", count(n), if n == 1 { "flight" } else { "flights" })
}

/// A probability: `41 %`, `0.31 %`, `1 in 23,000`; exactly 0 and 1 alone read
/// as `0 %` and `100 %`.
#[must_use]
pub fn share(p: f64) -> String {
    if p <= 0.0 {
        "0 %".to_owned()
    } else if p >= 1.0 {
        "100 %".to_owned()
    } else if p < 1e-3 {
        one_in(p)
    } else if p > 0.99 {
        let rest = significant((1.0 - p) * 100.0, 1);
        let decimals = rest.split_once('.').map_or(0, |(_, d)| d.len()).min(9);
        // 1 - 1e-12 has more nines than anybody reads.
        if (1.0 - p) < 1e-6 {
            "over 99.9999 %".to_owned()
        } else {
            format!("{:.decimals$} %", p * 100.0)
        }
    } else {
        format!("{} %", significant(p * 100.0, 2))
    }
}

/// `1 in N`, N to two digits and in words from a million up.
#[must_use]
pub fn one_in(p: f64) -> String {
    if p <= 0.0 {
        return "none".to_owned();
    }
    let n = 1.0 / p;
    let worded = |unit: f64, word: &str| format!("1 in {} {word}", significant(n / unit, 2));
    match n {
        n if n < 9.5 => format!("1 in {}", significant(n, 2)),
        n if n < 999_500.0 => format!("1 in {}", count(rounded(n))),
        n if n < 9.995e8 => worded(1e6, "million"),
        n if n < 9.995e11 => worded(1e9, "billion"),
        _ => format!("1 in {}", significant(n, 2)),
    }
}

/// To two digits, as a count.
#[expect(clippy::cast_possible_truncation, reason = "called below a million")]
#[expect(clippy::cast_sign_loss, reason = "called above zero")]
fn rounded(n: f64) -> u64 {
    significant(n, 2).parse::<f64>().unwrap_or(n).round() as u64
}

/// The interval in words: "between 0.21 % and 0.44 %", "at most 0.037 %".
#[must_use]
pub fn interval(chance: &Chance) -> String {
    if (chance.low <= 0.0 || chance.at_most) && chance.high >= 1.0 {
        "anything from 0 % to 100 %".to_owned()
    } else if chance.low <= 0.0 || chance.at_most {
        format!("at most {}", share(chance.high))
    } else if chance.high >= 1.0 {
        format!("at least {}", rounded_down(chance.low))
    } else {
        let ends = [chance.low, chance.high];
        let about = share(chance.probability);
        let [low, high] = match ends.map(share) {
            // Too narrow for two digits: an end that reads as the estimate does
            // would seem to be no end.
            [low, high]
                if high.ends_with(" %") && (low == high || low == about || high == about) =>
            {
                ends.map(|p| format!("{} %", finer(p)))
            }
            both => both,
        };
        if low == high { format!("about {low}") } else { format!("between {low} and {high}") }
    }
}

/// A share near 1, of whose gap to 1 [`share`] keeps a single digit, never said
/// larger than it is.
fn rounded_down(p: f64) -> String {
    if p <= 0.99 || 1.0 - p < 1e-6 {
        return share(p);
    }
    let rest = significant((1.0 - p) * 100.0, 1);
    let decimals = rest.split_once('.').map_or(0, |(_, d)| d.len()).min(9);
    let steps = math::pow(10.0, f64::from(u8::try_from(decimals).unwrap_or(9)));
    format!("{:.decimals$} %", (p * 100.0 * steps + 1e-9).floor() / steps)
}

/// Hundredths with one digit more than [`share`] gives.
fn finer(p: f64) -> String {
    let plain = significant(100.0 * p, 3);
    if p <= 0.99 {
        return plain;
    }
    let rest = significant(100.0 * (1.0 - p), 2);
    let decimals = rest.split_once('.').map_or(0, |(_, d)| d.len()).min(9);
    format!("{:.decimals$}", 100.0 * p)
}

/// From one probability to another, both said in the same way: "at most 1 in
/// 1,100", "1 in 5,000 to 1 in 310", "21 % to 29 %".
#[must_use]
pub fn span([low, high]: [f64; 2]) -> String {
    let rare = high > 0.0 && high < 0.01 && low.min(high) < 1e-3;
    let say = |p: f64| if rare { one_in(p) } else { share(p) };
    if low <= 0.0 {
        format!("at most {}", say(high))
    } else {
        format!("{} to {}", say(low), say(high))
    }
}

/// The best estimate; an upper bound says so.
#[must_use]
pub fn estimate(chance: &Chance) -> String {
    chance.bounded(share(chance.probability))
}

/// How many flights held, and of how many, where that is the chance itself:
/// a run that steers its flights towards the claim counts them otherwise.
#[must_use]
pub fn counted(chance: &Chance) -> Option<(u64, u64)> {
    #[expect(clippy::cast_precision_loss, reason = "compared to one part in a hundred")]
    let plain = chance.held as f64 / chance.flights.max(1) as f64;
    let same = (plain - chance.probability).abs() <= 0.01 * plain.max(chance.probability);
    (same && chance.flights > 0).then_some((chance.held, chance.flights))
}

/// The number in big type: "0.31 %", "0 of 10,000", "All 10,000".
#[must_use]
pub fn headline(chance: &Chance) -> String {
    if chance.probability <= 0.0 && chance.held == 0 {
        format!("0 of {}", count(chance.flights))
    } else if chance.probability >= 1.0 && chance.held == chance.flights {
        format!("{} of {}", count(chance.held), count(chance.flights))
    } else {
        share(chance.probability)
    }
}

/// The likelihood word without the "about 1 in N" that may follow it: for
/// places where the number stands beside it.
#[must_use]
pub fn likelihood(chance: &Chance) -> &str {
    let words = chance.likelihood.as_str();
    let end = [" (about", ", about", ": "].iter().filter_map(|cut| words.find(cut)).min();
    &words[..end.unwrap_or(words.len())]
}

/// A quantity in the reader's units, with typographic unit signs.
#[must_use]
pub fn quantity(si: f64, dimension: Dimension, show: Show) -> String {
    if si == 0.0 && dimension != Dimension::Temperature {
        // Zero needs no unit, and the one picked for it would be the smallest.
        return "0".to_owned();
    }
    let text = quantity::format(si, dimension, show).replace('-', "−");
    match text.rsplit_once(' ') {
        // "ft lbf" is two words.
        Some((number, "lbf")) if number.ends_with(" ft") => {
            format!("{} ft·lbf", number.trim_end_matches(" ft"))
        }
        Some((number, "deg")) => format!("{number}°"),
        Some((number, unit)) => format!("{number} {}", sign(unit)),
        None => text,
    }
}

/// A unit's symbol with typographic signs.
#[must_use]
pub fn sign(symbol: &str) -> String {
    match symbol {
        "deg" => "°".to_owned(),
        "degC" => "°C".to_owned(),
        "degF" => "°F".to_owned(),
        "delta degF" => "°F".to_owned(),
        "ft lbf" => "ft·lbf".to_owned(),
        other => other.replace('2', "²").replace('3', "³"),
    }
}

/// A face in the middle of a sentence, from its name in the scenario.
#[must_use]
pub fn place(face: &str) -> String {
    format!("the {}", face.replace('_', " "))
}

/// The dimension named in a record; a pure number if it is none we know.
#[must_use]
pub fn dimension(name: &str) -> Dimension {
    Dimension::from_name(name).unwrap_or(Dimension::Number)
}

/// What a barrier's strength is measured in.
#[must_use]
pub fn demand(demand: Demand) -> (Dimension, &'static str) {
    match demand {
        Demand::NormalEnergy => {
            (Dimension::Energy, "energy along the normal at the point of contact")
        }
        Demand::TotalEnergy => (Dimension::Energy, "kinetic energy on arrival"),
        Demand::NormalSpeed => {
            (Dimension::Speed, "closing speed along the normal at the point of contact")
        }
    }
}

/// "39 % of all flights do", "1 in 2.2 million flights does".
#[must_use]
pub fn flights_do(p: f64) -> String {
    let share = share(p);
    if share.starts_with("1 in") {
        format!("{share} flights does")
    } else {
        format!("{share} of all flights do")
    }
}

/// A gate's name.
#[must_use]
pub fn gate(gate: Gate) -> &'static str {
    gate.name()
}

/// What flights do that pass a gate ("one in ten ... ").
#[must_use]
pub fn passes(gate: Gate) -> &'static str {
    match gate {
        Gate::Released => "come loose",
        Gate::Reaches => "come as far as the target",
        Gate::Strikes => "strike what was aimed at",
        Gate::Attitude => "strike in the attitude the claim needs",
        Gate::Perforates => "go through",
        Gate::Harms => "arrive with enough energy to harm",
    }
}

/// The first letter as a capital.
#[must_use]
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |c| c.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_never_rounds_to_never_or_always() {
        let cases = [
            (0.0, "0 %"),
            (1.0, "100 %"),
            (0.414, "41 %"),
            (0.0041, "0.41 %"),
            (0.99996, "99.996 %"),
            (0.995, "99.5 %"),
            (0.9999999999, "over 99.9999 %"),
            (4.3e-5, "1 in 23,000"),
            (8.1e-8, "1 in 12 million"),
        ];
        for (p, words) in cases {
            assert_eq!(share(p), words);
        }
    }

    #[test]
    fn counts_stand_for_a_chance_only_where_they_are_it() {
        let mut chance = crate::sample::ordinary().claim;
        assert_eq!(counted(&chance), Some((31, 10_000)));
        chance.probability = 2.3e-7;
        assert_eq!(counted(&chance), None);
    }

    #[test]
    fn an_interval_has_two_ends() {
        let mut chance = crate::sample::ordinary().claim;
        let mut said = |low, high| {
            (chance.low, chance.high) = (low, high);
            interval(&chance)
        };
        assert_eq!(said(0.21, 0.44), "between 21 % and 44 %");
        assert_eq!(said(0.948, 0.954), "between 94.8 % and 95.4 %");
        chance.probability = 0.4126;
        let mut said = |low, high| {
            (chance.low, chance.high) = (low, high);
            interval(&chance)
        };
        assert_eq!(said(0.4057, 0.4194), "between 40.6 % and 41.9 %");
        assert_eq!(said(0.35, 0.48), "between 35 % and 48 %");
        assert_eq!(said(0.50001, 0.50002), "about 50 %");
        assert_eq!(
            (said(0.0, 0.04), said(0.3, 1.0)),
            ("at most 4 %".into(), "at least 30 %".into())
        );
        assert_eq!(said(0.999_85, 1.0), "at least 99.98 %");
    }

    #[test]
    fn both_ends_of_a_span_are_said_alike() {
        assert_eq!(span([2e-4, 0.0032]), "1 in 5,000 to 1 in 310");
        assert_eq!(span([0.0, 9e-4]), "at most 1 in 1,100");
        assert_eq!(span([0.21, 0.29]), "21 % to 29 %");
        assert_eq!(span([0.0, 0.18]), "at most 18 %");
    }

    #[test]
    fn counts_have_separators() {
        assert_eq!(count(7), "7");
        assert_eq!(count(1_234_567), "1,234,567");
        assert_eq!(flights(1), "1 flight");
    }

    #[test]
    fn units_are_set_with_their_signs() {
        assert_eq!(quantity(std::f64::consts::FRAC_PI_6, Dimension::Angle, Show::Si), "30°");
        assert_eq!(quantity(79.0, Dimension::Energy, Show::Imperial), "58.3 ft·lbf");
        assert_eq!(quantity(12.5, Dimension::Speed, Show::Si), "12.5 m/s");
    }
}
