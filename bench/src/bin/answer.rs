//! `answer`: CPU-seconds until a chance is known to 10 %, by the rare-event
//! search and by plain sampling with the same kernel.
//!
//! The ball of `bench/problems/sphere.yaml`, with the window moved aside until
//! the chance is about 1e-1, 1e-3 and 1e-6. Plain sampling needs (1 - p)/p/0.01
//! flights; its time is that number over the rate measured here.

use longodds_bench::cpu_seconds;
use longodds_sim::{
    chain::Claim,
    engine::{self, Draws, Flock, Order, Rows, Unwatched, fly_rows},
    estimate::{
        BottomK,
        rare::{Effort, Flown, LimitState, rare_event},
    },
    flight::Settings,
    scenario,
    uncertain::{normal_cdf, normal_quantile},
};
use rayon::prelude::*;
use std::{fs, io, io::Write, path::Path};

/// Relative standard error that counts as an answer.
const WANTED: f64 = 0.1;
/// Points that one task flies.
const CHUNK: usize = 256;
/// Flights that the rate of plain sampling is measured on.
const MEASURED: u64 = 200_000;
/// Where the window stands, in m to the left.
const ASIDE: [f64; 3] = [1.25, 2.07, 2.7];

fn main() -> io::Result<()> {
    let text = fs::read_to_string("bench/problems/sphere.yaml")?;
    let mut out = io::stdout().lock();
    writeln!(
        out,
        "| chance | search: relative error | flights | CPU-seconds to 10 % | plain: flights to 10 % | CPU-seconds to 10 % | times faster |"
    )?;
    writeln!(out, "|---|---|---|---|---|---|---|")?;
    for aside in ASIDE {
        let moved = text.replace("at: 20 m", &format!("at: 20 m, left: {aside} m"));
        let scenario = scenario::parse(&moved, Path::new("."))
            .map_err(|told| io::Error::other(format!("{told:?}")))?;
        writeln!(out, "{}", line(&Claim::new(scenario)))?;
    }
    Ok(())
}

fn line(claim: &Claim) -> String {
    let start = cpu_seconds();
    let tally = engine::run(claim, &Order::new(1, 0..MEASURED), &Unwatched);
    let per_flight = (cpu_seconds() - start) / MEASURED as f64;
    let hits = tally.fates.last().copied().unwrap_or(0);

    // The search is told of the first 2,000 flights, as a run would begin.
    let begun = engine::run(claim, &Order::new(1, 0..2000), &Unwatched);
    let state = Limit { claim, draws: Draws::new(&claim.scenario().inputs, 1, &[]) };
    let kept = begun.kept.last().cloned().map(BottomK::into_sorted).unwrap_or_default();
    let met = kept.into_iter().flat_map(|(draw, ())| state.draws.points(draw..draw + 1));
    let plain = Flown { flights: 2000, met: met.map(normal_quantile).collect() };
    let start = cpu_seconds();
    let event = rare_event(&state, 1, &plain, &Effort::default());
    let spent = cpu_seconds() - start + 2000.0 * per_flight;
    let search = spent * (event.relative_error / WANTED).powi(2).max(1.0);

    let p = if hits > 1000 { hits as f64 / MEASURED as f64 } else { event.probability };
    let flights = (1.0 - p) / p / (WANTED * WANTED);
    let seconds = flights * per_flight;
    format!(
        "| {p:.2e} | {:.3} ({:?}) | {} | {search:.2} | {flights:.0} | {seconds:.2} | {:.1} |",
        event.relative_error,
        event.method,
        event.calls + 2000,
        seconds / search,
    )
}

/// A claim as a function of standard normal numbers.
struct Limit<'a> {
    claim: &'a Claim,
    draws: Draws<'a>,
}

impl LimitState for Limit<'_> {
    fn dimension(&self) -> usize {
        self.draws.uncertain().len()
    }

    fn scores(&self, points: &[f64], out: &mut [f64]) {
        let parts = points.par_chunks(CHUNK * self.dimension()).zip(out.par_chunks_mut(CHUNK));
        parts.for_each(|(points, out)| {
            let (mut rows, mut flock) = (Rows::default(), Flock::default());
            let ranks: Vec<f64> = points.iter().map(|&x| normal_cdf(x)).collect();
            self.draws.fill_from(&ranks, &mut rows);
            let settings = Settings::default();
            let (outcomes, _) = fly_rows(self.claim, &rows.values, 0, &settings, &mut flock);
            let gates = self.claim.gates().len();
            for (score, outcome) in out.iter_mut().zip(outcomes) {
                *score = outcome.score(gates);
            }
        });
    }
}
