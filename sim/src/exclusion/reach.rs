//! How far: distances that only one flight in so many exceeds.

use super::{
    Ask, Landing,
    landing::{By, Open},
    measure::Measure,
};
use crate::{
    engine::{Progress, Watched},
    estimate::{
        LEVEL, Proportion, quantile, quantile_interval,
        rare::{LimitState, far},
    },
};
use serde::{Deserialize, Serialize};

/// Fewer flights than this beyond a distance are too few to lean on.
const FEW: f64 = 20.0;

/// Fewer flights than this that came loose say too little of how many do.
const FEW_LOOSE: u64 = 1000;

/// Flights per level of each climb of the search.
const PER_LEVEL: usize = 500;

/// What the search is held against the plain flights at: one in so many, and
/// fewer where these are fewer.
const GUARD: f64 = 1000.0;

/// How far in one direction.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Reach {
    /// Which direction.
    pub measure: Measure,
    /// The farthest of the plain flights, in m.
    pub farthest: f64,
    /// Largest chance of going beyond that, at 95 % one-sided confidence.
    pub beyond: f64,
    /// What is exceeded by one in so many, in the order asked.
    pub exceeded: Vec<Exceeded>,
}

/// A distance that one flight in so many exceeds.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Exceeded {
    /// One in so many.
    pub one_in: f64,
    /// The distance, in m; `None` if it cannot be told.
    pub distance: Option<f64>,
    /// Ends of its 95 % interval, in m; `None`: open.
    pub interval: [Option<f64>; 2],
    /// Where it is from.
    pub how: How,
}

/// Where a distance is from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum How {
    /// Counted: a value among the plain flights, with the interval that holds
    /// whatever the distribution.
    Counted,
    /// Climbed to, in eight independent searches.
    Searched,
    /// The search met the end of what there is: nothing goes farther.
    End,
    /// The plain flights are too few, and nothing was searched.
    TooFew,
    /// The search disagrees with the plain flights where both can tell.
    Disagrees,
    /// So many were cut off before they came down that it cannot be told.
    CutOff,
}

/// A distance is told only where fewer than this share of those beyond it were
/// cut off before they came down.
const CUT: f64 = 0.05;

/// Every measure, and how many flights the searches took.
pub(super) fn reaches(
    open: &Open<'_>,
    ask: &Ask,
    landings: &[Landing],
    loose: &Proportion,
    progress: &impl Progress,
) -> (Vec<Reach>, u64) {
    let mut searched = 0;
    let ended = |landing: &&Landing| landing.in_air || landing.failed;
    let cut = landings.iter().filter(ended).count() as f64 / landings.len().max(1) as f64;
    let one = |measure: Measure| {
        let mut sorted: Vec<f64> =
            landings.iter().map(|landing| measure.of(landing.at) + open.edge).collect();
        sorted.sort_unstable_by(f64::total_cmp);
        let mut exceeded: Vec<Exceeded> =
            ask.one_in.iter().map(|one_in| left_open(counted(&sorted, *one_in), cut)).collect();
        if ask.search && loose.k >= FEW_LOOSE {
            let by = Watched { state: open.by(measure), progress };
            searched += search(&by, ask.seed, &sorted, open.edge, loose, &mut exceeded);
        }
        Reach {
            measure,
            farthest: sorted[sorted.len() - 1],
            beyond: Proportion::clopper_pearson(0, sorted.len() as u64, LEVEL).at_most(),
            exceeded,
        }
    };
    let mut reaches: Vec<Reach> = Measure::ALL.map(one).into();
    whole(&mut reaches);
    (reaches, searched)
}

/// Any direction is no less than one of them: where the searches, each with
/// its own error, say otherwise, the farthest stands.
fn whole(reaches: &mut [Reach]) {
    let [any, each @ ..] = reaches else { return };
    for (k, one) in any.exceeded.iter_mut().enumerate() {
        for other in each.iter().map(|reach| &reach.exceeded[k]) {
            let more = one.distance.zip(other.distance).is_some_and(|(one, other)| other > one);
            if one.how != How::Counted && more {
                (one.distance, one.interval) = (other.distance, other.interval);
            }
        }
    }
}

/// What is left of a distance where this share of the flights was cut off: they
/// come down farther than they were followed.
fn left_open(one: Exceeded, cut: f64) -> Exceeded {
    if cut * one.one_in < CUT {
        return one;
    }
    Exceeded { distance: None, interval: [one.interval[0], None], how: How::CutOff, ..one }
}

