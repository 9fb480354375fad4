//! A problem as its peers read it: see `peers/problem.py`.

use crate::Aim;
use longodds_sim::{
    aero::Coefficients,
    flight::{Flight, GRAVITY},
    lane::{Curve, Lane},
};
use pulp::Scalar;
use serde_json::{Map, Value, json};
use std::{
    fs,
    io::{self, Write},
    path::Path,
};

/// Cells per doubling of the argument of a drag table.
const PER_OCTAVE: u32 = 16;

/// Writes a problem and its draws to a folder.
///
/// # Errors
///
/// Where a file cannot be written.
pub fn export(folder: &Path, name: &str, aim: &Aim, flights: &[Flight]) -> io::Result<()> {
    fs::create_dir_all(folder)?;
    let Some(first) = flights.first() else { return Ok(()) };
    let inertia = first.body.inertia;
    let mut told = json!({
        "name": name,
        "family": first.body.shape.name(),
        "mass": first.body.mass,
        "inertia": inertia.to_array(),
        "plane": aim.plane,
        "deadline": first.deadline,
        "rectangle": {"y": aim.y, "z": aim.z},
        "constants": constants(first),
    });
    if let Some(curve) = curve(&first.coefficients) {
        told["curve"] = table(&curve);
    }
    fs::write(folder.join("problem.json"), serde_json::to_vec_pretty(&told)?)?;
    let mut file = io::BufWriter::new(fs::File::create(folder.join("draws.f64"))?);
    for flight in flights {
        for number in row(flight) {
            file.write_all(&number.to_le_bytes())?;
        }
    }
    file.flush()
}

/// State and wind.
fn row(flight: &Flight) -> [f64; 15] {
    let (p, v) = (flight.start.position, flight.start.velocity);
    let (q, w) = (flight.start.attitude, flight.start.rates);
    let wind = flight.air.wind;
    [p.x, p.y, p.z, v.x, v.y, v.z, q.x, q.y, q.z, q.w, w.x, w.y, w.z, wind.x, wind.y]
}

/// The numbers in the equations of motion.
fn constants(flight: &Flight) -> Map<String, Value> {
    let i = flight.body.inertia;
    let lift = flight.air.air.density * flight.body.volume() / flight.body.mass;
    let mut all = named(&[
        ("per_mass", 1.0 / flight.body.mass),
        ("weight", GRAVITY * (1.0 - lift)),
        ("per_x", 1.0 / i.x),
        ("per_y", 1.0 / i.y),
        ("per_z", 1.0 / i.z),
        ("gyro_x", (i.y - i.z) / i.x),
        ("gyro_y", (i.z - i.x) / i.y),
        ("gyro_z", (i.x - i.y) / i.z),
    ]);
    all.extend(match flight.coefficients {
        Coefficients::Sphere(s) => named(&[("reynolds", s.reynolds), ("drag", s.drag)]),
        Coefficients::Rod(r) => named(&[
            ("reynolds", r.reynolds),
            ("across", r.across),
            ("strip", r.strip),
            ("damping", r.damping),
            ("end", r.end),
            ("skin", r.skin),
            ("nose", r.nose),
            ("half", r.half),
        ]),
        Coefficients::Plate(p) => named(&[
            ("slope", 1.7 / 40.0_f64.to_radians()),
            ("stall", libm::pow(libm::sin(40.0_f64.to_radians()), 2.0)),
            ("normal", p.normal),
            ("face_on", p.face_on),
            ("lead_x", p.lead_x),
            ("lead_y", p.lead_y),
            ("friction", p.friction),
            ("edge_x", p.edge_x),
            ("edge_y", p.edge_y),
            ("tip_x", p.tip_x),
            ("tip_y", p.tip_y),
            ("lift_x", p.lift_x),
            ("lift_y", p.lift_y),
            ("torque_x", p.torque_x),
            ("torque_y", p.torque_y),
            ("roll_x", p.roll_x),
            ("roll_y", p.roll_y),
            ("spin", p.spin),
            ("radius", p.radius),
        ]),
        Coefficients::Ball(_)
        | Coefficients::Custom(_)
        | Coefficients::Lump(_)
        | Coefficients::Bar(_)
        | Coefficients::Cone(_)
        | Coefficients::Disc(_)
        | Coefficients::Block(_) => Map::new(),
    });
    all
}

fn named(pairs: &[(&str, f64)]) -> Map<String, Value> {
    pairs.iter().map(|(name, value)| ((*name).to_owned(), json!(value))).collect()
}

/// The drag table that peers fly by, the drag crisis of the flight in it.
fn curve(coefficients: &Coefficients) -> Option<Curve> {
    match coefficients {
        Coefficients::Sphere(sphere) => Some(sphere.curve()),
        Coefficients::Rod(rod) => Some(rod.curve()),
        Coefficients::Ball(_)
        | Coefficients::Custom(_)
        | Coefficients::Plate(_)
        | Coefficients::Lump(_)
        | Coefficients::Bar(_)
        | Coefficients::Cone(_)
        | Coefficients::Disc(_)
        | Coefficients::Block(_) => None,
    }
}

/// A drag table as cubics per cell, read off the engine's own.
fn table(curve: &Curve) -> Value {
    let [lowest, highest] = curve.range();
    let at = |x: f64| curve.at(Lane::splat(Scalar, x)).get(0);
    let mut cells = Vec::new();
    let mut octave = lowest;
    while octave < highest {
        let width = octave / f64::from(PER_OCTAVE);
        for part in 0..PER_OCTAVE {
            let left = octave + width * f64::from(part);
            let [a, b, c, d] = [0.0, 1.0, 2.0, 3.0].map(|third| at(left + width * third / 3.0));
            cells.push([
                a,
                (-11.0 * a + 18.0 * b - 9.0 * c + 2.0 * d) / 2.0,
                9.0 * (2.0 * a - 5.0 * b + 4.0 * c - d) / 2.0,
                9.0 * (-a + 3.0 * b - 3.0 * c + d) / 2.0,
            ]);
        }
        octave *= 2.0;
    }
    json!({
        "first": libm::ilogb(lowest),
        "lowest": lowest,
        "highest": highest,
        "cells": cells,
    })
}
