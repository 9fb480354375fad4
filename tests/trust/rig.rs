//! Launchers, frames and the camera.

use super::row::{Kind, Row, Said, Tolerance};
use longodds_sim::rig::{
    Load,
    camera::{Passage, blur, tracked_uncertainty},
    cord::{Cord, Elastic},
    frame::{Frame, STEEL_MODULUS, Section, Support},
    pressure::{Expansion, Pressure},
    rubber::{Law, energy_density, stress},
};

pub(super) fn rows() -> Vec<Row> {
    let mut rows = rubber();
    rows.extend(cords());
    rows.extend(gas());
    rows.extend(frames());
    rows.extend(camera());
    rows
}

fn rubber() -> Vec<Row> {
    let measured = Said {
        model: "rubber",
        source: "L. R. G. Treloar, Trans. Faraday Soc. 40 (1944) 59: natural rubber in tension, a table reprinted in many texts",
        kind: Kind::SecondHand,
        unit: "kgf/cm²",
        tolerance: Tolerance::Share(0.035),
        range: "slow first loading of unfilled natural rubber, stretch to 7.6",
    };
    // Least squares of relative errors over all 24 of his points.
    let modulus = 0.4254e6;
    let ours = |stretch| modulus * stress(Law::Rubber, stretch) / 98_066.5;
    let table = [
        (1.125, 1.37),
        (1.39, 3.23),
        (1.9, 5.10),
        (3.02, 8.80),
        (4.03, 12.5),
        (5.36, 19.9),
        (6.4, 31.0),
        (7.4, 53.3),
    ];
    let mut rows: Vec<Row> = table
        .into_iter()
        .map(|(stretch, published)| {
            measured.row(format!("pull at {stretch} times the length"), published, ours(stretch))
        })
        .collect();
    let neo = Said {
        source: "neo-Hookean law, by hand",
        kind: Kind::Derived,
        unit: "shear moduli",
        tolerance: Tolerance::By(1e-6),
        ..measured
    };
    rows.push(neo.row("stress at twice the length", 1.75, stress(Law::NeoHookean, 2.0)));
    rows.push(neo.row(
        "energy at three times the length",
        10.0 / 3.0,
        energy_density(Law::NeoHookean, 3.0),
    ));
    rows
}

fn cords() -> Vec<Row> {
    let said = |unit, tolerance| Said {
        model: "cord",
        source: "six bands of 10 mm, 0.6 m, 0.4 MPa by the neo-Hookean law, by hand",
        kind: Kind::Derived,
        unit,
        tolerance,
        range: "straight, taut cords lighter than what they push",
    };
    let cord = Cord {
        count: 6,
        relaxed: 0.6,
        section: Cord::round(0.01),
        density: 930.0,
        elastic: Elastic::Material { shear_modulus: 0.4e6, law: Law::NeoHookean },
        resting_stretch: 1.0,
        largest_stretch: None,
    };
    let (force, energy) = (said("N", Tolerance::By(0.01)), said("J", Tolerance::By(2e-3)));
    vec![
        said("kg", Tolerance::By(1e-6)).row("mass of the bands", 0.262_951, cord.mass()),
        force.row("pull at 0.3 m", 198.97, cord.pull(0.3)),
        force.row("pull at 1.2 m", 544.54, cord.pull(1.2)),
        energy.row("energy at 0.6 m", 113.097, cord.energy(0.6)),
        energy.row("energy at 1.2 m", 376.991, cord.energy(1.2)),
    ]
}

