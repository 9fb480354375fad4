//! The shelf as a user meets it.

use crate::util::Dir;
use longodds_sim::{
    chain::Claim,
    engine::{Order, Unwatched, run},
    findings::{Findings, find},
    scenario::{
        parse,
        parts::{Part, Side, Starter, in_claims, shelf, starter},
        patched,
    },
    study::Ask,
};
use proptest::prelude::*;
use std::{fs, path::Path};

fn started(object: &str, target: &str) -> String {
    starter(Starter { object, target, folder: None }).unwrap()
}

/// Every part flies; most of what is started with it strikes or passes near.
#[test]
fn every_part_flies_two_hundred_flights() {
    let mut few = Vec::new();
    for side in Side::ALL {
        for (part, scenario) in in_claims(side) {
            let claim = Claim::ready(scenario, 3);
            let tally = run(&claim, &Order::new(3, 0..200), &Unwatched);
            assert_eq!(tally.flights(), 200, "{}", part.name);
            // released, reaches, strikes
            if tally.passed(2) < 10 {
                few.push(format!("{}: {} strike", part.name, tally.passed(2)));
            }
        }
    }
    assert!(few.is_empty(), "{few:?}");
}

/// A claim with its parts' texts typed out in it.
fn typed_out(claim: &str, parts: &[Part]) -> String {
    let mut text = claim.to_owned();
    for part in parts {
        let key = format!("{}:\n", part.side.key());
        let body = part.text.split_once(&key).unwrap().1;
        let like = format!("  like: {}\n", part.name);
        assert_eq!(text.matches(&like).count(), 1, "{text}");
        text = text.replacen(&like, body, 1);
    }
    text
}

/// All that flies of a claim, and all that is counted, to the bit.
fn flown(text: &str) -> String {
    let scenario = parse(text, Path::new("")).unwrap();
    let inputs = format!("{:?}", scenario.inputs.list());
    let claim = Claim::ready(scenario, 5);
    let tally = run(&claim, &Order::new(5, 0..60), &Unwatched);
    format!("{inputs} {:?} {tally:?}", claim.gates())
}

fn found(text: &str) -> Findings {
    let scenario = parse(text, Path::new("")).unwrap();
    let mut found = find(scenario, &Ask { flights: Some(60), ..Ask::new(5) }, &Unwatched);
    // What tells where a number was typed.
    found.scenario_text.clear();
    found.parts.clear();
    found.models.retain(|note| !note.what.contains(", like "));
    found.inputs.iter_mut().for_each(|input| input.part = None);
    found
}

fn in_lines(object: &str, target: &str) -> String {
    started(object, target)
        .replace(&format!("object: {{like: {object}}}"), &format!("object:\n  like: {object}"))
}

#[test]
fn the_findings_of_a_part_are_those_of_its_text_typed_out() {
    let claim = in_lines("cricket_ball", "house_wall_window");
    let part = |side, name: &str| shelf(side).into_iter().find(|part| part.name == name).unwrap();
    let parts = [part(Side::Object, "cricket_ball"), part(Side::Target, "house_wall_window")];
    assert_eq!(found(&claim), found(&typed_out(&claim, &parts)));
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(24) })]

    /// A claim by `like` and the same claim with the parts typed out are one claim,
    /// to the bit; and so they are with a key set beside `like` or typed over.
    #[test]
    fn a_part_is_what_it_would_be_typed_out(
        object in any::<prop::sample::Index>(), target in any::<prop::sample::Index>(), mass in 0.5..20.0_f64, at in 0_usize..3,
    ) {
        let (objects, targets) = (shelf(Side::Object), shelf(Side::Target));
        let (object, target) = (&objects[object.index(objects.len())], &targets[target.index(targets.len())]);
        // Its motion is the part's or the claim's own: never both.
        prop_assume!(!target.text.contains("moves:"));
        let claim = in_lines(&object.name, &target.name);
        let typed = typed_out(&claim, &[object.clone(), target.clone()]);
        prop_assert_eq!(flown(&claim), flown(&typed));
        let face = target.text.lines().find(|line| line.starts_with("    ") && line.ends_with(':')).unwrap();
        let face = face.trim().trim_end_matches(':');
        let set = match at {
            0 => format!("object.mass={mass} kg"),
            1 => format!("object.drag_factor={}", 0.5 + mass / 20.0),
            // A point is one value: it is set whole beside the part.
            _ => format!("target.faces.{face}.centre=[0 m, 0 m, {} m]", 2.0 + mass / 10.0),
        };
        let with = |text: &str| patched(text, Path::new(""), std::slice::from_ref(&set)).unwrap().text;
        prop_assert_eq!(flown(&with(&claim)), flown(&with(&typed)));
    }
}

