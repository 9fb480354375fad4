//! What the air does to each shape, by looks at one attitude and speed.

use super::row::{Kind, Row, Said, Tolerance};
use glam::DVec3;
use longodds_sim::{
    aero::{
        Coefficients, bar_drag, cylinder_drag, irregular_drag, settled_drag, sphere_drag, spin_lift,
    },
    body::{Body, Shape, Surface},
    world::Air,
};
use std::f64::consts::FRAC_PI_4;

pub(super) fn rows() -> Vec<Row> {
    let mut rows = balls();
    rows.extend(spin());
    rows.extend(cylinders());
    rows.extend(ends());
    rows.extend(flat());
    rows.extend(bars());
    rows.extend(lumps());
    rows
}

fn air() -> Air {
    Air::moist(288.15, 101_325.0, 0.0)
}

/// Force of the air over dynamic pressure, in m², of a body that moves along this
/// direction of its own at this speed (m/s).
fn push(shape: Shape<f64>, surface: Surface, direction: DVec3, speed: f64) -> DVec3 {
    let body = Body { surface, ..Body::solid(shape, 1.0) };
    let coefficients = Coefficients::new(&body, &air(), 1.0);
    let (force, _) = coefficients.load(direction.normalize() * speed, DVec3::ZERO);
    force / (0.5 * air().density * speed * speed)
}

/// Drag over dynamic pressure, in m², along this direction of its own at 20 m/s.
pub(super) fn drag(shape: Shape<f64>, direction: DVec3) -> f64 {
    -push(shape, Surface::Plain, direction, 20.0).dot(direction.normalize())
}

fn said(
    model: &'static str,
    kind: Kind,
    source: &'static str,
    tolerance: Tolerance,
    range: &'static str,
) -> Said {
    Said { model, source, kind, unit: "", tolerance, range }
}

fn balls() -> Vec<Row> {
    let steady = said(
        "sphere",
        Kind::SecondHand,
        "rigid spheres, Pruppacher & Klett, table 10.1",
        Tolerance::Share(0.09),
        "Reynolds number below the crisis",
    );
    let formula = Said {
        source: "Clift & Gauvin 1971, formula by hand",
        tolerance: Tolerance::Share(0.15),
        ..steady
    };
    let mut rows: Vec<Row> =
        [(10.0, 4.29), (30.0, 2.11), (57.0, 1.51), (100.0, 1.10), (300.0, 0.63)]
            .into_iter()
            .map(|(re, published)| {
                steady.row(format!("drag at Re {re}"), published, sphere_drag(re))
            })
            .collect();
    for (re, published) in [(1e3, 0.466_152), (1e4, 0.416_720), (1e5, 0.491_752)] {
        rows.push(formula.row(format!("drag at Re {re:.0e}"), published, sphere_drag(re)));
    }
    rows
}

fn spin() -> Vec<Row> {
    let said = said(
        "curve of the spinning ball",
        Kind::SecondHand,
        "Sawicki, Hubbard & Stronge, Am. J. Phys. 71 (2003) 1152",
        Tolerance::By(1e-9),
        "baseballs, Re 1.1e5 to 2.4e5, rim speed up to 0.6 of the speed",
    );
    [(0.05, 0.075), (0.1, 0.15), (0.2, 0.21), (0.5, 0.39)]
        .into_iter()
        .map(|(spin, published)| {
            said.row(
                format!("lift at a rim speed of {spin}"),
                published,
                spin_lift(Surface::Seamed, spin),
            )
        })
        .collect()
}

fn cylinders() -> Vec<Row> {
    let fit = said(
        "cylinder",
        Kind::Library,
        "White 1991 as a heat transfer library has it: 1.18 + 6.8/Re^0.89 + 1.96/√Re - 0.0004 Re/(1 + 3.64e-7 Re²)",
        Tolerance::Share(0.2),
        "across the flow, long, before the crisis",
    );
    let level = Said {
        kind: Kind::SecondHand,
        source: "Jorgensen, NASA TN D-6996, figure 2",
        tolerance: Tolerance::By(0.05),
        ..fit
    };
    let published = |re: f64| {
        1.18 + 6.8 * libm::pow(re, -0.89) + 1.96 / re.sqrt() - 4e-4 * re / (1.0 + 3.64e-7 * re * re)
    };
    let mut rows: Vec<Row> = [10.0, 100.0, 1e3, 1e4, 1e5]
        .into_iter()
        .map(|re| fit.row(format!("drag at Re {re:.0e}"), published(re), cylinder_drag(re)))
        .collect();
    rows.push(level.row("drag at Re 1e5", 1.2, cylinder_drag(1e5)));
    rows
}

