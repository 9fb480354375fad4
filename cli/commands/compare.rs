//! `longodds compare`: a claim against a rig.

use crate::{
    failure::Failure,
    files, input, paste,
    plain::{percent, table},
    progress::Bar,
    rigging,
};
use longodds_reports::{Frame, chart};
use longodds_sim::{
    chain::Claim,
    compare::{
        Comparison, Cover, Covers, Impact, Interval, Measure, Needed, Row, compare, covers, impacts,
    },
    engine::{Order, Progress},
    findings::{CompareFindings, Compared, Strikes},
    quantity::{Dimension, Show, format},
    words::{Spoken, count, interval},
};
use serde_json::json;
use std::{
    io::{self, Write},
    path::PathBuf,
};

/// Tell whether a rig's shots strike as the claimed thing would: speed, energy,
/// angles, and the launch speed that covers 50, 90, 95 and 99 % of the claim.
///
/// Both scenarios fly the draws of one seed, and only flights that strike are
/// compared. Energy is what arrives square to the face, at the point touched.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  longodds compare scenarios/sawmill_billet.yaml scenarios/crossbow_billet.yaml")]
pub(crate) struct Arguments {
    /// The scenario of the claim; `-` reads it from standard input.
    claim: PathBuf,
    /// The scenario of the rig's shot.
    rig: PathBuf,
    /// Flights of each; the search for the speed flies a quarter as many at
    /// each of 25 speeds.
    #[arg(long, default_value_t = 40_000, value_parser = clap::value_parser!(u64).range(400..=100_000_000))]
    flights: u64,
    /// The seed of the random draws.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Draw both sides' strikes and the covering speeds (`.svg` or `.png`).
    #[arg(long)]
    picture: Option<PathBuf>,
    /// Print JSON, in SI units: `report --with` puts it on a page.
    #[arg(long)]
    json: bool,
}

/// What the command found.
struct Found {
    claim: Vec<Impact>,
    rig: Vec<Impact>,
    comparison: Comparison,
    covers: Option<Covers>,
}

pub(crate) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    let ready = |path| Ok::<_, Failure>(Claim::ready(input::scenario(path)?, arguments.seed));
    let (claim, rig) = (ready(&arguments.claim)?, ready(&arguments.rig)?);
    let found = find(arguments, &claim, &rig)?;
    let record = record(&found, &rig, claim.scenario().show, arguments);
    if arguments.json {
        writeln!(out, "{:#}", json!(record))?;
    } else {
        write_words(&found, &claim, &rig, arguments, out)?;
    }
    match &arguments.picture {
        Some(path) => {
            let picture = chart::comparison(&record, Frame::page());
            rigging::write_picture_beside(path, &picture, arguments.json, out)
        }
        None => Ok(()),
    }
}

fn find(arguments: &Arguments, claim: &Claim, rig: &Claim) -> Result<Found, Failure> {
    let (flights, seed) = (arguments.flights, arguments.seed);
    let quarter = flights / 4;
    let bar = Bar::new(2 * flights + 25 * quarter, "flights");
    let order = Order::new(seed, 0..flights);
    let (of_claim, of_rig) = (impacts(claim, &order, &bar), impacts(rig, &order, &bar));
    let comparison = compare(&of_claim, &of_rig);
    let covers = comparison.as_ref().and_then(|_| covers(&of_claim, rig, seed, quarter, &bar));
    let was_stopped = bar.stop();
    drop(bar);
    if was_stopped {
        return Err(Failure::STOPPED);
    }
    let comparison = comparison.ok_or_else(|| too_few([of_claim.len(), of_rig.len()], flights))?;
    Ok(Found { claim: of_claim, rig: of_rig, comparison, covers })
}

fn too_few([claim, rig]: [usize; 2], flights: u64) -> Failure {
    let so_many = |strikes: usize| count(strikes as u64);
    Failure::wrong(format!(
        "too few strikes to compare: of {} flights the claim struck in {} and the rig in {}; \
         a few hundred of each are needed (more with --flights, or aim better)",
        count(flights),
        so_many(claim),
        so_many(rig),
    ))
}

fn record(found: &Found, rig: &Claim, show: Show, arguments: &Arguments) -> CompareFindings {
    let turned = found.covers.as_ref().map(|found| rig.scenario().inputs.get(found.speed));
    let about = Compared {
        claim_name: files::name(&arguments.claim),
        rig_name: files::name(&arguments.rig),
        show,
        flights: arguments.flights,
        strikes: Strikes { claim: found.claim.len() as u64, rig: found.rig.len() as u64 },
        speed_input: turned.map_or_else(String::new, |input| input.name.clone()),
    };
    CompareFindings::new(&found.comparison, found.covers.as_ref(), about)
}

