//! `longodds sweep`: what would have to be true.

use crate::{
    failure::Failure,
    files,
    knob::{self, Range},
    paste,
    plain::{bar, table},
    progress::Bar,
    rigging, typed,
    what_if::{self, FLIGHTS, Sets},
};
use longodds_reports::{Frame, Picture, chart};
use longodds_sim::{
    chain::Claim,
    engine::Progress,
    estimate::{Answer, Crossing, Proportion, RootSearch, Roots, Verdict},
    findings::{MapFindings, SweepFindings, Swept},
    quantity::{Show, format},
    scenario,
    sweep::{Knob, Line, LinePoint, Map, backwards, line, map, steps},
    words::{Spoken, count, interval},
};
use serde_json::json;
use std::{
    io::Write,
    path::{Path, PathBuf},
};

/// Tell how the chance of a claim changes as one or two inputs are moved, and
/// what they would have to be for it to be as likely as you say.
///
/// Every setting flies the same draws, so that differences between settings
/// are better known than the chances themselves.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  longodds sweep scenarios/shop_window.yaml air.wind.speed --from 10mph --to 60mph
  longodds sweep claim.yaml wind.speed --from 10mph --to 60mph --picture wind.svg
  longodds sweep claim.yaml wind --from 40mph --set gap='10 m'
  longodds sweep claim.yaml wind.speed --from 10mph --to 60mph --chance 1% --chance 50%
  longodds sweep claim.yaml --times object.mass,thickness --from 0.5 --to 3
  longodds sweep claim.yaml wind.speed --from 10mph --to 60mph --and mass --and-from 20lb --and-to 60lb

Names are those of `longodds check`; their ends will do where only one input has
them, and so do `gap`, `wind`, `speed`, `mass` and their like. Without --to it is
one setting; the ends may stand in either order.")]
pub(crate) struct Arguments {
    /// The scenario; `-` reads it from standard input.
    scenario: PathBuf,
    /// The input that is moved.
    #[arg(required_unless_present = "times", conflicts_with = "times")]
    input: Option<String>,
    /// Inputs that are multiplied by the same factor instead.
    #[arg(long, value_name = "INPUT", value_delimiter = ',')]
    times: Vec<String>,
    /// Where it starts, with its unit.
    #[arg(long, allow_hyphen_values = true)]
    from: String,
    /// Where it ends, with its unit; the one setting of --from if not given.
    #[arg(long, allow_hyphen_values = true, required_unless_present = "from")]
    to: Option<String>,
    /// A second input, for a map of both.
    #[arg(long = "and", value_name = "INPUT", requires_all = ["and_from", "and_to"], conflicts_with = "chance")]
    and: Option<String>,
    /// Where the second starts.
    #[arg(long, requires = "and", allow_hyphen_values = true)]
    and_from: Option<String>,
    /// Where the second ends.
    #[arg(long, requires = "and", allow_hyphen_values = true)]
    and_to: Option<String>,
    /// A chance, such as 1% or 50%: find the settings that give it.
    #[arg(long, value_parser = typed::share)]
    chance: Vec<f64>,
    /// How many settings; 15, or 7 each way for a map.
    #[arg(long, value_parser = clap::value_parser!(u32).range(2..=200))]
    steps: Option<u32>,
    /// Flights at each setting.
    #[arg(long, default_value_t = 10_000, value_parser = clap::value_parser!(u64).range(10..=100_000_000))]
    flights: u64,
    /// The seed of the random draws.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Draw the answer (`.svg` or `.png`): a curve with its band, or a map.
    #[arg(long)]
    picture: Option<PathBuf>,
    /// Print JSON, in SI units: `report --with` puts it on a page.
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    sets: Sets,
}

pub(crate) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    let changed = what_if::read(&arguments.scenario, &arguments.sets)?;
    let claim = Claim::ready(changed.scenario.clone(), arguments.seed);
    let range = range(arguments, &claim)?;
    let one = range.ends[0] >= range.ends[1];
    if one
        && (arguments.picture.is_some() || arguments.and.is_some() || !arguments.chance.is_empty())
    {
        return Err(Failure::usage("a curve, a map and a chance to be found need two ends")
            .help("add `--to` with a value other than that of `--from`"));
    }
    if !arguments.json
        && let Some(told) = changed.compared(arguments.seed, arguments.flights.min(FLIGHTS))?
    {
        told.say(out)?;
    }
    if let Some(second) = second(arguments, &claim)? {
        return on_a_map(arguments, &claim, [&range, &second], out);
    }
    if arguments.chance.is_empty() {
        along_a_line(arguments, &claim, &range, out)
    } else {
        turned_round(arguments, &claim, &range, out)
    }
}

