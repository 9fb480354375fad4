//! Flights in groups, each group in one world.

use super::{
    RESAMPLES, Shape, World, Worlds,
    probit::{Basis, Probit, Score},
    shares::{Group, Shares, allowed},
};
use crate::{
    math::cbrt,
    sampling::{Domain, Scrambled, Stream},
};

/// Worlds that a fit is read at, in each stratum.
const READ: u32 = 2048;

/// Most of the deviance of the groups about a fit, by its degrees of freedom
/// (oracle: 1.0 where the shape is right, 7.7 where a product is left out).
const DEVIANCE: f64 = 1.5;

/// Normal deviate beyond which the deviance speaks against a fit: one in a
/// thousand.
const DOUBT: f64 = 3.09;

/// A fit whose deviance is no more than this above another's may be the right
/// one as well.
const AS_WELL: f64 = 6.0;

/// Groups that share the values of all unknowns that have few.
#[derive(Clone, Debug, PartialEq)]
pub struct Stratum {
    /// Its share of what is thought possible.
    pub weight: f64,
    /// Which unknowns differ between its groups.
    pub open: Vec<usize>,
    /// The groups, spread evenly over them; one where none differs.
    pub groups: Vec<Group>,
}

impl Worlds {
    /// From strata of groups; `None` of nothing.
    ///
    /// In each stratum the counts are fitted by a probit on the unknowns, with
    /// squares, cubes and products: on their normal scores or on their places,
    /// whichever the groups fit better, and both where they cannot tell. Where
    /// the deviance speaks against it, the groups' own shares stand instead,
    /// drawn together by as much as counting spreads them.
    #[must_use]
    pub fn grouped(strata: &[Stratum], seed: u64) -> Option<Self> {
        let mut whole =
            Self { list: Vec::new(), shape: Shape::Fitted, flights: u64::MAX, again: Vec::new() };
        whole.again.resize(RESAMPLES, Vec::new());
        for (place, stratum) in (0..).zip(strata) {
            let stream = Stream::new(seed, Domain::BOOTSTRAP.part(2 + place));
            let one = stratum.worlds(seed, &stream)?;
            if one.shape == Shape::Shares {
                whole.shape = Shape::Shares;
            }
            whole.flights = whole.flights.min(one.flights);
            whole.list.extend(one.list);
            for (all, again) in whole.again.iter_mut().zip(one.again) {
                all.extend(again);
            }
        }
        (!whole.list.is_empty()).then_some(whole)
    }
}

impl Stratum {
    fn worlds(&self, seed: u64, stream: &Stream) -> Option<Worlds> {
        let groups: Vec<&Group> = self.groups.iter().filter(|g| g.flights > 0).collect();
        let (held, flights) =
            groups.iter().fold((0, 0), |sum, g| (sum.0 + g.held, sum.1 + g.flights));
        let first = groups.first()?;
        if self.open.is_empty() || held == 0 || held == flights {
            return Some(self.same(&first.at, held, flights, stream));
        }
        let fits = self.fits(&groups);
        if fits.is_empty() {
            return Some(Shares::of(&groups).worlds(self.weight, stream));
        }
        Some(self.read(&fits, &first.at, seed, stream))
    }

    /// One chance for all of it: there is nothing that differs, or nothing
    /// that differed. It may be what its count allows (Jeffreys).
    fn same(&self, at: &[f64], held: u64, flights: u64, stream: &Stream) -> Worlds {
        let chance = held as f64 / flights as f64;
        let again = (0..RESAMPLES as u64)
            .map(|r| vec![allowed(held, flights, &mut stream.at(r))])
            .collect();
        let list = vec![World { weight: self.weight, chance, at: at.to_vec() }];
        Worlds { list, shape: Shape::Fitted, flights, again }
    }

    fn places(&self, at: &[f64]) -> Vec<f64> {
        self.open.iter().map(|k| at[*k]).collect()
    }

    /// The fits that the groups do not speak against, the best first.
    fn fits(&self, groups: &[&Group]) -> Vec<(Basis, Probit)> {
        let places: Vec<Vec<f64>> = groups.iter().map(|g| self.places(&g.at)).collect();
        let counts: Vec<(u64, u64)> = groups.iter().map(|g| (g.held, g.flights)).collect();
        let one = |score| {
            let basis = Basis::choose(score, &places, &counts)?;
            let rows: Vec<Vec<f64>> = places.iter().map(|at| basis.row(at)).collect();
            let fit = Probit::fit(&rows, &counts)?;
            stands(&fit).then_some((basis, fit))
        };
        let mut fits: Vec<_> = Score::BOTH.into_iter().filter_map(one).collect();
        fits.sort_by(|a, b| a.1.deviance.total_cmp(&b.1.deviance));
        let best = fits.first().map_or(0.0, |fit| fit.1.deviance);
        fits.retain(|fit| fit.1.deviance <= best + AS_WELL);
        fits
    }

    /// Worlds of the best fit, evenly over the unknowns; over again from every
    /// fit that may be the right one.
    fn read(&self, fits: &[(Basis, Probit)], at: &[f64], seed: u64, stream: &Stream) -> Worlds {
        let points = Scrambled::new(seed, Domain::UNKNOWN);
        let places: Vec<Vec<f64>> = (0..READ)
            .map(|point| {
                let mut at = at.to_vec();
                for (dimension, k) in (0..).zip(&self.open) {
                    at[*k] = points.coordinate(1, point, dimension).unwrap_or(0.5);
                }
                at
            })
            .collect();
        let rows: Vec<Vec<Vec<f64>>> = fits
            .iter()
            .map(|(basis, _)| places.iter().map(|at| basis.row(&self.places(at))).collect())
            .collect();
        let weight = self.weight / f64::from(READ);
        let best = &fits[0].1;
        let list = places
            .into_iter()
            .zip(&rows[0])
            .map(|(at, row)| World { weight, chance: best.chance(row), at })
            .collect();
        let again = (0..RESAMPLES)
            .map(|r| {
                let which = r % fits.len();
                let other = fits[which].1.redrawn(&mut stream.at(r as u64));
                rows[which].iter().map(|row| other.chance(row)).collect()
            })
            .collect();
        let flights = self.groups.iter().map(|g| g.flights).sum();
        Worlds { list, shape: Shape::Fitted, flights, again }
    }
}

/// Whether the groups do not speak against a fit.
fn stands(fit: &Probit) -> bool {
    let freedom = fit.freedom();
    if freedom <= 0.0 {
        return false;
    }
    // Wilson & Hilferty's normal deviate of a chi-squared. (From memory.)
    let third = 2.0 / (9.0 * freedom);
    let deviate = (cbrt(fit.deviance / freedom) - 1.0 + third) / third.sqrt();
    fit.deviance <= DEVIANCE * freedom && deviate < DOUBT
}
