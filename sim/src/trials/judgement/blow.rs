//! The blows of real shots, like ones gathered.

use crate::math::ln;
use serde::Serialize;

/// Above so many shots those within [`ALIKE`] of each other are gathered.
const MANY: usize = 200;
/// Blows whose logarithms differ by less are as good as equal.
const ALIKE: f64 = 0.005;

/// One real shot's blow on the barrier.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Blow {
    /// Its size, J or m/s (in units of what a formula says, where one does).
    pub size: f64,
    /// Standard deviation of its logarithm: how well that size is known.
    pub doubt: f64,
    /// Did it go through?
    pub through: bool,
}

/// Shots that are the same, as told.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Group {
    /// ln of the size.
    pub(super) ln: f64,
    pub(super) doubt: f64,
    /// How many went through.
    pub(super) through: u32,
    /// How many were stopped.
    pub(super) stopped: u32,
}

impl Group {
    pub(super) fn shots(&self) -> u32 {
        self.through + self.stopped
    }
}

/// Gathers blows, whatever their order.
pub(super) fn grouped(blows: &[Blow]) -> Vec<Group> {
    let step = if blows.len() > MANY { ALIKE } else { 0.0 };
    gathered(blows, step)
}

/// Gathers blows within `step` of the first of their group.
pub(super) fn gathered(blows: &[Blow], step: f64) -> Vec<Group> {
    let mut sorted: Vec<(f64, f64, bool)> =
        blows.iter().map(|blow| (ln(blow.size), blow.doubt, blow.through)).collect();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.cmp(&b.2)));
    let mut groups: Vec<Group> = Vec::new();
    let mut first = f64::NAN;
    for (at, doubt, through) in sorted {
        let alike = |group: &&mut Group| {
            at - first <= step && (step > 0.0 || (group.doubt - doubt).abs() <= 0.0)
        };
        let (one, other) = (u32::from(through), u32::from(!through));
        match groups.last_mut().filter(alike) {
            Some(group) => {
                let shots = f64::from(group.shots());
                group.ln = (group.ln * shots + at) / (shots + 1.0);
                group.doubt = (group.doubt * shots + doubt) / (shots + 1.0);
                group.through += one;
                group.stopped += other;
            }
            None => {
                first = at;
                groups.push(Group { ln: at, doubt, through: one, stopped: other });
            }
        }
    }
    groups
}
