//! `longodds parts`: the shelf.

use crate::{failure::Failure, files, paste, plain::table, typed::Units};
use longodds_reports::chart::{Drawn, Thing, shelf as picture};
use longodds_sim::{
    findings::{Silhouette, Things, things},
    quantity::{Dimension, Show, format},
    scenario::{
        Scenario,
        parts::{Part, Side, in_claims, shelf},
    },
};
use std::{
    io::Write,
    path::{Path, PathBuf},
};

/// List the parts of the shelf, print one whole, or draw them all.
///
/// A claim takes a part with `like`: `object: {like: brick}`, `target: {like:
/// shop_front, stands: {at: 14 m}, aim: window}`. Keys beside it stand in the place
/// of the part's. What a figure is from stands in the part and on the claim's page.
/// A file `parts/objects/NAME.yaml` or `parts/targets/NAME.yaml` beside a claim is a
/// part of your own.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  longodds parts
  longodds parts shop_front
  longodds parts --pictures shelf.svg
  longodds new --object brick --target greenhouse claim.yaml")]
pub(crate) struct Arguments {
    /// The part to print; without it, all are listed.
    name: Option<String>,
    /// Draw every part into this file, SVG or PNG by its ending.
    #[arg(long, value_name = "FILE", conflicts_with = "name")]
    pictures: Option<PathBuf>,
    /// Units of sizes and masses.
    #[arg(long, value_enum, default_value = "si")]
    show: Units,
}

pub(crate) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    let show = arguments.show.into();
    match (&arguments.name, &arguments.pictures) {
        (Some(name), _) => print(name, out),
        (None, Some(file)) => draw(file, show, out),
        (None, None) => list(show, out),
    }
}

/// What the next command is shown with.
const OBJECT: &str = "brick";
const TARGET: &str = "greenhouse";

fn list(show: Show, out: &mut dyn Write) -> Result<(), Failure> {
    let mut objects = table(["object", "size", "mass", "what it is", "its figures"]);
    for (part, scenario) in in_claims(Side::Object) {
        let kind = part.kind.words().to_owned();
        objects.add_row([
            part.name,
            size(&scenario, show),
            mass(&scenario, show),
            part.about,
            kind,
        ]);
    }
    let mut targets =
        table(["target", "faces, the one that counts first", "what it is", "its figures"]);
    for (part, scenario) in in_claims(Side::Target) {
        let kind = part.kind.words().to_owned();
        targets.add_row([part.name, faces(&scenario), part.about, kind]);
    }
    for table in [objects, targets] {
        let text = table.to_string();
        let lines: Vec<&str> = text.lines().map(str::trim_end).collect();
        writeln!(out, "{}\n", lines.join("\n"))?;
    }
    writeln!(
        out,
        "{}",
        paste::next(["new", "--object", OBJECT, "--target", TARGET, "claim.yaml"])
    )?;
    Ok(())
}

fn size(scenario: &Scenario, show: Show) -> String {
    let Things { object, .. } = things(scenario);
    let mut sides = object.extents.to_vec();
    // What is round has its diameter once.
    if !matches!(object.silhouette, Silhouette::Boxed | Silhouette::Bare) {
        sides.dedup_by(|a, b| (*a - *b).abs() < 1e-9 * b.abs());
    }
    let sides: Vec<String> =
        sides.into_iter().map(|side| format(side, Dimension::Length, show)).collect();
    sides.join(" x ")
}

fn mass(scenario: &Scenario, show: Show) -> String {
    let mass = scenario.inputs.get(scenario.object.mass);
    format(mass.distribution.quantile(0.5), Dimension::Mass, show)
}

fn faces(scenario: &Scenario) -> String {
    let faces = &scenario.target.faces;
    let names =
        |aim: bool| faces.iter().filter(move |face| face.aim == aim).map(|face| &*face.name);
    names(true).chain(names(false)).collect::<Vec<_>>().join(", ")
}

/// A part as it stands on the shelf.
fn print(name: &str, out: &mut dyn Write) -> Result<(), Failure> {
    let all: Vec<Part> = Side::ALL.into_iter().flat_map(shelf).collect();
    let Some(part) = all.iter().find(|part| part.name == name) else {
        let near: Vec<&str> =
            all.iter().map(|part| part.name.as_str()).filter(|own| own.contains(name)).collect();
        let help = match near.as_slice() {
            [] => "`longodds parts` lists them".to_owned(),
            near => format!("did you mean {}? `longodds parts` lists all", near.join(", ")),
        };
        return Err(Failure::wrong(format!("no part is called `{name}`")).help(help));
    };
    out.write_all(part.text.as_bytes())?;
    Ok(())
}

fn draw(file: &Path, show: Show, out: &mut dyn Write) -> Result<(), Failure> {
    let objects = in_claims(Side::Object).into_iter().map(|(part, scenario)| Thing {
        line: format!("{}, {}", size(&scenario, show), mass(&scenario, show)),
        name: part.name,
        drawn: Drawn::Object(things(&scenario).object),
    });
    let targets = in_claims(Side::Target).into_iter().map(|(part, scenario)| {
        let Things { faces: drawn, solids, .. } = things(&scenario);
        let drawn = Drawn::Target(solids, drawn);
        Thing { name: part.name, line: faces(&scenario), drawn }
    });
    let all: Vec<Thing> = objects.chain(targets).collect();
    let title = format!("The shelf: {} parts that a claim can take", all.len());
    let picture = picture(&title, &all, show);
    let is_png = file.extension().is_some_and(|end| end.eq_ignore_ascii_case("png"));
    let bytes = if is_png { picture.png(2.0) } else { picture.svg().into_bytes() };
    files::write(file, &bytes)?;
    writeln!(out, "wrote {}", files::typed(file))?;
    Ok(())
}
