//! Does anything vary?

use super::{Parts, doubt_at};
use crate::{
    diagnostic::Span,
    scenario::{InputId, Release},
    text::reader::Reader,
};

pub(super) fn look(reader: &mut Reader<'_>, parts: Parts<'_>, release: &Span) {
    // What a model leaves open by itself is no spread of this event.
    let mut told = reader.inputs.iter().filter(|input| !input.assumed);
    if told.all(|input| input.distribution.is_fixed()) {
        let message = "nothing varies: every flight is the same".to_owned();
        let mend = "spread what differs from one event to the next, such as `{range: [7 m, 9 m]}`";
        doubt_at(
            reader,
            "setup::nothing_varies",
            release.clone(),
            message,
            "every number is fixed",
            mend,
        );
        return;
    }
    let pose = parts.release.pose();
    let [x, y, _] = *parts.release.place();
    let mut sideways: Vec<InputId> = vec![y, x, pose.nose_up, pose.nose_left, pose.roll];
    sideways.extend(pose.spin);
    if let Release::Launched(shot) = parts.release {
        sideways.extend([shot.elevation, shot.bearing, shot.error_up, shot.error_left]);
    }
    if let Some(wind) = &parts.air.wind {
        sideways.push(wind.towards);
    }
    if sideways.iter().all(|id| reader.inputs[id.0].distribution.is_fixed()) {
        let launched = matches!(parts.release, Release::Launched(_));
        let message =
            "the release is perfect: no shot differs in place, aim or attitude".to_owned();
        let found = "assumed: no scatter at all";
        let mend = if launched {
            "add what the launcher scatters, such as `scatter: 1 deg`, or a spread of `nose_up`"
        } else {
            "spread how it is turned or where it starts, such as `nose_up: {range: [-10 deg, 10 deg]}`"
        };
        doubt_at(reader, "setup::no_scatter", release.clone(), message, found, mend);
    }
}
