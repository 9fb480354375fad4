use super::{fields, form, scale::Scale};
use longodds_sim::{
    quantity::parse as quantity,
    scenario::{self, Scenario, language, patched},
    text::{Sort, leaves},
    words::Voice,
};
use proptest::prelude::*;
use std::{collections::BTreeSet, fs, path::Path};

/// Every demo, read.
fn demos() -> Vec<(String, Scenario)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenarios");
    let mut found: Vec<(String, Scenario)> = fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "yaml"))
        .map(|path| {
            let text = fs::read_to_string(&path).unwrap();
            (path.display().to_string(), scenario::parse(&text, &folder).unwrap())
        })
        .collect();
    found.sort_by(|a, b| a.0.cmp(&b.0));
    assert!(found.len() > 5, "the demos are there");
    found
}

/// The values of an attribute in a text of HTML.
fn values<'h>(html: &'h str, attribute: &str) -> Vec<&'h str> {
    let start = format!(" {attribute}=\"");
    html.split(start.as_str()).skip(1).filter_map(|rest| rest.split('"').next()).collect()
}

#[test]
fn every_key_of_a_demo_has_one_field_and_every_field_is_told_of() {
    for (name, scenario) in demos() {
        let html = form(&scenario).into_string();
        let keys = values(&html, "data-key");
        let once: BTreeSet<&str> = keys.iter().copied().collect();
        assert_eq!(keys.len(), once.len(), "{name}: a field stands twice");
        let language = language();
        for leaf in leaves(&scenario.text, Sort::Scenario, &language).unwrap() {
            if leaf.place.is_some() {
                assert!(once.contains(leaf.path.as_str()), "{name}: no field for {}", leaf.path);
            }
        }
        let told = fields(&scenario);
        let told: BTreeSet<&str> = told.as_object().unwrap().keys().map(String::as_str).collect();
        assert_eq!(told, once, "{name}");
    }
}

#[test]
fn kinds_are_told_apart_by_word() {
    let mut seen = BTreeSet::new();
    for (name, scenario) in demos() {
        let told = fields(&scenario);
        for (key, field) in told.as_object().unwrap() {
            let kind = field["kind"].as_str().unwrap().to_owned();
            let Some(id) = scenario.inputs.find(key) else { continue };
            let input = scenario.inputs.get(id);
            let fixed = input.distribution.is_fixed();
            let wanted = match (input.assumed, fixed, input.unknown) {
                (true, ..) => "assumed",
                (_, true, _) => "fixed",
                (.., true) => "unknown",
                _ => "varies",
            };
            assert_eq!(kind, wanted, "{name}: {key}");
            assert_eq!(field["curve"].as_str().unwrap().is_empty(), fixed, "{name}: {key}");
            assert!(field["low"].as_f64() <= field["high"].as_f64());
            seen.insert(kind);
        }
    }
    assert_eq!(seen.len(), 4, "the demos have every kind");
}

/// A key that another excludes is not offered.
#[test]
fn nothing_is_offered_beside_what_excludes_it() {
    for (name, scenario) in demos() {
        let told = fields(&scenario);
        let release: BTreeSet<&str> = told
            .as_object()
            .unwrap()
            .keys()
            .filter_map(|key| key.strip_prefix("release.")?.split('.').next())
            .filter(|way| language_has_group(way))
            .collect();
        assert_eq!(release.len(), 1, "{name}: one way to be released, not {release:?}");
    }
}

fn language_has_group(way: &str) -> bool {
    let language = language();
    let release = language.row("release").unwrap().kind.group().unwrap();
    release.choices.iter().flatten().any(|name| *name == way)
}

