//! What is said about wrong scenarios, and where.

use super::*;
use crate::{
    quantity::Dimension,
    scenario::{Gate, Release, template},
    uncertain::Distribution,
};
use proptest::prelude::*;

/// A whole scenario to spoil.
const GOOD: &str = "\
claim: A sheet of plywood blows off a scaffold and breaks the shop window.
show: imperial
air:
  temperature: 12 degC
  wind: {speed: {between: [14 m/s, 24 m/s]}, towards: {range: [-30 deg, 30 deg]}, terrain: town}
object:
  shape: {plate: {length: 2440 mm, width: 1220 mm, thickness: 12 mm}}
  mass: {normal: {mean: 21 kg, sd: 1 kg}}
release:
  blown:
    height: {triangle: [6 m, 8 m, 10 m]}
    nose_up: {range: [0 deg, 25 deg]}
    spin: {normal: {mean: 0 rpm, sd: 20 rpm}}
target:
  stands: {at: 14 m}
  solids:
    shop: {centre: [3 m, 0 m, 2 m], size: [5.8 m, 8 m, 4 m]}
  faces:
    shop_window: {centre: [0 m, 0 m, 1.5 m], width: 1.2 m, height: 2.2 m, barrier: toughened_glass, aim: true}
chain: [released, reaches, strikes, perforates, harms]
together: [[air.wind.speed, release.blown.spin, 0.3]]
";

fn good() -> Scenario {
    read(GOOD).unwrap_or_else(|problems| panic!("{problems:#?}"))
}

fn read(text: &str) -> Result<Scenario, Vec<Diagnostic>> {
    parse(text, Path::new(env!("CARGO_MANIFEST_DIR")))
}

/// Code and place of everything wrong.
fn wrong(text: &str) -> Vec<(&'static str, &str)> {
    let problems = read(text).map(|_| ()).unwrap_err();
    let place = |p: &Diagnostic| p.label.as_ref().map_or("", |(span, _)| &text[span.clone()]);
    problems.iter().map(|p| (p.code, place(p))).collect()
}

/// The one thing wrong once `from` is written as `to`.
fn spoilt(from: &str, to: &str) -> (&'static str, String) {
    assert!(GOOD.contains(from), "{from}");
    let text = GOOD.replacen(from, to, 1);
    let found = wrong(&text);
    assert_eq!(found.len(), 1, "{from} -> {to}: {found:?}");
    (found[0].0, found[0].1.to_owned())
}

#[test]
fn the_sketch_of_the_language_is_read_in_si_units() {
    let scenario = good();
    let of = |name: &str| {
        let id = scenario.inputs.find(name).unwrap_or_else(|| panic!("{name}"));
        scenario.inputs.get(id)
    };
    assert_eq!(of("air.temperature").distribution, Distribution::fixed(285.15));
    assert_eq!(
        of("air.wind.speed").distribution,
        Distribution::normal_between(14.0, 24.0).unwrap().truncated(0.0, 120.0).unwrap()
    );
    assert_eq!(of("object.shape.plate.length").distribution, Distribution::fixed(2.44));
    assert!(of("air.pressure").assumed && !of("air.wind.speed").assumed);
    assert!(of("target.faces.shop_window.barrier.median").unknown);
    assert_eq!(of("release.blown.spin").dimension, Dimension::Rotation);
    assert_eq!(of("air.wind.speed").written, "between 14 m/s and 24 m/s, 9 times in 10");
    assert!(matches!(scenario.release, Release::Blown(ref blown) if blown.held.is_none()));
    assert_eq!(scenario.chain.last(), Some(&Gate::Harms));
    assert!(!scenario.inputs.copula().members().is_empty());
    assert_eq!(scenario.warnings, []);
}

#[test]
fn the_template_is_a_scenario() {
    let scenario = read(template()).unwrap_or_else(|problems| panic!("{problems:#?}"));
    assert_eq!(scenario.warnings, []);
}

