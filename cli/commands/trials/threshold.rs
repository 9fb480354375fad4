//! Shots to find the speed at which half go through.

use super::{Costs, Planned, money, targets};
use crate::{
    failure::Failure,
    plain::{self, bar, percent},
    typed::{self, Typed},
};
use longodds_reports::chart::{PlanChart, PlanRow};
use longodds_sim::{
    math,
    quantity::{Dimension, Show, format, significant},
    threshold::{Imagined, Plan, Prior, imagine},
    trials::cost::Bill,
};
use serde_json::json;
use std::io::Write;

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
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

pub(super) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
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
    let rows: Vec<_> =
        results.iter().map(|(result, bill)| json!({ "imagined": result, "bill": bill })).collect();
    let answer = json!({ "plan": plan, "prior": prior, "results": rows });
    let chart = chart(arguments, &results);
    let write = |out: &mut dyn Write| write_words(arguments, &plan, tests, &results, out);
    let planned = Planned { shots: u64::from(arguments.shots), speed: Some(&arguments.guess.text) };
    arguments.costs.answer(&chart, answer, write, &planned, out)
}

fn write_words(
    arguments: &Arguments,
    plan: &Plan,
    tests: u32,
    results: &[(Imagined, Bill)],
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let show = typed::units_of(std::iter::once(&arguments.guess));
    let speed = |x: f64| format(math::exp(x), Dimension::Speed, show);
    writeln!(out, "First shot at {}; {}.\n", speed(plan.next(&[])), rule(plan, show))?;
    let mut table = plain::table(["shots", "threshold known to", "", "holes", "targets", "cost"]);
    for (result, bill) in results {
        table.add_row([
            result.shots.to_string(),
            format!("+- {}", percent(result.half_width)),
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
        percent(4.0 * arguments.spread)
    )?;
    Ok(())
}

/// A bar's full length is the guess' own doubt: what no shot would leave.
fn chart(arguments: &Arguments, results: &[(Imagined, Bill)]) -> PlanChart {
    let full = 4.0 * arguments.spread;
    let row = |(result, bill): &(Imagined, Bill)| PlanRow {
        name: format!("{} shots", result.shots),
        share: result.half_width / full,
        said: format!("± {}", percent(result.half_width)),
        bill: arguments.costs.bill(bill),
    };
    let show = typed::units_of(std::iter::once(&arguments.guess));
    let guess = format(arguments.guess.value, Dimension::Speed, show);
    let known = results.iter().find(|(result, _)| result.shots == arguments.shots);
    let known = known.map_or(1.0, |(result, _)| result.half_width);
    PlanChart {
        title: format!(
            "{} shots should tell the speed that half go through at to within {}",
            arguments.shots,
            percent(known)
        ),
        subtitle: format!(
            "Half-width of its 95 % interval. A full bar is where the guess of {guess} leaves it: within {}.",
            percent(full)
        ),
        rows: results.iter().map(row).collect(),
        wanted: None,
        decision: None,
    }
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
