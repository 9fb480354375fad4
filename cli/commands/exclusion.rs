//! `longodds exclusion`: where debris goes.

use crate::{
    failure::Failure,
    files, input, paste,
    plain::{list, table},
    progress::Bar,
    rigging::write_picture_beside,
};
use longodds_reports::{Frame, chart};
use longodds_sim::{
    chain::Claim,
    engine::Progress,
    estimate::{LEVEL, Proportion},
    exclusion::{
        Ask, Exceeded, Exclusion, How, Measure, Opened, Reach, cautions, exclusion, left_out,
    },
    findings::{Kind, VERSION},
    harm::energy::{self, thresholds},
    quantity::{Dimension, Show, format},
    words::{Spoken, count},
};
use serde_json::{Value, json};
use std::{
    io::{self, Write},
    path::{Path, PathBuf},
};

/// Tell where debris goes: how far only 1 in 10, 1 in 1,000 and 1 in 1,000,000
/// flights get, in every direction, and how thickly it falls.
///
/// The object is flown with nothing in its way until it first touches the
/// ground, or comes to rest on it where the scenario says how it bounces; the
/// target is taken away. Shares are of the flights that come loose. Attitude,
/// aim, spin and the wind's direction are never taken as exact: where they are
/// fixed it is flown both ways, and the wider of the two is the answer.
/// What the plain flights are too few for is searched for; where that fails,
/// the answer says what they do show. Ctrl-C stops it early with what is done so
/// far.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  longodds exclusion scenarios/shop_window.yaml --picture debris.svg
  longodds exclusion claim.yaml --one-in 100 --one-in 100000

It helps to keep people away. It is no clearance: local codes, the site's safety
officer and licensed practice set the zone.")]
pub(crate) struct Arguments {
    /// The scenario; `-` reads it from standard input.
    scenario: PathBuf,
    /// Plain flights.
    #[arg(long, default_value_t = FLIGHTS, value_parser = clap::value_parser!(u64).range(1000..=5_000_000))]
    flights: u64,
    /// The distance that one flight in so many exceeds, more than once if you
    /// like; 10, 1000 and 1000000 where not given.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u64).range(2..=1_000_000_000))]
    one_in: Vec<u64>,
    /// Count only; do not search for what the plain flights are too few for.
    #[arg(long)]
    no_rare: bool,
    /// The seed of the random draws.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Draw the map (`.svg` or `.png`).
    #[arg(long)]
    picture: Option<PathBuf>,
    /// Print JSON, in SI units: `report --with` puts it on a page.
    #[arg(long)]
    json: bool,
}

impl Arguments {
    fn ask(&self) -> Ask {
        let mut one_in: Vec<u64> = match self.one_in.as_slice() {
            [] => vec![10, 1000, 1_000_000],
            told => told.to_vec(),
        };
        one_in.sort_unstable();
        one_in.dedup();
        Ask {
            seed: self.seed,
            flights: self.flights,
            one_in: one_in.into_iter().map(|n| n as f64).collect(),
            search: !self.no_rare,
        }
    }
}

pub(crate) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    let claim = Claim::ready_to_ground(input::scenario(&arguments.scenario)?, arguments.seed);
    let bar = Bar::new(arguments.flights, "flights");
    let found = exclusion(&claim, &arguments.ask(), &bar);
    let was_stopped = bar.stop();
    drop(bar);
    let show = claim.scenario().show;
    let Some(found) = found else {
        return Err(nothing(arguments, was_stopped));
    };
    if arguments.json {
        writeln!(out, "{:#}", as_json(&found, show))?;
    } else {
        write_words(&found, show, out)?;
    }
    if let Some(path) = &arguments.picture {
        let picture = chart::exclusion(&found, show, Frame::page());
        write_picture_beside(path, &picture, arguments.json, out)?;
    }
    Failure::if_stopped(found.partial)?;
    if !arguments.json && !files::is_stream(&arguments.scenario) {
        writeln!(out, "{}", go_on(arguments))?;
    }
    Ok(())
}

