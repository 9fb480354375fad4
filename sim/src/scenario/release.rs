//! How the object starts to move.

use super::InputId;

/// How the object is held and turned as it starts: angles in rad, rates in
/// rad/s in the body frame.
///
/// The body's x axis starts along the release's own direction (the aim for
/// `launched` and `thrown`, x for the others), then is turned left by
/// `nose_left`, up by `nose_up`, and the body is rolled by `roll` about it.
#[derive(Clone, Debug)]
pub struct Pose {
    /// Nose up, in rad.
    pub nose_up: InputId,
    /// Nose to the left, in rad.
    pub nose_left: InputId,
    /// Roll about the body's x axis, in rad.
    pub roll: InputId,
    /// Spin about the body's x, y, z axes, in rad/s.
    pub spin: [InputId; 3],
}

/// Where the object's centre starts: x, y and height, in m.
pub type Place = [InputId; 3];

/// How the object starts to move. One variant, one file in `release`.
#[derive(Clone, Debug)]
pub enum Release {
    /// Shot or thrown: a speed along an aim with scatter.
    Launched(Launched),
    /// Let go from rest.
    Dropped(Dropped),
    /// Comes off a moving carrier with the carrier's velocity.
    Shed(Shed),
    /// Loose in the wind, from rest.
    Blown(Blown),
}

/// See [`Release::Launched`]; `thrown` in a scenario is the same thing.
#[derive(Clone, Debug)]
pub struct Launched {
    /// Where the centre is at release.
    pub place: Place,
    /// Speed, in m/s.
    pub speed: InputId,
    /// What multiplies it and is not known: the doubt about a rig, which all
    /// its shots share.
    pub speed_factor: Option<InputId>,
    /// Aim above the horizontal, in rad.
    pub elevation: InputId,
    /// Aim to the left of x, in rad.
    pub bearing: InputId,
    /// This shot's error from the aim, up, in rad.
    pub error_up: InputId,
    /// This shot's error from the aim, to the left, in rad.
    pub error_left: InputId,
    /// Attitude (relative to the direction of flight) and spin.
    pub pose: Pose,
}

/// See [`Release::Dropped`].
#[derive(Clone, Debug)]
pub struct Dropped {
    /// Where the centre is at release.
    pub place: Place,
    /// Attitude and spin.
    pub pose: Pose,
}

/// See [`Release::Shed`].
#[derive(Clone, Debug)]
pub struct Shed {
    /// Where the centre is at release.
    pub place: Place,
    /// Speed of the carrier along x, in m/s.
    pub carrier_speed: InputId,
    /// Attitude and spin.
    pub pose: Pose,
}

/// See [`Release::Blown`].
#[derive(Clone, Debug)]
pub struct Blown {
    /// Where the centre is at release.
    pub place: Place,
    /// Attitude and spin.
    pub pose: Pose,
    /// What holds it down until the wind lifts it; `None`: it is loose already.
    pub held: Option<Held>,
}

/// A hold-down that the wind's lift has to beat.
#[derive(Clone, Debug)]
pub struct Held {
    /// Strength as a multiple of the object's weight, > 0 (1: its own weight).
    pub times_weight: InputId,
    /// Force coefficient on the plan area with which the wind lifts it.
    pub lift_coefficient: InputId,
}