#[test]
fn every_slot_is_its_own_and_comes_from_the_name() {
    let scenario = good();
    let mut slots: Vec<u32> = scenario.inputs.list().iter().map(|input| input.slot).collect();
    slots.sort_unstable();
    slots.dedup();
    assert_eq!(slots.len(), scenario.inputs.len());
    let more = read(&GOOD.replace("air:\n", "air:\n  humidity: {range: [20 %, 90 %]}\n")).unwrap();
    let slot = |s: &Scenario| s.inputs.get(s.inputs.find("object.mass").unwrap()).slot;
    assert_eq!(slot(&scenario), slot(&more));
}

#[test]
fn names_that_share_a_hash_get_places_of_their_own() {
    let input = |name: &str| crate::scenario::Input {
        name: name.to_owned(),
        dimension: Dimension::Number,
        distribution: Distribution::fixed(1.0),
        slot: 7,
        unknown: false,
        assumed: false,
        written: String::new(),
    };
    let slots: Vec<u32> =
        distinct_slots(vec![input("b"), input("a")]).iter().map(|input| input.slot).collect();
    assert_eq!(slots, [8, 7]);
}

#[test]
fn every_problem_is_reported_at_its_place_in_one_go() {
    let text = GOOD
        .replace("12 degC", "12")
        .replace("speed: {between: [14 m/s, 24 m/s]}", "sped: 3 m/s")
        .replace("mean: 21 kg", "mean: -21 kg")
        .replace("[6 m, 8 m, 10 m]", "[6 m, 8 m]")
        .replace("nose_up", "nose_upp")
        .replace("barrier: toughened_glass", "barrier: toughend_glass")
        .replace("perforates", "perforate");
    assert_eq!(
        wrong(&text),
        [
            ("units::missing", "12"),
            ("scenario::unknown_key", "sped"),
            ("scenario::range", "-21 kg"),
            ("scenario::shape", "triangle"),
            ("scenario::unknown_key", "nose_upp"),
            ("scenario::barrier", "toughend_glass"),
            ("scenario::word", "perforate"),
        ]
    );
}

#[test]
fn misspelt_words_get_a_suggestion() {
    let help = |from: &str, to: &str| {
        let problems = read(&GOOD.replacen(from, to, 1)).map(|_| ()).unwrap_err();
        problems[0].help.clone().unwrap_or_default()
    };
    assert_eq!(help("release:", "relase:"), "did you mean `release`?");
    assert!(help("toughened_glass", "toughend_glass").contains("did you mean `toughened_glass`?"));
    assert!(help("terrain: town", "terrain: twon").contains("did you mean `town`?"));
    assert!(help("[[air.wind.speed", "[[air.wind.sped").contains("`air.wind.speed`"));
    assert!(help("strikes", "hits").starts_with("choose one of: released, reaches"));
}

#[test]
fn numbers_outside_physics_are_refused() {
    assert_eq!(spoilt("mean: 21 kg", "mean: -21 kg"), ("scenario::range", "-21 kg".into()));
    assert_eq!(spoilt("12 mm", "0 mm"), ("scenario::range", "0 mm".into()));
    assert_eq!(spoilt("12 mm", "1e308 m"), ("scenario::range", "1e308 m".into()));
    assert_eq!(spoilt("12 mm", ".nan"), ("units::number", ".nan".into()));
    assert_eq!(spoilt("12 mm", ".inf m"), ("units::number", ".inf m".into()));
    assert_eq!(spoilt("12 mm", "1e999 m"), ("units::number", "1e999 m".into()));
    assert_eq!(spoilt("12 degC", "-300 degC"), ("scenario::range", "-300 degC".into()));
    assert_eq!(
        spoilt("temperature: 12 degC", "humidity: 130 %"),
        ("scenario::range", "130 %".into())
    );
    assert_eq!(spoilt("sd: 1 kg", "sd: 0 kg"), ("scenario::range", "0 kg".into()));
}