fn write_words(
    found: &Found,
    claim: &Claim,
    rig: &Claim,
    arguments: &Arguments,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let show = claim.scenario().show;
    let hard = &found.comparison.as_hard;
    writeln!(
        out,
        "A shot of the rig strikes at least as hard as the claimed thing: {} (95 % interval: {}).",
        Spoken::inside(hard.estimate, hard.low, hard.high),
        interval(hard.low, hard.high)
    )?;
    for row in &found.comparison.rows {
        writeln!(out, "{}", sentence(row, show))?;
    }
    writeln!(out, "\n{}", side_by_side(&found.comparison.rows, show))?;
    covered(found.covers.as_ref(), rig, show, out)?;
    let struck = |impacts: &[Impact]| count(impacts.len() as u64);
    writeln!(
        out,
        "\nCompared: {} strikes of the claim and {} of the rig, of {} flights each with the same \
         draws; intervals hold 95 %.",
        struck(&found.claim),
        struck(&found.rig),
        count(arguments.flights)
    )?;
    writeln!(
        out,
        "Stored energy and flying debris can kill: what covers the claim must also be safe to \
         fire. Follow local codes, and have someone licensed look at the rig."
    )?;
    if let Some(line) = go_on(found.covers.as_ref(), rig, arguments) {
        writeln!(out, "{line}")?;
    }
    Ok(())
}

/// The share of the claim's strikes that the next command covers, if the rig can.
const COVERED: f64 = 0.95;

/// The next command: the rig at the speed that covers the claim, with its sheet; of a
/// scenario without a rig, that speed flown.
fn go_on(found: Option<&Covers>, rig: &Claim, arguments: &Arguments) -> Option<String> {
    let found = found?;
    let reached = found.covers.iter().filter(|cover| cover.share <= COVERED).rev();
    let speed = reached.into_iter().find_map(|cover| match cover.speed {
        Needed::At(speed) => Some(speed),
        Needed::Below(_) | Needed::Above(_) => None,
    })?;
    let said = format(speed, Dimension::Speed, rig.scenario().show);
    Some(match rigging::file_of(rig.scenario(), &arguments.rig) {
        Some(file) => {
            let file = files::typed(&file);
            paste::next(["rig", &file, "--speed", &said, "--sheet", "day.html"])
        }
        None => {
            let name = &rig.scenario().inputs.get(found.speed).name;
            let set = format!("{name}={said}");
            paste::next(["run", &files::typed(&arguments.rig), "--set", &set])
        }
    })
}

/// What a row says, in words.
fn sentence(row: &Row, show: Show) -> String {
    let Interval { estimate, low, high } = row.difference;
    let say = |value: f64| format(value, row.measure.dimension(), show);
    let name = row.measure.name();
    let [more, less] = match row.measure {
        Measure::Speed | Measure::NormalEnergy => ["higher", "lower"],
        Measure::Obliquity | Measure::EndOn => ["larger", "smaller"],
    };
    if low <= 0.0 && 0.0 <= high {
        let most = say(low.abs().max(high.abs()));
        return format!("  {name}: no difference seen in the middle (at most {most} either way)");
    }
    let (by, near, far) = (estimate.abs(), low.abs().min(high.abs()), low.abs().max(high.abs()));
    let side = if estimate > 0.0 { more } else { less };
    format!(
        "  {name}: the rig's is {side} by {} in the middle ({} to {})",
        say(by),
        say(near),
        say(far)
    )
}

fn side_by_side(rows: &[Row], show: Show) -> String {
    let heads = ["5 %", "50 %", "95 %", "rig 5 %", "50 %", "95 %"];
    let first = ["", "claim 5 %"].into_iter().chain(heads.into_iter().skip(1));
    let mut grid = table(first);
    for row in rows {
        let say = |value: &f64| format(*value, row.measure.dimension(), show);
        let name = std::iter::once(row.measure.name().to_owned());
        grid.add_row(name.chain(row.claim.iter().chain(&row.rig).map(say)));
    }
    grid.to_string()
}

fn covered(
    found: Option<&Covers>,
    rig: &Claim,
    show: Show,
    out: &mut dyn Write,
) -> Result<(), io::Error> {
    let Some(found) = found else {
        return writeln!(
            out,
            "\nThe second scenario launches nothing at a speed that could be set, so no speed \
             that covers the claim can be given."
        );
    };
    let name = &rig.scenario().inputs.get(found.speed).name;
    writeln!(out, "\nFor the rig's middle shot to strike as hard as a share of the claim's:\n")?;
    let energy = "energy asked";
    let mut grid = table(["of the claim's strikes", energy, name.as_str(), "95 % interval"]);
    for cover in &found.covers {
        grid.add_row([
            percent(cover.share),
            format(cover.energy, Dimension::Energy, show),
            speed(cover.speed, show),
            ends(cover, show),
        ]);
    }
    writeln!(out, "{grid}")
}

fn speed(found: Needed, show: Show) -> String {
    let say = |value: f64| format(value, Dimension::Speed, show);
    match found {
        Needed::At(value) => say(value),
        Needed::Below(slowest) => format!("less than {}", say(slowest)),
        Needed::Above(fastest) => format!("out of reach: more than {}", say(fastest)),
    }
}

fn ends(cover: &Cover, show: Show) -> String {
    let say = |end: Option<Needed>| end.map_or("not known".to_owned(), |found| speed(found, show));
    match (cover.speed, cover.ends) {
        (Needed::At(_), [low, high]) => format!("{} to {}", say(low), say(high)),
        (Needed::Below(_) | Needed::Above(_), _) => String::new(),
    }
}
