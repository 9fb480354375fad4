use crate::scenario::{meant, parse, template};
use proptest::prelude::*;
use std::{collections::BTreeSet, fs, path::Path};

/// A board thrown at a hut; nothing about it is odd.
const GOOD: &str = "\
claim: A board is thrown at a hut.
object: {shape: {plate: {length: 2 m, width: 1 m, thickness: 20 mm}}, mass: 20 kg}
release:
  launched: {height: 1.5 m, left: 0 m, speed: 15 m/s, elevation: 10 deg, bearing: 0 deg, scatter: 2 deg, nose_up: 0 deg, roll: 0 deg}
target:
  stands: {at: 10 m, left: 0 m}
  solids:
    hut: {centre: [1 m, 0 m, 1.5 m], size: [2 m, 4 m, 3 m]}
  faces:
    hut_window: {centre: [-5 mm, 0 m, 1.5 m], width: 1 m, height: 1 m, facing: 180 deg, rake: 0 deg, aim: true}
chain: [released, reaches, strikes]
";

/// What is doubted of a text, each with the place that is pointed at.
fn doubts(text: &str) -> Vec<(&'static str, String)> {
    let scenario = parse(text, Path::new("")).unwrap_or_else(|why| panic!("{why:?}\n{text}"));
    let mine = scenario.warnings.into_iter().filter(|doubt| doubt.code.starts_with("setup::"));
    mine.map(|doubt| {
        assert!(doubt.help.is_some_and(|help| !help.is_empty()), "{}", doubt.message);
        let (span, found) = doubt.label.unwrap();
        assert!(!found.is_empty());
        (doubt.code, text[span].to_owned())
    })
    .collect()
}

/// The good text with some of it written otherwise.
fn with(changes: &[(&str, &str)]) -> String {
    changes.iter().fold(GOOD.to_owned(), |text, (from, to)| {
        assert!(text.contains(from), "{from}");
        text.replacen(from, to, 1)
    })
}

#[test]
fn what_may_be_meant_is_left_alone() {
    assert_eq!(doubts(GOOD), []);
    assert_eq!(doubts(template()), []);
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenarios");
    let mut seen = 0;
    for entry in fs::read_dir(&folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|extension| extension == "yaml") {
            let scenario = parse(&fs::read_to_string(&path).unwrap(), &folder).unwrap();
            let odd: Vec<_> = scenario.warnings.iter().map(|doubt| &doubt.message).collect();
            assert!(odd.is_empty(), "{}: {odd:?}", path.display());
            seen += 1;
        }
    }
    assert!(seen >= 9, "{seen}");
}

/// The doubt, the text that it points at, and what is written otherwise.
type Wrong = (&'static str, &'static str, Vec<(&'static str, &'static str)>);

/// Each wrong set-up has its own doubt, at its line.
#[test]
fn what_cannot_be_meant_is_said_at_its_line() {
    let window = "hut_window: {centre: [-5 mm, 0 m, 1.5 m], width: 1 m, height: 1 m, facing: 180 deg, rake: 0 deg, aim: true}";
    let launched = "launched: {height: 1.5 m, left: 0 m, speed: 15 m/s, elevation: 10 deg, bearing: 0 deg, scatter: 2 deg, nose_up: 0 deg, roll: 0 deg}";
    let hut = "hut: {centre: [1 m, 0 m, 1.5 m], size: [2 m, 4 m, 3 m]}";
    let wrong: [Wrong; 19] = [
        (
            "setup::under_ground",
            "0.8 m",
            vec![("height: 1.5 m", "height: 0.8 m"), ("nose_up: 0 deg", "nose_up: 80 deg")],
        ),
        (
            "setup::under_ground",
            "height",
            vec![("height: 1.5 m", "height: {range: [0.02 m, 1.3 m]}")],
        ),
        (
            "setup::in_solid",
            "1.5 m",
            vec![
                ("at: 10 m", "at: 0.6 m"),
                (
                    window,
                    "hut_window: {centre: [-0.5 m, 0 m, 1.5 m], width: 1 m, height: 1 m, aim: true}",
                ),
            ],
        ),
        (
            "setup::across_face",
            "1.5 m",
            vec![
                ("at: 10 m", "at: 0.5 m"),
                (hut, "hut: {centre: [5 m, 0 m, 1.5 m], size: [2 m, 4 m, 3 m]}"),
            ],
        ),
        ("setup::behind", "-10 m", vec![("at: 10 m", "at: -10 m")]),
        (
            "setup::upwind",
            "10 m",
            vec![
                (launched, "blown: {height: 3 m, nose_up: {range: [-9 deg, 9 deg]}}"),
                ("object:", "air: {wind: {speed: 20 m/s, towards: 180 deg}}\nobject:"),
            ],
        ),
        (
            "setup::too_high",
            "90 m",
            vec![(
                window,
                "hut_window: {centre: [0 m, 0 m, 90 m], width: 1 m, height: 1 m, aim: true}",
            )],
        ),
        ("setup::too_far", "10 km", vec![("at: 10 m", "at: 10 km")]),
        ("setup::turned_away", "0 deg", vec![("facing: 180 deg", "facing: 0 deg")]),
        ("setup::edge_on", "90 deg", vec![("facing: 180 deg", "facing: 90 deg")]),
        ("setup::flat", "85 deg", vec![("rake: 0 deg", "rake: 85 deg")]),
        ("setup::upright", "0 deg", vec![("hut_window", "hut_roof")]),
        ("setup::buried", "5 cm", vec![("centre: [-5 mm", "centre: [5 cm")]),
        (
            "setup::hidden",
            "0 m",
            vec![
                (hut, "wall: {centre: [-4 m, 0 m, 10 m], size: [0.3 m, 40 m, 20 m]}"),
                ("centre: [-5 mm", "centre: [0 m"),
            ],
        ),
        (
            "setup::overhang",
            "9 m",
            vec![("width: 1 m, height: 1 m, facing", "width: 9 m, height: 1 m, facing")],
        ),
        ("setup::undersize", "1 m", vec![("hut_window", "hut_wall")]),
        (
            "setup::same_place",
            "-5 mm",
            vec![(
                "chain:",
                "    other: {centre: [-5 mm, 0 m, 1.5 m], width: 1 m, height: 1 m}\nchain:",
            )],
        ),
        (
            "setup::nothing_varies",
            "release",
            vec![
                ("scatter: 2 deg, ", ""),
                ("mass: 20 kg", "mass: 20 kg, drag_factor: 1"),
                ("speed: 15 m/s", "speed: 15 m/s"),
            ],
        ),
        (
            "setup::no_scatter",
            "release",
            vec![("scatter: 2 deg, ", ""), ("mass: 20 kg", "mass: {range: [19 kg, 21 kg]}")],
        ),
    ];
    let (mut told, mut missed) = (BTreeSet::new(), Vec::new());
    for (code, place, changes) in wrong {
        let text = with(&changes);
        let found = doubts(&text);
        let there = found.iter().any(|(is, at)| *is == code && at.starts_with(place));
        if there {
            told.insert(code);
        } else {
            missed.push(format!("{code} at {place}: {found:?}"));
        }
    }
    assert!(missed.is_empty(), "{missed:#?}");
    assert!(told.len() >= 12, "{told:?}");
    let shielded = with(&[
        (
            "chain:",
            "    driver: {centre: [-1 m, 0 m, 1.5 m], width: 0.5 m, height: 0.5 m, aim: true, occupant: true}\nchain:",
        ),
        ("aim: true}", "barrier: {energy: {between: [8 J, 35 J]}}, aim: false}"),
    ]);
    assert!(
        doubts(&shielded).iter().any(|(code, _)| *code == "setup::unshielded"),
        "{:?}",
        doubts(&shielded)
    );
    assert_eq!(meant("gap", &[("target.stands.at", true)]), ["target.stands.at"]);
}