#[test]
fn impossible_spreads_are_refused() {
    let range = "{range: [0 deg, 25 deg]}";
    let code = |to: &str| spoilt(range, to).0;
    assert_eq!(code("{range: [25 deg, 0 deg]}"), "scenario::distribution");
    assert_eq!(code("{between: [-5 deg, 5 deg], skew: true}"), "scenario::distribution");
    assert_eq!(code("{triangle: [0 deg, 30 deg, 25 deg]}"), "scenario::distribution");
    assert_eq!(code("{lognormal: {median: 5 deg}}"), "scenario::alternatives");
    assert_eq!(code("{lognormal: {median: 5 deg, p95: 4 deg}}"), "scenario::distribution");
    assert_eq!(code("{choice: [{value: 5 deg, weight: 0}]}"), "scenario::distribution");
    assert_eq!(
        code("{range: [0 deg, 5 deg], triangle: [0 deg, 1 deg, 2 deg]}"),
        "scenario::alternatives"
    );
    assert_eq!(code("{unknown: true}"), "scenario::missing");
    assert_eq!(code("[0 deg, 25 deg]"), "scenario::shape");
    assert_eq!(code("{range: [0 deg, 25 deg], unknown: perhaps}"), "scenario::word");
    assert_eq!(code(""), "scenario::shape");
}

#[test]
fn every_spread_is_read() {
    let of = |spread: &str| {
        let text = GOOD.replace("{normal: {mean: 21 kg, sd: 1 kg}}", spread);
        let scenario = read(&text).unwrap_or_else(|problems| panic!("{spread}: {problems:#?}"));
        let id = scenario.inputs.find("object.mass").unwrap();
        scenario.inputs.get(id).clone()
    };
    let median = |spread: &str| of(spread).distribution.quantile(0.5);
    let close = |a: f64, b: f64| assert!((a - b).abs() < 1e-9 * b, "{a} {b}");
    close(median("46 lb"), 46.0 * 0.453_592_37);
    close(median("{range: [20 kg, 22 kg]}"), 21.0);
    close(median("{between: [10 kg, 40 kg], skew: true}"), 20.0);
    close(median("{lognormal: {median: 20 kg, sigma_log: 0.2}}"), 20.0);
    close(of("{lognormal: {median: 20 kg, p95: 30 kg}}").distribution.quantile(0.95), 30.0);
    // Weibull: at its scale 1 - 1/e of the values lie below.
    close(
        of("{weibull: {scale: 20 kg, shape: 2}}")
            .distribution
            .quantile(1.0 - crate::math::exp(-1.0)),
        20.0,
    );
    close(median("{choice: [{value: 20 kg, weight: 3}, {value: 30 kg}]}"), 20.0);
    assert!(of("{range: [20 kg, 22 kg], unknown: true}").unknown);
}

#[test]
fn what_physics_forbids_is_cut_off_openly() {
    let text = GOOD.replace("{between: [14 m/s, 24 m/s]}", "{normal: {mean: 10 m/s, sd: 10 m/s}}");
    let scenario = read(&text).unwrap();
    let [warning] = scenario.warnings.as_slice() else { panic!("{:?}", scenario.warnings) };
    assert_eq!(warning.code, "scenario::truncated");
    // Source: standard normal table, P(Z < -1) = 0.158655.
    assert_eq!(warning.label.as_ref().unwrap().1, "16 % of it is cut off");
    let wind = scenario.inputs.find("air.wind.speed").unwrap();
    assert!(scenario.inputs.get(wind).distribution.quantile(1e-12) >= 0.0);
}

