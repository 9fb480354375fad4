//! One set of blows, judged in every world.

use super::{RESAMPLES, Shape, World, Worlds};
use crate::sampling::{Domain, Stream};
use rand::RngExt;

impl Worlds {
    /// From worlds (weight, place of each unknown) and batches of flights of
    /// equal size, `flights` in all: `batches[b][w]` is the mean chance of the flights of batch
    /// `b` in world `w`.
    ///
    /// All worlds share their flights, so that they differ by what is unknown
    /// alone; what chance has done shows in how the batches differ.
    #[must_use]
    pub fn reused(
        worlds: Vec<(f64, Vec<f64>)>,
        batches: &[Vec<f64>],
        flights: u64,
        seed: u64,
    ) -> Self {
        let count = batches.len();
        let mean = |w: usize, of: &dyn Fn(usize) -> usize| {
            (0..count).map(|b| batches[of(b)][w]).sum::<f64>() / count.max(1) as f64
        };
        let stream = Stream::new(seed, Domain::BOOTSTRAP.part(1));
        let again = (0..RESAMPLES as u64)
            .map(|r| {
                let mut dice = stream.at(r);
                let picked: Vec<usize> = (0..count).map(|_| dice.random_range(0..count)).collect();
                (0..worlds.len()).map(|w| mean(w, &|b| picked[b])).collect()
            })
            .collect();
        let list = worlds
            .into_iter()
            .enumerate()
            .map(|(w, (weight, at))| World { weight, chance: mean(w, &|b| b), at })
            .collect();
        Self { list, shape: Shape::Reused, flights, again }
    }
}
