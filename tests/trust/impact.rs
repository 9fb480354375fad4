//! What bodies do to each other, what shakes a load loose, what follows.

use super::row::{Kind, Row, Said, Tolerance};
use glam::DVec3;
use longodds_sim::{
    barrier::residual::{lambert_jonas, recht_ipson},
    contact::{Brakes, Manoeuvre},
    release::{
        Pulse, PulseShape, collide,
        lashing::{self, OverTop},
        loosen::{Friction, lift_off_speed, slide},
    },
};

const G: f64 = 9.806_65;

pub(super) fn rows() -> Vec<Row> {
    let mut rows = collisions();
    rows.extend(residual());
    rows.extend(pulses());
    rows.extend(loads());
    rows.extend(lift_off());
    rows.extend(traffic());
    rows
}

fn collisions() -> Vec<Row> {
    let said = |source, kind| Said {
        model: "first touch",
        source,
        kind,
        unit: "m/s",
        tolerance: Tolerance::Share(1e-3),
        range: "rigid bodies in line",
    };
    let text = said("OpenStax College Physics, collisions, worked examples", Kind::Read);
    let caught = collide([0.15, 70.0], [35.0, 0.0], 0.0);
    let elastic = collide([0.5, 3.5], [4.0, 0.0], 1.0);
    let derived = said("momentum and restitution, by hand", Kind::Derived);
    let cars = collide([1500.0, 2000.0], [20.0, 0.0], 0.1);
    vec![
        text.row("0.15 kg puck at 35 m/s caught by 70 kg", 7.48e-2, caught.after[1]),
        text.row("0.5 kg at 4 m/s bounces off 3.5 kg: the light one", -3.0, elastic.after[0]),
        text.row("0.5 kg at 4 m/s bounces off 3.5 kg: the heavy one", 1.0, elastic.after[1]),
        derived.row("1500 kg at 20 m/s into 2000 kg, restitution 0.1", 9.428_571, cars.after[1]),
    ]
}

fn residual() -> Vec<Row> {
    let recht = Said {
        model: "residual speed",
        source: "Recht & Ipson, J. Appl. Mech. 30 (1963) 384: formula in an open routine, by hand",
        kind: Kind::SecondHand,
        unit: "m/s",
        tolerance: Tolerance::By(5e-4),
        range: "above the limit speed",
    };
    let lambert = Said {
        source: "Lambert & Jonas, BRL R-1852 (1976): formula second-hand, by hand",
        ..recht
    };
    vec![
        recht.row(
            "150 m/s against a limit of 100 m/s, no plug",
            111.8034,
            recht_ipson(150.0, 100.0, 1.0),
        ),
        recht.row(
            "the same with a plug of a fifth of the mass",
            93.1695,
            recht_ipson(150.0, 100.0, 0.5 / 0.6),
        ),
        lambert.row(
            "200 m/s, limit 120, factor 0.9, exponent 2.5",
            157.936,
            lambert_jonas(200.0, 120.0, 0.9, 2.5),
        ),
        lambert.row(
            "200 m/s, limit 120, factor 1, exponent 2",
            160.0,
            lambert_jonas(200.0, 120.0, 1.0, 2.0),
        ),
    ]
}

fn pulses() -> Vec<Row> {
    let said = Said {
        model: "coming loose",
        source: "areas under the pulses, by hand",
        kind: Kind::Derived,
        unit: "m/s",
        tolerance: Tolerance::By(5e-4),
        range: "any pulse",
    };
    let change = |shape| Pulse { shape, peak: 20.0 * G, duration: 0.1 }.speed_change();
    vec![
        said.row("20 g square for 100 ms", 19.6133, change(PulseShape::Square)),
        said.row("20 g half-sine for 100 ms", 12.4862, change(PulseShape::HalfSine)),
        said.row("20 g haversine for 100 ms", 9.806_65, change(PulseShape::Haversine)),
    ]
}

fn loads() -> Vec<Row> {
    let newtons = |source, kind, tolerance| Said {
        model: "coming loose",
        source,
        kind,
        unit: "N",
        tolerance,
        range: "rigid load on a level bed",
    };
    let federal = newtons("49 CFR 393.102 (an undated text)", Kind::Read, Tolerance::By(0.01));
    let european = newtons("EN 12195-1:2010", Kind::SecondHand, Tolerance::By(0.01));
    let tension = |acceleration, friction, count, degrees: f64, safety| {
        OverTop { mass: 1000.0, acceleration, friction, count, angle: degrees.to_radians(), safety }
            .tension()
    };
    let sliding = slide(0.8 * G, Friction::of(0.45), 2.0).unwrap();
    let speed = Said {
        unit: "m/s",
        tolerance: Tolerance::By(5e-5),
        ..newtons(
            "CTU Code, Appendix 2: sliding is three quarters of static friction",
            Kind::Read,
            Tolerance::By(0.0),
        )
    };
    vec![
        federal.row("forwards, 0.8 g on 1000 kg", 7845.32, lashing::force(1000.0, 0.8)),
        federal.row("working load, 0.435 g on 1000 kg", 4265.89, lashing::force(1000.0, 0.435)),
        european.row(
            "one over-top lashing forwards, friction 0.45",
            4768.75,
            tension(0.8, 0.45, 1, 90.0, 1.25),
        ),
        european.row("two at 75° sideways, friction 0.4", 698.229, tension(0.5, 0.4, 2, 75.0, 1.1)),
        speed.row("0.8 g, friction 0.45, 2 m of free way", 4.259_38, sliding.speed),
    ]
}

fn lift_off() -> Vec<Row> {
    let said = Said {
        model: "lift-off",
        source: "weight against the force of the air, U = √(2 I m g/(ρ C A)), by hand",
        kind: Kind::Derived,
        unit: "m/s",
        tolerance: Tolerance::By(5e-4),
        range: "loose sheets in a steady wind; the force coefficient is an assumption",
    };
    let speed = |areal: f64, coefficient: f64, hold: f64| {
        lift_off_speed(areal, 1.0, 1.2, coefficient, hold)
    };
    vec![
        said.row("12 mm plywood of 600 kg/m³", 10.848, speed(7.2, 1.0, 1.0)),
        said.row("0.5 mm steel sheet", 8.0095, speed(3.925, 1.0, 1.0)),
        said.row("12 mm plywood lying flat, coefficient 0.3", 19.8057, speed(7.2, 0.3, 1.0)),
        said.row("12 mm plywood held by three times its weight", 18.7893, speed(7.2, 1.0, 3.0)),
    ]
}

fn traffic() -> Vec<Row> {
    let said = |kind, source| Said {
        model: "course of the target",
        source,
        kind,
        unit: "m",
        tolerance: Tolerance::Share(3e-3),
        range: "dry, level road",
    };
    let road = said(Kind::SecondHand, "AASHTO, in exam guides: 2.5 s and 11.2 ft/s²");
    let car = DVec3::X * 25.0;
    let brakes = Manoeuvre::new(car, Some(Brakes { after: 2.5, at: 3.4 }), None).unwrap();
    let way = (car * 60.0 + brakes.away(60.0)).length();
    vec![road.row("stopping from 25 m/s", 154.041, way)]
}