#[test]
fn scenes_that_cannot_be_are_refused() {
    let sense = |from: &str, to: &str| {
        let (code, place) = spoilt(from, to);
        assert_eq!(code, "scenario::sense");
        place
    };
    assert_eq!(sense("[0 m, 0 m, 1.5 m]", "[0 m, 0 m, 0.5 m]"), "0.5 m");
    assert_eq!(sense("[3 m, 0 m, 2 m]", "[3 m, 0 m, 1 m]"), "1 m");
    assert_eq!(sense("thickness: 12 mm", "thickness: 1300 mm"), "1300 mm");
    assert_eq!(sense("length: 2440 mm", "length: 1 m"), "1220 mm");
    assert_eq!(sense("{triangle: [6 m, 8 m, 10 m]}", "1 mm"), "1 mm");
    let inside = GOOD
        .replace("stands: {at: 14 m}", "stands: {at: -3 m}")
        .replace("{triangle: [6 m, 8 m, 10 m]}", "2 m");
    assert_eq!(wrong(&inside), [("scenario::sense", "2 m")]);
    let wind = GOOD.lines().find(|line| line.contains("wind:")).unwrap();
    let calm = GOOD.replace(wind, "").replace("together:", "#");
    assert_eq!(wrong(&calm), [("scenario::wind", "release")]);
}

#[test]
fn a_chain_must_be_decidable() {
    let chain = |to: &str| spoilt("[released, reaches, strikes, perforates, harms]", to).0;
    assert_eq!(chain("[strikes, reaches]"), "scenario::chain");
    assert_eq!(chain("[released, perforates]"), "scenario::chain");
    assert_eq!(chain("[strikes, attitude]"), "scenario::chain");
    assert_eq!(chain("[]"), "scenario::missing");
    assert_eq!(chain("strikes"), "scenario::shape");
    assert_eq!(spoilt(", barrier: toughened_glass", "").0, "scenario::chain");
    assert_eq!(spoilt(", aim: true", "").0, "scenario::aim");
}

#[test]
fn what_the_chain_leaves_unused_is_a_warning() {
    let text = GOOD.replace(", perforates, harms]", "]");
    let codes: Vec<_> = read(&text).unwrap().warnings.iter().map(|w| w.code).collect();
    assert_eq!(codes, ["scenario::unused"]);
}

#[test]
fn a_barrier_can_be_told() {
    let told = |to: &str| GOOD.replace("barrier: toughened_glass", to);
    let scenario = read(&told(
        "barrier: {energy: {between: [50 J, 200 J], skew: true, unknown: true}, spread: 0.3}",
    ));
    let scenario = scenario.unwrap_or_else(|problems| panic!("{problems:#?}"));
    let barrier = scenario.target.faces[0].barrier.as_ref().unwrap();
    assert!(scenario.inputs.get(barrier.median).unknown);
    assert!((scenario.inputs.get(barrier.median).distribution.quantile(0.5) - 100.0).abs() < 1e-9);
    assert!(read(&told("barrier: {speed: 20 m/s}")).is_ok());
    assert!(read(&told("barrier: {energy: 60 J, measured_as: total_energy}")).is_ok());
    assert_eq!(wrong(&told("barrier: {energy: 60 J, measured_as: normal_speed}")).len(), 2);
    assert_eq!(wrong(&told("barrier: {spread: 0.3}"))[0].0, "scenario::missing");
}

#[test]
fn a_class_of_a_standard_is_a_lower_bound_without_spread() {
    let text = GOOD.replace("barrier: toughened_glass", "barrier: en356_p4a");
    let scenario = read(&text).unwrap_or_else(|problems| panic!("{problems:#?}"));
    let barrier = scenario.target.faces[0].barrier.as_ref().unwrap();
    assert!(barrier.lower_bound && barrier.source.contains("at most"));
    let least = |id| scenario.inputs.get(id).distribution.quantile(0.1);
    assert!((least(barrier.median) - 362.75).abs() < 0.01 && least(barrier.beta).abs() < 1e-12);
    assert!(!good().target.faces[0].barrier.as_ref().unwrap().lower_bound);
}

