//! `longodds check`: how a scenario is understood, before anything flies.

use crate::{failure::Failure, input, paste, plain::table, rigging};
use longodds_reports::{Frame, chart};
use longodds_sim::{
    answer::understood,
    findings::set_up,
    harm::Quantity,
    quantity::{Dimension, Show, format},
    scenario::{
        self, Barrier, Bounce, CarrierWake, Gate, Hardness, Input, Outline, Release, Scenario,
        Shed,
        parts::{Origin, Part},
    },
    text::Leaf,
};
use serde_json::{Value, json};
use std::{io::Write, path::PathBuf};

/// Say how a scenario is understood, or everything that is wrong with it.
///
/// Every number is listed as written and in the units of `show`, with the
/// values that 5, 50 and 95 % of events stay below. A varying number differs
/// from one event to the next; an unknown one is always the same, but not
/// known.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  longodds new claim.yaml\n  longodds check claim.yaml")]
pub(crate) struct Arguments {
    /// The scenario file; `-` reads standard input.
    scenario: PathBuf,
    /// Print JSON, in SI units.
    #[arg(long)]
    json: bool,
    /// Draw the set-up to scale (`.svg` or `.png`).
    #[arg(long)]
    picture: Option<PathBuf>,
    /// List every key that is written or could be, and what it means.
    #[arg(long, conflicts_with = "json")]
    keys: bool,
}

pub(crate) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    let scenario = input::scenario(&arguments.scenario)?;
    let drawn = |out: &mut dyn Write| match &arguments.picture {
        Some(path) => {
            let picture = chart::set_up(&set_up(&scenario), Frame::page());
            rigging::write_picture_beside(path, &picture, arguments.json, out)
        }
        None => Ok(()),
    };
    if arguments.json {
        writeln!(out, "{:#}", as_json(&scenario))?;
        return drawn(out);
    }
    if arguments.keys {
        let language = scenario::language();
        writeln!(out, "{}", keys_table(&scenario, &scenario.leaves(&language)))?;
        return drawn(out);
    }
    writeln!(out, "Claim: {}", scenario.claim)?;
    writeln!(out, "Understood: {}\n", understood(&scenario))?;
    let (written, assumed): (Vec<&Input>, Vec<&Input>) =
        scenario.inputs.list().iter().partition(|input| !input.assumed);
    let of_itself = |input: &Input| {
        scenario.inputs.find(&input.name).is_some_and(|id| scenario.is_of_itself(id))
    };
    writeln!(out, "{}\n", inputs_table(&scenario, &written))?;
    for part in &scenario.parts {
        writeln!(out, "{}\n", taken(part))?;
    }
    let assumed: Vec<String> = assumed
        .iter()
        .filter(|input| matters(input) && scenario.asks(input) && !of_itself(input))
        .map(|input| {
            let told =
                if input.unknown { input.written.clone() } else { middle(input, scenario.show) };
            format!("{} {told}", input.name)
        })
        .collect();
    if !assumed.is_empty() {
        writeln!(out, "Assumed, because not written: {}.\n", assumed.join(", "))?;
    }
    writeln!(out, "The claim holds if")?;
    for (number, gate) in scenario.chain.iter().enumerate() {
        writeln!(out, "  {}. {}", number + 1, meaning(&scenario, *gate))?;
    }
    sources(&scenario, out)?;
    let name = crate::files::name(&arguments.scenario);
    match scenario.warnings.len() {
        0 => writeln!(out, "\n{name}: no problems found")?,
        1 => writeln!(out, "\n{name}: one doubt, see above")?,
        n => writeln!(out, "\n{name}: {n} doubts, see above")?,
    }
    drawn(out)?;
    if !crate::files::is_stream(&arguments.scenario) {
        writeln!(out, "{}", paste::next(["run", &name]))?;
    }
    Ok(())
}

/// A zero that nobody wrote is no news.
fn matters(input: &Input) -> bool {
    !input.distribution.is_fixed() || input.distribution.quantile(0.5).abs() > 0.0
}

