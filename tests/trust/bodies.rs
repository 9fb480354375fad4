//! Moments of inertia, and the air that a body drags along.

use super::row::{Kind, Row, Said, Tolerance};
use glam::{DQuat, DVec3};
use longodds_sim::{
    body::{Body, Shape},
    release::collision::shared_mass,
};
use std::f64::consts::PI;

pub(super) fn rows() -> Vec<Row> {
    let mut rows = inertia();
    rows.extend(added());
    rows.extend(effective());
    rows
}

fn inertia() -> Vec<Row> {
    let said = Said {
        model: "motion",
        source: "moments of inertia of uniform solids (textbook table), by hand",
        kind: Kind::Derived,
        unit: "kg m²",
        tolerance: Tolerance::Share(1e-6),
        range: "uniform bodies",
    };
    let of = |shape| Body::solid(shape, 2.0).inertia;
    let block = of(Shape::Block { length: 0.4, width: 0.3, height: 0.1 });
    let tube = of(Shape::Tube { length: 1.0, diameter: 0.2, wall: 0.05 });
    let cone = of(Shape::Cone { length: 0.4, diameter: 0.2 });
    vec![
        said.row("2 kg ball of 0.2 m", 0.008, of(Shape::Sphere { diameter: 0.2 }).x),
        said.row("2 kg box 0.4 x 0.3 x 0.1 m, about its length", 0.016_666_667, block.x),
        said.row("the same about its thickness", 0.041_666_667, block.z),
        said.row("2 kg tube of 0.2 m, 50 mm wall, about its axis", 0.0125, tube.x),
        said.row("2 kg cone 0.4 m high, 0.2 m wide, about its axis", 0.006, cone.x),
        said.row("the same across", 0.015, cone.y),
    ]
}

fn added() -> Vec<Row> {
    let said = Said {
        model: "added mass",
        source: "potential flow by hand: dipole of a ball ½ρV and of a cylinder across ρV; disc face-on by its jump of potential, 4/π √(R² - r²), 8/3 ρR³ (a third of it over all directions)",
        kind: Kind::Derived,
        unit: "kg",
        tolerance: Tolerance::Share(0.02),
        range: "light bodies that speed up; no vortices",
    };
    let of = |shape| Body::solid(shape, 0.1).added(1.2).mass;
    vec![
        said.row(
            "ball of 0.3 m",
            0.5 * 1.2 * PI / 6.0 * 0.027,
            of(Shape::Sphere { diameter: 0.3 }),
        ),
        said.row(
            "disc of 1 m, mean over directions",
            1.2 * 8.0 / 3.0 * 0.125 / 3.0,
            of(Shape::Disc { diameter: 1.0, thickness: 1e-3 }),
        ),
        said.row(
            "rod 2 m by 0.1 m, mean over directions",
            1.2 * PI / 4.0 * 0.01 * 2.0 * 2.0 / 3.0,
            of(Shape::Rod { length: 2.0, diameter: 0.1 }),
        ),
    ]
}

fn effective() -> Vec<Row> {
    let said = Said {
        model: "first touch",
        source: "1/m + (r×n)·I⁻¹(r×n), by hand",
        kind: Kind::Derived,
        unit: "kg",
        tolerance: Tolerance::Share(1e-5),
        range: "rigid bodies, one contact point",
    };
    let block = Body::solid(Shape::Block { length: 0.4, width: 0.3, height: 0.1 }, 2.0);
    let corner = DVec3::new(0.2, 0.15, 0.05);
    let wall = Body::solid(Shape::Sphere { diameter: 1.0 }, 1e12);
    let free = Body::solid(Shape::Sphere { diameter: 1.0 }, 5.0);
    let mass = |other: &Body, normal| {
        shared_mass(
            [(&block, DQuat::IDENTITY, corner), (other, DQuat::IDENTITY, DVec3::ZERO)],
            normal,
        )
    };
    vec![
        said.row("corner of a 2 kg box, along its length", 0.886_340, mass(&wall, DVec3::X)),
        said.row(
            "the same corner, along its diagonal",
            1.015_53,
            mass(&wall, DVec3::ONE.normalize()),
        ),
        said.row("the first into a free ball of 5 kg", 0.752_879, mass(&free, DVec3::X)),
    ]
}