#[test]
fn a_barrier_by_formula_has_its_own_doubt() {
    let told = |to: &str| GOOD.replace("barrier: toughened_glass", to);
    let steel = read(&told("barrier: {steel: {thickness: 3 mm, span: 30 cm}}"));
    let steel = steel.unwrap_or_else(|problems| panic!("{problems:#?}"));
    let path = "target.faces.shop_window.barrier.steel.formula";
    let which = steel.inputs.find(path).expect("the model is an input");
    assert!(steel.inputs.get(which).unknown);
    let ends = [0.1, 0.9].map(|u| steel.inputs.get(which).distribution.quantile(u));
    assert!(ends[0] < 0.5 && ends[1] > 0.5, "{ends:?}");
    let board = read(&told("barrier: {board: {thickness: 12 mm}, spread: 0.5}"));
    let board = board.unwrap_or_else(|problems| panic!("{problems:#?}"));
    let barrier = board.target.faces[0].barrier.as_ref().unwrap();
    assert!(board.inputs.get(barrier.median).unknown, "a prior is not known");
    assert!(barrier.valid.contains("66 mm") && barrier.source.contains("planning prior"));
    let sheet = read(&told("barrier: {polycarbonate: {thickness: 4 mm}}"));
    let sheet = sheet.unwrap_or_else(|problems| panic!("{problems:#?}"));
    let barrier = sheet.target.faces[0].barrier.as_ref().unwrap();
    let factor = sheet.inputs.get(barrier.median);
    assert!(factor.unknown && factor.written.contains("factor of 1.5"), "{factor:?}");
    let wall = "barrier: {concrete: {thickness: 15 cm, strength: 30 MPa}, factor: 1.2}";
    assert!(read(&told(wall)).is_ok());
    for (bad, code) in [
        ("barrier: {steel: {thickness: 3 mm}}", "scenario::missing"),
        ("barrier: {steel: {thickness: 3 mm, span: 30 cm}, energy: 9 J}", "scenario::alternatives"),
        ("barrier: {board: {thickness: 9 mm}, contact: 5 cm}", "scenario::alternatives"),
        ("barrier: {energy: 60 J, factor: 2}", "scenario::alternatives"),
        ("barrier: {concrete: {thickness: 15 cm, strength: 30 kPa}}", "scenario::range"),
        ("barrier: {board: {thick: 9 mm}}", "scenario::unknown_key"),
    ] {
        assert_eq!(wrong(&told(bad))[0].0, code, "{bad}");
    }
}

#[test]
fn correlations_are_checked() {
    let pair = |to: &str| spoilt("[air.wind.speed, release.blown.spin, 0.3]", to);
    assert_eq!(
        pair("[air.wind.speed, release.blown.spin, 1.3]"),
        ("scenario::range", "1.3".into())
    );
    assert_eq!(pair("[air.wind.speed, air.temperature, 0.3]").1, "air.temperature");
    assert_eq!(pair("[air.wind.speed, air.wind.speed, 0.3]").0, "scenario::together");
    let unknown = "[air.wind.speed, target.faces.shop_window.barrier.median, 0.3]";
    assert_eq!(pair(unknown).0, "scenario::together");
}