/// What a part is, and where its figures are from.
fn taken(part: &Part) -> String {
    let from = match &part.origin {
        Origin::Shelf => "from the shelf".to_owned(),
        Origin::Own { file, hides: false } => format!("your own, from {file}"),
        Origin::Own { file, hides: true } => {
            format!("your own, from {file}, in the place of the shelf's")
        }
    };
    let Part { side, name, about, source, kind, .. } = part;
    let (side, kind) = (side.key(), kind.words());
    format!("The {side} is like {name} ({from}): {about}.\nIts figures: {source} ({kind}).")
}

fn inputs_table(scenario: &Scenario, inputs: &[&Input]) -> String {
    let show = scenario.show;
    let other = match show {
        Show::Si => Show::Imperial,
        Show::Imperial => Show::Si,
    };
    let mut table = table(["input", "as written", "5 %", "50 %", "95 %", &in_words(other), ""]);
    for input in inputs {
        let at = |u: f64| format(input.distribution.quantile(u), input.dimension, show);
        let (low, high) = if input.distribution.is_fixed() {
            (String::new(), String::new())
        } else {
            (at(0.05), at(0.95))
        };
        let same = middle(input, other);
        table.add_row([
            input.name.as_str(),
            &input.written,
            &low,
            &at(0.5),
            &high,
            if same == at(0.5) { "" } else { &same },
            &kind(scenario, input),
        ]);
    }
    let text = table.to_string();
    text.lines().map(str::trim_end).collect::<Vec<_>>().join("\n")
}

