//! Which limits of a rig are told, and which have to be found out first.
//!
//! A limit that nobody told is neither kept nor exceeded: it is not known.

use super::{Launcher, Rig, inverse::limits_kept};

/// A limit of a rig: where it is written, and what it is.
struct Limit {
    key: &'static str,
    what: &'static str,
    told: bool,
}

impl Rig {
    /// Whether a setting keeps the limits told; `None` where none is told that
    /// it could keep.
    #[must_use]
    pub(crate) fn keeps_limits(&self, setting: f64) -> Option<bool> {
        let kept = limits_kept(self, setting);
        let told = limits(self).iter().any(|limit| limit.told);
        if kept && !told { None } else { Some(kept) }
    }

    /// The limits that are not told, the one that kills first: what it is, and
    /// where it is written.
    #[must_use]
    pub fn limits_to_find(&self) -> Vec<String> {
        let untold = limits(self).into_iter().filter(|limit| !limit.told);
        untold.map(|limit| format!("{} (`{}`)", limit.what, limit.key)).collect()
    }
}

/// Every limit that a rig of this kind has, the one whose end is worst first.
fn limits(rig: &Rig) -> Vec<Limit> {
    let own = match &rig.launcher {
        Launcher::Cord(cord) => Some(Limit {
            key: "launcher: {cord: {largest_stretch: ...}}",
            what: "the maker's largest stretch of the cords",
            told: cord.largest_stretch.is_some(),
        }),
        Launcher::Spring(spring) => Some(Limit {
            key: "launcher: {spring: {largest_stretch: ...}}",
            what: "the maker's largest stretch of the spring",
            told: spring.largest.is_some(),
        }),
        Launcher::Pressure(pressure) => Some(Limit {
            key: "launcher: {pressure: {rated: ...}}",
            what: "the rated pressure of the vessel",
            told: pressure.rated.is_some(),
        }),
        Launcher::Drop | Launcher::Pendulum(_) | Launcher::Ramp(_) | Launcher::Tow(_) => None,
    };
    let winch = Limit {
        key: "winch: {limit: ...}",
        what: "the working limit of winch, latch or hoist",
        told: rig.winch.is_some(),
    };
    let room = Limit {
        key: "run_up: ...",
        what: "the length of run there is",
        told: rig.run_up.is_some(),
    };
    own.into_iter().chain([winch, room]).collect()
}

#[cfg(test)]
mod tests {
    use crate::rig::parse;

    const LAUNCHERS: [&str; 7] = [
        "cord: {count: 8, relaxed: 2 m, diameter: 14 mm, shear_modulus: 0.4 MPa}",
        "spring: {stiffness: 800 N/m}",
        "pressure: {volume: 2 L, bore: 50 mm, length: 1 m, expansion: adiabatic}",
        "drop: ",
        "pendulum: {length: 3 m}",
        "ramp: {slope: 30 deg}",
        "tow: {ratio: 2, run_up: 20 m}",
    ];

    /// Whatever the launcher: nothing told is nothing kept, and what is told is
    /// no longer asked for.
    #[test]
    fn no_limit_is_kept_that_nobody_told() {
        for launcher in LAUNCHERS {
            let rig = |more: &str| {
                let text = format!(
                    "rig: r\nshow: si\nobject: {{mass: 2 kg}}\nlauncher: {{{launcher}}}\n{more}"
                );
                parse(&text).unwrap_or_else(|problems| panic!("{launcher}: {problems:?}"))
            };
            let (untold, told) = (rig(""), rig("winch: {limit: 100 kN}\n"));
            assert_eq!(untold.keeps_limits(0.5), None, "{launcher}");
            assert_eq!(told.keeps_limits(0.5), Some(true), "{launcher}");
            let missing = untold.limits_to_find();
            assert!(!missing.is_empty() && told.limits_to_find().len() == missing.len() - 1);
            assert_eq!(
                rig("winch: {limit: 0.0001 N}\n").keeps_limits(0.5),
                Some(false),
                "{launcher}"
            );
        }
    }
}
