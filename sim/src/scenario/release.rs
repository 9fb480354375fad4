//! How the object starts to move.

use super::InputId;
use crate::math::{cos, sin};
use glam::{DQuat, DVec3};

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

/// The attitude of a body whose nose points `heading` to the left of x and `climb`
/// above the horizontal, then is turned nose up, nose left and rolled, in rad.
#[must_use]
pub fn turned([nose_up, nose_left, roll]: [f64; 3], heading: f64, climb: f64) -> DQuat {
    // A turn about y by a positive angle puts the nose down.
    DQuat::from_rotation_z(heading + nose_left)
        * DQuat::from_rotation_y(-(climb + nose_up))
        * DQuat::from_rotation_x(roll)
}

/// The direction `heading` to the left of x and `climb` above the horizontal, in rad.
#[must_use]
pub fn pointing(heading: f64, climb: f64) -> DVec3 {
    let level = DVec3::new(cos(heading), sin(heading), 0.0);
    level * cos(climb) + DVec3::Z * sin(climb)
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

impl Release {
    /// How the object is held and turned.
    #[must_use]
    pub fn pose(&self) -> &Pose {
        match self {
            Self::Launched(launched) => &launched.pose,
            Self::Dropped(dropped) => &dropped.pose,
            Self::Shed(shed) => &shed.pose,
            Self::Blown(blown) => &blown.pose,
        }
    }

    /// Bearing and elevation, in rad, of what is aimed.
    #[must_use]
    pub fn aim(&self) -> Option<[InputId; 2]> {
        match self {
            Self::Launched(launched) => Some([launched.bearing, launched.elevation]),
            Self::Dropped(_) | Self::Shed(_) | Self::Blown(_) => None,
        }
    }

    /// Where the centre of mass is at release.
    #[must_use]
    pub fn place(&self) -> &Place {
        match self {
            Self::Launched(launched) => &launched.place,
            Self::Dropped(dropped) => &dropped.place,
            Self::Shed(shed) => &shed.place,
            Self::Blown(blown) => &blown.place,
        }
    }
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
    /// Speed of the carrier along x, in m/s; before it brakes, if it does.
    pub carrier_speed: InputId,
    /// Attitude and spin.
    pub pose: Pose,
    /// How it was held, and what shakes it loose; `None`: it is loose already.
    pub secured: Option<Secured>,
    /// The air that the carrier drags along, if it counts.
    pub wake: Option<CarrierWake>,
}

/// The wake of a carrier, and where its tail is.
#[derive(Clone, Copy, Debug)]
pub struct CarrierWake {
    /// Drag coefficient times frontal area, in m².
    pub drag_area: InputId,
    /// Height of the carrier above the ground, in m.
    pub height: InputId,
    /// How far the tail is behind the place of the release, in m; negative:
    /// ahead of it.
    pub tail: InputId,
    /// How far the dead air reaches behind the tail, as a multiple of the
    /// height.
    pub dead_air: InputId,
    /// Multiplies the speed that the wake has (1: as published).
    pub strength: InputId,
}

/// A load on the bed of a carrier: what holds it and what pulls at it.
#[derive(Clone, Debug)]
pub struct Secured {
    /// Static friction of the load on the bed.
    pub friction: InputId,
    /// Force that the tie-downs bear, along the bed or upwards, in N; 0: none.
    pub strength: InputId,
    /// Way along the bed to its edge, in m.
    pub path: InputId,
    /// How the carrier's speed changes, if it does.
    pub jolt: Option<Jolt>,
    /// The air that gets under it, if it counts.
    pub lift: Option<Lift>,
}

/// The air over a load.
#[derive(Clone, Copy, Debug)]
pub struct Lift {
    /// Force coefficient on the plan area.
    pub coefficient: InputId,
    /// Air speed over the load by that of the free stream (1 to 1.3).
    pub speed_up: InputId,
}

/// A change of the carrier's speed.
#[derive(Clone, Debug)]
pub struct Jolt {
    /// Against its way (it brakes, or hits something) or with it.
    pub against: bool,
    /// Shape over time.
    pub shape: PulseShape,
    /// How hard.
    pub size: JoltSize,
    /// How long it lasts, in s.
    pub lasts: InputId,
}

/// How hard a jolt is.
#[derive(Clone, Copy, Debug)]
pub enum JoltSize {
    /// Largest acceleration, in m/s².
    Peak(InputId),
    /// The carrier meets another body: masses in kg, the other's speed along x
    /// in m/s, restitution.
    Collision {
        /// Mass of the carrier with its load, in kg.
        carrier: InputId,
        /// Mass of what it meets, in kg.
        other: InputId,
        /// Its speed along x, in m/s; negative: oncoming.
        other_speed: InputId,
        /// Coefficient of restitution.
        restitution: InputId,
    },
}

/// The shape of a deceleration pulse.
#[derive(Clone, Debug, PartialEq)]
pub enum PulseShape {
    /// Constant.
    Square,
    /// Half a sine wave.
    HalfSine,
    /// `sin²`: a half sine that starts and ends smoothly.
    Haversine,
    /// Up and down in straight lines, the peak in the middle.
    Triangle,
    /// Up, level, down.
    Trapezoid {
        /// Share of the duration that the rise takes, 0..=1.
        rise: f64,
        /// Share that the fall takes, 0..=1 − rise.
        fall: f64,
    },
    /// Measured: shares of the peak at even spacing, first to last, two at
    /// least; straight lines between them.
    Measured(Vec<f64>),
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