/// Every key that is written, as it is, or could be.
fn keys_table(scenario: &Scenario, leaves: &[Leaf<'_>]) -> String {
    let mut table = table(["key", "as written", "what it means"]);
    for leaf in leaves {
        let written = leaf.place.clone().map_or("", |place| &scenario.text[place]);
        let mut line = written.split_whitespace().collect::<Vec<_>>().join(" ");
        if let Some(value) = &leaf.of_part {
            line = value.split_whitespace().collect::<Vec<_>>().join(" ") + " (of the part)";
        }
        table.add_row([&leaf.path, &line, &leaf.row.described()]);
    }
    let text = table.to_string();
    text.lines().map(str::trim_end).collect::<Vec<_>>().join("\n")
}

fn in_words(show: Show) -> String {
    match show {
        Show::Si => "50 % in SI".to_owned(),
        Show::Imperial => "50 % in imperial".to_owned(),
    }
}

fn middle(input: &Input, show: Show) -> String {
    format(input.distribution.quantile(0.5), input.dimension, show)
}

fn kind(scenario: &Scenario, input: &Input) -> String {
    let kind = match (input.distribution.is_fixed(), input.unknown) {
        (true, _) => "",
        (false, true) => "unknown",
        (false, false) => "varying",
    };
    let part = scenario.part_of(input).map(|part| format!("from {}", part.name));
    let words: Vec<&str> =
        [Some(kind), part.as_deref()].into_iter().flatten().filter(|it| !it.is_empty()).collect();
    words.join(", ")
}

/// What a gate asks for in this scenario.
fn meaning(scenario: &Scenario, gate: Gate) -> String {
    let shape = scenario.object.shape.noun();
    let aimed: Vec<&str> =
        scenario.target.faces.iter().filter(|face| face.aim).map(|face| &*face.name).collect();
    let faces = aimed.join(" or ");
    let shown = |id, dimension: Dimension| {
        format(scenario.inputs.get(id).distribution.quantile(0.5), dimension, scenario.show)
    };
    match gate {
        Gate::Released => match &scenario.release {
            Release::Blown(blown) if blown.held.is_some() => {
                format!("released: the wind beats what holds the {shape} down")
            }
            Release::Shed(Shed { secured: Some(secured), .. }) => {
                let air = if secured.lift.is_some() { ", or the air lifts it" } else { "" };
                format!("released: the {shape} slides off its carrier{air}")
            }
            _ => format!("released: the {shape} starts to move"),
        },
        Gate::Reaches => format!("reaches: it comes as far as the plane of {faces}"),
        Gate::Strikes => {
            let size =
                scenario.target.faces.iter().find(|face| face.aim).map(|face| match face.outline {
                    Outline::Rectangle { width, height } => format!(
                        " ({} by {})",
                        shown(width, Dimension::Length),
                        shown(height, Dimension::Length)
                    ),
                    Outline::Disc { diameter } => {
                        format!(" ({} across)", shown(diameter, Dimension::Length))
                    }
                });
            let size = size.unwrap_or_default();
            let target = &scenario.target;
            if !scenario.bounces() {
                format!("strikes: the first thing it touches is {faces}{size}")
            } else if target.direct {
                format!("strikes: it touches {faces}{size} before it bounces off anything")
            } else {
                format!("strikes: it touches {faces}{size}, bounced or not")
            }
        }
        Gate::Attitude => scenario.target.attitude.map_or_else(String::new, |demand| {
            let axis = ["length", "width", "thickness"][demand.axis.min(2)];
            let within = shown(demand.within, Dimension::Angle);
            format!("attitude: its {axis} is within {within} of square to the face")
        }),
        Gate::Perforates => format!("perforates: it goes through {faces}"),
        Gate::Harms => {
            let what = if scenario.harm.quantity == Quantity::Energy {
                format!("carries {} or more", shown(scenario.harm.threshold, Dimension::Energy))
            } else {
                format!("reaches {}", scenario.harm.name.replace('_', " "))
            };
            let occupants = scenario.target.faces.iter().filter(|face| face.occupant);
            let names: Vec<&str> = occupants.map(|face| face.name.as_str()).collect();
            if names.is_empty() {
                format!("harms: what arrives behind {what}")
            } else {
                format!("harms: what comes on {} {what}", names.join(" or "))
            }
        }
    }
}

/// Where the numbers that nobody told come from.
fn sources(scenario: &Scenario, out: &mut dyn Write) -> Result<(), Failure> {
    for face in &scenario.target.faces {
        if let Some(barrier) = &face.barrier {
            let name = match barrier.source.contains(barrier.name.as_str()) {
                true => String::new(),
                false => format!("{}: ", barrier.name),
            };
            writeln!(out, "\nBarrier of {}: {name}{}.", face.name, barrier.source)?;
            writeln!(out, "Holds for: {}.", barrier.valid)?;
            writeln!(out, "{}", against(barrier))?;
            if let Some(contact) = barrier.contact {
                let contact = format(contact, Dimension::Length, scenario.show);
                writeln!(out, "Contact: {contact} across; half or twice that is another blow.")?;
            }
        }
    }
    surfaces(scenario, out)?;
    if let Release::Shed(Shed { wake: Some(told), .. }) = &scenario.release {
        wake(scenario, told, out)?;
    }
    if scenario.chain.contains(&Gate::Harms) {
        writeln!(out, "\nHarm: {}.", scenario.harm.source)?;
    }
    Ok(())
}

/// What strikes, against what the barrier was tested with.
fn against(barrier: &Barrier) -> String {
    let (object, tested) = (barrier.object.stuff, barrier.tested.stuff.name);
    let told = if barrier.object.told { "" } else { " (assumed: `made_of` is not told)" };
    let so = match barrier.hardness() {
        Hardness::Same => "as in its test".to_owned(),
        Hardness::Softer => {
            format!("softer than in its test ({tested}): a chance is at most what is shown")
        }
        Hardness::Harder => format!(
            "not surely as soft as in its test ({tested}): its figure is no bound, and each blow is counted as beyond it"
        ),
    };
    format!("What strikes: {}{told}, {so}.", object.name)
}

/// The air that the carrier drags along.
fn wake(scenario: &Scenario, told: &CarrierWake, out: &mut dyn Write) -> Result<(), Failure> {
    let input = |id| scenario.inputs.get(id);
    let doubt = |id| {
        let it = input(id);
        let kind = if it.assumed { " (assumed)" } else { "" };
        format!("{}{kind}", it.written)
    };
    writeln!(
        out,
        "\nWake of the carrier: it trails from a tail {} behind the release, and the carrier goes \
         on as fast as it was. Dead air, in heights of the carrier: {}. Strength of the whole, \
         times the published wake: {}.",
        middle(input(told.tail), scenario.show),
        doubt(told.dead_air),
        doubt(told.strength),
    )?;
    Ok(())
}

/// What throws back, and what ends a flight.
fn surfaces(scenario: &Scenario, out: &mut dyn Write) -> Result<(), Failure> {
    if !scenario.bounces() {
        return Ok(());
    }
    let faces = scenario.target.faces.iter().map(|face| (face.name.as_str(), &face.bounce));
    let solids = scenario.target.solids.iter().map(|solid| (solid.name.as_str(), &solid.bounce));
    let shown = |bounce: &Bounce| {
        let at = |id, u: f64| {
            let input = scenario.inputs.get(id);
            format(input.distribution.quantile(u), Dimension::Number, scenario.show)
        };
        let range = |id| match (at(id, 0.05), at(id, 0.95)) {
            (low, high) if low == high => low,
            (low, high) => format!("{low} to {high}"),
        };
        format!(
            "restitution {}, friction {}, rolling {}",
            range(bounce.restitution),
            range(bounce.friction),
            range(bounce.rolling)
        )
    };
    for (name, bounce) in std::iter::once(("ground", &scenario.ground)).chain(faces).chain(solids) {
        match bounce {
            Some(bounce) if bounce.source.is_empty() => {
                writeln!(out, "\nBounces off {name}: {} (as told).", shown(bounce))?;
            }
            Some(bounce) => {
                let (figures, source) = (shown(bounce), &bounce.source);
                writeln!(out, "\nBounces off {name} ({}): {figures}: {source}.", bounce.name)?;
            }
            None => writeln!(out, "\nA flight ends where it touches the {name}.")?,
        }
    }
    Ok(())
}

fn as_json(scenario: &Scenario) -> Value {
    let language = scenario::language();
    let leaves = scenario.leaves(&language);
    let inputs: Vec<Value> = scenario
        .inputs
        .list()
        .iter()
        .filter(|input| scenario.asks(input))
        .map(|input| {
            let at = |u| input.distribution.quantile(u);
            let leaf = leaves.iter().find(|leaf| leaf.path == input.name);
            let place = leaf.and_then(|leaf| leaf.place.clone());
            json!({
                "name": input.name,
                "dimension": input.dimension.name(),
                "written": input.written,
                "quantiles": [at(0.05), at(0.5), at(0.95)],
                "fixed": input.distribution.is_fixed(),
                "unknown": input.unknown,
                "assumed": input.assumed,
                "meaning": leaf.map(|leaf| leaf.row.doc),
                "bounds": leaf.and_then(|leaf| leaf.kind.what()).map(|what| what.bounds()),
                "at": place.map(|place| [place.start, place.end]),
                "part": scenario.part_of(input).map(|part| &part.name),
            })
        })
        .collect();
    let gates: Vec<Value> = scenario
        .chain
        .iter()
        .map(|gate| json!({ "gate": gate, "meaning": meaning(scenario, *gate) }))
        .collect();
    let warnings: Vec<Value> = scenario
        .warnings
        .iter()
        .map(|warning| {
            json!({
                "code": warning.code,
                "message": warning.message,
                "found": warning.label.as_ref().map(|(_, found)| found),
                "at": warning.label.as_ref().map(|(span, _)| [span.start, span.end]),
                "in": warning.elsewhere.as_ref().map(|text| &text.name),
                "help": warning.help,
            })
        })
        .collect();
    let parts: Vec<Value> = scenario
        .parts
        .iter()
        .map(|part| {
            json!({
                "side": part.side.key(),
                "name": part.name,
                "about": part.about,
                "source": part.source,
                "kind": part.kind.words(),
                "text": part.file(),
            })
        })
        .collect();
    json!({
        "claim": scenario.claim,
        "show": scenario.show,
        "inputs": inputs,
        "parts": parts,
        "chain": gates,
        "warnings": warnings,
    })
}
