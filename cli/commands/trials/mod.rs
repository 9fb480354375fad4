//! `longodds trials`: how many shots, at what cost, and what they would say.

use crate::{
    failure::Failure,
    files,
    plain::{self, bar, hundred},
    rigging,
    typed::{self, Typed},
};
use longodds_reports::{
    Frame,
    chart::{self, PlanChart, PlanRow},
};
use longodds_sim::{
    findings::Findings,
    math,
    quantity::{Dimension, Show, format, significant},
    scenario::Gate,
    trials::{
        compare::Comparison,
        cost::{Bill, Cost, UsedUp},
        demonstration::{Demonstration, Statement, seen_at_least_once},
        sequential::Sequential,
        threshold::{Plan, Prior, imagine},
    },
};
use serde_json::json;
use std::{
    io::Write,
    path::{Path, PathBuf},
};

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
    Rare(Rare),
    /// Show that two arrangements differ.
    Compare(Compare),
    /// Find the speed at which half of the shots go through.
    Threshold(Threshold),
    /// Stop as soon as a low and a high chance are told apart.
    Sequential(SequentialPlan),
    /// What shots already shot would let one say.
    Say(Say),
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
    /// Draw the plan (`.svg` or `.png`); for `rare` and `compare`.
    #[arg(long)]
    picture: Option<PathBuf>,
    /// Print JSON.
    #[arg(long)]
    json: bool,
}

