//! The page itself: rows sorted so that what carries most headlines on the
//! weakest ground comes first.

use super::{
    demos::Demo,
    models::MODELS,
    row::{Kind, Row, digits},
};
use std::fmt::Write;

/// The whole page.
pub(super) fn page(rows: &[Row], demos: &[Demo]) -> String {
    let mut text = String::from(INTRODUCTION);
    let _ = writeln!(text, "\n{}\n", counts(rows));
    let mut order: Vec<_> =
        MODELS.iter().map(|model| (model, weight(model.key, rows, demos))).collect();
    order.sort_by(|a, b| b.1.total_cmp(&a.1));
    for (model, _) in &order {
        let mine: Vec<&Row> = rows.iter().filter(|row| row.model == model.key).collect();
        section(&mut text, model.key, model.claims, &mine, &leaning(model.key, demos));
    }
    text
}

const INTRODUCTION: &str = "\
# How well founded is it?

Each row sets a published value beside ours. The tests make this page
(`LONGODDS_TRUST=write cargo test --test integration trust`) and fail when it is
not what the program gives now. The models that carry most demos on the weakest
ground come first: doubt them first.

What the kinds mean: *from memory*: recalled, nobody has looked it up; *common
practice, no source*: what the trade does; *second-hand*: read where somebody
else repeats it; *derived*: follows from a textbook law by hand calculation;
*reference library*: computed by a general-purpose library; *read*: read in the
source itself.
";

/// How many rows of which kind.
fn counts(rows: &[Row]) -> String {
    let each: Vec<String> = Kind::ALL
        .into_iter()
        .map(|kind| (rows.iter().filter(|row| row.kind == kind).count(), kind))
        .filter(|(count, _)| *count > 0)
        .map(|(count, kind)| format!("{count} {}", kind.words()))
        .collect();
    format!("{} rows: {}.", rows.len(), each.join(", "))
}

/// Share of the model's rows on weak ground, times how many demos use it.
#[expect(clippy::cast_precision_loss, reason = "small counts")]
fn weight(model: &str, rows: &[Row], demos: &[Demo]) -> f64 {
    let mine: Vec<&Row> = rows.iter().filter(|row| row.model == model).collect();
    let weak = |row: &&&Row| row.kind <= Kind::Practice;
    let share = (mine.iter().filter(weak).count() as f64 + 0.1) / (mine.len() as f64 + 0.1);
    share * (1.0 + demos.iter().filter(|demo| demo.models.contains(&model)).count() as f64)
}

fn leaning(model: &str, demos: &[Demo]) -> String {
    let names: Vec<&str> = demos
        .iter()
        .filter(|demo| demo.models.contains(&model))
        .map(|demo| demo.name.as_str())
        .collect();
    match names.len() {
        0 => "No demo's answer leans on it.".to_owned(),
        n if n == demos.len() => "Every demo's answer leans on it.".to_owned(),
        _ => format!("Answers that lean on it: {}.", names.join(", ")),
    }
}

fn section(text: &mut String, key: &str, claims: &str, rows: &[&Row], leaning: &str) {
    let _ = writeln!(text, "## {key}\n\n{claims}. {leaning}\n");
    let _ =
        writeln!(text, "| what | published | ours | difference | allowed | range | kind, source |");
    let _ = writeln!(text, "|---|---|---|---|---|---|---|");
    let mut sorted = rows.to_vec();
    sorted.sort_by_key(|row| row.kind);
    for row in sorted {
        let _ = writeln!(
            text,
            "| {} | {} {} | {} | {} | {} | {} | {}: {} |",
            row.claim,
            row.published,
            row.unit,
            digits(row.ours, 6),
            row.difference(),
            row.allowed(),
            row.range,
            row.kind.words(),
            row.source,
        );
    }
    text.push('\n');
}
