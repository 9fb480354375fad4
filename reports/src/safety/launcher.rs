//! Stored energy and loads of a launcher, with the part that fails first.

use super::{list, missing};
use longodds_sim::{
    quantity::{Dimension, Show, format, significant},
    rig::prediction::Prediction,
};
use maud::{Markup, html};

/// A launcher at a setting.
#[derive(Clone, Copy, Debug)]
pub struct Loaded<'l> {
    /// The rig's name.
    pub name: &'l str,
    /// The setting in words.
    pub setting: &'l str,
    /// What it does there.
    pub prediction: &'l Prediction,
    /// Units of display.
    pub show: Show,
}

/// The part that is nearest to its limit, and its limit over what it bears; `None` where
/// no limit is told.
pub(super) fn fails_first(p: &Prediction) -> Option<(&'static str, f64)> {
    let margin = |limit: Option<f64>, load: Option<f64>| Some(limit? / load.filter(|l| *l > 0.0)?);
    let all = [
        ("winch or latch", margin(p.pull_limit, p.pull)),
        ("the object itself", margin(p.survives, Some(p.acceleration))),
        ("length of the run", margin(p.run_up_limit, Some(p.run_up))),
        // Yield under a load that comes on at once.
        ("frame beam", p.frame.as_ref().map(|frame| frame.sudden_safety_factor)),
    ];
    let told = all.into_iter().filter_map(|(part, margin)| Some((part, margin?)));
    told.min_by(|a, b| a.1.total_cmp(&b.1))
}

pub(super) fn part(rig: Option<&Loaded<'_>>) -> Markup {
    let Some(rig) = rig else {
        let ask = "longodds safety … --rig RIG --setting …";
        return html! { section { h2 { "The launcher" } (missing("a launcher; if nothing is launched, strike this out", ask)) } };
    };
    let (p, show) = (rig.prediction, rig.show);
    let force = |v: f64| format(v, Dimension::Force, show);
    let energy = |v: f64| format(v, Dimension::Energy, show);
    html! {
        section {
            h2 { "The launcher: " (rig.name) " at " (rig.setting) }
            @if p.limits_kept == Some(false) { p.missing { strong { "OVER A LIMIT OF THE RIG: DO NOT LOAD IT." } } }
            ul {
                li { "Holds " strong { (energy(p.held_energy)) } "; " (energy(p.object_energy)) " leave with the object, " (energy(p.carriage_energy)) " must be taken out of carriage and cords." }
                @if let Some(pull) = p.pull { li { "Pull on winch or latch: " (force(pull)) } }
                li { "Recoil on the anchor: " (force(p.recoil)) }
                @match fails_first(p) {
                    Some((part, margin)) => li { "Of what is told, nearest to its limit: " strong { (part) } ", which bears " (significant(margin, 2)) " times this." },
                    None => li { strong { "No limit is told: what fails first is not known." } },
                }
                @for limit in &p.limits_to_find { li { strong { "Find out first: " } (limit) } }
            }
            (list(&p.cautions))
        }
    }
}