impl Costs {
    /// Draws a plan, if a picture is wanted.
    fn draw(&self, chart: &PlanChart, out: &mut dyn Write) -> Result<(), Failure> {
        match &self.picture {
            Some(path) => rigging::write_picture(path, &chart::trials(chart, Frame::page()), out),
            None => Ok(()),
        }
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

#[derive(Debug, clap::Args)]
struct Rare {
    /// The share of shots to show it is below.
    #[arg(long, value_parser = typed::share)]
    below: f64,
    /// Confidence.
    #[arg(long, value_parser = typed::share, default_value = "95 %")]
    confidence: f64,
    /// The chance per shot that is expected, to judge the plan by.
    #[arg(long, value_parser = typed::share, conflicts_with = "findings")]
    expect: Option<f64>,
    /// Take the expected chance from a run (`claim.findings.json`).
    #[arg(long)]
    findings: Option<PathBuf>,
    /// The gate of the run that the shots test; else the last before `harms`.
    #[arg(long)]
    gate: Option<String>,
    #[command(flatten)]
    costs: Costs,
}

#[derive(Debug, clap::Args)]
struct Compare {
    /// The chance of the event in each arrangement.
    #[arg(long, value_parser = typed::share, num_args = 2, required = true)]
    chances: Vec<f64>,
    /// Chance of seeing the difference.
    #[arg(long, value_parser = typed::share, default_value = "80 %")]
    power: f64,
    /// Chance of seeing one that is not there.
    #[arg(long, value_parser = typed::share, default_value = "5 %")]
    significance: f64,
    #[command(flatten)]
    costs: Costs,
}

#[derive(Debug, clap::Args)]
struct Threshold {
    /// The guessed speed at which half go through.
    #[arg(long, value_parser = typed::speed)]
    guess: Typed,
    /// Spread of it from target to target (relative standard deviation).
    #[arg(long, value_parser = typed::share, default_value = "15 %")]
    spread: f64,
    /// Shots.
    #[arg(long, default_value_t = 12, value_parser = clap::value_parser!(u32).range(2..=100))]
    shots: u32,
    /// How to choose the next speed.
    #[arg(long, value_enum, default_value_t = Way::UpAndDown)]
    plan: Way,
    #[command(flatten)]
    costs: Costs,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
enum Way {
    /// A step down after a hole, a step up after none.
    UpAndDown,
    /// Half way back to where holes and none balance.
    Langlie,
    /// Where the outcome tells the most.
    Informative,
}

#[derive(Debug, clap::Args)]
struct SequentialPlan {
    /// The chance per shot that means no.
    #[arg(long, value_parser = typed::share)]
    low: f64,
    /// The chance per shot that means yes.
    #[arg(long, value_parser = typed::share)]
    high: f64,
    /// Chance of saying high where it is low.
    #[arg(long, value_parser = typed::share, default_value = "5 %")]
    false_high: f64,
    /// Chance of saying low where it is high.
    #[arg(long, value_parser = typed::share, default_value = "10 %")]
    false_low: f64,
    /// Largest number of shots.
    #[arg(long, default_value_t = 60, value_parser = clap::value_parser!(u64).range(1..=5000))]
    largest: u64,
    #[command(flatten)]
    costs: Costs,
}

#[derive(Debug, clap::Args)]
struct Say {
    /// Shots shot.
    #[arg(long, value_parser = clap::value_parser!(u64).range(1..=1_000_000_000))]
    shots: u64,
    /// How many of them had the event.
    #[arg(long)]
    events: u64,
    /// What the event is.
    #[arg(long, default_value = "a perforation")]
    event: String,
    /// Print JSON.
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    match &arguments.kind {
        Kind::Rare(arguments) => rare(arguments, out),
        Kind::Compare(arguments) => compare(arguments, out),
        Kind::Threshold(arguments) => threshold(arguments, out),
        Kind::Sequential(arguments) => sequential(arguments, out),
        Kind::Say(arguments) => say(arguments, out),
    }
}

/// Reads a findings file.
pub(super) fn findings(path: &Path) -> Result<Findings, Failure> {
    let text = files::read_text(path, 64 << 20)?;
    let name = files::name(path);
    let findings: Findings = serde_json::from_str(&text).map_err(|error| {
        Failure::wrong(format!(
            "`{name}` is not a findings file (line {}, column {})",
            error.line(),
            error.column()
        ))
        .help("write one with `longodds run`")
    })?;
    if findings.version != longodds_sim::findings::VERSION {
        let message = format!(
            "`{name}` has layout {}, this program reads {}",
            findings.version,
            longodds_sim::findings::VERSION
        );
        return Err(Failure::wrong(message).help("run the scenario again"));
    }
    Ok(findings)
}

/// The gate of a name.
pub(super) fn gate(name: &str) -> Result<Gate, Failure> {
    serde_json::from_value(json!(name)).map_err(|_| {
        Failure::usage(format!("no gate is called `{name}`"))
            .help("released, reaches, strikes, attitude, perforates, harms")
    })
}

/// The chance that the plan starts from, and where it is from.
fn expected(arguments: &Rare) -> Result<(f64, String), Failure> {
    let Some(path) = &arguments.findings else {
        return Ok(match arguments.expect {
            Some(chance) => (chance, "as told".to_owned()),
            None => (0.2 * arguments.below, "a fifth of the limit, for want of better".to_owned()),
        });
    };
    let findings = findings(path)?;
    let wanted = match &arguments.gate {
        Some(name) => Some(gate(name)?),
        None => None,
    };
    let found = match wanted {
        Some(gate) => findings.gates.iter().find(|finding| finding.gate == gate),
        None => findings.gates.iter().rev().find(|finding| finding.gate != Gate::Harms),
    };
    let Some(found) = found else {
        return Err(Failure::wrong("the run's chain does not have that gate"));
    };
    let chance = found.given_before.probability.clamp(1e-9, 1.0 - 1e-9);
    Ok((chance, format!("the model's for \"{}\", given the gates before", found.meaning)))
}

fn rare(arguments: &Rare, out: &mut dyn Write) -> Result<(), Failure> {
    let cost = arguments.costs.cost()?;
    let (chance, source) = expected(arguments)?;
    let plans: Vec<Demonstration> = (0..=3)
        .map(|k| Demonstration::new(arguments.below, arguments.confidence, k, chance, &cost))
        .collect();
    let first = &plans[0];
    let statement = Statement::new(0, first.shots, "a perforation");
    if arguments.costs.json {
        let answer = json!({
            "expected": chance, "expected_from": source, "plans": plans, "statement": statement,
        });
        writeln!(out, "{answer:#}")?;
        return Ok(());
    }
    writeln!(
        out,
        "{} shots without a single event show, with {} confidence, that it happens in fewer than {} \
         of shots.\n",
        first.shots,
        hundred(arguments.confidence),
        hundred(arguments.below)
    )?;
    let mut table =
        plain::table(["events allowed", "shots", "chance the plan passes", "", "targets", "cost"]);
    for plan in &plans {
        table.add_row([
            plan.allowed.to_string(),
            plan.shots.to_string(),
            hundred(plan.passes),
            bar(plan.passes, 20),
            targets(&plan.bill),
            money(&plan.bill, &arguments.costs),
        ]);
    }
    writeln!(out, "{table}\nExpected chance per shot: {} ({source}).", hundred(chance))?;
    writeln!(
        out,
        "At that chance, {} shots show the event at least once in {} of tests.",
        first.shots,
        hundred(seen_at_least_once(chance, first.shots))
    )?;
    in_words(&statement, out)?;
    let row = |plan: &Demonstration| PlanRow {
        name: format!("{} shots, {} events", plan.shots, plan.allowed),
        chance: plan.passes,
        bill: arguments.costs.bill(&plan.bill),
    };
    let chart = PlanChart {
        title: format!(
            "{} shots without an event show that it is rarer than {}",
            first.shots,
            hundred(arguments.below)
        ),
        subtitle: format!(
            "Chance that each plan passes, if a shot has the event with {} ({source}). Confidence {}.",
            hundred(chance),
            hundred(arguments.confidence)
        ),
        rows: plans.iter().map(row).collect(),
        wanted: None,
    };
    arguments.costs.draw(&chart, out)
}

fn in_words(statement: &Statement, out: &mut dyn Write) -> Result<(), Failure> {
    writeln!(out, "\nWhat it would let one say: {}.", statement.says)?;
    writeln!(out, "What it would not: {}.", statement.does_not_say)?;
    Ok(())
}

fn targets(bill: &Bill) -> String {
    significant(bill.targets, 3)
}

fn money(bill: &Bill, costs: &Costs) -> String {
    if costs.priced() { significant(bill.money, 4) } else { String::new() }
}

fn compare(arguments: &Compare, out: &mut dyn Write) -> Result<(), Failure> {
    let cost = arguments.costs.cost()?;
    let [first, second] = arguments.chances[..] else {
        return Err(Failure::usage("two chances are needed"));
    };
    let chances = [first, second];
    let smallest = Comparison::smallest(chances, arguments.significance, arguments.power, &cost);
    let mut numbers = vec![5, 10, 15, 20, 30, 40];
    if let Some(found) = &smallest {
        numbers.push(found.shots_each);
    }
    numbers.sort_unstable();
    numbers.dedup();
    let plans: Vec<Comparison> = numbers
        .into_iter()
        .map(|n| Comparison::with(chances, arguments.significance, n, &cost))
        .collect();
    if arguments.costs.json {
        writeln!(out, "{:#}", json!({ "smallest": smallest, "plans": plans }))?;
        return Ok(());
    }
    match &smallest {
        Some(found) => writeln!(
            out,
            "{} shots of each arrangement tell {} from {} in {} of tests.\n",
            found.shots_each,
            hundred(first),
            hundred(second),
            hundred(found.power)
        )?,
        None => writeln!(out, "The two are too close: over 400 shots of each would not do.\n")?,
    }
    let mut table = plain::table(["shots of each", "seen in", "", "targets", "cost"]);
    for plan in &plans {
        table.add_row([
            plan.shots_each.to_string(),
            hundred(plan.power),
            bar(plan.power, 20),
            targets(&plan.bill),
            money(&plan.bill, &arguments.costs),
        ]);
    }
    writeln!(out, "{table}")?;
    writeln!(
        out,
        "Fisher's exact test, two-sided, at {}. No difference seen does not say that there is none.",
        hundred(arguments.significance)
    )?;
    let row = |plan: &Comparison| PlanRow {
        name: format!("{} of each", plan.shots_each),
        chance: plan.power,
        bill: arguments.costs.bill(&plan.bill),
    };
    let needed = smallest.map_or_else(|| "over 400".to_owned(), |plan| plan.shots_each.to_string());
    let chart = PlanChart {
        title: format!("{needed} shots of each tell {} from {}", hundred(first), hundred(second)),
        subtitle: "Chance of seeing the difference, by the number of shots of each.".to_owned(),
        rows: plans.iter().map(row).collect(),
        wanted: Some(arguments.power),
    };
    arguments.costs.draw(&chart, out)
}

fn threshold(arguments: &Threshold, out: &mut dyn Write) -> Result<(), Failure> {
    let cost = arguments.costs.cost()?;
    let guess = math::ln(arguments.guess.value);
    let prior = Prior::guess(guess, arguments.spread);
    let step = arguments.spread;
    let plan = match arguments.plan {
        Way::UpAndDown => Plan::UpAndDown { start: guess, step },
        Way::Langlie => Plan::Langlie { low: guess - 4.0 * step, high: guess + 4.0 * step },
        Way::Informative => Plan::Informative { prior },
    };
    let tests = if arguments.plan == Way::Informative { 30 } else { 200 };
    let mut numbers = vec![4, 6, 8, 12, 20, arguments.shots];
    numbers.sort_unstable();
    numbers.dedup();
    let results: Vec<_> = numbers
        .into_iter()
        .map(|n| imagine(&plan, &prior, n, tests, 1))
        .map(|result| (result, cost.bill(f64::from(result.shots), result.events)))
        .collect();
    if arguments.costs.json {
        let rows: Vec<_> = results
            .iter()
            .map(|(result, bill)| json!({ "imagined": result, "bill": bill }))
            .collect();
        writeln!(out, "{:#}", json!({ "plan": plan, "prior": prior, "results": rows }))?;
        return Ok(());
    }
    let show = typed::units_of(std::iter::once(&arguments.guess));
    let speed = |x: f64| format(math::exp(x), Dimension::Speed, show);
    writeln!(out, "First shot at {}; {}.\n", speed(plan.next(&[])), rule(&plan, show))?;
    let mut table = plain::table(["shots", "threshold known to", "", "holes", "targets", "cost"]);
    for (result, bill) in &results {
        table.add_row([
            result.shots.to_string(),
            format!("+- {}", hundred(result.half_width)),
            bar(result.half_width / (4.0 * arguments.spread), 20),
            significant(result.events, 2),
            targets(bill),
            money(bill, &arguments.costs),
        ]);
    }
    writeln!(out, "{table}")?;
    writeln!(
        out,
        "95 % intervals of the speed that half go through at, mean of {tests} imagined tests; the \
         guess is taken to be good to +- {} (two standard deviations).\nWith no hole at all the \
         test still gives a bound: the threshold lies above it.",
        hundred(4.0 * arguments.spread)
    )?;
    Ok(())
}

fn rule(plan: &Plan, show: Show) -> String {
    match plan {
        Plan::UpAndDown { start, step } => {
            let shown = |x: f64| format(math::exp(x), Dimension::Speed, show);
            format!(
                "after a hole one step slower, after none one step faster: {}, {}, {}, {}, {}",
                shown(start - 2.0 * step),
                shown(start - step),
                shown(*start),
                shown(start + step),
                shown(start + 2.0 * step)
            )
        }
        Plan::Langlie { .. } => "then half way back to where holes and none balance".to_owned(),
        Plan::Informative { .. } => "then where the outcome tells the most".to_owned(),
    }
}

fn sequential(arguments: &SequentialPlan, out: &mut dyn Write) -> Result<(), Failure> {
    let cost = arguments.costs.cost()?;
    let plan = Sequential::new(
        arguments.low,
        arguments.high,
        arguments.false_high,
        arguments.false_low,
        arguments.largest,
    )
    .ok_or_else(|| Failure::usage("`--low` must be below `--high`"))?;
    let (low, high) = (arguments.low, arguments.high);
    let chances = [0.5 * low, low, 0.5 * (low + high), high, 0.5 * (1.0 + high)];
    let courses: Vec<_> = chances.iter().map(|chance| plan.course(*chance, &cost)).collect();
    if arguments.costs.json {
        writeln!(out, "{:#}", json!({ "plan": plan, "courses": courses }))?;
        return Ok(());
    }
    writeln!(out, "After each shot look at the line; stop when one column is met.\n")?;
    let mut table = plain::table(["after shot", "say low at or below", "say high at or above"]);
    for n in (1..=arguments.largest.min(15)).chain([20, 30, 40, 60]) {
        if n > arguments.largest {
            break;
        }
        let lowest = (0..=n).take_while(|k| plan.says(*k, n) == Some(false)).last();
        let highest = (0..=n).find(|k| plan.says(*k, n) == Some(true));
        let shown = |k: Option<u64>| k.map_or_else(|| "shoot on".to_owned(), |k| k.to_string());
        table.add_row([n.to_string(), shown(lowest), shown(highest)]);
    }
    writeln!(out, "{table}\n")?;
    let mut table =
        plain::table(["if the chance is", "says high", "", "shots, expected", "cut off", "cost"]);
    for course in &courses {
        table.add_row([
            hundred(course.chance),
            hundred(1.0 - course.says_low),
            bar(1.0 - course.says_low, 20),
            significant(course.shots, 3),
            hundred(course.cut_off),
            money(&course.bill, &arguments.costs),
        ]);
    }
    writeln!(out, "{table}")?;
    writeln!(
        out,
        "Exact, with the test cut off at {} shots; there the nearer line decides.",
        arguments.largest
    )?;
    Ok(())
}

fn say(arguments: &Say, out: &mut dyn Write) -> Result<(), Failure> {
    if arguments.events > arguments.shots {
        return Err(Failure::usage("more events than shots"));
    }
    let statement = Statement::new(arguments.events, arguments.shots, &arguments.event);
    if arguments.json {
        writeln!(out, "{:#}", json!(statement))?;
        return Ok(());
    }
    writeln!(out, "What may be said: {}: {}.", statement.word, statement.says)?;
    writeln!(out, "What may not: {}.", statement.does_not_say)?;
    writeln!(
        out,
        "The next shot has it with a chance of {}; at least one of as many again with {}.",
        hundred(statement.next_shot),
        hundred(statement.as_many_again)
    )?;
    Ok(())
}
