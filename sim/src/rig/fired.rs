//! A rig as a scenario fires it.

use super::{
    Rig,
    calibrate::{Calibration, Shot},
};
use crate::{math, quantity};

/// 95 % of a normal distribution lie within so many standard deviations.
const WITHIN: f64 = 1.959_963_984_540_054;

/// What leaves a rig.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fired {
    /// Median speed, in m/s, > 0.
    pub speed: f64,
    /// Standard deviation of ln(speed) from shot to shot.
    pub varying: f64,
    /// Standard deviation of ln(speed) that all its shots share.
    pub unknown: f64,
    /// Largest setting shot so far, where this one lies beyond it.
    pub beyond: Option<f64>,
}

/// Fires a rig at a setting as written ("6 ft"), with what its shots so far say
/// of it.
///
/// # Errors
///
/// Why the setting is wrong.
pub fn fire(rig: &Rig, shots: &[Shot], setting: &str) -> Result<Fired, String> {
    let dimension = rig.launcher.setting_dimension();
    let what = || format!("its setting is a {}", rig.launcher.setting_name());
    let value =
        quantity::parse(setting, dimension).map_err(|error| format!("{error}; {}", what()))?;
    if value > rig.launcher.largest_setting() {
        return Err(format!("beyond what the launcher allows; {}", what()));
    }
    let launch =
        rig.launch(value).ok_or_else(|| format!("nothing gets going there; {}", what()))?;
    if shots.is_empty() {
        let (speed, varying, unknown) = (launch.speed, launch.varying, launch.unknown);
        return Ok(Fired { speed, varying, unknown, beyond: None });
    }
    Ok(calibrated(rig, shots, value))
}

/// By the fit to its shots. How far shots scatter is itself known from few: the
/// scatter is as wide as it takes for the band of the next shot to be the fit's own.
fn calibrated(rig: &Rig, shots: &[Shot], setting: f64) -> Fired {
    let calibration = Calibration::new(rig, shots);
    let next = calibration.posterior().predictive(rig, setting, rig.object.mass);
    let [low, middle, high] = [0.025, 0.5, 0.975].map(|p| next.quantile(p));
    let wide = ((high - low) / (2.0 * WITHIN)).max(next.sd());
    let unknown = next.unknown_sd();
    let varying = (wide * wide - unknown * unknown).max(0.0).sqrt();
    let beyond = calibration.tried().map(|(_, high)| high).filter(|high| setting > *high);
    Fired { speed: math::exp(middle), varying, unknown, beyond }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rig::{camera::Measured, parse};
    use proptest::prelude::*;

    const DROP: &str = "rig: drop tower\nobject: {mass: 2 kg}\nlauncher: {drop: }\n";
    const SPRING: &str = "rig: a spring\nobject: {mass: 2 kg}\n\
                          launcher: {spring: {stiffness: 900 N/m, largest_stretch: 1 m}}\n";

    #[test]
    fn a_drop_fires_at_its_own_speed() {
        let rig = parse(DROP).unwrap();
        let fired = fire(&rig, &[], "5 m").unwrap();
        assert_eq!(fired.speed.to_bits(), rig.launch(5.0).unwrap().speed.to_bits());
        assert!(fired.speed > 9.0 && fired.speed < 9.91, "{}", fired.speed);
    }

    #[test]
    fn a_setting_of_another_kind_is_refused_in_its_own_words() {
        let rig = parse(DROP).unwrap();
        assert!(fire(&rig, &[], "5 kPa").unwrap_err().contains("its setting is a"));
    }

    fn shots(rig: &Rig, told: &[(f64, f64)]) -> Vec<Shot> {
        let speed = |setting: f64, factor: f64| Measured {
            value: rig.launch(setting).unwrap().speed * factor,
            uncertainty: 0.05,
        };
        let shot = |&(setting, factor): &(f64, f64)| Shot {
            setting,
            speed: speed(setting, factor),
            mass: None,
            name: String::new(),
            remark: String::new(),
        };
        told.iter().map(shot).collect()
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]

        /// A claim's flights leave the rig in the band that `longodds rig` tells.
        #[test]
        fn the_band_is_the_fits_own(
            told in prop::collection::vec((0.2..0.9_f64, 0.8..1.1_f64), 1..8),
            setting in 0.2..0.9_f64,
        ) {
            let rig = parse(SPRING).unwrap();
            let shots = shots(&rig, &told);
            let fired = fire(&rig, &shots, &format!("{setting} m")).unwrap();
            let fit = Calibration::new(&rig, &shots);
            let [low, middle, high] = fit.speed_quantiles(setting, [0.025, 0.5, 0.975]);
            let sd = math::hypot(fired.unknown, fired.varying);
            prop_assert!((fired.speed / middle - 1.0).abs() < 1e-9);
            // Never narrower, and hardly wider: a few shots leave the fit's tails heavy.
            let ours = 2.0 * WITHIN * sd;
            let wanted = math::ln(high / low);
            prop_assert!(ours > 0.999 * wanted && ours < 1.25 * wanted, "{} for {}", ours, wanted);
            let tried = told.iter().map(|shot| shot.0).fold(0.0, f64::max);
            prop_assert_eq!(fired.beyond.is_some(), setting > tried);
        }

        /// The same shots once more leave less unknown.
        #[test]
        fn more_of_the_same_narrows(
            told in prop::collection::vec((0.3..0.9_f64, 0.9..1.0_f64), 2..5),
            setting in 0.3..0.9_f64,
        ) {
            let rig = parse(SPRING).unwrap();
            let once = shots(&rig, &told);
            let often: Vec<Shot> = (0..4).flat_map(|_| once.clone()).collect();
            let setting = format!("{setting} m");
            let [few, many] = [&once, &often].map(|shots| fire(&rig, shots, &setting).unwrap());
            prop_assert!(many.unknown < few.unknown, "{} after {}", many.unknown, few.unknown);
        }
    }
}
