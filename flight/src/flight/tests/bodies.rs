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

/// One of each shape that has coefficients of its own.
pub(super) fn each_shape() -> Vec<(&'static str, Body)> {
    Shape::examples().map(|(shape, mass)| (shape.name(), Body::solid(shape, mass))).collect()
}

/// The one of this name.
pub(super) fn the(name: &str) -> Body {
    each_shape().into_iter().find(|(shape, _)| *shape == name).unwrap().1
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
