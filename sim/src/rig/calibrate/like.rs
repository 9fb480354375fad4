//! Shots that are alike, gathered: a long log costs no more than a short one.

use super::Shot;
use crate::{math::ln, rig::Rig};

/// Up to so many shots each stands by itself.
const FEW: usize = 60;
/// Among more, settings within this share of each other are one.
const SETTING: f64 = 0.005;
/// And uncertainties within this share.
const DOUBT: f64 = 0.1;

/// Shots of one setting, mass and uncertainty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Like {
    pub(super) setting: f64,
    pub(super) mass: f64,
    /// Relative standard uncertainty of the speed.
    pub(super) doubt: f64,
    /// How many, as a number to reckon with.
    pub(super) count: f64,
    /// Mean ln speed.
    pub(super) ln_speed: f64,
    /// Sum of squares about that mean.
    pub(super) within: f64,
}

/// Gathers shots, if they are many.
pub(super) fn gathered(rig: &Rig, shots: &[Shot]) -> Vec<Like> {
    let one = |shot: &Shot| Like {
        setting: shot.setting,
        mass: shot.mass.unwrap_or(rig.object.mass),
        doubt: shot.speed.uncertainty / shot.speed.value,
        count: 1.0,
        ln_speed: ln(shot.speed.value),
        within: 0.0,
    };
    let mut all: Vec<Like> = shots.iter().map(one).collect();
    if all.len() <= FEW {
        return all;
    }
    all.sort_by(|a, b| {
        let settings = a.setting.total_cmp(&b.setting).then(a.mass.total_cmp(&b.mass));
        settings.then(a.doubt.total_cmp(&b.doubt)).then(a.ln_speed.total_cmp(&b.ln_speed))
    });
    let mut groups: Vec<Like> = Vec::new();
    for shot in all {
        let near = |a: f64, b: f64, share: f64| (a - b).abs() <= share * b;
        let same = |group: &&mut Like| {
            near(shot.setting, group.setting, SETTING)
                && near(shot.mass, group.mass, 1e-9)
                && near(shot.doubt, group.doubt, DOUBT)
        };
        match groups.iter_mut().rev().take(8).find(same) {
            Some(group) => {
                let away = shot.ln_speed - group.ln_speed;
                group.count += 1.0;
                group.ln_speed += away / group.count;
                group.within += away * (shot.ln_speed - group.ln_speed);
            }
            None => groups.push(shot),
        }
    }
    groups
}
