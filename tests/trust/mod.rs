//! The page of trust, `tests/TRUST.md`: every model against what others
//! published, made from the rows here and held current.

mod air;
mod barrier;
mod bodies;
mod curve;
mod demos;
mod fall;
mod ground;
mod handbook;
mod harm;
mod impact;
mod page;
mod passed;
mod rig;
mod row;
mod shapes;
mod statistics;
mod wake;

use self::row::Row;
use longodds_sim::{
    findings::{every_note, subjects},
    note::Kind,
};
use std::{fs, path::Path};

fn rows() -> Vec<Row> {
    [
        air::rows,
        wake::rows,
        fall::rows,
        shapes::rows,
        handbook::rows,
        bodies::rows,
        impact::rows,
        barrier::rows,
        passed::rows,
        ground::rows,
        harm::rows,
        rig::rows,
        statistics::rows,
    ]
    .into_iter()
    .flat_map(|rows| rows())
    .collect()
}

/// Sources: beside each row.
#[test]
fn every_row_holds_within_its_tolerance() {
    let wrong: Vec<String> = rows()
        .iter()
        .filter(|row| !row.holds())
        .map(|row| format!("{}: {}: {} is not {}", row.model, row.claim, row.ours, row.published))
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_row_belongs_to_a_model_and_every_model_has_rows() {
    let (rows, subjects) = (rows(), subjects());
    for row in &rows {
        assert!(subjects.iter().any(|subject| subject.key == row.model), "{}", row.model);
    }
    for subject in subjects {
        assert!(rows.iter().any(|row| row.model == subject.key), "{} has no row", subject.key);
    }
}

/// The weakest kind of a model's notes.
fn kind(key: &str) -> Kind {
    every_note().filter(|note| note.subject.key == key).map(|note| note.kind).min().unwrap()
}

/// A model says of itself that it is no better founded than the weakest of the
/// values that it is held against.
#[test]
fn no_model_says_that_it_is_better_founded_than_its_rows() {
    let rows = rows();
    for subject in subjects() {
        let mine = rows.iter().filter(|row| row.model == subject.key);
        let weakest = mine.map(|row| row.kind).min().unwrap();
        let said = kind(subject.key);
        assert!(said <= weakest, "{}: {said:?}, its rows {weakest:?}", subject.key);
    }
}

/// What a note says of its sources in words is what it says by its kind.
#[test]
fn the_kind_of_a_note_is_the_weakest_that_its_source_names() {
    for note in every_note() {
        let named = if note.source.contains("from memory") {
            Kind::Memory
        } else if note.source.contains("second-hand") || note.source.contains("abstract") {
            Kind::SecondHand
        } else {
            Kind::Derived
        };
        let (what, source) = (note.what, note.source);
        assert!(note.kind <= named || named == Kind::Derived, "{what}: {:?}: {source}", note.kind);
        assert!(note.kind != Kind::Memory || named == Kind::Memory, "{what}: {source}");
    }
}

#[test]
#[expect(clippy::disallowed_methods, reason = "the switch that writes the page")]
fn the_page_and_its_pictures_are_what_the_program_gives() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests");
    let rows = rows();
    let page = ("TRUST.md".to_owned(), page::page(&rows, &demos::demos()));
    let pictures = curve::CURVES.iter().map(|curve| (curve.file(), curve.svg(&rows)));
    for (name, made) in pictures.chain([page]) {
        let path = folder.join(&name);
        if std::env::var("LONGODDS_TRUST").as_deref() == Ok("write") {
            fs::write(&path, &made).unwrap();
        }
        let kept = fs::read_to_string(&path).unwrap_or_default();
        assert!(
            kept == made,
            "tests/{name} is not what the program gives: LONGODDS_TRUST=write cargo test --test integration trust"
        );
    }
}
