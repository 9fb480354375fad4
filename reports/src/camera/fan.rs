//! The fan of flights, and how many do it.

use super::{MARGIN, fitted, sheet};
use crate::{
    canvas::{Canvas, Frame, Panel},
    chart::{Fate, View, body, closest_flight, deciding, flat, flight_window, lines, marks, scene},
    picture::Picture,
    words,
};
use longodds_sim::findings::{Chance, Findings};

/// Room for the words at the top, px.
const HEAD: f64 = 76.0;

pub(super) fn fan(findings: &Findings, frame: Frame) -> Option<Picture> {
    if findings.flights.is_empty() {
        return None;
    }
    let canvas = sheet(frame);
    let window = flight_window(findings, View::Side);
    let room = (canvas.width() - 2.0 * MARGIN, canvas.height() - HEAD - MARGIN);
    let scale = (room.0 / window.wide()).min(room.1 / window.high());
    let left = (canvas.width() - window.wide() * scale) / 2.0;
    let top = HEAD + (room.1 - window.high() * scale).max(0.0);
    let panel = window.panel(&canvas, left, top, scale);
    scene(&canvas, &panel, findings, View::Side);
    lines(&canvas, &panel, findings, View::Side);
    let shown = |fate| fate != Fate::Missed;
    marks(&canvas, &panel, findings, (View::Side, 3.4), shown);
    one_striking(&canvas, &panel, findings);
    let claim = &findings.claim;
    let words = match words::counted(claim) {
        Some((0, all)) => format!("none of {} does it", words::count(all)),
        _ if claim.at_most => format!("at most {}", doing_it(claim)),
        Some((1, 1)) => "the one flight does it".to_owned(),
        Some((held, all)) => format!("{} of {} do it", words::count(held), words::count(all)),
        None => doing_it(claim),
    };
    let text =
        fitted(&words::capital(&words), 52.0, canvas.width() - 2.0 * MARGIN, canvas.palette.ink);
    canvas.text((MARGIN, MARGIN + 38.0), text.halo(canvas.palette.halo));
    let title = format!("{words}: a sample of flights from the side");
    Some(canvas.finish("fan", &title, &title))
}

/// "39 % do it", "1 in 19,000 does it".
fn doing_it(claim: &Chance) -> String {
    let share = claim.spoken();
    format!("{} {} it", share.set(), if share.is_one() { "does" } else { "do" })
}

/// The object as it strikes, once: the paths are of its centre, and would seem
/// to end in the air.
fn one_striking(canvas: &Canvas, panel: &Panel, findings: &Findings) {
    let flight = closest_flight(findings).filter(|flight| flight.struck);
    let strike = flight.and_then(|flight| deciding(findings, flight));
    if let Some(strike) = strike.filter(|one| panel.holds(flat(&one.point))) {
        body(canvas, panel, findings, &strike.point);
    }
}
