//! `longodds trials`: how many shots, at what cost, and what they would say.

mod compare;
mod rare;
mod say;
mod sequential;
mod threshold;

use crate::{failure::Failure, files, paste, rigging};
use longodds_reports::{
    Frame,
    chart::{self, PlanChart},
};
use longodds_sim::{
    findings::{Kind as Record, VERSION},
    quantity::significant,
    scenario::Gate,
    trials::cost::{Bill, Cost, UsedUp},
};
use serde_json::{Value, json};
use std::{io::Write, path::PathBuf};

/// Plan a test: how many shots, at what cost, and what they would let one say.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  longodds trials rare --below '10 %' --target-cost 40
  longodds trials compare --chances '10 %' '50 %'
  longodds trials threshold --guess '45 mph' --spread '15 %' --shots 12
  longodds trials sequential --low '10 %' --high '30 %'
  longodds trials say --shots 8 --events 0")]
pub(crate) struct Arguments {
    #[command(subcommand)]
    kind: Kind,
}

#[derive(Debug, clap::Subcommand)]
enum Kind {
    /// Show that something happens in fewer than so many shots.
    Rare(rare::Arguments),
    /// Show that two arrangements differ.
    Compare(compare::Arguments),
    /// Find the speed at which half of the shots go through.
    Threshold(threshold::Arguments),
    /// Stop as soon as a low and a high chance are told apart.
    Sequential(sequential::Arguments),
    /// What shots already shot would let one say.
    Say(say::Arguments),
}

/// What shots and targets cost.
#[derive(Debug, clap::Args)]
struct Costs {
    /// Cost of a shot without its target, in your own money.
    #[arg(long, default_value_t = 0.0)]
    shot_cost: f64,
    /// Cost of a target (a pane, a panel).
    #[arg(long, default_value_t = 0.0)]
    target_cost: f64,
    /// A target is used up only when the event happens.
    #[arg(long)]
    target_survives: bool,
    /// The rig that shoots them: the answer then ends with the command of its sheet.
    #[arg(long, value_name = "FILE")]
    rig: Option<PathBuf>,
    /// Draw the plan (`.svg` or `.png`).
    #[arg(long)]
    picture: Option<PathBuf>,
    /// Print JSON: `report --with` puts it on a page.
    #[arg(long)]
    json: bool,
}

/// What a plan asks of the rig.
struct Planned<'p> {
    /// Shots.
    shots: u64,
    /// A speed to begin with, as it was typed.
    speed: Option<&'p str>,
}

impl Costs {
    /// Prints the answer as JSON, if that is wanted, with the plan as it is
    /// drawn; else writes it. Draws it, if a picture is wanted.
    fn answer(
        &self,
        chart: &PlanChart,
        mut answer: Value,
        write: impl FnOnce(&mut dyn Write) -> Result<(), Failure>,
        planned: &Planned<'_>,
        out: &mut dyn Write,
    ) -> Result<(), Failure> {
        if self.json {
            answer["kind"] = json!(Record::Plan);
            answer["version"] = json!(VERSION);
            answer["chart"] = json!(chart);
            writeln!(out, "{answer:#}")?;
        } else {
            write(out)?;
        }
        if let Some(path) = &self.picture {
            let picture = chart::trials(chart, Frame::page());
            rigging::write_picture_beside(path, &picture, self.json, out)?;
        }
        if !self.json {
            writeln!(out, "{}", self.go_on(planned))?;
        }
        Ok(())
    }

    /// The next command: the rig's sheet for these shots, or what they would let one say.
    fn go_on(&self, planned: &Planned<'_>) -> String {
        let shots = planned.shots.to_string();
        let Some(rig) = &self.rig else {
            return paste::next(["trials", "say", "--shots", &shots, "--events", "0"]);
        };
        let rig = files::typed(rig);
        let speed = planned.speed.iter().flat_map(|speed| ["--speed", *speed]);
        let words = ["rig", &rig].into_iter().chain(speed);
        // A sheet has room for 50 shots of a setting.
        let each = planned.shots.min(50).to_string();
        paste::next(words.chain(["--repeat", &each, "--sheet", "day.html"]))
    }

    /// Targets and money in words.
    fn bill(&self, bill: &Bill) -> String {
        if self.priced() {
            format!("{} targets, cost {}", targets(bill), money(bill, self))
        } else {
            format!("{} targets", targets(bill))
        }
    }

    fn cost(&self) -> Result<Cost, Failure> {
        let sound = |money: f64| money.is_finite() && money >= 0.0;
        if !(sound(self.shot_cost) && sound(self.target_cost)) {
            return Err(Failure::usage("costs must not be negative"));
        }
        let used_up = if self.target_survives { UsedUp::EveryEvent } else { UsedUp::EveryShot };
        Ok(Cost { shot: self.shot_cost, target: self.target_cost, used_up })
    }

    fn priced(&self) -> bool {
        self.shot_cost + self.target_cost > 0.0
    }
}

pub(crate) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    match &arguments.kind {
        Kind::Rare(arguments) => rare::run(arguments, out),
        Kind::Compare(arguments) => compare::run(arguments, out),
        Kind::Threshold(arguments) => threshold::run(arguments, out),
        Kind::Sequential(arguments) => sequential::run(arguments, out),
        Kind::Say(arguments) => say::run(arguments, out),
    }
}

/// The gate of a name.
pub(super) fn gate(name: &str) -> Result<Gate, Failure> {
    serde_json::from_value(json!(name)).map_err(|_| {
        Failure::usage(format!("no gate is called `{name}`"))
            .help("released, reaches, strikes, attitude, perforates, harms")
    })
}

fn targets(bill: &Bill) -> String {
    significant(bill.targets, 3)
}

fn money(bill: &Bill, costs: &Costs) -> String {
    if costs.priced() { significant(bill.money, 4) } else { String::new() }
}