fn gas() -> Vec<Row> {
    let said = |unit, tolerance| Said {
        model: "gas gun",
        source: "Rohrbach, Buresh & Madsen, Am. J. Phys. 80 (2012) 24 (arXiv 1106.2803): its equations, by hand",
        kind: Kind::Read,
        unit,
        tolerance,
        range: "air, a tight seal, well below the speed of sound; fast-valve forms are upper bounds",
    };
    let atmosphere = 101_325.0;
    let gun = |expansion| Pressure {
        volume: 2e-3,
        bore: 1.963_50e-3,
        length: 1.0,
        atmosphere,
        expansion,
        rated: None,
    };
    let gauge = 300_000.0 - atmosphere;
    let load = |resistance| Load { object: 0.3, carriage: 0.0, resistance, drag: 0.0 };
    let speed =
        |expansion, resistance| gun(expansion).run(gauge, 0.3, &load(resistance)).speed(1.0);
    let (fast, joules) = (said("m/s", Tolerance::Share(2e-4)), said("J", Tolerance::Share(1e-4)));
    let valve = |diameter: f64| Expansion::Valve {
        discharge: 0.8,
        area: Cord::round(diameter),
        dead_volume: 10e-6,
    };
    let slow = said("m/s", Tolerance::Share(0.01));
    vec![
        fast.row(
            "2 L at 3 bar, 50 mm by 1 m, 0.3 kg: no heat comes in",
            32.6685,
            speed(Expansion::Adiabatic, 0.0),
        ),
        fast.row("the same at constant temperature", 37.5443, speed(Expansion::Isothermal, 0.0)),
        fast.row("no heat comes in, 20 N of friction", 30.5598, speed(Expansion::Adiabatic, 20.0)),
        slow.row("through a valve of 8 mm", 10.81, speed(valve(8e-3), 0.0)),
        slow.row("through a valve of 20 mm", 34.78, speed(valve(20e-3), 0.0)),
        joules.row(
            "stored, no heat comes in",
            399.97,
            gun(Expansion::Adiabatic).adiabatic_energy(gauge),
        ),
        joules.row(
            "stored, constant temperature",
            253.92,
            gun(Expansion::Isothermal).isothermal_energy(gauge),
        ),
    ]
}

fn frames() -> Vec<Row> {
    let said = |unit, published: f64| Said {
        model: "frame",
        source: "elastic bending of beams (textbook formulas), 50.8 x 3.175 mm square tube, by hand",
        kind: Kind::Derived,
        unit,
        tolerance: Tolerance::By(published * 2e-4),
        range: "slender members below yield",
    };
    let section = Section::SquareTube { width: 50.8e-3, wall: 3.175e-3 };
    let frame = |support, span| Frame {
        section,
        span,
        support,
        beams: 1,
        yield_strength: 315e6,
        modulus: STEEL_MODULUS,
        section_factor: 1.0,
    };
    let mid = frame(Support::BothEnds, 1.5).bending(2000.0);
    let end = frame(Support::OneEnd, 1.0).bending(1000.0);
    let maker = Said {
        source: "a maker's table of circular hollow sections, cold formed",
        kind: Kind::Read,
        // The table has three digits.
        tolerance: Tolerance::Share(5e-3),
        ..said("cm⁴", 0.0)
    };
    let tubes = [(48.3, 3.0, 11.0), (60.3, 4.0, 28.2), (88.9, 5.0, 116.0)];
    let round = tubes.map(|(diameter, wall, published)| {
        let tube = Section::RoundTube { diameter: diameter * 1e-3, wall: wall * 1e-3 };
        let claim = format!("second moment of area, tube {diameter} x {wall} mm");
        maker.row(claim, published, tube.inertia() * 1e8)
    });
    let mut rows = vec![
        said("mm⁴", 229_659.0).row("second moment of area", 229_659.0, section.inertia() * 1e12),
        said("MPa", 82.949).row("2 kN in the middle of 1.5 m: stress", 82.949, mid.stress / 1e6),
        said("mm", 3.0616).row("2 kN in the middle of 1.5 m: sag", 3.0616, mid.deflection * 1e3),
        said("MPa", 110.60).row("1 kN at the end of 1 m: stress", 110.60, end.stress / 1e6),
        said("mm", 7.257).row("1 kN at the end of 1 m: sag", 7.257, end.deflection * 1e3),
    ];
    rows.extend(round);
    rows
}

fn camera() -> Vec<Row> {
    let said = |unit, tolerance| Said {
        model: "camera",
        source: "JCGM 100:2008, 5.1.2 (law of propagation) and two random phases, variance 1/6, by hand",
        kind: Kind::Derived,
        unit,
        tolerance,
        range: "steady speed over the distance, a sharp picture",
    };
    let speed = Passage::plain(40.0, 2.0, 1000.0).speed().unwrap();
    let (exact, fine) = (said("m/s", Tolerance::By(1e-9)), said("m/s", Tolerance::By(5e-5)));
    vec![
        exact.row("40 frames over 2 m at 1000 frames/s", 50.0, speed.speed),
        fine.row("its standard uncertainty", 0.510_31, speed.uncertainty),
        fine.row("slowest that the count allows", 48.7805, speed.limits[0]),
        fine.row("fastest that the count allows", 51.2821, speed.limits[1]),
        fine.row(
            "a line through 10 frames, 3 mm of noise",
            0.330_29,
            tracked_uncertainty(10, 3e-3, 1000.0),
        ),
        said("m", Tolerance::By(1e-9)).row(
            "smear at 50 m/s in 1/4000 s",
            0.0125,
            blur(50.0, 1.0 / 4000.0),
        ),
    ]
}