/// The next command: the map, or, where it is drawn, this beside the run on its page.
fn go_on(arguments: &Arguments) -> String {
    let mut words = vec!["exclusion".to_owned(), files::typed(&arguments.scenario)];
    let told = arguments.one_in.iter().flat_map(|n| ["--one-in".to_owned(), n.to_string()]);
    words.extend(told);
    if arguments.flights != FLIGHTS {
        words.extend(["--flights".to_owned(), arguments.flights.to_string()]);
    }
    if arguments.seed != 1 {
        words.extend(["--seed".to_owned(), arguments.seed.to_string()]);
    }
    if arguments.no_rare {
        words.push("--no-rare".to_owned());
    }
    let words = words.iter().map(String::as_str);
    let stem = arguments.scenario.file_stem().unwrap_or_default().to_string_lossy();
    let findings = format!("{stem}.findings.json");
    match &arguments.picture {
        None => paste::next(words.chain(["--picture", &format!("{stem}.zone.svg")])),
        Some(_) if Path::new(&findings).exists() => {
            paste::on_the_page(words, &format!("{stem}.zone.json"), &findings)
        }
        Some(_) => paste::next(["run", &files::typed(&arguments.scenario)]),
    }
}

/// Plain flights where no other number is asked for.
const FLIGHTS: u64 = 200_000;

fn nothing(arguments: &Arguments, was_stopped: bool) -> Failure {
    if was_stopped {
        return Failure::STOPPED;
    }
    let flights = count(arguments.flights);
    Failure::wrong(format!("it did not come loose in any of {flights} flights")).help(
        "what does not come loose has no debris to map: `longodds run` tells how rarely it does; \
         to map what happens once it is loose, leave out what holds it",
    )
}

fn write_words(found: &Exclusion, show: Show, out: &mut dyn Write) -> io::Result<()> {
    for line in answer(found, show) {
        writeln!(out, "{line}")?;
    }
    writeln!(out, "\n{}", reaches(found, show))?;
    for line in notes(found, show) {
        writeln!(out, "{line}")?;
    }
    let opened: Vec<String> = found.opened.iter().map(|one| one.words(show)).collect();
    list(out, "Not taken as exact", &opened)?;
    list(out, "At the ground", &at_the_ground(found, show))?;
    list(out, "Not in it", &left_out(found.followed))?;
    list(out, "CAUTION", &cautions())
}

/// The answer first.
fn answer(found: &Exclusion, show: Show) -> Vec<String> {
    let say = |value: f64| format(value, Dimension::Length, show);
    let mut lines = Vec::new();
    let cut = found.in_air + found.failed;
    if cut > 0 {
        lines.push(format!(
            "{} of {} flights were cut off before they came down: they go farther than is told here.",
            count(cut),
            count(found.loose.k),
        ));
    }
    if found.partial {
        let followed = count(found.flights);
        lines.push(format!("Stopped early: this is what {followed} flights show so far.\n"));
    }
    if found.loose.k < found.loose.n {
        lines.push(format!(
            "It comes loose {} ({} of {}). Once it is loose:",
            Spoken::near(found.loose.estimate),
            count(found.loose.k),
            count(found.loose.n),
        ));
    }
    let Some(away) = found.reach(Measure::Away) else { return lines };
    let told = found.as_told.as_ref().and_then(|told| told.reach(Measure::Away));
    for (k, one) in away.exceeded.iter().enumerate() {
        let share = one_in(one);
        let exactly = told.map_or(String::new(), |told| exactly(&told.exceeded[k], show));
        lines.push(match one.distance {
            Some(distance) => format!("{share} goes beyond {}{exactly}.", say(distance)),
            None => format!("{share}: {}{exactly}.", unknown(one, show)),
        });
    }
    if !found.opened.is_empty() {
        lines.push(questioned(found));
    }
    lines.push(format!(
        "None of {} went beyond {}; by that count alone at most {} does (95 % confidence).",
        count(found.loose.k),
        say(away.farthest),
        Spoken::at_most(away.beyond),
    ));
    lines
}

/// What the distance would be if all were exactly as told.
fn exactly(one: &Exceeded, show: Show) -> String {
    one.distance.map_or(String::new(), |distance| {
        let distance = format(distance, Dimension::Length, show);
        format!(" ({distance} if all were exactly as written)")
    })
}

