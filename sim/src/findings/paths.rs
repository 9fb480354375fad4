//! Paths of a few flights, for drawing.

use super::{FlightFinding, PathPoint, contacts};
use crate::{
    chain::Claim,
    contact::Scenery,
    engine::{Draws, Path, Rows, Tally, record},
};
use glam::DVec3;
use rayon::prelude::*;

/// Most points of one drawn path up to its strike, or of all of it without one.
const PATH_POINTS: usize = 60;
/// Most points of one drawn path after its strike.
const POINTS_AFTER: usize = 30;

/// The paths of a few flights of every fate, flown on to the ground; where
/// nothing held, also those of the closest calls, marked and in front.
///
/// `most`: how many of each fate, and of the closest calls.
pub(super) fn flights(
    claim: &Claim,
    tally: &Tally,
    draws: &Draws,
    most: usize,
) -> Vec<FlightFinding> {
    let to_ground = claim.clone().flown_to_ground();
    let never = tally.fates.last().is_some_and(|held| *held == 0);
    let closest: Vec<u64> =
        if never { tally.nearest.draws().take(most).collect() } else { Vec::new() };
    let kept = tally.kept.iter().flat_map(|kept| kept.clone().into_sorted().into_iter().take(most));
    let mut wanted: Vec<u64> = closest.clone();
    wanted.extend(kept.map(|(draw, ())| draw).filter(|draw| !closest.contains(draw)));
    let middle = draws.middle();
    wanted
        .into_par_iter()
        .map_init(Rows::default, |rows, draw| {
            draws.fill(draw..draw + 1, rows);
            let path = record(&to_ground, draw, &rows.values);
            let eye = Eye::new(claim, &middle, &rows.values);
            FlightFinding { closest: closest.contains(&draw), ..flight(claim, draw, &path, &eye) }
        })
        .collect()
}

/// How one draw's target sees the world, beside the middling target.
pub(super) struct Eye {
    /// How much further on the draw's target is at release, in m.
    beyond: DVec3,
    /// The draw's target.
    own: Scenery,
}

impl Eye {
    /// `middle`: the row with every input at its median; `row`: the draw's.
    pub(super) fn new(claim: &Claim, middle: &[f64], row: &[f64]) -> Self {
        let target = &claim.scenario().target;
        let (mut nominal, mut own) = (Scenery::default(), Scenery::default());
        nominal.place(target, middle);
        own.place(target, row);
        Self { beyond: own.origin - nominal.origin, own }
    }

    /// A place as this target sees it; `None` where that is no different.
    fn sees(&self, position: DVec3, time: f64) -> Option<[f64; 3]> {
        let velocity = self.own.velocity;
        let differs = self.beyond.length() > 1e-6 || velocity.length() > 1e-9;
        let seen = || self.own.seen(position, time) - self.beyond - velocity * time;
        differs.then(|| seen().to_array())
    }
}

/// One flight, thinned to a few dozen moments.
pub(super) fn flight(claim: &Claim, draw: u64, path: &Path, eye: &Eye) -> FlightFinding {
    let contacts = contacts::of_flight(claim.scenario(), path);
    let last = path.moments.len().saturating_sub(1);
    let touch = path.outcome.touch.filter(|_| path.outcome.struck);
    let strike = touch.map(|touch| touch.time);
    let until = path.moments.partition_point(|(time, _)| strike.is_none_or(|met| *time <= met));
    let every = |count: usize, most: usize| count.div_ceil(most).max(1);
    let before = every(until, PATH_POINTS);
    let after = every(path.moments.len() - until, POINTS_AFTER);
    let kept = |i: usize| {
        i.checked_sub(until).map_or(i.is_multiple_of(before), |i| i.is_multiple_of(after))
    };
    // A bounce is a corner of the path: thinning must not cut it off, nor the
    // strike.
    let met = || contacts.iter().map(|one| one.time).chain(strike);
    let corner = |time: f64| met().any(|one| (one - time).abs() < 1e-9);
    let thinned = path
        .moments
        .iter()
        .enumerate()
        .filter(|(i, (time, _))| kept(*i) || *i == last || corner(*time));
    let path_points = thinned
        .map(|(_, (time, state))| PathPoint {
            time: *time,
            position: state.position.to_array(),
            seen: eye.sees(state.position, *time),
            velocity: state.velocity.to_array(),
            attitude: state.attitude.to_array(),
        })
        .collect();
    FlightFinding {
        draw,
        stopped_at: path.outcome.stopped_at,
        struck: path.outcome.struck,
        strike,
        closest: false,
        end_speed: path.moments.last().map_or(0.0, |(_, state)| state.velocity.length()),
        rest: path.outcome.rest.map(|rest| rest.to_array()),
        path: path_points,
        contacts,
    }
}
