//! `growth [LARGEST]`: time and memory as the work grows, with the exponents.
//!
//! Flights from 1e3 up to LARGEST (1e6 if not told, 1e8 for the full table),
//! uncertain inputs from 1 to 30, target faces from 1 to 50, flights of 1 m to
//! 1 km. An exponent of 1 is linear: twice the work, twice the time.

use longodds_bench::{cpu_seconds, peak_kib};
use longodds_sim::{
    chain::Claim,
    engine::{self, Order, Unwatched},
    scenario,
};
use std::{
    env,
    fmt::Write as _,
    io::{self, Write as _},
    path::Path,
};

/// Flights of the tables that vary something else.
const FLIGHTS: u64 = 20_000;

fn main() -> io::Result<()> {
    let largest = env::args().nth(1).and_then(|word| word.parse::<f64>().ok()).unwrap_or(1e6);
    let mut out = io::stdout().lock();
    writeln!(
        out,
        "# Growth\n\n`bench/growth {largest:e}`: CPU-seconds and largest memory so far of a block thrown at a wall of \
         faces, as one thing grows. An exponent of 1 is linear: twice the work, twice the time."
    )?;
    let simple = Setup::default();
    engine_seconds(&simple, 1000)?; // tables, threads, caches

    let steps = (3..=8).map(|power| 10_f64.powi(power)).take_while(|count| *count <= largest);
    let mut table = Table::new("flights");
    for count in steps {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count")]
        table.add(count, engine_seconds(&simple, count as u64)?);
    }
    table.write(&mut out)?;

    let mut table = Table::new("uncertain inputs");
    for inputs in [1, 3, 10, 30] {
        let setup = Setup { inputs, ..simple };
        table.add(inputs as f64, engine_seconds(&setup, FLIGHTS)?);
    }
    table.write(&mut out)?;

    let mut table = Table::new("target faces");
    for faces in [1, 3, 10, 30, 50] {
        table.add(faces as f64, engine_seconds(&Setup { faces, ..simple }, FLIGHTS)?);
    }
    table.write(&mut out)?;

    let mut table = Table::new("faces times inputs");
    for (faces, inputs) in [(1, 1), (5, 5), (15, 15), (50, 30)] {
        let setup = Setup { faces, inputs, ..simple };
        table.add((faces * inputs) as f64, engine_seconds(&setup, FLIGHTS)?);
    }
    table.write(&mut out)?;

    let mut table = Table::new("distance in m");
    for distance in [1.0, 10.0, 100.0, 1000.0] {
        table.add(distance, engine_seconds(&Setup { distance, ..simple }, FLIGHTS)?);
    }
    table.write(&mut out)
}

/// What grows.
#[derive(Clone, Copy)]
struct Setup {
    inputs: usize,
    faces: usize,
    distance: f64,
}

impl Default for Setup {
    fn default() -> Self {
        Self { inputs: 5, faces: 1, distance: 20.0 }
    }
}

impl Setup {
    /// A block thrown at a wall of faces; inputs beyond those of the release
    /// are the bounds of the faces' own barriers.
    fn text(&self) -> String {
        let spread = |i: usize, centre: f64, half: f64, unit: &str| {
            if i < self.inputs {
                format!("{{range: [{} {unit}, {} {unit}]}}", centre - half, centre + half)
            } else {
                format!("{centre} {unit}")
            }
        };
        // Fast enough to come that far on a flat path, whatever the distance.
        let speed = 15.0 + 0.12 * self.distance;
        let rise = if self.distance > 300.0 { 40.0 } else { 5.0 };
        let mut text = format!(
            "claim: A block is thrown.\nshow: si\nair:\n  wind: {{speed: {}, towards: {}}}\nobject:\n  \
             shape: {{block: {{length: 300 mm, width: 200 mm, height: 100 mm}}}}\n  mass: {}\n\
             release:\n  launched:\n    height: {}\n    speed: {}\n    elevation: {}\n    bearing: {}\n    \
             nose_up: {}\n    roll: {}\n    spin: {{x: {}, y: {}, z: {}}}\ntarget:\n  stands: {{at: {} m}}\n  faces:\n",
            spread(3, 3.0, 2.0, "m/s"),
            spread(4, 0.0, 180.0, "deg"),
            spread(5, 20.0, 1.0, "kg"),
            spread(6, 2.0, 0.2, "m"),
            spread(0, speed, 0.1 * speed, "m/s"),
            spread(1, rise, 2.0, "deg"),
            spread(2, 0.0, 2.0, "deg"),
            spread(7, 0.0, 20.0, "deg"),
            spread(8, 0.0, 20.0, "deg"),
            spread(9, 0.0, 30.0, "rpm"),
            spread(10, 0.0, 30.0, "rpm"),
            spread(11, 0.0, 30.0, "rpm"),
            self.distance,
        );
        for face in 0..self.faces {
            let (row, column) = (face / 10, face % 10);
            let left = spread(12 + face, 1.2 * (column as f64 - 4.5), 0.05, "m");
            let aim = if face == 0 { ", aim: true" } else { "" };
            let _ = writeln!(
                text,
                "    face_{face}: {{centre: [0 m, {left}, {} m], width: 1 m, height: 1 m, facing: 180 deg{aim}}}",
                0.6 + 1.2 * row as f64,
            );
        }
        text + "chain: [released, reaches, strikes]\n"
    }
}

/// CPU-seconds of a run.
fn engine_seconds(setup: &Setup, flights: u64) -> io::Result<f64> {
    let text = setup.text();
    let scenario = scenario::parse(&text, Path::new("."))
        .map_err(|told| io::Error::other(format!("{text}\n{told:?}")))?;
    let claim = Claim::new(scenario);
    let before = cpu_seconds();
    let tally = engine::run(&claim, &Order::new(1, 0..flights), &Unwatched);
    let spent = cpu_seconds() - before;
    if tally.flights() == flights {
        Ok(spent)
    } else {
        Err(io::Error::other("flights went missing"))
    }
}

/// Sizes and CPU-seconds.
struct Table {
    what: &'static str,
    rows: Vec<[f64; 3]>,
}

impl Table {
    fn new(what: &'static str) -> Self {
        Self { what, rows: Vec::new() }
    }

    fn add(&mut self, size: f64, seconds: f64) {
        self.rows.push([size, seconds, peak_kib() as f64 / 1024.0]);
    }

    fn write(&self, out: &mut impl io::Write) -> io::Result<()> {
        writeln!(
            out,
            "\n| {} | CPU-seconds | memory, MiB | exponent |\n|---|---|---|---|",
            self.what
        )?;
        for (i, [size, seconds, memory]) in self.rows.iter().enumerate() {
            let exponent = i.checked_sub(1).map_or(String::new(), |before| {
                let [size0, seconds0, _] = self.rows[before];
                let ratio = libm::log(seconds / seconds0) / libm::log(size / size0);
                format!("{ratio:.2}")
            });
            writeln!(out, "| {size} | {seconds:.4} | {memory:.1} | {exponent} |")?;
        }
        Ok(())
    }
}
