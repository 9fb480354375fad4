//! A calibration shot.

use crate::rig::camera::Measured;

/// One real shot, SI.
#[derive(Clone, Debug, PartialEq)]
pub struct Shot {
    /// The launcher's setting (m, Pa, rad or m/s), > 0.
    pub setting: f64,
    /// Measured speed and its standard uncertainty, in m/s, > 0.
    pub speed: Measured,
    /// Mass of the object, in kg; `None`: the rig's own.
    pub mass: Option<f64>,
    /// What the log calls it: its line or its number.
    pub name: String,
    /// Remarks, as written.
    pub remark: String,
}

impl Shot {
    /// A shot of the rig's own object at a setting, SI.
    #[must_use]
    pub fn new(setting: f64, speed: f64, uncertainty: f64) -> Self {
        let speed = Measured { value: speed, uncertainty };
        Self { setting, speed, mass: None, name: String::new(), remark: String::new() }
    }
}