fn range(arguments: &Arguments, claim: &Claim) -> Result<Range, Failure> {
    let inputs = &claim.scenario().inputs;
    let to = arguments.to.as_deref().unwrap_or(&arguments.from);
    let ends = [arguments.from.as_str(), to];
    match &arguments.input {
        Some(name) => knob::value(inputs, name, ends),
        None => knob::times(inputs, &arguments.times, ends),
    }
}

fn second(arguments: &Arguments, claim: &Claim) -> Result<Option<Range>, Failure> {
    let inputs = &claim.scenario().inputs;
    match (&arguments.and, &arguments.and_from, &arguments.and_to) {
        (Some(name), Some(from), Some(to)) => knob::value(inputs, name, [from, to]).map(Some),
        _ => Ok(None),
    }
}

fn along_a_line(
    arguments: &Arguments,
    claim: &Claim,
    range: &Range,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let [low, high] = range.ends;
    let values = match low < high {
        true => steps(low, high, arguments.steps.unwrap_or(15)),
        false => vec![low],
    };
    let bar = Bar::new(values.len() as u64 * arguments.flights, "flights");
    let found = line(claim, &range.knob, &values, arguments.seed, arguments.flights, &bar);
    drop(bar);
    if found.points.is_empty() {
        return Err(Failure::STOPPED);
    }
    let partial = found.points.len() < values.len();
    let record = SweepFindings::along(&found, values.len(), &range.moved, swept(arguments, claim));
    if arguments.json {
        writeln!(out, "{:#}", json!(record))?;
    } else {
        if partial {
            writeln!(
                out,
                "Stopped early, after {} of {} settings: the others are not known.",
                found.points.len(),
                values.len()
            )?;
        }
        told(claim, range, &found, out)?;
    }
    draw(arguments, || chart::sweep(&record, Frame::page()), out)?;
    Failure::if_stopped(partial)?;
    let best = found.points.iter().max_by_key(|point| point.chances.claim().k);
    match best {
        Some(best) if !arguments.json => go_on(arguments, range, claim, best.value, out),
        _ => Ok(()),
    }
}

/// The next command: the claim as it is at one setting.
fn go_on(
    arguments: &Arguments,
    range: &Range,
    claim: &Claim,
    value: f64,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let name = files::typed(&arguments.scenario);
    let said = format(value, range.dimension(), claim.scenario().show);
    let mut sets = arguments.sets.set.clone();
    if let Knob::Value(_) = range.knob {
        let own = format!("{}={said}", range.name());
        let text = &claim.scenario().text;
        let folder = arguments.scenario.parent().unwrap_or(Path::new(""));
        let key = |set: &String| {
            let put = scenario::patched(text, folder, std::slice::from_ref(set)).ok()?.put;
            put.first().map(|put| put.path.clone())
        };
        if let Some(swept) = key(&own) {
            // It takes the place of what was set there before.
            sets.retain(|set| key(set).as_ref() != Some(&swept));
            sets.push(own);
        }
    }
    writeln!(out, "{}", paste::next(["run", &name].into_iter().chain(paste::sets(&sets))))?;
    Ok(())
}

/// What a record of this command is about.
fn swept(arguments: &Arguments, claim: &Claim) -> Swept {
    Swept {
        scenario_name: files::name(&arguments.scenario),
        show: claim.scenario().show,
        seed: arguments.seed,
        flights: arguments.flights,
    }
}

fn draw(
    arguments: &Arguments,
    picture: impl Fn() -> Picture,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    match &arguments.picture {
        Some(path) => rigging::write_picture_beside(path, &picture(), arguments.json, out),
        None => Ok(()),
    }
}