/// From the plain flights alone.
fn counted(sorted: &[f64], one_in: f64) -> Exceeded {
    let enough = sorted.len() as f64 / one_in >= FEW;
    let q = 1.0 - 1.0 / one_in;
    let interval = quantile_interval(sorted, q, LEVEL);
    if enough {
        let distance = quantile(sorted, q);
        return Exceeded { one_in, distance, interval, how: How::Counted };
    }
    // What they do say: it is at least so far.
    Exceeded { one_in, distance: None, interval: [interval[0], None], how: How::TooFew }
}

/// Fills what the plain flights left open, unless it was stopped; gives the
/// flights it took.
fn search(
    by: &Watched<'_, By<'_>, impl Progress>,
    seed: u64,
    sorted: &[f64],
    edge: f64,
    loose: &Proportion,
    exceeded: &mut [Exceeded],
) -> u64 {
    let open: Vec<f64> =
        exceeded.iter().filter(|one| one.how == How::TooFew).map(|one| one.one_in).collect();
    if open.is_empty() || by.dimension() == 0 {
        return 0;
    }
    let guard = GUARD.min(sorted.len() as f64 / FEW);
    let of_all = |one_in: f64| loose.estimate / one_in;
    let shares: Vec<f64> = std::iter::once(guard).chain(open.iter().copied()).map(of_all).collect();
    let found = far(by, seed, PER_LEVEL, &shares);
    if by.progress.stop() {
        return 0;
    }
    let distance = |k: usize| found.scores[k].map(|score| edge - score);
    let agrees = {
        let [_, high, low] = distance(0);
        let [least, most] = counted(sorted, guard).interval;
        least.is_none_or(|least| high >= least) && most.is_none_or(|most| low <= most)
    };
    let how = match (agrees, found.stuck) {
        (false, _) => How::Disagrees,
        (true, true) => How::End,
        (true, false) => How::Searched,
    };
    let distances: Vec<[f64; 3]> = (1..shares.len()).map(distance).collect();
    fill(exceeded, &distances, how);
    found.calls
}

/// Puts what was searched for where the plain flights are too few; `distances`:
/// value, upper and lower end. What the plain flights saw is never taken back: a
/// search that stays below it anywhere is believed nowhere.
fn fill(exceeded: &mut [Exceeded], distances: &[[f64; 3]], how: How) {
    let slots: Vec<&mut Exceeded> =
        exceeded.iter_mut().filter(|one| one.how == How::TooFew).collect();
    let pairs = || slots.iter().zip(distances);
    let taken_back =
        pairs().any(|(one, [_, high, _])| one.interval[0].is_some_and(|least| least > *high));
    let how = if taken_back { How::Disagrees } else { how };
    for (one, [value, high, low]) in slots.into_iter().zip(distances) {
        one.how = how;
        if how != How::Disagrees {
            let low = one.interval[0].map_or(*low, |least| low.max(least));
            one.distance = Some(value.max(low));
            one.interval = [Some(low), Some(*high)];
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn open(least: f64) -> Exceeded {
        Exceeded { one_in: 1e6, distance: None, interval: [Some(least), None], how: How::TooFew }
    }

    #[test]
    fn a_search_that_stays_below_what_was_seen_is_believed_nowhere() {
        let mut exceeded = [open(20.0), open(25.6)];
        fill(&mut exceeded, &[[22.0, 23.0, 21.0], [24.0, 24.5, 23.0]], How::Searched);
        assert!(exceeded.iter().all(|one| one.how == How::Disagrees && one.distance.is_none()));
        assert_eq!(exceeded[1].interval, [Some(25.6), None]);
    }

    #[test]
    fn where_flights_were_cut_off_no_distance_is_told_that_hangs_on_them() {
        let told = Exceeded { distance: Some(30.0), how: How::Counted, ..open(20.0) };
        assert_eq!(left_open(told, 0.0), told);
        let cut = left_open(told, 1e-4);
        assert_eq!((cut.distance, cut.interval, cut.how), (None, [Some(20.0), None], How::CutOff));
        let near = Exceeded { one_in: 10.0, ..told };
        assert_eq!(left_open(near, 1e-4), near);
    }

    #[test]
    fn a_distance_is_at_least_what_was_seen() {
        let mut exceeded = [open(25.0)];
        fill(&mut exceeded, &[[24.0, 26.0, 23.0]], How::Searched);
        assert_eq!(exceeded[0].distance, Some(25.0));
        assert_eq!(exceeded[0].interval, [Some(25.0), Some(26.0)]);
    }
}