/// That exactness is not believed, in a sentence.
fn questioned(found: &Exclusion) -> String {
    let (told, untold): (Vec<_>, Vec<_>) = found.opened.iter().partition(|one| one.told);
    let names = |list: &[&Opened]| {
        let name = |one: &&Opened| {
            let parts: Vec<&str> = one.input.rsplit('.').take(2).collect();
            match parts.as_slice() {
                [axis, "spin"] => format!("spin {axis}"),
                [name, ..] => name.replace('_', " "),
                [] => String::new(),
            }
        };
        list.iter().map(name).collect::<Vec<_>>().join(", ")
    };
    let mut parts = Vec::new();
    if !untold.is_empty() {
        parts.push(format!("not told: {}", names(&untold)));
    }
    if !told.is_empty() {
        parts.push(format!("told without a spread: {}", names(&told)));
    }
    format!(
        "Nothing is let go so exactly ({}): each distance is the wider of the two.",
        parts.join("; ")
    )
}

fn one_in(one: &Exceeded) -> String {
    Spoken::OneIn(one.one_in).to_string()
}

fn unknown(one: &Exceeded, show: Show) -> String {
    let least = one.interval[0].map_or(String::new(), |least| {
        format!("; it is at least {}", format(least, Dimension::Length, show))
    });
    let why = match one.how {
        How::Disagrees => "the search and the count disagree, so no distance is given",
        How::CutOff => "too many flights were cut off before they came down to tell",
        _ => "too few flights to tell",
    };
    format!("{why}{least}")
}

fn reaches(found: &Exclusion, show: Show) -> comfy_table::Table {
    let levels = found.reaches[0].exceeded.iter().map(one_in);
    let headings: Vec<String> =
        std::iter::once("beyond which goes".to_owned()).chain(levels).collect();
    let mut rows = table(headings);
    for reach in &found.reaches {
        let cells = reach.exceeded.iter().map(|one| cell(one, show));
        let row: Vec<String> =
            std::iter::once(reach.measure.words().to_owned()).chain(cells).collect();
        rows.add_row(row);
        let told = found.as_told.as_ref().and_then(|told| told.reach(reach.measure));
        if let Some(told) = told {
            let cells = told.exceeded.iter().map(|one| cell(one, show));
            rows.add_row(std::iter::once("  exactly as written".to_owned()).chain(cells));
        }
    }
    rows
}

fn cell(one: &Exceeded, show: Show) -> String {
    let say = |value: f64| format(value, Dimension::Length, show);
    let mark = match one.how {
        How::Searched => " *",
        How::End => " **",
        How::Counted | How::TooFew | How::Disagrees | How::CutOff => "",
    };
    match (one.distance, one.interval) {
        (Some(distance), _) if distance < 0.0 => "none".to_owned(),
        (Some(distance), [Some(low), Some(high)]) => {
            format!("{}{mark}\n({} to {})", say(distance), say(low.max(0.0)), say(high))
        }
        (Some(distance), _) => format!("{}{mark}", say(distance)),
        (None, [Some(least), _]) => format!("at least {}", say(least)),
        (None, _) => "not known".to_owned(),
    }
}

fn notes(found: &Exclusion, show: Show) -> Vec<String> {
    let end = if found.followed { "comes to rest" } else { "first touches the ground" };
    let mut lines = vec![format!(
        "Where it {end}. From the point below the release to the far edge of the object ({} added to where its \
         centre is); in brackets 95 % intervals. `none`: all land on the other side.",
        format(found.edge, Dimension::Length, show)
    )];
    let is = |how: How| move |reach: &Reach| reach.exceeded.iter().any(|one| one.how == how);
    let searched = count(found.searched);
    if found.reaches.iter().any(is(How::Searched)) {
        lines.push(format!(
            "* searched for: eight independent climbs into the tail for each row, {searched} flights in \
             all, held against the count where both can tell."
        ));
    }
    if found.reaches.iter().any(is(How::End)) {
        lines.push("** the search met the end of what the scenario allows.".to_owned());
    }
    for (flights, what) in [
        (found.in_air, "still in the air when the clock ran out: counted as far as they came"),
        (found.failed, "that could not be flown to their end: counted as far as they came"),
    ] {
        if flights > 0 {
            lines.push(format!("{} flights {what}.", count(flights)));
        }
    }
    lines
}

