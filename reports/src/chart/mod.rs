//! The charts, one idea and one file each: `fn(&Findings, Frame) -> Picture`.
//!
//! A chart's title is a sentence with its numbers in it, and says what the
//! chart proves. Where there is nothing to show, the picture says why.

mod barrier;
mod calibration;
mod chain;
mod comparison;
mod decision;
mod drivers;
mod exclusion;
mod fate;
mod filming;
mod flights;
mod histogram;
mod hits;
mod judgement;
mod map;
mod moment;
mod object;
mod set_up;
mod shelf;
mod spreads;
mod sweep;
mod trials;
mod tumble;
mod view;

#[cfg(test)]
pub(crate) use self::drivers::LITTLE;
pub use self::{
    barrier::barrier,
    calibration::{CalibrationChart, calibration},
    chain::chain,
    comparison::comparison,
    decision::Decision,
    drivers::drivers,
    exclusion::exclusion,
    filming::{FilmingChart, filming},
    flights::flights,
    hits::hits,
    judgement::{JudgementChart, judgement},
    map::map,
    set_up::{Views, set_up, set_up_in, set_up_of},
    shelf::{Drawn, Thing, shelf},
    spreads::{impact_speed, miss_distance, obliquity},
    sweep::sweep,
    trials::{PlanChart, PlanRow, trials},
    tumble::tumble,
};

pub(crate) use self::{
    fate::Fate,
    flights::{fate_of, lines, marks, window as flight_window},
    moment::{Deciding, at_time, deciding},
    tumble::{body, closest as closest_flight, flat, shown_until, window as tumble_window},
    view::{View, Window, scene},
};

use crate::{
    canvas::{Canvas, Frame, Text, heading_height},
    look,
    picture::Picture,
};

/// A picture that says why there is nothing to draw.
fn nothing(name: &str, title: &str, why: &str, frame: Frame) -> Picture {
    let height = heading_height(f64::from(frame.width), title, why) + 8.0;
    let canvas = Canvas::new(frame, height);
    canvas.heading(title, why);
    canvas.finish(name, title, why)
}

/// Small print.
fn small(words: impl Into<String>, canvas: &Canvas) -> Text {
    Text::new(words, look::TICK, canvas.palette.quiet)
}
