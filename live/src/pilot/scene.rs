//! The set-up of a version, in views that are held while something in it is dragged.

use crate::{
    asked::Edit,
    handles::{View, handles},
    lines::{Phase, Put},
    show::MIDDLE,
};
use longodds_reports::chart::{Views, set_up_in};
use longodds_sim::{
    findings::{FlightFinding, SetUp, set_up},
    scenario::Scenario,
};
use serde::Deserialize as _;
use serde_json::{Value, to_value};

/// A set-up and how it is seen.
pub(super) struct Scene {
    set_up: SetUp,
    views: Views,
    told: Option<Value>,
    handles: Vec<Value>,
}

impl Scene {
    /// Of a version: in the views that the page holds, if it holds some of ours.
    pub(super) fn of(scenario: &Scenario, edit: &Edit) -> Self {
        let set_up = set_up(scenario);
        let held = edit.views.as_ref().and_then(|views| Views::deserialize(views).ok());
        let views = held.filter(Views::are_sound).unwrap_or_else(|| Views::of(&set_up, MIDDLE));
        let px = |view: View, at| match view {
            View::Side => views.from_the_side(at),
            View::Plan => views.from_above(at),
        };
        let handles = handles(scenario, &px);
        Self { told: to_value(&views).ok(), handles, set_up, views }
    }

    /// Drawn, with flights over it.
    pub(super) fn put(&self, flights: &[FlightFinding], phase: Phase) -> Put {
        let picture = set_up_in(&self.set_up, flights, &self.views, MIDDLE);
        Put {
            views: self.told.clone(),
            handles: Some(self.handles.clone()),
            ..Put::new("setup", phase, picture.inline())
        }
    }
}
