//! The page itself: rows sorted so that what carries most headlines on the
//! weakest ground comes first.

use super::{
    curve::{CURVES, Curve},
    demos::Demo,
    row::{Kind, Row, digits},
};
use longodds_sim::findings::subjects;
use std::{fmt::Write, fs, path::Path};

/// The whole page.
pub(super) fn page(rows: &[Row], demos: &[Demo]) -> String {
    let mut text = String::from(INTRODUCTION);
    let _ = writeln!(text, "\n{}\n", counts(rows));
    memory(&mut text, demos);
    let mut order: Vec<_> =
        subjects().into_iter().map(|model| (model, weight(model.key, rows, demos))).collect();
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

/// What is recalled: how many lines say so, and which demos hang on it.
fn memory(text: &mut String, demos: &[Demo]) {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let lines: usize = ["flight/src", "sim/src"].iter().map(|src| recalled(&root.join(src))).sum();
    let _ = writeln!(
        text,
        "{lines} lines of the engine still say \"from memory\". What each demo's answer leans on \
         that is recalled, in part or as a whole:\n"
    );
    for demo in demos {
        let named = match demo.from_memory.as_slice() {
            [] => "nothing".to_owned(),
            named => named.join("; "),
        };
        let _ = writeln!(text, "- {}: {named}", demo.name);
    }
    text.push('\n');
}

/// Lines below a folder that say "from memory".
fn recalled(folder: &Path) -> usize {
    let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    entries
        .map(|path| {
            if path.is_dir() {
                return recalled(&path);
            }
            let text = fs::read_to_string(&path).unwrap();
            text.lines().filter(|line| line.contains("from memory")).count()
        })
        .sum()
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
    let weakest = super::kind(key).words();
    let _ = writeln!(text, "## {key}\n\n{claims}. {leaning} At its weakest: {weakest}.\n");
    for curve in CURVES.iter().filter(|curve| curve.model == key) {
        let Curve { words, .. } = curve;
        let _ = writeln!(text, "![{words}: ours and published]({})\n", curve.file());
    }
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
