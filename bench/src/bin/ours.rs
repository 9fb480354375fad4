//! Our own programs as peers: `ours SCENARIO WHICH [TOLERANCE] [FAMILY]`.
//!
//! `engine` is the whole run: sampling, release, flight, contact, gates and
//! tally, as `longodds run` does it. `kernel` is the stepper alone on flights
//! made beforehand. `bare` is the least that such a stepper could do.

use longodds_bench::{BareFlight, Landing, Peer, Problem, fly_bare, fly_single, serve};
use longodds_sim::{
    engine::{self, Order, Unwatched},
    flight::{Family, Flight, Settings},
};
use rayon::prelude::*;
use std::{env, io, ops::Range, path::Path};

/// Draws between two looks at the clock.
const SOME: u64 = 32_768;
/// Draws that one task flies.
const CHUNK: usize = 1024;
/// Flights made beforehand.
const KEPT: u64 = 20_000;

fn main() -> io::Result<()> {
    let words: Vec<String> = env::args().skip(1).collect();
    let [scenario, which, rest @ ..] = words.as_slice() else {
        return Err(io::Error::other("ours SCENARIO engine|kernel|bare [TOLERANCE] [FAMILY]"));
    };
    threads()?;
    let problem = Problem::read(Path::new(scenario))?;
    let mut settings = *problem.claim.settings();
    if let Some(tolerance) = rest.first() {
        settings.tolerance = tolerance.parse().map_err(io::Error::other)?;
    }
    if let Some(name) = rest.get(1) {
        let family = Family::available().find(|family| family.name() == name);
        settings.family = family.ok_or_else(|| io::Error::other("no such family here"))?;
    }
    let (input, out) = (io::stdin().lock(), io::stdout().lock());
    match which.as_str() {
        "engine" => serve(&mut Engine { problem, next: 0 }, input, out),
        "kernel" => {
            let flights = problem.flights(0..KEPT);
            serve(&mut Kernel { problem, flights, settings }, input, out)
        }
        "bare" => {
            let flights = problem.flights(0..KEPT).iter().map(BareFlight::of).collect();
            serve(&mut Bare { flights, settings }, input, out)
        }
        _ => Err(io::Error::other("engine, kernel or bare")),
    }
}

/// As many threads as the order says, one if it says nothing.
#[expect(clippy::disallowed_methods, reason = "the settings of a benchmark, not of a run")]
fn threads() -> io::Result<()> {
    let count = env::var("BENCH_THREADS").ok().and_then(|n| n.parse().ok()).unwrap_or(1);
    rayon::ThreadPoolBuilder::new().num_threads(count).build_global().map_err(io::Error::other)
}

/// The whole run.
struct Engine {
    problem: Problem,
    next: u64,
}

impl Engine {
    fn run(&self, draws: Range<u64>) -> [u64; 3] {
        let order = Order::new(1, draws);
        let tally = engine::run(&self.problem.claim, &order, &Unwatched);
        let hits = tally.fates.last().copied().unwrap_or(0);
        [tally.flights(), hits, tally.work.evaluations]
    }
}

impl Peer for Engine {
    fn fly_some(&mut self) -> [u64; 3] {
        let from = self.next;
        self.next += SOME;
        self.run(from..self.next)
    }

    fn landings(&mut self, first: usize, count: usize) -> Vec<[f64; 6]> {
        let [flights, hits, _] = self.run(first as u64..(first + count) as u64);
        vec![[flights as f64, hits as f64, 0.0, 0.0, 0.0, 0.0]]
    }
}

/// The stepper alone.
struct Kernel {
    problem: Problem,
    flights: Vec<Flight>,
    settings: Settings,
}

impl Kernel {
    fn fly(&self, flights: &[Flight]) -> (Vec<Landing>, u64) {
        let mut landings = vec![Landing::default(); flights.len()];
        let parts = flights.par_chunks(CHUNK).zip(landings.par_chunks_mut(CHUNK));
        let aim = &self.problem.aim;
        let work = parts.map(|(flights, out)| fly_single(flights, aim, &self.settings, out));
        let evaluations = work.map(|work| work.evaluations).sum();
        (landings, evaluations)
    }
}

impl Peer for Kernel {
    fn fly_some(&mut self) -> [u64; 3] {
        let (landings, evaluations) = self.fly(&self.flights);
        let aim = &self.problem.aim;
        let inside = |at: f64, [from, to]: [f64; 2]| from <= at && at <= to;
        let hit =
            |l: &&Landing| l.code == 1 && inside(l.place[1], aim.y) && inside(l.place[2], aim.z);
        let hits = landings.iter().filter(hit).count();
        [landings.len() as u64, hits as u64, evaluations]
    }

    fn landings(&mut self, first: usize, count: usize) -> Vec<[f64; 6]> {
        let (landings, _) = self.fly(&self.flights[first..first + count]);
        landings.iter().map(Landing::row).collect()
    }
}

/// The least.
struct Bare {
    flights: Vec<BareFlight>,
    settings: Settings,
}

impl Peer for Bare {
    fn fly_some(&mut self) -> [u64; 3] {
        let parts = self.flights.par_chunks(CHUNK);
        let sums = parts.map(|flights| fly_bare(flights, &self.settings, &mut []));
        let evaluations = sums.sum();
        [self.flights.len() as u64, 0, evaluations]
    }

    fn landings(&mut self, first: usize, count: usize) -> Vec<[f64; 6]> {
        let mut rows = vec![[0.0; 6]; count];
        fly_bare(&self.flights[first..first + count], &self.settings, &mut rows);
        rows
    }
}
