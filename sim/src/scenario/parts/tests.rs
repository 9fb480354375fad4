use super::*;
use crate::scenario::{parse, parts::text as part_text};
use proptest::prelude::*;
use std::{collections::BTreeSet, fs, path::Path};

const OBJECT: &str = "plywood_12mm_8x4";
const TARGET: &str = "shop_front";

fn errors(text: &str) -> Vec<Diagnostic> {
    parse(text, Path::new("")).err().unwrap_or_else(|| panic!("no error in {text}"))
}

fn started(object: &str, target: &str) -> String {
    starter(Starter { object, target, folder: None })
        .unwrap_or_else(|problems| panic!("{problems:#?}"))
}

fn names(side: Side) -> Vec<String> {
    shelf(side).into_iter().map(|part| part.name).collect()
}

#[test]
fn every_file_of_the_shelf_is_on_it() {
    for (side, least) in [(Side::Object, 40), (Side::Target, 20)] {
        let folder =
            Path::new(env!("CARGO_MANIFEST_DIR")).join("src/scenario/parts").join(side.folder());
        let files: BTreeSet<String> = fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().path().file_stem().unwrap().to_string_lossy().into_owned())
            .collect();
        let shelf: BTreeSet<String> = names(side).into_iter().collect();
        assert_eq!(files, shelf);
        assert!(shelf.len() >= least);
    }
}

#[test]
fn every_part_says_what_it_is_and_where_its_figures_are_from() {
    for part in Side::ALL.into_iter().flat_map(shelf) {
        assert!(
            (3..80).contains(&part.about.len()) && !part.about.ends_with('.'),
            "{}",
            part.about
        );
        assert!(part.source.len() > 15, "{}: {}", part.name, part.source);
        assert!(part.text.contains("\nkind: "), "{}", part.name);
        // The weakest of its sources.
        let recalled = part.source.contains("from memory");
        assert!(!recalled || part.kind == Kind::Memory, "{}", part.name);
    }
}

