//! Published injury criteria.

use super::row::{Kind, Row, Said, Tolerance};
use longodds_sim::{
    harm::{
        blunt::{Struck, THORAX_HALF, WALL_MALE, criterion, energy_at},
        energy::{FRAGMENT_DENSITY, PERSON_AREA, strike_chance},
        head::{Curve, concussion_chance, hic, hic_of, injury_chance},
        skin::entry_speed_bound,
    },
    release::{Pulse, PulseShape},
    scenario::library::criteria,
};
use std::f64::consts::FRAC_PI_4;

const G: f64 = 9.806_65;

pub(super) fn rows() -> Vec<Row> {
    let mut rows = head();
    rows.extend(curves());
    rows.extend(body());
    rows
}

fn head() -> Vec<Row> {
    let said = Said {
        model: "harm",
        source: "49 CFR 571.208 S6, the criterion second-hand; its largest stretch by calculus",
        kind: Kind::SecondHand,
        unit: "",
        tolerance: Tolerance::Share(1e-4),
        range: "a broad blow to a head that is free to move",
    };
    let pulse = |shape, peak: f64, duration| Pulse { shape, peak: peak * G, duration };
    let of = |shape, peak, duration| hic_of(&pulse(shape, peak, duration)).unwrap();
    let long = pulse(PulseShape::HalfSine, 80.0, 0.03);
    let samples: Vec<f64> = (0..=30_000).map(|i| long.at(f64::from(i) * 1e-6)).collect();
    vec![
        said.row("square pulse of 100 g for 10 ms", 1000.0, of(PulseShape::Square, 100.0, 0.01)),
        said.row("half-sine of 100 g for 10 ms", 414.65, of(PulseShape::HalfSine, 100.0, 0.01)),
        said.row(
            "half-sine of 80 g for 30 ms over 15 ms, sampled",
            660.395,
            hic(&samples, 1e-6, 0.015),
        ),
    ]
}

fn curves() -> Vec<Row> {
    let said = |source, kind| Said {
        model: "harm",
        source,
        kind,
        unit: "",
        tolerance: Tolerance::Share(2e-3),
        range: "HIC over 15 ms; the two families differ by a factor of two",
    };
    let lognormal = said("lognormal curves of NHTSA", Kind::SecondHand);
    let logistic = said("logistic curves of Prasad & Mertz, expanded", Kind::SecondHand);
    let at = |hic, severity, curve| injury_chance(hic, severity, curve).unwrap();
    vec![
        lognormal.row("HIC 700: AIS 2 or worse", 0.3131, at(700.0, 2, Curve::Lognormal)),
        lognormal.row("HIC 700: AIS 3 or worse", 0.1116, at(700.0, 3, Curve::Lognormal)),
        lognormal.row("HIC 1000: AIS 4 or worse", 0.1084, at(1000.0, 4, Curve::Lognormal)),
        logistic.row("HIC 250: AIS 1 or worse", 0.3285, at(250.0, 1, Curve::Logistic)),
        logistic.row("HIC 700: AIS 3 or worse", 0.2551, at(700.0, 3, Curve::Logistic)),
        logistic.row("HIC 1500: AIS 2 or worse", 0.9903, at(1500.0, 2, Curve::Logistic)),
        logistic.row("HIC 700: AIS 4 or worse", 0.0613, at(700.0, 4, Curve::Logistic)),
        said("Rowson & Duma 2013, football players", Kind::SecondHand).row(
            "concussion at 98 g and 6432 rad/s²",
            0.284_678,
            concussion_chance(98.0 * G, 6432.0),
        ),
    ]
}

fn body() -> Vec<Row> {
    let said = |source, kind, unit, tolerance| Said {
        model: "harm",
        source,
        kind,
        unit,
        tolerance,
        range: "rigid blunt objects of 2 to 12 cm, 20 to 100 m/s",
    };
    let blunt = said(
        "blunt criterion: Clare et al. 1975; Sturdivan et al. 2004; by hand",
        Kind::Memory,
        "",
        Tolerance::By(5e-5),
    );
    let joules = said(
        "the same: Bir & Viano 2004, even chance at 0.37",
        Kind::Memory,
        "J",
        Tolerance::By(0.05),
    );
    let chest = Struck::chest(70.0, WALL_MALE);
    let debris = said(
        "DDESB TP-12: 1 - exp(-q A), one fragment on 600 ft²",
        Kind::SecondHand,
        "",
        Tolerance::By(1e-5),
    );
    let grain = 6.479_891e-5;
    let skin = said(
        "DiMaio et al. 1982, first page: measured on bare skin; ours is a lower bound by Sellier (from memory)",
        Kind::Read,
        "m/s",
        Tolerance::Share(0.45),
    );
    let limit = said("14 CFR 107.130(a)(1): 25 ft lbf", Kind::Read, "J", Tolerance::Share(1e-4));
    let chest_skin = said("Bir et al. 2005, abstract", Kind::Read, "J/cm²", Tolerance::By(1e-9));
    let energy = |name: &str| criteria::criterion(name).unwrap().value;
    let enters = |grains: f64, diameter: f64| {
        entry_speed_bound(grains * grain, FRAC_PI_4 * diameter * diameter)
    };
    vec![
        blunt.row(
            "145 g ball of 7.3 cm at 30 m/s, chest of 70 kg",
            -0.300_896,
            criterion(65.25, 0.073, &chest),
        ),
        blunt.row(
            "140 g of 3.7 cm at 60 m/s, chest of 70 kg",
            1.729_85,
            criterion(252.0, 0.037, &chest),
        ),
        joules.row(
            "energy of an even chance, ball of 7.3 cm",
            127.628,
            energy_at(THORAX_HALF, 0.073, &chest),
        ),
        limit.row("of an unmanned aircraft over people", 33.895, energy("drone_over_people")),
        chest_skin.row(
            "even chance through skin of the chest",
            23.99,
            energy("skin_penetration_chest"),
        ),
        debris.row(
            "a standing person is struck",
            0.010_346,
            strike_chance(FRAGMENT_DENSITY, PERSON_AREA),
        ),
        skin.row("8.25 gr of 4.5 mm enters skin", 101.0, enters(8.25, 4.5e-3)),
        skin.row("16.5 gr of 5.59 mm enters skin", 75.0, enters(16.5, 5.59e-3)),
        skin.row("113 gr of .38 enters skin", 58.0, enters(113.0, 9.07e-3)),
    ]
}
