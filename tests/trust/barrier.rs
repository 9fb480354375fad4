//! Steel, concrete, and what a test says.

use super::row::{Kind, Row, Said, Tolerance};
use longodds_sim::barrier::{
    Missile,
    concrete::{self, ConcreteWall, Nose},
    fragility::{Fragility, bound_after_no_perforation, measured_limit},
    scaling,
    steel::{SteelPlate, brl, sri},
};

pub(super) fn rows() -> Vec<Row> {
    let mut rows = steel();
    rows.extend(walls());
    rows.extend(curves());
    rows
}

const FOOT_POUND: f64 = 1.355_817_948_331_4;

fn missile(mass: f64, diameter: f64, speed: f64) -> Missile {
    Missile { mass, diameter, length: 20.0 * diameter, speed }
}

fn steel() -> Vec<Row> {
    let said = |source, share| Said {
        model: "steel",
        source,
        kind: Kind::Memory,
        unit: "J",
        tolerance: Tolerance::Share(share),
        range: "blunt rigid missiles, plate 0.1 to 0.6 (0.8) of their diameter thick, 21 to 122 m/s",
    };
    let plate = |thickness, strength, span| SteelPlate { thickness, strength, span };
    let inch = 0.0254;
    let brl_us = said("BRL formula in US units, by hand: 8 lb, 1 in rod, 317 ft/s", 2e-3);
    let sri_us = said("SRI formula in US units, by hand", 5e-3);
    vec![
        brl_us.row(
            "energy just through 20.351 mm, rod of 25.4 mm",
            12_493.2 * FOOT_POUND,
            brl(&plate(20.351e-3, 4e8, 0.6), &missile(3.6287, inch, 96.6)).value,
        ),
        brl_us.row(
            "energy just through 3 mm, missile of 50 mm",
            2644.76,
            brl(&plate(3e-3, 4e8, 0.6), &missile(2.0, 0.05, 50.0)).value,
        ),
        sri_us.row(
            "energy just through 1/4 in of 60 ksi over 24 in, missile of 2 in",
            8387.10 * FOOT_POUND,
            sri(
                &plate(0.25 * inch, 60_000.0 * 6894.757, 24.0 * inch),
                &missile(5.0, 2.0 * inch, 60.0),
            )
            .value,
        ),
    ]
}

fn walls() -> Vec<Row> {
    let said = |source, kind, unit, share| Said {
        model: "concrete",
        source,
        kind,
        unit,
        tolerance: Tolerance::Share(share),
        range: "hard missiles end on, 40 to 1000 m/s (NDRC), 20 to 200 m/s (CEA-EDF)",
    };
    let ndrc = said(
        "modified NDRC: Kennedy, Nucl. Eng. Des. 37 (1976), in a thesis on missile impact and an open routine after UFC 3-340-02; by hand",
        Kind::SecondHand,
        "missile diameters",
        2e-3,
    );
    let ram = missile(20.0, 0.1, 60.0);
    let fast = missile(50.0, 0.08, 150.0);
    let depth =
        |strength, missile: &Missile, nose| concrete::penetration(strength, missile, nose).value;
    let flat = depth(30e6, &ram, Nose::Flat);
    let cea = said("CEA-EDF: Berriaud et al. 1978; by hand", Kind::Memory, "m/s", 2e-3);
    let ukaea = said("UKAEA: Barr 1990; by hand", Kind::Memory, "m/s", 2e-3);
    let degen = said(
        "Degen 1980, as DOE-STD-3014 App. C, C 6-13 and 6-14, states it; by hand",
        Kind::Read,
        "missile diameters",
        2e-3,
    );
    let wall = |thickness, reinforcement| ConcreteWall {
        thickness,
        strength: 30e6,
        density: 2400.0,
        reinforcement,
    };
    vec![
        ndrc.row("penetration, 20 kg of 100 mm at 60 m/s, 30 MPa, flat", 0.632_643, flat),
        ndrc.row(
            "penetration, 50 kg of 80 mm at 150 m/s, 35 MPa, blunt",
            4.126_31,
            depth(35e6, &fast, Nose::Blunt),
        ),
        ndrc.row("wall just perforated by the first", 1.7308, concrete::perforated(flat).unwrap()),
        ndrc.row("wall just scabbed by the first", 2.9790, concrete::scabbed(flat).unwrap()),
        degen.row(
            "wall just perforated by the first",
            1.2717,
            concrete::perforated_degen(flat).unwrap(),
        ),
        cea.row(
            "limit speed of 0.2 m for the first missile",
            89.103,
            concrete::cea_edf_limit(&wall(0.2, 1.0), &ram).value,
        ),
        ukaea.row(
            "limit speed of 148.42 mm with 0.5 %",
            53.546,
            concrete::ukaea_limit(&wall(0.148_42, 0.5), &ram, std::f64::consts::PI * 0.1).value,
        ),
    ]
}

fn curves() -> Vec<Row> {
    let said = |source, kind, unit, tolerance| Said {
        model: "fragility",
        source,
        kind,
        unit,
        tolerance,
        range: "as far as the shots behind the curve",
    };
    let chance = said("the normal integral, by hand", Kind::Derived, "", Tolerance::By(5e-6));
    let none = said("1 - 0.05^(1/n): exact binomial bound", Kind::Derived, "", Tolerance::By(5e-5));
    let lognormal = Fragility::Lognormal { median: 100.0, beta: 0.1 };
    let probit = Fragility::Probit { median: 100.0, deviation: 10.0 };
    let v50 =
        said("MIL-STD-662F rule, arithmetic by hand", Kind::Memory, "m/s", Tolerance::By(1e-9));
    let moved = said(
        "De Marre 1890, exponents 0.75, 0.7, 0.5 as an open routine has them; by hand",
        Kind::SecondHand,
        "times",
        Tolerance::Share(1e-4),
    );
    let shot = |thickness, mass| scaling::Shot { diameter: 0.05, thickness, mass };
    let mut rows = vec![
        chance.row(
            "lognormal of median 100, 0.1: chance at 110",
            0.829_731,
            lognormal.chance(110.0),
        ),
        chance.row("lognormal of median 100, 0.1: chance at 90", 0.146_032, lognormal.chance(90.0)),
        chance.row("probit of 100 ± 10: chance at 110", 0.841_345, probit.chance(110.0)),
        v50.row(
            "limit from three stopped and three through",
            99.0,
            measured_limit(&[95.0, 98.0, 99.0], &[97.0, 101.0, 104.0]).unwrap().v50,
        ),
        moved.row(
            "half as thick again: limit speed",
            1.328_20,
            scaling::de_marre(1.0, &shot(0.01, 1.0), &shot(0.015, 1.0)),
        ),
        moved.row(
            "twice the mass: limit speed",
            0.5_f64.sqrt(),
            scaling::de_marre(1.0, &shot(0.01, 1.0), &shot(0.01, 2.0)),
        ),
    ];
    for (shots, published) in [(10, 0.258_87), (29, 0.098_14), (59, 0.049_51), (299, 0.009_97)] {
        rows.push(none.row(
            format!("none through in {shots} shots: at most"),
            published,
            bound_after_no_perforation(shots),
        ));
    }
    rows
}
