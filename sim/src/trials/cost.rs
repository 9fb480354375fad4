//! What a plan uses up.

use serde::Serialize;

/// When a target is used up.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum UsedUp {
    /// Each shot costs one.
    #[default]
    EveryShot,
    /// Only a shot with the event does.
    EveryEvent,
}

/// What a shot and a target cost, in the user's own money.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Cost {
    /// Of a shot without its target.
    pub shot: f64,
    /// Of a target.
    pub target: f64,
    /// When a target is used up.
    pub used_up: UsedUp,
}

/// The bill of a plan, expected.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Bill {
    /// Shots.
    pub shots: f64,
    /// Targets used up.
    pub targets: f64,
    /// Money.
    pub money: f64,
}

impl Cost {
    /// The bill of `shots` shots of which `events` have the event.
    #[must_use]
    pub fn bill(&self, shots: f64, events: f64) -> Bill {
        let targets = match self.used_up {
            UsedUp::EveryShot => shots,
            UsedUp::EveryEvent => events,
        };
        Bill { shots, targets, money: shots * self.shot + targets * self.target }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pane_per_shot_or_per_hole() {
        let every = Cost { shot: 10.0, target: 40.0, used_up: UsedUp::EveryShot };
        let holes = Cost { used_up: UsedUp::EveryEvent, ..every };
        assert!((every.bill(6.0, 2.0).money - 300.0).abs() < 1e-12);
        assert!((holes.bill(6.0, 2.0).money - 140.0).abs() < 1e-12);
    }
}