fn ends() -> Vec<Row> {
    let range = "sharp edges, square to the flow";
    let matthews = said(
        "cylinder",
        Kind::Read,
        "Matthews, Aeronautical Engineer's Data Book, p. 95; ours adds skin friction",
        Tolerance::Share(0.06),
        range,
    );
    let cone = Said { model: "cone", ..matthews };
    let end_on =
        |length: f64| drag(Shape::Cylinder { length, diameter: 1.0 }, DVec3::X) / FRAC_PI_4;
    let apex = |angle: f64| {
        let length = 0.5 / libm::tan(angle.to_radians() / 2.0);
        drag(Shape::Cone { length, diameter: 1.0 }, DVec3::X) / FRAC_PI_4
    };
    let wider = Said {
        kind: Kind::SecondHand,
        source: "a fluid mechanics textbook's drag table; the sources disagree by 1.6, which an unknown carries",
        tolerance: Tolerance::Share(0.4),
        ..cone
    };
    vec![
        matthews.row("end-on, as long as wide", 0.91, end_on(1.0)),
        matthews.row("end-on, twice as long as wide", 0.85, end_on(2.0)),
        cone.row("apex first, 30°", 0.34, apex(30.0)),
        cone.row("apex first, 60°", 0.51, apex(60.0)),
        wider.row("apex first, 30°", 0.55, apex(30.0)),
        wider.row("apex first, 60°", 0.80, apex(60.0)),
    ]
}

fn flat() -> Vec<Row> {
    let plate = |length, width| Shape::Plate { length, width, thickness: 0.01 };
    let face = |length: f64, width: f64| drag(plate(length, width), DVec3::Z) / (length * width);
    let matthews = said(
        "plate",
        Kind::Read,
        "Matthews, Aeronautical Engineer's Data Book, p. 95",
        Tolerance::Share(0.03),
        "thin and stiff, Re above 1e4",
    );
    let holmes = Said {
        kind: Kind::Memory,
        source: "Holmes, Letchford & Lin, J. Wind Eng. Ind. Aerodyn. 94 (2006) 21; stall is a jump there",
        tolerance: Tolerance::By(0.03),
        ..matthews
    };
    let normal = |degrees: f64| {
        let (sine, cosine) = libm::sincos(degrees.to_radians());
        push(plate(1.0, 1.0), Surface::Plain, DVec3::new(cosine, 0.0, sine), 20.0).z.abs()
    };
    vec![
        matthews.row("square, face-on", 1.17, face(1.0, 1.0)),
        holmes.row("square, normal force at 5°", 0.2125, normal(5.0)),
        holmes.row("square, normal force at 10°", 0.425, normal(10.0)),
    ]
}

fn bars() -> Vec<Row> {
    let norm = said(
        "bar",
        Kind::Memory,
        "EN 1991-1-4, figure 7.23, logarithmic between its points",
        Tolerance::By(1e-3),
        "long, sharp edges, square to a face",
    );
    let text = Said {
        kind: Kind::SecondHand,
        source: "a fluid mechanics textbook's table at Re 1e5; an unknown of 0.85 to 1.2 carries the difference",
        tolerance: Tolerance::Share(0.2),
        ..norm
    };
    let mut rows = vec![
        norm.row("38 x 89 mm, wide face to the wind", 2.242, bar_drag(38.0 / 89.0)),
        norm.row("38 x 89 mm, narrow face to the wind", 1.538, bar_drag(89.0 / 38.0)),
    ];
    for (ratio, published) in
        [(0.1, 1.9), (0.5, 2.5), (0.65, 2.9), (1.0, 2.2), (2.0, 1.6), (3.0, 1.3)]
    {
        rows.push(text.row(format!("depth over height {ratio}"), published, bar_drag(ratio)));
    }
    rows
}

fn lumps() -> Vec<Row> {
    let settling = said(
        "lump",
        Kind::Derived,
        "Haider & Levenspiel, Powder Technol. 58 (1989) 63, formula by hand",
        Tolerance::Share(1e-3),
        "settling lumps of sphericity 0.67 to 1, Re up to 2.5e4",
    );
    let fast = said(
        "lump",
        Kind::SecondHand,
        "Can. J. Chem. Eng. 37 (1959), abstract read, its exponent reconstructed",
        Tolerance::Share(2e-3),
        "settling at Re above 2e3, on a quarter of the surface",
    );
    let mut rows: Vec<Row> = [
        (100.0, 0.906, 1.129_505),
        (100.0, 0.806, 1.284_568),
        (1e4, 0.806, 1.391_541),
        (1e4, 0.67, 2.219_713),
    ]
    .into_iter()
    .map(|(re, phi, published)| {
        settling.row(format!("Re {re:.0e}, sphericity {phi}"), published, irregular_drag(re, phi))
    })
    .collect();
    for (phi, published) in [(1.0, 0.4389), (0.806, 1.1114), (0.72, 1.336)] {
        rows.push(fast.row(format!("sphericity {phi}"), published, settled_drag(phi)));
    }
    rows
}