#[test]
fn measured_data_come_from_a_csv_file() {
    let folder = std::env::temp_dir().join(format!("longodds-measured-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let rows: Vec<String> = (0..30).map(|i| format!("{i}, {}", 30 + i)).collect();
    std::fs::write(folder.join("wind.csv"), format!("run, gust\n{}\n", rows.join("\n"))).unwrap();
    std::fs::write(folder.join("bad.csv"), "run,gust\n1,fast\n").unwrap();
    let with = |to: &str| parse(&GOOD.replace("{between: [14 m/s, 24 m/s]}", to), &folder);
    let scenario = with("{measured: {file: wind.csv, column: gust, unit: mph}}").unwrap();
    let wind = scenario.inputs.get(scenario.inputs.find("air.wind.speed").unwrap());
    assert!((wind.distribution.quantile(0.5) - 44.5 * 0.447_04).abs() < 1e-9);
    let found = |to: &str| with(to).map(|_| ()).unwrap_err()[0].label.clone().unwrap().1;
    assert_eq!(
        found("{measured: {file: wind.csv, column: gusts, unit: mph}}"),
        "its columns are: run, gust, did you mean `gust`?"
    );
    assert!(
        found("{measured: {file: none.csv, column: gust, unit: mph}}").contains("no such file")
    );
    assert!(
        found("{measured: {file: bad.csv, column: gust, unit: mph}}").starts_with("line 2: `fast`")
    );
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn groups_and_values_are_not_mixed_up() {
    assert_eq!(wrong("12 m")[0].0, "scenario::shape");
    assert_eq!(wrong("[a, b]")[0].0, "scenario::shape");
    assert_eq!(spoilt("stands: {at: 14 m}", "stands: 14 m").1, "14 m");
    assert_eq!(
        spoilt(
            "shape: {plate: {length: 2440 mm, width: 1220 mm, thickness: 12 mm}}",
            "shape: plate"
        )
        .1,
        "plate"
    );
    assert_eq!(wrong("claim: [1]\n").len(), 5);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// A scenario with a piece cut out or doubled is read or refused, and every
    /// place it points at is in the text.
    #[test]
    fn no_spoilt_scenario_panics(from in 0..GOOD.len(), length in 0..40usize, double: bool) {
        let to = (from + length).min(GOOD.len());
        let middle = if double { GOOD[from..to].repeat(2) } else { String::new() };
        let text = format!("{}{middle}{}", &GOOD[..from], &GOOD[to..]);
        if let Err(problems) = read(&text) {
            prop_assert!(!problems.is_empty());
            for (span, _) in problems.iter().filter_map(|p| p.label.as_ref()) {
                prop_assert!(text.get(span.clone()).is_some());
            }
        }
    }
}

#[test]
fn gusts_by_terrain_or_as_told_have_inputs_of_their_own() {
    let with = |words: &str| {
        let text =
            GOOD.replacen("terrain: town", &format!("terrain: town, turbulence: {words}"), 1);
        read(&text).unwrap_or_else(|problems| panic!("{problems:#?}"))
    };
    let names = |scenario: &Scenario| {
        let all = scenario.inputs.list().iter().map(|input| input.name.clone());
        all.filter(|name| name.starts_with("air.wind.turbulence.")).collect::<Vec<_>>()
    };
    let path = |name: &&str| format!("air.wind.turbulence.{name}");
    let told = with("{intensity: {range: [10 %, 30 %], unknown: true}, scale: 200 ft}");
    let all = [
        "intensity",
        "scale",
        "across",
        "upwards",
        "at_release",
        "across_at_release",
        "upwards_at_release",
        "later",
    ];
    assert_eq!(names(&told), all.iter().map(path).collect::<Vec<_>>());
    let by_terrain = with("by_terrain");
    assert_eq!(names(&by_terrain), all[2..].iter().map(path).collect::<Vec<_>>());
    let find = |scenario: &Scenario, name| scenario.inputs.find(&path(&name)).unwrap();
    assert!(told.inputs.get(find(&told, "intensity")).unknown);
    assert!(told.is_lot(find(&told, "later")) && !told.is_lot(find(&told, "at_release")));
    assert!(!good().is_lot(crate::scenario::InputId(0)));
    let itself = |name| told.is_of_itself(find(&told, name));
    assert!(
        itself("at_release")
            && itself("upwards_at_release")
            && itself("later")
            && !itself("intensity")
    );
}

#[test]
fn impossible_gusts_are_refused_where_they_stand() {
    let spoilt =
        |words: &str| spoilt("terrain: town}", &format!("terrain: town, turbulence: {words}}}"));
    assert_eq!(spoilt("by_terain"), ("scenario::word", "by_terain".to_owned()));
    let told = |intensity: &str, scale: &str| {
        spoilt(&format!("{{intensity: {intensity}, scale: {scale}}}"))
    };
    assert_eq!(told("60 %", "60 m"), ("scenario::range", "60 %".to_owned()));
    assert_eq!(told("20 %", "0 m"), ("scenario::range", "0 m".to_owned()));
    assert_eq!(spoilt("{intensity: 20 %}"), ("scenario::missing", "turbulence".to_owned()));
    let uniform = GOOD.replacen("terrain: town", "turbulence: by_terrain", 1);
    assert_eq!(wrong(&uniform), [("scenario::sense", "by_terrain")]);
}