fn at_the_ground(found: &Exclusion, show: Show) -> Vec<String> {
    let spread = |[low, middle, high]: [f64; 3], dimension| {
        let say = |value| format(value, dimension, show);
        format!("{} (90 % between {} and {})", say(middle), say(low), say(high))
    };
    let mut lines = vec![
        format!("speed {}", spread(found.speed, Dimension::Speed)),
        format!("energy {}", spread(found.energy, Dimension::Energy)),
    ];
    for threshold in thresholds() {
        lines.push(format!(
            "{} of landings carry {} or more: {} ({}; {})",
            Spoken::near(found.share_above(threshold.value).estimate),
            format(threshold.value, Dimension::Energy, show),
            threshold.meaning,
            threshold.source,
            threshold.mark.words(),
        ));
    }
    if let Some(([x, y], chance)) = densest(found) {
        let say = |value: f64| format(value, Dimension::Length, show);
        let (way, hand) = (
            if x < 0.0 { "backwards" } else { "downrange" },
            if y < 0.0 { "to the right" } else { "to the left" },
        );
        lines.push(format!(
            "thickest {} {way} and {} {hand}: a person standing there is in the way of {} \
             (0.58 m2 for a person: DDESB TP-12, read second-hand; what flies low over the \
             ground passes through more than it lands on)",
            say(x.abs()),
            say(y.abs()),
            Spoken::near(chance),
        ));
    }
    lines
}

/// The middle of the densest square and the chance of a person there to be
/// struck.
fn densest(found: &Exclusion) -> Option<([f64; 2], f64)> {
    let (corner, side, density) = found.thickest()?;
    let middle = corner.map(|at| at + side / 2.0);
    let chance = energy::strike_chance(density, energy::PERSON_AREA);
    // No surer than so many landings can bear out.
    let most = Proportion::printed(found.density.flights, found.density.flights, LEVEL).low;
    Some((middle, chance.min(most)))
}

fn as_json(found: &Exclusion, show: Show) -> Value {
    let share = |p: &Proportion| json!({ "probability": p.estimate, "low": p.low, "high": p.high, "count": p.k, "flights": p.n });
    let exceeded = |one: &Exceeded| {
        json!({
            "one_in": one.one_in,
            "distance": one.distance,
            "low": one.interval[0],
            "high": one.interval[1],
            "how": match one.how {
                How::Counted => "counted",
                How::Searched => "searched",
                How::End => "end of what there is",
                How::TooFew => "too few flights",
                How::Disagrees => "search and count disagree",
                How::CutOff => "cut off before they came down",
            },
        })
    };
    let reach = |reach: &Reach| {
        json!({
            "direction": reach.measure.words(),
            "farthest": reach.farthest,
            "at_most_beyond_farthest": reach.beyond,
            "exceeded": reach.exceeded.iter().map(exceeded).collect::<Vec<_>>(),
        })
    };
    let cells: Vec<Value> = found
        .density
        .cells
        .iter()
        .map(|cell| {
            json!({
                "x": cell.corner[0],
                "y": cell.corner[1],
                "flights": cell.flights,
                "per_square_metre": found.density.per_square_metre(cell),
            })
        })
        .collect();
    let above: Vec<Value> = thresholds()
        .map(|threshold| {
            json!({
                "name": threshold.name,
                "energy": threshold.value,
                "meaning": threshold.meaning,
                "population": threshold.population,
                "source": threshold.source,
                "mark": threshold.mark.words(),
                "share": share(&found.share_above(threshold.value)),
            })
        })
        .collect();
    let three = |[low, middle, high]: [f64; 3]| json!({ "p5": low, "median": middle, "p95": high });
    json!({
        "kind": Kind::Exclusion,
        "version": VERSION,
        "chart": { "show": show, "found": found },
        "partial": found.partial,
        "loose": share(&found.loose),
        "from": found.centre,
        "edge_added": found.edge,
        "reaches": found.reaches.iter().map(reach).collect::<Vec<_>>(),
        "not_exact": found.opened,
        "as_told": found.as_told.as_ref().map(|told| json!({
            "reaches": told.reaches.iter().map(reach).collect::<Vec<_>>(),
            "speed": three(told.speed),
            "energy": three(told.energy),
        })),
        "searched_flights": found.searched,
        "in_air": found.in_air,
        "failed": found.failed,
        "speed": three(found.speed),
        "energy": three(found.energy),
        "landings_above": above,
        "density": { "side": found.density.side, "cells": cells },
        "person_struck_at_thickest": densest(found).map(|(_, chance)| chance),
        "followed_to_rest": found.followed,
        "not_in_it": left_out(found.followed),
        "cautions": cautions(),
    })
}
