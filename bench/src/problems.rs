//! What is flown: scenarios under `bench/problems`, with a fixed seed.

use longodds_sim::{
    chain::{Claim, Course},
    engine::{Draws, Rows, tuned},
    flight::Flight,
    scenario::{self, Outline},
};
use std::{fs, io, path::Path};

/// The seed of every problem.
pub(crate) const SEED: u64 = 1;

/// What counts as a hit: the centre crosses a plane inside a rectangle.
#[derive(Clone, Copy, Debug)]
pub struct Aim {
    /// x of the plane, in m.
    pub plane: f64,
    /// From and to, y, in m.
    pub y: [f64; 2],
    /// From and to, z, in m.
    pub z: [f64; 2],
}

/// The claim of a scenario file, flown with the default settings.
///
/// # Errors
///
/// Where the file cannot be read or is no scenario.
pub fn claim(file: &Path) -> io::Result<Claim> {
    let text = fs::read_to_string(file)?;
    let scenario = scenario::parse(&text, file.parent().unwrap_or(Path::new(".")))
        .map_err(|told| io::Error::other(format!("{}: {told:?}", file.display())))?;
    Ok(Claim::new(scenario))
}

/// A scenario and what it aims at.
#[derive(Debug)]
pub struct Problem {
    /// The scenario, ready to fly.
    pub claim: Claim,
    /// Its only face.
    pub aim: Aim,
}

impl Problem {
    /// Reads a scenario with one upright rectangle that looks at the release.
    ///
    /// # Errors
    ///
    /// Where the file cannot be read or is no such scenario.
    pub fn read(file: &Path) -> io::Result<Self> {
        // As a run does: the step from the error budget.
        let claim = tuned(claim(file)?, SEED);
        let middle = Draws::new(&claim.scenario().inputs, SEED, &[]).middle();
        let (target, number) = (&claim.scenario().target, |id: scenario::InputId| middle[id.0]);
        let face = target.faces.first().ok_or_else(|| io::Error::other("no face"))?;
        let Outline::Rectangle { width, height } = face.outline.map(number) else {
            return Err(io::Error::other("the face is no rectangle"));
        };
        let [x, y, z] = face.centre.map(number);
        let (x, y) = (x + number(target.motion.at), y + number(target.motion.left));
        let around = |centre: f64, size: f64| [centre - size / 2.0, centre + size / 2.0];
        let aim = Aim { plane: x, y: around(y, width), z: around(z, height) };
        Ok(Self { claim, aim })
    }

    /// The flights of a range of draws, as the engine begins them.
    #[must_use]
    pub fn flights(&self, draws: std::ops::Range<u64>) -> Vec<Flight> {
        let inputs = &self.claim.scenario().inputs;
        let mut rows = Rows::default();
        Draws::new(inputs, SEED, &[]).fill(draws.clone(), &mut rows);
        let mut course = Course::default();
        draws
            .zip(rows.values.chunks_exact(inputs.len()))
            .filter_map(|(draw, row)| self.claim.begin(draw, row, &mut course))
            .collect()
    }
}