#[test]
fn a_curve_stays_in_its_drawing() {
    for (name, scenario) in demos() {
        for input in scenario.inputs.list() {
            let svg = super::curve::shape(input).into_string();
            for path in values(&svg, "d") {
                for point in path.split(['M', 'L']).filter(|point| point.contains(',')) {
                    let (x, y) = point.split_once(',').unwrap();
                    let y: f64 = y.split(['V', 'H']).next().unwrap().parse().unwrap();
                    let x: f64 = x.parse().unwrap();
                    assert!((-3.0..=207.0).contains(&x), "{name}: {} at x {x}", input.name);
                    assert!((4.9..=34.1).contains(&y), "{name}: {} at y {y}", input.name);
                }
            }
        }
    }
}

/// What a handle shows is what is written, and a number in its unit can be put at
/// its path.
#[test]
fn every_handle_of_a_demo_can_be_set_in_its_own_unit() {
    for (name, scenario) in demos() {
        let language = language();
        for field in super::field::fields(&scenario, &language) {
            for handle in field.handles() {
                let back = handle.scale.off
                    + handle.scale.per * ((handle.value - handle.scale.off) / handle.scale.per);
                assert!((back - handle.value).abs() <= 1e-9 * handle.value.abs() + 1e-12);
                let path = match handle.path.as_str() {
                    "" => field.path().to_owned(),
                    part => format!("{}.{part}", field.path()),
                };
                let text = handle.scale.text(handle.value);
                let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenarios");
                let changed = patched(&scenario.text, &folder, &[format!("{path}={text}")]);
                assert!(changed.is_ok(), "{name}: {path}={text}: {changed:?}");
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever is typed for a number that the claim can be read with, its field
    /// has one part for each number, in the unit it was typed in, and its curve
    /// lies between its edges.
    #[test]
    fn a_number_typed_in_any_way_has_its_field(
        low in 1.0f64..20.0, wide in 0.5f64..20.0, form in 0usize..5, unit in 0usize..3,
    ) {
        let unit = ["m/s", "mph", "km/h"][unit];
        let (a, b, c) = (low, low + wide / 3.0, low + wide);
        let (value, parts) = match form {
            0 => (format!("{a:.3} {unit}"), 1),
            1 => (format!("{{range: [{a:.3} {unit}, {c:.3} {unit}]}}"), 2),
            2 => (format!("{{between: [{a:.3} {unit}, {c:.3} {unit}], unknown: true}}"), 2),
            3 => (format!("{{triangle: [{a:.3} {unit}, {b:.3} {unit}, {c:.3} {unit}]}}"), 3),
            _ => (format!("{{normal: {{mean: {c:.3} {unit}, sd: {a:.3} {unit}}}}}"), 2),
        };
        let key = "air.wind.speed";
        let text = patched(scenario::template(), Path::new(""), &[format!("{key}={value}")]).unwrap().text;
        let scenario = scenario::parse(&text, Path::new("")).unwrap();
        let language = language();
        let all = super::field::fields(&scenario, &language);
        let field = all.iter().find(|field| field.path() == key).unwrap();
        let handles = field.handles();
        prop_assert_eq!(handles.len(), parts);
        for handle in &handles {
            prop_assert_eq!(&handle.scale.unit, unit);
            prop_assert!((quantity(&handle.text, longodds_sim::quantity::Dimension::Speed).unwrap() - handle.value).abs() < 1e-12);
        }
        let html = super::body::body(field, Voice::set(scenario.show)).into_string();
        prop_assert_eq!(values(&html, "data-part").iter().filter(|part| !part.is_empty()).count(), if parts == 1 { 0 } else { 2 * parts });
        let edges: Vec<f64> = ["data-low", "data-high"].iter().filter_map(|name| values(&html, name).last()?.parse().ok()).collect();
        for handle in handles.iter().filter(|_| parts > 1) {
            let at = handle.from + handle.value;
            prop_assert!(edges[0] <= at && at <= edges[1], "{} outside {:?}", at, edges);
        }
        prop_assert!(Scale::of(&handles[0].text, longodds_sim::quantity::Dimension::Speed, scenario.show).per > 0.0);
    }
}
