//! Whole flights against closed forms and measured speeds.

use super::row::{Kind, Row, Said, Tolerance};
use glam::DVec3;
use longodds_sim::{
    aero::Coefficients,
    body::{Body, Shape, Surface},
    rig::drop,
    world::Air,
};
use std::f64::consts::PI;

pub(super) fn rows() -> Vec<Row> {
    let mut rows = closed_forms();
    rows.extend(raindrops());
    rows.extend(terminals());
    rows
}

fn closed_forms() -> Vec<Row> {
    let said = Said {
        model: "motion",
        source: "free fall with drag in proportion to the speed squared: v = vt sqrt(1 - exp(-2 g h/vt²))",
        kind: Kind::Derived,
        unit: "m/s",
        tolerance: Tolerance::By(5e-5),
        range: "any height, attitude kept",
    };
    vec![
        said.row("fall of 1 m without air", 4.428_69, drop::speed(1.0, f64::INFINITY)),
        said.row("fall of 10 m, terminal speed 30 m/s", 13.2753, drop::speed(10.0, 30.0)),
        said.row("fall of 50 m, terminal speed 42 m/s", 27.427_731, drop::speed(50.0, 42.0)),
        said.row("fall of 1000 m, terminal speed 60 m/s", 59.870_732, drop::speed(1000.0, 60.0)),
    ]
}

/// Speed at which the air bears the weight of a body that falls along z as it
/// stands, in m/s.
pub(super) fn terminal(body: &Body, air: &Air) -> f64 {
    let coefficients = Coefficients::new(body, air, 1.0);
    let weight = body.mass * 9.806_65;
    let (mut low, mut high) = (1e-6, 1e3);
    for _ in 0..200 {
        let speed = 0.5 * (low + high);
        let (force, _) = coefficients.load(DVec3::new(0.0, 0.0, -speed), DVec3::ZERO);
        if force.z < weight { low = speed } else { high = speed }
    }
    low
}

fn raindrops() -> Vec<Row> {
    let said = Said {
        model: "sphere",
        source: "Gunn & Kinzer, J. Meteorol. 6 (1949) 243, table in an open cloud library (read): drops of water that stay round",
        kind: Kind::SecondHand,
        unit: "m/s",
        tolerance: Tolerance::Share(0.10),
        range: "0.2 to 1.6 mm at 20 °C; larger drops flatten",
    };
    let air = Air::moist(293.15, 101_325.0, 0.5);
    let table = [
        (0.2, 0.72),
        (0.3, 1.17),
        (0.4, 1.62),
        (0.6, 2.47),
        (0.8, 3.27),
        (1.0, 4.03),
        (1.2, 4.64),
        (1.4, 5.17),
        (1.6, 5.65),
    ];
    table
        .into_iter()
        .map(|(millimetres, published)| {
            let diameter = millimetres * 1e-3;
            let mass = 998.2 * PI * diameter * diameter * diameter / 6.0;
            let drop = Body::solid(Shape::Sphere { diameter }, mass);
            said.row(
                format!("a raindrop of {millimetres} mm falls at"),
                published,
                terminal(&drop, &air),
            )
        })
        .collect()
}

fn terminals() -> Vec<Row> {
    let air = Air::moist(288.15, 101_325.0, 0.0);
    let speed = |diameter: f64, mass: f64, surface| {
        let body = Body { surface, ..Body::solid(Shape::Sphere { diameter }, mass) };
        terminal(&body, &air)
    };
    let ball = |diameter: f64, density: f64, surface| {
        speed(diameter, density * PI * diameter * diameter * diameter / 6.0, surface)
    };
    let said = |kind, source, share, range| Said {
        model: "sphere",
        source,
        kind,
        unit: "m/s",
        tolerance: Tolerance::Share(share),
        range,
    };
    let cast = said(
        Kind::SecondHand,
        "ASTM E1038: 4.4 √d, d in mm",
        0.03,
        "ice cast for tests, 25 to 75 mm",
    );
    let register = said(
        Kind::Read,
        "a Swiss register of hail tests: 25, 50 and 80 mm",
        0.03,
        "ice cast for tests, 868 kg/m³",
    );
    let recent = said(
        Kind::SecondHand,
        "Heymsfield et al., J. Atmos. Sci. 75 (2018) 3861, by its Reynolds law; an unknown spans both laws",
        0.25,
        "natural hail of 870 kg/m³, 25 to 75 mm",
    );
    let older = Said {
        source: "Rasmussen & Heymsfield 1987, by its Reynolds law as open hail routines have it (read)",
        ..recent
    };
    let games = said(
        Kind::Memory,
        "textbook terminal speeds; place and depth of the drag crisis are unknowns",
        0.3,
        "balls as made; the middle of what the crisis leaves open",
    );
    let ball_game = Said {
        kind: Kind::SecondHand,
        source: "a textbook's terminal speed as a calculator repeats it; place and depth of the drag crisis are unknowns",
        ..games
    };
    let mut rows = Vec::new();
    for (millimetres, published) in [(25.0, 22.0), (50.0, 31.1), (75.0, 38.1)] {
        let ours = ball(millimetres * 1e-3, 917.0, Surface::CastIce);
        rows.push(cast.row(format!("cast ice of {millimetres} mm"), published, ours));
    }
    for (millimetres, published) in [(25.0, 21.8), (50.0, 30.8), (80.0, 39.0)] {
        let ours = ball(millimetres * 1e-3, 869.0, Surface::CastIce);
        rows.push(register.row(format!("test ice of {millimetres} mm"), published, ours));
    }
    for (millimetres, new, old) in [(25.0, 14.4, 19.7), (50.0, 20.0, 27.8), (75.0, 24.2, 34.1)] {
        let ours = ball(millimetres * 1e-3, 870.0, Surface::Hail);
        rows.push(recent.row(format!("hailstone of {millimetres} mm"), new, ours));
        rows.push(older.row(format!("hailstone of {millimetres} mm"), old, ours));
    }
    rows.push(games.row("basketball", 20.0, speed(0.24, 0.6, Surface::Pebbled)));
    rows.push(ball_game.row("baseball", 42.0, speed(0.0732, 0.145, Surface::Seamed)));
    rows
}
