//! Which models each demo's answer leans on.

use longodds_sim::{
    chain::Claim,
    engine::{Order, Unwatched, run},
    findings::{Origin, findings, subjects},
    note::Kind,
    scenario,
    study::Study,
};
use std::{fs, path::Path};

/// A demo and the keys of the models behind its answer.
pub(super) struct Demo {
    pub(super) name: String,
    pub(super) models: Vec<&'static str>,
    /// What of it rests on something recalled.
    pub(super) from_memory: Vec<String>,
}

/// Every demo of `scenarios/`, by name.
pub(super) fn demos() -> Vec<Demo> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    let mut paths: Vec<_> = fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|end| end == "yaml"))
        .collect();
    paths.sort();
    paths.iter().map(|path| demo(path, &folder)).collect()
}

fn demo(path: &Path, folder: &Path) -> Demo {
    let name = path.file_stem().unwrap().to_string_lossy().into_owned();
    let text = fs::read_to_string(path).unwrap();
    let claim = Claim::new(scenario::parse(&text, folder).unwrap());
    let tally = run(&claim, &Order::new(1, 0..64), &Unwatched);
    let study = Study::plain(1, 64, tally);
    let record = findings(&claim, &study, &Origin { scenario_name: name.clone() });
    let subjects = subjects();
    let models = record.models.iter().map(|note| {
        let known = subjects.iter().find(|subject| subject.anchor() == note.key);
        assert!(known.is_some(), "{name}: no section of the page for `{}`", note.what);
        known.unwrap().key
    });
    let models = models.collect();
    let from_memory = record
        .models
        .iter()
        .filter(|note| note.kind == Some(Kind::Memory))
        .map(|note| note.what.clone())
        .collect();
    Demo { name, models, from_memory }
}
