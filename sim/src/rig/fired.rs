//! A rig as a scenario fires it.

use super::{Rig, parse};
use crate::quantity;

/// What leaves a rig.
#[derive(Clone, Debug, PartialEq)]
pub struct Fired {
    /// The rig's name.
    pub name: String,
    /// Mass that the rig is told to throw, in kg.
    pub mass: f64,
    /// Median speed, in m/s, > 0.
    pub speed: f64,
    /// Standard deviation of ln(speed) from shot to shot.
    pub varying: f64,
    /// Standard deviation of ln(speed) that all its shots share.
    pub unknown: f64,
}

/// Why a rig does not fire.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Refused {
    /// Its file is wrong.
    File(String),
    /// The setting is wrong.
    Setting(String),
}

/// Fires the rig of a file's text at a setting as written ("6 ft").
///
/// # Errors
///
/// Which of the two is wrong, and why.
pub fn fire(text: &str, setting: &str) -> Result<Fired, Refused> {
    let rig = parse(text).map_err(|problems| {
        let first = problems.first().map_or_else(String::new, ToString::to_string);
        Refused::File(first)
    })?;
    set(&rig, setting)
}

fn set(rig: &Rig, setting: &str) -> Result<Fired, Refused> {
    let dimension = rig.launcher.setting_dimension();
    let what = || format!("its setting is a {}", rig.launcher.setting_name());
    let value = quantity::parse(setting, dimension)
        .map_err(|error| Refused::Setting(format!("{error}; {}", what())))?;
    let largest = rig.launcher.largest_setting();
    if value > largest {
        return Err(Refused::Setting(format!("beyond what the launcher allows; {}", what())));
    }
    let launch = rig
        .launch(value)
        .ok_or_else(|| Refused::Setting(format!("nothing gets going there; {}", what())))?;
    Ok(Fired {
        name: rig.name.clone(),
        mass: rig.object.mass,
        speed: launch.speed,
        varying: launch.varying,
        unknown: launch.unknown,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const DROP: &str = "rig: drop tower\nobject: {mass: 2 kg}\nlauncher: {drop: }\n";

    #[test]
    fn a_drop_fires_at_its_own_speed() {
        let fired = fire(DROP, "5 m").unwrap();
        let rig = parse(DROP).unwrap();
        assert_eq!(fired.speed.to_bits(), rig.launch(5.0).unwrap().speed.to_bits());
        assert!(fired.speed > 9.0 && fired.speed < 9.91, "{}", fired.speed);
    }

    #[test]
    fn a_setting_of_another_kind_is_refused_in_its_own_words() {
        let refused = fire(DROP, "5 kPa").unwrap_err();
        assert!(matches!(refused, Refused::Setting(_)), "{refused:?}");
        assert!(matches!(fire("rig: 1", "5 m"), Err(Refused::File(_))));
    }
}
