//! The page of trust, `tests/TRUST.md`: every model against what others
//! published, made from the rows here and held current.

mod air;
mod barrier;
mod bodies;
mod demos;
mod fall;
mod ground;
mod handbook;
mod harm;
mod impact;
mod models;
mod page;
mod passed;
mod rig;
mod row;
mod shapes;
mod statistics;
mod wake;

use self::{models::MODELS, row::Row};
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
    let rows = rows();
    for row in &rows {
        assert!(MODELS.iter().any(|model| model.key == row.model), "{}", row.model);
    }
    for model in MODELS {
        assert!(rows.iter().any(|row| row.model == model.key), "{} has no row", model.key);
    }
}

#[test]
#[expect(clippy::disallowed_methods, reason = "the switch that writes the page")]
fn the_page_is_what_the_program_gives() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/TRUST.md");
    let made = page::page(&rows(), &demos::demos());
    if std::env::var("LONGODDS_TRUST").as_deref() == Ok("write") {
        fs::write(&path, &made).unwrap();
    }
    let kept = fs::read_to_string(&path).unwrap_or_default();
    assert!(
        kept == made,
        "tests/TRUST.md is not what the program gives: LONGODDS_TRUST=write cargo test --test integration trust"
    );
}
