//! The inputs of a scenario, and how a point of the unit cube becomes a row.

use super::{Copula, Distribution};
use crate::quantity::Dimension;

/// Where an input stands in [`Inputs`], hence in every row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct InputId(pub usize);

/// One number of a scenario, fixed or uncertain.
#[derive(Clone, Debug)]
pub struct Input {
    /// Its path in the scenario, such as `release.launched.speed`.
    pub name: String,
    /// What it measures.
    pub dimension: Dimension,
    /// How it is spread, in SI units.
    pub distribution: Distribution,
    /// Its own place in the random stream: a hash of its name, so that adding
    /// an input moves no other.
    pub slot: u32,
    /// `true`: one value, not known to us. `false`: differs from one event or
    /// shot to the next.
    pub unknown: bool,
    /// `true` for a number that the user did not write but the model needs
    /// (a default): listed apart.
    pub assumed: bool,
    /// As it was written, in words with the user's own values ("between
    /// 14 m/s and 24 m/s, 9 times in 10").
    pub written: String,
}

/// All inputs of a scenario, with the rank correlation between them.
#[derive(Clone, Debug)]
pub struct Inputs {
    list: Vec<Input>,
    copula: Copula,
}

impl Inputs {
    /// Joins inputs and their correlation.
    #[must_use]
    pub fn new(list: Vec<Input>, copula: Copula) -> Self {
        Self { list, copula }
    }

    /// How many there are, fixed ones included.
    #[must_use]
    pub fn len(&self) -> usize {
        self.list.len()
    }

    /// Whether there are none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// The inputs in the order of a row.
    #[must_use]
    pub fn list(&self) -> &[Input] {
        &self.list
    }

    /// One input.
    #[must_use]
    pub fn get(&self, id: InputId) -> &Input {
        &self.list[id.0]
    }

    /// The input of this name.
    #[must_use]
    pub fn find(&self, name: &str) -> Option<InputId> {
        self.list.iter().position(|input| input.name == name).map(InputId)
    }

    /// Puts another distribution in the place of one input's own.
    pub fn replace(&mut self, id: InputId, distribution: Distribution) {
        self.list[id.0].distribution = distribution;
    }

    /// The inputs that are not fixed, in order.
    pub fn uncertain(&self) -> impl Iterator<Item = InputId> {
        self.list
            .iter()
            .enumerate()
            .filter(|(_, input)| !input.distribution.is_fixed())
            .map(|(i, _)| InputId(i))
    }

    /// The correlation between inputs.
    #[must_use]
    pub fn copula(&self) -> &Copula {
        &self.copula
    }

    /// Turns a point of the unit cube into a row of SI values, in place.
    ///
    /// `row`: one value per input; on entry uniforms in (0, 1) (anything for
    /// fixed inputs), on return the values.
    pub fn transform(&self, row: &mut [f64]) {
        self.correlate(row);
        self.values(row);
    }

    /// The first half of [`Inputs::transform`]: turns independent uniforms into
    /// each input's own (the share of its distribution below its value), in
    /// place. These are what [`InputTally`](crate::estimate::InputTally)
    /// records.
    pub(crate) fn correlate(&self, row: &mut [f64]) {
        self.copula.apply(row);
    }

    /// The second half: turns each input's own uniform into its value, in place.
    pub fn values(&self, row: &mut [f64]) {
        for (value, input) in row.iter_mut().zip(&self.list) {
            *value = input.distribution.quantile(*value);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::uncertain::normal_quantile;

    fn inputs() -> Inputs {
        let distributions = [
            Distribution::normal(20.0, 2.0),
            Distribution::fixed(7.0).truncated(0.0, 9.0),
            Distribution::choice(&[1.0, 2.0], &[1.0, 3.0]),
            Distribution::uniform(0.0, 1.0),
        ];
        let list = (0..)
            .zip(distributions)
            .map(|(slot, distribution)| Input {
                name: format!("input {slot}"),
                dimension: Dimension::Speed,
                distribution: distribution.unwrap(),
                slot,
                written: String::new(),
                unknown: false,
                assumed: false,
            })
            .collect();
        Inputs::new(list, Copula::new(4, &[(0, 2, 0.7), (0, 3, -0.3)]).unwrap())
    }

    #[test]
    fn the_uniforms_between_are_each_inputs_own() {
        let inputs = inputs();
        let mut own = [0.3, 0.5, 0.8, 0.6];
        inputs.correlate(&mut own);
        let mut row = own;
        inputs.values(&mut row);
        assert!((row[3] - own[3]).abs() < 1e-15);
        assert!((row[0] - (20.0 + 2.0 * normal_quantile(own[0]))).abs() < 1e-12);
    }
}
