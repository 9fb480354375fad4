use super::*;
use crate::scenario::{parse, template};
use proptest::prelude::*;
use std::{fs, path::Path};

const TEXT: &str = "\
claim: A ball is thrown at a bin.
object: {shape: {sphere: {diameter: 70 mm}}, mass: {range: [0.1 kg, 0.2 kg]}}
release:
  thrown:
    height: 1.5 m
    speed: 12 m/s   # as told
target:
  stands: {at: 8 m}
  faces:
    bin: {centre: [0 m, 0 m, 1.2 m], width: 1 m, height: 1 m, aim: true}
chain: [released, reaches, strikes]
";

fn set(options: &[&str]) -> Result<Patched, (usize, Diagnostic)> {
    patched(TEXT, Path::new(""), &options.iter().map(|o| (*o).to_owned()).collect::<Vec<_>>())
}

fn middle(text: &str, name: &str) -> f64 {
    let scenario = parse(text, Path::new("")).unwrap();
    let id = scenario.inputs.find(name).unwrap();
    scenario.inputs.get(id).distribution.quantile(0.5)
}

#[test]
fn a_value_is_put_in_its_place_and_the_rest_stays() {
    let changed = set(&["gap=10 m", "speed={range: [9 m/s, 11 m/s]}"]).unwrap();
    let expected =
        TEXT.replace("at: 8 m", "at: 10 m").replace("12 m/s ", "{range: [9 m/s, 11 m/s]} ");
    assert_eq!(changed.text, expected);
    assert_eq!(changed.put[1].was.as_deref(), Some("12 m/s"));
    let one = set(&["target.faces.bin.centre.z=2 m"]).unwrap();
    assert!((middle(&one.text, "target.faces.bin.centre.z") - 2.0).abs() < 1e-12);
    let spread = set(&["object.mass.range=[0.3 kg, 0.4 kg]"]).unwrap();
    assert!((middle(&spread.text, "object.mass") - 0.35).abs() < 1e-12);
}

#[test]
fn what_is_not_written_is_written_where_it_belongs() {
    let changed = set(&[
        "wind.speed=5 m/s",
        "air.wind.from=180 deg",
        "release.thrown.elevation=4 deg",
        "left=1 m",
    ]);
    assert_eq!(
        changed.unwrap_err().1.code,
        "set::key",
        "a wind that is not there has no short name"
    );
    let wind = set(&["wind=5 m/s"]).unwrap();
    assert_eq!(wind.put[0].path, "air.wind.speed", "the word for it has");
    let changed =
        set(&["air.wind.speed=5 m/s", "release.thrown.elevation=4 deg", "target.stands.left=1 m"])
            .unwrap();
    assert!((middle(&changed.text, "air.wind.speed") - 5.0).abs() < 1e-12);
    assert!((middle(&changed.text, "target.stands.left") - 1.0).abs() < 1e-12);
    assert!((middle(&changed.text, "release.thrown.elevation") - 4_f64.to_radians()).abs() < 1e-12);
    assert_eq!(changed.put[0].was, None);
}

/// In whatever words: no value is passed over in silence.
#[test]
fn a_key_is_set_once() {
    for again in ["mass=0.3 kg", "object.mass=0.4 kg", "weight=0.3 kg"] {
        let (number, problem) = set(&["mass=0.3 kg", "gap=9 m", again]).unwrap_err();
        assert_eq!((number, problem.code), (2, "set::twice"), "{again}");
    }
}

#[test]
fn what_is_wrong_points_into_the_option() {
    let wrong = |option: &str| {
        let (number, problem) = set(&["gap=9 m", option]).unwrap_err();
        let (span, _) = problem.label.clone().unwrap();
        assert_eq!(number, 1);
        (problem.code, option[span].to_owned())
    };
    assert_eq!(wrong("speeed=3 m/s"), ("set::key", "speeed".to_owned()));
    assert_eq!(wrong("height=3 m"), ("set::several", "height".to_owned()));
    assert_eq!(wrong("gap"), ("set::shape", "gap".to_owned()));
    assert_eq!(wrong("gap={at: 3 m"), ("set::value", "{at: 3 m".to_owned()));
    assert_eq!(wrong("gap= "), ("set::value", String::new()));
    let option = "target.stands.at=9 furlong";
    let changed = patched(
        TEXT,
        Path::new(""),
        &["mass=0.3 kg".to_owned(), option.to_owned(), "speed=100 m/s".to_owned()],
    )
    .unwrap();
    let problems = parse(&changed.text, Path::new("")).unwrap_err();
    let (number, problem) = changed.pointed(&problems[0]).unwrap();
    assert_eq!((number, problems.len()), (1, 1));
    assert!(option[problem.label.unwrap().0].ends_with("furlong"));
}

/// Set to what stands there already, every value of every demo leaves the text
/// as it is, letter for letter.
#[test]
fn what_stands_there_already_changes_nothing() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenarios");
    let (language, mut seen) = (language(), 0);
    for entry in fs::read_dir(&folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|extension| extension != "yaml") {
            continue;
        }
        let text = fs::read_to_string(&path).unwrap();
        for leaf in leaves(&text, Sort::Scenario, &language).unwrap() {
            let Some(place) = leaf.place else { continue };
            let value = &text[place];
            if value.contains('\n') || value.is_empty() {
                continue;
            }
            let same = patched(&text, Path::new(""), &[format!("{}={value}", leaf.path)]);
            let same = same.unwrap_or_else(|(_, why)| panic!("{}: {value}: {why:?}", leaf.path));
            assert!(same.text == text, "{}: {value}", leaf.path);
            seen += 1;
        }
    }
    assert!(seen > 200, "{seen}");
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(256) })]

    /// Whatever is typed, the change stands at its key alone, or is refused.
    #[test]
    fn no_value_reaches_beyond_its_key(value in "[-a-z0-9:{}\\[\\], #&*!|>'\"%@ü]{1,24}", pick in 0..6_usize) {
        let key = ["claim", "object.mass", "target.stands.at", "air.wind.speed", "target.faces.bin.centre.y", "show"][pick];
        if let Ok(changed) = set(&[&format!("{key}={value}")]) {
            let [before, after] = [TEXT, &changed.text].map(|text| {
                let language = language();
                let all = leaves(text, Sort::Scenario, &language).unwrap();
                let apart = |path: &str| !path.starts_with(key) && !key.starts_with(path) && !path.starts_with("air");
                let others = all.into_iter().filter(|leaf| apart(&leaf.path));
                others.filter_map(|leaf| Some((leaf.path, text[leaf.place?].to_owned()))).collect::<Vec<_>>()
            });
            prop_assert_eq!(before, after);
        }
    }

    /// A number put in is the number that is read.
    #[test]
    fn a_number_put_in_is_the_number_read(metres in 1.0..90.0_f64) {
        let text = patched(template(), Path::new(""), &[format!("target.stands.at={metres} m")]);
        if let Ok(changed) = text {
            prop_assert!((middle(&changed.text, "target.stands.at") - metres).abs() < 1e-12);
        }
    }
}
