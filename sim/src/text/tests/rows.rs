//! What the rows say is what the reader does.

use super::{
    Language, inside,
    made::{Spot, si, spots, text, texts},
};
use crate::text::{Kind, What, spread};
use proptest::prelude::*;
use serde_json::json;

/// Whether a number is taken where it stands: `None` where it is, or the errors.
fn refused(language: &Language, spot: &Spot, what: What, value: f64) -> Vec<String> {
    let put = json!(si(value, what.dimension));
    let mut found = Vec::new();
    for text in texts(&language.group, &spot.path, &put) {
        let place = language.place(&text, &spot.name());
        let here = inside(&language.problems(&text), &place);
        found.extend(here.into_iter().filter(|one| one.code == "scenario::range"));
    }
    found.dedup_by(|a, b| a.message == b.message);
    found.into_iter().map(|one| one.message).collect()
}

fn numbers(language: &Language) -> Vec<(Spot, What)> {
    let all = spots(&language.group).into_iter();
    all.filter_map(|spot| match spot.kind {
        Kind::Number(what) | Kind::Value(what) | Kind::Whole(what) => Some((spot, what)),
        _ => None,
    })
    .collect()
}

/// A hair beyond a bound.
fn beyond(bound: f64, way: f64) -> f64 {
    bound + way * 1e-9 * bound.abs().max(1e-3)
}

#[test]
fn every_bound_of_the_table_is_the_one_that_the_reader_keeps() {
    let mut seen = 0;
    for language in Language::all() {
        for (spot, what) in numbers(&language) {
            let (low, high) = what.bounds();
            let whole = matches!(spot.kind, Kind::Whole(_));
            for (bound, way) in [(low, -1.0), (high, 1.0)] {
                let out = if whole { bound + way } else { beyond(bound, way) };
                let out = if bound.abs() <= f64::MIN_POSITIVE && way < 0.0 && bound > 0.0 {
                    0.0
                } else {
                    out
                };
                let inn = if bound > 0.0 && bound <= f64::MIN_POSITIVE { 1e-9 } else { bound };
                let name = spot.name();
                let found = refused(&language, &spot, what, inn);
                assert!(found.is_empty(), "{name}: {inn} is within: {found:?}");
                let found = refused(&language, &spot, what, out);
                assert_eq!(found.len(), 1, "{name}: {out} is beyond {bound}");
                seen += 1;
            }
        }
    }
    assert!(seen > 250, "{seen}");
}

#[test]
fn every_bound_of_a_spread_is_kept_too() {
    let language = &Language::all()[0];
    let mass = ["object", "mass"].map(str::to_owned);
    let what =
        language.group.row("object").unwrap().kind.group().unwrap().row("mass").unwrap().what();
    for spot in spots(&spread::group(what)) {
        let Kind::Value(what) = spot.kind else { continue };
        let (low, high) = what.bounds();
        for (value, good) in [
            (low.max(1e-9), true),
            (high, true),
            (if low > 0.0 && low <= f64::MIN_POSITIVE { 0.0 } else { beyond(low, -1.0) }, false),
            (beyond(high, 1.0), false),
        ] {
            let one = text(&spread::group(what), &spot.path, &json!(si(value, what.dimension)));
            let form: serde_json::Value = serde_yaml::from_str(&one).unwrap();
            let text = text(&language.group, &mass, &form);
            let wrong = language.problems(&text);
            let out = wrong.iter().any(|one| one.code == "scenario::range");
            assert_eq!(!out, good, "{}: {value} in {one}: {wrong:?}", spot.name());
        }
    }
}

/// A key that were in the table and that no reader asked for would say nothing
/// of what stands there.
#[test]
fn every_key_of_the_table_is_read() {
    for language in Language::all() {
        for spot in spots(&language.group) {
            let put = match spot.kind {
                Kind::Nothing | Kind::List(_) => json!({ "x": "y" }),
                _ => json!([[["x"]]]),
            };
            let text = text(&language.group, &spot.path, &put);
            let whole = language.place_of_entry(&text, &spot.path);
            let found = inside(&language.problems(&text), &whole);
            assert!(!found.is_empty(), "{} is not read: {text}", spot.name());
        }
    }
}

#[test]
fn every_word_of_the_table_is_known_and_no_other() {
    for language in Language::all() {
        for spot in spots(&language.group) {
            let (words, wanted): (Vec<String>, _) = match &spot.kind {
                Kind::Words(words) => (words.clone(), true),
                Kind::Flag => (vec!["true".into(), "false".into()], true),
                _ => continue,
            };
            let said = |word: &str| {
                let text = text(&language.group, &spot.path, &json!(word));
                let place = language.place(&text, &spot.name());
                let here = inside(&language.problems(&text), &place);
                let unknown =
                    ["scenario::word", "scenario::barrier", "scenario::surface", "units::"];
                here.iter().any(|one| unknown.iter().any(|code| one.code.starts_with(code)))
            };
            for word in &words {
                assert_eq!(!said(word), wanted, "{}: {word}", spot.name());
            }
            assert!(said("no_such_word"), "{}", spot.name());
        }
    }
}

#[test]
fn a_key_that_is_not_in_the_table_is_an_error_at_its_place() {
    for language in Language::all() {
        for spot in spots(&language.group) {
            let mut path = spot.path.clone();
            if matches!(spot.row.kind, Kind::Tuple(_)) {
                path.pop();
            }
            path.pop();
            path.push("qqq".to_owned());
            let text = text(&language.group, &spot.path, &json!("1"));
            let Some(text) = super::schema::with_key(&text, &path) else { continue };
            let problems = language.problems(&text);
            let found = problems.iter().find(|one| one.code == "scenario::unknown_key");
            let (span, _) = found.unwrap_or_else(|| panic!("{path:?}")).label.clone().unwrap();
            assert!(text[span].contains("qqq"), "{path:?}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    /// Anywhere within the bounds is taken, anywhere outside is not.
    #[test]
    fn values_are_taken_within_the_bounds_and_nowhere_else(
        which in any::<prop::sample::Index>(), share in 0.001_f64..0.999, rig in any::<bool>(),
    ) {
        let language = &Language::all()[usize::from(rig)];
        let all = numbers(language);
        let (spot, what) = &all[which.index(all.len())];
        if matches!(spot.kind, Kind::Whole(_)) {
            return Ok(());
        }
        let (low, high) = what.bounds();
        let within = low + share * (high - low);
        prop_assert!(refused(language, spot, *what, within).is_empty(), "{} {within}", spot.name());
        let out = high + (high - low) * (1.0 / share - 1.0).min(1e3);
        prop_assert!(!refused(language, spot, *what, out).is_empty(), "{} {out}", spot.name());
    }
}
