//! What flights have to say, as HTML: the pictures and words of `reports`.

use longodds_reports::{Frame, chance as number, chart, story};
use longodds_sim::{
    answer::what_if,
    findings::Findings,
    quantity::Show,
    sweep::WhatIf,
    words::{Voice, capital},
};
use maud::html;

/// As wide as the middle of the page is on a laptop, so that letters are of the size
/// that they are meant to be.
pub(crate) const MIDDLE: Frame = Frame { width: 600, ..Frame::page() };

/// The chance with its interval, the word for it, and what is open.
pub(crate) fn chance(found: &Findings) -> String {
    number(found).into_string()
}

/// The chain, drawn.
pub(crate) fn chain(found: &Findings) -> String {
    chart::chain(found, Frame::page()).inline()
}

/// The flights, drawn.
pub(crate) fn flights(found: &Findings) -> String {
    chart::flights(found, MIDDLE).inline()
}

/// Where it breaks, the likeliest way, the next step, the first caution.
pub(crate) fn note(found: &Findings) -> String {
    story(found).into_string()
}

/// The pinned version beside this one.
pub(crate) fn difference(found: &WhatIf, show: Show) -> String {
    let said = what_if(found, Voice::set(show));
    html! {
        dl.difference {
            dt { "Pinned" } dd { (said.before) }
            dt { "Now" } dd { (said.after) }
            dt { "Change" } dd { strong { (capital(&said.change)) "." } }
        }
        @if let Some(draws) = said.draws { p { (draws) "." } }
    }
    .into_string()
}

/// That there is nothing to compare with.
pub(crate) fn no_difference(why: Option<&str>) -> String {
    html! {
        @if let Some(why) = why { p { "The pinned version cannot be flown: " (why) "." } }
    }
    .into_string()
}
