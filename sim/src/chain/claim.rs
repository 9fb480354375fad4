//! A scenario made ready to fly.

use super::{
    gusts,
    outfit::{Given, Told},
};
use crate::{
    aero::Figures,
    body::Body,
    flight::Settings,
    scenario::{Gate, InputId, Inputs, Scenario},
    world::{Air, AirNow, MeanWind},
};
use glam::DVec3;

/// A scenario with what every draw needs already looked up.
#[derive(Clone, Debug)]
pub struct Claim {
    scenario: Scenario,
    aimed: Vec<usize>,
    /// Fly on to the ground after the aimed face's plane was passed?
    to_ground: bool,
    /// Do flights go on after a touch?
    follows: bool,
    has_occupants: bool,
    settings: Settings,
}

impl Claim {
    /// Makes a scenario ready.
    ///
    /// A flight that has passed the plane of the aimed face by more than its
    /// own size, beside the outline, is over: it can no longer strike.
    #[must_use]
    pub fn new(scenario: Scenario) -> Self {
        let faces = scenario.target.faces.iter().enumerate();
        let aimed = faces.filter(|(_, face)| face.aim).map(|(i, _)| i).collect();
        let faces = &scenario.target.faces;
        let has_occupants = faces.iter().any(|face| face.occupant);
        let in_front = faces.iter().any(|face| !face.aim && face.barrier.is_some());
        let follows = scenario.bounces() || has_occupants || in_front;
        let settings = Settings::default();
        Self { scenario, aimed, to_ground: false, follows, has_occupants, settings }
    }

    /// The same claim, flown with other settings of the stepper.
    #[must_use]
    pub fn with_settings(self, settings: Settings) -> Self {
        Self { settings, ..self }
    }

    /// The same claim, each flight flown on until it lands.
    #[must_use]
    pub fn flown_to_ground(self) -> Self {
        Self { to_ground: true, ..self }
    }

    /// The same claim with its numbers spread otherwise; `inputs` has the same
    /// inputs in the same order.
    #[must_use]
    pub(crate) fn with_inputs(&self, inputs: Inputs) -> Self {
        Self { scenario: Scenario { inputs, ..self.scenario.clone() }, ..self.clone() }
    }

    /// The same claim, each flight over at its first touch.
    #[must_use]
    pub(crate) fn to_first_touch(&self) -> Self {
        Self { follows: false, ..self.clone() }
    }

    /// Whether flights go on after a touch: where bounces are followed, where
    /// somebody sits behind the barrier, and where a barrier stands in front.
    #[must_use]
    pub fn follows(&self) -> bool {
        self.follows
    }

    /// Whether somebody sits behind the barrier.
    #[must_use]
    pub(crate) fn has_occupants(&self) -> bool {
        self.has_occupants
    }

    /// How the stepper is set.
    #[must_use]
    pub fn settings(&self) -> &Settings {
        &self.settings
    }

    /// The scenario.
    #[must_use]
    pub fn scenario(&self) -> &Scenario {
        &self.scenario
    }

    /// The gates of the claim, in order.
    #[must_use]
    pub fn gates(&self) -> &[Gate] {
        &self.scenario.chain
    }

    /// The aimed faces, by their places in the target's list; the first one's
    /// plane is the one that flights are said to reach.
    #[must_use]
    pub fn aimed(&self) -> &[usize] {
        &self.aimed
    }

    /// Whether flights go on to the ground.
    #[must_use]
    pub fn to_ground(&self) -> bool {
        self.to_ground
    }

    /// The object of one draw.
    #[must_use]
    pub fn body(&self, row: &[f64]) -> Body {
        let object = &self.scenario.object;
        let solid = Body::solid(object.shape.map(|id| row[id.0]), row[object.mass.0]);
        Body { surface: object.surface, ..solid }
    }

    /// The air of one draw, wind and gusts included, but for the wake of a carrier.
    #[must_use]
    pub fn air(&self, row: &[f64]) -> AirNow {
        let [temperature, pressure, humidity] = self.weather(row);
        self.blown(row, Air::moist(temperature, pressure, humidity))
    }

    /// What body, air and coefficients of one draw depend on.
    pub(super) fn given(&self, row: &[f64]) -> Given {
        let object = &self.scenario.object;
        Given {
            body: self.body(row),
            air: self.weather(row),
            drag_factor: row[object.drag_factor.0],
            spin_lift_factor: object.spin_lift_factor.map(|id| row[id.0]),
            figures: self.figures(row),
            table: object.table.as_ref().map(|told| Told(told.table)),
        }
    }

    /// What the coefficients of one draw leave open.
    fn figures(&self, row: &[f64]) -> Figures {
        let object = &self.scenario.object;
        object
            .figures
            .iter()
            .fold(Figures::default(), |figures, (figure, id)| figures.with(*figure, row[id.0]))
    }

    /// Temperature, pressure and humidity of one draw, in SI.
    pub(super) fn weather(&self, row: &[f64]) -> [f64; 3] {
        let air = &self.scenario.air;
        [air.temperature, air.pressure, air.humidity].map(|id| row[id.0])
    }

    /// This air in the wind of one draw.
    pub(super) fn blown(&self, row: &[f64], air: Air) -> AirNow {
        let Some(wind) = &self.scenario.air.wind else { return AirNow::still(air) };
        let value = |id: InputId| row[id.0];
        let (speed, towards) = (value(wind.speed), value(wind.towards));
        let mean = MeanWind::new(speed, towards, value(wind.height), wind.terrain);
        let from = DVec3::from_array(self.scenario.release.place().map(value));
        let gusts = wind.turbulence.and_then(|it| gusts::gusts(&it, row, &mean, from));
        AirNow { air, wind: mean, gusts, wake: None }
    }
}
