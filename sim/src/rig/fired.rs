//! A rig as a scenario fires it.

use super::{Rig, parse};
use crate::{
    quantity,
    scenario::{Fired, Refused, Rigs},
};

/// Rigs from their own files.
#[derive(Clone, Copy, Debug)]
pub struct FromFiles;

impl Rigs for FromFiles {
    fn fire(&self, text: &str, setting: &str) -> Result<Fired, Refused> {
        let rig = parse(text).map_err(|problems| {
            let first = problems.first().map_or_else(String::new, ToString::to_string);
            Refused::File(first)
        })?;
        fire(&rig, setting)
    }
}

fn fire(rig: &Rig, setting: &str) -> Result<Fired, Refused> {
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
        let fired = FromFiles.fire(DROP, "5 m").unwrap();
        let rig = parse(DROP).unwrap();
        assert_eq!(fired.speed.to_bits(), rig.launch(5.0).unwrap().speed.to_bits());
        assert!(fired.speed > 9.0 && fired.speed < 9.91, "{}", fired.speed);
    }

    #[test]
    fn a_setting_of_another_kind_is_refused_in_its_own_words() {
        let refused = FromFiles.fire(DROP, "5 kPa").unwrap_err();
        assert!(matches!(refused, Refused::Setting(_)), "{refused:?}");
        assert!(matches!(FromFiles.fire("rig: 1", "5 m"), Err(Refused::File(_))));
    }
}