fn told(claim: &Claim, range: &Range, found: &Line, out: &mut dyn Write) -> Result<(), Failure> {
    let show = claim.scenario().show;
    let say = |value: f64| format(value, range.dimension(), show);
    let chance = |p: &Proportion| in_words(p);
    let held = |point: &LinePoint| point.chances.claim().k;
    let always = found.points.iter().all(|point| held(point) == found.flights);
    let (first, last) = (&found.points[0], &found.points[found.points.len() - 1]);
    let (name, from, to) = (range.name(), say(first.value), say(last.value));
    if found.points.len() == 1 {
        writeln!(
            out,
            "With `{name}` at {from} the claim holds {}.",
            chance(&first.chances.claim())
        )?;
    } else if always {
        writeln!(out, "Whatever `{name}` is from {from} to {to}, the claim holds every time.")?;
    } else {
        let [low, high] = [first, last].map(|point| chance(&point.chances.claim()));
        writeln!(out, "With `{name}` at {from} the claim holds {low}; at {to}, {high}.")?;
    }
    let best = found.points.iter().max_by_key(|point| held(point));
    let several = found.points.len() > 1;
    if let Some(best) = best.filter(|_| several && !always) {
        if held(best) > 0 {
            let (at, most) = (say(best.value), chance(&best.chances.claim()));
            writeln!(out, "The most is {most}, at {at}.")?;
        } else {
            let flights = count(found.flights);
            writeln!(out, "Nothing from {from} to {to} made it hold in {flights} flights.")?;
        }
    }
    let most = found.points.iter().map(|point| point.chances.claim().estimate);
    let full = round_share(most.fold(0.0, f64::max));
    let scale = format!("0 to {}", Spoken::near(full).set());
    let mut rows = table([range.name(), "chance", "95 % interval", &scale]);
    for point in &found.points {
        let p = point.chances.claim();
        rows.add_row([
            say(point.value),
            chance(&p),
            interval(p.low, p.high).to_string(),
            bar(p.estimate / full, 20),
        ]);
    }
    writeln!(out, "\n{rows}")?;
    writeln!(out, "\n{} flights at each setting, the same draws.", count(found.flights))?;
    cut_off(found.points.iter().map(|point| point.chances.claim()), out)
}

/// The share at the end of a full bar: the next of 1, 2 and 5 times a power of
/// ten that holds the largest; 1 if nothing does.
fn round_share(largest: f64) -> f64 {
    let steps =
        (0..9).rev().flat_map(|power| [1.0, 2.0, 5.0].map(|step| step / 10_f64.powi(power)));
    let holds = |step: &f64| largest > 0.0 && *step >= largest;
    steps.into_iter().find(holds).unwrap_or(1.0).min(1.0)
}

/// Says how many flights nobody saw the end of, where there are any.
fn cut_off(chances: impl Iterator<Item = Proportion>, out: &mut dyn Write) -> Result<(), Failure> {
    let most = chances.max_by_key(|chance| chance.open).filter(|chance| chance.open > 0);
    if let Some(Proportion { open, n, .. }) = most {
        writeln!(
            out,
            "Up to {} of the {} flights at a setting were cut off before their fate was known: all \
             of them may have held, or none; the intervals leave room for both.",
            count(open),
            count(n)
        )?;
    }
    Ok(())
}

fn in_words(p: &Proportion) -> String {
    match p.k {
        0 if p.open > 0 => format!("at most {}", Spoken::at_most(p.high)),
        0 => format!("never in {}", count(p.n)),
        k if k == p.n => "every time".to_owned(),
        _ => Spoken::inside(p.estimate, p.low, p.high).to_string(),
    }
}

fn on_a_map(
    arguments: &Arguments,
    claim: &Claim,
    [range, second]: [&Range; 2],
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let each = arguments.steps.unwrap_or(7);
    let across = steps(range.ends[0], range.ends[1], each);
    let up = steps(second.ends[0], second.ends[1], each);
    let bar = Bar::new((across.len() * up.len()) as u64 * arguments.flights, "flights");
    let knobs = [&range.knob, &second.knob];
    let found = map(claim, knobs, [&across, &up], arguments.seed, arguments.flights, &bar);
    drop(bar);
    let found = found.ok_or(Failure::STOPPED)?;
    let sides = [&range.moved, &second.moved];
    let record = MapFindings::new(&found, sides, swept(arguments, claim));
    if arguments.json {
        writeln!(out, "{:#}", json!(record))?;
    } else {
        writeln!(
            out,
            "Chance of the claim; across: `{}`, down: `{}`.\n",
            range.name(),
            second.name()
        )?;
        writeln!(out, "{}", grid(&found, [range, second], claim.scenario().show))?;
        writeln!(out, "\n{} flights at each setting, the same draws.", count(found.flights))?;
        cut_off(found.chances.iter().copied(), out)?;
    }
    draw(arguments, || chart::map(&record, Frame::page()), out)
}

