//! General-purpose Rust packages, one flight after the other under rayon.
//!
//! `longodds-peers FOLDER PACKAGE TOLERANCE`; takes orders as `worker.py` does.

mod ending;
mod model;
mod packages;
mod problem;

use ending::Ending;
use model::{Plate, Rigid, Rod, Sphere};
use packages::{Motion, differential_equations, ode_solvers};
use problem::{Draw, Problem};
use rayon::prelude::*;
use std::{env, fs, io, path::Path, time::Instant};

/// Draws at a time.
const CHUNK: usize = 4096;

fn main() {
    let arguments: Vec<String> = env::args().collect();
    let problem = Problem::read(Path::new(&arguments[1]));
    let tolerance: f64 = arguments[3].parse().expect("a tolerance");
    let threads = env::var("BENCH_THREADS").ok().and_then(|n| n.parse().ok()).unwrap_or(1);
    rayon::ThreadPoolBuilder::new().num_threads(threads).build_global().expect("threads");
    let package = arguments[2].as_str();
    match problem.family.as_str() {
        "sphere" => serve::<Sphere, 6>(&problem, package, tolerance),
        "plate" => serve::<Rigid<Plate>, 13>(&problem, package, tolerance),
        "rod" => serve::<Rigid<Rod>, 13>(&problem, package, tolerance),
        other => panic!("no such family: {other}"),
    }
}

fn serve<M: Motion<N>, const N: usize>(problem: &Problem, package: &str, tolerance: f64) {
    let motion = M::new(problem);
    let one = |draw: &Draw| match package {
        "ode_solvers" => ode_solvers(problem, &motion, draw, tolerance),
        _ => differential_equations(problem, &motion, draw, tolerance),
    };
    let fly = |draws: &[Draw]| draws.par_iter().with_min_len(16).map(one).collect::<Vec<Ending>>();
    println!("{{\"ready\": true}}");
    for line in io::stdin().lines() {
        let line = line.expect("an order");
        let words: Vec<&str> = line.split_whitespace().collect();
        if words[0] == "fly" {
            let [first, count] = [1, 2].map(|i| words[i].parse::<usize>().expect("a number"));
            let bytes: Vec<u8> = fly(&problem.draws[first..first + count])
                .iter()
                .flatten()
                .flat_map(|number| number.to_le_bytes())
                .collect();
            fs::write(words[3], bytes).expect("a file to write to");
            println!("{{\"flown\": {count}}}");
        } else {
            timed(problem, &fly, words[1].parse().expect("seconds"));
        }
    }
}

fn timed(problem: &Problem, fly: &impl Fn(&[Draw]) -> Vec<Ending>, seconds: f64) {
    let (mut flights, mut parts) = (0, problem.draws.chunks(CHUNK).cycle());
    let (cpu, wall) = (usage().0, Instant::now());
    while usage().0 - cpu < seconds {
        flights += fly(parts.next().expect("an endless cycle")).len();
    }
    let (now, peak) = usage();
    let wall = wall.elapsed().as_secs_f64();
    let cpu = now - cpu;
    println!("{{\"flights\": {flights}, \"cpu\": {cpu}, \"wall\": {wall}, \"peak_kib\": {peak}}}");
}

/// CPU-seconds of this process, and its largest memory in KiB.
fn usage() -> (f64, i64) {
    // SAFETY: a plain record of numbers, filled by the call.
    let mut usage: libc::rusage = unsafe { std::mem::zeroed() };
    unsafe { libc::getrusage(libc::RUSAGE_SELF, &mut usage) };
    let seconds = |t: libc::timeval| t.tv_sec as f64 + 1e-6 * t.tv_usec as f64;
    (seconds(usage.ru_utime) + seconds(usage.ru_stime), usage.ru_maxrss)
}
