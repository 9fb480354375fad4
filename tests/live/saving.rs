//! What is written, and what never is.

use super::{open, served, usual};
use crate::util::SCENARIO;
use serde_json::{Value, json};
use std::{
    fs,
    path::{Path, PathBuf},
};

#[test]
fn a_save_changes_the_values_that_were_set_and_nothing_else() {
    let text = SCENARIO.replace("mass: 0.9 kg", "mass: 0.9 kg   # weighed, twice");
    for text in [text.clone(), text.replace('\n', "\r\n")] {
        let (dir, served) = served("a_save_changes_the_values", &text);
        let digest = open(&served)["digest"].clone();
        let sets = json!([["object.mass", "2 lb"], ["target.stands.at", "1 ft"]]);
        let reply = served.post("/api/save", &json!({ "digest": digest, "sets": sets })).unwrap();
        assert_eq!(reply.status, 200, "{}", reply.body);
        let told = reply.json().unwrap();
        assert!(told["form"].as_str().unwrap().contains("2 lb"));
        let wanted = text.replace("0.9 kg", "2 lb").replace("{at: 0.2 m}", "{at: 1 ft}");
        assert_eq!(fs::read_to_string(dir.path("claim.yaml")).unwrap(), wanted);
        assert_eq!(open(&served)["digest"], told["digest"]);
        // Nothing is left beside it.
        assert_eq!(dir.names(), ["claim.yaml"]);
    }
}

#[test]
fn a_clash_writes_nothing_and_shows_both() {
    let (dir, served) = usual("a_clash_writes_nothing");
    let digest = open(&served)["digest"].clone();
    let theirs = SCENARIO.replace("0.9 kg", "1.4 kg") + "# by an editor\n";
    fs::write(dir.path("claim.yaml"), &theirs).unwrap();
    let save = json!({ "digest": digest, "sets": [["object.mass", "2 kg"]] });
    let reply = served.post("/api/save", &save).unwrap();
    assert_eq!(reply.status, 409);
    let told = reply.json().unwrap();
    assert_eq!(told["theirs"], theirs);
    assert_eq!(told["ours"], theirs.replace("1.4 kg", "2 kg"));
    assert_eq!(fs::read_to_string(dir.path("claim.yaml")).unwrap(), theirs);
    // Asked again with what is there now, it is put into it.
    let save = json!({ "digest": told["digest"], "sets": [["object.mass", "2 kg"]] });
    assert_eq!(served.post("/api/save", &save).unwrap().status, 200);
    let now = fs::read_to_string(dir.path("claim.yaml")).unwrap();
    assert_eq!(now, theirs.replace("1.4 kg", "2 kg"));
}

#[test]
fn what_is_wrong_is_not_saved() {
    let (dir, served) = usual("what_is_wrong_is_not_saved");
    let digest = open(&served)["digest"].clone();
    for (key, value) in [("object.mass", "-2 kg"), ("object.mass", "}"), ("objct.mass", "2 kg")] {
        let save = json!({ "digest": digest, "sets": [[key, value]] });
        let reply = served.post("/api/save", &save).unwrap();
        assert_eq!(reply.status, 422, "{}", reply.body);
        assert!(reply.json().unwrap()["problems"][0]["message"].is_string());
    }
    assert_eq!(fs::read_to_string(dir.path("claim.yaml")).unwrap(), SCENARIO);
}

#[cfg(unix)]
#[test]
fn a_save_goes_through_a_link_and_keeps_who_may_read() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let (dir, served) = usual("a_save_goes_through_a_link");
    drop(served);
    fs::create_dir(dir.path("real")).unwrap();
    let real = dir.path("real/own.yaml");
    fs::rename(dir.path("claim.yaml"), &real).unwrap();
    symlink(&real, dir.path("claim.yaml")).unwrap();
    fs::set_permissions(&real, fs::Permissions::from_mode(0o640)).unwrap();
    let served = crate::wire::Served::start(&mut dir.command(&["live", "claim.yaml"])).unwrap();
    let save = |mass: &str| {
        let save = json!({ "digest": open(&served)["digest"], "sets": [["object.mass", mass]] });
        served.post("/api/save", &save).unwrap().status
    };
    assert_eq!(save("2 kg"), 200);
    assert!(dir.path("claim.yaml").symlink_metadata().unwrap().is_symlink());
    assert_eq!(fs::metadata(&real).unwrap().permissions().mode() & 0o777, 0o640);
    assert!(fs::read_to_string(&real).unwrap().contains("mass: 2 kg"));
    // Where nobody may write, nobody writes.
    fs::set_permissions(&real, fs::Permissions::from_mode(0o440)).unwrap();
    assert_eq!(save("3 kg"), 500);
    assert!(fs::read_to_string(&real).unwrap().contains("mass: 2 kg"));
}