#[test]
fn set_puts_a_key_beside_like_and_short_names_mean_the_parts() {
    let text = started("brick", "shop_front");
    let set = |options: &[&str]| {
        let options: Vec<String> = options.iter().map(|one| (*one).to_owned()).collect();
        let put =
            patched(&text, Path::new(""), &options).unwrap_or_else(|problem| panic!("{problem:?}"));
        parse(&put.text, Path::new(""))
            .unwrap_or_else(|problems| panic!("{problems:#?}\n{}", put.text));
        put
    };
    let put = set(&["mass=3 kg"]);
    assert!(put.text.contains("object: {mass: 3 kg, like: brick}"), "{}", put.text);
    assert_eq!(put.put[0].path, "object.mass");
    assert!(put.put[0].was.as_deref().unwrap().ends_with("of its part"), "{:?}", put.put[0].was);
    let put = set(&["object.like=slate"]);
    assert!(put.text.contains("object: {like: slate}"));
    let put = set(&["target.faces.window.width=2 m", "target.faces.door.width=1 m"]);
    assert!(
        put.text.contains("door: {width: 1 m}") && put.text.contains("window: {width: 2 m}"),
        "{}",
        put.text
    );
    let put = set(&["target.faces.window.barrier.pane.thickness=6 mm"]);
    assert!(
        put.text.contains("faces: {window: {barrier: {pane: {thickness: 6 mm}}}}"),
        "{}",
        put.text
    );
    set(&["target.aim=door"]);
    set(&["object.shape.block.length=25 cm"]);
}

#[test]
fn a_part_of_ones_own_wins_and_says_so() {
    let dir = Dir::new("a_part_of_ones_own_wins_and_says_so");
    fs::create_dir_all(dir.path("parts/objects")).unwrap();
    dir.file("claim.yaml", started("brick", "shop_front"));
    let shelf_said = dir.longodds(&["check", "claim.yaml"]).out;
    assert!(
        shelf_said.contains("The object is like brick (from the shelf): A brick."),
        "{shelf_said}"
    );
    dir.file("parts/objects/brick.yaml", "about: My brick\nsource: weighed\nkind: read\nobject:\n  shape: {block: {length: 22 cm, width: 11 cm, height: 7 cm}}\n  mass: 3 kg\n");
    let own = dir.longodds(&["check", "claim.yaml"]).out;
    assert!(
        own.contains(
            "(your own, from parts/objects/brick.yaml, in the place of the shelf's): My brick."
        ),
        "{own}"
    );
    assert!(own.contains("Its figures: weighed (read)."));
    dir.file(
        "parts/objects/lump.yaml",
        "about: A lump\nobject:\n  shape: {sphere: {diameter: 8 cm}}\n  mass: 1 kg\n",
    );
    let answer = dir.longodds(&["new", "--object", "lump", "--target", "fence", "lump_claim.yaml"]);
    assert_eq!(answer.status, 0, "{}", answer.err);
    let answer = dir.longodds(&["check", "lump_claim.yaml", "--json"]);
    let json: serde_json::Value = serde_json::from_str(&answer.out).unwrap();
    assert_eq!(json["parts"][0]["text"], "parts/objects/lump.yaml");
    assert_eq!(json["parts"][0]["kind"], "from memory");
    let mass =
        json["inputs"].as_array().unwrap().iter().find(|one| one["name"] == "object.mass").unwrap();
    assert_eq!(mass["part"], "lump");
}

