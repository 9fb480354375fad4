//! `draws SCENARIO FOLDER COUNT`: a problem and its draws, for the peers.

use longodds_bench::{Problem, export};
use std::{env, io, path::Path};

fn main() -> io::Result<()> {
    let words: Vec<String> = env::args().skip(1).collect();
    let [scenario, folder, count] = words.as_slice() else {
        return Err(io::Error::other("draws SCENARIO FOLDER COUNT"));
    };
    let problem = Problem::read(Path::new(scenario))?;
    let name = Path::new(scenario).file_stem().unwrap_or_default().to_string_lossy();
    let count = count.parse().map_err(io::Error::other)?;
    export(Path::new(folder), &name, &problem.aim, &problem.flights(0..count))
}