#[test]
fn the_page_to_print_has_the_what_ifs() {
    let (dir, served) = usual("the_page_to_print_has_the_what_ifs");
    let asked = json!({
        "digest": open(&served)["digest"], "sets": [["gap", "0.4 m"]],
        "rows": [
            { "name": "half as <far>", "sets": [["target.stands.at", "0.1 m"]] },
            { "name": "lighter", "sets": [["object.mass", "0.5 kg"], ["gap", "0.4 m"]] },
        ],
    });
    let reply = served.post("/api/page", &asked).unwrap();
    assert_eq!(reply.status, 200, "{}", reply.body);
    let page = &reply.body;
    for words in ["What if", "half as &lt;far&gt;", "was 0.2 m", "no longer do", "</html>"] {
        assert!(page.contains(words), "{words}");
    }
    assert!(!page.contains("half as <far>"));
    // The rest of it is the page of the same version's run.
    let set = ["run", "claim.yaml", "--set", "gap=0.4 m"];
    assert_eq!(dir.longodds(&set).status, 0);
    let run = fs::read_to_string(dir.path("claim.set.report.html")).unwrap();
    let (before, rest) = page.split_once("<section id=\"what-ifs\"").unwrap();
    let (_, after) = rest.split_once("</section>").unwrap();
    let entry = "<li><a href=\"#what-ifs\">What if</a></li>";
    assert_eq!(format!("{}{after}", before.replace(entry, "")), run);
    let stale = json!({ "digest": "other", "sets": [] });
    assert_eq!(served.post("/api/page", &stale).unwrap().status, 409);
    let wrong = json!({ "digest": asked["digest"], "sets": [], "rows": [{ "name": "x", "sets": [["gap", "?"]] }] });
    assert_eq!(served.post("/api/page", &wrong).unwrap().status, 422);
}

/// The files of a folder, sorted.
fn files(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut files: Vec<PathBuf> = entries.filter(|path| path.is_file()).collect();
    files.sort();
    files
}

fn demos() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    let is_yaml = |path: &PathBuf| path.extension().is_some_and(|end| end == "yaml");
    files(&folder).into_iter().filter(is_yaml).collect()
}

/// Over every demo: each value of its text written back where it stands leaves every byte
/// as it was, over the wire.
#[test]
fn every_value_of_a_demo_saved_as_it_stands_changes_no_byte() {
    use longodds_sim::{
        scenario::language,
        text::{Sort, leaves},
    };
    let language = language();
    for demo in demos() {
        let text = fs::read_to_string(&demo).unwrap();
        let (dir, served) = served("every_value_saved_as_it_stands", &text);
        // What it names beside it.
        fs::create_dir(dir.path("rigs")).unwrap();
        for beside in files(demo.parent().unwrap()).into_iter().filter(|path| *path != demo) {
            fs::copy(&beside, dir.path(beside.file_name().unwrap().to_str().unwrap())).unwrap();
        }
        for rig in files(&demo.with_file_name("rigs")) {
            let name = format!("rigs/{}", rig.file_name().unwrap().to_str().unwrap());
            fs::copy(&rig, dir.path(&name)).unwrap();
        }
        let sets: Vec<Value> = leaves(&text, Sort::Scenario, &language)
            .unwrap()
            .iter()
            .filter_map(|leaf| {
                let value = text[leaf.place.clone()?].trim();
                let plain = !value.contains(['\n', '#', '"', '\'']) && !value.is_empty();
                plain.then(|| json!([leaf.path, value]))
            })
            .collect();
        assert!(sets.len() > 10, "{}", demo.display());
        let save = json!({ "digest": open(&served)["digest"], "sets": sets });
        let reply = served.post("/api/save", &save).unwrap();
        assert_eq!(reply.status, 200, "{}: {}", demo.display(), reply.body);
        assert_eq!(fs::read_to_string(dir.path("claim.yaml")).unwrap(), text);
    }
}
