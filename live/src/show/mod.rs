//! What flights have to say, as HTML.

use longodds_sim::{
    engine::Tally,
    estimate::{LEVEL, Proportion},
    words::{Spoken, interval},
};
use maud::{Markup, html};

/// The chance with its interval.
pub(crate) fn chance(tally: &Tally) -> Markup {
    let held = tally.fates.last().copied().unwrap_or(0);
    let p = Proportion::printed(held, tally.flights(), LEVEL);
    html! {
        p.number { (Spoken::inside(p.estimate, p.low, p.high)) }
        p.interval { (interval(p.low, p.high)) }
    }
}
