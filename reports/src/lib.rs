//! Findings as charts and one self-contained page.
//!
//! Everything is drawn from a [`Findings`] record alone: nothing is simulated,
//! printed or written here. Pictures come as SVG text and as PNG bytes, the
//! page as one HTML text that works offline from a single file.

mod axis;
pub mod camera;
mod canvas;
pub mod chart;
mod contour;
mod evidence;
pub mod font;
pub mod look;
mod page;
pub mod picture;
mod safety;
pub mod sheet;
mod slate;
mod test_day;
pub mod words;

#[cfg(test)]
mod looking;
#[cfg(test)]
mod sample;
#[cfg(test)]
mod snapshots;
#[cfg(test)]
mod titles;

pub use self::{
    canvas::Frame,
    evidence::{Evidence, ExclusionChart},
    page::{Kept, chance, page, page_with, story},
    picture::Picture,
    safety::{Loaded, SafetySheet, safety},
    slate::slate,
    test_day::test_day,
};

use longodds_sim::findings::Findings;

/// Every chart of a record, in the order of the page.
#[must_use]
pub fn pictures(findings: &Findings) -> Vec<Picture> {
    let frame = Frame::page();
    [
        chart::chain,
        chart::set_up_of,
        chart::flights,
        chart::tumble,
        chart::hits,
        chart::barrier,
        chart::impact_speed,
        chart::miss_distance,
        chart::obliquity,
        chart::drivers,
    ]
    .map(|chart| chart(findings, frame))
    .into()
}
