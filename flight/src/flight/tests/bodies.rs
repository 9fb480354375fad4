//! Bodies to fly in tests.

use super::{Flight, State};
use crate::{
    aero::Coefficients,
    body::{Body, Shape},
    flight::Watch,
    world::{Air, AirNow, MeanWind},
};

/// Air of 1.225 kg/m³, still.
pub(super) fn calm() -> AirNow {
    AirNow::still(Air { density: 1.225, viscosity: 1.789e-5, sound: 340.294 })
}

/// No air.
pub(super) fn vacuum() -> AirNow {
    AirNow::still(Air::vacuum())
}

/// A wind over a kind of ground.
pub(super) fn windy(wind: MeanWind) -> AirNow {
    AirNow { wind, ..calm() }
}

/// One of each shape, as flown in the reference problem where there is one.
pub(super) fn each_shape() -> [(&'static str, Body); 11] {
    [
        ("sphere", Body::solid(Shape::Sphere { diameter: 0.0732 }, 0.145)),
        ("plate", Body::solid(Shape::Plate { length: 1.2, width: 0.6, thickness: 0.012 }, 6.0)),
        ("rod", Body::solid(Shape::Rod { length: 2.4, diameter: 0.06 }, 4.1)),
        ("block", Body::solid(Shape::Block { length: 0.3, width: 0.2, height: 0.1 }, 4.0)),
        ("bar", Body::solid(Shape::Bar { length: 1.2, width: 0.09, height: 0.04 }, 2.0)),
        ("irregular", Body::solid(Shape::Irregular { diameter: 0.05, sphericity: 0.8 }, 0.17)),
        ("disc", Body::solid(Shape::Disc { diameter: 0.5, thickness: 0.018 }, 2.2)),
        ("wheel", Body::solid(Shape::Wheel { diameter: 0.64, width: 0.2, hub: 0.5 }, 18.0)),
        ("cylinder", Body::solid(Shape::Cylinder { length: 0.4, diameter: 0.3 }, 16.0)),
        ("cone", Body::solid(Shape::Cone { length: 0.7, diameter: 0.36 }, 9.0)),
        ("tube", Body::solid(Shape::Tube { length: 1.5, diameter: 0.09, wall: 0.004 }, 5.0)),
    ]
}

/// A flight of this body that nobody watches.
pub(super) fn flight(body: Body, air: AirNow, start: State, deadline: f64) -> Flight {
    Flight {
        draw: 0,
        start,
        body,
        coefficients: Coefficients::new(&body, &air.air, 1.0),
        air,
        deadline,
        watch: Watch { zone: None, plane: None, every_step: false },
    }
}

/// A block whose drag is ½ ρ Cd A V² in every direction, with the terminal
/// speed `terminal` (m/s): the closed forms of quadratic drag hold exactly.
pub(super) fn compact(terminal: f64, start: State, deadline: f64) -> Flight {
    let body = Body::solid(Shape::Block { length: 0.2, width: 0.2, height: 0.2 }, 10.0);
    let mut air = calm();
    let unit = flight(body, air, start, deadline);
    let Coefficients::Block(block) = unit.coefficients else { unreachable!("a block") };
    // m g = drag v²; without weightless air the buoyancy would count, so the
    // air's density is kept out of the weight.
    let factor = body.mass * 9.806_65 / (block.drag_x * terminal * terminal);
    let coefficients = Coefficients::new(&body, &air.air, factor);
    air.air.density = 0.0;
    Flight { coefficients, air, ..unit }
}
