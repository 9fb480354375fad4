//! The sheet for the test day: what to set, what to expect, when to stop.

use super::{Rig, calibrate::Calibration, inverse::largest_safe_setting, prediction::Prediction};
use crate::quantity::{Dimension, Show, format, parse};
use serde::Serialize;

/// One shot to come.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SheetShot {
    /// Its number on the sheet.
    pub name: String,
    /// The setting as written on the sheet.
    pub setting_text: String,
    /// The prediction for exactly that setting.
    pub prediction: Prediction,
    /// Further than anything shot before it (on the sheet or in the log).
    pub new_ground: bool,
}

/// A day's plan.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Sheet {
    /// The rig's name.
    pub rig: String,
    /// What the setting is called.
    pub setting_name: String,
    /// Units of display.
    pub show: Show,
    /// Shots already in the log.
    pub shots_before: usize,
    /// The shots, smallest setting first.
    pub shots: Vec<SheetShot>,
    /// When to stop.
    pub stop_rules: Vec<String>,
    /// Cautions at the largest setting.
    pub cautions: Vec<String>,
}

impl Sheet {
    /// Plans shots at the settings (SI, > 0), each `repeat` times.
    #[must_use]
    pub fn new(rig: &Rig, calibration: &Calibration, settings: &[f64], repeat: u32) -> Self {
        let mut sorted = settings.to_vec();
        sorted.sort_by(f64::total_cmp);
        let mut furthest = calibration.tried().map_or(0.0, |(_, high)| high);
        let mut shots: Vec<SheetShot> = Vec::new();
        for setting in sorted {
            let setting_text = format(setting, rig.launcher.setting_dimension(), rig.show);
            // The sheet's own rounding, so that the prediction is for what is set.
            let dimension = rig.launcher.setting_dimension();
            let setting = parse(&setting_text, dimension).unwrap_or(setting);
            for _ in 0..repeat.max(1) {
                shots.push(SheetShot {
                    name: (shots.len() + 1).to_string(),
                    setting_text: setting_text.clone(),
                    prediction: Prediction::new(rig, calibration, setting),
                    new_ground: setting > furthest * (1.0 + 1e-9),
                });
                furthest = furthest.max(setting);
            }
        }
        let cautions = shots.last().map_or_else(Vec::new, |shot| shot.prediction.cautions.clone());
        Self {
            rig: rig.name.clone(),
            setting_name: rig.launcher.setting_name().to_owned(),
            show: rig.show,
            shots_before: calibration.shots().len(),
            stop_rules: stop_rules(rig, &shots),
            shots,
            cautions,
        }
    }

    /// The same as a CSV with empty columns, read back by the calibration and
    /// the judgement.
    #[must_use]
    pub fn csv(&self) -> String {
        let mut text =
            format!("# {}: fill in speed or frames, result, remarks\n", one_line(&self.rig));
        text.push_str(
            "shot,setting,predicted_low,predicted,predicted_high,speed,speed_uncertainty,frames,\
             distance,frame_rate,mass,result,remarks\n",
        );
        for shot in &self.shots {
            let [low, middle, high] =
                shot.prediction.speed.map(|v| format(v, Dimension::Speed, self.show));
            text.push_str(&format!(
                "{},{},{low},{middle},{high},,,,,,,,\n",
                shot.name, shot.setting_text
            ));
        }
        text
    }
}

fn one_line(text: &str) -> String {
    text.replace(['\n', '\r'], " ")
}

/// Common practice, no source.
fn stop_rules(rig: &Rig, shots: &[SheetShot]) -> Vec<String> {
    let mut rules = vec![
        "a speed outside its band: stop, look for the cause, calibrate again before the next \
         setting"
            .to_owned(),
        "two speeds outside their bands on the same side: the calibration is wrong, go back to the \
         smallest setting"
            .to_owned(),
        "anything cracked, bent, frayed, slipped or loose: stop for the day until it is looked at"
            .to_owned(),
        "anybody in front of the rig, beside a loaded line or behind the target: let the load down"
            .to_owned(),
        "a rig that does not fire: wait, then let it down from a distance; nobody walks up to it \
         loaded"
            .to_owned(),
    ];
    if let Some(winch) = &rig.winch {
        let limit = format(winch.limit, Dimension::Force, rig.show);
        rules.insert(0, format!("winch or latch reads {limit}: its limit, no further"));
    }
    let safe = largest_safe_setting(rig);
    let largest = format(safe, rig.launcher.setting_dimension(), rig.show);
    if safe < 0.999 * rig.launcher.largest_setting() {
        rules.insert(0, format!("never beyond a {} of {largest}", rig.launcher.setting_name()));
    }
    let missing = rig.limits_to_find();
    if !missing.is_empty() {
        rules.insert(0, format!("before the first shot, find out: {}", missing.join("; ")));
    }
    if shots.iter().any(|shot| shot.prediction.limits_kept == Some(false)) {
        rules.insert(
            0,
            "some shots on this sheet are OVER a limit of the rig: do not shoot them".into(),
        );
    }
    rules
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rig::log;

    #[test]
    fn the_sheet_reads_back_as_an_empty_log_with_its_settings() {
        let rig = crate::rig::parse(
            "rig: tower\nshow: imperial\nobject: {mass: 2 kg}\nlauncher: {drop: }\n",
        )
        .unwrap();
        let sheet = Sheet::new(&rig, &Calibration::new(&rig, &[]), &[3.0, 1.0], 2);
        assert_eq!(sheet.shots.len(), 4);
        assert!(sheet.shots[0].new_ground && !sheet.shots[1].new_ground);
        let defaults = log::Defaults { setting: Some(Dimension::Length), ..Default::default() };
        assert!(log::parse(&sheet.csv(), &defaults).unwrap().shots.is_empty());
        let filled = sheet.csv().replacen(",,,,,,,,\n", ",14 ft/s,,,,,,stopped,\n", 1);
        let log = log::parse(&filled, &defaults).unwrap();
        assert!((log.shots[0].setting.unwrap() - sheet.shots[0].prediction.setting).abs() < 1e-12);
    }
}