#[test]
fn what_is_wrong_with_a_part_is_shown_in_its_file() {
    let dir = Dir::new("what_is_wrong_with_a_part_is_shown_in_its_file");
    fs::create_dir_all(dir.path("parts/objects/folder.yaml")).unwrap();
    let check = |name: &str| {
        dir.file(
            "claim.yaml",
            started("brick", "fence").replace("like: brick", &format!("like: {name}")),
        );
        let answer = dir.longodds(&["check", "claim.yaml"]);
        assert_eq!((answer.status, answer.out.as_str()), (1, ""), "{}", answer.err);
        answer.err
    };
    dir.file(
        "parts/objects/thing.yaml",
        "about: A thing\nobject:\n  shape: {sphere: {diameter: 8 furlong}}\n  mass: 1 kg\n",
    );
    let said = check("thing");
    assert!(said.contains("--> parts/objects/thing.yaml:3:30"), "{said}");
    assert!(!said.contains("claim.yaml"), "{said}");
    dir.file(
        "parts/objects/fence.yaml",
        fs::read_to_string(
            Path::new(env!("CARGO_MANIFEST_DIR")).join("sim/src/scenario/parts/targets/fence.yaml"),
        )
        .unwrap(),
    );
    let said = check("fence");
    assert!(
        said.contains("this part is a target, not an object")
            && said.contains("its place is in `parts/targets`"),
        "{said}"
    );
    assert!(
        check("folder")
            .contains("cannot read the part `parts/objects/folder.yaml`: it is a folder")
    );
    dir.file("parts/objects/noise.yaml", [0xff, 0xfe, 0, 1, 2]);
    assert!(
        check("noise").contains("cannot read the part `parts/objects/noise.yaml`: not UTF-8 text")
    );
    dir.file("parts/objects/huge.yaml", "#\n".repeat(1 << 20));
    assert!(
        check("huge")
            .contains("cannot read the part `parts/objects/huge.yaml`: longer than 1048576 bytes")
    );
    let said = check("brikc");
    assert!(said.contains("did you mean `brick`"), "{said}");
    assert!(said.contains("--> claim.yaml:"), "{said}");
}

#[test]
fn a_claim_is_started_from_the_shelf() {
    let dir = Dir::new("a_claim_is_started_from_the_shelf");
    let answer = dir.longodds(&[
        "new",
        "--object",
        "plywood_12mm_8x4",
        "--target",
        "shop_front",
        "claim.yaml",
    ]);
    assert_eq!(answer.out, "wrote claim.yaml\nTo go on: longodds check claim.yaml\n");
    let text = fs::read_to_string(dir.path("claim.yaml")).unwrap();
    assert!(text.lines().count() < 15);
    let answer = dir.longodds(&["check", "claim.yaml"]);
    assert_eq!((answer.status, answer.err.as_str()), (0, ""));
    let (said, found) = dir.told_twice(&["run", "claim.yaml", "--flights", "200"]);
    assert!(!said.is_empty());
    let parts: Vec<&str> = found.parts.iter().map(|part| part.name.as_str()).collect();
    assert_eq!(parts, ["plywood_12mm_8x4", "shop_front"]);
    let page = fs::read_to_string(dir.path("claim.report.html")).unwrap_or_default();
    assert!(page.is_empty() || page.contains("a part of the shelf"));
    let wrong = dir.longodds(&["new", "--object", "plywod", "--target", "brick", "other.yaml"]);
    assert_eq!(wrong.status, 1);
    assert!(
        wrong.err.contains("no part is called `plywod`")
            && wrong.err.contains("`brick` is an object, not a target"),
        "{}",
        wrong.err
    );
    assert!(!dir.path("other.yaml").exists());
}

#[test]
fn the_shelf_is_listed_printed_and_drawn() {
    let dir = Dir::new("the_shelf_is_listed_printed_and_drawn");
    let list = dir.longodds(&["parts"]).out;
    for part in Side::ALL.into_iter().flat_map(shelf) {
        let line = list.lines().find(|line| line.split_whitespace().next() == Some(&part.name));
        let line = line.unwrap_or_else(|| panic!("{} is not listed", part.name));
        assert!(line.contains(&part.about) && line.ends_with(part.kind.words()), "{line}");
        assert_eq!(dir.longodds(&["parts", &part.name]).out, part.text);
    }
    let next = list.lines().last().unwrap();
    assert_eq!(next, "To go on: longodds new --object brick --target greenhouse claim.yaml");
    let none = dir.longodds(&["parts", "plywood"]);
    assert_eq!(none.status, 1);
    assert!(none.err.contains("did you mean plywood_12mm_8x4, plywood_18mm_8x4?"), "{}", none.err);
    assert_eq!(dir.longodds(&["parts", "--pictures", "shelf.svg"]).out, "wrote shelf.svg\n");
    let drawn = fs::read_to_string(dir.path("shelf.svg")).unwrap();
    assert!(shelf(Side::Object).iter().all(|part| drawn.contains(&part.name)));
    assert_eq!(dir.longodds(&["parts", "--pictures", "shelf.png"]).status, 0);
    assert!(fs::read(dir.path("shelf.png")).unwrap().starts_with(b"\x89PNG"));
}
