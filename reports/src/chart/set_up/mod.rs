//! The set-up to scale before anything flies: from the side and from above, at one
//! scale.

mod dimensions;
mod marks;
#[cfg(test)]
mod tests;
mod views;

pub use self::views::Views;

use super::{nothing, view::View};
use crate::{
    canvas::{Canvas, Frame, heading_height},
    picture::Picture,
    words,
};
use longodds_sim::{
    findings::{FaceFinding, Findings, FlightFinding, SetUp},
    math::hypot,
    quantity::{Dimension, Show},
};

/// The set-up of a claim.
#[must_use]
pub fn set_up(set_up: &SetUp, frame: Frame) -> Picture {
    set_up_in(set_up, &[], &Views::of(set_up, frame), frame)
}

/// The set-up of a run.
#[must_use]
pub fn set_up_of(findings: &Findings, frame: Frame) -> Picture {
    let Some(found) = SetUp::of(findings) else {
        let why = "The record is older than this picture.";
        return nothing("set-up", "No set-up was kept for drawing", why, frame);
    };
    set_up(&found, frame)
}

/// The set-up in views that are held while something in it is moved, with flights over
/// it, if there are any.
#[must_use]
pub fn set_up_in(
    set_up: &SetUp,
    flights: &[FlightFinding],
    views: &Views,
    frame: Frame,
) -> Picture {
    let (title, subtitle) = (title(set_up), subtitle(set_up));
    let canvas = Canvas::new(frame, views.height());
    canvas.heading(&title, &subtitle);
    for view in [View::Side, View::Plan] {
        let panel = views.panel(&canvas, view);
        let drawn = marks::Drawn { canvas: &canvas, panel: &panel, set_up, view };
        drawn.name(views.name_at(view));
        drawn.veils();
        drawn.target();
        drawn.paths(flights);
        drawn.way();
        drawn.object();
        dimensions::draw(&drawn);
        drawn.names();
    }
    marks::weather(&canvas, views, set_up);
    dimensions::scale_bar(&canvas, views, set_up.show);
    marks::larger(&canvas, views, set_up);
    canvas.finish("set-up", &title, &subtitle)
}

/// Height of title and subtitle, with room under them, px.
fn head(set_up: &SetUp, frame: Frame) -> f64 {
    heading_height(f64::from(frame.width), &title(set_up), &subtitle(set_up))
}

/// The aimed face whose middle is nearest over the ground, and how far.
fn nearest(set_up: &SetUp) -> Option<(&FaceFinding, f64)> {
    let [x, y, _] = set_up.start.at;
    let away = |face: &FaceFinding| hypot(face.centre[0] - x, face.centre[1] - y);
    let aimed = set_up.faces.iter().filter(|face| face.aim);
    aimed.map(|face| (face, away(face))).min_by(|a, b| a.1.total_cmp(&b.1))
}

/// Nearer than this over the ground is the same place, in m.
const SAME: f64 = 5e-3;

fn long(length: f64, show: Show) -> String {
    words::quantity(length, Dimension::Length, show)
}

fn title(set_up: &SetUp) -> String {
    let noun = match set_up.object.noun.as_str() {
        "" => "object",
        noun => noun,
    };
    let up = long(set_up.start.at[2], set_up.show);
    let Some((face, away)) = nearest(set_up) else {
        return format!("The {noun} starts {up} up; nothing is aimed at");
    };
    let name = face.name.replace('_', " ");
    if away < SAME {
        return format!("The {noun} starts {up} up, over the middle of the {name}");
    }
    let away = long(away, set_up.show);
    format!("The {noun} starts {up} up, {away} from the middle of the {name}")
}

fn subtitle(set_up: &SetUp) -> String {
    let arc = match set_up.start.launch {
        Some(_) => " Dashed: its aim, and the arc that it would fly without air.",
        None => "",
    };
    format!(
        "Before anything flies: all in its middle, both views to one scale; pale: how far \
         spreads reach, 9 times in 10.{arc}"
    )
}