/// A set-up of many kinds; `side`: -1 for its mirror.
fn any_setup(numbers: &[f64], side: f64) -> String {
    let [at, left, facing, rake, bearing, up, y, turn] = std::array::from_fn(|i| numbers[i]);
    let mirrored = |value: f64| side * value;
    format!(
        "claim: A board is thrown at a hut.
object: {{shape: {{plate: {{length: 2 m, width: 1 m, thickness: 20 mm}}}}, mass: 20 kg}}
release:
  launched: {{height: 1.5 m, speed: 15 m/s, elevation: {up} deg, bearing: {} deg, scatter: 2 deg}}
target:
  stands: {{at: {at} m, left: {} m}}
  solids:
    hut: {{centre: [1 m, {} m, 1.5 m], size: [2 m, 4 m, 3 m], turn: {} deg}}
  faces:
    hut_window: {{centre: [-5 mm, {} m, 1.5 m], width: 1 m, height: 1 m, facing: {} deg, rake: {rake} deg, aim: true}}
chain: [released, reaches, strikes]
",
        mirrored(bearing), mirrored(left), mirrored(y), mirrored(turn), mirrored(y), mirrored(facing)
    )
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(200) })]

    /// The world seen in a mirror gives the same doubts.
    #[test]
    fn a_mirror_changes_no_doubt(
        at in -30.0..60.0_f64, left in -9.0..9.0_f64, facing in -179.0..179.0_f64, rake in -80.0..80.0_f64,
        bearing in -170.0..170.0_f64, up in -20.0..60.0_f64, y in -2.0..2.0_f64, turn in -60.0..60.0_f64,
    ) {
        let numbers = [at, left, facing, rake, bearing, up, y, turn];
        let [there, mirror] = [1.0, -1.0].map(|side| match parse(&any_setup(&numbers, side), Path::new("")) {
            Ok(scenario) => scenario.warnings.into_iter().map(|doubt| (doubt.code, doubt.message)).collect::<Vec<_>>(),
            Err(why) => why.into_iter().map(|doubt| (doubt.code, doubt.message)).collect(),
        });
        prop_assert_eq!(there, mirror);
    }

    /// Moved nearer, a target never comes out of reach.
    #[test]
    fn nearer_is_never_out_of_reach(far in 1.0..3000.0_f64, share in 0.0..1.0_f64, high in 1.0..60.0_f64) {
        let out = |at: f64, up: f64| {
            let text = with(&[("at: 10 m", &format!("at: {at} m")), ("centre: [-5 mm, 0 m, 1.5 m]", &format!("centre: [-5 mm, 0 m, {up} m]"))]);
            ["setup::too_far", "setup::too_high"].map(|code| doubts(&text).iter().any(|(is, _)| *is == code))
        };
        let near = 3.0 + (far - 3.0).max(0.0) * share;
        let (there, nearer) = (out(far.max(near), high), out(near, high));
        prop_assert!(!nearer[0] || there[0], "{near} of {far}");
        let lower = out(near, 1.0 + (high - 1.0) * share);
        prop_assert!(!lower[1] || nearer[1]);
    }
}
