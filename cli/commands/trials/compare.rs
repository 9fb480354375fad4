//! Shots to tell two arrangements apart.

use super::{Costs, Planned, money, targets};
use crate::{
    failure::Failure,
    plain::{self, bar, percent},
    typed,
};
use longodds_reports::chart::{PlanChart, PlanRow};
use longodds_sim::{trials::compare::Comparison, words::Spoken};
use serde_json::json;
use std::io::Write;

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
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

pub(super) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
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
    let answer = json!({ "smallest": smallest, "plans": plans });
    let chart = chart(arguments, chances, smallest.as_ref(), &plans);
    let write =
        |out: &mut dyn Write| write_words(arguments, chances, smallest.as_ref(), &plans, out);
    let shots = smallest.as_ref().map_or(40, |found| found.shots_each);
    arguments.costs.answer(&chart, answer, write, &Planned { shots, speed: None }, out)
}

fn write_words(
    arguments: &Arguments,
    [first, second]: [f64; 2],
    smallest: Option<&Comparison>,
    plans: &[Comparison],
    out: &mut dyn Write,
) -> Result<(), Failure> {
    match smallest {
        Some(found) => writeln!(
            out,
            "{} shots of each arrangement tell {} from {} in {} of tests.\n",
            found.shots_each,
            percent(first),
            percent(second),
            Spoken::near(found.power)
        )?,
        None => writeln!(out, "The two are too close: over 400 shots of each would not do.\n")?,
    }
    let mut table = plain::table(["shots of each", "seen in", "", "targets", "cost"]);
    for plan in plans {
        table.add_row([
            plan.shots_each.to_string(),
            Spoken::near(plan.power).to_string(),
            bar(plan.power, 20),
            targets(&plan.bill),
            money(&plan.bill, &arguments.costs),
        ]);
    }
    writeln!(out, "{table}")?;
    writeln!(
        out,
        "Fisher's exact test, two-sided, at {}. No difference seen does not say that there is none.",
        percent(arguments.significance)
    )?;
    Ok(())
}

fn chart(
    arguments: &Arguments,
    [first, second]: [f64; 2],
    smallest: Option<&Comparison>,
    plans: &[Comparison],
) -> PlanChart {
    let row = |plan: &Comparison| PlanRow {
        name: format!("{} of each", plan.shots_each),
        share: plan.power,
        said: String::new(),
        bill: arguments.costs.bill(&plan.bill),
    };
    let needed = smallest.map_or_else(|| "over 400".to_owned(), |plan| plan.shots_each.to_string());
    PlanChart {
        title: format!("{needed} shots of each tell {} from {}", percent(first), percent(second)),
        subtitle: "Chance of seeing the difference, by the number of shots of each.".to_owned(),
        rows: plans.iter().map(row).collect(),
        wanted: Some(arguments.power),
        decision: None,
    }
}