fn grid(found: &Map, [range, second]: [&Range; 2], show: Show) -> String {
    let head = found.across.iter().map(|value| format(*value, range.dimension(), show));
    let mut rows = table(std::iter::once(String::new()).chain(head));
    let width = found.across.len();
    for (value, row) in found.up.iter().zip(found.chances.chunks(width)).rev() {
        let name = format(*value, second.dimension(), show);
        rows.add_row(std::iter::once(name).chain(row.iter().map(in_words)));
    }
    rows.to_string()
}

fn turned_round(
    arguments: &Arguments,
    claim: &Claim,
    range: &Range,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let asked = RootSearch {
        targets: arguments.chance.clone(),
        flights: arguments.flights,
        ..RootSearch::new(range.ends[0], range.ends[1])
    };
    // The settings of the search: the first look, the peaks, and the halvings.
    let settings = 20 + 20 * asked.targets.len() as u64;
    let bar = Bar::new(settings * arguments.flights, "flights at most");
    let found = backwards(claim, &range.knob, &asked, arguments.seed, &bar);
    let was_stopped = bar.stop();
    drop(bar);
    let found = found.filter(|_| !was_stopped).ok_or(Failure::STOPPED)?;
    let record = SweepFindings::backwards(&found, &range.moved, swept(arguments, claim));
    if arguments.json {
        writeln!(out, "{:#}", json!(record))?;
    } else {
        the_answers(arguments, claim, range, &found, out)?;
    }
    draw(arguments, || chart::sweep(&record, Frame::page()), out)
}

fn the_answers(
    arguments: &Arguments,
    claim: &Claim,
    range: &Range,
    found: &Roots,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    for answer in &found.answers {
        writeln!(out, "{}", answered(answer, range, claim.scenario().show))?;
    }
    writeln!(
        out,
        "\nFrom {} settings with {} flights each, the same draws; the ranges are 95 % intervals.",
        found.curve.len(),
        count(arguments.flights)
    )?;
    cut_off(found.curve.iter().map(|(_, chance)| *chance), out)
}

fn answered(answer: &Answer, range: &Range, show: Show) -> String {
    let say = |value: f64| format(value, range.dimension(), show);
    let wanted = Spoken::near(answer.target);
    match &answer.verdict {
        Verdict::Crossed(crossings) => {
            let all: Vec<String> = crossings.iter().map(|c| crossing(c, range, show)).collect();
            format!("For {wanted}, `{}` would have to be {}.", range.name(), all.join(", or "))
        }
        Verdict::NeverReached { setting, chance } => format!(
            "For {wanted}, nothing in this range does: the most is {}, with `{}` at {}.",
            in_words(chance),
            range.name(),
            say(*setting)
        ),
        Verdict::AlwaysExceeded { setting, chance } => format!(
            "For {wanted}, nothing in this range is low enough: the least is {}, with `{}` at {}.",
            in_words(chance),
            range.name(),
            say(*setting)
        ),
    }
}

fn crossing(found: &Crossing, range: &Range, show: Show) -> String {
    let say = |value: f64| format(value, range.dimension(), show);
    let side = if found.rising { "more makes it likelier" } else { "more makes it less likely" };
    let known = match (found.low, found.high) {
        (Some(low), Some(high)) => format!("between {} and {}", say(low), say(high)),
        (Some(low), None) => format!("at least {}", say(low)),
        (None, Some(high)) => format!("at most {}", say(high)),
        (None, None) => "anywhere in the range".to_owned(),
    };
    format!("{} ({known}; {side})", say(found.setting))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The longest bar is more than a third full, and 2 in 100 can be read.
    #[test]
    fn a_small_chance_fills_its_bar() {
        for largest in [1e-6, 0.004, 0.02, 0.021, 0.3, 0.51, 1.0] {
            let full = round_share(largest);
            assert!(largest <= full * (1.0 + 1e-12) && full <= 2.51 * largest, "{largest} {full}");
        }
        assert_eq!(bar(0.02 / round_share(0.02), 20), "#".repeat(20));
        assert_eq!(bar(0.0, 20), bar(0.0 / round_share(0.0), 20));
    }
}
