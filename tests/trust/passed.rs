//! What standards' tests ask, and how things give way.

use super::row::{Kind, Row, Said, Tolerance};
use longodds_sim::scenario::library::{
    Strength, entry,
    stuff::{Gives, stuff},
};

pub(super) fn rows() -> Vec<Row> {
    let mut rows = tests();
    rows.extend(soft());
    rows
}

fn energy(name: &str) -> f64 {
    match entry(name).unwrap().strength {
        Strength::AtLeast(energy) => energy,
        Strength::Prior { median, .. } => median,
    }
}

fn tests() -> Vec<Row> {
    let said = |kind, source| Said {
        model: "tests passed",
        source,
        kind,
        unit: "J",
        tolerance: Tolerance::Share(5e-3),
        range: "the test's own missile, square on; a bound, not a strength",
    };
    let steel = said(Kind::SecondHand, "UL 2218: balls of 1.25 to 2 in from 12 to 20 ft");
    let ice =
        said(Kind::SecondHand, "FM 4473, the energies of a published free-fall table, in ft·lbf");
    let hail = said(Kind::SecondHand, "IEC 61215: 25 mm at 23.0 m/s, 45 mm at 30.7 m/s");
    let ball = said(
        Kind::Read,
        "UN R43 and ANSI Z26.1 compared in 81st GRSG informal document 7 (2001): 2.26 kg from 4 m and from 12 ft",
    );
    let tornado = said(
        Kind::Read,
        "Impact resistance of common building materials to tornado missiles, abstract: 15 lb planks at 65 and 100 mph",
    );
    let early = said(
        Kind::Read,
        "Developing a test method for a very severe hail rating, ASTM STP 1590 (2015), abstract: FM 4473 with 2 in ice from 23.75 ft lbf on",
    );
    let newer = Said {
        tolerance: Tolerance::Share(0.15),
        ..said(
            Kind::Read,
            "FM Approvals, Updated Standard 4475 (2022): what FM 4473 asks now; ours is the older and lower",
        )
    };
    let foot_pound = 1.355_817_948_331_4;
    vec![
        steel.row("class 1", 4.719, energy("ul2218_1")),
        steel.row("class 2", 10.192, energy("ul2218_2")),
        steel.row("class 3", 18.343, energy("ul2218_3")),
        steel.row("class 4", 32.213, energy("ul2218_4")),
        ball.row("heavy ball on a windscreen, 4 m", 88.652, energy("r43_windscreen")),
        ball.row("heavy ball on a windscreen, 12 ft", 81.117, energy("z26_windscreen")),
        tornado.row("hollow block gives way", 2872.4, energy("hollow_block_wall")),
        tornado.row("grouted block stands", 6798.6, energy("grouted_block_wall")),
        ice.row("ice, class 1", 3.53 * foot_pound, energy("fm4473_1")),
        ice.row("ice, class 4", 23.71 * foot_pound, energy("fm4473_4")),
        early.row("ice, class 4, early tests", 23.75 * foot_pound, energy("fm4473_4")),
        newer.row("ice, class 2, newer edition", 7.77 * foot_pound, energy("fm4473_2")),
        newer.row("ice, class 3, newer edition", 14.95 * foot_pound, energy("fm4473_3")),
        newer.row("ice, class 4, newer edition", 26.81 * foot_pound, energy("fm4473_4")),
        hail.row("25 mm of ice", 1.992, energy("hail_25")),
        hail.row("45 mm of ice", 20.7, energy("hail_45")),
    ]
}

fn soft() -> Vec<Row> {
    let said = |kind, source, tolerance| Said {
        model: "softness",
        source,
        kind,
        unit: "MPa",
        tolerance,
        range: "up to 60 m/s; which pressure it is, nobody knows: an unknown",
    };
    let water = said(
        Kind::SecondHand,
        "gelatine after Wilbeck: ρ(1482.9 m/s + 2v)v at first, then ½ρv², by hand for 950 kg/m³",
        Tolerance::Share(5e-3),
    );
    let within = |name: &str, share| stuff(name).unwrap().gives.pressure(share, 1.0) / 1e6;
    let gel = Gives::Flows { density: 950.0 };
    let mut rows = Vec::new();
    for (speed, first, then) in [(15.0, 21.6, 0.107), (30.0, 44.0, 0.428), (60.0, 91.4, 1.71)] {
        rows.push(water.row(
            format!("first instant at {speed} m/s"),
            first,
            gel.pressure(1.0, speed) / 1e6,
        ));
        rows.push(water.row(
            format!("steady at {speed} m/s"),
            then,
            gel.pressure(0.0, speed) / 1e6,
        ));
    }
    let ice = said(
        Kind::Read,
        "Gagnon & Gammon 1997, abstract: 25 to 41 MPa at the centre, 50 at most",
        Tolerance::Share(0.05),
    );
    rows.push(ice.row("ice at its hardest, warm end to cold end", 41.0, within("ice", 1.0)));
    rows
}
