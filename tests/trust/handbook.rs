//! What handbooks and textbooks print of drag, beside ours.

use super::{
    row::{Kind, Row, Said, Tolerance},
    shapes::drag,
};
use glam::DVec3;
use longodds_sim::{
    aero::{cylinder_drag, sphere_drag},
    body::Shape,
};
use std::f64::consts::FRAC_PI_4;

pub(super) fn rows() -> Vec<Row> {
    let mut rows = flat();
    rows.extend(round());
    rows.extend(across());
    rows
}

fn said(model: &'static str, source: &'static str, share: f64, range: &'static str) -> Said {
    let tolerance = Tolerance::Share(share);
    Said { model, source, kind: Kind::Read, unit: "", tolerance, range }
}

const THIN: &str = "thin and stiff, Re above 1e4";
const SHARP: &str = "sharp edges, square to the flow";
/// A table of drag at Reynolds number 1e5, read.
const TABLE: &str = "Palmer, Physics for Game Programmers, table 5-3";
const MATTHEWS: &str = "Matthews, Aeronautical Engineer's Data Book, p. 95";

fn flat() -> Vec<Row> {
    let plate = |length, width| {
        let thin = Shape::Plate { length, width, thickness: 0.01 };
        drag(thin, DVec3::Z) / (length * width)
    };
    let disc = drag(Shape::Disc { diameter: 1.0, thickness: 0.01 }, DVec3::Z) / FRAC_PI_4;
    let cube = Shape::Block { length: 1.0, width: 1.0, height: 1.0 };
    let edge = drag(cube, DVec3::new(1.0, 1.0, 0.0)) / 2.0_f64.sqrt();
    let agency = "NASA Glenn, Shape Effects on Drag: a flat plate";
    let box_table =
        "Palmer, Physics for Game Programmers, table 5-3: 1.05 to 1.07, turned 0.8 to 0.81";
    vec![
        said("plate", TABLE, 0.03, THIN).row("square, face-on, Re 1e5", 1.17, plate(1.0, 1.0)),
        said("plate", agency, 0.12, THIN).row("flat plate", 1.28, plate(1.0, 1.0)),
        said("plate", MATTHEWS, 0.05, THIN).row("long, face-on", 1.98, plate(100.0, 1.0)),
        said("disc", "aerospaceweb.org, Drag of Cylinders & Cones, after Hoerner", 0.03, THIN)
            .row("face-on", 1.17, disc),
        said("disc", "OpenStax College Physics, table of drag coefficients", 0.06, THIN).row(
            "circular flat plate",
            1.12,
            disc,
        ),
        said("disc", "an open set of coefficients of golf discs, at 90°", 0.03, THIN).row(
            "flying disc, face-on",
            1.187,
            disc,
        ),
        said("block", box_table, 0.10, "sharp-edged boxes").row(
            "cube, face-on",
            1.06,
            drag(cube, DVec3::X),
        ),
        said("block", box_table, 0.10, "sharp-edged boxes").row(
            "cube, edge-on, on its shadow",
            0.805,
            edge,
        ),
    ]
}

fn round() -> Vec<Row> {
    let level = "before the crisis, Re 1e4 to 1e5";
    let book = "OpenStax College Physics, table of drag coefficients";
    let end_on = drag(Shape::Cylinder { length: 3.0, diameter: 1.0 }, DVec3::X) / FRAC_PI_4;
    let cone = Shape::Cone { length: 0.5 / libm::tan(30.0_f64.to_radians()), diameter: 1.0 };
    let hoerner =
        "aerospaceweb.org, Drag of Cylinders & Cones, after Hoerner: longer than two diameters";
    vec![
        said("sphere", book, 0.15, level).row("sphere", 0.45, sphere_drag(1e5)),
        said("sphere", TABLE, 0.08, level).row(
            "sphere at Re 1e5, 0.4 to 0.47",
            0.435,
            sphere_drag(1e5),
        ),
        said("cone", TABLE, 0.06, SHARP).row(
            "apex first, 60°, Re 1e5",
            0.5,
            drag(cone, DVec3::X) / FRAC_PI_4,
        ),
        said("cylinder", hoerner, 0.15, SHARP).row("end-on, three times as long", 0.81, end_on),
    ]
}

fn across() -> Vec<Row> {
    let matthews = said("cylinder", MATTHEWS, 0.10, "across the flow, before the crisis");
    let diameter = 0.05;
    let mut rows = vec![matthews.row("long, across", 1.2, cylinder_drag(1e5))];
    for (ratio, published) in [(1.0, 0.63), (2.0, 0.68), (5.0, 0.74), (10.0, 0.82), (40.0, 0.98)] {
        let length = ratio * diameter;
        let ours = drag(Shape::Cylinder { length, diameter }, DVec3::Y) / (length * diameter);
        rows.push(matthews.row(format!("across, {ratio} diameters long"), published, ours));
    }
    rows
}
