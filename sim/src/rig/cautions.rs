//! What has to be said wherever a rig holds energy.

use super::{Launcher, Rig};
use crate::quantity::{Dimension, format};

/// Energy above which a parted line is a danger to life, in J: of the order of
/// a thrown half brick; from memory of fragment criteria (58 ft lbf, 79 J).
const DANGEROUS: f64 = 79.0;

/// The cautions of a rig at a setting that holds `held` J, most urgent first.
///
/// Common practice, no source, except where a sentence names one.
#[must_use]
pub fn cautions(rig: &Rig, setting: f64, held: f64) -> Vec<String> {
    let energy = format(held, Dimension::Energy, rig.show);
    let mut list = vec![format!("stored energy: the rig holds {energy} at this setting")];
    if held > DANGEROUS {
        let limit = format(DANGEROUS, Dimension::Energy, rig.show);
        list.push(format!(
            "that is over {limit}, the usual fragment criterion for danger to life (from memory)"
        ));
    }
    list.extend(own(rig, setting));
    list.push("release from a distance, by a line or a remote latch, behind a shield".into());
    list.push(
        "nobody in front of the rig or behind the target; a safe way to let down a rig \
               that does not fire"
            .into(),
    );
    list.push(
        "have the frame, anchors and lifting gear looked at by an engineer or a qualified rigger; \
         local codes come first"
            .into(),
    );
    list
}

/// What is peculiar to the launcher.
fn own(rig: &Rig, setting: f64) -> Vec<String> {
    match &rig.launcher {
        Launcher::Cord(cord) => {
            let length = cord.relaxed * cord.stretch(setting);
            let reach = format(2.0 * length, Dimension::Length, rig.show);
            let end = format(cord.snap_back_speed(setting), Dimension::Speed, rig.show);
            vec![
                format!(
                    "snap-back zone: out of the line of the cords, {reach} from either end (twice \
                     their stretched length; common practice, no source); a parted end could move \
                     at up to {end}"
                ),
                "no knots, no worn cords; stretch new cords three times before the first shot \
                 that counts; shoot calibration shots at the day's temperature"
                    .into(),
            ]
        }
        Launcher::Spring(_) => {
            vec!["keep out of the line of the spring; tether both ends of it".into()]
        }
        Launcher::Pressure(_) => vec![
            "gas under pressure: only vessels, pipes and valves rated for compressed gas, tested \
             and with a relief valve, looked at by a competent person; plastic water pipe bursts \
             into splinters"
                .into(),
        ],
        Launcher::Drop | Launcher::Pendulum(_) | Launcher::Ramp(_) => {
            vec!["nobody under a raised load; block it until the moment of release".into()]
        }
        Launcher::Tow(_) => vec![
            "a tow line that parts snaps back: nobody beside the line, in the bight of a pulley, \
             or in the towing vehicle without a guard behind the seats; synthetic slings have a \
             design factor of 5 (ASME B30.9)"
                .into(),
        ],
    }
}
