//! One line in, one line out: how a program is timed beside the others.
//!
//! ```text
//! fly FIRST COUNT FILE    fly these draws and write their results
//! time SECONDS            fly for so many CPU-seconds and tell how many
//! ```

use crate::{cpu_seconds, peak_kib};
use serde_json::json;
use std::{
    fs,
    io::{self, BufRead, Write},
    time::Instant,
};

/// Something that can be timed.
pub trait Peer {
    /// Flies some more draws, as many as it likes; tells how many, how many
    /// hit, and how many evaluations of the equations of motion they took.
    fn fly_some(&mut self) -> [u64; 3];
    /// Flies a range of draws: code, time, place and energy of each.
    fn landings(&mut self, first: usize, count: usize) -> Vec<[f64; 6]>;
}

/// Answers orders until the input ends.
///
/// # Errors
///
/// Where the input, the output or a file of results fails.
pub fn serve(peer: &mut impl Peer, input: impl BufRead, mut out: impl Write) -> io::Result<()> {
    peer.fly_some();
    say(&mut out, &json!({"ready": true}))?;
    for line in input.lines() {
        let line = line?;
        let words: Vec<&str> = line.split_whitespace().collect();
        match words.as_slice() {
            ["fly", first, count, file] => {
                let landings = peer.landings(number(first)?, number(count)?);
                let bytes: Vec<u8> =
                    landings.iter().flatten().flat_map(|number| number.to_le_bytes()).collect();
                fs::write(file, bytes)?;
                say(&mut out, &json!({"flown": landings.len()}))?;
            }
            ["time", seconds] => timed(peer, number(seconds)?, &mut out)?,
            _ => return Err(io::Error::other(format!("no such order: {line}"))),
        }
    }
    Ok(())
}

fn number<T: std::str::FromStr>(word: &str) -> io::Result<T> {
    word.parse().map_err(|_| io::Error::other(format!("not a number: {word}")))
}

fn say(out: &mut impl Write, answer: &serde_json::Value) -> io::Result<()> {
    writeln!(out, "{answer}")?;
    out.flush()
}

#[expect(clippy::disallowed_methods, reason = "a benchmark reads the clock")]
fn timed(peer: &mut impl Peer, seconds: f64, out: &mut impl Write) -> io::Result<()> {
    let mut sum = [0; 3];
    let (cpu, wall) = (cpu_seconds(), Instant::now());
    while cpu_seconds() - cpu < seconds {
        for (sum, more) in sum.iter_mut().zip(peer.fly_some()) {
            *sum += more;
        }
    }
    let [flights, hits, evaluations] = sum;
    let answer = json!({
        "flights": flights,
        "hits": hits,
        "evaluations": evaluations,
        "cpu": cpu_seconds() - cpu,
        "wall": wall.elapsed().as_secs_f64(),
        "peak_kib": peak_kib(),
    });
    say(out, &answer)
}