/// Every object at a target and every target under two objects: understood without
/// a doubt.
#[test]
fn every_part_makes_a_claim_without_a_doubt() {
    let objects = names(Side::Object).into_iter().map(|object| (object, TARGET.to_owned()));
    let under = |object: &'static str| {
        names(Side::Target).into_iter().map(move |target| (object.to_owned(), target))
    };
    let mut wrong = Vec::new();
    for (object, target) in objects.chain(under("brick")).chain(under(OBJECT)) {
        let text = started(&object, &target);
        assert!(text.lines().count() < 15, "{text}");
        match parse(&text, Path::new("")) {
            Ok(scenario) if scenario.warnings.is_empty() => {}
            Ok(scenario) => {
                wrong.push(format!("{object}, {target}: {:#?}\n{text}", scenario.warnings));
            }
            Err(problems) => wrong.push(format!("{object}, {target}: {problems:#?}\n{text}")),
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// A claim with these in the place of its object and its target.
fn claim(object: &str, target: &str) -> String {
    format!(
        "claim: x\nobject: {object}\nrelease: {{launched: {{speed: 10 m/s, height: 1.5 m, scatter: 2 deg}}}}\n\
         target: {target}\nchain: [released, reaches, strikes]\n"
    )
}

fn middle(text: &str, name: &str) -> f64 {
    let scenario = parse(text, Path::new("")).unwrap_or_else(|problems| panic!("{problems:#?}"));
    scenario.inputs.get(scenario.inputs.find(name).unwrap()).distribution.quantile(0.5)
}

const STANDS: &str = "{like: shop_front, stands: {at: 9 m}}";

#[test]
fn what_stands_beside_it_takes_the_place_of_the_parts_key_by_key() {
    let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-12, "{a} {b}");
    let text = claim("{like: slate, mass: 3 kg, shape: {plate: {thickness: 9 mm}}}", STANDS);
    near(middle(&text, "object.mass"), 3.0);
    near(middle(&text, "object.shape.plate.thickness"), 0.009);
    near(middle(&text, "object.shape.plate.length"), 0.5);
    // Another shape takes the whole of the part's.
    let text = claim("{like: slate, shape: {sphere: {diameter: 10 cm}}}", STANDS);
    near(middle(&text, "object.shape.sphere.diameter"), 0.1);
    // Faces by their names; another kind of barrier, another outline whole.
    let target = "{like: shop_front, stands: {at: 9 m}, faces: {window: {width: 2 m, barrier: {energy: 90 J}}, \
                  door: {diameter: 80 cm}, hatch: {centre: [0 m, 4 m, 1 m], width: 1 m, height: 1 m}}, aim: [window, hatch]}";
    let text = claim("{like: slate}", target);
    near(middle(&text, "target.faces.window.width"), 2.0);
    near(middle(&text, "target.faces.window.height"), 2.2);
    near(middle(&text, "target.faces.window.barrier.median"), 90.0);
    let scenario = parse(&text, Path::new("")).unwrap();
    let faces: Vec<(&str, bool)> =
        scenario.target.faces.iter().map(|face| (face.name.as_str(), face.aim)).collect();
    assert_eq!(faces, [("window", true), ("door", false), ("hatch", true)]);
    assert!(scenario.inputs.find("target.faces.window.barrier.pane.thickness").is_none());
    // The same alternative keeps what it does not say.
    let target = "{like: shop_front, stands: {at: 9 m}, faces: {window: {barrier: {pane: {thickness: 4 mm}}}}}";
    near(
        middle(&claim("{like: slate}", target), "target.faces.window.barrier.pane.thickness"),
        0.004,
    );
    // A claim that stands has no motion of its part.
    let text = claim("{like: slate}", "{like: moving_car, stands: {at: 9 m}}");
    near(middle(&text, "target.stands.at"), 9.0);
}

#[test]
fn a_number_says_whose_it_is() {
    let text = claim("{like: slate, mass: 3 kg}", STANDS);
    let scenario = parse(&text, Path::new("")).unwrap();
    let part = |name: &str| {
        let input = scenario.inputs.get(scenario.inputs.find(name).unwrap());
        scenario.part_of(input).map(|part| part.name.as_str())
    };
    assert_eq!(part("object.mass"), None);
    assert_eq!(part("object.shape.plate.length"), Some("slate"));
    assert_eq!(part("target.faces.window.centre.z"), Some("shop_front"));
    assert_eq!(part("target.stands.at"), None);
    assert_eq!(part("target.faces.window.facing"), None, "assumed by nobody's text");
    let barrier =
        Part { keys: vec!["target.faces.a.barrier.energy".into()], ..scenario.parts[1].clone() };
    assert!(
        barrier.tells("target.faces.a.barrier.median")
            && !barrier.tells("target.faces.b.barrier.median")
    );
    let language = crate::scenario::language();
    let leaves = scenario.leaves(&language);
    let leaf = |path: &str| leaves.iter().find(|leaf| leaf.path == path).unwrap();
    assert_eq!(leaf("object.shape.plate.length").of_part.as_deref(), Some("500 mm"));
    assert_eq!(&text[leaf("object.mass").place.clone().unwrap()], "3 kg");
}

#[test]
fn a_name_that_is_none_is_told_where_it_stands() {
    let told = |object: &str, target: &str| {
        let text = claim(object, target);
        let problems = errors(&text);
        assert_eq!(problems.len(), 1, "{problems:#?}");
        let (span, _) = problems[0].label.clone().unwrap();
        (problems[0].code, text[span].to_owned(), problems[0].help.clone().unwrap_or_default())
    };
    let (code, at, help) = told("{like: brik}", STANDS);
    assert_eq!((code, at.as_str()), ("part::unknown", "brik"));
    assert!(help.contains("`brick`") && help.contains("longodds parts"), "{help}");
    let (_, _, help) = told("{like: plywood}", STANDS);
    assert!(help.contains("plywood_12mm_8x4") && help.contains("plywood_18mm_8x4"), "{help}");
    let (code, at, help) = told("{like: shop_front}", STANDS);
    assert_eq!((code, at.as_str()), ("part::side", "shop_front"));
    assert_eq!(help, "write it under `target`");
    assert_eq!(told("{like: ../brick}", STANDS).0, "part::file");
    assert_eq!(told("{like: [brick]}", STANDS).0, "scenario::shape");
    let (code, at, help) =
        told("{like: brick}", "{like: shop_front, stands: {at: 9 m}, aim: windw}");
    assert_eq!((code, at.as_str()), ("scenario::aim", "windw"));
    assert!(help.starts_with("did you mean `window`?"), "{help}");
}

/// What is wrong beside a part is at its place in the claim, and what is wrong in
/// a part at its place there.
#[test]
fn each_problem_is_in_the_text_that_it_is_in() {
    let text = claim("{like: slate, mass: 3 furlong, colour: red}", STANDS);
    let problems = errors(&text);
    let at: Vec<&str> =
        problems.iter().map(|problem| &text[problem.label.clone().unwrap().0]).collect();
    assert_eq!(at, ["3 furlong", "colour"], "{problems:#?}");
    let own = "about: A thing\nobject:\n  shape: {sphere: {diameter: 10 furlong}}\n  maß: 3 kg\n  mass: 1 kg\n";
    let part = |side, _: &str| {
        let file = "parts/objects/thing.yaml".to_owned();
        let origin = Origin::Own { file, hides: false };
        Ok((side == Side::Object).then(|| (origin, own.to_owned())))
    };
    let text = claim(
        "{like: thing}",
        "{stands: {at: 9 m}, faces: {window: {centre: [0 m, 0 m, 2 m], width: 1 m, height: 1 m, aim: true}}}",
    );
    let problems = crate::scenario::check::parse_with(&text, Path::new(""), &part).unwrap_err();
    let at: Vec<(&str, &str)> = problems
        .iter()
        .map(|problem| {
            let other = problem.elsewhere.as_ref().unwrap();
            (other.name.as_str(), &other.text[problem.label.clone().unwrap().0])
        })
        .collect();
    let file = "parts/objects/thing.yaml";
    assert_eq!(at, [(file, "10 furlong"), (file, "maß")], "{problems:#?}");
}

#[test]
fn a_part_that_is_none_is_told_in_its_own_file() {
    let told = |own: &str| {
        let find = |side, name: &str| match (side, name) {
            (Side::Object, "own") => Ok(Some((
                Origin::Own { file: "own.yaml".to_owned(), hides: false },
                own.to_owned(),
            ))),
            (side, name) => find::on_the_shelf(side, name),
        };
        let text = claim("{like: own}", STANDS);
        let problems = crate::scenario::check::parse_with(&text, Path::new(""), &find)
            .err()
            .unwrap_or_default();
        assert!(problems.iter().all(|one| one.elsewhere.is_some() || one.label.is_some()));
        problems.into_iter().map(|problem| problem.code).collect::<Vec<_>>()
    };
    let good = "about: A thing\nobject:\n  shape: {sphere: {diameter: 10 cm}}\n  mass: 1 kg\n";
    assert_eq!(told(good), Vec::<&str>::new());
    assert_eq!(told(&good.replace("about: A thing\n", "")), ["scenario::missing"]);
    assert_eq!(told(&format!("{good}weight: 3 kg\n")), ["scenario::unknown_key"]);
    assert_eq!(told(&format!("{good}kind: heard\n")), ["scenario::word"]);
    assert_eq!(told(&format!("{good}  like: brick\n")), ["part::like"]);
    assert_eq!(told(&good.replace("object:", "target:")), ["part::side"]);
    assert_eq!(told("about: A thing\n"), ["scenario::missing"]);
    assert_eq!(told("about: A thing\nobject: brick\n"), ["scenario::shape"]);
    assert_eq!(told(""), ["scenario::empty"]);
    assert_eq!(told("about: [\n"), ["scenario::syntax"]);
    assert_eq!(told(&good.replace("  mass: 1 kg\n", "")), ["scenario::missing"]);
    assert_eq!(told(&claim("{like: brick}", STANDS)), ["text::sort"]);
    assert_eq!(told(&"#\n".repeat(crate::text::LONGEST)), ["scenario::size"]);
    assert!(part_text::has("target: {moves: {at: 3 m}}", Side::Target, "moves"));
}

#[test]
fn a_part_given_as_a_claim_is_told_as_such() {
    for side in Side::ALL {
        let problems = errors(&shelf(side)[0].text);
        assert_eq!(problems.len(), 1);
        assert_eq!(problems[0].message, "this is a part, not a scenario");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(300) })]

    /// Whatever is wrong with claim or part, each problem points into the text that
    /// it names.
    #[test]
    fn no_spoilt_claim_or_part_panics(
        at in any::<prop::sample::Index>(), put in "[-a-z0-9:{}\\[\\], \n#&*|>'\"ü]{0,6}", cut in 0_usize..8, own in any::<bool>(),
    ) {
        let spoilt = |text: &str| {
            let inside = |mut place: usize| {
                while !text.is_char_boundary(place) {
                    place -= 1;
                }
                place
            };
            let start = inside(at.index(text.len()));
            let end = inside((start + cut).min(text.len())).max(start);
            format!("{}{put}{}", &text[..start], &text[end..])
        };
        let (mut text, mut part) = (claim("{like: own, mass: 3 kg}", STANDS), shelf(Side::Object)[0].text.clone());
        if own { part = spoilt(&part) } else { text = spoilt(&text) }
        let find = |side, name: &str| match (side, name) {
            (Side::Object, "own") => {
                Ok(Some((Origin::Own { file: "own.yaml".to_owned(), hides: false }, part.clone())))
            }
            (side, name) => find::on_the_shelf(side, name),
        };
        let problems = match crate::scenario::check::parse_with(&text, Path::new(""), &find) {
            Ok(scenario) => scenario.warnings,
            Err(problems) => {
                prop_assert!(!problems.is_empty());
                problems
            }
        };
        for problem in problems {
            let inside = problem.elsewhere.as_ref().map_or(text.as_str(), |other| &other.text);
            if let Some((span, _)) = problem.label {
                prop_assert!(inside.get(span).is_some());
            }
        }
        let _ = leaves(&text, &crate::scenario::language(), &find);
    }
}
